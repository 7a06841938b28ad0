package exam_test

import (
	"maps"
	"reflect"
	"slices"
	"testing"
	"time"

	"pgregory.net/rapid"

	"coilward/model"
	"coilward/model/body"
	"coilward/model/exam"
	"coilward/model/knowledge"
)

const day = 24 * time.Hour

// ownKink is a kink that is the animal's own, slight at every look.
func ownKink(standings ...exam.Standing) exam.StoredProblem {
	p := problem(kinkID, "spine", "kink", body.Place{}, standings...)
	p.Baseline = true
	for i := range p.Glimpses {
		p.Glimpses[i].Grade = exam.Slight
	}
	return p
}

// A problem that is worse once is told from one that is worse once more: only
// since it was last new, better or back, and a look that finds it the same, or
// that passes it over, takes nothing back. Source: common practice, no source.
func TestWalk_WorseAndWorseOnceMore(t *testing.T) {
	type all = []exam.Standing
	tb := tables(t)
	cases := []struct {
		before       all
		now          exam.Standing
		worse, again bool
	}{
		{all{exam.New}, exam.Unasked, false, false},
		{all{exam.New}, exam.Worse, true, false},
		{all{exam.New, exam.Worse}, exam.Unasked, true, false},
		{all{exam.New, exam.Worse}, exam.Same, true, false},
		{all{exam.New, exam.Worse}, exam.Worse, true, true},
		{all{exam.New, exam.Worse}, exam.Better, false, false},
		{all{exam.New, exam.Worse, exam.Same}, exam.Worse, true, true},
		{all{exam.New, exam.Worse, exam.Better}, exam.Worse, true, false},
		{all{exam.New, exam.Worse, exam.Gone, exam.CameBack}, exam.Worse, true, false},
		{all{exam.New, exam.Worse, exam.Worse}, exam.Unasked, true, true},
		{all{exam.New, exam.Worse, exam.Worse}, exam.Same, true, true},
		{all{exam.New, exam.Worse, exam.Worse}, exam.Worse, true, true},
		{all{exam.New, exam.Worse, exam.Worse}, exam.Better, false, false},
		{all{exam.New, exam.Worse, exam.Same, exam.Worse}, exam.Same, true, true},
		{all{exam.New, exam.Worse, exam.Better, exam.Worse}, exam.Same, true, false},
		{all{exam.New, exam.Worse, exam.Same, exam.Same}, exam.Same, true, false},
	}
	for _, c := range cases {
		d := begin(tb, ownKink(c.before...)).AnswerEarlier(0, c.now, morning)
		s := d.Signs()[0]
		if worse := s.Standing == exam.Worse || s.Worsened; worse != c.worse || s.WorseAgain != c.again {
			t.Errorf("%v, now %q: worse %v, once more %v", c.before, c.now, worse, s.WorseAgain)
		}
		slight := d.Earlier[0].Now
		slight.Grade = exam.Slight
		if c.now != exam.Unasked {
			d = d.ChangeEarlier(0, slight)
		}
		want := often
		switch {
		case c.again:
			want = emergency
		case c.worse:
			want = vet
		}
		if v := d.Verdict(tb, morning); v.Level != want {
			t.Errorf("%v, now %q: %q by %v, want %q", c.before, c.now, v.Level, rules(v), want)
		}
	}
}

// What a check says of an earlier finding is what the animal stands with once
// the check is kept, and what the next check begins with.
func TestWalk_OpenAndTheNextCheckSayTheSame(t *testing.T) {
	tb := tables(t)
	answers := []exam.Standing{exam.Same, exam.Better, exam.Worse, exam.Gone, exam.CameBack}
	rapid.Check(t, func(rt *rapid.T) {
		before := append([]exam.Standing{exam.New}, rapid.SliceOfN(rapid.SampledFrom(answers), 0, 6).Draw(rt, "before")...)
		if !before[len(before)-1].Present() {
			before = append(before, exam.CameBack)
		}
		now := rapid.SampledFrom(answers[:3]).Draw(rt, "now")
		p := ownKink(before...)
		d := begin(tb, p).AnswerEarlier(0, now, morning)
		kept := p
		kept.Glimpses = append(slices.Clone(p.Glimpses), d.Earlier[0].Now)
		walked, stands, next := d.Signs()[0], exam.Open([]exam.StoredProblem{kept})[0], begin(tb, kept).Signs()[0]
		worse := func(s exam.Sign) bool { return s.Standing == exam.Worse || s.Worsened }
		for name, s := range map[string]exam.Sign{"as it stands": stands, "passed over in the next check": next} {
			if s.WorseAgain != walked.WorseAgain || worse(s) != worse(walked) || s.Grade != walked.Grade || s.Sheds != walked.Sheds || s.Baseline != walked.Baseline {
				rt.Fatalf("%v, now %q: %+v, %s %+v", before, now, walked, name, s)
			}
		}
	})
}

// What is more than slight is nobody's own though it was never worse, and what
// became worse is nobody's own though it is slight; taking the mark back is
// refused to none. Source: common practice, no source.
func TestSetBaseline_GradeAndWorseRefuseEachAlone(t *testing.T) {
	same, worse, better := exam.Same, exam.Worse, exam.Better
	cases := []struct {
		name    string
		grades  []exam.Grade // of each look
		answers []exam.Standing
		own     bool
		refused string
	}{
		{"slight", []exam.Grade{exam.Slight}, nil, true, ""},
		{"marked", []exam.Grade{exam.Marked}, nil, true, "exam.own-only-slight"},
		{"severe", []exam.Grade{exam.Severe}, nil, true, "exam.own-only-slight"},
		{"marked, and the same", []exam.Grade{exam.Marked, exam.Marked}, []exam.Standing{same}, true, "exam.own-only-slight"},
		{"slight, and worse within slight", []exam.Grade{exam.Slight, exam.Slight}, []exam.Standing{worse}, true, "exam.own-only-slight"},
		{"the same since it was worse", []exam.Grade{exam.Slight, exam.Slight, exam.Slight}, []exam.Standing{worse, same}, true, "exam.own-only-slight"},
		{"better since it was worse", []exam.Grade{exam.Slight, exam.Marked, exam.Slight}, []exam.Standing{worse, better}, true, ""},
		{"better, yet marked", []exam.Grade{exam.Severe, exam.Marked}, []exam.Standing{better}, true, "exam.own-only-slight"},
		{"marked, the mark taken back", []exam.Grade{exam.Marked}, nil, false, ""},
		{"worse, the mark taken back", []exam.Grade{exam.Slight, exam.Slight}, []exam.Standing{worse}, false, ""},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			r := newRoom(t)
			d := r.noted("spine", "kink")
			f := d.Findings[0]
			f.Grade = c.grades[0]
			r.finish(d.ChangeFinding(0, f))
			for i, s := range c.answers {
				d := r.answered(s)
				now := d.Earlier[0].Now
				now.Grade = c.grades[i+1]
				r.finish(d.ChangeEarlier(0, now))
			}
			before := r.problems()
			own := exam.SetBaseline{Tables: r.tables, Problem: before[0].ID, Baseline: c.own, Word: "since hatching"}
			if c.refused == "" {
				if r.do(own); r.problems()[0].Baseline != c.own {
					t.Errorf("own %v, want %v", !c.own, c.own)
				}
				return
			}
			if r.refuses(own, c.refused); !reflect.DeepEqual(r.problems(), before) {
				t.Error("refused, and yet changed")
			}
		})
	}
}

// One look alone is steady never, whatever it is called: where the first check
// was taken out, an answer is all that is left. Source: common practice, no
// source.
func TestProblem_SteadyTakesTwoLooks(t *testing.T) {
	for _, c := range []struct {
		standings []exam.Standing
		want      bool
	}{
		{[]exam.Standing{exam.New}, false},
		{[]exam.Standing{exam.Same}, false},
		{[]exam.Standing{exam.New, exam.Same}, true},
		{[]exam.Standing{exam.Same, exam.Same}, true},
		{[]exam.Standing{exam.New, exam.Better}, false},
		{[]exam.Standing{exam.New, exam.Same, exam.Gone}, false},
		{[]exam.Standing{exam.New, exam.Worse, exam.Same}, false},
		{[]exam.Standing{exam.New, exam.Worse, exam.Better, exam.Same}, true},
		{[]exam.Standing{exam.New, exam.Gone, exam.CameBack, exam.Same}, true},
	} {
		if p := problem(kinkID, "spine", "kink", body.Place{}, c.standings...); p.Steady() != c.want {
			t.Errorf("%v: steady %v", c.standings, !c.want)
		}
	}
	r := newRoom(t)
	first := r.noted("spine", "kink")
	r.finish(first)
	r.finish(r.answered(exam.Same))
	r.do(exam.Remove{Entry: first.Check})
	own := exam.SetBaseline{Tables: r.tables, Problem: r.problems()[0].ID, Baseline: true}
	r.refuses(own, "exam.own-without-word")
	r.finish(r.answered(exam.Same))
	if r.do(own); !r.problems()[0].Baseline {
		t.Error("seen the same at two checks, and not marked")
	}
}

// How many sheds an eye cap has stayed over, by the chain of its problem or by
// what was noted of the sheds, whichever is more; of nothing else do those notes
// speak. Source: common practice, no source.
func TestDraft_CountsTheShedsOfAStuckEyeCap(t *testing.T) {
	tb := tables(t)
	chain := func(what knowledge.FindingID, standings ...exam.Standing) []exam.StoredProblem { // looks 14 days apart, the last 14 days ago
		return []exam.StoredProblem{problem(shedID, "eye-left", what, exam.Middle(tb, "eye-left"), standings...)}
	}
	ago := func(days ...int) (sheds []model.Moment) {
		for _, n := range days {
			sheds = append(sheds, later(morning, -time.Duration(n)*day))
		}
		return sheds
	}
	const eyeCap, other = knowledge.StuckEyeCap, knowledge.Other
	cases := []struct {
		name     string
		problems []exam.StoredProblem
		sheds    []model.Moment
		caps     int
		noted    knowledge.FindingID // anew, where the chain is not open
		want     int
	}{
		{"noted, and no shed told of it", nil, nil, 0, eyeCap, 1},
		{"noted, and one shed did", nil, nil, 1, eyeCap, 1},
		{"noted, and two did", nil, nil, 2, eyeCap, 2},
		{"something else noted", nil, nil, 2, other, 1},
		{"open", chain(eyeCap, exam.New), nil, 0, "", 1},
		{"open, a shed at its first look", chain(eyeCap, exam.New), ago(14), 0, "", 1},
		{"open, a shed before it and two since", chain(eyeCap, exam.New), ago(15, 13, 1), 0, "", 3},
		{"open, more by the chain", chain(eyeCap, exam.New), ago(13, 1), 2, "", 3},
		{"open, more by the sheds", chain(eyeCap, exam.New), ago(13), 3, "", 3},
		{"something else open", chain(other, exam.New), ago(13), 3, "", 2},
		{"the same, a shed between", chain(eyeCap, exam.New, exam.Same), ago(20), 0, "", 2},
		{"the same, a shed at the second look", chain(eyeCap, exam.New, exam.Same), ago(14), 0, "", 2},
		{"came back, sheds while it was gone", chain(eyeCap, exam.New, exam.Gone, exam.CameBack), ago(27, 20), 0, "", 2},
		{"came back, a shed while it was there", chain(eyeCap, exam.New, exam.Gone, exam.CameBack), ago(30, 20), 0, "", 3},
		{"gone, comes back", chain(eyeCap, exam.New, exam.Gone), ago(3), 0, eyeCap, 2},
		{"gone, comes back once more", chain(eyeCap, exam.New, exam.Gone, exam.CameBack, exam.Gone), ago(3), 1, eyeCap, 3},
		{"gone, and another thing is noted there", chain(eyeCap, exam.New, exam.Gone), ago(3), 2, other, 1},
	}
	for _, c := range cases {
		d := exam.Begin(tb, exam.Beginning{Check: checkID, Animal: juniper, At: morning, Problems: c.problems, Sheds: c.sheds, StuckCaps: c.caps})
		if c.noted != "" {
			d = goTo(d, "eye-left").Mark(tb, c.noted, morning)
		}
		if s := d.Signs(); len(s) != 1 || s[0].Sheds != c.want {
			t.Errorf("%s: %+v, want %d sheds", c.name, s, c.want)
		}
		if c.noted == "" {
			continue
		}
		if worse := goTo(d, "eye-left").Mark(tb, c.noted, morning).Signs(); len(worse) != 1 || worse[0].Sheds != c.want {
			t.Errorf("%s, raised by the same key: %+v, want %d sheds", c.name, worse, c.want)
		}
		apart := 1
		if c.noted == eyeCap {
			apart = max(apart, c.caps)
		}
		if s := d.Apart(0).Signs(); s[0].Sheds != apart {
			t.Errorf("%s, a thing of its own: %d sheds, want %d", c.name, s[0].Sheds, apart)
		}
	}
}

// A number is the place among all problems by the day on which each was first
// seen, closed ones too, and stays when others come or go.
func TestNumbers_NeverChange(t *testing.T) {
	if got := exam.Numbers(nil); len(got) != 0 {
		t.Errorf("of no problem: %v", got)
	}
	r := newRoom(t)
	number := func() map[model.ProblemID]int { return exam.Numbers(r.problems()) }
	d := goTo(r.noted("skin", "sore"), "tail").Mark(r.tables, "kink", r.now()) // two at one moment
	r.finish(d)
	before := number()
	for _, act := range []func(){
		func() { r.finish(r.noted("crown", "mites")) },
		func() { r.finish(r.answered(exam.Gone)) },
		func() { r.finish(r.noted("vent", "dirty-vent")) },
		func() { r.do(exam.Close{Problem: r.problems()[0].ID, At: r.now(), Note: "healed"}) },
	} {
		act()
		after := number()
		for id, n := range before {
			if after[id] != n {
				t.Errorf("problem %d became %d", n, after[id])
			}
		}
		before = after
	}
	want := map[knowledge.FindingID][]int{"sore": {1, 2}, "kink": {1, 2}, "mites": {3}, "dirty-vent": {4}}
	for _, p := range r.problems() {
		if !slices.Contains(want[p.What], before[p.ID]) {
			t.Errorf("%s is number %d, want one of %v", p.What, before[p.ID], want[p.What])
		}
	}
	if got := slices.Sorted(maps.Values(before)); !slices.Equal(got, []int{1, 2, 3, 4}) {
		t.Errorf("numbers %v, want each once", got)
	}
}
