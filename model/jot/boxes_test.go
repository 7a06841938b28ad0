package jot_test

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"coilward/model"
	"coilward/model/care"
	"coilward/model/husbandry"
	"coilward/model/jot"
	"coilward/model/wording"
)

// boxed are two animals in boxes of their own, two in one, and an empty box.
func boxed() jot.Names {
	id := func(n byte) model.AnimalID { return model.AnimalID{ID: model.ID{n}} }
	box := func(n byte) model.PlaceID { return model.PlaceID{ID: model.ID{100 + n}} }
	return jot.Known([]jot.Animal{{ID: id(1), Name: "Juniper"}, {ID: id(2), Name: "Brook"}, {ID: id(3), Name: "Ash"}, {ID: id(4), Name: "Elm"}}, []jot.Place{
		{Name: "Loft", Animals: []model.AnimalID{id(1), id(2), id(3), id(4)}},
		{Name: "A1", Box: box(1), Animals: []model.AnimalID{id(1)}}, {Name: "A2", Code: "R2-4", Box: box(2), Animals: []model.AnimalID{id(2)}},
		{Name: "A3", Box: box(3)}, {Name: "A4", Box: box(4), Animals: []model.AnimalID{id(3), id(4)}},
	})
}

func TestBoxesAreNamed(t *testing.T) {
	b := begin(t)
	lexicon, text, now := b.lexicon, b.languages.In("en", wording.Units{}), b.now
	names := boxed()
	type reading struct {
		animals []string
		boxes   []byte
		what    string
	}
	unexported := cmp.AllowUnexported(reading{})
	told := func(r jot.Reading) (is reading) {
		for _, id := range r.Animals {
			is.animals = append(is.animals, names.Name(id))
		}
		for _, id := range r.Places {
			is.boxes = append(is.boxes, id.ID[0]-100)
		}
		if r.Cleaning != nil {
			is.what = string(r.Cleaning.Extent)
		} else {
			is.what = r.Body.Kind()
		}
		return is
	}
	for _, c := range []struct {
		line   string
		want   []reading
		reason string
	}{
		{"a1 1432", []reading{{[]string{"Juniper"}, nil, care.KindWeight}}, ""},
		{"r2-4 refused", []reading{{[]string{"Brook"}, nil, care.KindMeal}}, ""},
		{"a1, a2 mites on animal 0", []reading{{[]string{"Juniper", "Brook"}, nil, care.KindMiteLook}}, ""},
		{"juniper and a2 took", []reading{{[]string{"Juniper", "Brook"}, nil, care.KindMeal}}, ""},
		{"a1 and juniper took", []reading{{[]string{"Juniper"}, nil, care.KindMeal}}, ""},
		{"a4 took", []reading{{[]string{"Ash"}, nil, care.KindMeal}, {[]string{"Elm"}, nil, care.KindMeal}}, ""},
		{"a3 took", nil, "jot.box-empty"},
		{"loft but a1 took", []reading{{[]string{"Brook", "Ash", "Elm"}, nil, care.KindMeal}}, ""},
		{"r2-4 full clean", []reading{{nil, []byte{2}, "full"}}, ""},
		{"r2-4 cleaned", []reading{{nil, []byte{2}, "full"}, {nil, []byte{2}, "spot"}}, ""},
		{"a1, a3, a4 spot clean", []reading{{nil, []byte{1, 3, 4}, "spot"}}, ""},
		{"a3 substrate changed yesterday", []reading{{nil, []byte{3}, "substrate"}}, ""},
		{"juniper full clean", nil, "jot.clean-box"},
		{"loft full clean", nil, "jot.clean-box"},
		{"a1 full clean took", nil, "jot.mixed"},
		{"a took", []reading{{[]string{"Ash"}, nil, care.KindMeal}}, ""}, // a beginning names no box
	} {
		got := lexicon.Read(c.line, names, text, now)
		var all []reading
		for _, r := range got.Readings {
			all = append(all, told(r))
		}
		if !cmp.Equal(all, c.want, unexported) {
			t.Errorf("%q: %+v, want %+v (%+v)", c.line, all, c.want, got.Problems)
		}
		if reason := ""; c.reason != "" {
			if len(got.Problems) > 0 {
				reason = got.Problems[0].Refusal.Reason
			}
			if reason != c.reason {
				t.Errorf("%q: %q, want %q", c.line, reason, c.reason)
			}
		}
		for _, r := range got.Readings {
			again := lexicon.Read(lexicon.Say(r, names, "en", now), names, text, now)
			if len(again.Readings) != 1 || !cmp.Equal(told(again.Readings[0]), told(r), unexported) {
				t.Errorf("%q is said as %q, which reads %+v", c.line, lexicon.Say(r, names, "en", now), again)
			}
		}
	}
	r := lexicon.Read("r2-4 full clean", names, text, now).Readings[0]
	if c, is := r.Command(jot.Asked{}).(husbandry.Clean); !is || len(c.Places) != 1 || c.Cleaning.Extent != husbandry.Full {
		t.Errorf("noted by %+v", r.Command(jot.Asked{}))
	}
}

// All words that cannot be understood are named, and all amounts and days that
// cannot be.
func TestAllProblemsAreNamed(t *testing.T) {
	b := begin(t)
	for line, want := range map[string]int{"juniper qwert took asdf": 2, "juniper took 99.99.2027 25:99": 2} {
		if got := b.lexicon.Read(line, boxed(), b.languages.In("en", wording.Units{}), b.now); len(got.Problems) != want || len(got.Readings) > 0 {
			t.Errorf("%q: %+v", line, got)
		}
	}
}
