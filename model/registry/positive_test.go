package registry_test

import (
	"errors"
	"slices"

	"pgregory.net/rapid"

	"coilward/model"
	"coilward/model/contact"
	"coilward/model/knowledge"
	"coilward/model/samples"
	"coilward/model/storetest"
)

// ofPositive draws a command for a positive that is open.
func ofPositive(draw func(*rapid.T, model.View, contact.Stored) model.Command) storetest.Generator {
	return func(t *rapid.T, v model.View) model.Command {
		d, ok := pick(t, v, model.TypePositive, func(d model.Document) bool {
			s, err := contact.Read(d)
			return err == nil && s.Open()
		})
		if !ok {
			return nil
		}
		s, err := contact.Read(d)
		return draw(t, v, must(t, s, err))
	}
}

// unopened are the positives that can be opened: something was detected in a sample and
// none is open for it.
func unopened(t *rapid.T, v model.View) (all []contact.Open) {
	opened, err := contact.All(v)
	found, failed := samples.All(v)
	for _, s := range must(t, found, errors.Join(err, failed)) {
		for _, agent := range s.For {
			if s.Outcome(agent) == samples.Detected && !slices.ContainsFunc(opened, func(p contact.Stored) bool { return p.Open() && p.Sample == s.ID && p.Agent == agent }) {
				all = append(all, contact.Open{Sample: s.ID, Agent: agent})
			}
		}
	}
	return all
}

func positiveGenerators(tables *knowledge.Tables) storetest.Generators {
	return storetest.Generators{
		"contact.open": func(t *rapid.T, v model.View) model.Command {
			o, ok := one(t, unopened(t, v))
			if !ok {
				return nil
			}
			o.Tables = tables
			return o
		},
		"contact.act": ofPositive(func(t *rapid.T, v model.View, s contact.Stored) model.Command {
			c := contact.Act{Tables: tables, ID: s.ID, Base: s.Revision, At: v.Now(), Note: drawText(t)}
			owed := contact.Unmet(s.Acts(tables, contact.Owes{Near: 1, Newcomers: 1}))
			if c.Not = len(owed) == 0 || len(s.Done) > 0 && rapid.Bool().Draw(t, "not after all"); c.Not {
				c.Act = rapid.SampledFrom(s.Done).Draw(t, "did").Act
			} else {
				c.Act = rapid.SampledFrom(owed).Draw(t, "act")
			}
			return c
		}),
		"contact.close": ofPositive(func(t *rapid.T, v model.View, s contact.Stored) model.Command {
			whys := slices.DeleteFunc(contact.Whys(), func(w contact.Why) bool { return w == contact.Corrected })
			return contact.Close{ID: s.ID, Base: s.Revision, Why: rapid.SampledFrom(whys).Draw(t, "why"), Note: drawText(t), At: v.Now(),
				Owed: contact.Unmet(s.Acts(tables, contact.Owes{Near: 1}))}
		}),
	}
}
