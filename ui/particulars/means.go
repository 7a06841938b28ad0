package particulars

import (
	"strconv"
	"strings"

	"fyne.io/fyne/v2"

	"coilward/model/husbandry"
	"coilward/model/knowledge"
	"coilward/model/wording"
	"coilward/ui/look"
	"coilward/ui/place"
	"coilward/ui/widgets"
)

// Means asks what something is cleaned with, for how long and against what, and
// says what the tables say of it before it is noted.
type Means struct {
	*fyne.Container
	window  place.Window
	means   *Pick
	against *Pick
	minutes *widgets.Field
	verdict *fyne.Container
}

// NewMeans makes the choice; enter is what Enter does.
func NewMeans(w place.Window, c husbandry.Cleaning, enter func()) *Means {
	t := w.Text()
	m := &Means{window: w, verdict: widgets.Stack()}
	use, target := husbandry.Use{}, knowledge.TargetID("")
	if len(c.Uses) > 0 {
		use = c.Uses[0]
	}
	if len(c.Against) > 0 {
		target = c.Against[0]
	}
	var ids, targets []string
	var words, against []widgets.Choice
	for _, one := range w.Tables().Means() {
		ids, words = append(ids, string(one.ID)), append(words, widgets.Choice{Label: Capital(t.Say("means." + string(one.ID)))})
	}
	for _, one := range w.Tables().Targets() {
		targets, against = append(targets, string(one.ID)), append(against, widgets.Choice{Label: Capital(t.Say("target." + string(one.ID)))})
	}
	unsaid := Capital(t.Say("particulars.unsaid"))
	m.means = NewPick(w, t.Say("field.means"), unsaid, ids, words, string(use.Means))
	m.against = NewPick(w, t.Say("field.against"), unsaid, targets, against, string(target))
	minutes := ""
	if use.Minutes > 0 {
		minutes = strconv.Itoa(use.Minutes)
	}
	m.minutes = widgets.NewField(minutes, widgets.FieldOptions{Label: t.Say("field.minutes")})
	m.minutes.OnEnter = enter
	m.means.OnPicked, m.against.OnPicked = m.judge, m.judge
	m.minutes.OnTyped = func(string) { m.minutes.Accept(); m.judge() }
	m.Container = widgets.Col(look.S16, m.means.Container, m.against.Container, m.minutes.Container, m.verdict)
	m.judge()
	return m
}

// Minutes is the field of the minutes of contact.
func (m *Means) Minutes() *widgets.Field { return m.minutes }

// Put puts what was chosen into a cleaning.
func (m *Means) Put(c *husbandry.Cleaning) (err error) {
	c.Uses, c.Against = nil, nil
	if target := m.against.Value(); target != "" {
		c.Against = []knowledge.TargetID{knowledge.TargetID(target)}
	}
	id := m.means.Value()
	if id == "" {
		return nil
	}
	use := husbandry.Use{Means: knowledge.MeansID(id)}
	if typed := strings.TrimSpace(m.minutes.Text()); typed != "" {
		if use.Minutes, err = m.window.Text().ParseCount(typed, husbandry.MaxMinutes); err != nil {
			return At("minutes", err)
		}
	}
	c.Uses = []husbandry.Use{use}
	return nil
}

// judge shows what the tables say of what is chosen, with their source.
func (m *Means) judge() {
	m.verdict.Objects = nil
	var c husbandry.Cleaning
	if err := m.Put(&c); err == nil {
		for _, w := range husbandry.Judge(m.window.Tables(), c) {
			m.verdict.Objects = []fyne.CanvasObject{verdictOf(m.window.Text(), w)}
		}
	}
	if len(m.verdict.Objects) > 0 {
		m.verdict.Show()
	} else {
		m.verdict.Hide()
	}
	m.verdict.Refresh()
	if m.Container != nil {
		m.Container.Refresh()
	}
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
