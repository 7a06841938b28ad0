package people

import (
	"errors"
	"slices"
	"strings"

	"fyne.io/fyne/v2"

	"coilward/model"
	"coilward/model/people"
	"coilward/ui/look"
	"coilward/ui/particulars"
	"coilward/ui/place"
	"coilward/ui/widgets"
)

// form asks who a person is. What was typed stays in it, whatever is refused.
type form struct {
	page    *Page
	before  *people.Stored // nil: a new person
	was     people.Person  // as the form was opened
	fields  map[string]*widgets.Field
	roles   []people.Role
	private bool
	choices *fyne.Container // of the roles
	hidden  *fyne.Container // whether the person is private
	problem *fyne.Container // what is refused and belongs to no field
	content *fyne.Container
}

func newForm(p *Page, before *people.Stored) *form {
	f := &form{page: p, before: before, fields: map[string]*widgets.Field{}, choices: widgets.Stack(), hidden: widgets.Stack(), problem: widgets.Stack()}
	f.problem.Hide()
	title := p.say("people.page.add")
	if before != nil {
		f.was, title = before.Person, before.Name
	}
	f.roles, f.private = slices.Clone(f.was.Roles), f.was.Private
	name := f.field("person", "field.name", f.was.Name, widgets.FieldOptions{})
	f.fields["person"].OnEnter = f.keep
	parts := []fyne.CanvasObject{f.problem, name,
		widgets.Col(look.S8, widgets.Line(p.say("field.roles"), look.NoteBold, look.Soft), f.choices),
		f.field("phones", "field.phones", strings.Join(f.was.Phones, "\n"), widgets.FieldOptions{Rows: 2, Hint: p.say("people.form.phones-hint")}),
		f.field("address", "field.address", f.was.Address, widgets.FieldOptions{Rows: 2}),
		f.field("note", "field.note", f.was.Note, widgets.FieldOptions{Rows: 2, Hint: p.say("people.form.note-hint")}),
		f.hidden}
	if before != nil {
		parts = append(parts, widgets.Wrap(look.S8, f.writesNow(), widgets.Button(widgets.Quiet, widgets.Act{Label: p.say("people.page.remove"), Icon: "bin", Do: f.remove})))
	}
	f.showRoles()
	f.showPrivate()
	f.content = particulars.Column(title, p.closeForm, widgets.Col(look.S16, parts...),
		widgets.Big(widgets.Button(widgets.Primary, widgets.Act{Label: p.say("particulars.keep"), Do: f.keep})))
	return f
}

// field makes a field that is known by its name in refusals.
func (f *form) field(name, label, value string, o widgets.FieldOptions) fyne.CanvasObject {
	o.Label = f.page.say(label)
	field := widgets.NewField(value, o)
	field.OnTyped = func(string) { field.Accept() }
	f.fields[name] = field
	return field.Container
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
	typed := map[string]string{}
	for name, field := range f.fields {
		typed[name] = field.Text()
	}
	again := newForm(f.page, f.before)
	again.roles, again.private = f.roles, f.private
	for name, text := range typed {
		again.fields[name].SetText(text)
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

// first is what takes the keys first.
func (f *form) first() fyne.Focusable { return f.fields["person"].Focusable() }

// person is who stands in the form.
func (f *form) person() people.Person {
	return people.Person{Name: f.fields["person"].Text(), Roles: f.roles, Phones: strings.Split(f.fields["phones"].Text(), "\n"),
		Address: f.fields["address"].Text(), Note: f.fields["note"].Text(), Private: f.private}
}

// touched reports whether something else stands in the form than at first.
func (f *form) touched() bool {
	p := f.person()
	return p.Name != f.was.Name || strings.Join(p.Phones, "\n") != strings.Join(f.was.Phones, "\n") || p.Address != f.was.Address ||
		p.Note != f.was.Note || p.Private != f.was.Private || !slices.Equal(slices.Sorted(slices.Values(p.Roles)), slices.Sorted(slices.Values(f.was.Roles)))
}

// keep stores who stands in the form, or says at the field what cannot stand.
func (f *form) keep() {
	f.problem.Hide()
	for _, field := range f.fields {
		field.Settle()
	}
	p := f.person()
	f.page.window.Do(func(place.Answer) model.Command {
		if f.before == nil {
			return people.Add{Person: p}
		}
		return people.Change{ID: f.before.ID, Base: f.before.Revision, Person: p}
	}, func(err error) {
		if err != nil {
			f.refuse(err)
			return
		}
		f.page.kept(strings.Join(strings.Fields(p.Name), " "))
	})
}

// refuse says what cannot stand, at its field.
func (f *form) refuse(err error) {
	var r *model.Refusal
	if !errors.As(err, &r) {
		return // left, or shown by the window
	}
	text := f.page.window.Text()
	if field, there := f.fields[r.Field]; there {
		field.Refuse(text.Why(r))
		f.content.Refresh()
		f.page.window.Focus(field.Focusable())
		widgets.Reveal(f.content, field.Container)
		return
	}
	f.problem.Objects = []fyne.CanvasObject{widgets.Caution(text.Refusal(r))}
	f.problem.Show()
	f.content.Refresh()
	widgets.Reveal(f.content, f.problem)
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
			{Label: page.say("people.remove.erase"), Do: func() { leave(); f.takeOut(who.ID, func() { f.erase(who.ID) }) }}},
		Cancel: page.say("window.cancel"),
	})
}

// takeOut takes the person out and closes the form; then it goes on with what is to
// be done besides.
func (f *form) takeOut(id model.PersonID, then func()) {
	page := f.page
	w := page.window
	w.Do(func(place.Answer) model.Command { return people.Remove{ID: id} }, func(err error) {
		if err != nil {
			f.refuse(err)
			return
		}
		if w.By() == id {
			w.Change(func(p *place.Preferences) { p.By = model.PersonID{} })
		}
		page.form = nil
		page.read()
		page.closeForm()
		then()
	})
}

// erase wipes out what was known of a person who was taken out.
func (f *form) erase(id model.PersonID) {
	f.page.window.Forget(model.Label{Key: "people.done.erase"}, func(error) {}, id.ID)
}
