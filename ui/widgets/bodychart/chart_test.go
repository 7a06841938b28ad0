package bodychart

import (
	"cmp"
	"image"
	"image/color"
	"math"
	"slices"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/test"

	"coilward/model/body"
	"coilward/model/drawing"
	"coilward/ui/widgets/raster"
)

func style() raster.Style { return raster.Style{Palette: drawing.LightPalette} }

func shownChart(t testing.TB, view body.ViewID, w, h float32) *Chart {
	test.NewTempApp(t)
	c := New(view, style())
	win := test.NewTempWindow(t, c)
	win.SetPadded(false)
	win.Resize(fyne.NewSize(w, h))
	return c
}

func (c *Chart) over(t testing.TB, region body.RegionID) fyne.Position {
	t.Helper()
	p, ok := body.Anchor(c.View, region)
	if !ok {
		t.Fatalf("%s does not show %s", c.View, region)
	}
	q := c.fit().Apply(p)
	return fyne.NewPos(float32(q.X), float32(q.Y))
}

func (c *Chart) moveOver(pos fyne.Position) {
	c.MouseMoved(&desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: pos}})
}

func TestTapTellsThePlace(t *testing.T) {
	for _, view := range body.Views() {
		c := shownChart(t, view, 800, 460)
		var got body.Place
		c.OnPlace = func(p body.Place) { got = p }
		for _, region := range body.RegionsOf(view) {
			got = body.Place{}
			c.Tapped(&fyne.PointEvent{Position: c.over(t, region)})
			if got.Region != region {
				t.Errorf("%s: a tap on %s told %q", view, region, got.Region)
			}
		}
		got = body.Place{}
		c.Tapped(&fyne.PointEvent{Position: fyne.NewPos(1, 1)})
		if got != (body.Place{}) {
			t.Errorf("%s: a tap beside the animal told %+v", view, got)
		}
	}
}

func TestHoverNamesAndLights(t *testing.T) {
	c := shownChart(t, body.Above, 900, 500)
	c.Describe = func(p body.Place) string { return string(p.Region) }
	over := false
	c.OnHover = func(_ body.Place, on bool) { over = on }
	c.moveOver(c.over(t, body.HindLeft))
	if !c.hover.raster.Visible() || c.tip.Text() != "hind.left" || !c.tip.Visible() || !over || c.Cursor() != desktop.PointerCursor {
		t.Fatalf("light %v, tip %q, told %v", c.hover.raster.Visible(), c.tip.Text(), over)
	}
	c.moveOver(fyne.NewPos(2, 2))
	if c.hover.raster.Visible() || c.tip.Visible() || over {
		t.Error("still lit beside the animal")
	}
	c.moveOver(c.over(t, body.HindLeft))
	c.MouseOut()
	if c.hover.raster.Visible() || over {
		t.Error("still lit after the pointer has left")
	}
}

// TestLayoutAtTheSameSizeKeepsTheHover: the window lays out anew whenever a
// tooltip's text changes; that must not undo the hover.
func TestLayoutAtTheSameSizeKeepsTheHover(t *testing.T) {
	c := shownChart(t, body.Above, 900, 500)
	c.Describe = func(p body.Place) string { return string(p.Region) }
	c.moveOver(c.over(t, body.HindLeft))
	test.WidgetRenderer(c).Layout(c.Size())
	if !c.hover.raster.Visible() || !c.tip.Visible() {
		t.Error("a layout at the same size has undone the hover")
	}
}

func TestHoverPaintsNoBase(t *testing.T) {
	c := shownChart(t, body.Above, 900, 500)
	before := c.paint(900, 500)
	for _, r := range body.RegionsOf(body.Above) {
		c.moveOver(c.over(t, r))
	}
	if c.paint(900, 500) != before {
		t.Error("the base was painted anew by hovering")
	}
	c.Organs = true
	if c.paint(900, 500) == before {
		t.Error("the base was not painted anew for another layer")
	}
}

func TestKeys(t *testing.T) {
	c := shownChart(t, body.Above, 900, 500)
	var at body.RegionID
	var marked body.Place
	c.OnRegion = func(r body.RegionID) { at = r }
	c.OnPlace = func(p body.Place) { marked = p }
	c.FocusGained()
	if !c.focus.raster.Visible() {
		t.Fatal("no ring at the focus")
	}
	press := func(k fyne.KeyName) { c.TypedKey(&fyne.KeyEvent{Name: k}) }
	press(fyne.KeyEnd)
	if at != body.TailTip {
		t.Errorf("End leads to %q", at)
	}
	press(fyne.KeyHome)
	if at != body.Snout {
		t.Errorf("Home leads to %q", at)
	}
	for range 40 {
		press(fyne.KeyDown)
	}
	if at == body.Snout {
		t.Error("the arrows lead nowhere")
	}
	press(fyne.KeyReturn)
	if marked.Region != at {
		t.Errorf("Enter marked %+v, standing on %s", marked, at)
	}
	c.FocusLost()
	if c.focus.raster.Visible() {
		t.Error("the ring stays without focus")
	}
	c.SetView(body.OpenMouth)
	c.FocusGained()
	press(fyne.KeySpace)
	if marked.Part != body.Mouth {
		t.Errorf("Space on the mouth marked %+v", marked)
	}
}

func TestPinsAreShownAndTapped(t *testing.T) {
	c := shownChart(t, body.Above, 900, 500)
	c.Pins = []Pin{
		{Number: 1, Kind: Now, Place: body.OnTrunk(5000, 0)},
		{Number: 2, Kind: Earlier, Place: body.OnTrunk(5000, 0)},
		{Number: 3, Kind: Gone, Place: body.OnTrunk(5050, 10)},
		{Number: 4, Kind: Now, Place: body.OnTrunk(5000, 180)}, // the belly: not from above
	}
	c.Refresh()
	if len(c.placed) != 3 {
		t.Fatalf("%d pins from above, want 3", len(c.placed))
	}
	for i, a := range c.placed {
		for _, b := range c.placed[i+1:] {
			if d := a.stands.Sub(b.stands).Length(); d < 2*Radius {
				t.Errorf("pins %d and %d are %.1f apart", a.Number, b.Number, d)
			}
		}
	}
	var got Pin
	c.OnPin = func(p Pin) { got = p }
	for _, p := range c.placed {
		c.Tapped(&fyne.PointEvent{Position: fyne.NewPos(float32(p.stands.X), float32(p.stands.Y))})
		if got != p.Pin {
			t.Errorf("a tap on pin %d told %d", p.Number, got.Number)
		}
	}
	c.SetView(body.Underside)
	if len(c.placed) != 1 || c.placed[0].Number != 4 {
		t.Errorf("from below: %+v", c.placed)
	}
}

func TestPinKindsDiffer(t *testing.T) {
	picture := func(k Kind) *image.RGBA {
		return style().Picture(40, 40, 40, func(p drawing.Pen) { DrawPin(p, drawing.Point{X: 20, Y: 20}, Radius, k, 1) })
	}
	ink := func(p *image.RGBA) (n int) {
		want := drawing.LightPalette()[drawing.Ink]
		for y := range 40 {
			for x := range 40 {
				if p.RGBAAt(x, y) == (color.RGBA{want.R, want.G, want.B, 255}) {
					n++
				}
			}
		}
		return n
	}
	full, ring := ink(picture(Now)), ink(picture(Earlier))
	if full < 240 || ring < 20 || ring > 120 || ink(picture(Gone)) != 0 {
		t.Errorf("ink: now %d, earlier %d, gone %d", full, ring, ink(picture(Gone)))
	}
}

func TestApartKeepsWithin(t *testing.T) {
	var pins []placed
	for i := range 12 {
		at := drawing.Point{X: 5, Y: 5 + float64(i)}
		pins = append(pins, placed{Pin{Number: i}, at, at})
	}
	within := drawing.Box(0, 0, 400, 400)
	apart(pins, within)
	for _, p := range pins {
		if p.stands.X < Radius || p.stands.Y < Radius || p.means.X != 5 {
			t.Errorf("pin %d stands at %v", p.Number, p.stands)
		}
	}
}

func TestNamesStandBesideTheDrawing(t *testing.T) {
	c := shownChart(t, body.OpenMouth, 760, 520)
	for _, r := range []body.RegionID{body.Palate, body.Choana, body.Glottis, body.TongueSheath, body.UpperGumLeft, body.UpperGumRight} {
		c.Names = append(c.Names, Name{r, string(r)})
	}
	c.Refresh()
	left, right := c.nameColumns()
	if len(left)+len(right) != len(c.Names) {
		t.Fatalf("%d names shown", len(left)+len(right))
	}
	for _, column := range [][]namePlace{left, right} {
		slices.SortFunc(column, func(a, b namePlace) int { return cmp.Compare(a.from.Y, b.from.Y) })
		for i := 1; i < len(column); i++ {
			if column[i].from.Y-column[i-1].from.Y < 15 {
				t.Errorf("%s and %s touch", column[i-1].lines, column[i].lines)
			}
		}
	}
	if box := body.Extent(c.View); c.fit().Apply(box.Min).X < c.nameWidth() {
		t.Error("the drawing runs under the names")
	}
}

func TestCloseUp(t *testing.T) {
	test.NewTempApp(t)
	u := NewCloseUp(2800, 4400, style())
	u.SnoutVent = 11000
	u.Pins = []Pin{{Number: 7, Kind: Now, Place: body.OnTrunk(3600, 0)}}
	win := test.NewTempWindow(t, u)
	win.SetPadded(false)
	win.Resize(fyne.NewSize(500, 180))
	var got body.Place
	u.OnPlace = func(p body.Place) { got = p }
	u.Tapped(&fyne.PointEvent{Position: fyne.NewPos(250, 75)})
	if got.Along < 3590 || got.Along > 3610 || math.Abs(float64(got.Angle)) > 2 {
		t.Errorf("the middle of 28–44 %% is %+v", got)
	}
	texts := map[string]bool{}
	for _, w := range raster.Texts(u.marks) {
		texts[w.String] = true
	}
	if !texts["35 cm"] || !texts["40 cm"] || !texts["45 cm"] || !texts["7"] { // 30.8 to 48.4 cm
		t.Errorf("the ruler says %v", texts)
	}
	u.SnoutVent = 0
	u.Refresh()
	texts = map[string]bool{}
	for _, w := range raster.Texts(u.marks) {
		texts[w.String] = true
	}
	if !texts["35 %"] {
		t.Errorf("without a length the ruler says %v", texts)
	}
}

// BenchmarkHover is one move of the pointer onto another region at 1600×900, the
// new highlight's picture included.
func BenchmarkHover(b *testing.B) {
	c := shownChart(b, body.Above, 1600, 900)
	c.Describe = func(p body.Place) string { return string(p.Region) + " 62 %" }
	all := body.RegionsOf(body.Above)
	var at []fyne.Position
	for _, r := range all {
		at = append(at, c.over(b, r))
	}
	for i := 0; b.Loop(); i++ {
		c.moveOver(at[i%len(at)])
		s := c.hover.raster.Size()
		c.ring(&c.hover, int(s.Width), int(s.Height), 1.6, .3)
	}
}

// BenchmarkRepaint is the whole picture with its lamp after a change of size.
func BenchmarkRepaint(b *testing.B) {
	c := shownChart(b, body.Above, 1600, 900)
	c.Lit = []body.RegionID{body.HindLeft, body.HindBack, body.HindRight}
	for b.Loop() {
		c.art = artCache{}
		c.paint(1600, 900)
	}
}

// BenchmarkLamp is moving the lamp to another part.
func BenchmarkLamp(b *testing.B) {
	c := shownChart(b, body.Above, 1600, 900)
	c.Lit = []body.RegionID{body.HindLeft, body.HindBack, body.HindRight}
	c.paint(1600, 900)
	for b.Loop() {
		c.art.lit = nil
		c.paint(1600, 900)
	}
}

// BenchmarkHit is finding the place under the pointer.
func BenchmarkHit(b *testing.B) {
	c := shownChart(b, body.Above, 1600, 900)
	pos := c.over(b, body.LowerMidBack)
	for b.Loop() {
		c.placeAt(pos)
	}
}

// A tap beside the animal leaves the keys where they were, and figures go to the
// page while the drawing has them.
func TestATapBesideTheAnimalTakesNoKeys(t *testing.T) {
	c := shownChart(t, body.Above, 900, 500)
	w := test.NewTempWindow(t, c)
	var typed rune
	w.Canvas().SetOnTypedRune(func(r rune) { typed = r })
	w.Resize(fyne.NewSize(900, 500))
	c.Tapped(&fyne.PointEvent{Position: fyne.NewPos(1, 1)})
	if w.Canvas().Focused() != nil {
		t.Error("the drawing took the keys")
	}
	w.Canvas().Focus(c)
	c.TypedRune('3')
	if typed != '3' {
		t.Errorf("the page got %q", typed)
	}
}

// The vent lies across the end of the trunk: a close-up that ends there shows it
// whole, and its ruler still fits the animal.
func TestCloseUp_ShowsTheVentWhole(t *testing.T) {
	u := NewCloseUp(9200, body.Full, style())
	u.Below = true
	u.Resize(fyne.NewSize(450, 132))
	end, ok := u.strip.Point(body.OnTrunk(body.Full, 180))
	if !ok || end.X > 450*.9 || math.Abs(end.X-u.x(body.Full)) > 1 {
		t.Errorf("the trunk ends at %.0f of 450, by its ruler at %.0f", end.X, u.x(body.Full))
	}
	vent := map[body.RegionID]bool{}
	for x := float32(0); x < 450; x++ {
		if place, ok := u.placeAt(fyne.NewPos(x, 51)); ok {
			vent[place.Region] = true
		}
	}
	if !vent[body.Vent] || !vent[body.TailBaseBelly] {
		t.Errorf("along the middle lie %v", vent)
	}
}
