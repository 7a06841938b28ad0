package raster_test

import (
	"testing"

	"coilward/model/drawing"
	"coilward/ui/widgets/raster"
)

func TestTextsWithoutPainting(t *testing.T) {
	texts := raster.Texts(func(p drawing.Pen) {
		p.Fill(drawing.Circle(drawing.Point{}, 3), drawing.Ink, 1)
		p.Text(drawing.Text{String: "a"})
		p.Text(drawing.Text{String: "b"})
	})
	if len(texts) != 2 || texts[1].String != "b" {
		t.Errorf("%+v", texts)
	}
}

// TestATipCanAskForPaint: hidden or shown, one of its objects is always there for
// the window to know.
func TestATipCanAskForPaint(t *testing.T) {
	tip := raster.NewTip()
	seen := 0
	for _, o := range tip.Objects() {
		if o.Visible() && o.Size().Width > 0 {
			seen++
		}
	}
	if tip.Visible() || seen != 1 {
		t.Errorf("%d objects of a hidden tip can be painted, want one", seen)
	}
}
