package demo

import (
	"image/color"
	"math"

	"coilward/model/animals"
	"coilward/model/drawing"
)

// skin is how an animal looks: the colours of its coat as its emblem has them, and
// how they lie.
type skin struct {
	ground, marking color.NRGBA
	spotted         bool // small blots in rows in place of saddles
	bare            bool // long stretches without any marking
}

// skinOf is the look of an animal by its coat and species.
func skinOf(a animals.Animal, bare bool) skin {
	grounds := []color.NRGBA{hue(0xB9A878), hue(0xD9B98A), hue(0xC98F6B), hue(0xE8DDC6), hue(0xE0BD74), hue(0xA38A62), hue(0xEFE6D6), hue(0xEFE6D6)}
	markings := []color.NRGBA{hue(0x3C3426), hue(0x5B3D26), hue(0x2E2A26), hue(0xD9A53E), hue(0x7A4C1E), hue(0x584A3A), hue(0x4A3A30), hue(0xD2B48C)}
	return skin{ground: grounds[int(a.Coat.Ground)%len(grounds)], marking: markings[int(a.Coat.Markings)%len(markings)], spotted: a.Species == "antaresia-childreni", bare: bare}
}

// laid is an animal laid along a curve, from the neck to the tail tip.
type laid struct {
	line []drawing.Point // in even steps
	half float64         // of the widest place, in pixels
}

// point is the place at a share of the length and across: −1 the left edge, 1 the right.
func (l laid) point(along, across float64) drawing.Point {
	n := len(l.line)
	i := max(1, min(n-2, int(along*float64(n-1))))
	ahead := l.line[i+1].Sub(l.line[i-1])
	ahead = ahead.Mul(1 / ahead.Length())
	return l.line[i].Add(drawing.Point{X: -ahead.Y, Y: ahead.X}.Mul(across * l.width(along)))
}

// width is half the thickness at a share of the length, in pixels.
func (l laid) width(along float64) float64 {
	switch {
	case along < .45:
		return l.half * (.56 + .44*math.Sin(along/.45*math.Pi/2))
	case along < .86:
		return l.half * (1 - .45*(along-.45)/.41)
	}
	return l.half * (.55 - .5*math.Pow((along-.86)/.14, 1.2))
}

// strip is the outline of the body between two lines across.
func (l laid) strip(from, to, left, right float64) drawing.Path {
	var there, back []drawing.Point
	steps := max(8, int(float64(len(l.line))*(to-from)))
	for i := range steps + 1 {
		u := from + (to-from)*float64(i)/float64(steps)
		there = append(there, l.point(u, left))
		back = append(back, l.point(u, right))
	}
	for i := len(back) - 1; i >= 0; i-- {
		there = append(there, back[i])
	}
	return drawing.Polygon(there...)
}

// patch is a rounded place on the body, with edges as uneven as chance has it.
func (b *brush) patch(l laid, along, across, long, broad float64) drawing.Path {
	var points []drawing.Point
	const corners = 12
	for i := range corners {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / corners)
		k := b.between(.8, 1.15)
		points = append(points, l.point(along+long*cos*k, max(-.97, min(.97, across+broad*sin*k))))
	}
	return drawing.Blob(points...)
}

// snake draws the animal: its shadow, its body rounded by light from the upper
// left, its markings, and its head.
func (b *brush) snake(l laid, s skin) {
	for _, soft := range []float64{1.24, 1.12} {
		b.fill(l.strip(0, .995, -soft, soft).Transform(drawing.Translate(7, 10)), faint(black, .16))
	}
	edge := blend(s.ground, black, .5)
	b.fill(l.strip(0, .995, -1, 1), edge)
	for k := range 7 {
		in := .94 - .12*float64(k)
		b.fill(l.strip(0, .992, -in-.04*float64(k), in-.06*float64(k)), blend(edge, s.ground, .3+.1*float64(k)))
	}
	b.markings(l, s)
	b.scales(l)
	b.fill(l.strip(.02, .9, -.46, -.24), faint(white, .13))
	b.head(l, s)
}

// markings are saddles with a lighter heart, or blots in rows.
func (b *brush) markings(l laid, s skin) {
	if s.spotted {
		for u := .03; u < .95; u += .012 {
			b.fill(b.patch(l, u, b.between(-.7, .7), .005, b.between(.12, .22)), faint(s.marking, .8))
		}
		return
	}
	u := .035
	for u < .95 {
		long := b.between(.010, .019)
		if s.bare && u > .3 && u < .62 {
			u += .05
			continue
		}
		b.fill(b.patch(l, u, b.between(-.12, .12), long, b.between(.62, .8)), faint(s.marking, .92))
		if b.chance.IntN(3) > 0 {
			b.fill(b.patch(l, u, b.between(-.3, .3), long*.4, .16), faint(s.ground, .75))
		}
		side := 1 - 2*float64(b.chance.IntN(2))
		b.fill(b.patch(l, u+long*1.5, side*.62, .006, .14), faint(s.marking, .85))
		u += 2.1*long + b.between(.004, .012)
	}
}

// scales are the net of fine lines that only a closer look shows.
func (b *brush) scales(l laid) {
	if l.half < 18 {
		return
	}
	rows := int(l.half / 9)
	step := 14 / l.length()
	for i := -rows; i <= rows; i++ {
		for u := .01; u < .93; u += step {
			v := float64(i) / float64(rows+1)
			next := v + 1/float64(rows+1)
			if next > .96 || v < -.96 {
				continue
			}
			b.line(.9, faint(black, .16), l.point(u, v), l.point(u+step/2, next), l.point(u+step, v))
		}
	}
}

// length is the length of the curve in pixels.
func (l laid) length() float64 {
	sum := 0.0
	for i := 1; i < len(l.line); i++ {
		sum += l.line[i].Sub(l.line[i-1]).Length()
	}
	return sum
}

// head is the head at the beginning of the curve, seen from above.
func (b *brush) head(l laid, s skin) {
	neck, behind := l.line[0], l.line[min(6, len(l.line)-1)]
	ahead := neck.Sub(behind)
	ahead = ahead.Mul(1 / ahead.Length())
	b.skull(neck, ahead, l.half*1.15, s)
}

// skull draws a head seen from above; unit is half its greatest width.
func (b *brush) skull(neck, ahead drawing.Point, unit float64, s skin) {
	at := func(along, across float64) drawing.Point { return headAt(neck, ahead, unit, along, across) }
	outline := drawing.Blob(at(-.5, -.52), at(.1, -.98), at(.8, -.86), at(1.5, -.5), at(1.88, 0), at(1.5, .5), at(.8, .86), at(.1, .98), at(-.5, .52))
	b.fill(outline.Transform(drawing.Translate(unit*.14, unit*.2)), faint(black, .22))
	b.fill(outline, blend(s.ground, black, .35))
	b.fill(drawing.Blob(at(-.5, -.46), at(.1, -.88), at(.8, -.76), at(1.45, -.42), at(1.8, 0), at(1.45, .42), at(.8, .76), at(.1, .88), at(-.5, .46)), s.ground)
	b.fill(drawing.Blob(at(-.6, -.3), at(.2, -.52), at(1, -.44), at(1.62, -.2), at(1.72, 0), at(1.62, .2), at(1, .44), at(.2, .52), at(-.6, .3)), faint(s.marking, .9))
	b.line(unit*.07, faint(s.ground, .8), at(-.4, 0), at(.9, 0))
	for _, side := range []float64{-1, 1} {
		b.fill(drawing.Circle(at(.92, side*.7), unit*.17), hue(0x2A2119))
		b.fill(drawing.Circle(at(.96, side*.72), unit*.12), hue(0x6B4A20))
		b.fill(drawing.Ellipse(at(.96, side*.72), unit*.11, unit*.04, math.Atan2(ahead.Y, ahead.X)), black)
		b.fill(drawing.Circle(at(1.0, side*.72-.05), unit*.035), faint(white, .9))
		b.fill(drawing.Circle(at(1.66, side*.2), unit*.05), black)
	}
}

// headAt is a place on a head: along from the neck to the snout, across to the right.
func headAt(neck, ahead drawing.Point, unit, along, across float64) drawing.Point {
	return neck.Add(ahead.Mul(along * unit)).Add(drawing.Point{X: -ahead.Y, Y: ahead.X}.Mul(across * unit))
}

// evenly walks a curve, whose parameter runs from 0 to 1, in steps of about step
// pixels, and not further than longest.
func evenly(curve func(float64) drawing.Point, step, longest float64) []drawing.Point {
	const fine = 4000
	line := []drawing.Point{curve(0)}
	before, walked, all := line[0], 0.0, 0.0
	for i := 1; i <= fine && all < longest; i++ {
		p := curve(float64(i) / fine)
		d := p.Sub(before).Length()
		walked, all, before = walked+d, all+d, p
		if walked >= step {
			line, walked = append(line, p), 0
		}
	}
	return line
}

// stretched is the curve of an animal on paper, so many pixels long.
func stretched(longest float64) []drawing.Point {
	return evenly(func(u float64) drawing.Point {
		x := 80 + 840*u
		return drawing.Point{X: x, Y: 330 + 132*math.Sin(x/104) + 14*math.Sin(x/47)}
	}, 5, longest)
}

// coiled is the curve of an animal that lies in a spiral, from its head inside to
// its tail.
func coiled(middle drawing.Point, radius, turned float64) []drawing.Point {
	return evenly(func(u float64) drawing.Point {
		sin, cos := math.Sincos(turned + 2*math.Pi*1.9*u)
		reach := radius * (.2 + .8*u)
		return drawing.Point{X: middle.X + reach*cos, Y: middle.Y + .9*reach*sin}
	}, 5, math.MaxFloat64)
}
