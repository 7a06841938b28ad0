package paper

import (
	"coilward/model"
)

// Text words what a paper says, in the paper's own language and units; it is
// what of model/wording the papers use.
type Text interface {
	// Say is the text of a key with its gaps filled.
	Say(key string, gaps ...map[string]any) string
	// Count is the text of a key that depends on a number.
	Count(key string, n int, gaps ...map[string]any) string
	// Mass and Length are quantities with their unit.
	Mass(m model.Mass) string
	Length(l model.Length) string
	// Temperature is one with its unit.
	Temperature(c model.Temperature) string
	// Percent is a share in hundredths of a percent, with its sign.
	Percent(hundredths int) string
	// Millionths and Decimal are exact numbers, Microlitres a volume in millilitres with its
	// unit, Interval the time from one dose to the next in hours.
	Millionths(n int64) string
	Decimal(n int64, places int) string
	Microlitres(n int64) string
	Interval(hours int) string
	// MassUnit is how many milligrams the unit of a scale of masses has.
	MassUnit() float64
	// Day is a day in full, DayShort without what the surroundings tell;
	// DayOfYear and MonthShort leave the year out.
	Day(d model.Day) string
	DayShort(d model.Day) string
	DayOfYear(d model.Day) string
	MonthShort(d model.Day) string
	// Date is a date as far as it is known.
	Date(d model.Date) string
	// Source is what a table rests on.
	Source(source string) string
	// Has reports whether there is a text of the key.
	Has(key string) bool
	// Language is the language's code, "en" or "de".
	Language() string
}
