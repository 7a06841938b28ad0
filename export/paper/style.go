package paper

import "image/color"

// Style is a way to set text: size in points, leading in millimetres.
type Style struct {
	Face Face
	Pt   float64
	Lead float64
	Tone color.NRGBA
}

// In is the style in another tone.
func (s Style) In(tone color.NRGBA) Style { s.Tone = tone; return s }

// As is the style in another face.
func (s Style) As(f Face) Style { s.Face = f; return s }

func (s Style) scaled(k float64) Style {
	s.Pt *= k
	s.Lead *= k
	return s
}

// millimetresPerPoint turns a size of type into millimetres.
const millimetresPerPoint = 25.4 / 72

// baseline is how far under the top of a line of that style its letters stand:
// capital letters centred in the leading.
func (s Style) baseline() float64 { return s.Lead*.5 + s.Pt*millimetresPerPoint*.36 }

func tone(v uint32) color.NRGBA {
	return color.NRGBA{R: uint8(v >> 16), G: uint8(v >> 8), B: uint8(v), A: 255}
}

// The colours in print, on white paper. Every tone that carries text keeps at
// least 4.5:1 against white, and everything can be told apart in grey.
var (
	Ink    = tone(0x1F2A30)
	Ink2   = tone(0x465056)
	Ink3   = tone(0x626966)
	Line   = tone(0x9A9C94)
	Hair   = tone(0xCFCCC2)
	Tint   = tone(0xF5F2EA)
	Accent = tone(0x2A665D)
	White  = tone(0xFFFFFF)
)

// The scale of type.
var (
	nameStyle  = Style{Serif, 27, 10.6, Ink}
	titleStyle = Style{Serif, 17, 7.4, Ink}
	headStyle  = Style{Serif, 12.5, 5.4, Ink}
	sayStyle   = Style{Serif, 11, 5.2, Ink}
	subStyle   = Style{Bold, 8.6, 4.0, Ink}
	textStyle  = Style{Sans, 8.6, 4.0, Ink}
	smallStyle = Style{Sans, 7.4, 3.4, Ink2}
	smallInk   = Style{Sans, 7.4, 3.4, Ink}
	smallBold  = Style{Bold, 7.4, 3.4, Ink}
	tinyStyle  = Style{Sans, 6.6, 2.9, Ink3}
)

// Size is a page and its margins in millimetres.
type Size struct{ W, H, Left, Right, Top, Bottom float64 }

// The two sizes of paper in use: ISO 216 A4 and North American Letter.
var (
	A4     = Size{210, 297, 18, 18, 15, 16}
	Letter = Size{215.9, 279.4, 20, 20, 13, 14.5}
)
