package chances

import (
	"cmp"
	"slices"

	"coilward/model"
	"coilward/model/contact"
	"coilward/model/evidence"
	"coilward/model/knowledge"
	"coilward/model/positives"
)

// Exposed is a time in which an animal may have caught a thing from another: from one in
// whose sample it was detected, or from a newcomer that was not released yet. It is never
// by what is thought of the others that live here: that would feed on itself.
type Exposed struct {
	To       model.AnimalID
	From     model.Day
	Until    model.Day
	Still    bool // it goes on
	Detected bool // else it was a newcomer
	Daily    evidence.Range
}

// exposed are the times of an animal, the earliest first.
func (r *Reader) exposed(k key, arrived model.Day) (all []Exposed) {
	carrier, _ := r.figures.Carrier(k.of)
	daily := of(carrier.Daily, 10_000)
	sources, closed := map[model.AnimalID]bool{}, map[model.AnimalID]model.Day{}
	for _, t := range r.traces {
		if t.Agent != k.of {
			continue
		}
		for _, a := range t.Animals {
			sources[a] = sources[a] || t.Closed == nil
			if t.Closed != nil {
				closed[a] = max(closed[a], t.Closed.At.Day())
			}
		}
		if near, ok := t.NearOf(k.animal); ok {
			for _, s := range near.Stretches {
				all = append(all, Exposed{To: s.Of, From: s.First, Until: s.Last, Still: s.Still && t.Closed == nil, Detected: true, Daily: daily})
			}
		}
	}
	for _, s := range r.unreleased(k.animal) {
		if sources[s.Of] || s.Last <= closed[s.Of] {
			continue // it is among them already
		}
		if day := closed[s.Of]; day != 0 {
			s.First = max(s.First, day+1)
		}
		carries := r.unexposed(key{k.of, s.Of})
		all = append(all, Exposed{To: s.Of, From: s.First, Until: s.Last, Still: s.Still, Daily: evidence.Range{Low: daily.Low * carries.Low, Mid: daily.Mid * carries.Mid, High: daily.High * carries.High}})
	}
	all = slices.DeleteFunc(all, func(e Exposed) bool { return e.Until < arrived })
	slices.SortStableFunc(all, func(a, b Exposed) int { return cmp.Compare(a.From, b.From) })
	return all
}

// unreleased are the times in which an animal shared a room with newcomers.
func (r *Reader) unreleased(animal model.AnimalID) (all []contact.Stretch) {
	for other, quarantines := range r.quarantines {
		if other == animal {
			continue
		}
		stays := slices.Concat(r.stays[animal], r.stays[other])
		for _, q := range quarantines {
			until := r.today
			if q.Released != nil {
				until = min(until, q.Released.At.Day())
			}
			for _, n := range contact.Who([]contact.Source{{Animal: other, Since: q.Arrived.Day()}}, stays, until) {
				for _, s := range n.Stretches {
					s.Still = s.Still && q.Released == nil
					all = append(all, s)
				}
			}
		}
	}
	slices.SortFunc(all, func(a, b contact.Stretch) int {
		return cmp.Or(cmp.Compare(a.First, b.First), cmp.Compare(a.Last, b.Last), slices.Compare(a.Of.ID[:], b.Of.ID[:]))
	})
	return all
}

// unexposed is the chance that a newcomer brought a thing along, by samples alone.
func (r *Reader) unexposed(k key) evidence.Range {
	if known, ok := r.alone[k]; ok {
		return known
	}
	j := r.join(k, false)
	chance := j.c.Chance(0, r.today)
	r.alone[k] = chance
	return chance
}

// of is a span of a table as a chance.
func of(s knowledge.Span, in float64) evidence.Range {
	return evidence.Range{Low: float64(s.Low) / in, Mid: float64(s.Assumed) / in, High: float64(s.High) / in}
}

// Detected is the open positive of a thing in an animal, or what was detected and has
// none; ok is false where there is neither.
func (r *Reader) Detected(animal model.AnimalID, of knowledge.AgentID) (t positives.Trace, ok bool) {
	for _, t := range r.traces {
		if t.Agent == of && t.Closed == nil && slices.Contains(t.Animals, animal) {
			return t, true
		}
	}
	return t, false
}
