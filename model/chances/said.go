package chances

import (
	"slices"

	"coilward/model"
	"coilward/model/assumed"
	"coilward/model/evidence"
	"coilward/model/knowledge"
)

// Line is a sentence: the key of its text, and what fills its gaps, labels and gaps of
// labels among it.
type Line struct {
	Key  string
	Gaps map[string]any
}

// Named are the names that lines say: that of the animal itself, and those of others and of
// rooms.
type Named struct {
	Name   string
	Others func(model.AnimalID) string
	Rooms  func(model.PlaceID) string
}

// Says is the chance in a sentence, or that no figure of the thing is worked out.
func (c Chance) Says(n Named) Line {
	switch {
	case c.silent:
		return Line{"chance.none-detected", map[string]any{"Agent": agent(c.Of)}}
	case !c.Known():
		return Line{"chance.none", map[string]any{"Agent": agent(c.Of)}}
	}
	return Line{"chance.carries", map[string]any{"Name": n.Name, "Agent": agent(c.Of), "Chance": c.Now.Told().Label()}}
}

// WhyNone is why no figure is worked out, where none is.
func (c Chance) WhyNone() Line {
	if c.silent {
		return Line{Key: "chance.none-detected-why"}
	}
	return Line{Key: "chance.none-why"}
}

// Assumes is what the chance rests on, in the order in which it is put together: with what
// the animal began, what its samples can see, and what it was exposed to. It is empty where
// no figure is worked out.
func (c Chance) Assumes(n Named) (all []Line) {
	if !c.Known() {
		return nil
	}
	all = append(all, Line{"chance.assumes." + string(c.Begun.Why), map[string]any{"Prior": told(c.Begun.Prior.Chance), "Name": n.Name, "Day": c.Begun.Day}})
	spoke, pooled := 0, false
	for _, s := range c.Steps {
		if s.Mute == "" {
			spoke++
			pooled = pooled || len(s.Sample.Animals) > 1
		}
	}
	for _, s := range c.Sights {
		if materials := c.materials(s); len(materials) > 0 {
			all = append(all, Line{"chance.assumes.sight", map[string]any{"Material": model.KeysGap(materials...), "Found": told(s.Sensitivity), "Wrong": evidence.Exactly(float64(1000-s.Right) / 1000).Told().Label()}})
		}
	}
	if spoke > 0 {
		latent := c.Carrier.Latent
		all = append(all, Line{"chance.assumes.latent", map[string]any{"Low": latent.Low, "High": latent.High, "Days": latent.Assumed}})
	}
	if spoke > 1 {
		all = append(all, Line{Key: "chance.assumes.share"})
	}
	if pooled {
		all = append(all, Line{Key: "chance.assumes.pool"})
	}
	if c.beyond {
		all = append(all, Line{Key: "chance.assumes.pool-detected"})
	}
	if key := apart[c.Linkage]; key != "" {
		all = append(all, Line{key, map[string]any{"Name": n.Name}})
	}
	for _, e := range c.Exposed {
		all = append(all, e.says(n, c.newcomer))
	}
	for _, o := range c.Own {
		all = append(all, Line{"chance.assumes." + ownFigures[o.Table][o.By], map[string]any{"Why": model.TextGap(o.Why)}})
	}
	if c.Spoilt {
		all = append(all, Line{Key: "chance.assumes.own-spoilt"})
	}
	if c.Assumed() {
		all = append(all, Line{Key: "chance.assumes.unpublished"})
	}
	return all
}

// apart are the keys by which it is told that not all that share pools were worked out together.
var apart = map[evidence.Linkage]string{evidence.Own: "chance.assumes.own-pools", evidence.Single: "chance.assumes.single-pools"}

// ownFigures are the ends of the keys by which figures are told that stand in place of a
// table's.
var ownFigures = map[assumed.Table]map[assumed.Teller]string{
	assumed.Priors:   {assumed.Keeper: "own-prior", assumed.Vet: "own-prior-vet"},
	assumed.Sights:   {assumed.Keeper: "own-sight", assumed.Vet: "own-sight-vet"},
	assumed.Carriers: {assumed.Keeper: "own-carrier", assumed.Vet: "own-carrier-vet"},
}

// materials are the keys of those of the animal's samples that a row of the table speaks
// for, each once.
func (c Chance) materials(by knowledge.Sight) (keys []string) {
	for _, s := range c.Steps {
		if key := "material." + string(s.Sample.Material); s.Mute == "" && slices.Contains(by.Materials, s.Sample.Material) && !slices.Contains(keys, key) {
			keys = append(keys, key)
		}
	}
	return keys
}

// says is the time in a sentence; newcomer is for how many days one without a quarantine counts.
func (e Exposed) says(n Named, newcomer int) Line {
	key := "chance.assumes." + string(e.By)
	if e.Still {
		key = "chance.assumes.still-" + string(e.By)
	}
	switch {
	case e.Pool && e.Still:
		key = "chance.assumes.still-pool-positive"
	case e.Pool:
		key = "chance.assumes.pool-positive"
	}
	gaps := map[string]any{"Name": n.Others(e.To), "From": e.From, "Until": e.Until}
	if e.By == ByCarrier || e.By == ByUnquarantined {
		gaps["Room"], gaps["Days"] = n.Rooms(e.Room), newcomer
	}
	return Line{key, gaps}
}

// Follows is what follows from the chance.
func (c Chance) Follows(n Named) Line {
	switch c.Act {
	case evidence.Nothing:
		return c.atGoal()
	case evidence.Take, evidence.Assumed:
		switch {
		case c.Laid():
			return Line{Key: "chance.act.laid"}
		case c.Waits():
			return Line{"chance.act.laid-ahead", map[string]any{"Day": c.firstLaid()}}
		case c.Act == evidence.Assumed:
			return c.atGoal()
		case c.From <= c.today:
			return Line{Key: "chance.act.take-now"}
		}
		return Line{"chance.act.take", map[string]any{"Day": c.From}}
	case evidence.Apart:
		e := c.still()
		key := "chance.act.apart-" + string(e.By)
		if c.beside != nil {
			key = "chance.act.apart-open"
		}
		return Line{key, map[string]any{"Name": n.Name, "Other": n.Others(e.To)}}
	case evidence.Vet:
		if c.pooled {
			return Line{Key: "chance.act.vet-pool"}
		}
		return c.detected()
	}
	return Line{Key: "chance.act." + string(c.Act)}
}

// atGoal is that the chance is as low as is wanted.
func (c Chance) atGoal() Line {
	return Line{"chance.act." + string(c.Act), map[string]any{"Goal": evidence.Exactly(c.Goal).Told().Label()}}
}

// detected is what follows where it was detected, whether a positive was opened or not.
func (c Chance) detected() Line {
	if t, there := c.Open(); there && !t.ID.IsZero() {
		return Line{Key: "chance.act.vet"}
	}
	return Line{Key: "chance.act.vet-sample"}
}

// firstLaid is the first day for which a sample is laid out.
func (c Chance) firstLaid() (first model.Day) {
	for _, s := range c.laid {
		if s.Planned != nil && (first == 0 || s.Planned.Day < first) {
			first = s.Planned.Day
		}
	}
	return first
}

// still is a time in which it may be caught and that goes on, of those the one that weighs
// most.
func (c Chance) still() (still Exposed) {
	for _, e := range c.Exposed {
		if e.Still && (still.To.IsZero() || e.By.rank() < still.By.rank()) {
			still = e
		}
	}
	return still
}

// Says is what a sample made of the chance, or why it says nothing of it.
func (s Step) Says() (all []Line) {
	switch {
	case s.silent():
		return []Line{{Key: "chance.mute.detected"}}
	case s.Mute != "":
		return []Line{{Key: "chance.mute." + string(s.Mute)}}
	}
	all = []Line{{"chance.step", map[string]any{"Before": s.Before.Told().Label(), "After": s.After.Told().Label()}}}
	return append(all, s.TooSoon.says()...)
}

// says is how far it was too soon, nothing where it was not.
func (s TooSoon) says() []Line {
	switch {
	case s.Soon == "":
		return nil
	case s.Since != 0:
		return []Line{{"chance.soon." + string(s.Soon), map[string]any{"Day": s.Since}}}
	}
	return []Line{{Key: "chance.soon." + string(s.Soon)}}
}

func agent(of knowledge.AgentID) model.Gap { return model.KeyGap("agent." + string(of)) }

// told is a span of a table in 1,000, in words.
func told(s knowledge.Span) model.Label { return of(s, 1000).Told().Label() }
