package body

import (
	"math"

	"coilward/model/drawing"
)

// Net says how much of the fine net of scales is drawn.
type Net uint8

// The nets, finest first.
const (
	FineNet Net = iota
	CoarseNet
	NoNet
)

// Options of a drawing of the animal. The zero value draws all of it, without layers.
type Options struct {
	Net    Net  // coarser nets make smaller papers
	Flat   bool // without the shadow on the ground
	Organs bool // with the layer of organ landmarks
}

// Where the belly's scales begin, as t seen from below.
var bellyT = math.Sin(bellyEdge * math.Pi / 180)

// trunkArt draws the animal along a spine.
type trunkArt struct {
	*spine
	pen     drawing.Pen
	options Options
	unit    float64 // the greatest half-width over that of the full view: line widths follow it
}

const fullHalf = 46 // greatest half-width of the two full views

func (a trunkArt) line(p drawing.Path, width float64, role drawing.Role, opacity float64) {
	a.pen.Stroke(p, width*a.unit, role, opacity)
}

// toHead maps the head's frame to its place at the spine's beginning.
func (sp *spine) toHead() drawing.Matrix {
	c, _, half := sp.frame(neckJoint)
	d := sp.heading(neckJoint)
	k := half / headJointHalf
	return drawing.Translate(-headJoint, -headAxis).Then(drawing.Scale(k, k)).
		Then(drawing.Rotate(math.Atan2(d.Y, d.X))).Then(drawing.Translate(c.X, c.Y))
}

// shadow is the soft ground shadow, head included.
func (a trunkArt) shadow(head *mesh) {
	if a.options.Flat {
		return
	}
	d := drawing.Translate(5*a.unit, 9*a.unit)
	a.pen.Fill(a.silhouette(neckJoint-.004).Transform(d), drawing.Shadow, .10)
	a.pen.Fill(pathOf(head.outline).Transform(a.toHead().Then(d)), drawing.Shadow, .10)
}

// both draws the shape on both sides.
func (a trunkArt) both(draw func(sign float64)) {
	draw(1)
	draw(-1)
}

// bands is a band on both sides as one path: one wide fill costs less than two.
func (a trunkArt) bands(s0, s1, t0, t1 float64) drawing.Path {
	return append(a.band(s0, s1, t0, t1), a.band(s0, s1, -t0, -t1)...)
}

// above draws trunk, tail and head from above.
func (a trunkArt) above() {
	a.shadow(views()[Above].frame)
	outline := a.silhouette(neckJoint - .006)
	a.pen.Fill(outline, drawing.Skin, 1)
	a.pen.Fill(a.bands(neckJoint, tailEnd, .60, 1), drawing.SkinShade, .55)
	a.pen.Fill(a.bands(neckJoint, tailEnd, .84, 1), drawing.SkinShade, .55)
	a.pen.Fill(a.band(neckJoint, 1.13, -.30, .30), drawing.SkinLight, .35)
	a.flankMarks()
	a.neckStripe()
	a.saddles()
	a.scales()
	if a.options.Organs {
		a.organs()
	}
	a.line(outline, 2.2, drawing.Outline, 1)
	drawHeadAbove(drawing.Through(a.pen, a.toHead()))
}

const firstSaddle, lastSaddle, saddleCount = .138, .992, 26

func saddleAt(i int) float64 {
	return firstSaddle + float64(i)*(lastSaddle-firstSaddle)/(saddleCount-1)
}

// neckStripe carries the crown mark on over the joint to a point before the
// first saddle.
func (a trunkArt) neckStripe() {
	edge, inner := (headAxis-crownEdge)/headJointHalf, (headAxis-crownInner)/headJointHalf
	stripe := func(w, end float64) drawing.Path {
		right := a.through([]float64{neckJoint - .004, w, neckJoint + .006, w, neckJoint + .016, w * .86, end, 0})
		left := a.through([]float64{end, 0, neckJoint + .016, -w * .86, neckJoint + .006, -w, neckJoint - .004, -w})
		p := drawing.Curve(right...)
		p.SmoothTo(left)
		p.Close()
		return p
	}
	a.pen.Fill(stripe(edge, .126), drawing.BlotchEdge, 1)
	a.pen.Fill(stripe(inner, .120), drawing.Blotch, 1)
}

// saddles are the dark marks over the back, no two alike but always the same.
func (a trunkArt) saddles() {
	for i := range saddleCount {
		f := float64(i)
		a.saddle(saddleAt(i), .0128+.0014*math.Sin(f*2.1), .64+.05*math.Sin(f*1.7), f)
	}
	for i, s := range []float64{1.026, 1.055, 1.081, 1.104, 1.123} {
		a.saddle(s, .0100-.0012*float64(i), .66, float64(i)+.5)
	}
}

func (a trunkArt) saddle(s, half, across, seed float64) {
	shape := func(long, wide float64) drawing.Path {
		st := make([]float64, 0, 32)
		for i := range 16 {
			angle := 2 * math.Pi * float64(i) / 16
			sin, cos := math.Sincos(angle)
			r := 1 + .09*math.Cos(2*angle) + .05*math.Sin(3*angle+seed*90) - .05*math.Cos(4*angle)
			st = append(st, s+half*long*r*cos*(1+.30*sin*sin), across*wide*r*sin)
		}
		return a.blob(st...)
	}
	a.pen.Fill(shape(1.16, 1.12), drawing.SkinLight, .40)
	a.pen.Fill(shape(1, 1), drawing.BlotchEdge, 1)
	a.pen.Fill(shape(.77, .81), drawing.Blotch, 1)
	a.pen.Fill(shape(.31, .44), drawing.BlotchCore, .8)
}

// flankMarks stand low on the flanks between the saddles.
func (a trunkArt) flankMarks() {
	const step = (lastSaddle - firstSaddle) / (saddleCount - 1)
	for i := range saddleCount - 1 {
		m := saddleAt(i) + step/2 + .001*math.Sin(float64(i)*2.7)
		h := .0068 + .0012*math.Sin(float64(i)*1.3)
		a.both(func(k float64) {
			a.pen.Fill(a.blob(m-h, .83*k, m-h*.4, .73*k, m+h*.3, .68*k, m+h, .82*k, m+h*.4, .94*k, m-h*.4, .95*k), drawing.BlotchEdge, .8)
			a.pen.Fill(a.blob(m-h*.5, .83*k, m, .75*k, m+h*.5, .83*k, m, .90*k), drawing.Blotch, .8)
		})
	}
}

// scales is the net of two crossing families of fine lines.
func (a trunkArt) scales() {
	ds, width := .0058, .7
	switch a.options.Net {
	case NoNet:
		return
	case CoarseNet:
		ds, width = .0125, .8
	}
	const from, to, reach = neckJoint + .004, 1.13, .94
	lean := .0267
	var net drawing.Path
	for s := from - lean; s < to; s += ds {
		for _, sign := range []float64{1, -1} {
			var st []float64
			for i := range 5 {
				k := float64(i) / 4
				if at := s + lean*k; at >= from && at <= to {
					st = append(st, at, sign*reach*(2*k-1))
				}
			}
			if len(st) > 2 {
				net.Append(a.curve(st...))
			}
		}
	}
	a.line(net, width, drawing.Outline, .17)
}

// underside draws trunk, tail and head from below.
func (a trunkArt) underside() {
	a.shadow(views()[Underside].frame)
	outline := a.silhouette(neckJoint - .006)
	a.pen.Fill(outline, drawing.Skin, 1)
	a.pen.Fill(a.bands(neckJoint, tailEnd, bellyT, 1), drawing.SkinShade, .80)
	a.pen.Fill(a.bands(neckJoint, tailEnd, .90, 1), drawing.SkinShade, .60)
	a.lowFlankMarks()
	a.pen.Fill(a.band(neckJoint-.002, 1.155, -bellyT, bellyT), drawing.Belly, 1)
	a.pen.Fill(a.bands(neckJoint-.002, 1.155, .50, bellyT), drawing.BellyShade, .55)
	a.pen.Fill(a.bands(neckJoint-.002, 1.155, .66, bellyT), drawing.BellyShade, .45)
	a.bellyPattern()
	a.bellyScales()
	a.tailScales()
	a.ventScale()
	if a.options.Organs {
		a.organs()
	}
	a.line(outline, 2.2, drawing.Outline, 1)
	a.spurs()
	drawHeadBelow(drawing.Through(a.pen, a.toHead()))
}

// lowFlankMarks are the lower ends of the flank's marks.
func (a trunkArt) lowFlankMarks() {
	const step = (lastSaddle - firstSaddle) / (saddleCount - 1)
	for i := range saddleCount - 1 {
		m := saddleAt(i) + step/2
		a.both(func(k float64) {
			a.pen.Fill(a.blob(m-.006, .99*k, m-.003, .86*k, m+.003, .84*k, m+.006, .99*k), drawing.BlotchEdge, .75)
		})
	}
}

const (
	bellyStep = .0098
	bellyFrom = neckJoint + .004
	bellyTo   = .974
)

// sag is how a belly scale's hind edge bends backwards towards the middle.
func sag(s, t float64) float64 { return s + .0042*(1-t*t/(bellyT*bellyT)) }

func (a trunkArt) bellyLine(s, from, to float64) []drawing.Point {
	const n = 6
	out := make([]drawing.Point, 0, n+1)
	for i := range n + 1 {
		t := from + (to-from)*float64(i)/n
		out = append(out, a.at(sag(s, t), t))
	}
	return out
}

func (a trunkArt) bellyScales() {
	var lines drawing.Path
	for s := bellyFrom; s < bellyTo+bellyStep/2; s += bellyStep {
		lines.Append(drawing.Curve(a.bellyLine(s, -bellyT, bellyT)...))
	}
	a.line(lines, 1.1, drawing.BellyLine, .75)
	var edges drawing.Path
	a.both(func(k float64) { edges.Append(drawing.Curve(a.edge(neckJoint, 1.152, bellyT*k)...)) })
	a.line(edges, 1.3, drawing.BellyLine, .85)
}

// bellyPattern colours parts of belly scales: half-moons at the outer ends, in
// loose runs on alternating sides, and a few flecks nearer the middle. They are
// drawn from a fixed series, so that the pattern never changes.
func (a trunkArt) bellyPattern() {
	seed := uint32(29)
	next := func() float64 { seed = seed*1664525 + 1013904223; return float64(seed>>8) / (1 << 24) }
	for i, s := 0, bellyFrom; s < bellyTo-bellyStep; i, s = i+1, s+bellyStep {
		for _, k := range []float64{1, -1} {
			run := math.Sin(float64(i)*.83 + 1.4*k)
			reach, light := .20+.26*next(), next()
			if run < .25 || s < .12 {
				continue
			}
			a.fleck(s, k*bellyT, k*(bellyT-reach*run), .34+.30*light)
		}
		if t, wanted := -.42+.84*next(), next(); wanted < .13 && s > .16 {
			a.fleck(s, t-.10, t+.10, .34)
		}
	}
}

// fleck fills one belly scale's width from one t to another, with round ends.
func (a trunkArt) fleck(s, from, to, opacity float64) {
	const inset = .0007
	front, back := a.bellyLine(s+inset, from, to), a.bellyLine(s+bellyStep-inset, to, from)
	tip := a.at(sag(s+bellyStep/2, to), to+(to-from)*.10)
	p := drawing.Curve(front...)
	p.SmoothTo([]drawing.Point{front[len(front)-1], tip, back[0]})
	p.SmoothTo(back)
	p.Close()
	a.pen.Fill(p, drawing.BlotchCore, opacity)
}

// tailScales are the paired scales behind the vent; their middle seam wanders.
func (a trunkArt) tailScales() {
	var lines drawing.Path
	seam := []float64{}
	for i, s := 0, 1.019; s < 1.148; i, s = i+1, s+.0072 {
		d, off := .0020, .035
		if i%2 == 1 {
			d, off = -.0008, -.035
		}
		lines.Append(a.curve(s-.004, -bellyT, s-.001, -bellyT*.5, s+d, off))
		lines.Append(a.curve(s+d, off, s-.001, bellyT*.5, s-.004, bellyT))
		seam = append(seam, s+d, off)
	}
	for i := 0; i+3 < len(seam); i += 2 {
		lines.Append(drawing.Polyline(a.at(seam[i], seam[i+1]), a.at(seam[i+2], seam[i+3])))
	}
	a.line(lines, 1, drawing.BellyLine, .75)
}

// ventScale is the vent: the one wide scale that covers it, the cross slit
// behind its rounded hind edge, and the small scales around.
func (a trunkArt) ventScale() {
	const half = .66
	front, hind := .9795, .9985
	hindEdge := func(bulge float64) []drawing.Point {
		out := make([]drawing.Point, 0, 9)
		for i := range 9 {
			t := half * (float64(i)/4 - 1)
			out = append(out, a.at(hind-.0055*math.Pow(math.Abs(t)/half, 2.4)+bulge*(1-t*t/(half*half)), t))
		}
		return out
	}
	slit := drawing.Curve(hindEdge(-.001)...)
	low := hindEdge(.0052)
	for l, r := 0, len(low)-1; l < r; l, r = l+1, r-1 {
		low[l], low[r] = low[r], low[l]
	}
	slit.SmoothTo(low)
	slit.Close()
	a.pen.Fill(slit, drawing.MucosaDeep, 1)
	a.line(slit, 1.2, drawing.Outline, .9)
	plate := drawing.Curve(a.bellyLine(front, -bellyT*.97, bellyT*.97)...)
	edge := hindEdge(0)
	for l, r := 0, len(edge)-1; l < r; l, r = l+1, r-1 {
		edge[l], edge[r] = edge[r], edge[l]
	}
	plate.LineTo(edge[0])
	plate.SmoothTo(edge)
	plate.Close()
	a.pen.Fill(plate, drawing.Belly, 1)
	a.line(plate, 1.6, drawing.BellyLine, 1)
	var around drawing.Path
	for i := range 7 {
		t := -.54 + .18*float64(i)
		around.Append(a.curve(1.0085-.006*t*t, t-.085, 1.0100-.006*t*t, t, 1.0085-.006*t*t, t+.085))
		around.Append(a.curve(1.0120-.006*t*t, t, 1.0135-.006*t*t, t+.085, 1.0120-.006*t*t, t+.17))
	}
	a.both(func(k float64) { around.Append(a.curve(.984, .70*k, .992, .745*k, 1.002, .72*k, 1.012, .66*k)) })
	a.line(around, 1, drawing.BellyLine, .75)
}

// spurs are the claws at both sides of the vent, in their pockets.
func (a trunkArt) spurs() {
	a.both(func(k float64) {
		pocket := a.blob(.9832, .83*k, .9850, .775*k, .9885, .785*k, .9902, .86*k, .9885, .93*k, .9850, .92*k)
		a.pen.Fill(pocket, drawing.BellyShade, 1)
		a.line(pocket, 1, drawing.BellyLine, .9)
		var claw drawing.Path
		pts := a.through([]float64{.9846, .80 * k, .9880, .82 * k, .9912, .90 * k, .9925, 1.06 * k, .9893, 1.0 * k, .9862, .93 * k, .9842, .87 * k})
		claw.MoveTo(pts[0])
		claw.SmoothTo(pts[:4])
		claw.SmoothTo(pts[3:])
		claw.Close()
		a.pen.Fill(claw, drawing.Bone, 1)
		a.line(claw, 1, drawing.Outline, 1)
	})
}
