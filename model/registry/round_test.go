package registry_test

import (
	"slices"

	"pgregory.net/rapid"

	"coilward/model"
	"coilward/model/knowledge"
	"coilward/model/round"
	"coilward/model/storetest"
)

// ofRound draws a command for a round that is open.
func ofRound(draw func(*rapid.T, round.Stored) model.Command) storetest.Generator {
	return func(t *rapid.T, v model.View) model.Command {
		all, err := round.Last(v, 20) // one may have been begun or recorded since
		s, ok := one(t, slices.DeleteFunc(must(t, all, err), func(s round.Stored) bool { return !s.Open() }))
		if !ok {
			return nil
		}
		return draw(t, s)
	}
}

func roundGenerators(tables *knowledge.Tables) storetest.Generators {
	beginning := func(t *rapid.T, v model.View) (c round.Begin, ok bool) {
		c = round.Begin{Tables: tables, Order: rapid.SampledFrom(tables.Rounds()).Draw(t, "order").ID, Apart: rapid.Bool().Draw(t, "apart"),
			Confirmed: model.Confirmed{round.AsksAgain}}
		err := v.All(model.TypeAnimal, func(d model.Document) bool {
			c.Stops = append(c.Stops, round.Planned{Animals: []model.AnimalID{{ID: d.ID}}})
			return true
		})
		must(t, c, err)
		return c, len(c.Stops) > 0
	}
	return storetest.Generators{
		"round.begin": func(t *rapid.T, v model.View) model.Command {
			if c, ok := beginning(t, v); ok {
				return c
			}
			return nil
		},
		"round.record": func(t *rapid.T, v model.View) model.Command {
			begin, ok := beginning(t, v)
			if !ok {
				return nil
			}
			c := round.Record{Begin: begin}
			for i, s := range c.Stops {
				c.Looks = append(c.Looks, round.Look{Animals: s.Animals, Class: round.Ill.String(), Passed: i > 0 && rapid.Bool().Draw(t, "passed"), Note: drawText(t)})
			}
			return c
		},
		"round.look": ofRound(func(t *rapid.T, s round.Stored) model.Command {
			left := slices.DeleteFunc(slices.Clone(s.Stops), func(p round.Planned) bool { _, was := s.Of(p.Animals[0]); return was })
			stop, ok := one(t, left)
			if !ok {
				return nil
			}
			o, _ := tables.Round(s.Order)
			reached, _ := s.Reached(o)
			return round.LookInto{Tables: tables, Round: s.ID, Look: round.Look{Animals: stop.Animals, Class: reached.String(), Passed: rapid.Bool().Draw(t, "passed"), Note: drawText(t)}}
		}),
		"round.end": ofRound(func(_ *rapid.T, s round.Stored) model.Command { return round.End{Round: s.ID, Base: s.Revision} }),
	}
}
