package due_test

import (
	"strings"
	"testing"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/due"
	"coilward/model/husbandry"
	"coilward/model/knowledge"
)

// because are the items that have a reason.
func (w *world) because(reason string) (all []due.Item) {
	w.t.Helper()
	for _, i := range w.list().Items {
		if i.Reasons[0].Key == reason {
			all = append(all, i)
		}
	}
	return all
}

// In blue for more than 14 days (keeper pages on shedding, 10 to 14 days) asks for a look
// until the shed is noted, or the animal is looked at all over.
func TestInBlueForTooLong(t *testing.T) {
	w := newWorld(t, ball())
	w.do(care.RecordBlue{About: w.about(14)})
	if all := w.because("due.why.blue"); len(all) != 1 || all[0].State != due.Later {
		t.Fatalf("on day 14: %+v", all)
	}
	w.pass(day)
	if all := w.because("due.why.blue"); len(all) != 1 || all[0].State != due.Today || all[0].Act != due.ActCheck {
		t.Fatalf("on day 15: %+v", all)
	}
	w.check(0, false, nil)
	if all := w.because("due.why.blue"); len(all) != 0 {
		t.Errorf("after a check: %+v", all)
	}
	w = newWorld(t, ball())
	w.do(care.RecordBlue{About: w.about(20)})
	w.do(care.RecordShed{About: w.about(2), Shed: care.Shed{Skin: care.Whole, StuckEyeCaps: care.No, StuckTailTip: care.No}})
	if all := w.because("due.why.blue"); len(all) != 0 {
		t.Errorf("after the shed: %+v", all)
	}
}

// A growing animal more than 90 days after its last shed, an adult never; two sheds less
// than 21 days apart. Source: common practice, no source.
func TestShedsThatAskForALook(t *testing.T) {
	shed := care.Shed{StuckEyeCaps: care.No, StuckTailTip: care.No}
	for grams, want := range map[int64]int{300: 1, 1500: 0} {
		w := newWorld(t, ball())
		w.weigh(100, grams)
		w.do(care.RecordShed{About: w.about(91), Shed: shed})
		if all := w.because("due.why.no-shed"); len(all) != want {
			t.Errorf("%d g: %+v", grams, all)
		}
	}
	w := newWorld(t, ball())
	w.do(care.RecordShed{About: w.about(25), Shed: shed})
	w.do(care.RecordShed{About: w.about(5), Shed: shed})
	if all := w.because("due.why.shed-close"); len(all) != 1 || all[0].State != due.Late {
		t.Errorf("20 days apart: %+v", all)
	}
}

// Faeces missed 30 days after the first of two meals kept (common practice, no source)
// ask for a look and the vet's word, until some are seen.
func TestFaecesMissed(t *testing.T) {
	w := newWorld(t, ball())
	w.do(care.RecordWaste{About: w.about(50), Waste: care.Waste{Faeces: []care.Trait{care.Formed}}})
	w.feed(29, care.Took)
	w.feed(15, care.Took)
	if all := w.because("due.why.stool"); len(all) != 1 || all[0].State != due.Later || all[0].Level != knowledge.LookAgain || all[0].Caution != "due.caution.stool" {
		t.Fatalf("after 29 days: %+v", all)
	}
	w.pass(day)
	if all := w.because("due.why.stool"); len(all) != 1 || all[0].State != due.Today {
		t.Errorf("after 30 days: %+v", all)
	}
	w.do(care.RecordWaste{About: w.about(0), Waste: care.Waste{Faeces: []care.Trait{care.Soft}}})
	if all := w.because("due.why.stool"); len(all) != 0 {
		t.Errorf("after faeces: %+v", all)
	}
}

// Three that refuse, or two with a sign of the airways, in one room within 7 days, are
// named once for the room; what is answered stays answered. Source: common practice, no
// source.
func TestSeveralInARoomTellTheSame(t *testing.T) {
	w := newWorld(t, ball())
	room := w.do(husbandry.AddPlaces{Branches: []husbandry.Branch{{Place: husbandry.Place{Name: "Lock room", Kind: husbandry.Room}}}}).Documents[0]
	ids := []model.AnimalID{w.animal}
	for _, name := range []string{"Brook", "Ash", "Fern"} {
		ids = append(ids, w.add(animals.Animal{Name: name, Species: "python-regius"}))
	}
	for i, id := range ids {
		tub := w.do(husbandry.AddPlaces{Parent: model.PlaceID{ID: room}, Branches: []husbandry.Branch{{Place: husbandry.Place{Name: "Tub " + string(rune('1'+i)), Kind: husbandry.Tub}}}}).Documents[0]
		w.do(husbandry.Move{Animal: id, Place: model.PlaceID{ID: tub}, At: w.now(), Confirmed: model.Confirmed{"day.before-arrival"}})
	}
	refuses := func(i, ago int) {
		a := w.about(ago)
		a.Animal = ids[i]
		w.do(care.Feed{About: a, Meal: care.Meal{Outcome: care.Refused}})
	}
	refuses(0, 6)
	refuses(1, 3)
	refuses(2, 7) // too long ago
	if all := w.of(due.RoomLook); len(all) != 0 {
		t.Fatalf("two within 7 days: %+v", all)
	}
	refuses(3, 0)
	o := w.one(due.RoomLook)
	if o.Of.Name != "Lock room" || o.Act != due.ActRoom || o.Reasons[0].Key != "due.why.room-refused" || o.Reasons[0].Gaps["Who"] != model.TextGap("Brook, Fern, Juniper") {
		t.Errorf("three: %+v", o)
	}
	w.do(due.Respond{Tables: w.tables, Key: o.Key, What: due.DoneElsewhere, Why: "it was cold"})
	if o := w.one(due.RoomLook); o.State != due.Later {
		t.Errorf("answered: %+v", o)
	}
	a := w.about(0)
	a.Animal = ids[1]
	w.do(care.Feed{About: a, Meal: care.Meal{Outcome: care.Took}})
	if all := w.of(due.RoomLook); len(all) != 0 {
		t.Errorf("one has eaten since: %+v", all)
	}
	for _, id := range ids[:2] {
		w.animal = id
		w.check(1, false, map[knowledge.StopID]knowledge.FindingID{"rest": "sound"})
	}
	if o := w.one(due.RoomLook); o.Reasons[0].Key != "due.why.room-airway" || !strings.Contains(o.Reasons[0].Gaps["Who"].Text, "Brook") {
		t.Errorf("two breathe: %+v", o)
	}
}
