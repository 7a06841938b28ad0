package knowledge

import "slices"

// Answer is what a lab's answer about a thing is worth before anything is known of
// the animal.
type Answer struct {
	Agent AgentID
	// FalseAlarm is that a first "detected" may be one, which is assumed: how often it
	// is one is not known.
	FalseAlarm bool
	// SpeaksAfter is how many days after the last day on which an animal may have
	// caught it "not detected" says something of that day; Known: a figure was found.
	SpeaksAfter int
	Known       bool
	Source      string
}

// Answers are what answers are worth, one for each of the agents.
func (t *Tables) Answers() []Answer { return t.answers }

// Answer is what answers about an agent are worth.
func (t *Tables) Answer(of AgentID) (Answer, bool) {
	return one(t.answers, func(a Answer) bool { return a.Agent == of })
}

// PositiveActID names one thing to do once something was detected. Values are frozen;
// the texts are "positive.act." + id and "positive.act-what." + id.
type PositiveActID string

// PositiveAct is one thing to do once something was detected.
type PositiveAct struct {
	ID     PositiveActID
	For    PositiveFor
	Source string
}

// PositiveFor is when a thing is to be done. Values are frozen.
type PositiveFor string

// When a thing is to be done.
const (
	ForAll       PositiveFor = "all"
	ForPool      PositiveFor = "pool"  // of several animals
	ForDoubt     PositiveFor = "doubt" // of one animal, and it may be a false alarm
	ForSure      PositiveFor = "sure"  // of one animal, where that is not assumed
	ForNear      PositiveFor = "near"  // and it goes through a room
	ForNewcomers PositiveFor = "newcomers"
	ForRoom      PositiveFor = "room"      // it goes through a room
	ForDroppings PositiveFor = "droppings" // it goes by droppings and what they touch
)

// PositiveActs are what to do once something was detected, in their order.
func (t *Tables) PositiveActs() []PositiveAct { return t.positive }

func (l *loading) answer(r row) {
	_, taken := l.t.Answer(AgentID(r.cells[0].text))
	a := Answer{Agent: AgentID(l.id(r, taken)), FalseAlarm: l.yes(r, "false alarm"), Source: r.cell("source")}
	if _, known := l.t.Agent(a.Agent); !known {
		l.fault(r, "agent", "no row of agents.txt has this id")
	}
	if r.cell("speaks after") != "-" {
		a.SpeaksAfter, a.Known = l.number(r, "speaks after", 1, 3650), true
	}
	l.t.answers = append(l.t.answers, a)
}

func (l *loading) positiveAct(r row) {
	id := PositiveActID(r.cells[0].text)
	taken := slices.ContainsFunc(l.t.positive, func(a PositiveAct) bool { return a.ID == id })
	a := PositiveAct{ID: PositiveActID(l.id(r, taken)), For: PositiveFor(r.cell("for")), Source: r.cell("source")}
	if !slices.Contains([]PositiveFor{ForAll, ForPool, ForDoubt, ForSure, ForNear, ForNewcomers, ForRoom, ForDroppings}, a.For) {
		l.fault(r, "for", "want all, pool, doubt, sure, near, newcomers, room or droppings")
	}
	l.t.positive = append(l.t.positive, a)
}
