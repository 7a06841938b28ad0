package husbandry_test

import (
	"errors"
	"math/rand/v2"
	"reflect"
	"testing"

	"github.com/google/go-cmp/cmp"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/husbandry"
)

// Whoever moves, comes, goes, or is put in quarantine: a house of which the changed
// animals alone are read anew is the one that is read whole, and the one before stays
// as it was.
func TestAHouseAfterAChangeIsTheHouseReadAnew(t *testing.T) {
	whole := cmp.Exporter(func(reflect.Type) bool { return true })
	changed := 0
	for seed := range uint64(12) {
		draw := rand.New(rand.NewPCG(seed, 2))
		w := begin(t)
		loft := w.place(model.PlaceID{}, "Loft", husbandry.Room)
		places := []model.PlaceID{w.place(loft, "one", husbandry.Tub), w.place(loft, "two", husbandry.Tub)}
		all := []model.AnimalID{w.animal("Asp"), w.animal("Birch"), w.animal("Cedar")}
		beginning, before, kept := next(w), w.house(), w.house()
		for range 25 {
			var command model.Command
			animal := all[draw.IntN(len(all))]
			switch draw.IntN(7) {
			case 0:
				var stored animals.Stored
				if err := w.View(func(v model.View) (err error) { stored, err = animals.Find(v, animal); return err }); err != nil {
					t.Fatal(err)
				}
				command = animals.SetStatus{ID: animal, Base: stored.Revision, Status: animals.Statuses()[draw.IntN(len(animals.Statuses()))], Day: onDay(draw.IntN(9))}
			case 1:
				command = quarantined{animal: animal, body: []string{`{"protocol":"long"}`, `{"protocol":"long","released":{}}`, `[]`}[draw.IntN(3)]}
			case 2:
				command = husbandry.MoveOut{Animal: animal, At: ago(draw.IntN(30))}
			case 3, 4:
				command = husbandry.Move{Animal: animal, Place: places[draw.IntN(2)], At: ago(1 + draw.IntN(30)), Confirmed: model.Confirmed{"house.shared"}}
			case 5:
				command = animals.Add{Animal: animals.Animal{Name: "Dill " + string(rune('a'+len(all))), Since: onDay(20)}}
			}
			of := []model.AnimalID{animal}
			if command == nil {
				if next(w) == beginning {
					continue
				}
				change, err := w.Undo()
				if err != nil {
					t.Fatal(err)
				}
				of = nil
				for _, s := range change.Subjects {
					of = append(of, model.AnimalID{ID: s.ID})
				}
			} else {
				change, err := w.Do(command)
				if errors.As(err, new(*model.Refusal)) {
					continue
				}
				if err != nil {
					t.Fatal(err)
				}
				if command.Name() == (animals.Add{}).Name() {
					of = []model.AnimalID{{ID: change.Documents[0]}}
					all = append(all, of[0])
				}
			}
			all = here(w, all)
			if len(all) == 0 {
				break
			}
			var after *husbandry.House
			if err := w.View(func(v model.View) (err error) { after, err = before.After(v, of); return err }); err != nil {
				t.Fatal(err)
			}
			if diff := cmp.Diff(w.house(), after, whole); diff != "" {
				t.Fatalf("seed %d, %v: read whole (-), after the change (+):\n%s", seed, command, diff)
			}
			if diff := cmp.Diff(kept, before, whole); diff != "" {
				t.Fatalf("the house before was changed:\n%s", diff)
			}
			before, kept = after, w.house()
			changed++
		}
	}
	if changed < 100 {
		t.Errorf("only %d changes were taken", changed)
	}
}

// here are those that undoing has left in the records.
func here(w *world, all []model.AnimalID) (left []model.AnimalID) {
	for _, id := range all {
		if err := w.View(func(v model.View) error { _, err := v.Document(id.ID); return err }); err == nil {
			left = append(left, id)
		}
	}
	return left
}
