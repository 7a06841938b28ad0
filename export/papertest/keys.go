package papertest

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"coilward/model"
)

// Keys words a paper by the keys of its texts and the values of their gaps, so
// that a test sees what a paper says whatever the wording.
type Keys struct{}

// Say is the key with its gaps.
func (Keys) Say(key string, gaps ...map[string]any) string {
	var parts []string
	for _, g := range gaps {
		for _, name := range slices.Sorted(maps.Keys(g)) {
			parts = append(parts, fmt.Sprintf("%s=%v", name, written(g[name])))
		}
	}
	if len(parts) == 0 {
		return key
	}
	return key + "{" + strings.Join(parts, " ") + "}"
}

// Count is the key with the number and its gaps.
func (k Keys) Count(key string, n int, gaps ...map[string]any) string {
	return fmt.Sprintf("%s×%d", k.Say(key, gaps...), n)
}

func written(value any) any {
	switch v := value.(type) {
	case model.Mass:
		return Keys{}.Mass(v)
	case model.Date:
		return Keys{}.Date(v)
	case model.Gap:
		if v.Kind == model.GapCount {
			return v.Number
		}
		return v.Text
	case model.Label:
		gaps := map[string]any{}
		for name, gap := range v.Gaps {
			gaps[name] = gap
		}
		return Keys{}.Say(v.Key, gaps)
	}
	return value
}

// Mass is in milligrams.
func (Keys) Mass(m model.Mass) string { return fmt.Sprintf("%dmg", m.Milligrams) }

// Length is in tenths of a millimetre.
func (Keys) Length(l model.Length) string { return fmt.Sprintf("%d/10mm", l.Tenths) }

// Temperature is in hundredths of a degree Celsius.
func (Keys) Temperature(c model.Temperature) string { return fmt.Sprintf("%d/100°C", c.Hundredths) }

// Percent is in hundredths of a percent.
func (Keys) Percent(hundredths int) string { return fmt.Sprintf("%d/100%%", hundredths) }

// MassUnit is a gram.
func (Keys) MassUnit() float64 { return 1000 }

// Day is in the form of ISO 8601.
func (Keys) Day(d model.Day) string { return d.String() }

// DayShort is Day.
func (Keys) DayShort(d model.Day) string { return d.String() }

// DayOfYear is the day without its year.
func (Keys) DayOfYear(d model.Day) string { return d.String()[5:] }

// MonthShort is the month's number.
func (Keys) MonthShort(d model.Day) string { return d.String()[5:7] }

// Date is the day with its precision.
func (Keys) Date(d model.Date) string { return d.Day.String() + " to the " + string(d.Precision) }

// Source is the source between angle brackets.
func (Keys) Source(source string) string { return "<" + source + ">" }

// Has is true of cautions of the skin only.
func (Keys) Has(key string) bool { return key == "stop.skin.caution" }

// Language is English.
func (Keys) Language() string { return "en" }
