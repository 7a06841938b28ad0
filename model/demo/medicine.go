package demo

import (
	"errors"

	"coilward/model"
	"coilward/model/due"
	"coilward/model/medicine"
)

// courseOf is who gets a medicine, begun so many days ago.
const (
	courseOf    = "Sorrel"
	courseBegan = 5
)

// prescribe tells of a course as the vet wrote it: an invented ointment, of which one
// evening was missed, and the vet said how to go on.
func (s *scenario) prescribe() error {
	id, err := s.find(courseOf)
	if err != nil {
		return err
	}
	began := s.at(courseBegan, 18, 0)
	visit, err := s.seeVet(id)
	if err != nil {
		return err
	}
	recheck := model.Date{Day: s.day(-6), Precision: model.ToDay}
	if err := s.then(courseBegan, 18, 30, medicine.Prescribe{Tables: s.tables, Animal: id, At: began, By: s.people[keeper], Prescription: medicine.Prescription{
		Medicine: s.say("demo.medicine.name"), Reason: s.say("demo.medicine.reason"), Vet: s.people[vet], Form: medicine.InWords, Route: medicine.OnSkin, NotLifted: true,
		Begins: began, Steps: []medicine.Step{{Day: 1, Times: 10, Every: 24, Words: s.say("demo.medicine.step")}}, Recheck: recheck, Visit: visit, Words: s.say("demo.medicine.words")}}); err != nil {
		return err
	}
	courses, err := medicine.Of(s.bench, id)
	if err != nil {
		return err
	}
	base := courses[0].Revision
	for ago := courseBegan; ago > 0; ago-- {
		tell := medicine.Tell{Tables: s.tables, ID: courses[0].ID, Base: base, Number: courseBegan - ago + 1, Did: medicine.Given, At: s.at(ago, 18, 40), By: s.people[keeper]}
		if ago == 3 {
			tell.Did, tell.At = medicine.Missed, s.at(ago-1, 7, 30)
		}
		if err := s.then(ago-1, 7, 45, tell); err != nil {
			return err
		}
		base++
		if tell.Did == medicine.Missed {
			answer := medicine.AnswerMissed{ID: courses[0].ID, Base: base, Number: tell.Number, At: s.at(ago-1, 9, 10), By: s.people[keeper], Said: s.say("demo.medicine.answer")}
			if err := s.then(ago-1, 9, 15, answer); err != nil {
				return err
			}
			base++
		}
	}
	return nil
}

// seeVet tells of the visit at which it was prescribed, with two questions and their
// answers, and of the next ones, for which two are open: one when he is to be seen again,
// and one tomorrow for what was found since, of which a note of yesterday tells.
func (s *scenario) seeVet(id model.AnimalID) (at medicine.VisitID, err error) {
	note := func(ago, hour int, key string) error {
		return s.then(ago, hour, 10, medicine.AskQuestion{Animal: id, At: s.at(ago, hour, 0), By: s.people[keeper], Words: s.say(key)})
	}
	if err := errors.Join(note(courseBegan+2, 20, "demo.visit.ask.bath"), note(courseBegan+1, 20, "demo.visit.ask.lift")); err != nil {
		return at, err
	}
	asked, err := medicine.QuestionsOf(s.bench, id)
	if err != nil {
		return at, err
	}
	held := due.HoldVisit{Tables: s.tables, HoldVisit: medicine.HoldVisit{Animal: id, At: s.at(courseBegan, 16, 0), By: s.people[keeper], Visit: medicine.Visit{Vet: s.people[vet], Reason: s.say("demo.medicine.reason"), Held: &medicine.Held{Said: s.say("demo.visit.said")}},
		Answers: []medicine.Answered{{Question: asked[1].ID, Base: 1, Said: s.say("demo.visit.answer.bath")}, {Question: asked[0].ID, Base: 1, Said: s.say("demo.visit.answer.lift")}}}}
	if err := s.then(courseBegan, 17, 30, held); err != nil {
		return at, err
	}
	visits, err := medicine.VisitsOf(s.bench, id)
	if err != nil {
		return at, err
	}
	at = visits[0].ID
	return at, errors.Join(
		s.then(courseBegan, 17, 40, medicine.PlanVisit{Animal: id, At: s.at(-6, 15, 30), By: s.people[keeper], Visit: medicine.Visit{Vet: s.people[vet], Reason: s.say("demo.visit.again")}}),
		s.then(1, 10, 20, medicine.PlanVisit{Animal: id, At: s.at(-1, 9, 0), By: s.people[keeper], Visit: medicine.Visit{Vet: s.people[vet], Reason: s.say("demo.visit.breath")}}),
		note(courseBegan, 20, "demo.visit.ask.shed"), note(courseBegan, 21, "demo.visit.ask.water"))
}
