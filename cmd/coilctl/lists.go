package main

import (
	"errors"

	"coilward/export/paper"
	"coilward/export/pdf"
	"coilward/model"
	"coilward/model/people"
	"coilward/model/wording"
)

// printList writes the list of a collection, or the stock on a day.
func (p *program) printList(w printing, size paper.Size) (err error) {
	day := model.DayOf(p.now())
	if w.day != "" {
		if day, err = p.dayBehind(w.day); err != nil {
			return err
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
	done, said := "ctl.print.stock", gaps{"File": w.out, "Day": day}
	err = c.View(func(v model.View) error {
		issued = v.Now()
		if w.paper == stockOn {
			s, err := paper.GatherStock(v, p.tables, day)
			if err != nil {
				return err
			}
			s.Version, s.Told = version(), w.private
			d = paper.StockPaper(s, text, size)
			return nil
		}
		list, err := paper.GatherCollection(v, p.tables)
		if err != nil {
			return err
		}
		list.Version = version()
		d, done, said = paper.CollectionList(list, text, size), "ctl.print.collection", gaps{"File": w.out, "Count": len(list.Rows)}
		return nil
	})
	if err != nil {
		return err
	}
	if err := pdf.WriteFile(w.out, d.By(version()), issued.Time()); err != nil {
		return refuseFile(w.out, "ctl.file.unwritable", err)
	}
	p.line(done, said)
	return nil
}

// printDoorSheet writes what hangs on the doors of rooms for the night.
func (p *program) printDoorSheet(w printing, size paper.Size) (err error) {
	c, shut, err := p.read(w.folder)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, shut()) }()
	var s paper.DoorSheet
	var all []people.Stored
	err = c.View(func(v model.View) error {
		in, err := findPlace(v, w.place)
		if err != nil {
			return err
		}
		if all, err = people.All(v); err != nil {
			return err
		}
		s, err = paper.GatherDoorSheet(v, p.tables, in)
		return err
	})
	if err != nil {
		return err
	}
	if len(s.Rooms) == 0 && w.place != "" {
		return refuse("ctl.place", w.place, "ctl.place.nobody")
	}
	called, err := w.called(all, paper.SitterRoles())
	if err != nil {
		return err
	}
	d := paper.DoorSheetPaper(s, called, p.languages.In(w.language, wording.Units{}), size)
	if err := pdf.WriteFile(w.out, d.By(version()), s.Issued.Time()); err != nil {
		return refuseFile(w.out, "ctl.file.unwritable", err)
	}
	p.line("ctl.print.door", gaps{"File": w.out, "Day": s.Issued.Day()})
	return nil
}
