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

// facts are plain ones: six newcomers, as package evidence is told of them.
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

func ready(t testing.TB, f plan.Facts, k plan.Kind) plan.Plan {
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
	t.Fatalf("no ready plan %d", k)
	return plan.Plan{}
}

func TestShow(t *testing.T) {
	f := facts()
	all, err := f.Ready()
	if err != nil {
		panic(err)
	}
	for _, r := range all {
		t.Logf("%+v", r)
	}
	a, err := f.Search(t.Context(), nil)
	t.Log(err, a.Why)
	for _, p := range a.Plans {
		t.Logf("%+v", p)
	}
	for _, p := range a.Tried {
		t.Logf("%+v", p)
	}
}

func TestAcc(t *testing.T) {
	worst := [4]float64{}
	rapid.Check(t, func(t *rapid.T) {
		f, w, h := drawn(t)
		p := ready2(f)
		days := []int{}
		for _, d := range p.Days {
			days = append(days, int(d))
		}
		want := w.herded(h, f.Lab.Pool, days)
		for i, c := range [][2]float64{{p.Most.Mid, want.after}, {p.Clear.Mid, want.clear}, {p.FalseAlarm.Mid, 1 - want.quiet}, {p.Expected.Mid, want.cost}} {
			if e := math.Abs(c[0]/c[1] - 1); e > worst[i] {
				worst[i] = e
				t.Log(i, e, c, f.Way, h, f.Lab)
			}
		}
	})
	t.Log(worst)
}

func ready2(f plan.Facts) plan.Plan {
	all, err := f.Ready()
	if err != nil {
		panic(err)
	}
	return all[len(all)-1].Plan
}

func drawn(t *rapid.T) (plan.Facts, world, herd) {
	w := world{sp: rapid.Float64Range(.95, .999).Draw(t, "sp"), se: rapid.Float64Range(.3, .9).Draw(t, "se"), share: rapid.Float64Range(0, .7).Draw(t, "share"), spread: rapid.Float64Range(1, 5).Draw(t, "spread"), usable: .95, test: 3200, swab: 300}
	h := herd{count: rapid.IntRange(1, 4).Draw(t, "n"), chance: rapid.Float64Range(.01, .6).Draw(t, "p"), earlier: rapid.IntRange(0, 2).Draw(t, "k"), sees: int(today)}
	f := facts()
	f.Way = evidence.Way{Sensitivity: evidence.Exactly(w.se), Share: evidence.Exactly(w.share), Specificity: w.sp, Spread: w.spread, Usable: w.usable}
	f.Latent.Low, f.Latent.Mid, f.Latent.High = 0, 0, 0
	f.Animals = nil
	for range h.count {
		f.Animals = append(f.Animals, plan.Animal{Chance: evidence.Exactly(h.chance), Exposed: today, Earlier: h.earlier})
	}
	f.Lab = plan.Lab{Rounds: rapid.IntRange(1, 4).Draw(t, "rounds"), Pool: rapid.IntRange(1, 4).Draw(t, "pool"), Apart: 7}
	return f, w, h
}
