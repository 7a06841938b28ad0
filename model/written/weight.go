package written

import (
	"strings"
	"unicode/utf8"

	"coilward/model/care"
)

// ReadWeight reads what stands in a line of a sheet for weighing: a mass, and behind it the
// letter of the gut if there is one, as "850 f". The error is a *model.Refusal of the field
// "mass".
func ReadWeight(w Words, typed string) (care.Weight, error) {
	mass, gut := strings.TrimSpace(typed), care.GutUnknown
	for _, g := range care.Guts() {
		letter := letterOf(w.Say, g)
		cut := len(mass) - len(letter)
		if cut < 1 || !strings.EqualFold(mass[cut:], letter) {
			continue
		}
		if last, _ := utf8.DecodeLastRuneInString(mass[:cut]); strings.ContainsRune("0123456789 ", last) { // else it ends a unit
			mass, gut = strings.TrimSpace(mass[:cut]), g
			break
		}
	}
	m, err := w.ParseMass(mass)
	return care.Weight{Mass: m, Gut: gut}, err
}

func letterOf(say func(key string, gaps ...map[string]any) string, g care.Gut) string {
	return say("written.gut." + string(g))
}

// GutLetters are the letters by which ReadWeight knows how the gut is, as the gaps Empty,
// Before and Fed of a text that tells them.
func GutLetters(say func(key string, gaps ...map[string]any) string) map[string]any {
	return map[string]any{"Empty": letterOf(say, care.GutEmpty), "Before": letterOf(say, care.GutBeforeMeal), "Fed": letterOf(say, care.GutFed)}
}
