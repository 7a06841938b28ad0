package evidence_test

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"coilward/model"
	"coilward/model/evidence"
)

// ends are the parts of a case that may be a range, each with an end: -1, 0 or 1.
type ends struct{ prior, sensitivity, share, latent, daily int }

// at is the case with each range at one of its ends.
func (e ends) at(c evidence.Case) evidence.Case {
	of := func(r evidence.Range, end int) evidence.Range {
		return evidence.Exactly(map[int]float64{-1: r.Low, 0: r.Mid, 1: r.High}[end])
	}
	then := evidence.Case{Samples: c.Samples}
	days := map[int]int{-1: c.Latent.Low, 0: c.Latent.Mid, 1: c.Latent.High}[e.latent]
	then.Latent.Low, then.Latent.Mid, then.Latent.High = days, days, days
	for _, w := range c.Ways {
		w.Sensitivity, w.Share = of(w.Sensitivity, e.sensitivity), of(w.Share, e.share)
		then.Ways = append(then.Ways, w)
	}
	for _, a := range c.Animals {
		a.Prior = of(a.Prior, e.prior)
		var all []evidence.Exposure
		for _, x := range a.Exposed {
			x.Daily = of(x.Daily, e.daily)
			all = append(all, x)
		}
		a.Exposed = all
		then.Animals = append(then.Animals, a)
	}
	return then
}

// over is the lowest and the highest of what a case tells at what is assumed, at each end
// alone and at all ends together, each worked out of figures that are no ranges.
func over(c evidence.Case, tell func(evidence.Case) float64) evidence.Range {
	r := evidence.Exactly(tell(c))
	take := func(e ends) {
		x := tell(e.at(c))
		r.Low, r.High = min(r.Low, x), max(r.High, x)
	}
	both := []int{-1, 1}
	for _, x := range both {
		for _, alone := range []ends{{prior: x}, {sensitivity: x}, {share: x}, {latent: x}, {daily: x}} {
			take(alone)
		}
	}
	for _, p := range both {
		for _, s := range both {
			for _, h := range both {
				for _, l := range both {
					for _, d := range both {
						take(ends{p, s, h, l, d})
					}
				}
			}
		}
	}
	return r
}

func likeRange(a, b evidence.Range) bool {
	return math.Abs(a.Low-b.Low) < close && math.Abs(a.Mid-b.Mid) < close && math.Abs(a.High-b.High) < close
}

// A chance as a range is what comes of its ends, whichever of them are ranges; one alone too,
// of one animal of several or of one way of several.
func TestChance_IsTakenOverItsEnds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c, day := drawnCase(t)
		for i := range c.Animals {
			c.Animals[i].Exposed = append(c.Animals[i].Exposed, evidence.Exposure{From: 3, To: 9, Daily: evidence.Exactly(.02)})
		}
		for _, part := range rapid.SliceOfNDistinct(rapid.IntRange(0, 4), 1, 5, rapid.ID).Draw(t, "ranged") {
			switch part {
			case 0:
				i := rapid.IntRange(0, len(c.Animals)-1).Draw(t, "whose")
				p := c.Animals[i].Prior.Mid
				c.Animals[i].Prior = evidence.Range{Low: p / 2, Mid: p, High: (1 + p) / 2}
			case 1:
				i := rapid.IntRange(0, 1).Draw(t, "way")
				s := c.Ways[i].Sensitivity.Mid
				c.Ways[i].Sensitivity.Low = (s + 1 - c.Ways[i].Specificity) / 2
			case 2:
				i := rapid.IntRange(0, 1).Draw(t, "way")
				c.Ways[i].Share.High = evidence.MostShare
			case 3:
				c.Latent.High += rapid.IntRange(1, 10).Draw(t, "longer")
			case 4:
				i := rapid.IntRange(0, len(c.Animals)-1).Draw(t, "whose")
				last := len(c.Animals[i].Exposed) - 1
				c.Animals[i].Exposed[last].Daily = evidence.Range{Low: .01, Mid: .02, High: .04}
			}
		}
		if refused := c.Check(); refused != nil {
			t.Fatalf("refused: %v", refused)
		}
		if got, want := c.Chance(0, day), over(c, func(c evidence.Case) float64 { return c.Chance(0, day).Mid }); !likeRange(got, want) {
			t.Fatalf("got %v, by its ends %v", got, want)
		}
		var everyone []int
		for i := range c.Animals {
			everyone = append(everyone, i)
		}
		got, _ := c.AtLeastOne(everyone, day)
		if want := over(c, func(c evidence.Case) float64 { r, _ := c.AtLeastOne(everyone, day); return r.Mid }); !likeRange(got, want) {
			t.Fatalf("at least one: got %v, by its ends %v", got, want)
		}
		for n, s := range c.Steps(0) {
			if want := over(c, func(c evidence.Case) float64 { return c.Steps(0)[n].After.Mid }); !likeRange(s.After, want) {
				t.Fatalf("step %d: got %v, by its ends %v", n, s.After, want)
			}
		}
	})
}

// Each range alone makes a range of the chance, whosever it is: a case of two animals and two
// ways in which one of each is known.
func TestChance_OneRangeAlone(t *testing.T) {
	known := func() evidence.Case {
		way := evidence.Way{Sensitivity: evidence.Exactly(.8), Share: evidence.Exactly(.3), Specificity: .99, Spread: 3, Usable: .95}
		c := evidence.Case{Ways: []evidence.Way{way, way}, Samples: []evidence.Sample{{Day: 20, Of: []int{0}}, {Day: 60, Of: []int{0}, By: 1}, {Day: 70, Of: []int{0, 1}}}}
		for range 2 {
			c.Animals = append(c.Animals, evidence.Animal{Prior: evidence.Exactly(.2), Exposed: []evidence.Exposure{{From: 10, To: 50, Daily: evidence.Exactly(.01)}, {From: 51, To: 55, Daily: evidence.Exactly(.01)}}})
		}
		c.Latent.Low, c.Latent.Mid, c.Latent.High = 14, 14, 14
		return c
	}
	if r := known().Chance(0, 100); r.Low != r.Mid || r.High != r.Mid {
		t.Fatalf("of what is known there is a range: %v", r)
	}
	for name, change := range map[string]func(*evidence.Case, int){
		"prior":       func(c *evidence.Case, i int) { c.Animals[i].Prior = evidence.Range{Low: .1, Mid: .2, High: .3} },
		"sensitivity": func(c *evidence.Case, i int) { c.Ways[i].Sensitivity = evidence.Range{Low: .7, Mid: .8, High: .9} },
		"share":       func(c *evidence.Case, i int) { c.Ways[i].Share = evidence.Range{Low: .1, Mid: .3, High: .5} },
		"daily": func(c *evidence.Case, i int) {
			c.Animals[0].Exposed[i].Daily = evidence.Range{Low: .005, Mid: .01, High: .02}
		},
		"daily, of the other": func(c *evidence.Case, i int) {
			c.Animals[1].Exposed[i].Daily = evidence.Range{Low: .005, Mid: .01, High: .02}
		},
		"latent, low":  func(c *evidence.Case, i int) { c.Latent.Low = 14 - 7*(i+1) },
		"latent, high": func(c *evidence.Case, i int) { c.Latent.High = 14 + 7*(i+1) },
	} {
		for i := range 2 {
			c := known()
			change(&c, i)
			if r := c.Chance(0, 100); !(r.Low < r.High && r.Low <= r.Mid && r.Mid <= r.High) {
				t.Errorf("%s of %d: %v", name, i, r)
			}
		}
	}
}

// A day before the first and one beyond the last sample, and each in between, is worked out
// of what is known by then alone.
func TestCourse_IsTheChanceOfEachDay(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c, _ := drawnCase(t)
		var days []model.Day
		for d := model.Day(-1); d < 42; d += 3 {
			days = append(days, d)
		}
		for i, got := range c.Course(0, days) {
			by := c
			by.Samples = slices.DeleteFunc(slices.Clone(c.Samples), func(s evidence.Sample) bool { return s.Day > days[i] })
			if want := by.Chance(0, days[i]); !likeRange(got, want) {
				t.Fatalf("day %d: %v, of what was known by then %v", days[i], got, want)
			}
		}
	})
}
