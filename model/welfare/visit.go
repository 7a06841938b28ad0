package welfare

import (
	"cmp"
	"fmt"
	"slices"

	"coilward/model"
	"coilward/model/knowledge"
)

// Visit is what one observation says by the tables.
type Visit struct {
	At           model.Moment
	Setting      knowledge.Setting
	Unease, Ease []knowledge.SignID // each once
	Other        []knowledge.SignID // that say neither; with freezing, those of ease too
	Breaths      *Breaths
	// BreathsOnly is that breaths were counted and nobody said whether a sign was seen: it
	// counts as no visit of its setting.
	BreathsOnly bool
}

// Visits are the observations of entries as visits, in the order of the entries. Signs that
// the tables do not know any more say neither. Where one froze nothing counts as ease.
func Visits(t *knowledge.Tables, entries []Entry) []Visit {
	var all []Visit
	for _, e := range entries {
		o, is := e.Body.(Observation)
		if !is {
			continue
		}
		v := Visit{At: e.At, Setting: o.Setting, Breaths: o.Breaths, BreathsOnly: len(o.Seen()) == 0 && len(o.Scans) == 0 && !o.None}
		for _, id := range o.Seen() {
			switch s, _ := t.Sign(id); s.Says[o.Setting] {
			case knowledge.Unease:
				v.Unease = append(v.Unease, id)
			case knowledge.Ease:
				v.Ease = append(v.Ease, id)
			default:
				v.Other = append(v.Other, id)
			}
		}
		if slices.Contains(v.Unease, knowledge.Freezing) {
			v.Other, v.Ease = append(v.Other, v.Ease...), nil // what lies still for fear is not at ease
		}
		all = append(all, v)
	}
	return all
}

// In are the visits of one setting on which signs were looked for.
func In(s knowledge.Setting, visits []Visit) (all []Visit) {
	for _, v := range visits {
		if v.Setting == s && !v.BreathsOnly {
			all = append(all, v)
		}
	}
	return all
}

// Tally is on how many visits signs were seen. A visit can be of both kinds, and of none.
type Tally struct{ Visits, Unease, Ease int }

func (t *Tally) add(v Visit) {
	t.Visits++
	if len(v.Unease) > 0 {
		t.Unease++
	}
	if len(v.Ease) > 0 {
		t.Ease++
	}
}

// Side is one setting, this month and before.
type Side struct {
	Setting        knowledge.Setting
	Lately, Before Tally
}

// Sides are all settings side by side: the last days of the tables up to today, and those
// before them. They are never added up.
func Sides(t *knowledge.Tables, visits []Visit, today model.Day) []Side {
	var all []Side
	lately := today - model.Day(t.Value(knowledge.ValueEaseLately))
	before := lately - model.Day(t.Value(knowledge.ValueEaseBefore))
	for _, s := range knowledge.Settings() {
		side := Side{Setting: s}
		for _, v := range In(s, visits) {
			switch day := v.At.Day(); {
			case day > today || day <= before:
			case day > lately:
				side.Lately.add(v)
			default:
				side.Before.add(v)
			}
		}
		all = append(all, side)
	}
	return all
}

// Breathing is a count of breaths against the animal's own.
type Breathing struct {
	At     model.Moment
	Tenths int // breaths of a minute, in tenths
	// Seconds is for how long they were counted.
	Seconds int
	// Own is the median of its quiet counts before, in tenths; 0: there are too few.
	Own int
	// Counts is how many quiet counts there were before.
	Counts int
	// Far is that it lies above so many times its own as the tables say.
	Far bool
	// Signs are those of heavy breathing that were seen on the visit: whatever the count,
	// they are a matter for the vet.
	Signs []knowledge.SignID
}

// ForVet reports whether a vet should hear of it.
func (b Breathing) ForVet() bool { return b.Far || len(b.Signs) > 0 }

// OpenMouth reports whether it breathed with open mouth: a matter for the vet on the same day.
func (b Breathing) OpenMouth() bool { return slices.Contains(b.Signs, knowledge.OpenMouth) }

// Told are the breathings that are told, newest first: of the last days of the tables up to
// today each that a vet should hear of, however calm one after it was; and the newest.
func Told(t *knowledge.Tables, all []Breathing, today model.Day) (told []Breathing) {
	since := today - model.Day(t.Value(knowledge.ValueEaseLately))
	for i, b := range slices.Backward(all) {
		if i == len(all)-1 || b.ForVet() && b.At.Day() > since {
			told = append(told, b)
		}
	}
	return told
}

// Gravest is the breathing of some that a vet should hear of first, of equal ones the
// earlier in the list: open mouth, then other signs, then a count; none where no vet should
// hear of any.
func Gravest(of []Breathing) (gravest Breathing, found bool) {
	weight := func(b Breathing) int {
		switch {
		case b.OpenMouth():
			return 3
		case len(b.Signs) > 0:
			return 2
		case b.Far:
			return 1
		}
		return 0
	}
	for _, b := range of {
		if weight(b) > weight(gravest) {
			gravest = b
		}
	}
	return gravest, gravest.ForVet()
}

// Watched are the visits of an animal that are noted, newest first, and how many more cannot be
// read.
func Watched(v model.View, t *knowledge.Tables, id model.AnimalID) (visits []Visit, unread int, err error) {
	var entries []Entry
	err = v.Timeline(id.Subject(), model.Beginning, model.EndOfTime, func(d model.Document) bool {
		if d.Type != model.TypeEntry || d.Kind != KindObservation {
			return true
		}
		if e, _, illegible := Decode(d); illegible == nil {
			entries = append(entries, e)
		} else {
			unread++
		}
		return true
	})
	if err != nil {
		return nil, 0, fmt.Errorf("read on which visits %s was watched: %w", id, err)
	}
	return Visits(t, entries), unread, nil
}

// Breathes is the breathing that a vet is still to hear of.
type Breathes struct {
	Breathing
	// Level is how urgent it is; knowledge.Nothing: there is none.
	Level knowledge.Level
}

// IsZero reports whether there is none.
func (b Breathes) IsZero() bool { return b.Level == knowledge.Nothing }

// ForVet is the gravest breathing of the last days of the tables up to today that a vet should
// hear of. A calm count does not take it away, and a vet's answer to what is due for it stands
// beside it. Open mouth is an emergency until the animal was watched untouched after it and
// breathed calmly, then a matter for the vet within days. Source of the emergency: see
// knowledge.OpenMouth; that a calm look ends it: common practice, no source.
func ForVet(t *knowledge.Tables, visits []Visit, today model.Day) Breathes {
	all := Breathings(t, visits)
	since := today - model.Day(t.Value(knowledge.ValueEaseLately))
	lately := slices.DeleteFunc(Told(t, all, today), func(b Breathing) bool { return b.At.Day() <= since })
	gravest, found := Gravest(lately)
	if !found {
		return Breathes{}
	}
	b := Breathes{gravest, knowledge.VetWithinDays}
	if b.OpenMouth() && !calmAfter(visits, all, b.At) {
		b.Level = knowledge.EmergencyToday
	}
	return b
}

// calmAfter reports whether it was watched untouched after a moment, and nothing of its
// breathing was a matter for the vet.
func calmAfter(visits []Visit, all []Breathing, at model.Moment) bool {
	alarms := map[model.Moment]bool{}
	for _, b := range all {
		alarms[b.At] = alarms[b.At] || b.ForVet()
	}
	return slices.ContainsFunc(visits, func(v Visit) bool {
		return v.Setting == knowledge.Untouched && at.Before(v.At) && !alarms[v.At]
	})
}

// Breathings are all visits with a count or a sign of heavy breathing, oldest first. A quiet
// count is one of an untouched visit without a sign of unease, as long as the tables want,
// with a breath, and not far above those before it. There is no figure for all snakes: each
// is held against itself. Source: no published figure was found; common practice.
func Breathings(t *knowledge.Tables, visits []Visit) []Breathing {
	ordered := slices.Clone(visits)
	slices.SortStableFunc(ordered, func(a, b Visit) int { return cmp.Compare(a.At.UTC, b.At.UTC) })
	var quiet []int // in order
	var all []Breathing
	for _, v := range ordered {
		b := Breathing{At: v.At, Counts: len(quiet)}
		for _, id := range v.Unease {
			if s, _ := t.Sign(id); s.Domain == knowledge.Health {
				b.Signs = append(b.Signs, id)
			}
		}
		if v.Breaths == nil && len(b.Signs) == 0 {
			continue
		}
		if len(quiet) >= t.Value(knowledge.ValueBreathsOwn) {
			b.Own = median(quiet)
		}
		if v.Breaths != nil {
			b.Tenths, b.Seconds = v.Breaths.Tenths(), v.Breaths.Seconds
			b.Far = b.Own > 0 && b.Tenths*100 > b.Own*t.Value(knowledge.ValueBreathsFar)
			whole := v.Breaths.Seconds >= t.Value(knowledge.ValueBreathsCount)
			// neither an alarm nor a breath held makes the measure of the next count
			if v.Setting == knowledge.Untouched && len(v.Unease) == 0 && whole && !b.Far && b.Tenths > 0 {
				i, _ := slices.BinarySearch(quiet, b.Tenths)
				quiet = slices.Insert(quiet, i, b.Tenths)
			}
		}
		all = append(all, b)
	}
	return all
}

// median is the middle of whole numbers in order, of an even many the lower one.
func median(ordered []int) int { return ordered[(len(ordered)-1)/2] }
