package shelfview

import (
	"image"
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/widget"

	"coilward/model/drawing"
	"coilward/ui/look"
)

// strokes are the lines of a sign on a grid of 24, in one width.
func (s Sign) strokes() []drawing.Path {
	line := func(xy ...float64) drawing.Path { return drawing.Polyline(drawing.Points(xy...)...) }
	curve := func(xy ...float64) drawing.Path { return drawing.Curve(drawing.Points(xy...)...) }
	closed := func(xy ...float64) drawing.Path { return drawing.Polygon(drawing.Points(xy...)...) }
	circle := func(x, y, r float64) drawing.Path { return drawing.Circle(drawing.Point{X: x, Y: y}, r) }
	switch s {
	case SignFeed:
		return []drawing.Path{curve(3.5, 12.5, 6, 18, 12, 19.5, 18, 18, 20.5, 12.5), line(2.5, 12.5, 21.5, 12.5), curve(9, 9.5, 8, 7.5, 9.5, 6, 8.5, 4), curve(14, 9.5, 13, 7.5, 14.5, 6, 13.5, 4)}
	case SignWeigh:
		return []drawing.Path{circle(12, 6, 2.3), closed(8, 10, 16, 10, 19, 20, 5, 20)}
	case SignLook:
		return []drawing.Path{drawing.Blob(drawing.Points(3, 12, 7.5, 8, 12, 6.8, 16.5, 8, 21, 12, 16.5, 16, 12, 17.2, 7.5, 16)...), circle(12, 12, 2.6)}
	case SignCheck:
		return []drawing.Path{circle(10.5, 10.5, 6.2), line(15.2, 15.2, 20.5, 20.5)}
	case SignMites:
		return []drawing.Path{drawing.Ellipse(drawing.Point{X: 12, Y: 13}, 4.6, 5.6, 0), line(7.6, 11, 4, 8.5), line(16.4, 11, 20, 8.5), line(7.2, 14, 3.5, 14.5), line(16.8, 14, 20.5, 14.5),
			line(8.4, 17, 5.5, 20), line(15.6, 17, 18.5, 20), line(10.5, 7.5, 9.5, 4.5), line(13.5, 7.5, 14.5, 4.5)}
	case SignClean:
		return []drawing.Path{line(17.5, 3.5, 11, 11.5), closed(8.5, 10.5, 13.5, 14.5, 9.5, 20.5, 3.5, 16.5), line(9, 13.8, 6.2, 18.2)}
	case SignSwab:
		return []drawing.Path{line(4, 20, 14.5, 9.5), drawing.Ellipse(drawing.Point{X: 17, Y: 7}, 3.6, 2.2, -math.Pi/4)}
	case SignDose:
		return []drawing.Path{line(19.5, 4.5, 16.5, 7.5), closed(10, 8.5, 15.5, 14, 9, 20, 4, 15), line(13.2, 5.8, 18.2, 10.8), line(6.5, 17.5, 3.5, 20.5)}
	case SignVet:
		return []drawing.Path{closed(4, 8, 20, 8, 20, 19.5, 4, 19.5), line(9, 8, 9, 5, 15, 5, 15, 8), line(12, 11, 12, 16.5), line(9.25, 13.75, 14.75, 13.75)}
	case SignShed:
		return []drawing.Path{curve(5, 20, 10, 19, 10, 14, 12, 12, 14, 10, 14, 5, 19, 4), curve(10, 20.5, 14, 18, 14, 15, 16, 12.8, 18, 10, 18, 7, 20.5, 6)}
	case SignWater:
		return []drawing.Path{drawing.Blob(drawing.Points(12, 4, 15.5, 9.5, 17.5, 14, 15.5, 18.5, 12, 20, 8.5, 18.5, 6.5, 14, 8.5, 9.5)...)}
	case SignWarmth:
		return []drawing.Path{line(10, 14, 10, 5.5, 14, 5.5, 14, 14), circle(12, 17.2, 3.2)}
	case SignPost:
		return []drawing.Path{closed(12, 4, 20, 8, 20, 16.5, 12, 20.5, 4, 16.5, 4, 8), line(4, 8, 12, 12, 20, 8), line(12, 12, 12, 20.5)}
	case SignPhone:
		return []drawing.Path{drawing.Blob(drawing.Points(5, 4, 8, 4.5, 9.5, 8, 8, 10.5, 13.5, 16, 16, 14.5, 19.5, 16, 20, 19, 17, 20.5, 8.5, 15.5, 3.5, 7)...)}
	case SignFound:
		return []drawing.Path{line(8, 3.5, 16, 3.5), curve(9, 3.5, 9, 10, 9, 17, 12, 20, 15, 17, 15, 10, 15, 3.5), line(12, 9.5, 12, 15), line(9.25, 12.25, 14.75, 12.25)}
	case SignRelease:
		return []drawing.Path{line(12, 4, 4.5, 4, 4.5, 20, 12, 20), line(9, 12, 20, 12), line(16, 8, 20, 12, 16, 16)}
	case SignClothes:
		return []drawing.Path{closed(9, 4, 15, 4, 21, 8.5, 18.5, 12, 16.5, 10.5, 16.5, 20, 7.5, 20, 7.5, 10.5, 5.5, 12, 3, 8.5)}
	case SignLamp:
		return []drawing.Path{circle(12, 9.5, 5.5), line(9.5, 15, 9.5, 18, 14.5, 18, 14.5, 15), line(10, 20.5, 14, 20.5)}
	case SignNote:
		return []drawing.Path{closed(5.5, 3.5, 18.5, 3.5, 18.5, 20.5, 5.5, 20.5), line(8.5, 8.5, 15.5, 8.5), line(8.5, 12, 15.5, 12), line(8.5, 15.5, 13, 15.5)}
	case SignDay:
		return []drawing.Path{closed(4, 6, 20, 6, 20, 20, 4, 20), line(4, 10, 20, 10), line(8, 3.5, 8, 7.5), line(16, 3.5, 16, 7.5), circle(12, 15, 1.6)}
	case SignGauge:
		return []drawing.Path{curve(4.7, 17.5, 3.5, 11, 7, 6.5, 12, 5, 17, 6.5, 20.5, 11, 19.3, 17.5), line(12, 13.5, 16, 8.5), circle(12, 14.5, 1.4)}
	case SignRoom:
		return []drawing.Path{closed(5, 3.5, 14, 3.5, 14, 20.5, 5, 20.5), line(14, 5.5, 19, 3.5, 19, 20.5, 14, 20.5), circle(11.2, 12, .9)}
	case SignFreezer:
		return []drawing.Path{line(12, 3.5, 12, 20.5), line(4.6, 7.8, 19.4, 16.2), line(4.6, 16.2, 19.4, 7.8), line(9.5, 4.5, 12, 7, 14.5, 4.5), line(9.5, 19.5, 12, 17, 14.5, 19.5)}
	case SignPhotos:
		return []drawing.Path{closed(3.5, 7.5, 8, 7.5, 9.5, 5, 14.5, 5, 16, 7.5, 20.5, 7.5, 20.5, 19, 3.5, 19), circle(12, 13, 3.6)}
	}
	return []drawing.Path{circle(12, 12, 4)}
}

// picture is the sign in a tone, side × side pixels of the screen.
func (b *brush) sign(s Sign, x, y, side float32, tone look.Tone) {
	pixels := int(side*b.k + .5)
	key := signKey{s, pixels, tone}
	picture, ok := b.kept.signs[key]
	if !ok {
		picture = image.NewRGBA(image.Rect(0, 0, pixels, pixels))
		k := float64(pixels) / 24
		inner := brush{picture: picture, pen: newPen(picture), k: 1, kept: b.kept}
		for _, path := range s.strokes() {
			inner.pen.StrokeIn(path.Transform(drawing.Scale(k, k)), 1.7*k, look.Of(tone))
		}
		b.kept.signs[key] = picture
	}
	b.lay(picture, x-side/2, y-side/2)
}

// mark draws a class's mark about a point.
func (b *brush) mark(c Class, x, y, r float32) {
	tone := c.tone()
	switch c {
	case Resident:
		b.stroke(rounded(x-r*.75, y-r*.75, r*1.5, r*1.5, 1.5), max(1.3, r*.22), tone)
	case LookAgain:
		b.stroke(circle(x, y, r*.85), max(1.4, r*.24), tone)
		b.fill(circle(x, y, r*.34), tone)
	case NearPositive:
		b.halfDiamond(x, y, r, tone)
	case Newcomer:
		w := max(1.4, r*.24)
		b.stroke(polyline(x-r*.8, y-r, x-r*.8, y+r), w, tone)
		b.stroke(polyline(x+r*.8, y-r, x+r*.8, y+r), w, tone)
		b.stroke(polyline(x-r*.8, y-r*.35, x+r*.8, y-r*.35), w, tone)
		b.stroke(polyline(x-r*.8, y+r*.45, x+r*.8, y+r*.45), w, tone)
	case Ill:
		b.fill(polygon(x, y-r*1.05, x+r*1.15, y+r*.9, x-r*1.15, y+r*.9), tone)
		b.stroke(polyline(x, y-r*.3, x, y+r*.25), max(1.2, r*.22), look.Sheet)
		b.fill(circle(x, y+r*.6, max(.8, r*.13)), look.Sheet)
	}
}

func (c Class) tone() look.Tone {
	return [...]look.Tone{look.Soft, look.Again, look.Days, look.Ink, look.Today}[c]
}

func (c Class) ground() look.Tone {
	return [...]look.Tone{look.Sheet, look.Sheet, look.DaysBg, look.Sheet, look.TodayBg}[c]
}

// classLine draws a class's line from x0 to x1.
func (b *brush) classLine(c Class, x0, x1, y float32) {
	tone := c.tone()
	switch c {
	case Resident:
		b.rect(x0, y-.5, x1-x0, 1, look.Edge)
	case LookAgain:
		for x := x0 + 1; x <= x1-1; x += 5 {
			b.rect(x-1, y-1, 2, 2, tone)
		}
	case NearPositive:
		for x := x0; x < x1; x += 11 {
			b.rect(x, y-1, min(7, x1-x), 2, tone)
		}
	case Newcomer:
		b.rect(x0, y-2, x1-x0, 1, tone)
		b.rect(x0, y+1, x1-x0, 1, tone)
	case Ill:
		b.rect(x0, y-1.5, x1-x0, 3, tone)
	}
}

// halfDiamond is the mark of what is late or near a positive.
func (b *brush) halfDiamond(x, y, r float32, tone look.Tone) {
	b.fill(polygon(x, y-r, x+r, y, x, y+r, x-r, y), look.Sheet)
	b.fill(polygon(x, y-r, x+r, y, x, y+r), tone)
	b.stroke(append(polyline(x, y-r, x+r, y, x, y+r, x-r, y), drawing.Segment{Operation: drawing.Close}), max(1.1, r*.18), tone)
}

// state draws how a box stands in a walk.
func (b *brush) state(s State, x, y, r float32) {
	tone := s.tone()
	switch s {
	case Good:
		b.stroke(polyline(x-r*.75, y+r*.05, x-r*.2, y+r*.6, x+r*.8, y-r*.6), max(1.7, r*.26), tone)
	case Bad:
		b.stroke(polyline(x-r*.6, y-r*.6, x+r*.6, y+r*.6), max(1.7, r*.26), tone)
		b.stroke(polyline(x-r*.6, y+r*.6, x+r*.6, y-r*.6), max(1.7, r*.26), tone)
	case Passed:
		b.rect(x-r*.7, y-max(1.7, r*.24)/2, r*1.4, max(1.7, r*.24), tone)
	case Overdue:
		b.halfDiamond(x, y, r*.95, tone)
	case ToDo:
		b.stroke(circle(x, y, r*.7), max(1.3, r*.2), tone)
	}
}

func (s State) tone() look.Tone {
	return [...]look.Tone{look.Faint, look.Soft, look.Days, look.Accent, look.Days, look.Soft}[s]
}

// ground is the fill and the outline of a box in a walk.
func (s State) ground() (fill, line look.Tone) {
	switch s {
	case Good:
		return look.Wash, look.Edge
	case Bad:
		return look.DaysBg, look.Days
	case Resting:
		return look.Paper, look.Hair
	}
	return look.Sheet, look.Edge
}

// NewMark is a class's mark, for legends.
func NewMark(c Class) fyne.CanvasObject {
	m := &classMark{class: c}
	m.picture = canvas.NewRaster(m.paint)
	m.ExtendBaseWidget(m)
	return m
}

type classMark struct {
	widget.BaseWidget
	class   Class
	picture *canvas.Raster
}

func (m *classMark) paint(w, h int) image.Image {
	b := newBrush(w, h, m.Size().Width, &kept{})
	b.mark(m.class, m.Size().Width/2, m.Size().Height/2, min(m.Size().Width, m.Size().Height)*.4)
	return b.picture
}

// MinSize implements fyne.CanvasObject.
func (m *classMark) MinSize() fyne.Size { return fyne.NewSquareSize(12) }

// CreateRenderer implements fyne.Widget.
func (m *classMark) CreateRenderer() fyne.WidgetRenderer { return widget.NewSimpleRenderer(m.picture) }
