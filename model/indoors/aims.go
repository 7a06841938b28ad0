package indoors

import (
	"cmp"
	"fmt"
	"slices"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/climate"
	"coilward/model/knowledge"
)

// Lack is why the table has no numbers for who lives in a place. Values are frozen; the
// text is "climate.lack." + value.
type Lack string

// Why it has none; empty: it has.
const (
	Nobody  Lack = "nobody"  // no animal lives there, or did in that time
	Several Lack = "several" // animals of several species do
	Unsaid  Lack = "unsaid"  // it is not noted of which species it is
	NoRow   Lack = "no-row"  // the table has none for this species
)

// Aims are what the zones of a place should be like in a time: the keeper's own numbers,
// and else those of the table for the species that lives there.
type Aims struct {
	Species knowledge.SpeciesID // empty where Lack says why
	Lack    Lack
	Own     []climate.Own
	// UnreadOwn is how many entries of the keeper's own numbers cannot be read: where they
	// stood those of the table judge.
	UnreadOwn int
	// Blue are the times before a shed, in which the table wants another humidity: since an
	// animal was noted in blue and until it shed, and else some days before the shed.
	Blue   []climate.Span
	tables *knowledge.Tables
}

// aimsFor are those of a place for animals that live there.
func aimsFor(v model.View, t *knowledge.Tables, place model.PlaceID, who []model.AnimalID, span climate.Span) (a Aims, err error) {
	a = Aims{tables: t, Lack: Nobody}
	if a.Own, a.UnreadOwn, err = climate.OwnTargets(v, place); err != nil {
		return a, err
	}
	for i, id := range who {
		one, err := animals.Find(v, id)
		if err != nil {
			return a, err
		}
		switch {
		case i > 0 && one.Species != a.Species:
			a.Lack = Several
		case i == 0:
			a.Species = one.Species
		}
	}
	switch {
	case len(who) == 0:
	case a.Lack == Several:
		a.Species = ""
	case a.Species == "":
		a.Lack = Unsaid
	case !climate.HasTargets(t, a.Species):
		a.Lack = NoRow
	default:
		a.Lack = ""
	}
	if a.Lack != "" {
		return a, nil
	}
	for _, id := range who {
		blue, err := inBlue(v, t, id, span)
		if err != nil {
			return a, err
		}
		a.Blue = append(a.Blue, blue...)
	}
	slices.SortFunc(a.Blue, func(a, b climate.Span) int { return cmp.Compare(a.From, b.From) })
	return a, nil
}

// inBlue are the times before the sheds of an animal that touch a span: since it was first
// noted in blue, but no longer than a cycle lasts at the most, and where that was not noted
// some days before the shed.
func inBlue(v model.View, t *knowledge.Tables, id model.AnimalID, span climate.Span) (all []climate.Span, err error) {
	longest, some := int64(t.Value(knowledge.ValueBlueCycle))*86400, int64(t.Value(knowledge.ValueShedHumidity))*86400
	type noted struct {
		at   int64
		shed bool
	}
	var entries []noted
	if err := v.Timeline(id.Subject(), span.From-2*longest, span.Until+longest, func(d model.Document) bool {
		if d.Kind == care.KindShed || d.Kind == care.KindBlue {
			entries = append(entries, noted{d.At.UTC, d.Kind == care.KindShed})
		}
		return true
	}); err != nil {
		return nil, fmt.Errorf("read the sheds of animal %s: %w", id, err)
	}
	begun, last := int64(0), model.Beginning
	add := func(from, until int64) {
		if from < until && from < span.Until && until > span.From {
			all = append(all, climate.Span{From: from, Until: until})
		}
	}
	for _, e := range slices.Backward(entries) { // the oldest first
		if begun != 0 && e.at-begun > longest { // it shed unnoticed, or was not in blue
			add(begun, begun+longest)
			begun = 0
		}
		switch {
		case !e.shed && begun == 0:
			begun = e.at
		case e.shed && begun == 0:
			add(max(e.at-some, last), e.at)
			last = e.at
		case e.shed:
			add(begun, e.at)
			begun, last = 0, e.at
		}
	}
	if begun != 0 { // it has not shed yet
		add(begun, begun+longest)
	}
	return all, nil
}

// OwnOf are the keeper's numbers for a measure of a zone.
func (a Aims) OwnOf(z climate.Zone, m climate.Measure) (own climate.Own, ok bool) {
	i := slices.IndexFunc(a.Own, func(o climate.Own) bool { return o.Zone == z && o.Measure == m })
	if i < 0 {
		return own, false
	}
	return a.Own[i], true
}

// Of gives the targets of a measure of a zone by their second.
func (a Aims) Of(z climate.Zone, m climate.Measure) climate.Aim {
	if own, ok := a.OwnOf(z, m); ok {
		return func(_ int64, day bool) (climate.Target, bool) { return own.At(day) }
	}
	var targets [2][2]climate.Target
	var known [2][2]bool
	if a.Lack == "" && a.tables != nil {
		for shed := range targets {
			for day := range targets[shed] {
				targets[shed][day], _, known[shed][day] = climate.TargetOf(a.tables, a.Species, z, m, day == 1, shed == 1)
			}
		}
	}
	return func(at int64, day bool) (climate.Target, bool) {
		shed, light := 0, 0
		if day {
			light = 1
		}
		if slices.ContainsFunc(a.Blue, func(s climate.Span) bool { return at >= s.From && at < s.Until }) {
			shed = 1
		}
		return targets[shed][light], known[shed][light]
	}
}
