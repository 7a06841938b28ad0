// Package raster shows what the pen of pixels draws in a window, in its colours and faces.
package raster

import (
	"image"
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"

	"coilward/model/drawing"
)

// Board shows a drawing in a widget: lines and areas as one picture, texts as
// texts of the window. It paints only when told to or when its size or colours
// have changed.
type Board struct {
	style   *Style
	draw    func(pen drawing.Pen, size fyne.Size)
	surface *canvas.Raster
	words   []fyne.CanvasObject
	size    fyne.Size
	picture *image.RGBA
	palette drawing.Palette
}

// NewBoard is a board for a drawing in window units.
func NewBoard(style *Style, draw func(pen drawing.Pen, size fyne.Size)) *Board {
	b := &Board{style: style, draw: draw}
	b.surface = canvas.NewRaster(b.paint)
	return b
}

func (b *Board) paint(w, h int) image.Image {
	colours := b.style.Colours()
	if b.picture == nil || b.picture.Rect.Dx() != w || b.picture.Rect.Dy() != h || colours != b.palette {
		b.palette = colours
		b.picture = b.style.Picture(w, h, b.size.Width, func(pen drawing.Pen) { b.draw(pen, b.size) })
	}
	return b.picture
}

// Size is the size that the board is laid out for.
func (b *Board) Size() fyne.Size { return b.size }

// Layout takes a new size and reports whether it is one: a widget's own Layout
// must do nothing more where it is not.
func (b *Board) Layout(size fyne.Size) bool {
	if size == b.size {
		return false
	}
	b.size = size
	b.surface.Resize(size)
	b.Refresh()
	return true
}

// Refresh draws anew.
func (b *Board) Refresh() {
	if b.size.Width <= 0 || b.size.Height <= 0 {
		return
	}
	b.picture = nil
	b.words = b.style.Words(Texts(func(pen drawing.Pen) { b.draw(pen, b.size) }))
	b.surface.Refresh()
}

// Objects are the picture and its texts.
func (b *Board) Objects() []fyne.CanvasObject {
	return append([]fyne.CanvasObject{b.surface}, b.words...)
}

// Tip is a line of text in a box, shown beside the pointer.
type Tip struct {
	box    *canvas.Rectangle
	text   *canvas.Text
	always *canvas.Rectangle // never hidden, never seen
}

// NewTip is a hidden tip.
func NewTip() *Tip {
	t := &Tip{canvas.NewRectangle(color.Transparent), canvas.NewText("", color.Transparent), canvas.NewRectangle(color.Transparent)}
	t.always.Resize(fyne.NewSize(1, 1))
	t.box.CornerRadius = 5
	t.Hide()
	return t
}

// Objects are the tip's box and text, and what Repaint needs.
func (t *Tip) Objects() []fyne.CanvasObject { return []fyne.CanvasObject{t.box, t.text, t.always} }

// Repaint has the window painted anew. An object that has been hidden so far
// cannot ask for that: its window learns of an object when it first paints it.
func (t *Tip) Repaint() { t.always.Refresh() }

// Visible reports whether the tip is shown.
func (t *Tip) Visible() bool { return t.box.Visible() }

// Text is what the tip says.
func (t *Tip) Text() string { return t.text.Text }

// Hide hides the tip.
func (t *Tip) Hide() {
	t.box.Hide()
	t.text.Hide()
	t.Repaint()
}

// Show shows a text beside a position, within a size; no text hides the tip.
func (t *Tip) Show(style Style, text string, at fyne.Position, within fyne.Size) {
	if text == "" {
		t.Hide()
		return
	}
	colours := style.Colours()
	t.box.FillColor, t.text.Color = colours[drawing.Ink], colours[drawing.Sheet]
	t.text.Text, t.text.TextSize, t.text.FontSource = text, 12, style.Face
	m := t.text.MinSize()
	size := fyne.NewSize(m.Width+16, m.Height+8)
	x := max(0, min(at.X+14, within.Width-size.Width))
	y := at.Y + 20
	if y+size.Height > within.Height {
		y = max(0, at.Y-size.Height-10)
	}
	t.box.Move(fyne.NewPos(x, y))
	t.box.Resize(size)
	t.text.Move(fyne.NewPos(x+8, y+4))
	t.text.Resize(m)
	t.box.Show()
	t.text.Show()
	t.box.Refresh()
	t.text.Refresh()
	t.Repaint()
}
