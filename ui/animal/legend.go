package animal

import (
	"image"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"

	"coilward/model/drawing"
	"coilward/ui/look"
	"coilward/ui/widgets"
	"coilward/ui/widgets/raster"
)

// legendMark is a mark of the weight chart with what it stands for.
func legendMark(kind int, words string) fyne.CanvasObject {
	sign := canvas.NewRaster(func(width, height int) image.Image {
		picture := image.NewRGBA(image.Rect(0, 0, width, height))
		drawMark(raster.NewPen(picture, look.Palette()), kind, float64(width), float64(height))
		return picture
	})
	return widgets.Row(look.S4, widgets.Fix(14, 14, sign), widgets.Line(words, look.Note, look.Soft))
}

// drawMark draws the mark as the chart does.
func drawMark(pen drawing.Pen, kind int, width, height float64) {
	at := func(x, y float64) drawing.Point {
		return drawing.Point{X: width/2 + x*width/14, Y: height/2 + y*height/14}
	}
	if kind == shedEvent {
		pen.Fill(drawing.Polygon(at(0, 4.5), at(-4.5, 0), at(0, -4.5), at(4.5, 0)), drawing.Blotch, 1)
		return
	}
	pen.Stroke(drawing.Polyline(at(0, 4), at(0, -4)), width/7, drawing.InkSoft, 1)
}
