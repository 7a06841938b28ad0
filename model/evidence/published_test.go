package evidence_test

import (
	"math"
	"testing"

	"coilward/model"
	"coilward/model/evidence"
)

// Where the values were read, or had.
const (
	bland         = "Altman & Bland 1994, BMJ 309:102; read"
	rsurveillance = "the R package RSurveillance, its source and test file; read"
	computed      = "computed from the formula"
)

// One sample past the latent days is a diagnostic test: the chances are the predictive
// values, however much of the differences is between animals.
func TestPublished_PredictiveValues(t *testing.T) {
	const se, sp = 231. / 258, 54. / 86
	for _, c := range []struct {
		prior, se, sp      float64
		positive, negative float64 // the chance of the condition if detected, and of none if not
		apart              float64
		source             string
	}{
		{258. / 344, se, sp, 231. / 263, 54. / 81, 1e-12, bland}, // the text on the web prints .59 for 54/81
		{.25, se, sp, .445087, .947368, 1e-6, bland},
		{.01, .9, .99, .4762, .99898, 5e-5, computed},
		{.20, .9, .99, .9574, .97537, 5e-5, computed},
	} {
		for _, share := range []float64{0, .3, .9} {
			detected := one(c.prior, c.se, c.sp, share, .95, 0, single(5, true)).Chance(0, 9).Mid
			missed := one(c.prior, c.se, c.sp, share, .95, 0, single(5, false)).Chance(0, 9).Mid
			if math.Abs(detected-c.positive) > c.apart || math.Abs(1-missed-c.negative) > c.apart {
				t.Errorf("prior %v, share %v: %.7f and %.7f, want %.7f and %.7f (%s)", c.prior, share, detected, 1-missed, c.positive, c.negative, c.source)
			}
		}
	}
}

// Martin, Cameron & Greiner 2007 (Preventive Veterinary Medicine 79:71) discount the chance
// of freedom by what may have come in since, and raise it by a round in which nothing was
// detected. An animal is such a group where nothing differs between animals, nothing is
// latent and nothing is detected by mistake: it is exposed on each day and sampled on the
// same.
func TestPublished_DiscountedOverTime(t *testing.T) {
	for _, c := range []struct {
		of            string
		free, se      float64 // the chance of freedom at first; the sensitivity of a round
		introductions []float64
		want          []float64 // of freedom after each round
		apart         float64
		source        string
	}{
		{"ten periods", .5, .4, []float64{.01, .01, .01, .01, .01, .01, .01, .01, .01, .01},
			[]float64{.6203008, .7261937, .8099976, .8709093, .9124970, .9396922, .9569776, .9677666, .9744246, .9785045}, 1e-7, rsurveillance},
		{"at its equilibrium", .9848485, .4, []float64{.01, .01, .01}, []float64{.9848485, .9848485, .9848485}, 1e-7, rsurveillance},
		{"a year with its seasons", .5, .65, []float64{.01, .01, .01, .02, .04, .10, .10, .10, .08, .06, .04, .02},
			[]float64{.7369, .8851, .9529, .9758, .9769, .9541, .9456, .9423, .9490, .9594, .9709, .9824}, 5e-5, computed},
		{"two rounds a year", .5, .8, []float64{.05, .05, .05, .05}, []float64{.81897, .94602, .97796, .98496}, 5e-6, computed},
		{"two rounds, nothing comes in", .8, .8, []float64{0, 0}, []float64{.8 / (.8 + .2*.2), 1 - .00990099}, 1e-8, computed},
	} {
		asked := one(1-c.free, c.se, 1-1e-12, 0, .95, 0)
		var days []model.Day
		for i, daily := range c.introductions {
			day := model.Day(i + 1)
			days = append(days, day)
			asked.Animals[0].Exposed = append(asked.Animals[0].Exposed, evidence.Exposure{From: day, To: day, Daily: evidence.Exactly(daily)})
			asked.Samples = append(asked.Samples, single(day, false))
		}
		if refused := asked.Check(); refused != nil {
			t.Fatal(refused)
		}
		for i, chance := range asked.Course(0, days) {
			if got := 1 - chance.Mid; math.Abs(got-c.want[i]) > c.apart {
				t.Errorf("%s, round %d: %.8f, want %.8f (%s)", c.of, i+1, got, c.want[i], c.source)
			}
		}
	}
}
