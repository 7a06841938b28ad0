package samples

import (
	"errors"
	"fmt"
	"slices"

	"coilward/model"
	"coilward/model/holidays"
	"coilward/model/knowledge"
)

// MaxMany is the most samples that one command changes.
const MaxMany = 1000

// On is a sample with the revision that a change is made on.
type On struct {
	ID   model.SampleID
	Base uint32
}

// New is a sample to be begun: everything of it but results may be known already.
type New struct {
	Animals []model.AnimalID // more than one where it is pooled
	Sample  Sample
}

// Prepare begins samples, or notes them as far as they have come: one sample, or
// the kits of a row of animals, in the order in which they stand.
type Prepare struct {
	Tables    *knowledge.Tables
	Each      []New
	By        model.PersonID
	Confirmed model.Confirmed
}

// Name is "samples.prepare".
func (Prepare) Name() string { return "samples.prepare" }

// Plan writes the samples.
func (c Prepare) Plan(v model.View) (model.Writes, error) {
	b, err := begin(v, c.Tables, c.Confirmed, len(c.Each))
	if err != nil {
		return model.Writes{}, err
	}
	for _, n := range c.Each {
		if n.Sample.Void != nil || len(n.Sample.Results) > 0 {
			return model.Writes{}, b.of(n.Animals, mend("outcome", "", "sample.not-taken", nil))
		}
		if err := b.write(Stored{By: c.By, Animals: n.Animals, Sample: n.Sample}, nil); err != nil {
			return model.Writes{}, err
		}
	}
	return b.done("samples.done.prepare")
}

// Take says that samples were taken.
type Take struct {
	Tables    *knowledge.Tables
	Of        []On
	At        model.Moment
	By        model.PersonID // who took them
	Site      string         // empty: as it was, as of storage
	Storage   string
	Confirmed model.Confirmed
}

// Name is "samples.take".
func (Take) Name() string { return "samples.take" }

// Plan writes the samples anew. It is refused where one was taken already.
func (c Take) Plan(v model.View) (model.Writes, error) {
	return edit(v, c.Tables, c.Of, c.Confirmed, "samples.done.take", func(s *Stored) *model.Refusal {
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

// Leave says who is to take samples that were not taken yet: the vet, where it is left
// to one.
type Leave struct {
	Tables *knowledge.Tables
	Of     []On
	To     model.PersonID
}

// Name is "samples.leave".
func (Leave) Name() string { return "samples.leave" }

// Plan writes the samples anew. It is refused where one was taken already.
func (c Leave) Plan(v model.View) (model.Writes, error) {
	return edit(v, c.Tables, c.Of, nil, "samples.done.leave", func(s *Stored) *model.Refusal {
		switch {
		case s.Void != nil:
			return mend("taken-by", "", "sample.void", nil)
		case !s.Taken.IsZero():
			return mend("taken-by", "", "sample.already", map[string]model.Gap{"Day": model.DayGap(s.Taken.Day())})
		case c.To.IsZero():
			return mend("taken-by", "", "sample.no-taker", nil)
		}
		s.TakenBy = c.To
		return nil
	})
}

// Post says that samples went off in one parcel.
type Post struct {
	Tables    *knowledge.Tables
	Of        []On
	At        model.Moment
	Lab       model.PersonID // zero: as it was
	Courier   string
	Tracking  string
	Country   holidays.Country // where it is sent; empty: not known, then only weekends are asked about
	Confirmed model.Confirmed
}

// Name is "samples.post".
func (Post) Name() string { return "samples.post" }

// Plan writes the samples anew. It is refused where one went off already.
func (c Post) Plan(v model.View) (model.Writes, error) {
	return edit(v, c.Tables, c.Of, c.Confirmed, "samples.done.post", func(s *Stored) *model.Refusal {
		if r := first(s.stands("posted", c.At, s.Posted), c.overHoliday(v.Now().Day())); r != nil {
			return r
		}
		s.Posted, s.Courier, s.Tracking = c.At, c.Courier, c.Tracking
		if !c.Lab.IsZero() {
			s.Lab = c.Lab
		}
		return nil
	})
}

// Arrive says that samples are at the lab; one that was brought there need not
// have been posted.
type Arrive struct {
	Tables    *knowledge.Tables
	Of        []On
	At        model.Moment
	Confirmed model.Confirmed
}

// Name is "samples.arrive".
func (Arrive) Name() string { return "samples.arrive" }

// Plan writes the samples anew. It is refused where one arrived already.
func (c Arrive) Plan(v model.View) (model.Writes, error) {
	return edit(v, c.Tables, c.Of, c.Confirmed, "samples.done.arrive", func(s *Stored) *model.Refusal {
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

// Ask says that the lab was asked where the results are. It is kept and shown; it
// puts no day off.
type Ask struct {
	Tables *knowledge.Tables
	Of     []On
	Asked  Asked
}

// Name is "samples.ask".
func (Ask) Name() string { return "samples.ask" }

// Plan writes the samples anew. It is refused where one never left, or has all
// its results.
func (c Ask) Plan(v model.View) (model.Writes, error) {
	return edit(v, c.Tables, c.Of, nil, "samples.done.ask", func(s *Stored) *model.Refusal {
		value := c.Asked.At.Day().String()
		switch {
		case s.Void != nil:
			return mend("asked", value, "sample.void", nil)
		case s.Stage() == Reported:
			return mend("asked", value, "sample.has-all", nil)
		}
		s.Asked = append(slices.Clip(s.Asked), c.Asked)
		return nil
	})
}

// Enter enters what one report says, of one sample or of many.
type Enter struct {
	Tables    *knowledge.Tables
	At        model.Moment // when the lab reported it
	Number    string       // the report's
	Photos    []model.PhotoID
	Rows      []Row
	Confirmed model.Confirmed
}

// Row is what a report says of one sample.
type Row struct {
	On
	Found []Found // of things that have no result yet
}

// Found is what a report says of one thing.
type Found struct {
	Of      knowledge.AgentID
	Outcome Outcome
	Method  knowledge.Method // empty: the usual one
	Note    string
}

// Name is "samples.enter".
func (Enter) Name() string { return "samples.enter" }

// Plan writes the samples with the results.
func (c Enter) Plan(v model.View) (model.Writes, error) {
	rows := map[model.SampleID][]Found{}
	var of []On
	for _, r := range c.Rows {
		rows[r.ID], of = r.Found, append(of, r.On)
	}
	return edit(v, c.Tables, of, c.Confirmed, "samples.done.enter", func(s *Stored) *model.Refusal {
		if len(rows[s.ID]) == 0 {
			return mend("outcome", "", "text.empty", nil)
		}
		for _, f := range rows[s.ID] {
			switch earlier, there := s.Result(f.Of); {
			case s.Void != nil:
				return mend("outcome", string(f.Outcome), "sample.void", nil)
			case there:
				return mend("outcome", string(f.Outcome), "sample.result-there", map[string]model.Gap{"Agent": model.KeyGap("agent." + string(f.Of)), "Day": model.DayGap(earlier.At.Day())})
			}
			s.Results = append(slices.Clip(s.Results), Result{Of: f.Of, Outcome: f.Outcome, Method: f.Method, At: c.At, Report: c.Number, Photos: c.Photos, Note: f.Note})
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
	return edit(v, c.Tables, []On{{c.ID, c.Base}}, c.Confirmed, "samples.done.correct", func(s *Stored) *model.Refusal {
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
	return edit(v, c.Tables, []On{{c.ID, c.Base}}, c.Confirmed, "samples.done.give-up", func(s *Stored) *model.Refusal {
		if s.Void != nil {
			return mend("void", string(c.Void.Why), "sample.void", nil)
		}
		s.Void = &c.Void
		return nil
	})
}

// Change replaces what is known of a sample; its results, that the lab was asked
// and that it is void stay.
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
	return edit(v, c.Tables, []On{{c.ID, c.Base}}, c.Confirmed, "samples.done.change", func(s *Stored) *model.Refusal {
		results, asked, void := s.Results, s.Asked, s.Void
		s.Animals, s.Sample = c.Animals, c.Sample
		s.Results, s.Asked, s.Void = results, asked, void
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
	return []model.Command{Prepare{}, LayOut{}, CallOff{}, Leave{}, Take{}, Post{}, Arrive{}, Ask{}, Enter{}, Correct{}, GiveUp{}, Change{}, Remove{}}
}

func find(v model.View, id model.SampleID) (Stored, error) {
	d, err := v.Document(id.ID)
	if err != nil {
		return Stored{}, fmt.Errorf("read sample %s: %w", id, err)
	}
	return Read(d)
}

// Of is the error of one sample among several; it wraps what is wrong with it. Of a
// question it names the animals of all samples that it is about: one answer is for all.
type Of struct {
	Animals []model.AnimalID
	Err     error
}

// Error says what is wrong with the sample.
func (o *Of) Error() string { return fmt.Sprintf("sample of %v: %v", o.Animals, o.Err) }

// Unwrap is what is wrong.
func (o *Of) Unwrap() error { return o.Err }

// batch is the samples that one command writes.
type batch struct {
	*Many
	confirmed model.Confirmed
	several   bool
	all       []Stored
	put       []model.Document
	asked     *Of // what is to be answered first, of all samples that it is about
}

func begin(v model.View, t *knowledge.Tables, confirmed model.Confirmed, count int) (*batch, error) {
	switch {
	case count == 0:
		return nil, mend("sample", "", "sample.none", nil)
	case count > MaxMany:
		return nil, mend("sample", "", "sample.many", map[string]model.Gap{"Given": model.CountGap(count), "Most": model.CountGap(MaxMany)})
	}
	m, err := NewMany(v, t)
	return &batch{Many: m, confirmed: confirmed, several: count > 1}, err
}

// of says of which sample an error is, where there are several.
func (b *batch) of(animals []model.AnimalID, err error) error {
	if err == nil || !b.several {
		return err
	}
	return &Of{Animals: animals, Err: err}
}

// write adds a sample that was another before, nil: it is new.
func (b *batch) write(s Stored, was *Stored) error {
	d, err := b.make(s, was, b.confirmed)
	var r *model.Refusal
	switch {
	case errors.As(err, &r) && r.Answer == model.Confirm:
		b.ask(s, r)
		return nil
	case err != nil:
		return b.of(s.Animals, err)
	}
	b.all, b.put = append(b.all, s), append(b.put, d)
	return nil
}

// ask keeps the first question, with the animals of every sample that asks the same.
func (b *batch) ask(s Stored, r *model.Refusal) {
	var first *model.Refusal
	switch {
	case b.asked == nil:
		b.asked = &Of{Animals: s.Animals, Err: r}
	case errors.As(b.asked, &first) && first.Reason == r.Reason:
		b.asked.Animals = slices.Concat(b.asked.Animals, s.Animals)
	}
}

// done is all of it, under one name, or what is to be answered first.
func (b *batch) done(key string) (model.Writes, error) {
	if b.asked != nil {
		return model.Writes{}, b.of(b.asked.Animals, b.asked.Err)
	}
	if !b.several {
		return model.Writes{Put: b.put, Label: b.label(key, b.all[0])}, nil
	}
	var animals []model.AnimalID
	for _, s := range b.all {
		for _, a := range s.Animals {
			if !slices.Contains(animals, a) {
				animals = append(animals, a)
			}
		}
	}
	return model.Writes{Put: b.put, Label: model.Label{Key: key + ".many", Gaps: map[string]model.Gap{"Count": model.CountGap(len(b.all)), "Animals": model.TextGap(b.names(animals))}}}, nil
}

// edit changes samples and writes them anew, by the rules of new ones.
func edit(v model.View, t *knowledge.Tables, of []On, confirmed model.Confirmed, done string, change func(*Stored) *model.Refusal) (model.Writes, error) {
	b, err := begin(v, t, confirmed, len(of))
	if err != nil {
		return model.Writes{}, err
	}
	for i, on := range of {
		was, err := find(v, on.ID)
		if err != nil {
			return model.Writes{}, err
		}
		s := was
		s.Revision = on.Base
		if slices.ContainsFunc(of[:i], func(o On) bool { return o.ID == on.ID }) {
			return model.Writes{}, b.of(s.Animals, mend("sample", "", "sample.twice", nil))
		}
		if r := change(&s); r != nil {
			return model.Writes{}, b.of(s.Animals, r)
		}
		if err := b.write(s, &was); err != nil {
			return model.Writes{}, err
		}
	}
	return b.done(done)
}

func (m *Many) label(key string, s Stored) model.Label {
	return model.Label{Key: key, Gaps: map[string]model.Gap{"Animals": model.TextGap(m.names(s.Animals)), "Material": model.KeyGap("material." + string(s.Material))}}
}
