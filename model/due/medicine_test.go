package due_test

import (
	"slices"
	"testing"
	"time"

	"coilward/model"
	"coilward/model/care"
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

// A fixed volume is a matter for the vet once the weight has changed by more than a tenth
// since it was written; the vet's word closes it, and a prescription written anew.
func TestVolumes(t *testing.T) {
	w := newWorld(t, ball())
	vet := w.do(people.Add{Person: people.Person{Name: "Dr Ada Fern", Roles: []people.Role{people.Vet}}})
	weigh := func(grams int64) {
		t.Helper()
		w.pass(24 * time.Hour)
		w.do(care.Weigh{About: care.About{Animal: w.animal, At: w.now(), Confirmed: model.Confirmed{"mass.unlike"}}, Weight: care.Weight{Mass: model.Grams(grams), Gut: care.GutEmpty}})
	}
	asked := func() (all []due.Item) {
		for _, i := range w.list().Items {
			if i.Job == due.SeeVet && i.Act == due.ActVet && len(i.Reasons) > 0 && i.Reasons[0].Key == "due.why.volume" {
				all = append(all, i)
			}
		}
		return all
	}
	weigh(1000)
	p := medicine.Prescription{Medicine: "Solution", Vet: model.PersonID{ID: vet.Documents[0]}, Form: medicine.Volume, Route: medicine.ByMouth, Begins: w.now(),
		Steps: []medicine.Step{{Day: 1, Times: 20, Every: 24, Dose: medicine.Amount{Millionths: 300_000, Typed: "0.3 ml"}}}}
	done := w.do(medicine.Prescribe{Tables: w.tables, Animal: w.animal, At: w.now(), Prescription: p})
	for _, c := range []struct {
		grams int64
		asks  int
	}{{1100, 0}, {1101, 1}, {900, 0}, {899, 1}} {
		if weigh(c.grams); len(asked()) != c.asks {
			t.Errorf("%d g: %+v", c.grams, asked())
		}
	}
	if i := asked()[0]; i.Level != knowledge.VetWithinDays || i.Reasons[0].Gaps["Before"].Number != 1_000_000 || i.Reasons[0].Gaps["Now"].Number != 899_000 {
		t.Errorf("%+v", i.Obligation)
	}
	w.do(medicine.Change{Tables: w.tables, ID: medicine.PrescriptionID{ID: done.Documents[0]}, Base: 1, At: w.now(), Prescription: func() medicine.Prescription { p.Begins = w.now(); return p }()})
	if all := asked(); len(all) != 0 {
		t.Errorf("written anew: %+v", all)
	}
}

// Beside a dose stands that its pack has expired, from the day on which it has.
func TestADoseOfAnExpiredPackSaysSo(t *testing.T) {
	for ahead, want := range map[model.Day]string{-1: "due.caution.pack", 0: ""} {
		w := newWorld(t, ball())
		vet := w.do(people.Add{Person: people.Person{Name: "Dr Ada Fern", Roles: []people.Role{people.Vet}}})
		begins := w.now()
		w.do(medicine.Prescribe{Tables: w.tables, Animal: w.animal, At: begins, Confirmed: model.Confirmed{"medicine.expired"}, Prescription: medicine.Prescription{Medicine: "Ointment", Vet: model.PersonID{ID: vet.Documents[0]}, Form: medicine.InWords, Route: medicine.OnSkin,
			Begins: begins, Pack: medicine.Pack{Expires: model.Date{Day: begins.Day() + ahead, Precision: model.ToDay}}, Steps: []medicine.Step{{Day: 1, Times: 1, Words: "a thin layer"}}}})
		told := 0
		for _, i := range w.list().Items {
			if i.Job == due.GiveDose {
				if told++; i.Caution != want {
					t.Errorf("%d days ahead: %q", ahead, i.Caution)
				}
			}
		}
		if told != 1 {
			t.Errorf("%d doses are due", told)
		}
	}
}

// The hour of a dose is told with two digits, as every hour is.
func TestTheHourOfADose(t *testing.T) {
	w := newWorld(t, ball())
	vet := w.do(people.Add{Person: people.Person{Name: "Dr Ada Fern", Roles: []people.Role{people.Vet}}})
	begins := model.MomentOn(w.now(), w.now().Day(), 8*60+5, model.ToMinute)
	w.do(medicine.Prescribe{Tables: w.tables, Animal: w.animal, At: w.now(), Prescription: medicine.Prescription{Medicine: "Ointment", Vet: model.PersonID{ID: vet.Documents[0]}, Form: medicine.InWords, Route: medicine.OnSkin,
		Begins: begins, Steps: []medicine.Step{{Day: 1, Times: 4, Every: 12, Words: "a thin layer"}}}})
	var told []string
	for _, i := range w.list().Items {
		for _, r := range i.Reasons {
			if r.Key == "due.why.dose-hour" {
				told = append(told, r.Gaps["Hour"].Text)
			}
		}
	}
	if want := []string{"08:05", "20:05", "08:05"}; !slices.Equal(told, want) { // those of today and the next
		t.Errorf("told %q, want %q", told, want)
	}
}
