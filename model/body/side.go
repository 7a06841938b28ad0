package body

import (
	"strings"

	"coilward/model/drawing"
)

func sideTop() []drawing.Point {
	return drawing.Points(72, 236, 64, 222, 62, 204, 74, 180, 104, 160, 150, 146, 200, 126, 254, 108, 304, 100, 352, 98, 410, 101, 480, 116, 540, 130, 612, 136)
}

func sideChin() []drawing.Point {
	return drawing.Points(72, 236, 76, 248, 92, 264, 130, 284, 190, 298, 270, 306, 350, 312, 420, 318, 480, 322, 540, 326, 612, 330)
}

func mouthLine() []drawing.Point {
	return drawing.Points(72, 236, 110, 246, 160, 250, 220, 249, 290, 246, 350, 240, 402, 226, 440, 212)
}

func upperLipLine() []drawing.Point {
	return drawing.Points(62, 204, 104, 217, 142, 220, 190, 219, 238, 213, 312, 211, 382, 205, 440, 212)
}

func lowerLipLine() []drawing.Point {
	return drawing.Points(92, 264, 130, 276, 190, 288, 270, 294, 350, 292, 404, 270)
}

// leftMesh shares out the head from its left side.
func leftMesh() *mesh {
	m := newMesh()
	m.split(sideTop(), map[int]string{2: "rostral", 4: "snout", 6: "face", 9: "crown", 11: "nape", 13: "neck"})
	m.split(sideChin(), map[int]string{2: "lip", 5: "chin", 8: "throat", 10: "neck-below"})
	m.split(mouthLine(), map[int]string{3: "mouth-front", 7: "mouth-back"})
	m.split(upperLipLine(), map[int]string{2: "pits-front", 4: "pits-back", 7: "upper"})
	m.split(lowerLipLine(), map[int]string{3: "lower-front", 5: "lower-back"})
	at := drawing.Points
	m.line("snout-end", at(104, 160, 126, 178, 136, 198, 142, 220)...)
	m.line("pits-end", at(238, 213, 230, 231, 220, 249)...)
	m.line("nostril", at(82, 189, 92, 176, 110, 176, 116, 190, 105, 203, 88, 202, 82, 189)...)
	m.split(at(209, 149, 202, 170, 212, 196, 238, 207, 266, 198, 278, 172, 271, 149, 256, 137, 238, 133, 221, 138, 209, 149),
		map[int]string{3: "eye-front", 6: "eye-back", 10: "eye-top"})
	m.line("below-eye", at(238, 207, 238, 213)...)
	m.line("brow", at(200, 126, 206, 138, 209, 149)...)
	m.line("crown-low", at(271, 149, 310, 143, 352, 147)...)
	m.line("nape-low", at(352, 147, 420, 146, 482, 154)...)
	m.line("crown-end", at(352, 98, 358, 122, 352, 147)...)
	m.line("nape-end", at(480, 116, 488, 134, 482, 154)...)
	m.line("temple-end", at(482, 154, 492, 184, 488, 212)...)
	m.line("jaw-top", at(440, 212, 464, 214, 488, 212)...)
	m.line("jaw-back", at(488, 212, 500, 244, 496, 272)...)
	m.line("jaw-front", at(440, 212, 432, 246, 404, 270)...)
	m.line("jaw-low", at(404, 270, 450, 276, 496, 272)...)
	m.line("chin-end", at(270, 294, 270, 306)...)
	m.line("throat-end", at(496, 272, 494, 300, 480, 322)...)
	m.line("joint", at(612, 136, 612, 330)...)
	m.region(Snout, "snout snout-end -pits-front", "nostril")
	m.region(NostrilLeft, "nostril")
	m.region(FaceLeft, "face brow eye-front below-eye -pits-back -snout-end")
	m.region(EyeLeft, "eye-front eye-back eye-top")
	m.region(Crown, "crown crown-end -crown-low eye-top -brow")
	m.region(Nape, "nape nape-end -nape-low -crown-end")
	m.region(TempleLeft, "-eye-back below-eye upper jaw-top -temple-end -nape-low -crown-low")
	m.region(PitsLeft, "rostral pits-front pits-back pits-end -mouth-front")
	m.region(UpperLipLeft, "upper -mouth-back -pits-end")
	m.region(LowerLipLeft, "mouth-front mouth-back jaw-front -lower-back -lower-front -lip")
	m.region(Chin, "lower-front chin-end -chin")
	m.region(ThroatUnderside, "lower-back jaw-low throat-end -throat -chin-end")
	m.region(JawLeft, "jaw-top jaw-back -jaw-low -jaw-front")
	m.region(NeckLeft, "neck joint -neck-below -throat-end -jaw-back -temple-end -nape-end")
	m.bound("rostral snout face crown nape neck joint -neck-below -throat -chin -lip")
	return m
}

func rightMesh() *mesh {
	return leftMesh().transformed(flipX(headWidth/2), func(id RegionID) RegionID {
		return RegionID(strings.Replace(string(id), ".left", ".right", 1))
	})
}

// drawHeadRight draws the head from its right side: the mirror image.
func drawHeadRight(pen drawing.Pen) {
	drawHeadLeft(drawing.Through(pen, flipX(headWidth/2)))
}

// drawHeadLeft draws the head from its left side, snout to the left.
func drawHeadLeft(pen drawing.Pen) {
	blob := func(xy ...float64) drawing.Path { return drawing.Blob(drawing.Points(xy...)...) }
	curve := func(xy ...float64) drawing.Path { return drawing.Curve(drawing.Points(xy...)...) }
	m := views()[HeadLeft].frame
	outline := pathOf(m.outline)
	pen.Clip(outline)
	pen.Fill(outline, drawing.Skin, 1)
	pen.Fill(blob(74, 240, 130, 254, 220, 256, 300, 254, 380, 244, 440, 222, 500, 246, 560, 264, 660, 276, 660, 340, 540, 332, 480, 328, 350, 320, 270, 312, 190, 304, 130, 290, 84, 266), drawing.Belly, 1)
	pen.Fill(blob(110, 276, 190, 288, 270, 293, 350, 298, 480, 302, 660, 308, 660, 340, 480, 330, 350, 320, 270, 312, 190, 304, 120, 288), drawing.BellyShade, .8)
	pen.Fill(blob(62, 206, 110, 220, 180, 222, 280, 216, 370, 208, 440, 208, 402, 228, 350, 241, 290, 247, 220, 250, 160, 251, 110, 247, 66, 236), drawing.SkinLight, .75)
	pen.Fill(blob(146, 140, 254, 100, 330, 90, 410, 92, 480, 108, 540, 122, 660, 130, 660, 178, 540, 160, 440, 138, 330, 126, 254, 132, 170, 158), drawing.SkinShade, .55)
	pen.Fill(blob(400, 92, 470, 106, 540, 122, 660, 128, 660, 154, 560, 146, 480, 132, 420, 112), drawing.BlotchEdge, .85)
	pen.Fill(blob(266, 170, 330, 168, 410, 176, 480, 196, 560, 206, 660, 210, 660, 252, 560, 246, 500, 236, 420, 208, 350, 194, 274, 190), drawing.BlotchEdge, .95)
	pen.Fill(blob(320, 176, 400, 184, 480, 206, 560, 217, 660, 220, 660, 240, 560, 234, 500, 224, 420, 200), drawing.Blotch, 1)
	pen.Fill(blob(212, 164, 164, 170, 122, 182, 100, 196, 132, 194, 182, 188, 214, 184), drawing.BlotchEdge, .6)
	drawLabials(pen)
	var plates drawing.Path
	plates.Append(curve(112, 157, 128, 178, 137, 200, 142, 219))
	plates.Append(curve(152, 146, 170, 168, 172, 194, 176, 218))
	plates.Append(curve(198, 128, 208, 146))
	plates.Append(curve(214, 142, 252, 128, 300, 137, 332, 146, 420, 144, 470, 158))
	plates.Append(curve(258, 108, 268, 130))
	pen.Stroke(plates, 2, drawing.Outline, .32)
	pen.Stroke(sideScales(), 1.5, drawing.Outline, .17)
	pen.Fill(drawing.Ellipse(drawing.Point{X: 99, Y: 189}, 11, 7, -.6), drawing.Pupil, .92)
	eye := drawing.Point{X: 240, Y: 170}
	pen.Fill(drawing.Ellipse(eye, 38, 37, 0), drawing.SkinShade, 1)
	pen.Stroke(drawing.Ellipse(eye, 37, 36, 0), 2.4, drawing.Outline, 1)
	pen.Fill(drawing.Ellipse(eye, 31, 30, 0), drawing.Iris, 1)
	pen.Stroke(drawing.Ellipse(eye, 31, 30, 0), 2.4, drawing.Outline, 1)
	pen.Fill(drawing.Ellipse(eye, 8, 24, .06), drawing.Pupil, 1)
	pen.Fill(drawing.Ellipse(drawing.Point{X: 228, Y: 156}, 7, 6, 0), drawing.Tooth, .85)
	pen.Unclip()
	pen.Stroke(drawing.Curve(mouthLine()...), 4.2, drawing.Outline, 1)
	pen.Stroke(curve(440, 212, 452, 209, 464, 213), 2.6, drawing.Outline, .6)
	pen.Stroke(drawing.Polyline(m.chain("-neck -nape -crown -face -snout -rostral lip chin throat neck-below")...), 5, drawing.Outline, 1)
}

// drawLabials are the plates of the lips with the heat pits between them.
func drawLabials(pen drawing.Pen) {
	var lines, pits drawing.Path
	cut := func(x0, y0, x1, y1 float64) { lines.Append(drawing.Polyline(drawing.Points(x0, y0, x1, y1)...)) }
	for _, x := range []float64{104, 138, 172, 206, 240, 274, 310, 346, 382} {
		cut(x, edgeAt(mouthLine(), x), x+1, edgeAt(upperLipLine(), x))
	}
	lines.Append(drawing.Curve(upperLipLine()...))
	for _, x := range []float64{118, 154, 192, 230, 270, 312, 354} {
		cut(x, edgeAt(mouthLine(), x)+3, x+1, edgeAt(lowerLipLine(), x))
	}
	lines.Append(drawing.Curve(lowerLipLine()[:5]...))
	pen.Stroke(lines, 2, drawing.Outline, .3)
	for _, x := range []float64{86, 121, 155, 189} {
		mid := (edgeAt(mouthLine(), x) + edgeAt(upperLipLine(), x)) / 2
		pits.Append(drawing.Ellipse(drawing.Point{X: x, Y: mid}, 5.5, 8, .25))
	}
	for _, x := range []float64{250, 291, 333} {
		mid := (edgeAt(mouthLine(), x) + edgeAt(lowerLipLine(), x)) / 2
		pits.Append(drawing.Ellipse(drawing.Point{X: x, Y: mid + 2}, 7, 5, .1))
	}
	pen.Fill(pits, drawing.Pupil, .62)
}

func sideScales() drawing.Path {
	var p drawing.Path
	for x := 452.0; x < 612; x += 18 {
		p.Append(drawing.Curve(drawing.Points(x, edgeAt(sideTop(), x)+4, x+15, 160, x+21, 205, x+15, 258)...))
	}
	for y := 152.0; y < 262; y += 17 {
		p.Append(drawing.Curve(drawing.Points(500, y, 540, y+4, 580, y+8, 640, y+10)...))
	}
	return p
}
