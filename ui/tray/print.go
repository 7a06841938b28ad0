package tray

import (
	"errors"
	"fmt"
	"slices"

	"fyne.io/fyne/v2"

	"coilward/assets"
	"coilward/export/paper"
	"coilward/model"
	"coilward/model/label"
	"coilward/model/people"
	"coilward/model/samples"
	"coilward/ui/look"
	"coilward/ui/particulars"
	"coilward/ui/place"
	"coilward/ui/widgets"
)

// The papers that go with samples.
const (
	tubeLabels = "labels"
	labForm    = "form"
)

// printForm asks which paper is made of which samples.
type printForm struct {
	*form
	kind    string
	many    *many
	sheets  []label.Sheet
	sheet   int
	vet     *particulars.Pick
	keeper  *particulars.Pick
	urgent  bool
	signs   bool
	drugs   bool
	lab     bool // a lab that is private is named
	choices *fyne.Container
}

func newPrintForm(p *Page, some []Sample) *form {
	f := &printForm{form: newForm(p), kind: tubeLabels, many: newMany(p, some, p.tray.Samples.Before(samples.Sent)), choices: widgets.Stack()}
	f.many.changed = f.show
	f.Beside = widgets.Row(0, widgets.Button(widgets.Plain, widgets.Act{Label: p.say("papers.save"), Do: f.save}), widgets.Fill())
	all, err := label.Sheets(assets.Knowledge())
	if err != nil {
		p.window.Fault("papers.failed", err)
	}
	usual := label.A4
	if p.window.Settings().Paper == place.Letter {
		usual = label.Letter
	}
	f.sheets = label.Tubes(all)
	f.sheet = max(0, slices.IndexFunc(f.sheets, func(s label.Sheet) bool { return s.Paper == usual }))
	kind := particulars.NewFew(p.say("papers.paper"), []string{tubeLabels, labForm}, []string{p.say("tray.print.labels"), p.say("tray.print.form")}, f.kind, func(v string) {
		f.kind = v
		f.show()
	})
	f.vet = p.personPick(particulars.Capital(p.say("people.role.vet")), particulars.Capital(p.say("particulars.unsaid")), p.tray.with(people.Vet), model.PersonID{})
	by := p.window.By()
	if p.tray.person[by].Private {
		by = model.PersonID{}
	}
	f.keeper = p.personPick(p.say("tray.print.from"), particulars.Capital(p.say("particulars.unsaid")), p.takers(by), by)
	f.form.Field("cards.first", "1", widgets.FieldOptions{Label: p.say("papers.cards.first")})
	f.Act = f.print
	f.show()
	return f.settle(p.say("tray.print"), p.say("papers.print"), kind.Container, f.many.Container, f.choices)
}

// show shows what is asked of the chosen paper.
func (f *printForm) show() {
	p := f.page
	var parts []fyne.CanvasObject
	if f.kind == tubeLabels {
		var values, names []string
		for i, s := range f.sheets {
			text := p.window.Text()
			values = append(values, fmt.Sprint(i))
			names = append(names, p.say("tray.print.measures", map[string]any{"Width": text.Decimal(int64(s.Width), 1), "Height": text.Decimal(int64(s.Height), 1), "Paper": string(s.Paper)}))
		}
		sheet := particulars.NewFew(p.say("papers.sheet"), values, names, fmt.Sprint(f.sheet), func(v string) { f.sheet = slices.Index(values, v) })
		parts = append(parts, sheet.Container, f.Named("cards.first").Container, widgets.Para(p.say("papers.cards.scale"), look.Note, look.Soft))
	} else {
		tick := func(on *bool, key string) fyne.CanvasObject {
			return widgets.CheckRow(*on, p.say(key), "", "", func(now bool) {
				*on = now
				f.show()
			})
		}
		parts = append(parts, f.keeper.Container, f.vet.Container,
			widgets.Col(0, tick(&f.urgent, "tray.print.urgent"), tick(&f.signs, "tray.print.signs"), tick(&f.drugs, "tray.print.treatments")))
		if lab, private := f.privateLab(); private {
			parts = append(parts, widgets.CheckRow(f.lab, p.say("tray.print.private", map[string]any{"Name": lab.Name}), p.say("people.form.private-what"), "", func(now bool) {
				f.lab = now
				f.show()
			}))
		}
	}
	f.choices.Objects = []fyne.CanvasObject{widgets.Col(look.S16, parts...)}
	f.choices.Refresh()
	if f.Content != nil {
		f.Content.Refresh()
	}
}

// privateLab is the lab that all chosen samples go to, where it is private: it is named
// only where the person says so.
func (f *printForm) privateLab() (lab people.Stored, private bool) {
	for i, s := range f.many.some() {
		if i > 0 && s.Lab != lab.ID {
			return lab, false
		}
		lab = f.page.tray.person[s.Lab]
	}
	return lab, lab.Private
}

// document is the chosen paper.
func (f *printForm) document() (d paper.Document, issued model.Moment, err error) {
	p, text := f.page, f.page.window.Text()
	ids := idsOf(f.many.some())
	if len(ids) == 0 {
		return d, issued, &model.Refusal{Field: "sample", Reason: "sample.none", Answer: model.Mend}
	}
	on := paper.Laying{}
	if f.kind == tubeLabels {
		first, err := text.ParseCount(f.Text("cards.first"), f.sheets[f.sheet].Count())
		if err != nil {
			return d, issued, particulars.At("cards.first", err)
		}
		on = paper.Laying{Sheet: f.sheets[f.sheet], First: first}
	}
	size := paper.A4
	if p.window.Settings().Paper == place.Letter {
		size = paper.Letter
	}
	err = p.window.Collection().View(func(v model.View) error {
		issued = v.Now()
		if f.kind == tubeLabels {
			tubes, err := paper.GatherTubes(v, ids)
			if err == nil {
				d, err = paper.TubesPaper(tubes, on, text, issued)
			}
			return err
		}
		var asked []model.PersonID
		if lab, private := f.privateLab(); private && f.lab {
			asked = append(asked, lab.ID)
		}
		form, err := paper.GatherLab(v, ids, asked...)
		form.Keeper, form.Vet = p.tray.person[p.picked(f.keeper)].Person, p.tray.person[p.picked(f.vet)].Person
		form.Urgent, form.Signs, form.Treatments = f.urgent, f.signs, f.drugs
		if err == nil {
			d = paper.LabForm(form, p.window.Tables(), text, size)
		}
		return err
	})
	return d, issued, err
}

// made is the paper with the name of its file; false: it was said why there is none.
func (f *printForm) made() (particulars.Printed, bool) {
	d, issued, err := f.document()
	var r *model.Refusal
	switch {
	case errors.As(err, &r):
		f.Refuse(err)
	case err != nil:
		f.page.window.Fault("papers.failed", err)
	}
	return particulars.Printed{Document: d, Issued: issued, Name: paper.FileName(".pdf", d.Title, issued.Day().String())}, err == nil
}

// save asks where to, and writes the paper there.
func (f *printForm) save() {
	if d, ok := f.made(); ok {
		d.Save(f.page.window)
	}
}

// print makes the paper and opens it with the system's program, which prints it.
func (f *printForm) print() {
	if d, ok := f.made(); ok {
		d.Print(f.page.window)
	}
}
