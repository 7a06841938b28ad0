package newcomers

import (
	"strconv"

	"fyne.io/fyne/v2"

	"coilward/model"
	"coilward/ui/particulars"
	"coilward/ui/widgets"
)

// form asks for something in the side column.
type form struct {
	*particulars.SideForm
	page    *Page
	of      model.QuarantineID // whose form it is, which ends with it; zero: of none
	also    map[string]string  // further names of fields in refusals
	figures func(n int)        // what a figure chooses, where no field takes it; nil: nothing
}

func newForm(p *Page) *form {
	f := &form{SideForm: particulars.NewSideForm(p.window), page: p}
	f.At, f.Done = f.at, p.close
	return f
}

// field makes a field that is known by its name in refusals.
func (f *form) field(name, label, value string, o widgets.FieldOptions) fyne.CanvasObject {
	o.Label = label
	return f.Field(name, value, o)
}

// byFigures lets figures choose while no field has the keys, which the page takes first.
func (f *form) byFigures(pick func(n int)) {
	f.figures, f.Keys = pick, func() fyne.Focusable { return nil }
}

// open lays the form beside the page, made of its parts.
func (f *form) open(title, act string, parts ...fyne.CanvasObject) {
	f.Build(title, act, f.page.close, parts...)
	f.page.form, f.page.again = f, nil
	f.page.show(f.Content)
	f.page.window.Focus(f.First())
}

// at is the field of a refusal that names it otherwise, or that is of one of several
// fields: their names are that of the refusal, @, and a number.
func (f *form) at(r *model.Refusal) *widgets.Field {
	if field := f.Named(f.also[r.Field]); field != nil && field.Visible() {
		return field
	}
	for i := 0; ; i++ {
		name := r.Field + "@" + strconv.Itoa(i)
		field := f.Named(name)
		if field == nil || f.Text(name) == r.Value {
			return field
		}
	}
}
