package wording

import (
	"math"
	"strconv"
	"strings"

	"coilward/model"
)

// Units are the units that quantities are shown in and, where none is typed,
// read in. The zero value is grams, centimetres and degrees Celsius.
type Units struct {
	Imperial   bool `json:"imperial,omitempty"`   // ounces, pounds, inches
	Fahrenheit bool `json:"fahrenheit,omitempty"` // degrees Fahrenheit
}

// noBreak stands between a number and its unit.
const noBreak = "\u00a0"

// ounce is the avoirdupois ounce in thousand-millionths of a gram
// (28.349523125 g exactly); a pound is 16 of them.
const ounce = 28_349_523_125

// Mass is a mass: grams, from 10 kg on kilograms; or ounces, from a pound on
// pounds and ounces. Under 100 g it shows tenths of a gram if there are any. The
// digits of grams stand together, so that none can be taken for a decimal.
func (t *Text) Mass(m model.Mass) string {
	if m.Milligrams < 0 {
		return "−" + t.Mass(model.Mass{Milligrams: -max(m.Milligrams, -math.MaxInt64)})
	}
	if t.units.Imperial {
		return t.ounces(m.Milligrams)
	}
	switch {
	case m.Milligrams >= 9_999_500:
		return t.decimal(divide(m.Milligrams, 10_000), 2) + noBreak + "kg"
	case m.Milligrams >= 99_950:
		return strconv.FormatInt(divide(m.Milligrams, 1000), 10) + noBreak + "g"
	}
	return t.decimal(divide(m.Milligrams, 100), 1) + noBreak + "g"
}

func (t *Text) ounces(milligrams int64) string {
	if hundredths := scale(milligrams, 100_000_000, ounce); hundredths < 1600 {
		return t.decimal(hundredths, 2) + noBreak + "oz"
	}
	tenths := scale(milligrams, 10_000_000, ounce)
	pounds := strconv.FormatInt(tenths/160, 10) + noBreak + "lb"
	if tenths%160 == 0 {
		return pounds
	}
	return pounds + noBreak + t.decimal(tenths%160, 1) + noBreak + "oz"
}

// MassUnit is how many milligrams the unit has that masses are shown in, so that
// marks of a scale can be round: a gram or an ounce.
func (t *Text) MassUnit() float64 {
	if t.units.Imperial {
		return ounce / 1e6
	}
	return 1000
}

// Length is a length: millimetres, from 10 cm on centimetres; or inches.
func (t *Text) Length(l model.Length) string {
	if l.Tenths < 0 {
		return "−" + t.Length(model.Length{Tenths: -max(l.Tenths, -math.MaxInt64)})
	}
	switch {
	case t.units.Imperial && l.Tenths < 2540:
		return t.decimal(scale(l.Tenths, 100, 254), 2) + noBreak + "in"
	case t.units.Imperial:
		return t.decimal(scale(l.Tenths, 10, 254), 1) + noBreak + "in"
	case l.Tenths < 1000:
		return t.decimal(l.Tenths, 1) + noBreak + "mm"
	}
	return t.decimal(divide(l.Tenths, 10), 1) + noBreak + "cm"
}

// Temperature is a temperature to a tenth of a degree.
func (t *Text) Temperature(c model.Temperature) string {
	hundredths, unit := c.Hundredths, "°C"
	if t.units.Fahrenheit {
		hundredths, unit = scale(hundredths, 9, 5)+3200, "°F"
	}
	return t.decimal(divide(hundredths, 10), 1) + noBreak + unit
}

// Percent is a share in hundredths of a percent, shown to a tenth.
func (t *Text) Percent(hundredths int) string {
	return t.decimal(divide(int64(hundredths), 10), 1) + noBreak + "%"
}

// Decimal writes n / 10^places with the language's decimal sign and without
// zeros at its end.
func (t *Text) Decimal(n int64, places int) string { return t.decimal(n, places) }

// decimal writes n / 10^places without zeros at its end.
func (t *Text) decimal(n int64, places int) string {
	sign := ""
	if n < 0 {
		sign, n = "−", -max(n, -math.MaxInt64)
	}
	digits := strconv.FormatInt(n, 10)
	if len(digits) <= places {
		digits = strings.Repeat("0", places+1-len(digits)) + digits
	}
	whole, part := digits[:len(digits)-places], strings.TrimRight(digits[len(digits)-places:], "0")
	if part == "" {
		return sign + whole
	}
	return sign + whole + t.point() + part
}

// divide rounds half away from zero, whatever n is.
func divide(n, by int64) int64 {
	quotient, rest := n/by, n%by
	switch half := by - by/2; {
	case rest >= half:
		return quotient + 1
	case rest <= -half:
		return quotient - 1
	}
	return quotient
}

// scale is n · times / by. A stored value so large that the product does not
// fit, which no animal has, is scaled to the nearest number that can be told.
func scale(n, times, by int64) int64 {
	if most := math.MaxInt64 / times; -most <= n && n <= most {
		return divide(n*times, by)
	}
	return int64(float64(n) / float64(by) * float64(times))
}
