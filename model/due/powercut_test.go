package due_test

import (
	"testing"
	"time"

	"coilward/model"
	"coilward/model/care"
	"coilward/model/due"
	"coilward/model/knowledge"
	"coilward/model/powercut"
)

// cut notes a power cut of a night that ended that many days ago.
func (w *world) cut(ago int, coldest *model.Temperature) {
	w.t.Helper()
	until := w.now()
	until.UTC -= int64(ago) * 86400
	from := until
	from.UTC -= 10 * 3600
	w.do(powercut.Note{From: from, Cut: powercut.Cut{Until: until, Whole: true, Coldest: coldest}})
}

// Looks on days 1, 3, 7 and 14: common practice, no source.
func TestAPowerCutIsWatchedUntilTheLastLook(t *testing.T) {
	w := newWorld(t, ball())
	w.feed(3, care.Took)
	w.cut(0, nil)
	first := w.one(due.ColdLook)
	if first.By != w.today()+1 || first.State != due.Later || first.Act != due.ActPowerCut || first.Level != knowledge.LookAgain {
		t.Errorf("got %+v, want a look tomorrow", first)
	}
	var said []string
	for _, r := range first.Reasons {
		said = append(said, r.Key)
	}
	if len(said) != 3 || said[1] != "due.why.power-cut-unmeasured" || said[2] != "due.why.power-cut-fed" {
		t.Errorf("said %v, want that nothing was measured, and that it was fed before", said)
	}
	look := func() {
		t.Helper()
		w.do(powercut.LookedQuiet{Tables: w.tables, Animals: []model.AnimalID{w.animal}})
	}
	ended := w.today()
	for _, step := range []struct{ on, next model.Day }{{1, 3}, {5, 7}, {8, 14}} { // missed ones are not made good
		w.pass(time.Duration(ended+step.on-w.today()) * 24 * time.Hour)
		look()
		if next := w.one(due.ColdLook); next.By != ended+step.next {
			t.Errorf("after the look on day %d the next is by day %d, want %d", step.on, next.By-ended, step.next)
		}
	}
	w.pass(60 * 24 * time.Hour)
	if late := w.one(due.ColdLook); late.State != due.Late || late.By != ended+14 { // time alone does not end it
		t.Errorf("the last look missed: %+v", late)
	}
	look()
	if left := w.of(due.ColdLook); len(left) != 0 {
		t.Errorf("%+v is still due after the last look", left)
	}
	if _, err := w.c.Undo(); err != nil {
		t.Fatal(err)
	}
	w.one(due.ColdLook)
}

func TestAPowerCut_ItsCorrectionMovesTheWatch(t *testing.T) {
	w := newWorld(t, ball())
	w.cut(3, &model.Temperature{Hundredths: 1650})
	late := w.one(due.ColdLook)
	if late.State != due.Late || late.By != w.today()-2 || late.Reasons[1].Key != "due.why.power-cut-cold" || late.Reasons[1].Gaps["Temperature"].Number != 1650 {
		t.Errorf("got %+v", late)
	}
	var all []powercut.Stored
	if err := w.c.View(func(v model.View) (err error) { all, _, err = powercut.All(v); return err }); err != nil {
		t.Fatal(err)
	}
	until := w.now()
	w.do(powercut.Change{Entry: all[0].ID, Base: all[0].Revision, Note: powercut.Note{From: all[0].From, Cut: powercut.Cut{Until: until, Whole: true}}})
	if moved := w.one(due.ColdLook); moved.By != w.today()+1 {
		t.Errorf("corrected: by %v, want tomorrow", moved.By)
	}
	w.do(powercut.Remove{Entry: all[0].ID})
	if left := w.of(due.ColdLook); len(left) != 0 {
		t.Errorf("%+v is still due", left)
	}
}

// A look with a sign counts as a look; what it means is said by the table of urgency.
func TestAPowerCut_ASignSeenGoesToTheVet(t *testing.T) {
	w := newWorld(t, ball())
	w.cut(1, nil)
	w.check(0, false, map[knowledge.StopID]knowledge.FindingID{"rest": "gaping"})
	if next := w.one(due.ColdLook); next.By != w.today()+2 {
		t.Errorf("the next look by %v, want day 3", next.By)
	}
	if vet := w.one(due.SeeVet); vet.Level < knowledge.VetWithinDays {
		t.Errorf("got %+v, want the vet", vet)
	}
}

// Colder than a room may become by the tables, the vet is to be called today: published
// emergency lists name chilling.
func TestAPowerCut_ColdIsSaid(t *testing.T) {
	for hundredths, want := range map[int64]bool{1150: true, 1999: true, 2000: false, 2300: false} {
		w := newWorld(t, ball())
		w.cut(3, &model.Temperature{Hundredths: hundredths})
		look := w.one(due.ColdLook)
		if look.Reasons[1].Key != "due.why.power-cut-cold" || look.Level != knowledge.LookAgain {
			t.Errorf("%d hundredths of a degree: the look says %s at %s", hundredths, look.Reasons[1].Key, look.Level)
		}
		vet := w.of(due.SeeVet)
		if chilled := len(vet) == 1 && vet[0].Reasons[0].Key == "due.why.power-cut-chilled" && vet[0].Level == knowledge.EmergencyToday && vet[0].State.Overdue(); chilled != want || len(vet) > 1 {
			t.Errorf("%d hundredths of a degree: %+v; to the vet: %v", hundredths, vet, want)
		}
	}
}

// After a power cut food is offered again once all has been as warm as usual for a day: common
// practice, no source. What is for the vet is said before that.
func TestAPowerCut_FoodWaitsADay(t *testing.T) {
	for ago, want := range map[int]string{0: "due.caution.power-cut-feed", 1: "due.caution.power-cut-feed", 2: "due.caution.class", 30: "due.caution.class"} {
		w := newWorld(t, ball())
		w.feed(20, care.Took)
		w.cut(ago, nil)
		if got := w.one(due.Offer).Caution; got != want {
			t.Errorf("%d days after: %q, want %q", ago, got, want)
		}
	}
}

// That it was so cold is said of each power cut, whatever comes after: another one that was
// milder, or looks that see nothing. An answer ends it, and the days of the watch.
func TestAPowerCut_ChillingIsNotForgotten(t *testing.T) {
	chilled := func(w *world) (n int) {
		for _, o := range w.of(due.SeeVet) {
			if o.Reasons[0].Key == "due.why.power-cut-chilled" {
				n++
			}
		}
		return n
	}
	w := newWorld(t, ball())
	w.cut(3, &model.Temperature{Hundredths: 1200})
	w.cut(1, &model.Temperature{Hundredths: 2300})
	if chilled(w) != 1 {
		t.Error("a milder power cut takes it back")
	}
	w.do(powercut.LookedQuiet{Tables: w.tables, Animals: []model.AnimalID{w.animal}})
	if chilled(w) != 1 {
		t.Error("a look takes it back")
	}
	w.pass(11 * 24 * time.Hour)
	if chilled(w) != 1 {
		t.Error("it is over on the last day of the watch")
	}
	w.pass(24 * time.Hour)
	if chilled(w) != 0 {
		t.Error("it is never over")
	}
}
