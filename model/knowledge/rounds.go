package knowledge

import (
	"slices"
	"strings"
)

// RoundID names an order in which the animals of a house are gone through. Values are
// frozen; the texts are "round.order." + id and "round.order-what." + id.
type RoundID string

// RoundOrder is one such order.
type RoundOrder struct {
	ID RoundID
	// Classes are all classes of a round, from the cleanest to the last.
	Classes []string
	// Apart is the class that is gone through in a round of its own; empty: none.
	Apart  string
	Source string
}

// MeasureID names what lies between two animals of a round. Values are frozen; the
// text is "round.measure." + id.
type MeasureID string

// Measure is one thing that is done between animals.
type Measure struct {
	ID     MeasureID
	Rounds bool // before another round, and not between the animals of one
	Source string
}

// Suspect is one target that counts after an animal of a class.
type Suspect struct {
	Class  string
	Target TargetID
	Source string
}

// rounds are the tables of going through a house.
type rounds struct {
	orders   []RoundOrder
	measures []Measure
	suspects []Suspect
}

// roundClasses are the frozen names of the classes.
var roundClasses = []string{"resident", "look-again", "near-positive", "newcomer", "ill"}

// Rounds are the orders that can be chosen, the one that is offered first at the front.
func (t *Tables) Rounds() []RoundOrder { return t.rounds.orders }

// Round is the order of that id.
func (t *Tables) Round(id RoundID) (RoundOrder, bool) {
	return one(t.rounds.orders, func(o RoundOrder) bool { return o.ID == id })
}

// Measures are what lies between the animals of a round, in its order.
func (t *Tables) Measures() []Measure { return t.rounds.measures }

// Suspects are the targets that count after animals of a class, where nothing was
// detected that says it.
func (t *Tables) Suspects() []Suspect { return t.rounds.suspects }

func (l *loading) roundRow(r row) {
	_, taken := l.t.Round(RoundID(r.cells[0].text))
	o := RoundOrder{ID: RoundID(l.id(r, taken)), Apart: dash(r.cell("apart")), Source: r.cell("source")}
	for _, c := range strings.Split(r.cell("classes"), ",") {
		o.Classes = append(o.Classes, strings.TrimSpace(c))
	}
	if sorted := slices.Sorted(slices.Values(o.Classes)); !slices.Equal(sorted, slices.Sorted(slices.Values(roundClasses))) {
		l.fault(r, "classes", "want each of "+strings.Join(roundClasses, ", ")+" once")
	}
	if o.Apart != "" && o.Apart != o.Classes[len(o.Classes)-1] {
		l.fault(r, "apart", "want the last of the classes, or -")
	}
	l.t.rounds.orders = append(l.t.rounds.orders, o)
}

func (l *loading) measureRow(r row) {
	id := MeasureID(r.cells[0].text)
	taken := slices.ContainsFunc(l.t.rounds.measures, func(m Measure) bool { return m.ID == id })
	m := Measure{ID: MeasureID(l.id(r, taken)), Rounds: r.cell("at") == "rounds", Source: r.cell("source")}
	if !m.Rounds && r.cell("at") != "classes" {
		l.fault(r, "at", "want classes or rounds")
	}
	l.t.rounds.measures = append(l.t.rounds.measures, m)
}

func (l *loading) suspectRow(r row) {
	s := Suspect{Class: r.cell("class"), Target: TargetID(r.cell("target")), Source: r.cell("source")}
	if !slices.Contains(roundClasses, s.Class) {
		l.fault(r, "class", "want one of "+strings.Join(roundClasses, ", "))
	}
	if _, known := l.t.Target(s.Target); !known {
		l.fault(r, "target", "no row of targets.txt has this id")
	}
	if slices.ContainsFunc(l.t.rounds.suspects, func(o Suspect) bool { return o.Class == s.Class && o.Target == s.Target }) {
		l.fault(r, "target", "an earlier row names this target of this class already")
	}
	if s.Source == "" {
		l.fault(r, "source", "every row names its source")
	}
	l.t.rounds.suspects = append(l.t.rounds.suspects, s)
}
