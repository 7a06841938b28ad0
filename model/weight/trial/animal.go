package trial

import "math"

// Animal is one whose true mass is known on every day; day 0 is the one on which its
// story begins.
type Animal struct {
	Name  string
	Grams float64 // on day 0
	// Daily is by what share of its mass it grows from a day to the next.
	Daily func(day int) float64
	Usual int // days between two meals kept
	// Fasts is that it keeps no meal after day 0; else it keeps all.
	Fasts      bool
	GoodBefore bool // it was in good condition before
}

// monthly is a share of the mass each day that makes so many percent in 30 days.
func monthly(percent float64) float64 { return math.Expm1(math.Log1p(percent/100) / 30) }

// from is one share each day before day 0 and another from then on.
func from(before, after float64) func(int) float64 {
	return func(day int) float64 {
		if day < 0 {
			return before
		}
		return after
	}
}

// Steady is an adult that eats and keeps its mass.
func Steady() Animal {
	return Animal{Name: "steady adult", Grams: 1500, Daily: from(0, 0), Usual: 14}
}

// Losing is an adult that eats and loses so many percent of its mass in 30 days.
func Losing(percent float64) Animal {
	return Animal{Name: "losing adult", Grams: 1500, Daily: from(0, monthly(-percent)), Usual: 14}
}

// The growth of the first year, fourfold. Source: Ellis and Chappell 1987, J Comp
// Physiol B (seen: the abstract): 0.38 % a day on average.
var firstYear = math.Expm1(math.Log(4) / 365)

// Growing is a juvenile that eats and grows as in its first year; it weighs less than
// 300 g for the whole of the trial.
func Growing() Animal {
	return Animal{Name: "growing juvenile", Grams: 65, Daily: from(firstYear, firstYear), Usual: 7}
}

// Starving is a hatchling that grows, and from day 0 keeps no meal and loses what its
// standard metabolism takes.
//
// Source: 0.013 M^0.80 10^(0.038 T) mL of oxygen an hour (Andrews and Pough 1985, as
// read in two biophysical models), 65 g at 30 degrees, 20.1 J a mL, and 15 kJ for each
// gram that is lost, the middle of 10 to 20: 0.25 % a day.
func Starving() Animal {
	const grams, degrees = 65, 30
	oxygen := 0.013 * math.Pow(grams, 0.80) * math.Pow(10, 0.038*degrees)
	lost := oxygen * 24 * 20.1 / 15_000
	return Animal{Name: "starving hatchling", Grams: grams, Daily: from(firstYear, -lost/grams), Usual: 7, Fasts: true}
}

// Fasting is an adult in good condition that keeps no meal from day 0 and loses so
// many percent in so many days, by the same share each day.
func Fasting(percent float64, in int) Animal {
	return Animal{Name: "fasting adult", Grams: 1500, Daily: from(0, math.Expm1(math.Log1p(-percent/100)/float64(in))), Usual: 14, Fasts: true, GoodBefore: true}
}
