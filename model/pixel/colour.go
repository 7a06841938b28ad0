package pixel

import (
	"image/color"

	"coilward/model/drawing"
)

// FillIn fills the path in a colour that no role has, such as a paper's.
func (p *Pen) FillIn(path drawing.Path, tone color.NRGBA) {
	if !p.beside(path, 0) {
		p.paint(path.Flatten(tolerance), tone)
	}
}

// StrokeIn draws along the path in a colour that no role has.
func (p *Pen) StrokeIn(path drawing.Path, width float64, tone color.NRGBA) {
	half := max(width, thinnest) / 2
	if !p.beside(path, half) {
		p.paint(widened(path.Flatten(tolerance), half), tone)
	}
}
