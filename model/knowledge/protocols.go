package knowledge

import (
	"slices"
	"strings"
)

// ProtocolID names what is asked of a newcomer. Those of the table are frozen; the
// text is "protocol." + id.
type ProtocolID string

// Protocol is what is asked of a newcomer before it is released.
type Protocol struct {
	ID ProtocolID `json:"id"`
	// Days are the fewest in the room, counted from when it, or anybody else, came in.
	Days  int     `json:"days"`
	Mites bool    `json:"mites"` // so many days without mites as the values say
	For   []Asked `json:"for,omitempty"`
	// Within is how many days before the release the last of each thing asked for was
	// taken, at the most.
	Within      int `json:"within"`
	Faecal      int `json:"faecal"`      // faecal samples in which worms and protozoa were not detected
	FaecalApart int `json:"faecalApart"` // days between them, at the least
	// CheckWithin is how many days before the release the last full check was made, at
	// the most.
	CheckWithin int    `json:"checkWithin"`
	Meals       int    `json:"meals"`  // taken of her own will and kept down
	Weight      int    `json:"weight"` // percent of the first comparable weight, at the least
	Watch       int    `json:"watch"`  // percent of it that an animal in a fast may come down to
	Sheds       int    `json:"sheds"`  // whole ones
	Source      string `json:"source,omitempty"`
}

// Asked is one thing that samples are to be looked through for.
type Asked struct {
	Agents      []AgentID `json:"agents"`      // any one of them
	NotDetected int       `json:"notDetected"` // in so many samples that speak
	Apart       int       `json:"apart"`       // days between them, at the least
}

// FaecalAgent is what faecal samples are looked through for.
const FaecalAgent AgentID = "worms-and-protozoa"

// Protocols are those of the table, shortest first.
func (t *Tables) Protocols() []Protocol { return t.protocols }

// Protocol is the one of that id.
func (t *Tables) Protocol(id ProtocolID) (Protocol, bool) {
	i := slices.IndexFunc(t.protocols, func(p Protocol) bool { return p.ID == id })
	if i < 0 {
		return Protocol{}, false
	}
	return t.protocols[i], true
}

// Faeces is the material of faecal samples.
const Faeces MaterialID = "faeces"

// tissue is of an animal that died.
const tissue MaterialID = "tissue"

// Speaks reports whether "not detected" of an agent in some sample of a living
// python can say anything.
func (t *Tables) Speaks(of AgentID) bool { return len(t.SpeakOf(of)) > 0 }

// SpeakOf are the materials of a living python of which "not detected" of an agent
// says something, in the order of the agent's row.
func (t *Tables) SpeakOf(of AgentID) (all []MaterialID) {
	a, _ := t.Agent(of)
	for _, m := range a.Speaks {
		if m != tissue {
			all = append(all, m)
		}
	}
	return all
}

// The bounds of a protocol's numbers.
const (
	MostProtocolDays  = 3650
	MostProtocolCount = 20
)

func (l *loading) protocol(r row) {
	_, taken := l.t.Protocol(ProtocolID(r.cells[0].text))
	days := func(column string, least int) int { return l.number(r, column, least, MostProtocolDays) }
	few := func(column string) int { return l.number(r, column, 0, MostProtocolCount) }
	p := Protocol{ID: ProtocolID(l.id(r, taken)), Days: days("days", 1), Mites: l.yes(r, "mites"), Within: days("within", 1),
		Faecal: few("faecal"), FaecalApart: days("faecal apart", 0), CheckWithin: days("check within", 0), Meals: few("meals"),
		Weight: l.number(r, "weight", 1, 100), Watch: l.number(r, "watch", 1, 100), Sheds: few("sheds"), Source: r.cell("source")}
	if p.Watch > p.Weight {
		l.fault(r, "watch", "want no more than the weight")
	}
	if n := len(l.t.protocols); n > 0 && l.t.protocols[n-1].Days >= p.Days {
		l.fault(r, "days", "want the shortest first")
	}
	for _, word := range words(r.cell("looked for")) {
		a := Asked{NotDetected: few("not detected"), Apart: days("apart", 0)}
		for id := range strings.SplitSeq(word, "/") {
			a.Agents = append(a.Agents, AgentID(id))
			if _, known := l.t.Agent(AgentID(id)); !known {
				l.fault(r, "looked for", "no row of agents.txt has the id "+id)
			}
		}
		if !slices.ContainsFunc(a.Agents, l.t.Speaks) {
			l.fault(r, "looked for", "no sample of a living python says anything of "+word+", so that it can never be met")
		}
		p.For = append(p.For, a)
	}
	l.t.protocols = append(l.t.protocols, p)
}
