package quarantine_test

import (
	"slices"
	"testing"

	"coilward/model"
	"coilward/model/knowledge"
	"coilward/model/quarantine"
)

func TestWhatHasNoDayOfItsOwn(t *testing.T) {
	for _, c := range []struct {
		line quarantine.Line
		want bool
	}{
		{quarantine.Line{Item: quarantine.Weighed, State: quarantine.NotMet}, true},
		{quarantine.Line{Item: quarantine.Weighed, State: quarantine.Watch}, false},
		{quarantine.Line{Item: quarantine.Weighed, State: quarantine.CannotTell}, false},
		{quarantine.Line{Item: quarantine.NothingUp, State: quarantine.NotMet}, true},
		{quarantine.Line{Item: quarantine.NothingUp, State: quarantine.CannotTell}, false},
		{quarantine.Line{Item: quarantine.NothingUp, State: quarantine.Met}, false},
		{quarantine.Line{Item: quarantine.NoneFound, State: quarantine.NotMet}, true},
		{quarantine.Line{Item: quarantine.NoneFound, State: quarantine.Met}, false},
		{quarantine.Line{Item: quarantine.InRoom, State: quarantine.NotMet}, false},
	} {
		if c.line.Undated() != c.want || (quarantine.Gate{Lines: []quarantine.Line{c.line}}).Undated() != c.want {
			t.Errorf("%+v", c.line)
		}
	}
}

func TestTheNextStepIsTheOneDueFirst(t *testing.T) {
	steps := []quarantine.Step{{Kind: quarantine.StepSwab, By: 3, Done: true}, {Kind: quarantine.StepCheck, By: 40}, {Kind: quarantine.StepWeigh, By: 9}, {Kind: quarantine.StepMites, By: 9}}
	if s, there := quarantine.Next(steps); !there || s.Kind != quarantine.StepWeigh {
		t.Errorf("%+v", s)
	}
	steps[3].First = true
	for range steps {
		if s, there := quarantine.Next(steps); !there || s.Kind != quarantine.StepMites {
			t.Errorf("before the look: %+v", s)
		}
		steps = append(steps[1:], steps[0])
	}
	if s, there := quarantine.Next(steps[:1]); there {
		t.Errorf("all is done, but next is %+v", s)
	}
}

// A swab is taken once for all that can be looked for on its day.
func TestWhatIsTakenTogether(t *testing.T) {
	swab := func(from model.Day, done bool, of ...knowledge.AgentID) quarantine.Step {
		return quarantine.Step{Kind: quarantine.StepSwab, From: from, Done: done, Agents: of}
	}
	steps := []quarantine.Step{swab(5, false, "serpentovirus"), swab(5, false, "ferlavirus", "serpentovirus"), swab(9, false, "reptarenavirus"), swab(2, true, "adenovirus"),
		{Kind: quarantine.StepFaecal, From: 5, Agents: []knowledge.AgentID{knowledge.FaecalAgent}}}
	for today, want := range map[model.Day][]knowledge.AgentID{3: {"serpentovirus", "ferlavirus"}, 9: {"serpentovirus", "ferlavirus", "reptarenavirus"}} {
		if got := quarantine.With(steps, steps[0], today).Agents; !slices.Equal(got, want) {
			t.Errorf("on day %d: %v, want %v", today, got, want)
		}
	}
	if len(steps[0].Agents) != 1 {
		t.Error("the step of the plan is changed")
	}
}

// What was detected and stands, and a positive in one room with it, hold the release
// without a day, and the plan leads to none; apart, the days count again.
func TestWhatMustBeSettledFirstHasNoDay(t *testing.T) {
	tables := load(t)
	p := protocol(tables, "python")
	for name, c := range map[string]struct {
		change func(*quarantine.Facts)
		items  []quarantine.ItemID
	}{
		"nothing":             {func(*quarantine.Facts) {}, nil},
		"detected":            {func(f *quarantine.Facts) { f.Results = append(f.Results, detected(70, serpent)) }, []quarantine.ItemID{quarantine.LookedFor, quarantine.NoneFound}},
		"near a positive":     {near(90, true), []quarantine.ItemID{quarantine.InRoom}},
		"without a place":     {func(f *quarantine.Facts) { f.Nowhere = true }, []quarantine.ItemID{quarantine.InRoom}},
		"near one until then": {near(80, false), nil},
		"near one, apart now": {near(80, true), nil},
	} {
		f := whole()
		c.change(&f)
		g := quarantine.Judge(tables, p, f)
		var undated []quarantine.ItemID
		for _, l := range g.Lines {
			if l.Undated() {
				undated = append(undated, l.Item)
			}
		}
		if !slices.Equal(undated, c.items) || g.Undated() != (c.items != nil) {
			t.Errorf("%s: no day of its own have %v", name, undated)
		}
		if leads := len(stepsOf(quarantine.Plan(tables, f, g), quarantine.StepRelease, "")) == 1; leads != (c.items == nil) {
			t.Errorf("%s: the plan leads to a release: %v", name, leads)
		}
	}
}

// near is that it was in one room with a positive until a day.
func near(day int, still bool) func(*quarantine.Facts) {
	return func(f *quarantine.Facts) {
		f.Restarts = append(f.Restarts, quarantine.Restart{Day: on(day), Positive: id(70), NearTo: "Elm", Still: still})
	}
}
