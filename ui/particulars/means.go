package particulars

import (
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"fyne.io/fyne/v2"

	"coilward/model"
	"coilward/model/husbandry"
	"coilward/model/knowledge"
	"coilward/model/wording"
	"coilward/ui/look"
	"coilward/ui/place"
	"coilward/ui/widgets"
)

// Means asks what something is cleaned with, each means with its minutes, and
// against what, and says what the tables say of it before it is noted.
type Means struct {
	*fyne.Container
	window         place.Window
	enter          func()
	uses           []*use
	against        []*Pick
	rows, targets  *fyne.Container
	verdict        *fyne.Container
	refusedMinutes *widgets.Field // what Put found at fault; nil: nothing
}

// use is the row of one means.
type use struct {
	means   *Pick
	minutes *widgets.Field
}

// NewMeans makes the choice of what a cleaning was done with, one row at least;
// enter is what Enter does.
func NewMeans(w place.Window, c husbandry.Cleaning, enter func()) *Means {
	m := &Means{window: w, enter: enter, rows: widgets.Col(look.S16), targets: widgets.Col(look.S16), verdict: widgets.Stack()}
	for _, u := range c.Uses {
		m.uses = append(m.uses, m.newUse(u))
	}
	for _, target := range c.Against {
		m.against = append(m.against, m.newTarget(target))
	}
	if len(m.uses) == 0 {
		m.uses = append(m.uses, m.newUse(husbandry.Use{}))
	}
	if len(m.against) == 0 {
		m.against = append(m.against, m.newTarget(""))
	}
	m.Container = widgets.Col(look.S16, m.rows, m.targets, m.verdict)
	m.build()
	return m
}

func (m *Means) newUse(u husbandry.Use) *use {
	t := m.window.Text()
	var ids []string
	var words []widgets.Choice
	for _, one := range m.window.Tables().Means() {
		ids, words = append(ids, string(one.ID)), append(words, widgets.Choice{Label: Capital(t.Say("means." + string(one.ID)))})
	}
	minutes := ""
	if u.Minutes > 0 {
		minutes = strconv.Itoa(u.Minutes)
	}
	row := &use{NewPick(m.window, t.Say("field.means"), Capital(t.Say("particulars.unsaid")), ids, words, string(u.Means)),
		widgets.NewField(minutes, widgets.FieldOptions{Label: t.Say("field.minutes"), Apart: true})}
	row.means.OnPicked = m.judge
	row.minutes.OnEnter = m.enter
	row.minutes.OnTyped = func(string) { row.minutes.Accept(); m.judge() }
	return row
}

func (m *Means) newTarget(target knowledge.TargetID) *Pick {
	t := m.window.Text()
	var ids []string
	var words []widgets.Choice
	for _, one := range m.window.Tables().Targets() {
		ids, words = append(ids, string(one.ID)), append(words, widgets.Choice{Label: Capital(t.Say("target." + string(one.ID)))})
	}
	pick := NewPick(m.window, t.Say("field.against"), Capital(t.Say("particulars.unsaid")), ids, words, string(target))
	pick.OnPicked = m.judge
	return pick
}

// build shows a row for each means and each target. Each may be left out but the
// last; one more of either may be added.
func (m *Means) build() {
	t := m.window.Text()
	row := func(what fyne.CanvasObject, several bool, leave func()) fyne.CanvasObject {
		if !several {
			return what
		}
		return widgets.RowBottom(look.S8, widgets.Grow(what), widgets.Button(widgets.Quiet, widgets.Act{Label: t.Say("particulars.leave-out"), Icon: "bin", Do: func() { leave(); m.build() }}))
	}
	add := func(label string, do func()) fyne.CanvasObject {
		return widgets.Row(0, widgets.Button(widgets.Quiet, widgets.Act{Label: t.Say(label), Icon: "plus", Do: do}), widgets.Fill())
	}
	m.rows.Objects, m.targets.Objects = nil, nil
	for i, u := range m.uses {
		minutes := row(u.minutes.Container, len(m.uses) > 1, func() { m.uses = slices.Delete(m.uses, i, i+1) })
		m.rows.Add(widgets.Col(look.S8, u.means.Container, widgets.Col(look.S4, minutes, u.minutes.Said())))
	}
	if len(m.uses) < husbandry.MaxUses {
		m.rows.Add(add("particulars.means.another", func() {
			row := m.newUse(husbandry.Use{})
			m.uses = append(m.uses, row)
			m.build()
			row.means.open()
		}))
	}
	for i, pick := range m.against {
		m.targets.Add(row(pick.Container, len(m.against) > 1, func() { m.against = slices.Delete(m.against, i, i+1) }))
	}
	if len(m.against) < len(m.window.Tables().Targets()) {
		m.targets.Add(add("particulars.means.another-target", func() {
			pick := m.newTarget("")
			m.against = append(m.against, pick)
			m.build()
			pick.open()
		}))
	}
	m.judge()
}

// First is what takes the keys first.
func (m *Means) First() fyne.Focusable { return m.uses[0].minutes.Focusable() }

// Refused is the field of what Put refused last; nil where that is no field's.
func (m *Means) Refused() *widgets.Field { return m.refusedMinutes }

// Settle takes what was refused away, when it is about to be judged anew.
func (m *Means) Settle() {
	for _, u := range m.uses {
		u.minutes.Settle()
	}
}

// Typed is all that is chosen and typed, to tell whether it changed.
func (m *Means) Typed() string {
	var all []string
	for _, u := range m.uses {
		all = append(all, u.means.Value(), u.minutes.Text())
	}
	for _, pick := range m.against {
		all = append(all, pick.Value())
	}
	return fmt.Sprintf("%d %q", len(m.uses), all)
}

// Put puts what was chosen into a cleaning. Rows in which nothing was chosen are
// left out; it is refused where minutes are of no means, and where the means
// cannot be noted as one cleaning.
func (m *Means) Put(c *husbandry.Cleaning) (err error) {
	c.Uses, c.Against, m.refusedMinutes = nil, nil, nil
	for _, pick := range m.against {
		if target := knowledge.TargetID(pick.Value()); target != "" && !slices.Contains(c.Against, target) {
			c.Against = append(c.Against, target)
		}
	}
	for _, u := range m.uses {
		one := husbandry.Use{Means: knowledge.MeansID(u.means.Value())}
		typed := strings.TrimSpace(u.minutes.Text())
		if one.Means == "" && typed == "" {
			continue
		}
		if typed != "" {
			if one.Minutes, err = m.window.Text().ParseCount(typed, husbandry.MaxMinutes); err != nil {
				m.refusedMinutes = u.minutes
				return At("minutes", err)
			}
		}
		if one.Means == "" {
			m.refusedMinutes = u.minutes
			return &model.Refusal{Field: "minutes", Value: typed, Reason: "clean.of-nothing", Answer: model.Mend}
		}
		c.Uses = append(c.Uses, one)
	}
	if r := husbandry.Together(m.window.Tables(), c.Uses); r != nil {
		return r
	}
	return nil
}

// judge shows what the tables say of what is chosen, with their source, and what
// must not be done together.
func (m *Means) judge() {
	m.verdict.Objects = nil
	said := widgets.Col(look.S8)
	var c husbandry.Cleaning
	var r *model.Refusal
	switch err := m.Put(&c); {
	case errors.As(err, &r) && r.Field != "minutes":
		said.Add(widgets.Caution(m.window.Text().Refusal(r)))
	case err == nil:
		all := husbandry.Judge(m.window.Tables(), c)
		for _, target := range c.Against {
			if best, known := husbandry.Best(all, target); known {
				said.Add(verdictOf(m.window.Text(), best))
			}
		}
	}
	if len(said.Objects) > 0 {
		m.verdict.Objects = []fyne.CanvasObject{said}
		m.verdict.Show()
	} else {
		m.verdict.Hide()
	}
	m.verdict.Refresh()
	m.Container.Refresh()
}

// verdictOf is what the tables say of one use: a caution, unless it works.
func verdictOf(t *wording.Text, w husbandry.Worked) fyne.CanvasObject {
	said := Worked(t, w)
	if w.Does == husbandry.DoesWork {
		return widgets.Para(said, look.BodyBold, look.Accent)
	}
	return widgets.Caution(said)
}

// Worked is what the tables say of a means against a target, in a sentence.
func Worked(t *wording.Text, w husbandry.Worked) string {
	gaps := wording.Gaps{"Means": t.Say("means." + string(w.Means)), "Target": t.Say("target." + string(w.Target)), "Source": t.Source(w.Source)}
	said := t.Say("instruments.means."+string(w.Does), gaps)
	if w.Needs > 0 {
		said += " " + t.Count("instruments.means.needs", w.Needs)
	}
	return said
}
