package chances

import (
	"math"
	"slices"

	"coilward/model"
	"coilward/model/evidence"
	"coilward/model/evidence/plan"
	"coilward/model/knowledge"
	"coilward/model/quarantine"
	"coilward/model/samples"
)

// Planned is what a plan for some animals rests on.
type Planned struct {
	plan.Facts
	By       knowledge.Sight
	Material knowledge.MaterialID
	// Detected are those in which the thing was detected: no plan is made for them, the
	// positive and the vet say what comes next.
	Detected []model.AnimalID
	// Alone are those in a quarantine that is not over: pooled samples do not count for it, so that
	// each of them is sampled singly.
	Alone []model.AnimalID
	// Singly is that pools are wanted and none are planned: the thing is not looked for by PCR, of
	// which alone it is known what they cost.
	Singly bool
}

// Want puts in what a person wants and what it costs. Where no pools can be planned all are
// sampled singly, in what the laboratory asks for too.
func (p *Planned) Want(w plan.Facts) {
	pools := p.Largest
	p.Target, p.Price, p.Budget, p.Latest, p.Largest, p.Rounds, p.Apart, p.Lab = w.Target, w.Price, w.Budget, w.Latest, min(w.Largest, pools), w.Rounds, w.Apart, w.Lab
	p.Lab.Pool = min(p.Lab.Pool, pools)
	p.Singly = pools == 1 && (w.Largest > 1 || w.Lab.Pool > 1)
}

// Plan is what a plan for some animals rests on: how the thing is found in the first material
// that a keeper takes, or else in the first, and the chances as they are today. What is wanted
// and what it costs is left to the person; pools only where the lab looks by PCR, of which
// alone it is known what they cost. ok is false where the tables have no figures.
func (r *Reader) Plan(animals []model.AnimalID, of knowledge.AgentID) (p Planned, ok bool) {
	carrier, ok := r.figures.Carrier(of)
	if !ok || len(animals) == 0 {
		return p, false
	}
	p.By, p.Material = r.usual(of, r.species(animals))
	p.Facts = plan.Facts{Way: Way(p.By), Today: r.today, Target: float64(r.tables.Value(knowledge.ValueChanceGoal)) / 1000, Apart: r.tables.Value(knowledge.ValueSampleApart), Largest: 1, Rounds: plan.MostRounds}
	if p.By.By == knowledge.PCR {
		p.Largest = plan.MostPool
	}
	p.Latent.Low, p.Latent.Mid, p.Latent.High = carrier.Latent.Low, carrier.Latent.Assumed, carrier.Latent.High
	for _, stage := range []knowledge.StageID{knowledge.StageSent, knowledge.StageAtLab} {
		usual, _ := r.tables.Usual(stage)
		p.LabDays += usual.Days
	}
	for _, id := range animals {
		if _, detected := r.Detected(id, of); detected {
			p.Detected = append(p.Detected, id)
		}
		c, _ := r.Of(id, of)
		one := r.planned(c, p.By)
		if one.Alone = slices.ContainsFunc(r.quarantines[id], func(q quarantine.Stored) bool { return q.Released == nil }); one.Alone {
			p.Alone = append(p.Alone, id)
		}
		p.Animals = append(p.Animals, one)
	}
	return p, true
}

// Samples are those of all rounds of a plan for these animals, in the order of their days:
// one of each pool on each day, to be laid out. animals are those that the plan was made for.
func (p Planned) Samples(one plan.Plan, animals []model.AnimalID, of knowledge.AgentID) (each []samples.New) {
	for n, day := range one.Days {
		for _, part := range one.Parts {
			if part.Rounds < len(one.Days)-n {
				continue // it joins later
			}
			for _, pool := range part.Pools {
				s := samples.New{Sample: samples.Sample{Material: p.Material, For: []knowledge.AgentID{of}, Planned: &samples.Planned{Day: day, Round: n + 1, Of: len(one.Days)}}}
				for _, i := range pool.Animals {
					s.Animals = append(s.Animals, animals[i])
				}
				each = append(each, s)
			}
		}
	}
	return each
}

// planned is what is known of an animal before a plan begins. All of its earlier samples count in
// which the thing was not detected, by whatever row of the table they were looked through: who
// sheds little is missed by each.
func (r *Reader) planned(c Chance, by knowledge.Sight) plan.Animal {
	sure := math.Nextafter(1, 0)
	a := plan.Animal{Chance: evidence.Range{Low: min(c.Now.Low, sure), Mid: min(c.Now.Mid, sure), High: min(c.Now.High, sure)}, Exposed: c.Begun.Day}
	for _, e := range c.Exposed {
		a.Exposed = max(a.Exposed, e.Until)
		a.Ongoing = a.Ongoing || e.Still && !r.tables.Confined(c.Of)
	}
	times := map[string]int{}
	for _, s := range c.Steps {
		if s.Mute == "" && s.Outcome == samples.NotDetected && !s.Early() {
			sight, _ := r.sight(s.Sample, c.Of)
			times[sight.ID]++ // pools too: the cautious side
		}
	}
	for _, s := range r.figures.Sights() {
		switch {
		case times[s.ID] == 0:
		case s.ID == by.ID:
			a.Earlier = times[s.ID]
		default:
			a.Others = append(a.Others, plan.Missed{By: Way(s), Times: times[s.ID]})
		}
	}
	return a
}

// usual is how a thing is found in animals of a species in what a keeper takes, else in the
// first material; in one of any species where its own rows have none that a keeper takes.
func (r *Reader) usual(of knowledge.AgentID, species knowledge.SpeciesID) (by knowledge.Sight, in knowledge.MaterialID) {
	for _, s := range r.figures.SightsOf(of, species) {
		for _, m := range s.Materials {
			if known, _ := r.tables.Material(m); known.Takes != knowledge.ByVet {
				return s, m
			}
		}
		if in == "" {
			by, in = s, s.Materials[0]
		}
	}
	return by, in
}

// material is of what the next sample of an animal is taken: as its last that said something,
// else as is usual.
func (r *Reader) material(k key, c Chance) (in knowledge.MaterialID) {
	_, in = r.usual(c.Of, r.animals[k.animal].Species)
	for _, s := range c.Steps {
		if s.Mute == "" {
			in = s.Sample.Material
		}
	}
	return in
}
