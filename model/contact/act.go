package contact

import (
	"slices"

	"coilward/model/knowledge"
)

// The things of the list that the program knows by name, because it does more with
// them than show them.
const (
	Singles    knowledge.PositiveActID = "single-samples"
	Confirm    knowledge.PositiveActID = "confirm"
	StopMoves  knowledge.PositiveActID = "stop-moves"
	StopSales  knowledge.PositiveActID = "stop-sales"
	Disinfect  knowledge.PositiveActID = "disinfect"
	Repeat     knowledge.PositiveActID = "repeat"
	SampleNear knowledge.PositiveActID = "sample-near"
	CallVet    knowledge.PositiveActID = "call-vet"
)

// Owes is what the list of a positive follows from, beside the positive itself.
type Owes struct {
	Near      int // how many were near
	Newcomers int // how many of those are newcomers
}

// Standing is one thing of the list and whether it was done.
type Standing struct {
	knowledge.PositiveAct
	Did  Did
	Done bool
}

// Acts are what is to be done now, in the order of the table, with what was done.
func (s Stored) Acts(t *knowledge.Tables, o Owes) []Standing {
	var all []Standing
	for _, act := range t.PositiveActs() {
		if !s.asks(act.For, o, t.Confined(s.Agent)) {
			continue
		}
		did, done := s.Did(act.ID)
		all = append(all, Standing{PositiveAct: act, Did: did, Done: done})
	}
	return all
}

func (s Stored) asks(f knowledge.PositiveFor, o Owes, confined bool) bool {
	switch f {
	case knowledge.ForPool:
		return s.Pool()
	case knowledge.ForDoubt:
		return !s.Pool() && s.Doubt
	case knowledge.ForSure:
		return !s.Pool() && !s.Doubt
	case knowledge.ForNear:
		return o.Near > 0 && !confined
	case knowledge.ForNewcomers:
		return o.Newcomers > 0
	case knowledge.ForRoom:
		return !confined
	case knowledge.ForDroppings:
		return confined
	}
	return true
}

// Unmet are the things that were not done.
func Unmet(all []Standing) (unmet []knowledge.PositiveActID) {
	for _, s := range all {
		if !s.Done {
			unmet = append(unmet, s.ID)
		}
	}
	return unmet
}

// Target is what a disinfectant has to work on against an agent; ok is false where
// the tables have none for its family. Source: facts of the tables of effects, which
// speak of enveloped viruses and of cryptosporidia.
func Target(t *knowledge.Tables, of knowledge.AgentID) (target knowledge.TargetID, ok bool) {
	a, _ := t.Agent(of)
	switch a.Family {
	case knowledge.Virus:
		target = "enveloped-virus"
	case knowledge.Protozoan:
		target = "cryptosporidium"
	}
	_, ok = t.Target(target)
	return target, ok
}

// longest is how many minutes a means may take to be named: what must act for many
// hours, as strong ammonia or formalin do, endangers people and animals before it is
// done. Common practice, no source.
const longest = 60

// Means are the effects of what works on an agent for certain and within an hour, in
// the order of the table of means; none where the tables know of nothing.
func Means(t *knowledge.Tables, of knowledge.AgentID) []knowledge.Effect {
	target, ok := Target(t, of)
	if !ok {
		return nil
	}
	return WorksOn(t, target)
}

// WorksOn are the effects of what works on a target for certain and within an hour, in
// the order of the table of means; none where the tables know of nothing.
func WorksOn(t *knowledge.Tables, target knowledge.TargetID) (all []knowledge.Effect) {
	for _, m := range t.Means() {
		if e, told := t.Effect(m.ID, target); told && e.Works == knowledge.FullyWorks && e.Minutes <= longest {
			all = append(all, e)
		}
	}
	return slices.Clip(all)
}

// Fails are the effects of what does not work on an agent at all, in the order of the
// table of means, so that nobody trusts in it; none where the tables know of nothing.
func Fails(t *knowledge.Tables, of knowledge.AgentID) (all []knowledge.Effect) {
	target, ok := Target(t, of)
	if !ok {
		return nil
	}
	return FailsOn(t, target)
}

// FailsOn are the effects of what does not work on a target at all, in the order of the
// table of means.
func FailsOn(t *knowledge.Tables, target knowledge.TargetID) (all []knowledge.Effect) {
	for _, m := range t.Means() {
		if e, told := t.Effect(m.ID, target); told && e.Works == knowledge.NotWorks {
			all = append(all, e)
		}
	}
	return slices.Clip(all)
}
