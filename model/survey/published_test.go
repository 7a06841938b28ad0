package survey_test

import (
	"testing"

	"coilward/model/survey"
)

func TestPublished_Sensitivity(t *testing.T) {
	for tested, want := range map[int]float64{10: .368993670137906, 50: .899961175672938, 100: .989992233627259} {
		near(t, "large group", of(survey.LargeSensitivity(tested, .05, .9))(t), want, 1e-12, rsurveillance)
	}
	near(t, "300 of a large group", of(survey.LargeSensitivity(300, .01, .95))(t), .9429, 5e-5, epir)
	for infected, want := range []float64{.8, .96, .992, .9984, .99968} {
		group := survey.Group{Animals: 7, Infected: infected + 1}
		near(t, "all tested", of(group.Sensitivity(7, .8))(t), want, 1e-12, rsurveillance)
	}
	for _, c := range []struct {
		animals, tested, infected int
		sensitivity, want         float64
	}{
		{10, 5, 1, .8, .4}, {50, 25, 1, .8, .4}, {100, 50, 1, .8, .4}, {250, 125, 3, .8, .784}, {500, 250, 5, .8, .92224},
		{30, 30, 3, .95, .9998750}, {35, 30, 4, .95, .9988105}, {100, 30, 10, .95, .9650811},
	} {
		group := survey.Group{Animals: c.animals, Infected: c.infected}
		near(t, "MacDiarmid", of(group.MacDiarmidSensitivity(c.tested, c.sensitivity))(t), c.want, 1e-7, rsurveillance)
	}
}

func TestPublished_Cutoffs(t *testing.T) {
	group, test := survey.Group{Animals: 150, Infected: 15}, survey.Test{Sensitivity: .9, Specificity: .98}
	near(t, "30 of 150", of(group.CutoffSensitivity(30, 2, test))(t), .870566, 1e-6, rsurveillance)
	near(t, "30 of many", of(survey.LargeCutoffSensitivity(30, 2, .1, test))(t), .8498, 5e-5, epir)
	near(t, "10 of 65", of(survey.Group{Animals: 65, Infected: 3}.CutoffSensitivity(10, 1, survey.Test{Sensitivity: .95, Specificity: .99}))(t),
		.4411522, 1e-7, rsurveillance)
	for i, want := range []float64{.1012041, .3144826, .5181777, .6775625, .7911787, .8678935, .9178840, .9496525, .9694677, .9816500} {
		got := of(survey.LargeCutoffSensitivity(5*(i+1), 2, .1, survey.Test{Sensitivity: .95, Specificity: .98}))(t)
		near(t, "cut-off 2", got, want, 1e-7, rsurveillance)
	}
	for tested, want := range map[int]float64{10: .9043821, 20: .8179069, 50: .6050061, 100: .3660323} {
		near(t, "specificity", of(survey.CutoffSpecificity(tested, 1, .99))(t), want, 1e-7, rsurveillance)
	}
	for tested, want := range map[int]float64{5: .99615761, 20: .94010102, 50: .73577139, 200: .08937548} {
		near(t, "specificity, cut-off 2", of(survey.CutoffSpecificity(tested, 2, .98))(t), want, 1e-8, rsurveillance)
	}
	near(t, "30 at .9, cut-off 1", of(survey.CutoffSpecificity(30, 1, .9))(t), .0424, 5e-5, epir)
	near(t, "30 at .9, cut-off 6", of(survey.CutoffSpecificity(30, 6, .9))(t), .9268, 5e-5, epir)
}

// Another method fixes how many of the group would be positive, where that is left to
// chance here; its printed figures are had from a perfect test of so many, and are not
// those of an animal that errs by itself.
func TestPublished_TheMethodThatFixesThePositives(t *testing.T) {
	perfect := survey.Test{Sensitivity: 1, Specificity: 1}
	fixed := 0.0 // 15 at .9 and 135 at .02 are 16.2 positive: 16 mostly, else 17
	for positive, share := range map[int]float64{16: .8, 17: .2} {
		fixed += share * of(survey.Group{Animals: 150, Infected: positive}.CutoffSensitivity(30, 2, perfect))(t)
	}
	near(t, "sensitivity", fixed, .878252, 1e-6, rsurveillance)
	alarms := survey.Group{Animals: 150, Infected: 15} // 150 at .1
	near(t, "specificity, cut-off 1", 1-of(alarms.CutoffSensitivity(30, 1, perfect))(t), .0291, 5e-5, epir)
	near(t, "specificity, cut-off 6", 1-of(alarms.CutoffSensitivity(30, 6, perfect))(t), .9487, 5e-5, epir)
}

// The source gives the last number of positive results that is passed over: 7, 8 and 4.
func TestPublished_Designs(t *testing.T) {
	for _, c := range []struct {
		infected       int
		sensitivity    float64
		tested, passed int
	}{
		{250, .95, 194, 7}, {250, .90, 221, 8}, {500, .90, 82, 4},
	} {
		got := of(survey.Group{Animals: 5000, Infected: c.infected}.SmallestDesign(survey.Test{Sensitivity: c.sensitivity, Specificity: .98}, .95, .95))(t)
		same(t, "tested", got.Tested, c.tested, epir)
		same(t, "cut-off", got.Cutoff, c.passed+1, epir)
	}
}

func TestPublished_Pools(t *testing.T) {
	clean := func(size int, share, sensitivity float64) survey.Pooling {
		return survey.Pooling{Size: size, Share: share, Test: survey.Test{Sensitivity: sensitivity, Specificity: 1}}
	}
	near(t, "60 pools", of(clean(5, .01, 1).Sensitivity(60))(t), .9510, 5e-5, epir)
	near(t, "60 pools at .9", of(clean(5, .01, .9).Sensitivity(60))(t), .933242, 1e-6, epir)
	near(t, "70 pools at .9", of(clean(5, .01, .9).Sensitivity(70))(t), .9575, 5e-5, epir)
	erring := survey.Pooling{Size: 5, Share: .02, Test: survey.Test{Sensitivity: .9, Specificity: .99}}
	for pools, want := range map[int]float64{5: .3946345, 10: .6335326, 50: .9933904} {
		near(t, "any positive", of(erring.AnyPositive(pools))(t), want, 1e-7, rsurveillance)
	}
	for _, c := range []struct {
		size        int
		sensitivity float64
		want        int
	}{{2, .99, 15}, {5, .98, 6}, {10, .97, 3}, {20, .95, 2}} {
		same(t, "pools", of(clean(c.size, .1, c.sensitivity).Needed(.95))(t), c.want, rsurveillance)
	}
	alarming := survey.Pooling{Size: 5, Share: .01, Test: survey.Test{Sensitivity: .9, Specificity: .95}}
	same(t, "pools, false ones counted", of(alarming.NeededForAny(.95))(t), 32, epir)
	same(t, "pools, true ones alone", of(alarming.Needed(.95))(t), 67, computed)
	near(t, "pool of 5", of(survey.Dilution(5, 1))(t), 2.32, 5e-3, computed)
	near(t, "pool of 10", of(survey.Dilution(10, 1))(t), 3.32, 5e-3, computed)
	near(t, "pool of 10, two infected", of(survey.Dilution(10, 2))(t), 2.32, 5e-3, computed)
}

func TestPublished_Freedom(t *testing.T) {
	over := func(prior float64, sensitivity float64, introductions ...float64) []float64 {
		t.Helper()
		var periods []survey.Period
		for _, pi := range introductions {
			periods = append(periods, survey.Period{Introduction: pi, Sensitivity: sensitivity})
		}
		return of(survey.FreeOver(prior, periods))(t)
	}
	for _, c := range []struct {
		of        string
		got, want []float64
		apart     float64
		source    string
	}{
		{"ten periods", over(.5, .4, .01, .01, .01, .01, .01, .01, .01, .01, .01, .01),
			[]float64{.6203008, .7261937, .8099976, .8709093, .9124970, .9396922, .9569776, .9677666, .9744246, .9785045}, 1e-7, rsurveillance},
		{"a year with its seasons", over(.5, .65, .01, .01, .01, .02, .04, .10, .10, .10, .08, .06, .04, .02),
			[]float64{.7369, .8851, .9529, .9758, .9769, .9541, .9456, .9423, .9490, .9594, .9709, .9824}, 5e-5, computed},
		{"two tests a year", over(.5, .8, .05, .05, .05, .05), []float64{.81897, .94602, .97796, .98496}, 5e-6, computed},
	} {
		same(t, c.of, len(c.got), len(c.want), c.source)
		for i, want := range c.want {
			near(t, c.of, c.got[i], want, c.apart, c.source)
		}
	}
	for prior, want := range map[float64]float64{.5: .4950, .9: .8910, .95: .9405} {
		near(t, "discounted prior", of(survey.Discounted(prior, .01))(t), want, 1e-12, rsurveillance)
	}
	for sensitivity, want := range map[float64]float64{.44: .6364104, .58: .7000424, .4: .6203008, .6: .7101865} {
		near(t, "one round", of(survey.FreeAfter(of(survey.Discounted(.5, .01))(t), sensitivity))(t), want, 1e-7, rsurveillance)
	}
	for sensitivity, want := range map[float64][2]float64{.4: {.9848485, .9750000}, .7: {.9956710, .9857143}, .95: {.9994684, .9894737}} {
		free, prior, err := survey.Equilibrium(survey.Period{Introduction: .01, Sensitivity: sensitivity})
		if err != nil {
			t.Fatal(err)
		}
		near(t, "equilibrium", free, want[0], 1e-7, rsurveillance)
		near(t, "equilibrium before a round", prior, want[1], 1e-7, rsurveillance)
	}
	for free, want := range map[float64]float64{.8: .7500000, .9: .8888889, .95: .9473684, .99: .9898990} {
		near(t, "sensitivity for it", of(survey.SensitivityFor(.5, free))(t), want, 1e-7, rsurveillance)
	}
	near(t, "carried in", of(survey.Introduction(.00990099, 3))(t), .0294, 5e-5, computed)
}

// Before it asks how many are needed, the first source discounts the prior; the second
// does not.
func TestPublished_SmallestForFreedom(t *testing.T) {
	for _, c := range []struct {
		prior, share, sensitivity float64
		want                      int
	}{
		{.75, .01, .95, 198}, {.5, .05, .9, 65},
	} {
		prior := of(survey.Discounted(c.prior, .01))(t)
		same(t, "large group", of(survey.LargeSmallestFor(prior, .95, c.share, c.sensitivity))(t), c.want, epir)
	}
	for free, want := range map[float64]int{.9: 247, .95: 319, .98: 403, .99: 461} {
		wanted := of(survey.SensitivityFor(.5, free))(t)
		got, _, err := survey.Group{Animals: 1000, Infected: 10}.MacDiarmidSmallest(.8, wanted)
		if err != nil {
			t.Fatal(err)
		}
		same(t, "of 1000", got, want, rsurveillance)
	}
}

func TestPublished_RiskGroups(t *testing.T) {
	groups := []survey.RiskGroup{{Relative: 5, Share: .1, Tested: 5}, {Relative: 3, Share: .1, Tested: 5}, {Relative: 1, Share: .8, Tested: 5}}
	risks := of(survey.AdjustedRisks(groups))(t)
	for i, want := range []float64{3.125, 1.875, .625} {
		near(t, "adjusted risk", risks[i], want, 1e-12, rsurveillance)
	}
	near(t, "sensitivity", of(survey.RiskSensitivity(.1, .9, groups))(t), .9430056, 1e-7, rsurveillance)
}

func TestPublished_TruePrevalence(t *testing.T) {
	for _, c := range []struct {
		positive, tested         int
		sensitivity, specificity float64
		raw, apart               float64
		below                    bool
		source                   string
	}{
		{45, 150, .96, .89, .2235294, 1e-7, false, epir},
		{6, 151, .964, .927, -.0373343, 1e-7, true, epir},
		{25, 200, .95, .90, .02941176, 1e-8, false, rsurveillance},
		{25, 120, .90, .99, .2228464, 1e-7, false, rsurveillance},
	} {
		got := of(survey.TruePrevalence(c.positive, c.tested, survey.Test{Sensitivity: c.sensitivity, Specificity: c.specificity}))(t)
		near(t, "raw", got.Raw, c.raw, c.apart, c.source)
		near(t, "share", got.Share, max(0, c.raw), c.apart, c.source)
		if got.Below != c.below || got.Above {
			t.Errorf("%d of %d: %+v", c.positive, c.tested, got)
		}
	}
}

func TestPublished_PredictiveValues(t *testing.T) {
	const bland = "Altman & Bland 1994, BMJ 309:102; read"
	liver := survey.Test{Sensitivity: 231. / 258, Specificity: 54. / 86}
	near(t, "sensitivity", liver.Sensitivity, .895, 5e-4, bland)
	near(t, "specificity", liver.Specificity, .628, 5e-4, bland)
	clean := survey.Test{Sensitivity: .9, Specificity: .99}
	for _, c := range []struct {
		test               survey.Test
		prior              float64
		positive, negative float64
		apart              float64
		source             string
	}{
		{liver, 258. / 344, 231. / 263, 54. / 81, 1e-12, bland}, // the text on the web prints .59 for 54/81
		{liver, .25, .445087, .947368, 1e-6, bland},
		{clean, .01, .4762, .99898, 5e-5, computed},
		{clean, .20, .9574, .97537, 5e-5, computed},
	} {
		near(t, "positive", of(c.test.PositiveValue(c.prior))(t), c.positive, c.apart, c.source)
		near(t, "negative", of(c.test.NegativeValue(c.prior))(t), c.negative, c.apart, c.source)
	}
}

func TestPublished_SeveralTests(t *testing.T) {
	tests := []survey.Test{{Sensitivity: .99, Specificity: .80}, {Sensitivity: .95, Specificity: .99}, {Sensitivity: .80, Specificity: .95}}
	parallel, series := of(survey.Parallel(tests...))(t), of(survey.Series(tests...))(t)
	near(t, "sensitivity in parallel", parallel.Sensitivity, .9999, 1e-12, rsurveillance)
	near(t, "specificity in parallel", parallel.Specificity, .7524, 1e-12, rsurveillance)
	near(t, "sensitivity in series", series.Sensitivity, .7524, 1e-12, rsurveillance)
	near(t, "specificity in series", series.Specificity, .9999, 1e-12, rsurveillance)
}

func TestPublished_ZeroOfMany(t *testing.T) {
	for tested, want := range map[int]float64{10: .2589, 20: .1391, 30: .0950, 59: .0495, 100: .0295} {
		near(t, "limit", of(survey.ZeroLimit(tested, .95))(t), want, 5e-5, computed)
	}
	near(t, "rule of three", of(survey.RuleOfThree(100))(t), .03, 1e-12, computed)
	near(t, "rule of three of one", of(survey.RuleOfThree(1))(t), 1, 0, computed)
}

// What one test misses the next may see, if their results do not depend on each other.
func TestRounds(t *testing.T) {
	near(t, "two rounds", of(survey.Rounds(.8, .8))(t), .96, 1e-12, computed)
	near(t, "unlike rounds", of(survey.Rounds(.5, .2, .1))(t), 1-.5*.8*.9, 1e-12, computed)
	near(t, "no round", of(survey.Rounds())(t), 0, 0, computed)
	const graczyk = "sensitivity of Graczyk, Owens & Cranfield 1996, Veterinary Parasitology 67:143; abstract read; computed"
	rounds, reached, err := survey.RoundsNeeded(.57, .95)
	if err != nil {
		t.Fatal(err)
	}
	same(t, "tests of one animal", rounds, 4, graczyk)
	near(t, "what they give", reached, .9658, 5e-5, graczyk)
	two := of(survey.Parallel(survey.Test{Sensitivity: .8, Specificity: 1}, survey.Test{Sensitivity: .8, Specificity: 1}))(t)
	near(t, "infected after two that detect nothing", 1-of(two.NegativeValue(.2))(t), .00990099, 1e-8, computed)
}
