package animals_test

import (
	"errors"
	"fmt"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/storetest"
)

func on(y, m, d int) model.Date {
	return model.Date{Day: model.NewDay(y, 1, 1) + model.Day((m-1)*31+d-1), Precision: model.ToDay}
}

func iso(digits string) animals.Chip {
	return animals.Chip{Digits: digits, Standard: animals.ChipISO}
}

func reason(err error) string {
	var r *model.Refusal
	switch {
	case err == nil:
		return ""
	case errors.As(err, &r):
		return r.Reason
	}
	return err.Error()
}

func TestChips(t *testing.T) {
	for _, c := range []struct {
		chip animals.Chip
		want string
	}{
		{iso("276098102204417"), ""},
		{iso("968000004531234"), ""},
		{iso("040123456789012"), ""},
		{iso("900274877906943"), ""},
		{iso("900274877906944"), "chip.too-large"},
		{iso("27609810220441"), "chip.count"},
		{iso("2760981022044170"), "chip.count"},
		{iso("999000000000001"), "chip.trial"},
		{iso("000000000000001"), "chip.no-country"},
		{iso("27609810220441X"), "chip.not-digits"},
		{iso(animals.ReadDigits("276 098-102.204\u00a0417")), ""},
		{animals.Chip{Digits: "0123456789", Standard: animals.ChipOther}, ""},
		{animals.Chip{Digits: strings.Repeat("1", 41), Standard: animals.ChipOther}, "chip.not-readable"},
		{animals.Chip{}, ""},
	} {
		var got string
		if r := c.chip.Check(); r != nil {
			got = r.Reason
		}
		if got != c.want {
			t.Errorf("%s: %q, want %q", c.chip.Digits, got, c.want)
		}
	}
	if w := (animals.Chip{Digits: "0123456789", Standard: animals.ChipOther}).Warnings(); len(w) != 1 {
		t.Errorf("an other chip warns %v", w)
	}
	if w := iso("276111111111111").Warnings(); len(w) != 1 {
		t.Errorf("digits all alike warn %v", w)
	}
}

func TestAnimalsThatCannotStand(t *testing.T) {
	today := storetest.Start()
	for name, c := range map[string]struct {
		animal animals.Animal
		want   string
	}{
		"a name alone":                   {animals.Animal{Name: "Juno"}, ""},
		"no name":                        {animals.Animal{Name: " \t"}, "name.empty"},
		"a name of 81 signs":             {animals.Animal{Name: strings.Repeat("ü", 81)}, "text.long"},
		"a name with NUL":                {animals.Animal{Name: "Ju\x00no"}, "text.control"},
		"a chip of 14 digits":            {animals.Animal{Name: "Juno", Chip: iso("27609810220441")}, "chip.count"},
		"hatched tomorrow":               {animals.Animal{Name: "Juno", Hatched: model.Date{Day: model.DayOf(today) + 1, Precision: model.ToDay}}, "day.future"},
		"come before hatching":           {animals.Animal{Name: "Juno", Hatched: on(2024, 3, 1), Since: on(2023, 3, 1)}, "day.before-hatching"},
		"come in the month of hatching":  {animals.Animal{Name: "Juno", Hatched: on(2024, 1, 9), Since: model.Date{Day: model.NewDay(2024, 1, 1), Precision: model.ToMonth}}, ""},
		"a male that has laid":           {animals.Animal{Name: "Juno", Sex: animals.Male, SexHow: animals.HowLaid}, "sex-how.other-sex"},
		"a plant's source code":          {animals.Animal{Name: "Juno", Source: "A"}, "choice.unknown"},
		"a portrait that is not its own": {animals.Animal{Name: "Juno", Portrait: "0a"}, "portrait.not-hers"},
		"a snake of 11 m":                {animals.Animal{Name: "Juno", Length: animals.Measured{SnoutVent: model.Length{Tenths: 110_000}}}, "length.range"},
		"a status that is none":          {animals.Animal{Name: "Juno", Status: "lost"}, "choice.unknown"},
	} {
		collection, _ := storetest.New(t)
		if _, err := collection.Do(animals.Add{Animal: c.animal}); reason(err) != c.want {
			t.Errorf("%s: %v, want %s", name, err, c.want)
		}
	}
}

func TestANameTwice(t *testing.T) {
	c, _ := storetest.New(t)
	done, err := c.Do(animals.Add{Animal: animals.Animal{Name: "Jörð", Code: "P-7", Chip: iso("276098102204417")}})
	if err != nil {
		t.Fatal(err)
	}
	first := model.AnimalID{ID: done.Documents[0]}
	_, err = c.Do(animals.Add{Animal: animals.Animal{Name: "  jo\u0308rð "}})
	var r *model.Refusal
	if !errors.As(err, &r) || r.Reason != "name.twice" || r.Gaps["Other"].Text != "Jörð (P-7)" {
		t.Fatalf("%v %+v", err, r)
	}
	if _, err = c.Do(animals.Add{Animal: animals.Animal{Name: "Other", Chip: iso("276098102204417")}}); reason(err) != "chip.twice" {
		t.Error(err)
	}
	if _, err = c.Do(animals.Change{ID: first, Base: 1, Animal: animals.Animal{Name: "Jörð", Morph: "wild colour"}}); err != nil {
		t.Errorf("an animal is in its own way: %v", err)
	}
	if _, err = c.Do(animals.SetStatus{ID: first, Base: 2, Status: animals.Sold, Day: on(2027, 1, 1)}); err != nil {
		t.Fatal(err)
	}
	if _, err = c.Do(animals.Add{Animal: animals.Animal{Name: "Jörð"}}); err != nil {
		t.Errorf("the name of a sold one cannot be given again: %v", err)
	}
	if _, err = c.Do(animals.SetStatus{ID: first, Base: 3, Status: animals.Kept}); reason(err) != "name.twice" {
		t.Errorf("one of that name came back: %v", err)
	}
}

func TestRemovingOnlyWhatHasNoEntries(t *testing.T) {
	c, _ := storetest.New(t)
	done, err := c.Do(animals.Add{Animal: animals.Animal{Name: "Juno"}})
	if err != nil {
		t.Fatal(err)
	}
	juno := model.AnimalID{ID: done.Documents[0]}
	note := care.WriteNote{About: care.About{Animal: juno, At: model.MomentOf(storetest.Start())}, Note: care.Note{Text: "came"}}
	if _, err := c.Do(note); err != nil {
		t.Fatal(err)
	}
	if _, err := c.Do(animals.Remove{ID: juno}); reason(err) != "animal.has-entries" {
		t.Errorf("one with an entry: %v", err)
	}
	if _, err := c.Undo(); err != nil {
		t.Fatal(err)
	}
	if _, err := c.Do(animals.Remove{ID: juno}); err != nil {
		t.Error(err)
	}
	if _, err := c.Do(animals.Remove{ID: juno}); !errors.Is(err, model.ErrNotFound) {
		t.Errorf("removed twice: %v", err)
	}
}

func TestNamesStayUnlikeWhateverIsDone(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		c, _ := storetest.New(t)
		for range 12 {
			name := rapid.SampledFrom([]string{"Juno", "juno", "JUNO ", "Brook", "brook", "Straße", "STRASSE"}).Draw(r, "name")
			_, err := c.Do(animals.Add{Animal: animals.Animal{Name: name}})
			if got := reason(err); got != "" && got != "name.twice" {
				r.Fatal(err)
			}
		}
		seen := map[string]bool{}
		if err := c.View(func(v model.View) error {
			all, err := animals.All(v)
			for _, a := range all {
				if seen[animals.Fold(a.Name)] {
					return fmt.Errorf("%s stands twice", a.Name)
				}
				seen[animals.Fold(a.Name)] = true
			}
			return err
		}); err != nil {
			r.Fatal(err)
		}
	})
}

func FuzzChip(f *testing.F) {
	f.Add("276 098 102 204 417")
	f.Fuzz(func(t *testing.T, typed string) {
		chip := iso(animals.ReadDigits(typed))
		if chip.Check() == nil && !chip.IsZero() && (len(chip.Digits) != 15 || strings.Trim(chip.Digits, "0123456789") != "") {
			t.Errorf("%q passes", typed)
		}
	})
}
