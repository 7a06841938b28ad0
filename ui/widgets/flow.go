package widgets

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
)

// Flow is an object whose height depends on the width it is given, which
// Fyne's MinSize cannot say.
type Flow interface {
	HeightFor(width float32) float32
}

// flowLayout is a layout that can tell the height for a width.
type flowLayout interface {
	fyne.Layout
	heightFor(objects []fyne.CanvasObject, width float32) float32
}

// HeightFor is the least height of o at that width.
func HeightFor(o fyne.CanvasObject, width float32) float32 {
	if f, ok := o.(Flow); ok {
		return f.HeightFor(width)
	}
	if c, ok := o.(*fyne.Container); ok {
		if l, ok := c.Layout.(flowLayout); ok {
			return l.heightFor(c.Objects, width)
		}
	}
	return o.MinSize().Height
}

func shown(objects []fyne.CanvasObject) []fyne.CanvasObject {
	var out []fyne.CanvasObject
	for _, o := range objects {
		if o.Visible() {
			out = append(out, o)
		}
	}
	return out
}

func whole(v float32) float32 { return float32(int(v + .5)) }

func wholeUp(v float32) float32 { return float32(int(v + .999)) }

// over lays its children over one another. It carries the share of a Grow.
type over struct{ share float32 }

func (over) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	for _, o := range objects {
		o.Move(fyne.Position{})
		o.Resize(size)
	}
}

func (over) MinSize(objects []fyne.CanvasObject) (m fyne.Size) {
	for _, o := range shown(objects) {
		m = m.Max(o.MinSize())
	}
	return m
}

func (over) heightFor(objects []fyne.CanvasObject, width float32) (h float32) {
	for _, o := range shown(objects) {
		h = max(h, HeightFor(o, width))
	}
	return h
}

// Stack lays objects over one another, the last on top.
func Stack(objects ...fyne.CanvasObject) *fyne.Container {
	return arranged(over{}, objects...)
}

// Grow lets an object take what is left of a Row or Col.
func Grow(objects ...fyne.CanvasObject) *fyne.Container {
	return arranged(over{share: 1}, objects...)
}

// GrowBy is Grow with a share of its own, where several grow.
func GrowBy(share float32, objects ...fyne.CanvasObject) *fyne.Container {
	return arranged(over{share: share}, objects...)
}

// Fill is empty and takes what is left.
func Fill() *fyne.Container { return Grow() }

func shareOf(o fyne.CanvasObject) float32 {
	if c, ok := o.(*fyne.Container); ok {
		if s, ok := c.Layout.(*steady); ok {
			if l, ok := s.flowLayout.(over); ok {
				return l.share
			}
		}
	}
	return 0
}

// across is where a child stands that is smaller than its row or column.
type across float32

const (
	start   across = 0
	middle  across = .5
	end     across = 1
	stretch across = -1
)

// row lays children side by side.
type row struct {
	gap  float32
	up   across
	hugs func() float32 // the most that the first child takes of its share; nil: all
}

// widths shares out a row's width.
func (l row) widths(objects []fyne.CanvasObject, width float32) []float32 {
	out := make([]float32, len(objects))
	rest, shares := width-l.gap*float32(max(0, len(objects)-1)), float32(0)
	for i, o := range objects {
		if share := shareOf(o); share > 0 {
			shares += share
			continue
		}
		out[i] = o.MinSize().Width
		rest -= out[i]
	}
	for i, o := range objects {
		if share := shareOf(o); share > 0 {
			out[i] = max(0, rest*share/shares)
		}
	}
	if l.hugs != nil {
		out[0] = min(out[0], l.hugs())
	}
	return out
}

func (l row) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	objects = shown(objects)
	var x float32
	for i, w := range l.widths(objects, size.Width) {
		h, y := size.Height, float32(0)
		if l.up != stretch {
			h = min(size.Height, HeightFor(objects[i], w))
			y = (size.Height - h) * float32(l.up)
		}
		left, right := whole(x), whole(x+w)
		objects[i].Move(fyne.NewPos(left, whole(y)))
		objects[i].Resize(fyne.NewSize(right-left, h))
		x += w + l.gap
	}
}

func (l row) MinSize(objects []fyne.CanvasObject) (m fyne.Size) {
	objects = shown(objects)
	for _, o := range objects {
		least := o.MinSize()
		m.Width += least.Width
		m.Height = max(m.Height, least.Height)
	}
	m.Width += l.gap * float32(max(0, len(objects)-1))
	return m
}

func (l row) heightFor(objects []fyne.CanvasObject, width float32) (h float32) {
	objects = shown(objects)
	for i, w := range l.widths(objects, width) {
		h = max(h, HeightFor(objects[i], w))
	}
	return h
}

// Row puts objects side by side, in the middle of one line.
func Row(gap float32, objects ...fyne.CanvasObject) *fyne.Container {
	return arranged(row{gap: gap, up: middle}, objects...)
}

// RowHug is a Row that begins with a line which may be cut: the objects after it stand
// close to it where it is short, and keep their room where it is long.
func RowHug(gap float32, line *Text, objects ...fyne.CanvasObject) *fyne.Container {
	whole := func() float32 { return wholeUp(line.kind.Width(line.text)) }
	return arranged(row{gap, middle, whole}, append([]fyne.CanvasObject{Grow(line.Cuts())}, objects...)...)
}

// RowTop is a Row whose objects hang from its top.
func RowTop(gap float32, objects ...fyne.CanvasObject) *fyne.Container {
	return arranged(row{gap: gap, up: start}, objects...)
}

// RowBottom is a Row whose objects stand on its bottom.
func RowBottom(gap float32, objects ...fyne.CanvasObject) *fyne.Container {
	return arranged(row{gap: gap, up: end}, objects...)
}

// RowFill is a Row of objects of equal height.
func RowFill(gap float32, objects ...fyne.CanvasObject) *fyne.Container {
	return arranged(row{gap: gap, up: stretch}, objects...)
}

// column lays children under each other. It remembers the width it was last
// given, so that MinSize tells the height for that width.
type column struct {
	gap   float32
	side  across
	width float32
}

func (l *column) childWidth(o fyne.CanvasObject, width float32) float32 {
	if l.side == stretch {
		return width
	}
	return min(width, o.MinSize().Width)
}

func (l *column) heights(objects []fyne.CanvasObject, size fyne.Size) []float32 {
	out := make([]float32, len(objects))
	rest, shares := size.Height-l.gap*float32(max(0, len(objects)-1)), float32(0)
	for i, o := range objects {
		out[i] = HeightFor(o, l.childWidth(o, size.Width))
		rest -= out[i]
		shares += shareOf(o)
	}
	if shares == 0 || rest == 0 {
		return out
	}
	for i, o := range objects {
		if share := shareOf(o); share > 0 {
			out[i] = max(0, out[i]+rest*share/shares)
		}
	}
	return out
}

func (l *column) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	l.width = size.Width
	objects = shown(objects)
	var y float32
	for i, h := range l.heights(objects, size) {
		w, x := l.childWidth(objects[i], size.Width), float32(0)
		if l.side != stretch {
			x = (size.Width - w) * float32(l.side)
		}
		top, bottom := whole(y), whole(y+h)
		objects[i].Move(fyne.NewPos(whole(x), top))
		objects[i].Resize(fyne.NewSize(w, bottom-top))
		y += h + l.gap
	}
}

func (l *column) MinSize(objects []fyne.CanvasObject) (m fyne.Size) {
	for _, o := range shown(objects) {
		m.Width = max(m.Width, o.MinSize().Width)
	}
	m.Height = l.heightFor(objects, max(m.Width, l.width))
	return m
}

func (l *column) heightFor(objects []fyne.CanvasObject, width float32) (h float32) {
	objects = shown(objects)
	for _, o := range objects {
		h += HeightFor(o, l.childWidth(o, width))
	}
	return h + l.gap*float32(max(0, len(objects)-1))
}

// Col puts objects under each other, all as wide as the column.
func Col(gap float32, objects ...fyne.CanvasObject) *fyne.Container {
	return arranged(&column{gap: gap, side: stretch}, objects...)
}

// ColStart is a Col whose objects keep their own width.
func ColStart(gap float32, objects ...fyne.CanvasObject) *fyne.Container {
	return arranged(&column{gap: gap, side: start}, objects...)
}

// inset keeps a margin.
type inset struct{ top, right, bottom, left float32 }

func (p inset) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	for _, o := range objects {
		o.Move(fyne.NewPos(p.left, p.top))
		o.Resize(fyne.NewSize(size.Width-p.left-p.right, size.Height-p.top-p.bottom))
	}
}

func (p inset) MinSize(objects []fyne.CanvasObject) fyne.Size {
	return over{}.MinSize(objects).AddWidthHeight(p.left+p.right, p.top+p.bottom)
}

func (p inset) heightFor(objects []fyne.CanvasObject, width float32) float32 {
	return over{}.heightFor(objects, width-p.left-p.right) + p.top + p.bottom
}

// Pad keeps a margin around o: one for all sides, or (upright, sideways), or
// (top, right, bottom, left).
func Pad(o fyne.CanvasObject, margins ...float32) *fyne.Container {
	m := margins
	switch len(m) {
	case 1:
		return arranged(inset{m[0], m[0], m[0], m[0]}, o)
	case 2:
		return arranged(inset{m[0], m[1], m[0], m[1]}, o)
	}
	return arranged(inset{m[0], m[1], m[2], m[3]}, o)
}

// fixed is a least size; 0 leaves that side to the children.
type fixed struct{ width, height float32 }

func (fixed) Layout(objects []fyne.CanvasObject, size fyne.Size) { over{}.Layout(objects, size) }

func (f fixed) MinSize(objects []fyne.CanvasObject) fyne.Size {
	m := over{}.MinSize(objects)
	if f.width > 0 {
		m.Width = f.width
		m.Height = over{}.heightFor(objects, f.width)
	}
	if f.height > 0 {
		m.Height = f.height
	}
	return m
}

func (f fixed) heightFor(objects []fyne.CanvasObject, width float32) float32 {
	if f.height > 0 {
		return f.height
	}
	return over{}.heightFor(objects, width)
}

// Fix gives objects, laid over one another, this least size; 0 keeps their own.
func Fix(width, height float32, objects ...fyne.CanvasObject) *fyne.Container {
	return arranged(fixed{width, height}, objects...)
}

// Space is an empty piece of that size.
func Space(width, height float32) *fyne.Container { return arranged(fixed{width, height}) }

// centred puts its children in the middle at their own size.
type centred struct{ upright bool }

func (c centred) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	for _, o := range objects {
		w := size.Width
		if !c.upright {
			w = min(size.Width, o.MinSize().Width)
		}
		h := min(size.Height, HeightFor(o, w))
		o.Move(fyne.NewPos(whole((size.Width-w)/2), whole((size.Height-h)/2)))
		o.Resize(fyne.NewSize(w, h))
	}
}

func (centred) MinSize(objects []fyne.CanvasObject) fyne.Size { return over{}.MinSize(objects) }

func (centred) heightFor(objects []fyne.CanvasObject, width float32) float32 {
	return over{}.heightFor(objects, width)
}

// Middle centres o in whatever it gets.
func Middle(o fyne.CanvasObject) *fyne.Container { return arranged(centred{}, o) }

// MiddleUpright centres o upright and gives it the whole width.
func MiddleUpright(o fyne.CanvasObject) *fyne.Container { return arranged(centred{true}, o) }

// cells is a grid of equal columns; height 0 lets each row be as high as needed.
type cells struct {
	columns     int
	gap, height float32
	last        float32
}

func (c *cells) width(width float32) float32 {
	return (width - c.gap*float32(c.columns-1)) / float32(c.columns)
}

func (c *cells) rows(objects []fyne.CanvasObject, width float32) []float32 {
	out := make([]float32, (len(objects)+c.columns-1)/c.columns)
	for i, o := range objects {
		h := c.height
		if h == 0 {
			h = HeightFor(o, c.width(width))
		}
		out[i/c.columns] = max(out[i/c.columns], h)
	}
	return out
}

func (c *cells) MinSize(objects []fyne.CanvasObject) fyne.Size {
	objects = shown(objects)
	var w float32
	for _, o := range objects {
		w = max(w, o.MinSize().Width)
	}
	w = w*float32(c.columns) + c.gap*float32(c.columns-1)
	return fyne.NewSize(w, c.heightFor(objects, max(w, c.last)))
}

func (c *cells) heightFor(objects []fyne.CanvasObject, width float32) (h float32) {
	rows := c.rows(shown(objects), width)
	for _, r := range rows {
		h += r
	}
	return h + c.gap*float32(max(0, len(rows)-1))
}

func (c *cells) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	c.last = size.Width
	objects = shown(objects)
	w, rows, y := c.width(size.Width), c.rows(objects, size.Width), float32(0)
	for i, o := range objects {
		at := i % c.columns
		if i > 0 && at == 0 {
			y += rows[i/c.columns-1] + c.gap
		}
		left, right := whole(float32(at)*(w+c.gap)), whole(float32(at)*(w+c.gap)+w)
		o.Move(fyne.NewPos(left, whole(y)))
		o.Resize(fyne.NewSize(right-left, rows[i/c.columns]))
	}
}

// Cells is a grid of equal columns with rows of that height; 0 lets each row be
// as high as its highest object needs.
func Cells(columns int, gap, height float32, objects ...fyne.CanvasObject) *fyne.Container {
	return arranged(&cells{columns: columns, gap: gap, height: height}, objects...)
}

// wrapped lays children side by side and goes on below where they do not fit.
type wrapped struct{ gap, last float32 }

func (l *wrapped) place(objects []fyne.CanvasObject, width float32, put func(o fyne.CanvasObject, x, y float32, size fyne.Size)) float32 {
	var x, y, high float32
	for _, o := range shown(objects) {
		size := o.MinSize()
		if x > 0 && x+size.Width > width {
			x, y, high = 0, y+high+l.gap, 0
		}
		put(o, x, y, size)
		x += size.Width + l.gap
		high = max(high, size.Height)
	}
	return y + high
}

func (l *wrapped) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	l.last = size.Width
	l.place(objects, size.Width, func(o fyne.CanvasObject, x, y float32, own fyne.Size) {
		o.Move(fyne.NewPos(whole(x), whole(y)))
		o.Resize(own)
	})
}

func (l *wrapped) MinSize(objects []fyne.CanvasObject) (m fyne.Size) {
	for _, o := range shown(objects) {
		m.Width = max(m.Width, o.MinSize().Width)
	}
	m.Height = l.heightFor(objects, max(m.Width, l.last))
	return m
}

func (l *wrapped) heightFor(objects []fyne.CanvasObject, width float32) float32 {
	return l.place(objects, width, func(fyne.CanvasObject, float32, float32, fyne.Size) {})
}

// Wrap puts objects side by side at their own size, in as many rows as needed.
func Wrap(gap float32, objects ...fyne.CanvasObject) *fyne.Container {
	return arranged(&wrapped{gap: gap}, objects...)
}

// firstFit shows the first of its children that is no wider than the room.
type firstFit struct{ last float32 }

// of is which one is shown in a width.
func (*firstFit) of(objects []fyne.CanvasObject, width float32) int {
	for i, o := range objects {
		if i == len(objects)-1 || o.MinSize().Width <= width {
			return i
		}
	}
	return -1
}

func (l *firstFit) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	l.last = size.Width
	chosen := l.of(objects, size.Width)
	for i, o := range objects {
		switch {
		case i != chosen && o.Visible():
			o.Hide()
		case i == chosen && !o.Visible():
			o.Show()
		}
		if i == chosen {
			o.Move(fyne.Position{})
			o.Resize(size)
		}
	}
}

func (l *firstFit) MinSize(objects []fyne.CanvasObject) (m fyne.Size) {
	if len(objects) > 0 {
		m.Width = objects[len(objects)-1].MinSize().Width
		m.Height = l.heightFor(objects, max(m.Width, l.last))
	}
	return m
}

func (l *firstFit) heightFor(objects []fyne.CanvasObject, width float32) float32 {
	if i := l.of(objects, width); i >= 0 {
		return HeightFor(objects[i], width)
	}
	return 0
}

// FirstFit shows the first of several ways to say the same that fits the width, the
// roomiest first; the last one where none does.
func FirstFit(ways ...fyne.CanvasObject) *fyne.Container {
	for _, w := range ways[:len(ways)-1] {
		w.Hide()
	}
	return arranged(&firstFit{}, ways...)
}

// Scroll lets a page be higher than its room. The page is as wide as the room.
func Scroll(page fyne.CanvasObject) *fyne.Container {
	held := &held{}
	return arranged(scrolled{held}, container.NewVScroll(arranged(held, page)))
}

// ScrollBoth lets a page be larger than its room in both directions. Where the room is
// enough, the page has just that room and nothing scrolls.
func ScrollBoth(page fyne.CanvasObject) *fyne.Container {
	held := &held{}
	return arranged(scrolled{held}, container.NewScroll(arranged(held, page)))
}

// ToStart scrolls what Scroll or ScrollBoth made back to its top left corner.
func ToStart(scroller *fyne.Container) {
	scroller.Objects[0].(*container.Scroll).ScrollToOffset(fyne.Position{})
}

// held is the page inside a scroller: its height follows from the width.
type held struct{ width float32 }

func (h *held) Layout(objects []fyne.CanvasObject, size fyne.Size) { over{}.Layout(objects, size) }

func (h *held) MinSize(objects []fyne.CanvasObject) fyne.Size {
	width := over{}.MinSize(objects).Width
	return fyne.NewSize(width, over{}.heightFor(objects, max(width, h.width)))
}

func (h *held) heightFor(objects []fyne.CanvasObject, width float32) float32 {
	return over{}.heightFor(objects, width)
}

type scrolled struct{ page *held }

func (s scrolled) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	s.page.width = size.Width // before the scroller asks how high its page is
	over{}.Layout(objects, size)
}

func (scrolled) MinSize(objects []fyne.CanvasObject) fyne.Size { return over{}.MinSize(objects) }

func (scrolled) heightFor(objects []fyne.CanvasObject, _ float32) float32 {
	return over{}.MinSize(objects).Height
}
