package uitest

import (
	"fmt"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/test"

	"coilward/ui/widgets"
)

// Seen is one object of a window as it is shown.
type Seen struct {
	Object   fyne.CanvasObject
	At       fyne.Position // in the window
	Scrolled bool          // it lies in something that scrolls
	Sideways bool          // it lies in something that scrolls sideways
}

// Walk visits everything that is shown, from the ground up, until visit says
// false.
func Walk(o fyne.CanvasObject, visit func(Seen) bool) { walk(Seen{Object: o}, visit) }

func walk(s Seen, visit func(Seen) bool) bool {
	if s.Object == nil || !s.Object.Visible() {
		return true
	}
	s.At = s.At.Add(s.Object.Position())
	if !visit(s) {
		return false
	}
	var below []fyne.CanvasObject
	switch c := s.Object.(type) {
	case *fyne.Container:
		below = c.Objects
	case *container.Scroll:
		below = []fyne.CanvasObject{c.Content}
		s.Scrolled = s.Scrolled || !holdsPage(c)
		s.Sideways = s.Sideways || c.Direction == container.ScrollHorizontalOnly
	case fyne.Widget:
		below = test.WidgetRenderer(c).Objects()
	}
	for _, child := range below {
		if !walk(Seen{child, s.At, s.Scrolled, s.Sideways}, visit) {
			return false
		}
	}
	return true
}

// holdsPage reports whether it is the scroller that holds the page in the window: it
// scrolls only what does not fit. Those within an entry hold its text.
func holdsPage(s *container.Scroll) bool {
	_, parts := s.Content.(*fyne.Container)
	return parts && s.Direction == container.ScrollBoth
}

// Clipped lists, one line each, what does not fit: a window that needs more
// room than it has, text that is cut though it may not be, text outside.
func Clipped(o fyne.CanvasObject, size fyne.Size) []string {
	var found []string
	if m := o.MinSize(); m.Width > size.Width+.5 || m.Height > size.Height+.5 {
		found = append(found, fmt.Sprintf("the window needs %.0f × %.0f and has %.0f × %.0f", m.Width, m.Height, size.Width, size.Height))
	}
	Walk(o, func(s Seen) bool {
		switch o := s.Object.(type) {
		case *widgets.Text:
			found = append(found, clipped(o, s, size)...)
		case *container.Scroll:
			if m := o.Content.MinSize(); holdsPage(o) && (m.Width > o.Size().Width+.5 || m.Height > o.Size().Height+.5) {
				found = append(found, fmt.Sprintf("the page needs %.0f × %.0f and has %.0f × %.0f", m.Width, m.Height, o.Size().Width, o.Size().Height))
			}
		case *fyne.Container:
			if m := o.MinSize(); len(o.Objects) > 0 && m.Width > o.Size().Width+.5 {
				found = append(found, fmt.Sprintf("a box at %.0f, %.0f is %.0f wide and needs %.0f: %.60q", s.At.X, s.At.Y, o.Size().Width, m.Width, Texts(o)))
			}
		}
		return true
	})
	return found
}

func clipped(t *widgets.Text, s Seen, window fyne.Size) (found []string) {
	own := t.Size()
	if t.Short() && !t.MayBeCut() {
		found = append(found, fmt.Sprintf("%q has %.0f × %.0f and needs %.0f", t.Text(), own.Width, own.Height, t.MinSize().Width))
	}
	right, bottom := s.At.X+own.Width, s.At.Y+own.Height
	if !s.Sideways && (s.At.X < -.5 || right > window.Width+.5) || !s.Scrolled && (s.At.Y < -.5 || bottom > window.Height+.5) {
		found = append(found, fmt.Sprintf("%q stands outside, at %.0f, %.0f to %.0f, %.0f", t.Text(), s.At.X, s.At.Y, right, bottom))
	}
	return found
}
