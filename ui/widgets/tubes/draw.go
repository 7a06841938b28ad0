package tubes

import (
	"image"

	"fyne.io/fyne/v2"

	"coilward/model/drawing"
	"coilward/model/pixel"
	"coilward/ui/look"
	"coilward/ui/widgets"
)

// toneOf is the tone of a sign.
func toneOf(s Sign) look.Tone {
	switch s {
	case Late:
		return look.Days
	case Found:
		return look.Today
	case NotFound:
		return look.Often
	case NoAnswer:
		return look.Again
	}
	return look.Edge
}

// brush paints a plan: lengths in pixels of the window, k pixels of the screen
// each.
type brush struct {
	pen *pixel.Pen
	k   float64
}

func (b brush) fill(p drawing.Path, tone look.Tone) {
	b.pen.FillIn(p.Transform(drawing.Scale(b.k, b.k)), look.Of(tone))
}

func (b brush) stroke(p drawing.Path, width float64, tone look.Tone) {
	b.pen.StrokeIn(p.Transform(drawing.Scale(b.k, b.k)), width*b.k, look.Of(tone))
}

func box(x, y, w, h, r float32) drawing.Path {
	return drawing.RoundedBox(drawing.Box(float64(x), float64(y), float64(x+w), float64(y+h)), float64(r))
}

func line(xy ...float32) drawing.Path {
	points := make([]float64, len(xy))
	for i, v := range xy {
		points[i] = float64(v)
	}
	return drawing.Polyline(drawing.Points(points...)...)
}

// paint draws all that is no word.
func (p plan) paint(picture *image.RGBA, bands []Band) {
	if p.width <= 0 {
		return
	}
	b := brush{pixel.NewPen(picture, drawing.Palette{}), float64(picture.Rect.Dx()) / float64(p.width)}
	right := p.width - 4
	for i, s := range p.strips {
		left := p.gutter + 8
		b.fill(box(left, s.y, right-left, s.height, look.RBase), look.OftenBg)
		if mark := bands[i].Mark; mark > 0 && s.lanes > 0 {
			x := p.at(mark)
			b.fill(box(x, s.y, right-x, s.height, look.RBase), look.DaysBg)
			b.dashes(x, s.y-markHeight+4, s.y+s.height)
		}
		for day := 0; day <= p.days; day += p.step {
			x := p.at(day)
			b.stroke(line(x, s.y, x, s.y+4), 1, look.Edge)
		}
		if i > 0 {
			x, y := left+7, s.y-markHeight/2
			b.stroke(line(x-4, y-2.5, x, y+2, x+4, y-2.5), 1.5, look.Edge)
		}
	}
	for _, s := range p.slots {
		if s.Mark > 0 && s.Mark != bands[s.band].Mark && len(s.keys) == 1 {
			b.dashes(p.at(s.Mark), s.y-2, s.y+tubeHeight+2)
		}
	}
	for _, s := range p.slots {
		b.tube(s)
	}
}

// dashes is an upright line of dashes: a mark of days.
func (b brush) dashes(x, from, to float32) {
	for y := from; y < to; y += 7 {
		b.stroke(line(x, y, x, min(y+4, to)), 1.5, look.Days)
	}
}

// glass is the outline of a tube that lies, its round end at the right.
func glass(x, y, w, h float32) drawing.Path {
	r := float64(h / 2)
	var p drawing.Path
	x0, y0, x1, y1 := float64(x), float64(y), float64(x+w)-r, float64(y+h)
	const round = 0.5522847498
	p.MoveTo(drawing.Point{X: x0, Y: y0})
	p.LineTo(drawing.Point{X: x1, Y: y0})
	p.CubicTo(drawing.Point{X: x1 + r*round, Y: y0}, drawing.Point{X: x1 + r, Y: y0 + r - r*round}, drawing.Point{X: x1 + r, Y: y0 + r})
	p.CubicTo(drawing.Point{X: x1 + r, Y: y1 - r + r*round}, drawing.Point{X: x1 + r*round, Y: y1}, drawing.Point{X: x1, Y: y1})
	p.LineTo(drawing.Point{X: x0, Y: y1})
	p.Close()
	return p
}

func (b brush) tube(s slot) {
	tone := toneOf(s.Sign)
	fill, edge, width := look.Sheet, tone, 1.25
	if s.Chosen {
		fill, edge, width = look.Wash, look.Accent, 2
	}
	if len(s.keys) > 1 { // those behind it show at its end
		for back := float32(2); back > 0; back-- {
			behind := glass(s.x+capWidth+back*3, s.y+2+back*2, s.w-capWidth, tubeHeight-4)
			b.fill(behind, look.Sheet)
			b.stroke(behind, 1, look.Edge)
		}
	}
	body := glass(s.x+capWidth-4, s.y+2, s.w-capWidth+4, tubeHeight-4)
	b.fill(body, fill)
	b.stroke(body, width, edge)
	b.fill(box(s.x, s.y, capWidth, tubeHeight, 5), tone)
	if s.Chosen {
		b.stroke(line(s.x+5, s.y+22, s.x+9, s.y+26.5, s.x+15.5, s.y+17.5), 2.2, look.Sheet)
	} else {
		for _, dy := range []float32{11, 18.5, 26, 33.5} { // the ribs that a cap is turned by
			b.stroke(line(s.x+5, s.y+dy, s.x+capWidth-5, s.y+dy), 1.2, look.Sheet)
		}
	}
	b.sign(s.Sign, s.x+capWidth+13, s.y+31)
	if s.actW > 0 {
		pill := box(s.actX, s.y+8, s.actW, tubeHeight-16, (tubeHeight-16)/2)
		b.fill(pill, look.Sheet)
		b.stroke(pill, 1.25, look.Accent)
	}
}

// sign draws the mark of a sign about a point.
func (b brush) sign(s Sign, x, y float32) {
	tone, c := toneOf(s), drawing.Point{X: float64(x), Y: float64(y)}
	switch s {
	case Late:
		b.fill(drawing.Polygon(drawing.Points(float64(x), float64(y-6), float64(x+6), float64(y), float64(x), float64(y+6), float64(x-6), float64(y))...), tone)
	case Found:
		b.fill(drawing.Polygon(drawing.Points(float64(x), float64(y-6), float64(x+6.5), float64(y+5.5), float64(x-6.5), float64(y+5.5))...), tone)
	case NotFound:
		b.stroke(drawing.Circle(c, 5.5), 1.4, tone)
	case NoAnswer:
		b.stroke(drawing.Circle(c, 5.5), 1.4, tone)
		b.stroke(line(x-2.4, y, x+2.4, y), 1.4, tone)
	}
}

// text sets one line about y, no wider than most.
func text(words string, kind look.Type, tone look.Tone, x, y, most float32) fyne.CanvasObject {
	t := widgets.Line(words, kind, tone).Cuts()
	t.Move(fyne.NewPos(round(x), round(y-kind.Line/2)))
	t.Resize(fyne.NewSize(min(most, kind.Width(words)+1), kind.Line))
	return t
}

// words are all words of a plan.
func (p plan) words(bands []Band, words Words) []fyne.CanvasObject {
	var all []fyne.CanvasObject
	end := float32(0) // of the figure before: one that has no room is left out
	for day := 0; day <= p.days; day += p.step {
		said := words.Days(day)
		half := look.Note.Width(said) / 2
		x := p.at(day) - half*float32(min(day, 1))
		if x < end || x+2*half > p.width {
			continue
		}
		all = append(all, text(said, look.Note, look.Faint, x, 10, 80))
		end = x + 2*half + 12
	}
	for i, s := range p.strips {
		all = append(all, text(bands[i].Title, look.Section, look.Ink, 0, s.y+15, p.gutter))
		if bands[i].Below != "" && s.lanes > 0 {
			all = append(all, text(bands[i].Below, look.Note, look.Soft, 0, s.y+36, p.gutter))
		}
		if bands[i].Note != "" && s.lanes > 0 {
			x := p.gutter + 28
			all = append(all, text(bands[i].Note, look.Note, look.Soft, x, s.y-markHeight/2+1, p.width-4-x))
		}
		if bands[i].Mark > 0 && s.lanes > 0 {
			x := p.at(bands[i].Mark) + 6
			all = append(all, text(bands[i].MarkSaid, look.Note, look.Days, x, s.y-markHeight/2+1, p.width-4-x))
		}
	}
	for _, s := range p.slots {
		left := s.x + capWidth + 7
		most := s.x + s.w - 16 - left
		if s.actW > 0 {
			most = s.actX - 6 - left
			all = append(all, text(s.Act, look.NoteBold, look.Accent, s.actX+11, s.y+tubeHeight/2, s.actW-11))
		}
		all = append(all, text(s.Name, look.BodyBold, look.Ink, left, s.y+14, most))
		kind, tone, indent := look.Note, look.Soft, float32(0)
		if s.Sign != OnWay && s.Sign != Ahead {
			kind, tone, indent = look.NoteBold, toneOf(s.Sign), 17
		}
		all = append(all, text(s.Line, kind, tone, left+indent, s.y+31, most-indent))
	}
	return all
}
