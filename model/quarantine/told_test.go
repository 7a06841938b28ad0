package quarantine_test

import (
	"slices"
	"testing"

	"coilward/model"
	"coilward/model/knowledge"
	"coilward/model/quarantine"
)

// one is a protocol that asks for so many samples of some things, so far apart.
func one(want, apart int, of ...knowledge.AgentID) quarantine.Protocol {
	return quarantine.Protocol{Days: 30, For: []knowledge.Asked{{Agents: of, NotDetected: want, Apart: apart}}, Within: 30, CheckWithin: 7, Weight: 95, Watch: 90}
}

func reason(l quarantine.Line, key string) (r model.Label, told bool) {
	i := slices.IndexFunc(l.Reasons, func(r model.Label) bool { return r.Key == "quarantine.why."+key })
	if i < 0 {
		return r, false
	}
	return l.Reasons[i], true
}

// What a line tells is counted: the days in the room, and how many samples are missing, at
// the lab, or count nothing.
func TestWhatALineCounts(t *testing.T) {
	tables := load(t)
	f := whole()
	if l := line(t, quarantine.Judge(tables, protocol(tables, "python"), f), quarantine.InRoom); l.Have != 90 {
		t.Errorf("%d days in the room", l.Have)
	}
	f.Restarts = []quarantine.Restart{{Day: on(70), Name: "Ash"}}
	if l := line(t, quarantine.Judge(tables, protocol(tables, "python"), f), quarantine.InRoom); l.Have != 20 || l.Earliest != on(160) {
		t.Errorf("%d days since somebody came in", l.Have)
	}
	sampled := func(n int, change func(*quarantine.Result)) quarantine.Result {
		r := clear(n, serpent, 40+n)
		change(&r)
		return r
	}
	waits := func(r *quarantine.Result) { r.Reported, r.Outcome = 0, quarantine.Waiting }
	nothing := func(r *quarantine.Result) { r.Outcome = quarantine.Nothing }
	silent := func(r *quarantine.Result) { r.Speaks = false }
	pooled := func(r *quarantine.Result) { r.Pool = true }
	as := func(*quarantine.Result) {}
	for name, c := range map[string]struct {
		results []func(*quarantine.Result)
		counts  map[string]int
	}{
		"none":                  {nil, map[string]int{"more-results": 5}},
		"two that count":        {[]func(*quarantine.Result){as, as}, map[string]int{"more-results": 3}},
		"two at the lab":        {[]func(*quarantine.Result){as, waits, waits}, map[string]int{"more-results": 4, "at-the-lab": 2}},
		"one that says nothing": {[]func(*quarantine.Result){nothing}, map[string]int{"more-results": 5, "nothing": 1}},
		"three silent":          {[]func(*quarantine.Result){silent, silent, silent}, map[string]int{"more-results": 5, "silent": 3}},
		"two pooled, and one":   {[]func(*quarantine.Result){pooled, as, pooled}, map[string]int{"more-results": 4, "pooled": 2}},
	} {
		f := whole()
		f.Results = nil
		for i, change := range c.results {
			f.Results = append(f.Results, sampled(i+1, change))
		}
		l := line(t, quarantine.Judge(tables, one(5, 0, serpent), f), quarantine.LookedFor)
		for _, key := range []string{"more-results", "at-the-lab", "nothing", "silent", "pooled"} {
			r, told := reason(l, key)
			if want, asked := c.counts[key]; told != asked || told && r.Gaps["Count"] != model.CountGap(want) {
				t.Errorf("%s, %s: %v %+v", name, key, told, r)
			}
		}
	}
}

// Of one day always the same is told: of samples, of what no figure is known of, and of
// checks that left as many stops.
func TestTiesAreDecidedById(t *testing.T) {
	tables := load(t)
	results := []quarantine.Result{clear(2, serpent, 80), clear(1, serpent, 80)}
	restarts := []quarantine.Restart{{Day: on(40), Positive: id(51), NearTo: "Elm", Agent: ferla}, {Day: on(40), Positive: id(50), NearTo: "Ash", Agent: serpent}, {Day: on(30), Positive: id(49), NearTo: "Fern", Agent: ferla}}
	checks := []quarantine.Check{{Entry: entry(61), Day: on(88), Left: 3}, {Entry: entry(62), Day: on(88), Left: 3}, {Entry: entry(63), Day: on(88), Left: 4}, {Entry: entry(60), Day: on(87), Left: 1}}
	for range 2 {
		f := whole()
		f.Results, f.Restarts, f.Checks = results, restarts, checks
		g := quarantine.Judge(tables, one(1, 0, serpent, ferla), f)
		l := line(t, g, quarantine.LookedFor)
		if !slices.Equal(l.On, []model.ID{id(1), id(2)}) {
			t.Errorf("it rests on %v", l.On)
		}
		if r, told := reason(l, "no-figure"); !told || r.Gaps["Agent"] != model.KeyGap("agent."+string(serpent)) || r.Gaps["Day"] != model.DayGap(on(40)) {
			t.Errorf("no figure: %+v", l.Reasons)
		}
		if l := line(t, g, quarantine.FullCheck); !slices.Equal(l.On, []model.ID{id(61)}) || l.Reasons[0].Gaps["Count"] != model.CountGap(3) {
			t.Errorf("the check: %+v", l)
		}
		slices.Reverse(results)
		slices.Reverse(restarts)
		slices.Reverse(checks)
	}
}

// A sample of the day on which a thing was detected does not count after it, and one can be
// taken on the next day at the earliest.
func TestAfterWhatWasDetected(t *testing.T) {
	tables := load(t)
	f := whole()
	f.Results = []quarantine.Result{detected(90, serpent), clear(7, serpent, 90)}
	for i := range f.Results {
		f.Results[i].Reported, f.Results[i].Settled = on(90), on(90)
	}
	l := line(t, quarantine.Judge(tables, one(1, 0, serpent), f), quarantine.LookedFor)
	if l.State != quarantine.NotMet || l.Have != 0 || l.Earliest != on(91) {
		t.Errorf("%+v", l)
	}
}

// Looks that are no more than a glance are told of while the watch goes on.
func TestGlancesAreTold(t *testing.T) {
	tables := load(t)
	for name, c := range map[string]struct {
		glances int
		over    bool
		told    bool
	}{"none": {0, false, false}, "two": {2, false, true}, "the watch is over": {2, true, false}} {
		f := whole()
		if f.Mites.Glances = c.glances; !c.over {
			f.Mites.Over = 0
		}
		r, told := reason(line(t, quarantine.Judge(tables, protocol(tables, "python"), f), quarantine.MiteFree), "mites-glances")
		if told != c.told || told && r.Gaps["Count"] != model.CountGap(2) {
			t.Errorf("%s: %v, %+v", name, told, r)
		}
	}
}

// The last check and the meals of a day are the same in whichever order they come; a part
// of a check is told beside an old full one where it is the later of the two; the meals
// that are missing are counted.
func TestChecksAndMealsOfADay(t *testing.T) {
	tables := load(t)
	p := protocol(tables, "python")
	checks := []quarantine.Check{{Entry: entry(61), Day: on(40), Full: true}, {Entry: entry(62), Day: on(60), Left: 3}, {Entry: entry(63), Day: on(60), Left: 5}}
	meals := []quarantine.Meal{{Entry: entry(22), Day: on(26)}, {Entry: entry(21), Day: on(26)}}
	for range 2 {
		f := whole()
		f.Checks, f.Meals = checks, meals
		g := quarantine.Judge(tables, p, f)
		if l := line(t, g, quarantine.NothingUp); len(l.On) != 1 || l.On[0] != id(63) || l.Reasons[0].Gaps["Day"] != model.DayGap(on(60)) {
			t.Errorf("the last check: %+v", l)
		}
		if r, told := reason(line(t, g, quarantine.FullCheck), "check-part"); !told || r.Gaps["Count"] != model.CountGap(3) {
			t.Errorf("a part after an old one: %v %+v", told, r)
		}
		l := line(t, g, quarantine.Meals)
		if r, told := reason(l, "more-meals"); !told || r.Gaps["Count"] != model.CountGap(1) || l.Have != 1 || !slices.Equal(l.On, []model.ID{id(21)}) {
			t.Errorf("meals of one day: %+v", l)
		}
		slices.Reverse(checks)
		slices.Reverse(meals)
	}
	f := whole()
	f.Checks = []quarantine.Check{{Entry: entry(61), Day: on(60), Full: true}, {Entry: entry(62), Day: on(60), Left: 3}}
	if _, told := reason(line(t, quarantine.Judge(tables, p, f), quarantine.FullCheck), "check-part"); told {
		t.Error("a part of the day of the full one is told")
	}
}
