package samples

import (
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
