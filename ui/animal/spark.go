package animal

import (
	"image"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"

	"coilward/model"
	"coilward/model/drawing"
	"coilward/model/pixel"
	"coilward/ui/look"
)

// newSpark is the line of the last masses without axes, its end marked.
func newSpark(of []model.Mass) fyne.CanvasObject {
	return canvas.NewRaster(func(width, height int) image.Image {
		picture := image.NewRGBA(image.Rect(0, 0, width, height))
		drawSpark(pixel.NewPen(picture, look.Palette()), of, float64(width), float64(height))
		return picture
	})
}

// drawSpark draws the masses evenly spaced, the least at the foot.
func drawSpark(pen drawing.Pen, of []model.Mass, width, height float64) {
	low, high := of[0].Milligrams, of[0].Milligrams
	for _, m := range of {
		low, high = min(low, m.Milligrams), max(high, m.Milligrams)
	}
	margin := height / 6
	var line []drawing.Point
	for i, m := range of {
		up := .5
		if high > low {
			up = float64(m.Milligrams-low) / float64(high-low)
		}
		line = append(line, drawing.Point{X: margin + (width-2*margin)*float64(i)/float64(max(1, len(of)-1)), Y: height - margin - (height-2*margin)*up})
	}
	pen.Stroke(drawing.Polyline(line...), height/15, drawing.InkSoft, 1)
	pen.Fill(drawing.Circle(line[len(line)-1], height/8), drawing.Accent, 1)
}
