package shelfview

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"

	"coilward/ui/look"
	"coilward/ui/widgets"
	"coilward/ui/widgets/raster"
)

// floor is what scrolls: the lines in sight, and above them what changes with
// the pointer and the keys.
type floor struct {
	widget.BaseWidget
	view  *View
	ring  *canvas.Rectangle // of the keys
	point *canvas.Rectangle // under the pointer
	ghost *widgets.Box      // what is dragged
	name  *widgets.Text     // of what is dragged
	tip   *raster.Tip
	style raster.Style
}

var (
	_ fyne.Tappable      = (*floor)(nil)
	_ fyne.Draggable     = (*floor)(nil)
	_ desktop.Hoverable  = (*floor)(nil)
	_ desktop.Cursorable = (*floor)(nil)
	_ fyne.Focusable     = (*View)(nil)
)

func newFloor(v *View) *floor {
	f := &floor{view: v, ring: canvas.NewRectangle(nil), point: canvas.NewRectangle(nil), tip: raster.NewTip(), style: widgets.Drawn(),
		ghost: widgets.NewBox(widgets.Ground{Fill: look.Sheet, Line: look.Accent, Width: 2, Radius: corner}), name: widgets.Line("", look.Name, look.Ink).Cuts()}
	f.ring.CornerRadius, f.point.CornerRadius = corner+4, corner
	f.ExtendBaseWidget(f)
	return f
}

// around puts a rectangle round a box, so far outside.
func around(r *canvas.Rectangle, c cell, outside float32) {
	r.Move(fyne.NewPos(c.x-outside, c.y-outside))
	r.Resize(fyne.NewSize(c.w+2*outside, c.h+2*outside))
}

// place puts ring, pointer and ghost where they belong.
func (f *floor) place() {
	v := f.view
	f.ring.FillColor, f.point.FillColor = look.Of(look.Clear), look.Of(look.Clear)
	f.ring.StrokeWidth, f.ring.StrokeColor = 2, look.Of(look.Accent)
	f.point.StrokeWidth, f.point.StrokeColor = 2, look.Of(look.Accent)
	f.ring.Hidden, f.point.Hidden, f.ghost.Hidden, f.name.Hidden = true, true, true, true
	if c, _, ok := v.plan.find(v.current); ok && !v.walk && (v.focused || v.aim) {
		f.ring.Hidden = false
		if v.aim {
			f.ring.StrokeWidth, f.ring.StrokeColor = 3, look.Of(look.LitLine)
		}
		around(f.ring, c, 4)
	}
	at := v.pointed
	if v.drag != nil {
		at = v.drag.to
		f.point.StrokeWidth, f.point.StrokeColor = 3, look.Of(look.LitLine)
	}
	if at != nil {
		if c, _, ok := v.plan.find(*at); ok && !c.current {
			f.point.Hidden = false
			around(f.point, c, 0)
		}
	}
	if v.drag != nil {
		box, _ := v.Box(v.drag.from)
		f.name.SetText(box.Called())
		width := min(220, ceil(look.Name.Width(box.Called()))+24)
		f.ghost.Hidden, f.name.Hidden = false, false
		f.ghost.Move(v.drag.at.AddXY(8, 8))
		f.ghost.Resize(fyne.NewSize(width, 36))
		f.name.Move(v.drag.at.AddXY(20, 14))
		f.name.Resize(fyne.NewSize(width-24, 24))
	}
}

// Refresh implements fyne.CanvasObject.
func (f *floor) Refresh() {
	f.tip.Hide() // the box under the pointer may be another by now
	f.place()
	f.BaseWidget.Refresh()
}

// MouseIn implements desktop.Hoverable.
func (f *floor) MouseIn(e *desktop.MouseEvent) { f.MouseMoved(e) }

// MouseMoved implements desktop.Hoverable.
func (f *floor) MouseMoved(e *desktop.MouseEvent) {
	at, ok := f.view.plan.under(e.Position.X, e.Position.Y)
	if !ok {
		f.MouseOut()
		return
	}
	f.view.pointed = &at
	box, _ := f.view.Box(at)
	f.tip.Show(f.style, box.Tip, e.Position, f.Size())
	f.Refresh()
}

// MouseOut implements desktop.Hoverable.
func (f *floor) MouseOut() {
	if f.view.pointed == nil {
		return
	}
	f.view.pointed = nil
	f.tip.Hide()
	f.Refresh()
}

// Cursor implements desktop.Cursorable.
func (f *floor) Cursor() desktop.Cursor {
	if f.view.pointed != nil {
		return desktop.PointerCursor
	}
	return desktop.DefaultCursor
}

// Tapped implements fyne.Tappable.
func (f *floor) Tapped(e *fyne.PointEvent) {
	if c := f.view.canvas(); c != nil {
		c.Focus(f.view)
	}
	if at, ok := f.view.plan.under(e.Position.X, e.Position.Y); ok {
		if !f.view.walk {
			f.view.SetCurrent(at)
		}
		f.view.open(at)
	}
}

// Dragged implements fyne.Draggable: a box with somebody in it is taken along.
func (f *floor) Dragged(e *fyne.DragEvent) {
	v := f.view
	if v.walk {
		return
	}
	if v.drag == nil {
		from, ok := v.plan.under(e.Position.X-e.Dragged.DX, e.Position.Y-e.Dragged.DY)
		if box, there := v.Box(from); !ok || !there || box.Empty() {
			return
		}
		v.drag = &drag{from: from}
		f.tip.Hide()
	}
	v.drag.at, v.drag.to = e.Position, nil
	if to, ok := v.plan.under(e.Position.X, e.Position.Y); ok && to != v.drag.from {
		v.drag.to = &to
	}
	const rim, by = 24, 18
	switch y := e.Position.Y - v.scroll.Offset.Y; {
	case y < rim:
		v.scrollTo(v.scroll.Offset.Y - by)
	case y > v.size.Height-rim:
		v.scrollTo(v.scroll.Offset.Y + by)
	}
	f.Refresh()
}

// DragEnd implements fyne.Draggable.
func (f *floor) DragEnd() {
	d := f.view.drag
	f.view.drag = nil
	f.Refresh()
	if d != nil && d.to != nil && f.view.OnMove != nil {
		f.view.OnMove(d.from, *d.to)
	}
}

// MinSize implements fyne.CanvasObject.
func (f *floor) MinSize() fyne.Size { return fyne.NewSize(0, f.view.plan.height) }

// CreateRenderer implements fyne.Widget.
func (f *floor) CreateRenderer() fyne.WidgetRenderer { return &floorRenderer{f} }

type floorRenderer struct{ f *floor }

func (r *floorRenderer) Destroy()           {}
func (r *floorRenderer) Layout(fyne.Size)   {}
func (r *floorRenderer) MinSize() fyne.Size { return fyne.NewSize(0, r.f.view.plan.height) }
func (r *floorRenderer) Refresh()           { canvas.Refresh(r.f.ring) }

func (r *floorRenderer) Objects() []fyne.CanvasObject {
	v := r.f.view
	objects := make([]fyne.CanvasObject, 0, 256)
	for i := range v.plan.lines {
		if s, ok := v.strips[i]; ok {
			objects = s.objects(objects)
		}
	}
	if v.walk {
		objects = append(objects, v.more()...)
		if v.panel != nil {
			objects = append(objects, v.panel)
		}
		if v.below != nil {
			objects = append(objects, v.below)
		}
	}
	objects = append(objects, r.f.point, r.f.ring, r.f.ghost, r.f.name)
	return append(objects, r.f.tip.Objects()...)
}
