package knowledge

import (
	"slices"
	"strconv"
	"strings"
)

// AgentID names what a sample is looked through for. Values are frozen; the text
// is "agent." + id.
type AgentID string

// Agent is what a sample is looked through for.
type Agent struct {
	ID     AgentID
	Family Family
	// Speaks are the materials of which "not detected" says something of a python;
	// of every other it says nothing.
	Speaks []MaterialID
	// Room is that all who share a room with one in which it was detected begin again;
	// else it goes by droppings and what they touch.
	Room bool
	// Weak are the materials of which "not detected" says something and not much: of so
	// many that had it, all of them together found it in Found. Of is 0 where no figure of
	// that was found, and then none is weak.
	Weak      []MaterialID
	Found, Of int
	Source    string
}

// Family is what sort of thing an agent is. Values are frozen.
type Family string

// The families.
const (
	Virus     Family = "virus"
	Protozoan Family = "protozoan"
	Parasite  Family = "parasite"
)

// MaterialID names what a sample is of. Values are frozen; the text is
// "material." + id.
type MaterialID string

// Material is what a sample is of.
type Material struct {
	ID     MaterialID
	Takes  Takes
	Keeps  int // the days within which it is looked through, 0: those of StageTaken
	Source string
}

// Takes is who takes a sample of a material. Values are frozen.
type Takes string

// Who takes a sample.
const (
	ByKeeper Takes = "keeper"
	InMouth  Takes = "mouth" // with the caution of looking into the mouth; else by the vet
	ByVet    Takes = "vet"
)

// StageID names where a sample is on its way to a result. Values are frozen.
type StageID string

// Usual is how long a sample usually stays at a stage.
type Usual struct {
	ID     StageID
	Days   int
	Source string
}

// The stages that the tables must tell of.
const (
	StageToTake StageID = "to-take"
	StageTaken  StageID = "taken"
	StageSent   StageID = "sent"
	StageAtLab  StageID = "at-lab"
)

func stageIDs() []StageID { return []StageID{StageToTake, StageTaken, StageSent, StageAtLab} }

// Usual is how long a sample usually stays at a stage; false: nobody waits there.
func (t *Tables) Usual(at StageID) (Usual, bool) {
	i := slices.IndexFunc(t.ways, func(u Usual) bool { return u.ID == at })
	if i < 0 {
		return Usual{}, false
	}
	return t.ways[i], true
}

// Agents are what samples are looked through for, in the order of their table.
func (t *Tables) Agents() []Agent { return t.agents }

// Agent is the agent of that id.
func (t *Tables) Agent(id AgentID) (Agent, bool) {
	i := slices.IndexFunc(t.agents, func(a Agent) bool { return a.ID == id })
	if i < 0 {
		return Agent{}, false
	}
	return t.agents[i], true
}

// Silent reports whether "not detected" of an agent in a material says nothing of a
// python: no source found it there.
func (t *Tables) Silent(of AgentID, in MaterialID) bool {
	a, _ := t.Agent(of)
	return !slices.Contains(a.Speaks, in)
}

// Weak reports whether "not detected" of an agent in a material says something and not
// much.
func (t *Tables) Weak(of AgentID, in MaterialID) bool {
	a, _ := t.Agent(of)
	return slices.Contains(a.Weak, in)
}

// Confined reports whether an agent goes by droppings and what they touch, so that no day
// of others in the room begins again. One that is not known is taken to go through it.
func (t *Tables) Confined(of AgentID) bool {
	a, known := t.Agent(of)
	return known && !a.Room
}

// Materials are what samples are of, in the order of their table.
func (t *Tables) Materials() []Material { return t.materials }

// Material is the material of that id.
func (t *Tables) Material(id MaterialID) (Material, bool) {
	i := slices.IndexFunc(t.materials, func(m Material) bool { return m.ID == id })
	if i < 0 {
		return Material{}, false
	}
	return t.materials[i], true
}

func (l *loading) agent(r row) {
	_, taken := l.t.Agent(AgentID(r.cells[0].text))
	a := Agent{ID: AgentID(l.id(r, taken)), Family: Family(r.cell("family")), Source: r.cell("source")}
	if !slices.Contains([]Family{Virus, Protozoan, Parasite}, a.Family) {
		l.fault(r, "family", "want virus, protozoan or parasite")
	}
	if speaks := r.cell("speaks"); speaks != "-" {
		for _, id := range strings.Fields(speaks) {
			if _, known := l.t.Material(MaterialID(id)); !known || slices.Contains(a.Speaks, MaterialID(id)) {
				l.fault(r, "speaks", "want each once, a row of materials.txt, or -")
			}
			a.Speaks = append(a.Speaks, MaterialID(id))
		}
	}
	if a.Room = r.cell("room") == "yes"; !a.Room && r.cell("room") != "no" {
		l.fault(r, "room", "want yes or no")
	}
	l.weak(r, &a)
	l.t.agents = append(l.t.agents, a)
}

// weak reads in which materials an agent is missed often, and how often it was found.
func (l *loading) weak(r row, a *Agent) {
	weak, found := r.cell("weak"), r.cell("found")
	if weak == "-" && found == "-" {
		return
	}
	for _, id := range strings.Fields(weak) {
		if !slices.Contains(a.Speaks, MaterialID(id)) || slices.Contains(a.Weak, MaterialID(id)) {
			l.fault(r, "weak", "want each once, a material that speaks, or -")
		}
		a.Weak = append(a.Weak, MaterialID(id))
	}
	n, of, _ := strings.Cut(found, " of ")
	var first, second error
	a.Found, first = strconv.Atoi(n)
	if a.Of, second = strconv.Atoi(of); first != nil || second != nil || a.Found < 0 || a.Found > a.Of || a.Of == 0 {
		l.fault(r, "found", "want so many of so many, as 2 of 5, or - where none is weak")
	}
}

func (l *loading) way(r row) {
	_, taken := l.t.Usual(StageID(r.cells[0].text))
	u := Usual{ID: StageID(l.id(r, taken)), Source: r.cell("source")}
	if !slices.Contains(stageIDs(), u.ID) {
		l.fault(r, "stage", "want to-take, taken, sent or at-lab")
	}
	u.Days = l.number(r, "days", 1, 365)
	l.t.ways = append(l.t.ways, u)
}

// allWays wants a row of each stage.
func (l *loading) allWays() {
	for _, id := range stageIDs() {
		if _, ok := l.t.Usual(id); !ok {
			l.faults = append(l.faults, &Fault{File: "ways.txt", Row: string(id), Reason: "how long a sample stays there is missing"})
		}
	}
}

func (l *loading) material(r row) {
	_, taken := l.t.Material(MaterialID(r.cells[0].text))
	m := Material{ID: MaterialID(l.id(r, taken)), Takes: Takes(r.cell("takes")), Source: r.cell("source")}
	if !slices.Contains([]Takes{ByKeeper, InMouth, ByVet}, m.Takes) {
		l.fault(r, "takes", "want keeper, mouth or vet")
	}
	if r.cell("keeps") != "-" {
		m.Keeps = l.number(r, "keeps", 1, 365)
	}
	l.t.materials = append(l.t.materials, m)
}
