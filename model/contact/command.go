package contact

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"coilward/model"
	"coilward/model/knowledge"
)

// Open opens a positive: one thing was detected in one sample. It is refused where the
// result that counts does not say so, or where one is open for it already.
type Open struct {
	Tables *knowledge.Tables
	Sample model.SampleID
	Agent  knowledge.AgentID
	By     model.PersonID
}

// Name is "contact.open".
func (Open) Name() string { return "contact.open" }

// Plan writes the positive.
func (c Open) Plan(v model.View) (model.Writes, error) {
	animals, sample, err := tested(v, c.Sample)
	if err != nil {
		return model.Writes{}, err
	}
	agent := map[string]model.Gap{"Agent": model.KeyGap("agent." + string(c.Agent))}
	result, detected := sample.detected(c.Agent)
	if !detected {
		return model.Writes{}, mend("looked-for", string(c.Agent), "positive.not-detected", agent)
	}
	all, err := All(v)
	if err != nil {
		return model.Writes{}, err
	}
	if slices.ContainsFunc(all, func(s Stored) bool { return s.Open() && s.Sample == c.Sample && s.Agent == c.Agent }) {
		return model.Writes{}, mend("looked-for", string(c.Agent), "positive.is-open", agent)
	}
	worth, _ := c.Tables.Answer(c.Agent)
	s := Stored{ID: PositiveID{v.NewID()}, Opened: v.Now(), By: c.By, Animals: animals,
		Positive: Positive{Sample: c.Sample, Agent: c.Agent, Taken: sample.Taken, Reported: result.At, Doubt: worth.FalseAlarm}}
	return write(v, s, "positive.done.open")
}

// Act says that one thing of the list was done, or, with Not, that it was not after
// all; the revision before keeps what was said then.
type Act struct {
	Tables *knowledge.Tables
	ID     PositiveID
	Base   uint32
	Act    knowledge.PositiveActID
	Not    bool
	At     model.Moment // with Not, it is not asked for; so are By and Note
	By     model.PersonID
	Note   string
}

// Name is "contact.act".
func (Act) Name() string { return "contact.act" }

// Plan writes the positive with that word, or without it.
func (c Act) Plan(v model.View) (model.Writes, error) {
	key := "positive.done.act"
	if c.Not {
		key = "positive.done.not-act"
	}
	act := model.KeyGap("positive.act." + string(c.Act))
	return edit(v, c.ID, c.Base, key, func(s *Stored) *model.Refusal {
		did, done := s.Did(c.Act)
		switch {
		case c.Not && !done:
			return mend("positive-act", "", "positive.not-done", map[string]model.Gap{"Act": act})
		case c.Not:
			s.Done = slices.DeleteFunc(slices.Clone(s.Done), func(d Did) bool { return d.Act == c.Act })
			return nil
		case done:
			return mend("positive-act", "", "positive.done-already", map[string]model.Gap{"Act": act, "Day": model.DayGap(did.At.Day())})
		}
		if r := known(c.Tables, c.Act); r != nil {
			return r
		}
		s.Done = append(slices.Clip(s.Done), Did{Act: c.Act, At: c.At, By: c.By, Note: strings.TrimSpace(c.Note)})
		return nil
	})
}

// Close closes a positive with a reason. Owed is its list as it was shown; what of it
// was not done is kept, and then a note must say why.
type Close struct {
	ID   PositiveID
	Base uint32
	Why  Why
	Note string
	Owed []knowledge.PositiveActID
	At   model.Moment
	By   model.PersonID
}

// Name is "contact.close".
func (Close) Name() string { return "contact.close" }

// Plan writes the positive as closed. That a result was corrected is refused while the
// one that counts says detected.
func (c Close) Plan(v model.View) (model.Writes, error) {
	s, err := Find(v, c.ID)
	if err != nil {
		return model.Writes{}, err
	}
	stands := false
	if c.Why == Corrected {
		if stands, err = Stands(v, s); err != nil {
			return model.Writes{}, err
		}
	}
	return edit(v, c.ID, c.Base, "positive.done.close", func(s *Stored) *model.Refusal {
		if stands {
			return mend("why", string(c.Why), "positive.stands", map[string]model.Gap{"Agent": model.KeyGap("agent." + string(s.Agent))})
		}
		closed := Closed{At: c.At, By: c.By, Why: c.Why, Note: strings.TrimSpace(c.Note)}
		for _, act := range c.Owed {
			if _, done := s.Did(act); !done && !slices.Contains(closed.Unmet, act) {
				closed.Unmet = append(closed.Unmet, act)
			}
		}
		s.Closed = &closed
		return nil
	})
}

// Commands are the commands of this package, one of each, empty.
func Commands() []model.Command { return []model.Command{Open{}, Act{}, Close{}} }

// edit changes a positive that is open, by the rules of new ones.
func edit(v model.View, id PositiveID, base uint32, done string, change func(*Stored) *model.Refusal) (model.Writes, error) {
	s, err := Find(v, id)
	if err != nil {
		return model.Writes{}, err
	}
	if !s.Open() {
		return model.Writes{}, mend("positive", "", "positive.closed", map[string]model.Gap{"Day": model.DayGap(s.Closed.At.Day())})
	}
	s.Revision = base
	if r := change(&s); r != nil {
		return model.Writes{}, r
	}
	return write(v, s, done)
}

func write(v model.View, s Stored, done string) (model.Writes, error) {
	if r := s.Check(v.Now()); r != nil {
		return model.Writes{}, r
	}
	names, err := Names(v, s.Animals)
	if err != nil {
		return model.Writes{}, err
	}
	d, err := s.document()
	return model.Writes{Put: []model.Document{d}, Label: model.Label{Key: done, Gaps: map[string]model.Gap{
		"Animals": model.TextGap(names), "Agent": model.KeyGap("agent." + string(s.Agent)),
	}}}, err
}

// Names are the names of animals, one after the other; that of one that was removed is
// left out.
func Names(v model.View, all []model.AnimalID) (string, error) {
	var names []string
	for _, id := range all {
		d, err := v.Document(id.ID)
		if errors.Is(err, model.ErrNotFound) {
			continue
		}
		var animal struct {
			Name string `json:"name"`
		}
		if err == nil {
			err = d.Decode(animalForm, &animal)
		}
		if err != nil {
			return "", fmt.Errorf("read the name of %s: %w", id, err)
		}
		names = append(names, animal.Name)
	}
	return strings.Join(names, ", "), nil
}
