package knowledge

import (
	"strconv"

	"coilward/model"
)

// Rhythm is how often an animal of one class is offered food and weighed.
type Rhythm struct {
	Class    ClassID
	Lightest model.Mass // from which on an animal of known mass is of the class
	// PreyLeast and PreyMost are percent of the body mass: all prey of one meal together.
	PreyLeast, PreyMost int
	// OfferFrom and OfferBy are days after the last offer: the first on which
	// food is offered again, and the last.
	OfferFrom, OfferBy int
	WeighBy            int // days from one weighing to the next
	Source             string
}

// ClassID names a class of animals. Values are frozen; the text is "age." + id.
type ClassID string

// Classes are the classes that the table of rhythms must hold, lightest first.
func Classes() []ClassID { return []ClassID{"hatchling", "juvenile", "subadult", "adult"} }

// MassesOf is the species whose masses stand in the table of rhythms, and in the
// values that tell a young animal by its mass.
const MassesOf SpeciesID = "python-regius"

// Rhythms are the rhythms of all classes, lightest first.
func (t *Tables) Rhythms() []Rhythm { return t.rhythms }

// Rhythm is the rhythm of a class; Load has made sure that each is there.
func (t *Tables) Rhythm(class ClassID) Rhythm {
	for _, r := range t.rhythms {
		if r.Class == class {
			return r
		}
	}
	return Rhythm{}
}

// RhythmOf is the rhythm of an animal of that mass.
func (t *Tables) RhythmOf(mass model.Mass) Rhythm {
	found := t.rhythms[0]
	for _, r := range t.rhythms[1:] {
		if mass.Milligrams >= r.Lightest.Milligrams {
			found = r
		}
	}
	return found
}

func (l *loading) rhythm(r row) {
	id := ClassID(r.cells[0].text)
	l.id(r, l.t.Rhythm(id).Class != "")
	next := len(l.t.rhythms)
	if next >= len(Classes()) || Classes()[next] != id {
		l.fault(r, "class", "want the classes hatchling, juvenile, subadult and adult in this order")
	}
	lightest := 0
	if next > 0 {
		lightest = int(l.t.rhythms[next-1].Lightest.Milligrams/1000) + 1
	}
	least := l.number(r, "prey least", 1, 50)
	from := l.number(r, "offer from", 1, 365)
	l.t.rhythms = append(l.t.rhythms, Rhythm{
		Class: id, Lightest: model.Grams(int64(l.number(r, "lightest g", lightest, 1_000_000))),
		PreyLeast: least, PreyMost: l.number(r, "prey most", least, 50),
		OfferFrom: from, OfferBy: l.number(r, "offer by", from, 365), WeighBy: l.number(r, "weigh by", 1, 365), Source: r.cell("source"),
	})
}

// rhythmic makes sure that every class has its rhythm, the first from no mass on.
func (l *loading) rhythmic() {
	if n := len(l.t.rhythms); n != len(Classes()) || !l.t.rhythms[0].Lightest.IsZero() {
		l.faults = append(l.faults, &Fault{File: "rhythm.txt", Value: strconv.Itoa(n), Reason: "want a row for each of the four classes, the first from 0 g on"})
	}
}
