package survey_test

import (
	"errors"
	"math"
	"math/big"
	"testing"

	"gonum.org/v1/gonum/stat/combin"
	"gonum.org/v1/gonum/stat/distuv"
	"pgregory.net/rapid"

	"coilward/model/survey"
)

// answered takes what a function answers, and fails the property where it refuses.
func answered[T any](v T, err error) func(*rapid.T) T {
	return func(t *rapid.T) T {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
}

func alike(t *rapid.T, of string, got, want, apart float64) {
	t.Helper()
	if !(math.Abs(got-want) <= apart) {
		t.Fatalf("%s: %.15g, want %.15g", of, got, want)
	}
}

func drawGroup(t *rapid.T, most int) survey.Group {
	animals := rapid.IntRange(1, most).Draw(t, "animals")
	return survey.Group{Animals: animals, Infected: rapid.IntRange(1, animals).Draw(t, "infected")}
}

// twentieths draws a chance that is had without rounding as a fraction.
func twentieths(t *rapid.T, low int, of string) (float64, *big.Rat) {
	k := rapid.IntRange(low, 20).Draw(t, of)
	return float64(k) / 20, big.NewRat(int64(k), 20)
}

func fraction(r *big.Rat) float64 { f, _ := r.Float64(); return f }

func ways(n, k int) *big.Rat {
	if k < 0 || k > n {
		return new(big.Rat)
	}
	return new(big.Rat).SetInt(new(big.Int).Binomial(int64(n), int64(k)))
}

func power(r *big.Rat, n int) *big.Rat {
	p := big.NewRat(1, 1)
	for range n {
		p.Mul(p, r)
	}
	return p
}

// exactly is the sensitivity of a sample in fractions, by the formula as it is printed.
func exactly(g survey.Group, tested int, sensitivity *big.Rat) *big.Rat {
	miss := new(big.Rat).Sub(big.NewRat(1, 1), sensitivity)
	missed := new(big.Rat)
	for d := range g.Infected + 1 {
		p := new(big.Rat).Mul(ways(g.Infected, d), ways(g.Animals-g.Infected, tested-d))
		missed.Add(missed, p.Mul(p, power(miss, d)))
	}
	missed.Quo(missed, ways(g.Animals, tested))
	return new(big.Rat).Sub(big.NewRat(1, 1), missed)
}

func TestSensitivity_IsThatOfFractions(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := drawGroup(t, 40)
		tested := rapid.IntRange(0, g.Animals).Draw(t, "tested")
		sensitivity, exact := twentieths(t, 0, "sensitivity")
		alike(t, "sensitivity", answered(g.Sensitivity(tested, sensitivity))(t), fraction(exactly(g, tested, exact)), 1e-13)
	})
}

func TestSmallest_IsTheFirstInFractions(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := drawGroup(t, 25)
		sensitivity, exact := twentieths(t, 1, "sensitivity")
		wanted := big.NewRat(int64(rapid.IntRange(1, 99).Draw(t, "wanted")), 100)
		want := 0
		for n := 1; n <= g.Animals && want == 0; n++ {
			if exactly(g, n, exact).Cmp(wanted) >= 0 {
				want = n
			}
		}
		got, err := g.Smallest(sensitivity, fraction(wanted))
		var none *survey.UnreachableError
		if want == 0 && (!errors.As(err, &none) || none.Rounds < 2) {
			t.Fatalf("found %d (%v), where all of them are too few", got, err)
		}
		if want != 0 && (err != nil || got != want) {
			t.Fatalf("found %d (%v), the first of all is %d", got, err, want)
		}
		if want == 0 {
			miss := power(new(big.Rat).Sub(big.NewRat(1, 1), exact), g.Infected)
			enough := new(big.Rat).Sub(big.NewRat(1, 1), wanted)
			if power(miss, none.Rounds).Cmp(enough) > 0 || power(miss, none.Rounds-1).Cmp(enough) <= 0 {
				t.Fatalf("%d rounds of %+v are not the fewest", none.Rounds, g)
			}
		}
	})
}

// What a perfect test sees of a sample is hypergeometric; gonum's coefficients are the
// reference from outside.
func TestPositives_OfAPerfectTest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := drawGroup(t, 30)
		tested := rapid.IntRange(0, g.Animals).Draw(t, "tested")
		for x, got := range answered(g.Positives(tested, survey.Test{Sensitivity: 1, Specificity: 1}))(t) {
			want := 0.0
			if x <= g.Infected && tested-x <= g.Animals-g.Infected {
				want = float64(combin.Binomial(g.Infected, x)) * float64(combin.Binomial(g.Animals-g.Infected, tested-x)) / float64(combin.Binomial(g.Animals, tested))
			}
			alike(t, "positives", got, want, 1e-13)
		}
	})
}

// doubleSum is the chance of x positive results as Cameron & Baldock print it.
func doubleSum(g survey.Group, tested, x int, sensitivity, specificity *big.Rat) float64 {
	one := big.NewRat(1, 1)
	miss, alarm := new(big.Rat).Sub(one, sensitivity), new(big.Rat).Sub(one, specificity)
	sum := new(big.Rat)
	for y := range min(g.Infected, tested) + 1 {
		drawn := new(big.Rat).Mul(ways(g.Infected, y), ways(g.Animals-g.Infected, tested-y))
		inner := new(big.Rat)
		for j := range min(x, y) + 1 {
			if x-j > tested-y {
				continue
			}
			p := new(big.Rat).Mul(ways(y, j), ways(tested-y, x-j))
			for _, factor := range []*big.Rat{power(sensitivity, j), power(miss, y-j), power(alarm, x-j), power(specificity, tested-x-y+j)} {
				p.Mul(p, factor)
			}
			inner.Add(inner, p)
		}
		sum.Add(sum, drawn.Mul(drawn, inner))
	}
	return fraction(sum.Quo(sum, ways(g.Animals, tested)))
}

func TestPositives_AreTheDoubleSum(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := drawGroup(t, 14)
		tested := rapid.IntRange(1, g.Animals).Draw(t, "tested")
		sensitivity, exactSensitivity := twentieths(t, 0, "sensitivity")
		specificity, exactSpecificity := twentieths(t, 0, "specificity")
		test := survey.Test{Sensitivity: sensitivity, Specificity: specificity}
		positives := answered(g.Positives(tested, test))(t)
		if len(positives) != tested+1 {
			t.Fatalf("%d chances of %d tested", len(positives), tested)
		}
		below := 0.0
		for x, got := range positives {
			alike(t, "positives", got, doubleSum(g, tested, x, exactSensitivity, exactSpecificity), 1e-13)
			if x > 0 {
				alike(t, "cut-off", answered(g.CutoffSensitivity(tested, x, test))(t), 1-below, 1e-12)
			}
			below += got
		}
		alike(t, "all of them", below, 1, 1e-12)
	})
}

// A group of no infected animals, and a large group, are binomial: gonum's distribution
// is the reference from outside.
func TestCutoffs_AreBinomial(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tested := rapid.IntRange(1, 400).Draw(t, "tested")
		cutoff := rapid.IntRange(1, min(40, tested)).Draw(t, "cut-off")
		specificity := rapid.Float64Range(.5, 1).Draw(t, "specificity")
		sensitivity := rapid.Float64Range(.3, 1).Draw(t, "sensitivity")
		share := rapid.Float64Range(0, 1).Draw(t, "share")
		alarms := distuv.Binomial{N: float64(tested), P: 1 - specificity}
		alike(t, "specificity", answered(survey.CutoffSpecificity(tested, cutoff, specificity))(t), alarms.CDF(float64(cutoff-1)), 1e-10)
		positive := distuv.Binomial{N: float64(tested), P: share*sensitivity + (1-share)*(1-specificity)}
		got := answered(survey.LargeCutoffSensitivity(tested, cutoff, share, survey.Test{Sensitivity: sensitivity, Specificity: specificity}))(t)
		alike(t, "sensitivity", got, 1-positive.CDF(float64(cutoff-1)), 1e-10)
	})
}

// The greatest numbers that are counted out neither overflow nor sum to more than 1.
func TestCutoffs_OfTheGreatestSample(t *testing.T) {
	const tested = 100_000
	for cutoff, specificity := range map[int]float64{50_001: .5, 10_000: .9, 99_900: .001} {
		want := distuv.Binomial{N: tested, P: 1 - specificity}.CDF(float64(cutoff - 1))
		near(t, "specificity", of(survey.CutoffSpecificity(tested, cutoff, specificity))(t), want, 1e-9, "gonum's binomial distribution")
	}
	for n := 1; n < 200; n++ {
		for s := range 20 {
			if got := of(survey.CutoffSpecificity(n, n, float64(s)/20))(t); got > 1 {
				t.Fatalf("%d tested: a chance of %v", n, got)
			}
		}
	}
}

// Testing more animals, more infected ones, and a better test find more.
func TestSensitivity_Rises(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := drawGroup(t, 300)
		tested := rapid.IntRange(0, g.Animals).Draw(t, "tested")
		sensitivity := rapid.Float64Range(0, 1).Draw(t, "sensitivity")
		better := rapid.Float64Range(sensitivity, 1).Draw(t, "better")
		was := answered(g.Sensitivity(tested, sensitivity))(t)
		if is := answered(g.Sensitivity(tested, better))(t); is < was-1e-13 {
			t.Fatalf("a better test finds less: %v, %v", was, is)
		}
		if tested < g.Animals {
			if is := answered(g.Sensitivity(tested+1, sensitivity))(t); is < was-1e-13 {
				t.Fatalf("one more tested finds less: %v, %v", was, is)
			}
		}
		if g.Infected < g.Animals {
			more := survey.Group{Animals: g.Animals, Infected: g.Infected + 1}
			if is := answered(more.Sensitivity(tested, sensitivity))(t); is < was-1e-13 {
				t.Fatalf("one more infected is found less: %v, %v", was, is)
			}
		}
		if large := answered(survey.LargeSensitivity(tested, float64(g.Infected)/float64(g.Animals), sensitivity))(t); was < large-1e-12 {
			t.Fatalf("drawing without putting back finds less: %v, %v", was, large)
		}
		if g.Infected > 1 || sensitivity == 0 {
			return
		}
		alike(t, "MacDiarmid is exact for one infected", was, answered(g.MacDiarmidSensitivity(tested, sensitivity))(t), 1e-12)
	})
}

func TestCutoffs_Fall(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := drawGroup(t, 40)
		tested := rapid.IntRange(1, g.Animals).Draw(t, "tested")
		test := survey.Test{Sensitivity: rapid.Float64Range(0, 1).Draw(t, "sensitivity"), Specificity: rapid.Float64Range(0, 1).Draw(t, "specificity")}
		sensitivity, specificity := 1.0, 0.0
		for cutoff := 1; cutoff <= tested; cutoff++ {
			found, clear := answered(g.CutoffSensitivity(tested, cutoff, test))(t), answered(survey.CutoffSpecificity(tested, cutoff, test.Specificity))(t)
			if found > sensitivity+1e-12 || clear < specificity-1e-12 {
				t.Fatalf("a higher cut-off finds more or clears less: %v to %v, %v to %v", sensitivity, found, specificity, clear)
			}
			sensitivity, specificity = found, clear
		}
	})
}

// As a group grows and the share infected stays, it becomes a large one.
func TestGroups_GrowLarge(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tested := rapid.IntRange(1, 60).Draw(t, "tested")
		cutoff := rapid.IntRange(1, min(tested, 6)).Draw(t, "cut-off")
		infected := rapid.IntRange(1, 9).Draw(t, "infected of ten")
		test := survey.Test{Sensitivity: rapid.Float64Range(.1, 1).Draw(t, "sensitivity"), Specificity: 1}
		share := float64(infected) / 10
		large := answered(survey.LargeSensitivity(tested, share, test.Sensitivity))(t)
		cut := answered(survey.LargeCutoffSensitivity(tested, cutoff, share, test))(t)
		for _, tens := range []int{100, 1000} {
			g := survey.Group{Animals: 10 * tens, Infected: infected * tens}
			apart := float64(tested) / float64(tens) // two ways of drawing differ by n/N at most, times what a pair adds
			alike(t, "sensitivity", answered(g.Sensitivity(tested, test.Sensitivity))(t), large, apart)
			alike(t, "cut-off", answered(g.CutoffSensitivity(tested, cutoff, test))(t), cut, apart)
		}
	})
}

// The fewest are enough, and one less is not.
func TestSmallest_OfLargeGroupsAndPools(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		share := rapid.Float64Range(.001, 1).Draw(t, "share")
		test := survey.Test{Sensitivity: rapid.Float64Range(.05, 1).Draw(t, "sensitivity"), Specificity: rapid.Float64Range(.5, 1).Draw(t, "specificity")}
		wanted := rapid.Float64Range(.01, .9999).Draw(t, "wanted")
		pooling := survey.Pooling{Size: rapid.IntRange(1, 20).Draw(t, "size"), Share: share, Test: test}
		first := func(of string, n int, found func(int) (float64, error)) {
			t.Helper()
			if got := answered(found(n))(t); got < wanted-1e-11 {
				t.Fatalf("%s: %d give %v, and %v is wanted", of, n, got, wanted)
			}
			if got := answered(found(n - 1))(t); got > wanted {
				t.Fatalf("%s: one less than %d gives %v, and %v is wanted", of, n, got, wanted)
			}
		}
		first("animals", answered(survey.LargeSmallest(share, test.Sensitivity, wanted))(t), func(n int) (float64, error) {
			return survey.LargeSensitivity(n, share, test.Sensitivity)
		})
		first("pools", answered(pooling.Needed(wanted))(t), pooling.Sensitivity)
		first("any of the pools", answered(pooling.NeededForAny(wanted))(t), pooling.AnyPositive)
		rounds, reached, err := survey.RoundsNeeded(test.Sensitivity, wanted)
		if err != nil {
			t.Fatal(err)
		}
		first("rounds", rounds, func(n int) (float64, error) { return survey.LargeSensitivity(n, 1, test.Sensitivity) })
		each := make([]float64, rounds)
		for i := range each {
			each[i] = test.Sensitivity
		}
		alike(t, "the rounds together", answered(survey.Rounds(each...))(t), reached, 1e-12)
	})
}

// Pools of one are animals; the chance of a false one can only add to what is found.
func TestPools_AreOfAnimals(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		share := rapid.Float64Range(.001, 1).Draw(t, "share")
		sensitivity := rapid.Float64Range(0, 1).Draw(t, "sensitivity")
		specificity := rapid.Float64Range(0, 1).Draw(t, "specificity")
		number := rapid.IntRange(0, 50).Draw(t, "pools")
		size := rapid.IntRange(1, 10).Draw(t, "size")
		single := survey.Pooling{Size: 1, Share: share, Test: survey.Test{Sensitivity: sensitivity, Specificity: 1}}
		alike(t, "pools of one", answered(single.Sensitivity(number))(t), answered(survey.LargeSensitivity(number, share, sensitivity))(t), 1e-13)
		perfect := survey.Pooling{Size: size, Share: share, Test: survey.Test{Sensitivity: 1, Specificity: 1}}
		alike(t, "perfect pools", answered(perfect.Sensitivity(number))(t), answered(survey.LargeSensitivity(number*size, share, 1))(t), 1e-12)
		pools := survey.Pooling{Size: size, Share: share, Test: survey.Test{Sensitivity: sensitivity, Specificity: specificity}}
		found, any := answered(pools.Sensitivity(number))(t), answered(pools.AnyPositive(number))(t)
		clean := math.Pow(1-share, float64(size))
		alike(t, "found", found, 1-math.Pow(1-(1-clean)*sensitivity, float64(number)), 1e-12)
		alike(t, "any", any, 1-math.Pow(1-(1-clean)*sensitivity-clean*(1-specificity), float64(number)), 1e-12)
		if any < found-1e-13 {
			t.Fatalf("false ones take away: %v, %v", found, any)
		}
	})
}

// The chance of freedom follows from the odds: introduction lowers it, each round in
// which nothing is detected divides the odds of infection by what it misses.
func TestFreedom_ByOdds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		prior := rapid.Float64Range(.01, .99).Draw(t, "prior")
		var periods []survey.Period
		var want []float64
		free := prior
		for range rapid.IntRange(1, 8).Draw(t, "periods") {
			p := survey.Period{Introduction: rapid.Float64Range(0, .9).Draw(t, "introduction"), Sensitivity: rapid.Float64Range(0, 1).Draw(t, "sensitivity")}
			periods = append(periods, p)
			before := answered(survey.Discounted(free, p.Introduction))(t)
			alike(t, "discounted", before, 1-((1-free)+p.Introduction-(1-free)*p.Introduction), 1e-13)
			odds := (1 - before) / before * (1 - p.Sensitivity)
			free = 1 / (1 + odds)
			want = append(want, free)
			if free >= 1 {
				break // a round that sees all leaves no prior to go on with
			}
		}
		got := answered(survey.FreeOver(prior, periods))(t)
		for i := range want {
			alike(t, "free", got[i], want[i], 1e-12)
		}
		sensitivity := answered(survey.SensitivityFor(prior, .995))(t)
		alike(t, "what was wanted", answered(survey.FreeAfter(prior, sensitivity))(t), .995, 1e-12)
	})
}

func TestFreedom_ComesToItsEquilibrium(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := survey.Period{Sensitivity: rapid.Float64Range(.3, 1).Draw(t, "sensitivity")}
		p.Introduction = rapid.Float64Range(0, .5*p.Sensitivity).Draw(t, "introduction")
		periods := make([]survey.Period, 400)
		for i := range periods {
			periods[i] = p
		}
		after := answered(survey.FreeOver(rapid.Float64Range(.01, .99).Draw(t, "prior"), periods))(t)[399]
		free, prior, err := survey.Equilibrium(p)
		if err != nil {
			t.Fatal(err)
		}
		alike(t, "after every round", after, free, 1e-9)
		alike(t, "before every round", after*(1-p.Introduction), prior, 1e-9)
	})
}

// Parts of equal risk are one group; the average of the adjusted risks is 1.
func TestRiskGroups_OfEqualRisk(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		share := rapid.Float64Range(0, 1).Draw(t, "share")
		sensitivity := rapid.Float64Range(0, 1).Draw(t, "sensitivity")
		risk := rapid.Float64Range(.01, 100).Draw(t, "risk")
		part := rapid.Float64Range(.05, .95).Draw(t, "part")
		a, b := rapid.IntRange(0, 40).Draw(t, "tested here"), rapid.IntRange(0, 40).Draw(t, "tested there")
		equal := []survey.RiskGroup{{Relative: risk, Share: part, Tested: a}, {Relative: risk, Share: 1 - part, Tested: b}}
		got := answered(survey.RiskSensitivity(share, sensitivity, equal))(t)
		alike(t, "one group", got, answered(survey.LargeSensitivity(a+b, share, sensitivity))(t), 1e-11)
		unequal := []survey.RiskGroup{{Relative: risk, Share: part}, {Relative: 1, Share: 1 - part}}
		risks := answered(survey.AdjustedRisks(unequal))(t)
		alike(t, "average", risks[0]*part+risks[1]*(1-part), 1, 1e-12)
		alike(t, "ratio", risks[0]/risks[1], risk, 1e-9)
	})
}

// The apparent share of a group gives back the true one, and predictive values are those
// of counted animals.
func TestTest_CountedAnimals(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		infected, others := rapid.IntRange(1, 500).Draw(t, "infected"), rapid.IntRange(1, 500).Draw(t, "others")
		hits, alarms := rapid.IntRange(1, infected).Draw(t, "hits"), rapid.IntRange(0, others-1).Draw(t, "alarms")
		test := survey.Test{Sensitivity: float64(hits) / float64(infected), Specificity: 1 - float64(alarms)/float64(others)}
		prior := float64(infected) / float64(infected+others)
		alike(t, "positive", answered(test.PositiveValue(prior))(t), float64(hits)/float64(hits+alarms), 1e-12)
		alike(t, "negative", answered(test.NegativeValue(prior))(t), float64(others-alarms)/float64(others-alarms+infected-hits), 1e-12)
		if test.Sensitivity+test.Specificity < 1.01 {
			return
		}
		got := answered(survey.TruePrevalence(hits+alarms, infected+others, test))(t)
		alike(t, "prevalence", got.Share, prior, 1e-9)
		if got.Below || got.Above {
			t.Fatalf("warned of what the test gives: %+v", got)
		}
	})
}

// What is positive in parallel is not negative in series: the two mirror.
func TestSeveralTests_Mirror(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var tests, mirrored []survey.Test
		for range rapid.IntRange(1, 5).Draw(t, "tests") {
			test := survey.Test{Sensitivity: rapid.Float64Range(0, 1).Draw(t, "sensitivity"), Specificity: rapid.Float64Range(0, 1).Draw(t, "specificity")}
			tests, mirrored = append(tests, test), append(mirrored, survey.Test{Sensitivity: test.Specificity, Specificity: test.Sensitivity})
		}
		parallel, series := answered(survey.Parallel(tests...))(t), answered(survey.Series(mirrored...))(t)
		alike(t, "sensitivity", parallel.Sensitivity, series.Specificity, 1e-13)
		alike(t, "specificity", parallel.Specificity, series.Sensitivity, 1e-13)
		if parallel.Sensitivity < tests[0].Sensitivity-1e-13 || parallel.Specificity > tests[0].Specificity+1e-13 {
			t.Fatalf("in parallel %+v, the first alone %+v", parallel, tests[0])
		}
	})
}

func TestZeroLimit_IsWhatWouldHaveBeenFound(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tested := rapid.IntRange(1, 500).Draw(t, "tested")
		confidence := rapid.Float64Range(.5, .999).Draw(t, "confidence")
		limit := answered(survey.ZeroLimit(tested, confidence))(t)
		alike(t, "found", answered(survey.LargeSensitivity(tested, limit, 1))(t), confidence, 1e-12)
		three := answered(survey.RuleOfThree(tested))(t)
		if exact := answered(survey.ZeroLimit(tested, .95))(t); three < exact && three < 1 {
			t.Fatalf("three in %d, %v, is less than the exact %v", tested, three, exact)
		}
	})
}

// tie is what two figures may be apart and still be the same.
const tie = 1e-12

// The smallest design is the first of all numbers and all cut-offs that do; where none does,
// the rounds are the fewest by a sum over gonum's distributions.
func TestSmallestDesign_IsTheFirstOfAll(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := drawGroup(t, 16)
		test := survey.Test{Sensitivity: rapid.Float64Range(.5, 1).Draw(t, "sensitivity"), Specificity: rapid.Float64Range(.7, 1).Draw(t, "specificity")}
		sensitivity, specificity := rapid.Float64Range(.3, .97).Draw(t, "wanted sensitivity"), rapid.Float64Range(.3, .97).Draw(t, "wanted specificity")
		var want survey.Design
		best := 0.0
		for n := 1; n <= g.Animals && want.Tested == 0; n++ {
			for c := 1; c <= n; c++ {
				found, clear := answered(g.CutoffSensitivity(n, c, test))(t), answered(survey.CutoffSpecificity(n, c, test.Specificity))(t)
				if clear < specificity-tie {
					continue
				}
				best = max(best, found)
				if found >= sensitivity-tie {
					want = survey.Design{Tested: n, Cutoff: c, Sensitivity: found, Specificity: clear}
					break
				}
			}
		}
		got, err := g.SmallestDesign(test, sensitivity, specificity)
		if want.Tested > 0 {
			if err != nil || got.Tested != want.Tested || got.Cutoff != want.Cutoff {
				t.Fatalf("%+v (%v), the first of all is %+v", got, err, want)
			}
			alike(t, "sensitivity", got.Sensitivity, want.Sensitivity, 1e-12)
			alike(t, "specificity", got.Specificity, want.Specificity, 1e-12)
			return
		}
		var none *survey.UnreachableError
		if !errors.As(err, &none) {
			t.Fatalf("%+v (%v), and none does", got, err)
		}
		alike(t, "best", none.Best, best, 1e-12)
		for rounds := 2; rounds <= 12; rounds++ {
			if reached := inRounds(g, test, rounds, specificity); reached >= sensitivity-tie {
				same := none.Rounds == rounds && math.Abs(none.Reached-reached) < 1e-9
				if !same {
					t.Fatalf("%d rounds give %v, and it says %+v", rounds, reached, none)
				}
				return
			}
		}
		if none.Rounds != 0 || none.Reached != 0 {
			t.Fatalf("twelve rounds are not enough, and it says %+v", none)
		}
	})
}

// inRounds is the sensitivity of so many rounds of every animal at the lowest cut-off that
// is specific enough.
func inRounds(g survey.Group, test survey.Test, rounds int, specificity float64) float64 {
	cutoff := 1
	for alarms := (distuv.Binomial{N: float64(rounds * g.Animals), P: 1 - test.Specificity}); alarms.CDF(float64(cutoff-1)) < specificity-tie; {
		cutoff++
	}
	hits := distuv.Binomial{N: float64(rounds * g.Infected), P: test.Sensitivity}
	alarms := distuv.Binomial{N: float64(rounds * (g.Animals - g.Infected)), P: 1 - test.Specificity}
	below := 0.0
	for h := range min(cutoff, rounds*g.Infected+1) {
		below += (hits.CDF(float64(h)) - hits.CDF(float64(h-1))) * alarms.CDF(float64(cutoff-1-h))
	}
	return 1 - below
}

// Of a large group too, the smallest design is the first of all.
func TestLargeDesign_IsTheFirstOfAll(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		share := rapid.Float64Range(.05, .6).Draw(t, "share")
		test := survey.Test{Sensitivity: rapid.Float64Range(.6, 1).Draw(t, "sensitivity"), Specificity: rapid.Float64Range(.8, 1).Draw(t, "specificity")}
		sensitivity, specificity := rapid.Float64Range(.3, .97).Draw(t, "wanted sensitivity"), rapid.Float64Range(.3, .97).Draw(t, "wanted specificity")
		most := rapid.IntRange(1, 60).Draw(t, "most")
		positive := share*test.Sensitivity + (1-share)*(1-test.Specificity)
		tested, cutoff, best := 0, 0, 0.0
		for n := 1; n <= most && tested == 0; n++ {
			c := 1
			for (distuv.Binomial{N: float64(n), P: 1 - test.Specificity}).CDF(float64(c-1)) < specificity-tie {
				c++
			}
			found := 1 - distuv.Binomial{N: float64(n), P: positive}.CDF(float64(c-1))
			if best = max(best, found); found >= sensitivity-tie {
				tested, cutoff = n, c
			}
		}
		got, err := survey.LargeDesign(share, test, sensitivity, specificity, most)
		var none *survey.UnreachableError
		switch {
		case tested > 0 && (err != nil || got.Tested != tested || got.Cutoff != cutoff):
			t.Fatalf("%+v (%v), the first of all is %d with %d", got, err, tested, cutoff)
		case tested > 0:
			alike(t, "sensitivity", got.Sensitivity, best, 1e-9)
		case !errors.As(err, &none):
			t.Fatalf("%+v (%v), and none does", got, err)
		default:
			alike(t, "best", none.Best, best, 1e-9)
		}
	})
}
