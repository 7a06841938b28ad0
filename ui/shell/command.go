package shell

import (
	"errors"
	"strings"
	"time"

	"coilward/model"
	"coilward/model/collection"
	"coilward/model/positives"
	"coilward/model/wording"
	"coilward/ui/look"
	"coilward/ui/place"
	"coilward/ui/widgets"
)

// Do implements place.Window.
func (s *Shell) Do(make func(place.Answer) model.Command, done func(error)) {
	if done == nil {
		done = func(error) {}
	}
	if s.ReadOnly() {
		s.Tell(s.text.Say(s.reading().title), s.text.Say(s.reading().why))
		done(place.ErrLeft)
		return
	}
	s.attempt(make, place.Answer{}, done)
}

func (s *Shell) attempt(make func(place.Answer) model.Command, a place.Answer, done func(error)) {
	_, err := s.session.Collection.Do(positives.Asking{Tables: s.Tables(), Command: make(a), Confirmed: a.Confirmed})
	var refusal *model.Refusal
	if !errors.As(err, &refusal) {
		if err != nil && !s.parted(err, false) {
			s.Fault("window.fault.note", err)
		}
		done(err)
		return
	}
	switch refusal.Answer {
	case model.Confirm, model.Deliberate:
		s.ask(refusal, func() {
			a.Confirmed = append(a.Confirmed, refusal.Reason)
			s.attempt(make, a, done)
		}, done)
	case model.TypeAgain:
		s.askAgain(refusal, a.Again, func(again string) {
			a.Again = again
			s.attempt(make, a, done)
		}, done)
	default:
		done(refusal)
	}
}

// seen is how long a question has to be in sight before Enter says yes to it: who
// presses Enter twice has not read it.
const seen = time.Second

// ask asks whether it is so. Where Enter is not enough, the button is pressed, or reached
// with Tab.
func (s *Shell) ask(r *model.Refusal, yes func(), done func(error)) {
	var leave func()
	shown := s.o.Now()
	deliberate := r.Answer == model.Deliberate
	act := widgets.Act{Label: s.text.Say("window.ask.yes"), Key: "Enter", Do: func() { leave(); yes() }}
	if deliberate {
		act.Key = ""
	}
	leave = s.sheets.Show(widgets.Sheet{
		Steady:  func() bool { return !deliberate && s.o.Now().Sub(shown).Abs() >= seen },
		Title:   s.text.Say("window.ask.title"),
		Content: widgets.Para(s.text.Refusal(r), look.Body, look.Ink),
		Acts:    []widgets.Act{act},
		Cancel:  s.text.Say("window.ask.no"),
		OnLeave: func() { done(place.ErrLeft) },
	})
}

// askAgain asks for the value once more, so that a slip of the hand does not
// pass; before is what was typed the last time it was asked.
func (s *Shell) askAgain(r *model.Refusal, before string, typed func(string), done func(error)) {
	var leave func()
	field := widgets.NewField("", widgets.FieldOptions{Label: s.text.Say("window.again.field")})
	if before != "" {
		field.Refuse(s.text.Say("window.again.differs", wording.Gaps{"Typed": before, "Before": r.Value}))
	}
	note := func() {
		if strings.TrimSpace(field.Text()) == "" {
			return
		}
		leave()
		typed(field.Text())
	}
	field.OnEnter = note
	field.OnTyped = func(text string) {
		if text == "-" || text == "−" { // no mass begins so, and a numpad has no other key to leave by
			s.sheets.Leave()
		}
	}
	leave = s.sheets.Show(widgets.Sheet{
		Title:   s.text.Say("window.ask.title"),
		Content: widgets.Col(look.S16, widgets.Para(s.text.Refusal(r), look.Body, look.Ink), field.Container),
		Acts:    []widgets.Act{{Label: s.text.Say("window.again.note"), Key: "Enter", Do: note}},
		Cancel:  s.text.Say("window.ask.no"),
		First:   field.Focusable(),
		OnLeave: func() { done(place.ErrLeft) },
	})
}

// Undo implements place.Window.
func (s *Shell) Undo() {
	if own, ok := s.inSight().(place.Undoer); ok && !s.ReadOnly() && !s.sheets.Open() && own.Undoes() {
		return
	}
	if _, ok := s.undoable(); !ok {
		return
	}
	s.turn("window.fault.undo", (*collection.Collection).Undo)
}

// Redo implements place.Window.
func (s *Shell) Redo() { s.turn("window.fault.redo", (*collection.Collection).Redo) }

func (s *Shell) turn(tried string, act func(*collection.Collection) (collection.Change, error)) {
	if s.ReadOnly() || s.sheets.Open() {
		return
	}
	if _, err := act(s.session.Collection); err != nil && !errors.Is(err, collection.ErrNothing) && !s.parted(err, false) {
		s.Fault(tried, err)
	}
}
