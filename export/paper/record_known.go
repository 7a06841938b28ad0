package paper

import (
	"maps"
	"slices"
	"strings"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/exam"
	"coilward/model/knowledge"
	"coilward/model/meals"
)

// known is what the records tell of, one statement each.
func (r record) known() []string {
	var out []string
	add := func(key, statement string) { out = append(out, r.pair(key, statement)) }
	if n := len(r.Checks); n > 0 {
		extents := map[exam.Extent]int{}
		for _, c := range r.Checks {
			extents[c.Extent(r.Tables)]++
		}
		var kinds []string
		for _, e := range []exam.Extent{exam.FullCheck, exam.PartCheck, exam.BriefLook} {
			if extents[e] > 0 {
				kinds = append(kinds, r.text.Count("paper.known.checks."+string(e), extents[e]))
			}
		}
		add("paper.known.checks", r.say("paper.known.checks.text", gaps{"Kinds": strings.Join(kinds, ", "), "Day": day(r.Checks[n-1].At)}))
	}
	if n := len(r.Weights); n > 0 {
		last := r.Weights[n-1]
		add("paper.known.weight", r.text.Count("paper.known.weight.text", n, gaps{"Mass": r.mass(last), "Day": day(last.At), "First": r.mass(r.Weights[0]), "FirstDay": day(r.Weights[0].At)}))
	}
	if n := len(r.Meals); n > 0 {
		said := r.text.Count("paper.known.meals.text", n, gaps{"Taken": r.taken(), "Day": day(r.Meals[n-1].At)})
		if kept, took := r.lastTaken(); took && kept.Day() != r.Meals[n-1].At.Day() {
			said += "; " + r.say("paper.known.meals.kept", gaps{"Day": day(kept)})
		}
		if habit := r.habit(); habit != "" && r.room != crowded { // it stands behind too
			said += "; " + habit
		}
		add("paper.known.meals", said)
	}
	if n := len(r.Sheds); n > 0 {
		add("paper.known.sheds", r.text.Count("paper.known.sheds.text", n, gaps{"Day": day(r.Sheds[n-1].At)}))
	}
	if n := len(r.Waste); n > 0 {
		add("paper.known.waste", r.text.Count("paper.known.waste.text", n, gaps{"Day": day(r.Waste[n-1].At)}))
	}
	if n := len(r.MiteLooks); n > 0 {
		last := r.MiteLooks[n-1]
		add("paper.known.mites", r.text.Count("paper.known.mites.text", n, gaps{"Day": day(last.At), "Seen": r.mites(last.Body)}))
	}
	if tests := r.knownTests(); tests != "" {
		add("paper.known.tests", tests)
	}
	if q := r.Quarantine; q != nil && !q.Quarantine.Open() { // of an open one the head tells
		add("paper.known.quarantine", r.say("paper.known.quarantine.text", quarantined{Quarantine: *q, text: r.text}.standing()))
	}
	out = append(out, r.knownIdentity()...)
	if len(out) == 0 {
		out = append(out, r.say("paper.known.nothing"))
	}
	return out
}

// habit is how it ate lately, where that can be told.
func (r record) habit() string {
	h, told := meals.HabitOf(entriesOf(r.Meals))
	prey := r.prey(h.Meal)
	if !told || prey == "" {
		return ""
	}
	return r.text.Count("paper.known.meals.habit", h.Days, gaps{"Prey": prey, "Same": h.Same, "Of": h.Of})
}

func (r record) knownIdentity() []string {
	a := r.Animal
	var out []string
	if a.From != "" && !a.Since.IsZero() {
		out = append(out, r.pair("paper.known.from", r.say("paper.known.from.since", gaps{"From": r.brief("paper.long.from", a.From, longestFact), "Date": a.Since})))
	} else if a.From != "" {
		out = append(out, r.pair("paper.known.from", r.brief("paper.long.from", a.From, longestFact)))
	} else if !a.Since.IsZero() {
		out = append(out, r.pair("paper.known.since", r.text.Date(a.Since)))
	}
	if a.Origin != "" {
		out = append(out, r.pair("paper.known.origin", r.brief("paper.long.origin", a.Origin, longestFact)))
	}
	if a.Permits != "" {
		out = append(out, r.pair("paper.known.permits", r.brief("paper.long.permits", a.Permits, longestFact)))
	}
	if !a.Length.IsZero() {
		words := r.text.Length(a.Length.SnoutVent)
		if !a.Length.On.IsZero() {
			words += ", " + r.text.Date(a.Length.On)
		}
		out = append(out, r.pair("paper.known.length", words))
	}
	return out
}

// unknown is what the records do not tell, one statement each; it is never left
// out, and never smaller than what is known.
func (r record) unknown() []string {
	var out []string
	add := func(key, statement string) { out = append(out, r.pair(key, statement)) }
	out = append(out, r.notLooked()...)
	if n := len(r.Checks); n > 0 && r.Checks[n-1].Extent(r.Tables) == exam.BriefLook {
		add("paper.unknown.brief", r.say("paper.unknown.brief.text", gaps{"Day": day(r.Checks[n-1].At)}))
	}
	for _, missed := range []struct {
		none bool
		key  string
	}{
		{len(r.Weights) == 0, "paper.unknown.weight"}, {len(r.Meals) == 0, "paper.unknown.meals"},
		{len(r.Sheds) == 0, "paper.unknown.sheds"}, {len(r.Waste) == 0, "paper.unknown.waste"}, {len(r.MiteLooks) == 0, "paper.unknown.mites"},
	} {
		if missed.none {
			add(missed.key, r.say("paper.unknown.no-entry"))
		}
	}
	if tests := r.unansweredTests(); tests != "" {
		add("paper.unknown.tests", tests)
	}
	out = append(out, r.unknownIdentity()...)
	add("paper.unknown.not-kept", r.notKept())
	if r.Unread > 0 {
		add("paper.unknown.photos", r.text.Count("paper.unknown.photos.text", r.Unread))
	}
	if n := r.unreadable(); n != "" {
		add("paper.unknown.kinds", n)
	}
	return out
}

// notKept is what the records do not hold at all.
func (r record) notKept() string {
	var none []string
	for _, of := range []struct {
		kept bool
		key  string
	}{
		{r.Quarantine != nil, "paper.unknown.not-kept.quarantine"}, {r.tested(), "paper.unknown.not-kept.tests"}, {false, "paper.unknown.not-kept.medicines"},
		{len(r.Air.Lately) > 0, "paper.unknown.not-kept.climate"}, {false, "paper.unknown.not-kept.contacts"},
	} {
		if !of.kept {
			none = append(none, r.say(of.key))
		}
	}
	return r.say("paper.unknown.not-kept.ask", gaps{"What": strings.Join(none, ", ")})
}

// notLooked names the stops not looked at in the last check that counts, those
// never looked at in any, and those left to the vet; or that there is no check.
func (r record) notLooked() []string {
	checks := r.counted()
	if len(checks) == 0 {
		return []string{r.pair("paper.unknown.checks", r.say("paper.unknown.checks.none"))}
	}
	var never, last, vet []string
	latest := checks[len(checks)-1]
	for _, s := range walked(r.Tables) {
		name := r.within(s.ID)
		everLooked := slices.ContainsFunc(checks, func(c Checked) bool { return c.look(s.ID).Looked() })
		switch look := latest.look(s.ID); {
		case look == exam.LeftToVet:
			vet = append(vet, name)
		case !everLooked:
			never = append(never, name)
		case !look.Looked():
			last = append(last, name)
		}
	}
	var out []string
	for _, group := range []struct {
		key   string
		stops []string
	}{{"paper.unknown.never", never}, {"paper.unknown.last", last}, {"paper.unknown.vet", vet}} {
		if len(group.stops) > 0 {
			out = append(out, r.pair(group.key, strings.Join(group.stops, ", ")))
		}
	}
	return out
}

func (r record) unknownIdentity() []string {
	a := r.Animal
	var names []string
	for _, missed := range []struct {
		none bool
		key  string
	}{
		{a.Sex == animals.SexUnknown, "sex"}, {a.Sex != animals.SexUnknown && a.SexHow == animals.HowUnknown, "sex-how"},
		{a.Hatched.IsZero(), "hatched"}, {!a.Hatched.IsZero() && a.Hatched.Precision != model.ToDay && a.Hatched.Precision != model.ToMinute, "hatched-day"},
		{a.Chip.IsZero(), "chip"}, {!a.Chip.IsZero() && a.Chip.LastRead.IsZero(), "chip-read"},
		{a.Source == animals.SourceNone, "source"}, {a.Origin == "" && !r.sealed(), "origin"}, {a.Permits == "", "permits"}, {a.From == "" && !r.sealed(), "from"},
	} {
		if missed.none {
			names = append(names, r.say("paper.unknown.identity."+missed.key))
		}
	}
	var out []string
	if len(names) > 0 {
		out = append(out, r.pair("paper.unknown.identity", strings.Join(names, ", ")))
	}
	if r.sealed() {
		out = append(out, r.pair("paper.unknown.held", r.say("paper.unknown.held.text")))
	}
	if !a.Since.IsZero() {
		out = append(out, r.pair("paper.unknown.before", r.say("paper.unknown.before.text", gaps{"Date": a.Since})))
	}
	return out
}

// unreadable names the kinds of entries that this version cannot read.
func (r record) unreadable() string {
	var out []string
	for _, kind := range slices.Sorted(maps.Keys(r.Unknown)) {
		out = append(out, r.kind(kind, r.Unknown[kind]))
	}
	return strings.Join(out, ", ")
}

// kind is how many there are of a kind; one that this version does not know goes by
// its own name.
func (r record) kind(kind string, n int) string {
	name := cut(Clean(kind), longestCode)
	if key := "kind." + kind; r.text.Has(key) {
		name = r.say(key)
	}
	return r.text.Count("paper.unknown.kind", n, gaps{"Kind": name})
}

// looked is the sign of a stop's answer.
func looked(l exam.Look) (Sign, bool) {
	switch l {
	case exam.Felt:
		return Felt, true
	case exam.Seen:
		return Seen, true
	case exam.LeftToVet:
		return LeftToVet, false
	}
	return NotLooked, false
}

// stands are the problems that were there at a stop in a check.
func (r record) stands(check model.EntryID, stop knowledge.StopID) (present []standing, gone bool) {
	for _, s := range r.all {
		if s.Stop != stop {
			continue
		}
		for _, look := range s.Glimpses {
			switch {
			case look.Check != check || !look.Standing.Present():
			case s.Open():
				present = append(present, s)
			default:
				gone = true
			}
		}
	}
	return present, gone
}

// sealed reports whether the record goes with a signed file for the next keeper, in which
// from where and from whom the animal came does not stand.
func (r record) sealed() bool { return r.Seal != Seal{} }
