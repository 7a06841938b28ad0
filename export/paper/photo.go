package paper

import (
	"bytes"
	"fmt"
	"image/jpeg"

	"coilward/model"
)

// Pictures gives a stored photo as an upright JPEG whose longer side has at
// most so many pixels.
type Pictures func(id model.PhotoID, longest int) ([]byte, error)

// The sizes of photos in print, in pixels at about 200 to the inch: one of two
// beside each other, and the portrait.
const (
	photoSide    = 660
	portraitSide = 300
)

// darkroom makes photos ready to print. No two of a paper get the same width:
// the PDF library orders them by it, and only so are the bytes of a file the
// same each time.
type darkroom struct {
	pictures Pictures
	taken    map[int]bool
}

func (d darkroom) print(id model.PhotoID, side int) (Photo, error) {
	for {
		raw, err := d.pictures(id, side)
		if err != nil {
			return Photo{}, err
		}
		shown, err := jpeg.DecodeConfig(bytes.NewReader(raw))
		if err != nil {
			return Photo{}, fmt.Errorf("read the photo %s: %w", id, err)
		}
		if !d.taken[shown.Width] || shown.Width < 2 {
			d.taken[shown.Width] = true
			return Photo{ID: id, JPEG: raw, Width: shown.Width, Height: shown.Height}, nil
		}
		side = min(side, max(shown.Width, shown.Height)) - 1
	}
}
