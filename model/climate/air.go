package climate

import "math"

// SaturationMagnus is the pressure of saturated water vapour over water in hPa at t
// degrees Celsius, from −45 to 60. Source: Magnus' formula with the numbers that the
// WMO recommends, 6.112, 17.62 and 243.12. The program reckons with it.
func SaturationMagnus(t float64) float64 { return 6.112 * math.Exp(17.62*t/(243.12+t)) }

// SaturationTetens is the same in kPa as FAO Irrigation and Drainage Paper 56 has it,
// equation 11. It differs by at most 0.3 percent from 20 to 35 degrees; the deficit is
// reckoned with it.
func SaturationTetens(t float64) float64 { return .6108 * math.Exp(17.27*t/(t+237.3)) }

// DewPoint is the temperature in degrees Celsius at which air of t degrees and a
// relative humidity in percent, above 0, is saturated, by Magnus' formula. Unlike the
// relative humidity it stays the same where air is warmed or cooled alone, so that
// two ends of an enclosure are compared by it.
func DewPoint(t, humidity float64) float64 {
	g := math.Log(humidity/100) + 17.62*t/(243.12+t)
	return 243.12 * g / (17.62 - g)
}

// DewPointTetens is the same by the formula of FAO-56.
func DewPointTetens(t, humidity float64) float64 {
	g := math.Log(humidity/100) + 17.27*t/(t+237.3)
	return 237.3 * g / (17.27 - g)
}

// Deficit is what the air could still take up, as a pressure in kPa: FAO-56.
func Deficit(t, humidity float64) float64 { return SaturationTetens(t) * (1 - humidity/100) }

// AbsoluteHumidity is the water in the air in g/m³. Source: from memory, the law of
// gases with the constant of water vapour, 216.68 g·K/J.
func AbsoluteHumidity(t, humidity float64) float64 {
	return 216.68 * SaturationMagnus(t) * humidity / 100 / (t + 273.15)
}

// HumidityAt is the relative humidity in percent that air of t degrees and a relative
// humidity has when it is brought to another temperature and no water is added.
func HumidityAt(t, humidity, other float64) float64 {
	return humidity * SaturationMagnus(t) / SaturationMagnus(other)
}
