package widgets

import (
	"fyne.io/fyne/v2"

	"coilward/ui/look"
)

// Tile is one of several things to choose among, on a sheet of its own, which has a
// heavy edge where it is the chosen one. name is what it is called as a person reads it.
func Tile(name string, content fyne.CanvasObject, on bool, tap func()) *Press {
	p := NewPress(name, content, func(s State) Ground {
		g := Ground{Fill: look.Sheet, Line: look.Edge, Width: 1, Radius: look.RBase}
		switch {
		case s.On:
			g.Fill, g.Line, g.Width = look.Wash, look.Accent, 2
		case s.Pointed:
			g.Fill = look.Wash
		}
		return g
	}, tap)
	p.SetOn(on)
	return p
}
