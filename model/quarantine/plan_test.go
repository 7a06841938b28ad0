package quarantine_test

import (
	"slices"
	"testing"

	"pgregory.net/rapid"

	"coilward/model"
	"coilward/model/knowledge"
	"coilward/model/quarantine"
)

// fresh are the facts of a newcomer on a day with nothing done yet.
func fresh(today int) quarantine.Facts {
	return quarantine.Facts{Today: on(today), Arrived: arrived, OfferEvery: 10, Mites: quarantine.Mites{Days: 42}}
}

func planOf(t *testing.T, p quarantine.Protocol, f quarantine.Facts) []quarantine.Step {
	t.Helper()
	tables := load(t)
	return quarantine.Plan(tables, f, quarantine.Judge(tables, p, f))
}

func stepsOf(all []quarantine.Step, kind quarantine.StepKind, of knowledge.AgentID) (found []quarantine.Step) {
	for _, s := range all {
		if s.Kind == kind && (of == "" || slices.Contains(s.Agents, of)) {
			found = append(found, s)
		}
	}
	return found
}

// The days: day 3 to 7 the first swab, day 14 the first faecal sample, then as far
// apart as the protocol says, the last swab in the 30 days before the end, a full check
// in the 7 before it; source: common practice, no source.
func TestThePlanOfTheDays(t *testing.T) {
	tables := load(t)
	type span struct{ from, by int }
	for of, c := range map[knowledge.ProtocolID]struct {
		swabs, faeces []span
		check, end    int
	}{
		"short":  {[]span{{12, 12}}, []span{{14, 14}, {28, 28}}, 35, 42}, // the watch for mites is the longest
		"python": {[]span{{3, 7}, {60, 60}}, []span{{14, 14}, {28, 28}, {42, 42}}, 83, 90},
		"long":   {[]span{{3, 7}, {45, 45}, {150, 150}}, []span{{14, 14}, {28, 28}, {42, 42}}, 173, 180},
	} {
		all := planOf(t, protocol(tables, of), fresh(0))
		check := func(name string, kind quarantine.StepKind, agent knowledge.AgentID, want []span) {
			got := stepsOf(all, kind, agent)
			if len(got) != len(want) {
				t.Errorf("%s, %s: %d steps", of, name, len(got))
				return
			}
			for i, s := range got {
				if s.From != on(want[i].from) || s.By != on(want[i].by) || s.N != i+1 || s.Of != len(want) || s.Done {
					t.Errorf("%s, %s %d: day %d to %d, %d of %d", of, name, i, s.From-arrived, s.By-arrived, s.N, s.Of)
				}
			}
		}
		check("swabs", quarantine.StepSwab, serpent, c.swabs)
		check("swabs", quarantine.StepSwab, ferla, c.swabs)
		check("faeces", quarantine.StepFaecal, knowledge.FaecalAgent, c.faeces)
		if s := stepsOf(all, quarantine.StepCheck, ""); len(s) != 1 || s[0].From != on(c.check) || s[0].By != on(c.end) || s[0].Done {
			t.Errorf("%s, the check: %+v", of, s)
		}
		if s := stepsOf(all, quarantine.StepRelease, ""); len(s) != 1 || s[0].From != on(c.end) || s[0].By != on(c.end) {
			t.Errorf("%s, the end: %+v", of, s)
		}
		if !slices.IsSortedFunc(all, func(a, b quarantine.Step) int { return int(a.From - b.From) }) {
			t.Errorf("%s: not by day", of)
		}
	}
}

// It is weighed and looked at for mites each week, from the arrival on; source: common
// practice, no source. What the watch for mites asks sooner comes sooner.
func TestWhatIsDoneEachWeek(t *testing.T) {
	tables := load(t)
	for name, c := range map[string]struct {
		change       func(f *quarantine.Facts)
		weigh, mites int
	}{
		"never": {func(*quarantine.Facts) {}, 0, 0},
		"done": {func(f *quarantine.Facts) {
			f.Weighings, f.Mites.Last, f.Mites.Next = []model.Day{on(3), on(9), on(5)}, on(8), on(15)
		}, 16, 15},
		"done before it came":  {func(f *quarantine.Facts) { f.Weighings = []model.Day{on(-1)} }, 0, 0},
		"done on its day":      {func(f *quarantine.Facts) { f.Weighings = []model.Day{on(0)} }, 7, 0},
		"to be done, they say": {func(f *quarantine.Facts) { f.Weighings = []model.Day{on(2), on(40)} }, 9, 0},
		"a speck was seen":     {func(f *quarantine.Facts) { f.Mites.Last, f.Mites.Next = on(8), on(11) }, 0, 11},
	} {
		f := fresh(10)
		c.change(&f)
		all := planOf(t, protocol(tables, "python"), f)
		weigh, mites := stepsOf(all, quarantine.StepWeigh, ""), stepsOf(all, quarantine.StepMites, "")
		if len(weigh) != 1 || weigh[0].By != on(c.weigh) || weigh[0].From > weigh[0].By || len(mites) != 1 || mites[0].By != on(c.mites) || mites[0].From > mites[0].By {
			t.Errorf("%s: weigh %+v, mites %+v", name, weigh, mites)
		}
	}
	if all := planOf(t, quarantine.Protocol{Days: 30, Within: 30, Weight: 95, Watch: 90}, fresh(10)); len(all) != 3 {
		t.Errorf("nothing beside the days is asked: %+v", all)
	}
}

// The list and the plan name one day for one thing, or the list says the plan's.
func TestTheListSaysThePlansDay(t *testing.T) {
	tables := load(t)
	f := fresh(0)
	for item, want := range map[quarantine.ItemID]struct {
		reason        string
		line, planned int
	}{
		quarantine.LookedFor: {"quarantine.why.plan-swab", 42, 60},
		quarantine.Faecal:    {"quarantine.why.plan-faecal", 28, 42},
		quarantine.FullCheck: {"quarantine.why.plan-check", 0, 83},
	} {
		g := quarantine.Judge(tables, protocol(tables, "python"), f)
		said := line(t, g.Planned(quarantine.Plan(tables, f, g)), item)
		if n := len(said.Reasons); n == 0 || said.Earliest != on(want.line) || said.Reasons[n-1].Key != want.reason || said.Reasons[n-1].Gaps["Day"] != model.DayGap(on(want.planned)) {
			t.Errorf("%s: day %d, %+v", item, said.Earliest-arrived, said.Reasons)
		}
		if len(line(t, g, item).Reasons) != len(said.Reasons)-1 {
			t.Errorf("%s: the list that was handed in is changed", item)
		}
	}
	rapid.Check(t, func(r *rapid.T) {
		p, f := protocol(tables, rapid.SampledFrom([]knowledge.ProtocolID{"short", "python", "long"}).Draw(r, "protocol")), drawn(r)
		g := quarantine.Judge(tables, p, f)
		steps := quarantine.Plan(tables, f, g)
		for i, l := range g.Planned(steps).Lines {
			last := model.Day(0)
			for _, s := range steps {
				if !s.Done && (s.Kind == quarantine.StepSwab && l.Item == quarantine.LookedFor || s.Kind == quarantine.StepFaecal && l.Item == quarantine.Faecal || s.Kind == quarantine.StepCheck && l.Item == quarantine.FullCheck) && slices.Equal(s.Agents, l.Agents) {
					last = max(last, s.From)
				}
			}
			said := slices.ContainsFunc(l.Reasons, func(why model.Label) bool {
				return slices.Contains([]string{"quarantine.why.plan-swab", "quarantine.why.plan-faecal", "quarantine.why.plan-check", "quarantine.why.plan-again"}, why.Key) && why.Gaps["Day"] == model.DayGap(last)
			})
			if differs := last > 0 && (!l.State.Met() && last > l.Earliest || g.Stale(l)); said != differs || l.Earliest != g.Lines[i].Earliest || l.State != g.Lines[i].State {
				r.Fatalf("%s: the plan's day %d, the line's %d, said %v", l.Item, last-arrived, l.Earliest-arrived, said)
			}
			if l.Item != quarantine.FullCheck && !l.State.Met() && last > 0 && max(last, f.Today) < l.Earliest {
				r.Fatalf("%s: the plan's last day %d is before the line's, %d", l.Item, last-arrived, l.Earliest-arrived)
			}
		}
	})
}

// What is met today and too old at the release is said ahead, on the line and in the plan,
// with the day from which on it is done once more; a last sample may be 30 days old, and a
// check 7 (common practice, no source).
func TestOneMoreIsSaidAhead(t *testing.T) {
	tables := load(t)
	p := protocol(tables, "python")
	for name, c := range map[string]struct {
		change      func(f *quarantine.Facts)
		swab, check int // from when on it is done once more; -1: it is not
		why         string
	}{
		"all is met": {func(*quarantine.Facts) {}, -1, -1, ""},
		"the whole shed is missing, the swab lasts until then": {func(f *quarantine.Facts) { f.Sheds = nil }, -1, -1, ""},
		"somebody came in before the last swab":                {func(f *quarantine.Facts) { f.Restarts = []quarantine.Restart{{Day: on(50), Name: "Nettle"}} }, 110, 133, "quarantine.why.plan-again"},
		"its last day":                                         {func(f *quarantine.Facts) { f.Restarts = []quarantine.Restart{{Day: on(2), Name: "Nettle"}} }, -1, -1, ""},
		"a day beyond":                                         {func(f *quarantine.Facts) { f.Restarts = []quarantine.Restart{{Day: on(3), Name: "Nettle"}} }, 63, -1, "quarantine.why.plan-again"},
		"the last waits for its answer": {func(f *quarantine.Facts) {
			f.Restarts = []quarantine.Restart{{Day: on(50), Name: "Nettle"}}
			f.Results[2].Reported = 0
		}, 110, 133, "quarantine.why.plan-again"},
	} {
		f := whole()
		c.change(&f)
		g := quarantine.Judge(tables, p, f)
		steps := quarantine.Plan(tables, f, g)
		said := g.Planned(steps)
		swab := slices.IndexFunc(steps, func(s quarantine.Step) bool {
			return s.Kind == quarantine.StepSwab && slices.Contains(s.Agents, serpent) && !s.Done
		})
		l := line(t, said, quarantine.LookedFor)
		ahead := slices.IndexFunc(l.Reasons, func(r model.Label) bool { return r.Key == "quarantine.why.plan-again" })
		switch {
		case (swab >= 0) != (c.swab >= 0) || (ahead >= 0) != (c.why != ""):
			t.Errorf("%s: step %d, reasons %v", name, swab, reasons(l))
		case swab >= 0 && (steps[swab].From != on(c.swab) || steps[swab].TooOld != on(62)):
			t.Errorf("%s: %+v", name, steps[swab])
		case ahead >= 0 && (l.Reasons[ahead].Gaps["Day"] != model.DayGap(on(c.swab)) || l.Reasons[ahead].Gaps["Taken"] != model.DayGap(on(62)) || l.Reasons[ahead].Gaps["Days"] != model.CountGap(30)):
			t.Errorf("%s: %+v", name, l.Reasons[ahead])
		}
		check := line(t, said, quarantine.FullCheck)
		if told := slices.Contains(reasons(check), "quarantine.why.plan-check"); told != (c.check >= 0) || told && check.Reasons[0].Gaps["Day"] != model.DayGap(on(c.check)) {
			t.Errorf("%s, the check: %+v", name, check.Reasons)
		}
	}
	in := whole() // older than who came in, and not too old at the release: that is another reason
	in.Restarts, in.Results[2].Taken, in.Results[3].Taken = []quarantine.Restart{{Day: on(64), Name: "Nettle"}}, on(64), on(64)
	in.Today = on(90)
	g := quarantine.Judge(tables, quarantine.Protocol{Days: 30, For: p.For, Within: 30, Weight: 95, Watch: 90}, in)
	for _, s := range stepsOf(quarantine.Plan(tables, in, g), quarantine.StepSwab, serpent) {
		if s.TooOld != 0 || !s.Done && s.From != on(65) {
			t.Errorf("older than who came in: %+v", s)
		}
	}
}

// Where mites were seen, the next look at the animal goes before every other step, one
// that is overdue too, until one saw none; common practice, no source.
func TestAfterMitesTheLookComesFirst(t *testing.T) {
	tables := load(t)
	for name, c := range map[string]struct {
		mites quarantine.Mites
		first quarantine.StepKind
	}{
		"never looked": {quarantine.Mites{Days: 42}, quarantine.StepWeigh},
		"none seen":    {quarantine.Mites{Days: 42, Why: quarantine.FromLook, From: on(10), Ends: on(52), Last: on(10), Next: on(17)}, quarantine.StepSwab},
		"seen today":   {quarantine.Mites{Days: 42, Why: quarantine.FromMites, From: on(10), Ends: on(52), Last: on(10), Next: on(17)}, quarantine.StepMites},
		"seen in its room, and not looked at since": {quarantine.Mites{Days: 42, Why: quarantine.FromMites, From: on(10), Ends: on(52), Last: on(9), Next: on(16)}, quarantine.StepMites},
		"and looked at since":                       {quarantine.Mites{Days: 42, Why: quarantine.FromMites, From: on(8), Ends: on(50), Last: on(10), Next: on(17)}, quarantine.StepSwab},
		"over":                                      {quarantine.Mites{Days: 42, Why: quarantine.FromMites, From: on(10), Ends: on(10), Over: on(10), Last: on(10), Next: on(17)}, quarantine.StepSwab},
	} {
		f := fresh(10) // the swabs of days 3 to 7 are overdue
		f.Mites = c.mites
		if c.mites.From > 0 {
			f.Weighings = []model.Day{on(10)}
		}
		f.Checks = []quarantine.Check{{Entry: entry(40), Day: on(1), Full: true}}
		f.Results = []quarantine.Result{clear(41, knowledge.FaecalAgent, 0)}
		all := planOf(t, protocol(tables, "python"), f)
		if s, there := quarantine.Next(all); !there || s.Kind != c.first || s.First != (s.Kind == quarantine.StepMites) {
			t.Errorf("%s: next is %+v", name, s)
		}
		open := slices.IndexFunc(all, func(s quarantine.Step) bool { return !s.Done })
		if first := c.first == quarantine.StepMites; first != (all[open].Kind == quarantine.StepMites) && c.mites.From > 0 {
			t.Errorf("%s: the plan begins with %s", name, all[open].Kind)
		}
		if n := len(stepsOf(all, quarantine.StepMites, "")); n != 1 {
			t.Errorf("%s: %d looks", name, n)
		}
		if done := slices.IndexFunc(all, func(s quarantine.Step) bool { return s.Done }); done != 0 && c.mites.From > 0 {
			t.Errorf("%s: what was done stands at %d", name, done)
		}
	}
}

// What was done stands with the sample that it was done with; a last sample that is too
// old by the end, or older than who came in, is taken once more.
func TestWhatIsDoneAndWhatIsAskedOnceMore(t *testing.T) {
	tables := load(t)
	p := protocol(tables, "python")
	all := planOf(t, p, whole())
	swabs := stepsOf(all, quarantine.StepSwab, serpent)
	if len(swabs) != 2 || !swabs[0].Done || !swabs[1].Done || swabs[1].On[0] != id(2) || swabs[1].From != on(62) || swabs[1].By != on(62) {
		t.Errorf("done: %+v", swabs)
	}
	if s := stepsOf(all, quarantine.StepCheck, ""); !s[0].Done || s[0].From != on(86) || s[0].By != on(86) || s[0].On[0] != id(11) {
		t.Errorf("the check: %+v", s)
	}
	if s := stepsOf(all, quarantine.StepRelease, ""); s[0].From != on(90) || s[0].By != on(90) {
		t.Errorf("the release: %+v", s)
	}
	late := whole()
	late.Restarts = []quarantine.Restart{{Day: on(50), Name: "Nettle"}} // the end is day 140
	swabs = stepsOf(planOf(t, p, late), quarantine.StepSwab, serpent)
	if len(swabs) != 3 || swabs[2].Done || swabs[2].From != on(110) || swabs[2].N != 3 || swabs[2].Of != 3 {
		t.Errorf("too old by the end: %+v", swabs)
	}
	if s := stepsOf(planOf(t, p, late), quarantine.StepCheck, ""); s[0].Done || s[0].From != on(133) || s[0].By != on(140) {
		t.Errorf("the check before the end: %+v", s)
	}
	in := whole()
	in.Restarts = []quarantine.Restart{{Day: on(64), Name: "Nettle"}} // the end is day 154
	if swabs = stepsOf(planOf(t, p, in), quarantine.StepSwab, ferla); len(swabs) != 3 || swabs[2].From != on(124) {
		t.Errorf("older than who came in: %+v", swabs)
	}
	waits := whole()
	waits.Results[2].Reported = 0
	if swabs = stepsOf(planOf(t, p, waits), quarantine.StepSwab, serpent); len(swabs) != 2 || !swabs[1].Done {
		t.Errorf("one at the lab is not taken again: %+v", swabs)
	}
	found := whole()
	found.Results[2].Outcome = quarantine.Detected
	if swabs = stepsOf(planOf(t, p, found), quarantine.StepSwab, serpent); len(swabs) != 0 {
		t.Errorf("detected, and nobody settled it: %+v", swabs)
	}
	found.Results[2].Settled = on(80)
	swabs = stepsOf(planOf(t, p, found), quarantine.StepSwab, serpent)
	if len(swabs) != 2 || swabs[0].Done || swabs[0].From != on(63) || swabs[1].From < on(105) {
		t.Errorf("detected: %+v", swabs)
	}
}
