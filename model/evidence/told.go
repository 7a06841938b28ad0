package evidence

import (
	"math"

	"coilward/model"
)

// Told is a chance as it is said: so many in a hundred, or in a thousand where all of it
// is below one in a hundred; rounded outward. No chance is said to be below one in a
// thousand.
type Told struct {
	Low  int // 0: under one
	High int // In: over all but one
	In   int // 100 or 1000
}

// Told rounds a chance outward.
func (r Range) Told() Told {
	t := Told{In: 100}
	if r.High < .01 {
		t.In = 1000
	}
	// What differs from a whole number by no more than the sums do is that number.
	const same = 1e-9
	t.Low = int(math.Floor(r.Low*float64(t.In) + same))
	t.High = int(math.Ceil(r.High*float64(t.In) - same))
	t.Low = min(t.Low, t.In-1)
	if t.In == 1000 {
		t.Low, t.High = max(1, t.Low), max(1, t.High)
	}
	return t
}

// Label is the chance in words. Its keys are "chance.one", "chance.most", "chance.range",
// "chance.under", "chance.over" and "chance.any".
func (t Told) Label() model.Label {
	key := "range"
	switch {
	case t.In == 1000 && t.High == 1:
		key = "most"
	case t.Low == 0 && t.High == t.In:
		key = "any"
	case t.Low == 0:
		key = "under"
	case t.High == t.In:
		key = "over"
	case t.Low == t.High:
		key = "one"
	}
	return model.Label{Key: "chance." + key, Gaps: map[string]model.Gap{"Low": model.CountGap(t.Low), "High": model.CountGap(t.High), "In": model.CountGap(t.In)}}
}
