package look

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/theme"
)

// Tone is a colour by its job. Tones are colour names of the theme, so that a
// change of theme reaches every widget that asks again.
type Tone = fyne.ThemeColorName

// The tones. Text in a tone has at least 4.5:1 on every ground it may stand on,
// the outline of a control at least 3:1 (WCAG 2.2, 1.4.3 and 1.4.11).
const (
	Paper    Tone = "coilward.paper"  // the window
	Sheet    Tone = "coilward.sheet"  // what lies on it: drawing, cards, fields
	Rail     Tone = "coilward.rail"   // the rail and the bar at the foot
	Well     Tone = "coilward.well"   // sunk: tracks, key caps, discs
	Hair     Tone = "coilward.hair"   // lines that only divide
	Edge     Tone = "coilward.edge"   // outlines of controls
	Ink      Tone = "coilward.ink"    // text
	Soft     Tone = "coilward.soft"   // second text
	Faint    Tone = "coilward.faint"  // captions
	Accent   Tone = "coilward.accent" // the one accent
	OnAccent Tone = "coilward.onaccent"
	Wash     Tone = "coilward.wash"    // what is chosen or under the pointer
	Lit      Tone = "coilward.lit"     // the lamp on the drawing
	LitLine  Tone = "coilward.litline" // its outline
	Today    Tone = "coilward.today"   // urgency: emergency today; refusals
	TodayBg  Tone = "coilward.todaybg"
	Days     Tone = "coilward.days" // urgency: vet within days; cautions
	DaysBg   Tone = "coilward.daysbg"
	Again    Tone = "coilward.again" // urgency: look again
	AgainBg  Tone = "coilward.againbg"
	Often    Tone = "coilward.often" // urgency: seen often, no action
	OftenBg  Tone = "coilward.oftenbg"
	Wood     Tone = "coilward.wood"     // the boards of a shelf
	WoodEdge Tone = "coilward.woodedge" // their lower edge
	Bedding  Tone = "coilward.bedding"  // in a box
	Fleck    Tone = "coilward.fleck"    // bark on it
	Shade    Tone = "coilward.shade"    // the veil behind a sheet, the edge under a panel
	Clear    Tone = "coilward.clear"    // nothing
)

func hex(v uint32) color.NRGBA {
	return color.NRGBA{R: uint8(v >> 16), G: uint8(v >> 8), B: uint8(v), A: 255}
}

// light is the colour of each tone by day.
func light() map[Tone]color.NRGBA {
	return map[Tone]color.NRGBA{
		Paper: hex(0xF6F2E9), Sheet: hex(0xFFFDF8), Rail: hex(0xEDE7DA), Well: hex(0xEBE5D7),
		Hair: hex(0xDFD8C8), Edge: hex(0x8A816A),
		Ink: hex(0x26323A), Soft: hex(0x4F5B5C), Faint: hex(0x5A6361),
		Accent: hex(0x1F655B), OnAccent: hex(0xFFFDF8), Wash: hex(0xDCE8E0),
		Lit: hex(0xF2A93B), LitLine: hex(0xB9650F),
		Today: hex(0xA8321F), Days: hex(0x7E5200), Again: hex(0x2F5D8C), Often: hex(0x4A6350),
		TodayBg: hex(0xF8E2DB), DaysBg: hex(0xF7EACB), AgainBg: hex(0xE1EAF2), OftenBg: hex(0xE4EBE0),
		Wood: hex(0xC3B99F), WoodEdge: hex(0x9F947A), Bedding: hex(0xE7E0D0), Fleck: hex(0xC8BFAC),
		Shade: {R: 0x26, G: 0x32, B: 0x3A, A: 0x38}, Clear: {},
	}
}

// dark is the colour of each tone by night: warm charcoal.
func dark() map[Tone]color.NRGBA {
	return map[Tone]color.NRGBA{
		Paper: hex(0x201F1C), Sheet: hex(0x2A2926), Rail: hex(0x181715), Well: hex(0x373530),
		Hair: hex(0x403E38), Edge: hex(0x8B877B),
		Ink: hex(0xEDE8DB), Soft: hex(0xC1BDB0), Faint: hex(0xABA79B),
		Accent: hex(0x8CC9B8), OnAccent: hex(0x10211D), Wash: hex(0x2C3F39),
		Lit: hex(0xF2B04C), LitLine: hex(0xF5BE6A),
		Today: hex(0xF29B88), Days: hex(0xEBBB63), Again: hex(0x97BEE5), Often: hex(0xABC4AD),
		TodayBg: hex(0x4A2B26), DaysBg: hex(0x42371F), AgainBg: hex(0x273845), OftenBg: hex(0x2C382E),
		Wood: hex(0x5E5647), WoodEdge: hex(0x7B7060), Bedding: hex(0x3A3832), Fleck: hex(0x5A554B),
		Shade: {A: 0x78}, Clear: {},
	}
}

// Of is the present colour of a tone.
func Of(t Tone) color.NRGBA {
	return color.NRGBAModel.Convert(theme.Color(t)).(color.NRGBA)
}

// Dark tells whether the colours of the night are in force, whoever chose them.
func Dark() bool { return Of(Paper).R < 0x80 }
