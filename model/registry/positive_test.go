package registry_test

import (
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

func positiveGenerators(tables *knowledge.Tables) storetest.Generators {
	return storetest.Generators{
		"contact.open": ofSample(func(t *rapid.T, _ model.View, s samples.Stored) model.Command {
			for _, agent := range s.For {
				if s.Outcome(agent) == samples.Detected {
					return contact.Open{Tables: tables, Sample: s.ID, Agent: agent}
				}
			}
			return nil
		}),
		"contact.act": ofPositive(func(t *rapid.T, v model.View, s contact.Stored) model.Command {
			c := contact.Act{Tables: tables, ID: s.ID, Base: s.Revision, Act: rapid.SampledFrom(tables.PositiveActs()).Draw(t, "act").ID, At: v.Now(), Note: drawText(t)}
			if len(s.Done) > 0 && rapid.Bool().Draw(t, "not after all") {
				c.Act, c.Not = rapid.SampledFrom(s.Done).Draw(t, "did").Act, true
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
