package due_test

import (
	"strconv"
	"testing"
	"time"

	"coilward/model"
	"coilward/model/care"
	"coilward/model/due"
	"coilward/model/husbandry"
	"coilward/model/knowledge"
)

func (w *world) look(ago int, g care.MiteGrade) {
	w.t.Helper()
	w.do(care.LookForMites{About: w.about(ago), MiteLook: care.MiteLook{Grade: g, Where: []care.MiteWhere{care.OnAnimal}}})
}

// After a speck is looked again in 3 days, after mites in 7; source: common
// practice, no source. A speck ends with a look that sees none, mites do not.
func TestMitesAreLookedForAgain(t *testing.T) {
	for _, c := range []struct {
		grade  care.MiteGrade
		days   int // 0: nothing is due
		reason string
		level  knowledge.Level
	}{{care.NoMites, 0, "", 0}, {care.MiteSpeck, 3, "due.why.mite-speck", knowledge.Nothing}, {care.OneMite, 7, "due.why.mites", knowledge.LookAgain},
		{care.SeveralMites, 7, "due.why.mites", knowledge.LookAgain}, {care.MitesAllAround, 7, "due.why.mites", knowledge.LookAgain}} {
		w := newWorld(t, ball())
		w.look(9, care.NoMites)
		w.look(2, c.grade)
		all := w.of(due.MiteLook)
		if c.days == 0 {
			if len(all) > 0 {
				t.Errorf("none seen: %+v", all)
			}
			continue
		}
		if len(all) != 1 || all[0].By != w.today()-2+model.Day(c.days) || all[0].State != due.Later || all[0].Reasons[0].Key != c.reason || all[0].Act != due.ActMites || all[0].Level != c.level {
			t.Fatalf("grade %d: %+v", c.grade, all)
		}
		w.pass(time.Duration(c.days) * day)
		if o := w.one(due.MiteLook); o.State != due.Late {
			t.Errorf("grade %d, not answered: %+v", c.grade, o)
		}
		w.look(0, care.NoMites)
		switch all := w.of(due.MiteLook); {
		case c.grade == care.MiteSpeck && len(all) > 0:
			t.Errorf("a speck, then none: %+v", all)
		case c.grade.Positive() && (len(all) != 1 || all[0].By != w.today()+7 || all[0].Every != 7):
			t.Errorf("grade %d, then none: %+v", c.grade, all)
		}
	}
}

// Mites, and none seen twice within a minute, end nothing: the watch lasts 77 days
// where how warm it is is not known, and 42 from the moment that the place says so.
func TestTheWatchForMites(t *testing.T) {
	w := newWorld(t, ball())
	tub := w.tub("Tub 1", 14)
	w.move(tub)
	w.look(41, care.SeveralMites)
	for range 2 {
		w.pass(time.Minute)
		w.look(41, care.NoMites)
	}
	for ago := 34; ago >= 6; ago -= 7 {
		w.look(ago, care.NoMites)
	}
	ends := func(days model.Day) {
		t.Helper()
		o := w.one(due.MiteLook)
		if last := o.Reasons[len(o.Reasons)-1]; last.Key != "due.why.mite-watch" || last.Gaps["Day"] != model.DayGap(w.today()-41+days) || o.By != w.today()+1 {
			t.Errorf("the watch of %d days: %+v", days, o)
		}
	}
	ends(77)
	base := uint32(1)
	zones := func(cool int64) {
		t.Helper()
		place := husbandry.Place{Name: "Tub 1", Kind: husbandry.Tub, CleanEvery: 14, Zones: husbandry.Zones{Warm: model.Temperature{Hundredths: 3200, Typed: "32"}, Cool: model.Temperature{Hundredths: cool, Typed: strconv.FormatInt(cool/100, 10)}}}
		w.do(husbandry.ChangePlace{ID: tub, Base: base, Place: place})
		base++
	}
	zones(2200)
	ends(77)
	zones(2300)
	ends(42)
	w.pass(24 * time.Hour)
	w.look(0, care.NoMites)
	if all := w.of(due.MiteLook); len(all) > 0 {
		t.Errorf("the watch is over: %+v", all)
	}
}

// A look after mites is put off no longer than any other look, and is not put
// aside for good: answer-look, 30 days, assumed.
func TestALookAfterMitesIsNotPutOffForAYear(t *testing.T) {
	w := newWorld(t, ball())
	w.look(8, care.OneMite)
	o := w.one(due.MiteLook)
	answer := func(what due.What, days model.Day) due.Respond {
		a := due.Respond{Tables: w.tables, Key: o.Key, What: what, Why: "treated by the vet"}
		if what == due.PutOff {
			a.Until = w.today() + days
		}
		return a
	}
	w.refused(answer(due.PutOff, 31), "due.until-far")
	w.do(answer(due.PutOff, 30))
	w.do(answer(due.NotNeeded, 0))
	if o := w.one(due.MiteLook); o.State != due.Later {
		t.Errorf("not needed: %+v", o)
	}
	w.pass(30 * day)
	if o := w.one(due.MiteLook); !o.State.Presses() {
		t.Errorf("after 30 days: %+v", o)
	}
}
