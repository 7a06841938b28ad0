package chances

import (
	"slices"

	"coilward/model"
	"coilward/model/assumed"
	"coilward/model/contact"
	"coilward/model/evidence"
	"coilward/model/knowledge"
	"coilward/model/positives"
	"coilward/model/samples"
)

// Chance is what samples prove of one thing in one animal.
type Chance struct {
	Of       knowledge.AgentID
	Now      evidence.Range
	Linkage  evidence.Linkage // how much of what shares pools was worked out together
	Begun    Begun
	Carrier  knowledge.Carrier
	Sights   []knowledge.Sight // of its samples, each once; of the first that would be taken where there is none
	Steps    []Step            // of all of its samples that were looked through for it, by day
	Exposed  []Exposed         // earliest first
	Own      []assumed.Stored  // figures of the keeper, or the vet, that it rests on in place of the tables
	Spoilt   bool              // such figures of the thing cannot be used
	Act      evidence.Act
	From     model.Day // of Take
	Goal     float64
	Next     knowledge.MaterialID // of which the next sample is best: as the last, else what a keeper takes
	laid     []samples.Stored     // samples for it that are laid out and not taken yet
	beside   *positives.Trace     // an open positive, of whatever, in what it shares a room with
	open     *positives.Trace     // what was detected in it, or in the one it is to be apart from
	pooled   bool                 // it was detected in a pool
	beyond   bool                 // it rests on a pool in which it was detected, and on other samples beside it
	silent   bool                 // it was detected, but in samples alone of which no figure speaks
	newcomer int                  // for how many days one without a quarantine counts as one
	today    model.Day
	joined   *joined
}

// What may follow beside what the samples alone say. Values are frozen.
const (
	Left   evidence.Act = "left"   // it is here no more
	Closed evidence.Act = "closed" // its positive was closed, of a thing that may stay
)

// Step is one sample of the animal, and what it made of the chance.
type Step struct {
	Sample        samples.Stored
	Outcome       samples.Outcome
	Before, After evidence.Range
	// Mute is why it says nothing, empty: it does.
	Mute Mute
	TooSoon
}

// silent reports whether the thing was detected in a sample of which no figure speaks.
func (s Step) silent() bool {
	return s.Outcome == samples.Detected && (s.Mute == Unfit || s.Mute == Unrated)
}

// TooSoon is how far a sample was taken too soon, after what.
type TooSoon struct {
	Soon  Soon
	Since model.Day // of Near and NearAtTheLongest: on which the contact began
}

// Early reports whether nothing was detected, within the latent days that are assumed.
func (s TooSoon) Early() bool { return s.Soon == Early }

// Soon is how far a sample was taken too soon after the animal's arrival, or after a contact began,
// to say much, empty: it was not. Values are frozen; the text is "chance.soon." + value.
type Soon string

// How far. After a contact began it still says what it can of all that was before it.
const (
	Early            Soon = "early"        // nothing was detected, within the latent days that are assumed
	AtTheLongest     Soon = "longest"      // nothing was detected, within the longest latent days
	FoundEarly       Soon = "detected"     // it was detected, within the latent days that are assumed
	Near             Soon = "near"         // nothing was detected, within those assumed of a contact
	NearAtTheLongest Soon = "near-longest" // nothing was detected, within the longest of a contact
)

// soon is how far an answer of a sample taken on a day came too soon; the arrival goes before
// the contacts, and of these the one that began last counts.
func (c Chance) soon(of samples.Outcome, taken model.Day) TooSoon {
	latent, longest := model.Day(c.Carrier.Latent.Assumed), model.Day(c.Carrier.Latent.High)
	near := c.nearSince(taken)
	switch early := taken < c.Begun.Day+latent; {
	case early && of == samples.Detected:
		return TooSoon{Soon: FoundEarly}
	case early:
		return TooSoon{Soon: Early}
	case of == samples.Detected:
		return TooSoon{}
	case near != 0 && taken < near+latent:
		return TooSoon{Near, near}
	case taken < c.Begun.Day+longest:
		return TooSoon{Soon: AtTheLongest}
	case near != 0 && taken < near+longest:
		return TooSoon{NearAtTheLongest, near}
	}
	return TooSoon{}
}

// nearSince is the last day up to another on which a contact began that the animal may have
// caught the thing in, 0: none did. What follows on another time with the same animal is no new
// contact.
func (c Chance) nearSince(day model.Day) (since model.Day) {
	for _, e := range c.Exposed {
		goesOn := slices.ContainsFunc(c.Exposed, func(o Exposed) bool { return o.To == e.To && o.From < e.From && o.Until+1 >= e.From })
		if !goesOn && e.From <= day {
			since = max(since, e.From)
		}
	}
	return since
}

// Mute is why a sample says nothing of a thing. Values are frozen; the text is
// "chance.mute." + value.
type Mute string

// Why.
const (
	Unfit   Mute = "unfit"   // the thing is not found in such a sample of a living python
	Earlier Mute = "earlier" // taken before the thing was got rid of
	Met     Mute = "met"     // antibodies were looked for: they say that it was met, not that it is there
	Unrated Mute = "unrated" // no figures tell how well the lab's method finds it there
	Unfound Mute = "unfound" // the lab could not say whether it is there
)

// Of is what samples prove of a thing in an animal. ok is false where no figure is worked out
// of it; its samples are told of nevertheless, each with why it says nothing.
func (r *Reader) Of(animal model.AnimalID, of knowledge.AgentID) (c Chance, ok bool) {
	k := key{of, animal}
	c, known := r.told[k]
	if !known {
		c = r.tell(k)
		r.told[k] = c
	}
	return c, c.Known()
}

func (r *Reader) tell(k key) (c Chance) {
	animal, of := k.animal, k.of
	c = Chance{Of: of, newcomer: r.tables.Value(knowledge.ValueNewcomer), today: r.today, Goal: float64(r.tables.Value(knowledge.ValueChanceGoal)) / 1000}
	known := false
	if t, there := r.Detected(animal, of); there {
		c.pooled, c.open = len(t.Animals) > 1, &t
	}
	if c.Carrier, known = r.figures.Carrier(of); !known {
		if c.Steps = r.mute(animal, of, nil); c.open != nil {
			c.Act = evidence.Vet
		}
		return c
	}
	j := r.caseOf(k)
	c.joined, c.Begun, c.Exposed, c.beyond = j, j.begun[0], j.exposed, j.beyondAPool()
	c.Now, c.Linkage = j.now()
	for _, s := range j.steps() {
		of := j.samples[s.Sample]
		c.Steps = append(c.Steps, Step{Sample: of, Outcome: of.Outcome(k.of), Before: s.Before, After: s.After, TooSoon: c.soon(of.Outcome(k.of), of.Taken.Day())})
	}
	c.Sights = r.sights(k, c)
	c.Own, c.Spoilt = r.own(c), r.spoilt(of)
	c.Act, c.From = r.standing(k, c).Next(r.today)
	switch {
	case c.Act == evidence.Vet:
	case !r.animals[animal].Status.Here():
		c.Act = Left
	case slices.Contains([]evidence.Act{evidence.Take, evidence.Assumed}, c.Act) && !c.Carrier.Clears && r.closed(animal, of):
		c.Act = Closed
	}
	c.Next = r.material(k, c)
	for _, s := range r.samples {
		if s.Stage() == samples.ToTake && slices.Contains(s.For, of) && slices.Contains(s.Animals, animal) {
			c.laid = append(c.laid, s)
		}
	}
	found := c.open != nil && !slices.ContainsFunc(c.Steps, func(s Step) bool { return s.Outcome == samples.Detected })
	r.apart(animal, &c)
	c.Steps = append(c.Steps, r.mute(animal, of, c.Steps)...)
	c.silent = found && slices.ContainsFunc(c.Steps, Step.silent)
	slices.SortStableFunc(c.Steps, func(a, b Step) int { return int(a.Sample.Taken.Day()) - int(b.Sample.Taken.Day()) })
	return c
}

// All are the things that the animal was sampled for, exposed to, or that a chance is
// asked of anyway, in the order of their table.
func (r *Reader) All(animal model.AnimalID) (all []Chance) {
	for _, a := range r.tables.Agents() {
		c, known := r.Of(animal, a.ID)
		if known || len(c.Steps) > 0 {
			all = append(all, c)
		}
	}
	return all
}

// Pooled reports whether what was detected was so in a pool: in which of its animals is not
// known.
func (c Chance) Pooled() bool { return c.pooled }

// Known reports whether a figure is worked out of it: the tables have figures of the thing, and
// it was not detected in samples alone of which they say nothing; such a figure would leave out
// what was found.
func (c Chance) Known() bool { return c.Carrier.Agent != "" && !c.silent }

// apart finds the positive that says who is moved, where an animal would be parted from another.
func (r *Reader) apart(animal model.AnimalID, c *Chance) {
	if c.Act != evidence.Apart {
		return
	}
	still := c.still()
	if t, there := r.Detected(still.To, c.Of); there {
		c.open = &t
		return
	}
	for _, t := range r.traces {
		near, _ := t.NearOf(animal)
		with := slices.ContainsFunc(near.Stretches, func(s contact.Stretch) bool { return s.Still })
		if t.Closed == nil && (with || slices.Contains(t.Animals, animal) || slices.Contains(t.Animals, still.To)) {
			c.beside, c.open = &t, &t
			return
		}
	}
}

// Open is the positive whose page says what comes next: of the animal, or of one that it
// shares a room with; ok is false where there is none.
func (c Chance) Open() (t positives.Trace, ok bool) {
	if c.open == nil {
		return t, false
	}
	return *c.open, true
}

// Waits reports whether a sample for it is laid out, for today or for a day to come.
func (c Chance) Waits() bool { return len(c.laid) > 0 }

// Laid reports whether a sample for it is laid out that can be taken now.
func (c Chance) Laid() bool {
	return slices.ContainsFunc(c.laid, func(s samples.Stored) bool { return !s.Ahead(c.today) })
}

// mute are the samples of an animal that were sent in for a thing and say nothing.
func (r *Reader) mute(animal model.AnimalID, of knowledge.AgentID, told []Step) (all []Step) {
	for _, s := range r.samples {
		if s.Void != nil || s.Outcome(of) == samples.Pending || s.Taken.IsZero() || !slices.Contains(s.Animals, animal) || slices.ContainsFunc(told, func(t Step) bool { return t.Sample.ID == s.ID }) {
			continue
		}
		all = append(all, Step{Sample: s, Outcome: s.Outcome(of), Mute: r.why(s, of)})
	}
	return all
}

// why is why a sample that says nothing of a thing does so.
func (r *Reader) why(s samples.Stored, of knowledge.AgentID) Mute {
	if !s.LookedThrough(of) {
		return Unfound
	}
	if _, speaks := r.sight(s, of); speaks {
		return Earlier
	}
	if s.Method(of) == knowledge.Antibodies {
		return Met
	}
	if _, usually := r.figures.Sight(of, r.species(s.Animals), s.Material, ""); usually {
		return Unrated
	}
	return Unfit
}

// own are the figures of the keeper that a chance rests on.
func (r *Reader) own(c Chance) (all []assumed.Stored) {
	rows := []assumed.Row{{Table: assumed.Priors, ID: c.Begun.Prior.ID}}
	for _, s := range c.Sights {
		rows = append(rows, assumed.Row{Table: assumed.Sights, ID: s.ID})
	}
	for _, row := range append(rows, assumed.Row{Table: assumed.Carriers, ID: string(c.Carrier.Agent)}) {
		if s, changed := r.figures.Own(row); changed {
			all = append(all, s)
		}
	}
	return all
}

// spoilt reports whether figures of the keeper of a thing cannot be used, or some of which
// nobody can say of which thing they are.
func (r *Reader) spoilt(of knowledge.AgentID) bool {
	return len(r.figures.Unread()) > 0 || slices.ContainsFunc(assumed.RowsOf(r.tables, of), func(row assumed.Row) bool {
		_, spoilt := r.figures.Spoilt(row)
		return spoilt
	})
}

// sights are how the animal's samples see the thing, or how the first would.
func (r *Reader) sights(k key, c Chance) (all []knowledge.Sight) {
	for _, s := range c.Steps {
		if sight, ok := r.sight(s.Sample, c.Of); ok && !slices.ContainsFunc(all, func(o knowledge.Sight) bool { return o.ID == sight.ID }) {
			all = append(all, sight)
		}
	}
	if len(all) == 0 {
		all = slices.Clip(r.figures.SightsOf(c.Of, r.animals[k.animal].Species)[:1])
	}
	return all
}

// standing is how the animal stands to the thing.
func (r *Reader) standing(k key, c Chance) evidence.Standing {
	s := evidence.Standing{Chance: c.Now, Goal: c.Goal, Between: r.tables.Value(knowledge.ValueSampleApart), Sees: c.Begun.Day + model.Day(c.Carrier.Latent.Assumed)}
	_, s.Detected = r.Detected(k.animal, k.of)
	room := !r.tables.Confined(k.of)
	for _, e := range c.Exposed {
		s.Exposed = s.Exposed || e.Still && room
		if e.Still && !room {
			continue // nobody is held back by the room, and a day that goes on would never come
		}
		s.Sees = max(s.Sees, e.Until+model.Day(c.Carrier.Latent.Assumed))
	}
	for _, step := range c.Steps {
		if step.Mute == "" && !step.Early() {
			s.Last = step.Sample.Taken.Day()
		}
	}
	for _, o := range r.samples {
		_, sees := r.figures.Sight(k.of, r.species(o.Animals), o.Material, "")
		if sees && o.Void == nil && !o.Taken.IsZero() && slices.Contains(o.For, k.of) && o.Outcome(k.of) == samples.Pending && slices.Contains(o.Animals, k.animal) {
			s.Awaited = true
		}
	}
	return s
}

// Assumed reports whether something that drives the chance was not published.
func (c Chance) Assumed() bool {
	return c.Begun.Prior.Assumed() || c.Carrier.Assumed() || slices.ContainsFunc(c.Sights, knowledge.Sight.Assumed)
}

// AtLeastOne is the chance that at least one of some animals carries a thing; ok is false
// where the tables have no figures of it, or there is no animal. Where too many hang together
// by pools each counts as if it had nothing to do with the others, and the chance is at least
// that of any of them with those of its own pools.
func (r *Reader) AtLeastOne(animals []model.AnimalID, of knowledge.AgentID) (joint Joint, ok bool) {
	joint.Of, joint.Spoilt = of, r.spoilt(of)
	if _, ok = r.figures.Carrier(of); !ok || len(animals) == 0 {
		return joint, false
	}
	joint.Silent = slices.ContainsFunc(animals, func(a model.AnimalID) bool { c, _ := r.Of(a, of); return c.silent })
	none, least := evidence.Exactly(1), evidence.Exactly(0)
	done := map[model.AnimalID]bool{}
	for _, a := range animals {
		if done[a] {
			continue
		}
		j := r.caseOf(key{of, a})
		var asked []int
		for i, linked := range j.animals {
			if slices.Contains(animals, linked) && !j.before[i] && (!done[linked] || j.linkage != evidence.Whole) {
				asked = append(asked, i)
			}
		}
		one, linkage := j.atLeastOne(asked)
		joint.Linkage = max(joint.Linkage, linkage)
		done[a] = true
		if j.linkage == evidence.Whole {
			for _, i := range asked {
				done[j.animals[i]] = true
			}
		} else { // the others are asked about with their own pools
			least = least.AtLeast(one)
			one, _ = j.now()
		}
		none = evidence.Range{Low: none.Low * (1 - one.Low), Mid: none.Mid * (1 - one.Mid), High: none.High * (1 - one.High)}
	}
	joint.Chance = evidence.Range{Low: 1 - none.Low, Mid: 1 - none.Mid, High: 1 - none.High}.AtLeast(least)
	return joint, true
}

// caseOf is a thing in an animal with what it shares samples with, joined once.
func (r *Reader) caseOf(k key) *joined { return r.joinOnce(caseKey{k, true}) }

func (r *Reader) joinOnce(k caseKey) *joined {
	j := r.cases[k]
	if j == nil {
		j = r.answered(k, r.join(k.key, k.exposed))
		r.cases[k] = j
	}
	return j
}
