package check

import "fyne.io/fyne/v2"

// The widths of the columns beside the drawing, in pixels.
const (
	stopsWidth  float32 = 276
	marksWidth  float32 = 46
	answerWidth float32 = 424
)

// columns lays out the stops, the drawing and the answers side by side. The stops
// stand by name; where the drawing would be left too little room, by their marks
// alone. The objects are the stops, their marks, the drawing with a line at its
// left, the answers with a line at theirs.
type columns struct{}

func (columns) MinSize(objects []fyne.CanvasObject) fyne.Size {
	size := fyne.NewSize(marksWidth+1+answerWidth+1, 0)
	for i, o := range objects {
		least := o.MinSize()
		size.Height = max(size.Height, least.Height)
		if i == 2 {
			size.Width += least.Width
		}
	}
	return size
}

func (columns) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	stops, marks, drawing, left, answers, right := objects[0], objects[1], objects[2], objects[3], objects[4], objects[5]
	room := size.Width - answerWidth - 2
	first, shown, hidden := stopsWidth, stops, marks
	if room-stopsWidth < drawing.MinSize().Width {
		first, shown, hidden = marksWidth, marks, stops
	}
	if hidden.Visible() {
		hidden.Hide()
	}
	if !shown.Visible() {
		shown.Show()
	}
	var x float32
	for _, column := range []struct {
		object fyne.CanvasObject
		width  float32
	}{{shown, first}, {left, 1}, {drawing, room - first}, {right, 1}, {answers, answerWidth}} {
		column.object.Move(fyne.NewPos(x, 0))
		column.object.Resize(fyne.NewSize(column.width, size.Height))
		x += column.width
	}
}
