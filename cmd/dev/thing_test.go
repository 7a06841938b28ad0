package main

import (
	"image"
	"image/color"
	"image/draw"
	"math"
	"slices"
	"testing"
)

// things are the boxes around all connected things inside an area of a picture
// that stand off the background by more than a shadow does. The background is
// the colour that most of the area has.
func things(picture image.Image, area image.Rectangle) []image.Rectangle {
	area = area.Intersect(picture.Bounds())
	ground := background(picture, area)
	stands := func(p image.Point) bool {
		return p.In(area) && apart(pixel(picture, p.X, p.Y), ground) > 40
	}
	seen := map[image.Point]bool{}
	var boxes []image.Rectangle
	each(area, func(x, y int) {
		if at := image.Pt(x, y); !seen[at] && stands(at) {
			boxes = append(boxes, spread(at, seen, stands))
		}
	})
	return boxes
}

// largest is the largest box, empty if there is none.
func largest(boxes []image.Rectangle) image.Rectangle {
	var best image.Rectangle
	for _, b := range boxes {
		if b.Dx()*b.Dy() > best.Dx()*best.Dy() {
			best = b
		}
	}
	return best
}

// shapedLike are the boxes whose width is to their height as that of the model,
// to 5 %.
func shapedLike(model image.Rectangle, boxes []image.Rectangle) []image.Rectangle {
	want := float64(model.Dx()) / float64(model.Dy())
	return slices.DeleteFunc(boxes, func(b image.Rectangle) bool {
		return math.Abs(float64(b.Dx())/float64(b.Dy())/want-1) > .05
	})
}

// spread is the box around everything that connects with a point, also at
// corners, and marks it as seen.
func spread(from image.Point, seen map[image.Point]bool, stands func(image.Point) bool) image.Rectangle {
	box := image.Rectangle{Min: from, Max: from.Add(image.Pt(1, 1))}
	seen[from] = true
	for queue := []image.Point{from}; len(queue) > 0; {
		at := queue[len(queue)-1]
		queue = queue[:len(queue)-1]
		box = box.Union(image.Rectangle{Min: at, Max: at.Add(image.Pt(1, 1))})
		each(image.Rect(at.X-1, at.Y-1, at.X+2, at.Y+2), func(x, y int) {
			next := image.Pt(x, y)
			if !seen[next] && stands(next) {
				seen[next] = true
				queue = append(queue, next)
			}
		})
	}
	return box
}

func background(picture image.Image, area image.Rectangle) color.RGBA {
	counts := map[color.RGBA]int{}
	var most color.RGBA
	each(area, func(x, y int) {
		c := pixel(picture, x, y)
		counts[c]++
		if counts[c] > counts[most] {
			most = c
		}
	})
	return most
}

func TestThings_AreConnectedAndLeaveShadowsOut(t *testing.T) {
	picture := image.NewRGBA(image.Rect(0, 0, 60, 40))
	paint := func(r image.Rectangle, grey uint8) {
		draw.Draw(picture, r, image.NewUniform(color.Gray{Y: grey}), image.Point{}, draw.Src)
	}
	paint(picture.Bounds(), 250)
	paint(image.Rect(12, 12, 34, 24), 225) // a shadow
	paint(image.Rect(10, 10, 30, 16), 100)
	paint(image.Rect(30, 16, 32, 20), 90) // touches at a corner
	paint(image.Rect(40, 0, 60, 4), 0)    // smaller, and apart
	found := things(picture, picture.Bounds())
	if got, want := largest(found), image.Rect(10, 10, 32, 20); len(found) != 2 || got != want {
		t.Errorf("of %d things the largest lies in %v, want two and %v", len(found), got, want)
	}
	if got, want := largest(shapedLike(image.Rect(0, 0, 50, 10), found)), image.Rect(40, 0, 60, 4); got != want {
		t.Errorf("the flat thing lies in %v, want %v", got, want)
	}
	if got := largest(things(picture, image.Rect(0, 30, 60, 40))); !got.Empty() {
		t.Errorf("where nothing stands there is %v", got)
	}
}
