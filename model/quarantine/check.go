package quarantine

import (
	"slices"
	"strconv"

	"coilward/model"
	"coilward/model/knowledge"
)

func mend(field, value, reason string, gaps map[string]model.Gap) *model.Refusal {
	return &model.Refusal{Field: field, Value: value, Reason: reason, Gaps: gaps, Answer: model.Mend}
}

// bound is one number of a protocol with what it may be.
type bound struct {
	field              string
	value, least, most int
}

// checkNumbers refuses numbers that no protocol can have.
func checkNumbers(p Protocol) *model.Refusal {
	const days, count = knowledge.MostProtocolDays, knowledge.MostProtocolCount
	all := []bound{{"protocol-days", p.Days, 1, days}, {"protocol-within", p.Within, 1, days}, {"protocol-faecal", p.Faecal, 0, count},
		{"protocol-faecal-apart", p.FaecalApart, 0, days}, {"protocol-check", p.CheckWithin, 0, days}, {"protocol-meals", p.Meals, 0, count},
		{"protocol-weight", p.Weight, 1, 100}, {"protocol-watch", p.Watch, 1, p.Weight}, {"protocol-sheds", p.Sheds, 0, count}}
	for _, a := range p.For {
		all = append(all, bound{"protocol-results", a.NotDetected, 1, count}, bound{"protocol-apart", a.Apart, 0, days})
	}
	for _, b := range all {
		if b.value < b.least || b.value > b.most {
			return mend(b.field, strconv.Itoa(b.value), "number.range", map[string]model.Gap{"Least": model.CountGap(b.least), "Most": model.CountGap(b.most)})
		}
	}
	return nil
}

// checkAgents refuses a thing that is asked for twice, or by nothing.
func checkAgents(p Protocol) *model.Refusal {
	asked := map[knowledge.AgentID]bool{}
	for _, a := range p.For {
		if len(a.Agents) == 0 {
			return mend("looked-for", "", "sample.for-nothing", nil)
		}
		for _, of := range a.Agents {
			if asked[of] {
				return mend("looked-for", string(of), "sample.for-twice", map[string]model.Gap{"Agent": model.KeyGap("agent." + string(of))})
			}
			asked[of] = true
		}
	}
	return nil
}

// CheckProtocol tells what of a protocol cannot stand, and above all whether it can
// ever be met. Days, results and their distances only take time, and the last result
// may be another than those that lie apart; what can never be met is a thing of which
// no sample of a living python says anything. Fewer days than the shortest of the
// table are asked about.
func CheckProtocol(t *knowledge.Tables, p Own, confirmed model.Confirmed) *model.Refusal {
	if r := checkOwn(p); r != nil {
		return r
	}
	for _, a := range p.For {
		for _, of := range a.Agents {
			if _, known := t.Agent(of); !known {
				return mend("looked-for", string(of), "choice.unknown", nil)
			}
		}
		if !slices.ContainsFunc(a.Agents, t.Speaks) {
			return mend("looked-for", string(a.Agents[0]), "protocol.never", map[string]model.Gap{"Agent": model.KeyGap("agent." + string(a.Agents[0]))})
		}
	}
	if least := shortest(t); p.Days < least && !confirmed.Has("protocol.short") {
		return &model.Refusal{Field: "protocol-days", Value: strconv.Itoa(p.Days), Reason: "protocol.short", Answer: model.Confirm,
			Gaps: map[string]model.Gap{"Least": model.CountGap(least)}}
	}
	return nil
}

// shortest are the days of the shortest protocol of the table.
func shortest(t *knowledge.Tables) int {
	least := 0
	for _, p := range t.Protocols() {
		if least == 0 || p.Days < least {
			least = p.Days
		}
	}
	return least
}

// checkOwn tells what of a protocol cannot stand whatever the tables say.
func checkOwn(p Own) *model.Refusal {
	if r := model.CheckLine("protocol-name", p.Name, MaxLine); r != nil {
		return r
	}
	if p.Protocol.ID == "" {
		return mend("protocol", "", "choice.unknown", nil)
	}
	if r := checkNumbers(p.Protocol); r != nil {
		return r
	}
	return checkAgents(p.Protocol)
}

// Check tells what of a quarantine cannot stand, whoever it is of.
func (s Stored) Check(now model.Moment) *model.Refusal {
	value := s.Arrived.Day().String()
	switch {
	case s.Animal.IsZero():
		return mend("name", "", "quarantine.nobody", nil)
	case s.Protocol == "":
		return mend("protocol", "", "choice.unknown", nil)
	case s.Arrived.IsZero():
		return mend("arrival", "", "day.empty", nil)
	case s.Arrived.Day() > now.Day():
		return mend("arrival", value, "day.future", map[string]model.Gap{"Today": model.DayGap(now.Day())})
	}
	if r := model.CheckText("note", s.Note, MaxWhy); r != nil || s.Released == nil {
		return r
	}
	switch at := s.Released.At; {
	case at.Day() > now.Day():
		return mend("released", at.Day().String(), "day.future", map[string]model.Gap{"Today": model.DayGap(now.Day())})
	case at.Day() < s.Arrived.Day():
		return mend("released", at.Day().String(), "quarantine.before-arrival", map[string]model.Gap{"Day": model.DayGap(s.Arrived.Day())})
	case len(s.Released.Unmet()) > 0 && s.Released.Why == "":
		return mend("why", "", "quarantine.why", nil)
	}
	return model.CheckText("why", s.Released.Why, MaxWhy)
}

// Sound reads a document of this package and looks for values that no command would
// have taken; known is false where it is of another.
func Sound(d model.Document, now model.Moment) (known bool, err error) {
	var r *model.Refusal
	switch d.Type {
	case model.TypeQuarantine:
		s, err := Read(d)
		if err != nil {
			return true, err
		}
		r = s.Check(now)
	case model.TypeProtocol:
		s, err := ReadOwn(d)
		if err != nil {
			return true, err
		}
		r = checkOwn(s.Own)
	default:
		return false, nil
	}
	if r != nil {
		return true, r
	}
	return true, nil
}
