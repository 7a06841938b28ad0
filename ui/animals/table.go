package animals

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"coilward/model/knowledge"
	"coilward/model/wording"
	"coilward/ui/look"
	"coilward/ui/particulars"
	"coilward/ui/widgets"
)

// The measures of the table, in pixels.
const (
	rowHeight    float32 = 52
	headHeight   float32 = 32
	portraitSide float32 = 36
	columnGap            = look.S12
)

// column is one column of the table: what it is sorted by, how wide it is, and
// when it goes where room is short (the highest number first; 0 stays).
type column struct {
	by    Column
	width float32 // of the name: at least; it takes what is left
	goes  int
}

// oldest is more years than any snake lives to see, for the room that an age takes.
const oldest = 99

// tableColumns are the columns, wide enough for what stands in them in that
// language.
func tableColumns(t *wording.Text) []column {
	columns := []column{
		{by: ByName, width: 170},
		{by: ByCode, width: 72, goes: 4},
		{by: BySex, width: 106, goes: 3},
		{by: ByAge, width: 108, goes: 5},
		{by: ByWeight, width: 118, goes: 1},
		{by: ByMeal, width: 124, goes: 6},
		{by: ByCheck, width: 124, goes: 2},
		{by: ByOpen, width: 150},
	}
	old := look.Body.Width(t.Say("calendar.about", wording.Gaps{"Age": t.Count("calendar.span.years", oldest)}))
	for i := range columns {
		if columns[i].by == ByAge {
			columns[i].width = max(columns[i].width, old)
		}
		columns[i].width = max(columns[i].width, look.NoteBold.Width(t.Say("roster.column."+string(columns[i].by)))+20)
	}
	open := &columns[len(columns)-1]
	for level := knowledge.NoAction; level <= knowledge.EmergencyToday; level++ {
		open.width = max(open.width, look.Body.Width(t.Say("urgency."+level.String()))+26)
	}
	for _, key := range []string{"roster.detected", "roster.near-positive"} {
		open.width = max(open.width, look.Body.Width(t.Say(key))+26)
	}
	return columns
}

// span is where a column stands; width 0: nowhere.
type span struct{ left, width float32 }

// spans shares out a width among the columns.
func spans(columns []column, width float32) []span {
	stands := func(limit int) (sum float32, n int) {
		for _, c := range columns {
			if c.goes < limit {
				sum, n = sum+c.width, n+1
			}
		}
		return sum + columnGap*float32(n-1), n
	}
	limit := len(columns)
	for least, _ := stands(limit); least > width && limit > 1; least, _ = stands(limit) {
		limit--
	}
	least, _ := stands(limit)
	out, left := make([]span, len(columns)), float32(0)
	for i, c := range columns {
		if c.goes >= limit {
			continue
		}
		w := c.width
		if c.by == ByName {
			w += max(0, width-least)
		}
		out[i] = span{left, w}
		left += w + columnGap
	}
	return out
}

// inColumns lays one object per column into its span.
type inColumns struct{ columns []column }

func (l inColumns) MinSize([]fyne.CanvasObject) fyne.Size { return fyne.NewSize(0, headHeight) }

func (l inColumns) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	if len(objects) < len(l.columns) {
		return // still being filled: a container lays out at each Add
	}
	for i, s := range spans(l.columns, size.Width-2*look.S12) {
		if s.width == 0 {
			objects[i].Hide()
			continue
		}
		objects[i].Show()
		height := min(size.Height, widgets.HeightFor(objects[i], s.width))
		objects[i].Resize(fyne.NewSize(s.width, height))
		objects[i].Move(fyne.NewPos(float32(int(look.S12+s.left+.5)), float32(int((size.Height-height)/2+.5))))
	}
}

// tableRow is the empty row that is filled with one animal after another.
type tableRow struct {
	*fyne.Container
	portrait                                                                                      *particulars.Portrait
	name, under, code, sign, sex, age, months, weight, change, meal, mealDay, check, day, open, n *widgets.Text
	mark                                                                                          *widgets.Icon
}

func newTableRow(columns []column) *tableRow {
	body := func() *widgets.Text { return widgets.Line("", look.Body, look.Ink).Cuts() }
	note := func() *widgets.Text { return widgets.Line("", look.Note, look.Soft).Cuts() }
	r := &tableRow{
		portrait: particulars.NewPortrait(portraitSide, look.RBase),
		name:     widgets.Line("", look.BodyBold, look.Ink).Cuts(), under: note(), code: note(),
		sign: widgets.Line("", look.Body, look.Ink), sex: widgets.Para("", look.Note, look.Soft), age: body(), months: note(), weight: body(), change: note(),
		meal: body(), mealDay: note(), check: body(), day: note(), open: widgets.Line("", look.Body, look.Ink), n: note(),
		mark: widgets.NewSign("often!", 16, look.Often, look.Paper),
	}
	two := func(above, below *widgets.Text) *fyne.Container { return widgets.Col(0, above, below) }
	r.Container = container.New(inColumns{columns},
		widgets.Row(look.S12, r.portrait, widgets.Grow(two(r.name, r.under))),
		r.code,
		widgets.Row(look.S4, widgets.Fix(16, 0, r.sign), widgets.Grow(r.sex)),
		two(r.age, r.months), two(r.weight, r.change), two(r.meal, r.mealDay), two(r.check, r.day),
		widgets.Row(look.S8, widgets.Fix(16, 16, r.mark), widgets.Grow(two(r.open, r.n))))
	return r
}

// Object implements widgets.RollRow.
func (r *tableRow) Object() fyne.CanvasObject { return r.Container }

// show fills the row.
func (r *tableRow) show(row *Row, s said, photo fyne.Resource) {
	r.portrait.Set(row.Name, row.Coat, photo)
	for text, words := range map[*widgets.Text]string{r.name: s.name, r.under: s.under, r.code: s.code, r.sign: s.sign, r.sex: s.sex,
		r.age: s.age, r.months: s.months, r.weight: s.weight, r.change: s.change, r.meal: s.meal, r.mealDay: s.mealDay, r.check: s.check, r.day: s.checkDay,
		r.open: s.open, r.n: s.count} {
		text.SetText(words)
		if empty := words == "" && text != r.name; empty == text.Visible() {
			setVisible(text, !empty)
		}
	}
	sign, tone := row.sign()
	setVisible(r.mark, sign != "")
	if sign != "" {
		r.mark.SetName(sign)
		r.mark.SetTone(tone)
	}
	r.open.SetTone(tone)
}

func setVisible(o fyne.CanvasObject, yes bool) {
	if yes {
		o.Show()
	} else {
		o.Hide()
	}
}

// tableHead is the line of columns above the rows; pressing one sorts by it,
// pressing it again turns the order round.
func tableHead(t *wording.Text, columns []column, c Choice, sort func(Column)) *fyne.Container {
	head := container.New(inColumns{columns})
	for _, col := range columns {
		label := t.Say("roster.column." + string(col.by))
		tone, kind := look.Soft, look.Note
		chosen := c.Sort == col.by || c.Sort == "" && col.by == ByName
		if chosen {
			tone, kind = look.Ink, look.NoteBold
		}
		parts := []fyne.CanvasObject{widgets.Line(label, kind, tone)}
		if chosen {
			arrow := "↑"
			if c.Back {
				arrow = "↓"
			}
			parts = append(parts, widgets.Line(arrow, look.NoteBold, look.Accent))
		}
		press := widgets.RowPress(label, widgets.Fix(0, 28, widgets.MiddleUpright(widgets.Row(look.S4, parts...))), func() { sort(col.by) })
		head.Add(press)
	}
	return head
}
