package jotting

import (
	"strconv"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"

	"coilward/model/jot"
	"coilward/ui/look"
	"coilward/ui/widgets"
)

// which asks which of several readings is meant. While it has the keys a figure
// chooses, so do the arrows and Enter; any other letter is typed into the line.
type which struct {
	widget.BaseWidget
	line     *Line
	readings []jot.Reading
	rows     []*widgets.Press
	ground   *widgets.Box
	whole    *fyne.Container
	chosen   int // −1: none yet
	focused  bool
}

var (
	_ fyne.Focusable = (*which)(nil)
	_ widgets.Flow   = (*which)(nil)
)

func newWhich(l *Line) *which {
	w := &which{line: l, readings: l.answer.Readings, chosen: -1, ground: widgets.NewBox(widgets.Ground{Radius: look.RBase})}
	var rows []fyne.CanvasObject
	for i, r := range w.readings {
		one := row(strconv.Itoa(i+1), l.say(r), func() { l.note(r) })
		w.rows, rows = append(w.rows, one), append(rows, one)
	}
	w.whole = widgets.Stack(w.ground, widgets.Pad(widgets.Col(2, rows...), look.S4))
	w.ExtendBaseWidget(w)
	return w
}

// CreateRenderer implements fyne.Widget.
func (w *which) CreateRenderer() fyne.WidgetRenderer { return widget.NewSimpleRenderer(w.whole) }

// HeightFor implements widgets.Flow.
func (w *which) HeightFor(width float32) float32 { return widgets.HeightFor(w.whole, width) }

// FocusGained implements fyne.Focusable.
func (w *which) FocusGained() {
	w.focused = true
	w.ground.SetGround(widgets.Ground{Line: look.Accent, Width: 2, Radius: look.RBase})
}

// FocusLost implements fyne.Focusable.
func (w *which) FocusLost() {
	w.focused = false
	w.ground.SetGround(widgets.Ground{Radius: look.RBase})
	w.choose(-1)
}

// TypedRune implements fyne.Focusable.
func (w *which) TypedRune(r rune) {
	if i := int(r - '1'); i >= 0 && i < len(w.rows) {
		w.line.note(w.readings[i])
		return
	}
	w.back()
	w.line.Focusable().TypedRune(r)
}

// TypedKey implements fyne.Focusable.
func (w *which) TypedKey(k *fyne.KeyEvent) {
	switch k.Name {
	case fyne.KeyDown:
		w.choose((w.chosen + 1) % len(w.rows))
	case fyne.KeyUp:
		w.choose((max(w.chosen, 0) + len(w.rows) - 1) % len(w.rows))
	case fyne.KeyReturn, fyne.KeyEnter:
		if w.chosen >= 0 {
			w.line.note(w.readings[w.chosen])
		}
	case fyne.KeyEscape:
		w.back()
	case fyne.KeyBackspace, fyne.KeyDelete, fyne.KeyLeft, fyne.KeyRight, fyne.KeyHome, fyne.KeyEnd:
		w.back()
		w.line.Focusable().TypedKey(k)
	}
}

// back gives the keys to the line again.
func (w *which) back() { w.line.window.Focus(w.line.Focusable()) }

func (w *which) choose(i int) {
	w.chosen = i
	for n, r := range w.rows {
		r.SetOn(n == i)
	}
}
