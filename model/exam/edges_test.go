package exam_test

import (
	"reflect"
	"testing"
	"time"

	"coilward/model"
	"coilward/model/body"
	"coilward/model/exam"
	"coilward/model/knowledge"
	"coilward/model/storetest"
)

func TestPress_EveryDigitNotesTheFindingUnderIt(t *testing.T) {
	tb := tables(t)
	for _, s := range tb.Stops() {
		for i := range 9 {
			d, err := goTo(begin(tb), s.ID).Press(tb, exam.Key('1'+rune(i)), morning)
			if err != nil {
				t.Fatal(err)
			}
			switch {
			case i >= len(s.Choices) && len(d.Findings) != 0:
				t.Errorf("%s, key %d, which stands for nothing: noted %s", s.ID, i+1, d.Findings[0].What)
			case i < len(s.Choices) && (len(d.Findings) != 1 || d.Findings[0].What != s.Choices[i]):
				t.Errorf("%s, key %d: %+v, want %s", s.ID, i+1, d.Findings, s.Choices[i])
			}
		}
	}
}

func TestPress_WhatMeansNothingChangesNothing(t *testing.T) {
	tb := tables(t)
	d := begin(tb)
	unknown := d.Go(1)
	unknown.Stops = append([]exam.Answered{}, d.Stops...)
	unknown.Stops[1].Stop = "dewlap" // of other tables
	for name, c := range map[string]struct {
		d   exam.Draft
		key exam.Key
	}{
		"just under the digits": {d, '/'}, "just over them": {d, ':'},
		"a digit where the tables have no stop": {unknown, '1'}, "enter there": {unknown, exam.KeyEnter},
	} {
		after, err := c.d.Press(tb, c.key, morning)
		if err != nil || !reflect.DeepEqual(after, c.d) {
			t.Errorf("%s: %v, %+v", name, err, after)
		}
	}
}

func TestMark_LeavesTheWayInWhichTheStopWasLookedAt(t *testing.T) {
	tb := tables(t)
	d := press(t, tb, goTo(begin(tb), "skin"), "+-") // felt, and back
	if d = d.Mark(tb, "sore", later(morning, time.Hour)); d.At("skin").Look != exam.Felt {
		t.Errorf("looked at as %q, want felt", d.At("skin").Look)
	}
	if d.At("skin").At == later(morning, time.Hour) {
		t.Error("the time at which it was felt is lost")
	}
}

func TestWalk_AnEarlierFindingStandsAtItsOwnStopAlone(t *testing.T) {
	tb := tables(t)
	d := begin(tb, problem(scabID, "skin", "sore", body.Place{}, exam.New))
	d = press(t, tb, goTo(d, "neck"), "\n")
	d = press(t, tb, goTo(d, "skin"), "1\n")
	if !d.Clear("neck") || d.Clear("skin") {
		t.Errorf("neck clear %v, skin clear %v: the sore is on the skin", d.Clear("neck"), d.Clear("skin"))
	}
}

func TestWalk_SignsAreAsTheyStandNow(t *testing.T) {
	tb := tables(t)
	before := problem(scabID, "skin", "sore", body.Place{}, exam.New)
	d := begin(tb, before)
	for _, c := range []struct {
		standing exam.Standing
		want     []exam.Sign
	}{
		{exam.Unasked, []exam.Sign{{Standing: exam.Unasked, Grade: exam.Marked, Seen: before.Last().At.Day()}}},
		{exam.Same, []exam.Sign{{Standing: exam.Same, Grade: exam.Marked, Seen: morning.Day()}}},
		{exam.Worse, []exam.Sign{{Standing: exam.Worse, Grade: exam.Severe, Seen: morning.Day()}}},
		{exam.Better, []exam.Sign{{Standing: exam.Better, Grade: exam.Slight, Seen: morning.Day()}}},
		{exam.Gone, nil},
	} {
		var got []exam.Sign
		for _, s := range d.AnswerEarlier(0, c.standing, morning).Signs() {
			got = append(got, exam.Sign{Standing: s.Standing, Grade: s.Grade, Seen: s.Seen})
		}
		if !reflect.DeepEqual(got, c.want) {
			t.Errorf("%q: %+v, want %+v", c.standing, got, c.want)
		}
	}
}

// What was worse at an earlier look stays so until it is better: passing it over,
// or calling it the same, does not make it quiet again.
func TestWalk_WorseStaysWorseUntilItIsBetter(t *testing.T) {
	tb := tables(t)
	for _, c := range []struct {
		before []exam.Standing
		now    exam.Standing
		want   bool
	}{
		{[]exam.Standing{exam.New, exam.Worse}, exam.Unasked, true},
		{[]exam.Standing{exam.New, exam.Worse}, exam.Same, true},
		{[]exam.Standing{exam.New, exam.Worse}, exam.Better, false},
		{[]exam.Standing{exam.New}, exam.Unasked, false},
		{[]exam.Standing{exam.New}, exam.Same, false},
	} {
		signs := begin(tb, problem(kinkID, "spine", "kink", body.Place{}, c.before...)).AnswerEarlier(0, c.now, morning).Signs()
		if len(signs) != 1 || signs[0].Worsened != c.want {
			t.Errorf("%v, now %q: %+v", c.before, c.now, signs)
		}
	}
}

func TestProblem_WorsenedAtItsOnlyLook(t *testing.T) {
	if p := (exam.Problem{Glimpses: []exam.Glimpse{{Standing: exam.Worse}}}); !p.Worsened() {
		t.Error("worse at its only look, whose first one was taken out, and yet not worsened")
	}
}

// Signs that differ in one flag alone still have one order, so that the same
// facts always give the same words.
func TestUrgency_SignsThatDifferInAFlagHaveOneOrder(t *testing.T) {
	tb := tables(t)
	for name, change := range map[string]func(*exam.Sign){
		"own": func(s *exam.Sign) { s.Baseline = true }, "unlike the photo": func(s *exam.Sign) { s.Differs = true },
		"worsened": func(s *exam.Sign) { s.Worsened = true }, "problem": func(s *exam.Sign) { s.Problem = kinkID },
	} {
		plain := sign("spine", "kink")
		other := plain
		change(&other)
		one, two := judge(tb, exam.Context{}, plain, other), judge(tb, exam.Context{}, other, plain)
		if !reflect.DeepEqual(one, two) || !reflect.DeepEqual(one.Signs, []exam.Sign{plain, other}) {
			t.Errorf("%s: %+v and %+v", name, one.Signs, two.Signs)
		}
	}
}

// The soonest look that a rule asks for counts, whatever the order of the rules;
// rules that ask for none, or about another sign, do not move it.
func TestVerdict_TheSoonestLookCounts(t *testing.T) {
	again := func(days int, signs ...int) exam.Reason {
		return exam.Reason{Level: knowledge.LookAgain, Again: days, Signs: signs}
	}
	quiet := exam.Reason{Level: knowledge.NoAction, Signs: []int{0}}
	for name, reasons := range map[string][]exam.Reason{
		"soonest first":  {again(7, 0), again(14, 0), quiet, again(2, 1)},
		"soonest last":   {again(14, 0), again(2, 1), quiet, again(7, 0)},
		"quiet first":    {quiet, again(2, 1), again(7, 0)},
		"the same twice": {again(7, 0), again(7, 0), again(2, 1)},
	} {
		v := exam.Verdict{Signs: []exam.Sign{{Seen: 100}, {Seen: 100}}, Reasons: reasons, VetWithin: 3}
		want := []exam.Obligation{{Kind: exam.LookThere, By: 102, Signs: []int{1}}, {Kind: exam.LookThere, By: 107, Signs: []int{0}}}
		if got := v.Due(); !reflect.DeepEqual(got, want) {
			t.Errorf("%s: %+v, want %+v", name, got, want)
		}
	}
}

func TestLatest_PassesOverOtherEntries(t *testing.T) {
	r := newRoom(t)
	d := r.noted("skin", "sore")
	r.finish(d)
	note := storetest.Entry(model.ID{70}, juniper.ID, r.now().UTC, "words")
	r.do(storetest.Put{Documents: []model.Document{note}})
	r.clock.Pass(time.Hour)
	r.view(func(v model.View) error {
		c, found, err := exam.Latest(v, juniper, v.Now())
		if !found || c.ID != d.Check {
			t.Errorf("found %v, %v", c.ID, found)
		}
		return err
	})
}

func TestRemove_OfACheckWhoseProblemIsNotThere(t *testing.T) {
	r := newRoom(t)
	d := r.noted("skin", "sore")
	r.finish(d)
	r.do(storetest.Remove{IDs: []model.ID{r.problems()[0].ID.ID}})
	if done := r.do(exam.Remove{Entry: d.Check}); !reflect.DeepEqual(done.Documents, []model.ID{d.Check.ID}) {
		t.Errorf("touched %v, want the check alone", done.Documents)
	}
}
