package survey

import (
	"fmt"
	"math"
)

// RiskGroup is a part of the animals that is infected more or less easily than others.
type RiskGroup struct {
	Relative float64 // its risk against that of a part of reference, above 0
	Share    float64 // of all animals, above 0; those of all parts make 1
	Tested   int
}

// AdjustedRisks are the relative risks scaled so that they are 1 on the average of all
// animals: RR / sum of RR times share.
func AdjustedRisks(groups []RiskGroup) ([]float64, error) {
	mean, shares := 0.0, 0.0
	for _, g := range groups {
		if !(g.Relative > 0) || math.IsInf(g.Relative, 0) {
			return nil, &InputError{"relative risk", g.Relative, "above 0"}
		}
		if err := some("share of a risk group", g.Share); err != nil {
			return nil, err
		}
		mean += g.Relative * g.Share
		shares += g.Share
	}
	if !(math.Abs(shares-1) < 1e-9) {
		return nil, &InputError{"sum of the shares of the risk groups", shares, "1"}
	}
	adjusted := make([]float64, len(groups))
	for i, g := range groups {
		adjusted[i] = g.Relative / mean
	}
	return adjusted, nil
}

// RiskSensitivity is the chance that one infected animal at least is detected where some
// parts of a large group are tested more than others: 1 - product of
// (1 - P AR Se)^n. The share infected is that of the whole group.
func RiskSensitivity(share, sensitivity float64, groups []RiskGroup) (float64, error) {
	if err := first(chance("share infected", share), chance("sensitivity", sensitivity)); err != nil {
		return 0, err
	}
	risks, err := AdjustedRisks(groups)
	if err != nil {
		return 0, err
	}
	missed := 1.0
	for i, g := range groups {
		infected := share * risks[i]
		if reaches(1, infected) {
			infected = min(1, infected)
		}
		if err := first(number("number tested", g.Tested, 0, math.MaxInt), chance(fmt.Sprintf("share infected of risk group %d", i+1), infected)); err != nil {
			return 0, err
		}
		missed *= 1 - anyOf(infected*sensitivity, g.Tested)
	}
	return 1 - missed, nil
}
