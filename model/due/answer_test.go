package due_test

import (
	"testing"

	"coilward/model"
	"coilward/model/care"
	"coilward/model/due"
	"coilward/model/knowledge"
)

func (w *world) answer(i due.Item, what due.What, days int, why string) due.Respond {
	r := due.Respond{Tables: w.tables, Key: i.Key, What: what, Why: why}
	if what == due.PutOff {
		r.Until = w.today() + model.Day(days)
	}
	return r
}

// An everyday job can be put off and called done or not needed; done, it comes
// again after its time; a new cause asks anew.
func TestAnswersToEverydayJobs(t *testing.T) {
	w := newWorld(t, ball())
	w.weigh(40, 1400)
	weigh := w.one(due.Weigh)
	w.do(w.answer(weigh, due.PutOff, 5, ""))
	if o := w.one(due.Weigh); o.State != due.Later || o.Day(w.today()) != w.today()+5 {
		t.Errorf("put off: %+v", o)
	}
	w.pass(5 * day)
	if o := w.one(due.Weigh); o.State != due.Today {
		t.Errorf("on the day it was put off to: %+v", o)
	}
	w.do(w.answer(weigh, due.DoneElsewhere, 0, ""))
	if o := w.one(due.Weigh); o.State != due.Later || o.Day(w.today()) != w.today()+30 {
		t.Errorf("done: %+v", o)
	}
	w.refused(w.answer(weigh, due.NotNeeded, 0, " "), "due.why-not-needed")
	w.do(w.answer(weigh, due.NotNeeded, 0, "too near to laying"))
	w.pass(31 * day)
	if o := w.one(due.Weigh); o.State != due.Late {
		t.Errorf("it was silenced for good: %+v", o)
	}
	w.weigh(35, 1380)
	if o := w.one(due.Weigh); o.Answer != nil || o.State != due.Late {
		t.Errorf("an answer speaks for what a new weight made due: %+v", o)
	}
	w.refused(w.answer(weigh, due.DoneElsewhere, 0, ""), "due.gone")
}

// A matter for the vet is answered with words alone, put off for no longer than
// "within days" is, and asks again while no vet has closed it.
func TestAMatterForTheVetIsNotSilenced(t *testing.T) {
	w := newWorld(t, ball())
	w.weigh(0, 1400)
	w.check(1, false, map[knowledge.StopID]knowledge.FindingID{"skin": "sore"})
	vet := w.one(due.SeeVet)
	if vet.Level != knowledge.VetWithinDays {
		t.Fatalf("%+v", vet)
	}
	w.refused(w.answer(vet, due.DoneElsewhere, 0, ""), "due.why-done")
	w.refused(w.answer(vet, due.PutOff, 2, ""), "due.why-later")
	w.refused(w.answer(vet, due.PutOff, 4, "away"), "due.until-vet")
	w.refused(w.answer(vet, due.PutOff, 0, "away"), "due.until-past")
	w.do(w.answer(vet, due.PutOff, 3, "appointment on Saturday"))
	if o := w.one(due.SeeVet); o.State != due.Answered || o.Answer.Why != "appointment on Saturday" {
		t.Errorf("put off: %+v", o)
	}
	w.pass(3 * day)
	if o := w.one(due.SeeVet); o.State != due.Alert {
		t.Errorf("the day is there: %+v", o)
	}
	w.do(w.answer(vet, due.NotNeeded, 0, "the vet said on the phone to wait"))
	if o := w.one(due.SeeVet); o.State != due.Answered {
		t.Errorf("not needed: %+v", o)
	}
	w.pass(14 * day)
	if o := w.one(due.SeeVet); o.State != due.Alert || o.By != vet.By {
		t.Errorf("after two weeks without the vet closing it: %+v", o)
	}
}

// An emergency is always in sight, whatever was answered.
func TestAnEmergencyIsNeverHidden(t *testing.T) {
	w := newWorld(t, ball())
	w.check(0, false, map[knowledge.StopID]knowledge.FindingID{"rest": "gaping"})
	vet := w.one(due.SeeVet)
	w.refused(w.answer(vet, due.PutOff, 1, "busy"), "due.emergency")
	w.refused(w.answer(vet, due.NotNeeded, 0, "looks fine"), "due.emergency")
	w.refused(w.answer(vet, due.DoneElsewhere, 0, ""), "due.why-done")
	w.do(w.answer(vet, due.DoneElsewhere, 0, "called the practice, appointment at four"))
	if o := w.one(due.SeeVet); o.State != due.Alert || o.Answer == nil {
		t.Errorf("%+v", o)
	}
}

// A look at a finding asks again after a month without one; a new check asks anew.
func TestALookComesBack(t *testing.T) {
	w := newWorld(t, ball())
	w.weigh(0, 1400)
	w.check(8, false, map[knowledge.StopID]knowledge.FindingID{"snout": "nostril-blocked"})
	look := w.one(due.LookAgain)
	w.refused(w.answer(look, due.DoneElsewhere, 0, ""), "due.why-done")
	w.refused(w.answer(look, due.PutOff, 31, "away"), "due.until-far")
	w.do(w.answer(look, due.DoneElsewhere, 0, "seen in passing, open again"))
	if o := w.one(due.LookAgain); o.State != due.Later || o.Day(w.today()) != w.today()+30 {
		t.Errorf("%+v", o)
	}
	w.pass(31 * day)
	if o := w.one(due.LookAgain); o.State != due.Late {
		t.Errorf("after a month: %+v", o)
	}
}

// What comes by a cause alone is over when it is answered, and can be asked again.
func TestAnAnswerIsTakenBack(t *testing.T) {
	w := newWorld(t, ball())
	w.do(care.RecordShed{About: w.about(3), Shed: care.Shed{Skin: care.Whole}})
	shed := w.one(due.ShedLook)
	w.do(w.answer(shed, due.DoneElsewhere, 0, ""))
	o := w.one(due.ShedLook)
	if o.State != due.Answered {
		t.Fatalf("%+v", o)
	}
	w.do(due.Withdraw{Answer: o.Answer.ID})
	if o := w.one(due.ShedLook); o.State != due.Late || o.Answer != nil {
		t.Errorf("%+v", o)
	}
	if _, err := w.c.Undo(); err != nil {
		t.Fatal(err)
	}
	if o := w.one(due.ShedLook); o.State != due.Answered {
		t.Errorf("undone: %+v", o)
	}
}

func TestWhatNobodyWouldAnswer(t *testing.T) {
	w := newWorld(t, ball())
	weigh := w.one(due.Weigh)
	w.refused(w.answer(weigh, "perhaps", 0, ""), "choice.unknown")
	w.refused(w.answer(weigh, due.NotNeeded, 0, "a\x00b"), "text.control")
	w.refused(w.answer(weigh, due.PutOff, 366, ""), "due.until-far")
	weigh.Cause = "another"
	w.refused(w.answer(weigh, due.DoneElsewhere, 0, ""), "due.gone")
}
