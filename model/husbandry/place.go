package husbandry

import (
	"fmt"
	"slices"
	"strings"

	"coilward/model"
)

// Version is the newest form of each body of this package.
const Version = 1

// Place is the body of a place's document. Only the name and the kind must be
// given; every other zero value means "not known".
type Place struct {
	Name string    `json:"name"`
	Kind PlaceKind `json:"kind"`
	// Parent is the place that it stands in; zero for one that stands in none.
	Parent model.PlaceID `json:"in,omitzero"`
	// Order is its position among the places in the same parent: the lowest
	// first, left before right and top before bottom. The commands keep it.
	Order int    `json:"order"`
	Code  string `json:"code,omitempty"` // what its label says
	Size  Size   `json:"size,omitzero"`
	Zones Zones  `json:"zones,omitzero"`
	// CleanEvery is how many days a full clean may lie back, 0: as the place it
	// stands in, at last as the table has it for its kind.
	CleanEvery int    `json:"cleanEvery,omitempty"`
	Note       string `json:"note,omitempty"`
	// Closed is since when the place is no longer used; its records stay.
	Closed model.Date `json:"closed,omitzero"`
}

// PlaceKind is what a place is. Values are frozen; the text is
// "husbandry.place-kind." + value.
type PlaceKind string

// The kinds of place, outermost first.
const (
	Room      PlaceKind = "room"
	Rack      PlaceKind = "rack"
	Shelf     PlaceKind = "shelf"
	Tub       PlaceKind = "tub"
	Vivarium  PlaceKind = "vivarium"
	Enclosure PlaceKind = "enclosure" // of another sort
)

// PlaceKinds are the kinds in the order in which they are offered.
func PlaceKinds() []PlaceKind { return []PlaceKind{Room, Rack, Shelf, Tub, Vivarium, Enclosure} }

// Houses reports whether animals live in places of this kind.
func (k PlaceKind) Houses() bool { return k == Tub || k == Vivarium || k == Enclosure }

// rank tells what may stand in what: a place stands only in one of a lower rank.
func (k PlaceKind) rank() int {
	return min(slices.Index(PlaceKinds(), k), slices.Index(PlaceKinds(), Tub))
}

// Size is the inner size of an enclosure; a zero length is not known.
type Size struct {
	Width  model.Length `json:"width,omitzero"` // left to right
	Depth  model.Length `json:"depth,omitzero"` // front to back
	Height model.Length `json:"height,omitzero"`
}

// Zones are the temperatures that the keeper set for the ends of an enclosure,
// as typed; zero is not known.
type Zones struct {
	Warm model.Temperature `json:"warm,omitzero"`
	Cool model.Temperature `json:"cool,omitzero"`
}

// Coolest is the temperature of the coolest zone; ok is false where the cool
// end is not known.
func (z Zones) Coolest() (t model.Temperature, ok bool) {
	switch {
	case z.Cool == model.Temperature{}:
		return t, false
	case z.Warm != model.Temperature{} && z.Warm.Hundredths < z.Cool.Hundredths:
		return z.Warm, true
	}
	return z.Cool, true
}

// StoredPlace is a place with the document's id and revision.
type StoredPlace struct {
	ID       model.PlaceID
	Revision uint32
	Since    model.Moment // when it was added
	Place
}

// DecodePlace reads a place's document.
func DecodePlace(d model.Document) (StoredPlace, error) {
	s := StoredPlace{ID: model.PlaceID{ID: d.ID}, Revision: d.Revision, Since: d.At}
	if d.Type != model.TypePlace {
		return s, fmt.Errorf("read place %s: the document is of type %s", d.ID, d.Type)
	}
	return s, d.Decode(Version, &s.Place)
}

// Branch is a place with all that stands in it, to be added at once. The
// parents and orders of its places are set by the command.
type Branch struct {
	Place Place
	Below []Branch
}

// The longest that an enclosure may be, 20 m in tenths of a millimetre, the
// range of a zone in hundredths of a degree Celsius and the most days of an
// interval: wider than any that is in use (assumed).
const (
	MaxSize    = 200_000
	ColdestEnd = 500
	WarmestEnd = 6_000
	MaxEvery   = 3_650
)

// Check tells what of the place cannot stand on the given day, wherever it
// stands; nil if nothing.
func (p Place) Check(today model.Day) *model.Refusal {
	for _, r := range []*model.Refusal{
		checkName("place-name", p.Name), checkChoice("place-kind", p.Kind, PlaceKinds()), model.CheckLine("place-code", p.Code, MaxName),
		model.CheckText("note", p.Note, MaxNote), p.Size.check(), p.Zones.check(), checkEvery("clean-every", p.CleanEvery), checkPast("closed", p.Closed, today),
	} {
		if r != nil {
			return r
		}
	}
	if strings.Trim(p.Name, ".… ") == "" {
		return mend("place-name", p.Name, "house.dots", nil)
	}
	return nil
}

func (s Size) check() *model.Refusal {
	for _, side := range []struct {
		field  string
		length model.Length
	}{{"width", s.Width}, {"depth", s.Depth}, {"height", s.Height}} {
		if side.length.Tenths < 0 || side.length.Tenths > MaxSize {
			return mend(side.field, side.length.Typed, "length.range", map[string]model.Gap{"Most": model.LengthGap(model.Length{Tenths: MaxSize})})
		}
	}
	return nil
}

func (z Zones) check() *model.Refusal {
	for _, end := range []struct {
		field string
		model.Temperature
	}{{"warm-end", z.Warm}, {"cool-end", z.Cool}} {
		if end.Temperature != (model.Temperature{}) && (end.Hundredths < ColdestEnd || end.Hundredths > WarmestEnd) {
			return mend(end.field, end.Typed, "zone.range", nil)
		}
	}
	if z.Warm != (model.Temperature{}) && z.Cool.Hundredths > z.Warm.Hundredths {
		return mend("cool-end", z.Cool.Typed, "zone.turned", map[string]model.Gap{"Warm": model.TextGap(z.Warm.Typed)})
	}
	return nil
}

func checkEvery(field string, days int) *model.Refusal {
	if days < 0 || days > MaxEvery {
		return mend(field, "", "every.range", map[string]model.Gap{"Given": model.CountGap(days), "Most": model.CountGap(MaxEvery)})
	}
	return nil
}
