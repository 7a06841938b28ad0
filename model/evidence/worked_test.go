package evidence_test

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"coilward/model"
	"coilward/model/evidence"
)

// one is a case of one animal that arrived on day 0.
func one(prior, se, sp, share, usable float64, latent int, samples ...evidence.Sample) evidence.Case {
	c := evidence.Case{
		Ways:    []evidence.Way{{Sensitivity: evidence.Exactly(se), Share: evidence.Exactly(share), Specificity: sp, Spread: 3, Usable: usable}},
		Animals: []evidence.Animal{{Prior: evidence.Exactly(prior)}},
		Samples: samples,
	}
	c.Latent.Low, c.Latent.Mid, c.Latent.High = latent, latent, latent
	return c
}

func single(day model.Day, detected bool) evidence.Sample {
	return evidence.Sample{Day: day, Of: []int{0}, Detected: detected}
}

// The first animal, by hand. 20 in 100 such arrivals carry it, a swab finds 85 in 100 of
// those, and 5 in 1,000 of the others by mistake. Of 100,000 arrivals 20,000 carry it.
// One swab after the latent days: not detected in .15 × 20,000 = 3,000 carriers and in
// .995 × 80,000 = 79,600 others, so 3,000 of 82,600 carry it. One within the latent days:
// not detected in .995 of both, so nothing changes. One detected: 17,000 carriers and 400
// others, so 17,000 of 17,400.
func TestWorked_OneSwab(t *testing.T) {
	for name, c := range map[string]struct {
		sample evidence.Sample
		want   float64
	}{
		"not detected":             {single(14, false), 3000.0 / 82600},
		"within the latent days":   {single(13, false), .2},
		"detected":                 {single(40, true), 17000.0 / 17400},
		"detected in latent days":  {single(3, true), .2},
		"taken after it was asked": {single(101, false), .2},
	} {
		t.Run(name, func(t *testing.T) {
			if got := one(.2, .85, .995, .3, .95, 14, c.sample).Chance(0, 100).Mid; math.Abs(got-c.want) > 1e-12 {
				t.Errorf("got %.12f, want %.12f", got, c.want)
			}
		})
	}
}

// The second animal, by hand. Nothing is the animal's own (share 0), so each swab is a new
// chance. Prior .1, sensitivity .8, specificity .98, latent 10 days. It is exposed on days
// 30 and 31 with a chance of .05 each, and swabbed on days 20 and 41, both not detected.
//
//	carries it since day 0:   .1 × .2 × .2                       = .004
//	caught on day 30:         .9 × .05 × .98 × .2                = .00882
//	caught on day 31:         .9 × .95 × .05 × .98 × .2          = .008379
//	caught it never:          .9 × .95 × .95 × .98 × .98         = .7800849
//
// The first swab sees neither of the later two, the second sees both: 31 + 10 = 41.
func TestWorked_CaughtHere(t *testing.T) {
	c := one(.1, .8, .98, 0, .95, 10, single(20, false), single(41, false))
	c.Animals[0].Exposed = []evidence.Exposure{{From: 30, To: 31, Daily: evidence.Exactly(.05)}}
	carries := .004 + .00882 + .008379
	if got, want := c.Chance(0, 50).Mid, carries/(carries+.7800849); math.Abs(got-want) > 1e-12 {
		t.Errorf("got %.12f, want %.12f", got, want)
	}
	// On day 40 the last swab would not have seen what was caught on day 31.
	c.Samples[1].Day = 40
	carries = .004 + .00882 + .9*.95*.05*.98*.98
	if got, want := c.Chance(0, 50).Mid, carries/(carries+.7800849); math.Abs(got-want) > 1e-12 {
		t.Errorf("a day earlier: got %.12f, want %.12f", got, want)
	}
}

// The third animal, by hand. It is pooled with one other; prior .2 and .1, share 0 and a
// spread of 3 cycles. A single swab of a carrier is seen with .7 × .9 = .63 where .7 is
// the normal distribution at .524401. One carrier in a pool of two is found one cycle
// later: .524401 − 1/3 = .191067, of which the normal distribution is .575764, so it is
// seen with .518187. With both of them one of ten samples is of no use, and in the other nine
// each is missed by itself: .1 + .9 × .424236 × .424236 = .261979. Specificity .99.
//
//	neither:      .8 × .9 × .99                    = .7128
//	it alone:     .2 × .9 × (1 − .518187) × .99    = .085859
//	the other:    .8 × .1 × (1 − .518187) × .99    = .038160
//	both:         .2 × .1 × .261979 × .99          = .005187
func TestWorked_PoolOfTwo(t *testing.T) {
	const specificity = .99
	sensitivity := 1 - (1-.63)*specificity // of all detected, false alarms that are right with them
	c := one(.2, sensitivity, specificity, 0, .9, 0, evidence.Sample{Day: 5, Of: []int{0, 1}})
	c.Animals = append(c.Animals, evidence.Animal{Prior: evidence.Exactly(.1)})
	carries, clean := .2*.9*(1-.518187)*.99+.2*.1*.261979*.99, .7128+.8*.1*(1-.518187)*.99
	if got, want := c.Chance(0, 5).Mid, carries/(carries+clean); math.Abs(got-want) > 1e-6 {
		t.Errorf("got %.7f, want %.7f", got, want)
	}
	c.Samples[0].Detected = true
	carries, clean = .2*.9*(1-(1-.518187)*.99)+.2*.1*(1-.261979*.99), .72*.01+.8*.1*(1-(1-.518187)*.99)
	if got, want := c.Chance(0, 5).Mid, carries/(carries+clean); math.Abs(got-want) > 1e-6 {
		t.Errorf("detected: got %.7f, want %.7f", got, want)
	}
	// asked of this one alone, the other counts no less
	if got, _ := c.AtLeastOne([]int{0}, 5); math.Abs(got.Mid-carries/(carries+clean)) > 1e-6 {
		t.Errorf("at least one of it alone: got %.7f, want %.7f", got.Mid, carries/(carries+clean))
	}
}

// A beta-binomial with the same mean and the same chance of two "not detected" running is
// another picture of animals that differ. Up to three of them the two agree within a
// quarter; after more the beta-binomial lets go of low shedders sooner, and the program is
// on the cautious side of it, by no more than a factor of 2.2.
func TestChance_LikeABetaBinomial(t *testing.T) {
	const prior, usable = .2, .95
	for _, se := range []float64{.4, .57, .85} {
		for _, share := range []float64{.1, .3, .6} {
			const specificity = 1 - 1e-9
			after := func(n int) float64 {
				var s []evidence.Sample
				for i := range n {
					s = append(s, single(model.Day(10+i), false))
				}
				return one(prior, se, specificity, share, usable, 0, s...).Chance(0, 100).Mid
			}
			missed := func(n int) float64 { // of a carrier, from the chance
				p := after(n)
				return p / (1 - p) * (1 - prior) / prior
			}
			// Moments of the beta distribution of being missed.
			m, two := 1-se, missed(2)
			size := (m - two) / (two - m*m)
			a, b := m*size, (1-m)*size
			beta := 1.0
			for n := 1; n <= 6; n++ {
				beta *= (a + float64(n-1)) / (a + b + float64(n-1))
				apart := math.Log(missed(n) / beta)
				if n <= 3 && math.Abs(apart) > .25 || apart < -.05 || apart > math.Log(2.2) {
					t.Errorf("sensitivity %v, share %v, %d not detected: %.5f, beta-binomial %.5f", se, share, n, missed(n), beta)
				}
			}
		}
	}
}

func TestTold(t *testing.T) {
	for _, c := range []struct {
		low, high float64
		want      evidence.Told
		key       string
	}{
		{.012, .068, evidence.Told{Low: 1, High: 7, In: 100}, "chance.range"},
		{.01, .07, evidence.Told{Low: 1, High: 7, In: 100}, "chance.range"},
		{.0099, .0101, evidence.Told{Low: 0, High: 2, In: 100}, "chance.under"},
		{.0021, .0099, evidence.Told{Low: 2, High: 10, In: 1000}, "chance.range"},
		{.00002, .0004, evidence.Told{Low: 1, High: 1, In: 1000}, "chance.most"}, {1e-14, 1e-14, evidence.Told{Low: 1, High: 1, In: 1000}, "chance.most"}, {.001, .001, evidence.Told{Low: 1, High: 1, In: 1000}, "chance.most"}, {.002, .002, evidence.Told{Low: 2, High: 2, In: 1000}, "chance.one"},
		{.004, .01, evidence.Told{Low: 0, High: 1, In: 100}, "chance.under"},
		{.2, .2, evidence.Told{Low: 20, High: 20, In: 100}, "chance.one"},
		{.55, .9901, evidence.Told{Low: 55, High: 100, In: 100}, "chance.over"},
		{1, 1, evidence.Told{Low: 99, High: 100, In: 100}, "chance.over"}, {.5, 1 - 1e-12, evidence.Told{Low: 50, High: 100, In: 100}, "chance.over"},
		{.001, .999, evidence.Told{Low: 0, High: 100, In: 100}, "chance.any"},
	} {
		got := evidence.Range{Low: c.low, Mid: (c.low + c.high) / 2, High: c.high}.Told()
		if got != c.want || got.Label().Key != c.key {
			t.Errorf("%v to %v: got %+v, %s", c.low, c.high, got, got.Label().Key)
		}
	}
}

func TestNext(t *testing.T) {
	s := evidence.Standing{Chance: evidence.Range{Low: .01, Mid: .02, High: .07}, Goal: .01, Sees: 40, Between: 42}
	for name, c := range map[string]struct {
		change func(*evidence.Standing)
		act    evidence.Act
		from   model.Day
	}{
		"no sample yet":            {func(s *evidence.Standing) {}, evidence.Take, 40},
		"soon after the last":      {func(s *evidence.Standing) { s.Last = 20 }, evidence.Take, 62},
		"long after the last":      {func(s *evidence.Standing) { s.Last, s.Sees = 2, 1 }, evidence.Take, 50},
		"at what is wanted":        {func(s *evidence.Standing) { s.Chance.High = .01 }, evidence.Nothing, 0},
		"as assumed alone":         {func(s *evidence.Standing) { s.Chance.Mid = .01 }, evidence.Assumed, 0},
		"a little above":           {func(s *evidence.Standing) { s.Chance.Mid = .0101 }, evidence.Take, 40},
		"assumed, and on its way":  {func(s *evidence.Standing) { s.Chance.Mid, s.Awaited = .01, true }, evidence.Await, 0},
		"detected, whatever it is": {func(s *evidence.Standing) { s.Chance.High, s.Detected = .01, true }, evidence.Vet, 0},
		"exposed still":            {func(s *evidence.Standing) { s.Exposed, s.Awaited, s.Chance.High = true, true, .001 }, evidence.Apart, 0},
		"wanted, and on its way":   {func(s *evidence.Standing) { s.Awaited, s.Chance.High = true, .001 }, evidence.Await, 0},
		"an answer on its way":     {func(s *evidence.Standing) { s.Awaited = true }, evidence.Await, 0},
	} {
		t.Run(name, func(t *testing.T) {
			s := s
			c.change(&s)
			today := model.Day(30)
			if c.from == 50 {
				today = 50
			}
			if act, from := s.Next(today); act != c.act || from != c.from {
				t.Errorf("got %s from %d", act, from)
			}
		})
	}
}

func TestCheck(t *testing.T) {
	good := func() evidence.Case { return one(.2, .85, .995, .3, .95, 14, single(20, false)) }
	for name, c := range map[string]struct {
		change func(*evidence.Case)
		want   string // field, value and reason; empty: accepted
	}{
		"good":                       {func(*evidence.Case) {}, ""},
		"a prior of nothing":         {func(c *evidence.Case) { c.Animals[0].Prior.Low = 0 }, "prior 0 chance.prior"},
		"a prior of certainty":       {func(c *evidence.Case) { c.Animals[0].Prior.High = 1 }, "prior 1 chance.prior"},
		"a prior out of order":       {func(c *evidence.Case) { c.Animals[0].Prior.Low = .3 }, "prior 0.3 chance.prior"},
		"no number":                  {func(c *evidence.Case) { c.Animals[0].Prior = evidence.Exactly(math.NaN()) }, "prior NaN chance.prior"},
		"sensitivity above one":      {func(c *evidence.Case) { c.Ways[0].Sensitivity.High = 1.2 }, "sensitivity 1.2 chance.order"},
		"sensitivity out of order":   {func(c *evidence.Case) { c.Ways[0].Sensitivity.Low = .9 }, "sensitivity 0.9 chance.order"},
		"sensitivity of one":         {func(c *evidence.Case) { c.Ways[0].Sensitivity.High = 1 }, "sensitivity 1 chance.sensitivity"},
		"sensitivity of nothing":     {func(c *evidence.Case) { c.Ways[0].Sensitivity.Low = 0 }, "sensitivity 0 chance.sensitivity"},
		"a test that never errs":     {func(c *evidence.Case) { c.Ways[0].Specificity = 1 }, "specificity 1 chance.specificity"},
		"specificity of nothing":     {func(c *evidence.Case) { c.Ways[0].Specificity = 0 }, "specificity 0 chance.specificity"},
		"no better than chance":      {func(c *evidence.Case) { c.Ways[0].Sensitivity.Low, c.Ways[0].Specificity = .4, .6 }, "sensitivity 0.4 chance.blind"},
		"better than chance":         {func(c *evidence.Case) { c.Ways[0].Sensitivity.Low, c.Ways[0].Specificity = .41, .6 }, ""},
		"all the animal's own":       {func(c *evidence.Case) { c.Ways[0].Share.High = .96 }, "share 0.96 chance.share"},
		"nearly all":                 {func(c *evidence.Case) { c.Ways[0].Share.High = .95 }, ""},
		"less than none of it":       {func(c *evidence.Case) { c.Ways[0].Share.Low = -.1 }, "share -0.1 chance.order"},
		"no spread":                  {func(c *evidence.Case) { c.Ways[0].Spread = 0 }, "spread 0 chance.spread"},
		"spread beyond all":          {func(c *evidence.Case) { c.Ways[0].Spread = 21 }, "spread 21 chance.spread"},
		"the most spread":            {func(c *evidence.Case) { c.Ways[0].Spread = 20 }, ""},
		"every sample usable":        {func(c *evidence.Case) { c.Ways[0].Usable = 1 }, "usable 1 chance.usable"},
		"as many as there can be":    {func(c *evidence.Case) { c.Ways[0].Usable = .99 }, ""},
		"fewer usable than found":    {func(c *evidence.Case) { c.Ways[0].Usable = .84 }, "sensitivity 0.85 chance.unusable"},
		"latent before nothing":      {func(c *evidence.Case) { c.Latent.Low = -1 }, "latent -1 chance.latent"},
		"latent out of order":        {func(c *evidence.Case) { c.Latent.High = 13 }, "latent 13 chance.latent"},
		"latent for as long as told": {func(c *evidence.Case) { c.Latent.High = 1098 }, ""},
		"as many usable as found": {func(c *evidence.Case) {
			c.Ways[0].Specificity, c.Ways[0].Sensitivity, c.Ways[0].Usable = .5, evidence.Exactly(.75), .5
		}, "sensitivity 0.75 chance.unusable"},
		"latent for years":           {func(c *evidence.Case) { c.Latent.High = 1099 }, "latent 1099 chance.latent"},
		"nobody's sample":            {func(c *evidence.Case) { c.Samples[0].Of = nil }, "pool 0 chance.pool"},
		"of an animal that is not":   {func(c *evidence.Case) { c.Samples[0].Of = []int{1} }, "pool 1 chance.pool"},
		"more samples than animals":  {func(c *evidence.Case) { c.Samples[0].Of = []int{0, 0} }, "pool 2 chance.pool"},
		"by a way that cannot speak": {func(c *evidence.Case) { c.Samples[0].By = 1 }, "method 1 chance.mute"},
		"by no way":                  {func(c *evidence.Case) { c.Samples[0].By = -1 }, "method -1 chance.mute"},
		"exposed to certainty": {func(c *evidence.Case) {
			c.Animals[0].Exposed = []evidence.Exposure{{From: 1, To: 2, Daily: evidence.Exactly(1)}}
		}, "daily 1 chance.daily"},
	} {
		t.Run(name, func(t *testing.T) {
			asked := good()
			c.change(&asked)
			got := ""
			if refused := asked.Check(); refused != nil {
				got = refused.Field + " " + refused.Value + " " + refused.Reason
			}
			if got != c.want {
				t.Errorf("got %q, want %q", got, c.want)
			}
		})
	}
}

func TestSteps(t *testing.T) {
	c := one(.2, .85, .995, 0, .95, 14, single(60, false), single(10, false), single(60, true))
	c.Animals = append(c.Animals, c.Animals[0])
	c.Samples = append(c.Samples, evidence.Sample{Day: 70, Of: []int{1}})
	steps := c.Steps(0)
	if len(steps) != 3 || steps[0].Sample != 1 || steps[1].Sample != 0 || steps[2].Sample != 2 {
		t.Fatalf("the steps are %+v", steps)
	}
	after := 3000.0 / 82600
	for i, want := range [][2]float64{{.2, .2}, {.2, after}, {after, after * .85 / (after*.85 + (1-after)*.005)}} {
		if got := [2]float64{steps[i].Before.Mid, steps[i].After.Mid}; math.Abs(got[0]-want[0]) > 1e-9 || math.Abs(got[1]-want[1]) > 1e-9 {
			t.Errorf("step %d: %v, want %v", i, got, want)
		}
	}
}

// Where more hang together by pools than can be worked out together it is told, and by how
// much less: own pools, then each pool alone.
func TestLinked_TellsHowMuchWasWorkedOutTogether(t *testing.T) {
	way := evidence.Way{Sensitivity: evidence.Exactly(.85), Share: evidence.Exactly(.3), Specificity: .995, Spread: 3, Usable: .95}
	// caught anew before each round, so that every number of carriers in each pool can be
	caught := []evidence.Exposure{{From: 0, To: 500, Daily: evidence.Exactly(.01)}}
	pools := func(animals int, samples ...[]int) (c evidence.Case) {
		c.Ways = []evidence.Way{way}
		for range animals {
			c.Animals = append(c.Animals, evidence.Animal{Prior: evidence.Exactly(.2), Exposed: caught})
		}
		for n, of := range samples {
			c.Samples = append(c.Samples, evidence.Sample{Day: model.Day(10 * (n + 1)), Of: of})
		}
		return c
	}
	span := func(from, to int) (all []int) {
		for n := from; n < to; n++ {
			all = append(all, n)
		}
		return all
	}
	var chain, across, rounds, crossed, grid [][]int
	for n := range 8 { // eight pools of four, each with one of the next: two are open at a time
		chain = append(chain, []int{n * 3, n*3 + 1, n*3 + 2, n*3 + 3})
	}
	for n := range 12 { // the same of twelve, numbered across the pools: one after the other they would all be open
		across = append(across, []int{n, 12 + n, 24 + n, 25 + n})
	}
	for range 8 { // the same three: few ways
		rounds = append(rounds, span(0, 3))
	}
	for n := range 12 { // one animal in twelve pools of four: 4¹² ways in its own pools
		crossed = append(crossed, []int{0, n*3 + 1, n*3 + 2, n*3 + 3})
	}
	for n := range 7 { // each in a row and in a column of seven: after three rows 4⁷ ways in the columns alone
		var row, column []int
		for i := range 7 {
			row, column = append(row, n*7+i), append(column, i*7+n)
		}
		grid = append(grid, row, column)
	}
	for name, c := range map[string]struct {
		evidence.Case
		want evidence.Linkage
	}{
		"no pool":              {pools(2), evidence.Whole},
		"one pool of 200":      {pools(200, span(0, 200)), evidence.Whole},
		"rounds of one pool":   {pools(3, rounds...), evidence.Whole},
		"a chain of eight":     {pools(25, chain...), evidence.Whole},
		"numbered across":      {pools(37, across...), evidence.Whole},
		"rows and columns":     {pools(49, grid...), evidence.Own},
		"4⁷ ways":              {pools(22, crossed[:7]...), evidence.Whole},
		"one way more":         {pools(145, span(0, 5), append(span(5, 33), 0), append(span(33, 145), 0)), evidence.Single}, // 5 × 29 × 113
		"one in twelve pools":  {pools(37, crossed...), evidence.Single},
		"as many as may be":    {pools(64, span(0, 2), span(1, 64)), evidence.Whole},
		"one more than may be": {pools(65, span(0, 2), span(1, 65)), evidence.Own},
	} {
		chance, linkage := c.Linked(0, 600)
		if linkage != c.want || !(chance.Mid > 0 && chance.Mid < 1) {
			t.Errorf("%s: linkage %d, want %d; %v", name, linkage, c.want, chance)
		}
		if chance != c.Chance(0, 600) {
			t.Errorf("%s: the chance is another", name)
		}
		for linkage, want := range map[evidence.Linkage]func(int, model.Day) float64{evidence.Own: c.InItsPools, evidence.Single: c.Apart} {
			if linkage == c.want && math.Abs(chance.Mid-want(0, 600)) > close {
				t.Errorf("%s: %v, want %v", name, chance.Mid, want(0, 600))
			}
		}
	}
	tangle := pools(49, grid...)
	if c, linkage := tangle.AtLeastOne(span(0, 49), 600); linkage != evidence.Own || c.Mid < tangle.Chance(0, 600).Mid {
		t.Errorf("at least one of rows and columns: linkage %d, %v", linkage, c)
	}
	// Where even finding all that hang together would take too long they are taken apart.
	much, none := pools(65, span(0, 2), span(1, 65)), 1.0
	for a := range 65 {
		none *= 1 - much.Chance(a, 600).Mid
		if a != 1 && a != 64 {
			continue // of two, and of all
		}
		if c, linkage := much.AtLeastOne(span(0, a+1), 600); linkage != evidence.Own || math.Abs(c.Mid-(1-none)) > close {
			t.Errorf("at least one of %d, linked with too many: linkage %d, %v, want %v", a+1, linkage, c, 1-none)
		}
	}
	short := pools(3, rounds...)
	if _, linkage := short.AtLeastOne(span(0, 3), 600); linkage != evidence.Whole {
		t.Errorf("at least one of few: linkage %d", linkage)
	}
}

// Twelve animals are worked out together, however they are put together anew in each round and
// whenever they may have caught it.
func TestLinked_Twelve(t *testing.T) {
	for seed := range uint64(4) {
		draw := rand.New(rand.NewPCG(seed, 12))
		for _, x := range []struct{ animals, pool, rounds int }{{8, 4, 4}, {10, 4, 3}, {12, 6, 3}, {12, 4, 3}, {12, 4, 4}} {
			c := one(.2, .85, .995, .3, .95, 14)
			c.Animals[0].Exposed = []evidence.Exposure{{From: 0, To: 500, Daily: evidence.Exactly(.01)}}
			everyone := []int{0}
			for n := 1; n < x.animals; n++ {
				c.Animals, everyone = append(c.Animals, c.Animals[0]), append(everyone, n)
			}
			for round := range x.rounds {
				draw.Shuffle(len(everyone), func(i, j int) { everyone[i], everyone[j] = everyone[j], everyone[i] })
				for of := range slices.Chunk(everyone, x.pool) {
					c.Samples = append(c.Samples, evidence.Sample{Day: model.Day(42 * (round + 1)), Of: slices.Clone(of)})
				}
			}
			if _, linkage := c.Linked(0, 600); linkage != evidence.Whole {
				t.Errorf("%+v: linkage %d", x, linkage)
			}
			if _, linkage := c.AtLeastOne(everyone, 600); linkage != evidence.Whole && x.rounds*x.animals < 48 {
				t.Errorf("at least one of %+v: linkage %d", x, linkage)
			}
		}
	}
}

// What an animal may be is taken over the ends alone and all together.
func TestEnds(t *testing.T) {
	for name, c := range map[string]struct {
		ranged []bool
		want   [][]int
	}{
		"none":  {[]bool{false, false}, [][]int{{0, 0}}},
		"one":   {[]bool{false, true}, [][]int{{0, 0}, {0, -1}, {0, 1}}},
		"two":   {[]bool{true, true}, [][]int{{0, 0}, {-1, 0}, {1, 0}, {0, -1}, {0, 1}, {-1, -1}, {1, -1}, {-1, 1}, {1, 1}}},
		"empty": {nil, [][]int{{}}},
	} {
		if got := evidence.Ends(c.ranged); !slices.EqualFunc(got, c.want, slices.Equal) {
			t.Errorf("%s: %v, want %v", name, got, c.want)
		}
	}
	r := evidence.Range{Low: 1, Mid: 2, High: 3}
	if r.At(-1) != 1 || r.At(0) != 2 || r.At(1) != 3 {
		t.Errorf("the ends are %v, %v, %v", r.At(-1), r.At(0), r.At(1))
	}
	r.Widen(5, false)
	r.Widen(0, false)
	r.Widen(2, false)
	if r != (evidence.Range{Low: 0, Mid: 2, High: 5}) {
		t.Errorf("widened: %v", r)
	}
	if r.Widen(4, true); r != evidence.Exactly(4) {
		t.Errorf("begun: %v", r)
	}
}

// What is refused is named as it was given, with all of its digits.
func TestCheck_NamesTheValue(t *testing.T) {
	f := evidence.Figures{Sensitivity: 1.25, Specificity: .99, Share: .3, Spread: 3, Usable: .95}
	if refused := f.Check(); refused == nil || refused.Field != "sensitivity" || refused.Value != "1.25" {
		t.Errorf("refused: %+v", refused)
	}
}

// Who sheds more is seen more often, alone and in pools, and the thing is never seen where nobody
// carries it; a pool has 200 animals at the most.
func TestSight_MoreIsSeenOfWhoShedsMore(t *testing.T) {
	f := evidence.Figures{Sensitivity: .85, Specificity: .995, Share: .3, Spread: 3, Usable: .95}
	for pool := 1; pool <= 4; pool++ {
		for carriers := 1; carriers <= pool; carriers++ {
			for level := -3.0; level < 3; level++ {
				if much, little := f.Sight().Seen(pool, carriers, level), f.Sight().Seen(pool, carriers, level+1); !(much > little && little > 0 && much < f.Usable) {
					t.Errorf("%d of %d at level %v: %v, of who sheds less %v", carriers, pool, level, much, little)
				}
			}
		}
		if seen := f.Sight().Seen(pool, 0, 0); seen != 0 {
			t.Errorf("nobody of %d carries it, and %v is seen", pool, seen)
		}
	}
	for size, refused := range map[int]bool{200: false, 201: true} {
		w := evidence.Way{Sensitivity: evidence.Exactly(.85), Share: evidence.Exactly(.3), Specificity: .995, Spread: 3, Usable: .95}
		c := evidence.Case{Ways: []evidence.Way{w}, Samples: []evidence.Sample{{}}}
		for i := range size {
			c.Animals = append(c.Animals, evidence.Animal{Prior: evidence.Exactly(.5)})
			c.Samples[0].Of = append(c.Samples[0].Of, i)
		}
		if r := c.Check(); (r != nil) != refused || refused && (r.Field != "pool" || r.Value != "201") {
			t.Errorf("a pool of %d: %+v", size, r)
		}
	}
}
