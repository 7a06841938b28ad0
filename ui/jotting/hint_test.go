package jotting_test

import (
	"strings"
	"testing"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/jot"
	"coilward/ui/jotting"
	"coilward/ui/place"
	"coilward/ui/uitest"
)

// The lines that stand in an empty line are understood, with the animals of the sample
// collection.
func TestTheHintIsUnderstood(t *testing.T) {
	for _, language := range []string{"en", "de"} {
		w := uitest.Open(t, uitest.Setting{Look: uitest.Looks()[0], Language: language, Place: place.Shelf,
			Make: func(w place.Window) place.Place { return page{jotting.New(w)} }})
		var here []jot.Animal
		if err := w.Collection().View(func(v model.View) error {
			all, err := animals.All(v)
			for _, a := range all {
				if a.Status.Here() {
					here = append(here, jot.Animal{ID: a.ID, Name: a.Name, Code: a.Code})
				}
			}
			return err
		}); err != nil {
			t.Fatal(err)
		}
		_, lines, _ := strings.Cut(w.Text().Say("jot.hint"), ": ")
		if lines == "" {
			t.Fatalf("%s: the hint shows no line", language)
		}
		for line := range strings.SplitSeq(lines, " · ") {
			if a := w.Lexicon().Read(line, jot.Known(here, nil), w.Text(), w.Now()); len(a.Readings) != 1 || len(a.Problems) != 0 {
				t.Errorf("%s %q: %+v", language, line, a)
			}
		}
	}
}
