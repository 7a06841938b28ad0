package look

import (
	"io/fs"
	"strings"
	"unicode"

	"fyne.io/fyne/v2"
	"golang.org/x/image/font/gofont/goregular"

	"coilward/assets"
)

// Face is a cut of type. Noto Serif speaks (titles, names, sentences of a
// page), Noto Sans works; signs that both lack come from Go Regular.
type Face uint8

// The faces.
const (
	Sans Face = iota
	SansBold
	SansItalic
	Serif
	SerifBold
	sign
)

// resources are the faces as files, by Face. They never change.
var resources = [...]fyne.Resource{
	Sans: face("NotoSans-Regular.ttf"), SansBold: face("NotoSans-Bold.ttf"), SansItalic: face("NotoSans-Italic.ttf"),
	Serif: face("NotoSerif-Regular.ttf"), SerifBold: face("NotoSerif-Bold.ttf"),
	sign: fyne.NewStaticResource("Go-Regular.ttf", goregular.TTF),
}

func face(name string) fyne.Resource {
	file, err := fs.ReadFile(assets.Fonts(), name)
	if err != nil {
		panic("look: " + err.Error())
	}
	return fyne.NewStaticResource(name, file)
}

// Source is what a canvas.Text of the face wants as FontSource: nil for the
// sans faces, which the theme gives, so that names in other scripts fall back
// to the system's faces.
func (f Face) Source() fyne.Resource {
	if f == Sans || f == SansBold || f == SansItalic {
		return nil
	}
	return resources[f]
}

// Style is what a canvas.Text of the face wants as TextStyle.
func (f Face) Style() fyne.TextStyle {
	return fyne.TextStyle{Bold: f == SansBold, Italic: f == SansItalic}
}

// Type is one step of the scale: size and height of a line in pixels, and face.
type Type struct {
	Size, Line float32
	Face       Face
}

// The scale.
var (
	Display  = Type{30, 36, Serif}
	Say      = Type{22, 32, Serif} // the one sentence of a page
	Heading  = Type{22, 28, Serif}
	Section  = Type{18, 24, Serif}
	Name     = Type{16, 24, Serif}
	Amount   = Type{28, 36, SansBold} // the one number of a form
	Figure   = Type{20, 28, SansBold}
	Lead     = Type{16, 24, Sans}
	LeadBold = Type{16, 24, SansBold}
	Body     = Type{14, 20, Sans}
	BodyBold = Type{14, 20, SansBold}
	Note     = Type{12, 16, Sans}
	NoteBold = Type{12, 16, SansBold}
	Tiny     = Type{11, 16, Sans}
	TinyBold = Type{11, 16, SansBold}
)

// The far scale is read from a metre and a half, with gloves on.
var (
	FarFigure = Type{104, 112, SansBold}
	FarName   = Type{56, 64, Serif}
	FarCount  = Type{40, 48, SansBold}
	Far       = Type{30, 40, Sans}
	FarBold   = Type{30, 40, SansBold}
	FarSmall  = Type{20, 28, Sans}
)

// Bold is the same step in the bold cut.
func (t Type) Bold() Type {
	switch t.Face {
	case Sans, SansItalic:
		t.Face = SansBold
	case Serif:
		t.Face = SerifBold
	}
	return t
}

// Run is a piece of text in one face.
type Run struct {
	Text string
	Face Face
}

// Runs cuts text where a face lacks signs: ♀ ♂ arrows and mathematical signs
// are set in Go Regular, other scripts of a serif text in the theme's face.
func (t Type) Runs(text string) []Run {
	if text != "" && !strings.ContainsFunc(text, func(r rune) bool { return t.faceOf(r) != t.Face }) {
		return []Run{{text, t.Face}} // nearly all texts
	}
	var runs []Run
	var piece strings.Builder
	last := t.Face
	flush := func() {
		if piece.Len() > 0 {
			runs = append(runs, Run{piece.String(), last})
			piece.Reset()
		}
	}
	for _, r := range text {
		f := t.faceOf(r)
		if f != last {
			flush()
			last = f
		}
		piece.WriteRune(r)
	}
	flush()
	return runs
}

func (t Type) faceOf(r rune) Face {
	switch {
	case r <= 0x7F:
		return t.Face
	case strings.ContainsRune("♀♂→←↑↓≥≤≈−", r):
		return sign
	case t.Face >= Serif && unicode.IsLetter(r) && !unicode.In(r, unicode.Latin, unicode.Greek, unicode.Cyrillic):
		return Sans
	}
	return t.Face
}

// Width is how wide one line of text is, in pixels.
func (t Type) Width(text string) float32 {
	var w float32
	for _, run := range t.Runs(text) {
		size, _ := fyne.CurrentApp().Driver().RenderedTextSize(run.Text, t.Size, run.Face.Style(), run.Face.Source())
		w += size.Width
	}
	return w
}

// Spacing, on a grid of 8 px with one half step.
const (
	S4  float32 = 4
	S8  float32 = 8
	S12 float32 = 12
	S16 float32 = 16
	S24 float32 = 24
	S32 float32 = 32
)

// Radii of corners.
const (
	RSmall float32 = 4  // key caps, bars
	RBase  float32 = 8  // buttons, fields, rows
	RLarge float32 = 12 // cards
)
