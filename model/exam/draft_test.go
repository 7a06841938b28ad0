package exam_test

import (
	"encoding/json"
	"errors"
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"coilward/model"
	"coilward/model/body"
	"coilward/model/exam"
	"coilward/model/knowledge"
)

var (
	juniper = model.AnimalID{ID: model.ID{1}}
	checkID = model.EntryID{ID: model.ID{2}}
	kinkID  = model.ProblemID{ID: model.ID{3}}
	shedID  = model.ProblemID{ID: model.ID{4}}
	scabID  = model.ProblemID{ID: model.ID{5}}
)

func begin(t *knowledge.Tables, problems ...exam.StoredProblem) exam.Draft {
	return exam.Begin(t, exam.Beginning{Check: checkID, Animal: juniper, At: morning, Problems: problems})
}

func problem(id model.ProblemID, stop knowledge.StopID, what knowledge.FindingID, place body.Place, standings ...exam.Standing) exam.StoredProblem {
	p := exam.StoredProblem{ID: id, Problem: exam.Problem{Stop: stop, What: what}}
	for i, s := range standings {
		at := later(morning, -time.Duration(len(standings)-i)*14*24*time.Hour)
		p.Glimpses = append(p.Glimpses, exam.Glimpse{Check: model.EntryID{ID: model.ID{9, byte(i)}}, At: at, Standing: s, Grade: exam.Marked, Place: place})
	}
	return p
}

// press types keys, one every two seconds.
func press(t interface{ Fatalf(string, ...any) }, tb *knowledge.Tables, d exam.Draft, keys string) exam.Draft {
	for i, k := range keys {
		var err error
		if d, err = d.Press(tb, exam.Key(k), later(morning, time.Duration(2*(i+1))*time.Second)); err != nil {
			t.Fatalf("key %q: %v", k, err)
		}
	}
	return d
}

// goTo is the draft at that stop.
func goTo(d exam.Draft, stop knowledge.StopID) exam.Draft {
	return d.Go(slices.IndexFunc(d.Stops, func(a exam.Answered) bool { return a.Stop == stop }))
}

func TestDraft_AClearAnimalByTheKeyboardAlone(t *testing.T) {
	tb := tables(t)
	keys := ""
	for _, s := range tb.Stops() {
		if s.Way == knowledge.Opened {
			keys += "+"
			continue
		}
		keys += "\n"
	}
	if len(keys) > 25 {
		t.Fatalf("%d keys, want at most 25", len(keys))
	}
	d := press(t, tb, begin(tb), keys)
	if !d.AtEnd() || d.Answers() != len(tb.Stops()) {
		t.Fatalf("after %d keys: stop %d, %d answers", len(keys), d.Index, d.Answers())
	}
	c := d.Finish(tb, later(morning, time.Minute))
	for i, s := range tb.Stops() {
		a := c.Stops[i]
		want := map[knowledge.Way]exam.Look{knowledge.Seen: exam.Seen, knowledge.Felt: exam.Felt, knowledge.Opened: exam.Seen}[s.Way]
		if a.Stop != s.ID || a.Look != want || a.At != later(morning, time.Duration(2*(i+1))*time.Second) || !c.Clear(s.ID) {
			t.Errorf("%s: %+v, clear %v", s.ID, a, c.Clear(s.ID))
		}
	}
	if c.Extent(tb) != exam.FullCheck || c.Verdict.Level != knowledge.Nothing || c.Finished != later(morning, time.Minute) {
		t.Errorf("extent %s, level %q", c.Extent(tb), c.Verdict.Level)
	}
}

func TestDraft_EnterOnTheMouthMeansNotOpened(t *testing.T) {
	tb := tables(t)
	for _, stop := range []knowledge.StopID{"mouth", "airway"} {
		at := goTo(begin(tb), stop)
		tests := []struct {
			keys  string
			look  exam.Look
			clear bool
		}{
			{"\n", exam.NotLooked, false}, {"+", exam.Seen, true}, {".", exam.LeftToVet, false}, {",", exam.LeftToVet, false},
			{"0", exam.NotLooked, false}, {"1\n", exam.Seen, false}, {"1+", exam.Seen, false}, {"1.", exam.LeftToVet, false},
		}
		for _, c := range tests {
			d := press(t, tb, at, c.keys)
			if d.At(stop).Look != c.look || d.Clear(stop) != c.clear || d.Index != at.Index+1 {
				t.Errorf("%s, keys %q: %q, clear %v, stop %d", stop, c.keys, d.At(stop).Look, d.Clear(stop), d.Index)
			}
		}
	}
}

func TestDraft_PlusSwapsSeenAndFelt(t *testing.T) {
	tb := tables(t)
	for stop, want := range map[knowledge.StopID][2]exam.Look{"spine": {exam.Felt, exam.Seen}, "skin": {exam.Seen, exam.Felt}} {
		d := goTo(begin(tb), stop)
		if got := press(t, tb, d, "\n").At(stop).Look; got != want[0] {
			t.Errorf("%s, Enter: %q", stop, got)
		}
		if got := press(t, tb, d, "+").At(stop).Look; got != want[1] {
			t.Errorf("%s, +: %q", stop, got)
		}
	}
}

func TestDraft_ADigitNotesAndAgainMakesItWorse(t *testing.T) {
	tb := tables(t)
	d := goTo(begin(tb), "skin")
	for _, c := range []struct {
		keys string
		want []exam.Grade
	}{{"1", []exam.Grade{exam.Slight}}, {"11", []exam.Grade{exam.Marked}}, {"111", []exam.Grade{exam.Severe}}, {"1111", []exam.Grade{exam.Severe}}, {"131", []exam.Grade{exam.Marked, exam.Slight}}} {
		var got []exam.Grade
		for _, f := range press(t, tb, d, c.keys).Findings {
			got = append(got, f.Grade)
		}
		if !reflect.DeepEqual(got, c.want) {
			t.Errorf("keys %q: %v, want %v", c.keys, got, c.want)
		}
	}
	f := press(t, tb, d, "1").Findings[0]
	want := exam.Finding{Standing: exam.New, Stop: "skin", What: "stuck-shed", Place: exam.Middle(tb, "skin"), Rough: true, Grade: exam.Slight, At: later(morning, 2*time.Second)}
	if !reflect.DeepEqual(f, want) {
		t.Errorf("got %+v, want %+v", f, want)
	}
	if e := press(t, tb, goTo(begin(tb), "third-front"), "5678"); len(e.Findings) != 0 || e.Index != goTo(begin(tb), "third-front").Index {
		t.Error("digits without a finding did something")
	}
	rest := press(t, tb, begin(tb), "1").Findings[0]
	if rest.Place != (body.Place{}) || rest.Rough {
		t.Errorf("a finding of the whole animal has the place %+v", rest.Place)
	}
}

func TestDraft_PointingMakesANewFindingThere(t *testing.T) {
	tb := tables(t)
	place := body.Place{Part: body.Trunk, Along: 6200, Angle: 90, Region: body.HindLeft}
	d := press(t, tb, goTo(begin(tb), "skin"), "1")
	d = press(t, tb, d.Point(place), "1")
	if len(d.Findings) != 2 || d.Findings[1].Place != place || d.Findings[1].Rough || d.Pointed != (body.Place{}) {
		t.Fatalf("got %+v, pointed %+v", d.Findings, d.Pointed)
	}
	if d = press(t, tb, d, "1"); d.Findings[0].Grade != exam.Slight || d.Findings[1].Grade != exam.Marked {
		t.Errorf("again raised %v and %v, want the latest one raised", d.Findings[0].Grade, d.Findings[1].Grade)
	}
	if d = press(t, tb, d.Point(place), "\n"); d.Pointed != (body.Place{}) {
		t.Error("going on kept the place pointed to")
	}
}

func TestDraft_NotLookedIsRefusedWhereSomethingIsNoted(t *testing.T) {
	tb := tables(t)
	d := press(t, tb, goTo(begin(tb), "skin"), "1")
	wantRefusal(t, "exam.noted-there")(d.Press(tb, exam.KeyNotLooked, morning))
	asked := goTo(begin(tb, problem(scabID, "skin", "sore", body.Place{}, exam.New)), "skin")
	wantRefusal(t, "exam.noted-there")(press(t, tb, asked, "4").Press(tb, exam.KeyNotLooked, morning))
	if got := press(t, tb, asked, "0").At("skin").Look; got != exam.NotLooked {
		t.Errorf("0 before an answer: %q", got)
	}
}

func wantRefusal(t *testing.T, reason string) func(exam.Draft, error) {
	t.Helper()
	return func(_ exam.Draft, err error) {
		t.Helper()
		refused(t, err, reason)
	}
}

func refused(t *testing.T, err error, reason string) {
	t.Helper()
	var r *model.Refusal
	if !errors.As(err, &r) || r.Reason != reason || r.Field == "" || r.Answer != model.Mend {
		t.Errorf("got %v, want the refusal %s", err, reason)
	}
}

func TestDraft_EarlierFindingsAreAskedAtTheirStop(t *testing.T) {
	tb := tables(t)
	d := begin(tb, problem(scabID, "skin", "sore", body.Place{}, exam.New), problem(kinkID, "spine", "kink", body.Place{}, exam.New, exam.Worse),
		problem(shedID, "skin", "stuck-shed", body.Place{}, exam.New))
	if _, asking := d.Asking(); asking {
		t.Fatal("asked at rest, where nothing is open")
	}
	d = goTo(d, "skin")
	if i, asking := d.Asking(); !asking || d.Earlier[i].Problem != scabID {
		t.Fatalf("asking %d, %v", i, asking)
	}
	wantRefusal(t, "exam.earlier-unanswered")(d.Press(tb, exam.KeyEnter, morning))
	wantRefusal(t, "exam.earlier-unanswered")(d.Press(tb, exam.KeyOther, morning))
	if same := press(t, tb, d, "5"); !reflect.DeepEqual(same, d) {
		t.Error("a digit above 4 did something while asking")
	}
	d = press(t, tb, d, "3")
	if i, asking := d.Asking(); !asking || d.Earlier[i].Problem != shedID {
		t.Fatalf("after the first answer: asking %d, %v", i, asking)
	}
	d = press(t, tb, d, "4\n")
	if d.At("skin").Look != exam.Seen || d.Clear("skin") {
		t.Errorf("%q, clear %v: a worse scab is there", d.At("skin").Look, d.Clear("skin"))
	}
	want := exam.Glimpse{At: later(morning, 2*time.Second), Standing: exam.Worse, Grade: exam.Severe}
	if !reflect.DeepEqual(d.Earlier[0].Now, want) {
		t.Errorf("got %+v, want %+v", d.Earlier[0].Now, want)
	}
	if undone := goTo(d, "skin").AnswerEarlier(0, exam.Unasked, morning); !reflect.DeepEqual(undone.Earlier[0].Now, exam.Glimpse{}) {
		t.Error("taking an answer back left something")
	}
	if !d.Earlier[1].Worsened || d.Earlier[0].Worsened {
		t.Error("only the kink was worse before")
	}
}

func TestDraft_GradesFollowTheAnswers(t *testing.T) {
	tb := tables(t)
	for standing, want := range map[exam.Standing][3]exam.Grade{
		exam.Same: {exam.Slight, exam.Marked, exam.Severe}, exam.Better: {exam.Slight, exam.Slight, exam.Marked},
		exam.Worse: {exam.Marked, exam.Severe, exam.Severe}, exam.Gone: {exam.Slight, exam.Marked, exam.Severe},
	} {
		for i, before := range []exam.Grade{exam.Slight, exam.Marked, exam.Severe} {
			p := problem(scabID, "skin", "sore", body.Place{}, exam.New)
			p.Glimpses[0].Grade = before
			if got := begin(tb, p).AnswerEarlier(0, standing, morning).Earlier[0].Now.Grade; got != want[i] {
				t.Errorf("%s before, %s: %s, want %s", before, standing, got, want[i])
			}
		}
	}
}

func TestDraft_WhatComesBackIsKnownAgain(t *testing.T) {
	tb := tables(t)
	there := body.Place{Part: body.Trunk, Along: 5000, Angle: 10, Region: body.LowerMidBack}
	near, far := there, there
	near.Along, far.Along = 5300, 5500
	past := problem(scabID, "skin", "sore", there, exam.New, exam.Gone)
	past.Baseline = false
	d := goTo(begin(tb, past), "skin")
	if len(d.Earlier) != 0 || len(d.Past) != 1 {
		t.Fatalf("%d asked about, %d past", len(d.Earlier), len(d.Past))
	}
	back := d.Point(near).Mark(tb, "sore", morning)
	if f := back.Findings[0]; f.Problem != scabID || f.Standing != exam.CameBack {
		t.Errorf("near the old place: %+v", f)
	}
	for name, other := range map[string]exam.Draft{
		"far from it": d.Point(far).Mark(tb, "sore", morning), "another kind": d.Point(near).Mark(tb, "burn", morning),
		"said to be a thing apart": back.Apart(0),
	} {
		if f := other.Findings[0]; !f.Problem.IsZero() || f.Standing != exam.New {
			t.Errorf("%s: %+v", name, f)
		}
	}
	if f := back.Point(near).Mark(tb, "sore", morning).Findings[1]; f.Standing != exam.New {
		t.Errorf("a second one at the same place came back too: %+v", f)
	}
	if f := press(t, tb, d.Point(near), "3").Findings[0]; f.Standing != exam.CameBack {
		t.Errorf("by key: %+v", f)
	}
}

func TestDraft_BackAndForth(t *testing.T) {
	tb := tables(t)
	d := press(t, tb, begin(tb), "\n\n--")
	if d.Index != 0 || d.Answers() != 2 {
		t.Errorf("stop %d, %d answers", d.Index, d.Answers())
	}
	if d = press(t, tb, d, "-"); d.Index != 0 {
		t.Errorf("back from the first stop: %d", d.Index)
	}
	end := d.Go(100)
	if !end.AtEnd() || end.Index != len(end.Stops) || d.Go(-3).Index != 0 {
		t.Errorf("going too far: %d, %d", end.Index, d.Go(-3).Index)
	}
	if _, ok := end.Stop(); ok {
		t.Error("the end page is a stop")
	}
	if _, asking := end.Asking(); asking {
		t.Error("the end page asks about a finding")
	}
	if after := press(t, tb, end, "1\n0.+"); !reflect.DeepEqual(after, end) {
		t.Error("keys did something on the end page")
	}
	if after, err := end.Answer(exam.Seen, morning); err != nil || !reflect.DeepEqual(after, end) {
		t.Error("an answer did something on the end page")
	}
	if after := end.Mark(tb, "sore", morning); len(after.Findings) != 0 {
		t.Error("a finding was noted on the end page")
	}
	if got := press(t, tb, end, "-").Index; got != len(end.Stops)-1 {
		t.Errorf("back from the end page: %d", got)
	}
	if after := press(t, tb, d, "x"); !reflect.DeepEqual(after, d) {
		t.Error("a letter did something")
	}
}

func TestDraft_FindingsAreChangedAndRemoved(t *testing.T) {
	tb := tables(t)
	d := press(t, tb, goTo(begin(tb, problem(kinkID, "spine", "kink", body.Place{}, exam.New)), "skin"), "123")
	f := d.Findings[1]
	f.Note, f.Size = "left of the dark ring", model.Length{Tenths: 80, Typed: "8"}
	if got := d.ChangeFinding(1, f).Findings[1]; !reflect.DeepEqual(got, f) {
		t.Errorf("got %+v", got)
	}
	r := d.RemoveFinding(1)
	if len(r.Findings) != 2 || r.Findings[0].What != "stuck-shed" || r.Findings[1].What != "sore" || len(d.Findings) != 3 {
		t.Errorf("got %+v", r.Findings)
	}
	now := exam.Glimpse{Standing: exam.Same, Note: "as before"}
	if got := d.ChangeEarlier(0, now).Earlier[0]; !reflect.DeepEqual(got.Now, now) || got.Problem != kinkID {
		t.Errorf("got %+v", got)
	}
}

func TestDraft_ToFinish(t *testing.T) {
	tb := tables(t)
	sized := problem(scabID, "skin", "sore", body.Place{}, exam.New)
	sized.Glimpses[0].Size = model.Length{Tenths: 100}
	d := begin(tb, sized, problem(kinkID, "spine", "kink", body.Place{}, exam.New), problem(shedID, "tail", "stuck-shed", body.Place{}, exam.New))
	d = d.AnswerEarlier(0, exam.Same, morning).AnswerEarlier(1, exam.Worse, morning)
	d = goTo(d, "skin").Mark(tb, "sore", morning).Mark(tb, knowledge.Other, morning)
	d = goTo(d, "third-front").Mark(tb, "heart", morning)
	want := []exam.Missing{
		{Finding: 0, Earlier: -1, Place: true, Size: true, Photo: true}, {Finding: 1, Earlier: -1, Place: true, Size: true, Photo: true, Note: true},
		{Finding: 2, Earlier: -1, Place: true}, {Finding: -1, Earlier: 0, Size: true}, {Finding: -1, Earlier: 1, Photo: true},
	}
	if got := d.ToFinish(tb); !reflect.DeepEqual(got, want) {
		t.Fatalf("got %+v, want %+v", got, want)
	}
	for i, f := range d.Findings {
		f.Rough, f.Note, f.Size, f.Photos = false, "dry", model.Length{Tenths: 50}, []model.PhotoID{"a"}
		d = d.ChangeFinding(i, f)
	}
	for i := range 2 {
		now := d.Earlier[i].Now
		now.Size, now.Photos = model.Length{Tenths: 90}, []model.PhotoID{"b"}
		d = d.ChangeEarlier(i, now)
	}
	if got := d.ToFinish(tb); len(got) != 0 {
		t.Errorf("with all of it given: %+v", got)
	}
	if got := d.AnswerEarlier(0, exam.Gone, morning).AnswerEarlier(1, exam.Gone, morning).ToFinish(tb); len(got) != 0 {
		t.Errorf("what is gone still wants %+v", got)
	}
}

func TestDraft_Changes(t *testing.T) {
	tb := tables(t)
	d := begin(tb, problem(kinkID, "spine", "kink", body.Place{}, exam.New), problem(scabID, "neck", "sore", body.Place{}, exam.New))
	d = d.AnswerEarlier(0, exam.Better, morning)
	d = goTo(d, "tail").Mark(tb, "sore", morning)
	d = goTo(d, "snout").Mark(tb, "mites", morning)
	var got []string
	for _, c := range d.Changes() {
		got = append(got, string(c.Stop)+" "+string(c.Standing))
		if found := c.Standing == exam.New; found != (c.Finding >= 0) || found && d.Findings[c.Finding].Stop != c.Stop {
			t.Errorf("%s %s points to finding %d", c.Stop, c.Standing, c.Finding)
		}
		if c.Standing == exam.Unasked && !reflect.DeepEqual(c.Now, c.Before) {
			t.Errorf("%s was not asked about but changed", c.Stop)
		}
		if c.Standing == exam.Better && (c.Before.Grade != exam.Marked || c.Now.Grade != exam.Slight) {
			t.Errorf("better: %s to %s", c.Before.Grade, c.Now.Grade)
		}
		if c.Standing == exam.New && (c.Before.At != model.Moment{} || c.Now.Grade != exam.Slight || c.Now.At != morning) {
			t.Errorf("new: %+v", c)
		}
	}
	if want := []string{"snout new", "tail new", "neck ", "spine better"}; !reflect.DeepEqual(got, want) {
		t.Errorf("got %q, want %q", got, want)
	}
}

func TestCheck_Extent(t *testing.T) {
	tb := tables(t)
	all := len(tb.Stops())
	opened := func(look string) string {
		keys := ""
		for _, s := range tb.Stops() {
			if s.Way == knowledge.Opened {
				keys += look
			} else {
				keys += "\n"
			}
		}
		return keys
	}
	found := press(t, tb, begin(tb), "6"+opened("+"))
	same := press(t, tb, begin(tb, problem(kinkID, "rest", "nerves", body.Place{}, exam.New)), "1"+opened("+"))
	tests := []struct {
		name    string
		draft   exam.Draft
		seconds int
		want    exam.Extent
	}{
		{"19 s", press(t, tb, begin(tb), opened("+")), 19, exam.BriefLook},
		{"20 s", press(t, tb, begin(tb), opened("+")), 20, exam.FullCheck},
		{"19 s, mouth left to the vet", press(t, tb, begin(tb), opened(".")), 19, exam.BriefLook},
		{"19 s with a finding", found, 19, exam.FullCheck},
		{"19 s, the earlier one the same", same, 19, exam.BriefLook},
		{"mouth left to the vet", press(t, tb, begin(tb), opened(".")), 60, exam.FullCheck},
		{"mouth not opened", press(t, tb, begin(tb), opened("\n")), 60, exam.PartCheck},
		{"one stop passed over", press(t, tb, begin(tb), opened("+")[:all-1]), 60, exam.PartCheck},
		{"all left to the vet", press(t, tb, begin(tb), strings.Repeat(".", all)), 60, exam.PartCheck},
		{"one stop not looked at", press(t, tb, begin(tb), opened("+")[:all-1]+"0"), 60, exam.PartCheck},
	}
	for _, c := range tests {
		t.Run(c.name, func(t *testing.T) {
			if got := c.draft.Finish(tb, later(morning, time.Duration(c.seconds)*time.Second)).Extent(tb); got != c.want {
				t.Errorf("got %s, want %s", got, c.want)
			}
		})
	}
}

func TestWalk_ClearAndNotLookedDiffer(t *testing.T) {
	tb := tables(t)
	d := goTo(begin(tb, problem(scabID, "skin", "sore", body.Place{}, exam.New)), "skin")
	if d.Clear("skin") || d.Clear("no-such-stop") {
		t.Error("clear before it was looked at")
	}
	d = goTo(press(t, tb, d, "0"), "skin")
	if d.Clear("skin") || d.At("skin").Look.Looked() {
		t.Error("clear though not looked at")
	}
	if d = press(t, tb, d, "4\n"); !d.Clear("skin") {
		t.Error("not clear though seen, and what was there is gone")
	}
}

func TestBegin_KnowsShedsAndRegurgitations(t *testing.T) {
	tb := tables(t)
	eye := problem(scabID, "eye-left", "stuck-eye-cap", body.Place{}, exam.New)
	gone := problem(shedID, "neck", "regurgitated", body.Place{}, exam.New, exam.Gone, exam.CameBack, exam.Gone)
	day := 24 * time.Hour
	d := exam.Begin(tb, exam.Beginning{
		Check: checkID, Animal: juniper, At: morning, Problems: []exam.StoredProblem{eye, gone},
		Sheds: []model.Moment{later(morning, -20*day), later(morning, -14*day), later(morning, -3*day)},
	})
	if d.Earlier[0].Sheds != 2 {
		t.Errorf("the cap outlasted %d sheds, want 2: the one before it was noted, and the one after", d.Earlier[0].Sheds)
	}
	if v := d.Verdict(tb, morning); v.Level != vet {
		t.Errorf("a cap kept over two sheds: %q", v.Level)
	}
	want := []model.Moment{gone.Glimpses[0].At, gone.Glimpses[2].At}
	if !reflect.DeepEqual(d.Context.Regurgitations, want) {
		t.Errorf("got %v, want %v", d.Context.Regurgitations, want)
	}
}

func TestFacts_AnOpenRegurgitationCountsOnlyForANewOne(t *testing.T) {
	tb := tables(t)
	d := begin(tb, problem(scabID, "neck", "regurgitated", body.Place{}, exam.New))
	d.Context.Mass = model.Grams(1400)
	if v := d.Verdict(tb, morning); v.Level != look {
		t.Errorf("the first one, passed over: %q", v.Level)
	}
	second := goTo(d.AnswerEarlier(0, exam.Gone, morning), "neck").Mark(tb, knowledge.Regurgitated, morning)
	if v := second.Verdict(tb, morning); v.Level != vet {
		t.Errorf("a second one within 30 days: %q", v.Level)
	}
	if len(second.Context.Regurgitations) != 0 {
		t.Error("judging wrote into the context")
	}
}

func TestDraft_WrittenAndReadIsTheSame(t *testing.T) {
	tb := tables(t)
	rapid.Check(t, func(rt *rapid.T) {
		d := drawDraft(rt, tb)
		raw, err := json.Marshal(d)
		if err != nil {
			rt.Fatal(err)
		}
		read, err := exam.ReadDraft(raw)
		if err != nil {
			rt.Fatal(err)
		}
		again, err := json.Marshal(read)
		if err != nil || string(again) != string(raw) {
			rt.Fatalf("%v\n%s\n%s", err, raw, again)
		}
		if !reflect.DeepEqual(read.Verdict(tb, morning), d.Verdict(tb, morning)) {
			rt.Fatal("the read draft is judged otherwise")
		}
	})
}

func drawDraft(rt *rapid.T, tb *knowledge.Tables) exam.Draft {
	d := begin(tb, problem(kinkID, "spine", "kink", body.Place{}, exam.New), problem(scabID, "skin", "sore", exam.Middle(tb, "skin"), exam.New, exam.Gone))
	keys := []rune("0123456789.,-+\n\n\n\n\n\n")
	for range rapid.IntRange(0, 60).Draw(rt, "presses") {
		next, err := d.Press(tb, exam.Key(rapid.SampledFrom(keys).Draw(rt, "key")), morning)
		if err == nil {
			d = next
		}
	}
	return d
}

func TestDraft_AKeyLeavesTheDraftBeforeAsItWas(t *testing.T) {
	tb := tables(t)
	rapid.Check(t, func(rt *rapid.T) {
		d := drawDraft(rt, tb)
		before, _ := json.Marshal(d)
		for _, k := range "0123456789.-+\n" {
			next, err := d.Press(tb, exam.Key(k), later(morning, time.Minute))
			if err != nil && !reflect.DeepEqual(next, d) {
				rt.Fatalf("key %q was refused and changed the draft", k)
			}
			for i := range next.Findings {
				next.RemoveFinding(i)
				next.Apart(i)
			}
			for i := range next.Earlier {
				next.AnswerEarlier(i, exam.Worse, morning)
			}
		}
		if after, _ := json.Marshal(d); string(after) != string(before) {
			rt.Fatalf("changed from\n%s\nto\n%s", before, after)
		}
	})
}

func TestReadDraft_Refuses(t *testing.T) {
	good, err := json.Marshal(begin(tables(t)))
	if err != nil {
		t.Fatal(err)
	}
	edit := func(field string, value any) []byte {
		var m map[string]any
		if err := json.Unmarshal(good, &m); err != nil {
			t.Fatal(err)
		}
		m[field] = value
		raw, err := json.Marshal(m)
		if err != nil {
			t.Fatal(err)
		}
		return raw
	}
	for name, raw := range map[string][]byte{
		"half a file": good[:len(good)/2], "nothing": nil, "no form": edit("form", 0), "no animal": edit("animal", ""), "no check": edit("check", ""),
		"no stops": edit("stops", []any{}), "a stop before the first": edit("index", -1), "a stop after the end": edit("index", 21), "another grade": edit("findings", []any{map[string]any{"grade": "huge"}}),
	} {
		if d, err := exam.ReadDraft(raw); err == nil || errors.Is(err, model.ErrNewer) || d.Form != 0 {
			t.Errorf("%s: %v", name, err)
		}
	}
	if _, err := exam.ReadDraft(edit("form", 3)); !errors.Is(err, model.ErrNewer) {
		t.Errorf("a newer form: %v", err)
	}
	if d, err := exam.ReadDraft(edit("form", 1)); err != nil || d.Form != 2 {
		t.Errorf("an older form: form %d, %v", d.Form, err)
	}
	if _, err := exam.ReadDraft(edit("index", 20)); err != nil {
		t.Errorf("on the end page: %v", err)
	}
}

func FuzzReadDraft(f *testing.F) {
	tb := tables(f)
	good, _ := json.Marshal(press(f, tb, goTo(begin(tb), "skin"), "11\n3"))
	f.Add(good)
	f.Add([]byte(`{"form":1,"index":-1}`))
	f.Fuzz(func(t *testing.T, raw []byte) {
		d, err := exam.ReadDraft(raw)
		if err != nil {
			return
		}
		d = d.Resume(tb)
		if _, err := d.Press(tb, exam.KeyEnter, morning); err != nil {
			var r *model.Refusal
			if !errors.As(err, &r) {
				t.Fatal(err)
			}
		}
		d.Verdict(tb, morning)
		d.ToFinish(tb)
		d.Changes()
	})
}

func TestDraft_ResumesWithOtherTables(t *testing.T) {
	tb := tables(t)
	d := press(t, tb, begin(tb), "\n\n")
	if same := d.Resume(tb); !reflect.DeepEqual(same, d) {
		t.Error("resuming with the same tables changed the draft")
	}
	d.Tables = "older"
	d.Stops = append([]exam.Answered{{Stop: "dewlap", Look: exam.Seen, At: morning}, {Stop: "wattle"}}, slices.Delete(slices.Clone(d.Stops), 5, 6)...)
	d.Index = 4
	here, _ := d.Stop()
	r := d.Resume(tb)
	if now, _ := r.Stop(); now != here || r.Tables != tb.Hash() {
		t.Errorf("at %s, want %s", now, here)
	}
	if len(r.Stops) != len(tb.Stops())+1 || r.At("dewlap").Look != exam.Seen || r.At("rest").Look != exam.Seen || r.Answers() != 3 {
		t.Errorf("got %d stops, %d answers", len(r.Stops), r.Answers())
	}
	for i, s := range tb.Stops() {
		if r.Stops[i].Stop != s.ID {
			t.Errorf("stop %d is %s, want %s", i, r.Stops[i].Stop, s.ID)
		}
	}
	if end := d.Go(len(d.Stops)).Resume(tb); !end.AtEnd() {
		t.Errorf("from the end page to stop %d", end.Index)
	}
	d.Index = 1
	if got := d.Resume(tb).Index; got != 0 {
		t.Errorf("at a stop that is no more: %d, want the first", got)
	}
}

// A stuck eye cap counts the sheds over its whole chain: those it has outlasted,
// and one for each time it came back.
func TestDraft_StuckEyeCapsCountOverTheChain(t *testing.T) {
	tb := tables(t)
	day := func(n int) model.Moment { return later(morning, -time.Duration(n)*24*time.Hour) }
	cap := func(standings ...exam.Standing) exam.StoredProblem { // looks 14 days apart, the last 14 days ago
		return problem(shedID, "eye-left", knowledge.StuckEyeCap, exam.Middle(tb, "eye-left"), standings...)
	}
	cases := []struct {
		name     string
		problems []exam.StoredProblem
		sheds    []model.Moment
		caps     int
		noted    bool // anew in this check, and otherwise passed over
		want     knowledge.Level
	}{
		{"noted first", nil, nil, 0, true, look},
		{"noted first, one shed left a cap", nil, nil, 1, true, look},
		{"noted first, two sheds left caps", nil, nil, 2, true, vet},
		{"open, no shed since", []exam.StoredProblem{cap(exam.New)}, []model.Moment{day(20)}, 1, false, look},
		{"open over another shed", []exam.StoredProblem{cap(exam.New)}, []model.Moment{day(20), day(3)}, 1, false, vet},
		{"open, and two sheds left caps", []exam.StoredProblem{cap(exam.New)}, nil, 2, false, vet},
		{"gone, shed, come back", []exam.StoredProblem{cap(exam.New, exam.Gone)}, []model.Moment{day(3)}, 1, true, vet},
		{"gone, sheds while it was gone do not count", []exam.StoredProblem{cap(exam.New, exam.Gone, exam.CameBack)}, []model.Moment{day(20), day(22)}, 0, false, vet},
	}
	for _, c := range cases {
		d := exam.Begin(tb, exam.Beginning{Check: checkID, Animal: juniper, At: morning, Problems: c.problems, Sheds: c.sheds, StuckCaps: c.caps})
		if c.noted {
			d = goTo(d, "eye-left").Mark(tb, knowledge.StuckEyeCap, morning)
		}
		if v := d.Verdict(tb, morning); v.Level != c.want {
			t.Errorf("%s: %q by %v", c.name, v.Level, rules(v))
		}
		if v := exam.Stand(tb, c.problems, exam.Context{}, morning, c.sheds...); len(c.problems) > 0 && c.caps < 2 && !c.noted && v.Level != c.want {
			t.Errorf("%s, as it stands: %q", c.name, v.Level)
		}
	}
	back := exam.Begin(tb, exam.Beginning{Check: checkID, Animal: juniper, At: morning, Problems: []exam.StoredProblem{cap(exam.New, exam.Gone)}})
	back = goTo(back, "eye-left").Mark(tb, knowledge.StuckEyeCap, morning)
	if v := back.Apart(0).Verdict(tb, morning); v.Level != look {
		t.Errorf("a thing of its own: %q", v.Level)
	}
}

// What is unlike the photo, and what is known to be old, stays so when it is
// called the same; a problem that grew worse twice is told from one that did once.
func TestDraft_AnswersCarryWhatIsKnown(t *testing.T) {
	tb := tables(t)
	lining := problem(scabID, "mouth", "white-lining", exam.Middle(tb, "mouth"), exam.New)
	lining.Glimpses[0].Differs = true
	burn := problem(shedID, "skin", "burn", exam.Middle(tb, "skin"), exam.New)
	burn.Glimpses[0].Old, burn.Glimpses[0].Grade = true, exam.Slight
	d := begin(tb, lining, burn)
	for i := range d.Earlier {
		d = d.AnswerEarlier(i, exam.Same, morning)
	}
	if signs := d.Signs(); !signs[0].Differs || !signs[1].Old || d.Verdict(tb, morning).Level != emergency {
		t.Errorf("%+v", signs)
	}
	twice := problem(kinkID, "spine", "kink", exam.Middle(tb, "spine"), exam.New, exam.Worse)
	for answer, want := range map[exam.Standing]bool{exam.Worse: true, exam.Same: false, exam.Better: false} {
		if s := begin(tb, twice).AnswerEarlier(0, answer, morning).Signs()[0]; s.WorseAgain != want {
			t.Errorf("worse, then %s: %+v", answer, s)
		}
	}
	twice.Glimpses = append(twice.Glimpses, exam.Glimpse{At: morning, Standing: exam.Worse, Grade: exam.Severe})
	if s := begin(tb, twice).Signs()[0]; !s.WorseAgain {
		t.Errorf("worse twice, passed over: %+v", s)
	}
	if s := exam.Open([]exam.StoredProblem{twice})[0]; !s.WorseAgain || !s.Worsened {
		t.Errorf("worse twice, as it stands: %+v", s)
	}
}
