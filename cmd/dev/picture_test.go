package main

import (
	"image"
	"image/color"
	"math"
	"testing"
)

func TestPictures(t *testing.T) {
	plain := image.NewRGBA(image.Rect(0, 0, 10, 10))
	if n := colours(plain); n != 1 {
		t.Errorf("a blank picture has %d colours, want 1", n)
	}
	marked := image.NewRGBA(plain.Bounds())
	for x := range 10 {
		marked.Set(x, 3, color.RGBA{R: 200, A: 255})
	}
	marked.Set(0, 0, color.RGBA{R: 8}) // a step too small to see
	if n := colours(marked); n != 3 {
		t.Errorf("three colours are counted as %d", n)
	}
	share, err := changed(plain, marked)
	if err != nil || math.Abs(share-0.1) > 1e-9 {
		t.Errorf("a changed row of ten is %v, %v; want 0.1", share, err)
	}
	if _, err := changed(plain, image.NewRGBA(image.Rect(0, 0, 10, 11))); err == nil {
		t.Error("pictures of different sizes are compared")
	}
}
