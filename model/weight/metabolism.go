package weight

import (
	"math"

	"coilward/model/knowledge"
)

// Oxygen is what a squamate at rest takes up, in millilitres an hour, by its mass and its
// warmth: 0.013 M^0.80 10^(0.038 T). Pythons lie below that line. Source: Andrews and Pough
// 1985, as read in two biophysical models; that pythons lie below: Bedford and Christian
// 2001 (seen: the abstract).
func Oxygen(t *knowledge.Tables, grams, degrees float64) float64 {
	number := func(v knowledge.ValueID) float64 { return float64(t.Value(v)) }
	return number(knowledge.ValueOxygen) / 1000 * math.Pow(grams, number(knowledge.ValueOxygenMass)/100) * math.Pow(10, number(knowledge.ValueOxygenWarmth)/1000*degrees)
}

// Energy is what that takes in a day, in kilojoules.
func Energy(t *knowledge.Tables, grams, degrees float64) float64 {
	return Oxygen(t, grams, degrees) * 24 * float64(t.Value(knowledge.ValueOxygenEnergy)) / 10_000
}

// burnt is the mass, in grams, that is left after so many days of starving: each gram lost
// gave so many kilojoules, and the rate falls evenly to a share of itself over the days of
// the measured fast, and stays there.
func burnt(t *knowledge.Tables, grams float64, days int, kilojoules, falls float64) float64 {
	over := float64(t.Value(knowledge.ValueFastLostIn))
	for day := range days {
		rate := 1 - (1-falls)*min(1, float64(day)/over)
		grams = max(0, grams-rate*Energy(t, grams, degreesOfFast(t))/kilojoules)
	}
	return grams
}

func degreesOfFast(t *knowledge.Tables) float64 {
	return float64(t.Value(knowledge.ValueFastWarmth)) / 100
}

// band is the least and the most that an animal of that mass weighs after so many days of
// starving, by what its metabolism takes. It is wide, judges nothing and is only shown: its
// lower edge would excuse 5 % in 30 days.
func band(t *knowledge.Tables, grams float64, days int) (least, most float64) {
	least = burnt(t, grams, days, float64(t.Value(knowledge.ValueGramLeast)), 1)
	most = burnt(t, grams, days, float64(t.Value(knowledge.ValueGramMost)), float64(t.Value(knowledge.ValueFastRate))/100)
	return least, most
}
