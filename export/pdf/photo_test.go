package pdf

import (
	"bytes"
	"image"
	"image/color"
	"image/jpeg"
	"testing"
)

// photo is a JPEG of that size with some detail in it.
func photo(t testing.TB, w, h int) []byte {
	t.Helper()
	picture := image.NewRGBA(image.Rect(0, 0, w, h))
	for y := range h {
		for x := range w {
			picture.Set(x, y, color.RGBA{uint8(x * 7), uint8(y * 5), uint8((x ^ y) * 3), 255})
		}
	}
	var b bytes.Buffer
	if err := jpeg.Encode(&b, picture, &jpeg.Options{Quality: 82}); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}
