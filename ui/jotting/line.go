package jotting

import (
	"errors"
	"strings"

	"fyne.io/fyne/v2"

	"coilward/model"
	"coilward/model/care"
	"coilward/model/jot"
	"coilward/ui/look"
	"coilward/ui/place"
	"coilward/ui/widgets"
)

// Line is the line and what stands below it. With one reading Enter notes it. Of
// several Enter asks which: its number, the arrows or the pointer choose. What is
// typed stays until it was noted. What was noted, and how to take it back, stands in
// the window's bar, as for every other entry.
type Line struct {
	Field *fyne.Container // the line itself
	Below *fyne.Container // what is said of it; hidden where that is nothing
	// OnNoted is called when a line was noted, OnSaid when what stands below it has
	// changed.
	OnNoted, OnSaid func()

	window place.Window
	field  *widgets.Field
	which  *which // asks which of several is meant; nil: there are not several

	folk   *folk // nil: to be read
	answer jot.Answer
	now    model.Moment // when it was read
	noted  bool         // what was typed last was noted, and nothing was since
}

// New makes an empty line.
func New(w place.Window) *Line {
	t := w.Text()
	l := &Line{window: w, field: widgets.NewField("", widgets.FieldOptions{Hint: t.Say("jot.hint"), Icon: "note"})}
	l.field.OnTyped = func(string) { l.noted = false; l.read(); l.show(false) }
	l.field.OnEnter = l.Enter
	guide := widgets.NewPress(t.Say("jot.guide"), widgets.Fix(36, 36, widgets.Middle(widgets.Line("?", look.BodyBold, look.Accent))), guideGround, l.Guide)
	l.Field, l.Below = widgets.Row(look.S8, widgets.Grow(l.field.Container), guide), widgets.Col(look.S4)
	l.Below.Hide()
	return l
}

// mostProblems is how many problems of a line are named.
const mostProblems = 4

func guideGround(s widgets.State) widgets.Ground {
	g := widgets.Ground{Fill: look.Sheet, Line: look.Edge, Width: 1, Radius: look.RBase}
	if s.Pointed {
		g.Fill = look.Wash
	}
	return g
}

// Text is what stands in the line.
func (l *Line) Text() string { return l.field.Text() }

// SetText puts a text into the line, and reads it.
func (l *Line) SetText(text string) {
	l.field.SetText(text)
	l.read()
	l.show(false)
}

// Focusable is what takes the keys.
func (l *Line) Focusable() fyne.Focusable { return l.field.Focusable() }

// HasKeys tells whether what is typed now goes to the line, or to its question.
func (l *Line) HasKeys() bool {
	c := fyne.CurrentApp().Driver().CanvasForObject(l.Field)
	if c == nil || c.Focused() == nil {
		return false
	}
	return c.Focused() == l.Focusable() || l.which != nil && l.which.focused
}

// Noted tells whether f is the line, and nothing was typed in it since a line was
// noted.
func (l *Line) Noted(f fyne.Focusable) bool { return l.noted && f == l.Focusable() }

// Changed tells that the collection has changed: who is here is read again before
// the line is.
func (l *Line) Changed() {
	l.folk = nil
	if l.field.Text() == "" {
		return
	}
	asking := l.which != nil && l.which.focused
	l.read()
	l.show(false)
	if asking {
		l.window.Focus(l.Focusable())
	}
}

// read reads the line with those who are here.
func (l *Line) read() {
	l.answer, l.now = jot.Answer{}, l.window.Now()
	if strings.TrimSpace(l.field.Text()) == "" || !l.knows() {
		return
	}
	l.answer = l.window.Lexicon().Read(l.field.Text(), l.folk.names, l.window.Text(), l.now)
}

// knows reads who is here, where that is out of date.
func (l *Line) knows() bool {
	if l.folk != nil {
		return true
	}
	err := l.window.Collection().View(func(v model.View) (err error) {
		l.folk, err = readFolk(v, l.window.Now())
		return err
	})
	if err != nil {
		l.window.Fault("jot.fault", err)
	}
	return err == nil
}

// show says below the line what it is read as. Before Enter was pressed a line that
// cannot be noted may just not be finished: that is said softly.
func (l *Line) show(entered bool) {
	t := l.window.Text()
	var parts []fyne.CanvasObject
	l.which = nil
	switch n := len(l.answer.Readings); {
	case n == 1:
		parts = append(parts, row("Enter", l.say(l.answer.Readings[0]), func() { l.note(l.answer.Readings[0]) }))
	case n > 1:
		l.which = newWhich(l)
		parts = append(parts, widgets.Para(t.Say("jot.which"), look.Note, look.Soft), l.which)
	}
	tone, sign := look.Soft, look.Faint
	if entered {
		tone, sign = look.Ink, look.Days
	}
	for _, p := range l.answer.Problems[:min(mostProblems, len(l.answer.Problems))] { // in the order of the line
		parts = append(parts, widgets.Pad(widgets.RowTop(look.S8, widgets.NewIcon("caution", 16, sign), widgets.Grow(widgets.Para(why(t, p), look.Note, tone))), look.S4, look.S8))
	}
	if rest := len(l.answer.Problems) - mostProblems; rest > 0 {
		parts = append(parts, widgets.Pad(widgets.Line(t.Count("jot.problems.more", rest), look.Note, tone), 0, look.S8))
	}
	if l.live() {
		parts = append(parts, widgets.Caution(t.Say("care.meal.live.caution")))
	}
	l.field.Settle()
	l.Below.Objects = parts
	if len(parts) == 0 {
		l.Below.Hide()
	} else {
		l.Below.Show()
	}
	l.said()
}

func (l *Line) said() {
	l.Below.Refresh()
	if l.OnSaid != nil {
		l.OnSaid()
	}
}

// say is what a reading says.
func (l *Line) say(r jot.Reading) string {
	return sentence(l.window.Text(), r, l.folk.names, l.now)
}

// live tells whether the line may speak of live prey.
func (l *Line) live() bool {
	for _, r := range l.answer.Readings {
		if m, ok := r.Body.(care.Meal); ok && m.State == care.Live {
			return true
		}
	}
	return false
}

// row is one reading with the key that takes it.
func row(key, said string, tap func()) *widgets.Press {
	content := widgets.Row(look.S8, widgets.KeyCap(key), widgets.Grow(widgets.Para(said, look.Body, look.Ink)))
	return widgets.NewPress(said, widgets.Pad(content, look.S4, look.S8), func(s widgets.State) widgets.Ground {
		switch {
		case s.On:
			return widgets.Ground{Fill: look.Wash, Line: look.Accent, Width: 2, Radius: look.RBase}
		case s.Pointed:
			return widgets.Ground{Fill: look.Well, Radius: look.RBase}
		}
		return widgets.Ground{Radius: look.RBase}
	}, tap)
}

// Enter notes the line where it can be one thing alone; of several it asks which,
// and of none it says why.
func (l *Line) Enter() {
	l.read() // it is noted as of now
	l.show(true)
	switch len(l.answer.Readings) {
	case 0:
	case 1:
		l.note(l.answer.Readings[0])
	default:
		l.window.Focus(l.which)
	}
}

// note notes a reading.
func (l *Line) note(r jot.Reading) {
	l.window.Do(func(a place.Answer) model.Command { return r.Command(l.asked(r, a)) }, func(err error) {
		var refusal *model.Refusal
		switch {
		case err == nil:
			l.done()
		case errors.As(err, &refusal):
			l.window.Focus(l.Focusable())
			l.field.Refuse(l.window.Text().Refusal(refusal))
			l.said()
		default:
			l.window.Focus(l.Focusable())
		}
	})
}

func (l *Line) asked(r jot.Reading, a place.Answer) jot.Asked {
	asked := jot.Asked{By: l.window.By(), Tables: l.window.Tables(), Confirmed: a.Confirmed, Heaviest: func(id model.AnimalID) model.Mass {
		return l.window.Tables().Heaviest(l.folk.species[id])
	}}
	if a.Again != "" {
		asked.Again, _ = l.window.Text().ParseMass(a.Again) // what is no mass is asked for again
	}
	return asked
}

func (l *Line) done() {
	l.noted = true
	l.field.SetText("")
	l.read()
	l.show(false)
	l.window.Focus(l.Focusable())
	if l.OnNoted != nil {
		l.OnNoted()
	}
}
