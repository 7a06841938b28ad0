package widgets

import (
	"sync/atomic"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
)

// layouts counts what may change how much room anything needs: containers laid
// out anew, texts set anew.
var layouts atomic.Uint64

// steady is a layout that remembers the least size of what it lays out, for as
// long as nothing at all was laid out or set anew. The window asks for the least
// size of every object at every frame, and each container asks all within it: a
// deep page would cost more than its painting. Only what consists of steady
// containers, scrollers, texts, icons, grounds and charts is remembered.
type steady struct {
	flowLayout
	at    uint64 // the count that what is remembered holds for; 0: nothing is
	whole bool   // all within is steady
	seen  []seen
	size  fyne.Size
}

// seen is one object and whether it was shown.
type seen struct {
	object  fyne.CanvasObject
	visible bool
}

// arranged is a container of a steady layout.
func arranged(layout flowLayout, objects ...fyne.CanvasObject) *fyne.Container {
	return container.New(&steady{flowLayout: layout}, objects...)
}

// Layout implements fyne.Layout.
func (s *steady) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	layouts.Add(1)
	s.flowLayout.Layout(objects, size)
}

// MinSize implements fyne.Layout.
func (s *steady) MinSize(objects []fyne.CanvasObject) fyne.Size {
	if s.holds(objects) {
		return s.size
	}
	size := s.flowLayout.MinSize(objects)
	s.whole = true
	for _, o := range objects {
		s.whole = s.whole && isSteady(o)
	}
	if s.whole {
		s.remember(objects, size)
	}
	return size
}

// holds reports whether what is remembered still holds. Where something was
// hidden or shown since, containers around this one have to ask anew too.
func (s *steady) holds(objects []fyne.CanvasObject) bool {
	if !s.whole || s.at != layouts.Load()+1 {
		return false
	}
	same := len(objects) == len(s.seen)
	for i := 0; same && i < len(objects); i++ {
		same = s.seen[i] == seen{objects[i], objects[i].Visible()}
	}
	if !same {
		layouts.Add(1)
	}
	return same
}

func (s *steady) remember(objects []fyne.CanvasObject, size fyne.Size) {
	s.at, s.size, s.seen = layouts.Load()+1, size, s.seen[:0]
	for _, o := range objects {
		s.seen = append(s.seen, seen{o, o.Visible()})
	}
}

// Constant is a widget whose least size never changes, such as that of a chart.
type Constant interface{ ConstantLeastSize() }

// isSteady reports whether an object's least size stays until something is laid out
// or set anew.
func isSteady(o fyne.CanvasObject) bool {
	switch o := o.(type) {
	case *fyne.Container:
		s, ok := o.Layout.(*steady)
		return ok && (s.whole || !o.Visible())
	case *Press:
		return isSteady(o.content)
	case *container.Scroll:
		return isSteady(o.Content)
	case Constant:
		return true
	case *Text, *Icon, *Box:
		return true
	}
	return false
}
