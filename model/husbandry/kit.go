package husbandry

import (
	"slices"

	"coilward/model"
	"coilward/model/knowledge"
)

// Standing is an instrument with its checks and what follows from them.
type Standing struct {
	StoredInstrument
	Checks   []Checked // oldest first
	Check    Due       // when it is to be checked again
	Lamp     Due       // when a lamp is to be changed
	Doubtful []Span    // in which its readings are doubtful
}

// Last is the newest check; ok is false where there is none.
func (s Standing) Last() (c Checked, ok bool) { return LastCheck(s.Checks) }

// Stand tells what follows from the checks of an instrument, oldest first.
func Stand(t *knowledge.Tables, i StoredInstrument, checks []Checked) Standing {
	return Standing{StoredInstrument: i, Checks: checks, Check: CheckDue(t, i, checks), Lamp: LampDue(t, i), Doubtful: Doubtful(checks)}
}

// Standings are all instruments with what follows from their checks, in the order
// in which they were added.
func Standings(v model.View, t *knowledge.Tables) ([]Standing, error) {
	stored, err := Instruments(v)
	if err != nil {
		return nil, err
	}
	var found []Standing
	for _, i := range stored {
		checks, err := Checks(v, i.ID)
		if err != nil {
			return nil, err
		}
		found = append(found, Stand(t, i, checks))
	}
	return found, nil
}

// ToolStanding is a tool with its last cleaning, and the animals between which it
// may carry something, as Mixed names them; one that is no longer used carries
// nothing.
type ToolStanding struct {
	StoredTool
	Cleaned           Cleaned // zero: never
	Newcomers, Others []model.AnimalID
}

// Kit are all instruments and tools of a collection with what follows from their
// checks and cleanings: those in use first, then by name.
type Kit struct {
	Instruments []Standing
	Tools       []ToolStanding
	House       *House
}

// ReadKit reads the instruments and tools.
func ReadKit(v model.View, t *knowledge.Tables) (k Kit, err error) {
	if k.House, err = ReadHouse(v); err != nil {
		return k, err
	}
	if k.Instruments, err = Standings(v, t); err != nil {
		return k, err
	}
	tools, err := Tools(v)
	if err != nil {
		return k, err
	}
	for _, stored := range tools {
		cleanings, err := Cleanings(v, stored.ID.Subject())
		if err != nil {
			return k, err
		}
		tool := ToolStanding{StoredTool: stored}
		if len(cleanings) > 0 {
			tool.Cleaned = cleanings[0]
		}
		if stored.Closed.IsZero() {
			tool.Newcomers, tool.Others = k.House.Mixed(t, stored.Tool, v.Now())
		}
		k.Tools = append(k.Tools, tool)
	}
	slices.SortStableFunc(k.Instruments, func(a, b Standing) int { return byUse(a.Closed, b.Closed, a.Name, b.Name) })
	slices.SortStableFunc(k.Tools, func(a, b ToolStanding) int { return byUse(a.Closed, b.Closed, a.Name, b.Name) })
	return k, nil
}

// byUse orders what is in use before what is not, then by name.
func byUse(closedA, closedB model.Date, nameA, nameB string) int {
	switch {
	case closedA.IsZero() == closedB.IsZero():
		return model.Natural(fold(nameA), fold(nameB))
	case closedA.IsZero():
		return -1
	}
	return 1
}

// Mixed are the animals that a tool goes to, where newcomers and others are among
// them: what one may carry reaches the other by the tool. Both are empty where it
// is not so. A tool of no place goes to all.
func (h *House) Mixed(t *knowledge.Tables, tool Tool, at model.Moment) (newcomers, others []model.AnimalID) {
	places := []model.PlaceID{tool.Place}
	if tool.Place.IsZero() {
		places = nil
		for _, p := range h.In(model.PlaceID{}) {
			places = append(places, p.ID)
		}
	}
	for _, place := range places {
		for _, id := range h.Living(place, at) {
			if h.Newcomer(t, id, at.Day()) {
				newcomers = append(newcomers, id)
			} else {
				others = append(others, id)
			}
		}
	}
	if len(newcomers) == 0 || len(others) == 0 {
		return nil, nil
	}
	return newcomers, others
}
