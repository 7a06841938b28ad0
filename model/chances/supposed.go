package chances

import (
	"fmt"
	"math"
	"slices"

	"coilward/model"
	"coilward/model/evidence"
	"coilward/model/knowledge"
	"coilward/model/positives"
	"coilward/model/samples"
)

// Supposed is an answer about a thing in a sample, as if it stood there already.
type Supposed struct {
	Sample  model.SampleID
	Of      knowledge.AgentID
	Outcome samples.Outcome
	Method  knowledge.Method // empty: the usual one
}

// Effect is what supposed answers would make of one thing in one animal, as of today.
type Effect struct {
	Animal        model.AnimalID
	Before, After Chance
	// Mute is why none of the supposed answers says anything of the animal, empty: one does.
	Mute Mute
	// TooSoon is how far all of those that say something were taken too early to say much.
	TooSoon
	// Untaken is that nobody noted when the samples were taken.
	Untaken bool
	// Detected is that the thing would be detected in one of them, Pooled that only in pools.
	Detected, Pooled bool
	// Said is that a pool says less of the animal than it would have, and less than what the
	// animal's own samples had said before it.
	Said bool
}

// If is what some answers would make of the chances of all whose samples they are of; the
// animals in the order of the answers. Nothing is kept. An answer that says neither
// "detected" nor "not detected" has an effect only where one of these stood before it. The view
// is that of which the reader was made.
func (r *Reader) If(v model.View, supposed []Supposed) (all []Effect, err error) {
	then := *r
	then.samples, then.told, then.cases, then.earlier, then.carried = slices.Clone(r.samples), map[key]Chance{}, map[caseKey]*joined{}, r.all(), nil
	var asked []key
	under := map[key][]samples.Stored{}
	for _, one := range supposed {
		at := slices.IndexFunc(then.samples, func(s samples.Stored) bool { return s.ID == one.Sample })
		if at < 0 || one.Outcome == samples.Pending {
			continue
		}
		s := &then.samples[at]
		spoke := s.LookedThrough(one.Of)
		s.Results = append(slices.Clip(s.Results), samples.Result{Of: one.Of, Outcome: one.Outcome, Method: one.Method, At: v.Now()})
		if !spoke && !s.LookedThrough(one.Of) {
			continue
		}
		for _, animal := range s.Animals {
			k := key{one.Of, animal}
			if under[k] == nil {
				asked = append(asked, k)
			}
			under[k] = append(under[k], *s)
		}
	}
	if then.traces, err = positives.StoodIn(v, r.tables, positives.Known{Samples: then.samples, House: r.house, Animals: r.animals}); err != nil {
		return nil, fmt.Errorf("work out what an answer would say: %w", err)
	}
	for _, k := range asked {
		all = append(all, r.effect(&then, k, under[k]))
	}
	return all, nil
}

// effect is what some samples, as they stand then, would make of a thing in an animal.
func (r *Reader) effect(then *Reader, k key, by []samples.Stored) Effect {
	e := Effect{Animal: k.animal, Untaken: !slices.ContainsFunc(by, func(s samples.Stored) bool { return !s.Taken.IsZero() })}
	e.Before, _ = r.Of(k.animal, k.of)
	e.After, _ = then.Of(k.animal, k.of)
	pool := false
	for _, s := range by {
		if s.Void == nil && s.Outcome(k.of) == samples.Detected {
			e.Pooled = len(s.Animals) > 1 && (e.Pooled || !e.Detected)
			e.Detected = true
		}
		pool = pool || len(s.Animals) > 1
	}
	spoke := false
	for _, step := range e.After.Steps {
		switch {
		case !slices.ContainsFunc(by, func(s samples.Stored) bool { return s.ID == step.Sample.ID }):
		case step.Mute == "":
			if spoke && step.TooSoon != e.TooSoon {
				e.TooSoon = TooSoon{}
			} else {
				e.TooSoon = step.TooSoon
			}
			spoke = true
		default:
			e.Mute = step.Mute
		}
	}
	if spoke {
		e.Mute = ""
	}
	if e.After.Known() && e.Mute == "" && pool && !e.Detected && !e.Untaken {
		e.Said = said(e.Before, e.After, r.today)
	}
	return e
}

// said reports whether the animal's own samples had said more than what came to them, and
// it had said more without them, both in the odds.
func said(before, after Chance, today model.Day) bool {
	had := odds(before.withoutOwn(today)) - odds(before.Now.Mid)
	came := odds(before.Now.Mid) - odds(after.Now.Mid)
	alone := odds(before.withoutOwn(today)) - odds(after.withoutOwn(today))
	return had > came && alone > came
}

func odds(p float64) float64 { return math.Log(p / (1 - p)) }

// withoutOwn is the chance as if the animal had no sample of its own alone.
func (c Chance) withoutOwn(today model.Day) float64 {
	without := c.joined.c
	without.Samples = slices.DeleteFunc(slices.Clone(without.Samples), func(s evidence.Sample) bool { return len(s.Of) == 1 && s.Of[0] == 0 })
	return without.Chance(0, today).Mid
}

// Says is what the supposed answers would make of the chance, or why they say nothing, and
// what follows.
func (e Effect) Says(n Named) (all []Line) {
	switch {
	case e.Untaken:
		return []Line{{Key: "chance.would.untaken"}}
	case !e.After.Known():
		all = append(all, e.After.Says(n), e.After.WhyNone())
	case e.Mute != "":
		if e.Before.Now != e.After.Now { // what stood there before had said something
			all = append(all, e.step())
		}
		all = append(all, Line{Key: "chance.mute." + string(e.Mute)})
	default:
		all = append(all, e.step())
	}
	all = append(all, e.TooSoon.says()...)
	if e.Said {
		all = append(all, Line{Key: "chance.would.said"})
	}
	switch {
	case e.Pooled && (!e.After.Known() || e.After.Pooled()):
		all = append(all, Line{Key: "chance.act.vet-pool"})
	case e.Detected:
		all = append(all, e.After.detected())
	case e.After.Known():
		all = append(all, e.After.Follows(n))
	}
	return all
}

// step is the chance before and after.
func (e Effect) step() Line {
	return Line{"chance.step", map[string]any{"Before": e.Before.Now.Told().Label(), "After": e.After.Now.Told().Label()}}
}
