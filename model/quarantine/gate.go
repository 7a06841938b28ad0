package quarantine

import (
	"slices"

	"coilward/model"
	"coilward/model/knowledge"
)

// ItemID names one thing that is asked. Values are frozen; the text is
// "quarantine.item." + value.
type ItemID string

// What can be asked, in the order of the list.
const (
	InRoom    ItemID = "in-room"
	MiteFree  ItemID = "mite-free"
	LookedFor ItemID = "looked-for"
	Faecal    ItemID = "faecal"
	NoneFound ItemID = "detected"
	FullCheck ItemID = "check"
	NothingUp ItemID = "open"
	Meals     ItemID = "meals"
	Weighed   ItemID = "weight"
	WholeShed ItemID = "shed"
	NoneAway  ItemID = "pending"
)

// Items are all of them.
func Items() []ItemID {
	return []ItemID{InRoom, MiteFree, LookedFor, Faecal, NoneFound, FullCheck, NothingUp, Meals, Weighed, WholeShed, NoneAway}
}

// State is how a line stands. Values are frozen; the text is "quarantine.state." +
// value.
type State string

// The states. Watch is met, and shown.
const (
	Met        State = "met"
	Watch      State = "watch"
	NotMet     State = "not-met"
	CannotTell State = "cannot-tell"
)

// States are all states.
func States() []State { return []State{Met, Watch, NotMet, CannotTell} }

// What stands for an item, a state and a protocol of another version of the program, in
// what was kept of a release.
const (
	UnknownItem     ItemID               = "unknown"
	UnknownState    State                = "unknown"
	UnknownProtocol knowledge.ProtocolID = "unknown"
)

// Told are lines as they were kept, with those words for what this version does not know.
func Told(lines []Line) []Line {
	all := slices.Clone(lines)
	for i, l := range all {
		if !slices.Contains(Items(), l.Item) {
			all[i].Item = UnknownItem
		}
		if !slices.Contains(States(), l.State) {
			all[i].State = UnknownState
		}
	}
	return all
}

// Met reports whether the line is met.
func (s State) Met() bool { return s == Met || s == Watch }

// Line is one thing that is asked, and how it stands.
type Line struct {
	Item   ItemID              `json:"item"`
	Agents []knowledge.AgentID `json:"agents,omitempty"` // of LookedFor and Faecal: any one of them
	State  State               `json:"state"`
	On     []model.ID          `json:"on,omitempty"` // the entries, samples and stays that it rests on
	Have   int                 `json:"have"`         // of Want: days, results, meals, sheds, percent
	Want   int                 `json:"want"`
	// Since is the day on which it turned true and has been since; 0: it is not met.
	Since model.Day `json:"since,omitempty"`
	// Until is the last day on which it is met if nothing more is done; 0: it stays.
	Until model.Day `json:"until,omitempty"`
	// Earliest is the earliest day on which it can be met, as Since where it is. The
	// days that a lab takes come on top.
	Earliest model.Day `json:"earliest"`
	// Again is the day from which on it counts anew, where it does; the first reason
	// says why.
	Again model.Day `json:"again,omitempty"`
	// NoDay is that time alone does not meet it: something must be settled first, and
	// Earliest is no more than a day before which it cannot be met.
	NoDay   bool          `json:"no-day,omitempty"`
	Reasons []model.Label `json:"reasons,omitempty"`
}

// Gate is the whole list on a day.
type Gate struct {
	Protocol Protocol
	Day      model.Day
	Lines    []Line
	// Earliest is the earliest release: the latest of the lines' days.
	Earliest model.Day
	Met      bool
}

// Unmet are the lines that are not met.
func (g Gate) Unmet() []Line {
	return slices.DeleteFunc(slices.Clone(g.Lines), func(l Line) bool { return l.State.Met() })
}

// Holds are the lines that hold the release: of those not met, the ones with the
// latest day.
func (g Gate) Holds() []Line {
	return slices.DeleteFunc(g.Unmet(), func(l Line) bool { return l.Earliest != g.Earliest })
}

// Stale reports whether a line that is met today is so no more on the day of the
// earliest release if nothing more is done for it.
func (g Gate) Stale(l Line) bool { return l.State.Met() && l.Until != 0 && l.Until < g.Earliest }

// Judge holds the facts against a protocol.
func Judge(t *knowledge.Tables, p Protocol, f Facts) Gate {
	g := Gate{Protocol: p, Day: f.Today, Met: true}
	for _, judge := range rules(t, p) {
		l := judge(f, f.Today)
		if l.State.Met() {
			if l.Since == 0 {
				l.Since = since(judge, f)
			}
			l.Earliest = l.Since
		}
		g.Lines = append(g.Lines, l)
		g.Earliest = max(g.Earliest, l.Earliest)
		g.Met = g.Met && l.State.Met()
	}
	return g
}

// rule judges one line by what was known on a day.
type rule func(f Facts, on model.Day) Line

// rules are those of a protocol, in the order of the list.
func rules(t *knowledge.Tables, p Protocol) []rule {
	all := []rule{func(f Facts, on model.Day) Line { return inRoom(p, f, on) }}
	if p.Mites {
		all = append(all, func(f Facts, _ model.Day) Line { return miteFree(t, f) })
	}
	for _, a := range p.For {
		if a.NotDetected > 0 {
			all = append(all, func(f Facts, on model.Day) Line { return looked(t, p, a, f, on) })
		}
	}
	if p.Faecal > 0 {
		all = append(all, func(f Facts, on model.Day) Line { return faecal(p, f, on) })
	}
	all = append(all, func(f Facts, on model.Day) Line { return noneFound(p, f, on) }, func(f Facts, on model.Day) Line { return checked(p, f, on) }, func(f Facts, _ model.Day) Line { return nothingUp(f) })
	if p.Meals > 0 {
		all = append(all, func(f Facts, on model.Day) Line { return eaten(t, p, f, on) })
	}
	all = append(all, func(f Facts, on model.Day) Line { return weighed(t, p, f, on) })
	if p.Sheds > 0 {
		all = append(all, func(f Facts, on model.Day) Line { return shed(p, f, on) })
	}
	return append(all, func(f Facts, on model.Day) Line { return noneAway(p, f, on) })
}

// since is the first of the days in a row up to today on which a line is met, each
// by what was known then.
func since(judge rule, f Facts) model.Day {
	on := f.Today
	for on > f.Arrived && judge(f, on-1).State.Met() {
		on--
	}
	return on
}
