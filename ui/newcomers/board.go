package newcomers

import (
	"cmp"
	"errors"
	"slices"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/exam"
	"coilward/model/husbandry"
	"coilward/model/knowledge"
	"coilward/model/newcomers"
	"coilward/model/positives"
	"coilward/model/quarantine"
	"coilward/ui/particulars"
	"coilward/ui/place"
)

// Board is all that the place shows.
type Board struct {
	Today    model.Day
	Open     []newcomers.Newcomer
	Unread   []newcomers.Newcomer // of whom it cannot be told how they stand
	Released []Past               // the last first
	Offers   []quarantine.Offered
	Free     []animals.Stored // who are here and in no quarantine
	Places   []Room
	// Detected is what was detected in an animal and is not settled, whether or not a
	// positive was opened for it.
	Detected map[model.AnimalID][]positives.Trace
	// Gutless are the weights of arrivals of which it is not said what the gut held.
	Gutless map[model.ID]bool
	rests   map[model.ID]Rest
}

// Past is a quarantine that has ended.
type Past struct {
	Animal animals.Stored
	quarantine.Stored
}

// Room is an enclosure that a newcomer can be put in.
type Room struct {
	ID    model.PlaceID
	Title string
	Taken bool // somebody lives in it
}

// Rest is something that a line rests on.
type Rest struct {
	ID   model.ID
	Day  model.Day
	Kind string // the text is "kind." + kind
	To   place.Route
}

// Load reads the board.
func Load(v model.View, t *knowledge.Tables) (b Board, err error) {
	b.Today, b.rests = v.Now().Day(), map[model.ID]Rest{}
	open, err := newcomers.All(v, t)
	if err != nil {
		return b, err
	}
	for _, n := range open {
		if n.Err != nil {
			b.Unread = append(b.Unread, n)
			continue
		}
		b.Open = append(b.Open, n)
	}
	if b.Offers, err = quarantine.Offers(v, t); err != nil {
		return b, err
	}
	if err = b.readAnimals(v); err != nil {
		return b, err
	}
	found, err := positives.Unsettled(v, t)
	if err != nil {
		return b, err
	}
	b.Detected = map[model.AnimalID][]positives.Trace{}
	for _, one := range found {
		for _, a := range one.Animals {
			b.Detected[a] = append(b.Detected[a], one)
		}
	}
	house, err := husbandry.ReadHouse(v)
	if err != nil {
		return b, err
	}
	for _, p := range house.Places() {
		if _, closed := house.Closed(p.ID); p.Kind.Houses() && !closed {
			b.Places = append(b.Places, Room{p.ID, house.Title(p.ID), len(house.Living(p.ID, v.Now())) > 0})
		}
	}
	slices.SortStableFunc(b.Places, func(a, c Room) int {
		switch {
		case a.Taken == c.Taken:
			return 0
		case c.Taken:
			return -1
		}
		return 1
	})
	b.Gutless = map[model.ID]bool{}
	for _, n := range b.Open {
		for _, s := range n.Arriving() {
			if s.Kind != newcomers.ArriveWeigh || len(s.On) == 0 {
				continue
			}
			d, err := v.Document(s.On[0])
			if err != nil {
				return b, err
			}
			if e, known, err := care.Decode(d); err == nil && known {
				w, is := e.Body.(care.Weight)
				b.Gutless[d.ID] = is && w.Gut == care.GutUnknown
			}
		}
		for _, l := range n.Gate.Lines {
			if err = b.rest(v, n.Animal.ID, l.On); err != nil {
				return b, err
			}
		}
	}
	for _, p := range b.Released {
		for _, l := range p.Stored.Released.Lines {
			if err = b.rest(v, p.Animal.ID, l.On); err != nil {
				return b, err
			}
		}
	}
	return b, nil
}

// readAnimals reads who was released, and who could begin a quarantine.
func (b *Board) readAnimals(v model.View) error {
	all, err := animals.All(v)
	if err != nil {
		return err
	}
	stays, unread, err := quarantine.Legible(v)
	if err != nil {
		return err
	}
	for _, a := range all {
		open := slices.ContainsFunc(unread, func(q *quarantine.Illegible) bool { return q.Animal == a.ID }) // it may be
		for _, q := range stays {
			switch {
			case q.Animal != a.ID:
			case q.Open():
				open = true
			default:
				b.Released = append(b.Released, Past{a, q})
			}
		}
		if !open && a.Status.Here() {
			b.Free = append(b.Free, a)
		}
	}
	slices.SortStableFunc(b.Free, func(a, c animals.Stored) int { return model.Natural(animals.Fold(a.Name), animals.Fold(c.Name)) })
	slices.SortStableFunc(b.Released, func(a, c Past) int { return cmp.Compare(c.Stored.Released.At.UTC, a.Stored.Released.At.UTC) })
	return nil
}

// rest reads what some lines rest on; what was taken out since is left out.
func (b *Board) rest(v model.View, animal model.AnimalID, ids []model.ID) error {
	for _, id := range ids {
		if _, there := b.rests[id]; there {
			continue
		}
		d, err := v.Document(id)
		if err != nil {
			if errors.Is(err, model.ErrNotFound) {
				continue
			}
			return err
		}
		b.rests[id] = restOf(d, animal)
	}
	return nil
}

// restOf is what a document is called, and where it is opened.
func restOf(d model.Document, animal model.AnimalID) Rest {
	r := Rest{ID: d.ID, Day: d.At.Day(), Kind: d.Kind, To: place.Route{To: place.Animal, Subject: animal.ID, Page: d.ID.String()}}
	switch {
	case d.Type == model.TypeSample:
		r.Kind, r.To = "sample", place.Route{To: place.Tray, Subject: d.ID}
	case d.Type == model.TypePositive:
		r.Kind, r.To = "positive", place.Route{To: place.Positive, Subject: d.ID}
	case d.Type == model.TypeStay:
		r.Kind, r.To.Page = "stay", ""
	case d.Type != model.TypeEntry:
		r.Kind, r.To.Page = exam.KindCheck, "body"
	}
	return r
}

// On are what a line rests on, the earliest first.
func (b Board) On(ids []model.ID) []Rest {
	var all []Rest
	for _, id := range ids {
		if r, there := b.rests[id]; there {
			all = append(all, r)
		}
	}
	slices.SortStableFunc(all, func(a, c Rest) int { return cmp.Compare(a.Day, c.Day) })
	return all
}

// Of is the newcomer of that quarantine.
func (b Board) Of(id model.QuarantineID) (newcomers.Newcomer, bool) {
	i := slices.IndexFunc(b.Open, func(n newcomers.Newcomer) bool { return n.Quarantine.ID == id })
	if i < 0 {
		return newcomers.Newcomer{}, false
	}
	return b.Open[i], true
}

// First is the index of the newcomer that may leave first; −1: there is none with a
// day. One in which something was detected that is not settled leaves by no day.
func (b Board) First() int {
	first := -1
	for i, n := range b.Open {
		if !n.Gate.Undated() && len(b.Detected[n.Animal.ID]) == 0 && (first < 0 || n.Gate.Earliest < b.Open[first].Gate.Earliest) {
			first = i
		}
	}
	return first
}

// Span are the days that all bars show: from the first arrival to the last release,
// and somewhat more.
func (b Board) Span() (from, to model.Day) {
	from, to = b.Today-7, b.Today+30
	for _, n := range b.Open {
		from, to = min(from, n.Quarantine.Arrived.Day()), max(to, n.Gate.Earliest)
	}
	return from - 2, to + max(4, (to-from)/20)
}

// Way is where a step is done; a look for mites and the release are done here. A
// sample is asked for in the tray with what it is to be looked through for.
func Way(s quarantine.Step, animal model.AnimalID) (to place.Route, elsewhere bool) {
	to = place.Route{To: place.Animal, Subject: animal.ID}
	switch s.Kind {
	case quarantine.StepWeigh:
		to.Page = care.KindWeight
	case quarantine.StepSwab:
		to = particulars.Sampling{For: s.Agents}.Route(animal)
	case quarantine.StepFaecal:
		to = particulars.Sampling{Material: knowledge.Faeces, For: s.Agents}.Route(animal)
	case quarantine.StepCheck:
		to.To = place.Check
	default:
		return place.Route{}, false
	}
	return to, true
}

// ArriveWay is where a step of a newcomer's arrival is done; the look for mites is noted
// here. The first swab is asked for with all that its plan asks swabs for by then.
func ArriveWay(k newcomers.ArrivalKind, n newcomers.Newcomer, today model.Day) (to place.Route, elsewhere bool) {
	switch animal := n.Animal.ID; k {
	case newcomers.ArriveWeigh:
		return Way(quarantine.Step{Kind: quarantine.StepWeigh}, animal)
	case newcomers.ArriveCheck:
		return Way(quarantine.Step{Kind: quarantine.StepCheck}, animal)
	case newcomers.ArriveSwab:
		return Way(quarantine.With(n.Plan, quarantine.Step{Kind: quarantine.StepSwab, From: today}, today), animal)
	case newcomers.ArrivePhotos:
		return place.Route{To: place.Animal, Subject: animal.ID, Page: care.KindPhoto}, true
	}
	return place.Route{}, false
}
