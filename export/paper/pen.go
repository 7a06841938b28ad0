package paper

import (
	"image/color"

	"coilward/model/drawing"
)

// thinnest is the width of the thinnest line that printers hold, in millimetres.
const thinnest = .05

// Drawn is what draw draws with the pen in the colours for paper, in the
// millimetres of a box of that width and height.
func Drawn(draw func(pen drawing.Pen, width, height float64)) Draw {
	return func(c Canvas, b Box) {
		draw(drawing.Through(pen{c, drawing.PrintPalette()}, drawing.Translate(b.X0, b.Y0)), b.W(), b.H())
	}
}

// pen draws pictures on a canvas in the colours of a palette, in millimetres.
// Soft shadows are left out: paper has none.
type pen struct {
	canvas  Canvas
	palette drawing.Palette
}

func (p pen) tone(role drawing.Role, opacity float64) color.NRGBA {
	t := p.palette[role]
	t.A = uint8(float64(t.A)*max(0, min(1, opacity)) + .5)
	return t
}

func (p pen) Fill(path drawing.Path, role drawing.Role, opacity float64) {
	if role != drawing.Shadow {
		p.canvas.Path(path, Paint{Fill: p.tone(role, opacity)})
	}
}

func (p pen) Stroke(path drawing.Path, width float64, role drawing.Role, opacity float64) {
	p.canvas.Path(path, Paint{Stroke: p.tone(role, opacity), Width: max(width, thinnest)})
}

func (p pen) Clip(path drawing.Path) { p.canvas.Clip(path) }

func (p pen) Unclip() { p.canvas.Unclip() }

// middleToBaseline is how far the baseline is under the middle of a line, in
// sizes of its type.
const middleToBaseline = .35

func (p pen) Text(t drawing.Text) {
	st := Style{Face: Sans, Pt: t.Size / millimetresPerPoint, Tone: p.tone(t.Role, 1)}
	if t.Strong {
		st.Face = Bold
	}
	align := [...]Align{drawing.Start: AlignLeft, drawing.Middle: AlignCentre, drawing.End: AlignRight}[t.Align]
	put(p.canvas, t.At.X, t.At.Y+t.Size*middleToBaseline, align, st, Clean(t.String))
}

// Measure is the width of a text as the pen sets it, for pictures that place
// texts side by side; a drawing.Measure.
func Measure(text string, size float64, strong bool) float64 {
	face := Sans
	if strong {
		face = Bold
	}
	return Width(face, size/millimetresPerPoint, Clean(text))
}
