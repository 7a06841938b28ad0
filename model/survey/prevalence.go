package survey

import "math"

// Prevalence is the share infected that an apparent one stands for.
type Prevalence struct {
	Share float64 // from 0 to 1
	Raw   float64 // what the formula gives, which may lie outside
	// Below and Above are warnings: there were fewer positive results than the test
	// gives in a group without an infected animal, or more than in one that is infected
	// throughout. Chance does that, or a test that is not as good or as bad as was taken.
	Below, Above bool
}

// TruePrevalence is the share infected where so many of those tested were positive:
// (AP + Sp - 1) / (Se + Sp - 1). The test must tell infected from others: Se + Sp above 1.
// Rogan & Gladen 1978.
func TruePrevalence(positive, tested int, test Test) (Prevalence, error) {
	err := first(number("number tested", tested, 1, math.MaxInt), number("number positive", positive, 0, tested), test.tells())
	if err != nil {
		return Prevalence{}, err
	}
	apparent := float64(positive) / float64(tested)
	raw := (apparent + test.Specificity - 1) / (test.Sensitivity + test.Specificity - 1)
	return Prevalence{Share: min(1, max(0, raw)), Raw: raw, Below: !reaches(raw, 0), Above: !reaches(1, raw)}, nil
}
