package contact_test

import (
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"coilward/model"
	"coilward/model/contact"
	"coilward/model/knowledge"
)

func animal(n byte) model.AnimalID  { return model.AnimalID{ID: model.ID{n}} }
func room(n byte) model.PlaceID     { return model.PlaceID{ID: model.ID{100, n}} }
func sampled(n byte) model.SampleID { return model.SampleID{ID: model.ID{200, n}} }

// Since when she may have carried it: her last "not detected" that speaks, in a sample of
// her own before the day of the sample, less the days for which it may not be found where
// they are known, else her arrival, whichever is later. The 28 days of ferlavirus, seen:
// Pees et al. 2016 Vet Microbiol 182:213 (abstract); of serpentoviruses none were found.
func TestSourceOf(t *testing.T) {
	const detected = 100
	not := func(n byte, day model.Day) contact.Result {
		return contact.Result{Sample: sampled(n), Taken: day, Speaks: true}
	}
	pooled := func(n byte, day model.Day) contact.Result {
		return contact.Result{Sample: sampled(n), Taken: day, Speaks: true, Pool: true}
	}
	for name, c := range map[string]struct {
		arrived model.Day
		results []contact.Result
		since   model.Day
		why     contact.SinceWhy
		on      model.SampleID
	}{
		"nothing is known":                        {0, nil, 0, contact.SinceEver, model.SampleID{}},
		"her arrival alone":                       {40, nil, 40, contact.SinceArrival, model.SampleID{}},
		"one before":                              {40, []contact.Result{not(1, 60)}, 60, contact.SinceNotDetected, sampled(1)},
		"the later of two, in any order":          {40, []contact.Result{not(2, 70), not(1, 60)}, 70, contact.SinceNotDetected, sampled(2)},
		"two of a day":                            {40, []contact.Result{not(2, 70), not(1, 70)}, 70, contact.SinceNotDetected, sampled(1)},
		"one of the same day":                     {40, []contact.Result{not(1, detected)}, 40, contact.SinceArrival, model.SampleID{}},
		"one after it":                            {40, []contact.Result{not(1, 120)}, 40, contact.SinceArrival, model.SampleID{}},
		"one from before she came":                {40, []contact.Result{not(1, 20)}, 40, contact.SinceArrival, model.SampleID{}},
		"one in which nothing can be found":       {40, []contact.Result{{Sample: sampled(1), Taken: 60}}, 40, contact.SinceArrival, model.SampleID{}},
		"an earlier detected":                     {40, []contact.Result{{Sample: sampled(1), Taken: 60, Detected: true, Speaks: true}}, 40, contact.SinceArrival, model.SampleID{}},
		"one of an animal whose day is unknown":   {0, []contact.Result{not(1, 60)}, 60, contact.SinceNotDetected, sampled(1)},
		"not detected before an earlier positive": {40, []contact.Result{not(1, 50), {Sample: sampled(2), Taken: 60, Detected: true, Speaks: true}}, 50, contact.SinceNotDetected, sampled(1)},
		"one of a pool":                           {40, []contact.Result{pooled(2, 70), not(1, 60)}, 60, contact.SinceNotDetected, sampled(1)},
		"a pool alone":                            {40, []contact.Result{pooled(1, 60)}, 40, contact.SinceArrival, model.SampleID{}},
	} {
		got := contact.SourceOf(animal(1), detected, c.arrived, knowledge.Answer{}, c.results)
		want := contact.Source{Animal: animal(1), Since: c.since, Why: c.why, On: c.on}
		if c.why == contact.SinceNotDetected {
			want.Taken = c.since
		}
		if got != want {
			t.Errorf("%s: %+v, want %+v", name, got, want)
		}
	}
	tables := load(t)
	for name, c := range map[string]struct {
		agent   knowledge.AgentID
		arrived model.Day
		taken   model.Day
		want    contact.Source
	}{
		"28 days before":            {"ferlavirus", 20, 60, contact.Source{Since: 32, Why: contact.SinceNotDetected, On: sampled(1), Taken: 60}},
		"on the day of her arrival": {"ferlavirus", 32, 60, contact.Source{Since: 32, Why: contact.SinceNotDetected, On: sampled(1), Taken: 60}},
		"before she came":           {"ferlavirus", 33, 60, contact.Source{Since: 33, Why: contact.SinceArrival}},
		"no figure is known":        {"serpentovirus", 20, 60, contact.Source{Since: 60, Why: contact.SinceNotDetected, On: sampled(1), Taken: 60}},
	} {
		worth, _ := tables.Answer(c.agent)
		c.want.Animal = animal(1)
		if got := contact.SourceOf(animal(1), detected, c.arrived, worth, []contact.Result{not(1, c.taken)}); got != c.want {
			t.Errorf("%s: %+v, want %+v", name, got, c.want)
		}
	}
}

// Who was near, at the edges of days and rooms.
func TestWho(t *testing.T) {
	const today = 200
	she, other := animal(1), animal(2)
	hers := contact.Stay{Animal: she, Room: room(1), From: 50}
	stretch := func(r byte, first, last model.Day, still bool) contact.Stretch {
		return contact.Stretch{Of: she, Room: room(r), First: first, Last: last, Still: still}
	}
	for name, c := range map[string]struct {
		since model.Day
		stays []contact.Stay
		want  []contact.Stretch // of the other; none: it was not near
	}{
		"in her room still":               {80, []contact.Stay{hers, {other, room(1), 10, 0}}, []contact.Stretch{stretch(1, 80, today, true)}},
		"in another room":                 {80, []contact.Stay{hers, {other, room(2), 10, 0}}, nil},
		"moved out the same day":          {80, []contact.Stay{hers, {other, room(1), 10, 80}}, []contact.Stretch{stretch(1, 80, 80, false)}},
		"moved out the day before":        {80, []contact.Stay{hers, {other, room(1), 10, 79}}, nil},
		"came on the day she left":        {80, []contact.Stay{{she, room(1), 50, 120}, {other, room(1), 120, 0}}, []contact.Stretch{stretch(1, 120, 120, false)}},
		"came the day after she left":     {80, []contact.Stay{{she, room(1), 50, 120}, {other, room(1), 121, 0}}, nil},
		"sold in between":                 {80, []contact.Stay{hers, {other, room(1), 10, 150}}, []contact.Stretch{stretch(1, 80, 150, false)}},
		"her stay before that day":        {80, []contact.Stay{{she, room(1), 50, 70}, {she, room(2), 70, 0}, {other, room(1), 10, 0}}, nil},
		"moves out today":                 {80, []contact.Stay{hers, {other, room(1), 10, today}}, []contact.Stretch{stretch(1, 80, today, false)}},
		"comes tomorrow":                  {80, []contact.Stay{hers, {other, room(1), today + 1, 0}}, nil},
		"moves out some day ahead":        {80, []contact.Stay{hers, {other, room(1), 10, today + 30}}, []contact.Stretch{stretch(1, 80, today, true)}},
		"in two rooms, one after another": {80, []contact.Stay{{she, room(1), 50, 120}, {she, room(2), 120, 0}, {other, room(1), 10, 100}, {other, room(2), 150, 160}}, []contact.Stretch{stretch(1, 80, 100, false), stretch(2, 150, 160, false)}},
		"from box to box of her room":     {80, []contact.Stay{hers, {other, room(1), 90, 100}, {other, room(1), 100, 110}}, []contact.Stretch{stretch(1, 90, 110, false)}},
		"went and came back":              {80, []contact.Stay{hers, {other, room(1), 90, 100}, {other, room(1), 120, 0}}, []contact.Stretch{stretch(1, 90, 100, false), stretch(1, 120, today, true)}},
		"she has no place that is known":  {80, []contact.Stay{{other, room(1), 10, 0}}, nil},
	} {
		var got []contact.Stretch
		for _, n := range contact.Who([]contact.Source{{Animal: she, Since: c.since}}, c.stays, today) {
			if n.Animal != other {
				t.Errorf("%s: %v was near", name, n.Animal)
			}
			got = append(got, n.Stretches...)
		}
		if diff := cmp.Diff(c.want, got); diff != "" {
			t.Errorf("%s: want (-), got (+):\n%s", name, diff)
		}
	}
}

// From when "not detected" speaks: 28 days after the last possible day for ferlavirus,
// seen: Pees et al. 2016 Vet Microbiol 182:213 (abstract), in cloacal samples; of
// serpentoviruses no figure was found.
func TestNear_Speaks(t *testing.T) {
	tables := load(t)
	gone := contact.Near{Stretches: []contact.Stretch{{First: 80, Last: 100}, {First: 120, Last: 130}}}
	still := contact.Near{Stretches: []contact.Stretch{{First: 80, Last: 130, Still: true}, {First: 120, Last: 130}}}
	for _, c := range []struct {
		near  contact.Near
		agent knowledge.AgentID
		day   model.Day
		ok    bool
	}{{gone, "ferlavirus", 158, true}, {gone, "serpentovirus", 0, false}, {still, "ferlavirus", 0, false}} {
		worth, known := tables.Answer(c.agent)
		if day, ok := c.near.Speaks(worth); day != c.day || ok != c.ok || !known {
			t.Errorf("%s of %+v: %d %v, want %d %v", c.agent, c.near, day, ok, c.day, c.ok)
		}
	}
}

func drawStays(t *rapid.T) []contact.Stay {
	return rapid.SliceOfN(rapid.Custom(func(t *rapid.T) contact.Stay {
		s := contact.Stay{Animal: animal(rapid.ByteRange(1, 6).Draw(t, "animal")), Room: room(rapid.ByteRange(1, 3).Draw(t, "room")), From: model.Day(rapid.IntRange(1, 60).Draw(t, "from"))}
		if rapid.Bool().Draw(t, "ended") {
			s.Until = s.From + model.Day(rapid.IntRange(0, 30).Draw(t, "days"))
		}
		return s
	}), 0, 14).Draw(t, "stays")
}

func drawResults(t *rapid.T) []contact.Result {
	n := byte(0)
	return rapid.SliceOfN(rapid.Custom(func(t *rapid.T) contact.Result {
		n++
		return contact.Result{Sample: sampled(n), Taken: model.Day(rapid.IntRange(1, 70).Draw(t, "taken")), Detected: rapid.Bool().Draw(t, "detected"), Speaks: rapid.Bool().Draw(t, "speaks"), Pool: rapid.Bool().Draw(t, "pool")}
	}), 0, 6).Draw(t, "results")
}

// drawWorth is a figure of how long the thing may not be found, or none.
func drawWorth(t *rapid.T) knowledge.Answer {
	return knowledge.Answer{Known: rapid.Bool().Draw(t, "known"), SpeaksAfter: rapid.IntRange(1, 40).Draw(t, "speaks after")}
}

func nearIDs(all []contact.Near) (ids []model.AnimalID) {
	for _, n := range all {
		ids = append(ids, n.Animal)
	}
	return ids
}

// One more "not detected" never makes more animals near, nor any of them for longer.
func TestWho_OneMoreNotDetectedMakesNobodyNear(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		stays, results := drawStays(t), drawResults(t)
		detected, arrived, today := model.Day(rapid.IntRange(1, 60).Draw(t, "detected")), model.Day(rapid.IntRange(0, 40).Draw(t, "arrived")), model.Day(rapid.IntRange(1, 90).Draw(t, "today"))
		more := append(slices.Clone(results), contact.Result{Sample: sampled(99), Taken: model.Day(rapid.IntRange(1, 70).Draw(t, "more")), Speaks: rapid.Bool().Draw(t, "more speaks"), Pool: rapid.Bool().Draw(t, "more pool")})
		worth := drawWorth(t)
		before := contact.Who([]contact.Source{contact.SourceOf(animal(1), detected, arrived, worth, results)}, stays, today)
		after := contact.Who([]contact.Source{contact.SourceOf(animal(1), detected, arrived, worth, more)}, stays, today)
		for _, n := range after {
			i := slices.Index(nearIDs(before), n.Animal)
			if i < 0 {
				t.Fatalf("%v is near by one more not detected", n.Animal)
			}
			if n.First() < before[i].First() || n.Last().Last > before[i].Last().Last {
				t.Fatalf("%v is near for longer: %+v, before %+v", n.Animal, n, before[i])
			}
		}
	})
}

// The order of results, stays and sources changes nothing.
func TestWho_OrderChangesNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		stays, results := drawStays(t), drawResults(t)
		worth := drawWorth(t)
		sources := func(results []contact.Result) []contact.Source {
			return []contact.Source{contact.SourceOf(animal(1), 60, 5, worth, results), contact.SourceOf(animal(2), 60, 9, worth, nil)}
		}
		a := contact.Who(sources(results), stays, 70)
		turned := sources(rapid.Permutation(results).Draw(t, "results in another order"))
		slices.Reverse(turned)
		b := contact.Who(turned, rapid.Permutation(stays).Draw(t, "stays in another order"), 70)
		if diff := cmp.Diff(a, b); diff != "" {
			t.Fatal(diff)
		}
	})
}

// What lies after a day changes nothing of who was near by then.
func TestWho_TheFutureCountsNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		stays := drawStays(t)
		today := model.Day(rapid.IntRange(1, 60).Draw(t, "today"))
		sources := []contact.Source{{Animal: animal(1), Since: model.Day(rapid.IntRange(0, 40).Draw(t, "since"))}}
		var known []contact.Stay
		for _, s := range stays {
			if s.From > today {
				continue
			}
			if s.Until > today {
				s.Until = 0
			}
			known = append(known, s)
		}
		if diff := cmp.Diff(contact.Who(sources, known, today), contact.Who(sources, stays, today)); diff != "" {
			t.Fatal(diff)
		}
	})
}

// Day by day, somebody is near exactly where the two were in one room on some day since
// then: found by asking each day of each animal.
func TestWho_AgreesWithAskingEachDay(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		stays := drawStays(t)
		const today = 70
		since := model.Day(rapid.IntRange(0, 60).Draw(t, "since"))
		in := func(a model.AnimalID, r model.PlaceID, day model.Day) bool {
			return slices.ContainsFunc(stays, func(s contact.Stay) bool {
				return s.Animal == a && s.Room == r && s.From <= day && (s.Until == 0 || s.Until >= day)
			})
		}
		all := contact.Who([]contact.Source{{Animal: animal(1), Since: since}}, stays, today)
		for n := byte(2); n <= 6; n++ {
			var first, last model.Day
			for day := max(since, 1); day <= today; day++ {
				for r := byte(1); r <= 3; r++ {
					if in(animal(1), room(r), day) && in(animal(n), room(r), day) {
						last = day
						if first == 0 {
							first = day
						}
					}
				}
			}
			i := slices.Index(nearIDs(all), animal(n))
			switch {
			case (i < 0) != (first == 0):
				t.Fatalf("%d: near is %v, by days from %d", n, i >= 0, first)
			case i >= 0 && (all[i].First() != first || all[i].Last().Last != last):
				t.Fatalf("%d: %d to %d, by days %d to %d", n, all[i].First(), all[i].Last().Last, first, last)
			}
		}
	})
}
