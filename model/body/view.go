package body

import (
	"math"
	"sync"

	"coilward/model/drawing"
)

// fullBox is the frame of the two full views.
func fullBox() drawing.Rectangle { return drawing.Box(0, 0, 1200, 560) }

// view is one drawing with everything needed to find one's way in it.
type view struct {
	box    drawing.Rectangle
	frame  *mesh  // of head and mouth; of a full view: its head's
	spine  *spine // of a full view
	toHead drawing.Matrix
	onHead drawing.Matrix // the inverse of toHead
	below  bool
	head   ViewID // of a full view: whose frame its head has
	cells  []cell
	extent drawing.Rectangle
	order  []RegionID // the regions it shows
	parts  map[RegionID]*shownRegion
}

type shownRegion struct {
	path   drawing.Path
	anchor drawing.Point
}

// views are made once, at first use, and never changed.
var views = sync.OnceValue(func() map[ViewID]*view {
	return map[ViewID]*view{
		Above:     fullView(false, HeadAbove, headMesh()),
		Underside: fullView(true, Underside, belowMesh()),
		HeadAbove: frameView(headBox(), headMesh()),
		HeadLeft:  frameView(headBox(), leftMesh()),
		HeadRight: frameView(headBox(), rightMesh()),
		OpenMouth: frameView(mouthBox(), mouthMesh()),
	}
})

func frameView(box drawing.Rectangle, m *mesh) *view {
	v := &view{box: box, frame: m, extent: m.outline.Bounds(), parts: map[RegionID]*shownRegion{}}
	for _, r := range m.regions {
		v.show(r.id, pathOf(r.area), r.anchor)
	}
	return v
}

func fullView(below bool, head ViewID, m *mesh) *view {
	sp := newSpine(meander(drawing.Box(70, 84, 1150, 476)), fullHalf, below)
	v := &view{box: fullBox(), frame: m, spine: sp, below: below, head: head, cells: cells(), parts: map[RegionID]*shownRegion{}}
	v.toHead = sp.toHead()
	v.onHead = v.toHead.Inverse()
	for _, r := range m.regions {
		v.show(r.id, pathOf(r.area).Transform(v.toHead), v.toHead.Apply(r.anchor))
	}
	for _, c := range v.cells {
		if path, anchor, ok := sp.cellPath(c); ok {
			v.show(c.region, path, anchor)
		}
	}
	v.extent = v.silhouette().Bounds()
	return v
}

func (v *view) show(id RegionID, path drawing.Path, anchor drawing.Point) {
	if p := v.parts[id]; p != nil {
		p.path.Append(path)
		return
	}
	v.order = append(v.order, id)
	v.parts[id] = &shownRegion{path, anchor}
}

// cellPath is what the spine's view shows of a cell of body surface.
func (sp *spine) cellPath(c cell) (drawing.Path, drawing.Point, bool) {
	t0, t1, ok := visible(float64(c.lowest)-.5, float64(c.highest)+.5, sp.mirrored)
	if !ok {
		return nil, drawing.Point{}, false
	}
	s0, s1 := drawn(c.part, max(float64(c.from)-.5, 0)), drawn(c.part, min(float64(c.to)-.5, Full))
	if c.part == Trunk && c.from == HeadShare {
		s0 = neckJoint
	}
	return sp.exactBand(s0, s1, t0, t1), sp.at((s0+s1)/2, (t0+t1)/2), true
}

// visible is the range of t in which a view shows the angles from a to b, in
// degrees with a <= b.
func visible(a, b float64, below bool) (t0, t1 float64, ok bool) {
	switch {
	case b-a > 359:
		a, b = -90, 90
	case below:
		if a, b = 180-b, 180-a; a > 180 {
			a, b = a-360, b-360
		}
	}
	if a, b = max(a, -90), min(b, 90); a >= b {
		return 0, 0, false
	}
	return math.Sin(a * math.Pi / 180), math.Sin(b * math.Pi / 180), true
}

// Bounds is the frame of a view, in the view's units; points outside it are
// never on the animal.
func Bounds(id ViewID) drawing.Rectangle {
	if v := views()[id]; v != nil {
		return v.box
	}
	return drawing.Rectangle{}
}

// RegionsOf are the regions that a view shows, from snout to tail tip.
func RegionsOf(id ViewID) []RegionID {
	v := views()[id]
	if v == nil {
		return nil
	}
	return append([]RegionID(nil), v.order...)
}

// Region is the region under a point of a view. Every point within the animal's
// outline lies in exactly one.
func Region(id ViewID, p drawing.Point) (RegionID, bool) {
	place, ok := At(id, p)
	return place.Region, ok
}

// At is the place on the animal under a point of a view; not ok beside the animal.
func At(id ViewID, p drawing.Point) (Place, bool) {
	v := views()[id]
	if v == nil {
		return Place{}, false
	}
	if v.spine == nil {
		return v.inFrame(id, p)
	}
	q := v.onHead.Apply(p)
	if q.X <= headJoint && q.X > 0 && math.Abs(q.Y-headAxis) < headAxis {
		return v.inFrame(v.head, q)
	}
	return v.onTrunk(p, q)
}

func (v *view) inFrame(id ViewID, p drawing.Point) (Place, bool) {
	region, ok := v.frame.find(p)
	if !ok {
		return Place{}, false
	}
	part, box := Head, headBox()
	if id == OpenMouth {
		part, box = Mouth, mouthBox()
	}
	return Place{Part: part, View: id, Region: region,
		X: share(p.X, box.Width()), Y: share(p.Y, box.Height())}, true
}

func share(x, whole float64) int { return max(0, min(Full, int(math.Round(x/whole*Full)))) }

func (v *view) onTrunk(p, onHead drawing.Point) (Place, bool) {
	s, t := v.spine.locate(p)
	const fuzz = 1e-6
	if s < neckJoint-fuzz || math.Abs(t) > 1+fuzz {
		return Place{}, false
	}
	part, along := alongOf(max(s, neckJoint))
	angle := angleOf(t, v.below)
	region, ok := regionOf(v.cells, part, along, angle)
	return Place{Part: part, Along: along, Angle: angle, Region: region}, ok
}

// Point is where a view shows a place. A place on the flank shows from above and
// from below, at the edge; one on the belly only from below. A place on head or
// mouth that was noted in another view shows in the middle of its region, if the
// view has that region.
func Point(id ViewID, place Place) (drawing.Point, bool) {
	v := views()[id]
	if v == nil {
		return drawing.Point{}, false
	}
	switch place.Part {
	case Trunk, Tail:
		if v.spine != nil {
			return v.spine.pointOf(place)
		}
	case Head, Mouth:
		if p, ok := v.framed(id, place); ok {
			return p, true
		}
	}
	if r := v.parts[place.Region]; r != nil {
		return r.anchor, true
	}
	return drawing.Point{}, false
}

func (v *view) framed(id ViewID, place Place) (drawing.Point, bool) {
	box := headBox()
	if place.Part == Mouth {
		box = mouthBox()
	}
	p := drawing.Point{X: float64(place.X) / Full * box.Width(), Y: float64(place.Y) / Full * box.Height()}
	switch {
	case v.spine == nil && place.View == id:
		return p, true
	case v.spine != nil && place.View == v.head:
		return v.toHead.Apply(p), true
	}
	return drawing.Point{}, false
}

func (sp *spine) pointOf(place Place) (drawing.Point, bool) {
	t, ok := acrossOf(float64(place.Angle), sp.mirrored)
	switch {
	case !ok:
		return drawing.Point{}, false
	case place.Part == Trunk && place.Along < HeadShare:
		return sp.toHead().Apply(sp.beforeNeck(place.Along, t)), true
	}
	return sp.at(drawn(place.Part, float64(place.Along)), t), true
}

// beforeNeck is the point of the head's frame at a share of the trunk before the
// neck and t across: the head is drawn straight, whichever way the neck bends.
func (sp *spine) beforeNeck(along int, t float64) drawing.Point {
	edge := headEdge()
	if sp.mirrored {
		edge = belowEdge()
	}
	x := headSnout + (headJoint-headSnout)*float64(along)/HeadShare
	return drawing.Point{X: x, Y: headAxis + sp.onPage(t)*max(headAxis-edgeAt(edge, x), 0)}
}

// Outline is the outline of a region in a view, empty if the view does not show
// it. It may consist of several closed pieces that touch.
func Outline(id ViewID, region RegionID) drawing.Path {
	if v := views()[id]; v != nil && v.parts[region] != nil {
		return v.parts[region].path
	}
	return nil
}

// Silhouette is the outline of the whole animal in a view: closed pieces that touch.
func Silhouette(id ViewID) drawing.Path {
	if v := views()[id]; v != nil {
		return v.silhouette()
	}
	return nil
}

func (v *view) silhouette() drawing.Path {
	if v.spine == nil {
		return pathOf(v.frame.outline)
	}
	p := v.spine.exactBand(neckJoint, tailEnd, 1, -1)
	p.Append(pathOf(v.frame.outline).Transform(v.toHead))
	return p
}

// Extent is the smallest box around the animal in a view.
func Extent(id ViewID) drawing.Rectangle {
	if v := views()[id]; v != nil {
		return v.extent
	}
	return drawing.Rectangle{}
}

// Anchor is a point well inside a region as a view shows it.
func Anchor(id ViewID, region RegionID) (drawing.Point, bool) {
	if v := views()[id]; v != nil && v.parts[region] != nil {
		return v.parts[region].anchor, true
	}
	return drawing.Point{}, false
}

// Step is the region that lies nearest to one in a direction, such as (1, 0) for
// the right arrow key; the region itself where nothing lies that way. From no
// region or one that the view does not show it is the view's first.
func Step(id ViewID, from RegionID, dx, dy float64) RegionID {
	v := views()[id]
	if v == nil {
		return ""
	}
	start := v.parts[from]
	if start == nil {
		return v.order[0]
	}
	best, score := from, math.Inf(1)
	for _, other := range v.order {
		d := v.parts[other].anchor.Sub(start.anchor)
		along, across := d.X*dx+d.Y*dy, math.Abs(d.X*dy-d.Y*dx)
		if other == from || along <= 1 || across > along*1.8 {
			continue
		}
		if s := along + 2*across; s < score {
			best, score = other, s
		}
	}
	return best
}

// Draw draws a view in its own units; wrap the pen to place it. An unknown view
// draws nothing.
func Draw(pen drawing.Pen, id ViewID, o Options) {
	switch id {
	case HeadAbove:
		drawHeadAbove(pen)
	case HeadLeft:
		drawHeadLeft(pen)
	case HeadRight:
		drawHeadRight(pen)
	case OpenMouth:
		drawMouth(pen, o)
	case Above, Underside:
		v := views()[id]
		art := trunkArt{spine: v.spine, pen: pen, options: o, unit: 1}
		if id == Above {
			art.above()
		} else {
			art.underside()
		}
	}
}
