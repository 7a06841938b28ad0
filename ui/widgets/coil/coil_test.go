package coil

import (
	"image"
	"testing"

	"coilward/model/drawing"
)

// inked counts the pixels that are not transparent.
func inked(p image.Image) int {
	n := 0
	for y := range p.Bounds().Dy() {
		for x := range p.Bounds().Dx() {
			if _, _, _, a := p.At(x, y).RGBA(); a > 0x7fff {
				n++
			}
		}
	}
	return n
}

func TestPicture_KeepsToItsDisc(t *testing.T) {
	for _, pixels := range []int{20, 28, 64, 180} {
		for _, name := range []string{"Juniper", "Ash", "Ö"} {
			n, disc := inked(Picture(Coat{1, 1}, name, pixels, false)), 3.14159*float64(pixels*pixels)/4
			if float64(n) < disc*.97 || float64(n) > disc*1.04 {
				t.Errorf("%s at %d px covers %d pixels, its disc has %.0f", name, pixels, n, disc)
			}
		}
	}
}

func TestDraw_DiffersByNameAndNotByChance(t *testing.T) {
	draw := func(name string) *drawing.Recorder {
		r := &drawing.Recorder{}
		Draw(r, drawing.Point{X: 50, Y: 50}, 50, name)
		return r
	}
	a, again, b := draw("Juniper"), draw("Juniper"), draw("Brook")
	if len(a.Steps) != len(again.Steps) || a.Bounds() != again.Bounds() {
		t.Error("the same name is drawn differently the second time")
	}
	head := func(r *drawing.Recorder) drawing.Rectangle { return r.Steps[len(r.Steps)-1].Path.Bounds() }
	if head(a) == head(b) {
		t.Error("two names are drawn with their heads at one place")
	}
}

func TestCoat_TakesUnknownNumbersRound(t *testing.T) {
	n := uint8(len(Grounds()))
	if Picture(Coat{n, 0}, "Ash", 24, false).At(12, 12) != Picture(Coat{0, 0}, "Ash", 24, false).At(12, 12) {
		t.Error("a number past the last ground is not taken round from the first")
	}
}
