package demo

import (
	"coilward/model"
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
	recheck := model.Date{Day: s.day(-6), Precision: model.ToDay}
	if err := s.then(courseBegan, 18, 30, medicine.Prescribe{Tables: s.tables, Animal: id, At: began, By: s.people[keeper], Prescription: medicine.Prescription{
		Medicine: s.say("demo.medicine.name"), Reason: s.say("demo.medicine.reason"), Vet: s.people[vet], Form: medicine.InWords, Route: medicine.OnSkin, NotLifted: true,
		Begins: began, Steps: []medicine.Step{{Day: 1, Times: 10, Every: 24, Words: s.say("demo.medicine.step")}}, Recheck: recheck, Words: s.say("demo.medicine.words")}}); err != nil {
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
