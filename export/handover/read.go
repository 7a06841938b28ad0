package handover

import (
	"bytes"
	"crypto/ed25519"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"hash/crc32"
	"image/jpeg"
	"io"

	"coilward/model"
	"coilward/model/disk"
	"coilward/model/handover"
)

// Papers are a file whose every byte was held against its signature.
type Papers struct {
	Key    Public // that signed it
	Record handover.Record
	Sum    string // SHA-256 of the signed list, in hex: two files with the same one are the same

	from   io.ReaderAt
	paper  placed
	photos []placed
}

// placed is where a part lies.
type placed struct {
	part
	at int64
}

// Open reads a file of that size and holds all of it against its signature, which is
// checked before anything else is read. It needs memory for the record and no more.
// The error is a *Fault where the file is not as it was signed.
func Open(from io.ReaderAt, size int64) (*Papers, error) {
	if size > MaxFile {
		return nil, fault("", TooLarge, nil)
	}
	r := &reading{from: from, size: size}
	signed, err := r.small(signatureName, maxSigned, Unsigned)
	if err != nil {
		return nil, err
	}
	listed, err := r.small(manifestName, maxManifest, Misnamed)
	if err != nil {
		return nil, err
	}
	key, err := verified(signed, listed)
	if err != nil {
		return nil, err
	}
	list, err := parseManifest(listed)
	if err != nil {
		return nil, err
	}
	sum := sha256.Sum256(listed)
	p := &Papers{Key: key, Sum: hex.EncodeToString(sum[:]), from: from}
	for i, m := range list.Members {
		at, err := r.part(m)
		if err != nil {
			return nil, err
		}
		switch i {
		case 0:
			if p.Record, err = r.record(m, at); err != nil {
				return nil, err
			}
		case 1:
			if err := r.printed(m, at); err != nil {
				return nil, err
			}
			p.paper = placed{m, at}
		default:
			p.photos = append(p.photos, placed{m, at})
		}
	}
	if len(p.photos) != len(p.Record.Photos) {
		return nil, fault(recordName, Unreadable, fmt.Errorf("it tells of %d photos, %d are there", len(p.Record.Photos), len(p.photos)))
	}
	if err := r.end(); err != nil {
		return nil, err
	}
	return p, nil
}

// reading is how far a file was read.
type reading struct {
	from    io.ReaderAt
	size    int64
	at      int64
	members []member
}

func (r *reading) bytes(n int64, part string) ([]byte, error) {
	if n > r.size-r.at {
		return nil, fault(part, Missing, nil)
	}
	b := make([]byte, n)
	if _, err := r.from.ReadAt(b, r.at); err != nil && !errors.Is(err, io.EOF) {
		return nil, fmt.Errorf("read her papers: %w", err)
	}
	r.at += n
	return b, nil
}

// header reads the header of the next part, which must be called name; other is what
// is wrong where it is called otherwise.
func (r *reading) header(name string, most int64, other Why) (member, error) {
	first := len(r.members) == 0
	offset := r.at
	fixed, err := r.bytes(localSize, name)
	if err != nil && first {
		return member{}, fault("", NotPapers, nil)
	}
	if err != nil {
		return member{}, err
	}
	m, length, why := parseLocal(fixed)
	switch {
	case why == NotPapers && string(fixed[:4]) == "PK\x01\x02":
		return m, fault(name, Missing, nil)
	case why == NotPapers && !first:
		return m, fault(name, Frame, nil)
	case why == NotPapers:
		return m, fault("", why, nil)
	case length > 255:
		return m, fault(name, other, nil)
	}
	called, err := r.bytes(int64(length), name)
	switch {
	case err != nil:
		return m, err
	case string(called) != name:
		return m, fault(shown(string(called)), other, nil)
	case why != "":
		return m, fault(name, why, nil)
	}
	m.name, m.offset = name, uint32(offset)
	if !bytes.Equal(append(fixed, called...), m.local()) {
		return m, fault(name, Frame, nil)
	}
	if int64(m.size) > most {
		return m, fault(name, TooLarge, nil)
	}
	r.members = append(r.members, m)
	return m, nil
}

// small reads a part that is held in memory.
func (r *reading) small(name string, most int64, other Why) ([]byte, error) {
	m, err := r.header(name, most, other)
	if err != nil {
		return nil, err
	}
	b, err := r.bytes(int64(m.size), name)
	if err == nil && crc32.ChecksumIEEE(b) != m.crc {
		err = fault(name, Changed, nil)
	}
	return b, err
}

// verified is the key that signed the list.
func verified(signed, listed []byte) (Public, error) {
	var s signature
	if err := only(signed, &s); err != nil {
		return nil, fault(signatureName, Forged, err)
	}
	key, err := hex.DecodeString(s.Key)
	said, failed := hex.DecodeString(s.Signature)
	if err != nil || failed != nil || len(key) != ed25519.PublicKeySize || !ed25519.Verify(key, append([]byte(domain), listed...), said) {
		return nil, fault(signatureName, Forged, errors.Join(err, failed))
	}
	if s.Key != hex.EncodeToString(key) || s.Signature != hex.EncodeToString(said) { // digits in capitals say the same
		return nil, fault(signatureName, Forged, errors.New("it is not written in its only way"))
	}
	return key, nil
}

// only reads a value that must stand in its only bytes.
func only[V any](raw []byte, v *V) error {
	if err := json.Unmarshal(raw, v); err != nil {
		return err
	}
	again, err := canonical(*v)
	if err != nil {
		return err
	}
	if !bytes.Equal(raw, again) {
		return errors.New("it is not written in its only way")
	}
	return nil
}

func parseManifest(listed []byte) (manifest, error) {
	var of struct {
		Format  string `json:"format"`
		Version int    `json:"version"`
	}
	if err := json.Unmarshal(listed, &of); err != nil || of.Format != Format {
		return manifest{}, fault(manifestName, NotPapers, err)
	}
	if of.Version > Version {
		return manifest{}, fault(manifestName, Newer, model.ErrNewer)
	}
	var list manifest
	if err := only(listed, &list); err != nil || list.Version < 1 {
		return list, fault(manifestName, Unreadable, err)
	}
	if len(list.Members) < 2 || len(list.Members) > 2+MaxPhotos {
		return list, fault(manifestName, Unreadable, fmt.Errorf("%d parts", len(list.Members)))
	}
	for i, m := range list.Members {
		want, most := photoName(i-2), int64(MaxPhoto)
		switch i {
		case 0:
			want, most = recordName, MaxRecord
		case 1:
			want, most = paperName, MaxPaper
		}
		if m.Name != want {
			return list, fault(shown(m.Name), Misnamed, nil)
		}
		if m.Size < 0 || m.Size > most {
			return list, fault(m.Name, TooLarge, nil)
		}
	}
	return list, nil
}

// part reads the next part through and holds it against the list; it returns where it
// lies.
func (r *reading) part(m part) (at int64, err error) {
	h, err := r.header(m.Name, MaxFile, Misnamed)
	if err != nil {
		return 0, err
	}
	if int64(h.size) != m.Size {
		return 0, fault(m.Name, Changed, nil)
	}
	at = r.at
	if m.Size > r.size-at {
		return 0, fault(m.Name, Missing, nil)
	}
	sum, check := sha256.New(), crc32.NewIEEE()
	if _, err := io.Copy(io.MultiWriter(sum, check), bufferedSection(r.from, at, m.Size)); err != nil {
		return 0, fmt.Errorf("read her papers: %w", err)
	}
	if hex.EncodeToString(sum.Sum(nil)) != m.Sum {
		return 0, fault(m.Name, Changed, nil)
	}
	if check.Sum32() != h.crc {
		return 0, fault(m.Name, Frame, nil)
	}
	r.at += m.Size
	if isPhoto := len(r.members) > 4; isPhoto {
		return at, r.photo(m, at)
	}
	return at, nil
}

// stride is how much of a file is read at once.
const stride = 256 << 10

// section reads a stretch in strides.
type section struct{ *io.SectionReader }

// WriteTo implements io.WriterTo, with one buffer of its own.
func (s section) WriteTo(w io.Writer) (int64, error) {
	return io.CopyBuffer(struct{ io.Writer }{w}, s.SectionReader, make([]byte, stride))
}

func bufferedSection(from io.ReaderAt, at, size int64) io.Reader {
	return section{io.NewSectionReader(from, at, size)}
}

// photo looks at the header of a photo before anything makes a picture of it.
func (r *reading) photo(m part, at int64) error {
	shown, err := jpeg.DecodeConfig(io.NewSectionReader(r.from, at, m.Size))
	if err != nil {
		return fault(m.Name, Picture, err)
	}
	if int64(shown.Width)*int64(shown.Height) > MaxPixels {
		return fault(m.Name, Vast, nil)
	}
	return nil
}

func (r *reading) record(m part, at int64) (handover.Record, error) {
	raw := make([]byte, m.Size)
	if _, err := r.from.ReadAt(raw, at); err != nil && !errors.Is(err, io.EOF) {
		return handover.Record{}, fmt.Errorf("read her papers: %w", err)
	}
	record, err := handover.Read(raw)
	switch {
	case errors.Is(err, model.ErrNewer):
		return record, fault(m.Name, Newer, err)
	case err != nil:
		return record, fault(m.Name, Unreadable, err)
	}
	return record, nil
}

// printed looks at the first bytes of what is saved as a PDF (ISO 32000-1, 7.5.2): whatever
// else was signed in its place is not.
func (r *reading) printed(m part, at int64) error {
	first := make([]byte, min(m.Size, int64(len(startsPDF))))
	if _, err := r.from.ReadAt(first, at); err != nil && !errors.Is(err, io.EOF) {
		return fmt.Errorf("read her papers: %w", err)
	}
	if string(first) != startsPDF {
		return fault(m.Name, Unreadable, fmt.Errorf("it begins with %q and is no PDF", first))
	}
	return nil
}

// startsPDF is how each PDF begins.
const startsPDF = "%PDF-"

// end holds what lies behind the parts against what must lie there.
func (r *reading) end() error {
	want := tail(r.members, uint32(r.at))
	if rest := r.size - r.at; rest < int64(len(want)) {
		return fault("", Missing, nil)
	}
	got, err := r.bytes(int64(len(want)), "")
	switch {
	case err != nil:
		return err
	case string(got[:4]) == "PK\x03\x04":
		return fault("", Extra, nil)
	case !bytes.Equal(got, want):
		return fault("", Frame, nil)
	case r.at != r.size:
		return fault("", Extra, nil)
	}
	return nil
}

// Paper is the health record as PDF.
func (p *Papers) Paper() ([]byte, error) { return p.again(p.paper) }

// WritePaper writes the health record into a file, whole or not at all.
func (p *Papers) WritePaper(path string) error {
	raw, err := p.Paper()
	if err != nil {
		return err
	}
	return disk.Write(path, raw)
}

// Photos is how many photos there are.
func (p *Papers) Photos() int { return len(p.photos) }

// PhotoSum is the SHA-256 of the n-th photo, from 0 on, in hex.
func (p *Papers) PhotoSum(n int) string { return p.photos[n].Sum }

// Photo is the n-th photo, from 0 on, as JPEG.
func (p *Papers) Photo(n int) ([]byte, error) { return p.again(p.photos[n]) }

// again reads a part anew, and refuses it where it was changed since.
func (p *Papers) again(m placed) ([]byte, error) {
	raw := make([]byte, m.Size)
	if _, err := p.from.ReadAt(raw, m.at); err != nil && !errors.Is(err, io.EOF) {
		return nil, fmt.Errorf("read her papers: %w", err)
	}
	if sum := sha256.Sum256(raw); hex.EncodeToString(sum[:]) != m.Sum {
		return nil, fault(m.Name, Changed, nil)
	}
	return raw, nil
}
