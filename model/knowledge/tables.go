package knowledge

import (
	"slices"

	"coilward/model"
	"coilward/model/body"
)

// Tables is one loaded and validated set of tables. Callers do not change what
// they are handed.
type Tables struct {
	stops    []Stop
	noted    []Stop
	findings []Finding
	clusters map[ClusterID][]FindingID
	rules    []Rule
	values   map[ValueID]Value
	species  []Species
	rhythms  []Rhythm
	poses    []Pose
	tells    []Tell

	signs      []Sign
	restraints []Restraint

	agents    []Agent
	materials []Material
	ways      []Usual
	protocols []Protocol
	miteLife  []MiteStage
	answers   []Answer
	positive  []PositiveAct
	sights    []Sight
	carriers  []Carrier
	priors    []Prior

	cleaning means
	rounds   rounds
	cold     cold
	climate  []ClimateTarget
	hash     string
}

// Hash is the SHA-256, in lower-case hex, of what the tables say; remarks and
// the width of columns do not count.
func (t *Tables) Hash() string { return t.hash }

// Stops are the stops of the check in the order in which they are walked.
func (t *Tables) Stops() []Stop { return t.stops }

// Stop is the stop or noted group of that id.
func (t *Tables) Stop(id StopID) (Stop, bool) {
	for _, list := range [][]Stop{t.stops, t.noted} {
		for _, s := range list {
			if s.ID == id {
				return s, true
			}
		}
	}
	return Stop{}, false
}

// StopsAt are the stops that look at a region, in the order of the walk.
func (t *Tables) StopsAt(region body.RegionID) []StopID {
	var at []StopID
	for _, s := range t.stops {
		for _, r := range s.Regions {
			if r == region {
				at = append(at, s.ID)
			}
		}
	}
	return at
}

// Findings are all findings, in the order of their table.
func (t *Tables) Findings() []Finding { return t.findings }

// Finding is the finding of that id.
func (t *Tables) Finding(id FindingID) (Finding, bool) {
	for _, f := range t.findings {
		if f.ID == id {
			return f, true
		}
	}
	return Finding{}, false
}

// Rules are the urgency rules in the order of their table.
func (t *Tables) Rules() []Rule { return t.rules }

// Rule is the rule of that id.
func (t *Tables) Rule(id RuleID) (Rule, bool) {
	for _, r := range t.rules {
		if r.ID == id {
			return r, true
		}
	}
	return Rule{}, false
}

// Cluster are the findings that count together under that id.
func (t *Tables) Cluster(id ClusterID) []FindingID { return t.clusters[id] }

// Value is the number of that id in its unit; Load has made sure that every
// named one is there.
func (t *Tables) Value(id ValueID) int { return t.values[id].Number }

// ValueRow is a number with its unit and source.
func (t *Tables) ValueRow(id ValueID) (Value, bool) {
	v, ok := t.values[id]
	return v, ok
}

// Asks reports whether a rule about that finding at that stop asks the condition.
func (t *Tables) Asks(stop StopID, what FindingID, c Condition) bool {
	return slices.ContainsFunc(t.rules, func(r Rule) bool {
		return len(r.Findings) > 0 && r.At(stop, what) && slices.ContainsFunc(r.When, func(k Clause) bool { return k.Condition == c })
	})
}

// Assumed are the numbers a rule's level rests on that are a choice of this
// program: those that its conditions ask.
func (t *Tables) Assumed(r Rule) []Value {
	var found []Value
	for _, c := range r.When {
		if id, asks := c.Condition.rests(); asks && t.values[id].Assumed() {
			found = append(found, t.values[id])
		}
	}
	return found
}

// SecondPerson reports whether an animal of that species and mass (zero: not
// known) is handled by two people.
func (t *Tables) SecondPerson(id SpeciesID, mass model.Mass) bool {
	if mass.IsZero() {
		mass = t.Heaviest(id)
	}
	return mass.Milligrams >= model.Grams(int64(t.Value(ValueSecondPerson))).Milligrams
}

// SpeciesList are the species profiles in the order of their table.
func (t *Tables) SpeciesList() []Species { return t.species }

// Species is the profile of that id.
func (t *Tables) Species(id SpeciesID) (Species, bool) {
	for _, s := range t.species {
		if s.ID == id {
			return s, true
		}
	}
	return Species{}, false
}

// Heaviest is the largest mass that an animal of that species may be given; of
// an unknown species, that of the heaviest profile.
func (t *Tables) Heaviest(id SpeciesID) model.Mass {
	if s, ok := t.Species(id); ok {
		return s.Heaviest
	}
	var most model.Mass
	for _, s := range t.species {
		if s.Heaviest.Milligrams > most.Milligrams {
			most = s.Heaviest
		}
	}
	return most
}
