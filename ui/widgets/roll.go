package widgets

import (
	"sort"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"

	"coilward/ui/look"
)

// Roll is a list of any length of which only the cells in sight exist: rows, or
// a grid of cells. Arrows, Page, Home and End move through it, Enter opens;
// letters and other keys go on to whoever wants them.
type Roll struct {
	widget.BaseWidget
	// Make makes an empty cell of a kind, FillCell fills it with an item.
	Make     func(kind int) RollRow
	FillCell func(item int, row RollRow)
	// OnOpen is called when an item is pressed, by pointer or Enter.
	OnOpen func(item int)
	// OnMoved is called when the keys moved to another item.
	OnMoved func(item int)
	// OnEnter is called on Enter, where that does something else than to open.
	OnEnter func(item int)
	// OnRune is given the letters that are typed while the list has the focus;
	// without it they go to the page.
	OnRune func(r rune)
	// OnScrolled is called when other items came into sight.
	OnScrolled func()
	// Name says what an item is called, for whoever looks for it by its name.
	Name func(item int) string

	kinds   []RollKind
	items   []int // kind of each item
	least   float32
	gap     float32
	columns int
	tops    []float32 // of each line, and of what comes after the last
	current int
	focused bool

	scroll *container.Scroll
	page   *fyne.Container
	cells  map[int]*rollCell
	spare  map[int][]*rollCell
	size   fyne.Size
}

// RollRow is what a cell shows; the object stays the same one as long as it lives.
type RollRow interface{ Object() fyne.CanvasObject }

// RollKind is what the cells of one kind have in common.
type RollKind struct {
	Height float32
	Still  bool // cannot be pressed, such as a heading
	Sheet  bool // lies on a sheet of its own, as tiles do
}

var (
	_ fyne.Focusable = (*Roll)(nil)
	_ fyne.Tappable  = (*rollCell)(nil)
)

// NewRoll is a list whose items are of these kinds. With least above 0 it is a
// grid of cells at least that wide, gap apart; else one item stands in a row.
func NewRoll(least, gap float32, kinds ...RollKind) *Roll {
	r := &Roll{kinds: kinds, least: least, gap: gap, columns: 1, cells: map[int]*rollCell{}, spare: map[int][]*rollCell{}}
	r.page = container.New(rollPage{r})
	r.scroll = container.NewVScroll(r.page)
	r.scroll.OnScrolled = func(fyne.Position) { r.place(false); r.scrolled() }
	r.ExtendBaseWidget(r)
	return r
}

// SetItems gives the list its items, each by its kind, and shows them anew. The
// current item stays where it is, if there are as many.
func (r *Roll) SetItems(kinds []int) {
	r.items = kinds
	r.current = max(0, min(r.current, len(kinds)-1))
	if len(kinds) > 0 && r.kinds[kinds[r.current]].Still {
		r.step(1)
	}
	r.arrange()
	r.place(true)
}

// SetCount is SetItems with n items of the first kind.
func (r *Roll) SetCount(n int) { r.SetItems(make([]int, n)) }

// Current is the item that the keys are at.
func (r *Roll) Current() int { return r.current }

// SetCurrent moves the keys to an item and brings it into sight.
func (r *Roll) SetCurrent(item int) {
	if item < 0 || item >= len(r.items) {
		return
	}
	r.current = item
	r.reveal(item)
	r.paint()
}

// ScrollTo brings an item to the top of the list.
func (r *Roll) ScrollTo(item int) {
	if item >= 0 && item < len(r.items) {
		r.scrollBy(r.tops[item/r.columns])
	}
}

// First is the first item in sight; −1: none.
func (r *Roll) First() int {
	if len(r.items) == 0 {
		return -1
	}
	return min(r.line(r.scroll.Offset.Y)*r.columns, len(r.items)-1)
}

// Last is the last item in sight; −1: none.
func (r *Roll) Last() int {
	if len(r.items) == 0 {
		return -1
	}
	return min((r.line(r.scroll.Offset.Y+r.size.Height-1)+1)*r.columns, len(r.items)) - 1
}

// Tap opens an item as a press on it would.
func (r *Roll) Tap(item int) {
	if item < 0 || item >= len(r.items) || r.kinds[r.items[item]].Still {
		return
	}
	r.current = item
	r.paint()
	if r.OnOpen != nil {
		r.OnOpen(item)
	}
}

// arrange works out the lines for the present width.
func (r *Roll) arrange() {
	r.columns = 1
	if r.least > 0 {
		r.columns = max(1, int((r.width()+r.gap)/(r.least+r.gap)))
	}
	lines := (len(r.items) + r.columns - 1) / r.columns
	r.tops = make([]float32, lines+1)
	for line := range lines {
		r.tops[line+1] = r.tops[line] + r.kinds[r.items[line*r.columns]].Height + r.gap
	}
}

// width is what the cells of a line have: a grid leaves room for the bar.
func (r *Roll) width() float32 {
	if r.least > 0 {
		return r.size.Width - look.S8
	}
	return r.size.Width
}

func (r *Roll) height() float32 {
	if len(r.tops) < 2 {
		return 0
	}
	return r.tops[len(r.tops)-1] - r.gap
}

// line is the line at a height.
func (r *Roll) line(y float32) int {
	return max(0, sort.Search(len(r.tops), func(i int) bool { return r.tops[i] > y })-1)
}

// place puts a cell at each item in sight; anew fills those again that were
// there already.
func (r *Roll) place(anew bool) {
	if r.size.Height <= 0 || len(r.tops) == 0 {
		return
	}
	top := max(0, min(r.scroll.Offset.Y, r.height()-r.size.Height))
	first := r.line(top) * r.columns
	last := min(len(r.items), (r.line(top+r.size.Height)+1)*r.columns)
	for item, cell := range r.cells {
		if item < first || item >= last || r.items[item] != cell.kind {
			delete(r.cells, item)
			r.spare[cell.kind] = append(r.spare[cell.kind], cell)
		}
	}
	objects := make([]fyne.CanvasObject, 0, last-first)
	for item := first; item < last; item++ {
		objects = append(objects, r.cell(item, anew))
	}
	r.page.Objects = objects
	r.page.Refresh()
}

func (r *Roll) cell(item int, anew bool) *rollCell {
	kind := r.items[item]
	cell, there := r.cells[item]
	if !there {
		if n := len(r.spare[kind]); n > 0 {
			cell, r.spare[kind] = r.spare[kind][n-1], r.spare[kind][:n-1]
			cell.pointed = false
		} else {
			cell = newRollCell(r, kind)
		}
		r.cells[item] = cell
		cell.item = item
	}
	if !there || anew {
		r.FillCell(item, cell.row)
	}
	return cell
}

// paint shows anew which cell the keys are at.
func (r *Roll) paint() {
	for _, cell := range r.cells {
		cell.paint()
	}
}

func (r *Roll) scrollBy(y float32) {
	r.scroll.Offset.Y = max(0, min(y, r.height()-r.size.Height))
	r.scroll.Refresh()
	r.place(false)
	r.scrolled()
}

func (r *Roll) scrolled() {
	if r.OnScrolled != nil {
		r.OnScrolled()
	}
}

func (r *Roll) reveal(item int) {
	line := item / r.columns
	if line+1 >= len(r.tops) {
		return
	}
	top, bottom := r.tops[line], r.tops[line+1]-r.gap
	switch {
	case top < r.scroll.Offset.Y:
		r.scrollBy(top)
	case bottom > r.scroll.Offset.Y+r.size.Height:
		r.scrollBy(bottom - r.size.Height)
	}
}

// step moves by that many items, over what cannot be pressed.
func (r *Roll) step(by int) {
	way := 1
	if by < 0 {
		way = -1
	}
	item := max(0, min(r.current+by, len(r.items)-1))
	for item >= 0 && item < len(r.items) && r.kinds[r.items[item]].Still {
		item += way
	}
	if item >= 0 && item < len(r.items) {
		r.current = item
	}
}

// TypedKey implements fyne.Focusable.
func (r *Roll) TypedKey(k *fyne.KeyEvent) {
	by := 0
	switch k.Name {
	case fyne.KeyDown:
		by = r.columns
	case fyne.KeyUp:
		by = -r.columns
	case fyne.KeyRight:
		by = 1
	case fyne.KeyLeft:
		by = -1
	case fyne.KeyPageDown:
		by = r.sight()
	case fyne.KeyPageUp:
		by = -r.sight()
	case fyne.KeyHome:
		by = -len(r.items)
	case fyne.KeyEnd:
		by = len(r.items)
	case fyne.KeyReturn, fyne.KeyEnter:
		if r.OnEnter != nil {
			r.OnEnter(r.current)
			return
		}
		r.Tap(r.current)
		return
	default:
		passKey(r, k)
		return
	}
	if r.columns == 1 && (k.Name == fyne.KeyLeft || k.Name == fyne.KeyRight) {
		passKey(r, k)
		return
	}
	before := r.current
	r.step(by)
	r.reveal(r.current)
	r.paint()
	if r.OnMoved != nil && r.current != before {
		r.OnMoved(r.current)
	}
}

// sight is how many items one sees at once.
func (r *Roll) sight() int { return max(1, len(r.cells)-r.columns) }

// TypedRune implements fyne.Focusable.
func (r *Roll) TypedRune(sign rune) {
	if r.OnRune != nil {
		r.OnRune(sign)
		return
	}
	passRune(r, sign)
}

// FocusGained implements fyne.Focusable.
func (r *Roll) FocusGained() { r.focused = true; r.paint() }

// FocusLost implements fyne.Focusable.
func (r *Roll) FocusLost() { r.focused = false; r.paint() }

// Refresh implements fyne.CanvasObject.
func (r *Roll) Refresh() {
	r.place(true)
	r.paint()
	r.BaseWidget.Refresh()
}

// CreateRenderer implements fyne.Widget.
func (r *Roll) CreateRenderer() fyne.WidgetRenderer { return &rollRenderer{r} }

type rollRenderer struct{ r *Roll }

func (o *rollRenderer) Destroy()                     {}
func (o *rollRenderer) MinSize() fyne.Size           { return fyne.NewSize(64, 64) }
func (o *rollRenderer) Objects() []fyne.CanvasObject { return []fyne.CanvasObject{o.r.scroll} }
func (o *rollRenderer) Refresh()                     { o.r.scroll.Refresh() }

func (o *rollRenderer) Layout(size fyne.Size) {
	r := o.r
	changed := size != r.size
	r.size = size
	if changed {
		r.arrange()
	}
	r.scroll.Resize(size)
	if changed {
		r.place(false)
	}
}

// rollPage lays out the cells in sight on a page as high as all would be.
type rollPage struct{ r *Roll }

func (p rollPage) MinSize([]fyne.CanvasObject) fyne.Size { return fyne.NewSize(0, p.r.height()) }

func (p rollPage) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	r, n := p.r, float32(p.r.columns)
	width := (r.width() - r.gap*(n-1)) / n
	for _, o := range objects {
		cell, is := o.(*rollCell)
		if !is || cell.item/r.columns >= len(r.tops) {
			continue
		}
		at := float32(cell.item % r.columns)
		left, right := whole(at*(width+r.gap)), whole(at*(width+r.gap)+width)
		cell.Move(fyne.NewPos(left, whole(r.tops[cell.item/r.columns])))
		cell.Resize(fyne.NewSize(right-left, r.kinds[cell.kind].Height))
	}
}

// rollCell is one cell of a list with its ground.
type rollCell struct {
	widget.BaseWidget
	roll    *Roll
	kind    int
	item    int
	pointed bool
	ground  *Box
	row     RollRow
}

func newRollCell(r *Roll, kind int) *rollCell {
	c := &rollCell{roll: r, kind: kind, ground: NewBox(Ground{}), row: r.Make(kind)}
	c.ExtendBaseWidget(c)
	c.paint()
	return c
}

// Name is what the item is called, if the list says.
func (c *rollCell) Name() string {
	if c.roll.Name == nil {
		return ""
	}
	return c.roll.Name(c.item)
}

func (c *rollCell) paint() {
	kind := c.roll.kinds[c.kind]
	g := Ground{Radius: look.RBase}
	if kind.Sheet {
		g = Ground{Fill: look.Sheet, Line: look.Hair, Width: 1, Radius: look.RLarge}
	}
	switch {
	case kind.Still:
	case c.roll.focused && c.item == c.roll.current:
		g.Fill, g.Line, g.Width = look.Wash, look.Accent, 2
	case c.pointed:
		g.Fill = look.Well
		if kind.Sheet {
			g.Fill = look.Wash
		}
	}
	c.ground.SetGround(g)
}

// Tapped implements fyne.Tappable.
func (c *rollCell) Tapped(*fyne.PointEvent) {
	if canvas := fyne.CurrentApp().Driver().CanvasForObject(c.roll); canvas != nil {
		canvas.Focus(c.roll)
	}
	c.roll.Tap(c.item)
}

// MouseIn implements desktop.Hoverable.
func (c *rollCell) MouseIn(*desktop.MouseEvent) { c.pointed = true; c.paint() }

// MouseMoved implements desktop.Hoverable.
func (c *rollCell) MouseMoved(*desktop.MouseEvent) {}

// MouseOut implements desktop.Hoverable.
func (c *rollCell) MouseOut() { c.pointed = false; c.paint() }

// Cursor implements desktop.Cursorable.
func (c *rollCell) Cursor() desktop.Cursor {
	if c.roll.kinds[c.kind].Still {
		return desktop.DefaultCursor
	}
	return desktop.PointerCursor
}

// CreateRenderer implements fyne.Widget.
func (c *rollCell) CreateRenderer() fyne.WidgetRenderer {
	return widget.NewSimpleRenderer(container.NewStack(c.ground, c.row.Object()))
}
