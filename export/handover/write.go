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
func Write(w io.Writer, c Contents, k Key) error {
	raw, err := c.Record.Bytes()
	if err != nil {
		return err
	}
	if len(c.Photos) != len(c.Record.Photos) || len(c.Photos) > MaxPhotos {
		return fmt.Errorf("write her papers: %d photos, the record tells of %d, at most %d go in", len(c.Photos), len(c.Record.Photos), MaxPhotos)
	}
	names, parts := []string{recordName, paperName}, [][]byte{raw, c.Paper}
	for i, photo := range c.Photos {
		again, err := bare(photo)
		if err != nil {
			return fmt.Errorf("write photo %d of her papers: %w", i+1, err)
		}
		names, parts = append(names, photoName(i)), append(parts, again)
	}
	return seal(w, Version, names, parts, k)
}

// bare is a JPEG with nothing but its pixels.
func bare(photo []byte) ([]byte, error) {
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

func frame(w io.Writer, names []string, parts [][]byte) error {
	var members []member
	var at int64
	for i, p := range parts {
		m := member{name: names[i], size: uint32(len(p)), crc: crc32.ChecksumIEEE(p), offset: uint32(at)}
		for _, b := range [][]byte{m.local(), p} {
			if _, err := w.Write(b); err != nil {
				return fmt.Errorf("write her papers: %w", err)
			}
			at += int64(len(b))
		}
		if members = append(members, m); at > MaxFile {
			return fault("", TooLarge, nil)
		}
	}
	if _, err := w.Write(tail(members, uint32(at))); err != nil {
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
