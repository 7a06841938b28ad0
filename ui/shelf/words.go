package shelf

import (
	"strings"

	"coilward/model"
	"coilward/model/care"
	"coilward/model/due"
	"coilward/model/knowledge"
	"coilward/model/round"
	"coilward/model/wording"
	"coilward/ui/widgets/coil"
	"coilward/ui/widgets/shelfview"
)

// words puts the house into what the view shows.
type words struct {
	text    *wording.Text
	house   *House
	walk    *Walk
	through *through
	stops   map[model.ID][]int // of the walk, by animal, or by box where it asks about boxes
}

// viewWords are those that the view says itself.
func viewWords(t *wording.Text) shelfview.Words {
	w := shelfview.Words{Empty: t.Say("shelf.empty-box"),
		Above: func(n int) string { return t.Count("shelf.above", n) },
		Below: func(n int) string { return t.Count("shelf.below", n) }}
	for i, c := range round.Classes() {
		w.Class[i] = className(t, c)
	}
	return w
}

func className(t *wording.Text, c round.Class) string { return t.Say("round.class." + c.String()) }

// rows are the rows as the view shows them. At rest each shelf ends with the
// place where a box is added.
func (w words) rows(rows []Row, adds bool) []shelfview.Row {
	if w.walk != nil {
		w.stops = map[model.ID][]int{}
		for i, s := range w.walk.Stops {
			w.stops[s.about()] = append(w.stops[s.about()], i)
		}
	}
	out := make([]shelfview.Row, 0, len(rows))
	for _, row := range rows {
		shown := shelfview.Row{Room: w.house.RoomName(row), Name: row.Name}
		if row.Loose {
			shown.Room = w.text.Say("shelf.loose")
		}
		for _, box := range row.Boxes {
			shown.Boxes = append(shown.Boxes, w.box(box, row.Loose))
		}
		if adds && !row.Loose && w.walk == nil {
			shown.Boxes = append(shown.Boxes, shelfview.Box{Adds: true, Note: w.text.Say("shelf.add-box"), Tip: w.text.Say("shelf.add-box")})
		}
		out = append(out, shown)
	}
	return out
}

func (w words) box(b Box, loose bool) shelfview.Box {
	box := shelfview.Box{Name: b.Place.Name, Loose: loose, Width: centimetres(b.Place.Size.Width)}
	for _, a := range b.Animals {
		box.Dwellers = append(box.Dwellers, shelfview.Dweller{Name: a.Name, Coat: coil.Coat{Ground: a.Coat.Ground, Markings: a.Coat.Markings}})
		for _, c := range a.Classes {
			box.Counts(shelfview.Class(c))
		}
		box.Due = append(box.Due, w.due(a.Due)...)
	}
	box.Due = append(box.Due, w.due(b.Due)...)
	box.Due = once(box.Due)
	if wanted, _ := round.Clean.Wants(b.Due); wanted {
		box.Dirty = box.Empty()
	}
	switch len(b.Animals) {
	case 0:
	case 1:
		box.Note = w.mass(b.Animals[0])
	default:
		box.Note = w.text.Count("shelf.animals", len(b.Animals))
	}
	if b.Zones.Warm != (model.Temperature{}) {
		box.Corner = w.text.Temperature(b.Zones.Warm)
	}
	box.Tip = w.tip(b, box)
	if w.walk != nil {
		w.mark(&box, b)
	}
	return box
}

// centimetres is the width of a box for the picture; 0 where it is not known.
func centimetres(l model.Length) int { return int((l.Tenths + 50) / 100) }

func (w words) mass(a *Animal) string {
	if len(a.Weights) == 0 {
		return w.text.Say("shelf.unweighed")
	}
	return w.text.Mass(a.Weights[0].Mass)
}

// tip is what stands under the pointer: the box, who lives in it, as what they
// count, what is due.
func (w words) tip(b Box, box shelfview.Box) string {
	var parts []string
	for _, a := range b.Animals {
		part := a.Name
		for _, c := range a.Classes {
			part += ", " + className(w.text, c)
		}
		parts = append(parts, part)
	}
	if b.Place.Name != "" {
		parts = append([]string{b.Place.Name}, parts...)
	}
	for _, d := range box.Due {
		parts = append(parts, d.Word)
	}
	return strings.Join(parts, " · ")
}

func (w words) due(items []due.Item) (all []shelfview.Due) {
	for _, item := range items {
		d := shelfview.Due{Sign: signOf(item.Job), Word: w.text.Say("shelf.due." + string(item.Job)), Late: item.State.Overdue()}
		switch {
		case item.Level >= knowledge.EmergencyToday:
			d.Word, d.Short, d.Urgent = w.text.Say("shelf.due.emergency"), w.text.Say("shelf.due.emergency-short"), shelfview.Emergency
		case item.Level >= knowledge.VetWithinDays:
			d.Short, d.Urgent = w.text.Say("shelf.due.vet-short"), shelfview.ForVet
		}
		all = append(all, d)
	}
	return all
}

// once keeps one of each job, late if any is.
func once(all []shelfview.Due) (kept []shelfview.Due) {
	for _, d := range all {
		known := false
		for i := range kept {
			if kept[i].Word == d.Word && kept[i].Urgent == d.Urgent {
				kept[i].Late, known = kept[i].Late || d.Late, true
			}
		}
		if !known {
			kept = append(kept, d)
		}
	}
	return kept
}

func signOf(j due.Job) shelfview.Sign {
	switch j {
	case due.Offer:
		return shelfview.SignFeed
	case due.Weigh:
		return shelfview.SignWeigh
	case due.Check:
		return shelfview.SignCheck
	case due.LookAgain:
		return shelfview.SignLook
	case due.ColdLook:
		return shelfview.SignWarmth
	case due.ShedLook:
		return shelfview.SignShed
	case due.SeeVet:
		return shelfview.SignVet
	case due.Clean:
		return shelfview.SignClean
	case due.MiteLook:
		return shelfview.SignMites
	case due.TakeSample:
		return shelfview.SignSwab
	case due.GiveDose:
		return shelfview.SignDose
	case due.CourseWord:
		return shelfview.SignNote
	case due.VetVisit:
		return shelfview.SignDay
	case due.PostSample:
		return shelfview.SignPost
	case due.AskLab:
		return shelfview.SignPhone
	case due.Positive:
		return shelfview.SignFound
	case due.Release:
		return shelfview.SignRelease
	case due.Clothes:
		return shelfview.SignClothes
	case due.ChangeLamp:
		return shelfview.SignLamp
	case due.CheckInstrument:
		return shelfview.SignGauge
	case due.RoomLook:
		return shelfview.SignRoom
	case due.BatchLook:
		return shelfview.SignFreezer
	case due.TakePhotos:
		return shelfview.SignPhotos
	}
	return shelfview.SignOther
}

// mark says how a box stands in the walk: as its stop that is furthest from
// done.
func (w words) mark(box *shelfview.Box, b Box) {
	box.Due, box.Corner = nil, ""
	box.State, box.Word = shelfview.Resting, w.text.Say("shelf.walk.not-due")
	if box.Empty() && w.walk.Job != round.Clean {
		return
	}
	rank := -1
	see := func(id model.ID) {
		for _, i := range w.stops[id] {
			state, word := w.stop(i)
			if w.walk.Job == round.Through {
				box.Station = i + 1
			}
			if r := [...]int{0, 5, 6, 1, 3, 2}[state]; r > rank {
				rank, box.State, box.Word = r, state, word
			}
		}
	}
	see(b.Place.ID.ID)
	for _, a := range b.Animals {
		see(a.ID.ID)
	}
}

// about is the animal or the box that a stop asks about.
func (s Stop) about() model.ID {
	if s.Animal.IsZero() {
		return s.Place.ID
	}
	return s.Animal.ID
}

// holds reports whether a stop is at this box.
func (b Box) holds(s Stop) bool {
	if s.Animal.IsZero() {
		return s.Place == b.Place.ID
	}
	for _, a := range b.Animals {
		if a.ID == s.Animal {
			return true
		}
	}
	return false
}

// stop is how a stop stands, and the word for it.
func (w words) stop(i int) (shelfview.State, string) {
	a, t := w.walk.Of(i), w.text
	switch a.Mark {
	case Skipped:
		return shelfview.Passed, t.Say("shelf.walk.skipped")
	case Open:
		if w.walk.Job == round.Through {
			return shelfview.ToDo, w.served(i)
		}
		if w.walk.Stops[i].Late {
			return shelfview.Overdue, t.Say("shelf.walk.late")
		}
		return shelfview.ToDo, t.Say("shelf.walk.to-do")
	}
	state := shelfview.Good
	switch {
	case a.Mark == Against && w.walk.Job == round.Swab: // which is as good an answer
		state = shelfview.Passed
	case a.Mark == Against:
		state = shelfview.Bad
	}
	return state, w.outcome(a)
}

// served is the place of a box in the order of a round, and as what it counts where that
// is more than resident.
func (w words) served(i int) string {
	number := w.text.Number(int64(i + 1))
	if c := w.through.class(i); c != round.Resident {
		return number + " · " + className(w.text, c)
	}
	return number
}

// outcome is what was noted, in a word.
func (w words) outcome(a Answer) string {
	t := w.text
	switch w.walk.Job {
	case round.Weigh:
		return t.Mass(a.Mass)
	case round.Feed:
		if a.Mark == Against {
			return t.Say("care.outcome." + string(care.Refused))
		}
		return t.Say("care.outcome." + string(care.Took))
	case round.Mites:
		if a.Grade == care.NoMites {
			return t.Say("shelf.mites.none")
		}
		return t.Say("shelf.mites.grade", wording.Gaps{"Grade": int(a.Grade)})
	case round.Clean:
		return t.Say("shelf.walk.cleaned")
	case round.Swab:
		switch {
		case a.Mark == Against:
			return t.Say("shelf.swab.vet")
		case a.Number != "":
			return a.Number
		}
		return t.Say("shelf.swab.taken")
	}
	if w.walk.Job == round.Through {
		return t.Say("round.seen")
	}
	return t.Say("shelf.walk.checked")
}
