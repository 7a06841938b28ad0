package husbandry

import (
	"coilward/model"
)

// House is all places and stays of a collection, read in one go, with the
// queries that the shelf, the due list and the traces ask. It does not change
// and may be read from any goroutine.
type House struct {
	places []StoredPlace // parents before what stands in them, in order
}

// ReadHouse reads the places, the stays and which animals are here still. The
// stay of an animal that was sold, given away, died or escaped ends on that day
// at the latest.
func ReadHouse(v model.View) (*House, error) { return nil, errUnwritten }

// Places are all places, closed ones too, each right before what stands in it,
// in their order: a walk through the house.
func (h *House) Places() []StoredPlace { return h.places }

// Place is the place of that id.
func (h *House) Place(id model.PlaceID) (StoredPlace, bool) { return StoredPlace{}, false }

// In are the places that stand right in a place (zero: in none), in order.
func (h *House) In(id model.PlaceID) []StoredPlace { return nil }

// Path is the place with all that it stands in, outermost first.
func (h *House) Path(id model.PlaceID) []StoredPlace { return nil }

// Title names a place with what it stands in, such as "Loft, shelf 2, box 3".
func (h *House) Title(id model.PlaceID) string { return "" }

// Zones are the temperatures of a place: its own, else those of the shelf or the
// rack that it stands in.
func (h *House) Zones(id model.PlaceID) Zones { return Zones{} }

// Where is the stay of an animal at a moment; ok is false where it was in no
// place.
func (h *House) Where(animal model.AnimalID, at model.Moment) (s StoredStay, ok bool) {
	return s, false
}

// Living are the animals that live in a place at a moment, those of all that
// stands in it included, in the order of Places.
func (h *House) Living(place model.PlaceID, at model.Moment) []model.AnimalID { return nil }

// Residents are the animals of every enclosure at a moment, by the place that
// they live in; of two in one place the one who came first is first.
func (h *House) Residents(at model.Moment) map[model.PlaceID][]model.AnimalID { return nil }

// Stays are all stays of an animal, oldest first.
func (h *House) Stays(animal model.AnimalID) []StoredStay { return nil }

// Lived are all stays in a place and in all that stands in it that touch the
// time from a moment to another (zero: from the beginning, to the end), oldest
// first.
func (h *House) Lived(place model.PlaceID, from, to model.Moment) []StoredStay { return nil }

// Span is the time from a moment to another; a zero From is the beginning, a
// zero To the end of time.
type Span struct{ From, To model.Moment }

// Doubtful are the spans in which an instrument's readings are doubtful: from
// the last good check before a failed one (from the beginning where there is
// none) to the next good check (to the end where there is none). The order of
// checks does not matter.
func Doubtful(checks []Checked) []Span { return nil }

// In reports whether a moment lies in one of the spans. A reading at the very
// moment of a good check does not; one of the same day does, where the order
// within the day is not known.
func In(spans []Span, at model.Moment) bool { return false }

// Due is when something is to be done again.
type Due struct {
	Last  model.Moment // zero: never done
	Every int          // days; 0: no interval is set, and nothing is due
	Next  model.Day    // only where Every is set
	// Source is the table's where the interval is the table's; empty where the
	// keeper set it.
	Source string
}

// Cleaned is one cleaning with its entry and header.
type Cleaned struct {
	Entry    model.EntryID
	Revision uint32
	At       model.Moment
	By       model.PersonID
	Places   []model.PlaceID
	Tools    []model.ToolID
	Cleaning
}
