package look

import "coilward/model/drawing"

// Palette is the colours of drawings in the theme in force: the animal by day
// or by night, everything about it in the tones of the window.
func Palette() drawing.Palette {
	p := drawing.LightPalette()
	if Dark() {
		p = drawing.DarkPalette()
	}
	for role, tone := range map[drawing.Role]Tone{
		drawing.Ink: Ink, drawing.InkSoft: Soft, drawing.Faint: Faint, drawing.Sheet: Sheet, drawing.Well: Well, drawing.Hair: Hair, drawing.Edge: Edge,
		drawing.Accent: Accent, drawing.Wash: Wash, drawing.Lit: Lit, drawing.LitLine: LitLine, drawing.Warn: Today,
	} {
		p[role] = Of(tone)
	}
	return p
}
