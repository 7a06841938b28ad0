package widgets

import (
	"fyne.io/fyne/v2"

	"coilward/ui/look"
)

// Urgency is a step of urgency. It is never told by its colour alone: each has
// a word (from the caller), a mark of its own outline and a colour.
type Urgency uint8

// The steps, the lightest first.
const (
	SeenOften      Urgency = iota // a page with a tick: seen often, no action
	LookAgain                     // a clock
	VetWithinDays                 // a diamond
	EmergencyToday                // a triangle
)

// Sign is the name of the step's mark.
func (u Urgency) Sign() string { return [...]string{"often!", "again!", "days!", "today!"}[u] }

// Tone is the step's tone, and Ground the soft ground under it.
func (u Urgency) Tone() look.Tone {
	return [...]look.Tone{look.Often, look.Again, look.Days, look.Today}[u]
}

// Ground is the soft ground under the step's tone.
func (u Urgency) Ground() look.Tone {
	return [...]look.Tone{look.OftenBg, look.AgainBg, look.DaysBg, look.TodayBg}[u]
}

// Mark is a standing sign: icon and words on a soft ground.
func Mark(icon, label string, tone, ground look.Tone) *fyne.Container {
	return Fix(0, 28, Filled(ground, 14), Pad(Row(6, NewSign(icon, 14, tone, ground), Line(label, look.Note, look.Ink)), 0, look.S12, 0, 10))
}

// Step is a step of urgency as a small sign: mark and word.
func Step(u Urgency, word string) *fyne.Container {
	return Mark(u.Sign(), word, u.Tone(), u.Ground())
}

// Caution is a warning as a panel: sign and sentence, as wide as its place.
func Caution(sentence string) *fyne.Container {
	return Tinted(look.DaysBg, look.S12, look.S12, RowTop(look.S8, Pad(NewIcon("caution", 18, look.Days), 1, 0), Grow(Para(sentence, look.Body, look.Ink))))
}

// Grade shows how bad something is, 1 slight, 2 marked, 3 severe, as rising
// steps, so that it needs no colour.
func Grade(n int) *fyne.Container {
	var steps []fyne.CanvasObject
	for i := 1; i <= 3; i++ {
		g := Ground{Fill: look.Accent, Radius: 1}
		if i > n {
			g = Ground{Fill: look.Sheet, Line: look.Accent, Width: 1, Radius: 1}
		}
		steps = append(steps, Col(0, Space(4, 14-float32(i)*4), Fix(4, float32(i)*4+2, NewBox(g))))
	}
	return Fix(16, 16, RowTop(2, steps...))
}

// PinKind tells when a finding was noted.
type PinKind uint8

// The kinds of pin, told by shape.
const (
	PinNow     PinKind = iota // filled: noted now
	PinEarlier                // dashed ring: open from earlier
	PinGone                   // struck ring: gone
)

// Pin is the sign of a finding in lists, as on the drawing; number may be empty.
func Pin(number string, kind PinKind) *fyne.Container {
	switch kind {
	case PinEarlier:
		return Fix(20, 20, NewSign("ghost!", 20, look.Ink, look.Sheet), MiddleUpright(Line(number, look.NoteBold, look.Ink).Centred()))
	case PinGone:
		return Fix(20, 20, NewSign("gone!", 20, look.Faint, look.Sheet))
	}
	return Fix(20, 20, NewSign("dot!", 20, look.Ink, look.Sheet), MiddleUpright(Line(number, look.NoteBold, look.Paper).Centred()))
}

// Finding is a large button for something that can be seen: key, words, and,
// when chosen, how bad as filled steps (grade 1 to 3; 0 not chosen). A finding
// that is chosen but has no grade has grade −1.
func Finding(key, label string, grade int, tap func()) *Press {
	on := grade != 0
	kind, sign := look.Body, KeyCap(key)
	if on {
		kind, sign = look.BodyBold, keyCap(key, look.OnAccent, look.Accent, look.Accent)
	}
	row := []fyne.CanvasObject{sign, Grow(Para(label, kind, look.Ink))}
	if grade > 0 {
		row = append(row, Grade(grade))
	}
	p := NewPress(label, MiddleUpright(Pad(Row(look.S8, row...), look.S4, look.S12)), func(s State) Ground {
		g := Ground{Fill: look.Sheet, Line: look.Edge, Width: 1, Radius: look.RBase}
		switch {
		case s.On:
			g.Fill, g.Line, g.Width = look.Wash, look.Accent, 2
		case s.Pointed:
			g.Fill = look.Wash
		}
		return g
	}, tap)
	p.state.On = on
	return p
}

// StopState tells how a stop of a walk stands.
type StopState uint8

// The states of a stop, told by shape.
const (
	StopAhead   StopState = iota // ring
	StopClear                    // tick
	StopFinding                  // disc with the number of findings
	StopLeft                     // struck ring: not looked, or left to the vet
)

// Stop is one row of a walk: a mark, the name, and what is said about it; here
// marks the stop that one stands at. number is shown for StopFinding. Without a
// name it is the mark alone.
func Stop(label, detail, number string, state StopState, here bool, tap func()) *Press {
	tone, kind := look.Soft, look.Body
	sign := NewSign("ring!", 18, look.Edge, look.Paper)
	switch state {
	case StopClear:
		sign, tone = NewSign("clear!", 18, look.Accent, look.OnAccent), look.Ink
	case StopFinding:
		sign, tone = NewSign("dot!", 18, look.Ink, look.Paper), look.Ink
	case StopLeft:
		sign = NewSign("left!", 18, look.Soft, look.Paper)
	}
	mark := Fix(18, 18, sign)
	if state == StopFinding {
		mark.Add(MiddleUpright(Line(number, look.NoteBold, look.Paper).Centred()))
	}
	if here {
		tone, kind = look.Ink, look.BodyBold
		if state == StopAhead {
			mark = Fix(18, 18, NewSign("now!", 18, look.Accent, look.Sheet))
		}
	}
	row := Row(look.S12, mark, Grow(Line(label, kind, tone).Cuts()), Line(detail, look.Note, look.Soft))
	if label == "" {
		row = Row(0, mark)
	}
	p := NewPress(label, Fix(0, 32, MiddleUpright(Pad(row, 0, look.S8))), func(s State) Ground {
		if s.On {
			return Ground{Fill: look.Sheet, Line: look.Hair, Width: 1, Radius: look.RBase}
		}
		return quietGround(s)
	}, tap)
	p.state.On = here
	return p
}
