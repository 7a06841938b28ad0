package wording

import (
	"fmt"
	"math/big"
	"regexp"
	"strconv"

	"coilward/model"
)

// The most that is read: 1,000 kg, 10 m (both beyond any snake; assumed), and
// −20 to 60 °C (beyond any vivarium; assumed).
const (
	mostMilligrams   = 1_000_000_000
	mostTenths       = 100_000
	leastHundredths  = -2000
	mostHundredths   = 6000
	poundMicrograms  = 453_592_370
	ounceNanograms   = 28_349_523_125
	inchTenths       = 254
	footTenths       = 3048
	microInMilligram = 1000
)

func ratio(n, of int64) *big.Rat { return big.NewRat(n, of) }

func masses() map[string]measure {
	gram, kilogram := measure{ratio(1000, 1), "", byLanguage}, measure{ratio(1_000_000, 1), "g", asDecimal}
	oz, lb := measure{ratio(ounceNanograms, 1_000_000), "", neverGuess}, measure{ratio(poundMicrograms, microInMilligram), "oz", asDecimal}
	return map[string]measure{
		"g": gram, "gr": gram, "gram": gram, "grams": gram, "gramm": gram,
		"kg": kilogram, "kilo": kilogram, "kilos": kilogram, "kilogram": kilogram, "kilograms": kilogram, "kilogramm": kilogram,
		"oz": oz, "ounce": oz, "ounces": oz, "unze": oz, "unzen": oz,
		"lb": lb, "lbs": lb, "pound": lb, "pounds": lb,
	}
}

func lengths() map[string]measure {
	mm, cm, m := measure{ratio(10, 1), "", byLanguage}, measure{ratio(100, 1), "mm", neverGuess}, measure{ratio(10_000, 1), "cm", asDecimal}
	in, ft := measure{ratio(inchTenths, 1), "", neverGuess}, measure{ratio(footTenths, 1), "in", asDecimal}
	return map[string]measure{
		"mm": mm, "millimetre": mm, "millimetres": mm, "millimeter": mm, "cm": cm, "centimetre": cm, "centimetres": cm, "zentimeter": cm,
		"m": m, "metre": m, "metres": m, "meter": m,
		"in": in, "inch": in, "inches": in, "zoll": in, `"`: in, "″": in, "ft": ft, "foot": ft, "feet": ft, "fuß": ft, "′": ft,
	}
}

// ParseMass reads a mass as people type it: "1432", "1,432 g", "0.085 kg",
// "3 lb 2 oz". Without a unit it is grams, or ounces where those are the units.
// The error is a *model.Refusal of the field "mass".
func (t *Text) ParseMass(typed string) (model.Mass, error) {
	usual := "g"
	if t.units.Imperial {
		usual = "oz"
	}
	value, refusal := t.positive("mass", typed, masses(), usual, mostMilligrams)
	if refusal != nil {
		return model.Mass{}, refusal
	}
	return model.Mass{Milligrams: value, Typed: typed}, nil
}

// ParseLength reads a length as people type it: "8 mm", "1.2 cm", "3 ft 10 in".
// Without a unit it is centimetres, or inches where those are the units. The
// error is a *model.Refusal of the field "length".
func (t *Text) ParseLength(typed string) (model.Length, error) {
	usual := "cm"
	if t.units.Imperial {
		usual = "in"
	}
	return t.parseLength(typed, usual)
}

// ParseSize reads the size of something small, which without a unit is
// millimetres, or inches where those are the units. The error is a
// *model.Refusal of the field "length".
func (t *Text) ParseSize(typed string) (model.Length, error) {
	usual := "mm"
	if t.units.Imperial {
		usual = "in"
	}
	return t.parseLength(typed, usual)
}

func (t *Text) parseLength(typed, usual string) (model.Length, error) {
	value, refusal := t.positive("length", typed, lengths(), usual, mostTenths)
	if refusal != nil {
		return model.Length{}, refusal
	}
	return model.Length{Tenths: value, Typed: typed}, nil
}

func (t *Text) positive(field, typed string, measures map[string]measure, usual string, most int64) (int64, *model.Refusal) {
	r, refusal := read(field, typed)
	if refusal != nil {
		return 0, refusal
	}
	n, refusal := t.quantity(r, measures, usual)
	if refusal != nil {
		return 0, refusal
	}
	value, ok := rounded(n, most)
	switch {
	case ok:
		return value, nil
	case value == 0 && n.Cmp(ratio(1, 1)) < 0:
		return 0, r.refuse(field+".zero", nil)
	}
	gap := model.MassGap(model.Mass{Milligrams: most})
	if field == "length" {
		gap = model.LengthGap(model.Length{Tenths: most})
	}
	return 0, r.refuse(field+".range", map[string]model.Gap{"Most": gap})
}

var temperatureForm = regexp.MustCompile(`^([-−+]?)([0-9]+(?:[.,][0-9]{1,3})?) ?°? ?(c|f)?$`)

// ParseTemperature reads a temperature as people type it: "31.5", "31,5 °C",
// "88 F". Without a unit it is in degrees Celsius, or Fahrenheit where those are
// the units. The error is a *model.Refusal of the field "temperature".
func (t *Text) ParseTemperature(typed string) (model.Temperature, error) {
	r, refusal := read("temperature", typed)
	if refusal != nil {
		return model.Temperature{}, refusal
	}
	found := temperatureForm.FindStringSubmatch(r.clean)
	if found == nil {
		return model.Temperature{}, r.refuse("number.unreadable", nil)
	}
	n, refusal := t.number(r, found[2], asDecimal)
	if refusal != nil {
		return model.Temperature{}, refusal
	}
	if found[1] == "-" || found[1] == "−" {
		n.Neg(n)
	}
	if found[3] == "f" || found[3] == "" && t.units.Fahrenheit {
		n.Mul(n.Sub(n, ratio(32, 1)), ratio(5, 9))
	}
	n.Mul(n, ratio(100, 1))
	if n.Cmp(ratio(leastHundredths, 1)) < 0 || n.Cmp(ratio(mostHundredths, 1)) > 0 {
		return model.Temperature{}, r.refuse("temperature.range", map[string]model.Gap{
			"Least": model.TextGap(t.Temperature(model.Temperature{Hundredths: leastHundredths})),
			"Most":  model.TextGap(t.Temperature(model.Temperature{Hundredths: mostHundredths}))})
	}
	value, _ := rounded(n.Add(n, ratio(10_000, 1)), 1_000_000) // lifted above zero to round alike
	return model.Temperature{Hundredths: value - 10_000, Typed: typed}, nil
}

var humidityForm = regexp.MustCompile(`^([0-9]+(?:[.,][0-9]{1,3})?) ?(?:%|percent|prozent)?$`)

// ParseHumidity reads a relative humidity as people type it: "55", "55,5 %", in
// hundredths of a percent from 0 to 100 %. The error is a *model.Refusal of the
// field "humidity".
func (t *Text) ParseHumidity(typed string) (hundredths int, err error) {
	r, refusal := read("humidity", typed)
	if refusal != nil {
		return 0, refusal
	}
	found := humidityForm.FindStringSubmatch(r.clean)
	if found == nil {
		return 0, r.refuse("humidity.unreadable", nil)
	}
	n, refusal := t.number(r, found[1], asDecimal)
	if refusal != nil {
		return 0, refusal
	}
	n.Mul(n, ratio(100, 1))
	if n.Cmp(ratio(10_000, 1)) > 0 {
		return 0, r.refuse("humidity.range", nil)
	}
	value, _ := rounded(n, 10_000) // nothing stays nothing
	return int(value), nil
}

var priceForm = regexp.MustCompile(`^([0-9]+(?:[.,][0-9]{1,2})?)$`)

// mostPrice is the most that is taken for a price, in cents.
const mostPrice = 10_000_000

// ParsePrice reads a price without its currency, such as "32" or "32.50", in cents. The
// error is a *model.Refusal of the field "price".
func (t *Text) ParsePrice(typed string) (cents int64, err error) {
	r, refusal := read("price", typed)
	if refusal != nil {
		return 0, refusal
	}
	found := priceForm.FindStringSubmatch(r.clean)
	if found == nil {
		return 0, r.refuse("price.unreadable", nil)
	}
	n, refusal := t.number(r, found[1], asDecimal)
	if refusal != nil {
		return 0, refusal
	}
	n.Mul(n, ratio(100, 1))
	if n.Cmp(ratio(mostPrice, 1)) > 0 {
		return 0, r.refuse("price.range", nil)
	}
	cents, _ = rounded(n, mostPrice)
	return cents, nil
}

// Price is a price in cents as a number without its currency, with two places unless it
// is whole. It is not below zero.
func (t *Text) Price(cents int64) string {
	if cents%100 == 0 {
		return t.Number(cents / 100)
	}
	return t.Number(cents/100) + t.point() + fmt.Sprintf("%02d", cents%100)
}

// ParseCount reads a whole number from 1 to most. The error is a *model.Refusal
// of the field "count".
func (t *Text) ParseCount(typed string, most int) (int, error) {
	r, refusal := read("count", typed)
	if refusal != nil {
		return 0, refusal
	}
	n, err := strconv.Atoi(r.clean)
	if err != nil || n < 1 || n > most {
		return 0, r.refuse("count.whole", map[string]model.Gap{"Most": model.CountGap(most)})
	}
	return n, nil
}
