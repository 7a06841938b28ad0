package jotting

import (
	"fyne.io/fyne/v2"

	"coilward/model/wording"
	"coilward/ui/look"
	"coilward/ui/place"
	"coilward/ui/widgets"
)

// Examples are lines with animals of those names, one for each thing that can be
// noted.
func Examples(t *wording.Text, name, other string) []string {
	var lines []string
	for _, key := range []string{"jot.guide.example.weight", "jot.guide.example.meal", "jot.guide.example.refused", "jot.guide.example.shed",
		"jot.guide.example.waste", "jot.guide.example.mites", "jot.guide.example.note", "jot.guide.example.question"} {
		lines = append(lines, t.Say(key, wording.Gaps{"Name": name, "Other": other}))
	}
	return lines
}

// Guide shows how lines are written, with lines about the animals that are here.
func (l *Line) Guide() {
	t := l.window.Text()
	var parts []fyne.CanvasObject
	for _, key := range []string{"jot.guide.whom", "jot.guide.what", "jot.guide.when", "jot.guide.note", "jot.guide.question", "jot.guide.open"} {
		parts = append(parts, widgets.Para(t.Say(key), look.Body, look.Ink))
	}
	examples := []fyne.CanvasObject{widgets.Line(t.Say("jot.guide.try"), look.NoteBold, look.Soft)}
	if l.knows() {
		for _, line := range l.examples() {
			examples = append(examples, l.example(line))
		}
	}
	l.window.ShowSheet(widgets.Sheet{Title: t.Say("jot.guide"), Width: 720, Height: 620, Cancel: t.Say("window.close"),
		Content: widgets.Scroll(widgets.Pad(widgets.Col(look.S16, widgets.Col(look.S8, examples...), widgets.Col(look.S8, parts...)), 0, look.S16, 0, 0)),
		OnLeave: func() { l.window.Focus(l.Focusable()) }})
}

// examples are lines about the first animals that are here; where there are none,
// about two who might be.
func (l *Line) examples() []string {
	names := append(append([]string(nil), l.folk.first...), "Kestrel", "Brook")
	if len(l.folk.first) == 1 {
		names = names[:2]
	}
	return Examples(l.window.Text(), names[0], names[1])
}

// example is a line, and below it what it is read as.
func (l *Line) example(line string) fyne.CanvasObject {
	now := l.window.Now()
	parts := []fyne.CanvasObject{widgets.Para(line, look.BodyBold, look.Ink)}
	if a := l.window.Lexicon().Read(line, l.folk.names, l.window.Text(), now); len(a.Readings) == 1 {
		parts = append(parts, widgets.Para(sentence(l.window.Text(), a.Readings[0], l.folk.names, now), look.Note, look.Soft))
	}
	return widgets.Col(0, parts...)
}

// Open lays a line on a sheet over the page, with the text that was left in one
// before. left is told what stands in it when it goes; what was noted is gone.
func Open(w place.Window, text string, left func(text string)) {
	t := w.Text()
	l := New(w)
	examples := widgets.Col(look.S4, widgets.Line(t.Say("jot.guide.try"), look.NoteBold, look.Soft))
	if l.knows() {
		for _, line := range l.examples() {
			examples.Add(widgets.Line(line, look.Note, look.Soft).Cuts())
		}
	}
	page := widgets.Col(look.S12, l.Field, l.Below, examples)
	l.OnSaid = func() {
		if l.Text() == "" {
			examples.Show()
		} else {
			examples.Hide()
		}
		page.Refresh()
	}
	var leave func()
	l.OnNoted = func() { leave(); left("") }
	leave = w.ShowSheet(widgets.Sheet{Title: t.Say("jot.caption"), Width: 640, Height: 400, Content: widgets.Scroll(page), First: l.Focusable(),
		Acts: []widgets.Act{{Label: t.Say("window.again.note"), Key: "Enter", Do: l.Enter}}, Cancel: t.Say("window.cancel"), OnLeave: func() { left(l.Text()) }})
	l.SetText(text)
}
