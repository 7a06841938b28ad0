package people

import (
	"fmt"
	"slices"
	"strings"

	"fyne.io/fyne/v2"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/atease"
	"coilward/model/people"
	"coilward/model/welfare"
	"coilward/ui/look"
	"coilward/ui/particulars"
	"coilward/ui/place"
	"coilward/ui/widgets"
)

// form asks who a person is.
type form struct {
	*particulars.SideForm
	page    *Page
	before  *people.Stored // nil: a new person
	roles   []people.Role
	private bool
	choices *fyne.Container // of the roles
	hidden  *fyne.Container // whether the person is private
}

func newForm(p *Page, before *people.Stored) *form {
	f := &form{SideForm: particulars.NewSideForm(p.window), page: p, before: before, choices: widgets.Stack(), hidden: widgets.Stack()}
	title, was := p.say("people.page.add"), people.Person{}
	if before != nil {
		title, was = before.Name, before.Person
	}
	f.roles, f.private = slices.Clone(was.Roles), was.Private
	parts := []fyne.CanvasObject{f.Field("person", was.Name, widgets.FieldOptions{Label: p.say("field.name")}),
		widgets.Col(look.S8, widgets.Line(p.say("field.roles"), look.NoteBold, look.Soft), f.choices),
		f.Field("phones", strings.Join(was.Phones, "\n"), widgets.FieldOptions{Rows: 2, Hint: p.say("people.form.phones-hint")}),
		f.Field("address", was.Address, widgets.FieldOptions{Rows: 2}),
		f.Field("note", was.Note, widgets.FieldOptions{Rows: 2, Hint: p.say("people.form.note-hint")}),
		f.hidden}
	if before != nil {
		if befell := f.befell(); befell != nil {
			parts = append(parts, befell)
		}
		parts = append(parts, widgets.Wrap(look.S8, f.writesNow(), widgets.Button(widgets.Quiet, widgets.Act{Label: p.say("people.page.remove"), Icon: "bin", Do: f.remove})))
	}
	f.showRoles()
	f.showPrivate()
	f.Chosen = func() string { return fmt.Sprint(slices.Sorted(slices.Values(f.roles)), f.private) }
	f.Command = func(place.Answer) (model.Command, error) {
		if before == nil {
			return people.Add{Person: f.person()}, nil
		}
		return people.Change{ID: before.ID, Base: before.Revision, Person: f.person()}, nil
	}
	f.Done = func() { p.kept(strings.Join(strings.Fields(f.Text("person")), " ")) }
	f.Build(title, p.say("particulars.keep"), p.closeForm, parts...)
	return f
}

// writesNow offers that new entries are this person's, or says that they are.
func (f *form) writesNow() fyne.CanvasObject {
	w, id := f.page.window, f.before.ID
	if w.By() == id {
		return widgets.Button(widgets.Quiet, widgets.Act{Label: f.page.say("people.form.writes-off"), Icon: "note", Do: func() { f.setWriter(model.PersonID{}) }})
	}
	return widgets.Button(widgets.Quiet, widgets.Act{Label: f.page.say("people.form.writes-on"), Icon: "note", Do: func() { f.setWriter(id) }})
}

// setWriter says whose new entries are; what was typed stays in the form.
func (f *form) setWriter(id model.PersonID) {
	f.page.window.Change(func(p *place.Preferences) { p.By = id })
	f.anew()
}

// befell are the bites and contacts that are noted of the person, each to be taken out: also of an
// animal that is no longer there, on whose page they stood. They are put right on the page of the
// animal. nil: there are none.
func (f *form) befell() fyne.CanvasObject {
	w, t := f.page.window, f.page.window.Text()
	lines := widgets.Col(look.S4, widgets.Para(f.page.say("people.form.befell"), look.NoteBold, look.Soft))
	if err := w.Collection().View(func(v model.View) error {
		all, err := atease.Befell(v, f.before.ID)
		for _, e := range all {
			c := e.Body.(welfare.PersonContact)
			of, illegible := animals.Find(v, c.Animal)
			if illegible != nil {
				of.Name = f.page.say("people.form.befell-no-animal")
			}
			said := strings.Join([]string{t.DayShort(e.At.Day()), t.Say("welfare.contact." + string(c.What)), of.Name}, " · ")
			out := widgets.Button(widgets.Quiet, widgets.Act{Label: f.page.say("people.form.befell-remove"), Icon: "bin", Do: func() { f.Do(welfare.Remove{Entry: e.ID}, f.anew) }})
			if w.ReadOnly() {
				out.Disable()
			}
			lines.Add(widgets.Col(0, widgets.Para(said, look.Body, look.Ink), widgets.Row(0, out, widgets.Fill())))
		}
		return err
	}); err != nil {
		return widgets.Caution(f.page.say("people.form.befell-unread"))
	}
	if len(lines.Objects) == 1 {
		return nil
	}
	return lines
}

// anew builds the form anew; what was typed stays in it.
func (f *form) anew() {
	again := newForm(f.page, f.before)
	again.roles, again.private = f.roles, f.private
	for _, name := range []string{"person", "phones", "address", "note"} {
		again.Named(name).SetText(f.Named(name).Text())
	}
	again.showRoles()
	again.showPrivate()
	f.page.show(again)
}

func (f *form) showRoles() {
	chips := widgets.Wrap(look.S8)
	for _, role := range people.Roles() {
		on := slices.Contains(f.roles, role)
		chips.Add(widgets.Chip("", particulars.Capital(f.page.say("people.role."+string(role))), on, func() {
			if on {
				f.roles = slices.DeleteFunc(f.roles, func(r people.Role) bool { return r == role })
			} else {
				f.roles = append(f.roles, role)
			}
			f.showRoles()
		}))
	}
	f.choices.Objects = []fyne.CanvasObject{chips}
	f.choices.Refresh()
}

func (f *form) showPrivate() {
	f.hidden.Objects = []fyne.CanvasObject{widgets.CheckRow(f.private, f.page.say("people.form.private"), f.page.say("people.form.private-what"), "", func(on bool) {
		f.private = on
		f.showPrivate()
	})}
	f.hidden.Refresh()
}

// person is who stands in the form.
func (f *form) person() people.Person {
	return people.Person{Name: f.Text("person"), Roles: f.roles, Phones: strings.Split(f.Text("phones"), "\n"),
		Address: f.Text("address"), Note: f.Text("note"), Private: f.private}
}

// remove says what goes with the person, what stays and where the data can still
// be found, and takes the person out once that is said to be meant.
func (f *form) remove() {
	page, who := f.page, *f.before
	w := page.window
	var leave func()
	part := func(head, what string) fyne.CanvasObject {
		return widgets.Col(look.S4, widgets.Line(page.say(head), look.NoteBold, look.Soft), widgets.Para(page.say(what), look.Body, look.Ink))
	}
	leave = w.ShowSheet(widgets.Sheet{
		Title: page.say("people.remove.title", map[string]any{"Person": who.Name}), Width: 560,
		Content: widgets.Col(look.S16, part("people.remove.goes", "people.remove.goes-what"), part("people.remove.stays", "people.remove.stays-what"), part("people.remove.kept", "people.remove.kept-what"),
			widgets.Caution(page.say("people.remove.caution"))),
		Acts: []widgets.Act{{Label: page.say("people.remove.do"), Do: func() { leave(); f.takeOut(who.ID, func() {}) }},
			{Label: page.say("people.remove.erase"), Do: func() { leave(); f.erase(who.ID) }}},
		Cancel: page.say("window.cancel"),
	})
}

// takeOut takes the person out and closes the form; then it goes on with what is to
// be done besides.
func (f *form) takeOut(id model.PersonID, then func()) {
	page := f.page
	w := page.window
	f.Do(people.Remove{ID: id}, func() {
		if w.By() == id {
			w.Change(func(p *place.Preferences) { p.By = model.PersonID{} })
		}
		page.form = nil
		page.read()
		page.closeForm()
		then()
	})
}

// erase takes a person out and wipes out what was known, with the entries about that person.
func (f *form) erase(id model.PersonID) {
	w := f.page.window
	var about []model.ID
	if err := w.Collection().View(func(v model.View) (err error) { about, err = people.About(v, id); return err }); err != nil {
		w.Fault("window.fault.note", err)
		return
	}
	f.takeOut(id, func() { w.Forget(model.Label{Key: "people.done.erase"}, func(error) {}, append(about, id.ID)...) })
}
