package wording

import (
	"math/big"
	"regexp"
	"strings"
	"unicode"
	"unicode/utf8"

	"coilward/model"
)

// longestTyped is the most signs that a typed quantity, day or time may have.
const longestTyped = 100

// reading is one field as it was typed, on its way to a value.
type reading struct {
	field, typed string
	year         year   // which is meant where none is typed
	clean        string // lower case, every kind of space one plain space
}

func (r reading) refuse(reason string, gaps map[string]model.Gap) *model.Refusal {
	return &model.Refusal{Field: r.field, Value: r.typed, Reason: reason, Gaps: gaps, Answer: model.Mend}
}

// emptyReasons are the reasons for which an empty field is refused that tell what is wanted.
var emptyReasons = map[string]string{"day": "day.empty"}

func read(field, typed string) (reading, *model.Refusal) {
	r := reading{field: field, typed: typed}
	switch n := utf8.RuneCountInString(typed); {
	case n > longestTyped:
		return r, r.refuse("text.long", map[string]model.Gap{"Signs": model.CountGap(n), "Most": model.CountGap(longestTyped)})
	case !utf8.ValidString(typed) || strings.ContainsFunc(typed, func(s rune) bool { return unicode.IsControl(s) && s != '\t' }):
		return r, r.refuse("text.control", nil)
	}
	r.clean = strings.ToLower(strings.Join(strings.Fields(typed), " "))
	if r.clean == "" {
		reason := "text.empty"
		if own, has := emptyReasons[field]; has {
			reason = own
		}
		return r, r.refuse(reason, nil)
	}
	return r, nil
}

var (
	numberForm  = regexp.MustCompile(`^[0-9]+(?:[ .,'’][0-9]+)*$`)
	groupedForm = regexp.MustCompile(`^[0-9]{1,3}(?:[ .,'’][0-9]{3})+$`)
)

// number reads a plain decimal. Where a single point or comma may part thousands
// as well as decimals, asDecimal settles it; a number that stays open is refused
// with the two readings as a question.
func (t *Text) number(r reading, text string, settle settling) (*big.Rat, *model.Refusal) {
	if !numberForm.MatchString(text) {
		return nil, r.refuse("number.unreadable", nil)
	}
	at := strings.LastIndexAny(text, ".,")
	if at < 0 {
		return t.whole(r, text, "")
	}
	whole, part := text[:at], text[at+1:]
	mark := text[at : at+1]
	if strings.Contains(whole, mark) { // twice the same: it parts thousands
		return t.whole(r, text, "")
	}
	if len(part) == 3 && groupedForm.MatchString(text) && !strings.ContainsAny(whole, " .,'’") && strings.TrimLeft(whole, "0") != "" && whole[0] != '0' {
		switch {
		case settle == asDecimal:
		case settle == byLanguage && mark == t.grouping():
			return t.whole(r, text, "")
		default:
			return nil, r.refuse("number.open", map[string]model.Gap{
				"Thousands": model.TextGap(whole + part), "Decimal": model.TextGap(whole + t.point() + strings.TrimRight(part, "0") + "0")})
		}
	}
	return t.whole(r, whole, part)
}

// settling tells what a number like 1.432 is where it can be two things.
type settling uint8

const (
	neverGuess settling = iota // no unit: nothing settles it
	byLanguage                 // a unit in which thousands are usual: the language's own mark parts them
	asDecimal                  // a unit of which a thousand cannot be meant
)

func (t *Text) whole(r reading, whole, part string) (*big.Rat, *model.Refusal) {
	if strings.ContainsAny(whole, " .,'’") && !groupedForm.MatchString(whole) {
		return nil, r.refuse("number.groups", nil)
	}
	digits := strings.NewReplacer(" ", "", ".", "", ",", "", "'", "", "’", "").Replace(whole)
	n, ok := new(big.Rat).SetString(digits + "." + part + "0")
	if !ok {
		return nil, r.refuse("number.unreadable", nil)
	}
	return n, nil
}

// measure is a unit of a quantity: how many of the smallest units it is, what
// may stand behind it ("3 lb 2 oz"), and how an open number is settled.
type measure struct {
	size   *big.Rat
	behind string
	settle settling
}

var partForm = regexp.MustCompile(`^([0-9][0-9 .,'’]*?) ?([a-zäöü"″′°%]+)\.?(?: |$)`)

// quantity reads one number with or without a unit, or two parts such as pounds
// and ounces, in the smallest unit, unrounded.
func (t *Text) quantity(r reading, measures map[string]measure, usual string) (*big.Rat, *model.Refusal) {
	if strings.HasPrefix(r.clean, "-") || strings.HasPrefix(r.clean, "−") {
		return nil, r.refuse("number.negative", nil)
	}
	found := partForm.FindStringSubmatch(r.clean)
	if found == nil {
		n, refusal := t.number(r, r.clean, neverGuess)
		if refusal != nil {
			return nil, refusal
		}
		return n.Mul(n, measures[usual].size), nil
	}
	unit, known := measures[found[2]]
	if !known {
		return nil, r.refuse("unit.unknown", map[string]model.Gap{"Unit": model.TextGap(found[2])})
	}
	n, refusal := t.number(r, found[1], unit.settle)
	if refusal != nil {
		return nil, refusal
	}
	n.Mul(n, unit.size)
	rest := strings.TrimSpace(r.clean[len(found[0]):])
	if rest == "" {
		return n, nil
	}
	return t.behind(r, n, rest, unit, measures)
}

func (t *Text) behind(r reading, n *big.Rat, rest string, before measure, measures map[string]measure) (*big.Rat, *model.Refusal) {
	found := partForm.FindStringSubmatch(rest)
	if found == nil || found[0] != rest {
		return nil, r.refuse("number.unreadable", nil)
	}
	unit, known := measures[found[2]]
	if !known || before.behind == "" || unit.size.Cmp(measures[before.behind].size) != 0 {
		return nil, r.refuse("unit.order", nil)
	}
	more, refusal := t.number(r, found[1], unit.settle)
	if refusal != nil {
		return nil, refusal
	}
	if more.Mul(more, unit.size).Cmp(before.size) >= 0 {
		return nil, r.refuse("unit.order", nil)
	}
	return n.Add(n, more), nil
}

// rounded is n to the nearest whole number; ok is false outside 1 … most.
func rounded(n *big.Rat, most int64) (value int64, ok bool) {
	if n.Cmp(new(big.Rat).SetInt64(most)) > 0 {
		return 0, false
	}
	double := new(big.Int).Mul(n.Num(), big.NewInt(2))
	double.Add(double, n.Denom())
	value = double.Quo(double, new(big.Int).Mul(n.Denom(), big.NewInt(2))).Int64()
	return value, value > 0
}
