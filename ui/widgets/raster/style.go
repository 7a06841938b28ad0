package raster

import (
	"image"
	"image/color"
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/theme"

	"coilward/model/drawing"
	"coilward/model/pixel"
)

// Style is the look that a picture in a window takes from its surroundings.
// The zero Style follows the theme in force.
type Style struct {
	// Palette is asked at every drawing, so that a change of theme is followed;
	// nil is the light or the dark palette by the theme's variant.
	Palette func() drawing.Palette
	// Face and StrongFace set texts; nil is the theme's own.
	Face, StrongFace fyne.Resource
}

// Colours is the palette in force.
func (s Style) Colours() drawing.Palette {
	if s.Palette != nil {
		return s.Palette()
	}
	if fyne.CurrentApp() != nil && fyne.CurrentApp().Settings().ThemeVariant() == theme.VariantDark {
		return drawing.DarkPalette()
	}
	return drawing.LightPalette()
}

// Colour is the colour of one role.
func (s Style) Colour(role drawing.Role) color.NRGBA { return s.Colours()[role] }

// Measure is the width of a text in the window's faces.
func (s Style) Measure(text string, size float64, strong bool) float64 {
	if fyne.CurrentApp() == nil {
		return 0.52 * size * float64(len([]rune(text)))
	}
	m, _ := fyne.CurrentApp().Driver().RenderedTextSize(text, float32(size), fyne.TextStyle{Bold: strong}, s.face(strong))
	return float64(m.Width)
}

func (s Style) face(strong bool) fyne.Resource {
	if strong {
		return s.StrongFace
	}
	return s.Face
}

// Word is a text as an object of the window, at its place.
func (s Style) Word(t drawing.Text) *canvas.Text {
	o := canvas.NewText(t.String, s.Colour(t.Role))
	o.TextSize = float32(t.Size)
	o.TextStyle.Bold = t.Strong
	o.FontSource = s.face(t.Strong)
	m := o.MinSize()
	o.Resize(m)
	back := float32(0)
	switch t.Align {
	case drawing.Middle:
		back = m.Width / 2
	case drawing.End:
		back = m.Width
	}
	o.Move(fyne.NewPos(whole(float32(t.At.X)-back), whole(float32(t.At.Y)-m.Height/2)))
	return o
}

func whole(x float32) float32 { return float32(math.Round(float64(x))) }

// Words are all texts as objects of the window.
func (s Style) Words(texts []drawing.Text) []fyne.CanvasObject {
	out := make([]fyne.CanvasObject, 0, len(texts))
	for _, t := range texts {
		out = append(out, s.Word(t))
	}
	return out
}

// Picture draws in window units on a picture of w × h device pixels that fills
// an object of that width.
func (s Style) Picture(w, h int, width float32, draw func(drawing.Pen)) *image.RGBA {
	picture := image.NewRGBA(image.Rect(0, 0, w, h))
	if w > 0 && h > 0 && width > 0 {
		k := float64(w) / float64(width)
		draw(drawing.Through(pixel.NewPen(picture, s.Colours()), drawing.Scale(k, k)))
	}
	return picture
}

// Texts are the texts that a drawing writes, without painting it.
func Texts(draw func(drawing.Pen)) []drawing.Text {
	var r drawing.Recorder
	draw(&r)
	var out []drawing.Text
	for _, step := range r.Steps {
		if step.Kind == drawing.Written {
			out = append(out, step.Text)
		}
	}
	return out
}
