package widgets

import (
	"fyne.io/fyne/v2"

	"coilward/ui/look"
)

// Rank orders buttons: one Primary to a page, any number of Plain and Quiet.
type Rank uint8

// The ranks.
const (
	Plain Rank = iota
	Primary
	Quiet
)

// KeyCap shows the key that does the same; "Enter" is drawn as its sign.
func KeyCap(key string) *fyne.Container { return keyCap(key, look.Soft, look.Well, look.Hair) }

func keyCap(key string, tone, fill, line look.Tone) *fyne.Container {
	ground := NewBox(Ground{Fill: fill, Line: line, Width: 1, Radius: look.RSmall})
	if key == "Enter" {
		return Fix(24, 20, ground, Middle(NewIcon("enter", 16, tone)))
	}
	label := Line(key, look.Note, tone).Centred()
	return Fix(max(20, label.minWidth()+12), 20, ground, MiddleUpright(label))
}

// Act is what a button does: words, and optionally an icon and the key that
// does the same.
type Act struct {
	Label, Icon, Key string
	Do               func()
}

// Button makes a button of 36 px.
func Button(rank Rank, act Act) *Press {
	tone, kind := look.Ink, look.Body
	switch rank {
	case Primary:
		tone, kind = look.OnAccent, look.BodyBold
	case Quiet:
		tone, kind = look.Accent, look.BodyBold
	}
	var parts []fyne.CanvasObject
	var toned []interface{ SetTone(look.Tone) }
	if act.Icon != "" {
		icon := NewIcon(act.Icon, 18, tone)
		parts, toned = append(parts, icon), append(toned, icon)
	}
	if act.Label != "" {
		words := Line(act.Label, kind, tone)
		parts, toned = append(parts, words), append(toned, words)
	}
	on, off := actKey(rank, act.Key), KeyCap(act.Key)
	if act.Key != "" {
		parts = append(parts, Stack(on, off))
	}
	side := look.S12
	if act.Label != "" && rank == Plain {
		side = look.S16
	}
	content := Fix(0, 36, Middle(Pad(Row(look.S8, parts...), 0, side)))
	p := NewPress(act.Label, content, func(s State) Ground { return buttonGround(rank, s) }, act.Do)
	p.dress = func(s State) {
		tone := tone
		if s.Off {
			tone = look.Soft // what cannot be pressed is read all the same
		}
		for _, part := range toned {
			part.SetTone(tone)
		}
		on.Hidden, off.Hidden = s.Off, !s.Off
	}
	return p
}

func actKey(rank Rank, key string) *fyne.Container {
	if rank == Primary {
		return keyCap(key, look.OnAccent, look.Accent, look.OnAccent)
	}
	return KeyCap(key)
}

func buttonGround(rank Rank, s State) Ground {
	g := Ground{Fill: look.Sheet, Radius: look.RBase}
	switch {
	case s.Off:
		g.Fill = look.Well
	case rank == Primary:
		g.Fill = look.Accent
	case s.Pointed:
		g.Fill = look.Wash
	case rank == Quiet:
		g.Fill = look.Clear
	}
	switch {
	case s.Off && rank == Primary:
		g.Line, g.Width = look.Hair, 1
	case rank == Plain:
		g.Line, g.Width = look.Edge, 1
	}
	return g
}

// Big is a button of 48 px, for the answer that a page waits for.
func Big(p *Press) *fyne.Container { return Fix(0, 48, p) }

// Chip is a filter: off is an outline, on is filled and carries a tick, in the place
// of its icon or before its words. It is as wide either way, so that what stands
// beside it stays where it is.
func Chip(icon, label string, on bool, tap func()) *Press {
	word := Line(label, look.Note, look.Soft)
	var sign *Icon
	var content fyne.CanvasObject
	if icon != "" {
		sign = NewIcon(icon, 16, look.Soft)
		content = Fix(0, 28, Middle(Pad(Row(look.S4, sign, word), 0, look.S12)))
	} else {
		const tick, edge, before = 10, 7, 19
		sign = NewIcon("tick", tick, look.Ink)
		content = Fix(0, 28, Middle(Pad(word, 0, before)), MiddleUpright(Pad(Row(0, Fix(tick, tick, sign), Fill()), 0, edge)))
	}
	p := NewPress(label, content, func(s State) Ground {
		g := Ground{Fill: look.Paper, Line: look.Edge, Width: 1, Radius: 14}
		switch {
		case s.On:
			g.Fill, g.Line = look.Wash, look.Accent
		case s.Pointed:
			g.Fill = look.Well
		}
		return g
	}, tap)
	p.dress = func(s State) {
		tone, name := look.Soft, icon
		if s.On {
			tone, name = look.Ink, "tick"
		}
		word.SetTone(tone)
		if icon != "" {
			sign.SetName(name)
			sign.SetTone(tone)
			return
		}
		sign.Hidden = !s.On
	}
	p.state.On = on
	p.dress(p.state)
	return p
}

// Choice is one part of Segments, or one row of a ChoiceList.
type Choice struct{ Icon, Label, Detail string }

// Segments is a choice of few, all in sight: one track, the chosen part raised
// on it. chosen −1 is none. After a pick the owner builds it anew or calls Set.
type Segments struct {
	*fyne.Container
	parts []*Press
	words []*Text
	small bool
	pick  func(int)
}

// NewSegments makes the choice, height px high.
func NewSegments(height float32, chosen int, pick func(int), choices ...Choice) *Segments {
	s := &Segments{pick: pick, small: height < 34}
	var parts []fyne.CanvasObject
	for i, c := range choices {
		parts = append(parts, s.part(i, height-6, c))
	}
	s.Container = Fix(0, height, Filled(look.Well, look.RBase), Pad(Cells(len(parts), 2, height-6, parts...), 3))
	s.Set(chosen)
	return s
}

func (s *Segments) part(i int, height float32, c Choice) *Press {
	var in []fyne.CanvasObject
	if c.Icon != "" {
		in = append(in, NewIcon(c.Icon, 16, look.Soft))
	}
	word := Line(c.Label, look.BodyBold, look.Soft)
	if s.small {
		word.kind = look.NoteBold
	}
	s.words = append(s.words, word)
	content := Fix(0, height, Middle(Pad(Row(look.S4, append(in, word)...), 0, look.S8)))
	p := NewPress(c.Label, content, segmentGround, func() {
		s.Set(i)
		if s.pick != nil {
			s.pick(i)
		}
	})
	s.parts = append(s.parts, p)
	return p
}

func segmentGround(s State) Ground {
	g := Ground{Radius: look.RBase - 2}
	switch {
	case s.On:
		g.Fill, g.Line, g.Width = look.Sheet, look.Edge, 1
	case s.Pointed:
		g.Fill = look.Wash
	}
	return g
}

// Set shows another part as the chosen one; −1 is none.
func (s *Segments) Set(chosen int) {
	for i, p := range s.parts {
		tone := look.Soft
		if i == chosen {
			tone = look.Ink
		}
		s.words[i].SetTone(tone)
		p.SetOn(i == chosen)
	}
}

// Tab is one page of several: words, and a bar under the one that is open.
func Tab(label, count string, on bool, tap func()) *Press {
	tone, kind, bar := look.Soft, look.Body, look.Clear
	if on {
		tone, kind, bar = look.Ink, look.BodyBold, look.Accent
	}
	in := []fyne.CanvasObject{Line(label, kind, tone)}
	if count != "" {
		in = append(in, Fix(0, 18, Filled(look.Well, 9), Pad(Line(count, look.Note, look.Soft), 1, 6)))
	}
	content := Fix(0, 40, Col(0, Grow(Middle(Row(6, in...))), Fix(0, 3, Filled(bar, 1.5))))
	p := NewPress(label, content, quietGround, tap)
	p.state.On = on
	return p
}

// quietGround is of rows and tabs: nothing at rest, sunk under the pointer.
func quietGround(s State) Ground {
	if s.Pointed && !s.On && !s.Off {
		return Ground{Fill: look.Well, Radius: look.RBase}
	}
	return Ground{Radius: look.RBase}
}

// CheckRow is a line that can be ticked: box, words, what stands at its end.
func CheckRow(on bool, title, detail, end string, tap func(on bool)) *Press {
	return markedRow(checkBox(on), title, detail, end, func() {
		if tap != nil {
			tap(!on)
		}
	})
}

// Tick is a row that is ticked or not and stays where it is when that changes: of a list in
// which one row after the other is pressed.
type Tick struct {
	Row  *Press
	on   bool
	box  *Box
	mark *Icon
}

// NewTick makes such a row; turned is called when it was pressed.
func NewTick(on bool, title, end string, turned func(on bool)) *Tick {
	t := &Tick{on: on, box: NewBox(Ground{}), mark: NewIcon("tick", 16, look.OnAccent)}
	t.Row = markedRow(Fix(20, 20, t.box, Middle(t.mark)), title, "", end, func() {
		t.Turn(!t.on)
		turned(t.on)
	})
	t.Turn(on)
	return t
}

// On reports whether it is ticked.
func (t *Tick) On() bool { return t.on }

// Turn ticks it or takes the tick away.
func (t *Tick) Turn(on bool) {
	t.on = on
	if on {
		t.box.SetGround(Ground{Fill: look.Accent, Radius: look.RSmall})
		t.mark.Show()
		return
	}
	t.box.SetGround(Ground{Fill: look.Sheet, Line: look.Edge, Width: 1, Radius: look.RSmall})
	t.mark.Hide()
}

// OneRow is a row of several of which one is chosen: its mark is round, as that of one
// that is ticked beside others is square. Pressing the chosen one changes nothing.
func OneRow(on bool, title, detail, end string, choose func()) *Press {
	return markedRow(oneMark(on), title, detail, end, func() {
		if !on {
			choose()
		}
	})
}

func markedRow(mark fyne.CanvasObject, title, detail, end string, tap func()) *Press {
	words := []fyne.CanvasObject{Para(title, look.Body, look.Ink)}
	if detail != "" {
		words = append(words, Para(detail, look.Note, look.Soft))
	}
	row := []fyne.CanvasObject{mark, Grow(Col(0, words...))}
	if end != "" {
		row = append(row, Line(end, look.Note, look.Ink))
	}
	line := Row(look.S12, row...)
	if detail != "" { // the mark stands beside the title, not in the middle of what is said of it
		line = RowTop(look.S12, row...)
	}
	return NewPress(title, Pad(line, look.S8, look.S12), quietGround, tap)
}

func checkBox(on bool) fyne.CanvasObject {
	if on {
		return Fix(20, 20, Filled(look.Accent, look.RSmall), Middle(NewIcon("tick", 16, look.OnAccent)))
	}
	return Fix(20, 20, NewBox(Ground{Fill: look.Sheet, Line: look.Edge, Width: 1, Radius: look.RSmall}))
}

func oneMark(on bool) fyne.CanvasObject {
	if on {
		return Fix(20, 20, NewBox(Ground{Fill: look.Sheet, Line: look.Accent, Width: 2, Radius: 10}), Middle(Fix(10, 10, Filled(look.Accent, 5))))
	}
	return Fix(20, 20, NewBox(Ground{Fill: look.Sheet, Line: look.Edge, Width: 1, Radius: 10}))
}

// RowPress is a row of a list that can be pressed, with its own content.
func RowPress(name string, content fyne.CanvasObject, tap func()) *Press {
	return NewPress(name, content, quietGround, tap)
}
