package body_test

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"coilward/model/body"
	"coilward/model/drawing"
)

// area is an outline ready for many point tests: its edges by bands of height, so
// that a test looks at those beside the point alone.
type area struct {
	lines drawing.Polylines
	box   drawing.Rectangle
	bands []drawing.Polylines // each edge a line of its own
}

// bandHeight is the height of a band, in the view's units.
const bandHeight = 2.0

func areaOf(p drawing.Path) area {
	lines := p.Flatten(.01)
	a := area{lines: lines, box: lines.Bounds()}
	a.bands = make([]drawing.Polylines, a.band(a.box.Max.Y)+1)
	for _, line := range lines {
		for i, from := range line {
			to := line[(i+1)%len(line)]
			for k := a.band(min(from.Y, to.Y)); k <= a.band(max(from.Y, to.Y)); k++ {
				a.bands[k] = append(a.bands[k], []drawing.Point{from, to})
			}
		}
	}
	return a
}

func (a area) band(y float64) int { return int((y - a.box.Min.Y) / bandHeight) }

func (a area) holds(p drawing.Point) bool {
	if !a.box.Contains(p) {
		return false
	}
	winding := 0
	for _, edge := range a.bands[a.band(p.Y)] {
		winding += crossing(edge[0], edge[1], p)
	}
	return winding != 0
}

// crossing is ±1 if the edge crosses the ray from p to the right.
func crossing(a, b, p drawing.Point) int {
	if (a.Y <= p.Y) == (b.Y <= p.Y) {
		return 0
	}
	x := a.X + (p.Y-a.Y)/(b.Y-a.Y)*(b.X-a.X)
	switch {
	case x <= p.X:
		return 0
	case a.Y < b.Y:
		return 1
	}
	return -1
}

// sharing is a view with the outlines of all its regions and of the whole animal.
type sharing struct {
	id    body.ViewID
	parts map[body.RegionID]area
	whole area
}

func sharingOf(id body.ViewID) sharing {
	s := sharing{id, map[body.RegionID]area{}, areaOf(body.Silhouette(id))}
	for _, r := range body.RegionsOf(id) {
		s.parts[r] = areaOf(body.Outline(id, r))
	}
	return s
}

// hair is how near to a border the outlines, which are flattened curves, and the
// hit test may differ, in the view's units.
const hair = 0.03

// check fails unless the point lies in one region and in the outline of that
// region alone, or beside the animal and in no outline. Within a hair of a border
// it still has to have one region, which is the hit test's.
func (s sharing) check(t *testing.T, p drawing.Point) (on bool) {
	t.Helper()
	region, on := body.Region(s.id, p)
	if _, shown := s.parts[region]; on != shown {
		t.Fatalf("at %v: region %q, which the view does not show", p, region)
	}
	if in := s.whole.holds(p); on != in && s.whole.lines.Distance(p) > hair {
		t.Fatalf("at %v: on the animal by region %v, by its outline %v", p, on, in)
	}
	for r, a := range s.parts {
		if in := a.holds(p); in != (on && r == region) && a.lines.Distance(p) > hair {
			t.Fatalf("at %v: region %q, yet the outline of %q holds it: %v", p, region, r, in)
		}
	}
	return on
}

// TestEveryPointHasOneRegion throws 10⁶ random points at the six views and
// compares every one with the outlines of all regions.
func TestEveryPointHasOneRegion(t *testing.T) {
	points := 1_000_000
	if testing.Short() {
		points /= 20
	}
	random := rand.New(rand.NewPCG(1, 2))
	for _, id := range body.Views() {
		t.Run(string(id), func(t *testing.T) {
			s, box, on := sharingOf(id), body.Bounds(id), 0
			count := (points + len(body.Views()) - 1) / len(body.Views())
			for range count {
				p := drawing.Point{X: box.Min.X + random.Float64()*box.Width(), Y: box.Min.Y + random.Float64()*box.Height()}
				if s.check(t, p) {
					on++
				}
			}
			if share := float64(on) / float64(count); share < .1 || share > .9 {
				t.Errorf("%.0f %% of the points lie on the animal: the test does not look at the drawing", 100*share)
			}
		})
	}
}

// TestBordersHaveOneRegion walks along every outline of every view in steps of
// 0.1 px at 1600 px width: on it, where each point has one region at most and none
// is missing within the animal, and 0.1 px to both sides, where the outlines are
// compared as everywhere.
func TestBordersHaveOneRegion(t *testing.T) {
	for _, id := range body.Views() {
		t.Run(string(id), func(t *testing.T) {
			s, pixel := sharingOf(id), body.Bounds(id).Width()/1600
			step := .1 * pixel
			if testing.Short() {
				step *= 50
			}
			points := 0
			for _, a := range s.parts {
				for _, line := range a.lines {
					points += s.checkAlong(t, line, step, .1*pixel)
				}
			}
			t.Logf("%d points", points)
		})
	}
}

// checkAlong checks points on a line and beside it.
func (s sharing) checkAlong(t *testing.T, line []drawing.Point, step, aside float64) (points int) {
	t.Helper()
	for i := 0; i+1 < len(line); i++ {
		d := line[i+1].Sub(line[i])
		if d.Length() == 0 {
			continue
		}
		n := drawing.Point{X: -d.Y, Y: d.X}.Mul(aside / d.Length())
		steps := max(1, int(math.Ceil(d.Length()/step)))
		for k := range steps {
			on := line[i].Lerp(line[i+1], float64(k)/float64(steps))
			for _, p := range []drawing.Point{on, on.Add(n), on.Sub(n)} {
				s.check(t, p)
				points++
			}
		}
	}
	return points
}

// TestPointToPlaceToPoint: a point that is turned into a place and back moves by
// less than a pixel at 1600 px width, and keeps its region.
func TestPointToPlaceToPoint(t *testing.T) {
	random := rand.New(rand.NewPCG(3, 4))
	for _, id := range body.Views() {
		box := body.Bounds(id)
		pixel := box.Width() / 1600
		if box.Width() < 1000 {
			pixel = box.Width() / 800
		}
		worst := 0.0
		for range 40_000 {
			p := drawing.Point{X: box.Min.X + random.Float64()*box.Width(), Y: box.Min.Y + random.Float64()*box.Height()}
			place, ok := body.At(id, p)
			if !ok {
				continue
			}
			q, ok := body.Point(id, place)
			if !ok {
				t.Fatalf("%s: place %+v of point %v is not shown", id, place, p)
			}
			worst = max(worst, q.Sub(p).Length())
			again, ok := body.At(id, q)
			if ok && (place.Part == body.Trunk || place.Part == body.Tail) && again.Region != place.Region && math.Abs(q.Sub(p).Length()) > pixel {
				t.Fatalf("%s: %+v came back as %+v", id, place, again)
			}
		}
		if worst > pixel {
			t.Errorf("%s: a point moved by %.3f, more than a pixel of %.3f", id, worst, pixel)
		}
	}
}

// TestPlaceToPointToPlace: every place of the surface that a view shows on its
// near side comes back as itself, but for places that fall together in one pixel.
func TestPlaceToPointToPlace(t *testing.T) {
	for _, id := range []body.ViewID{body.Above, body.Underside} {
		for along := 520; along <= body.Full; along += 37 {
			for angle := -179; angle <= 180; angle++ {
				near := angle >= -89 && angle <= 89
				if id == body.Underside {
					near = angle > 90 || angle < -90
				}
				if !near {
					continue
				}
				place := body.OnTrunk(along, angle)
				p, ok := body.Point(id, place)
				if !ok {
					t.Fatalf("%s does not show %+v", id, place)
				}
				back, ok := body.At(id, p)
				if !ok || back != place {
					t.Fatalf("%s: %+v came back as %+v", id, place, back)
				}
			}
		}
	}
}

func TestViewsProject(t *testing.T) {
	for _, c := range []struct {
		place            body.Place
		above, underside bool
	}{
		{body.OnTrunk(5000, 0), true, false},
		{body.OnTrunk(5000, 90), true, true},
		{body.OnTrunk(5000, 75), true, true},
		{body.OnTrunk(5000, -110), true, true},
		{body.OnTrunk(5000, 180), false, true},
		{body.OnTail(5000, -90), true, true},
	} {
		if _, ok := body.Point(body.Above, c.place); ok != c.above {
			t.Errorf("%+v from above: %v", c.place, ok)
		}
		if _, ok := body.Point(body.Underside, c.place); ok != c.underside {
			t.Errorf("%+v from below: %v", c.place, ok)
		}
	}
}

// TestLeftIsTheAnimalsLeft: with the snout pointing up in one's mind, the
// animal's left lies left of its course from above and right of it from below.
func TestLeftIsTheAnimalsLeft(t *testing.T) {
	side := func(id body.ViewID, along int) float64 {
		a, _ := body.Point(id, body.OnTrunk(along, 90))
		b, _ := body.Point(id, body.OnTrunk(along, -90))
		front, back := middleOf(id, along-50), middleOf(id, along+50)
		course, across := front.Sub(back), a.Sub(b)
		return course.X*across.Y - course.Y*across.X
	}
	for along := 700; along < 9900; along += 100 {
		if s := side(body.Above, along); s >= 0 { // y grows downward: left of the course is negative
			t.Fatalf("from above at %d the left is on the wrong side (%.1f)", along, s)
		}
		if s := side(body.Underside, along); s <= 0 {
			t.Fatalf("from below at %d the left is not mirrored (%.1f)", along, s)
		}
	}
}

func middleOf(id body.ViewID, along int) drawing.Point {
	a, _ := body.Point(id, body.OnTrunk(along, 90))
	b, _ := body.Point(id, body.OnTrunk(along, -90))
	return a.Lerp(b, .5)
}

func TestHeadSides(t *testing.T) {
	anchor := func(id body.ViewID, r body.RegionID) drawing.Point {
		p, ok := body.Anchor(id, r)
		if !ok {
			t.Fatalf("%s does not show %s", id, r)
		}
		return p
	}
	if anchor(body.HeadAbove, body.EyeRight).Y >= anchor(body.HeadAbove, body.EyeLeft).Y {
		t.Error("from above, snout to the left, the right eye must be the upper one")
	}
	if anchor(body.OpenMouth, body.UpperGumRight).X >= anchor(body.OpenMouth, body.UpperGumLeft).X {
		t.Error("face to face, the animal's right must be on the left")
	}
	for _, r := range body.RegionsOf(body.HeadLeft) {
		if strings.HasSuffix(string(r), ".right") {
			t.Errorf("the left side shows %s", r)
		}
		twin := body.RegionID(strings.Replace(string(r), ".left", ".right", 1))
		a, b := anchor(body.HeadLeft, r), anchor(body.HeadRight, twin)
		if math.Abs(a.X+b.X-640) > 1e-9 || a.Y != b.Y {
			t.Errorf("%s and %s are no mirror images: %v, %v", r, twin, a, b)
		}
	}
}

func TestEveryRegionIsShownAndListed(t *testing.T) {
	listed := map[body.RegionID]bool{}
	for _, r := range body.Regions() {
		if listed[r] {
			t.Errorf("%s is listed twice", r)
		}
		listed[r] = true
		place, ok := body.In(r)
		if !ok || place.Region != r {
			t.Errorf("the middle of %s is %+v, %v", r, place, ok)
		}
	}
	for _, id := range body.Views() {
		for _, r := range body.RegionsOf(id) {
			if !listed[r] {
				t.Errorf("%s shows %s, which is not listed", id, r)
			}
			p, _ := body.Anchor(id, r)
			if got, ok := body.Region(id, p); !ok || got != r {
				t.Errorf("%s: the anchor of %s lies in %q", id, r, got)
			}
			if area := math.Abs(body.Outline(id, r).Flatten(.1).Area()); area < 20 {
				t.Errorf("%s: %s is too small to be met: %.1f", id, r, area)
			}
		}
	}
}

// TestStepsReachEveryRegion: the arrow keys lead from the first region to every
// other, and a step never leaves the view.
func TestStepsReachEveryRegion(t *testing.T) {
	for _, id := range body.Views() {
		all := body.RegionsOf(id)
		reached := map[body.RegionID]bool{all[0]: true}
		for queue := all[:1]; len(queue) > 0; queue = queue[1:] {
			for _, d := range [][2]float64{{1, 0}, {-1, 0}, {0, 1}, {0, -1}} {
				next := body.Step(id, queue[0], d[0], d[1])
				if !reached[next] {
					reached[next] = true
					queue = append(queue, next)
				}
			}
		}
		for _, r := range all {
			if !reached[r] {
				t.Errorf("%s: no way to %s by arrows", id, r)
			}
		}
	}
}

func TestHeadPlacesShowInFullViews(t *testing.T) {
	eye, _ := body.In(body.EyeLeft) // noted on the head's left side
	if p, ok := body.Point(body.Above, eye); !ok {
		t.Error("an eye noted from the side does not show from above")
	} else if r, _ := body.Region(body.Above, p); r != body.EyeLeft {
		t.Errorf("it shows at %s", r)
	}
	p, _ := body.Anchor(body.HeadAbove, body.Crown)
	crown, _ := body.At(body.HeadAbove, p)
	q, ok := body.Point(body.Above, crown)
	if back, _ := body.At(body.Above, q); !ok || back != crown {
		t.Errorf("the crown's %+v is %+v in the full view", crown, back)
	}
	if _, ok := body.Point(body.HeadRight, eye); ok {
		t.Error("the left eye shows from the right")
	}
}

func TestStripKeepsPlaces(t *testing.T) {
	for _, below := range []bool{false, true} {
		s := body.StraightBetween(2000, 9000, 900, 60, below)
		for along := 2000; along <= 9000; along += 211 {
			for angle := -179; angle <= 180; angle += 7 {
				place := body.OnTrunk(along, angle)
				p, ok := s.Point(place)
				if near := math.Abs(float64(angle)) < 90 != below; !near {
					continue
				}
				back, found := s.At(p)
				if !ok || !found || back != place {
					t.Fatalf("%+v came back as %+v", place, back)
				}
				if want := float64(along-2000) / 7000 * 900; math.Abs(p.X-want) > .01 {
					t.Fatalf("%d lies at %.2f, want %.2f", along, p.X, want)
				}
			}
		}
	}
}

func TestDrawingIsAlwaysTheSame(t *testing.T) {
	for _, id := range body.Views() {
		var a, b drawing.Recorder
		body.Draw(&a, id, body.Options{})
		body.Draw(&b, id, body.Options{})
		if len(a.Steps) == 0 || len(a.Steps) != len(b.Steps) {
			t.Fatalf("%s: %d and %d steps", id, len(a.Steps), len(b.Steps))
		}
		for i := range a.Steps {
			if len(a.Steps[i].Path) != len(b.Steps[i].Path) || a.Steps[i].Path.Bounds() != b.Steps[i].Path.Bounds() {
				t.Fatalf("%s: step %d differs", id, i)
			}
		}
	}
}

func TestCoarserNetsAreLighter(t *testing.T) {
	weight := func(o body.Options) (n int) {
		var r drawing.Recorder
		body.Draw(&r, body.Above, o)
		for _, s := range r.Steps {
			n += len(s.Path)
		}
		return n
	}
	fine, coarse, none := weight(body.Options{}), weight(body.Options{Net: body.CoarseNet}), weight(body.Options{Net: body.NoNet})
	if !(fine > coarse && coarse > none) {
		t.Errorf("fine %d, coarse %d, none %d segments", fine, coarse, none)
	}
}

func BenchmarkAt(b *testing.B) {
	random := rand.New(rand.NewPCG(5, 6))
	for _, id := range body.Views() {
		b.Run(string(id), func(b *testing.B) {
			box := body.Bounds(id)
			for b.Loop() {
				body.At(id, drawing.Point{X: random.Float64() * box.Width(), Y: random.Float64() * box.Height()})
			}
		})
	}
}
