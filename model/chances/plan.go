package chances

import (
	"coilward/model"
	"coilward/model/evidence/plan"
	"coilward/model/knowledge"
	"coilward/model/samples"
)

// Plan is what a plan for some animals rests on: how the thing is found in the first material
// that a keeper takes, or else in the first, and the chances as they are today. What is wanted
// and what it costs is left to the person. ok is false where the tables have no figures.
func (r *Reader) Plan(animals []model.AnimalID, of knowledge.AgentID) (f plan.Facts, by knowledge.Sight, ok bool) {
	carrier, ok := r.figures.Carrier(of)
	if !ok || len(animals) == 0 {
		return f, by, false
	}
	by = r.usual(of)
	f = plan.Facts{Way: Way(by), Today: r.today, Target: float64(r.tables.Value(knowledge.ValueChanceGoal)) / 1000, Apart: 7, Largest: 1, Rounds: plan.MostRounds}
	f.Latent.Low, f.Latent.Mid, f.Latent.High = carrier.Latent.Low, carrier.Latent.Assumed, carrier.Latent.High
	for _, stage := range []knowledge.StageID{knowledge.StageSent, knowledge.StageAtLab} {
		usual, _ := r.tables.Usual(stage)
		f.LabDays += usual.Days
	}
	for _, id := range animals {
		c, _ := r.Of(id, of)
		a := plan.Animal{Chance: c.Now, Exposed: c.Begun.Day}
		for _, e := range c.Exposed {
			a.Exposed = max(a.Exposed, e.Until)
			a.Ongoing = a.Ongoing || e.Still
		}
		for _, s := range c.Steps {
			if s.Mute == "" && s.Outcome == samples.NotDetected && len(s.Sample.Animals) == 1 && !s.Early {
				a.Earlier++
			}
		}
		f.Animals = append(f.Animals, a)
	}
	return f, by, true
}

// usual is how a thing is found in what a keeper takes, else in the first material.
func (r *Reader) usual(of knowledge.AgentID) (by knowledge.Sight) {
	for _, s := range r.figures.Sights() {
		if s.Agent != of {
			continue
		}
		if m, _ := r.tables.Material(s.Materials[0]); m.Takes != knowledge.ByVet {
			return s
		}
		if by.ID == "" {
			by = s
		}
	}
	return by
}
