package shelfview

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"coilward/ui/look"
	"coilward/ui/widgets"
)

// View is the shelf. Arrows move from box to box, Enter and a tap open one, a
// drag moves who lies in it; every other key goes to the page. Only the lines in
// sight exist.
type View struct {
	widget.BaseWidget

	// OnOpen is called with the box that was tapped or entered.
	OnOpen func(at At)
	// OnCurrent is called when another box became the current one by arrow.
	OnCurrent func(at At)
	// OnMove is called with the box that was dragged, and where it was let go.
	OnMove func(from, to At)

	rows    []Row
	words   Words
	size    fyne.Size
	plan    plan
	current At
	focused bool
	walk    bool
	needs   float32 // height of the box that one walks to
	aim     bool    // the current box is a target, such as of a move
	pointed *At
	drag    *drag

	kept         kept
	scroll       *container.Scroll
	floor        *floor
	strips       map[int]*strip // by line
	way          []leg          // of a walk that shows it
	spare        []*strip
	panel, below fyne.CanvasObject
}

// drag is a box on its way.
type drag struct {
	from At
	at   fyne.Position
	to   *At
}

// New is an empty shelf.
func New(words Words) *View {
	v := &View{words: words, strips: map[int]*strip{}}
	v.floor = newFloor(v)
	v.scroll = container.NewVScroll(v.floor)
	v.scroll.OnScrolled = func(fyne.Position) { v.sight() }
	v.ExtendBaseWidget(v)
	return v
}

// Set shows the rows. The current box stays, if it is still there.
func (v *View) Set(rows []Row) {
	v.rows, v.way = rows, legs(rows)
	v.pointed, v.drag = nil, nil
	v.clamp()
	v.arrange()
}

func (v *View) clamp() {
	v.current.Row = max(0, min(v.current.Row, len(v.rows)-1))
	if v.current.Row < len(v.rows) {
		v.current.Box = max(0, min(v.current.Box, len(v.rows[v.current.Row].Boxes)-1))
	}
}

// Walk lets the current box grow: panel stands in it, below hangs from the board
// under it. Rest ends that.
func (v *View) Walk(at At, panel, below fyne.CanvasObject) {
	v.walk, v.current, v.panel, v.below = true, at, panel, below
	v.clamp()
	v.scroll.Offset = fyne.Position{}
	v.arrange()
}

// Rest shows all boxes alike.
func (v *View) Rest() {
	if !v.walk {
		return
	}
	v.walk, v.panel, v.below = false, nil, nil
	v.arrange()
	v.reveal()
}

// Aim marks the current box as a target, in the lamp's colours; false ends that.
func (v *View) Aim(on bool) {
	v.aim = on
	v.floor.Refresh()
}

// Current is the box that the keys are at.
func (v *View) Current() At { return v.current }

// SetCurrent moves the keys to a box and brings it into sight.
func (v *View) SetCurrent(at At) {
	v.current = at
	v.clamp()
	v.reveal()
	v.floor.Refresh()
}

// Box is the box at a place; false where there is none.
func (v *View) Box(at At) (Box, bool) {
	if at.Row < 0 || at.Row >= len(v.rows) || at.Box < 0 || at.Box >= len(v.rows[at.Row].Boxes) {
		return Box{}, false
	}
	return v.rows[at.Row].Boxes[at.Box], true
}

// PlaceOf is where a box stands in the view; false where it is not shown.
func (v *View) PlaceOf(at At) (pos fyne.Position, size fyne.Size, ok bool) {
	c, _, ok := v.plan.find(at)
	return fyne.NewPos(c.x, c.y-v.scroll.Offset.Y), fyne.NewSize(c.w, c.h), ok
}

// Need is how high the panel must be in the box that one walks to, for all of it to be seen:
// the other shelves make room for it. 0: as high as any.
func (v *View) Need(height float32) {
	v.needs = 0
	if height > 0 {
		v.needs = height + bedding
	}
}

// MostNeed is the most that can be needed, with every other shelf left out.
func (v *View) MostNeed() float32 { return v.room()[1] - 2*moreH - 10 - platesH - bedding }

// LitSize is how large the panel in the box would be that one walks to, in the
// size the view has.
func (v *View) LitSize(at At) fyne.Size {
	p := arrange(v.rows, v.room(), v.gutter(), focus{at: at, walk: true, needs: v.needs})
	c, _, ok := p.find(at)
	if !ok {
		return fyne.NewSize(600, leastLit-bedding)
	}
	return fyne.NewSize(c.w, c.h-bedding)
}

// bedding is its height in the current box of a walk; the panel stands above it.
const bedding = 37

// room is what the picture may fill.
func (v *View) room() [2]float32 {
	return [2]float32{v.size.Width - look.S12, v.size.Height - look.S4}
}

// arrange lays everything out anew.
func (v *View) arrange() {
	if v.size.Width <= 0 || v.size.Height <= 0 {
		return
	}
	v.plan = arrange(v.rows, v.room(), v.gutter(), focus{at: v.current, walk: v.walk, needs: v.needs})
	v.floor.Resize(fyne.NewSize(v.size.Width, max(v.plan.height, v.size.Height)))
	v.scroll.Refresh()
	v.sight()
	v.furnish()
}

// gutter is what the names at the left need.
func (v *View) gutter() float32 {
	var w float32
	for _, r := range v.rows {
		w = max(w, look.Name.Width(r.Room), look.Note.Width(r.Name))
	}
	return round(max(64, min(w+24, 160)))
}

// sight makes the lines in sight, and keeps the others for later.
func (v *View) sight() {
	top, bottom := v.scroll.Offset.Y, v.scroll.Offset.Y+v.size.Height
	seen := func(l line) bool { return l.y+l.height+beneath > top && l.y-above < bottom }
	for i, s := range v.strips {
		if i >= len(v.plan.lines) || !seen(v.plan.lines[i]) {
			delete(v.strips, i)
			v.spare = append(v.spare, s)
		}
	}
	for i, l := range v.plan.lines {
		if !seen(l) {
			continue
		}
		s, ok := v.strips[i]
		if !ok {
			if n := len(v.spare); n > 0 {
				s, v.spare = v.spare[n-1], v.spare[:n-1]
			} else {
				s = newStrip(v)
			}
			v.strips[i] = s
		}
		s.set(l, v.rows[l.row], v.size.Width, v.way)
	}
	v.floor.Refresh()
}

// furnish puts the panel into the current box and what hangs below it under the
// board.
func (v *View) furnish() {
	if v.panel == nil {
		return
	}
	c, l, ok := v.plan.find(v.current)
	if !ok {
		return
	}
	v.panel.Move(fyne.NewPos(c.x+3, c.y+3))
	v.panel.Resize(fyne.NewSize(c.w-6, c.h-bedding))
	if v.below != nil {
		v.below.Move(fyne.NewPos(c.x, l.tagY))
		v.below.Resize(fyne.NewSize(c.w, platesH-8))
	}
	v.floor.Refresh()
}

// reveal scrolls the current box into sight.
func (v *View) reveal() {
	_, l, ok := v.plan.find(v.current)
	if !ok || v.walk {
		return
	}
	switch {
	case l.y < v.scroll.Offset.Y:
		v.scrollTo(l.y)
	case l.y+l.height > v.scroll.Offset.Y+v.size.Height:
		v.scrollTo(l.y + l.height - v.size.Height + look.S4)
	}
}

func (v *View) scrollTo(y float32) {
	v.scroll.Offset.Y = max(0, min(y, v.floor.Size().Height-v.size.Height))
	v.scroll.Refresh()
	v.sight()
}

// open tells of a box.
func (v *View) open(at At) {
	if v.OnOpen != nil {
		v.OnOpen(at)
	}
}

// Open is as if the box was tapped.
func (v *View) Open(at At) {
	v.SetCurrent(at)
	v.open(at)
}

// TypedKey implements fyne.Focusable.
func (v *View) TypedKey(k *fyne.KeyEvent) {
	dx, dy := 0, 0
	switch k.Name {
	case fyne.KeyLeft:
		dx = -1
	case fyne.KeyRight:
		dx = 1
	case fyne.KeyUp:
		dy = -1
	case fyne.KeyDown:
		dy = 1
	case fyne.KeyHome:
		v.move(At{})
		return
	case fyne.KeyEnd:
		v.move(At{len(v.rows) - 1, 1 << 30})
		return
	case fyne.KeyPageDown, fyne.KeyPageUp:
		v.page(k.Name == fyne.KeyPageDown)
		return
	}
	if dx == 0 && dy == 0 || v.walk {
		if c := v.canvas(); c != nil && c.OnTypedKey() != nil {
			c.OnTypedKey()(k)
		}
		return
	}
	v.move(v.plan.step(v.current, dx, dy))
}

func (v *View) move(to At) {
	v.SetCurrent(to)
	if v.OnCurrent != nil {
		v.OnCurrent(v.current)
	}
}

// page moves by what is in sight.
func (v *View) page(down bool) {
	by := -1
	if down {
		by = 1
	}
	at := v.current
	for range max(1, len(v.strips)-1) {
		at = v.plan.step(at, 0, by)
	}
	v.move(at)
}

// TypedRune implements fyne.Focusable: letters and figures go to the page.
func (v *View) TypedRune(r rune) {
	if c := v.canvas(); c != nil && c.OnTypedRune() != nil {
		c.OnTypedRune()(r)
	}
}

func (v *View) canvas() fyne.Canvas { return fyne.CurrentApp().Driver().CanvasForObject(v) }

// FocusGained implements fyne.Focusable.
func (v *View) FocusGained() { v.focused = true; v.floor.Refresh() }

// FocusLost implements fyne.Focusable.
func (v *View) FocusLost() { v.focused = false; v.floor.Refresh() }

// Refresh draws everything anew, in the colours in force.
func (v *View) Refresh() {
	for _, s := range v.strips {
		s.words = nil
	}
	for _, s := range v.spare {
		s.words = nil
	}
	v.arrange()
	v.BaseWidget.Refresh()
}

// CreateRenderer implements fyne.Widget.
func (v *View) CreateRenderer() fyne.WidgetRenderer { return &renderer{v} }

type renderer struct{ v *View }

func (r *renderer) Destroy()                     {}
func (r *renderer) MinSize() fyne.Size           { return fyne.NewSize(240, 120) }
func (r *renderer) Objects() []fyne.CanvasObject { return []fyne.CanvasObject{r.v.scroll} }
func (r *renderer) Refresh()                     { canvas.Refresh(r.v) }

func (r *renderer) Layout(size fyne.Size) {
	if size == r.v.size {
		return
	}
	r.v.size = size
	r.v.scroll.Resize(size)
	r.v.arrange()
}

// more says how many shelves a walk leaves out, above and below.
func (v *View) more() (objects []fyne.CanvasObject) {
	set := func(text string, y float32) {
		t := widgets.Line(text, look.Note, look.Faint)
		t.Move(fyne.NewPos(v.gutter(), y))
		t.Resize(fyne.NewSize(look.Note.Width(text)+1, look.Note.Line))
		objects = append(objects, t)
	}
	if v.plan.above > 0 && v.words.Above != nil {
		set(v.words.Above(v.plan.above), 0)
	}
	if n := len(v.plan.lines); n > 0 && v.plan.below > 0 && v.words.Below != nil {
		l := v.plan.lines[n-1]
		set(v.words.Below(v.plan.below), l.y+l.height+2)
	}
	return objects
}
