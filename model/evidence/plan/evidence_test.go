package plan_test

import (
	"testing"

	"pgregory.net/rapid"

	"coilward/model"
	"coilward/model/evidence"
	"coilward/model/evidence/plan"
)

// When all answers of a plan have come and nothing was detected, package evidence says of
// each animal what the plan has promised.
func TestPlan_IsWhatEvidenceWillSay(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := facts()
		chance := ordered(t, "chance", .01, .9)
		f.Way.Sensitivity, f.Way.Share = ordered(t, "sensitivity", .1, .9), ordered(t, "share", 0, .9)
		f.Way.Specificity = rapid.Float64Range(.92, .999).Draw(t, "specificity")
		f.Way.Spread = rapid.Float64Range(1, 5).Draw(t, "spread")
		f.Animals = f.Animals[:rapid.IntRange(1, 6).Draw(t, "animals")]
		for i := range f.Animals {
			f.Animals[i].Chance = chance
		}
		f.Largest = 6
		f.Lab = plan.Lab{Rounds: rapid.IntRange(1, 10).Draw(t, "rounds"), Pool: rapid.IntRange(1, 6).Draw(t, "pool"), Apart: rapid.IntRange(1, 40).Draw(t, "apart")}
		p := asked(t, f, plan.AsLab)
		c := evidence.Case{Latent: f.Latent, Ways: []evidence.Way{f.Way}}
		for _, a := range f.Animals {
			c.Animals = append(c.Animals, evidence.Animal{Arrived: a.Exposed, Prior: a.Chance})
		}
		answered(&c, p)
		for _, pool := range p.Parts[0].Pools {
			for _, animal := range pool.Animals {
				got, want := pool.After, c.Chance(animal, p.Known)
				if !near(got.Low, want.Low, 1e-9) || !near(got.Mid, want.Mid, 1e-9) || !near(got.High, want.High, 1e-9) {
					t.Fatalf("animal %d: promised %v, said then %v", animal, got, want)
				}
			}
		}
	})
}

// The same where samples of these animals were not detected before: their chance of
// today is told with their number.
func TestPlan_IsWhatEvidenceWillSayAfterEarlierSamples(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		earlier := rapid.IntRange(1, 3).Draw(t, "earlier")
		f := facts()
		f.Lab = plan.Lab{Rounds: rapid.IntRange(1, 3).Draw(t, "rounds"), Pool: rapid.IntRange(1, 4).Draw(t, "pool"), Apart: 7}
		c := evidence.Case{Latent: f.Latent, Ways: []evidence.Way{f.Way}}
		for i := range f.Animals {
			a := &f.Animals[i]
			a.Exposed = today - 100
			c.Animals = append(c.Animals, evidence.Animal{Arrived: a.Exposed, Prior: a.Chance})
			for n := range earlier {
				c.Samples = append(c.Samples, evidence.Sample{Day: today - 30 + 7*model.Day(n), Of: []int{i}})
			}
		}
		for i := range f.Animals {
			f.Animals[i].Chance, f.Animals[i].Earlier = c.Chance(i, today), earlier
		}
		p := asked(t, f, plan.AsLab)
		answered(&c, p)
		for _, pool := range p.Parts[0].Pools {
			if got, want := pool.After.Mid, c.Chance(pool.Animals[0], p.Known).Mid; !near(got, want, 1e-9) {
				t.Fatalf("promised %v, said then %v", got, want)
			}
		}
	})
}

// The same where they were looked through in other ways than the plan's will be, whatever ends
// their ranges have: who sheds little does so in all of them.
func TestPlan_IsWhatEvidenceWillSayAfterSamplesOfOtherWays(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := facts()
		f.Lab = plan.Lab{Rounds: rapid.IntRange(1, 3).Draw(t, "rounds"), Pool: rapid.IntRange(1, 4).Draw(t, "pool"), Apart: 7}
		other := f.Way
		other.Sensitivity, other.Share, other.Specificity, other.Usable = ordered(t, "sensitivity", .1, .9), ordered(t, "share", 0, .9), rapid.Float64Range(.92, .999).Draw(t, "specificity"), .97
		own, others := rapid.IntRange(0, 2).Draw(t, "earlier"), rapid.IntRange(1, 3).Draw(t, "others")
		prior := rapid.Float64Range(.02, .6).Draw(t, "prior")
		c := evidence.Case{Latent: f.Latent, Ways: []evidence.Way{f.Way, other}}
		for i := range f.Animals {
			a := &f.Animals[i]
			a.Exposed = today - 100
			c.Animals = append(c.Animals, evidence.Animal{Arrived: a.Exposed, Prior: evidence.Exactly(prior)})
			for n := range own + others {
				s := evidence.Sample{Day: today - 50 + 7*model.Day(n), Of: []int{i}}
				if n >= own {
					s.By = 1
				}
				c.Samples = append(c.Samples, s)
			}
		}
		for i := range f.Animals {
			a := &f.Animals[i]
			a.Chance, a.Earlier, a.Others = c.Chance(i, today), own, []plan.Missed{{By: other, Times: others}}
		}
		p := asked(t, f, plan.AsLab)
		answered(&c, p)
		for _, pool := range p.Parts[0].Pools {
			got, want := pool.After, c.Chance(pool.Animals[0], p.Known)
			if !near(got.Mid, want.Mid, 1e-9) {
				t.Fatalf("promised %v, said then %v", got, want)
			}
			if got.High < want.High*(1-1e-9) || got.Low > want.Low*(1+1e-9) {
				t.Fatalf("promised %v, said then %v: it does not hold that", got, want)
			}
		}
	})
}

// answered are all samples of a plan, with nothing detected in them.
func answered(c *evidence.Case, p plan.Plan) {
	for _, part := range p.Parts {
		for _, day := range p.Days[len(p.Days)-part.Rounds:] {
			for _, pool := range part.Pools {
				c.Samples = append(c.Samples, evidence.Sample{Day: day, Of: pool.Animals})
			}
		}
	}
}
