package newcomers_test

import (
	"errors"
	"testing"
	"time"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/exam"
	"coilward/model/husbandry"
	"coilward/model/newcomers"
	"coilward/model/quarantine"
)

// A move into an empty room takes back nothing: neither who came in before, nor the
// mites of the old room.
func TestAMoveTakesNothingBack(t *testing.T) {
	w := begin(t)
	for d := 0; d <= 48; d += 8 {
		w.on(d)
		w.look(w.animal, care.NoMites)
	}
	w.on(50)
	w.look(w.came("Nettle", w.tubs[0][1]), care.SeveralMites)
	w.on(52)
	w.do(husbandry.Move{Animal: w.animal, Place: w.tubs[1][3], At: w.now()})
	w.on(53)
	w.look(w.animal, care.NoMites)
	if l := w.line(quarantine.InRoom); l.Again != w.arrived+50 || l.Earliest != w.arrived+140 {
		t.Errorf("again on day %d, earliest day %d", l.Again-w.arrived, l.Earliest-w.arrived)
	}
	if m := w.of(w.animal).Facts.Mites; m.From != w.arrived+50 || m.Why != quarantine.FromMites || m.Over != 0 {
		t.Errorf("%+v", m)
	}
}

// One on which mites were seen lately brings them in; one whose watch is over does not.
// Source: common practice, no source.
func TestMitesComeWithAMate(t *testing.T) {
	for after, brings := range map[int]bool{1: true, 45: false} {
		w := begin(t)
		ash := w.came("Ash", w.tubs[1][0])
		w.look(ash, care.SeveralMites)
		w.look(w.animal, care.NoMites)
		for d := 1; d <= after; d++ {
			w.on(d)
			w.look(ash, care.NoMites)
			w.look(w.animal, care.NoMites)
		}
		w.do(husbandry.Move{Animal: ash, Place: w.tubs[0][1], At: w.now()})
		m := w.of(w.animal).Facts.Mites
		if got := m.Why == quarantine.FromMites && m.From == w.arrived+model.Day(after); got != brings {
			t.Errorf("after %d days: from day %d, %s", after, m.From-w.arrived, m.Why)
		}
	}
}

// What a mate was treated with before it came acts on, and hides mites.
func TestATreatmentOfBeforeActsStill(t *testing.T) {
	for until, counts := range map[int]bool{40: true, 11: false} {
		w := begin(t)
		ash := w.came("Ash", w.tubs[1][0])
		w.do(care.TreatMites{About: w.about(ash), MiteTreatment: care.MiteTreatment{What: "as the vet said", Until: model.Date{Day: w.arrived + model.Day(until), Precision: model.ToDay}}})
		w.look(w.animal, care.NoMites)
		w.on(8)
		w.look(w.animal, care.NoMites)
		w.on(12)
		w.do(husbandry.Move{Animal: ash, Place: w.tubs[0][1], At: w.now()})
		if m := w.of(w.animal).Facts.Mites; (m.Why == quarantine.FromTreatment && m.From == w.arrived+40) != counts {
			t.Errorf("it acts until day %d: from day %d, %s", until, m.From-w.arrived, m.Why)
		}
	}
}

// Looks at paper, bowl, enclosure and bath that see none are a glance: they neither
// begin the watch nor carry it on. What is seen there counts. Source: common practice,
// no source.
func TestAGlanceDoesNotEndTheWatch(t *testing.T) {
	w := begin(t)
	glance := func(g care.MiteGrade) model.ID {
		return w.do(care.LookForMites{About: w.about(w.animal), MiteLook: care.MiteLook{Grade: g, Where: []care.MiteWhere{care.WhitePaper, care.WaterBowl, care.InEnclosure, care.InBath}}})[0]
	}
	arrival := func() bool {
		for _, a := range w.of(w.animal).Arrival {
			if a.Kind == newcomers.ArriveMites {
				return a.Done
			}
		}
		return false
	}
	glance(care.NoMites)
	if l := w.line(quarantine.MiteFree); l.Reasons[0].Key != "quarantine.why.mites-glances" || l.Reasons[0].Gaps["Count"].Number != 1 || arrival() {
		t.Errorf("a glance alone: %+v, done %v", l, arrival())
	}
	w.on(1)
	w.look(w.animal, care.NoMites)
	for d := 2; d <= 50; d += 6 {
		w.on(d)
		glance(care.NoMites)
	}
	n := w.of(w.animal)
	if m := n.Facts.Mites; m.Over != 0 || m.Last != w.arrived+1 || m.Next != w.arrived+8 || m.Glances != 9 || m.Why != quarantine.FromGap || !n.Looks[0].Glance || n.Looks[1].Glance || !arrival() {
		t.Errorf("the animal was looked at once: %+v, %+v", m, n.Looks[:2])
	}
	for d := 51; d <= 91; d += 8 {
		w.on(d)
		w.look(w.animal, care.NoMites)
	}
	w.on(92)
	glance(care.NoMites)
	if m := w.of(w.animal).Facts.Mites; m.Over != 0 || m.Ends != w.arrived+93 || m.Glances != 1 {
		t.Errorf("on the way: %+v", m)
	}
	w.on(93)
	glance(care.NoMites)
	if l := w.line(quarantine.MiteFree); l.State.Met() || l.Reasons[1].Key != "quarantine.why.mites-glances" || l.Reasons[1].Gaps["Count"].Number != 2 {
		t.Errorf("a glance on the last day: %+v", l)
	}
	seen := glance(care.OneMite)
	if m := w.of(w.animal).Facts.Mites; m.From != w.arrived+93 || m.Why != quarantine.FromMites || m.On[0].ID != seen {
		t.Errorf("seen at a glance: %+v", m)
	}
}

// Of one that lives nowhere the days in the room cannot be told; where its first place is
// with others, they begin when it comes there.
func TestWithoutAPlace(t *testing.T) {
	w := begin(t)
	w.came("Elm", w.tubs[0][1])
	for name, c := range map[string]struct {
		tub   model.PlaceID
		again model.Day
	}{"with others": {w.tubs[0][2], 4}, "alone": {w.tubs[1][0], 0}} {
		w.animal = model.AnimalID{ID: w.do(animals.Add{Animal: animals.Animal{Name: name}})[0]}
		arrived := w.now().Day()
		w.do(quarantine.Begin{Tables: w.tables, Animal: w.animal, Arrived: w.now(), Protocol: "python"})
		w.clock.Pass(4 * day)
		if l := w.line(quarantine.InRoom); l.State != quarantine.CannotTell || l.Have != 0 {
			t.Errorf("nowhere: %+v", l)
		}
		w.do(husbandry.Move{Animal: w.animal, Place: c.tub, At: w.now()})
		if l := w.line(quarantine.InRoom); l.State != quarantine.NotMet || (l.Again != 0) != (c.again != 0) || l.Earliest != arrived+c.again+90 {
			t.Errorf("%s: %+v, arrived %d", name, l, arrived)
		}
		w.do(animals.SetStatus{ID: w.animal, Base: 1, Status: animals.Sold, Day: model.Date{Day: w.now().Day(), Precision: model.ToDay}})
	}
}

// Mites seen on the day of the first look are the reason of the watch, whichever look of
// that day came first.
func TestMitesOnTheDayOfTheFirstLook(t *testing.T) {
	w := begin(t)
	w.look(w.animal, care.NoMites)
	w.clock.Pass(time.Minute)
	seen := w.look(w.animal, care.SeveralMites)
	if m := w.of(w.animal).Facts.Mites; m.From != w.arrived || m.Why != quarantine.FromMites || m.On[0].ID != seen {
		t.Errorf("%+v", m)
	}
	if l := w.line(quarantine.MiteFree); l.Reasons[0].Key != "quarantine.mites.mites" || l.Again != w.arrived {
		t.Errorf("%+v", l)
	}
}

// What a seller treated it with before the arrival is asked about and can be entered; so
// long as it acts it hides mites.
func TestATreatmentOfTheSeller(t *testing.T) {
	w := begin(t)
	about := w.about(w.animal)
	about.At.UTC -= 3 * 86400
	treat := care.TreatMites{About: about, MiteTreatment: care.MiteTreatment{What: "as the seller wrote", Until: model.Date{Day: w.arrived + 20, Precision: model.ToDay}}}
	_, err := w.c.Do(treat)
	if r := (*model.Refusal)(nil); !errors.As(err, &r) || r.Reason != "day.before-arrival" || r.Answer != model.Confirm {
		t.Fatalf("before the arrival: %v", err)
	}
	treat.Confirmed = model.Confirmed{"day.before-arrival"}
	w.do(treat)
	w.look(w.animal, care.NoMites)
	if m := w.of(w.animal).Facts.Mites; m.From != w.arrived+20 || m.Why != quarantine.FromTreatment || m.Ends != w.arrived+62 {
		t.Errorf("it acts until day 20: %+v", m)
	}
}

// A release that is entered for an earlier day judges by what was known then: a problem
// found later, and what became of it, say nothing.
func TestAReleaseOfYesterdayKnowsNothingOfToday(t *testing.T) {
	w := begin(t)
	w.check(exam.LeftToVet)
	w.on(5)
	then := w.now()
	w.on(6)
	w.check(exam.Seen, exam.Finding{Standing: exam.New, Stop: "skin", What: "sore", Grade: exam.Slight, Rough: true})
	if l := w.line(quarantine.NothingUp); l.State.Met() {
		t.Fatalf("a sore: %+v", l)
	}
	w.do(newcomers.Release{Tables: w.tables, ID: w.kept, Base: 1, At: then, Why: "goes back to the seller", Confirmed: model.Confirmed{"quarantine.unmet"}})
	if l := w.line(quarantine.NothingUp); l.State != quarantine.Met {
		t.Errorf("as of the day before: %+v", l)
	}
}

// What comes after the moment of the release on its day does not count: neither its move
// to others, nor mites there; of a release, or a move, of which only the day is known, it
// does.
func TestAReleaseGoesByItsMoment(t *testing.T) {
	for name, c := range map[string]struct {
		release, move model.Precision
		counts        bool
	}{"both to the minute": {model.ToMinute, model.ToMinute, false}, "the release to the day": {model.ToDay, model.ToMinute, true}, "the move to the day": {model.ToMinute, model.ToDay, true}} {
		w := begin(t)
		w.look(w.animal, care.NoMites)
		ash := w.came("Ash", w.tubs[1][0])
		w.on(5)
		w.look(ash, care.SeveralMites)
		at := w.now()
		at.Precision = c.release
		w.clock.Pass(2 * time.Hour)
		to := w.now()
		to.Precision = c.move
		w.do(husbandry.Move{Animal: w.animal, Place: w.tubs[1][1], At: to})
		if l := w.line(quarantine.InRoom); l.Again != w.arrived+5 {
			t.Fatalf("%s: it did not move to others: %+v", name, l)
		}
		w.do(newcomers.Release{Tables: w.tables, ID: w.kept, Base: 1, At: at, Why: "goes back", Confirmed: model.Confirmed{"quarantine.unmet"}})
		lines := w.of(w.animal).Gate.Lines
		if again := lines[0].Again == w.arrived+5; lines[0].Item != quarantine.InRoom || again != c.counts {
			t.Errorf("%s: begins again: %v", name, again)
		}
		if again := lines[1].Again == w.arrived+5; lines[1].Item != quarantine.MiteFree || again != c.counts {
			t.Errorf("%s: mites there count: %v", name, again)
		}
	}
}
