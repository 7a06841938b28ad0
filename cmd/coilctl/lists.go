package main

import (
	"coilward/export/paper"
	"coilward/model"
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
	return p.printOf(w, func(v model.View, text *wording.Text) (printed, error) {
		if w.paper == stockOn {
			s, err := paper.GatherStock(v, p.tables, day)
			if err != nil {
				return printed{}, err
			}
			s.Version, s.Told = version(), w.private
			return printed{paper.StockPaper(s, text, size), v.Now(), "ctl.print.stock", gaps{"File": w.out, "Day": day}}, nil
		}
		list, err := paper.GatherCollection(v, p.tables)
		if err != nil {
			return printed{}, err
		}
		list.Version = version()
		return printed{paper.CollectionList(list, text, size), v.Now(), "ctl.print.collection", gaps{"File": w.out, "Count": len(list.Rows)}}, nil
	})
}

// printDoorSheet writes what hangs on the doors of rooms for the night.
func (p *program) printDoorSheet(w printing, size paper.Size) error {
	return p.printOf(w, func(v model.View, text *wording.Text) (printed, error) {
		in, err := findPlace(v, w.place)
		if err != nil {
			return printed{}, err
		}
		s, err := paper.GatherDoorSheet(v, p.tables, in)
		if err != nil {
			return printed{}, err
		}
		if len(s.Rooms) == 0 && w.place != "" {
			return printed{}, refuse("ctl.place", w.place, "ctl.place.nobody")
		}
		called, err := w.calledIn(v, paper.SitterRoles())
		if err != nil {
			return printed{}, err
		}
		return printed{paper.DoorSheetPaper(s, called, text, size), s.Issued, "ctl.print.door", gaps{"File": w.out, "Day": s.Issued.Day()}}, nil
	})
}
