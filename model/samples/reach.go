package samples

import (
	"slices"

	"coilward/model"
	"coilward/model/knowledge"
)

// Reach is what "not detected" of a thing in a material leaves open: that it says nothing
// of a python, or that such samples miss it often, and how often. ok is false where
// neither is known.
func Reach(t *knowledge.Tables, of knowledge.AgentID, in knowledge.MaterialID) (l model.Label, ok bool) {
	switch a, _ := t.Agent(of); {
	case t.Silent(of, in):
		return model.Label{Key: "samples.silent"}, true
	case t.Weak(of, in):
		return model.Label{Key: "samples.weak", Gaps: map[string]model.Gap{"Found": model.CountGap(a.Found), "Of": model.CountGap(a.Of)}}, true
	}
	return model.Label{}, false
}

// LeavesOpen is what the answer of a sample leaves open: of "not detected" what Reach
// says, and of antibodies, detected or not, that they do not tell of the thing itself.
func LeavesOpen(t *knowledge.Tables, s Sample, of knowledge.AgentID) (l model.Label, ok bool) {
	switch {
	case !s.LookedThrough(of):
		return model.Label{}, false
	case s.Method(of) == knowledge.Antibodies && s.Outcome(of) == Detected:
		return model.Label{Key: "samples.met"}, true
	case s.Method(of) == knowledge.Antibodies:
		return model.Label{Key: "samples.not-met"}, true
	case s.Outcome(of) == NotDetected:
		return Reach(t, of, s.Material)
	}
	return model.Label{}, false
}

// Methods are the methods that are asked about where a thing was looked for in a material:
// those that make a difference to what the answer says. Where no figures tell how well the
// thing is found there, only antibodies do, and those are looked for in blood.
func Methods(t *knowledge.Tables, of knowledge.AgentID, in knowledge.MaterialID) []knowledge.Method {
	usual, known := t.Sight(of, "", in, "")
	switch {
	case known:
		return slices.DeleteFunc(knowledge.Methods(), func(m knowledge.Method) bool { return m == usual.By })
	case in == knowledge.Blood:
		return []knowledge.Method{knowledge.Antibodies}
	}
	return nil
}
