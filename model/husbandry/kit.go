package husbandry

import (
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
func (s Standing) Last() (c Checked, ok bool) {
	if len(s.Checks) == 0 {
		return c, false
	}
	return s.Checks[len(s.Checks)-1], true
}

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

// Mixed are the animals that a tool goes to, where newcomers and others are among
// them: what one may carry reaches the other by the tool. Both are empty where it
// is not so. A tool of no place goes to all. A newcomer came within as many days
// as the table says; one that hatched on the day that it came did not come from
// elsewhere.
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
			if h.newcomer(t, id, at.Day()) {
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

func (h *House) newcomer(t *knowledge.Tables, id model.AnimalID, today model.Day) bool {
	came := h.came[id]
	return !came.IsZero() && lastDay(came)+model.Day(t.Value(knowledge.ValueNewcomer)) > today
}
