package positives

import (
	"fmt"
	"slices"

	"coilward/model"
	"coilward/model/contact"
	"coilward/model/knowledge"
	"coilward/model/samples"
)

// Marks are the animals in which something was detected that is not settled, and those
// near one, where that goes through a room.
type Marks struct {
	Detected, Near map[model.AnimalID]bool
	// Agents are what was detected in each of them, or in one that it was near.
	Agents map[model.AnimalID][]knowledge.AgentID
	// Of are what each of them is marked by.
	Of map[model.AnimalID][]Mark
}

// Mark is one result that is not settled, as it concerns an animal.
type Mark struct {
	Agent   knowledge.AgentID
	Sampled model.Day // of the sample in which it was detected
	Near    bool      // in another one, that the animal was near
}

// Marked tells in whom something was detected that is not settled: those of the open
// positives, and of the results for which none was opened.
func Marked(v model.View, t *knowledge.Tables) (Marks, error) {
	all, err := Unsettled(v, t)
	return MarksOf(all), err
}

// MarksOf are the marks of what is unsettled.
func MarksOf(unsettled []Trace) Marks {
	m := Marks{Detected: map[model.AnimalID]bool{}, Near: map[model.AnimalID]bool{}, Agents: map[model.AnimalID][]knowledge.AgentID{}, Of: map[model.AnimalID][]Mark{}}
	for _, trace := range unsettled {
		of := func(a model.AnimalID, near bool) {
			m.Of[a] = append(m.Of[a], Mark{Agent: trace.Agent, Sampled: trace.Sampled, Near: near})
			if !slices.Contains(m.Agents[a], trace.Agent) {
				m.Agents[a] = append(m.Agents[a], trace.Agent)
			}
		}
		for _, a := range trace.Animals {
			m.Detected[a] = true
			of(a, false)
		}
		for _, n := range trace.Exposed() {
			m.Near[n.Animal] = true
			of(n.Animal, true)
		}
	}
	return m
}

// Detected is a result that no positive was opened for yet.
type Detected struct {
	Sample  model.SampleID
	Agent   knowledge.AgentID
	Animals []model.AnimalID
	Taken   model.Moment
	At      model.Moment // when the lab reported it
}

// Unopened are the results of an animal that say "detected" and for which no positive
// was ever opened, in the order of the samples on its days, newest first.
func Unopened(v model.View, animal model.AnimalID) (all []Detected, err error) {
	var tested []samples.Stored
	var failed error
	err = v.Timeline(animal.Subject(), model.Beginning, model.EndOfTime, func(d model.Document) bool {
		if d.Type != model.TypeSample {
			return true
		}
		var s samples.Stored
		if s, failed = samples.Read(d); failed == nil {
			tested = append(tested, s)
		}
		return failed == nil
	})
	if err == nil {
		err = failed
	}
	if err != nil {
		return nil, fmt.Errorf("read what was detected: %w", err)
	}
	if len(tested) == 0 {
		return nil, nil
	}
	opened, err := contact.All(v)
	return without(opened, tested), err
}

// without are the results of samples that say "detected" and for which no positive was
// ever opened, in the order of the samples.
func without(opened []contact.Stored, tested []samples.Stored) (all []Detected) {
	for _, s := range tested {
		for _, agent := range s.For {
			r, there := s.Result(agent)
			known := slices.ContainsFunc(opened, func(p contact.Stored) bool { return p.Sample == s.ID && p.Agent == agent })
			if there && r.Outcome == samples.Detected && !known {
				all = append(all, Detected{Sample: s.ID, Agent: agent, Animals: s.Animals, Taken: s.Taken, At: r.At})
			}
		}
	}
	return all
}

// OfResult is the positive of a result, the newest opened where there are several; ok is
// false where none was opened.
func OfResult(v model.View, sample model.SampleID, agent knowledge.AgentID) (s contact.Stored, ok bool, err error) {
	all, err := contact.All(v)
	for _, p := range all {
		if p.Sample == sample && p.Agent == agent && (!ok || s.Opened.Before(p.Opened)) {
			s, ok = p, true
		}
	}
	return s, ok, err
}
