package care

import "coilward/model"

// LastScale is the scale of the newest of some weights, whatever their order; zero
// where there is no weight, or that one names no scale.
func LastScale(weights ...Weighed) model.InstrumentID {
	var last Weighed
	for _, w := range weights {
		if last.At.IsZero() || last.At.Before(w.At) {
			last = w
		}
	}
	return last.With
}
