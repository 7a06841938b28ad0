package label

import (
	"strings"
	"testing"

	"coilward/model"
	"pgregory.net/rapid"
)

const number = "0190a1b2-c3d4-7e5f-8a9b-0c1d2e3f4a5b"

func TestWhatACodeSays(t *testing.T) {
	id, err := model.ParseID(number)
	if err != nil {
		t.Fatal(err)
	}
	if got, want := OfPlace(model.PlaceID{ID: id}).Text(), "coilward:place:"+number; got != want {
		t.Errorf("a place: %s", got)
	}
	if got, want := OfAnimal(model.AnimalID{ID: id}).Text(), "coilward:animal:"+number; got != want {
		t.Errorf("an animal: %s", got)
	}
}

func TestWhatIsALabel(t *testing.T) {
	for text, ours := range map[string]bool{
		"coilward:place:" + number:                          true,
		"coilward:animal:" + number:                         true,
		" Coilward:PLACE:" + strings.ToUpper(number) + "\n": true,
		"":                               false,
		number:                           false,
		"place:" + number:                false,
		"coilward:" + number:             false,
		"coilward:tool:" + number:        false,
		"coilward::" + number:            false,
		"coilward:place:":                false,
		"coilward:place:" + number + "0": false,
		"coilward:place:" + number + ":" + number:               false,
		"coilward:place:00000000-0000-0000-0000-000000000000":   false,
		"coilward:animal:zzzzzzzz-c3d4-7e5f-8a9b-0c1d2e3f4a5b":  false,
		"https://example.org/coilward:place:" + number:          false,
		"coilward:place:" + strings.ReplaceAll(number, "-", ""): false,
	} {
		if l, ok := Parse(text); ok != ours || !ok && l != (Label{}) {
			t.Errorf("%q: %v, %v", text, l, ok)
		}
	}
}

func TestOneThatNamesAPlaceNamesNoAnimal(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		id := model.ID(rapid.SliceOfN(rapid.Byte(), 16, 16).Filter(func(b []byte) bool { return !model.ID(b).IsZero() }).Draw(t, "id"))
		for _, l := range []Label{OfPlace(model.PlaceID{ID: id}), OfAnimal(model.AnimalID{ID: id})} {
			read, ok := Parse(l.Text())
			if !ok || read != l {
				t.Fatalf("%s is read as %v, %v", l.Text(), read, ok)
			}
			place, isPlace := read.Place()
			animal, isAnimal := read.Animal()
			if isPlace == isAnimal || place.ID != id || animal.ID != id {
				t.Fatalf("%s: place %v, animal %v", l.Text(), isPlace, isAnimal)
			}
		}
	})
}

func FuzzParse(f *testing.F) {
	for _, seed := range []string{"", "coilward:place:" + number, "COILWARD:ANIMAL:" + number, "coilward:::", "coilward:clutch:" + number} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		l, ok := Parse(text)
		if !ok {
			return
		}
		if again, ok := Parse(l.Text()); !ok || again != l {
			t.Fatalf("%q is read as %v, that as %v, %v", text, l, again, ok)
		}
	})
}
