package due_test

import (
	"slices"
	"testing"
	"time"

	"coilward/model"
	"coilward/model/due"
	"coilward/model/knowledge"
	"coilward/model/medicine"
	"coilward/model/people"
)

// Doses are due by their days; of what nobody has said it is asked, a missed one goes to
// the vet, and none of it can be called done or not needed.
func TestCourses(t *testing.T) {
	w := newWorld(t, ball())
	vet := w.do(people.Add{Person: people.Person{Name: "Dr Ada Fern", Roles: []people.Role{people.Vet}}})
	begins := w.now()
	recheck := model.Date{Day: begins.Day() + 6, Precision: model.ToDay}
	done := w.do(medicine.Prescribe{Tables: w.tables, Animal: w.animal, At: begins, Prescription: medicine.Prescription{Medicine: "Ointment", Vet: model.PersonID{ID: vet.Documents[0]}, Form: medicine.InWords, Route: medicine.OnSkin,
		Begins: begins, Recheck: recheck, Steps: []medicine.Step{{Day: 1, Times: 3, Every: 24, Words: "a thin layer"}}}})
	id := medicine.PrescriptionID{ID: done.Documents[0]}
	jobs := []due.Job{due.GiveDose, due.CourseWord, due.VetVisit}
	owes := func() (all []due.Item) {
		for _, i := range w.list().Items {
			if slices.Contains(jobs, i.Job) {
				all = append(all, i)
			}
		}
		return all
	}
	tell := func(number int, did medicine.Did) {
		t.Helper()
		var s medicine.Stored
		if err := w.c.View(func(v model.View) (err error) { s, err = medicine.Find(v, id); return err }); err != nil {
			t.Fatal(err)
		}
		w.do(medicine.Tell{Tables: w.tables, ID: id, Base: s.Revision, Number: number, Did: did, At: w.now(), Why: "as the vet said", Confirmed: model.Confirmed{"medicine.late", "medicine.twice"}})
	}
	expect := func(when string, want ...due.Job) {
		t.Helper()
		var got []due.Job
		for _, i := range owes() {
			if i.State != due.Later {
				got = append(got, i.Job)
			}
		}
		if !slices.Equal(got, want) {
			t.Errorf("%s: %v, want %v", when, got, want)
		}
	}
	expect("on the first day", due.GiveDose)
	for _, what := range []due.What{due.DoneElsewhere, due.NotNeeded} {
		w.refused(due.Respond{Tables: w.tables, Key: owes()[0].Key, What: what, Why: "so"}, "due.medicine")
	}
	tell(1, medicine.Given)
	expect("once it was given")
	w.pass(48 * time.Hour)
	expect("two days later", due.CourseWord, due.GiveDose)
	tell(2, medicine.Missed)
	expect("missed", due.CourseWord, due.GiveDose)
	if i := owes()[0]; i.Level != knowledge.VetWithinDays || i.State != due.Alert {
		t.Errorf("a missed dose: %+v", i.Obligation)
	}
	tell(3, medicine.LeftOut)
	expect("all said", due.CourseWord, due.CourseWord)
	w.pass(96 * time.Hour)
	expect("on the day of the recheck", due.CourseWord, due.CourseWord, due.VetVisit)
}
