package survey

import "math"

// Test is how a test errs, of one animal or of one pool.
type Test struct {
	Sensitivity float64 // chance of a positive result if infected, 0 to 1
	Specificity float64 // chance of a negative result if not, 0 to 1
}

func (t Test) refuse() error {
	return first(chance("sensitivity", t.Sensitivity), chance("specificity", t.Specificity))
}

// tells refuses a test that tells nothing of who is infected.
func (t Test) tells() error {
	if err := t.refuse(); err != nil {
		return err
	}
	if both := t.Sensitivity + t.Specificity; both <= 1+tolerance {
		return &InputError{"sum of sensitivity and specificity", both, "above 1"}
	}
	return nil
}

// positive is the chance of a positive result where infection has that chance.
func (t Test) positive(infected float64) float64 {
	return min(1, infected*t.Sensitivity+(1-infected)*(1-t.Specificity))
}

// PositiveValue is the chance of infection after a positive result, where it was so great
// before: Se p / (Se p + (1-Sp)(1-p)). Refused where no result can be positive. Altman &
// Bland 1994, BMJ 309:102.
func (t Test) PositiveValue(prior float64) (float64, error) {
	if err := first(t.refuse(), chance("prior chance of infection", prior)); err != nil {
		return 0, err
	}
	positive := t.positive(prior)
	if positive == 0 {
		return 0, &InputError{"chance of a positive result", positive, "above 0"}
	}
	return t.Sensitivity * prior / positive, nil
}

// NegativeValue is the chance that there is no infection after a negative result, where
// infection had that chance before: Sp (1-p) / (Sp (1-p) + (1-Se) p). Refused where no
// result can be negative. Altman & Bland 1994, BMJ 309:102.
func (t Test) NegativeValue(prior float64) (float64, error) {
	if err := first(t.refuse(), chance("prior chance of infection", prior)); err != nil {
		return 0, err
	}
	negative := t.Specificity*(1-prior) + (1-t.Sensitivity)*prior
	if negative == 0 {
		return 0, &InputError{"chance of a negative result", negative, "above 0"}
	}
	return t.Specificity * (1 - prior) / negative, nil
}

// Parallel is several independent tests of one animal read as one that is positive if any
// of them is.
func Parallel(tests ...Test) (Test, error) {
	if err := all(tests); err != nil {
		return Test{}, err
	}
	missed, specificity := 1.0, 1.0
	for _, t := range tests {
		missed *= 1 - t.Sensitivity
		specificity *= t.Specificity
	}
	return Test{1 - missed, specificity}, nil
}

// Series is several independent tests of one animal read as one that is positive if all
// of them are.
func Series(tests ...Test) (Test, error) {
	if err := all(tests); err != nil {
		return Test{}, err
	}
	sensitivity, alarms := 1.0, 1.0
	for _, t := range tests {
		sensitivity *= t.Sensitivity
		alarms *= 1 - t.Specificity
	}
	return Test{sensitivity, 1 - alarms}, nil
}

func all(tests []Test) error {
	for _, t := range tests {
		if err := t.refuse(); err != nil {
			return err
		}
	}
	return number("number of tests", len(tests), 1, math.MaxInt)
}
