package exam_test

import (
	"io/fs"
	"os"
	"reflect"
	"regexp"
	"slices"
	"testing"
	"testing/fstest"

	"coilward/model"
	"coilward/model/exam"
	"coilward/model/knowledge"
)

// tablesWith are the program's tables with one other rule of stuck shed, given as
// "level | again | if worse".
func tablesWith(t *testing.T, rule string) *knowledge.Tables {
	t.Helper()
	shipped := os.DirFS("../../assets/knowledge")
	names, err := fs.Glob(shipped, "*.txt")
	if err != nil {
		t.Fatal(err)
	}
	m := fstest.MapFS{}
	for _, name := range names {
		data, err := fs.ReadFile(shipped, name)
		if err != nil {
			t.Fatal(err)
		}
		m[name] = &fstest.MapFile{Data: data}
	}
	row := regexp.MustCompile(`(?m)^stuck-shed .*$`)
	if found := row.FindAll(m["urgency.txt"].Data, -1); len(found) != 1 {
		t.Fatalf("%d rows of stuck shed, want 1", len(found))
	}
	m["urgency.txt"].Data = row.ReplaceAllLiteral(m["urgency.txt"].Data, []byte("stuck-shed | - | stuck-shed | slight | 1 | - | - | "+rule+" | - | assumed"))
	tb, err := knowledge.Load(m)
	if err != nil {
		t.Fatal(err)
	}
	return tb
}

// A rule that says nothing more urgent of worse has one reason for all its
// signs, as if none were worse; the others have one of their own for those that
// are. Source: common practice, no source.
func TestUrgency_OnlyWhatIsMoreUrgentWhenWorseRises(t *testing.T) {
	plain, worse := sign("skin", "stuck-shed"), sign("tail", "stuck-shed")
	worse.Standing = exam.Worse
	both, first, second := []int{0, 1}, []int{0}, []int{1}
	cases := []struct {
		rule string
		want []exam.Reason // level, signs, again, today, if worse and worsened
	}{
		{"look-again | 7 | -", []exam.Reason{{Level: look, Signs: both, Again: 7}}},
		{"look-again | 7 | look-again", []exam.Reason{{Level: look, Signs: both, Again: 7, IfWorse: look}}},
		{"look-again | today | look-again", []exam.Reason{{Level: look, Signs: both, Today: true, IfWorse: look}}},
		{"vet-within-days | - | vet-within-days", []exam.Reason{{Level: vet, Signs: both, IfWorse: vet}}},
		{"emergency-today | - | emergency-today", []exam.Reason{{Level: emergency, Signs: both, IfWorse: emergency}}},
		{"emergency-today | - | -", []exam.Reason{{Level: emergency, Signs: both}}},
		{"no-action | - | no-action", []exam.Reason{{Level: often, Signs: both, IfWorse: often}}},
		{"no-action | 7 | look-again", []exam.Reason{{Level: look, Signs: second, Again: 7, Worsened: true}, {Level: often, Signs: first, Again: 7, IfWorse: look}}},
		{"no-action | today | look-again", []exam.Reason{{Level: look, Signs: second, Today: true, Worsened: true}, {Level: often, Signs: first, Today: true, IfWorse: look}}},
		{"look-again | 7 | vet-within-days", []exam.Reason{{Level: vet, Signs: second, Worsened: true}, {Level: look, Signs: first, Again: 7, IfWorse: vet}}},
		{"look-again | today | emergency-today", []exam.Reason{{Level: emergency, Signs: second, Worsened: true}, {Level: look, Signs: first, Today: true, IfWorse: emergency}}},
	}
	for _, c := range cases {
		v := judge(tablesWith(t, c.rule), exam.Context{}, plain, worse)
		for i := range v.Reasons {
			v.Reasons[i].Rule, v.Reasons[i].Source = "", ""
		}
		if !reflect.DeepEqual(v.Reasons, c.want) {
			t.Errorf("%s: %+v, want %+v", c.rule, v.Reasons, c.want)
		}
		if v.Level != c.want[0].Level {
			t.Errorf("%s: %q", c.rule, v.Level)
		}
	}
}

// A new look is asked for by a reason that says look again and when: in so many
// days, or on the day itself. The days count from the look.
func TestVerdict_WhichReasonsAskForANewLook(t *testing.T) {
	const seen = model.Day(100)
	cases := []struct {
		name   string
		reason exam.Reason
		by     model.Day // 0: none
	}{
		{"in seven days", exam.Reason{Level: look, Again: 7}, seen + 7},
		{"in one day", exam.Reason{Level: look, Again: 1}, seen + 1},
		{"today", exam.Reason{Level: look, Today: true}, seen},
		{"no day named", exam.Reason{Level: look}, 0},
		{"no action, days named", exam.Reason{Level: often, Again: 7}, 0},
		{"no action, today named", exam.Reason{Level: often, Today: true}, 0},
		{"the vet, days named", exam.Reason{Level: vet, Again: 7}, 0},
		{"the vet, today named", exam.Reason{Level: vet, Today: true}, 0},
		{"an emergency, days named", exam.Reason{Level: emergency, Again: 7}, 0},
	}
	for _, c := range cases {
		c.reason.Signs = []int{0}
		v := exam.Verdict{Level: c.reason.Level, Signs: []exam.Sign{{Seen: seen}}, Reasons: []exam.Reason{c.reason}, VetWithin: 3}
		if by, wanted := v.AgainBy(c.reason); wanted != (c.by != 0) || by != c.by {
			t.Errorf("%s: look again by %d (%v), want %d", c.name, by, wanted, c.by)
		}
		var looks []exam.Obligation
		for _, o := range v.Due() {
			if o.Kind == exam.LookThere {
				looks = append(looks, o)
			}
		}
		var want []exam.Obligation
		if c.by != 0 {
			want = []exam.Obligation{{Kind: exam.LookThere, By: c.by, Signs: []int{0}}}
		}
		if !reflect.DeepEqual(looks, want) {
			t.Errorf("%s: due %+v, want %+v", c.name, looks, want)
		}
	}
}

// Of several reasons about one sign the soonest counts, and signs to be looked
// at on one day are due together; the vet goes before a look of the same day.
func TestVerdict_DueOnOneDay(t *testing.T) {
	today := func(signs ...int) exam.Reason { return exam.Reason{Level: look, Today: true, Signs: signs} }
	in := func(days int, signs ...int) exam.Reason {
		return exam.Reason{Level: look, Again: days, Signs: signs}
	}
	silent := func(signs ...int) exam.Reason { return exam.Reason{Level: look, Signs: signs} }
	there := func(by model.Day, signs ...int) exam.Obligation {
		return exam.Obligation{Kind: exam.LookThere, By: by, Signs: signs}
	}
	cases := []struct {
		name    string
		seen    []model.Day
		reasons []exam.Reason
		want    []exam.Obligation
	}{
		{"today before seven days", []model.Day{100}, []exam.Reason{in(7, 0), today(0)}, []exam.Obligation{there(100, 0)}},
		{"today first", []model.Day{100}, []exam.Reason{today(0), in(1, 0)}, []exam.Obligation{there(100, 0)}},
		{"one without a day brings none forward", []model.Day{100}, []exam.Reason{silent(0), in(7, 0)}, []exam.Obligation{there(107, 0)}},
		{"today, passed over since yesterday", []model.Day{99, 100}, []exam.Reason{today(0, 1)}, []exam.Obligation{there(99, 0), there(100, 1)}},
		{"days that meet", []model.Day{100, 93}, []exam.Reason{in(7, 0), in(14, 1)}, []exam.Obligation{there(107, 0, 1)}},
		{"today meets days", []model.Day{93, 100}, []exam.Reason{in(7, 0), today(1)}, []exam.Obligation{there(100, 0, 1)}},
		{"the vet on the same day", []model.Day{97, 100}, []exam.Reason{today(1), {Level: vet, Signs: []int{0}}},
			[]exam.Obligation{{Kind: exam.SeeVet, By: 100, Signs: []int{0}}, there(100, 1)}},
		{"what waits for the vet is not looked at", []model.Day{100}, []exam.Reason{today(0), {Level: vet, Signs: []int{0}}},
			[]exam.Obligation{{Kind: exam.SeeVet, By: 103, Signs: []int{0}}}},
	}
	for _, c := range cases {
		v := exam.Verdict{Reasons: c.reasons, VetWithin: 3}
		for _, d := range c.seen {
			v.Signs = append(v.Signs, exam.Sign{Seen: d})
		}
		if got := v.Due(); !reflect.DeepEqual(got, c.want) {
			t.Errorf("%s: %+v, want %+v", c.name, got, c.want)
		}
	}
	v := exam.Verdict{Signs: []exam.Sign{{Seen: 100}, {Seen: 98}, {Seen: 98}, {Seen: 90}}}
	if by, wanted := v.AgainBy(in(7, 0, 1, 2)); !wanted || by != 105 {
		t.Errorf("of one reason, the earliest look twice over: by %d (%v), want 105", by, wanted)
	}
	if by, wanted := v.AgainBy(today(0, 3)); !wanted || by != 90 {
		t.Errorf("today, counted from the earliest look: by %d (%v), want 90", by, wanted)
	}
}

// A day that was set on for the vet stays, whatever a later look says of the
// finding, but for one that no longer wants a vet. Source: common practice, no
// source.
func TestALaterLookPutsNoVetDayOff(t *testing.T) {
	tb := tables(t)
	discharge := knowledge.FindingID("nostril-discharge")
	first := begin(tb)
	first.Index = slices.IndexFunc(first.Stops, func(a exam.Answered) bool { return a.Stop == "snout" })
	first = first.Mark(tb, discharge, morning)
	before := first.Finish(tb, morning).Verdict
	set, wanted := before.VetBy()
	if !wanted {
		t.Fatalf("discharge wants no vet: %+v", before)
	}
	problem := exam.StoredProblem{ID: model.ProblemID{ID: model.ID{9}}, Problem: exam.Problem{Stop: "snout", What: discharge,
		Glimpses: []exam.Glimpse{{At: morning, Standing: exam.New, Grade: exam.Slight, Place: first.Findings[0].Place}}}}
	later := morning
	later.UTC += 7 * 86400
	for _, answer := range []exam.Standing{exam.Unasked, exam.Same, exam.Better, exam.Worse, exam.Gone} {
		d := exam.Begin(tb, exam.Beginning{Check: checkID, Animal: juniper, At: later, Problems: []exam.StoredProblem{problem},
			VetBy: map[model.ProblemID]model.Day{problem.ID: set}})
		verdict := d.AnswerEarlier(0, answer, later).Finish(tb, later).Verdict
		by, wanted := verdict.VetBy()
		if wants := verdict.Level >= vet; wanted != wants || wanted && by > set {
			t.Errorf("%q: by %v (%t), was set on for %v", answer, by, wanted, set)
		}
		if answer == exam.Same && !wanted {
			t.Error("the same wants no vet any more")
		}
	}
	gone := problem
	gone.Glimpses = append(slices.Clone(gone.Glimpses), exam.Glimpse{At: morning, Standing: exam.Gone, Place: problem.Last().Place})
	back := exam.Begin(tb, exam.Beginning{Check: checkID, Animal: juniper, At: later, Problems: []exam.StoredProblem{gone},
		VetBy: map[model.ProblemID]model.Day{gone.ID: set}})
	back.Index = first.Index
	back = back.Point(gone.Last().Place).Mark(tb, discharge, later)
	if by, _ := back.Verdict(tb, later).VetBy(); by != set {
		t.Errorf("come back: by %v, was set on for %v", by, set)
	}
	if by, _ := back.Apart(0).Verdict(tb, later).VetBy(); by <= set {
		t.Errorf("a thing of its own: by %v, the other was set on for %v", by, set)
	}
}

// What was left to the vet stays so until a look has seen it or another check was
// walked: a brief look between them takes nothing away.
func TestLeftToVetBy(t *testing.T) {
	tb := tables(t)
	check := func(seconds int64, answers map[knowledge.StopID]exam.Look) exam.StoredCheck {
		var c exam.StoredCheck
		for _, s := range tb.Stops() {
			c.Stops = append(c.Stops, exam.Answered{Stop: s.ID, Look: answers[s.ID]})
		}
		c.Begun = morning
		c.Finished = morning
		c.Finished.UTC += seconds
		return c
	}
	brief, whole := int64(tb.Value(knowledge.ValueBriefLook)-1), int64(300)
	left := check(whole, map[knowledge.StopID]exam.Look{"mouth": exam.LeftToVet, "airway": exam.LeftToVet, "snout": exam.Seen})
	for name, c := range map[string]struct {
		newestFirst []exam.StoredCheck
		want        []knowledge.StopID
	}{
		"no check":                        {nil, nil},
		"two stops":                       {[]exam.StoredCheck{left}, []knowledge.StopID{"mouth", "airway"}},
		"a brief look past them":          {[]exam.StoredCheck{check(brief, map[knowledge.StopID]exam.Look{"snout": exam.Seen}), left}, []knowledge.StopID{"mouth", "airway"}},
		"a brief look that saw one":       {[]exam.StoredCheck{check(brief, map[knowledge.StopID]exam.Look{"mouth": exam.Seen}), left}, []knowledge.StopID{"airway"}},
		"another check":                   {[]exam.StoredCheck{check(whole, map[knowledge.StopID]exam.Look{"snout": exam.Seen}), left}, nil},
		"a check that left another to it": {[]exam.StoredCheck{check(whole, map[knowledge.StopID]exam.Look{"vent": exam.LeftToVet}), left}, []knowledge.StopID{"vent"}},
	} {
		if got := exam.LeftToVetBy(tb, c.newestFirst); !slices.Equal(got, c.want) {
			t.Errorf("%s: %v, want %v", name, got, c.want)
		}
	}
}
