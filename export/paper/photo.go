package paper

import (
	"bytes"
	"fmt"
	"image"
	"image/draw"
	"image/jpeg"

	scaling "golang.org/x/image/draw"

	"coilward/model"
)

// Pictures gives a stored photo as an upright JPEG.
type Pictures func(id model.PhotoID) ([]byte, error)

// The sizes of photos in print, in pixels at about 200 to the inch: one of two
// beside each other, and the portrait.
const (
	photoSide    = 660
	portraitSide = 300
	printQuality = 84
)

// darkroom makes photos ready to print. No two of a paper get the same width:
// the PDF library orders them by it, and only so are the bytes of a file the
// same each time.
type darkroom struct {
	pictures Pictures
	taken    map[int]bool
}

func (d darkroom) print(id model.PhotoID, side int) (Photo, error) {
	raw, err := d.pictures(id)
	if err != nil {
		return Photo{}, err
	}
	decoded, err := jpeg.Decode(bytes.NewReader(raw))
	if err != nil {
		return Photo{}, fmt.Errorf("read the photo %s: %w", id, err)
	}
	b := decoded.Bounds()
	longest := max(b.Dx(), b.Dy(), 1)
	side = min(side, longest)
	width, height := max(b.Dx()*side/longest, 1), max(b.Dy()*side/longest, 1)
	for d.taken[width] && width > 1 {
		width--
	}
	d.taken[width] = true
	scaled := image.NewRGBA(image.Rect(0, 0, width, height))
	scaling.BiLinear.Scale(scaled, scaled.Rect, decoded, b, draw.Src, nil)
	var out bytes.Buffer
	if err := jpeg.Encode(&out, scaled, &jpeg.Options{Quality: printQuality}); err != nil {
		return Photo{}, fmt.Errorf("make the photo %s ready to print: %w", id, err)
	}
	return Photo{ID: id, JPEG: out.Bytes(), Width: width, Height: height}, nil
}
