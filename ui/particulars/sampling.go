package particulars

import (
	"strings"

	"coilward/model"
	"coilward/model/knowledge"
	"coilward/ui/place"
)

// Sampling is a sample that is asked for: what it is of, where that is said, and what
// is to be looked for in it.
type Sampling struct {
	Material knowledge.MaterialID // empty: the person says it
	For      []knowledge.AgentID
}

// Route leads to the tray, to such a sample of an animal: to the one that is laid out
// for it, else to a new one in which this is chosen.
func (s Sampling) Route(of model.AnimalID) place.Route {
	parts := []string{"sample", string(s.Material)}
	for _, a := range s.For {
		parts = append(parts, string(a))
	}
	return place.Route{To: place.Tray, Subject: of.ID, Page: strings.Join(parts, ":")}
}

// SamplingOf is the sample that the page of a route asks for; false: it asks for none.
func SamplingOf(page string) (s Sampling, ok bool) {
	parts := strings.Split(page, ":")
	if len(parts) < 2 || parts[0] != "sample" {
		return s, false
	}
	s.Material = knowledge.MaterialID(parts[1])
	for _, a := range parts[2:] {
		s.For = append(s.For, knowledge.AgentID(a))
	}
	return s, true
}
