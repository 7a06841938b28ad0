package demo

import (
	"math"

	"coilward/model/body"
	"coilward/model/drawing"
	"coilward/model/exam"
	"coilward/model/knowledge"
)

// flank draws a stretch of the trunk from near, with a finding in its middle: from
// above for the back and the sides, from below for the belly.
func (b *brush) flank(s skin, g exam.Glimpse, what knowledge.FindingID) {
	b.paper(4)
	tilt := b.between(-.08, .08)
	l := laid{half: 205, line: evenly(func(u float64) drawing.Point {
		x := -260 + (wide+520)*u
		return drawing.Point{X: x, Y: 330 + tilt*(x-wide/2) + 26*math.Sin(x/240)}
	}, 6, math.MaxFloat64)}
	below := g.Place.Angle > 90 || g.Place.Angle < -90
	b.trunk(l, s, below)
	across := float64(g.Place.Angle) / 90 * .7
	if below {
		across = (180 - math.Abs(float64(g.Place.Angle))) / 90
		if g.Place.Angle > 0 {
			across = -across
		}
	}
	b.finding(l, .5, across, g, what)
}

// trunk is a stretch of the body without head and tail, all of one width.
func (b *brush) trunk(l laid, s skin, below bool) {
	at := func(u, v float64) drawing.Point {
		p := l.line[min(len(l.line)-1, int(u*float64(len(l.line)-1)))]
		return drawing.Point{X: p.X, Y: p.Y + v*l.half}
	}
	strip := func(top, bottom float64) drawing.Path {
		var there, back []drawing.Point
		for i := range 81 {
			there, back = append(there, at(float64(i)/80, top)), append(back, at(1-float64(i)/80, bottom))
		}
		return drawing.Polygon(append(there, back...)...)
	}
	ground := s.ground
	if below {
		ground = blend(s.ground, white, .72)
	}
	b.fill(strip(-1, 1.06).Transform(drawing.Translate(0, 16)), faint(black, .3))
	edge := blend(ground, black, .45)
	for k := range 14 {
		in := 1 - .055*float64(k)
		b.fill(strip(-in, in-.03*float64(k)), blend(edge, ground, min(1, .12+.075*float64(k))))
	}
	if below {
		for u := .0; u < 1; u += .035 {
			b.line(2.2, faint(black, .22), at(u, -.6), at(u+.008, 0), at(u, .6))
		}
		for _, v := range []float64{-.6, .6} {
			for u := .0; u < .99; u += .01 {
				b.line(1.6, faint(black, .2), at(u, v), at(u+.01, v))
			}
		}
		return
	}
	for u := .02; u < 1; u += b.between(.14, .2) {
		b.fill(b.blot(at(u, b.between(-.15, .15)), l.half*b.between(.3, .44), l.half*b.between(.5, .68)), faint(s.marking, .92))
		b.fill(b.blot(at(u+.085, b.between(-.5, .5)), l.half*.11, l.half*.14), faint(s.marking, .85))
	}
	const rows, columns = 15, 46
	for i := -rows; i < rows; i++ {
		for k := range columns {
			u, v := float64(k)/columns, float64(i)/rows
			b.line(1.3, faint(black, .2), at(u, v), at(u+.5/columns, v+1./rows), at(u+1./columns, v))
		}
	}
	b.fill(strip(-.62, -.4), faint(white, .12))
}

// blot is a rounded spot of that half length and half breadth, uneven by chance.
func (b *brush) blot(at drawing.Point, long, broad float64) drawing.Path {
	var points []drawing.Point
	const corners = 14
	for i := range corners {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / corners)
		k := b.between(.84, 1.14)
		points = append(points, drawing.Point{X: at.X + long*cos*k, Y: at.Y + broad*sin*k})
	}
	return drawing.Blob(points...)
}

// finding draws what was found on a stretch of the trunk, larger the graver it is.
func (b *brush) finding(l laid, along, across float64, g exam.Glimpse, what knowledge.FindingID) {
	p := l.line[int(along*float64(len(l.line)-1))]
	at := drawing.Point{X: p.X, Y: p.Y + max(-.8, min(.8, across))*l.half}
	r := 22 + 14*float64(g.Grade)
	if g.Size.Tenths > 0 {
		r = max(16, min(70, float64(g.Size.Tenths)/10*4/2*1.6))
	}
	switch what {
	case "":
	case "sore":
		b.fill(b.blot(at, r*1.5, r*1.2), faint(hue(0xB4574A), .45))
		b.fill(b.blot(at, r, r*.8), hue(0x9C3A30))
		b.fill(b.blot(at, r*.68, r*.5), hue(0x5A2A20))
		b.fill(b.blot(at.Add(drawing.Point{X: -r * .2, Y: -r * .2}), r*.3, r*.16), faint(hue(0xC88A5A), .8))
	case "scar":
		b.fill(b.blot(at, r*1.4, r*.5), faint(hue(0xD8C6AE), .85))
		b.line(2, faint(black, .3), at.Add(drawing.Point{X: -r}), at.Add(drawing.Point{X: r, Y: 4}))
	case "stuck-shed":
		b.fill(b.blot(at, r*1.8, r*1.1), faint(hue(0xEDE6D2), .62))
		for k := range 5 {
			y := at.Y - r + float64(k)*r*.5
			b.line(1.4, faint(hue(0x8C8266), .5), drawing.Point{X: at.X - r*1.5, Y: y}, drawing.Point{X: at.X + r*1.5, Y: y + b.between(-6, 6)})
		}
	case "lump":
		b.fill(b.blot(at.Add(drawing.Point{X: r * .3, Y: r * .4}), r*1.3, r*1.1), faint(black, .28))
		b.fill(drawing.Ellipse(at, r*1.15, r, 0), faint(white, .22))
		b.fill(drawing.Ellipse(at.Add(drawing.Point{X: -r * .3, Y: -r * .35}), r*.5, r*.36, 0), faint(white, .4))
	default:
		b.fill(b.blot(at, r, r*.8), faint(hue(0x7A3C30), .7))
	}
}

// face draws the head from near, from above or for the chin from below, with what
// was found on it; without a finding what is empty.
func (b *brush) face(s skin, what knowledge.FindingID, place body.Place) {
	b.paper(6)
	neck, ahead, unit := drawing.Point{X: 330 + b.between(-20, 20), Y: 340}, drawing.Point{X: 1}, 150.0
	at := func(along, across float64) drawing.Point { return headAt(neck, ahead, unit, along, across) }
	b.fill(drawing.Polygon(at(-3, -.62), at(-.4, -.54), at(-.4, .54), at(-3, .62)).Transform(drawing.Translate(10, 22)), faint(black, .25))
	b.fill(drawing.Polygon(at(-3, -.62), at(-.4, -.54), at(-.4, .54), at(-3, .62)), blend(s.ground, black, .25))
	b.fill(drawing.Polygon(at(-3, -.5), at(-.4, -.42), at(-.4, .42), at(-3, .5)), s.ground)
	if what == "mites" {
		pale := s
		pale.ground, pale.marking = blend(s.ground, white, .7), blend(s.ground, white, .55)
		b.chin(at, unit, pale)
		return
	}
	b.fill(drawing.Polygon(at(-3, -.26), at(-.4, -.3), at(-.4, .3), at(-3, .26)), faint(s.marking, .9))
	b.skull(neck, ahead, unit, s)
	side := 1.0
	if place.Region == body.EyeLeft || place.Region == body.NostrilLeft {
		side = -1
	}
	switch what {
	case "stuck-eye-cap":
		b.fill(drawing.Circle(at(.95, side*.71), unit*.165), faint(hue(0xD9D6CC), .82))
		for k := range 4 {
			y := -.09 + .06*float64(k)
			b.line(1.6, faint(hue(0x6E6A60), .7), at(.84, side*.71+y), at(1.06, side*.71+y*.6))
		}
	case "nose-rub":
		b.fill(b.blot(at(1.8, 0), unit*.09, unit*.2), hue(0xB5564C))
		b.fill(b.blot(at(1.82, 0), unit*.05, unit*.1), hue(0x8A3730))
	case "nostril-discharge":
		b.fill(drawing.Circle(at(1.73, side*.22), unit*.13), faint(hue(0xDDE8EA), .62))
		b.fill(drawing.Circle(at(1.70, side*.22-.03), unit*.04), faint(white, .95))
	}
}

// chin draws a head from below, with mites in its groove.
func (b *brush) chin(at func(along, across float64) drawing.Point, unit float64, s skin) {
	b.fill(drawing.Blob(at(-.5, -.52), at(.1, -.96), at(.8, -.84), at(1.5, -.48), at(1.82, 0), at(1.5, .48), at(.8, .84), at(.1, .96), at(-.5, .52)), blend(s.ground, black, .2))
	b.fill(drawing.Blob(at(-.5, -.46), at(.1, -.86), at(.8, -.74), at(1.42, -.4), at(1.72, 0), at(1.42, .4), at(.8, .74), at(.1, .86), at(-.5, .46)), s.ground)
	for _, side := range []float64{-1, 1} {
		b.line(2.4, faint(black, .35), at(-.3, side*.5), at(.6, side*.56), at(1.3, side*.32))
	}
	b.line(5, hue(0x6E5C48), at(.35, 0), at(1.5, 0))
	for range 3 {
		b.fill(drawing.Circle(at(b.between(.5, 1.4), b.between(-.05, .05)), unit*.028), black)
	}
}
