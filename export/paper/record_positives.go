package paper

import (
	"fmt"
	"slices"

	"coilward/model"
	"coilward/model/knowledge"
	"coilward/model/positives"
)

// OpenPositive is a positive that concerns the animal and is not closed; it counts from
// the day of its result, whether somebody opened it yet or not.
type OpenPositive struct {
	Agent knowledge.AgentID
	// Since is when its own was opened, or reported where nobody has; or since when it
	// was near another's.
	Since model.Day
	Near  bool // it was found in another one
}

// openPositives are those in which the animal stands, then those that it was near.
func openPositives(v model.View, t *knowledge.Tables, animal model.AnimalID) (all []OpenPositive, err error) {
	traces, err := positives.Unsettled(v, t)
	if err != nil {
		return nil, fmt.Errorf("gather the positives: %w", err)
	}
	for _, trace := range traces {
		if slices.Contains(trace.Animals, animal) {
			since := trace.Opened
			if since.IsZero() {
				since = trace.Reported
			}
			all = append(all, OpenPositive{Agent: trace.Agent, Since: since.Day()})
		}
	}
	for _, trace := range traces {
		for _, near := range trace.Exposed() {
			if near.Animal == animal {
				all = append(all, OpenPositive{Agent: trace.Agent, Since: near.First(), Near: true})
			}
		}
	}
	return all, nil
}

// openPositives says of each what is not done yet.
func (r record) openPositives() []string {
	return saidOfPositives(r.Positives, "paper.positive.own", r.text)
}

// saidOfPositives says of each what is not done yet, of its own ones by the key.
func saidOfPositives(open []OpenPositive, own string, text Text) (said []string) {
	for _, p := range open {
		key := own
		if p.Near {
			key = "paper.positive.near"
		}
		said = append(said, text.Say(key, gaps{"Agent": text.Say("agent." + string(p.Agent)), "Day": p.Since}))
	}
	return said
}
