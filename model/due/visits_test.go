package due_test

import (
	"errors"
	"slices"
	"testing"
	"time"

	"coilward/model"
	"coilward/model/animals"
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
	w.do(due.HoldVisit{HoldVisit: medicine.HoldVisit{ID: id, Base: 1, At: at, Visit: medicine.Visit{Vet: vet}, Answers: []medicine.Answered{{Question: question, Base: 1, Said: "a scab"}}, Next: model.MomentOn(w.now(), w.now().Day()+9, 0, model.ToDay)}})
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

// A visit answers what the vet was to see, in one change, until it asks again; not what was
// seen after it, nor what is no matter for the vet.
func TestHoldVisit_AnswersWhatStoodThen(t *testing.T) {
	w := newWorld(t, ball())
	w.check(2, false, map[knowledge.StopID]knowledge.FindingID{"rest": "gaping"})
	vet := w.one(due.SeeVet)
	held := func(ago model.Day, about ...due.Key) due.HoldVisit {
		return due.HoldVisit{Tables: w.tables, HoldVisit: medicine.HoldVisit{Animal: w.animal, At: model.MomentOn(w.now(), w.today()-ago, model.Noon, model.ToDay),
			Visit: medicine.Visit{Practice: "By the mill", Held: &medicine.Held{Said: "Looked at."}}}, About: about, Why: "the visit"}
	}
	for _, c := range []struct {
		name, reason string
		command      due.HoldVisit
	}{
		{"a visit of before it was seen", "due.seen-later", held(3, vet.Key)},
		{"no matter for the vet", "due.not-seen", held(0, w.one(due.Offer).Key)},
		{"another animal's", "due.not-seen", held(0, due.Key{Subject: model.AnimalID{ID: model.ID{1}}.Subject(), Job: due.SeeVet, Cause: vet.Cause})},
	} {
		_, err := w.c.Do(c.command)
		if r := (*model.Refusal)(nil); !errors.As(err, &r) || r.Field != "seen-for" || r.Reason != c.reason {
			t.Errorf("%s: %v", c.name, err)
		}
	}
	if got := w.one(due.SeeVet); got.Answer != nil {
		t.Fatalf("a refused visit answered: %+v", got)
	}
	w.do(held(2, vet.Key))
	if got := w.one(due.SeeVet); got.Answer == nil || got.Answer.What != due.DoneElsewhere {
		t.Errorf("after the visit: %+v", got)
	}
	if _, err := w.c.Undo(); err != nil {
		t.Fatal(err)
	}
	if got := w.one(due.SeeVet); got.Answer != nil {
		t.Errorf("the answer stands after the visit was taken back: %+v", got)
	}
}

// What a visit answers asks again so many days after the visit, however late it is noted: with
// a corrected day it counts from that, and without the visit it asks at once. Each is one
// change. How many days: assumed, in the table of values.
func TestVisits_WhatTheyAnswerGoesWithThem(t *testing.T) {
	w := newWorld(t, ball())
	w.check(9, false, map[knowledge.StopID]knowledge.FindingID{"skin": "sore"})
	vet, stands := w.one(due.SeeVet), model.Day(w.tables.Value(knowledge.ValueAnswerVet))
	on := func(ago model.Day) model.Moment {
		return model.MomentOn(w.now(), w.today()-ago, model.Noon, model.ToDay)
	}
	visit := medicine.Visit{Practice: "By the mill", Held: &medicine.Held{Said: "Looked at."}}
	id := medicine.VisitID{ID: w.do(due.HoldVisit{Tables: w.tables, HoldVisit: medicine.HoldVisit{Animal: w.animal, At: on(5), Visit: visit}, About: []due.Key{vet.Key}, Why: "the visit"}).Documents[0]}
	if got := w.one(due.SeeVet); got.State != due.Answered || got.Answer.Until != w.today()-5+stands {
		t.Errorf("noted five days later: %+v", got)
	}
	change := func(ago model.Day) due.ChangeVisit {
		return due.ChangeVisit{Tables: w.tables, ChangeVisit: medicine.ChangeVisit{ID: id, Base: 1, At: on(ago), Visit: visit}, Why: "the visit as it was"}
	}
	w.refused(change(10), "due.answered-later")
	w.do(change(8))
	if got := w.one(due.SeeVet); got.Answer.Until != w.today()-8+stands || got.Answer.Why != "the visit as it was" {
		t.Errorf("its day put right: %+v", got.Answer)
	}
	w.do(due.RemoveVisit{RemoveVisit: medicine.RemoveVisit{ID: id}})
	if got := w.one(due.SeeVet); got.State != due.Alert || got.Answer != nil {
		t.Errorf("taken out: %+v", got)
	}
	if _, err := w.c.Undo(); err != nil {
		t.Fatal(err)
	}
	if got := w.one(due.SeeVet); got.State != due.Answered {
		t.Errorf("undone: %+v", got)
	}
	// what a person has answered since is not the visit's to take
	w.do(w.answer(vet, due.NotNeeded, 0, "the vet said so on the phone"))
	w.do(due.RemoveVisit{RemoveVisit: medicine.RemoveVisit{ID: id}})
	if got := w.one(due.SeeVet); got.State != due.Answered || got.Answer.What != due.NotNeeded {
		t.Errorf("a person's answer: %+v", got)
	}
}

// A visit that was held longer ago than an answer stands is noted, and what it was about goes
// on asking.
func TestVisits_OfLongAgoAnswerNoMore(t *testing.T) {
	w := newWorld(t, ball())
	w.check(40, false, map[knowledge.StopID]knowledge.FindingID{"skin": "sore"})
	vet := w.one(due.SeeVet)
	ago := model.Day(w.tables.Value(knowledge.ValueAnswerVet))
	w.do(due.HoldVisit{Tables: w.tables, HoldVisit: medicine.HoldVisit{Animal: w.animal, At: model.MomentOn(w.now(), w.today()-ago, model.Noon, model.ToDay), Visit: medicine.Visit{Practice: "By the mill"}}, About: []due.Key{vet.Key}, Why: "the visit"})
	if got := w.one(due.SeeVet); got.State != due.Alert || got.By != vet.By {
		t.Errorf("a visit of %d days ago: %+v", ago, got)
	}
}

// A planned visit is held for the animal that it was planned for, which need not be named,
// and for no other.
func TestHoldVisit_OfThePlannedAnimal(t *testing.T) {
	w := newWorld(t, ball())
	w.check(2, false, map[knowledge.StopID]knowledge.FindingID{"skin": "sore"})
	vet, other := w.one(due.SeeVet), w.add(animals.Animal{Name: "Linnet"})
	plan := func(of model.AnimalID) medicine.VisitID {
		return medicine.VisitID{ID: w.do(medicine.PlanVisit{Animal: of, At: w.now(), Visit: medicine.Visit{Practice: "By the mill"}}).Documents[0]}
	}
	hold := func(id medicine.VisitID, named model.AnimalID) due.HoldVisit {
		return due.HoldVisit{Tables: w.tables, HoldVisit: medicine.HoldVisit{ID: id, Base: 1, Animal: named, At: w.now(), Visit: medicine.Visit{Practice: "By the mill"}}, About: []due.Key{vet.Key}, Why: "the visit"}
	}
	others := plan(other)
	w.refused(hold(others, w.animal), "visit.other")
	w.refused(hold(others, model.AnimalID{}), "due.not-seen")
	w.do(hold(plan(w.animal), model.AnimalID{}))
	if got := w.one(due.SeeVet); got.State != due.Answered {
		t.Errorf("held: %+v", got)
	}
}
