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

// What nobody answered stays due, a speck as well as mites, and asks after years as on the
// first day: a watch ends by looks alone.
func TestNobodyLookedAgain(t *testing.T) {
	for grade, reason := range map[care.MiteGrade]string{care.MiteSpeck: "due.why.mite-speck", care.SeveralMites: "due.why.mites"} {
		w := newWorld(t, ball())
		w.look(0, grade)
		for range 12 {
			w.pass(100 * day)
			w.weigh(0, 1000)
			if o := w.one(due.MiteLook); o.State != due.Late || o.Reasons[0].Key != reason {
				t.Errorf("grade %d, not answered: %+v", grade, o)
			}
		}
	}
}

// Mites, and none seen twice within a minute, end nothing: the watch lasts 42 days where
// it was warm all the time, and 77 where on some day it was cool or not known. What is
// typed later shortens nothing.
func TestTheWatchForMites(t *testing.T) {
	for name, c := range map[string]struct {
		lived int   // for so many days where it lives now
		cool  int64 // typed there at once, in hundredths of a degree; 0: nothing is
		later int64 // and on the next day
		days  model.Day
	}{
		"warm":                   {50, 2300, 2600, 42},
		"cool":                   {50, 2200, 2600, 77},
		"not known":              {50, 0, 2600, 77},
		"cool on the next day":   {50, 2600, 2200, 77},
		"of its place not known": {30, 2600, 2600, 77},
	} {
		w := newWorld(t, ball())
		tub, base := w.tub("Tub 1", 14), uint32(1)
		zones := func(cool int64) {
			t.Helper()
			place := husbandry.Place{Name: "Tub 1", Kind: husbandry.Tub, CleanEvery: 14, Zones: husbandry.Zones{Warm: model.Temperature{Hundredths: 3200, Typed: "32"}}}
			if cool > 0 {
				place.Zones.Cool = model.Temperature{Hundredths: cool, Typed: strconv.FormatInt(cool/100, 10)}
			}
			w.do(husbandry.ChangePlace{ID: tub, Base: base, Place: place})
			base++
		}
		w.do(husbandry.Move{Animal: w.animal, Place: tub, At: w.about(c.lived).At})
		zones(c.cool)
		w.look(40, care.SeveralMites)
		for range 2 {
			w.pass(time.Minute)
			w.look(40, care.NoMites)
		}
		for ago := 33; ago >= 5; ago -= 7 {
			w.look(ago, care.NoMites)
		}
		w.pass(day)
		zones(c.later)
		o := w.one(due.MiteLook)
		if last := o.Reasons[len(o.Reasons)-1]; last.Key != "due.why.mite-watch" || last.Gaps["Day"] != model.DayGap(w.today()-41+c.days) || o.By != w.today()+1 {
			t.Errorf("%s: %+v", name, o)
		}
		w.pass(day)
		w.look(0, care.NoMites)
		if over := len(w.of(due.MiteLook)) == 0; over != (c.days == 42) {
			t.Errorf("%s: over on day 42: %v", name, over)
		}
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

// The watch of one that was treated counts from the last day on which the treatment acts,
// and the reason says so.
func TestTheWatchCountsFromTheTreatment(t *testing.T) {
	w := newWorld(t, ball())
	w.look(40, care.SeveralMites)
	until := w.today() - 10
	w.do(care.TreatMites{About: w.about(39), MiteTreatment: care.MiteTreatment{What: "as the vet said", Until: model.Date{Day: until, Precision: model.ToDay}}})
	for ago := 33; ago >= 5; ago -= 7 {
		w.look(ago, care.NoMites)
	}
	o := w.one(due.MiteLook)
	n := len(o.Reasons)
	if n < 2 || o.Reasons[n-2].Key != "due.why.mite-treated" || o.Reasons[n-2].Gaps["Day"] != model.DayGap(until) || o.Reasons[n-1].Gaps["Day"] != model.DayGap(until+77) {
		t.Errorf("%+v", o)
	}
}
