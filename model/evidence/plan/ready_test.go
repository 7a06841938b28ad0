package plan_test

import (
	"math"
	"slices"
	"strconv"
	"testing"

	"coilward/model"
	"coilward/model/evidence"
	"coilward/model/evidence/plan"
)

// exact is one animal, sampled once, without ranges.
func exact(se, sp, chance float64) plan.Facts {
	w := world{se: se, sp: sp, share: .3, spread: 3, usable: .99, test: 3200, swab: 300}
	f := w.told(herd{count: 1, chance: chance})
	f.Lab = plan.Lab{Rounds: 1, Pool: 1, Apart: 1}
	return f
}

// One sample of one animal is worked out by hand.
func TestReady_OneSampleByHand(t *testing.T) {
	for _, c := range []struct {
		se, sp, chance                  float64
		after, clear, alarmed, expected float64
	}{
		// Altman & Bland 1994 BMJ 309:102, liver scans: of 344 patients 258 are ill, 231 of these
		// and 32 of the others are "abnormal"; of 81 that are not, 27 are ill.
		{231. / 258, 54. / 86, 258. / 344, 27. / 81, 81. / 344, 32. / 344, 3500 * (1 + 263./344)},
		// 0.2 × 0.15 / (0.2 × 0.15 + 0.8 × 0.995) = 0.03 / 0.826; detected 0.174
		{.85, .995, .2, .03 / .826, .826, .004, 3500 * 1.174},
		// 0.04 × 0.6 / (0.04 × 0.6 + 0.96 × 0.99) = 0.024 / 0.9744; detected 0.0256
		{.4, .99, .04, .024 / .9744, .9744, .0096, 3500 * 1.0256},
	} {
		p := asked(t, exact(c.se, c.sp, c.chance), plan.AsLab)
		for _, got := range []struct {
			what string
			evidence.Range
			want float64
		}{
			{"chance that is left", p.Most, c.after}, {"chance that is left of the animal", p.Parts[0].Pools[0].After, c.after}, {"chance that nothing is detected", p.Clear, c.clear},
			{"chance of a false alarm", p.FalseAlarm, c.alarmed}, {"expected cost", p.Expected, c.expected},
		} {
			if !near(got.Mid, got.want, 1e-9) || !near(got.Low, got.want, 1e-9) || !near(got.High, got.want, 1e-9) {
				t.Errorf("%v, %s: %v, want %v", c, got.what, got.Range, got.want)
			}
		}
	}
}

// The size of pools that costs least is that of Dorfman 1943 Ann Math Stat 14:436, table I
// (from memory), where nearly nothing is missed and pools lose nothing.
func TestReady_SizeOfPoolsThatCostsLeast(t *testing.T) {
	for _, c := range []struct {
		chance float64
		size   int
	}{{.01, 11}, {.02, 8}, {.03, 6}, {.05, 5}, {.06, 5}, {.10, 4}, {.15, 3}, {.20, 3}} {
		w := world{se: .985, sp: .9999, share: 0, spread: 20, usable: .99, test: 1000}
		f := w.told(herd{count: 1, chance: c.chance})
		for range 839 {
			f.Animals = append(f.Animals, f.Animals[0])
		}
		f.Largest = plan.MostPool
		if got := asked(t, f, plan.PoolThenSingles).Parts[0].Size; got != c.size {
			t.Errorf("where %v carry it the cheapest pools are of %d, want %d", c.chance, got, c.size)
		}
	}
}

func TestReady_DaysAndCounts(t *testing.T) {
	f := facts()
	f.Apart = 42
	for _, c := range []struct {
		kind         plan.Kind
		days         []int // from the first on which all can be seen
		tests, swabs int
		cost         int64
		sizes        []int
	}{
		{plan.TwoSwabs, []int{0, 42}, 12, 12, 42_000, []int{1, 1, 1, 1, 1, 1}},
		{plan.PoolThenSingles, []int{0}, 2, 6, 8_200, []int{3, 3}},
		{plan.AsLab, []int{0, 30, 60}, 6, 18, 24_600, []int{3, 3}},
	} {
		p := asked(t, f, c.kind)
		var days, sizes []int
		for _, d := range p.Days {
			days = append(days, int(d-today)-10)
		}
		for _, pool := range p.Parts[0].Pools {
			sizes = append(sizes, len(pool.Animals))
		}
		if !slices.Equal(days, c.days) || p.Tests != c.tests || p.Swabs != c.swabs || p.Cost != c.cost || !slices.Equal(sizes, c.sizes) || p.Known != p.Days[len(p.Days)-1]+5 {
			t.Errorf("%d: days %v, %d tests, %d swabs for %d, pools of %v, known on %v", c.kind, days, p.Tests, p.Swabs, p.Cost, sizes, p.Known)
		}
	}
}

// Without a lab's word, and with nobody to share a pool with, there is one ready plan.
func TestReady_OnlyWhatThereIs(t *testing.T) {
	kinds := func(f plan.Facts) (all []plan.Kind) {
		t.Helper()
		ready, err := f.Ready()
		if err != nil {
			t.Fatal(err)
		}
		for _, r := range ready {
			all = append(all, r.Kind)
		}
		return all
	}
	for _, c := range []struct {
		what   string
		change func(*plan.Facts)
		want   []plan.Kind
	}{
		{"all", func(*plan.Facts) {}, []plan.Kind{plan.TwoSwabs, plan.PoolThenSingles, plan.AsLab}},
		{"no lab", func(f *plan.Facts) { f.Lab = plan.Lab{} }, []plan.Kind{plan.TwoSwabs, plan.PoolThenSingles}},
		{"no pools", func(f *plan.Facts) { f.Largest, f.Lab.Pool = 1, 1 }, []plan.Kind{plan.TwoSwabs, plan.AsLab}},
		{"one animal", func(f *plan.Facts) { f.Animals = f.Animals[:1] }, []plan.Kind{plan.TwoSwabs, plan.AsLab}},
		{"all different", func(f *plan.Facts) {
			for i := range f.Animals {
				f.Animals[i].Chance.Mid += float64(i) / 100
			}
		}, []plan.Kind{plan.TwoSwabs, plan.AsLab}},
	} {
		f := facts()
		c.change(&f)
		if got := kinds(f); !slices.Equal(got, c.want) {
			t.Errorf("%s: ready are %v, want %v", c.what, got, c.want)
		}
	}
}

// Animals share pools where the same is known of them and samples see them from the same
// week on; their own places stay with them.
func TestParts(t *testing.T) {
	f := facts()
	f.Animals[1].Chance.Mid = .25
	f.Animals[2].Earlier = 1
	f.Animals[3].Exposed = today // 4 days later than the rest: a week
	f.Animals[4].Exposed = today - 11
	f.Animals = append(f.Animals, f.Animals[1])
	for i := range f.Animals {
		f.Animals[i].Exposed -= 3
	}
	got := asked(t, f, plan.AsLab)
	var parts [][]int
	for _, p := range got.Parts {
		parts = append(parts, p.Animals)
	}
	// of 0 and 5 samples see from the same week on, of 4 from today
	if want := [][]int{{0, 5}, {1, 6}, {2}, {3}, {4}}; !slices.EqualFunc(parts, want, slices.Equal) {
		t.Errorf("parts are %v, want %v", parts, want)
	}
	if got.Days[0] != today+14 {
		t.Errorf("the first day on which all can be seen is %v", got.Days[0]-today)
	}
}

func TestCheck(t *testing.T) {
	for _, c := range []struct {
		field, value string
		change       func(*plan.Facts)
	}{
		{"sensitivity", "1", func(f *plan.Facts) { f.Way.Sensitivity.High = 1 }},
		{"latent", "15", func(f *plan.Facts) { f.Latent.Low = 15 }},
		{"plan.target", "0", func(f *plan.Facts) { f.Target = 0 }},
		{"plan.target", "100", func(f *plan.Facts) { f.Target = 1 }},
		{"plan.target", "112.5", func(f *plan.Facts) { f.Target = 1.125 }},
		{"plan.chance", "0.625", func(f *plan.Facts) { f.Animals[2].Chance.Mid = .625 }},
		{"plan.target", "NaN", func(f *plan.Facts) { f.Target = math.NaN() }},
		{"plan.chance", "0.2", func(f *plan.Facts) { f.Animals[5].Chance.Low = 0 }},
		{"plan.chance", "0.2", func(f *plan.Facts) { f.Animals[5].Chance.High = 1 }},
		{"plan.chance", "0.01", func(f *plan.Facts) { f.Animals[0].Chance.Mid = .01 }},
		{"plan.chance", "0.5", func(f *plan.Facts) { f.Animals[0].Chance.Mid = .5 }},
		{"plan.test", "-1", func(f *plan.Facts) { f.Price.Test = -1 }},
		{"plan.test", "1000000001", func(f *plan.Facts) { f.Price.Test = 1_000_000_001 }},
		{"plan.swab", "-1", func(f *plan.Facts) { f.Price.Swab = -1 }},
		{"plan.budget", "-1", func(f *plan.Facts) { f.Budget = -1 }},
		{"plan.budget", "12", func(f *plan.Facts) { f.Price, f.Budget = plan.Price{}, 12 }},
		{"plan.latest", (today - 1).String(), func(f *plan.Facts) { f.Latest = today - 1 }},
		{"plan.animals", "0", func(f *plan.Facts) { f.Animals = nil }},
		{"plan.animals", "1002", func(f *plan.Facts) { f.Animals = slices.Repeat(f.Animals, 167) }},
		{"plan.lab-days", "-1", func(f *plan.Facts) { f.LabDays = -1 }},
		{"plan.lab-days", "1099", func(f *plan.Facts) { f.LabDays = 1099 }},
		{"plan.largest", "0", func(f *plan.Facts) { f.Largest = 0 }},
		{"plan.largest", "21", func(f *plan.Facts) { f.Largest = 21 }},
		{"plan.rounds", "0", func(f *plan.Facts) { f.Rounds = 0 }},
		{"plan.rounds", "27", func(f *plan.Facts) { f.Rounds = 27 }},
		{"plan.apart", "0", func(f *plan.Facts) { f.Apart = 0 }},
		{"plan.earlier", "-1", func(f *plan.Facts) { f.Animals[3].Earlier = -1 }},
		{"plan.earlier", "101", func(f *plan.Facts) { f.Animals[3].Earlier = 101 }},
		{"plan.earlier", "0", func(f *plan.Facts) { f.Animals[3].Others = []plan.Missed{{By: f.Way}} }},
		{"plan.earlier", "101", func(f *plan.Facts) { f.Animals[3].Others = []plan.Missed{{By: f.Way, Times: 101}} }},
		{"sensitivity", "0", func(f *plan.Facts) {
			f.Animals[3].Others = []plan.Missed{{By: evidence.Way{Share: f.Way.Share, Specificity: .9, Spread: 3, Usable: .9}, Times: 1}}
		}},
		{"plan.lab-rounds", "0", func(f *plan.Facts) { f.Lab.Rounds = 0 }},
		{"plan.lab-rounds", "27", func(f *plan.Facts) { f.Lab.Rounds = 27 }},
		{"plan.lab-pool", "0", func(f *plan.Facts) { f.Lab.Pool = 0 }},
		{"plan.lab-pool", "21", func(f *plan.Facts) { f.Lab.Pool = 21 }},
		{"plan.lab-pool", "6", func(f *plan.Facts) { f.Lab.Pool = 6 }},
		{"plan.lab-apart", "0", func(f *plan.Facts) { f.Lab.Apart = 0 }},
		{"plan.lab-apart", "1099", func(f *plan.Facts) { f.Lab.Apart = 1099 }},
	} {
		f := facts()
		c.change(&f)
		refused := f.Check()
		if refused == nil || refused.Field != c.field || refused.Value != c.value {
			t.Errorf("%s %s: refused %v", c.field, c.value, refused)
			continue
		}
		if least, most := refused.Gaps["Least"].Number, refused.Gaps["Most"].Number; refused.Reason == "number.range" && (most <= least || c.value != strconv.FormatInt(least-1, 10) && c.value != strconv.FormatInt(most+1, 10) && c.field != "plan.animals") {
			t.Errorf("%s %s: told are the limits %d and %d", c.field, c.value, least, most)
		}
		if _, err := f.Ready(); err == nil {
			t.Errorf("%s: ready plans are made", c.field)
		}
		if _, err := f.Search(t.Context(), nil); err == nil {
			t.Errorf("%s: plans are searched", c.field)
		}
	}
	f := facts()
	f.LabDays, f.Largest, f.Rounds, f.Apart, f.Price, f.Lab = 1098, plan.MostPool, plan.MostRounds, 1, plan.Price{Test: 1_000_000_000}, plan.Lab{Rounds: plan.MostRounds, Pool: plan.MostPool, Apart: 1098}
	f.Animals = slices.Repeat(f.Animals[:5], 200)
	f.Animals[0].Earlier = 100
	f.Latest, f.Budget, f.Price.Test = today, 1, 0
	f.Price.Swab = 1
	if refused := f.Check(); refused != nil {
		t.Errorf("from today on, at the least price: %v", refused)
	}
	f.Latest, f.Budget, f.Price = 0, 1_000_000_000, plan.Price{Test: 1_000_000_000}
	if refused := f.Check(); refused != nil {
		t.Errorf("at the limits: %v", refused)
	}
}

// A plan that is known after the last day, or is expected to cost more than is wanted, says so.
func TestReady_LateAndDear(t *testing.T) {
	f := facts()
	p := asked(t, f, plan.TwoSwabs)
	for _, c := range []struct {
		latest     model.Day
		budget     int64
		late, dear bool
	}{
		{0, 0, false, false}, {p.Known, 0, false, false}, {p.Known - 1, 0, true, false},
		{0, int64(p.Expected.Mid) + 1, false, false}, {0, int64(p.Expected.Mid) - 1, false, true}, {p.Known - 1, 1, true, true},
	} {
		f.Latest, f.Budget = c.latest, c.budget
		if got := asked(t, f, plan.TwoSwabs); got.Late != c.late || got.Dear != c.dear {
			t.Errorf("known on %v for %v, wanted by %v for %d: late %v, dear %v", got.Known, got.Expected.Mid, c.latest, c.budget, got.Late, got.Dear)
		}
	}
	exactly := exact(.85, .995, .2)
	for budget, dear := range map[int64]bool{4109: false, 4108: true} { // 3500 × 1.174, as by hand above
		exactly.Budget = budget
		if got := asked(t, exactly, plan.AsLab); got.Dear != dear {
			t.Errorf("expected are %v of %d: dear %v", got.Expected.Mid, budget, got.Dear)
		}
	}
}

// A target that a plan meets but for rounding is met; one that lies below it is not.
func TestReady_Enough(t *testing.T) {
	f := facts()
	left := asked(t, f, plan.AsLab).Most
	for _, c := range []struct {
		cautious bool
		target   float64
		want     bool
	}{
		{false, left.Mid, true}, {false, left.Mid * (1 - 1e-10), true}, {false, left.Mid * (1 - 1e-8), false}, {false, left.Mid * (1 + 1e-8), true},
		{true, left.Mid, false}, {true, .5, true},
	} {
		f.Target, f.Cautious = c.target, c.cautious
		if got := asked(t, f, plan.AsLab); got.Enough != c.want {
			t.Errorf("%v left, wanted %v, cautious %v: enough is %v", got.Most, c.target, c.cautious, got.Enough)
		}
	}
}

// Of plans that cost the same and are known on the same day, it is the one with fewer
// rounds, then with smaller pools.
func TestSearch_Ties(t *testing.T) {
	f := facts()
	f.Price = plan.Price{}
	a := search(t, f)
	if len(a.Plans) != 1 || a.Plans[0].Parts[0].Rounds != 2 || a.Plans[0].Parts[0].Size != 1 {
		t.Fatalf("for nothing: %+v", a.Plans)
	}
	if size := asked(t, f, plan.PoolThenSingles).Parts[0].Size; size != 2 {
		t.Errorf("for nothing the pools are of %d", size)
	}
	// where one that is seen later makes room for more rounds, or for larger pools
	f.Animals[5].Exposed, f.Target = today+100, .1
	a = search(t, f)
	if len(a.Plans) != 1 || a.Plans[0].Parts[0].Rounds != 1 || a.Plans[0].Parts[0].Size != 1 || a.Plans[0].Parts[1].Rounds != 1 {
		t.Errorf("for nothing, beside one that is seen later: %+v", a.Plans)
	}
	if f.Target = .5; search(t, f).Why[0].Why != plan.Already {
		t.Error("nothing needs to be done")
	}
}

// Two kinds of animals end together: who needs fewer rounds joins later, and of whom enough
// is known takes no part.
func TestSearch_Together(t *testing.T) {
	f := facts()
	f.Largest, f.Lab = 1, plan.Lab{}
	f.Animals[0].Chance = evidence.Range{Low: .001, Mid: .005, High: .01}
	f.Animals[1].Chance = evidence.Range{Low: .01, Mid: .03, High: .2}
	p := search(t, f).Plans[0]
	var rounds []int
	for _, part := range p.Parts {
		rounds = append(rounds, part.Rounds)
	}
	if !slices.Equal(rounds, []int{0, 1, 2}) || len(p.Days) != 2 || p.Days[1]-p.Days[0] != model.Day(f.Apart) || p.Tests != 9 || p.Swabs != 9 || !near(p.Parts[0].Pools[0].After.High, f.Animals[0].Chance.High, 1e-9) {
		t.Errorf("rounds %v on %v, %d tests", rounds, p.Days, p.Tests)
	}
}

// Six newcomers: each more round lets the pools be larger and the whole cheaper.
func TestSearch_SixNewcomers(t *testing.T) {
	a := search(t, facts())
	type row struct {
		size, rounds int
		cost         int64
		known        int
	}
	var got []row
	for _, p := range a.Plans {
		got = append(got, row{p.Parts[0].Size, p.Parts[0].Rounds, p.Cost, int(p.Known - today)})
	}
	if want := []row{{3, 4, 32_800, 57}, {2, 3, 34_200, 43}, {1, 2, 42_000, 29}}; !slices.Equal(got, want) {
		t.Errorf("plans are %v, want %v", got, want)
	}
	tried := map[[2]int]plan.Point{}
	for _, p := range a.Tried {
		tried[[2]int{p.Size, p.Rounds}] = p
	}
	if len(tried) != len(a.Tried) || len(tried) != 3*8 {
		t.Errorf("%d points of %d sizes and rounds: six make pools of 1, 2 and 3", len(a.Tried), len(tried))
	}
	for _, p := range a.Plans {
		if at := tried[[2]int{p.Parts[0].Size, p.Parts[0].Rounds}]; at.Known != p.Known || !near(at.Cost, p.Expected.Mid, 1e-9) || !at.Enough {
			t.Errorf("the plan %v was tried as %+v", p.Days, at)
		}
	}
	if tried[[2]int{3, 3}].Enough || tried[[2]int{1, 1}].Enough {
		t.Error("three rounds of three, and one swab, are not enough")
	}
}

// One round that is enough is on the first day on which a sample can see.
func TestSearch_OnTheFirstDay(t *testing.T) {
	f := facts()
	f.Target = .1 // one swab leaves 3,000 of 82,600
	soonest := search(t, f).Plans
	p := soonest[len(soonest)-1]
	if first := f.Animals[0].Exposed + model.Day(f.Latent.Mid); len(p.Days) != 1 || p.Days[0] != first || p.Known != first+model.Day(f.LabDays) {
		t.Errorf("on %v, known on %v; the first day on which a sample can see is %v", p.Days, p.Known, first)
	}
}

// A pool may be as large as is allowed, and the last day is one that may be used.
func TestSearch_Limits(t *testing.T) {
	f := facts()
	all := search(t, f)
	f.Largest = 3
	if a := search(t, f); len(a.Tried) != 24 || len(a.Plans) != 3 {
		t.Errorf("pools of 3 allowed: %d tried, %d plans", len(a.Tried), len(a.Plans))
	}
	f.Rounds = 4
	if a := search(t, f); len(a.Plans) != 3 {
		t.Errorf("four rounds allowed: %d plans", len(a.Plans))
	}
	for i, p := range all.Plans {
		f.Latest = p.Known
		if a := search(t, f); len(a.Plans) != 3-i || a.Plans[0].Known != p.Known {
			t.Errorf("known by %v: %d plans", f.Latest, len(a.Plans))
		}
	}
	if a := search(t, f); len(a.Tried) != 3*2 || !slices.ContainsFunc(a.Tried, func(p plan.Point) bool { return p.Known == f.Latest }) {
		t.Errorf("known by %v: tried are %v", f.Latest, a.Tried)
	}
	f.Latest = all.Plans[2].Known - 1
	if a := search(t, f); len(a.Plans) > 0 || len(a.Why) != 1 || a.Why[0].Why != plan.Late || a.Why[0].Day != f.Latest+1 {
		t.Errorf("known a day too early: %+v", a.Why)
	}
}

// Why there is none: what would do of the budget where time is kept, and of the time where
// the budget is; of all plans where neither can be.
func TestSearch_WhyThereIsNone(t *testing.T) {
	f := facts()
	all := search(t, f).Plans // cheapest first, soonest last
	cost := func(i int) float64 { return all[i].Expected.Mid }
	dear := func(i int) plan.Reason { return plan.Reason{Why: plan.Dear, Cost: all[i].Expected} }
	late := func(i int) plan.Reason { return plan.Reason{Why: plan.Late, Day: all[i].Known} }
	soon := all[2].Known - 1
	for _, c := range []struct {
		what   string
		latest model.Day
		budget int64
		want   []plan.Reason
	}{
		{"the last in time, the second in budget", all[2].Known, int64(cost(1)) + 1, []plan.Reason{dear(2), late(1)}},
		{"two in time, the first in budget", all[1].Known, int64(cost(0)) + 1, []plan.Reason{dear(1), late(0)}},
		{"none in budget", 0, 1, []plan.Reason{dear(0)}},
		{"the last in time, none in budget", all[2].Known, 1, []plan.Reason{dear(2)}},
		{"none in time", soon, 0, []plan.Reason{late(2)}},
		{"none in time, the second in budget", soon, int64(cost(1)) + 1, []plan.Reason{late(1)}},
		{"none in either", soon, 1, []plan.Reason{dear(0), late(2)}},
	} {
		f.Latest, f.Budget = c.latest, c.budget
		a := search(t, f)
		same := slices.EqualFunc(a.Why, c.want, func(a, b plan.Reason) bool {
			return a.Why == b.Why && near(a.Cost.Low, b.Cost.Low, 1e-6) && near(a.Cost.Mid, b.Cost.Mid, 1e-6) && near(a.Cost.High, b.Cost.High, 1e-6) && a.Day == b.Day
		})
		if len(a.Plans) != 0 || !same {
			t.Errorf("%s: %d plans, %+v, want %+v", c.what, len(a.Plans), a.Why, c.want)
		}
	}
}

// What so many rounds leave is reached by so many rounds, and nothing less is.
func TestSearch_ManyRounds(t *testing.T) {
	f := facts()
	f.Way.Share, f.Target = evidence.Exactly(.9), 1e-9
	why := search(t, f).Why[0]
	if why.Why != plan.Rounds || why.Needed != 0 || why.Left.Mid <= f.Target || why.Left.Low >= why.Left.Mid || why.Left.High <= why.Left.Mid {
		t.Fatalf("for nearly nothing: %+v", why)
	}
	if f.Target = why.Left.Mid; search(t, f).Why[0].Needed != plan.ManyRounds {
		t.Errorf("%v takes %+v", f.Target, search(t, f).Why)
	}
	if f.Target = why.Left.Mid * (1 - 1e-6); search(t, f).Why[0].Needed != 0 {
		t.Errorf("%v takes %+v", f.Target, search(t, f).Why)
	}
	// the two ends are what so many rounds leave there
	f.Rounds, f.Target, f.Cautious = 1, why.Left.High*(1-1e-6), true
	if worst := search(t, f).Why[0]; worst.Needed != 0 || !near(worst.Left.High, why.Left.High, 1e-9) || !near(worst.Left.Low, why.Left.Low, 1e-9) {
		t.Errorf("at the worst end: %+v", worst)
	}
	if f.Target = why.Left.High; search(t, f).Why[0].Needed != plan.ManyRounds {
		t.Errorf("at the worst end %v takes %+v", f.Target, search(t, f).Why)
	}
}

// How surely a plan is enough, and whether it is what was wanted.
func TestPlan_Verdict(t *testing.T) {
	f := facts()
	two := asked(t, f, plan.TwoSwabs)
	for _, c := range []struct {
		target   float64
		cautious bool
		want     plan.Verdict
		enough   bool
	}{
		{two.Most.High, false, plan.AtTheWorst, true}, {two.Most.High * (1 - 1e-6), false, plan.IfAssumed, true}, {two.Most.Mid, false, plan.IfAssumed, true},
		{two.Most.Mid * (1 - 1e-6), false, plan.NotEnough, false}, {two.Most.High * (1 - 1e-6), true, plan.NotEnough, false}, {two.Most.High, true, plan.AtTheWorst, true},
	} {
		f.Target, f.Cautious, f.Latest, f.Budget = c.target, c.cautious, 0, 0
		got := asked(t, f, plan.TwoSwabs)
		if c.cautious { // it begins later, and is held against what it leaves
			f.Target = got.Most.High * c.target / two.Most.High
			got = asked(t, f, plan.TwoSwabs)
		}
		if got.Verdict != c.want || got.Enough != c.enough || got.Wanted() != c.enough {
			t.Errorf("%v, cautious %v: %s, enough %v, wanted %v", c.target, c.cautious, got.Verdict, got.Enough, got.Wanted())
		}
		f.Latest = got.Known - 1
		if got := asked(t, f, plan.TwoSwabs); got.Wanted() {
			t.Errorf("%v: it is wanted, too late", c.target)
		}
		f.Latest, f.Budget = 0, 1
		if got := asked(t, f, plan.TwoSwabs); got.Wanted() {
			t.Errorf("%v: it is wanted, too dear", c.target)
		}
	}
}

// The laboratory's pools may be smaller than asked for, which the plan tells beside what was asked.
func TestReady_PoolsThatAreSmallerThanTheLaboratoryAsksFor(t *testing.T) {
	for _, c := range []struct {
		what                 string
		change               func(*plan.Facts)
		pool, largest, tests int
	}{
		{"as asked", func(f *plan.Facts) { f.Lab.Pool = 3 }, 3, 3, 2},
		{"as even as can be", func(f *plan.Facts) { f.Lab.Pool = 5 }, 5, 3, 2},
		{"too few animals", func(f *plan.Facts) { f.Animals, f.Lab.Pool = f.Animals[:2], 5 }, 5, 2, 1},
		{"all different", func(f *plan.Facts) {
			f.Lab.Pool = 3
			for i := range f.Animals {
				f.Animals[i].Chance.Mid += float64(i) / 100
			}
		}, 3, 1, 6},
		{"each alone", func(f *plan.Facts) { f.Lab.Pool = 1 }, 1, 1, 6},
		{"two that share none", func(f *plan.Facts) {
			f.Lab.Pool, f.Animals[0].Alone, f.Animals[4].Alone = 3, true, true
		}, 3, 2, 4},
	} {
		f := facts()
		f.Lab.Rounds = 1
		c.change(&f)
		ready, err := f.Ready()
		if err != nil {
			t.Fatal(err)
		}
		lab := ready[len(ready)-1]
		if lab.Kind != plan.AsLab || lab.Pool != c.pool || lab.Largest() != c.largest || lab.Tests != c.tests {
			t.Errorf("%s: %d asked for, the largest has %d, %d tests", c.what, lab.Pool, lab.Largest(), lab.Tests)
		}
		if ready[0].Pool != 0 || ready[0].Largest() != 1 {
			t.Errorf("%s: two swabs have pools of %d, %d asked for", c.what, ready[0].Largest(), ready[0].Pool)
		}
	}
}

// Who is to be sampled singly shares no pool of any plan, ready or searched.
func TestAnimal_Alone(t *testing.T) {
	f := facts()
	f.Animals[1].Alone, f.Animals[2].Alone = true, true
	ready, err := f.Ready()
	if err != nil {
		t.Fatal(err)
	}
	found, err := f.Search(t.Context(), nil)
	if err != nil || len(found.Plans) == 0 {
		t.Fatalf("%v: %+v", err, found.Why)
	}
	plans, pools := found.Plans, 0
	for _, r := range ready {
		plans = append(plans, r.Plan)
	}
	for _, p := range plans {
		for _, part := range p.Parts {
			for _, pool := range part.Pools {
				if len(pool.Animals) == 1 {
					continue
				}
				pools++
				if slices.Contains(pool.Animals, 1) || slices.Contains(pool.Animals, 2) {
					t.Errorf("a pool of %v", pool.Animals)
				}
			}
		}
	}
	if pools == 0 {
		t.Error("nobody shares a pool")
	}
}

// Pools of those that take no part are no pools of the plan.
func TestPlan_Largest(t *testing.T) {
	three := []plan.Pool{{Animals: []int{0, 1, 2}}}
	for want, p := range map[int]plan.Plan{
		1: {Parts: []plan.Part{{Pools: three}}},
		2: {Parts: []plan.Part{{Pools: three}, {Rounds: 1, Pools: []plan.Pool{{Animals: []int{3, 4}}, {Animals: []int{5}}}}}},
		3: {Parts: []plan.Part{{Rounds: 1, Pools: three}}},
	} {
		if got := p.Largest(); got != want {
			t.Errorf("the largest has %d, want %d", got, want)
		}
	}
}

// Who can be seen later joins on the first of the days, whole weeks after the first, on which it
// can.
func TestReady_JoinsOnWholeWeeks(t *testing.T) {
	for later, want := range map[model.Day]model.Day{0: 0, 1: 7, 7: 7, 8: 14} {
		f := facts()
		f.Animals[5].Exposed += later
		first := f.Animals[0].Exposed + model.Day(f.Latent.Mid)
		if got := asked(t, f, plan.TwoSwabs).Days[0]; got != first+want {
			t.Errorf("one that is seen %d days later: %d days after the first, want %d", later, got-first, want)
		}
	}
}

// That it is not known how well an earlier sample was looked through is a range of the plan, also
// where all else is known.
func TestPlan_EarlierSamplesOfAWayThatIsARange(t *testing.T) {
	f := exact(.85, .995, .2)
	f.Animals[0].Others = []plan.Missed{{By: f.Way, Times: 2}}
	if most := asked(t, f, plan.AsLab).Most; most.Low != most.High {
		t.Fatalf("all is known: %v", most)
	}
	f.Animals[0].Others[0].By.Sensitivity = evidence.Range{Low: .5, Mid: .7, High: .9}
	if most := asked(t, f, plan.AsLab).Most; !(most.Low < most.Mid && most.Mid < most.High) {
		t.Errorf("another way found from 50 to 90 in 100: %v", most)
	}
}

// Of the laboratory a pool without rounds is refused at the rounds, and a larger one than is wanted
// at the pool.
func TestLimits_OfTheLaboratory(t *testing.T) {
	f := facts()
	for _, pool := range []int{1, 4} {
		f.Lab = plan.Lab{Pool: pool, Apart: 42}
		if r := f.Limits(); r == nil || r.Field != "plan.lab-rounds" || r.Reason != "plan.lab-rounds" || r.Gaps["Pool"].Number != int64(pool) {
			t.Errorf("pools of %d without rounds: %+v", pool, r)
		}
	}
	f.Lab = plan.Lab{Rounds: 2, Pool: 6, Apart: 42}
	if r := f.Limits(); r == nil || r.Field != "plan.lab-pool" || r.Value != "6" || r.Gaps["Most"].Number != 5 {
		t.Errorf("a pool of six where five are the most: %+v", r)
	}
	for _, lab := range []plan.Lab{{}, {Rounds: 1, Pool: 5, Apart: 1}} {
		if f.Lab = lab; f.Limits() != nil {
			t.Errorf("%+v is refused: %+v", lab, f.Limits())
		}
	}
}

// Without a price tests are counted.
func TestPrice_OrTests(t *testing.T) {
	for price, want := range map[plan.Price]plan.Price{{}: {Test: plan.OneTest}, {Test: 1}: {Test: 1}, {Swab: 1}: {Swab: 1}} {
		if got, counted := price.OrTests(); got != want || counted != (price == plan.Price{}) {
			t.Errorf("%+v: %+v, counted %v", price, got, counted)
		}
	}
}

func benchmark(b *testing.B, f plan.Facts) {
	for b.Loop() {
		if a, err := f.Search(b.Context(), func(int, int) {}); err != nil || len(a.Plans) == 0 {
			b.Fatal(err, a.Why)
		}
	}
}

// 200 animals of four origins, with ranges, in pools of up to 10.
func BenchmarkSearch_200OfFourOrigins(b *testing.B) {
	f := facts()
	f.Largest, f.Rounds, f.Animals = 10, 12, nil
	for i := range 200 {
		mid := []float64{.02, .08, .2, .35}[i%4]
		f.Animals = append(f.Animals, plan.Animal{Chance: evidence.Range{Low: mid / 2, Mid: mid, High: min(.9, mid*2)}, Exposed: today - 50})
	}
	benchmark(b, f)
}

// 200 animals of which of each something else is known.
func BenchmarkSearch_200AllDifferent(b *testing.B) {
	f := facts()
	f.Largest, f.Rounds, f.Animals = 10, 12, nil
	for i := range 200 {
		mid := .02 + float64(i)/1000
		f.Animals = append(f.Animals, plan.Animal{Chance: evidence.Range{Low: mid / 2, Mid: mid, High: mid * 2}, Exposed: today - model.Day(i%60), Earlier: i % 3})
	}
	benchmark(b, f)
}

// 200 animals at the worst end of all ranges, in pools as large as can be.
func BenchmarkSearch_200Cautious(b *testing.B) {
	f := facts()
	f.Largest, f.Rounds, f.Cautious, f.Target, f.Animals = plan.MostPool, plan.MostRounds, true, .1, nil
	for i := range 200 {
		mid := []float64{.02, .08, .2, .35}[i%4]
		f.Animals = append(f.Animals, plan.Animal{Chance: evidence.Range{Low: mid / 2, Mid: mid, High: min(.9, mid*2)}, Exposed: today - 50})
	}
	benchmark(b, f)
}
