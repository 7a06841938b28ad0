package tray

import (
	"errors"
	"strings"

	"fyne.io/fyne/v2"

	"coilward/model"
	"coilward/model/people"
	"coilward/model/samples"
	"coilward/ui/look"
	"coilward/ui/particulars"
	"coilward/ui/place"
	"coilward/ui/widgets"
)

// form asks for something in the side column. What was typed stays in it, whatever
// is refused.
type form struct {
	page    *Page
	fields  map[string]*widgets.Field
	order   []string
	keys    fyne.Focusable // what takes the keys first, where that is no field
	chosen  func() string  // what is chosen beside the fields, to tell whether it changed
	was     string
	problem *fyne.Container // what is refused and belongs to no field
	content *fyne.Container
	command func(place.Answer) (model.Command, error)
	refused func(*model.Refusal) bool // says a refusal that belongs to none of the fields; nil: nothing does
	done    func()
	act     func()                    // is done instead of a command; nil: the command is
	beside  fyne.CanvasObject         // what stands above the act at the foot; nil: nothing does
	of      map[model.SampleID]uint32 // the samples that it is about, by their revisions
}

// about names the samples that the form is about.
func (f *form) about(some []Sample) *form {
	f.of = map[model.SampleID]uint32{}
	for _, s := range some {
		f.of[s.ID] = s.Revision
	}
	return f
}

// outdated reports whether a sample that the form is about was taken out since it was
// opened, or all of them were changed.
func (f *form) outdated() bool {
	changed := 0
	for id, revision := range f.of {
		s, there := f.page.tray.Samples.Of(id)
		if !there {
			return true
		}
		if s.Revision != revision {
			changed++
		}
	}
	return changed > 0 && changed == len(f.of)
}

func newForm(p *Page) *form {
	f := &form{page: p, fields: map[string]*widgets.Field{}, problem: widgets.Stack(), chosen: func() string { return "" }}
	f.problem.Hide()
	return f
}

func (f *form) field(name, value string, o widgets.FieldOptions) fyne.CanvasObject {
	if o.Label == "" {
		o.Label = f.page.say("field." + name)
	}
	field := widgets.NewField(value, o)
	field.OnTyped = func(string) { field.Accept() }
	field.OnEnter = f.keep
	f.fields[name], f.order = field, append(f.order, name)
	return field.Container
}

// dayField asks for a day, today at first.
func (f *form) dayField(name string, day model.Day) fyne.CanvasObject {
	return f.field(name, f.page.window.Text().DayShort(day), widgets.FieldOptions{Hint: f.page.say("particulars.hint.date")})
}

func (f *form) text(name string) string { return strings.TrimSpace(f.fields[name].Text()) }

// moment is the day that was typed in a field: the present moment where it is
// today's, the moment that was there before where it is still that day's.
func (f *form) moment(name string, before model.Moment) (model.Moment, error) {
	now := f.page.window.Now()
	if f.text(name) == "" {
		return model.Moment{}, nil
	}
	day, err := f.page.window.Text().ParseDay(f.text(name), now.Day())
	switch {
	case err != nil:
		return model.Moment{}, particulars.At(name, err)
	case !before.IsZero() && before.Day() == day:
		return before, nil
	case day == now.Day():
		return now, nil
	}
	return model.MomentOn(now, day, model.Noon, model.ToDay), nil
}

// settle makes the form of its parts.
func (f *form) settle(title, act string, parts ...fyne.CanvasObject) *form {
	f.content = particulars.Column(title, f.page.close, widgets.Col(look.S16, append([]fyne.CanvasObject{f.problem}, parts...)...),
		f.foot(widgets.Big(widgets.Button(widgets.Primary, widgets.Act{Label: act, Key: "Enter", Do: f.keep}))))
	f.was = f.state()
	return f
}

func (f *form) foot(act fyne.CanvasObject) fyne.CanvasObject {
	if f.beside == nil {
		return act
	}
	return widgets.Col(look.S12, f.beside, act)
}

func (f *form) state() string {
	var all []string
	for _, name := range f.order {
		all = append(all, f.text(name))
	}
	return strings.Join(append(all, f.chosen()), "\x00")
}

// touched reports whether something else stands in the form than at first.
func (f *form) touched() bool { return f.state() != f.was }

// first is what takes the keys first.
func (f *form) first() fyne.Focusable {
	if f.keys != nil {
		return f.keys
	}
	if len(f.order) == 0 {
		return nil
	}
	return f.fields[f.order[0]].Focusable()
}

// keep stores what stands in the form, or says at the field what cannot stand.
func (f *form) keep() {
	f.problem.Hide()
	for _, field := range f.fields {
		field.Settle()
	}
	if f.act != nil {
		f.act()
		return
	}
	if _, err := f.command(place.Answer{}); err != nil {
		f.refuse(err)
		return
	}
	f.page.window.Do(func(a place.Answer) model.Command {
		c, _ := f.command(a) // it was made before, of the same fields
		return c
	}, func(err error) {
		if err != nil {
			f.refuse(err)
			return
		}
		f.done()
	})
}

// refuse says what cannot stand, at its field.
func (f *form) refuse(err error) {
	var r *model.Refusal
	if !errors.As(err, &r) {
		return // left, or shown by the window
	}
	text := f.page.window.Text()
	if f.refused != nil && f.refused(r) {
		return
	}
	if field := f.fields[r.Field]; field != nil {
		why := text.Why(r)
		if of := f.ofWhom(); len(of) > 0 {
			why = f.page.words().names(of) + ": " + why
		}
		f.at(field, why)
		return
	}
	said := text.Refusal(r)
	if of := f.ofWhom(); len(of) > 0 {
		said = f.page.words().names(of) + ": " + said
	}
	f.problem.Objects = []fyne.CanvasObject{widgets.Caution(said)}
	f.problem.Show()
	f.content.Refresh()
	widgets.Reveal(f.content, f.problem)
}

// ofWhom are the animals of the sample, one of several, that the command is refused
// for; none where that is all of them.
func (f *form) ofWhom() []model.AnimalID {
	if f.act != nil {
		return nil
	}
	c, err := f.command(place.Answer{})
	if err != nil {
		return nil
	}
	var one *samples.Of
	err = f.page.window.Collection().View(func(v model.View) error {
		_, err := c.Plan(v)
		return err
	})
	if !errors.As(err, &one) {
		return nil
	}
	return one.Animals
}

// at says at a field why its text cannot stand.
func (f *form) at(field *widgets.Field, why string) {
	field.Refuse(why)
	f.content.Refresh()
	f.page.window.Focus(field.Focusable())
	widgets.Reveal(f.content, field.Container)
}

// personPick asks for one of some people; none is what no person is called.
func (p *Page) personPick(label, none string, some []people.Stored, chosen model.PersonID) *particulars.Pick {
	var ids []string
	var choices []widgets.Choice
	for _, one := range some {
		ids, choices = append(ids, one.ID.String()), append(choices, widgets.Choice{Label: one.Name})
	}
	value := ""
	if !chosen.IsZero() {
		value = chosen.String()
	}
	return particulars.NewPick(p.window, label, none, ids, choices, value)
}

// picked is the person that was picked; zero: none.
func (p *Page) picked(pick *particulars.Pick) model.PersonID {
	for _, one := range p.tray.People {
		if one.ID.String() == pick.Value() {
			return one.ID
		}
	}
	return model.PersonID{}
}

// labPick asks for a lab, the only one there is at first; where there is none, it
// says where one is added.
func (p *Page) labPick(chosen model.PersonID) (pick *particulars.Pick, shown fyne.CanvasObject) {
	labs := p.tray.with(people.Lab)
	if chosen.IsZero() && len(labs) == 1 {
		chosen = labs[0].ID
	}
	pick = p.personPick(p.say("field.lab"), particulars.Capital(p.say("particulars.unsaid")), labs, chosen)
	if len(labs) > 0 {
		return pick, pick.Container
	}
	return pick, widgets.Col(look.S4, pick.Container, widgets.Para(p.say("tray.no-lab"), look.Note, look.Soft),
		widgets.Row(0, widgets.Button(widgets.Quiet, widgets.Act{Label: p.say("tray.add-person"), Icon: "person", Do: func() { p.window.Go(place.Route{To: place.People, Page: "new"}) }}), widgets.Fill()))
}
