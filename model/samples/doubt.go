package samples

import (
	"slices"
	"time"

	"coilward/model"
	"coilward/model/knowledge"
)

// doubts asks about what may be so and is better asked once: of a step on the day on
// which it is noted. was is the sample before, nil: it is new; what was asked then is
// not asked again.
func (s Stored) doubts(t *knowledge.Tables, was *Stored, today model.Day, confirmed model.Confirmed) *model.Refusal {
	for _, r := range []*model.Refusal{s.kit(t, was, today), s.lay(t, was), s.leaving(was, today), s.onItsWay(t, was)} {
		if r != nil && !confirmed.Has(r.Reason) {
			return r
		}
	}
	return nil
}

func ask(field, value, reason string, gaps map[string]model.Gap) *model.Refusal {
	return &model.Refusal{Field: field, Value: value, Reason: reason, Answer: model.Confirm, Gaps: gaps}
}

// kit asks where a sample was taken with a kit past its day, or is to be taken with
// one that may be by then.
func (s Stored) kit(t *knowledge.Tables, was *Stored, today model.Day) *model.Refusal {
	if s.Kit.Expires.IsZero() || was != nil && was.Taken == s.Taken && was.Kit == s.Kit {
		return nil
	}
	last, value := lastDay(s.Kit.Expires), s.Kit.Expires.Day.String()
	gaps := map[string]model.Gap{"Day": model.DayGap(last)}
	toTake, _ := t.Usual(knowledge.StageToTake)
	switch {
	case !s.Taken.IsZero() && s.Taken.Day() > last:
		return ask("kit-expires", value, "sample.kit-expired", gaps)
	case s.Taken.IsZero() && max(today, s.since())+model.Day(toTake.Days) > last:
		return ask("kit-expires", value, "sample.kit-expires", gaps)
	}
	return nil
}

// Last is the last day on which the kit can be used; 0: nobody noted one.
func (k Kit) Last() model.Day {
	if k.Expires.IsZero() {
		return 0
	}
	return lastDay(k.Expires)
}

// OverWeekend reports whether what is sent on that day may lie over the weekend: from
// Thursday to Sunday. Source: common practice, no source.
func OverWeekend(day model.Day) bool {
	w := day.Weekday()
	return w >= time.Thursday || w == time.Sunday
}

// leaves reports whether this is the step by which the sample leaves.
func (s Stored) leaves(was *Stored) bool {
	return was != nil && was.Posted.IsZero() && !s.Posted.IsZero()
}

// lay asks where a sample lay longer than its material keeps, or, of one that keeps for
// as long as what is looked for in it, where a virus is and it lay too long for that.
func (s Stored) lay(t *knowledge.Tables, was *Stored) *model.Refusal {
	if !s.leaves(was) {
		return nil
	}
	if m, _ := t.Material(s.Material); m.Keeps > 0 {
		days := int(s.Posted.Day() - s.Taken.Day())
		if days <= m.Keeps {
			return nil
		}
		return ask("posted", s.Posted.Day().String(), "sample.material-long", map[string]model.Gap{"Material": model.KeyGap("material." + string(s.Material)), "Days": model.CountGap(days), "Count": model.CountGap(m.Keeps)})
	}
	if !s.forVirus(t) {
		return nil
	}
	keeps, _ := t.Usual(knowledge.StageTaken)
	days := int(s.Posted.Day() - s.Taken.Day())
	if days <= keeps.Days {
		return nil
	}
	return ask("posted", s.Posted.Day().String(), "sample.kept-long", map[string]model.Gap{"Days": model.CountGap(days), "Most": model.CountGap(keeps.Days)})
}

// leaving asks where a sample leaves today and may lie over the weekend. Of an
// earlier day it is too late to ask.
func (s Stored) leaving(was *Stored, today model.Day) *model.Refusal {
	if !s.leaves(was) || s.Posted.Day() != today || !OverWeekend(today) {
		return nil
	}
	return ask("posted", today.String(), "sample.over-weekend", nil)
}

// forVirus reports whether a virus is looked for. Those of the tables are all RNA
// viruses, which do not keep.
func (s Sample) forVirus(t *knowledge.Tables) bool {
	return slices.ContainsFunc(s.For, func(of knowledge.AgentID) bool {
		a, _ := t.Agent(of)
		return a.Family == knowledge.Virus
	})
}

// overHoliday asks where a parcel leaves today and today or tomorrow is a public
// holiday.
func (c Post) overHoliday(today model.Day) *model.Refusal {
	if c.At.Day() != today || c.Confirmed.Has("sample.over-holiday") {
		return nil
	}
	for day := today; day <= today+1; day++ {
		if c.Country.Holiday(day) {
			return ask("posted", today.String(), "sample.over-holiday", map[string]model.Gap{"Day": model.DayGap(day)})
		}
	}
	return nil
}

// onItsWay asks where a parcel took longer than is usual.
func (s Stored) onItsWay(t *knowledge.Tables, was *Stored) *model.Refusal {
	if was == nil || !was.Arrived.IsZero() || s.Arrived.IsZero() || s.Posted.IsZero() {
		return nil
	}
	usual, _ := t.Usual(knowledge.StageSent)
	days := int(s.Arrived.Day() - s.Posted.Day())
	if days <= usual.Days {
		return nil
	}
	return ask("arrived", s.Arrived.Day().String(), "sample.long-way", map[string]model.Gap{"Days": model.CountGap(days), "Most": model.CountGap(usual.Days)})
}
