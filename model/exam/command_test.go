package exam_test

import (
	"errors"
	"reflect"
	"strings"
	"testing"
	"time"

	"coilward/model"
	"coilward/model/body"
	"coilward/model/collection"
	"coilward/model/exam"
	"coilward/model/knowledge"
	"coilward/model/storetest"
)

// room is a collection with one animal's checks in it.
type room struct {
	*testing.T
	tables *knowledge.Tables
	c      *collection.Collection
	clock  *storetest.Clock
}

func newRoom(t *testing.T) room {
	c, clock := storetest.New(t)
	return room{t, tables(t), c, clock}
}

func (r room) now() (m model.Moment) {
	r.view(func(v model.View) error { m = v.Now(); return nil })
	return m
}

func (r room) view(f func(model.View) error) {
	r.Helper()
	if err := r.c.View(f); err != nil {
		r.Fatal(err)
	}
}

func (r room) problems() (all []exam.StoredProblem) {
	r.Helper()
	r.view(func(v model.View) (err error) { all, err = exam.Problems(v, juniper); return err })
	return all
}

// begin is a draft begun now, with all that is known of the animal.
func (r room) begin() (d exam.Draft) {
	r.Helper()
	problems := r.problems()
	r.view(func(v model.View) error {
		d = exam.Begin(r.tables, exam.Beginning{Check: model.EntryID{ID: v.NewID()}, Animal: juniper, At: v.Now(), Problems: problems})
		return nil
	})
	return d
}

// finish keeps a draft two minutes after now, and passes ten days.
func (r room) finish(d exam.Draft) {
	r.Helper()
	r.clock.Pass(2 * time.Minute)
	r.do(exam.Finish{Tables: r.tables, Draft: d})
	r.clock.Pass(10 * 24 * time.Hour)
}

func (r room) do(c model.Command) collection.Change {
	r.Helper()
	change, err := r.c.Do(c)
	if err != nil {
		r.Fatal(err)
	}
	return change
}

func (r room) refuses(c model.Command, reason string) {
	r.Helper()
	_, err := r.c.Do(c)
	refused(r.T, err, reason)
}

func (r room) check(id model.EntryID) (model.Document, exam.Check) {
	r.Helper()
	var d model.Document
	var c exam.Check
	r.view(func(v model.View) (err error) {
		if d, err = v.Document(id.ID); err == nil {
			c, err = exam.ReadCheck(d)
		}
		return err
	})
	return d, c
}

// noted is a finished draft with that finding at that stop.
func (r room) noted(stop knowledge.StopID, what knowledge.FindingID) exam.Draft {
	d := goTo(r.begin(), stop).Mark(r.tables, what, r.now())
	d, err := d.Answer(exam.Seen, r.now())
	if err != nil {
		r.Fatal(err)
	}
	return d
}

// answered is a finished draft with that answer to the first open problem.
func (r room) answered(standing exam.Standing) exam.Draft {
	d := r.begin()
	d, err := goTo(d, d.Earlier[0].Stop).AnswerEarlier(0, standing, r.now()).Answer(exam.Seen, r.now())
	if err != nil {
		r.Fatal(err)
	}
	return d
}

func standings(p exam.StoredProblem) (all []exam.Standing) {
	for _, g := range p.Glimpses {
		all = append(all, g.Standing)
	}
	return all
}

func TestFinish_KeepsTheCheckAndItsProblem(t *testing.T) {
	r := newRoom(t)
	d := r.noted("skin", "sore")
	keeper := model.PersonID{ID: model.ID{7}}
	r.clock.Pass(2 * time.Minute)
	end := r.now()
	change := r.do(exam.Finish{Tables: r.tables, Draft: d, By: keeper})
	if change.Label.Key != "exam.done.finish" || change.Label.Gaps["Stops"].Number != 1 || change.Label.Gaps["Findings"].Number != 1 {
		t.Errorf("label %+v", change.Label)
	}
	doc, c := r.check(d.Check)
	if doc.Type != model.TypeEntry || doc.Kind != exam.KindCheck || doc.At != d.Begun || doc.By != keeper || doc.Version != exam.CheckVersion {
		t.Errorf("document %+v", doc)
	}
	if a, ok := doc.Animal(); !ok || a != juniper {
		t.Errorf("about %v", doc.Subjects)
	}
	if c.Finished != end || c.Verdict.Level != vet || c.Verdict.Tables != r.tables.Hash() || c.Begun != d.Begun {
		t.Errorf("check %+v", c)
	}
	problems := r.problems()
	if len(problems) != 1 {
		t.Fatalf("%d problems", len(problems))
	}
	p := problems[0]
	if c.Findings[0].Problem != p.ID || c.Verdict.Signs[0].Problem != p.ID {
		t.Error("the check does not name the problem that its finding has become")
	}
	want := exam.Glimpse{Check: d.Check, At: d.Findings[0].At, Standing: exam.New, Grade: exam.Slight, Place: d.Findings[0].Place, Rough: true}
	if p.Stop != "skin" || p.What != "sore" || !p.Open() || !reflect.DeepEqual(p.Glimpses, []exam.Glimpse{want}) {
		t.Errorf("problem %+v, want the look %+v", p, want)
	}
}

// What is judged or noted without a moment is of the check: an earlier finding that is gone is
// closed by it, and one that comes anew is of its day.
func TestFinish_WhatHasNoMomentIsOfTheCheck(t *testing.T) {
	r := newRoom(t)
	r.finish(r.noted("skin", "sore"))
	d := r.answered(exam.Gone)
	d.Earlier[0].Now.At = model.Moment{}
	d.Findings = append(d.Findings, exam.Finding{Stop: "belly", What: "sore", Standing: exam.New, Grade: exam.Slight})
	r.finish(d)
	problems := r.problems()
	if len(problems) != 2 {
		t.Fatalf("%d problems", len(problems))
	}
	for _, p := range problems {
		if last := p.Last(); last.At != d.Begun || p.Open() != (p.Stop == "belly") {
			t.Errorf("%s stands as %+v", p.Stop, p.Glimpses)
		}
	}
	_, c := r.check(d.Check)
	if len(c.Verdict.Signs) != 1 || c.Verdict.Signs[0].Seen != d.Begun.Day() {
		t.Errorf("judged of %+v", c.Verdict.Signs)
	}
	// so it is where a kept check is put right
	again := c.Walk
	again.Earlier[0].Now.At, again.Findings = model.Moment{}, nil
	r.do(exam.Change{Tables: r.tables, Entry: d.Check, Based: 1, Walk: again, At: c.Finished})
	if problems = r.problems(); len(problems) != 1 || problems[0].Open() {
		t.Errorf("put right: %+v", problems)
	}
}

func TestFinish_ChainsAProblemOverChecks(t *testing.T) {
	r := newRoom(t)
	r.finish(r.noted("skin", "sore"))
	for _, s := range []exam.Standing{exam.Same, exam.Better, exam.Worse, exam.Gone} {
		r.finish(r.answered(s))
	}
	if r.problems()[0].Open() {
		t.Error("open though gone")
	}
	if d := r.begin(); len(d.Earlier) != 0 {
		t.Error("what is gone is asked about")
	}
	r.finish(r.noted("skin", "sore"))
	problems := r.problems()
	if len(problems) != 1 || !problems[0].Open() {
		t.Fatalf("%d problems: what came back at its place is the same one", len(problems))
	}
	want := []exam.Standing{exam.New, exam.Same, exam.Better, exam.Worse, exam.Gone, exam.CameBack}
	if got := standings(problems[0]); !reflect.DeepEqual(got, want) {
		t.Errorf("got %v, want %v", got, want)
	}
	grades := []exam.Grade{exam.Slight, exam.Slight, exam.Slight, exam.Marked, exam.Marked, exam.Slight}
	for i, g := range problems[0].Glimpses {
		if g.Grade != grades[i] {
			t.Errorf("look %d: %s, want %s", i, g.Grade, grades[i])
		}
	}
	bars := exam.Bars(problems, r.now().Day())
	if len(bars) != 1 || len(bars[0].Spans) != 5 || !bars[0].Open || bars[0].What != "sore" || bars[0].Problem != problems[0].ID {
		t.Fatalf("bars %+v", bars)
	}
	if s := bars[0].Spans; s[0].To != s[1].From || s[3].To == s[4].From || s[4].To != r.now().Day() || s[3].Grade != exam.Marked {
		t.Errorf("spans %+v: want each to end where the next look was, a gap while it was gone, and the last to stand", s)
	}
}

func TestFinish_WhatIsPassedOverStaysAsItWas(t *testing.T) {
	r := newRoom(t)
	r.finish(r.noted("vent", "prolapse"))
	before := r.problems()[0]
	d, err := r.begin().Answer(exam.Seen, r.now())
	if err != nil {
		t.Fatal(err)
	}
	r.finish(d)
	if after := r.problems()[0]; !reflect.DeepEqual(after, before) {
		t.Errorf("changed to %+v", after)
	}
	if _, c := r.check(d.Check); c.Verdict.Level != emergency || c.Changes()[0].Standing != exam.Unasked {
		t.Errorf("an emergency that was passed over: %q", c.Verdict.Level)
	}
	v := exam.Stand(r.tables, r.problems(), exam.Context{}, r.now())
	if v.Level != emergency || v.Signs[0].Seen != before.First().At.Day() {
		t.Errorf("as the animal stands: %q since %s", v.Level, v.Signs[0].Seen)
	}
}

func TestFinish_Refuses(t *testing.T) {
	r := newRoom(t)
	good := r.noted("skin", "sore")
	finding := func(change func(*exam.Finding)) exam.Draft {
		f := good.Findings[0]
		change(&f)
		return good.ChangeFinding(0, f)
	}
	tests := []struct {
		reason string
		finish exam.Finish
	}{
		{"exam.nothing-answered", exam.Finish{Draft: r.begin()}},
		{"exam.time-backwards", exam.Finish{Draft: good, At: later(good.Begun, -time.Second)}},
		{"exam.future", exam.Finish{Draft: good, At: later(good.Begun, time.Second)}},
		{"exam.unknown-finding", exam.Finish{Draft: finding(func(f *exam.Finding) { f.What = "gaping" })}},
		{"exam.unknown-finding", exam.Finish{Draft: finding(func(f *exam.Finding) { f.Stop = "dewlap" })}},
		{"exam.no-grade", exam.Finish{Draft: finding(func(f *exam.Finding) { f.Grade = exam.Ungraded })}},
		{"exam.no-grade", exam.Finish{Draft: finding(func(f *exam.Finding) { f.Grade = exam.Severe + 1 })}},
		{"exam.never-baseline", exam.Finish{Draft: finding(func(f *exam.Finding) { f.Baseline = true })}},
		{"exam.negative-size", exam.Finish{Draft: finding(func(f *exam.Finding) { f.Size = model.Length{Tenths: -1, Typed: "-0.1"} })}},
		{"text.control", exam.Finish{Draft: finding(func(f *exam.Finding) { f.Note = "bell \a" })}},
		{"text.control", exam.Finish{Draft: finding(func(f *exam.Finding) { f.Note = "not text \xff" })}},
		{"text.long", exam.Finish{Draft: finding(func(f *exam.Finding) { f.Note = strings.Repeat("ä", 10_001) })}},
		{"text.control", exam.Finish{Draft: remarked(good, "\x00")}},
		{"text.control", exam.Finish{Draft: withEarlier(good, exam.Earlier{Now: exam.Glimpse{Standing: exam.Same, Note: "\x00"}})}},
	}
	for _, c := range tests {
		t.Run(c.reason, func(t *testing.T) {
			c.finish.Tables = r.tables
			_, err := r.c.Do(c.finish)
			refused(t, err, c.reason)
		})
	}
	if len(r.problems()) != 0 {
		t.Error("a refused check left a problem")
	}
	good = finding(func(f *exam.Finding) { f.Note = strings.Repeat("ä", 9_998) + "\n\t" })
	r.do(exam.Finish{Tables: r.tables, Draft: good, At: good.Begun})
	r.refuses(exam.Finish{Tables: r.tables, Draft: good}, "exam.kept-already")
}

func remarked(d exam.Draft, note string) exam.Draft {
	d.Note = note
	return d
}

func withEarlier(d exam.Draft, e exam.Earlier) exam.Draft {
	d.Earlier = []exam.Earlier{e}
	return d
}

func TestFinish_UndoneAndRedone(t *testing.T) {
	r := newRoom(t)
	r.finish(r.noted("skin", "sore"))
	r.finish(r.answered(exam.Worse))
	worse := r.problems()
	if _, err := r.c.Undo(); err != nil {
		t.Fatal(err)
	}
	if got := standings(r.problems()[0]); !reflect.DeepEqual(got, []exam.Standing{exam.New}) {
		t.Errorf("after undo: %v", got)
	}
	if _, err := r.c.Redo(); err != nil {
		t.Fatal(err)
	}
	if got := r.problems(); !reflect.DeepEqual(got, worse) {
		t.Errorf("after redo: %+v", got)
	}
	for range 2 {
		if _, err := r.c.Undo(); err != nil {
			t.Fatal(err)
		}
	}
	if got := r.problems(); len(got) != 0 {
		t.Errorf("with both undone: %+v", got)
	}
}

func TestFinish_AnUndoneCheckCanBeFinishedAgain(t *testing.T) {
	r := newRoom(t)
	d := r.noted("skin", "sore")
	r.do(exam.Finish{Tables: r.tables, Draft: d})
	if _, err := r.c.Undo(); err != nil {
		t.Fatal(err)
	}
	r.do(exam.Finish{Tables: r.tables, Draft: d})
	if got := r.problems(); len(got) != 1 || len(got[0].Glimpses) != 1 {
		t.Errorf("%+v", got)
	}
}

func TestChange_KeepsProblemsInStep(t *testing.T) {
	r := newRoom(t)
	d := r.noted("skin", "sore")
	r.finish(d)
	r.finish(r.answered(exam.Same))
	doc, c := r.check(d.Check)
	w := c.Walk
	w.Findings = append([]exam.Finding{}, w.Findings...)
	w.Findings[0].Grade, w.Findings[0].Note = exam.Severe, "weeping"
	w.Findings = append(w.Findings, exam.Finding{Stop: "tail", What: "kink", Standing: exam.New, Grade: exam.Slight, Baseline: true, Note: "since hatching", Place: exam.Middle(r.tables, "tail"), At: d.Begun})
	change := exam.Change{Tables: r.tables, Entry: d.Check, Based: doc.Revision, Walk: w, At: c.Finished}
	if done := r.do(change); done.Label.Key != "exam.done.change" {
		t.Errorf("label %q", done.Label.Key)
	}
	problems := r.problems()
	if len(problems) != 2 {
		t.Fatalf("%d problems", len(problems))
	}
	for _, p := range problems {
		switch p.What {
		case "sore":
			if p.Glimpses[0].Grade != exam.Severe || p.Glimpses[0].Note != "weeping" || len(p.Glimpses) != 2 || p.Baseline {
				t.Errorf("sore %+v", p)
			}
		case "kink":
			if !p.Baseline || len(p.Glimpses) != 1 || p.Glimpses[0].Check != d.Check {
				t.Errorf("kink %+v", p)
			}
		}
	}
	if now, after := r.check(d.Check); len(after.Verdict.Signs) != 2 || after.Finished != c.Finished || now.At != doc.At {
		t.Errorf("judged on %d signs", len(after.Verdict.Signs))
	}
	if _, err := r.c.Do(change); !errors.Is(err, model.ErrConflict) {
		t.Errorf("from an older revision: %v, want a conflict", err)
	}
	w.Findings = nil
	now, _ := r.check(d.Check)
	r.do(exam.Change{Tables: r.tables, Entry: d.Check, Based: now.Revision, Walk: w, At: c.Finished})
	problems = r.problems()
	if len(problems) != 1 || !reflect.DeepEqual(standings(problems[0]), []exam.Standing{exam.Same}) {
		t.Errorf("without its findings: %+v, want only the later look at the sore", problems)
	}
	r.refuses(exam.Change{Tables: r.tables, Entry: d.Check, Walk: exam.Walk{}, At: c.Finished}, "exam.nothing-answered")
	r.refuses(exam.Change{Tables: r.tables, Entry: model.EntryID{ID: model.ID{99}}, Walk: w, At: c.Finished}, "exam.no-such-check")
}

func TestChange_TheMarkOfItsOwnIsTakenBackToo(t *testing.T) {
	r := newRoom(t)
	d := r.noted("spine", "kink")
	f := d.Findings[0]
	f.Baseline, f.Note = true, "since hatching"
	d = d.ChangeFinding(0, f)
	r.finish(d)
	doc, c := r.check(d.Check)
	w := c.Walk
	w.Findings = append([]exam.Finding{}, w.Findings...)
	w.Findings[0].Baseline = false
	r.do(exam.Change{Tables: r.tables, Entry: d.Check, Based: doc.Revision, Walk: w, At: c.Finished})
	if r.problems()[0].Baseline {
		t.Error("still marked as the animal's own")
	}
}

func TestRemove_TakesItsLooksAlong(t *testing.T) {
	r := newRoom(t)
	first := r.noted("skin", "sore")
	r.finish(first)
	second := r.answered(exam.Worse)
	r.finish(second)
	before := r.problems()
	if done := r.do(exam.Remove{Entry: second.Check}); done.Label.Key != "exam.done.remove" {
		t.Errorf("label %q", done.Label.Key)
	}
	if got := standings(r.problems()[0]); !reflect.DeepEqual(got, []exam.Standing{exam.New}) {
		t.Errorf("without the second check: %v", got)
	}
	r.do(exam.Remove{Entry: first.Check})
	if got := r.problems(); len(got) != 0 {
		t.Errorf("without any check: %+v", got)
	}
	r.refuses(exam.Remove{Entry: first.Check}, "exam.no-such-check")
	for range 2 {
		if _, err := r.c.Undo(); err != nil {
			t.Fatal(err)
		}
	}
	if got := r.problems(); !reflect.DeepEqual(got, before) {
		t.Errorf("after undoing both: %+v, want %+v", got, before)
	}
	r.refuses(exam.Remove{Entry: model.EntryID{ID: before[0].ID.ID}}, "exam.no-such-check")
}

func TestFinish_AnAnswerOutlivesTheCheckThatItAnswers(t *testing.T) {
	r := newRoom(t)
	first := r.noted("skin", "sore")
	r.finish(first)
	second := r.answered(exam.Same)
	r.do(exam.Remove{Entry: first.Check})
	r.finish(second)
	got := r.problems()
	if len(got) != 1 || got[0].What != "sore" || got[0].Stop != "skin" || !reflect.DeepEqual(standings(got[0]), []exam.Standing{exam.Same}) {
		t.Errorf("got %+v", got)
	}
}

func TestSetBaseline(t *testing.T) {
	r := newRoom(t)
	r.finish(r.noted("spine", "kink"))
	r.finish(r.noted("skin", "sore"))
	var kink, sore exam.StoredProblem
	for _, p := range r.problems() {
		if p.What == "kink" {
			kink = p
		} else {
			sore = p
		}
	}
	r.refuses(exam.SetBaseline{Tables: r.tables, Problem: kink.ID, Baseline: true, Word: " "}, "exam.own-without-word")
	done := r.do(exam.SetBaseline{Tables: r.tables, Problem: kink.ID, Baseline: true, Word: "since hatching"})
	if r.problems()[0].Word != "since hatching" {
		t.Error("the word is not kept")
	}
	if done.Label.Key != "exam.done.baseline" || done.Label.Gaps["Finding"].Text != "finding.kink" {
		t.Errorf("label %+v", done.Label)
	}
	if d := r.begin(); !d.Earlier[0].Baseline || d.Earlier[1].Baseline {
		t.Errorf("asked about %+v", d.Earlier)
	}
	r.refuses(exam.SetBaseline{Tables: r.tables, Problem: sore.ID, Baseline: true}, "exam.never-baseline")
	r.do(exam.SetBaseline{Tables: r.tables, Problem: sore.ID, Baseline: false})
	r.do(exam.SetBaseline{Tables: r.tables, Problem: kink.ID, Baseline: false})
	if r.begin().Earlier[0].Baseline {
		t.Error("still marked as the animal's own")
	}
	r.refuses(exam.SetBaseline{Tables: r.tables, Problem: model.ProblemID{ID: model.ID{99}}}, "exam.no-such-problem")
}

// What a later check has seen the same becomes the animal's own without a word;
// what is more than slight or has become worse never does.
func TestSetBaseline_OnlyWhatIsSlightAndSteady(t *testing.T) {
	for _, c := range []struct {
		answers []exam.Standing
		word    string
		refused string
	}{
		{nil, "", "exam.own-without-word"},
		{nil, "the vet has seen it", ""},
		{[]exam.Standing{exam.Same}, "", ""},
		{[]exam.Standing{exam.Same, exam.Better}, "", "exam.own-without-word"},
		{[]exam.Standing{exam.Worse}, "since hatching", "exam.own-only-slight"},
		{[]exam.Standing{exam.Worse, exam.Same}, "since hatching", "exam.own-only-slight"},
	} {
		r := newRoom(t)
		r.finish(r.noted("spine", "kink"))
		for _, s := range c.answers {
			r.finish(r.answered(s))
		}
		own := exam.SetBaseline{Tables: r.tables, Problem: r.problems()[0].ID, Baseline: true, Word: c.word}
		if c.refused != "" {
			r.refuses(own, c.refused)
		} else if r.do(own); !r.problems()[0].Baseline {
			t.Errorf("%v, %q: not marked", c.answers, c.word)
		}
	}
}

// A finding ticked as the animal's own is kept so only when it is slight and
// something is written of it; until then it counts like any other.
func TestFinish_ItsOwnWantsAWord(t *testing.T) {
	r := newRoom(t)
	d := r.noted("spine", "kink")
	mark := func(grade exam.Grade, note string) exam.Draft {
		f := d.Findings[0]
		f.Baseline, f.Grade, f.Note = true, grade, note
		return d.ChangeFinding(0, f)
	}
	if v := mark(exam.Slight, "").Verdict(r.tables, r.now()); v.Level != vet {
		t.Errorf("without a word: %q", v.Level)
	}
	if v := mark(exam.Slight, "since hatching").Verdict(r.tables, r.now()); v.Level != often {
		t.Errorf("with one: %q", v.Level)
	}
	r.refuses(exam.Finish{Tables: r.tables, Draft: mark(exam.Slight, "")}, "exam.own-without-word")
	r.refuses(exam.Finish{Tables: r.tables, Draft: mark(exam.Marked, "since hatching")}, "exam.own-only-slight")
	marked := mark(exam.Slight, "since hatching").Go(d.Index)
	if worse := goTo(marked, "spine").Mark(r.tables, "kink", r.now()); worse.Findings[0].Baseline {
		t.Error("raised by the same key, and yet its own")
	}
}

// A vet may close what was gone before; a second closing is refused.
func TestClose_WhatIsGoneToo(t *testing.T) {
	r := newRoom(t)
	r.finish(r.noted("skin", "wound"))
	r.finish(r.answered(exam.Gone))
	said := exam.Close{Problem: r.problems()[0].ID, At: r.now(), Note: "healed"}
	r.do(said)
	if r.problems()[0].Last().Standing != exam.Closed {
		t.Errorf("%+v", r.problems()[0])
	}
	r.refuses(said, "exam.not-open")
}

func TestClose_ByTheWordOfAVet(t *testing.T) {
	r := newRoom(t)
	d := r.noted("skin", "sore")
	r.finish(d)
	p := r.problems()[0]
	said := exam.Close{Problem: p.ID, At: r.now(), Note: "healed under the crust"}
	for reason, change := range map[string]func(exam.Close) exam.Close{
		"exam.future":           func(c exam.Close) exam.Close { c.At = later(c.At, time.Second); return c },
		"exam.before-last-look": func(c exam.Close) exam.Close { c.At = later(p.Last().At, -time.Second); return c },
		"text.control":          func(c exam.Close) exam.Close { c.Note = "\x00"; return c },
		"exam.no-word":          func(c exam.Close) exam.Close { c.Note = " \t"; return c },
		"exam.no-such-problem":  func(c exam.Close) exam.Close { c.Problem = model.ProblemID{ID: d.Check.ID}; return c },
	} {
		r.refuses(change(said), reason)
	}
	if done := r.do(said); done.Label.Key != "exam.done.close" {
		t.Errorf("label %q", done.Label.Key)
	}
	closed := r.problems()[0]
	want := exam.Glimpse{At: said.At, Standing: exam.Closed, Grade: exam.Slight, Place: p.Last().Place, Note: said.Note}
	if closed.Open() || !reflect.DeepEqual(closed.Last(), want) {
		t.Errorf("got %+v, want %+v", closed.Last(), want)
	}
	r.refuses(said, "exam.not-open")
	if v := exam.Stand(r.tables, r.problems(), exam.Context{}, r.now()); v.Level != knowledge.Nothing {
		t.Errorf("a closed problem stands at %q", v.Level)
	}
	r.do(exam.Remove{Entry: d.Check})
	if got := r.problems(); len(got) != 1 || len(got[0].Glimpses) != 1 {
		t.Errorf("removing the check took the vet's word along: %+v", got)
	}
}

func TestLatest(t *testing.T) {
	r := newRoom(t)
	latest := func(before model.Moment) (c exam.StoredCheck, found bool) {
		r.view(func(v model.View) (err error) { c, found, err = exam.Latest(v, juniper, before); return err })
		return c, found
	}
	if _, found := latest(r.now()); found {
		t.Error("found a check in an empty collection")
	}
	first, _ := r.noted("skin", "sore"), 0
	r.finish(first)
	second := r.answered(exam.Same)
	r.finish(second)
	if c, found := latest(r.now()); !found || c.ID != second.Check || c.Begun != second.Begun {
		t.Errorf("got %v, %v", c.ID, found)
	}
	if c, found := latest(second.Begun); !found || c.ID != first.Check {
		t.Errorf("before the second: %v, %v", c.ID, found)
	}
}

func TestProblems_AreOldestFirstAndOnlyThisAnimals(t *testing.T) {
	r := newRoom(t)
	r.finish(r.noted("tail", "scar"))
	r.finish(r.noted("skin", "sore"))
	other := r.noted("vent", "prolapse")
	other.Animal, other.Earlier = model.AnimalID{ID: model.ID{8}}, nil
	r.finish(other)
	got := r.problems()
	if len(got) != 2 || got[0].What != "scar" || got[1].What != "sore" {
		t.Errorf("got %+v", got)
	}
}

func TestRead_RefusesNewerFormsAndEmptyChains(t *testing.T) {
	var newer model.Document
	if err := newer.Encode(exam.CheckVersion+1, map[string]any{}); err != nil {
		t.Fatal(err)
	}
	if _, err := exam.ReadCheck(newer); !errors.Is(err, model.ErrNewer) {
		t.Errorf("a newer check: %v", err)
	}
	if _, err := exam.ReadProblem(newer); !errors.Is(err, model.ErrNewer) {
		t.Errorf("a newer problem: %v", err)
	}
	var empty model.Document
	if err := empty.Encode(exam.ProblemVersion, exam.Problem{Stop: "skin"}); err != nil {
		t.Fatal(err)
	}
	if _, err := exam.ReadProblem(empty); err == nil {
		t.Error("a problem without a look was read")
	}
}

func TestCommands_HaveFrozenNames(t *testing.T) {
	var got []string
	for _, c := range exam.Commands() {
		got = append(got, c.Name())
	}
	want := []string{"exam.finish", "exam.change", "exam.remove", "exam.baseline", "exam.close"}
	if !reflect.DeepEqual(got, want) {
		t.Errorf("got %v, want %v", got, want)
	}
}

func TestMiddle_IsInTheStop(t *testing.T) {
	tb := tables(t)
	for _, s := range tb.Stops() {
		place := exam.Middle(tb, s.ID)
		if len(s.Regions) == 0 {
			if place != (body.Place{}) {
				t.Errorf("%s: %+v", s.ID, place)
			}
			continue
		}
		if place.Region != s.Regions[0] {
			t.Errorf("%s: in %s, want %s", s.ID, place.Region, s.Regions[0])
		}
	}
}
