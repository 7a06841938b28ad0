package widgets

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"

	"coilward/ui/look"
)

// Header is the head of a page: title, a line below, and acts at the right.
func Header(title, below string, acts ...fyne.CanvasObject) *fyne.Container {
	words := []fyne.CanvasObject{Line(title, look.Display, look.Ink).Cuts()}
	if below != "" {
		words = append(words, Para(below, look.Body, look.Soft))
	}
	return Row(look.S16, Grow(Col(0, words...)), Row(look.S8, acts...))
}

// EmptyPage stands where nothing is yet: it says what to do, and offers the act
// that does it. picture may be nil; more are further acts.
func EmptyPage(picture fyne.CanvasObject, say, detail string, act Act, more ...Act) *fyne.Container {
	var parts []fyne.CanvasObject
	if picture != nil {
		parts = append(parts, Middle(picture))
	}
	parts = append(parts, Para(say, look.Say, look.Ink).Centred())
	if detail != "" {
		parts = append(parts, Para(detail, look.Body, look.Soft).Centred())
	}
	var acts []fyne.CanvasObject
	if act.Label != "" {
		acts = append(acts, Button(Primary, act))
	}
	for _, a := range more {
		acts = append(acts, Button(Plain, a))
	}
	parts = append(parts, rowsOf(acts, emptyWidth)...)
	return Middle(Fix(emptyWidth, 0, Col(look.S16, parts...)))
}

// emptyWidth is how wide the words and presses of an empty page may be.
const emptyWidth = 560

// rowsOf puts presses side by side in the middle, in as many rows as the width
// asks for.
func rowsOf(acts []fyne.CanvasObject, width float32) (rows []fyne.CanvasObject) {
	for from := 0; from < len(acts); {
		to := from + 1
		for to < len(acts) && Row(look.S12, acts[from:to+1]...).MinSize().Width <= width {
			to++
		}
		rows = append(rows, Middle(Row(look.S12, acts[from:to]...)))
		from = to
	}
	return rows
}

// Group is a part of a page under a heading.
func Group(title, below string, parts ...fyne.CanvasObject) *fyne.Container {
	head := []fyne.CanvasObject{Line(title, look.Section, look.Ink)}
	if below != "" {
		head = append(head, Para(below, look.Body, look.Soft))
	}
	return Col(look.S12, append([]fyne.CanvasObject{Col(look.S4, head...)}, parts...)...)
}

// Setting is a named choice: words at the left, the control at the right.
func Setting(name, detail string, control fyne.CanvasObject) *fyne.Container {
	words := []fyne.CanvasObject{Para(name, look.Body, look.Ink)}
	if detail != "" {
		words = append(words, Para(detail, look.Note, look.Soft))
	}
	return Row(look.S24, Grow(Col(0, words...)), control)
}

// PhotoTile is a photo in a frame with rounded corners; without one it shows
// the sign of a camera. picture is filled to the frame.
func PhotoTile(width, height float32, picture fyne.Resource) *fyne.Container {
	ground := Filled(look.Well, look.RBase)
	if picture == nil {
		return Fix(width, height, ground, Middle(NewIcon("camera", 24, look.Faint)))
	}
	image := canvas.NewImageFromResource(picture)
	image.FillMode = canvas.ImageFillCover
	image.CornerRadius = look.RBase
	return Fix(width, height, ground, image)
}

// PhotoPress is a PhotoTile that can be pressed.
func PhotoPress(name string, width, height float32, picture fyne.Resource, tap func()) *Press {
	return NewPress(name, PhotoTile(width, height, picture), func(State) Ground { return Ground{Radius: look.RBase} }, tap)
}
