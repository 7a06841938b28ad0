package plan_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"coilward/model"
	"coilward/model/evidence"
	"coilward/model/evidence/plan"
)

const today = model.Day(20_000)

// facts are plain ones: six newcomers, one thing.
func facts() plan.Facts {
	f := plan.Facts{
		Way:    evidence.Way{Sensitivity: evidence.Range{Low: .6, Mid: .85, High: .94}, Share: evidence.Range{Low: .1, Mid: .3, High: .6}, Specificity: .995, Spread: 3, Usable: .95},
		Today:  today,
		Target: .01, Price: plan.Price{Test: 3200, Swab: 300}, LabDays: 5, Largest: 5, Rounds: 8, Apart: 14,
		Lab: plan.Lab{Rounds: 3, Pool: 3, Apart: 30},
	}
	f.Latent.Low, f.Latent.Mid, f.Latent.High = 7, 14, 42
	for range 6 {
		f.Animals = append(f.Animals, plan.Animal{Chance: evidence.Range{Low: .05, Mid: .2, High: .4}, Exposed: today - 4})
	}
	return f
}

// told are facts of such a world, without ranges. The herds see from days counted from
// today; they are told of by the day on which they were exposed.
func (w world) told(herds ...herd) plan.Facts {
	f := facts()
	f.Way = w.way()
	f.Price = plan.Price{Test: int64(w.test), Swab: int64(w.swab)}
	f.Latent.Low, f.Latent.High = 14, 14
	f.Animals = nil
	for _, h := range herds {
		for range h.count {
			a := plan.Animal{Chance: evidence.Exactly(h.chance), Exposed: today + model.Day(h.sees) - 14, Earlier: h.earlier}
			if h.others > 0 {
				a.Others = []plan.Missed{{By: w.other.way(), Times: h.others}}
			}
			f.Animals = append(f.Animals, a)
		}
	}
	return f
}

// way is how such a world looks, without ranges.
func (w world) way() evidence.Way {
	return evidence.Way{Sensitivity: evidence.Exactly(w.se), Share: evidence.Exactly(w.share), Specificity: w.sp, Spread: w.spread, Usable: w.usable}
}

func drawWorld(t *rapid.T) world {
	return world{
		se: rapid.Float64Range(.3, .9).Draw(t, "sensitivity"), sp: rapid.Float64Range(.95, .999).Draw(t, "specificity"), share: rapid.Float64Range(0, .7).Draw(t, "share"),
		spread: rapid.Float64Range(1, 5).Draw(t, "spread"), usable: rapid.Float64Range(.96, .99).Draw(t, "usable"),
		test: float64(rapid.IntRange(1, 50).Draw(t, "test") * 100), swab: float64(rapid.IntRange(0, 20).Draw(t, "swab") * 50),
	}
}

func drawHerd(t *rapid.T, most int) herd {
	return herd{count: rapid.IntRange(1, most).Draw(t, "animals"), chance: rapid.Float64Range(.005, .6).Draw(t, "chance"), earlier: rapid.IntRange(0, 2).Draw(t, "earlier")}
}

// asked is the ready plan of the kind.
func asked(t interface {
	Helper()
	Fatal(...any)
}, f plan.Facts, k plan.Kind) plan.Plan {
	t.Helper()
	all, err := f.Ready()
	if err != nil {
		t.Fatal(err)
	}
	for _, r := range all {
		if r.Kind == k {
			return r.Plan
		}
	}
	t.Fatal("there is no ready plan of the kind ", k)
	return plan.Plan{}
}

func since(days []model.Day) (all []int) {
	for _, d := range days {
		all = append(all, int(d-today))
	}
	return all
}

func near(got, want, within float64) bool {
	return math.Abs(got-want) <= within*math.Max(math.Abs(want), 1e-3)
}

// same holds what a plan says, at what is assumed, against going through everything.
func same(t *rapid.T, got plan.Plan, want told, within float64) {
	t.Helper()
	for _, c := range []struct {
		what      string
		got, want float64
	}{
		{"chance that is left", got.Most.Mid, want.after}, {"chance that nothing is detected", got.Clear.Mid, want.clear},
		{"chance of a false alarm", got.FalseAlarm.Mid, 1 - want.quiet}, {"expected cost", got.Expected.Mid, want.cost},
	} {
		if !near(c.got, c.want, within) {
			t.Fatalf("%s: %v, going through everything gives %v", c.what, c.got, c.want)
		}
	}
}

func TestPlan_EqualsGoingThroughEverything(t *testing.T) {
	levels := hermite(20)
	rapid.Check(t, func(t *rapid.T) {
		w, h := drawWorld(t).at(levels), drawHerd(t, 4)
		f := w.told(h)
		f.Lab = plan.Lab{Rounds: rapid.IntRange(1, 5).Draw(t, "rounds"), Pool: rapid.IntRange(1, 4).Draw(t, "pool"), Apart: 10}
		got := asked(t, f, plan.AsLab)
		same(t, got, w.herded(h, f.Lab.Pool, since(got.Days)), 1e-9)
	})
}

// Earlier samples that were looked through in another way tell of the same shedding.
func TestPlan_EqualsGoingThroughEverythingAfterSamplesOfAnotherWay(t *testing.T) {
	levels := hermite(20)
	rapid.Check(t, func(t *rapid.T) {
		w, other, h := drawWorld(t), drawWorld(t), drawHerd(t, 3)
		w.other, h.others = &other, rapid.IntRange(1, 3).Draw(t, "by the other way")
		w = w.at(levels)
		f := w.told(h)
		f.Lab = plan.Lab{Rounds: rapid.IntRange(1, 4).Draw(t, "rounds"), Pool: rapid.IntRange(1, 3).Draw(t, "pool"), Apart: 10}
		got := asked(t, f, plan.AsLab)
		same(t, got, w.herded(h, f.Lab.Pool, since(got.Days)), 1e-9)
	})
}

// Samples of the plan's own way count the same whichever way they are told; hundreds of them leave
// a chance that is a number.
func TestPlan_EarlierSamplesCountAlikeHoweverTheyAreTold(t *testing.T) {
	f := facts()
	f.Animals = f.Animals[:3]
	for i := range f.Animals {
		f.Animals[i].Earlier = 3
	}
	want := asked(t, f, plan.AsLab)
	for i := range f.Animals {
		f.Animals[i].Earlier, f.Animals[i].Others = 1, []plan.Missed{{By: f.Way, Times: 2}}
	}
	if got := asked(t, f, plan.AsLab); !near(got.Most.High, want.Most.High, 1e-9) || !near(got.Most.Mid, want.Most.Mid, 1e-9) || len(got.Parts) != 1 {
		t.Errorf("left is %v, of as many told otherwise %v", got.Most, want.Most)
	}
	f.Way.Share = evidence.Exactly(0)
	f.Animals[0].Earlier, f.Animals[0].Others = 100, []plan.Missed{{By: f.Way, Times: 100}}
	if got := asked(t, f, plan.AsLab); !(got.Most.Mid > 0 && got.Most.High < 1) || len(got.Parts) != 2 {
		t.Errorf("after hundreds %v is left, in %d parts", got.Most, len(got.Parts))
	}
}

// Twenty levels stand for all that there are: what a plan says is within 2 in 100 of itself
// what a fine grid of them gives.
func TestPlan_LevelsAreFineEnough(t *testing.T) {
	grid := even()
	rapid.Check(t, func(t *rapid.T) {
		w, h := drawWorld(t).at(grid), drawHerd(t, 3)
		f := w.told(h)
		f.Lab = plan.Lab{Rounds: rapid.IntRange(1, 3).Draw(t, "rounds"), Pool: rapid.IntRange(1, 3).Draw(t, "pool"), Apart: 7}
		got := asked(t, f, plan.AsLab)
		same(t, got, w.herded(h, f.Lab.Pool, since(got.Days)), .02)
	})
}

// Where the latent days may be longer than is assumed, the first rounds may see nothing.
func TestPlan_LatentDaysMayBeLonger(t *testing.T) {
	levels := hermite(20)
	rapid.Check(t, func(t *rapid.T) {
		w, h := drawWorld(t).at(levels), drawHerd(t, 3)
		f := w.told(h)
		longer := rapid.IntRange(0, 60).Draw(t, "longer")
		f.Latent.High += longer
		f.Lab = plan.Lab{Rounds: rapid.IntRange(1, 4).Draw(t, "rounds"), Pool: rapid.IntRange(1, 3).Draw(t, "pool"), Apart: rapid.IntRange(1, 30).Draw(t, "apart")}
		got := asked(t, f, plan.AsLab)
		h.sees = longer
		want := w.herded(h, f.Lab.Pool, since(got.Days))
		// of the two numbers that each range is made of, the other one
		other := func(r evidence.Range) float64 { return r.Low + r.High - r.Mid }
		got.Most.Mid, got.Clear.Mid, got.FalseAlarm.Mid, got.Expected.Mid = other(got.Most), other(got.Clear), other(got.FalseAlarm), other(got.Expected)
		same(t, got, want, 1e-9)
	})
}

// What only one range makes of a plan lies within what all of them make of it.
func TestPlan_OneRangeLiesWithinAll(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := ranged(t)
		f.Largest = 6
		f.Lab = plan.Lab{Rounds: rapid.IntRange(1, 4).Draw(t, "rounds"), Pool: rapid.IntRange(1, 6).Draw(t, "pool"), Apart: rapid.IntRange(1, 30).Draw(t, "apart")}
		all := asked(t, f, plan.AsLab)
		alone := f
		alone.Animals = append([]plan.Animal{}, f.Animals...)
		of := rapid.IntRange(0, 3).Draw(t, "range")
		if of != 0 {
			for i := range alone.Animals {
				alone.Animals[i].Chance = evidence.Exactly(f.Animals[i].Chance.Mid)
			}
		}
		if of != 1 {
			alone.Way.Sensitivity = evidence.Exactly(f.Way.Sensitivity.Mid)
		}
		if of != 2 {
			alone.Way.Share = evidence.Exactly(f.Way.Share.Mid)
		}
		if of != 3 {
			alone.Latent.Low, alone.Latent.High = f.Latent.Mid, f.Latent.Mid
		}
		one := asked(t, alone, plan.AsLab)
		if len(one.Parts) != len(all.Parts) {
			return // animals of which the same is known now were told apart by their ranges
		}
		for _, r := range [][2]evidence.Range{{one.Most, all.Most}, {one.Clear, all.Clear}, {one.FalseAlarm, all.FalseAlarm}, {one.Expected, all.Expected}} {
			if in, out := r[0], r[1]; in.Low < out.Low*(1-hair) || in.High > out.High*(1+hair) || in.Low > in.Mid || in.Mid > in.High {
				t.Fatalf("range %d alone gives %v, all give %v", of, in, out)
			}
		}
	})
}
