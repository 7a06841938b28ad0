package body_test

import (
	"errors"
	"math"
	"testing"

	"coilward/model"
	"coilward/model/body"
	"coilward/model/drawing"
)

func TestSidesByTheAngle(t *testing.T) {
	for angle, want := range map[int]body.Side{
		0: body.BackSide, 30: body.BackSide, -30: body.BackSide, 31: body.LeftSide, -31: body.RightSide, 130: body.LeftSide, -130: body.RightSide,
		131: body.BellySide, -131: body.BellySide, 180: body.BellySide, -180: body.BellySide, 360: body.BackSide, 391: body.LeftSide,
	} {
		if got := (body.Place{Part: body.Trunk, Angle: angle}).Side(); got != want {
			t.Errorf("trunk at %d°: %q, want %q", angle, got, want)
		}
		if got := body.OnTail(5000, angle).Side(); got != want {
			t.Errorf("tail at %d°: %q, want %q", angle, got, want)
		}
		for _, part := range []body.Part{body.Head, body.Mouth} {
			if got := (body.Place{Part: part, Angle: angle}).Side(); got != "" {
				t.Errorf("%s at %d°: %q, want none: its regions name it", part, angle, got)
			}
		}
	}
}

func TestAnglesAreBroughtIntoOneTurn(t *testing.T) {
	for angle, want := range map[int]int{0: 0, 180: 180, 181: -179, -179: -179, -180: 180, -181: 179, 360: 0, 540: 180, -540: 180, 725: 5, -725: -5} {
		if got := body.OnTrunk(5000, angle).Angle; got != want {
			t.Errorf("%d°: %d°, want %d°", angle, got, want)
		}
	}
}

func TestSharesAreCutAndRounded(t *testing.T) {
	for along, want := range map[int][4]int{ // as kept, percent, slice from and to
		-1: {0, 0, 0, 5}, 0: {0, 0, 0, 5}, 49: {49, 0, 0, 5}, 50: {50, 1, 0, 5}, 499: {499, 5, 0, 5}, 500: {500, 5, 5, 10},
		6249: {6249, 62, 60, 65}, 6250: {6250, 63, 60, 65}, 9999: {9999, 100, 95, 100}, 10000: {10000, 100, 95, 100}, 10001: {10000, 100, 95, 100},
	} {
		for _, p := range []body.Place{body.OnTrunk(along, 0), body.OnTail(along, 0)} {
			from, to := p.Slice()
			if got := [4]int{p.Along, p.Percent(), from, to}; got != want {
				t.Errorf("%s at %d: %v, want %v", p.Part, along, got, want)
			}
		}
	}
	for _, c := range [][3]int64{{1, 5000, 1}, {1, 4999, 0}, {2500, 9000, 2250}, {10000, 9001, 9001}} { // half a tenth goes up
		if got := body.OnTrunk(int(c[0]), 0).FromSnout(c[1]); got != c[2] {
			t.Errorf("%d of %d: %d from the snout, want %d", c[0], c[1], got, c[2])
		}
	}
}

// The tail counts on behind the vent by its own length: 8 % of snout–vent length.
// Source: computed from usual proportions of pythons.
func TestSameOverTheVent(t *testing.T) {
	for tail, want := range map[int]bool{3749: true, 3750: true, 3762: true, 3763: false} {
		if got := body.Same(body.OnTrunk(9900, 180), body.OnTail(tail, 180)); got != want {
			t.Errorf("1 %% before the vent and %d of the tail: %v", tail, got)
		}
	}
}

func TestTheMiddleOfARegion(t *testing.T) {
	for region, want := range map[body.RegionID]body.Place{
		body.ForeBack:  body.OnTrunk(2100, 0),
		body.NeckLeft:  body.OnTrunk(950, 80),
		body.NeckBelly: body.OnTrunk(950, 180),
		body.HindRight: body.OnTrunk(7000, -80),
		body.SpurLeft:  body.OnTrunk(9825, 110),
		body.SpurRight: body.OnTrunk(9825, -110),
		body.Vent:      body.OnTrunk(9900, 180),
		body.TailBelly: body.OnTail(6250, 180),
		body.TailTip:   body.OnTail(9250, 0),
	} {
		if got, ok := body.In(region); !ok || got != want {
			t.Errorf("%s: %+v, want %+v", region, got, want)
		}
	}
	for region, want := range map[body.RegionID]body.ViewID{
		body.EyeLeft: body.HeadLeft, body.EyeRight: body.HeadRight, body.Crown: body.HeadLeft, body.Glottis: body.OpenMouth,
	} {
		if got, ok := body.In(region); !ok || got.View != want || got.Best() != want {
			t.Errorf("%s: %+v, want in %s", region, got, want)
		}
	}
	if got, ok := body.In("dewlap"); ok || got != (body.Place{}) {
		t.Errorf("a region that is none: %+v", got)
	}
}

func TestTheViewThatShowsAPlaceBest(t *testing.T) {
	for angle, want := range map[int]body.ViewID{0: body.Above, 90: body.Above, -90: body.Above, 91: body.Underside, -91: body.Underside, 180: body.Underside} {
		if got := body.OnTrunk(5000, angle).Best(); got != want {
			t.Errorf("%d°: %s, want %s", angle, got, want)
		}
	}
}

// A finding on the flank shows from both sides as long as it lies no more than
// 40° round the edge.
func TestHowFarRoundTheEdgeAPlaceShows(t *testing.T) {
	for angle, want := range map[int][2]bool{
		130: {true, true}, -130: {true, true}, 131: {false, true}, -131: {false, true},
		50: {true, true}, -50: {true, true}, 49: {true, false}, -49: {true, false},
	} {
		_, above := body.Point(body.Above, body.OnTrunk(5000, angle))
		_, below := body.Point(body.Underside, body.OnTrunk(5000, angle))
		if got := [2]bool{above, below}; got != want {
			t.Errorf("%d°: shows from above and below %v, want %v", angle, got, want)
		}
	}
}

// Places before the neck have the regions of the head, from the snout's tip on.
func TestThePlacesOfTheHeadAlongTheTrunk(t *testing.T) {
	for _, c := range []struct {
		along, angle int
		want         body.RegionID
	}{
		{0, 0, body.Snout}, {0, 180, body.Snout}, {250, 0, body.Crown}, {400, 0, body.Nape}, {200, 70, body.EyeLeft}, {200, -70, body.EyeRight}, {499, 0, body.NeckBack}, {499, 180, body.NeckBelly},
		{250, 180, body.ThroatUnderside}, {500, 0, body.NeckBack}, {500, 90, body.NeckLeft}, {500, -90, body.NeckRight}, {500, 180, body.NeckBelly},
	} {
		if got := body.OnTrunk(c.along, c.angle).Region; got != c.want {
			t.Errorf("%d at %d°: %s, want %s", c.along, c.angle, got, c.want)
		}
	}
	for along := 0; along < body.HeadShare; along += 7 {
		for angle := 5; angle < 180; angle += 5 {
			left, right := body.OnTrunk(along, angle).Region, body.OnTrunk(along, -angle).Region
			if twin(left) != right {
				t.Fatalf("%d at %d°: %s on the left, %s on the right", along, angle, left, right)
			}
		}
	}
}

// twin is the same region of the other side.
func twin(r body.RegionID) body.RegionID {
	for _, other := range body.Regions() {
		if r != other && len(r) > 5 && r[:len(r)-5]+".right" == other && r[len(r)-5:] == ".left" {
			return other
		}
	}
	return r
}

func TestTypedPlacesAtTheirEdges(t *testing.T) {
	for text, want := range map[string]body.Place{
		"0 l": body.OnTrunk(0, 90), "9 l": body.OnTrunk(900, 90), "62. l": body.OnTrunk(6200, 90), "62.345": body.OnTrunk(6235, 0), "0,004": body.OnTrunk(0, 0),
		"100,0%b": body.OnTrunk(10000, 180), "100.004": body.OnTrunk(10000, 0), "left9": body.OnTrunk(900, 90), "l%9": body.OnTrunk(900, 90), "tail 0": body.OnTail(0, 0),
		"oben 3": body.OnTrunk(300, 0), "3 ruecken": body.OnTrunk(300, 0), "3 r": body.OnTrunk(300, -90), "3 %": body.OnTrunk(300, 0),
	} {
		if got, err := body.ParsePlace(text); err != nil && text != "100.004" || err == nil && got != want {
			t.Errorf("%q: %+v, %v; want %+v", text, got, err, want)
		}
	}
	for text, reason := range map[string]string{
		"100.01": "place.range", "62 /": "place.word", "62 :": "place.word", ".5": "place.word", ",5": "place.word", "left0 0": "place.twice", "0 0": "place.twice",
		"%": "place.number", "62 l l": "place.twice", "62 tail r left": "place.twice", "1.2.3": "place.word",
	} {
		_, err := body.ParsePlace(text)
		var refusal *model.Refusal
		if !errors.As(err, &refusal) || refusal.Reason != reason {
			t.Errorf("%q: %v; want %s", text, err, reason)
		}
	}
}

func TestSpansAndScalesAtTheirEdges(t *testing.T) {
	for _, c := range []struct {
		tenths          int
		span, snoutVent int64
		want            int
		ok              bool
	}{
		{0, 1800, 9000, 0, true}, {-1, 1800, 9000, 0, false}, {50, 1800, 9000, 10000, true}, {1, 0, 9000, 0, false}, {1, 1, 0, 0, false},
		{1, 1800, 9000, 200, true}, {1, 1, 2000, 1, true}, {1, 1, 2001, 0, true}, {10, 1, 1, 10000, true}, {1, 1, 1, 1000, true},
	} {
		if got, ok := body.FromSpans(c.tenths, c.span, c.snoutVent); ok != c.ok || got != c.want {
			t.Errorf("%+v: %d, %v", c, got, ok)
		}
	}
	for _, c := range []struct {
		scale, count, want int
		ok                 bool
	}{
		{1, 1, 5250, true}, {1, 200, 524, true}, {200, 200, 9976, true}, {100, 200, 5226, true}, {1000, 1000, 9995, true}, {1, 1001, 0, false}, {2, 1, 0, false}, {0, 1, 0, false},
	} {
		if got, ok := body.FromBellyScale(c.scale, c.count); ok != c.ok || got != c.want {
			t.Errorf("%+v: %d, %v", c, got, ok)
		}
	}
}

func TestOrgansAreDrawnAtTheirPercent(t *testing.T) {
	for _, o := range body.Organs() {
		for _, id := range []body.ViewID{body.Above, body.Underside} {
			p, ok := body.OrganPoint(id, o)
			place, on := body.At(id, p)
			if !ok || !on || place.Part != body.Trunk || place.Along != (o.From+o.To)*50 {
				t.Errorf("%s: %s lies at %+v, want at the middle of %d–%d %%", id, o.ID, place, o.From, o.To)
			}
		}
	}
	for _, id := range []body.ViewID{body.HeadAbove, body.OpenMouth, "no-view"} {
		if _, ok := body.OrganPoint(id, body.Organs()[0]); ok {
			t.Errorf("%s shows the heart", id)
		}
	}
}

func TestAViewThatIsNone(t *testing.T) {
	const none = body.ViewID("no-view")
	_, at := body.At(none, drawing.Point{X: 300, Y: 200})
	_, point := body.Point(none, body.OnTrunk(5000, 0))
	_, anchor := body.Anchor(none, body.Snout)
	_, hidden := body.Anchor(body.Above, body.Glottis)
	if at || point || anchor || hidden {
		t.Error("found something in it")
	}
	if body.Bounds(none) != (drawing.Rectangle{}) || body.Extent(none) != (drawing.Rectangle{}) || body.RegionsOf(none) != nil ||
		body.Outline(none, body.Snout) != nil || body.Outline(body.Above, body.Glottis) != nil || body.Silhouette(none) != nil || body.Step(none, body.Snout, 1, 0) != "" {
		t.Error("it has something to show")
	}
	var pen drawing.Recorder
	if body.Draw(&pen, none, body.Options{}); len(pen.Steps) != 0 {
		t.Error("it was drawn")
	}
}

func TestTheAnimalFillsItsExtent(t *testing.T) {
	for _, id := range body.Views() {
		extent, outline := body.Extent(id), body.Silhouette(id).Bounds()
		for _, d := range []float64{extent.Min.X - outline.Min.X, extent.Min.Y - outline.Min.Y, extent.Max.X - outline.Max.X, extent.Max.Y - outline.Max.Y} {
			if math.Abs(d) > .5 {
				t.Errorf("%s: extent %v, outline within %v", id, extent, outline)
			}
		}
		if _, ok := body.At(id, drawing.Point{X: extent.Min.X - 1, Y: extent.Centre().Y}); ok {
			t.Errorf("%s: something lies before its extent", id)
		}
	}
}

// Steps go to the nearest region that way; where nothing lies that way they stay.
func TestStepsGoTheWayOfTheArrow(t *testing.T) {
	for _, id := range body.Views() {
		for _, from := range body.RegionsOf(id) {
			start, _ := body.Anchor(id, from)
			for _, d := range [][2]float64{{1, 0}, {-1, 0}, {0, 1}, {0, -1}} {
				to := body.Step(id, from, d[0], d[1])
				if to == from {
					continue
				}
				end, _ := body.Anchor(id, to)
				way := end.Sub(start)
				along, across := way.X*d[0]+way.Y*d[1], math.Abs(way.X*d[1]-way.Y*d[0])
				if along <= 1 || across > along*1.8 {
					t.Errorf("%s: from %s towards %v to %s, which lies %v away", id, from, d, to, way)
				}
				for _, nearer := range body.RegionsOf(id) {
					other, _ := body.Anchor(id, nearer)
					o := other.Sub(start)
					a, b := o.X*d[0]+o.Y*d[1], math.Abs(o.X*d[1]-o.Y*d[0])
					if nearer != from && a > 1 && b <= a*1.8 && a+2*b < along+2*across-1e-9 {
						t.Errorf("%s: from %s towards %v to %s, though %s is nearer", id, from, d, to, nearer)
					}
				}
			}
		}
		if first := body.RegionsOf(id)[0]; body.Step(id, "", 1, 0) != first || body.Step(id, "dewlap", 0, 1) != first {
			t.Errorf("%s: a step from nowhere does not lead to %s", id, first)
		}
	}
}

func TestPlacesOfAFrameAreSharesOfIt(t *testing.T) {
	for _, id := range []body.ViewID{body.HeadAbove, body.HeadLeft, body.HeadRight, body.OpenMouth} {
		box := body.Bounds(id)
		for _, r := range body.RegionsOf(id) {
			p, _ := body.Anchor(id, r)
			place, ok := body.At(id, p)
			want := [2]int{int(math.Round(p.X / box.Width() * body.Full)), int(math.Round(p.Y / box.Height() * body.Full))}
			part := body.Head
			if id == body.OpenMouth {
				part = body.Mouth
			}
			if got := [2]int{place.X, place.Y}; !ok || got != want || place.Part != part || place.View != id || place.Region != r {
				t.Errorf("%s: %s at %v is %+v", id, r, p, place)
			}
		}
	}
}

func TestDistancesAlongAStrip(t *testing.T) {
	for name, s := range map[string]*body.Strip{"straight": body.Straight(900, 20, false, false), "from below": body.Straight(900, 20, false, true)} {
		last := s.Distance(body.OnTrunk(0, 0))
		if math.Abs(last) > 1e-9 {
			t.Errorf("%s: the snout lies at %v", name, last)
		}
		for _, place := range []body.Place{body.OnTrunk(250, 180), body.OnTrunk(500, 90), body.OnTrunk(501, 90), body.OnTrunk(9999, 90), body.OnTail(0, 90), body.OnTail(10000, 90)} {
			at := s.Distance(place)
			if at < last {
				t.Errorf("%s: %+v lies at %v, before %v", name, place, at, last)
			}
			if p, ok := s.Point(place); place.Along >= body.HeadShare && (!ok || math.Abs(p.X-at) > .01) {
				t.Errorf("%s: %+v is drawn at %v, measured at %v", name, place, p.X, at)
			}
			last = at
		}
		if math.Abs(last-900) > 1e-6 {
			t.Errorf("%s: the tail's tip lies at %v, want 900", name, last)
		}
		eye, _ := body.In(body.EyeLeft)
		half, joint := s.Distance(eye), s.Distance(body.OnTrunk(body.HeadShare, 0))
		if math.Abs(half-joint/2) > 1e-9 || math.Abs(s.Distance(body.OnTrunk(250, 0))-joint/2) > 1e-9 {
			t.Errorf("%s: the eye counts at %v, the head ends at %v", name, half, joint)
		}
		if _, ok := s.Point(eye); ok {
			t.Errorf("%s: shows the eye behind the head", name)
		}
	}
}

func TestWhatAStripShows(t *testing.T) {
	s := body.StraightBetween(2000, 9000, 900, 60, false)
	from, to := body.OnTrunk(3000, 0), body.OnTrunk(4000, 0)
	band := s.Band(from, to).Bounds()
	if math.Abs(band.Min.X-s.Distance(from)) > .01 || math.Abs(band.Max.X-s.Distance(to)) > .01 {
		t.Errorf("the band lies in %v, want from %v to %v", band, s.Distance(from), s.Distance(to))
	}
	if middle := band.Centre().Y; math.Abs(middle-78) > .01 { // 60 × 1.3
		t.Errorf("its middle line lies at %v", middle)
	}
	back := s.Outline(body.ForeBack)
	p, _ := s.Point(body.OnTrunk(2100, 0))
	q, _ := s.Point(body.OnTrunk(2100, 60))
	if lines := back.Flatten(.01); !lines.Inside(p) || lines.Inside(q) {
		t.Error("the fore back's outline does not hold its middle, or holds the flank")
	}
	if len(s.Outline(body.ForeBelly)) != 0 || len(s.Outline(body.Crown)) != 0 {
		t.Error("from above it shows belly or head")
	}
	for name, p := range map[string]drawing.Point{"over it": {X: p.X, Y: 1}, "under it": {X: p.X, Y: 155}, "on the head": {X: s.Distance(body.OnTrunk(400, 0)), Y: 78}} {
		if place, ok := s.At(p); ok {
			t.Errorf("%s: %+v", name, place)
		}
	}
	upright := body.Straight(900, 20, true, false)
	if p, _ := upright.Point(body.OnTrunk(5000, 0)); math.Abs(p.X-26) > .01 || math.Abs(p.Y-upright.Distance(body.OnTrunk(5000, 0))) > .01 {
		t.Errorf("upright, the middle lies at %v", p)
	}
}

// A stretch that is turned round, empty or beyond the ends is cut to one that
// can be shown.
func TestStretchesOfAStripAreCut(t *testing.T) {
	for _, c := range [][4]int{{0, 5000, 500, 5000}, {500, 12000, 500, 10000}, {7000, 3000, 7000, 7001}, {10000, 10000, 9999, 10000}} {
		s := body.StraightBetween(c[0], c[1], 900, 60, false)
		a, b := s.Distance(body.OnTrunk(c[2], 0)), s.Distance(body.OnTrunk(c[3], 0))
		if math.Abs(a) > 1e-6 || math.Abs(b-900) > 1e-6 {
			t.Errorf("%d to %d: %d lies at %v, %d at %v", c[0], c[1], c[2], a, c[3], b)
		}
	}
	if s := body.Straight(10, 20, false, false); math.Abs(s.Distance(body.OnTail(10000, 0))-s.Distance(body.OnTrunk(500, 0))-1) > 1e-9 {
		t.Error("a strip too short for its head leaves no tenth to the trunk")
	}
}

// A mark before the neck lies on the head, on its own side, in both full views
// and on a strip.
func TestMarksBeforeTheNeckLieOnTheHead(t *testing.T) {
	for _, id := range []body.ViewID{body.Above, body.Underside} {
		for along := 10; along < body.HeadShare; along += 10 {
			for _, angle := range []int{-70, -20, 0, 20, 70} {
				if id == body.Underside {
					angle = 180 - angle
				}
				place := body.OnTrunk(along, angle)
				p, ok := body.Point(id, place)
				region, on := body.Region(id, p)
				if !ok || !on || region != place.Region {
					t.Fatalf("%s: %+v shows at %v, in %q", id, place, p, region)
				}
			}
		}
	}
	s := body.Straight(900, 20, false, false)
	for along := 0; along <= body.HeadShare; along += 50 {
		left, _ := s.Point(body.OnTrunk(along, 80))
		right, _ := s.Point(body.OnTrunk(along, -80))
		if want := s.Distance(body.OnTrunk(along, 0)); math.Abs(left.X-want) > .01 || math.Abs(right.X-want) > .01 || math.Abs(left.Y+right.Y-52) > .01 || left.Y < right.Y {
			t.Errorf("%d: left at %v, right at %v, want %v along", along, left, right, want)
		}
	}
}
