package knowledge

import (
	"slices"
	"strings"
)

// The numbers by which it is judged what samples prove.
const (
	ValueChanceGoal  ValueID = "chance-goal"  // in a thousand: a chance of at most this is wanted
	ValueSampleApart ValueID = "sample-apart" // days from one sample of an animal to the next
	ValuePlanPool    ValueID = "plan-pool"    // the most animals in a pool of planned tests, until another number is entered
	ValuePlanRounds  ValueID = "plan-rounds"  // the most rounds of planned tests, likewise
)

// Span is a figure as a table tells of it, as whole numbers of the table's unit. The names
// of its parts are frozen: they stand in stored documents.
type Span struct {
	Low     int `json:"low"`
	Assumed int `json:"assumed"`
	High    int `json:"high"`
}

// Method names how a lab looks for a thing. Values are frozen; the text is
// "method." + id.
type Method string

// The methods.
const (
	PCR        Method = "pcr"
	AcidFast   Method = "acid-fast"  // a stained smear
	Flotation  Method = "flotation"  // with a direct smear
	Antibodies Method = "antibodies" // says that it was met, not that it is there
)

// Methods are all of them, in the order in which they are offered.
func Methods() []Method { return []Method{PCR, AcidFast, Flotation, Antibodies} }

// Blood is the material in which antibodies are looked for.
const Blood MaterialID = "blood"

// Sight is how well a thing is found in some materials by a method.
type Sight struct {
	ID          string
	Agent       AgentID
	Species     SpeciesID // empty: of any
	Materials   []MaterialID
	By          Method
	Sensitivity Span // in 1,000 samples of those that carry it and can be found to
	Right       int  // in 1,000 samples without it: "not detected"
	Share       Span // of the animal in the differences between samples, in 1,000
	Spread      int  // of the cycle at which samples are found, in tenths of a cycle
	Usable      int  // in 1,000 samples
	Source      string
}

// Assumed reports whether something of it was not published.
func (s Sight) Assumed() bool { return strings.Contains(s.Source, "assumed") }

// Carrier is how a thing is carried.
type Carrier struct {
	Agent  AgentID
	Latent Span // days
	Daily  Span // in 10,000 that share a room with one that carries it
	Clears bool // it can be got rid of
	Source string
}

// Origin is where an animal comes from, as far as it says how likely it carries a thing.
// Values are frozen; the text is "chance.origin." + value.
type Origin string

// The origins.
const (
	FromAny  Origin = "any"
	FromWild Origin = "wild"    // taken from the wild or ranched
	Cleared  Origin = "cleared" // it was detected and got rid of
)

// Prior is how likely an animal of an origin carries a thing before any sample.
type Prior struct {
	ID     string
	Agent  AgentID
	Origin Origin
	Chance Span // in 1,000
	Source string
}

// Assumed reports whether the chance was not published.
func (p Prior) Assumed() bool { return strings.Contains(p.Source, "assumed") }

// Sights are all rows, in the order of their table.
func (t *Tables) Sights() []Sight { return t.sights }

// SightsOf are the rows of a thing that speak of a species: its own before those of any,
// each in the order of their table. Of an empty species only those of any speak.
func (t *Tables) SightsOf(of AgentID, species SpeciesID) (all []Sight) {
	for _, whose := range slices.Compact([]SpeciesID{species, ""}) {
		for _, s := range t.sights {
			if s.Agent == of && s.Species == whose {
				all = append(all, s)
			}
		}
	}
	return all
}

// Sight is how well a thing is found in animals of a species, in a material by a method; where
// none is named by the usual one, which is that of any species if there is a row of it.
// ok is false where no figure is given.
func (t *Tables) Sight(of AgentID, species SpeciesID, in MaterialID, by Method) (s Sight, ok bool) {
	if usual, known := t.first(of, "", in, ""); known && by == "" {
		by = usual.By
	}
	return t.first(of, species, in, by)
}

// first is the first row of a thing that speaks of a species in a material.
func (t *Tables) first(of AgentID, species SpeciesID, in MaterialID, by Method) (s Sight, ok bool) {
	for _, s := range t.SightsOf(of, species) {
		if slices.Contains(s.Materials, in) && (by == "" || s.By == by) {
			return s, true
		}
	}
	return s, false
}

// Assumed reports whether something of it was not published.
func (c Carrier) Assumed() bool { return strings.Contains(c.Source, "assumed") }

// Carriers are all rows, in the order of their table.
func (t *Tables) Carriers() []Carrier { return t.carriers }

// Carrier is how a thing is carried; ok is false where chances are not worked out of it.
func (t *Tables) Carrier(of AgentID) (c Carrier, ok bool) {
	for _, c := range t.carriers {
		if c.Agent == of {
			return c, true
		}
	}
	return c, false
}

// Priors are all rows, in the order of their table.
func (t *Tables) Priors() []Prior { return t.priors }

// Prior is that of a thing by origin, of any origin where its own has no row.
func (t *Tables) Prior(of AgentID, from Origin) (p Prior) {
	for _, row := range t.priors {
		if row.Agent == of && (row.Origin == from || row.Origin == FromAny && p.ID == "") {
			p = row
		}
		if p.Origin == from && p.ID != "" {
			return p
		}
	}
	return p
}

// span reads three columns that do not fall.
func (l *loading) span(r row, low, assumed, high string, least, most int) Span {
	s := Span{l.number(r, low, least, most), l.number(r, assumed, least, most), l.number(r, high, least, most)}
	if s.Low > s.Assumed || s.Assumed > s.High {
		l.fault(r, assumed, "want a number between those beside it")
	}
	return s
}

func (l *loading) sight(r row) {
	taken := slices.ContainsFunc(l.t.sights, func(s Sight) bool { return s.ID == r.cells[0].text })
	s := Sight{
		ID: l.id(r, taken), Agent: l.ofAgent(r), Species: l.ofSpecies(r), By: Method(r.cell("by")),
		Sensitivity: l.span(r, "low", "assumed", "high", 1, 999), Right: l.number(r, "right", 1, 999),
		Share:  l.span(r, "share low", "share", "share high", 0, 950),
		Spread: l.number(r, "spread", 1, 200), Usable: l.number(r, "usable", 1, 990), Source: r.cell("source"),
	}
	if !slices.Contains(Methods(), s.By) {
		l.fault(r, "by", "want pcr, acid-fast, flotation or antibodies")
	}
	agent, _ := l.t.Agent(s.Agent)
	for _, id := range strings.Fields(r.cell("materials")) {
		m := MaterialID(id)
		if l.sees(s, m) || slices.Contains(s.Materials, m) || !slices.Contains(agent.Speaks, m) {
			l.fault(r, "materials", "want materials in which agents.txt says that it speaks, each once for a method")
		}
		s.Materials = append(s.Materials, m)
	}
	if s.Sensitivity.Low+s.Right <= 1000 {
		l.fault(r, "low", "found no oftener than by chance: low and right must be more than 1,000 together")
	}
	if (s.Sensitivity.High-(1000-s.Right))*1000 >= s.Usable*s.Right {
		l.fault(r, "high", "more is found than samples are usable")
	}
	l.t.sights = append(l.t.sights, s)
}

// sees reports whether an earlier row speaks of the same in a material.
func (l *loading) sees(s Sight, in MaterialID) bool {
	return slices.ContainsFunc(l.t.sights, func(o Sight) bool {
		return o.Agent == s.Agent && o.Species == s.Species && o.By == s.By && slices.Contains(o.Materials, in)
	})
}

// ofSpecies reads the species that a row is of; empty: of any.
func (l *loading) ofSpecies(r row) SpeciesID {
	id := SpeciesID(r.cell("species"))
	if id == "any" {
		return ""
	}
	if _, known := l.t.Species(id); !known {
		l.fault(r, "species", "want any, or the id of a row of species.txt")
	}
	return id
}

func (l *loading) carrier(r row) {
	_, taken := l.t.Carrier(AgentID(r.cells[0].text))
	c := Carrier{
		Agent: AgentID(l.id(r, taken)), Latent: l.span(r, "latent low", "latent", "latent high", 0, 1000),
		Daily: l.span(r, "daily low", "daily", "daily high", 0, 5000), Clears: l.yes(r, "clears"), Source: r.cell("source"),
	}
	l.ofAgent(r)
	if !slices.ContainsFunc(l.t.sights, func(s Sight) bool { return s.Agent == c.Agent && s.Species == "" }) {
		l.fault(r, "agent", "sight.txt has no row of it that is of any species")
	}
	l.t.carriers = append(l.t.carriers, c)
}

func (l *loading) prior(r row) {
	taken := slices.ContainsFunc(l.t.priors, func(p Prior) bool { return p.ID == r.cells[0].text })
	p := Prior{ID: l.id(r, taken), Agent: l.ofAgent(r), Origin: Origin(r.cell("origin")), Chance: l.span(r, "low", "assumed", "high", 1, 999), Source: r.cell("source")}
	if !slices.Contains([]Origin{FromAny, FromWild, Cleared}, p.Origin) || slices.ContainsFunc(l.t.priors, func(o Prior) bool { return o.Agent == p.Agent && o.Origin == p.Origin }) {
		l.fault(r, "origin", "want any, wild or cleared, each once of a thing")
	}
	if c, carried := l.t.Carrier(p.Agent); !carried || p.Origin == Cleared && !c.Clears {
		l.fault(r, "agent", "carriers.txt has no row of it, or says that it stays")
	}
	l.t.priors = append(l.t.priors, p)
}

// ofAgent reads the agent that a row is of.
func (l *loading) ofAgent(r row) AgentID {
	id := AgentID(r.cell("agent"))
	if _, known := l.t.Agent(id); !known {
		l.fault(r, "agent", "no row of agents.txt has this id")
	}
	return id
}

// allPriors wants one of any origin for each thing that chances are worked out of, and
// one after clearing where it clears.
func (l *loading) allPriors() {
	for _, c := range l.t.carriers {
		if l.t.Prior(c.Agent, FromAny).Origin != FromAny || c.Clears && l.t.Prior(c.Agent, Cleared).Origin != Cleared {
			l.faults = append(l.faults, &Fault{File: "priors.txt", Row: string(c.Agent), Reason: "how likely an animal carries it before any sample is missing"})
		}
	}
}
