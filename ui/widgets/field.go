package widgets

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"coilward/ui/look"
)

// Field is a place to type in, under a caption, with a unit inside its right
// edge and room for a refusal below. What was typed stays, whatever is said
// about it. It hands its text on when it is complete: on Enter and when the
// field is left, never in the middle of typing.
type Field struct {
	*fyne.Container
	entry   *entry
	refusal *fyne.Container
	room    *fyne.Container // stands where a reason stood, so that nothing below moves
	said    *fyne.Container // refusal and room, of a field that keeps them apart; nil: below it
	reason  *Text
	asked   string // the text that was last handed on

	// OnCommit is called with the text on Enter, and on leaving the field if the
	// text is not the one last handed on.
	OnCommit func(text string)
	// OnEnter is called after OnCommit when Enter was pressed.
	OnEnter func()
	// OnTyped is called at every change by typing: for search, not for keeping.
	OnTyped func(text string)
	// OnStep is called for the keys up, -1, and down, +1; nil: they move in the text.
	OnStep func(by int)
}

// FieldOptions say what a field looks like.
type FieldOptions struct {
	Label, Hint, Unit string
	Rows              int    // lines to write in; 0 and 1: one
	Big               bool   // the one amount of a form; taking the keys chooses all of it
	Icon              string // inside the right edge
	// Apart leaves what is refused out of Container, where it would be squeezed:
	// Said is put where there is room for it.
	Apart bool
}

// NewField makes a field with a value.
func NewField(value string, o FieldOptions) *Field {
	f := &Field{asked: value}
	f.entry = newEntry(f, value, o)
	f.reason = Para("", look.Note, look.Today)
	f.refusal = RowTop(look.S4, NewIcon("caution", 16, look.Today), Grow(f.reason))
	f.refusal.Hide()
	f.room = Space(0, 0)
	f.room.Hide()
	var parts []fyne.CanvasObject
	if o.Label != "" {
		parts = append(parts, Line(o.Label, look.NoteBold, look.Soft))
	}
	parts = append(parts, f.entry.framed(o))
	if o.Apart {
		f.said = Col(0, f.refusal, f.room)
		f.said.Hide()
	} else {
		parts = append(parts, f.refusal, f.room)
	}
	f.Container = Col(look.S4, parts...)
	return f
}

// Said is why a value is refused, of a field that keeps it apart.
func (f *Field) Said() fyne.CanvasObject { return f.said }

// Text is what stands in the field now.
func (f *Field) Text() string { return f.entry.Text }

// SetText puts a value into the field as if it had been handed on.
func (f *Field) SetText(text string) {
	f.asked = text
	if f.entry.Text != text {
		f.entry.quiet = true
		f.entry.SetText(text)
		f.entry.quiet = false
	}
	f.Accept()
}

// Type is as if a person typed the text over what stands there.
func (f *Field) Type(text string) { f.entry.SetText(text) }

// Commit hands the text on now, if it was not yet.
func (f *Field) Commit() {
	if f.entry.Text == f.asked {
		return
	}
	f.asked = f.entry.Text
	if f.OnCommit != nil {
		f.OnCommit(f.asked)
	}
}

// Enter is as if Enter was pressed in the field.
func (f *Field) Enter() {
	f.asked = f.entry.Text
	if f.OnCommit != nil {
		f.OnCommit(f.asked)
	}
	if f.OnEnter != nil {
		f.OnEnter()
	}
}

// Refuse says below the field why its text cannot stand: field, value, what to
// do. The text stays.
func (f *Field) Refuse(reason string) {
	f.reason.SetText(reason)
	f.refusal.Show()
	f.room.Hide()
	f.entry.refused = true
	f.entry.paint()
	f.refresh()
}

// Accept takes a refusal away. Its room stays until Settle or the next refusal,
// so that what a person is about to press does not move from under the pointer.
func (f *Field) Accept() {
	if !f.entry.refused {
		return
	}
	f.room.Layout = fixed{0, f.refusal.Size().Height}
	f.refusal.Hide()
	f.room.Show()
	f.entry.refused = false
	f.entry.paint()
	f.refresh()
}

// Settle takes a refusal away with its room: when the form is about to be judged
// anew.
func (f *Field) Settle() {
	f.Accept()
	if f.room.Visible() {
		f.room.Hide()
		f.refresh()
	}
}

func (f *Field) refresh() {
	f.Container.Refresh()
	switch {
	case f.said == nil:
	case f.refusal.Visible() || f.room.Visible():
		f.said.Show()
		f.said.Refresh()
	default:
		f.said.Hide()
	}
}

// Refusal is the text below the field, empty where there is none.
func (f *Field) Refusal() string {
	if f.entry.refused {
		return f.reason.Text()
	}
	return ""
}

// Focusable is what takes the keys, to be focused on a canvas.
func (f *Field) Focusable() fyne.Focusable { return f.entry }

// Disable shows the field without letting it be changed.
func (f *Field) Disable() { f.entry.Disable(); f.entry.paint() }

// Enable lets the field be changed again.
func (f *Field) Enable() { f.entry.Enable(); f.entry.paint() }

// entry is a stock entry that stands on a ground of ours.
type entry struct {
	widget.Entry
	field                   *Field
	ground                  *Box
	focused, refused, quiet bool
	whole                   bool // taking the keys chooses all that stands there
}

func newEntry(f *Field, value string, o FieldOptions) *entry {
	e := &entry{field: f, ground: NewBox(Ground{Fill: look.Sheet, Line: look.Edge, Width: 1, Radius: look.RBase})}
	e.MultiLine = o.Rows > 1
	if e.MultiLine {
		e.Wrapping = fyne.TextWrapWord
		e.SetMinRowsVisible(o.Rows)
	}
	e.ExtendBaseWidget(e)
	e.Text = value
	e.SetPlaceHolder(o.Hint)
	e.OnChanged = func(text string) {
		if f.OnTyped != nil && !e.quiet {
			f.OnTyped(text)
		}
	}
	if !e.MultiLine {
		e.OnSubmitted = func(string) { f.Enter() }
	}
	return e
}

// framed is the entry on its ground, with its unit.
func (e *entry) framed(o FieldOptions) fyne.CanvasObject {
	skin, height := fyne.Theme(flat{}), float32(36)
	e.whole = o.Big
	unit := look.Body
	if o.Big {
		skin, height, unit = big{}, 60, look.Figure
	}
	if e.MultiLine {
		skin, height = scrolling{}, 0
	}
	inside := []fyne.CanvasObject{Grow(MiddleUpright(container.NewThemeOverride(e, skin)))}
	if o.Unit != "" {
		inside = append(inside, Line(o.Unit, unit, look.Soft))
	}
	if o.Icon != "" {
		inside = append(inside, NewIcon(o.Icon, 18, look.Faint))
	}
	over := []fyne.CanvasObject{e.ground, Pad(Row(0, inside...), 0, sideOf(o), 0, look.S4)}
	if !e.MultiLine {
		over = append(over, newWheel())
	}
	return Fix(0, height, over...)
}

func sideOf(o FieldOptions) float32 {
	if o.Unit == "" && o.Icon == "" {
		return look.S4
	}
	return look.S12
}

func (e *entry) paint() {
	g := Ground{Fill: look.Sheet, Line: look.Edge, Width: 1, Radius: look.RBase}
	switch {
	case e.Disabled():
		g.Fill, g.Line = look.Paper, look.Hair
	case e.refused:
		g.Line, g.Width = look.Today, 2
	case e.focused:
		g.Line, g.Width = look.Accent, 2
	}
	e.ground.SetGround(g)
}

// FocusGained implements fyne.Focusable.
func (e *entry) FocusGained() {
	e.focused = true
	e.paint()
	e.Entry.FocusGained()
	if e.whole && e.Text != "" {
		e.TypedShortcut(&fyne.ShortcutSelectAll{})
	}
	reached(e)
}

// FocusLost implements fyne.Focusable.
func (e *entry) FocusLost() {
	e.focused = false
	e.paint()
	e.Entry.FocusLost()
	e.field.Commit()
}

// TypedKey implements fyne.Focusable; Escape goes to the page.
func (e *entry) TypedKey(k *fyne.KeyEvent) {
	step := map[fyne.KeyName]int{fyne.KeyUp: -1, fyne.KeyDown: +1}[k.Name]
	switch {
	case k.Name == fyne.KeyEscape:
		passKey(e, k)
	case step != 0 && e.field.OnStep != nil:
		e.field.OnStep(step)
	default:
		e.Entry.TypedKey(k)
	}
}

// flat is the theme of an entry that stands on a ground of ours.
type flat struct{}

func now() fyne.Theme { return fyne.CurrentApp().Settings().Theme() }

// Color implements fyne.Theme.
func (flat) Color(n fyne.ThemeColorName, v fyne.ThemeVariant) color.Color {
	switch n {
	case theme.ColorNameInputBackground, theme.ColorNameInputBorder:
		return color.Transparent
	}
	return now().Color(n, v)
}

// Font implements fyne.Theme.
func (flat) Font(s fyne.TextStyle) fyne.Resource { return now().Font(s) }

// Icon implements fyne.Theme.
func (flat) Icon(n fyne.ThemeIconName) fyne.Resource { return now().Icon(n) }

// Size implements fyne.Theme.
func (flat) Size(n fyne.ThemeSizeName) float32 {
	switch n {
	case theme.SizeNameInputBorder, theme.SizeNameScrollBar, theme.SizeNameScrollBarSmall:
		return 0 // one line follows the cursor; a bar would lie over its letters
	}
	return now().Size(n)
}

// scrolling is the theme of a field of several lines, which has a bar.
type scrolling struct{ flat }

// Size implements fyne.Theme.
func (s scrolling) Size(n fyne.ThemeSizeName) float32 {
	if n == theme.SizeNameInputBorder {
		return 0
	}
	return now().Size(n)
}

// big is the theme of a field whose value is the main thing.
type big struct{ flat }

// Size implements fyne.Theme.
func (b big) Size(n fyne.ThemeSizeName) float32 {
	if n == theme.SizeNameText {
		return look.Amount.Size
	}
	return b.flat.Size(n)
}

// Font implements fyne.Theme.
func (b big) Font(fyne.TextStyle) fyne.Resource { return b.flat.Font(fyne.TextStyle{Bold: true}) }

// ChoiceField shows what is chosen under a caption; pressing it opens the
// choice, which its owner shows.
func ChoiceField(label, chosen string, open func()) *fyne.Container {
	return NewChosen(label, chosen, open).Container
}
