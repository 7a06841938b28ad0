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

// A planned visit is due on its day with the number of open questions; past its day it
// asks whether it was held, and no more once it was. It takes the place of a recheck.
func TestVisits(t *testing.T) {
	w := newWorld(t, ball())
	vet := model.PersonID{ID: w.do(people.Add{Person: people.Person{Name: "Dr Ada Fern", Roles: []people.Role{people.Vet}}}).Documents[0]}
	owes := func() (all []due.Item) {
		for _, i := range w.list().Items {
			if i.Job == due.VetVisit {
				all = append(all, i)
			}
		}
		return all
	}
	why := func(i due.Item) (keys []string) {
		for _, r := range i.Reasons {
			keys = append(keys, r.Key)
		}
		return keys
	}
	question := medicine.QuestionID{ID: w.do(medicine.AskQuestion{Animal: w.animal, At: w.now(), Words: "What is it?"}).Documents[0]}
	if len(owes()) != 0 {
		t.Errorf("a question alone: %+v", owes())
	}
	at := model.MomentOn(w.now(), w.now().Day()+6, 15*60+5, model.ToMinute)
	begins := w.now()
	w.do(medicine.Prescribe{Tables: w.tables, Animal: w.animal, At: begins, Prescription: medicine.Prescription{Medicine: "Ointment", Vet: vet, Form: medicine.InWords, Route: medicine.OnSkin,
		Begins: begins, Recheck: model.Date{Day: at.Day(), Precision: model.ToDay}, Steps: []medicine.Step{{Day: 1, Times: 3, Every: 24, Words: "a thin layer"}}}})
	if all := owes(); len(all) != 1 || all[0].Act != due.ActMedicine {
		t.Errorf("the recheck: %+v", all)
	}
	id := medicine.VisitID{ID: w.do(medicine.PlanVisit{Animal: w.animal, At: at, Visit: medicine.Visit{Vet: vet, Reason: "a scab"}}).Documents[0]}
	all := owes()
	if len(all) != 1 || all[0].Act != due.ActVisit || all[0].State != due.Later || all[0].By != at.Day() || !slices.Equal(why(all[0]), []string{"due.why.visit-hour", "due.why.visit-for", "due.why.visit-questions"}) ||
		all[0].Reasons[0].Gaps["Hour"].Text != "15:05" || all[0].Reasons[2].Gaps["Questions"].Number != 1 {
		t.Fatalf("planned: %+v", all)
	}
	w.pass(6 * 24 * time.Hour)
	if all := owes(); len(all) != 1 || all[0].State == due.Later || all[0].Level != knowledge.Nothing {
		t.Errorf("on its day: %+v", all)
	}
	w.pass(24 * time.Hour)
	if all := owes(); len(all) != 1 || all[0].Level != knowledge.LookAgain || why(all[0])[0] != "due.why.visit-past" {
		t.Errorf("past its day: %+v", all)
	}
	w.do(medicine.HoldVisit{ID: id, Base: 1, At: at, Visit: medicine.Visit{Vet: vet}, Answers: []medicine.Answered{{Question: question, Base: 1, Said: "a scab"}}, Next: model.MomentOn(w.now(), w.now().Day()+9, 0, model.ToDay)})
	if all := owes(); len(all) != 1 || all[0].State != due.Later || !slices.Equal(why(all[0]), []string{"due.why.visit"}) {
		t.Errorf("held, the next one is planned: %+v", all)
	}
	if _, err := w.c.Undo(); err != nil {
		t.Fatal(err)
	}
	if all := owes(); len(all) != 1 || why(all[0])[0] != "due.why.visit-past" {
		t.Errorf("undone: %+v", all)
	}
}
