package registry_test

import (
	"slices"

	"pgregory.net/rapid"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/knowledge"
	"coilward/model/samples"
	"coilward/model/storetest"
)

// sampled answers every question of samples.
var sampled = model.Confirmed{"animal.gone-asks", "day.before-arrival", "sample.kit-expired"}

// ofSample draws a command for a sample that is at one of some stages.
func ofSample(draw func(*rapid.T, model.View, samples.Stored) model.Command, stages ...samples.Stage) storetest.Generator {
	return func(t *rapid.T, v model.View) model.Command {
		d, ok := pick(t, v, model.TypeSample, func(d model.Document) bool {
			s, err := samples.Read(d)
			return err == nil && (len(stages) == 0 || slices.Contains(stages, s.Stage()))
		})
		if !ok {
			return nil
		}
		s, err := samples.Read(d)
		return draw(t, v, must(t, s, err))
	}
}

// later is a moment from the sample's last step to now.
func later(t *rapid.T, v model.View, s samples.Stored) model.Moment {
	at := v.Now()
	since := s.Taken
	for _, step := range []model.Moment{s.Posted, s.Arrived} {
		if !step.IsZero() {
			since = step
		}
	}
	if !since.IsZero() && since.UTC < at.UTC {
		at.UTC -= rapid.Int64Range(0, at.UTC-since.UTC).Draw(t, "before now")
	}
	return at
}

func drawResult(t *rapid.T, v model.View, s samples.Stored, of knowledge.AgentID) samples.Result {
	return samples.Result{Of: of, Outcome: rapid.SampledFrom(samples.Outcomes()).Draw(t, "outcome"), At: later(t, v, s), Report: drawText(t), Note: drawText(t)}
}

func sampleGenerators(tables *knowledge.Tables) storetest.Generators {
	return storetest.Generators{
		"samples.prepare": ofAnimal(func(t *rapid.T, v model.View, a animals.Stored) model.Command {
			s := samples.Sample{Kit: samples.Kit{Number: drawName(t)}, Material: rapid.SampledFrom(tables.Materials()).Draw(t, "material").ID, Note: drawText(t)}
			for _, agent := range rapid.SliceOfNDistinct(rapid.SampledFrom(tables.Agents()), 1, 3, func(a knowledge.Agent) knowledge.AgentID { return a.ID }).Draw(t, "for") {
				s.For = append(s.For, agent.ID)
			}
			if rapid.Bool().Draw(t, "taken") {
				s.Taken = earlier(t, v)
				if rapid.IntRange(0, 3).Draw(t, "posted") == 3 { // most are left to be posted
					s.Posted = later(t, v, samples.Stored{Sample: s})
				}
			}
			return samples.Prepare{Tables: tables, Animals: []model.AnimalID{a.ID}, Sample: s, Confirmed: sampled}
		}),
		"samples.take": ofSample(func(t *rapid.T, v model.View, s samples.Stored) model.Command {
			return samples.Take{Tables: tables, ID: s.ID, Base: s.Revision, At: earlier(t, v), Site: drawText(t), Confirmed: sampled}
		}, samples.ToTake),
		"samples.post": ofSample(func(t *rapid.T, v model.View, s samples.Stored) model.Command {
			return samples.Post{Tables: tables, ID: s.ID, Base: s.Revision, At: later(t, v, s), Courier: drawText(t), Confirmed: sampled}
		}, samples.Taken),
		"samples.arrive": ofSample(func(t *rapid.T, v model.View, s samples.Stored) model.Command {
			return samples.Arrive{Tables: tables, ID: s.ID, Base: s.Revision, At: later(t, v, s), Confirmed: sampled}
		}, samples.Taken, samples.Sent),
		"samples.enter": ofSample(func(t *rapid.T, v model.View, s samples.Stored) model.Command {
			c := samples.Enter{Tables: tables, ID: s.ID, Base: s.Revision, Confirmed: sampled}
			for _, of := range s.For {
				if s.Outcome(of) == samples.Pending {
					c.Results = append(c.Results, drawResult(t, v, s, of))
				}
			}
			return c
		}, samples.Taken, samples.Sent, samples.AtLab),
		"samples.correct": ofSample(func(t *rapid.T, v model.View, s samples.Stored) model.Command {
			r := drawResult(t, v, s, rapid.SampledFrom(s.For).Draw(t, "of"))
			r.Why = "x" + drawText(t)
			return samples.Correct{Tables: tables, ID: s.ID, Base: s.Revision, Result: r, Confirmed: sampled}
		}, samples.Reported),
		"samples.give-up": ofSample(func(t *rapid.T, v model.View, s samples.Stored) model.Command {
			return samples.GiveUp{Tables: tables, ID: s.ID, Base: s.Revision, Void: samples.Void{At: later(t, v, s), Why: rapid.SampledFrom(samples.Whys()).Draw(t, "why"), Note: drawText(t)}, Confirmed: sampled}
		}, samples.ToTake, samples.Taken, samples.Sent),
		"samples.change": ofSample(func(t *rapid.T, _ model.View, s samples.Stored) model.Command {
			changed := s.Sample
			changed.Storage, changed.Note = drawText(t), drawText(t)
			return samples.Change{Tables: tables, ID: s.ID, Base: s.Revision, Animals: s.Animals, Sample: changed, Confirmed: sampled}
		}),
		"samples.remove": ofSample(func(t *rapid.T, v model.View, s samples.Stored) model.Command {
			if all, err := samples.All(v); err != nil || len(all) < few {
				return nil
			}
			return samples.Remove{ID: s.ID}
		}),
	}
}
