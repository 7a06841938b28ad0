// Package first is the page for a person who has no collection yet: start
// empty, or look around with the sample collection.
package first

import (
	"fyne.io/fyne/v2"

	"coilward/model/body"
	"coilward/model/drawing"
	"coilward/ui/look"
	"coilward/ui/place"
	"coilward/ui/widgets"
)

// Choices are what the page can begin.
type Choices struct {
	Suggested string // folder of a new collection
	Empty     func(folder string)
	Bring     func(folder string) // to bring a spreadsheet into it; nil: it is not offered
	Sample    func()              // nil: there is no sample
	Papers    func()              // to open the papers of an animal; nil: it is not offered
}

// Page makes the page.
func Page(w place.Window, c Choices) fyne.CanvasObject {
	text := w.Text()
	head := widgets.Col(look.S4,
		widgets.Para(text.Say("window.first.title"), look.Display, look.Ink),
		widgets.Para(text.Say("window.first.below"), look.Section, look.Soft))
	animal := widgets.Stack(
		widgets.NewBox(widgets.Ground{Fill: look.Sheet, Line: look.Hair, Width: 1, Radius: look.RLarge}),
		widgets.Pad(widgets.NewSketch(320, 160, drawAnimal), look.S16))
	cards := widgets.Cells(2, look.S24, 0, empty(w, c))
	if c.Sample != nil {
		cards.Add(sample(w, c))
	}
	parts := []fyne.CanvasObject{head, widgets.Grow(animal), cards}
	if c.Papers != nil {
		parts = append(parts, widgets.Row(0, widgets.Button(widgets.Quiet, widgets.Act{Label: text.Say("handover.open"), Icon: "papers", Do: c.Papers}), widgets.Fill()))
	}
	return widgets.Pad(widgets.Col(look.S24, parts...), look.S32, look.S32, look.S24, look.S32)
}

// drawAnimal is the whole animal from above, as large as the room allows.
func drawAnimal(pen drawing.Pen, size fyne.Size) {
	box := body.Bounds(body.Above)
	body.Draw(drawing.Through(pen, drawing.Fit(box, float64(size.Width), float64(size.Height), 8)), body.Above, body.Options{})
}

func empty(w place.Window, c Choices) fyne.CanvasObject {
	text := w.Text()
	folder := widgets.NewField(c.Suggested, widgets.FieldOptions{Label: text.Say("window.first.folder")})
	in := func(act func(string)) func() {
		return func() {
			if folder.Text() == "" {
				folder.Refuse(text.Say("window.first.nofolder"))
				return
			}
			act(folder.Text())
		}
	}
	begin := in(c.Empty)
	folder.OnEnter = begin
	choose := widgets.Button(widgets.Plain, widgets.Act{Label: text.Say("window.first.choose"), Icon: "folder", Do: func() { w.ChooseFolder(folder.SetText) }})
	acts := []fyne.CanvasObject{widgets.Button(widgets.Primary, widgets.Act{Label: text.Say("window.first.empty.do"), Icon: "plus", Do: begin}), choose}
	if c.Bring != nil {
		acts = append(acts, widgets.Button(widgets.Plain, widgets.Act{Label: text.Say("movein.first"), Icon: "open", Do: in(c.Bring)}))
	}
	return widgets.Card(look.S24, widgets.Col(look.S12,
		widgets.Para(text.Say("window.first.empty"), look.Heading, look.Ink),
		widgets.Para(text.Say("window.first.empty.what"), look.Body, look.Soft),
		folder.Container, widgets.Fill(),
		widgets.Wrap(look.S8, acts...)))
}

func sample(w place.Window, c Choices) fyne.CanvasObject {
	text := w.Text()
	return widgets.Card(look.S24, widgets.Col(look.S12,
		widgets.Para(text.Say("window.first.sample"), look.Heading, look.Ink),
		widgets.Para(text.Say("window.first.sample.what"), look.Body, look.Soft),
		widgets.Fill(),
		widgets.Row(0, widgets.Button(widgets.Plain, widgets.Act{Label: text.Say("window.first.sample.do"), Icon: "eye", Do: c.Sample}))))
}
