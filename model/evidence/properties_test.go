package evidence_test

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"coilward/model"
	"coilward/model/evidence"
)

const close = 1e-9

// drawn draws a case and a day on which it is asked about.
func drawnCase(t *rapid.T) (c evidence.Case, day model.Day) {
	return small(t, 4, evidence.MostShare), model.Day(rapid.IntRange(0, 40).Draw(t, "as of"))
}

func with(c evidence.Case, s evidence.Sample) evidence.Case {
	c.Samples = append(slices.Clone(c.Samples), s)
	return c
}

func TestChance_ASampleOfItsOwn(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c, day := drawnCase(t)
		before := c.Chance(0, day).Mid
		s := evidence.Sample{Day: model.Day(rapid.IntRange(0, 40).Draw(t, "taken")), Of: []int{0}, By: rapid.IntRange(0, 1).Draw(t, "way"), Detected: rapid.Bool().Draw(t, "found")}
		after := with(c, s).Chance(0, day).Mid
		switch {
		case !(after > 0 && after < 1+close) || math.IsNaN(after):
			t.Fatalf("the chance is %v", after)
		case s.Day > day && after != before:
			t.Fatalf("a sample taken later moved %v to %v", before, after)
		case s.Detected && after < before-close:
			t.Fatalf("detected lowered %v to %v", before, after)
		case !s.Detected && after > before+close:
			t.Fatalf("not detected raised %v to %v", before, after)
		}
	})
}

// The same where too many hang together, so that its own pools alone are worked out, or one by one.
func TestChance_ASampleOfItsOwnWhereManyAreLinked(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c, day := drawnCase(t)
		s := evidence.Sample{Day: model.Day(rapid.IntRange(0, int(day)).Draw(t, "taken")), Of: []int{0}, By: rapid.IntRange(0, 1).Draw(t, "way"), Detected: rapid.Bool().Draw(t, "found")}
		then := with(c, s)
		for name, moved := range map[string][2]float64{"with its own pools": {c.InItsPools(0, day), then.InItsPools(0, day)}, "one by one": {c.Apart(0, day), then.Apart(0, day)}} {
			before, after := moved[0], moved[1]
			if !(after > 0 && after < 1+close) || s.Detected && after < before-close || !s.Detected && after > before+close {
				t.Fatalf("%s, detected %v: %v became %v", name, s.Detected, before, after)
			}
		}
	})
}

// A pool that the animal is in, of those known from their own samples: whatever they were,
// its answer moves the chance to where it points.
func TestChance_APoolOfThoseKnownFromTheirOwnSamples(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c, day := drawnCase(t)
		c.Samples = slices.DeleteFunc(c.Samples, func(s evidence.Sample) bool { return len(s.Of) > 1 })
		moves(t, c, drawPool(t, c), day)
	})
}

// The same of those that were in pools before, in which nothing was detected, whatever they came
// with and may have caught since. Where something was, no such thing holds, nor should it: of two
// one of which must carry it, what speaks against the other speaks against this one's being clean,
// as TestChance_APoolThatFindsItNoMore has it. Nor does it of a pool that finds two and not one,
// for what it did not find says that who carries it has a clean companion; so pools are drawn in
// which one carrier is found nearly as often as more.
func TestChance_APoolOfThoseThatWereInPools(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c, day := drawnCase(t)
		for i, s := range c.Samples {
			c.Samples[i].Detected = s.Detected && len(s.Of) == 1
		}
		for i := range c.Ways {
			c.Ways[i].Spread = max(2, c.Ways[i].Spread)
		}
		moves(t, c, drawPool(t, c), day)
	})
}

// Two were in a pool in which it was detected; then the same pool finds it no more. Who was missed
// alone before is the likelier one to be found so now and then: its chance rises, by less than the
// other's falls, and that of one of the two falls. Without own samples before both fall.
func TestChance_APoolThatFindsItNoMore(t *testing.T) {
	c := evidence.Case{Ways: []evidence.Way{{Sensitivity: evidence.Exactly(.85), Share: evidence.Exactly(.3), Specificity: .995, Spread: 3, Usable: .95}}}
	for range 2 {
		c.Animals = append(c.Animals, evidence.Animal{Prior: evidence.Exactly(.2)})
	}
	pool := evidence.Sample{Day: 20, Of: []int{0, 1}, Detected: true}
	again := evidence.Sample{Day: 30, Of: []int{0, 1}}
	moved := func(c evidence.Case) (by [2]float64) {
		for animal := range by {
			by[animal] = with(c, again).Chance(animal, 50).Mid - c.Chance(animal, 50).Mid
		}
		before, _ := c.AtLeastOne([]int{0, 1}, 50)
		if after, _ := with(c, again).AtLeastOne([]int{0, 1}, 50); after.Mid >= before.Mid {
			t.Errorf("one of both: %v became %v", before.Mid, after.Mid)
		}
		return by
	}
	if by := moved(with(c, pool)); by[0] >= 0 || math.Abs(by[0]-by[1]) > close {
		t.Errorf("of both the same is known, and they moved by %v", by)
	}
	for day := range 2 {
		c = with(c, evidence.Sample{Day: model.Day(10 + day), Of: []int{0}})
	}
	if by := moved(with(c, pool)); by[0] <= 0 || by[0] >= .02 || by[1] >= -.05 {
		t.Errorf("one was missed alone twice, and they moved by %v", by)
	}
}

func moves(t *rapid.T, c evidence.Case, s evidence.Sample, day model.Day) {
	before, after := c.Chance(0, day).Mid, with(c, s).Chance(0, day).Mid
	if s.Detected && after < before-close || !s.Detected && after > before+close {
		t.Fatalf("a pool with detected %v moved %v to %v", s.Detected, before, after)
	}
	everyone := []int{0, 1, 2, 3}[:len(c.Animals)]
	if !s.Detected { // that all of them are asked about changes nothing of it
		before, _ := c.AtLeastOne(everyone, day)
		if after, _ := with(c, s).AtLeastOne(everyone, day); after.Mid > before.Mid+close {
			t.Fatalf("at least one: a pool with nothing detected moved %v to %v", before.Mid, after.Mid)
		}
	}
}

// drawPool draws a sample that the animal asked about is in.
func drawPool(t *rapid.T, c evidence.Case) evidence.Sample {
	s := drawSample(t, []int{0, 1, 2, 3}[:len(c.Animals)])
	if !slices.Contains(s.Of, 0) {
		s.Of[0] = 0
	}
	return s
}

// After own samples that were not detected, the animal
// counts as one that sheds little, and so must not the others in its pool.
func TestChance_APoolAfterOwnSamples(t *testing.T) {
	for _, x := range []struct{ own, pool int }{{3, 10}, {4, 6}, {8, 4}, {1, 2}} {
		c := evidence.Case{Ways: []evidence.Way{{Sensitivity: evidence.Exactly(.6), Share: evidence.Exactly(.1), Specificity: .995, Spread: 3, Usable: .95}}}
		s := evidence.Sample{Day: 50}
		for n := range x.pool {
			c.Animals = append(c.Animals, evidence.Animal{Prior: evidence.Exactly(.4)})
			s.Of = append(s.Of, n)
		}
		for n := range x.own {
			c.Samples = append(c.Samples, evidence.Sample{Day: model.Day(10 + n), Of: []int{0}})
		}
		if before, after := c.Chance(0, 60).Mid, with(c, s).Chance(0, 60).Mid; after >= before {
			t.Errorf("a pool of %d after %d samples: %v became %v", x.pool, x.own, before, after)
		}
	}
}

func TestChance_OrderWithinADay(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c, day := drawnCase(t)
		want := c.Chance(0, day).Mid
		c.Samples = rapid.Permutation(c.Samples).Draw(t, "another order")
		if got := c.Chance(0, day).Mid; math.Abs(got-want) > close {
			t.Fatalf("in another order %v became %v", want, got)
		}
	})
}

func TestChance_TooEarlyToSee(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c, day := drawnCase(t)
		s := evidence.Sample{Day: c.Animals[0].Arrived + model.Day(c.Latent.Mid) - 1, Of: []int{0}, Detected: rapid.Bool().Draw(t, "found")}
		before, after := c.Chance(0, day).Mid, with(c, s).Chance(0, day).Mid
		if math.Abs(before-after) > close {
			t.Fatalf("a sample within the latent days moved %v to %v", before, after)
		}
	})
}

func TestChance_MoreExposureNeverLowers(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c, day := drawnCase(t)
		c.Samples = nil
		before := c.Chance(0, day).Mid
		c.Animals[0].Exposed = append(slices.Clone(c.Animals[0].Exposed), evidence.Exposure{From: 1, To: 20, Daily: evidence.Exactly(rapid.Float64Range(0, .5).Draw(t, "daily"))})
		if after := c.Chance(0, day).Mid; after < before-close {
			t.Fatalf("days on which it may catch it lowered %v to %v", before, after)
		}
	})
}

func TestChance_OfOnePoolApartOrTogether(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c, day := drawnCase(t)
		pooled := 0
		c.Samples = slices.DeleteFunc(c.Samples, func(s evidence.Sample) bool {
			if len(s.Of) > 1 {
				pooled++
			}
			return len(s.Of) > 1 && pooled > 1
		})
		if got, want := c.Apart(0, day), c.Chance(0, day).Mid; math.Abs(got-want) > close {
			t.Fatalf("with one pool: %v one by one, %v together", got, want)
		}
	})
}

// What is left out where too many animals are linked makes no answer say more than it
// does, where nothing was detected and the chances are no greater than the tables tell of.
func TestChance_ManyLinked(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c, day := drawnCase(t)
		for i := range c.Samples {
			c.Samples[i].Detected = false
		}
		for i := range c.Animals {
			c.Animals[i].Prior, c.Animals[i].Exposed = evidence.Exactly(min(.4, c.Animals[i].Prior.Mid)), nil
		}
		want := c.Chance(0, day).Mid
		for name, got := range map[string]float64{"with its own pools": c.InItsPools(0, day), "one by one": c.Apart(0, day)} {
			if odds(got) < odds(want)-.15 {
				t.Fatalf("%s %v, together %v", name, got, want)
			}
		}
	})
}

// Where something was detected in a pool of the animal, what speaks for the others in it is not
// left out, for it speaks against this one.
func TestChance_ManyLinkedAndOneDetected(t *testing.T) {
	c := evidence.Case{Ways: []evidence.Way{{Sensitivity: evidence.Exactly(.85), Share: evidence.Exactly(.3), Specificity: .995, Spread: 3, Usable: .95}}}
	for range 4 {
		c.Animals = append(c.Animals, evidence.Animal{Prior: evidence.Exactly(.2)})
	}
	c.Samples = []evidence.Sample{{Day: 10, Of: []int{0, 1}, Detected: true}, {Day: 20, Of: []int{1, 2}}, {Day: 30, Of: []int{1, 3}}, {Day: 40, Of: []int{1, 2, 3}}}
	want := c.Chance(0, 50).Mid
	for name, got := range map[string]float64{"with its own pools": c.InItsPools(0, 50), "one by one": c.Apart(0, 50)} {
		if got < want || want < .9 {
			t.Errorf("%s %v, together %v", name, got, want)
		}
	}
	// the same where the others' pools are not in the case
	c.Samples = c.Samples[:1]
	c.Animals[1].Elsewhere = []evidence.Elsewhere{{Day: 20, Size: 2}, {Day: 30, Size: 2}, {Day: 40, Size: 3}, {Day: 51, Size: 2}}
	got, linkage := c.Linked(0, 50)
	if got.Mid < want || linkage != evidence.Own {
		t.Errorf("elsewhere: %v, together %v; linkage %d", got.Mid, want, linkage)
	}
	if least, _ := c.AtLeastOne([]int{0}, 50); least.Mid < got.Mid {
		t.Errorf("at least one of this animal alone: %v, its chance %v", least.Mid, got.Mid)
	}
	if later, _ := c.Linked(0, 51); later.Mid <= got.Mid {
		t.Errorf("a day later %v, before %v", later.Mid, got.Mid)
	}
}

// Its own pools are all there is where no others are; what was detected in one of others is left
// out, and what was not detected in its own is not taken twice.
func TestChance_WithItsOwnPools(t *testing.T) {
	c := evidence.Case{Ways: []evidence.Way{{Sensitivity: evidence.Exactly(.85), Share: evidence.Exactly(.3), Specificity: .995, Spread: 3, Usable: .95}}}
	for range 3 {
		c.Animals = append(c.Animals, evidence.Animal{Prior: evidence.Exactly(.2)})
	}
	c.Samples = []evidence.Sample{{Day: 10, Of: []int{0, 1}, Detected: true}, {Day: 20, Of: []int{0, 1, 2}}}
	want := c.Chance(0, 50).Mid
	if got := c.InItsPools(0, 50); math.Abs(got-want) > close {
		t.Errorf("with its own pools %v, and together %v", got, want)
	}
	more := with(c, evidence.Sample{Day: 30, Of: []int{1, 2}, Detected: true})
	if got := more.InItsPools(0, 50); math.Abs(got-want) > close || more.Chance(0, 50).Mid >= want {
		t.Errorf("beside one of others that was detected %v, without %v; together %v", got, want, more.Chance(0, 50).Mid)
	}
}

// A pool in which nothing was detected says less of an animal whose companion carries it: what was
// detected in other pools of the companion is not left out, so that no chance is below the one
// that is worked out of all; the same where those pools are not in the case. What was detected
// later than asked about counts no more than any other.
func TestChance_ManyLinkedAndACompanionDetected(t *testing.T) {
	for _, se := range []float64{.4, .57, .85, .94} {
		for _, share := range []float64{.1, .3, .6} {
			for _, pools := range []int{1, 2} {
				c := evidence.Case{Ways: []evidence.Way{{Sensitivity: evidence.Exactly(se), Share: evidence.Exactly(share), Specificity: .995, Spread: 3, Usable: .95}}}
				for range 5 {
					c.Animals = append(c.Animals, evidence.Animal{Prior: evidence.Exactly(.2)})
				}
				for n := range pools {
					c.Samples = append(c.Samples, evidence.Sample{Day: 10, Of: []int{0, 1 + 2*n}})
				}
				quiet := c.Chance(0, 50).Mid
				beyond := c
				for n := range pools {
					beyond = with(beyond, evidence.Sample{Day: 20, Of: []int{1 + 2*n, 2 + 2*n}, Detected: true})
				}
				want := beyond.Chance(0, 50).Mid
				for name, got := range map[string]float64{"with its own pools": beyond.InItsPools(0, 50), "one by one": beyond.Apart(0, 50)} {
					if got < want || want <= quiet || got >= .2 {
						t.Errorf("%d pools, %v, %v: %s %v, together %v, without what was detected %v", pools, se, share, name, got, want, quiet)
					}
				}
				told := c
				told.Animals = slices.Clone(c.Animals)
				for n := range pools {
					told.Animals[1+2*n].Elsewhere = []evidence.Elsewhere{{Day: 20, Size: 2, Detected: true}}
				}
				if got, linkage := told.Linked(0, 50); math.Abs(got.Mid-beyond.InItsPools(0, 50)) > close || linkage != evidence.Own {
					t.Errorf("%d pools, %v, %v: elsewhere %v, linkage %d", pools, se, share, got, linkage)
				}
				if got, _ := told.Linked(0, 19); math.Abs(got.Mid-quiet) > close {
					t.Errorf("%d pools, %v, %v: a day before it was detected %v, want %v", pools, se, share, got.Mid, quiet)
				}
			}
		}
	}
}

func TestChance_ManyLinkedAndSomeDetected(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c, day := drawnCase(t)
		for i := range c.Animals {
			c.Animals[i].Prior, c.Animals[i].Exposed = evidence.Exactly(min(.4, c.Animals[i].Prior.Mid)), nil
		}
		want := c.Chance(0, day).Mid
		for name, got := range map[string]float64{"with its own pools": c.InItsPools(0, day), "one by one": c.Apart(0, day)} {
			if odds(got) < odds(want)-.15 {
				t.Fatalf("%s %v, together %v", name, got, want)
			}
		}
	})
}

func odds(p float64) float64 { return math.Log(p / (1 - p)) }

func TestAtLeastOne(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c, day := drawnCase(t)
		everyone := []int{0, 1, 2, 3}[:len(c.Animals)]
		joint, _ := c.AtLeastOne(everyone, day)
		all, sum := joint.Mid, 0.0
		for _, a := range everyone {
			one := c.Chance(a, day).Mid
			sum += one
			if all < one {
				t.Fatalf("at least one of all: %v, one of them alone: %v", all, one)
			}
		}
		if all > 1 {
			t.Fatalf("the chance is %v", all)
		}
		fewer, _ := c.AtLeastOne(everyone[:1], day)
		if fewer.Mid > all+close {
			t.Fatalf("of one %v, of all %v", fewer, all)
		}
		if one := c.Chance(0, day).Mid; math.Abs(fewer.Mid-one) > close { // who shares pools with it counts as for its chance
			t.Fatalf("at least one of one alone: %v, its chance %v", fewer.Mid, one)
		}
	})
}

func TestAtLeastOne_OfThoseWithoutAPool(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c, day := drawnCase(t)
		c.Samples = slices.DeleteFunc(c.Samples, func(s evidence.Sample) bool { return len(s.Of) > 1 })
		none := 1.0
		everyone := []int{0, 1, 2, 3}[:len(c.Animals)]
		for _, a := range everyone {
			none *= 1 - c.Chance(a, day).Mid
		}
		if got, _ := c.AtLeastOne(everyone, day); math.Abs(got.Mid-(1-none)) > close {
			t.Fatalf("got %v, want %v", got, 1-none)
		}
	})
}

func TestChance_ItsRangeHoldsWhatIsAssumed(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c, day := drawnCase(t)
		for i := range c.Animals {
			p := c.Animals[i].Prior.Mid
			c.Animals[i].Prior = evidence.Range{Low: p / 2, Mid: p, High: (1 + p) / 2}
		}
		c.Latent.High += 10
		got := c.Chance(0, day)
		if !(got.Low <= got.Mid && got.Mid <= got.High) {
			t.Fatalf("the range is %v", got)
		}
		if known := (evidence.Case{Latent: c.Latent, Ways: c.Ways, Animals: exact(c.Animals), Samples: c.Samples}).Chance(0, day); known.Low < got.Low-close || known.High > got.High+close {
			t.Fatalf("less known: %v, more known: %v", got, known)
		}
	})
}

func exact(all []evidence.Animal) (each []evidence.Animal) {
	for _, a := range all {
		a.Prior = evidence.Exactly(a.Prior.Mid)
		each = append(each, a)
	}
	return each
}

// Thousands of answers that contradict each other leave a number.
func TestChance_ThousandsOfAnswers(t *testing.T) {
	one := evidence.Case{
		Ways:    []evidence.Way{{Sensitivity: evidence.Exactly(.85), Share: evidence.Exactly(.3), Specificity: .995, Spread: 3, Usable: .95}},
		Animals: []evidence.Animal{{Prior: evidence.Exactly(.2)}},
	}
	for _, every := range []int{2, 3, 1 << 20} { // so many are not detected for one that is, beside the first
		c := one
		for n := range 5000 {
			c.Samples = append(c.Samples, evidence.Sample{Day: 10, Of: []int{0}, Detected: n%every == 1})
		}
		got := c.Chance(0, 20)
		if !(got.Low >= 0 && got.Low <= got.Mid && got.Mid <= got.High && got.High <= 1) {
			t.Errorf("one detected of %d: %v", every, got)
		}
		if every == 2 && got.Mid < .99 {
			t.Errorf("half of all were detected: %v", got)
		}
	}
}
