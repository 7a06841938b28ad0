package main

import (
	"errors"
	"slices"
	"strconv"
	"strings"

	"coilward/export/paper"
	"coilward/export/pdf"
	"coilward/model"
	"coilward/model/label"
	"coilward/model/people"
	"coilward/model/samples"
	"coilward/model/wording"
)

// sampling is what "print" was asked for of samples.
type sampling struct {
	tubes                     []string // numbers of kits, or ids; none: all that it can be about
	urgent, signs, treatments bool
}

// printSamples writes the form that goes with samples to the lab, or labels for their
// tubes.
func (p *program) printSamples(w printing, size paper.Size) (err error) {
	on := paper.Laying{}
	if w.paper == tubeLabels {
		if on.Sheet, err = sheetOf(w.sheet, label.Tubes); err != nil {
			return err
		}
		on.First, _ = strconv.Atoi(w.first) // what is no number is no label
		if r := on.Check(); r != nil {
			r.Value = w.first
			return r
		}
	}
	c, shut, err := p.read(w.folder)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, shut()) }()
	text := p.languages.In(w.language, wording.Units{})
	var d paper.Document
	var issued model.Moment
	var of []model.SampleID
	unread := 0
	err = c.View(func(v model.View) (err error) {
		issued = v.Now()
		if of, unread, err = w.tubes(v); err != nil {
			return err
		}
		if w.paper == tubeLabels {
			tubes, err := paper.GatherTubes(v, of)
			if err == nil {
				d, err = paper.TubesPaper(tubes, on, text, issued)
			}
			return err
		}
		all, err := people.All(v)
		if err != nil {
			return err
		}
		called, err := w.called(all, []people.Role{people.Vet, people.Hand, people.Lab})
		if err != nil {
			return err
		}
		var asked []model.PersonID
		for _, one := range called {
			asked = append(asked, one.ID)
		}
		form, err := paper.GatherLab(v, of, asked...)
		if err != nil {
			return err
		}
		if i := slices.IndexFunc(called, func(one people.Stored) bool { return one.Is(people.Vet) }); i >= 0 {
			form.Vet = called[i].Person
		}
		form.Keeper.Name = w.keeper
		if i := slices.IndexFunc(called, func(one people.Stored) bool { return strings.EqualFold(one.Name, w.keeper) }); i >= 0 {
			form.Keeper = called[i].Person
		}
		form.Urgent, form.Signs, form.Treatments = w.of.urgent, w.of.signs, w.of.treatments
		d = paper.LabForm(form, p.tables, text, size)
		return nil
	})
	if err != nil {
		return err
	}
	if err := pdf.WriteFile(w.out, d.By(version()), issued.Time()); err != nil {
		return refuseFile(w.out, "ctl.file.unwritable", err)
	}
	done := "ctl.print.lab-form"
	if w.paper == tubeLabels {
		done = "ctl.print.tube-labels"
	}
	p.counted(done, len(of), gaps{"File": w.out})
	if unread > 0 {
		p.counted("ctl.print.unread", unread, nil)
	}
	return nil
}

// tubes are the samples that were asked for; without any, those that are taken and
// have not left, and for labels also those that are to be taken; unread is how many
// might be among them and cannot be read.
func (w printing) tubes(v model.View) (of []model.SampleID, unread int, err error) {
	all, illegible, err := samples.Legible(v)
	if err != nil {
		return nil, 0, err
	}
	for _, number := range w.of.tubes {
		i := slices.IndexFunc(all, func(s samples.Stored) bool { return strings.EqualFold(s.Kit.Number, number) || s.ID.String() == number })
		if i < 0 {
			return nil, 0, refuse("ctl.tube", number, "ctl.tube.unknown")
		}
		if !slices.Contains(of, all[i].ID) {
			of = append(of, all[i].ID)
		}
	}
	if len(w.of.tubes) > 0 {
		return of, 0, nil
	}
	for _, s := range all {
		if stage := s.Stage(); stage.Before(samples.Sent) && !s.Ahead(v.Now().Day()) && (stage != samples.ToTake || w.paper == tubeLabels) {
			of = append(of, s.ID)
		}
	}
	if len(of) == 0 {
		return nil, 0, refuse("ctl.tube", "", "ctl.tube.none")
	}
	return of, len(illegible), nil
}
