package drawing

import "image/color"

// Role names a colour by what it is for. Which colour that is, a palette says.
type Role uint8

// The roles of the animal, of its mouth, and of charts and marks.
const (
	Ink     Role = iota // outlines and text
	InkSoft             // second text
	Skin
	SkinShade
	SkinLight
	Blotch
	BlotchEdge
	BlotchCore
	Belly
	BellyShade
	BellyLine
	Iris
	Pupil
	Mucosa
	MucosaDeep
	Gum
	Tooth
	Throat
	Tongue
	Shadow
	Bone    // spur, claw
	Outline // the animal's outlines
	Sheet   // what the drawing lies on
	Well    // sunk bands
	Hair    // lines that only divide
	Edge    // axes, closed bars
	Faint   // captions
	Accent  // the one accent
	Wash    // the accent at low strength
	Lit     // the lamp
	LitLine // the lamp's outline
	Warn    // a mark that asks for attention
	OrganA  // organ quarters, alternating
	OrganB

	RoleCount // how many roles there are; not a role
)

// Palette gives each role its colour.
type Palette [RoleCount]color.NRGBA

// LightPalette is for light screens.
func LightPalette() Palette {
	return Palette{
		Ink: hex(0x26323A), InkSoft: hex(0x4F5B5C), Faint: hex(0x5F6866),
		Skin: hex(0xBFC3A0), SkinShade: hex(0x98A384), SkinLight: hex(0xEDEBCF),
		Blotch: hex(0x3F6B63), BlotchEdge: hex(0x2A4A49), BlotchCore: hex(0x7FA08C),
		Belly: hex(0xF4EAD0), BellyShade: hex(0xDCCDA6), BellyLine: hex(0x8F845F),
		Iris: hex(0xE0A63A), Pupil: hex(0x161C20),
		Mucosa: hex(0xEDB9AC), MucosaDeep: hex(0xC47A74), Gum: hex(0xF4D2C4),
		Tooth: hex(0xFFFDF4), Throat: hex(0x6E3038), Tongue: hex(0x3B2A3F),
		Shadow: hex(0x26323A), Bone: hex(0x6B5A3C), Outline: hex(0x26323A),
		Sheet: hex(0xFFFDF8), Well: hex(0xEBE5D7), Hair: hex(0xDFD8C8), Edge: hex(0x8F866F),
		Accent: hex(0x1F655B), Wash: hex(0xDCE8E0), Lit: hex(0xF2A93B), LitLine: hex(0xB9650F),
		Warn: hex(0xA8321F), OrganA: hex(0x2F5D8C), OrganB: hex(0x7A3E6B),
	}
}

// DarkPalette is for dark screens: the animal a little dimmed, so that it does
// not glare, and everything about it light on dark.
func DarkPalette() Palette {
	p := LightPalette()
	for r := Skin; r <= Tongue; r++ {
		p[r] = dimmed(p[r], .86)
	}
	p[Shadow], p[Outline] = hex(0x000000), hex(0x10181A)
	p[Ink], p[InkSoft], p[Faint] = hex(0xEDE8DB), hex(0xC1BDB0), hex(0xA6A296)
	p[Sheet], p[Well], p[Hair], p[Edge] = hex(0x2A2926), hex(0x373530), hex(0x403E38), hex(0x8B877B)
	p[Accent], p[Wash], p[Lit], p[LitLine] = hex(0x8CC9B8), hex(0x2C3F39), hex(0xF2B04C), hex(0xF5BE6A)
	p[Warn], p[OrganA], p[OrganB] = hex(0xF29B88), hex(0x97BEE5), hex(0xD9A6CB)
	return p
}

// PrintPalette is for paper: white ground, and skin light enough that a mark
// written on the print with a pen can be read.
func PrintPalette() Palette {
	p := LightPalette()
	for _, r := range []Role{Skin, SkinShade, Blotch, BlotchEdge, BlotchCore} {
		p[r] = lighter(p[r], .22)
	}
	p[Sheet] = hex(0xFFFFFF)
	return p
}

func hex(v uint32) color.NRGBA {
	return color.NRGBA{R: uint8(v >> 16), G: uint8(v >> 8), B: uint8(v), A: 255}
}

func dimmed(c color.NRGBA, k float64) color.NRGBA {
	f := func(v uint8) uint8 { return uint8(float64(v)*k + .5) }
	return color.NRGBA{R: f(c.R), G: f(c.G), B: f(c.B), A: c.A}
}

func lighter(c color.NRGBA, k float64) color.NRGBA {
	f := func(v uint8) uint8 { return uint8(float64(v) + (255-float64(v))*k + .5) }
	return color.NRGBA{R: f(c.R), G: f(c.G), B: f(c.B), A: c.A}
}
