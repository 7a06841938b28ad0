package husbandry

import (
	"fmt"
	"slices"

	"coilward/model"
)

// MaxPlaces is the most places that one command adds.
const MaxPlaces = MaxShelves*(MaxBoxes+1) + 1

// AddPlaces adds places with all that stands in them: one place, or a whole
// rack laid out by RackOf. They stand after what is in Parent already (zero:
// in no place). The change lists their ids outermost first, in order.
type AddPlaces struct {
	Parent   model.PlaceID
	Branches []Branch
}

// Name is "husbandry.places.add".
func (AddPlaces) Name() string { return "husbandry.places.add" }

// Plan writes the places.
func (c AddPlaces) Plan(v model.View) (model.Writes, error) {
	t, err := readTree(v)
	if err != nil {
		return model.Writes{}, err
	}
	n := count(c.Branches)
	if n == 0 {
		return model.Writes{}, mend("place-name", "", "text.empty", nil)
	}
	if n > MaxPlaces {
		return model.Writes{}, mend("place-name", "", "house.many", map[string]model.Gap{"Given": model.CountGap(n), "Most": model.CountGap(MaxPlaces)})
	}
	add := adding{view: v, tree: t, names: map[string]bool{}, codes: map[string]bool{}}
	if err := add.branches(c.Parent, t.last(c.Parent), c.Branches); err != nil {
		return model.Writes{}, err
	}
	outer := add.places[0]
	gaps := map[string]model.Gap{"Place": model.TextGap(joined(t.title(c.Parent), outer.Name))}
	if n == 1 {
		return write(add.places, model.Label{Key: "husbandry.done.place-add", Gaps: gaps})
	}
	gaps["Count"] = model.CountGap(n - 1)
	return write(add.places, model.Label{Key: "husbandry.done.places-add", Gaps: gaps})
}

func count(branches []Branch) int {
	n := 0
	for _, b := range branches {
		n += 1 + count(b.Below)
	}
	return n
}

func joined(in, name string) string {
	if in == "" {
		return name
	}
	return in + ", " + name
}

// adding is what a command adds, one place after the other.
type adding struct {
	view   model.View
	tree   *tree
	places []StoredPlace
	names  map[string]bool // folded, behind the parent's id
	codes  map[string]bool
}

// branches adds places to a parent that is there already.
func (a *adding) branches(parent model.PlaceID, order int, all []Branch) error {
	for i, b := range all {
		p := tidyPlace(b.Place)
		p.Parent, p.Order = parent, order+i
		if err := first(p.Check(a.view.Now().Day()), a.tree.stands(model.PlaceID{}, p), a.twice(p)); err != nil {
			return err
		}
		if err := a.below(p, b.Below); err != nil {
			return err
		}
	}
	return nil
}

// below takes a place in with all that stands in it.
func (a *adding) below(p Place, all []Branch) error {
	s := StoredPlace{ID: model.PlaceID{ID: a.view.NewID()}, Since: a.view.Now(), Place: p}
	a.places = append(a.places, s)
	for i, b := range all {
		inner := tidyPlace(b.Place)
		inner.Parent, inner.Order = s.ID, i
		if err := first(inner.Check(a.view.Now().Day()), nests(inner, p), a.tree.alone(model.PlaceID{}, inner), a.twice(inner)); err != nil {
			return err
		}
		if err := a.below(inner, b.Below); err != nil {
			return err
		}
	}
	return nil
}

// twice refuses a name or code that the command itself gives a second time.
func (a *adding) twice(p Place) *model.Refusal {
	name, code := p.Parent.String()+fold(p.Name), fold(p.Code)
	switch {
	case a.names[name]:
		return mend("place-name", p.Name, "house.twice", map[string]model.Gap{"Other": model.TextGap(p.Name)})
	case code != "" && a.codes[code]:
		return mend("place-code", p.Code, "house.code-twice", map[string]model.Gap{"Other": model.TextGap(p.Name)})
	}
	a.names[name], a.codes[code] = true, true
	return nil
}

func nests(inner, outer Place) *model.Refusal {
	if inner.Kind.rank() > outer.Kind.rank() {
		return nil
	}
	return mend("place-in", outer.Name, "house.nesting", map[string]model.Gap{"Place": model.TextGap(inner.Name), "In": model.TextGap(outer.Name),
		"Kind": model.KeyGap("husbandry.place-kind." + string(inner.Kind)), "InKind": model.KeyGap("husbandry.place-kind." + string(outer.Kind))})
}

func tidyPlace(p Place) Place {
	p.Name, p.Code = tidy(p.Name), tidy(p.Code)
	return p
}

// ChangePlace replaces what is known of a place; Base is the revision that the
// change was made on. Parent and order stay as they are: MovePlace moves. A
// place is closed, or used again, by its Closed.
type ChangePlace struct {
	ID    model.PlaceID
	Base  uint32
	Place Place
}

// Name is "husbandry.place.change".
func (ChangePlace) Name() string { return "husbandry.place.change" }

// Plan writes the place anew.
func (c ChangePlace) Plan(v model.View) (model.Writes, error) {
	t, err := readTree(v)
	if err != nil {
		return model.Writes{}, err
	}
	before, ok := t.place(c.ID)
	if !ok {
		return model.Writes{}, fmt.Errorf("change place %s: %w", c.ID, model.ErrNotFound)
	}
	p := tidyPlace(c.Place)
	p.Parent, p.Order = before.Parent, before.Order
	if err := first(p.Check(v.Now().Day()), t.stands(c.ID, p)); err != nil {
		return model.Writes{}, err
	}
	for _, inner := range t.in[c.ID] {
		if r := nests(inner.Place, p); r != nil {
			return model.Writes{}, r
		}
	}
	l := newLedger(v, t)
	if !p.Kind.Houses() {
		if err := l.neverLived(c.ID); err != nil {
			return model.Writes{}, err
		}
	}
	if !p.Closed.IsZero() {
		if err := l.emptySince(c.ID, p.Closed.Day); err != nil {
			return model.Writes{}, err
		}
	}
	after := StoredPlace{ID: c.ID, Revision: c.Base, Since: before.Since, Place: p}
	return write([]StoredPlace{after}, model.Label{Key: "husbandry.done.place-change", Gaps: map[string]model.Gap{"Place": model.TextGap(t.with(after).title(c.ID))}})
}

// MovePlace puts a place, with all that stands in it, elsewhere: into Parent
// (zero: in no place), before the place Before (zero: after the last).
type MovePlace struct {
	ID     model.PlaceID
	Parent model.PlaceID
	Before model.PlaceID
}

// Name is "husbandry.place.move".
func (MovePlace) Name() string { return "husbandry.place.move" }

// Plan writes the place and the order of its new neighbours. Where nothing
// would change it writes nothing.
func (c MovePlace) Plan(v model.View) (model.Writes, error) {
	t, err := readTree(v)
	if err != nil {
		return model.Writes{}, err
	}
	moved, ok := t.place(c.ID)
	if !ok {
		return model.Writes{}, fmt.Errorf("move place %s: %w", c.ID, model.ErrNotFound)
	}
	from := moved.Parent
	moved.Parent = c.Parent
	if err := first(t.stands(c.ID, moved.Place)); err != nil {
		return model.Writes{}, err
	}
	row := slices.DeleteFunc(slices.Clone(t.in[c.Parent]), func(p StoredPlace) bool { return p.ID == c.ID })
	at := len(row)
	if !c.Before.IsZero() {
		at = slices.IndexFunc(row, func(p StoredPlace) bool { return p.ID == c.Before })
	}
	if at < 0 {
		return model.Writes{}, fmt.Errorf("move place %s before %s, which does not stand in %s: %w", c.ID, c.Before, c.Parent, model.ErrNotFound)
	}
	var changed []StoredPlace
	for i, p := range slices.Insert(row, at, moved) {
		if p.Order == i && (p.ID != c.ID || from == c.Parent) {
			continue
		}
		p.Order = i
		changed = append(changed, p)
	}
	gaps := map[string]model.Gap{"Place": model.TextGap(moved.Name), "In": model.TextGap(t.title(c.Parent))}
	switch {
	case from == c.Parent:
		return write(changed, model.Label{Key: "husbandry.done.place-order", Gaps: gaps})
	case c.Parent.IsZero():
		return write(changed, model.Label{Key: "husbandry.done.place-out", Gaps: gaps})
	}
	return write(changed, model.Label{Key: "husbandry.done.place-move", Gaps: gaps})
}

// RemovePlace takes a place out with all that stands in it. It is refused while
// an animal lives there. What has a history (stays, entries, tools, instruments)
// is kept as closed from today on; the rest is removed.
type RemovePlace struct{ ID model.PlaceID }

// Name is "husbandry.place.remove".
func (RemovePlace) Name() string { return "husbandry.place.remove" }

// Plan removes or closes the places.
func (c RemovePlace) Plan(v model.View) (model.Writes, error) {
	t, err := readTree(v)
	if err != nil {
		return model.Writes{}, err
	}
	if _, ok := t.place(c.ID); !ok {
		return model.Writes{}, fmt.Errorf("remove place %s: %w", c.ID, model.ErrNotFound)
	}
	today := model.Date{Day: v.Now().Day(), Precision: model.ToDay}
	if err := newLedger(v, t).emptySince(c.ID, today.Day); err != nil {
		return model.Writes{}, err
	}
	used, err := inUse(v)
	if err != nil {
		return model.Writes{}, err
	}
	w := model.Writes{Label: model.Label{Key: "husbandry.done.place-remove", Gaps: map[string]model.Gap{"Place": model.TextGap(t.title(c.ID))}}}
	branch := t.branch(c.ID)
	kept := map[model.PlaceID]bool{}
	for _, p := range slices.Backward(branch) { // what stands in it first
		past, err := hasPast(v, p.ID.Subject())
		if err != nil {
			return model.Writes{}, err
		}
		if !past && !used[p.ID] && !kept[p.ID] {
			w.Remove = append(w.Remove, p.ID.ID)
			continue
		}
		kept[p.Parent] = true
		if p.Closed.IsZero() {
			p.Closed = today
			d, err := p.document()
			if err != nil {
				return model.Writes{}, err
			}
			w.Put = append(w.Put, d)
		}
	}
	return w, nil
}

// hasPast reports whether anything is noted about a subject, or readings of it are kept.
func hasPast(v model.View, s model.Subject) (past bool, err error) {
	for _, about := range []model.Subject{s, {Kind: model.SubjectReadings, ID: s.ID}} {
		if err = v.Timeline(about, model.Beginning, model.EndOfTime, func(model.Document) bool { past = true; return false }); past || err != nil {
			break
		}
	}
	return past, err
}

// inUse are the places that tools and instruments belong to.
func inUse(v model.View) (map[model.PlaceID]bool, error) {
	used := map[model.PlaceID]bool{}
	tools, err := Tools(v)
	if err != nil {
		return nil, err
	}
	for _, t := range tools {
		used[t.Place] = true
	}
	instruments, err := Instruments(v)
	if err != nil {
		return nil, err
	}
	for _, i := range instruments {
		used[i.Place] = true
	}
	return used, nil
}

func (p StoredPlace) document() (model.Document, error) {
	d := model.Document{Type: model.TypePlace, ID: p.ID.ID, Revision: p.Revision, At: p.Since}
	return d, d.Encode(Version, p.Place)
}

func write(places []StoredPlace, label model.Label) (model.Writes, error) {
	w := model.Writes{Label: label}
	for _, p := range places {
		d, err := p.document()
		if err != nil {
			return model.Writes{}, err
		}
		w.Put = append(w.Put, d)
	}
	return w, nil
}
