package samples

import (
	"fmt"
	"slices"

	"coilward/model"
	"coilward/model/knowledge"
)

// Prepare begins a sample, or notes one as far as it has come: everything of
// Sample but results may be known already.
type Prepare struct {
	Tables    *knowledge.Tables
	Animals   []model.AnimalID
	Sample    Sample
	By        model.PersonID
	Confirmed model.Confirmed
}

// Name is "samples.prepare".
func (Prepare) Name() string { return "samples.prepare" }

// Plan writes the sample.
func (c Prepare) Plan(v model.View) (model.Writes, error) {
	if c.Sample.Void != nil || len(c.Sample.Results) > 0 {
		return model.Writes{}, mend("outcome", "", "sample.not-taken", nil)
	}
	return write(v, c.Tables, Stored{By: c.By, Animals: c.Animals, Sample: c.Sample}, nil, c.Confirmed, "samples.done.prepare")
}

// Take says that a sample was taken.
type Take struct {
	Tables    *knowledge.Tables
	ID        model.SampleID
	Base      uint32 // the revision that the change was made on, as of all commands here
	At        model.Moment
	By        model.PersonID // who took it
	Site      string
	Storage   string
	Confirmed model.Confirmed
}

// Name is "samples.take".
func (Take) Name() string { return "samples.take" }

// Plan writes the sample anew. It is refused where it was taken already.
func (c Take) Plan(v model.View) (model.Writes, error) {
	return edit(v, c.Tables, c.ID, c.Base, c.Confirmed, "samples.done.take", func(s *Stored) *model.Refusal {
		if r := s.stands("taken", c.At, s.Taken); r != nil {
			return r
		}
		s.Taken, s.TakenBy = c.At, c.By
		if c.Site != "" {
			s.Site = c.Site
		}
		if c.Storage != "" {
			s.Storage = c.Storage
		}
		return nil
	})
}

// Post says that a sample went off.
type Post struct {
	Tables    *knowledge.Tables
	ID        model.SampleID
	Base      uint32
	At        model.Moment
	Lab       model.PersonID // zero: as it was
	Courier   string
	Tracking  string
	Confirmed model.Confirmed
}

// Name is "samples.post".
func (Post) Name() string { return "samples.post" }

// Plan writes the sample anew. It is refused where it went off already.
func (c Post) Plan(v model.View) (model.Writes, error) {
	return edit(v, c.Tables, c.ID, c.Base, c.Confirmed, "samples.done.post", func(s *Stored) *model.Refusal {
		if r := s.stands("posted", c.At, s.Posted); r != nil {
			return r
		}
		s.Posted, s.Courier, s.Tracking = c.At, c.Courier, c.Tracking
		if !c.Lab.IsZero() {
			s.Lab = c.Lab
		}
		return nil
	})
}

// Arrive says that a sample is at the lab; one that was brought there need not
// have been posted.
type Arrive struct {
	Tables    *knowledge.Tables
	ID        model.SampleID
	Base      uint32
	At        model.Moment
	Confirmed model.Confirmed
}

// Name is "samples.arrive".
func (Arrive) Name() string { return "samples.arrive" }

// Plan writes the sample anew. It is refused where it arrived already.
func (c Arrive) Plan(v model.View) (model.Writes, error) {
	return edit(v, c.Tables, c.ID, c.Base, c.Confirmed, "samples.done.arrive", func(s *Stored) *model.Refusal {
		if r := s.stands("arrived", c.At, s.Arrived); r != nil {
			return r
		}
		s.Arrived = c.At
		return nil
	})
}

// stands wants a step to have a day, and not to have been taken before.
func (s Stored) stands(field string, at, already model.Moment) *model.Refusal {
	switch {
	case s.Void != nil:
		return mend(field, "", "sample.void", nil)
	case at.IsZero():
		return mend(field, "", "day.empty", nil)
	case !already.IsZero():
		return mend(field, at.Day().String(), "sample.already", map[string]model.Gap{"Day": model.DayGap(already.Day())})
	}
	return nil
}

// Enter enters results, of one thing or of several of one report.
type Enter struct {
	Tables    *knowledge.Tables
	ID        model.SampleID
	Base      uint32
	Results   []Result // of things that have none yet
	Confirmed model.Confirmed
}

// Name is "samples.enter".
func (Enter) Name() string { return "samples.enter" }

// Plan writes the sample with the results.
func (c Enter) Plan(v model.View) (model.Writes, error) {
	return edit(v, c.Tables, c.ID, c.Base, c.Confirmed, "samples.done.enter", func(s *Stored) *model.Refusal {
		if len(c.Results) == 0 {
			return mend("outcome", "", "text.empty", nil)
		}
		for _, r := range c.Results {
			switch earlier, there := s.Result(r.Of); {
			case s.Void != nil:
				return mend("outcome", string(r.Outcome), "sample.void", nil)
			case there:
				return mend("outcome", string(r.Outcome), "sample.result-there", map[string]model.Gap{"Agent": model.KeyGap("agent." + string(r.Of)), "Day": model.DayGap(earlier.At.Day())})
			}
			r.Why = ""
			s.Results = append(slices.Clip(s.Results), r)
		}
		return nil
	})
}

// Correct puts the result of one thing right; the earlier one is kept. Result.Why
// must say why.
type Correct struct {
	Tables    *knowledge.Tables
	ID        model.SampleID
	Base      uint32
	Result    Result
	Confirmed model.Confirmed
}

// Name is "samples.correct".
func (Correct) Name() string { return "samples.correct" }

// Plan writes the sample with the new result behind the earlier one.
func (c Correct) Plan(v model.View) (model.Writes, error) {
	return edit(v, c.Tables, c.ID, c.Base, c.Confirmed, "samples.done.correct", func(s *Stored) *model.Refusal {
		if _, there := s.Result(c.Result.Of); !there {
			return mend("outcome", string(c.Result.Outcome), "sample.no-result", map[string]model.Gap{"Agent": model.KeyGap("agent." + string(c.Result.Of))})
		}
		s.Results = append(slices.Clip(s.Results), c.Result)
		return nil
	})
}

// GiveUp says that a sample gives no result, and why.
type GiveUp struct {
	Tables    *knowledge.Tables
	ID        model.SampleID
	Base      uint32
	Void      Void
	Confirmed model.Confirmed
}

// Name is "samples.give-up".
func (GiveUp) Name() string { return "samples.give-up" }

// Plan writes the sample as void. It is refused where it has a result.
func (c GiveUp) Plan(v model.View) (model.Writes, error) {
	return edit(v, c.Tables, c.ID, c.Base, c.Confirmed, "samples.done.give-up", func(s *Stored) *model.Refusal {
		if s.Void != nil {
			return mend("void", string(c.Void.Why), "sample.void", nil)
		}
		s.Void = &c.Void
		return nil
	})
}

// Change replaces what is known of a sample, its results and that it is void
// aside.
type Change struct {
	Tables    *knowledge.Tables
	ID        model.SampleID
	Base      uint32
	Animals   []model.AnimalID
	Sample    Sample
	Confirmed model.Confirmed
}

// Name is "samples.change".
func (Change) Name() string { return "samples.change" }

// Plan writes the sample anew.
func (c Change) Plan(v model.View) (model.Writes, error) {
	return edit(v, c.Tables, c.ID, c.Base, c.Confirmed, "samples.done.change", func(s *Stored) *model.Refusal {
		results, void := s.Results, s.Void
		s.Animals, s.Sample = c.Animals, c.Sample
		s.Results, s.Void = results, void
		return nil
	})
}

// Remove takes out a sample that was entered by mistake.
type Remove struct{ ID model.SampleID }

// Name is "samples.remove".
func (Remove) Name() string { return "samples.remove" }

// Plan removes the sample.
func (c Remove) Plan(v model.View) (model.Writes, error) {
	s, err := find(v, c.ID)
	if err != nil {
		return model.Writes{}, err
	}
	m := &Many{view: v, animals: map[model.AnimalID]sampled{}}
	return model.Writes{Remove: []model.ID{c.ID.ID}, Label: m.label("samples.done.remove", s)}, nil
}

// Commands are the commands of this package, one of each, empty.
func Commands() []model.Command {
	return []model.Command{Prepare{}, Take{}, Post{}, Arrive{}, Enter{}, Correct{}, GiveUp{}, Change{}, Remove{}}
}

func find(v model.View, id model.SampleID) (Stored, error) {
	d, err := v.Document(id.ID)
	if err != nil {
		return Stored{}, fmt.Errorf("read sample %s: %w", id, err)
	}
	return Read(d)
}

// edit changes a sample and writes it anew, by the rules of a new one.
func edit(v model.View, t *knowledge.Tables, id model.SampleID, base uint32, confirmed model.Confirmed, done string, change func(*Stored) *model.Refusal) (model.Writes, error) {
	s, err := find(v, id)
	if err != nil {
		return model.Writes{}, err
	}
	was := s
	s.Revision = base
	if r := change(&s); r != nil {
		return model.Writes{}, r
	}
	return write(v, t, s, &was, confirmed, done)
}

// write writes a sample that was another before, nil: it is new.
func write(v model.View, t *knowledge.Tables, s Stored, was *Stored, confirmed model.Confirmed, done string) (model.Writes, error) {
	m, err := NewMany(v, t)
	if err != nil {
		return model.Writes{}, err
	}
	d, err := m.make(s, was, confirmed)
	if err != nil {
		return model.Writes{}, err
	}
	return model.Writes{Put: []model.Document{d}, Label: m.label(done, s)}, nil
}

func (m *Many) label(key string, s Stored) model.Label {
	return model.Label{Key: key, Gaps: map[string]model.Gap{"Animals": model.TextGap(m.names(s.Animals)), "Material": model.KeyGap("material." + string(s.Material))}}
}
