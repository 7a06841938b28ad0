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

// Exposed is a time in which an animal may have caught a thing from another. It is never by
// what is thought of the others that live here: that would feed on itself.
type Exposed struct {
	To    model.AnimalID
	Room  model.PlaceID
	From  model.Day
	Until model.Day
	Still bool // it goes on
	By    Hazard
	Pool  bool // of ByPositive: it was detected in a pool alone, so that the other carries it is taken for certain and not known
	Daily evidence.Range
}

// Hazard is what makes another animal one of which a thing may be caught. Values are frozen;
// the texts are "chance.assumes." + value, and "chance.assumes.still-" + value where it goes on.
type Hazard string

// What makes it one, what weighs most first: of a day for which several hold the first counts.
const (
	ByPositive      Hazard = "positive"      // it was detected in its sample, and the positive was open or never opened
	ByCarrier       Hazard = "carrier"       // it was, and that the positive was closed does not say that it carries it no more
	ByNewcomer      Hazard = "newcomer"      // it is in quarantine, not yet released
	ByUnquarantined Hazard = "unquarantined" // it came, and no quarantine was begun: as many days count as the tables say
)

func (h Hazard) rank() int {
	return slices.Index([]Hazard{ByPositive, ByCarrier, ByNewcomer, ByUnquarantined}, h)
}

// exposed are the times of an animal, the earliest first. No day with another counts twice.
func (r *Reader) exposed(k key, arrived model.Day) (all []Exposed) {
	carrier, _ := r.figures.Carrier(k.of)
	daily := of(carrier.Daily, 10_000)
	sources, closed := map[model.AnimalID]bool{}, map[model.AnimalID]model.Day{}
	found := map[model.AnimalID]model.Day{} // since when each is taken to carry it, by its positives
	for _, t := range r.traces {
		if t.Agent != k.of || !t.Stands {
			continue
		}
		for _, a := range t.Animals {
			sources[a] = sources[a] || t.Closed == nil
			if t.Closed != nil {
				closed[a] = max(closed[a], t.Closed.At.Day())
			}
		}
		for _, s := range t.Sources {
			if since, there := found[s.Animal]; !there || s.Since < since {
				found[s.Animal] = s.Since
			}
		}
		if near, ok := t.NearOf(k.animal); ok {
			for _, s := range near.Stretches {
				all = append(all, Exposed{To: s.Of, Room: s.Room, From: s.First, Until: s.Last, Still: s.Still && t.Closed == nil, By: ByPositive, Pool: t.Pool(), Daily: daily})
			}
		}
	}
	for _, e := range r.carriers()[k] {
		e.Daily = times(daily, r.unexposed(key{k.of, e.To}))
		all = append(all, e)
	}
	for _, e := range r.newcomers()[k.animal] {
		if since, positive := found[e.To]; positive && e.From < since { // as it was known before it was detected
			before := e
			if before.Until >= since {
				before.Until, before.Still = since-1, false
			}
			before.Daily = times(daily, r.unexposedOn(key{k.of, e.To}, before.Until))
			all = append(all, before)
		}
		if sources[e.To] || e.Until <= closed[e.To] {
			continue // it is among them already
		}
		if day := closed[e.To]; day != 0 {
			e.From = max(e.From, day+1)
		}
		e.Daily = times(daily, r.unexposed(key{k.of, e.To}))
		all = append(all, e)
	}
	return slices.DeleteFunc(once(all), func(e Exposed) bool { return e.Until < arrived })
}

// times is the chance of a day where it is not certain that the other carries the thing.
func times(daily, carries evidence.Range) evidence.Range {
	return evidence.Range{Low: daily.Low * carries.Low, Mid: daily.Mid * carries.Mid, High: daily.High * carries.High}
}

// once takes each day with each other animal only once, by what weighs most and of that by its own
// sample before a pool, and joins what follows on one another; the earliest first.
func once(all []Exposed) (some []Exposed) {
	slices.SortStableFunc(all, func(a, b Exposed) int {
		return cmp.Or(cmp.Compare(a.By.rank(), b.By.rank()), first(!a.Pool, !b.Pool), cmp.Compare(a.From, b.From), cmp.Compare(a.Until, b.Until), slices.Compare(a.Room.ID[:], b.Room.ID[:]))
	})
	for _, e := range all {
		for _, part := range without(e, some) {
			i := slices.IndexFunc(some, func(o Exposed) bool {
				return o.To == part.To && o.Room == part.Room && o.By == part.By && o.Pool == part.Pool && o.Daily == part.Daily && o.Until+1 == part.From
			})
			if i < 0 {
				some = append(some, part)
				continue
			}
			some[i].Until, some[i].Still = part.Until, part.Still
		}
	}
	slices.SortStableFunc(some, func(a, b Exposed) int {
		return cmp.Or(cmp.Compare(a.From, b.From), cmp.Compare(a.Until, b.Until), slices.Compare(a.To.ID[:], b.To.ID[:]))
	})
	return some
}

// first puts what is before what is not.
func first(a, b bool) int {
	switch {
	case a == b:
		return 0
	case a:
		return -1
	}
	return 1
}

// without is what of a time is left beside those with the same animal that count already.
func without(e Exposed, counted []Exposed) (parts []Exposed) {
	parts = []Exposed{e}
	for _, c := range counted {
		if c.To != e.To {
			continue
		}
		var left []Exposed
		for _, p := range parts {
			if c.Until < p.From || c.From > p.Until {
				left = append(left, p)
				continue
			}
			if before := p; p.From < c.From {
				before.Until, before.Still = c.From-1, false
				left = append(left, before)
			}
			if after := p; p.Until > c.Until {
				after.From = c.Until + 1
				left = append(left, after)
			}
		}
		parts = left
	}
	return parts
}

// carriers are the times in which animals shared a room with one in whose sample a thing was
// detected, after the positive was closed: that all was done does not say that it carries it
// no more. Left out are a thing that can be got rid of, where the vet's word is that it was;
// the time before it came again, where the one animal is said to have left; and what the lab
// put right.
func (r *Reader) carriers() map[key][]Exposed {
	if r.carried != nil {
		return r.carried
	}
	r.carried = map[key][]Exposed{}
	for _, t := range r.traces {
		carrier, known := r.figures.Carrier(t.Agent)
		if !known || t.Closed == nil || !t.Stands || carrier.Clears && t.Closed.Why == contact.VetsWord {
			continue
		}
		closed := t.Closed.At.Day()
		for _, a := range t.Animals {
			stays := r.lived
			if t.Closed.Why == contact.Gone && !t.Pool() {
				stays = slices.DeleteFunc(slices.Clone(stays), func(s contact.Stay) bool { return s.Animal == a && s.From <= closed })
			}
			for id, times := range beside(stays, a, closed+1, r.today, ByCarrier, true) {
				k := key{t.Agent, id}
				r.carried[k] = append(r.carried[k], times...)
			}
		}
	}
	return r.carried
}

// newcomers are the times in which animals shared a room with newcomers, worked out once for
// all animals and things. One that was no newcomer any more when it came into the records is
// none: what those who were here before them may have caught from each other is in the
// figures with which each begins.
func (r *Reader) newcomers() map[model.AnimalID][]Exposed {
	if r.arrivals != nil {
		return r.arrivals
	}
	r.arrivals = map[model.AnimalID][]Exposed{}
	add := func(newcomer model.AnimalID, from, until model.Day, by Hazard, still bool) {
		for id, times := range beside(r.lived, newcomer, from, min(until, r.today), by, still) {
			r.arrivals[id] = append(r.arrivals[id], times...)
		}
	}
	for id := range r.animals {
		for _, q := range r.quarantines[id] {
			if q.Released == nil {
				add(id, q.Arrived.Day(), r.today, ByNewcomer, true)
			} else {
				add(id, q.Arrived.Day(), q.Released.At.Day(), ByNewcomer, false)
			}
		}
		if first, last, ok := r.house.Unquarantined(r.tables, id); ok && last >= r.animals[id].Added {
			add(id, first, last, ByUnquarantined, last >= r.today)
		}
	}
	return r.arrivals
}

// beside are the times in which animals shared a room with one from a day to a day; still is
// that the last of them may go on.
func beside(stays []contact.Stay, to model.AnimalID, from, until model.Day, by Hazard, still bool) map[model.AnimalID][]Exposed {
	all := map[model.AnimalID][]Exposed{}
	for _, n := range contact.Who([]contact.Source{{Animal: to, Since: from}}, stays, until) {
		for _, s := range n.Stretches {
			all[n.Animal] = append(all[n.Animal], Exposed{To: to, Room: s.Room, From: s.First, Until: s.Last, Still: s.Still && still, By: by})
		}
	}
	return all
}

// unexposed is the chance that another brought a thing along, by samples alone.
func (r *Reader) unexposed(k key) evidence.Range {
	chance, _ := r.joinOnce(caseKey{k, false}).now()
	return chance
}

// unexposedOn is that chance by the samples up to a day.
func (r *Reader) unexposedOn(k key, day model.Day) evidence.Range {
	return r.joinOnce(caseKey{k, false}).c.Course(0, []model.Day{day})[0]
}

// of is a span of a table as a chance.
func of(s knowledge.Span, in float64) evidence.Range {
	return evidence.Range{Low: float64(s.Low) / in, Mid: float64(s.Assumed) / in, High: float64(s.High) / in}
}

// Detected is the open positive of a thing in an animal, or what was detected and has
// none, of its own sample before that of a pool; ok is false where there is neither, and where
// the lab has put it right.
func (r *Reader) Detected(animal model.AnimalID, of knowledge.AgentID) (found positives.Trace, ok bool) {
	for _, t := range r.traces {
		if t.Agent == of && t.Closed == nil && t.Stands && slices.Contains(t.Animals, animal) && (!ok || found.Pool() && !t.Pool()) {
			found, ok = t, true
		}
	}
	return found, ok
}

// closed reports whether a positive of a thing in an animal was closed, and what was detected
// stands.
func (r *Reader) closed(animal model.AnimalID, of knowledge.AgentID) bool {
	return slices.ContainsFunc(r.traces, func(t positives.Trace) bool {
		return t.Agent == of && t.Closed != nil && t.Stands && !t.Pool() && slices.Contains(t.Animals, animal)
	})
}
