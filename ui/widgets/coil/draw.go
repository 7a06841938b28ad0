// Package coil draws an animal as a coil seen from above: its emblem until it
// has a photo.
package coil

import (
	"image/color"
	"math"

	"coilward/model/drawing"
)

// Coat is how an animal is coloured: a ground and markings, each a number of a
// colour. A number that there is not is taken round from the first.
type Coat struct{ Ground, Markings uint8 }

// Grounds are the ground colours that may be chosen.
func Grounds() []color.NRGBA {
	return []color.NRGBA{
		opaque(0xB9BE98), opaque(0xD9B98A), opaque(0xC98F6B), opaque(0xB5AFA3),
		opaque(0xE9D9AE), opaque(0x8C7B62), opaque(0x93A3AB), opaque(0xEFE6D6),
	}
}

// MarkingColours are the colours of markings that may be chosen.
func MarkingColours() []color.NRGBA {
	return []color.NRGBA{
		opaque(0x3F6B63), opaque(0x6B4A2F), opaque(0x33302C), opaque(0x8A3F2B),
		opaque(0xB98532), opaque(0x4C5A70), opaque(0x7B6E8C), opaque(0xD2B48C),
	}
}

func opaque(v uint32) color.NRGBA {
	return color.NRGBA{R: uint8(v >> 16), G: uint8(v >> 8), B: uint8(v), A: 255}
}

// colours puts the coat into a palette, on a disc that is a breath of its ground.
func (c Coat) colours(base drawing.Palette, dark bool) drawing.Palette {
	grounds, markings := Grounds(), MarkingColours()
	ground, marking := grounds[int(c.Ground)%len(grounds)], markings[int(c.Markings)%len(markings)]
	share := .6
	if dark {
		night := color.NRGBA{R: 0x1C, G: 0x1E, B: 0x1C, A: 255}
		ground, marking, share = mix(ground, night, .16), mix(marking, night, .1), .72
	}
	base[drawing.Well] = mix(ground, base[drawing.Sheet], share)
	base[drawing.Skin], base[drawing.Blotch] = ground, marking
	base[drawing.Outline] = mix(mix(marking, opaque(0x222220), .35), ground, .2)
	return base
}

// mix is a, with a share k of b in it.
func mix(a, b color.NRGBA, k float64) color.NRGBA {
	f := func(x, y uint8) uint8 { return uint8(float64(x)*(1-k) + float64(y)*k + .5) }
	return color.NRGBA{R: f(a.R, b.R), G: f(a.G, b.G), B: f(a.B, b.B), A: 255}
}

// Draw draws the coil into a disc of radius r about c. It is turned and mirrored
// by the animal's name, so that no two neighbours look stamped.
func Draw(pen drawing.Pen, c drawing.Point, r float64, name string) {
	pen.Fill(drawing.Circle(c, r), drawing.Well, 1)
	s := shape(c, r, name)
	s.trunk(pen)
	s.head(pen)
}

// snake is the coil's middle line, in even steps from the tail tip to the neck.
type snake struct {
	line []drawing.Point
	r    float64
	tiny bool // too small for saddles: one band, fewer turns
}

func shape(c drawing.Point, r float64, name string) snake {
	hash := 7
	for _, b := range []byte(name) {
		hash = (hash*31 + int(b)) % 100003
	}
	direction := 1.0
	if hash&4 != 0 {
		direction = -1
	}
	s := snake{r: r * 1.06, tiny: r < 15}
	turns := 1.42
	if s.tiny {
		turns = 1.12
	}
	spiral := func(u float64) drawing.Point {
		sin, cos := math.Sincos(float64(hash%97)/97*2*math.Pi + direction*2*math.Pi*turns*u)
		reach := s.r * (.10 + .58*u)
		return drawing.Point{X: c.X + reach*cos, Y: c.Y + reach*sin}
	}
	s.line = evenly(spiral, s.r*.04)
	return s
}

// evenly walks a curve in steps of equal length.
func evenly(curve func(u float64) drawing.Point, step float64) []drawing.Point {
	const fine = 800
	var line []drawing.Point
	before, walked := curve(0), 0.0
	for i := 1; i <= fine; i++ {
		p := curve(float64(i) / fine)
		if walked += p.Sub(before).Length(); walked >= step {
			line, walked = append(line, p), 0
		}
		before = p
	}
	return line
}

// width is how thick the trunk is at a step of its line.
func (s snake) width(i int) float64 {
	fat := 1.0
	if s.tiny {
		fat = 1.25
	}
	return fat * s.r * (.11 + .21*math.Pow(math.Sin(math.Pi*(.05+.78*float64(i)/float64(len(s.line)))), .7))
}

func (s snake) trunk(pen drawing.Pen) {
	steps := func(extra, share float64, role drawing.Role, wanted func(int) bool) {
		for i := range len(s.line) - 1 {
			if wanted(i) {
				pen.Stroke(drawing.Polyline(s.line[i], s.line[i+1]), s.width(i)*share+extra, role, 1)
			}
		}
	}
	all := func(int) bool { return true }
	steps(max(1, s.r*.05), 1, drawing.Outline, all)
	steps(0, 1, drawing.Skin, all)
	steps(0, .56, drawing.Blotch, func(i int) bool {
		// saddles, uneven as in life
		return i > 3 && i < len(s.line)-9 && (s.tiny || (i*i/len(s.line)+i)%11 < 5)
	})
}

func (s snake) head(pen drawing.Pen) {
	tip, before := s.line[len(s.line)-1], s.line[len(s.line)-4]
	ahead := tip.Sub(before)
	ahead = ahead.Mul(1 / ahead.Length())
	at := func(along, across float64) drawing.Point {
		return tip.Add(ahead.Mul(s.r * along)).Add(drawing.Point{X: -ahead.Y, Y: ahead.X}.Mul(s.r * across))
	}
	head := drawing.Blob(at(-.14, -.09), at(.02, -.16), at(.2, -.09), at(.27, 0), at(.2, .09), at(.02, .16), at(-.14, .09))
	pen.Fill(head, drawing.Skin, 1)
	pen.Stroke(head, max(.9, s.r*.035), drawing.Outline, 1)
	pen.Fill(drawing.Ellipse(at(-.1, 0), s.r*.12, s.r*.085, math.Atan2(ahead.Y, ahead.X)), drawing.Skin, 1)
	for _, side := range []float64{-1, 1} {
		pen.Fill(drawing.Circle(at(.1, side*.095), max(s.r*.032, .8)), drawing.Pupil, 1)
	}
}
