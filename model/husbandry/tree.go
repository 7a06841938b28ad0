package husbandry

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"coilward/model"
)

// tree is all places of a collection as they stand in each other.
type tree struct {
	walk []StoredPlace // each right before what stands in it
	at   map[model.PlaceID]int
	in   map[model.PlaceID][]StoredPlace // in order
}

// readTree reads all places.
func readTree(v model.View) (*tree, error) {
	var all []StoredPlace
	var failed error
	err := v.All(model.TypePlace, func(d model.Document) bool {
		var s StoredPlace
		if s, failed = DecodePlace(d); failed == nil {
			all = append(all, s)
		}
		return failed == nil
	})
	if err == nil {
		err = failed
	}
	if err != nil {
		return nil, fmt.Errorf("read the places: %w", err)
	}
	return newTree(all), nil
}

// newTree arranges places. One whose parent is not there stands in none, and so
// does one of a ring, which taking back an old change may leave behind.
func newTree(all []StoredPlace) *tree {
	t := &tree{at: map[model.PlaceID]int{}, in: map[model.PlaceID][]StoredPlace{}}
	there := map[model.PlaceID]bool{}
	for _, p := range all {
		there[p.ID] = true
	}
	for _, p := range all {
		if !there[p.Parent] {
			p.Parent = model.PlaceID{}
		}
		t.in[p.Parent] = append(t.in[p.Parent], p)
	}
	for _, places := range t.in {
		slices.SortStableFunc(places, byOrder)
	}
	t.visit(model.PlaceID{})
	slices.SortStableFunc(all, byOrder)
	for _, p := range all {
		if _, seen := t.at[p.ID]; !seen {
			t.in[p.Parent] = slices.DeleteFunc(t.in[p.Parent], func(q StoredPlace) bool { return q.ID == p.ID })
			p.Parent = model.PlaceID{}
			t.in[p.Parent] = append(t.in[p.Parent], p)
			t.add(p)
		}
	}
	return t
}

func byOrder(a, b StoredPlace) int {
	return cmp.Or(cmp.Compare(a.Order, b.Order), slices.Compare(a.ID.ID[:], b.ID.ID[:]))
}

func (t *tree) visit(parent model.PlaceID) {
	for _, p := range t.in[parent] {
		t.add(p)
	}
}

func (t *tree) add(p StoredPlace) {
	t.at[p.ID] = len(t.walk)
	t.walk = append(t.walk, p)
	t.visit(p.ID)
}

func (t *tree) place(id model.PlaceID) (StoredPlace, bool) {
	at, ok := t.at[id]
	if !ok {
		return StoredPlace{}, false
	}
	return t.walk[at], true
}

// path is the place with all that it stands in, outermost first.
func (t *tree) path(id model.PlaceID) []StoredPlace {
	var found []StoredPlace
	for p, ok := t.place(id); ok; p, ok = t.place(p.Parent) {
		found = append(found, p)
	}
	slices.Reverse(found)
	return found
}

func (t *tree) title(id model.PlaceID) string {
	var names []string
	for _, p := range t.path(id) {
		names = append(names, p.Name)
	}
	return strings.Join(names, ", ")
}

// branch is the place with all that stands in it.
func (t *tree) branch(id model.PlaceID) []StoredPlace {
	p, ok := t.place(id)
	if !ok {
		return nil
	}
	found := []StoredPlace{p}
	for _, below := range t.in[id] {
		found = append(found, t.branch(below.ID)...)
	}
	return found
}

// holds reports whether inner is outer or stands in it.
func (t *tree) holds(outer, inner model.PlaceID) bool {
	return slices.ContainsFunc(t.path(inner), func(p StoredPlace) bool { return p.ID == outer })
}

// zones are the temperatures of a place: its own, else those of the shelf or
// rack that it stands in. What is typed on a room says nothing of a box.
func (t *tree) zones(id model.PlaceID) Zones {
	path := t.path(id)
	for i := len(path) - 1; i >= 0; i-- {
		if own := i == len(path)-1; (own || path[i].Kind != Room) && path[i].Zones != (Zones{}) {
			return path[i].Zones
		}
	}
	return Zones{}
}

// closed is the day from which the place, or one that it stands in, is no longer
// used; ok is false while all of them are.
func (t *tree) closed(id model.PlaceID) (day model.Day, ok bool) {
	for _, p := range t.path(id) {
		if !p.Closed.IsZero() && (!ok || p.Closed.Day < day) {
			day, ok = p.Closed.Day, true
		}
	}
	return day, ok
}

// stands tells why a place cannot stand where it is said to, or nil. self is
// zero for a new place.
func (t *tree) stands(self model.PlaceID, p Place) *model.Refusal {
	if p.Parent.IsZero() {
		return t.alone(self, p)
	}
	parent, ok := t.place(p.Parent)
	gaps := map[string]model.Gap{"Place": model.TextGap(p.Name), "In": model.TextGap(t.title(p.Parent)),
		"Kind": model.KeyGap("husbandry.place-kind." + string(p.Kind)), "InKind": model.KeyGap("husbandry.place-kind." + string(parent.Kind))}
	switch {
	case !ok:
		return mend("place-in", "", "house.gone", nil)
	case !self.IsZero() && t.holds(self, p.Parent):
		return mend("place-in", parent.Name, "house.loop", gaps)
	case p.Kind.rank() <= parent.Kind.rank():
		return mend("place-in", parent.Name, "house.nesting", gaps)
	case p.Closed.IsZero() && !parent.Closed.IsZero():
		return mend("place-in", parent.Name, "house.in-closed", gaps)
	}
	return t.alone(self, p)
}

// alone wants the name to be the only one in the same place, and the code to be
// the only one of all. Closed places keep theirs to themselves.
func (t *tree) alone(self model.PlaceID, p Place) *model.Refusal {
	if !p.Closed.IsZero() {
		return nil
	}
	used := func(other StoredPlace) bool { return other.ID != self && other.Closed.IsZero() }
	taken := func(other StoredPlace) map[string]model.Gap {
		return map[string]model.Gap{"Other": model.TextGap(t.title(other.ID))}
	}
	for _, other := range t.in[p.Parent] {
		if used(other) && strings.EqualFold(other.Name, p.Name) {
			return mend("place-name", p.Name, "house.twice", taken(other))
		}
	}
	if p.Code == "" {
		return nil
	}
	for _, other := range t.walk {
		if used(other) && strings.EqualFold(other.Code, p.Code) {
			return mend("place-code", p.Code, "house.code-twice", taken(other))
		}
	}
	return nil
}

// with is the tree with one place more, or another in the stead of one.
func (t *tree) with(p StoredPlace) *tree {
	all := slices.DeleteFunc(slices.Clone(t.walk), func(q StoredPlace) bool { return q.ID == p.ID })
	return newTree(append(all, p))
}

// last is the order of a place that stands after all others in a place.
func (t *tree) last(parent model.PlaceID) int {
	next := 0
	for _, p := range t.in[parent] {
		next = max(next, p.Order+1)
	}
	return next
}
