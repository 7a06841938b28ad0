package body

import (
	"math"

	"coilward/model/drawing"
)

// The open mouth is drawn from the front in a frame of 560 × 620; the animal's
// right is on the left.
const (
	mouthWidth, mouthHeight = 560.0, 620.0
	mouthAxis               = 280.0
)

func mouthBox() drawing.Rectangle { return drawing.Box(0, 0, mouthWidth, mouthHeight) }

func faceEdge() []drawing.Point {
	return drawing.Points(280, 28, 214, 36, 150, 70, 104, 136, 78, 220, 66, 300, 76, 372, 104, 440, 146, 506, 200, 556, 280, 576)
}

func gumRim() []drawing.Point {
	return drawing.Points(280, 62, 222, 68, 166, 100, 126, 162, 103, 250, 96, 302, 105, 356, 128, 424, 166, 484, 212, 526, 280, 542)
}

func gumEdge() []drawing.Point {
	return drawing.Points(280, 106, 242, 110, 204, 134, 176, 174, 158, 222, 150, 254, 147, 306, 150, 360, 160, 410, 190, 460, 230, 492, 280, 502)
}

// mouthMesh shares out the open mouth.
func mouthMesh() *mesh {
	m := newMesh()
	m.splitWhole(flipX(mouthAxis), faceEdge(), map[int]string{1: "snout", 5: "upper", 9: "lower", 10: "chin"})
	m.splitWhole(flipX(mouthAxis), gumRim(), map[int]string{1: "rim-snout", 4: "rim-upper", 5: "rim-corner-up", 6: "rim-corner-low", 9: "rim-lower", 10: "rim-chin"})
	m.splitWhole(flipX(mouthAxis), gumEdge(), map[int]string{5: "gum-upper", 7: "gum-corner", 11: "gum-lower"})
	at := drawing.Points
	m.line("snout-cut", at(214, 36, 222, 68)...)
	m.line("lips-cut", at(66, 300, 96, 302)...)
	m.line("chin-cut", at(200, 556, 212, 526)...)
	m.line("top-middle", at(280, 62, 280, 106)...)
	m.line("low-middle", at(280, 502, 280, 542)...)
	m.line("corner-up", at(103, 250, 150, 254)...)
	m.line("corner-low", at(105, 356, 150, 360)...)
	m.line("palate-end", at(150, 254, 200, 244, 280, 238)...)
	m.line("floor-start", at(150, 360, 200, 366, 245, 370)...)
	m.line("choana", at(280, 124, 268, 140, 262, 172, 267, 206, 280, 218)...)
	m.line("glottis-up", at(280, 330, 256, 340, 245, 370)...)
	m.line("glottis-low", at(245, 370, 246, 402, 262, 416, 280, 420)...)
	m.line("tongue", at(280, 427, 264, 434, 259, 456, 262, 480, 272, 494, 280, 490)...)
	m.reflect(flipX(mouthAxis))
	m.region(Snout, "snout snout-cut -rim-snout rim-snout' -snout-cut' -snout'")
	m.pair(UpperLipRight, UpperLipLeft, "upper lips-cut -rim-corner-up -rim-upper -snout-cut")
	m.pair(LowerLipRight, LowerLipLeft, "lower chin-cut -rim-lower -rim-corner-low -lips-cut")
	m.region(Chin, "chin -chin' chin-cut' rim-chin' -rim-chin -chin-cut")
	m.pair(UpperGumRight, UpperGumLeft, "rim-snout rim-upper corner-up -gum-upper -top-middle")
	m.pair(CornerRight, CornerLeft, "rim-corner-up rim-corner-low corner-low -gum-corner -corner-up")
	m.pair(LowerGumRight, LowerGumLeft, "rim-lower rim-chin -low-middle -gum-lower -corner-low")
	m.region(Palate, "gum-upper palate-end -palate-end' -gum-upper'", "choana -choana'")
	m.region(Choana, "choana -choana'")
	m.region(Gullet, "gum-corner floor-start -glottis-up glottis-up' -floor-start' -gum-corner' palate-end' -palate-end")
	m.region(Glottis, "glottis-up glottis-low -glottis-low' -glottis-up'")
	m.region(MouthFloor, "gum-lower -gum-lower' floor-start' glottis-low' -glottis-low -floor-start", "tongue -tongue'")
	m.region(TongueSheath, "tongue -tongue'")
	m.bound("snout upper lower chin -chin' -lower' -upper' -snout'")
	return m
}

// tooth is a backward-curved tooth at a point of the gum.
func tooth(at drawing.Point, angle, length, half float64) drawing.Path {
	var p drawing.Path
	p.MoveTo(drawing.Point{X: -half})
	p.CubicTo(drawing.Point{X: -half * .9, Y: length * .5}, drawing.Point{X: -half * .1, Y: length * .8}, drawing.Point{X: half * .5, Y: length})
	p.CubicTo(drawing.Point{X: half * .7, Y: length * .6}, drawing.Point{X: half * 1.1, Y: length * .4}, drawing.Point{X: half})
	p.Close()
	return p.Transform(drawing.Rotate(angle).Then(drawing.Translate(at.X, at.Y)))
}

// drawMouth draws the open mouth.
func drawMouth(pen drawing.Pen, o Options) {
	flip := flipX(mouthAxis)
	m := views()[OpenMouth].frame
	face := pathOf(m.outline)
	if !o.Flat {
		pen.Fill(face.Transform(drawing.Translate(5, 9)), drawing.Shadow, .10)
	}
	pen.Clip(face)
	pen.Fill(face, drawing.Skin, 1)
	pen.Fill(whole(flip, 280, 476, 190, 470, 118, 404, 70, 330, 50, 400, 104, 460, 146, 526, 200, 576, 280, 596), drawing.Belly, 1)
	pen.Fill(whole(flip, 280, 20, 214, 28, 140, 62, 92, 136, 70, 220, 60, 300, 76, 300, 90, 222, 118, 146, 160, 92, 220, 58, 280, 50), drawing.SkinShade, .6)
	drawLips(pen, flip)
	pen.Unclip()
	drawLining(pen, flip, m)
	drawTeeth(pen, flip)
	drawAirway(pen, flip, m)
	pen.Stroke(face, 4.4, drawing.Outline, 1)
	onBoth(flip, fill(pen, drawing.Pupil, .9), drawing.Ellipse(drawing.Point{X: 250, Y: 47}, 8, 5, .3))
}

// drawLips are the plates of both lips, with the pits of the upper one.
func drawLips(pen drawing.Pen, flip drawing.Matrix) {
	var cuts, pits drawing.Path
	outer, inner := evenly(faceEdge()), evenly(gumRim())
	share := func(row []drawing.Point, k float64) drawing.Point { return row[int(k*100+.5)] }
	for i := 1; i < 17; i++ {
		k := float64(i) / 17
		a, b := share(outer, k), share(inner, k)
		cuts.Append(drawing.Polyline(a, b))
		if i == 3 || i == 4 || i == 5 {
			pits.Append(drawing.Ellipse(share(outer, k+.03).Lerp(share(inner, k+.03), .62), 5, 7, .6))
		}
	}
	onBoth(flip, stroke(pen, 1.8, drawing.Outline, .28), cuts)
	onBoth(flip, fill(pen, drawing.Pupil, .55), pits)
}

// evenly is the smooth line through pts as 101 points at equal distances.
func evenly(pts []drawing.Point) []drawing.Point {
	return resample(drawing.Curve(pts...).Flatten(.2)[0], 100)
}

func drawLining(pen drawing.Pen, flip drawing.Matrix, m *mesh) {
	rim := append(drawing.Points(), gumRim()...)
	rimShape := make([]float64, 0, 2*len(rim))
	for _, p := range rim {
		rimShape = append(rimShape, p.X, p.Y)
	}
	pen.Fill(whole(flip, rimShape...), drawing.Gum, 1)
	pen.Stroke(whole(flip, rimShape...), 3, drawing.Outline, 1)
	pen.Fill(whole(flip, 280, 96, 236, 100, 192, 126, 160, 176, 142, 240, 138, 304, 140, 366, 152, 416, 184, 468, 226, 500, 280, 511), drawing.Mucosa, 1)
	pen.Fill(whole(flip, 280, 236, 216, 246, 168, 280, 150, 314, 168, 348, 216, 366, 280, 370), drawing.MucosaDeep, 1)
	pen.Fill(whole(flip, 280, 260, 228, 268, 192, 296, 184, 318, 206, 338, 244, 350, 280, 354), drawing.Throat, 1)
	for i := range 4 {
		d := float64(i) * 10
		onBoth(flip, stroke(pen, 3, drawing.MucosaDeep, .42), drawing.Curve(drawing.Points(112+d, 262+d*.4, 114+d*1.1, 306, 113+d, 350-d*.3)...))
	}
	choana := pathOf(m.get(Choana).area)
	pen.Fill(choana, drawing.MucosaDeep, .9)
	pen.Stroke(choana, 1.6, drawing.Outline, .9)
	pen.Fill(whole(flip, 280, 140, 275, 152, 273, 174, 276, 198, 280, 204), drawing.Throat, .55)
	onBoth(flip, stroke(pen, 7, drawing.MucosaDeep, .28), drawing.Curve(drawing.Points(244, 116, 232, 160, 227, 206, 226, 236)...))
	onBoth(flip, stroke(pen, 5, drawing.MucosaDeep, .22), drawing.Curve(drawing.Points(206, 398, 216, 440, 240, 474)...))
}

func drawTeeth(pen drawing.Pen, flip drawing.Matrix) {
	row := func(xy []drawing.Point, angle, turn, length, shrink, half, line float64) {
		for i, at := range xy {
			k := float64(i) / float64(len(xy)-1)
			p := tooth(at, angle+turn*k, length-shrink*k, half)
			onBoth(flip, fill(pen, drawing.Tooth, 1), p)
			onBoth(flip, stroke(pen, line, drawing.Outline, 1), p)
		}
	}
	row(drawing.Points(262, 84, 232, 90, 204, 104, 180, 126, 160, 154, 146, 186, 136, 220, 131, 246), -.15, -.55, 24, 5, 4.6, 1.3)
	row(drawing.Points(254, 128, 244, 150, 237, 174, 232, 198, 229, 220), -.1, -.2, 15, 0, 3.6, 1.1)
	row(drawing.Points(258, 522, 228, 514, 202, 498, 180, 476, 160, 448, 145, 416, 136, 388), math.Pi+.15, .5, 20, 3, 4.2, 1.3)
}

// drawAirway is the opening of the windpipe on its raised tube, and the tongue
// in its sheath below.
func drawAirway(pen drawing.Pen, flip drawing.Matrix, m *mesh) {
	tube, sheath := pathOf(m.get(Glottis).area), pathOf(m.get(TongueSheath).area)
	pen.Fill(tube, drawing.Mucosa, 1)
	pen.Stroke(tube, 3, drawing.MucosaDeep, 1)
	rings := drawing.Path{}
	for _, y := range []float64{392, 401, 410} {
		rings.Append(drawing.Curve(drawing.Points(256, y, 280, y+4, 304, y)...))
	}
	pen.Stroke(rings, 2, drawing.MucosaDeep, .55)
	lip := whole(flip, 280, 338, 266, 348, 261, 364, 268, 380, 280, 386)
	pen.Fill(lip, drawing.Gum, 1)
	pen.Stroke(lip, 2, drawing.Outline, .9)
	pen.Fill(whole(flip, 280, 345, 274, 353, 272, 365, 275, 376, 280, 380), drawing.Throat, 1)
	pen.Fill(sheath, drawing.MucosaDeep, 1)
	pen.Stroke(sheath, 1.6, drawing.Outline, .9)
	tongue := whole(flip, 280, 440, 272, 446, 270, 462, 268, 476, 265, 486, 271, 487, 276, 480, 280, 474)
	pen.Fill(tongue, drawing.Tongue, 1)
	pen.Stroke(tongue, 1.4, drawing.Outline, 1)
}
