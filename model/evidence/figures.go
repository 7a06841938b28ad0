package evidence

import (
	"math"
	"strconv"

	"gonum.org/v1/gonum/stat/distuv"

	"coilward/model"
)

// Figures are what one way of looking for a thing sees: in one material, by one method.
type Figures struct {
	// Sensitivity is the share of "detected" among samples of animals that carry the thing
	// and are past its latent days.
	Sensitivity float64
	// Specificity is the share of "not detected" among samples without it; of no test is
	// it 1.
	Specificity float64
	// Share is how much of the differences between samples is between animals, from 0 (a
	// new sample is a new chance) to MostShare (who was missed once is missed again).
	Share float64
	// Spread is the standard deviation of the cycle at which samples are found, in cycles.
	// A pool of n with one that has it is found log2(n) cycles later.
	Spread float64
	// Usable is the share of samples in which anything can be seen; the others are dry or
	// inhibited without showing it.
	Usable float64
}

// The limits of what figures are accepted.
const (
	MostShare  = .95
	MostUsable = .99
)

// Check refuses figures of which no chance can be worked out. The fields are
// "sensitivity", "specificity", "share", "spread" and "usable".
func (f Figures) Check() *model.Refusal {
	for _, c := range []struct {
		field, reason string
		value         float64
		low, top      float64 // both excluded
	}{
		{"sensitivity", "chance.sensitivity", f.Sensitivity, 0, 1},
		{"specificity", "chance.specificity", f.Specificity, 0, 1},
		{"share", "chance.share", f.Share, math.Nextafter(0, -1), math.Nextafter(MostShare, 1)},
		{"spread", "chance.spread", f.Spread, 0, math.Nextafter(mostSpread, math.Inf(1))},
		{"usable", "chance.usable", f.Usable, 0, math.Nextafter(MostUsable, 1)},
	} {
		if !(c.value > c.low && c.value < c.top) {
			return refuse(c.field, c.value, c.reason)
		}
	}
	switch {
	case f.Sensitivity+f.Specificity <= 1:
		return refuse("sensitivity", f.Sensitivity, "chance.blind")
	case f.sees() >= f.Usable:
		return refuse("sensitivity", f.Sensitivity, "chance.unusable")
	}
	return nil
}

// mostSpread is far above what any test shows, in cycles; a test has 40 of them.
const mostSpread = 20

func refuse(field string, value float64, reason string) *model.Refusal {
	return &model.Refusal{Field: field, Value: strconv.FormatFloat(value, 'g', -1, 64), Reason: reason}
}

// sees is the share of samples of a carrier in which the thing itself is seen; the rest
// of the sensitivity are false alarms that happen to be right.
func (f Figures) sees() float64 { return (f.Sensitivity - (1 - f.Specificity)) / f.Specificity }

// Sight are figures with what is worked out of them once.
type Sight struct {
	Figures
	margin float64 // of the cut-off above the usual cycle, in standard deviations
}

// Sight finds the margin at which the mean over all levels is exactly what the figures
// say. Check has to accept them.
func (f Figures) Sight() Sight {
	e := Sight{Figures: f, margin: distuv.UnitNormal.Quantile(f.sees() / f.Usable)}
	for range 8 {
		mean, slope := 0.0, 0.0
		for i, z := range levels {
			at := (e.margin - math.Sqrt(f.Share)*z) / math.Sqrt(1-f.Share)
			mean += weights[i] * distuv.UnitNormal.CDF(at)
			slope += weights[i] * distuv.UnitNormal.Prob(at) / math.Sqrt(1-f.Share)
		}
		if slope == 0 || math.Abs(mean-f.sees()/f.Usable) < 1e-15 {
			break
		}
		e.margin -= (mean - f.sees()/f.Usable) / slope
	}
	return e
}

// Seen is the chance that the thing itself is seen in a pool of so many samples, of
// which carriers are of animals that carry it and are past its latent days. level is that
// of their shedding, in standard deviations: the lower, the more is shed. All in a pool
// have equal volumes, full efficiency and equal loads, which is the cautious side.
func (e Sight) Seen(pool, carriers int, level float64) float64 {
	if carriers == 0 {
		return 0
	}
	later := math.Log2(float64(pool)/float64(carriers)) / e.Spread
	return e.Usable * distuv.UnitNormal.CDF((e.margin-later-math.Sqrt(e.Share)*level)/math.Sqrt(1-e.Share))
}

// Missed is the chance of "not detected" from such a pool; with no carriers in it, the
// specificity.
func (e Sight) Missed(pool, carriers int, level float64) float64 {
	return (1 - e.Seen(pool, carriers, level)) * e.Specificity
}

// Usual is the chance of "not detected" from such a pool over all levels of the carriers.
func (e Sight) Usual(pool, carriers int) (missed float64) {
	for i, z := range levels {
		missed += weights[i] * e.Missed(pool, carriers, z)
	}
	return missed
}

// Beside is the chance of "not detected" from such a pool with one more carrier, which sheds
// at a level of its own: where the sample is usable, both it and the others, over all levels
// of theirs, have to be missed. That their loads would add up is left out, which is the
// cautious side of "not detected". So a pool never misses more with it than without it, and the
// more others there are, the less speaks a "not detected" against it.
func (e Sight) Beside(pool, others int, level float64) (missed float64) {
	return (1 - e.Usable + e.unseen(e.Missed(pool, 1, level))*e.unseen(e.Usual(pool, others))/e.Usable) * e.Specificity
}

// unseen is how much of a chance of "not detected" is of usable samples.
func (e Sight) unseen(missed float64) float64 { return max(0, missed/e.Specificity-(1-e.Usable)) }

// likely is the chance of an answer from such a pool.
func (e Sight) likely(detected bool, pool, carriers int, level float64) float64 {
	missed := e.Missed(pool, carriers, level)
	if detected {
		return 1 - missed
	}
	return missed
}
