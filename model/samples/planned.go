package samples

import (
	"slices"

	"coilward/model"
	"coilward/model/knowledge"
)

// Planned says that a sample is laid out for a round of a plan.
type Planned struct {
	Day   model.Day `json:"day"`   // on which it is to be taken
	Round int       `json:"round"` // from 1
	Of    int       `json:"of"`    // the rounds of the plan
}

// MaxRounds is the most rounds of a plan.
const MaxRounds = 100

// planned wants a round to be one of its plan, and its day to be one of this century or the
// next.
func (s Sample) planned() *model.Refusal {
	p := s.Planned
	switch {
	case p == nil:
	case p.Of < 1 || p.Of > MaxRounds || p.Round < 1 || p.Round > p.Of:
		return mend("planned", "", "sample.round", map[string]model.Gap{"Most": model.CountGap(MaxRounds)})
	case p.Day < model.NewDay(2000, 1, 1) || p.Day > model.NewDay(2199, 12, 31):
		return mend("planned", p.Day.String(), "sample.planned-day", nil)
	}
	return nil
}

// Ahead reports whether the sample is laid out for a day that is still to come, and was not
// taken before it.
func (s Stored) Ahead(today model.Day) bool {
	return s.Planned != nil && s.Planned.Day > today && s.Stage() == ToTake
}

// laid reports whether the sample is laid out for a plan and was not taken yet.
func (s Stored) laid() bool { return s.Planned != nil && s.Stage() == ToTake }

// Replaced are the samples that are laid out for an earlier plan and not taken yet, and that
// a new plan for some animals and a thing stands in place of: those that share an animal with
// it and look for that thing alone.
func Replaced(all []Stored, animals []model.AnimalID, of knowledge.AgentID) (those []Stored) {
	for _, s := range all {
		shares := slices.ContainsFunc(s.Animals, func(a model.AnimalID) bool { return slices.Contains(animals, a) })
		if s.laid() && shares && slices.Equal(s.For, []knowledge.AgentID{of}) {
			those = append(those, s)
		}
	}
	return those
}

// Beside are the samples that are laid out for no plan and not taken yet, and that a new plan for
// some animals and a thing leaves lying: those that share an animal with it and look for that thing.
func Beside(all []Stored, animals []model.AnimalID, of knowledge.AgentID) (those []Stored) {
	for _, s := range all {
		shares := slices.ContainsFunc(s.Animals, func(a model.AnimalID) bool { return slices.Contains(animals, a) })
		if s.Planned == nil && s.Stage() == ToTake && shares && slices.Contains(s.For, of) {
			those = append(those, s)
		}
	}
	return those
}

// Awaited are the samples of some animals that were taken and whose answer about a thing is still to
// come; a plan does not count them.
func Awaited(all []Stored, animals []model.AnimalID, of knowledge.AgentID) (those []Stored) {
	for _, s := range all {
		shares := slices.ContainsFunc(s.Animals, func(a model.AnimalID) bool { return slices.Contains(animals, a) })
		if shares && s.Void == nil && !s.Taken.IsZero() && slices.Contains(s.For, of) && s.Outcome(of) == Pending {
			those = append(those, s)
		}
	}
	return those
}

// Overtaken are the things that a planned sample looks for and that were detected in one of
// its animals since it was laid out: its plan was made before that was known.
func Overtaken(all []Stored, s Stored) (of []knowledge.AgentID) {
	if !s.laid() {
		return nil
	}
	for _, thing := range s.For {
		if slices.ContainsFunc(all, func(o Stored) bool {
			r, _ := o.Result(thing)
			return o.Void == nil && r.Outcome == Detected && !before(r.At, s.At) && slices.ContainsFunc(o.Animals, func(a model.AnimalID) bool { return slices.Contains(s.Animals, a) })
		}) {
			of = append(of, thing)
		}
	}
	return of
}

// Plan are the samples that were laid out with one and not taken yet, that one among them,
// in the order of their rounds: those of the same moment, for the same things.
func (t Tray) Plan(of Followed) (all []Followed) {
	if !of.laid() {
		return nil
	}
	for _, s := range t {
		if s.laid() && s.At == of.At && s.Planned.Of == of.Planned.Of && slices.Equal(s.For, of.For) {
			all = append(all, s)
		}
	}
	slices.SortStableFunc(all, func(a, b Followed) int { return a.Planned.Round - b.Planned.Round })
	return all
}

// LayOut lays a plan out: it begins the samples of all its rounds, each with its day. What is
// laid out for an earlier plan for one of the animals and is not taken yet is taken out, as
// Replaced tells.
type LayOut struct {
	Tables    *knowledge.Tables
	Each      []New
	By        model.PersonID
	Confirmed model.Confirmed
}

// Name is "samples.lay-out".
func (LayOut) Name() string { return "samples.lay-out" }

// Plan writes the samples and removes those of an earlier plan.
func (c LayOut) Plan(v model.View) (model.Writes, error) {
	b, err := begin(v, c.Tables, c.Confirmed, len(c.Each))
	if err != nil {
		return model.Writes{}, err
	}
	all, _, err := Legible(v)
	if err != nil {
		return model.Writes{}, err
	}
	var out []model.ID
	for _, n := range c.Each {
		if n.Sample.Planned == nil || n.Sample.Void != nil || !n.Sample.Taken.IsZero() || len(n.Sample.Results) > 0 {
			return model.Writes{}, b.of(n.Animals, mend("planned", "", "sample.not-planned", nil))
		}
		if err := b.write(Stored{By: c.By, Animals: n.Animals, Sample: n.Sample}, nil); err != nil {
			return model.Writes{}, err
		}
		for _, of := range n.Sample.For {
			for _, s := range Replaced(all, n.Animals, of) {
				if !slices.Contains(out, s.ID.ID) {
					out = append(out, s.ID.ID)
				}
			}
		}
	}
	writes, err := b.done("samples.done.lay-out")
	if err == nil {
		writes.Remove = out
	}
	return writes, err
}

// CallOff gives up what is laid out for a plan: samples that were not taken yet are taken
// out.
type CallOff struct{ Of []model.SampleID }

// Name is "samples.call-off".
func (CallOff) Name() string { return "samples.call-off" }

// Plan removes the samples. It is refused where one was taken meanwhile, or is for no plan.
func (c CallOff) Plan(v model.View) (model.Writes, error) {
	b, err := begin(v, nil, nil, len(c.Of))
	if err != nil {
		return model.Writes{}, err
	}
	var out []model.ID
	for _, id := range c.Of {
		s, err := find(v, id)
		switch {
		case err != nil:
			return model.Writes{}, err
		case !s.laid():
			return model.Writes{}, b.of(s.Animals, mend("planned", "", "sample.not-planned", nil))
		case slices.Contains(out, s.ID.ID):
			return model.Writes{}, b.of(s.Animals, mend("sample", "", "sample.twice", nil))
		}
		b.all, out = append(b.all, s), append(out, s.ID.ID)
	}
	writes, err := b.done("samples.done.call-off")
	if err == nil {
		writes.Remove = out
	}
	return writes, err
}
