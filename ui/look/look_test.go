package look

import (
	"image/color"
	"math"
	"testing"

	"fyne.io/fyne/v2/test"
	"golang.org/x/image/font/sfnt"
)

func luminance(c color.NRGBA) float64 {
	linear := func(v uint8) float64 {
		x := float64(v) / 255
		if x <= .04045 {
			return x / 12.92
		}
		return math.Pow((x+.055)/1.055, 2.4)
	}
	return .2126*linear(c.R) + .7152*linear(c.G) + .0722*linear(c.B)
}

func contrast(a, b color.NRGBA) float64 {
	x, y := luminance(a), luminance(b)
	return (max(x, y) + .05) / (min(x, y) + .05)
}

// Text needs 4.5:1 and the outline of a control 3:1 (WCAG 2.2, 1.4.3 and 1.4.11).
func TestContrast(t *testing.T) {
	text := map[Tone][]Tone{
		Ink: {Paper, Sheet, Rail, Well, Wash, TodayBg, DaysBg, AgainBg, OftenBg}, Soft: {Paper, Sheet, Rail, Well, Wash},
		Faint: {Paper, Sheet, Rail, Well}, Accent: {Paper, Sheet, Rail, Wash, Well}, OnAccent: {Accent},
		Today: {Paper, Sheet, TodayBg}, Days: {Paper, Sheet, DaysBg}, Again: {Paper, Sheet, AgainBg}, Often: {Paper, Sheet, OftenBg},
		Paper: {Ink},
	}
	outline := map[Tone][]Tone{Edge: {Paper, Sheet, Rail, Well}, Accent: {Paper, Sheet, Wash, Rail}, LitLine: {Sheet}, Today: {Sheet, Paper}}
	for name, tones := range map[string]map[Tone]color.NRGBA{"by day": light(), "by night": dark()} {
		for pairs, least := range map[*map[Tone][]Tone]float64{&text: 4.5, &outline: 3} {
			for ink, grounds := range *pairs {
				for _, ground := range grounds {
					if c := contrast(tones[ink], tones[ground]); c < least {
						t.Errorf("%s: %s on %s is %.2f:1, want %.1f", name, ink, ground, c, least)
					}
				}
			}
		}
	}
}

// Both sets of colours name the same tones.
func TestTonesAreComplete(t *testing.T) {
	day, night := light(), dark()
	for tone := range day {
		if _, ok := night[tone]; !ok {
			t.Errorf("%s has no colour by night", tone)
		}
	}
	if len(day) != len(night) {
		t.Errorf("%d tones by day, %d by night", len(day), len(night))
	}
}

// Every sign that the program writes stands in the face that it is set in.
func TestFacesHaveTheSigns(t *testing.T) {
	parsed := map[Face]*sfnt.Font{}
	for f, file := range resources {
		font, err := sfnt.Parse(file.Content())
		if err != nil {
			t.Fatalf("%s: %v", file.Name(), err)
		}
		parsed[Face(f)] = font
	}
	const signs = "♀♂→←↑↓≥≤≈−°½·…–—×±µ§„“”‚‘’ÄÖÜäöüßĄąŁłŻżéñø0123456789"
	var buffer sfnt.Buffer
	for _, f := range []Face{Sans, SansBold, Serif, SerifBold} {
		for _, run := range (Type{14, 20, f}).Runs(signs) {
			for _, r := range run.Text {
				if i, err := parsed[run.Face].GlyphIndex(&buffer, r); err != nil || i == 0 {
					t.Errorf("face %d sets %q in face %d, which lacks it", f, r, run.Face)
				}
			}
		}
	}
}

func TestRunsKeepTheText(t *testing.T) {
	for text, want := range map[string]int{"": 0, "Juniper": 1, "♀ Juniper": 2, "1 → 2": 3, "蛇 Juniper": 2} {
		runs := Section.Runs(text)
		var all string
		for _, run := range runs {
			all += run.Text
		}
		if all != text || len(runs) != want {
			t.Errorf("Runs(%q) = %v, want %d pieces", text, runs, want)
		}
	}
}

func TestThemeFollowsTheSystemUnlessTold(t *testing.T) {
	app := test.NewApp()
	for shine, want := range map[Shine]bool{ByDay: false, ByNight: true} {
		app.Settings().SetTheme(NewTheme(shine))
		if Dark() != want {
			t.Errorf("%q: dark is %v", shine, Dark())
		}
	}
}
