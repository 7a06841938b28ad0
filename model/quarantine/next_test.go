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
