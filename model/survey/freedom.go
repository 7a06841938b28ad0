package survey

import "math"

// Period is the time between two rounds, and the round at its end.
type Period struct {
	Introduction float64 // chance that the infection came in, 0 and below 1
	Sensitivity  float64 // of the round, in which nothing was detected
}

func (p Period) refuse() error {
	if !(p.Introduction >= 0 && p.Introduction < 1) {
		return &InputError{"chance of introduction", p.Introduction, "0 or more and below 1"}
	}
	return chance("sensitivity", p.Sensitivity)
}

// Discounted is the chance that a group was free before, and has stayed so over a time
// in which the infection came in with that chance (0 and below 1): p (1 - pi). Martin,
// Cameron & Greiner 2007.
func Discounted(free, introduction float64) (float64, error) {
	if err := first(within("prior chance of freedom", free), Period{Introduction: introduction}.refuse()); err != nil {
		return 0, err
	}
	return free * (1 - introduction), nil
}

// FreeAfter is the chance that a group is free of the infection, at the share or number
// that the survey was laid out for, after a round of that sensitivity in which
// nothing was detected: p / (1 - SeP (1 - p)). The prior is above 0 and below 1. Martin,
// Cameron & Greiner 2007.
func FreeAfter(prior, sensitivity float64) (float64, error) {
	if err := first(within("prior chance of freedom", prior), chance("sensitivity", sensitivity)); err != nil {
		return 0, err
	}
	return freeAfter(prior, sensitivity), nil
}

// freeAfter divides by p + (1-SeP)(1-p), which is the same and loses no digits of a small p.
func freeAfter(prior, sensitivity float64) float64 {
	return prior / (prior + (1-sensitivity)*(1-prior))
}

// FreeOver are the chances of freedom after each of several periods in which nothing was
// detected, the prior standing before the first.
func FreeOver(prior float64, periods []Period) ([]float64, error) {
	if err := within("prior chance of freedom", prior); err != nil {
		return nil, err
	}
	free := make([]float64, len(periods))
	for i, p := range periods {
		if err := p.refuse(); err != nil {
			return nil, err
		}
		prior = freeAfter(prior*(1-p.Introduction), p.Sensitivity)
		free[i] = prior
	}
	return free, nil
}

// Equilibrium is what the chance of freedom comes to after ever more equal periods, and
// what it is before each of their rounds: (1 - pi/SeP) / (1 - pi) and 1 - pi/SeP. Where the
// infection comes in as easily as it is found there is none, and it is refused.
func Equilibrium(period Period) (free, prior float64, err error) {
	if err := period.refuse(); err != nil {
		return 0, 0, err
	}
	if period.Sensitivity <= period.Introduction {
		return 0, 0, &InputError{"sensitivity", period.Sensitivity, "above the chance of introduction"}
	}
	prior = 1 - period.Introduction/period.Sensitivity
	return prior / (1 - period.Introduction), prior, nil
}

// SensitivityFor is the sensitivity that a round must have so that the chance of freedom
// is as great as wanted if nothing is detected: (1 - p/PFree) / (1 - p), and 0 where the
// prior is as great already. Both are above 0 and below 1.
func SensitivityFor(prior, free float64) (float64, error) {
	if err := first(within("prior chance of freedom", prior), within("wanted chance of freedom", free)); err != nil {
		return 0, err
	}
	return max(0, (1-prior/free)/(1-prior)), nil
}

// LargeSmallestFor is the fewest animals of [LargeSmallest] after which the chance of
// freedom is as great as wanted if nothing is detected; 0 where it is so already.
func LargeSmallestFor(prior, free, share, sensitivity float64) (int, error) {
	wanted, err := SensitivityFor(prior, free)
	if err != nil {
		return 0, err
	}
	if wanted > 0 {
		return LargeSmallest(share, sensitivity, wanted)
	}
	return 0, first(some("share infected", share), some("sensitivity", sensitivity))
}

// Introduction is the chance that one at least of so many arrivals brings the infection
// in, where each carries it with that chance: 1 - (1-q)^a.
func Introduction(carries float64, arrivals int) (float64, error) {
	if err := first(chance("chance that an arrival is infected", carries), number("number of arrivals", arrivals, 0, math.MaxInt)); err != nil {
		return 0, err
	}
	return anyOf(carries, arrivals), nil
}
