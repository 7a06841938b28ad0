package husbandry_test

import (
	"errors"
	"math/rand/v2"
	"testing"

	"coilward/model"
	"coilward/model/collection"
	"coilward/model/husbandry"
)

// However moves, removals, undo and redo follow each other, no animal comes to be in
// two places at once: undo takes back what was done last, so that each state it leads
// to has been one before. A stay that was taken out comes back only once those that
// were entered over its days are taken back.
func TestUndoNeverBringsBackAStayOverAnother(t *testing.T) {
	brought := 0
	for seed := range uint64(40) {
		draw := rand.New(rand.NewPCG(seed, 1))
		w := begin(t)
		asp := w.animal("Asp")
		places := []model.PlaceID{w.place(model.PlaceID{}, "one", husbandry.Tub), w.place(model.PlaceID{}, "two", husbandry.Tub), w.place(model.PlaceID{}, "three", husbandry.Tub)}
		beginning := next(w)
		for range 25 {
			stays := staysOf(w)
			switch act := draw.IntN(6); {
			case act == 0 && len(stays) > 0:
				w.do(husbandry.RemoveStay{ID: stays[draw.IntN(len(stays))].ID})
			case act == 1 || act == 2:
				if next(w) == beginning { // what was made to begin with stays
					continue
				}
				change, err := w.Undo()
				if err != nil {
					t.Fatal(err)
				}
				if change.Label.Key == "husbandry.done.stay-remove" {
					brought++
				}
			case act == 3:
				if _, err := w.Redo(); err != nil && !errors.Is(err, collection.ErrNothing) {
					t.Fatal(err)
				}
			default: // one that cannot stand is refused
				_, err := w.Do(husbandry.Move{Animal: asp, Place: places[draw.IntN(3)], At: ago(1 + draw.IntN(30))})
				var refused *model.Refusal
				if err != nil && !errors.As(err, &refused) {
					t.Fatal(err)
				}
			}
			stays = staysOf(w)
			for i, s := range stays {
				for _, o := range stays[:i] {
					if meets(s, o) {
						t.Fatalf("seed %d: in %s from %v to %v, and in %s from %v to %v", seed, s.Place, s.From, s.To, o.Place, o.From, o.To)
					}
				}
			}
		}
	}
	if brought == 0 {
		t.Error("no removed stay was ever brought back")
	}
}

// next is what undo would take back next.
func next(w *world) string {
	label, _ := w.CanUndo()
	return label.Key
}

func meets(s, o husbandry.StoredStay) bool {
	return (o.To.IsZero() || s.From.UTC < o.To.UTC) && (s.To.IsZero() || o.From.UTC < s.To.UTC)
}

func staysOf(w *world) (all []husbandry.StoredStay) {
	w.Helper()
	if err := w.View(func(v model.View) error {
		return v.All(model.TypeStay, func(d model.Document) bool {
			s, err := husbandry.DecodeStay(d)
			if err != nil {
				w.Error(err)
			}
			all = append(all, s)
			return true
		})
	}); err != nil {
		w.Fatal(err)
	}
	return all
}
