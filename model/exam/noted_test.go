package exam_test

import (
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"

	"coilward/model"
	"coilward/model/body"
	"coilward/model/exam"
	"coilward/model/knowledge"
)

// What an everyday entry had set on for the vet is not put off by noting the same
// in a check.
func TestAnEntrysDayForTheVetHoldsInACheck(t *testing.T) {
	tb := tables(t)
	at := model.Moment{UTC: int64(model.NewDay(2027, 6, 9)) * 86_400}
	set := at.Day() - 2
	d := exam.Begin(tb, exam.Beginning{Check: model.EntryID{ID: model.ID{1}}, Animal: model.AnimalID{ID: model.ID{2}}, At: at,
		Noted: map[knowledge.FindingID]model.Day{knowledge.Regurgitated: set, "mites": set + 1}})
	where := slices.IndexFunc(d.Stops, func(a exam.Answered) bool {
		stop, _ := tb.Stop(a.Stop)
		return slices.Contains(stop.Choices, knowledge.Regurgitated)
	})
	d = d.Go(where).Mark(tb, knowledge.Regurgitated, at)
	if got := d.Findings[0].VetBy; got != set {
		t.Errorf("set on for %v, want %v", got, set)
	}
	if by, wanted := d.Verdict(tb, at).VetBy(); !wanted || by > set {
		t.Errorf("the vet by %v, %v; want no later than %v", by, wanted, set)
	}
	if other := d.Go(where).Mark(tb, knowledge.Other, at); len(other.Findings) != 2 || other.Findings[1].VetBy != 0 {
		t.Errorf("another finding took the day, or was not noted: %+v", other.Findings)
	}
}

// A check of version 1, as it lies in collections of old, is read whole. It knew
// no day that was set on for the vet, and no place that nobody pointed to in its
// verdict.
func TestACheckOfVersion1IsRead(t *testing.T) {
	body := `{"begun":{"utc":1000000,"precision":"minute"},"stops":[{"stop":"skin","look":"seen","at":{"utc":1000060,"precision":"minute"}}],
"findings":[{"standing":"new","stop":"skin","what":"mites","place":{},"grade":"slight","at":{"utc":1000060,"precision":"minute"}}],
"finished":{"utc":1000600,"precision":"minute"},
"verdict":{"level":"vet-within-days","reasons":[{"rule":"mites","level":"vet-within-days","signs":[0],"source":"common practice, no source"}],
"signs":[{"stop":"skin","what":"mites","grade":"slight","standing":"new","place":{},"seen":"1970-01-12"}],"day":"1970-01-12","vetWithin":5,"tables":"old"}}`
	c, err := exam.ReadCheck(model.Document{Type: model.TypeEntry, Kind: exam.KindCheck, Version: 1, Body: []byte(body)})
	if err != nil {
		t.Fatal(err)
	}
	by, wanted := c.Verdict.VetBy()
	if len(c.Findings) != 1 || c.Findings[0].What != "mites" || c.Findings[0].VetBy != 0 || !wanted || by != 16 {
		t.Errorf("read %+v; the vet by %v, %v", c, by, wanted)
	}
}

// A kept check that is put right judges what is noted in it as it would have been
// judged on its own day.
func TestAgainJudgesAsTheCheckItselfDid(t *testing.T) {
	tb := tables(t)
	at := model.Moment{UTC: int64(model.NewDay(2027, 6, 9)) * 86_400}
	gone := exam.StoredProblem{ID: model.ProblemID{ID: model.ID{9}}, Problem: exam.Problem{Stop: "eye-left", What: knowledge.StuckEyeCap, Glimpses: []exam.Glimpse{
		{At: model.Moment{UTC: at.UTC - 200*86_400}, Place: exam.Middle(tb, "eye-left"), Standing: exam.New, Grade: exam.Slight, Check: model.EntryID{ID: model.ID{7}}},
		{At: model.Moment{UTC: at.UTC - 100*86_400}, Place: exam.Middle(tb, "eye-left"), Standing: exam.Gone, Grade: exam.Slight, Check: model.EntryID{ID: model.ID{8}}},
	}}}
	b := exam.Beginning{Check: model.EntryID{ID: model.ID{1}}, Animal: model.AnimalID{ID: model.ID{2}}, At: at, StuckCaps: 2, Problems: []exam.StoredProblem{gone},
		Noted: map[knowledge.FindingID]model.Day{knowledge.StuckEyeCap: at.Day() - 1}}
	first := goTo(exam.Begin(tb, b), "eye-left").Mark(tb, knowledge.StuckEyeCap, at)
	again := goTo(exam.Again(tb, b, exam.Begin(tb, b).Finish(tb, at)), "eye-left").Mark(tb, knowledge.StuckEyeCap, at)
	if diff := cmp.Diff(first.Verdict(tb, at), again.Verdict(tb, at)); diff != "" {
		t.Errorf("on its day (-), put right (+):\n%s", diff)
	}
	if f := again.Findings[0]; f.Standing != exam.CameBack || f.Problem != gone.ID || f.Sheds < 2 {
		t.Errorf("put right: %+v", f)
	}
	kept := first.Finish(tb, at)
	if d := exam.Again(tb, b, kept); len(d.Past) != 0 || !d.AtEnd() {
		t.Errorf("a problem that the check itself found again is offered once more: %+v", d.Past)
	}
}

// Before a check its own looks, and later ones, are not known.
func TestBefore(t *testing.T) {
	check, other, at := model.EntryID{ID: model.ID{1}}, model.EntryID{ID: model.ID{2}}, model.Moment{UTC: 1000}
	glimpse := func(of model.EntryID, utc int64, s exam.Standing) exam.Glimpse {
		return exam.Glimpse{At: model.Moment{UTC: utc}, Check: of, Standing: s}
	}
	old := exam.StoredProblem{ID: model.ProblemID{ID: model.ID{3}}, Problem: exam.Problem{Glimpses: []exam.Glimpse{glimpse(other, 10, exam.New), glimpse(check, 1010, exam.Gone), glimpse(other, 2000, exam.CameBack)}}}
	its := exam.StoredProblem{ID: model.ProblemID{ID: model.ID{4}}, Problem: exam.Problem{Glimpses: []exam.Glimpse{glimpse(check, 1010, exam.New)}}}
	later := exam.StoredProblem{ID: model.ProblemID{ID: model.ID{5}}, Problem: exam.Problem{Glimpses: []exam.Glimpse{glimpse(other, 2000, exam.New)}}}
	before := exam.Before([]exam.StoredProblem{old, its, later}, check, at)
	if len(before) != 1 || before[0].ID != old.ID || len(before[0].Glimpses) != 1 || !before[0].Open() {
		t.Errorf("before: %+v", before)
	}
	if len(old.Glimpses) != 3 {
		t.Error("the problem itself was changed")
	}
}

// A check that leaves stops without an answer, or that was too brief, puts no
// other off.
func TestWhole(t *testing.T) {
	tb := tables(t)
	at := model.Moment{UTC: int64(model.NewDay(2027, 6, 9)) * 86_400}
	begin := exam.Begin(tb, exam.Beginning{Check: model.EntryID{ID: model.ID{1}}, Animal: model.AnimalID{ID: model.ID{2}}, At: at})
	all, some := begin, begin
	for range begin.Stops {
		var err error
		if all, err = all.Answer(exam.NotLooked, at); err != nil {
			t.Fatal(err)
		}
	}
	some, err := some.Answer(exam.Seen, at)
	if err != nil {
		t.Fatal(err)
	}
	long := model.Moment{UTC: at.UTC + 600}
	for _, c := range []struct {
		name  string
		walk  exam.Walk
		ended model.Moment
		whole bool
	}{
		{"every stop has an answer", all.Walk, long, true},
		{"one stop has an answer", some.Walk, long, false},
		{"all in a second", all.Walk, model.Moment{UTC: at.UTC + 1}, false},
	} {
		if got := (exam.Check{Walk: c.walk, Finished: c.ended}).Whole(tb); got != c.whole {
			t.Errorf("%s: %v, want %v", c.name, got, c.whole)
		}
	}
}

// A stop whose earlier finding was judged is not called "without an answer".
func TestAStopWhoseFindingWasJudgedWasLookedAt(t *testing.T) {
	tb := tables(t)
	d := begin(tb, problem(kinkID, "spine", "kink", body.Place{}, exam.New))
	if got := d.Finish(tb, morning).At("spine").Look; got != exam.NotYet {
		t.Fatalf("not asked about: %q", got)
	}
	for _, standing := range []exam.Standing{exam.Same, exam.Worse, exam.Gone} {
		judged := d.AnswerEarlier(0, standing, morning)
		if a := judged.Finish(tb, morning).At("spine"); !a.Look.Looked() || a.At != morning {
			t.Errorf("%s: %+v", standing, a)
		}
		if judged.At("spine").Look != exam.NotYet {
			t.Errorf("%s: the draft itself was changed", standing)
		}
	}
}
