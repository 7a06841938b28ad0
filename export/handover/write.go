package handover

import (
	"bytes"
	"crypto/ed25519"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"hash/crc32"
	"image/jpeg"
	"io"

	"coilward/model"
	"coilward/model/handover"
)

// The names inside, in their order; photos follow.
const (
	signatureName = "signature.json"
	manifestName  = "manifest.json"
	recordName    = "record.json"
	paperName     = "papers.pdf"
)

// Format is what the manifest calls the file, and Version its newest version.
const (
	Format  = "coilward.her-papers"
	Version = 1
)

// domain stands before what is signed, so that a signature means papers and nothing
// else.
const domain = "coilward her-papers\n"

// Extension ends the name of a file.
const Extension = ".herpapers"

// The most bytes and pixels that are read.
const (
	MaxFile     = 512 << 20
	MaxRecord   = 32 << 20
	MaxPaper    = 64 << 20
	MaxPhoto    = 16 << 20
	MaxPhotos   = 200
	MaxPixels   = 100_000_000
	maxManifest = 64 << 10
	maxSigned   = 512
)

// quality is that of photos as they are written again.
const quality = 88

// manifest lists what is signed.
type manifest struct {
	Format  string `json:"format"`
	Version int    `json:"version"`
	Members []part `json:"members"`
}

type part struct {
	Name string `json:"name"`
	Size int64  `json:"size"`
	Sum  string `json:"sha256"`
}

type signature struct {
	Key       string `json:"key"`
	Signature string `json:"signature"`
}

// Contents are what goes into a file.
type Contents struct {
	Record handover.Record
	Paper  []byte // the health record as PDF
	// Photos are JPEGs, upright, in the order of Record.Photos. They are written again
	// from their pixels, so that nothing else in them goes out.
	Photos [][]byte
}

// Write writes the file, signed with the key. The same contents and key give the same bytes.
// What could not be opened again is refused before a byte is written: a *model.Refusal tells
// what has to be left out.
func Write(w io.Writer, c Contents, k Key) error {
	raw, err := c.Record.Bytes()
	if err != nil {
		return err
	}
	if len(c.Photos) != len(c.Record.Photos) {
		return fmt.Errorf("write her papers: %d photos, the record tells of %d", len(c.Photos), len(c.Record.Photos))
	}
	if len(c.Photos) > MaxPhotos {
		return excess("papers.excess-photos", "", int64(len(c.Photos)), MaxPhotos)
	}
	if len(raw) > MaxRecord {
		return excess("papers.excess-record", recordName, megabytes(int64(len(raw))), MaxRecord>>20)
	}
	if len(c.Paper) > MaxPaper {
		return excess("papers.excess-record", paperName, megabytes(int64(len(c.Paper))), MaxPaper>>20)
	}
	if _, err := handover.Read(raw); err != nil {
		return fmt.Errorf("write her papers: %w", err)
	}
	names, parts := []string{recordName, paperName}, [][]byte{raw, c.Paper}
	for i, photo := range c.Photos {
		again, err := bare(photo)
		if err != nil {
			return fmt.Errorf("write photo %d of her papers: %w", i+1, err)
		}
		if len(again) > MaxPhoto {
			return excess("papers.excess-photo", photoName(i), megabytes(int64(len(again))), MaxPhoto>>20)
		}
		names, parts = append(names, photoName(i)), append(parts, again)
	}
	return seal(w, Version, names, parts, k)
}

// megabytes are bytes in MB, begun ones whole: more than the most is then told as more.
func megabytes(bytes int64) int64 { return (bytes + 1<<20 - 1) >> 20 }

// excess refuses what is more than a reader opens.
func excess(reason, part string, have, most int64) *model.Refusal {
	return &model.Refusal{Field: "papers", Value: part, Reason: reason, Answer: model.Mend,
		Gaps: map[string]model.Gap{"Part": model.TextGap(part), "Have": model.CountGap(int(have)), "Most": model.CountGap(int(most))}}
}

// bare is a JPEG with nothing but its pixels.
func bare(photo []byte) ([]byte, error) {
	shown, err := jpeg.DecodeConfig(bytes.NewReader(photo))
	if err != nil {
		return nil, err
	}
	if pixels := int64(shown.Width) * int64(shown.Height); pixels > MaxPixels {
		return nil, excess("papers.excess-pixels", "", (pixels+999_999)/1_000_000, MaxPixels/1_000_000)
	}
	picture, err := jpeg.Decode(bytes.NewReader(photo))
	if err != nil {
		return nil, err
	}
	var again bytes.Buffer
	err = jpeg.Encode(&again, picture, &jpeg.Options{Quality: quality})
	return again.Bytes(), err
}

// seal lists the parts, signs the list and writes all of it.
func seal(w io.Writer, version int, names []string, parts [][]byte, k Key) error {
	list := manifest{Format: Format, Version: version}
	for i, p := range parts {
		sum := sha256.Sum256(p)
		list.Members = append(list.Members, part{names[i], int64(len(p)), hex.EncodeToString(sum[:])})
	}
	listed, err := canonical(list)
	if err != nil {
		return err
	}
	signed, err := canonical(signature{hex.EncodeToString(k.Public()), hex.EncodeToString(ed25519.Sign(k.private, append([]byte(domain), listed...)))})
	if err != nil {
		return err
	}
	return frame(w, append([]string{signatureName, manifestName}, names...), append([][]byte{signed, listed}, parts...))
}

// frame writes the parts with what stands between and behind them.
func frame(w io.Writer, names []string, parts [][]byte) error {
	members := make([]member, len(parts))
	var at int64
	for i, p := range parts {
		members[i] = member{name: names[i], size: uint32(len(p)), offset: uint32(at)}
		at += int64(len(members[i].local()) + len(p))
	}
	if whole := at + int64(len(tail(members, uint32(at)))); whole > MaxFile { // before all is summed
		return excess("papers.excess-file", "", megabytes(whole), MaxFile>>20)
	}
	for i, p := range parts {
		members[i].crc = crc32.ChecksumIEEE(p)
	}
	end := tail(members, uint32(at))
	for i, m := range members {
		for _, b := range [][]byte{m.local(), parts[i]} {
			if _, err := w.Write(b); err != nil {
				return fmt.Errorf("write her papers: %w", err)
			}
		}
	}
	if _, err := w.Write(end); err != nil {
		return fmt.Errorf("write her papers: %w", err)
	}
	return nil
}

// canonical is a value in the only bytes that it may have.
func canonical(v any) ([]byte, error) {
	raw, err := json.Marshal(v)
	if err != nil {
		return nil, fmt.Errorf("write her papers: %w", err)
	}
	return append(raw, '\n'), nil
}
