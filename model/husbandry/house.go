package husbandry

import (
	"errors"
	"fmt"
	"slices"

	"coilward/model"
)

// House is all places and stays of a collection, read in one go, with the
// queries that the shelf, the due list and the traces ask. It does not change
// and may be read from any goroutine.
type House struct {
	tree    *tree
	animals map[model.AnimalID][]StoredStay // oldest first
	lived   map[model.PlaceID][]StoredStay  // oldest first
	came    map[model.AnimalID]model.Date   // from elsewhere, as far as it is known
	// quarantined are those that were ever in quarantine, and whether they are now.
	quarantined map[model.AnimalID]bool
	past        map[model.PlaceID][]version // of places that were ever changed, oldest first
}

// ReadHouse reads the places, the stays and which animals are here still: the
// stay of one that was sold, given away, died or escaped ends then at the latest
// (Until).
func ReadHouse(v model.View) (*House, error) {
	t, err := readTree(v)
	if err != nil {
		return nil, err
	}
	residents, err := readResidents(v)
	if err != nil {
		return nil, err
	}
	h := &House{tree: t, animals: map[model.AnimalID][]StoredStay{}, lived: map[model.PlaceID][]StoredStay{}, came: map[model.AnimalID]model.Date{}, past: map[model.PlaceID][]version{}}
	if h.quarantined, err = readQuarantines(v); err != nil {
		return nil, err
	}
	for _, p := range t.walk {
		if err := h.readPast(v, p); err != nil {
			return nil, err
		}
	}
	for id, r := range residents {
		h.admit(id, r)
	}
	var failed error
	err = v.All(model.TypeStay, func(d model.Document) bool {
		var s StoredStay
		if s, failed = DecodeStay(d); failed == nil {
			if of, here := residents[s.Animal]; here {
				h.take(of.ended(s))
			}
		}
		return failed == nil
	})
	if err == nil {
		err = failed
	}
	if err != nil {
		return nil, fmt.Errorf("read the stays: %w", err)
	}
	h.sort()
	return h, nil
}

// ReadHouseOf reads the stays of one animal alone, and of the places only those
// that it lived in, with what they stand in.
func ReadHouseOf(v model.View, animal model.AnimalID) (*House, error) {
	l := newLedger(v, nil)
	of, err := l.resident(animal)
	if err != nil {
		return nil, err
	}
	stays, err := l.of(animal)
	if err != nil {
		return nil, err
	}
	h := &House{animals: map[model.AnimalID][]StoredStay{}, lived: map[model.PlaceID][]StoredStay{}, past: map[model.PlaceID][]version{}}
	var places []StoredPlace
	for _, s := range stays {
		h.take(of.ended(s))
		if places, err = climb(v, s.Place, places); err != nil {
			return nil, err
		}
	}
	for read := 0; read < len(places); read++ {
		if err := h.readPast(v, places[read]); err != nil {
			return nil, err
		}
		for _, was := range h.past[places[read].ID] { // it may have stood elsewhere
			if places, err = climb(v, was.parent, places); err != nil {
				return nil, err
			}
		}
	}
	h.tree = newTree(places)
	return h, nil
}

// climb adds a place and all that it stands in to those that are known; what is
// not there any more is left out.
func climb(v model.View, id model.PlaceID, known []StoredPlace) ([]StoredPlace, error) {
	for !id.IsZero() && !slices.ContainsFunc(known, func(p StoredPlace) bool { return p.ID == id }) {
		d, err := v.Document(id.ID)
		if errors.Is(err, model.ErrNotFound) {
			break
		}
		if err != nil {
			return nil, fmt.Errorf("read place %s: %w", id, err)
		}
		p, err := DecodePlace(d)
		if err != nil {
			return nil, err
		}
		known, id = append(known, p), p.Parent
	}
	return known, nil
}

func readResidents(v model.View) (map[model.AnimalID]resident, error) {
	all := map[model.AnimalID]resident{}
	var failed error
	err := v.All(model.TypeAnimal, func(d model.Document) bool {
		all[model.AnimalID{ID: d.ID}], failed = decodeResident(d)
		return failed == nil
	})
	if err == nil {
		err = failed
	}
	if err != nil {
		return nil, fmt.Errorf("read who is here: %w", err)
	}
	return all, nil
}

func (h *House) take(s StoredStay) {
	h.animals[s.Animal] = append(h.animals[s.Animal], s)
	h.lived[s.Place] = append(h.lived[s.Place], s)
}

func (h *House) sort() {
	for _, stays := range h.animals {
		slices.SortStableFunc(stays, byTime)
	}
	for _, stays := range h.lived {
		slices.SortStableFunc(stays, byTime)
	}
}

// Places are all places, closed ones too, each right before what stands in it,
// in their order: a walk through the house.
func (h *House) Places() []StoredPlace { return h.tree.walk }

// Place is the place of that id.
func (h *House) Place(id model.PlaceID) (StoredPlace, bool) { return h.tree.place(id) }

// In are the places that stand right in a place (zero: in none), in order.
func (h *House) In(id model.PlaceID) []StoredPlace { return h.tree.in[id] }

// Path is the place with all that it stands in, outermost first.
func (h *House) Path(id model.PlaceID) []StoredPlace { return h.tree.path(id) }

// Room is the room that a place stands in, or where it stands in none what is
// outermost: what one there carries reaches all in it.
func (h *House) Room(id model.PlaceID) model.PlaceID {
	path := h.Path(id)
	if len(path) == 0 {
		return id
	}
	for _, p := range path {
		if p.Kind == Room {
			return p.ID
		}
	}
	return path[0].ID
}

// Title names a place with what it stands in, such as "Loft, shelf 2, box 3".
func (h *House) Title(id model.PlaceID) string { return h.tree.title(id) }

// Closed is the day from which a place, or one that it stands in, is no longer
// used; ok is false while all of them are.
func (h *House) Closed(id model.PlaceID) (model.Day, bool) { return h.tree.closed(id) }

// Zones are the temperatures of a place: its own, else those of the shelf or the
// rack that it stands in.
func (h *House) Zones(id model.PlaceID) Zones { return h.tree.zones(id) }

// Where is the stay of an animal at a moment; ok is false where it was in no
// place. Where two are in question, because the order within a day is not known,
// it is the later one.
func (h *House) Where(animal model.AnimalID, at model.Moment) (s StoredStay, ok bool) {
	for _, s := range slices.Backward(h.animals[animal]) {
		if s.until().covers(at) {
			return s, true
		}
	}
	return s, false
}

// Living are the animals that live in a place at a moment, those of all that
// stands in it included, in the order of Places; of two in one place the one who
// came first is first.
func (h *House) Living(place model.PlaceID, at model.Moment) []model.AnimalID {
	var all []model.AnimalID
	for _, p := range h.tree.branch(place) {
		all = append(all, h.residents(p.ID, at)...)
	}
	return all
}

// Residents are the animals of every enclosure at a moment, by the place that
// they live in; of two in one place the one who came first is first.
func (h *House) Residents(at model.Moment) map[model.PlaceID][]model.AnimalID {
	all := map[model.PlaceID][]model.AnimalID{}
	for id := range h.lived {
		if here := h.residents(id, at); len(here) > 0 {
			all[id] = here
		}
	}
	return all
}

func (h *House) residents(place model.PlaceID, at model.Moment) []model.AnimalID {
	var here []model.AnimalID
	for _, s := range h.lived[place] {
		if now, ok := h.Where(s.Animal, at); ok && now.ID == s.ID {
			here = append(here, s.Animal)
		}
	}
	return here
}

// Stays are all stays of an animal, oldest first.
func (h *House) Stays(animal model.AnimalID) []StoredStay { return h.animals[animal] }

// Lived are all stays in a place and in all that stands in it that touch the
// time from a moment to another (zero: from the beginning, to the end), oldest
// first. A stay that ends on the day on which the time begins touches it.
func (h *House) Lived(place model.PlaceID, from, to model.Moment) []StoredStay {
	var all []StoredStay
	for _, p := range h.tree.branch(place) {
		for _, s := range h.lived[p.ID] {
			early := !from.IsZero() && !s.open() && Before(s.Until, from)
			late := !to.IsZero() && Before(to, s.From)
			if !early && !late {
				all = append(all, s)
			}
		}
	}
	slices.SortStableFunc(all, byTime)
	return all
}
