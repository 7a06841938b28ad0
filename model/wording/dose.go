package wording

import (
	"math/big"
	"regexp"
	"strings"

	"coilward/model"
)

// mostMillionths is the most that is read of a dose, a concentration or a volume:
// 100,000 of its unit, beyond any of them (assumed).
const mostMillionths = 100_000_000_000

// measured is a unit in which something of a prescription is typed: how many of the
// usual unit it is, and of what.
type measured struct {
	size *big.Rat
	of   string
}

var (
	amountForm = regexp.MustCompile(`^([0-9][0-9 .,'’]*?) ?([^0-9 .,'’].*)?$`)
	shareForm  = regexp.MustCompile(`^1 ?: ?([1-9][0-9]{0,6})$`)
)

// plainUnit writes a unit as the tables of units do.
var plainUnit = strings.NewReplacer("μ", "µ", " ", "", "mcg", "µg", "ug", "µg", "ul", "µl", "pro", "/", "per", "/", ".", "")

func doses() map[string]measured {
	return map[string]measured{"mg/kg": {ratio(1, 1), "mg"}, "µg/kg": {ratio(1, 1000), "mg"}, "g/kg": {ratio(1000, 1), "mg"},
		"ml/kg": {ratio(1, 1), "ml"}, "µl/kg": {ratio(1, 1000), "ml"}}
}

func concentrations() map[string]measured {
	return map[string]measured{"mg/ml": {ratio(1, 1), ""}, "µg/ml": {ratio(1, 1000), ""}, "g/ml": {ratio(1000, 1), ""}, "%": {ratio(10, 1), ""}}
}

func volumes() map[string]measured {
	return map[string]measured{"ml": {ratio(1, 1), ""}, "µl": {ratio(1, 1000), ""}}
}

// ParseDose reads a dose per kilogram as a vet writes it: "20 mg/kg", "0,2 mg/kg",
// "200 µg/kg", "20 ml/kg", in millionths of a milligram or millilitre per kilogram; of
// tells of which, "mg" or "ml". Without a unit it is refused. The error is a *model.Refusal of the field "dose".
func (t *Text) ParseDose(typed string) (millionths int64, of string, err error) {
	return t.amount("dose", typed, doses(), "")
}

// ParseConcentration reads a concentration: "50", "50 mg/ml", "2.5 %" (which is 25 mg/ml),
// "1:1000" (which is 1 mg/ml), in millionths of a milligram per millilitre. The error is a
// *model.Refusal of the field "concentration".
func (t *Text) ParseConcentration(typed string) (millionths int64, err error) {
	millionths, _, err = t.amount("concentration", typed, concentrations(), "mg/ml")
	return millionths, err
}

// ParseVolume reads a volume: "0.3", "0,3 ml", "40 µl", in millionths of a millilitre. The
// error is a *model.Refusal of the field "dose".
func (t *Text) ParseVolume(typed string) (millionths int64, err error) {
	millionths, _, err = t.amount("dose", typed, volumes(), "ml")
	return millionths, err
}

// amount reads one number, without a unit only where there is a usual one, exactly. A number that can be read in
// two ways is never guessed at.
func (t *Text) amount(field, typed string, units map[string]measured, usual string) (int64, string, error) {
	r, refusal := read(field, typed)
	if refusal != nil {
		return 0, "", refusal
	}
	if strings.HasPrefix(r.clean, "-") || strings.HasPrefix(r.clean, "−") {
		return 0, "", r.refuse("number.negative", nil)
	}
	if found := shareForm.FindStringSubmatch(r.clean); found != nil && field == "concentration" {
		in, _ := new(big.Rat).SetString(found[1])
		return t.exact(r, new(big.Rat).Quo(ratio(1000, 1), in), "")
	}
	found := amountForm.FindStringSubmatch(r.clean)
	if found == nil {
		return 0, "", r.refuse("number.unreadable", nil)
	}
	unit, known := units[usual], true
	if found[2] == "" && usual == "" {
		return 0, "", r.refuse("dose.unit", map[string]model.Gap{"Number": model.TextGap(found[1])})
	}
	if found[2] != "" {
		unit, known = units[plainUnit.Replace(found[2])]
	}
	if !known {
		return 0, "", r.refuse("amount.unit", map[string]model.Gap{"Unit": model.TextGap(found[2])})
	}
	n, refusal := t.number(r, strings.TrimSpace(found[1]), neverGuess)
	if refusal != nil {
		return 0, "", refusal
	}
	return t.exact(r, n.Mul(n, unit.size), unit.of)
}

// exact is a number in millionths, which are to be whole.
func (t *Text) exact(r reading, n *big.Rat, of string) (int64, string, error) {
	n.Mul(n, ratio(1_000_000, 1))
	switch {
	case n.Sign() == 0:
		return 0, "", r.refuse("amount.zero", nil)
	case n.Cmp(ratio(mostMillionths, 1)) > 0:
		return 0, "", r.refuse("amount.range", map[string]model.Gap{"Most": model.CountGap(mostMillionths / 1_000_000)})
	case !n.IsInt():
		return 0, "", r.refuse("amount.fine", nil)
	}
	return n.Num().Int64(), of, nil
}

var intervalForm = regexp.MustCompile(`^([0-9]{1,4}) ?([a-zäöü]*)\.?$`)

// ParseInterval reads the time from one dose to the next: "24", "24 h", "3 days", in
// hours. The error is a *model.Refusal of the field "every".
func (t *Text) ParseInterval(typed string) (hours int, err error) {
	r, refusal := read("every", typed)
	if refusal != nil {
		return 0, refusal
	}
	found := intervalForm.FindStringSubmatch(r.clean)
	if found == nil {
		return 0, r.refuse("interval.unreadable", nil)
	}
	times := map[string]int{"": 1, "h": 1, "hour": 1, "hours": 1, "std": 1, "stunde": 1, "stunden": 1,
		"d": 24, "day": 24, "days": 24, "tag": 24, "tage": 24, "tagen": 24, "week": 168, "weeks": 168, "woche": 168, "wochen": 168}[found[2]]
	if times == 0 {
		return 0, r.refuse("interval.unit", map[string]model.Gap{"Unit": model.TextGap(found[2])})
	}
	for _, digit := range found[1] {
		hours = hours*10 + int(digit-'0')
	}
	if hours *= times; hours == 0 {
		return 0, r.refuse("interval.zero", nil)
	}
	return hours, nil
}

// Interval tells the time from one dose to the next: in days where they are whole ones.
func (t *Text) Interval(hours int) string {
	if hours > 24 && hours%24 == 0 {
		return t.Count("medicine.every-days", hours/24)
	}
	return t.Count("medicine.every-hours", hours)
}

// Millionths writes an exact amount that is kept in millionths of its unit.
func (t *Text) Millionths(n int64) string { return t.decimal(n, 6) }

// Microlitres writes a volume in millilitres.
func (t *Text) Microlitres(n int64) string { return t.decimal(n, 3) + noBreak + "ml" }
