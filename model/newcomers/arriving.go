package newcomers

import "slices"

// Arriving are the steps of an arrival while one of them is open.
func (n Newcomer) Arriving() []ArrivalStep {
	if slices.ContainsFunc(n.Arrival, func(s ArrivalStep) bool { return !s.Done }) {
		return n.Arrival
	}
	return nil
}
