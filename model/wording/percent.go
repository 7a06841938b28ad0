package wording

import (
	"regexp"

	"coilward/model"
)

// percentForm takes as many places as are typed: that there are too many is said as such.
var percentForm = regexp.MustCompile(`^([0-9]+(?:[.,][0-9]+)?) ?(?:%|percent|prozent)?$`)

// ParsePercent reads so many in a hundred, as people type it: "12", "0,5 %", in hundredths
// of a percent from 0 to 100 %. The error is a *model.Refusal of the field "percent".
func (t *Text) ParsePercent(typed string) (hundredths int, err error) {
	r, refusal := read("percent", typed)
	if refusal != nil {
		return 0, refusal
	}
	found := percentForm.FindStringSubmatch(r.clean)
	if found == nil {
		return 0, r.refuse("percent.range", nil)
	}
	n, refusal := t.number(r, found[1], asDecimal)
	if refusal != nil {
		return 0, refusal
	}
	n.Mul(n, ratio(100, 1))
	switch {
	case n.Cmp(ratio(10_000, 1)) > 0:
		return 0, r.refuse("percent.range", nil)
	case !n.IsInt():
		return 0, r.refuse("percent.fine", map[string]model.Gap{"Places": model.CountGap(2)})
	}
	return int(n.Num().Int64()), nil
}
