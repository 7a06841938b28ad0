package due_test

import (
	"context"
	"errors"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/due"
	"coilward/model/husbandry"
)

// A book that is told of each change says of places and animals what a new one
// finds, whoever moves, comes and goes and whatever is cleaned.
func TestPlacesAreReadAnewWhereTheyWereTouched(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		w := newWorld(t, ball())
		tubs := []model.PlaceID{w.tub("Tub 1", 14), w.tub("Tub 2", 0)}
		scale := w.instrument(husbandry.Instrument{Name: "Scale", Kind: husbandry.Scale})
		w.list()
		done := 0 // what can be undone of it
		for range rapid.IntRange(1, 12).Draw(r, "steps") {
			tub := rapid.SampledFrom(tubs).Draw(r, "tub")
			var command model.Command
			switch rapid.IntRange(0, 9).Draw(r, "what") {
			case 0, 1:
				command = husbandry.Move{Animal: w.animal, Place: tub, At: w.now(), Confirmed: model.Confirmed{"place.shared", "day.before-arrival"}}
			case 2:
				command = husbandry.MoveOut{Animal: w.animal, At: w.now()}
			case 3:
				extent := rapid.SampledFrom(husbandry.CleanExtents()).Draw(r, "extent")
				command = husbandry.Clean{Tables: w.tables, Places: tubs[:rapid.IntRange(1, 2).Draw(r, "tubs")], At: w.now(), Cleaning: husbandry.Cleaning{Extent: extent}}
			case 4:
				status := rapid.SampledFrom(animals.Statuses()).Draw(r, "status")
				command = animals.SetStatus{ID: w.animal, Base: w.revision(), Status: status, Day: model.Date{Day: w.today(), Precision: model.ToDay}}
			case 5:
				command = care.Feed{About: w.about(0), Meal: care.Meal{Outcome: care.Took}}
			case 6:
				if items := w.list().Items; len(items) > 0 {
					i := rapid.SampledFrom(items).Draw(r, "item")
					command = w.answer(i, rapid.SampledFrom(due.Whats()).Draw(r, "answer"), 2, "so it is")
				}
			case 8:
				command = husbandry.CheckInstrument{Instrument: scale, At: w.now(), Check: husbandry.InstrumentCheck{Good: rapid.Bool().Draw(r, "good")}}
			case 9:
				grade := rapid.SampledFrom(care.MiteGrades()).Draw(r, "grade")
				command = care.LookForMites{About: w.about(0), MiteLook: care.MiteLook{Grade: grade, Where: []care.MiteWhere{care.OnAnimal}}}
			case 7:
				if done == 0 {
					continue
				}
				done--
				if _, err := w.c.Undo(); err != nil {
					r.Fatal(err)
				}
			}
			if command != nil {
				change, err := w.c.Do(command)
				if err != nil && !errors.As(err, new(*model.Refusal)) {
					r.Fatal(err)
				}
				if !change.Empty() {
					done++
				}
			}
			w.pass(time.Duration(rapid.SampledFrom([]int{0, 1, 60, 24 * 60, 20 * 24 * 60}).Draw(r, "minutes")) * time.Minute)
			fresh, err := due.NewBook(w.tables).Bring(context.Background(), w.c, nil)
			if err != nil {
				r.Fatal(err)
			}
			if diff := cmp.Diff(fresh, w.list(), cmpopts.IgnoreUnexported(due.Owner{}), cmpopts.EquateErrors()); diff != "" {
				r.Fatalf("found anew (-), by the book (+):\n%s", diff)
			}
		}
	})
}
