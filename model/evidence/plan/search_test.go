package plan_test

import (
	"context"
	"errors"
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"coilward/model"
	"coilward/model/evidence"
	"coilward/model/evidence/plan"
)

// scene are one or two herds, of which one may be seen later, and what is wanted of them.
type scene struct {
	world
	herds []herd
	wanted
}

func drawScene(t *rapid.T, levels []point) (s scene) {
	s.world = drawWorld(t).at(levels)
	s.herds = []herd{drawHerd(t, 3)}
	s.herds[0].sees = rapid.IntRange(-20, 20).Draw(t, "sees")
	if rapid.Bool().Draw(t, "two herds") {
		other := drawHerd(t, 3)
		other.sees = rapid.IntRange(-20, 20).Draw(t, "sees")
		if other.chance == s.herds[0].chance {
			other.chance /= 2
		}
		s.herds = append(s.herds, other)
	}
	s.wanted = wanted{
		target: rapid.SampledFrom([]float64{.002, .01, .03, .1}).Draw(t, "target"), lab: rapid.IntRange(0, 9).Draw(t, "lab days"),
		largest: rapid.IntRange(1, 3).Draw(t, "largest"), rounds: rapid.IntRange(1, 3).Draw(t, "rounds"), apart: rapid.IntRange(1, 16).Draw(t, "apart"),
	}
	if rapid.Bool().Draw(t, "by a day") {
		s.latest = rapid.IntRange(1, 60).Draw(t, "latest")
	}
	if rapid.Bool().Draw(t, "within a budget") {
		s.budget = float64(rapid.IntRange(1, 60_000).Draw(t, "budget"))
	}
	return s
}

func (s scene) facts() plan.Facts {
	f := s.told(s.herds...)
	f.Target, f.LabDays, f.Largest, f.Rounds, f.Apart, f.Budget, f.Lab = s.target, s.lab, s.largest, s.rounds, s.apart, int64(s.budget), plan.Lab{}
	if s.latest > 0 {
		f.Latest = today + model.Day(s.latest)
	}
	return f
}

func search(t interface {
	Helper()
	Fatal(...any)
}, f plan.Facts) plan.Answer {
	t.Helper()
	a, err := f.Search(context.Background(), nil)
	if err != nil {
		t.Fatal(err)
	}
	return a
}

func TestSearch_EqualsTryingEverything(t *testing.T) {
	levels := hermite(20)
	rapid.Check(t, func(t *rapid.T) {
		s := drawScene(t, levels)
		got := search(t, s.facts())
		all := s.tryAll(s.herds, s.wanted)
		inTime := slices.DeleteFunc(slices.Clone(all), func(r reached) bool { return s.latest > 0 && r.known > s.latest })
		inBudget := slices.DeleteFunc(slices.Clone(all), func(r reached) bool { return s.budget > 0 && r.cost > s.budget })
		want := slices.DeleteFunc(slices.Clone(inTime), func(r reached) bool { return !slices.Contains(inBudget, r) })
		switch {
		case s.known():
			if len(got.Plans) > 0 || len(got.Why) != 1 || got.Why[0].Why != plan.Already {
				t.Fatalf("all is known already: %+v", got)
			}
		case len(all) == 0:
			s.tooMany(t, got)
		case len(want) == 0:
			limited(t, got, all, inTime, inBudget)
		default:
			s.all(t, got, want)
		}
	})
}

// known reports whether nothing needs to be done.
func (s scene) known() bool {
	return !slices.ContainsFunc(s.herds, func(h herd) bool { return h.chance > s.target*(1+hair) })
}

func (s scene) all(t *rapid.T, got plan.Answer, want []reached) {
	if len(got.Why) > 0 || len(got.Plans) != len(want) {
		t.Fatalf("%d plans and the reasons %v; trying everything gives %v", len(got.Plans), got.Why, want)
	}
	for i, p := range got.Plans {
		if int(p.Known-today) != want[i].known || !near(p.Expected.Mid, want[i].cost, 1e-9) || !p.Enough {
			t.Fatalf("plan %d: known in %d days for %v, enough %v; trying everything gives %v", i, p.Known-today, p.Expected.Mid, p.Enough, want[i])
		}
		// what it says is that of what it does
		after, clear, quiet, cost := 0.0, 1.0, 1.0, 0.0
		for n, part := range p.Parts {
			days := since(p.Days[len(p.Days)-part.Rounds:])
			if len(days) > 0 && days[0] < max(0, s.herds[n].sees) {
				t.Fatalf("plan %d: day %d sees nothing of herd %d", i, days[0], n)
			}
			told := s.often(s.herds[n], max(1, part.Size), days)
			after, clear, quiet, cost = max(after, told.after), clear*told.clear, quiet*told.quiet, cost+told.cost
		}
		same(t, p, told{after, clear, quiet, cost}, 1e-9)
	}
}

func (s scene) tooMany(t *rapid.T, got plan.Answer) {
	if len(got.Plans) > 0 {
		t.Fatalf("plans %+v; trying everything gives none", got.Plans)
	}
	left := got.Why
	from := 0
	for _, h := range s.herds {
		animals := []int{}
		for i := range h.count {
			animals = append(animals, from+i)
		}
		from += h.count
		needed, chance := 0, 0.0
		for n := 0; n <= plan.ManyRounds && needed == 0; n++ {
			h := h
			h.count, h.sees = 1, 0
			if chance = s.often(h, 1, make([]int, n)).after; chance <= s.target*(1+hair) {
				needed = n
				break
			}
		}
		if needed > 0 && needed <= s.rounds || h.chance <= s.target {
			continue
		}
		if len(left) == 0 || left[0].Why != plan.Rounds || left[0].Needed != needed || !slices.Equal(left[0].Animals, animals) || needed == 0 && !near(left[0].Left.Mid, chance, 1e-9) {
			t.Fatalf("reasons %+v; %v need %d rounds, and %d leave %v", got.Why, animals, needed, plan.ManyRounds, chance)
		}
		left = left[1:]
	}
	if len(left) > 0 {
		t.Fatalf("reasons beyond: %+v", left)
	}
}

func limited(t *rapid.T, got plan.Answer, all, inTime, inBudget []reached) {
	var want []plan.Reason
	of := func(some []reached) []reached {
		if len(some) > 0 {
			return some
		}
		return all
	}
	if len(inBudget) == 0 || len(inTime) > 0 {
		want = append(want, plan.Reason{Why: plan.Dear, Cost: evidence.Exactly(of(inTime)[0].cost)})
	}
	if len(inTime) == 0 || len(inBudget) > 0 {
		some := of(inBudget)
		want = append(want, plan.Reason{Why: plan.Late, Day: today + model.Day(some[len(some)-1].known)})
	}
	if len(got.Plans) > 0 || !slices.EqualFunc(got.Why, want, func(a, b plan.Reason) bool {
		return a.Why == b.Why && a.Day == b.Day && near(a.Cost.Mid, b.Cost.Mid, 1e-9)
	}) {
		t.Fatalf("plans %d, reasons %+v, want %+v", len(got.Plans), got.Why, want)
	}
}

// More rounds never leave a higher chance, and never make it likelier that nothing is
// detected.
func TestPlan_OneRoundMore(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := ranged(t)
		f.Largest = 6
		f.Lab = plan.Lab{Rounds: rapid.IntRange(1, 8).Draw(t, "rounds"), Pool: rapid.IntRange(1, 6).Draw(t, "pool"), Apart: rapid.IntRange(1, 30).Draw(t, "apart")}
		one := asked(t, f, plan.AsLab)
		f.Lab.Rounds++
		more := asked(t, f, plan.AsLab)
		for i, part := range one.Parts {
			for n, pool := range part.Pools {
				a, b := pool.After, more.Parts[i].Pools[n].After
				if b.Low > a.Low+hair || b.Mid > a.Mid+hair || b.High > a.High+hair {
					t.Fatalf("%v, with one round more %v", a, b)
				}
			}
		}
		if more.Clear.Mid > one.Clear.Mid || more.FalseAlarm.Mid < one.FalseAlarm.Mid-hair || more.Expected.Mid < one.Expected.Mid || more.Cost < one.Cost {
			t.Fatalf("one round more: %+v, then %+v", one, more)
		}
	})
}

// ranged are facts with ranges.
func ranged(t *rapid.T) plan.Facts {
	f := facts()
	f.Way.Sensitivity = ordered(t, "sensitivity", .3, .9)
	f.Way.Share = ordered(t, "share", 0, .7)
	f.Way.Spread = rapid.Float64Range(1, 5).Draw(t, "spread")
	chances := []evidence.Range{ordered(t, "chance", .01, .6), ordered(t, "chance", .01, .6)}
	f.Animals = nil
	for range rapid.IntRange(1, 7).Draw(t, "animals") {
		f.Animals = append(f.Animals, plan.Animal{Chance: rapid.SampledFrom(chances).Draw(t, "of"), Exposed: today - model.Day(rapid.IntRange(0, 60).Draw(t, "exposed"))})
	}
	return f
}

func ordered(t *rapid.T, of string, low, high float64) evidence.Range {
	x := []float64{}
	for range 3 {
		x = append(x, rapid.Float64Range(low, high).Draw(t, of))
	}
	slices.Sort(x)
	return evidence.Range{Low: x[0], Mid: x[1], High: x[2]}
}

// Whoever allows a higher chance, more rounds, larger pools or more days between what is
// wanted and today never pays more.
func TestSearch_AskingLessNeverCostsMore(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := ranged(t)
		f.Cautious = rapid.Bool().Draw(t, "cautious")
		f.Rounds = rapid.IntRange(1, 6).Draw(t, "rounds")
		f.Largest, f.Lab = rapid.IntRange(1, 5).Draw(t, "largest"), plan.Lab{}
		f.Latest = today + model.Day(rapid.IntRange(20, 120).Draw(t, "latest"))
		f.Target = rapid.Float64Range(.003, .2).Draw(t, "target")
		less := f
		switch rapid.IntRange(0, 4).Draw(t, "less") {
		case 0:
			less.Target *= 1.5
		case 1:
			less.Rounds++
		case 2:
			less.Largest++
		case 3:
			less.Latest += 10
		case 4:
			less.Cautious = false
		}
		least := func(a plan.Answer) float64 {
			if len(a.Plans) == 0 {
				if len(a.Why) == 1 && a.Why[0].Why == plan.Already {
					return 0
				}
				return math.Inf(1)
			}
			return a.Plans[0].Expected.Mid
		}
		one, other := search(t, f), search(t, less)
		if f.Cautious == less.Cautious && least(other) > least(one)*(1+hair) {
			t.Fatalf("asking less costs %v, before %v", least(other), least(one))
		}
		for _, a := range []plan.Answer{one, other} {
			for i, p := range a.Plans {
				if i > 0 && (p.Expected.Mid <= a.Plans[i-1].Expected.Mid || p.Known >= a.Plans[i-1].Known) {
					t.Fatalf("plan %d is not dearer and sooner than the one before", i)
				}
				if !p.Enough || (len(a.Why) > 0) {
					t.Fatalf("plan %d is not enough, or there are reasons %v", i, a.Why)
				}
			}
		}
	})
}

// A cautious plan holds at the worst end of all ranges.
func TestSearch_Cautious(t *testing.T) {
	f := facts()
	f.Rounds, f.Cautious, f.Target = 26, true, .05
	a := search(t, f)
	if len(a.Plans) == 0 {
		t.Fatalf("no plan: %+v", a.Why)
	}
	for _, p := range a.Plans {
		if p.Most.High > f.Target || !p.Enough || p.Days[0] < f.Animals[0].Exposed+model.Day(f.Latent.High) {
			t.Errorf("a cautious plan leaves %v and begins on %v", p.Most, p.Days[0])
		}
	}
	f.Target = .01
	if a = search(t, f); len(a.Plans) > 0 || a.Why[0].Why != plan.Rounds || a.Why[0].Needed <= f.Rounds {
		t.Errorf("plans %d, why %+v", len(a.Plans), a.Why)
	}
}

func TestSearch_TellsHowFarItIsAndStops(t *testing.T) {
	f := facts()
	last, total := 0, 0
	if _, err := f.Search(t.Context(), func(done, all int) {
		if done != last+1 || all < done || all < total {
			t.Errorf("%d of %d after %d of %d", done, all, last, total)
		}
		last, total = done, all
	}); err != nil || last != total || last < 3 {
		t.Errorf("ended at %d of %d: %v", last, total, err)
	}
	for stop := 1; stop <= last; stop++ {
		ctx, cancel := context.WithCancel(t.Context())
		asked := 0
		a, err := f.Search(ctx, func(done, _ int) {
			if asked = done; done == stop {
				cancel()
			}
		})
		if !errors.Is(err, context.Canceled) || len(a.Plans) > 0 || asked != stop {
			t.Errorf("stopped at %d: %d plans, error %v, last told %d", stop, len(a.Plans), err, asked)
		}
	}
}

func TestOngoingContactHasNoPlan(t *testing.T) {
	f := facts()
	f.Animals[1].Ongoing, f.Animals[4].Ongoing = true, true
	a := search(t, f)
	if len(a.Plans) > 0 || len(a.Why) != 1 || a.Why[0].Why != plan.Ongoing || !slices.Equal(a.Why[0].Animals, []int{1, 4}) {
		t.Errorf("while contact goes on: %+v", a)
	}
	if all, err := f.Ready(); err != nil || len(all) > 0 {
		t.Errorf("while contact goes on there are %d ready plans, error %v", len(all), err)
	}
}
