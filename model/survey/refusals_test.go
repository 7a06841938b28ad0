package survey_test

import (
	"errors"
	"fmt"
	"math"
	"reflect"
	"strings"
	"testing"

	"coilward/model/survey"
)

// second is the refusal of two answers; with it there must be no other.
func second[T any](v T, err error) error {
	if err != nil && !reflect.ValueOf(&v).Elem().IsZero() {
		return fmt.Errorf("%w, and yet the answer %v", err, v)
	}
	return err
}

func third[T, U any](v T, w U, err error) error { return second(w, second(v, err)) }

// ofFirst is the first of two answers.
func ofFirst[T, U any](v T, _ U, err error) func(*testing.T) T { return of(v, err) }

// Each figure that cannot be is refused by its name, with what it must be; the one beside
// it that is just possible is taken.
func TestRefusals(t *testing.T) {
	nan := math.NaN()
	group, test := survey.Group{Animals: 10, Infected: 2}, survey.Test{Sensitivity: .9, Specificity: .9}
	erring := func(sensitivity, specificity float64) survey.Test {
		return survey.Test{Sensitivity: sensitivity, Specificity: specificity}
	}
	pooling := func(size int, share, sensitivity, specificity float64) survey.Pooling {
		return survey.Pooling{Size: size, Share: share, Test: erring(sensitivity, specificity)}
	}
	parts := func(relative, share float64, tested int) []survey.RiskGroup {
		return []survey.RiskGroup{{Relative: relative, Share: share, Tested: tested}, {Relative: 1, Share: .5, Tested: 3}}
	}
	for says, refused := range map[string][]error{
		"number of animals is 0 and must be from 1 to 100000": {
			second(survey.Group{Animals: 0, Infected: 0}.Sensitivity(0, 1)), second(survey.Group{Animals: 0, Infected: 1}.Smallest(1, .9)),
			second(survey.Group{}.Positives(0, test)),
		},
		"number of animals is 100001 and must be from 1 to 100000": {second(survey.Group{Animals: 100_001, Infected: 1}.Sensitivity(1, 1))},
		"number of animals is 0 and must be at least 1":            {third(survey.CannonRoe(0, 1, .9)), second(survey.Dilution(0, 0))},
		"number of infected animals is 11 and must be from 1 to 10": {
			second(survey.Group{Animals: 10, Infected: 11}.Sensitivity(1, 1)), third(survey.Group{Animals: 10, Infected: 11}.MacDiarmidSmallest(1, .9)),
			second(survey.Group{Animals: 10, Infected: 11}.MacDiarmidSensitivity(1, 1)), second(survey.Dilution(10, 11)),
			second(survey.Group{Animals: 10, Infected: 11}.CutoffSensitivity(1, 1, test)), second(survey.Group{Animals: 10, Infected: 11}.SmallestDesign(test, .9, .9)),
		},
		"number of infected animals is 0 and must be from 1 to 10": {
			second(survey.Group{Animals: 10}.Sensitivity(1, 1)), second(survey.Dilution(10, 0)),
		},
		"number of infected animals is 0.9 and must be from 1 to the number of animals":  {third(survey.CannonRoe(10, .9, .9))},
		"number of infected animals is 10.1 and must be from 1 to the number of animals": {third(survey.CannonRoe(10, 10.1, .9))},
		"number of infected animals is NaN and must be from 1 to the number of animals":  {third(survey.CannonRoe(10, nan, .9))},
		"number tested is 11 and must be from 0 to 10": {
			second(group.Sensitivity(11, 1)), second(group.MacDiarmidSensitivity(11, 1)), second(group.Positives(11, test)),
		},
		"number tested is 11 and must be from 1 to 10": {second(group.CutoffSensitivity(11, 1, test))},
		"number tested is -1 and must be from 0 to 10": {
			second(group.Sensitivity(-1, 1)), second(group.MacDiarmidSensitivity(-1, 1)), second(group.Positives(-1, test)),
		},
		"number tested is -1 and must be at least 0": {
			second(survey.LargeSensitivity(-1, .1, 1)), second(survey.RiskSensitivity(.1, .9, parts(1, .5, -1))),
		},
		"number tested is 0 and must be at least 1": {
			second(survey.ZeroLimit(0, .95)),
			second(survey.RuleOfThree(0)), second(survey.TruePrevalence(0, 0, test)),
		},
		"number tested is 0 and must be from 1 to 100000":      {second(survey.CutoffSpecificity(0, 1, .9)), second(survey.LargeCutoffSensitivity(0, 1, .1, test))},
		"number tested is 100001 and must be from 1 to 100000": {second(survey.CutoffSpecificity(100_001, 1, .9)), second(survey.LargeCutoffSensitivity(100_001, 1, .1, test))},
		"number positive is 5 and must be from 0 to 4":         {second(survey.TruePrevalence(5, 4, test))},
		"number positive is -1 and must be from 0 to 4":        {second(survey.TruePrevalence(-1, 4, test))},
		"cut-off is 0 and must be from 1 to 5": {
			second(group.CutoffSensitivity(5, 0, test)), second(survey.CutoffSpecificity(5, 0, .9)), second(survey.LargeCutoffSensitivity(5, 0, .1, test)),
		},
		"cut-off is 6 and must be from 1 to 5": {
			second(group.CutoffSensitivity(5, 6, test)), second(survey.CutoffSpecificity(5, 6, .9)), second(survey.LargeCutoffSensitivity(5, 6, .1, test)),
		},
		"sensitivity is 1.1 and must be from 0 to 1": {
			second(group.Sensitivity(1, 1.1)), second(group.MacDiarmidSensitivity(1, 1.1)), second(survey.LargeSensitivity(1, .1, 1.1)),
			second(group.Positives(1, erring(1.1, .9))), second(group.CutoffSensitivity(1, 1, erring(1.1, .9))),
			second(survey.LargeCutoffSensitivity(1, 1, .1, erring(1.1, .9))), second(group.SmallestDesign(erring(1.1, .9), .9, .9)),
			second(survey.LargeDesign(.1, erring(1.1, .9), .9, .9, 5)), second(pooling(5, .1, 1.1, 1).Sensitivity(1)),
			second(pooling(5, .1, 1.1, 1).AnyPositive(1)), second(survey.FreeAfter(.5, 1.1)), second(survey.RiskSensitivity(.1, 1.1, parts(1, .5, 1))),
			second(survey.TruePrevalence(1, 4, erring(1.1, .9))), second(erring(1.1, .9).PositiveValue(.1)), second(erring(1.1, .9).NegativeValue(.1)),
			second(survey.Parallel(test, erring(1.1, .9))), second(survey.Series(test, erring(1.1, .9))),
			second(survey.FreeOver(.5, []survey.Period{{}, {Sensitivity: 1.1}})), third(survey.Equilibrium(survey.Period{Sensitivity: 1.1})),
		},
		"sensitivity is -0.1 and must be from 0 to 1": {second(group.Sensitivity(1, -.1)), second(survey.LargeSensitivity(1, .1, -.1))},
		"sensitivity is NaN and must be from 0 to 1":  {second(group.Sensitivity(1, nan))},
		"specificity is 1.1 and must be from 0 to 1": {
			second(survey.CutoffSpecificity(1, 1, 1.1)), second(group.Positives(1, erring(.9, 1.1))), second(pooling(5, .1, .9, 1.1).AnyPositive(1)),
			second(survey.TruePrevalence(1, 4, erring(.9, 1.1))),
		},
		"sensitivity is 0 and must be above 0 and at most 1": {
			second(group.Smallest(0, .9)), third(group.MacDiarmidSmallest(0, .9)), second(survey.LargeSmallest(.1, 0, .9)), second(pooling(5, .1, 0, 1).Needed(.9)),
			second(pooling(5, .1, 0, 1).NeededForAny(.9)), second(survey.LargeSmallestFor(.9, .8, .1, 0)),
		},
		"sensitivity is 1.1 and must be above 0 and at most 1": {
			second(group.Smallest(1.1, .9)), third(group.MacDiarmidSmallest(1.1, .9)), second(survey.LargeSmallest(.1, 1.1, .9)),
		},
		"share infected is 0 and must be above 0 and at most 1": {
			second(survey.LargeSmallest(0, 1, .9)), second(pooling(5, 0, 1, 1).Sensitivity(1)), second(survey.LargeDesign(0, test, .9, .9, 5)),
			second(survey.LargeSmallestFor(.9, .8, 0, 1)),
		},
		"share infected is 1.1 and must be from 0 to 1": {
			second(survey.LargeSensitivity(1, 1.1, 1)), second(survey.LargeCutoffSensitivity(1, 1, 1.1, test)), second(survey.RiskSensitivity(1.1, 1, parts(1, .5, 1))),
		},
		"wanted chance is 1 and must be above 0 and below 1": {
			second(group.Smallest(1, 1)), third(group.MacDiarmidSmallest(1, 1)), third(survey.CannonRoe(10, 1, 1)), second(survey.LargeSmallest(.1, 1, 1)),
			second(pooling(5, .1, 1, 1).Needed(1)), second(pooling(5, .1, 1, 1).NeededForAny(1)), third(survey.RoundsNeeded(.5, 1)),
		},
		"wanted chance is 0 and must be above 0 and below 1":            {second(group.Smallest(1, 0)), third(survey.RoundsNeeded(.5, 0))},
		"wanted chance is NaN and must be above 0 and below 1":          {second(group.Smallest(1, nan))},
		"wanted sensitivity is 1 and must be above 0 and below 1":       {second(group.SmallestDesign(test, 1, .9)), second(survey.LargeDesign(.1, test, 1, .9, 5))},
		"wanted specificity is 1 and must be above 0 and below 1":       {second(group.SmallestDesign(test, .9, 1)), second(survey.LargeDesign(.1, test, .9, 1, 5))},
		"greatest number tested is 0 and must be from 1 to 100000":      {second(survey.LargeDesign(.1, test, .9, .9, 0))},
		"greatest number tested is 100001 and must be from 1 to 100000": {second(survey.LargeDesign(.1, test, .9, .9, 100_001))},
		"sum of sensitivity and specificity is 1 and must be above 1": {
			second(group.SmallestDesign(erring(.5, .5), .9, .9)), second(survey.LargeDesign(.1, erring(0, 1), .9, .9, 5)), second(survey.TruePrevalence(1, 4, erring(1, 0))),
		},
		"size of a pool is 0 and must be at least 1": {
			second(pooling(0, .1, 1, 1).Sensitivity(1)), second(pooling(0, .1, 1, 1).AnyPositive(1)), second(pooling(0, .1, 1, 1).Needed(.9)),
			second(pooling(0, .1, 1, 1).NeededForAny(.9)),
		},
		"number of pools is -1 and must be at least 0":                             {second(pooling(5, .1, 1, 1).Sensitivity(-1)), second(pooling(5, .1, 1, 1).AnyPositive(-1))},
		"sensitivity of a round is 1.1 and must be from 0 to 1":                    {second(survey.Rounds(.5, 1.1))},
		"sensitivity of a round is 0 and must be above 0 and at most 1":            {third(survey.RoundsNeeded(0, .9))},
		"chance of introduction is 1 and must be 0 or more and below 1":            {second(survey.Discounted(.5, 1)), second(survey.FreeOver(.5, []survey.Period{{Introduction: 1}}))},
		"chance of introduction is -0.1 and must be 0 or more and below 1":         {second(survey.Discounted(.5, -.1)), third(survey.Equilibrium(survey.Period{Introduction: -.1, Sensitivity: 1}))},
		"chance of introduction is NaN and must be 0 or more and below 1":          {second(survey.Discounted(.5, nan))},
		"prior chance of freedom is 0 and must be above 0 and below 1":             {second(survey.Discounted(0, .1)), second(survey.FreeAfter(0, .1)), second(survey.FreeOver(0, nil))},
		"prior chance of freedom is 1 and must be above 0 and below 1":             {second(survey.SensitivityFor(1, .9)), second(survey.LargeSmallestFor(1, .9, .1, 1))},
		"wanted chance of freedom is 1 and must be above 0 and below 1":            {second(survey.SensitivityFor(.5, 1))},
		"sensitivity is 0.1 and must be above the chance of introduction":          {third(survey.Equilibrium(survey.Period{Introduction: .1, Sensitivity: .1}))},
		"chance that an arrival is infected is 1.1 and must be from 0 to 1":        {second(survey.Introduction(1.1, 1))},
		"number of arrivals is -1 and must be at least 0":                          {second(survey.Introduction(.1, -1))},
		"relative risk is 0 and must be above 0":                                   {second(survey.AdjustedRisks(parts(0, .5, 1))), second(survey.RiskSensitivity(.1, 1, parts(0, .5, 1)))},
		"relative risk is +Inf and must be above 0":                                {second(survey.AdjustedRisks(parts(math.Inf(1), .5, 1)))},
		"share of a risk group is 0 and must be above 0 and at most 1":             {second(survey.AdjustedRisks(parts(1, 0, 1)))},
		"sum of the shares of the risk groups is 0.9 and must be 1":                {second(survey.AdjustedRisks(parts(1, .4, 1)))},
		"sum of the shares of the risk groups is 0.9999997615814209 and must be 1": {second(survey.AdjustedRisks(parts(1, .5-1./(1<<22), 1)))},
		"sum of the shares of the risk groups is 0 and must be 1":                  {second(survey.AdjustedRisks(nil))},
		"share infected of risk group 1 is 1.5 and must be from 0 to 1":            {second(survey.RiskSensitivity(1, 1, parts(3, .5, 1)))},
		"prior chance of infection is 1.1 and must be from 0 to 1":                 {second(test.PositiveValue(1.1)), second(test.NegativeValue(1.1))},
		"chance of a positive result is 0 and must be above 0":                     {second(erring(0, 1).PositiveValue(.5)), second(erring(1, 1).PositiveValue(0))},
		"chance of a negative result is 0 and must be above 0":                     {second(erring(1, 0).NegativeValue(.5)), second(erring(1, 1).NegativeValue(1))},
		"number of tests is 0 and must be at least 1":                              {second(survey.Parallel()), second(survey.Series())},
		"confidence is 1 and must be above 0 and below 1":                          {second(survey.ZeroLimit(5, 1))},
	} {
		for i, err := range refused {
			var input *survey.InputError
			if !errors.As(err, &input) || err.Error() != says {
				t.Errorf("%d: %v, want %q", i, err, says)
			}
		}
	}
}

// The limits themselves are taken, and give what must be.
func TestLimits(t *testing.T) {
	group := survey.Group{Animals: 10, Infected: 2}
	perfect, blind, alarmed := survey.Test{Sensitivity: 1, Specificity: 1}, survey.Test{Specificity: 1}, survey.Test{Sensitivity: 1}
	for _, c := range []struct {
		of        string
		got, want float64
	}{
		{"nothing tested", of(group.Sensitivity(0, 1))(t), 0},
		{"all tested", of(group.Sensitivity(10, 1))(t), 1},
		{"a blind test", of(group.Sensitivity(10, 0))(t), 0},
		{"one animal, infected", of(survey.Group{Animals: 1, Infected: 1}.Sensitivity(1, .7))(t), .7},
		{"nothing of many tested", of(survey.LargeSensitivity(0, 1, 1))(t), 0},
		{"none of many infected", of(survey.LargeSensitivity(9, 0, 1))(t), 0},
		{"all of many infected", of(survey.LargeSensitivity(1, 1, 1))(t), 1},
		{"MacDiarmid, nothing tested", of(group.MacDiarmidSensitivity(0, 1))(t), 0},
		{"MacDiarmid, all tested", of(group.MacDiarmidSensitivity(10, 1))(t), 1},
		{"no sum of chances above 1", of(survey.CutoffSpecificity(10, 10, 1))(t), 1},
		{"never specific", of(survey.CutoffSpecificity(10, 10, 0))(t), 0},
		{"a cut-off of all, perfect", of(survey.Group{Animals: 3, Infected: 3}.CutoffSensitivity(3, 3, perfect))(t), 1},
		{"a cut-off, blind", of(group.CutoffSensitivity(10, 1, blind))(t), 0},
		{"a cut-off, alarmed", of(group.CutoffSensitivity(10, 10, alarmed))(t), 1},
		{"more infected than the cut-off needs", of(group.CutoffSensitivity(10, 3, perfect))(t), 0},
		{"a cut-off of many, alarmed", of(survey.LargeCutoffSensitivity(5, 5, 0, alarmed))(t), 1},
		{"a cut-off of many, all infected", of(survey.LargeCutoffSensitivity(5, 5, 1, perfect))(t), 1},
		{"a cut-off of one", of(survey.LargeCutoffSensitivity(1, 1, .25, perfect))(t), .25},
		{"no pool", of(survey.Pooling{Size: 3, Share: .1, Test: perfect}.Sensitivity(0))(t), 0},
		{"no pool, any", of(survey.Pooling{Size: 3, Share: .1, Test: alarmed}.AnyPositive(0))(t), 0},
		{"a pool of one", of(survey.Pooling{Size: 1, Share: .1, Test: perfect}.Sensitivity(1))(t), .1},
		{"a pool of infected", of(survey.Pooling{Size: 1, Share: 1, Test: perfect}.Sensitivity(1))(t), 1},
		{"no dilution", of(survey.Dilution(1, 1))(t), 0},
		{"no introduction", of(survey.Discounted(.4, 0))(t), .4},
		{"a round that sees nothing", of(survey.FreeAfter(.4, 0))(t), .4},
		{"a round that sees all", of(survey.FreeAfter(.4, 1))(t), 1},
		{"a round that sees all, hardly any prior", of(survey.FreeAfter(1e-9, 1))(t), 1},
		{"free enough already", of(survey.SensitivityFor(.9, .8))(t), 0},
		{"as free as wanted", of(survey.SensitivityFor(.9, .9))(t), 0},
		{"none to be tested", float64(of(survey.LargeSmallestFor(.9, .9, 1, 1))(t)), 0},
		{"no arrivals", of(survey.Introduction(1, 0))(t), 0},
		{"arrivals, all infected", of(survey.Introduction(1, 1))(t), 1},
		{"infected throughout", of(survey.RiskSensitivity(1, 1, []survey.RiskGroup{{.3, .1, 1}, {.3, .1, 0}, {.3, .8, 0}}))(t), 1},
		{"no part tested", of(survey.RiskSensitivity(1, 1, []survey.RiskGroup{{Relative: 1, Share: 1}}))(t), 0},
		{"no positive result is false", of(perfect.PositiveValue(.3))(t), 1},
		{"no negative result is false", of(perfect.NegativeValue(.3))(t), 1},
		{"nothing infected, alarmed", of(alarmed.PositiveValue(0))(t), 0},
		{"all infected, blind", of(blind.NegativeValue(1))(t), 0},
		{"none of one", of(survey.ZeroLimit(1, .95))(t), .95},
		{"three in two", of(survey.RuleOfThree(2))(t), 1},
		{"three in four", of(survey.RuleOfThree(4))(t), .75},
		{"one animal, at any wish", float64(of(survey.LargeSmallest(1, 1, .999999))(t)), 1},
		{"the formula, one of one", float64(ofFirst(survey.CannonRoe(1, 1, .95))(t)), 1},
		{"the formula, all infected", float64(ofFirst(survey.CannonRoe(10, 10, .95))(t)), 2},
		{"the approximation, a tie of all", float64(ofFirst(survey.Group{Animals: 10, Infected: 1}.MacDiarmidSmallest(.8, .8))(t)), 10},
		{"the greatest group", of(survey.Group{Animals: 100_000, Infected: 1}.Sensitivity(50_000, 1))(t), .5},
		{"the greatest sample", of(survey.CutoffSpecificity(100_000, 1, 1))(t), 1},
		{"a wish that one animal gives", float64(of(survey.LargeSmallest(.5, 1, .5))(t)), 1},
		{"a wish of a tie, three", float64(of(survey.LargeSmallest(.5, 1, .875))(t)), 3},
		{"a wish of a tie, all", float64(of(survey.Group{Animals: 10, Infected: 1}.Smallest(.8, .8))(t)), 10},
		{"the first is enough", float64(of(survey.Group{Animals: 10, Infected: 10}.Smallest(.8, .8))(t)), 1},
		{"the greatest design", float64(of(survey.LargeDesign(1, perfect, .9, .9, 1))(t).Tested), 1},
	} {
		near(t, c.of, c.got, c.want, 1e-12, computed)
		if c.got > 1 && c.want <= 1 || c.got < 0 {
			t.Errorf("%s: %v is no chance", c.of, c.got)
		}
	}
	if free := of(survey.FreeOver(.5, nil))(t); len(free) != 0 {
		t.Errorf("no period: %v", free)
	}
	free, prior, err := survey.Equilibrium(survey.Period{Sensitivity: .5})
	if err != nil || free != 1 || prior != 1 {
		t.Errorf("nothing comes in: %v, %v, %v", free, prior, err)
	}
}

// A share outside what the test can give is clamped, and says so; one at the edge is not
// said to be outside. Computed.
func TestTruePrevalence_Warnings(t *testing.T) {
	test := survey.Test{Sensitivity: .8, Specificity: .9}
	for positive, want := range map[int]survey.Prevalence{
		0: {Share: 0, Below: true}, 1: {Share: 0}, 2: {Share: 1. / 7}, 8: {Share: 1}, 9: {Share: 1, Above: true},
	} {
		got := of(survey.TruePrevalence(positive, 10, test))(t)
		near(t, "share", got.Share, want.Share, 1e-12, computed)
		near(t, "raw", got.Raw, (float64(positive)/10-.1)/.7, 1e-12, computed)
		if got.Below != want.Below || got.Above != want.Above {
			t.Errorf("%d of 10: %+v, want %+v", positive, got, want)
		}
	}
}

// What would take more animals than there are anywhere is refused and not counted up.
func TestTooMany(t *testing.T) {
	for i, err := range []error{
		second(survey.LargeSmallest(1e-12, 1, .95)), second(survey.LargeSmallest(1e-200, 1e-200, .95)), third(survey.RoundsNeeded(1e-300, .95)),
		second(survey.Pooling{Size: 1, Share: 1e-300, Test: survey.Test{Sensitivity: 1, Specificity: 1}}.Needed(.5)),
	} {
		if err == nil || !strings.HasSuffix(err.Error(), "more than 1000000000 would be needed") {
			t.Errorf("%d: %v", i, err)
		}
	}
	same(t, "many", of(survey.LargeSmallest(1e-8, 1, .95))(t), 299573226, "computed: ln .05 / ln(1 - 1e-8)")
}

// What one round cannot do several may, every result counted against one cut-off.
func TestDesigns_Unreachable(t *testing.T) {
	for _, c := range []struct {
		test                      survey.Test
		animals, infected, rounds int
		best, reached             float64
	}{
		{survey.Test{Sensitivity: .8, Specificity: 1}, 12, 1, 2, .8, .96},  // computed: 1 - .2^2
		{survey.Test{Sensitivity: .6, Specificity: 1}, 5, 1, 4, .6, .9744}, // computed: 1 - .4^4
		{survey.Test{Sensitivity: .23, Specificity: 1}, 5, 1, 12, .23, 1 - math.Pow(.77, 12)},
		{survey.Test{Sensitivity: .5, Specificity: 1}, 5, 2, 3, .75, 1 - math.Pow(.5, 6)}, // two infected, three times each
		{survey.Test{Sensitivity: .21, Specificity: 1}, 5, 1, 0, .21, 0},                  // 13 rounds: more than is tried
		{survey.Test{Sensitivity: .51, Specificity: .5}, 20, 1, 0, 0, 0},                  // likewise
	} {
		err := second(survey.Group{Animals: c.animals, Infected: c.infected}.SmallestDesign(c.test, .95, .9))
		var none *survey.UnreachableError
		if !errors.As(err, &none) {
			t.Fatalf("%+v: %v", c.test, err)
		}
		same(t, "rounds", none.Rounds, c.rounds, computed)
		near(t, "wanted", none.Wanted, .95, 0, computed)
		near(t, "reached", none.Reached, c.reached, 1e-12, computed)
		if c.test.Specificity == 1 {
			near(t, "best", none.Best, c.best, 1e-12, computed)
		}
	}
	_, err := survey.LargeDesign(.1, survey.Test{Sensitivity: 1, Specificity: 1}, .95, .95, 28)
	var none *survey.UnreachableError
	if !errors.As(err, &none) || none.Rounds != 0 || none.Reached != 0 {
		t.Fatalf("28 of many: %v", err)
	}
	near(t, "best of many", none.Best, 1-math.Pow(.9, 28), 1e-12, computed)
	got := of(survey.LargeDesign(.1, survey.Test{Sensitivity: 1, Specificity: 1}, .95, .95, 29))(t)
	if got.Tested != 29 || got.Cutoff != 1 || got.Specificity != 1 {
		t.Errorf("29 of many: %+v", got)
	}
	near(t, "29 of many", got.Sensitivity, 1-math.Pow(.9, 29), 1e-12, computed)
}
