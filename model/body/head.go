package body

import "coilward/model/drawing"

// The head is drawn in a frame of 640 × 400 with the snout to the left; its
// middle line lies at 200, its joint with the neck at 600.
const (
	headWidth, headHeight = 640.0, 400.0
	headAxis              = 200.0
	headSnout             = 56.0 // where the outline begins
	headJoint             = 600.0
	headJointHalf         = 62.0 // half-width at the joint
)

func headBox() drawing.Rectangle { return drawing.Box(0, 0, headWidth, headHeight) }

func flipY(axis float64) drawing.Matrix { return drawing.Matrix{A: 1, D: -1, F: 2 * axis} }
func flipX(axis float64) drawing.Matrix { return drawing.Matrix{A: -1, D: 1, E: 2 * axis} }

// onBoth draws the path and its mirror image.
func onBoth(by drawing.Matrix, draw func(drawing.Path), p drawing.Path) {
	draw(p)
	draw(p.Transform(by))
}

// whole closes a smooth outline from its half and the half's mirror image.
func whole(by drawing.Matrix, half ...float64) drawing.Path {
	pts := drawing.Points(half...)
	for i := len(pts) - 1; i >= 0; i-- {
		if q := by.Apply(pts[i]); q != pts[i] {
			pts = append(pts, q)
		}
	}
	return drawing.Blob(pts...)
}

func fill(pen drawing.Pen, role drawing.Role, opacity float64) func(drawing.Path) {
	return func(p drawing.Path) { pen.Fill(p, role, opacity) }
}

func stroke(pen drawing.Pen, width float64, role drawing.Role, opacity float64) func(drawing.Path) {
	return func(p drawing.Path) { pen.Stroke(p, width, role, opacity) }
}

// headEdge is the right edge of the head from the snout to the joint; the eye
// bulges past it.
func headEdge() []drawing.Point {
	return drawing.Points(58, 200, 62, 172, 84, 146, 122, 130, 172, 118, 216, 106, 228, 91, 249, 83, 270, 84, 284, 88,
		300, 82, 372, 66, 436, 68, 492, 86, 532, 110, 564, 129, 600, 138)
}

// headMesh shares out the head from above. The upper half of the frame is the
// animal's right.
func headMesh() *mesh {
	m := newMesh()
	m.split(headEdge(), map[int]string{1: "tip", 2: "lip", 3: "nostril", 5: "face", 9: "eye", 14: "temple", 16: "neck"})
	m.line("nostril-in", drawing.Points(84, 146, 90, 163, 108, 164, 120, 148, 122, 130)...)
	m.line("snout", drawing.Points(62, 172, 84, 170, 116, 172, 142, 164)...)
	m.line("snout-end", drawing.Points(142, 164, 148, 182, 149, 200)...)
	m.line("brow", drawing.Points(142, 164, 180, 150, 216, 136, 250, 128)...)
	m.line("eye-front", drawing.Points(216, 106, 222, 120, 250, 128)...)
	m.line("eye-back", drawing.Points(250, 128, 272, 122, 281, 106, 284, 88)...)
	m.line("crown", drawing.Points(250, 128, 300, 127, 352, 134)...)
	m.line("crown-end", drawing.Points(352, 134, 342, 168, 339, 200)...)
	m.line("nape", drawing.Points(352, 134, 420, 114, 490, 128, 548, 150)...)
	m.line("nape-end", drawing.Points(548, 150, 558, 176, 560, 200)...)
	m.line("temple-end", drawing.Points(532, 110, 548, 150)...)
	m.line("joint", drawing.Points(600, 138, 600, 200)...)
	m.reflect(flipY(headAxis))
	m.region(Snout, "tip snout snout-end -snout-end' -snout' -tip'")
	m.pair(NostrilRight, NostrilLeft, "nostril -nostril-in")
	m.pair(FaceRight, FaceLeft, "lip nostril-in face eye-front -brow -snout")
	m.pair(EyeRight, EyeLeft, "eye -eye-back -eye-front")
	m.region(Crown, "-snout-end brow crown crown-end -crown-end' -crown' -brow' snout-end'")
	m.pair(TempleRight, TempleLeft, "temple temple-end -nape -crown eye-back")
	m.region(Nape, "-crown-end nape nape-end -nape-end' -nape' crown-end'")
	m.region(NeckBack, "neck joint -joint' -neck' temple-end' nape-end' -nape-end -temple-end")
	m.bound("tip lip nostril face eye temple neck joint -joint' -neck' -temple' -eye' -face' -nostril' -lip' -tip'")
	return m
}

// drawHeadAbove draws the head from above.
func drawHeadAbove(pen drawing.Pen) {
	flip := flipY(headAxis)
	curve := func(xy ...float64) drawing.Path { return drawing.Curve(drawing.Points(xy...)...) }
	blob := func(xy ...float64) drawing.Path { return drawing.Blob(drawing.Points(xy...)...) }
	m := views()[HeadAbove].frame
	outline := pathOf(m.outline)
	pen.Clip(outline)
	pen.Fill(outline, drawing.Skin, 1)
	pen.Fill(whole(flip, 120, 200, 200, 184, 330, 180, 470, 184, 610, 181.4, 660, 181.4, 660, 200), drawing.SkinLight, .35)
	onBoth(flip, fill(pen, drawing.SkinShade, .55), blob(64, 168, 118, 128, 232, 98, 372, 60, 492, 80, 560, 122, 606, 134, 660, 134,
		660, 162.8, 602, 162.8, 540, 146, 470, 112, 372, 94, 250, 126, 140, 150, 84, 176))
	drawCrownMark(pen, flip)
	onBoth(flip, fill(pen, drawing.BlotchEdge, .9), blob(276, 112, 340, 90, 424, 88, 500, 112, 548, 140, 500, 126, 420, 104, 340, 106))
	onBoth(flip, fill(pen, drawing.BlotchEdge, .5), blob(214, 124, 176, 132, 132, 146, 118, 156, 146, 154, 184, 144, 218, 132))
	drawCrownPlates(pen, flip, blob)
	faint := stroke(pen, 2, drawing.Outline, .32)
	onBoth(flip, faint, curve(122, 143, 176, 132, 214, 124))
	pen.Stroke(curve(74, 164, 83, 182, 85, 200, 83, 218, 74, 236), 2.2, drawing.Outline, .45)
	onBoth(flip, fill(pen, drawing.Pupil, .92), drawing.Ellipse(drawing.Point{X: 102, Y: 149}, 8, 5, -.5))
	drawHeadScales(pen, flip)
	eye := m.get(EyeRight)
	onBoth(flip, fill(pen, drawing.SkinShade, 1), pathOf(eye.area))
	onBoth(flip, fill(pen, drawing.Iris, 1), drawing.Ellipse(drawing.Point{X: 249, Y: 104}, 28, 17.5, -.16))
	onBoth(flip, stroke(pen, 2.6, drawing.Outline, 1), drawing.Ellipse(drawing.Point{X: 249, Y: 104}, 28, 17.5, -.16))
	onBoth(flip, fill(pen, drawing.Pupil, 1), drawing.Ellipse(drawing.Point{X: 248, Y: 100}, 6, 13, -.1))
	onBoth(flip, fill(pen, drawing.Tooth, .9), drawing.Ellipse(drawing.Point{X: 240, Y: 95}, 4, 3, 0))
	pen.Unclip()
	pen.Stroke(openOutline(m), 5, drawing.Outline, 1)
}

// drawCrownMark is the dark mark that begins on the crown, narrows over the nape
// and runs on over the joint as the stripe of the neck.
func drawCrownMark(pen drawing.Pen, flip drawing.Matrix) {
	pen.Fill(whole(flip, 330, 200, 344, 166, 388, 138, 440, 140, 500, 160, 556, 174, 604, crownEdge, 660, crownEdge, 660, 200), drawing.BlotchEdge, 1)
	pen.Fill(whole(flip, 346, 200, 358, 174, 394, 150, 440, 152, 496, 170, 556, 183, 604, crownInner, 660, crownInner, 660, 200), drawing.Blotch, 1)
	pen.Fill(whole(flip, 392, 200, 404, 180, 440, 174, 482, 188, 512, 200), drawing.BlotchCore, .75)
}

// Where the crown mark's edge and its inner colour cross the joint, in the
// head's frame; the neck's stripe begins with the same widths.
const (
	crownEdge  = 178.0
	crownInner = 186.0
)

func drawCrownPlates(pen drawing.Pen, flip drawing.Matrix, blob func(...float64) drawing.Path) {
	plate := func(p drawing.Path) {
		pen.Fill(p, drawing.SkinLight, .42)
		pen.Stroke(p, 2, drawing.Outline, .42)
	}
	onBoth(flip, plate, blob(90, 198.4, 90, 178, 108, 166, 134, 162, 142, 180, 144, 198.4))
	onBoth(flip, plate, blob(148, 198.4, 145, 172, 150, 158, 178, 150, 210, 148, 217, 172, 217, 198.4))
	plate(whole(flip, 222, 200, 224, 172, 262, 166, 304, 173, 326, 200))
	onBoth(flip, plate, blob(222, 166, 234, 144, 282, 134, 312, 140, 308, 168, 264, 161))
}

// drawHeadScales scatters the small scales of nape and temples in rows that
// follow the edge.
func drawHeadScales(pen drawing.Pen, flip drawing.Matrix) {
	var net drawing.Path
	edge := headEdge()[10:]
	for row := range 6 {
		k := .16 + .13*float64(row)
		var line []drawing.Point
		for i, p := range edge {
			if float64(i) >= float64(row)*.35 {
				line = append(line, drawing.Point{X: p.X + 14*k, Y: p.Y + (headAxis-p.Y)*k})
			}
		}
		net.Append(drawing.Curve(line...))
	}
	for x := 330.0; x < 600; x += 22 {
		top := edgeAt(edge, x)
		net.Append(drawing.Curve(drawing.Point{X: x - 14, Y: top + 10}, drawing.Point{X: x + 4, Y: top + (headAxis-top)*.4}, drawing.Point{X: x + 22, Y: top + (headAxis-top)*.8}))
	}
	onBoth(flip, stroke(pen, 1.5, drawing.Outline, .15), net)
}

// edgeAt is y of the row of points at x.
func edgeAt(row []drawing.Point, x float64) float64 {
	for i := 0; i+1 < len(row); i++ {
		if x <= row[i+1].X {
			return row[i].Lerp(row[i+1], (x-row[i].X)/(row[i+1].X-row[i].X)).Y
		}
	}
	return row[len(row)-1].Y
}

// openOutline is the head's outline without the joint.
func openOutline(m *mesh) drawing.Path {
	ring := m.chain("-neck -temple -eye -face -nostril -lip -tip tip' lip' nostril' face' eye' temple' neck'")
	return drawing.Polyline(ring...)
}

// belowEdge is the head's edge seen from below: the lips hide the eyes.
func belowEdge() []drawing.Point {
	return drawing.Points(58, 200, 62, 172, 84, 146, 122, 130, 172, 118, 232, 101, 284, 87, 372, 66, 436, 68, 492, 86, 532, 110, 564, 129, 600, 138)
}

// belowMesh shares out the head from below; the upper half of the frame is the
// animal's left.
func belowMesh() *mesh {
	m := newMesh()
	m.split(belowEdge(), map[int]string{1: "tip", 6: "lip", 10: "jaw", 12: "neck"})
	m.line("lip-in", drawing.Points(62, 172, 104, 164, 170, 146, 232, 132, 292, 120)...)
	m.line("lip-end", drawing.Points(284, 87, 292, 120)...)
	m.line("jaw-in", drawing.Points(292, 120, 372, 110, 440, 116, 500, 134, 552, 152)...)
	m.line("jaw-end", drawing.Points(532, 110, 552, 152)...)
	m.line("chin-end", drawing.Points(292, 120, 306, 160, 310, 200)...)
	m.line("throat-end", drawing.Points(552, 152, 562, 176, 564, 200)...)
	m.line("joint", drawing.Points(600, 138, 600, 200)...)
	m.reflect(flipY(headAxis))
	m.region(Chin, "tip lip-in chin-end -chin-end' -lip-in' -tip'")
	m.pair(LowerLipLeft, LowerLipRight, "lip lip-end -lip-in")
	m.pair(JawLeft, JawRight, "jaw jaw-end -jaw-in -lip-end")
	m.region(ThroatUnderside, "-chin-end jaw-in throat-end -throat-end' -jaw-in' chin-end'")
	m.region(NeckBelly, "neck joint -joint' -neck' jaw-end' throat-end' -throat-end -jaw-end")
	m.bound("tip lip jaw neck joint -joint' -neck' -jaw' -lip' -tip'")
	return m
}

// drawHeadBelow draws the head from below.
func drawHeadBelow(pen drawing.Pen) {
	flip := flipY(headAxis)
	curve := func(xy ...float64) drawing.Path { return drawing.Curve(drawing.Points(xy...)...) }
	blob := func(xy ...float64) drawing.Path { return drawing.Blob(drawing.Points(xy...)...) }
	m := views()[Underside].frame
	outline := pathOf(m.outline)
	pen.Clip(outline)
	pen.Fill(outline, drawing.Belly, 1)
	onBoth(flip, fill(pen, drawing.BellyShade, .55), blob(56, 176, 110, 128, 232, 96, 372, 60, 492, 80, 560, 120, 606, 134, 660, 134, 660, 169, 602, 169, 540, 150, 480, 122, 372, 104, 250, 132, 140, 158, 84, 180))
	onBoth(flip, fill(pen, drawing.SkinShade, .8), blob(340, 66, 440, 56, 540, 100, 606, 132, 660, 132, 660, 152.5, 602, 152.5, 540, 126, 470, 92, 400, 78))
	onBoth(flip, fill(pen, drawing.SkinLight, .7), blob(112, 196, 120, 172, 200, 152, 288, 150, 298, 194, 200, 197))
	line := stroke(pen, 2.2, drawing.BellyLine, .6)
	onBoth(flip, line, blob(112, 196, 120, 172, 200, 152, 288, 150, 298, 194, 200, 197))
	onBoth(flip, line, blob(310, 194, 316, 158, 396, 152, 428, 190, 370, 197))
	onBoth(flip, line, curve(66, 172, 104, 164, 170, 146, 232, 132, 292, 120, 372, 110, 440, 116, 500, 134))
	var lips drawing.Path
	for _, l := range [][4]float64{{92, 142, 100, 165}, {128, 129, 136, 156}, {164, 120, 172, 145}, {200, 111, 206, 138}, {236, 100, 242, 130}, {270, 90, 276, 123}} {
		lips.Append(drawing.Polyline(drawing.Points(l[:]...)...))
	}
	onBoth(flip, stroke(pen, 1.8, drawing.BellyLine, .55), lips)
	pen.Stroke(curve(84, 200, 200, 200, 306, 200), 3, drawing.BellyLine, .9)
	for x := 446.0; x < 600; x += 26 {
		h := 30 + (x-446)*.13
		pen.Stroke(curve(x-14, 200-h, x+2, 200-h*.5, x+6, 200, x+2, 200+h*.5, x-14, 200+h), 2, drawing.BellyLine, .65)
	}
	pen.Unclip()
	pen.Stroke(drawing.Polyline(m.chain("-neck -jaw -lip -tip tip' lip' jaw' neck'")...), 5, drawing.Outline, 1)
}
