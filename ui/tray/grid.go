package tray

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"

	"coilward/model/samples"
	"coilward/ui/look"
	"coilward/ui/widgets"
)

// grid shows a result sheet. Digits enter, arrows move, Backspace takes out and
// goes back; Enter goes on.
type grid struct {
	widget.BaseWidget
	page    *Page
	form    *reportForm
	content *fyne.Container
	focused bool
}

var _ fyne.Focusable = (*grid)(nil)

// The measures of the sheet.
const (
	nameWidth  float32 = 120
	cellHeight float32 = 34
	wordColumn         = 3 // with more columns than that, a cell shows its sign alone
)

func newGrid(p *Page, f *reportForm) *grid {
	g := &grid{page: p, form: f, content: widgets.Stack()}
	g.ExtendBaseWidget(g)
	g.show()
	return g
}

// signOf is the sign of an outcome with its tone.
func signOf(o samples.Outcome) (name string, tone look.Tone) {
	switch o {
	case samples.Detected:
		return "today!", look.Today
	case samples.NotDetected:
		return "ring", look.Often
	}
	return "left!", look.Again
}

// show shows the sheet anew.
func (g *grid) show() {
	w, sheet := g.page.words(), g.form.sheet
	head := []fyne.CanvasObject{widgets.Space(nameWidth, 0)}
	for _, of := range sheet.Columns {
		head = append(head, widgets.Grow(widgets.Pad(widgets.Para(w.agent(of), look.NoteBold, look.Soft), 0, look.S8, 0, 0)))
	}
	rows := []fyne.CanvasObject{widgets.RowBottom(look.S4, head...)}
	for i, row := range sheet.Rows {
		name := widgets.Col(0, widgets.Line(w.names(row.Animals), look.BodyBold, look.Ink).Cuts())
		if row.Kit.Number != "" {
			name.Add(widgets.Line(row.Kit.Number, look.Tiny, look.Soft).Cuts())
		}
		cells := []fyne.CanvasObject{widgets.Fix(nameWidth, 0, name)}
		for j := range sheet.Columns {
			cells = append(cells, widgets.Grow(g.cell(samples.Cell{Row: i, Column: j})))
		}
		rows = append(rows, widgets.Row(look.S4, cells...))
	}
	g.content.Objects = []fyne.CanvasObject{widgets.Col(look.S4, rows...)}
	g.content.Refresh()
}

func (g *grid) cell(c samples.Cell) fyne.CanvasObject {
	w, sheet := g.page.words(), g.form.sheet
	if !sheet.Open(c) && sheet.Outcome(c) == samples.Pending {
		return widgets.Fix(0, cellHeight, widgets.Middle(widgets.NewIcon("dash", 16, look.Faint)))
	}
	o := sheet.Outcome(c)
	var in fyne.CanvasObject = widgets.Space(0, cellHeight)
	if o != samples.Pending {
		name, tone := signOf(o)
		sign := widgets.NewSign(name, 16, tone, look.Sheet)
		in = widgets.Middle(sign)
		if len(sheet.Columns) <= wordColumn {
			in = widgets.MiddleUpright(widgets.Pad(widgets.Row(6, sign, widgets.Grow(widgets.Line(w.outcome(o), look.NoteBold, tone).Cuts())), 0, look.S8))
		}
	}
	open := sheet.Open(c)
	return widgets.NewPress(w.called(sheet.Rows[c.Row])+": "+w.agent(sheet.Columns[c.Column]), widgets.Fix(0, cellHeight, in), func(s widgets.State) widgets.Ground {
		ground := widgets.Ground{Fill: look.Sheet, Line: look.Edge, Width: 1, Radius: look.RSmall}
		switch {
		case !open:
			ground.Fill, ground.Line = look.Well, look.Hair
		case c == sheet.At && g.focused:
			ground.Fill, ground.Line, ground.Width = look.Wash, look.Accent, 2
		case s.Pointed:
			ground.Fill = look.Wash
		}
		return ground
	}, func() {
		if open {
			sheet.At = c
		}
		g.page.window.Focus(g)
		g.show()
	})
}

// put enters an outcome and goes on; after the last cell the keys go to the sum.
func (g *grid) put(o samples.Outcome) {
	more := g.form.sheet.Put(o)
	g.show()
	g.form.changed()
	if !more {
		g.form.toSum()
		return
	}
	if !g.focused {
		g.page.window.Focus(g)
	}
	widgets.Reveal(g.form.Content, g)
}

// TypedRune implements fyne.Focusable.
func (g *grid) TypedRune(r rune) {
	all := samples.Outcomes()
	if i := int(r - '1'); i >= 0 && i < len(all) {
		g.put(all[i])
	}
}

// TypedKey implements fyne.Focusable.
func (g *grid) TypedKey(k *fyne.KeyEvent) {
	sheet := g.form.sheet
	switch k.Name {
	case fyne.KeyLeft:
		sheet.Move(-1, 0)
	case fyne.KeyRight:
		sheet.Move(1, 0)
	case fyne.KeyUp:
		sheet.Move(0, -1)
	case fyne.KeyDown:
		sheet.Move(0, 1)
	case fyne.KeyDelete:
		sheet.Put(samples.Pending)
	case fyne.KeyBackspace:
		if sheet.Outcome(sheet.At) == samples.Pending {
			sheet.Back()
		}
		sheet.Put(samples.Pending)
	case fyne.KeyReturn, fyne.KeyEnter:
		g.form.toSum()
		return
	case fyne.KeyEscape:
		g.page.TypedKey(k)
		return
	default:
		return
	}
	g.show()
	g.form.changed()
}

// FocusGained implements fyne.Focusable.
func (g *grid) FocusGained() { g.focused = true; g.form.showKeys(true); g.show() }

// FocusLost implements fyne.Focusable.
func (g *grid) FocusLost() { g.focused = false; g.form.showKeys(false); g.show() }

// HeightFor implements widgets.Flow.
func (g *grid) HeightFor(width float32) float32 { return widgets.HeightFor(g.content, width) }

// CreateRenderer implements fyne.Widget.
func (g *grid) CreateRenderer() fyne.WidgetRenderer { return widget.NewSimpleRenderer(g.content) }
