package written_test

import (
	"errors"
	"testing"

	"coilward/model"
	"coilward/model/care"
	"coilward/model/written"
)

func TestReadAWeight(t *testing.T) {
	for _, c := range []struct {
		language, typed string
		milligrams      int64
		gut             care.Gut
	}{
		{"en", "850", 850_000, care.GutUnknown}, {"en", "850 f", 850_000, care.GutFed}, {"en", " 850F ", 850_000, care.GutFed},
		{"en", "850 g e", 850_000, care.GutEmpty}, {"en", "0.85 kg m", 850_000, care.GutBeforeMeal}, {"en", "12.5 m", 12_500, care.GutBeforeMeal},
		{"en", "850 g", 850_000, care.GutUnknown},
		{"de", "850 g", 850_000, care.GutUnknown}, {"de", "850,5 l", 850_500, care.GutEmpty}, {"de", "850n", 850_000, care.GutFed}, {"de", "850 g v", 850_000, care.GutBeforeMeal},
	} {
		got, err := written.ReadWeight(words(t, c.language), c.typed)
		if err != nil || got.Mass.Milligrams != c.milligrams || got.Gut != c.gut {
			t.Errorf("%s: %q is read as %+v, %v", c.language, c.typed, got, err)
		}
	}
	for _, typed := range []string{"", "f", " e", "850 x", "850 ff", "850 f g", "f 850"} {
		var r *model.Refusal
		if got, err := written.ReadWeight(words(t, "en"), typed); !errors.As(err, &r) || r.Field != "mass" {
			t.Errorf("%q is read as %+v, %v", typed, got, err)
		}
	}
}

// In no language is a letter of the gut the end of a unit of mass, or the letter of another.
func TestGutLettersAreNoUnits(t *testing.T) {
	for _, language := range []string{"en", "de"} {
		w := words(t, language)
		taken := map[any]bool{}
		for _, letter := range written.GutLetters(w.Say) {
			if _, err := w.ParseMass("1 " + letter.(string)); err == nil || taken[letter] {
				t.Errorf("%s: %q means two things", language, letter)
			}
			taken[letter] = true
		}
	}
}
