package particulars

import (
	"errors"
	"maps"
	"slices"
	"strings"

	"fyne.io/fyne/v2"

	"coilward/model"
	"coilward/ui/look"
	"coilward/ui/place"
	"coilward/ui/widgets"
)

// SideForm asks for something in the column beside a page: a title and a way out
// above, what is asked, which scrolls, and one act below, which Enter does from any
// line. What was typed stays in it, whatever is refused, until it is kept or left.
type SideForm struct {
	// Content is the form as it stands in its column; nil before Build.
	Content *fyne.Container
	// Chosen is what is chosen beside the fields, to tell whether it changed; nil:
	// nothing is.
	Chosen func() string
	// Keys is what takes the keys first; nil: the first field does. It gives nil where
	// the page does.
	Keys func() fyne.Focusable
	// At is the field of a refusal that is not of the field of that name; nil, or giving
	// nil: there is none.
	At func(r *model.Refusal) *widgets.Field
	// Whose is said before a refusal: who of several it is about; nil or empty: nothing.
	Whose func() string
	// Refused says a refusal at a part that is no field, and gives what is then brought into
	// sight; nil, or giving nil: it belongs to none.
	Refused func(r *model.Refusal, why string) (shown fyne.CanvasObject)
	// Beside stands above the act at the foot; nil: nothing does.
	Beside fyne.CanvasObject
	// Settled takes away what parts show as refused, before the form is judged anew; nil:
	// only fields do.
	Settled func()
	// Command is what stands in the form, or the refusal of what cannot be read. It may
	// be asked for more than once.
	Command func(place.Answer) (model.Command, error)
	// Act is done instead of a command; nil: the command is.
	Act func()
	// Done is called once the command is done.
	Done func()

	window  place.Window
	fields  map[string]*widgets.Field // by their names in refusals
	picks   map[string]*Pick          // likewise
	order   []string
	unkept  Unkept
	leave   func()
	problem *fyne.Container // what is refused and belongs to no field
}

// NewSideForm makes a form without fields yet.
func NewSideForm(w place.Window) *SideForm {
	f := &SideForm{window: w, fields: map[string]*widgets.Field{}, picks: map[string]*Pick{}, problem: widgets.Stack()}
	f.problem.Hide()
	return f
}

// Field makes a field that is known by its name in refusals; without a label it is
// called what refusals call it.
func (f *SideForm) Field(name, value string, o widgets.FieldOptions) fyne.CanvasObject {
	if o.Label == "" {
		o.Label = f.window.Text().Say("field." + name)
	}
	field := widgets.NewField(value, o)
	field.OnTyped = func(string) { field.Accept() }
	field.OnEnter = f.Keep
	if f.fields[name] == nil {
		f.order = append(f.order, name)
	}
	f.fields[name] = field
	return field.Container
}

// Day makes a field for a day; without a label it is called what refusals call it.
func (f *SideForm) Day(name, label string, day model.Day) fyne.CanvasObject {
	return f.Field(name, f.window.Text().DayShort(day), widgets.FieldOptions{Label: label, Hint: f.window.Text().Say("particulars.hint.date")})
}

// Picks takes a choice into the form that is known by its name in refusals.
func (f *SideForm) Picks(name string, p *Pick) fyne.CanvasObject {
	f.picks[name] = p
	return p.Container
}

// Named is the field of that name; nil where there is none.
func (f *SideForm) Named(name string) *widgets.Field { return f.fields[name] }

// LeaveOut takes fields out of the form, for those that are asked anew.
func (f *SideForm) LeaveOut(which func(name string) bool) {
	f.order = slices.DeleteFunc(f.order, which)
	maps.DeleteFunc(f.fields, func(name string, _ *widgets.Field) bool { return which(name) })
}

// Text is what stands in the field of that name; empty where there is none.
func (f *SideForm) Text(name string) string {
	if field := f.fields[name]; field != nil {
		return strings.TrimSpace(field.Text())
	}
	return ""
}

// Moment is the day that stands in a field: the moment that was there before where it
// is still that day's, the present one where it is today's, else noon.
func (f *SideForm) Moment(name string, before model.Moment) (model.Moment, error) {
	now := f.window.Now()
	day, err := f.window.Text().ParseDay(f.Text(name), now.Day())
	switch {
	case err != nil:
		return model.Moment{}, At(name, err)
	case !before.IsZero() && before.Day() == day:
		return before, nil
	case day == now.Day():
		return now, nil
	}
	return model.MomentOn(now, day, model.Noon, model.ToDay), nil
}

// Build makes the form of its parts, as it is untouched.
func (f *SideForm) Build(title, act string, leave func(), parts ...fyne.CanvasObject) {
	foot := fyne.CanvasObject(widgets.Big(widgets.Button(widgets.Primary, widgets.Act{Label: act, Key: "Enter", Do: f.Keep})))
	if f.Beside != nil {
		foot = widgets.Col(look.S12, f.Beside, foot)
	}
	f.leave = leave
	f.Content = Column(title, f.Leave, widgets.Col(look.S16, append([]fyne.CanvasObject{f.problem}, parts...)...), foot)
	f.unkept = NewUnkept(f.state)
}

// Refresh lays the form out anew, once it is built.
func (f *SideForm) Refresh() {
	if f.Content != nil {
		f.Content.Refresh()
	}
}

func (f *SideForm) state() string {
	var all []string
	for _, name := range f.order {
		all = append(all, f.Text(name))
	}
	if f.Chosen != nil {
		all = append(all, f.Chosen())
	}
	return strings.Join(all, "\x00")
}

// Leave leaves the form, and the first time says instead what in it is not kept.
func (f *SideForm) Leave() {
	if f.unkept.Leaves(func() { f.Warn(f.window.Text().Say("particulars.leave")) }) {
		f.leave()
	}
}

// TypedKey is for a page that is given the keys: Escape leaves the form, Enter keeps it.
func (f *SideForm) TypedKey(k *fyne.KeyEvent) {
	switch k.Name {
	case fyne.KeyEscape:
		f.Leave()
	case fyne.KeyReturn, fyne.KeyEnter:
		f.Keep()
	}
}

// Touched reports whether something else stands in the form than at first.
func (f *SideForm) Touched() bool { return f.unkept.Touched() }

// Holds reports whether the form holds what was typed or chosen and not kept, which no
// other act throws away; that is said then, and the keys go back to it.
func (f *SideForm) Holds() bool {
	if !f.Touched() {
		return false
	}
	f.Warn(f.window.Text().Say("particulars.holds"))
	f.window.Focus(f.First())
	return true
}

// First is what takes the keys first; nil: the page.
func (f *SideForm) First() fyne.Focusable {
	switch {
	case f.Keys != nil:
		return f.Keys()
	case len(f.order) == 0:
		return nil
	}
	return f.fields[f.order[0]].Focusable()
}

// Keep does what the form is for, or says at the field what cannot stand.
func (f *SideForm) Keep() {
	f.problem.Hide()
	for _, field := range f.fields {
		field.Settle()
	}
	for _, pick := range f.picks {
		pick.field.Settle()
	}
	if f.Settled != nil {
		f.Settled()
	}
	if f.Act != nil {
		f.Act()
		return
	}
	if _, err := f.Command(place.Answer{}); err != nil {
		f.Refuse(err)
		return
	}
	f.do(func(a place.Answer) model.Command {
		c, _ := f.Command(a) // it was made before, of the same fields
		return c
	}, f.Done)
}

// Do does a command that no field belongs to; what is refused is said in the form.
func (f *SideForm) Do(c model.Command, done func()) {
	f.do(func(place.Answer) model.Command { return c }, done)
}

func (f *SideForm) do(make func(place.Answer) model.Command, done func()) {
	f.window.Do(make, func(err error) {
		if err != nil {
			f.Refuse(err)
			return
		}
		done()
	})
}

// Refuse says what cannot stand at its field, or above all where it is of none. Other
// errors than refusals were left, or shown by the window.
func (f *SideForm) Refuse(err error) {
	var r *model.Refusal
	if !errors.As(err, &r) {
		return
	}
	whose := ""
	if f.Whose != nil {
		if whose = f.Whose(); whose != "" {
			whose += ": "
		}
	}
	if field := f.of(r); field != nil {
		field.Refuse(whose + f.window.Text().Why(r))
		f.Refresh()
		f.window.Focus(field.Focusable())
		widgets.Reveal(f.Content, field.Container)
		return
	}
	if pick := f.picks[r.Field]; pick != nil && pick.Visible() {
		pick.Refuse(whose + f.window.Text().Why(r))
		f.Refresh()
		widgets.Reveal(f.Content, pick.Container)
		return
	}
	if f.Refused != nil {
		if shown := f.Refused(r, whose+f.window.Text().Why(r)); shown != nil {
			f.Refresh()
			widgets.Reveal(f.Content, shown)
			return
		}
	}
	f.Warn(whose + f.window.Text().Refusal(r))
}

// Warn says something above all else in the form.
func (f *SideForm) Warn(said string) {
	f.problem.Objects = []fyne.CanvasObject{widgets.Caution(said)}
	f.problem.Show()
	f.Refresh()
	widgets.Reveal(f.Content, f.problem)
}

// of is the field that a refusal is of; nil: none.
func (f *SideForm) of(r *model.Refusal) *widgets.Field {
	if f.At != nil {
		if field := f.At(r); field != nil {
			return field
		}
	}
	return f.fields[r.Field]
}
