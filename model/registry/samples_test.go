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
var sampled = model.Confirmed{"animal.gone-asks", "day.before-arrival", "sample.kit-expired", "sample.kit-expires", "sample.over-weekend", "sample.over-holiday", "sample.kept-long", "sample.material-long", "sample.long-way"}

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
	return samples.Result{Of: of, Outcome: rapid.SampledFrom(samples.Outcomes()).Draw(t, "outcome"), Method: rapid.SampledFrom(append(knowledge.Methods(), "")).Draw(t, "method"), At: later(t, v, s), Report: drawText(t), Note: drawText(t)}
}

// alike is the sample and a few others at its stage, as one command changes them.
func alike(t *rapid.T, v model.View, s samples.Stored) []samples.On {
	all, err := samples.All(v)
	of := []samples.On{{ID: s.ID, Base: s.Revision}}
	for _, o := range must(t, all, err) {
		if o.ID != s.ID && o.Stage() == s.Stage() && len(of) < 3 && rapid.Bool().Draw(t, "as well") {
			of = append(of, samples.On{ID: o.ID, Base: o.Revision})
		}
	}
	return of
}

// kits are one or two samples of an animal; only the first has a kit's number.
func kits(t *rapid.T, s samples.Sample, of ...model.AnimalID) []samples.New {
	each := []samples.New{{Animals: of, Sample: s}}
	if rapid.Bool().Draw(t, "two") {
		s.Kit = samples.Kit{}
		each = append(each, samples.New{Animals: of, Sample: s})
	}
	return each
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
			each := kits(t, s, a.ID)
			// Beside it one that is to be taken and one that is to be posted, so that the
			// commands for those find some before others have carried them on.
			s.Kit, s.Taken, s.Posted = samples.Kit{}, model.Moment{}, model.Moment{}
			each = append(each, samples.New{Animals: []model.AnimalID{a.ID}, Sample: s})
			s.Taken = earlier(t, v)
			each = append(each, samples.New{Animals: []model.AnimalID{a.ID}, Sample: s})
			return samples.Prepare{Tables: tables, Each: each, Confirmed: sampled}
		}),
		"samples.lay-out": ofAnimal(func(t *rapid.T, v model.View, a animals.Stored) model.Command {
			c := samples.LayOut{Tables: tables, Confirmed: sampled}
			thing := rapid.SampledFrom(tables.Agents()).Draw(t, "for").ID
			rounds := rapid.IntRange(1, 3).Draw(t, "rounds")
			for n := range rounds {
				one := samples.Sample{Material: rapid.SampledFrom(tables.Materials()).Draw(t, "material").ID, For: []knowledge.AgentID{thing}}
				one.Planned = &samples.Planned{Day: v.Now().Day() + model.Day(42*n), Round: n + 1, Of: rounds}
				c.Each = append(c.Each, samples.New{Animals: []model.AnimalID{a.ID}, Sample: one})
			}
			return c
		}),
		"samples.call-off": func(t *rapid.T, v model.View) model.Command {
			d, ok := pick(t, v, model.TypeSample, func(d model.Document) bool {
				s, err := samples.Read(d)
				return err == nil && s.Planned != nil && s.Stage() == samples.ToTake
			})
			if !ok {
				return nil
			}
			return samples.CallOff{Of: []model.SampleID{{ID: d.ID}}}
		},
		"samples.leave": ofSample(func(t *rapid.T, v model.View, s samples.Stored) model.Command {
			to := model.PersonID{ID: v.NewID()} // as if it was taken out since
			if taker, ok := pick(t, v, model.TypePerson, func(d model.Document) bool { return d.ID != s.TakenBy.ID }); ok {
				to.ID = taker.ID
			}
			return samples.Leave{Tables: tables, Of: alike(t, v, s), To: to}
		}, samples.ToTake),
		"samples.take": ofSample(func(t *rapid.T, v model.View, s samples.Stored) model.Command {
			return samples.Take{Tables: tables, Of: alike(t, v, s), At: earlier(t, v), Site: drawText(t), Confirmed: sampled}
		}, samples.ToTake),
		"samples.post": ofSample(func(t *rapid.T, v model.View, s samples.Stored) model.Command {
			return samples.Post{Tables: tables, Of: alike(t, v, s), At: v.Now(), Courier: drawText(t), Country: "de", Confirmed: sampled}
		}, samples.Taken),
		"samples.arrive": ofSample(func(t *rapid.T, v model.View, s samples.Stored) model.Command {
			return samples.Arrive{Tables: tables, Of: alike(t, v, s), At: v.Now(), Confirmed: sampled}
		}, samples.Taken, samples.Sent),
		"samples.ask": ofSample(func(t *rapid.T, v model.View, s samples.Stored) model.Command {
			return samples.Ask{Tables: tables, Of: alike(t, v, s), Asked: samples.Asked{At: v.Now(), Note: drawText(t)}}
		}, samples.Sent, samples.AtLab),
		"samples.enter": ofSample(func(t *rapid.T, v model.View, s samples.Stored) model.Command {
			c := samples.Enter{Tables: tables, At: v.Now(), Number: drawText(t), Confirmed: sampled}
			for _, on := range alike(t, v, s) {
				d, err := v.Document(on.ID.ID)
				s, err := samples.Read(must(t, d, err))
				row := samples.Row{On: on}
				for _, of := range must(t, s, err).For {
					if s.Outcome(of) == samples.Pending {
						row.Found = append(row.Found, samples.Found{Of: of, Outcome: rapid.SampledFrom(samples.Outcomes()).Draw(t, "outcome"), Method: rapid.SampledFrom(append(knowledge.Methods(), "")).Draw(t, "method"), Note: drawText(t)})
					}
				}
				c.Rows = append(c.Rows, row)
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
