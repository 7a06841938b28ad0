package tray

import (
	"errors"

	"fyne.io/fyne/v2"

	"coilward/model"
	"coilward/model/people"
	"coilward/model/samples"
	"coilward/ui/look"
	"coilward/ui/particulars"
	"coilward/ui/place"
	"coilward/ui/widgets"
)

// form asks for something in the side column.
type form struct {
	*particulars.SideForm
	page *Page
	of   map[model.SampleID]uint32 // the samples that it is about, by their revisions
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
	f := &form{SideForm: particulars.NewSideForm(p.window), page: p}
	f.Whose = func() string { return p.words().names(f.ofWhom()) }
	return f
}

// dayField asks for a day, today at first.
func (f *form) dayField(name string, day model.Day) fyne.CanvasObject { return f.Day(name, "", day) }

// moment is Moment of a day that may be left empty.
func (f *form) moment(name string, before model.Moment) (model.Moment, error) {
	if f.Text(name) == "" {
		return model.Moment{}, nil
	}
	return f.Moment(name, before)
}

// settle makes the form of its parts.
func (f *form) settle(title, act string, parts ...fyne.CanvasObject) *form {
	f.Build(title, act, f.page.close, parts...)
	return f
}

// ofWhom are the animals of the sample, one of several, that the command is refused
// for; none where that is all of them.
func (f *form) ofWhom() []model.AnimalID {
	if f.Command == nil {
		return nil
	}
	c, err := f.Command(place.Answer{})
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
