package photo

import (
	"bytes"
	"crypto/sha256"
	"fmt"
	"image"
	"image/color"
	"image/jpeg"
	_ "image/png" // read by imaging
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/disintegration/imaging"
	"github.com/gen2brain/heic"

	"coilward/model"
)

// Kind is the form of a photo's file, and the ending that it is kept with.
type Kind string

// The forms that are read.
const (
	JPEG Kind = "jpg"
	PNG  Kind = "png"
	HEIC Kind = "heic"
)

func refuse(name, reason string, gaps map[string]model.Gap) *model.Refusal {
	return &model.Refusal{Field: "photo", Value: name, Reason: reason, Gaps: gaps, Answer: model.Mend}
}

// inspect looks at the file's size, its first bytes, its ending and its
// header, before anything is decoded.
func inspect(name string, raw []byte) (Kind, image.Point, *model.Refusal) {
	if len(raw) > MaxBytes {
		return "", image.Point{}, refuse(name, "photo.bytes", map[string]model.Gap{"Most": model.CountGap(MaxBytes >> 20)})
	}
	kind := sniff(raw)
	if kind == "" {
		return "", image.Point{}, refuse(name, "photo.not-a-photo", nil)
	}
	if !named(name, kind) {
		return "", image.Point{}, refuse(name, "photo.ending", map[string]model.Gap{"Kind": model.TextGap(strings.ToUpper(string(kind)))})
	}
	size, err := header(kind, raw)
	if err != nil || size.X <= 0 || size.Y <= 0 {
		return "", image.Point{}, refuse(name, "photo.damaged", nil)
	}
	if size.X > MaxPixels/size.Y {
		return "", image.Point{}, refuse(name, "photo.pixels", map[string]model.Gap{
			"Width": model.CountGap(size.X), "Height": model.CountGap(size.Y), "Most": model.CountGap(MaxPixels / 1_000_000)})
	}
	return kind, size, nil
}

func sniff(raw []byte) Kind {
	switch {
	case bytes.HasPrefix(raw, []byte("\xff\xd8\xff")):
		return JPEG
	case bytes.HasPrefix(raw, []byte("\x89PNG\r\n\x1a\n")):
		return PNG
	case len(raw) >= 12 && string(raw[4:8]) == "ftyp" && slices.Contains([]string{"heic", "heix", "hevc", "heim", "heis", "mif1", "msf1"}, string(raw[8:12])):
		return HEIC
	}
	return ""
}

// named reports whether the ending of a file's name fits what it holds; no
// ending fits all.
func named(name string, kind Kind) bool {
	endings := map[Kind][]string{JPEG: {"jpg", "jpeg", "jpe", "jfif"}, PNG: {"png"}, HEIC: {"heic", "heif", "hif"}}
	ending := strings.ToLower(strings.TrimPrefix(filepath.Ext(name), "."))
	return ending == "" || slices.Contains(endings[kind], ending)
}

func header(kind Kind, raw []byte) (image.Point, error) {
	var c image.Config
	var err error
	if kind == HEIC {
		c, err = heic.DecodeConfig(bytes.NewReader(raw))
	} else {
		c, _, err = image.DecodeConfig(bytes.NewReader(raw))
	}
	return image.Pt(c.Width, c.Height), err
}

// decode reads the picture and turns it upright. HEIC carries its turn in the
// picture's own data, which its reader follows.
func decode(kind Kind, raw []byte) (image.Image, error) {
	if kind == HEIC {
		return heic.Decode(bytes.NewReader(raw))
	}
	return imaging.Decode(bytes.NewReader(raw), imaging.AutoOrientation(true))
}

// quality of the JPEG pictures that are made, of 100.
const quality = 85

// JPEG is the photo upright, no side longer than longest pixels, as a JPEG
// without any data but the picture. It is made once and kept. A photo whose bytes
// are no longer those that were kept is ErrChanged, and no picture of it is made.
func (f *Folder) JPEG(id model.PhotoID, longest int) ([]byte, error) {
	if _, _, err := f.Original(id); err != nil {
		return nil, err
	}
	made := f.derived(id, longest)
	if picture, ok := sealed(id, made); ok {
		return picture, nil
	}
	raw, _, err := f.read(id)
	if err != nil {
		return nil, err
	}
	picture, err := small(id, raw, longest)
	if err != nil {
		return nil, err
	}
	// A picture that cannot be kept, as in a folder that must not be written to,
	// is made again the next time.
	seal := sealOf(id, picture)
	_ = writeSynced(made, append(slices.Clip(picture), seal[:]...))
	return picture, nil
}

// small is the photo made smaller, from its bytes as they were kept.
func small(id model.PhotoID, raw []byte, longest int) ([]byte, error) {
	kind, _, refusal := inspect("", raw)
	if refusal != nil {
		return nil, fmt.Errorf("read photo %s: %w", id, refusal)
	}
	upright, err := decode(kind, raw)
	if err != nil {
		return nil, fmt.Errorf("read photo %s: %w", id, err)
	}
	var b bytes.Buffer
	if err := jpeg.Encode(&b, onWhite(imaging.Fit(upright, longest, longest, imaging.Lanczos)), &jpeg.Options{Quality: quality}); err != nil {
		return nil, fmt.Errorf("write a picture of photo %s: %w", id, err)
	}
	return b.Bytes(), nil
}

// sealOf ends the file of a made picture. It binds the picture to its photo, so
// that a damaged picture, or that of another photo, is made again.
func sealOf(id model.PhotoID, picture []byte) [sha256.Size]byte {
	return sha256.Sum256(append([]byte(id), picture...))
}

// sealed reads a made picture, if it is whole and that of the photo.
func sealed(id model.PhotoID, path string) (picture []byte, ok bool) {
	raw, err := os.ReadFile(path)
	if err != nil || len(raw) <= sha256.Size {
		return nil, false
	}
	end := len(raw) - sha256.Size
	picture = raw[:end:end]
	return picture, sealOf(id, picture) == [sha256.Size]byte(raw[end:])
}

func onWhite(picture *image.NRGBA) image.Image {
	if picture.Opaque() {
		return picture
	}
	white := imaging.New(picture.Bounds().Dx(), picture.Bounds().Dy(), color.White)
	return imaging.Overlay(white, picture, image.Point{}, 1)
}

// Picture is what JPEG gives, decoded.
func (f *Folder) Picture(id model.PhotoID, longest int) (image.Image, error) {
	raw, err := f.JPEG(id, longest)
	if err != nil {
		return nil, err
	}
	picture, err := jpeg.Decode(bytes.NewReader(raw))
	if err != nil {
		return nil, fmt.Errorf("read the picture of photo %s: %w", id, err)
	}
	return picture, nil
}
