package widgets

import (
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"coilward/ui/look"
)

// Rows is a list of rows of one height, of which only those in sight exist; it
// holds thousands. Arrows move, Enter and a tap open.
type Rows struct {
	widget.List
	height float32
	count  int

	// OnOpen is called with the row that was tapped or entered.
	OnOpen func(row int)
}

// NewRows makes a list. fill puts row i into an object that make made; it must
// be cheap and read nothing but values.
func NewRows(height float32, make func() fyne.CanvasObject, fill func(i int, row fyne.CanvasObject)) *Rows {
	r := &Rows{height: height}
	r.Length = func() int { return r.count }
	r.CreateItem = func() fyne.CanvasObject { return Fix(0, height, make()) }
	r.UpdateItem = func(i widget.ListItemID, o fyne.CanvasObject) {
		fill(i, o.(*fyne.Container).Objects[0])
	}
	r.HideSeparators = true
	r.OnSelected = func(i widget.ListItemID) {
		r.UnselectAll()
		if r.OnOpen != nil {
			r.OnOpen(i)
		}
	}
	r.ExtendBaseWidget(r)
	return r
}

// SetCount says how many rows there are, and shows them anew.
func (r *Rows) SetCount(n int) {
	r.count = n
	r.Refresh()
}

// Count is how many rows there are.
func (r *Rows) Count() int { return r.count }

// Open is as if row i was tapped.
func (r *Rows) Open(i int) { r.Select(i) }

// TypedKey implements fyne.Focusable: Enter opens as Space does; what the list
// has no use for goes to the page.
func (r *Rows) TypedKey(k *fyne.KeyEvent) {
	switch k.Name {
	case fyne.KeyReturn, fyne.KeyEnter:
		r.List.TypedKey(&fyne.KeyEvent{Name: fyne.KeySpace})
	case fyne.KeyUp, fyne.KeyDown, fyne.KeySpace, fyne.KeyLeft, fyne.KeyRight:
		r.List.TypedKey(k)
	default:
		passKey(r, k)
	}
}

// TypedRune implements fyne.Focusable: letters go to the page.
func (r *Rows) TypedRune(letter rune) { passRune(r, letter) }

// Chosen is a choice field whose words change while it stays, and the keys with it.
type Chosen struct {
	*fyne.Container
	words   *Text
	press   *Press
	refusal *fyne.Container
	reason  *Text
	refused bool
}

// NewChosen makes the field with what is chosen; open shows the choices.
func NewChosen(label, chosen string, open func()) *Chosen {
	c := &Chosen{words: Line(chosen, look.Body, look.Ink).Cuts()}
	c.reason = Para("", look.Note, look.Today)
	c.refusal = RowTop(look.S4, NewIcon("caution", 16, look.Today), Grow(c.reason))
	c.refusal.Hide()
	row := Row(look.S8, Grow(c.words), NewIcon("down", 16, look.Soft))
	c.press = NewPress(label, Fix(0, 36, MiddleUpright(Pad(row, 0, look.S12))), func(s State) Ground {
		g := Ground{Fill: look.Sheet, Line: look.Edge, Width: 1, Radius: look.RBase}
		if s.Pointed {
			g.Fill = look.Wash
		}
		if c.refused {
			g.Line, g.Width = look.Today, 2
		}
		return g
	}, open)
	c.Container = Col(look.S4, c.press, c.refusal)
	if label != "" {
		c.Container = Col(look.S4, Line(label, look.NoteBold, look.Soft), c.press, c.refusal)
	}
	return c
}

// Refuse says below the field why what is chosen cannot stand.
func (c *Chosen) Refuse(reason string) {
	c.refused = true
	c.reason.SetText(reason)
	c.refusal.Show()
	c.press.Refresh()
	c.Refresh()
}

// Settle takes a refusal away.
func (c *Chosen) Settle() {
	if !c.refused {
		return
	}
	c.refused = false
	c.refusal.Hide()
	c.press.Refresh()
	c.Refresh()
}

// SetWords says what is chosen now.
func (c *Chosen) SetWords(chosen string) {
	c.words.SetText(chosen)
	c.Refresh()
}

// Focusable is what takes the keys.
func (c *Chosen) Focusable() fyne.Focusable { return c.press }

// ChoiceList is a choice of many: typing narrows it, up and down move the mark, Enter
// takes the row that has it, and nothing before one has.
type ChoiceList struct {
	*fyne.Container
	search  *Field
	rows    *Rows
	room    *fyne.Container // of the rows
	choices []Choice
	left    []int // indexes into choices that fit what was typed
	marked  int   // index into choices of the one that holds now; -1: none is told
	at      int   // the row that Enter takes; -1: none yet

	// OnChosen is called with the index of the choice.
	OnChosen func(i int)
}

// NewChoiceList makes the list; hint stands in its search field, none is said
// where nothing fits.
func NewChoiceList(hint, none string, choices []Choice) *ChoiceList {
	c := &ChoiceList{choices: choices, marked: -1}
	c.search = NewField("", FieldOptions{Hint: hint})
	nothing := Line(none, look.Body, look.Soft)
	c.rows = NewRows(36, func() fyne.CanvasObject {
		row := Row(look.S12, Grow(Line("", look.Body, look.Ink).Cuts()), Line("", look.Note, look.Soft), NewIcon("tick", 16, look.Accent))
		return Stack(NewBox(atRow), Pad(row, 0, look.S8))
	}, c.fill)
	c.rows.OnOpen = func(row int) { c.choose(row) }
	c.search.OnTyped = func(text string) {
		c.narrow(text)
		setVisible(nothing, len(c.left) == 0)
	}
	c.search.OnStep = c.step
	c.search.OnEnter = func() { c.choose(c.at) }
	c.narrow("")
	setVisible(nothing, len(c.left) == 0)
	c.room = container.New(&opening{fixed: fixed{0, 240}, opened: c.reveal}, c.rows, nothing)
	c.Container = Col(look.S8, c.search.Container, Grow(c.room))
	return c
}

func setVisible(o fyne.CanvasObject, yes bool) {
	if yes {
		o.Show()
	} else {
		o.Hide()
	}
}

// Least says how high the rows are at least; where there is more room they take
// it.
func (c *ChoiceList) Least(height float32) { c.room.Layout.(*opening).height = height }

// opening is the room of rows: the marked one is brought into sight once there is room to
// see it in, for a list without a height scrolls everything away.
type opening struct {
	fixed
	last   float32
	opened func()
}

// Layout implements fyne.Layout.
func (o *opening) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	o.fixed.Layout(objects, size)
	if size.Height != o.last {
		o.last = size.Height
		o.opened()
	}
}

// reveal brings the marked row into sight; from the top on, where none is.
func (c *ChoiceList) reveal() {
	if c.at >= 0 && c.rows.Size().Height > 0 {
		c.rows.ScrollTo(c.at)
	}
}

// Mark shows which choice holds now; Enter takes it too, until another row is gone to.
func (c *ChoiceList) Mark(i int) {
	c.marked = i
	c.at = slices.Index(c.left, i)
	c.rows.Refresh()
	c.reveal()
}

// atRow is the ground of the row that Enter takes.
var atRow = Ground{Fill: look.Wash, Line: look.Accent, Width: 1, Radius: look.RBase}

// step moves the mark by a row, which comes into sight.
func (c *ChoiceList) step(by int) {
	c.at = max(0, min(c.at+by, len(c.left)-1))
	c.rows.Refresh()
	c.reveal()
}

// Search is the field that narrows the list, to be focused first.
func (c *ChoiceList) Search() *Field { return c.search }

func (c *ChoiceList) narrow(text string) {
	c.left = c.left[:0]
	for i, choice := range c.choices {
		if strings.Contains(strings.ToLower(choice.Label+" "+choice.Detail), strings.ToLower(strings.TrimSpace(text))) {
			c.left = append(c.left, i)
		}
	}
	if c.at = 0; strings.TrimSpace(text) == "" {
		c.at = slices.Index(c.left, c.marked)
	}
	c.rows.SetCount(len(c.left))
	c.rows.ScrollToTop()
	c.reveal()
}

func (c *ChoiceList) fill(i int, o fyne.CanvasObject) {
	parts := o.(*fyne.Container).Objects
	setVisible(parts[0], i == c.at)
	row := parts[1].(*fyne.Container).Objects[0].(*fyne.Container)
	choice := c.choices[c.left[i]]
	row.Objects[0].(*fyne.Container).Objects[0].(*Text).SetText(choice.Label)
	row.Objects[1].(*Text).SetText(choice.Detail)
	setVisible(row.Objects[2], c.left[i] == c.marked)
}

func (c *ChoiceList) choose(row int) {
	if row >= 0 && row < len(c.left) && c.OnChosen != nil {
		c.OnChosen(c.left[row])
	}
}
