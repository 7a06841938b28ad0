package animal

import (
	"slices"
	"strconv"

	"fyne.io/fyne/v2"

	"coilward/model"
	"coilward/model/care"
	"coilward/ui/look"
	"coilward/ui/particulars"
	"coilward/ui/widgets"
)

// mitePart asks how many mites were seen, by its figure, and where was looked.
type mitePart struct {
	form   *entryForm
	look   care.MiteLook
	chosen bool // the grade was: none seen is said, never taken for granted
	inside *fyne.Container
}

func newMitePart(f *entryForm, m care.MiteLook, fresh bool) part {
	m.Where = slices.Clone(m.Where)
	if fresh {
		m.Where = f.page.life.usualMiteWhere()
	}
	p := &mitePart{form: f, look: m, chosen: !fresh, inside: widgets.Stack()}
	p.show()
	return p
}

// usualMiteWhere is where was looked the last time.
func (l *Life) usualMiteWhere() []care.MiteWhere {
	for i := range l.Days.Entries {
		if l.Days.Entries[i].Kind != care.KindMiteLook {
			continue
		}
		if m, err := care.DecodeMiteLook(l.Days.Entries[i]); err == nil {
			return m.Where
		}
	}
	return nil
}

// show draws the grades, one below the other, and the places to look at.
func (p *mitePart) show() {
	grades := widgets.Col(look.S4)
	for i, grade := range care.MiteGrades() {
		figure := strconv.Itoa(int(grade))
		words := particulars.Capital(p.form.say("care.mites." + figure))
		row := widgets.NewPress(figure+" "+words, widgets.Pad(widgets.RowTop(look.S8, widgets.Fix(12, 0, widgets.Line(figure, look.NoteBold, look.Soft)),
			widgets.Grow(widgets.Para(words, look.Body, look.Ink))), look.S4, look.S8), tileGround, func() { p.figure(i) })
		row.SetOn(p.chosen && grade == p.look.Grade)
		grades.Add(row)
	}
	where := widgets.Wrap(look.S8)
	for _, w := range care.MiteWheres() {
		where.Add(widgets.Chip("", particulars.Capital(p.form.say("care.mites.where."+string(w))), slices.Contains(p.look.Where, w), func() {
			p.toggle(w)
			p.show()
		}))
	}
	caption := func(key string) fyne.CanvasObject { return widgets.Line(p.form.say(key), look.NoteBold, look.Soft) }
	places := widgets.Col(look.S8, caption("field.mite-where"), where)
	if slices.Contains(p.look.Where, care.InBath) {
		places.Add(widgets.Para(p.form.say(care.MiteBathCaution), look.Note, look.Ink))
	}
	p.inside.Objects = []fyne.CanvasObject{widgets.Col(look.S16, widgets.Col(look.S8, caption("field.mites"), grades), places)}
	p.inside.Refresh()
	if p.form.content != nil {
		p.form.content.Refresh()
	}
}

// toggle keeps the places in the order in which they are offered.
func (p *mitePart) toggle(where care.MiteWhere) {
	var now []care.MiteWhere
	for _, w := range care.MiteWheres() {
		if slices.Contains(p.look.Where, w) != (w == where) {
			now = append(now, w)
		}
	}
	p.look.Where = now
}

func (p *mitePart) content() fyne.CanvasObject { return p.inside }

// first is nothing: the figures choose how many were seen.
func (p *mitePart) first() fyne.Focusable { return nil }

// figure implements figured: each grade is its own figure, from 0.
func (p *mitePart) figure(n int) {
	if n >= len(care.MiteGrades()) {
		return
	}
	p.look.Grade, p.chosen = care.MiteGrades()[n], true
	p.show()
}

func (p *mitePart) body(beside care.Beside) (care.Body, error) {
	m := p.look
	m.Beside = beside
	if !p.chosen {
		return m, &model.Refusal{Field: "mites", Reason: "mites.grade", Answer: model.Mend}
	}
	return m, nil
}
