package particulars

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"

	"coilward/model/animals"
	"coilward/ui/look"
	"coilward/ui/widgets"
	"coilward/ui/widgets/coil"
)

// Coats is the choice of how an animal is drawn until it has a photo: its ground
// and its markings, and the coil that comes of them.
type Coats struct {
	*fyne.Container
	coat     animals.Coat
	name     func() string
	ground   string // what the two rows are called
	markings string
}

// NewCoats makes the choice; name is asked for whenever the coil is drawn.
func NewCoats(ground, markings string, coat animals.Coat, name func() string) *Coats {
	c := &Coats{coat: coat, name: name, ground: ground, markings: markings, Container: widgets.Stack()}
	c.Show()
	return c
}

// Coat is what is chosen.
func (c *Coats) Coat() animals.Coat { return c.coat }

// Show draws the choice anew.
func (c *Coats) Show() {
	row := func(name string, colours []color.NRGBA, chosen uint8, pick func(uint8)) fyne.CanvasObject {
		row := widgets.Row(look.S4)
		for i, colour := range colours {
			row.Add(swatch(name, colour, i == int(chosen), func() { pick(uint8(i)); c.Show() }))
		}
		return widgets.Col(look.S4, widgets.Line(name, look.Note, look.Soft), row)
	}
	drawn := coil.New(coil.Coat{Ground: c.coat.Ground, Markings: c.coat.Markings}, c.name(), 72)
	c.Objects = []fyne.CanvasObject{widgets.Row(look.S12, drawn, widgets.Grow(widgets.Col(look.S8,
		row(c.ground, coil.Grounds(), c.coat.Ground, func(i uint8) { c.coat.Ground = i }),
		row(c.markings, coil.MarkingColours(), c.coat.Markings, func(i uint8) { c.coat.Markings = i }))))}
	c.Container.Refresh()
}

// swatch is one colour that can be chosen.
func swatch(name string, colour color.NRGBA, on bool, tap func()) *widgets.Press {
	dot := canvas.NewCircle(colour)
	dot.StrokeColor, dot.StrokeWidth = color.NRGBA{A: 0x40}, 1
	p := widgets.NewPress(name, widgets.Fix(24, 24, widgets.Pad(dot, 4)), func(s widgets.State) widgets.Ground {
		g := widgets.Ground{Radius: 12}
		switch {
		case s.On:
			g.Line, g.Width = look.Accent, 2
		case s.Pointed:
			g.Fill = look.Well
		}
		return g
	}, tap)
	p.SetOn(on)
	return p
}
