package photos

import (
	"fyne.io/fyne/v2"

	"coilward/ui/look"
)

// beside lays the list, the series and the picture in sight next to each other; in a
// narrow window the list stands above the other two.
type beside struct{ list, middle, detail fyne.CanvasObject } // detail may be nil

// The least that the parts need.
const (
	middleWidth float32 = 216
	listHeight  float32 = 116 // of the list above the others
	narrowest   float32 = 276 // of the picture beside the series then
)

// MinSize implements fyne.Layout.
func (b beside) MinSize([]fyne.CanvasObject) fyne.Size {
	height := b.middle.MinSize().Height
	if b.detail != nil {
		height = max(height, b.detail.MinSize().Height)
	}
	return fyne.NewSize(b.right(narrowest), height)
}

// right is how wide the series is at least together with a picture of that width.
func (b beside) right(detail float32) float32 {
	if b.detail == nil {
		return middleWidth
	}
	return middleWidth + look.S24 + detail
}

// Layout implements fyne.Layout.
func (b beside) Layout(_ []fyne.CanvasObject, size fyne.Size) {
	left, top, detail := listWidth+look.S24, float32(0), detailWidth
	b.list.Move(fyne.NewPos(0, 0))
	if size.Width < left+b.right(detail) {
		left, top, detail = 0, listHeight+look.S12, narrowest
		b.list.Resize(fyne.NewSize(size.Width, listHeight))
	} else {
		b.list.Resize(fyne.NewSize(listWidth, size.Height))
	}
	width := size.Width - left
	if b.detail != nil {
		width -= look.S24 + detail
		b.detail.Move(fyne.NewPos(size.Width-detail, top))
		b.detail.Resize(fyne.NewSize(detail, size.Height-top))
	}
	b.middle.Move(fyne.NewPos(left, top))
	b.middle.Resize(fyne.NewSize(width, size.Height-top))
}
