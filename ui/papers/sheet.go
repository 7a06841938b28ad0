package papers

import (
	"bytes"
	"image"
	"image/color"
	"image/draw"
	"image/jpeg"

	scaling "golang.org/x/image/draw"
	"golang.org/x/image/font"
	"golang.org/x/image/font/opentype"
	"golang.org/x/image/math/fixed"

	"coilward/export/paper"
	"coilward/model/drawing"
	"coilward/model/pixel"
)

// sheets draws pages as pictures. It keeps the faces and photos it has made
// ready between pages; it is not safe for concurrent use.
type sheets struct {
	letters  map[lettering]font.Face
	parsed   map[paper.Face]*opentype.Font
	pictures map[string]image.Image
}

type lettering struct {
	face   paper.Face
	pixels fixed.Int26_6
}

func newSheets() *sheets {
	return &sheets{map[lettering]font.Face{}, map[paper.Face]*opentype.Font{}, map[string]image.Image{}}
}

// draw draws page n of the pages, counted from 1, width pixels wide.
func (s *sheets) draw(d paper.Document, pages []paper.Page, n, width int) *image.RGBA {
	scale := float64(width) / d.Size.W
	picture := image.NewRGBA(image.Rect(0, 0, width, int(d.Size.H*scale+.5)))
	draw.Draw(picture, picture.Rect, image.White, image.Point{}, draw.Src)
	c := &surface{sheets: s, picture: picture, pen: pixel.NewPen(picture, drawing.PrintPalette()), scale: scale, to: drawing.Scale(scale, scale)}
	paper.DrawPage(c, d, pages[n-1], n, len(pages))
	return picture
}

// surface is a paper.Canvas on a picture.
type surface struct {
	*sheets
	picture *image.RGBA
	pen     *pixel.Pen
	scale   float64 // pixels to the millimetre
	to      drawing.Matrix
}

const pointsPerMillimetre = 72 / 25.4

// Text sets each letter where the layout expects it, so that lines end on the
// screen where they end on paper.
func (c *surface) Text(x, y float64, f paper.Face, pt float64, tone color.NRGBA, s string) {
	face := c.lettering(f, pt*c.scale/pointsPerMillimetre)
	d := font.Drawer{Dst: c.picture, Src: image.NewUniform(tone), Face: face}
	for _, r := range s {
		d.Dot = fixed.Point26_6{X: fixed.Int26_6(x * c.scale * 64), Y: fixed.Int26_6(y * c.scale * 64)}
		d.DrawString(string(r))
		x += paper.Width(f, pt, string(r))
	}
}

func (c *surface) lettering(f paper.Face, pixels float64) font.Face {
	key := lettering{f, fixed.Int26_6(pixels*64 + .5)}
	if face, ok := c.letters[key]; ok {
		return face
	}
	parsed, ok := c.parsed[f]
	if !ok {
		var err error
		if parsed, err = opentype.Parse(f.TrueType()); err != nil {
			panic("papers: the embedded face " + f.Name() + " cannot be read: " + err.Error())
		}
		c.parsed[f] = parsed
	}
	face, err := opentype.NewFace(parsed, &opentype.FaceOptions{Size: pixels, DPI: 72, Hinting: font.HintingNone})
	if err != nil {
		panic("papers: the embedded face " + f.Name() + " cannot be set: " + err.Error())
	}
	c.letters[key] = face
	return face
}

func (c *surface) Path(p drawing.Path, paint paper.Paint) {
	p = p.Transform(c.to)
	if paint.Fill.A > 0 {
		c.pen.FillIn(p, paint.Fill)
	}
	if paint.Stroke.A > 0 {
		c.pen.StrokeIn(p, paint.Width*c.scale, paint.Stroke)
	}
}

func (c *surface) Clip(p drawing.Path) { c.pen.Clip(p.Transform(c.to)) }

func (c *surface) Unclip() { c.pen.Unclip() }

// Picture draws a photo; one that cannot be read stays a framed blank, as the
// file could not be made with it either.
func (c *surface) Picture(name string, photo []byte, b paper.Box) {
	decoded, ok := c.pictures[name]
	if !ok {
		var err error
		if decoded, err = jpeg.Decode(bytes.NewReader(photo)); err != nil {
			return
		}
		c.pictures[name] = decoded
	}
	at := image.Rect(int(b.X0*c.scale+.5), int(b.Y0*c.scale+.5), int(b.X1*c.scale+.5), int(b.Y1*c.scale+.5))
	scaling.ApproxBiLinear.Scale(c.picture, at, decoded, decoded.Bounds(), draw.Src, nil)
}

// Mark does nothing: pictures have no bookmarks.
func (c *surface) Mark(int, string, float64) {}
