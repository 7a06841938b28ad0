package welfare

import (
	"slices"

	"coilward/model"
	"coilward/model/knowledge"
)

// Looked is something of an animal that is looked at. Values are frozen; the text is
// "welfare.looked." + value.
type Looked string

// What is looked at.
const (
	LookedMeal      Looked = "meal"
	LookedWeight    Looked = "weight"
	LookedWaste     Looked = "waste"
	LookedCleaning  Looked = "cleaning"
	LookedClimate   Looked = "climate"
	LookedCheck     Looked = "check"
	LookedMites     Looked = "mites"
	LookedBreaths   Looked = "breaths"
	LookedUntouched Looked = "untouched"
	LookedHandled   Looked = "handled"
)

// looks are what is looked at in each domain. Source of the domains: Mellor et al. 2020,
// Animals 10:1870; of what is looked at: common practice, no source.
func looks(d knowledge.Domain) []Looked {
	return map[knowledge.Domain][]Looked{
		knowledge.Nutrition:    {LookedMeal, LookedWeight, LookedWaste},
		knowledge.Environment:  {LookedCleaning, LookedClimate},
		knowledge.Health:       {LookedCheck, LookedMites, LookedBreaths},
		knowledge.Interactions: {LookedUntouched, LookedHandled},
	}[d]
}

// Seen is how often something was seen, and when last.
type Seen struct {
	Times int
	Last  model.Day
}

// SeenSign is a sign with how often it was seen.
type SeenSign struct {
	Sign knowledge.SignID
	Seen
}

// SeenLook is something looked at with how often it was.
type SeenLook struct {
	What Looked
	Seen
}

// List is what was seen of one domain in the last days, and what was not looked at.
type List struct {
	Domain       knowledge.Domain
	Looked       []SeenLook
	Unease, Ease []SeenSign // the most often seen first, then in the order of the tables
	Neither      []SeenSign // so too
	NotLooked    []Looked
}

// Lists are the four domains by the last days of the tables up to today. looked has the
// days on which each thing was looked at, beside the visits; a visit in the hand and a handling
// of one day are one look. They are not added up.
func Lists(t *knowledge.Tables, looked map[Looked][]model.Day, visits []Visit, today model.Day) []List {
	from := today - model.Day(t.Value(knowledge.ValueEaseLately))
	within := func(d model.Day) bool { return d > from && d <= today }
	all := map[Looked][]model.Day{}
	for what, days := range looked {
		all[what] = slices.Clone(days)
	}
	handlings := slices.Clone(looked[LookedHandled])
	signs := map[knowledge.Valence]map[knowledge.SignID]*Seen{knowledge.Unease: {}, knowledge.Ease: {}, knowledge.Neither: {}}
	for _, v := range visits {
		day := v.At.Day()
		switch v.Setting {
		case knowledge.Untouched:
			all[LookedUntouched] = append(all[LookedUntouched], day)
		case knowledge.Handled:
			// what was seen in the hand belongs to the handling of its day, where one is noted
			if i := slices.Index(handlings, day); i >= 0 {
				handlings = slices.Delete(handlings, i, i+1)
			} else {
				all[LookedHandled] = append(all[LookedHandled], day)
			}
		}
		if v.Breaths != nil {
			all[LookedBreaths] = append(all[LookedBreaths], day)
		}
		if !within(day) {
			continue
		}
		for says, seen := range map[knowledge.Valence][]knowledge.SignID{knowledge.Unease: v.Unease, knowledge.Ease: v.Ease, knowledge.Neither: v.Other} {
			for _, id := range seen {
				if signs[says][id] == nil {
					signs[says][id] = &Seen{}
				}
				signs[says][id].add(day)
			}
		}
	}
	var lists []List
	for _, d := range knowledge.Domains() {
		list := List{Domain: d, Unease: ofDomain(t, d, signs[knowledge.Unease]), Ease: ofDomain(t, d, signs[knowledge.Ease]), Neither: ofDomain(t, d, signs[knowledge.Neither])}
		for _, what := range looks(d) {
			var seen Seen
			for _, day := range all[what] {
				if within(day) {
					seen.add(day)
				}
			}
			if seen.Times == 0 {
				list.NotLooked = append(list.NotLooked, what)
			} else {
				list.Looked = append(list.Looked, SeenLook{what, seen})
			}
		}
		lists = append(lists, list)
	}
	return lists
}

func (s *Seen) add(day model.Day) {
	s.Times++
	s.Last = max(s.Last, day)
}

func ofDomain(t *knowledge.Tables, d knowledge.Domain, seen map[knowledge.SignID]*Seen) (all []SeenSign) {
	for _, s := range t.Signs() {
		if n := seen[s.ID]; n != nil && s.Domain == d {
			all = append(all, SeenSign{s.ID, *n})
		}
	}
	slices.SortStableFunc(all, func(a, b SeenSign) int { return b.Times - a.Times })
	return all
}

// StripDay is one day of the strip.
type StripDay struct {
	Day     model.Day
	Tally   Tally
	Lifts   int
	Changed bool // a change was tried from this day on
}

// Strip are the days from one to another, both with, each with what was seen and done.
func Strip(visits []Visit, entries []Entry, from, to model.Day) []StripDay {
	if to < from {
		return nil
	}
	days := make([]StripDay, to-from+1)
	for i := range days {
		days[i].Day = from + model.Day(i)
	}
	for _, v := range visits {
		if day := v.At.Day(); day >= from && day <= to && !v.BreathsOnly {
			days[day-from].Tally.add(v)
		}
	}
	for _, e := range entries {
		day := e.At.Day()
		if day < from || day > to {
			continue
		}
		switch b := e.Body.(type) {
		case Handling:
			days[day-from].Lifts += b.Lifts
		case Change:
			days[day-from].Changed = true
		}
	}
	return days
}
