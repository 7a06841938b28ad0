package pdf

import (
	"bytes"
	"image/color"

	"github.com/jung-kurt/gofpdf"

	"coilward/export/paper"
	"coilward/model/drawing"
)

// canvas is a paper.Canvas on one PDF file, in millimetres.
type canvas struct {
	headed bool // a bookmark of the first level is there
	file   *gofpdf.Fpdf
	faces  [16]bool // added so far: a file holds only the faces it uses
}

func (c *canvas) Text(x, y float64, f paper.Face, pt float64, tone color.NRGBA, s string) {
	c.set(f, pt)
	c.file.SetTextColor(int(tone.R), int(tone.G), int(tone.B))
	c.file.Text(x, y, s)
}

// set takes the face for what is written next.
func (c *canvas) set(f paper.Face, pt float64) {
	if !c.faces[f] {
		c.file.AddUTF8FontFromBytes(f.Name(), "", f.TrueType())
		c.faces[f] = true
	}
	c.file.SetFont(f.Name(), "", pt)
}

// Path sets fill, stroke, width and ends each time: the end of a clip brings
// back what was set before it.
func (c *canvas) Path(p drawing.Path, paint paper.Paint) {
	fill, stroke := paint.Fill.A > 0, paint.Stroke.A > 0
	if len(p) == 0 || !fill && !stroke {
		return
	}
	if fill && stroke && paint.Fill.A != paint.Stroke.A {
		c.Path(p, paper.Paint{Fill: paint.Fill})
		c.Path(p, paper.Paint{Stroke: paint.Stroke, Width: paint.Width})
		return
	}
	style, alpha := "", uint8(255)
	if fill {
		style, alpha = "F", paint.Fill.A
		c.file.SetFillColor(int(paint.Fill.R), int(paint.Fill.G), int(paint.Fill.B))
	}
	if stroke {
		style, alpha = style+"D", paint.Stroke.A
		c.setStroke(paint)
	}
	if alpha < 255 {
		c.file.SetAlpha(float64(alpha)/255, "Normal")
		defer c.file.SetAlpha(1, "Normal")
	}
	c.trace(p)
	c.file.DrawPath(style)
}

func (c *canvas) setStroke(paint paper.Paint) {
	c.file.SetDrawColor(int(paint.Stroke.R), int(paint.Stroke.G), int(paint.Stroke.B))
	c.file.SetLineWidth(paint.Width)
	c.file.SetLineJoinStyle("round")
	c.file.SetLineCapStyle("round")
}

func (c *canvas) trace(p drawing.Path) {
	for _, s := range p {
		switch s.Operation {
		case drawing.Move:
			c.file.MoveTo(s.P[0].X, s.P[0].Y)
		case drawing.Line:
			c.file.LineTo(s.P[0].X, s.P[0].Y)
		case drawing.Cubic:
			c.file.CurveBezierCubicTo(s.P[0].X, s.P[0].Y, s.P[1].X, s.P[1].Y, s.P[2].X, s.P[2].Y)
		case drawing.Close:
			c.file.ClosePath()
		}
	}
}

// clipTolerance is how far a clip may lie from its curve, in millimetres.
const clipTolerance = .02

// Clip keeps to the first outline of p: gofpdf clips by one polygon.
func (c *canvas) Clip(p drawing.Path) {
	var points []gofpdf.PointType
	if lines := p.Flatten(clipTolerance); len(lines) > 0 {
		for _, q := range lines[0] {
			points = append(points, gofpdf.PointType{X: q.X, Y: q.Y})
		}
	} else {
		points = make([]gofpdf.PointType, 3) // nothing is inside
	}
	c.file.ClipPolygon(points, false)
}

func (c *canvas) Unclip() { c.file.ClipEnd() }

func (c *canvas) Picture(name string, jpeg []byte, b paper.Box) {
	options := gofpdf.ImageOptions{ImageType: "JPEG"}
	if c.file.GetImageInfo(name) == nil {
		c.file.RegisterImageOptionsReader(name, options, bytes.NewReader(jpeg))
	}
	c.file.ImageOptions(name, b.X0, b.Y0, b.W(), b.H(), false, options, 0, "")
}

func (c *canvas) Mark(level int, title string, y float64) {
	if c.headed = c.headed || level == 0; !c.headed { // under no other yet: readers refuse a bookmark whose parent is not there
		level = 0
	}
	if c.faces == [len(c.faces)]bool{} { // before any face is set gofpdf takes the title for Latin letters
		c.set(paper.Sans, 10)
	}
	c.file.Bookmark(title, level, y)
}
