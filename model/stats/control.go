package stats

import "math"

// EWMA is a chart of the exponentially weighted moving average. Source: NIST/SEMATECH
// e-Handbook of Statistical Methods, 6.3.2.4.
type EWMA struct {
	Weight    float64 // of the newest value, above 0 and at most 1
	Target    float64 // what the average begins with
	Deviation float64 // standard deviation of a single value
	Width     float64 // of the limits, in standard deviations of the average; 3 is usual
}

// Averages are the average after each value.
func (e EWMA) Averages(values []float64) []float64 {
	averages := make([]float64, len(values))
	last := e.Target
	for i, v := range values {
		last = e.Weight*v + (1-e.Weight)*last
		averages[i] = last
	}
	return averages
}

// Limits are those of the average after n values; they widen up to Limit.
func (e EWMA) Limits(n int) (low, high float64) {
	reach := e.reach() * math.Sqrt(1-math.Pow(1-e.Weight, 2*float64(n)))
	return e.Target - reach, e.Target + reach
}

// Limit are the limits that those of a long run come to.
func (e EWMA) Limit() (low, high float64) { return e.Target - e.reach(), e.Target + e.reach() }

func (e EWMA) reach() float64 {
	return e.Width * e.Deviation * math.Sqrt(e.Weight/(2-e.Weight))
}

// CUSUM is a chart of cumulative sums: of what values lie above the target and the
// slack, and below. Source: NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2.3.
type CUSUM struct {
	Target   float64
	Slack    float64 // half the shift that one cares about
	Decision float64 // a sum above it is a signal
}

// Sums are both sums after each value; neither falls below zero.
func (c CUSUM) Sums(values []float64) (high, low []float64) {
	high, low = make([]float64, len(values)), make([]float64, len(values))
	up, down := 0.0, 0.0
	for i, v := range values {
		up = max(0, up+v-c.Target-c.Slack)
		down = max(0, down+c.Target-c.Slack-v)
		high[i], low[i] = up, down
	}
	return high, low
}

// Signal is the first value, counted from zero, at which one of the sums passes the
// decision.
func (c CUSUM) Signal(values []float64) (at int, found bool) {
	high, low := c.Sums(values)
	for i := range values {
		if high[i] > c.Decision || low[i] > c.Decision {
			return i, true
		}
	}
	return 0, false
}
