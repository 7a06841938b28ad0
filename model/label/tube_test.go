package label_test

import (
	"strings"
	"testing"

	"pgregory.net/rapid"

	"coilward/model"
	"coilward/model/label"
)

// A tube's code is read back, however its letters are cased, and is never taken for a
// card; nor is a card's for a tube.
func TestTubes(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		id := model.SampleID{}
		copy(id.ID[:], rapid.SliceOfN(rapid.Byte(), 16, 16).Draw(r, "id"))
		id.ID[0] |= 1
		text := label.TubeText(id)
		for _, said := range []string{text, strings.ToLower(text), " " + text + "\n"} {
			if got, ok := label.ParseTube(said); !ok || got != id {
				r.Errorf("%q is read as %v", said, got)
			}
			if card, ok := label.Parse(said); ok {
				r.Errorf("%q is taken for the card %v", said, card)
			}
		}
		if strings.Trim(text, "ABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789:-") != "" {
			r.Errorf("%q has signs that take more room in a code", text)
		}
		for _, card := range []label.Label{label.OfAnimal(model.AnimalID(id)), label.OfPlace(model.PlaceID(id))} {
			if _, ok := label.ParseTube(card.Text()); ok {
				r.Errorf("%q is taken for a tube", card.Text())
			}
		}
	})
	for _, none := range []string{"", "coilward:sample:", "coilward:sample:00000000-0000-0000-0000-000000000000", "sample:0190a1b2-c3d4-7e5f-8a9b-0c1d2e3f4a5b", "coilward:sample:0190a1b2"} {
		if id, ok := label.ParseTube(none); ok {
			t.Errorf("%q is read as %v", none, id)
		}
	}
}
