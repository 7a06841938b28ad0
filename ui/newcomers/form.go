package newcomers

import (
	"errors"
	"slices"
	"strings"

	"fyne.io/fyne/v2"

	"coilward/model"
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
	also    map[string]string // further names of fields in refusals
	chosen  func() string     // what is chosen beside the fields, to tell whether it changed
	figures func(n int)       // what a figure chooses, where no field takes it; nil: nothing
	was     string
	problem *fyne.Container // what is refused and belongs to no field
	content *fyne.Container
	command func(place.Answer) (model.Command, error)
	done    func()
}

func newForm(p *Page) *form {
	f := &form{page: p, fields: map[string]*widgets.Field{}, problem: widgets.Stack(), chosen: func() string { return "" }, done: p.close}
	f.problem.Hide()
	return f
}

// field makes a field that is known by its name in refusals.
func (f *form) field(name, label, value string, o widgets.FieldOptions) fyne.CanvasObject {
	o.Label = label
	field := widgets.NewField(value, o)
	field.OnTyped = func(string) { field.Accept() }
	if o.Rows < 2 {
		field.OnEnter = f.keep
	}
	f.fields[name], f.order = field, append(f.order, name)
	return field.Container
}

// day asks for a day.
func (f *form) day(name, label string, day model.Day) fyne.CanvasObject {
	return f.field(name, label, f.page.window.Text().DayShort(day), widgets.FieldOptions{Hint: f.page.say("particulars.hint.date")})
}

func (f *form) text(name string) string { return strings.TrimSpace(f.fields[name].Text()) }

// moment is the day that was typed in a field: the present moment where it is today's,
// the moment that was there before where it is still that day's.
func (f *form) moment(name string, before model.Moment) (model.Moment, error) {
	now := f.page.window.Now()
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

// open lays the form beside the page, made of its parts.
func (f *form) open(title, act string, parts ...fyne.CanvasObject) {
	f.content = particulars.Column(title, f.page.close, widgets.Col(look.S16, append([]fyne.CanvasObject{f.problem}, parts...)...),
		widgets.Big(widgets.Button(widgets.Primary, widgets.Act{Label: act, Key: "Enter", Do: f.keep})))
	f.was = f.state()
	f.page.form, f.page.again = f, nil
	f.page.show(f.content)
	f.page.window.Focus(f.first())
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

// first is what takes the keys first; nil: the page.
func (f *form) first() fyne.Focusable {
	if len(f.order) == 0 || f.figures != nil {
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
	if name, other := f.also[r.Field]; other && f.fields[name].Visible() {
		renamed := *r
		renamed.Field, r = name, &renamed
	}
	if i := slices.IndexFunc(f.order, func(name string) bool { return name == r.Field || f.is(name, r) }); i >= 0 {
		field := f.fields[f.order[i]]
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

// is reports whether a field that there is one of for each thing is the one refused:
// its name is that of the refusal, @, and its number.
func (f *form) is(name string, r *model.Refusal) bool {
	of, _, several := strings.Cut(name, "@")
	return several && of == r.Field && f.text(name) == r.Value
}
