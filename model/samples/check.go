package samples

import (
	"slices"
	"strings"

	"coilward/model"
	"coilward/model/knowledge"
)

// The most signs that a line and a note may have, the most animals of a pool, and
// the most photos of one report.
const (
	MaxLine   = 200
	MaxNote   = 10_000
	MaxPool   = 50
	MaxPhotos = 50
	// MaxResults is the most results of one sample, corrected ones included.
	MaxResults = 200
	// MaxAsked is how often at most the lab was asked for one sample.
	MaxAsked = 50
)

func mend(field, value, reason string, gaps map[string]model.Gap) *model.Refusal {
	return &model.Refusal{Field: field, Value: value, Reason: reason, Gaps: gaps, Answer: model.Mend}
}

// first is the first refusal, nil where there is none.
func first(refusals ...*model.Refusal) *model.Refusal {
	for _, r := range refusals {
		if r != nil {
			return r
		}
	}
	return nil
}

// exact reports whether the moment is known to the minute.
func exact(m model.Moment) bool { return m.Precision == model.ToMinute || m.Precision == "" }

// before reports whether a lies before b for certain: where one of them is known
// only to the day, on an earlier day.
func before(a, b model.Moment) bool {
	if exact(a) && exact(b) {
		return a.UTC < b.UTC
	}
	return a.Day() < b.Day()
}

// Check tells what of the sample cannot stand, whatever animals it is of; nil if
// nothing. now is the present moment.
func (s Sample) Check(now model.Moment) *model.Refusal {
	return first(s.texts(), s.lookedFor(), s.planned(), s.days(now), s.results(now), s.asked(now), s.voided(now))
}

func (s Sample) texts() *model.Refusal {
	for _, line := range []struct{ field, value string }{{"kit-number", s.Kit.Number}, {"kit-lot", s.Kit.Lot}, {"sample-site", s.Site},
		{"storage", s.Storage}, {"courier", s.Courier}, {"tracking", s.Tracking}} {
		if r := model.CheckLine(line.field, line.value, MaxLine); r != nil {
			return r
		}
	}
	if s.Material == "" {
		return mend("material", "", "sample.no-material", nil)
	}
	return model.CheckText("note", s.Note, MaxNote)
}

func (s Sample) lookedFor() *model.Refusal {
	if len(s.For) == 0 {
		return mend("looked-for", "", "sample.for-nothing", nil)
	}
	for i, a := range s.For {
		if a == "" || slices.Contains(s.For[:i], a) {
			return mend("looked-for", string(a), "sample.for-twice", map[string]model.Gap{"Agent": model.KeyGap("agent." + string(a))})
		}
	}
	return nil
}

// step is one day of a sample's way, by its field.
type step struct {
	field string
	at    model.Moment
}

// days wants each step to be known to the day, not to lie ahead, to follow the
// taking and not to lie before the one before it.
func (s Sample) days(now model.Moment) *model.Refusal { return first(s.Days(now)...) }

// Days is all that cannot stand of the days of the sample's way, in its order.
func (s Sample) Days(now model.Moment) (all []*model.Refusal) {
	last := step{}
	for _, on := range []step{{"taken", s.Taken}, {"posted", s.Posted}, {"arrived", s.Arrived}} {
		if on.at.IsZero() {
			continue
		}
		if r := first(past(on, now), s.follows(on, last)); r != nil {
			all = append(all, r)
			continue
		}
		last = on
	}
	return all
}

func past(on step, now model.Moment) *model.Refusal {
	value := on.at.Day().String()
	switch {
	case on.at.Precision == model.ToMonth || on.at.Precision == model.ToYear:
		return mend(on.field, value, "day.vague", nil)
	case on.at.Day() > now.Day() || exact(on.at) && on.at.UTC > now.UTC+60:
		return mend(on.field, value, "day.future", map[string]model.Gap{"Today": model.DayGap(now.Day())})
	}
	return nil
}

// follows wants a step to come after the one before it, and a sample to be taken
// before anything else becomes of it.
func (s Sample) follows(on, last step) *model.Refusal {
	switch {
	case on.field == "taken":
	case s.Taken.IsZero():
		return mend(on.field, on.at.Day().String(), "sample.not-taken", nil)
	case before(on.at, last.at):
		return mend(on.field, on.at.Day().String(), "sample.order", map[string]model.Gap{"Earlier": model.KeyGap("field." + last.field), "Day": model.DayGap(last.at.Day())})
	}
	return nil
}

// results wants each result to be of a thing that was looked for, and to be
// reported after the sample was taken and arrived.
func (s Sample) results(now model.Moment) *model.Refusal {
	if len(s.Results) > MaxResults {
		return mend("outcome", "", "sample.results-many", map[string]model.Gap{"Most": model.CountGap(MaxResults)})
	}
	for i, r := range s.Results {
		on := step{"reported", r.At}
		value := r.At.Day().String()
		agent := map[string]model.Gap{"Agent": model.KeyGap("agent." + string(r.Of))}
		switch {
		case !slices.Contains(Outcomes(), r.Outcome):
			return mend("outcome", string(r.Outcome), "choice.unknown", nil)
		case r.Method != "" && !slices.Contains(knowledge.Methods(), r.Method):
			return mend("method", string(r.Method), "choice.unknown", nil)
		case !slices.Contains(s.For, r.Of):
			return mend("looked-for", string(r.Of), "sample.not-looked-for", agent)
		case r.At.IsZero():
			return mend("reported", "", "day.empty", nil)
		case s.Taken.IsZero():
			return mend("reported", value, "sample.not-taken", nil)
		case before(r.At, s.Taken):
			return mend("reported", value, "sample.result-first", map[string]model.Gap{"Day": model.DayGap(s.Taken.Day())})
		case len(r.Photos) > MaxPhotos:
			return mend("report", r.Report, "photo.many", map[string]model.Gap{"Most": model.CountGap(MaxPhotos)})
		case r.Why == "" && slices.ContainsFunc(s.Results[:i], func(o Result) bool { return o.Of == r.Of }):
			return mend("why", "", "sample.why", agent)
		}
		if last := s.lastStep(); before(r.At, last.at) {
			return mend("reported", value, "sample.order", map[string]model.Gap{"Earlier": model.KeyGap("field." + last.field), "Day": model.DayGap(last.at.Day())})
		}
		if bad := first(past(on, now), model.CheckLine("report", r.Report, MaxLine), model.CheckText("note", r.Note, MaxNote), model.CheckText("why", r.Why, MaxLine)); bad != nil {
			return bad
		}
	}
	return nil
}

// lastStep is the last step before a result.
func (s Sample) lastStep() step {
	switch {
	case !s.Arrived.IsZero():
		return step{"arrived", s.Arrived}
	case !s.Posted.IsZero():
		return step{"posted", s.Posted}
	}
	return step{"taken", s.Taken}
}

// asked wants the lab to be asked after the sample went off or came there.
func (s Sample) asked(now model.Moment) *model.Refusal {
	if len(s.Asked) > MaxAsked {
		return mend("asked", "", "sample.asked-many", map[string]model.Gap{"Most": model.CountGap(MaxAsked)})
	}
	for _, a := range s.Asked {
		went := s.lastStep()
		if !s.Posted.IsZero() {
			went = step{"posted", s.Posted}
		}
		value := a.At.Day().String()
		switch {
		case a.At.IsZero():
			return mend("asked", "", "day.empty", nil)
		case went.field == "taken":
			return mend("asked", value, "sample.not-gone", nil)
		case before(a.At, went.at):
			return mend("asked", value, "sample.order", map[string]model.Gap{"Earlier": model.KeyGap("field." + went.field), "Day": model.DayGap(went.at.Day())})
		}
		if r := first(past(step{"asked", a.At}, now), model.CheckText("note", a.Note, MaxNote)); r != nil {
			return r
		}
	}
	return nil
}

func (s Sample) voided(now model.Moment) *model.Refusal {
	if s.Void == nil {
		return nil
	}
	switch {
	case !slices.Contains(Whys(), s.Void.Why):
		return mend("void", string(s.Void.Why), "choice.unknown", nil)
	case s.Void.At.IsZero():
		return mend("voided", "", "day.empty", nil)
	case len(s.Results) > 0:
		return mend("void", "", "sample.has-result", nil)
	}
	if r := first(past(step{"voided", s.Void.At}, now), model.CheckText("note", s.Void.Note, MaxNote)); r != nil {
		return r
	}
	if last := s.lastStep(); !last.at.IsZero() && before(s.Void.At, last.at) {
		return mend("voided", s.Void.At.Day().String(), "sample.order", map[string]model.Gap{"Earlier": model.KeyGap("field." + last.field), "Day": model.DayGap(last.at.Day())})
	}
	return nil
}

// known wants the material and all that is looked for to stand in the tables.
func (s Sample) known(t *knowledge.Tables) *model.Refusal {
	if _, ok := t.Material(s.Material); !ok {
		return mend("material", string(s.Material), "choice.unknown", nil)
	}
	for _, a := range s.For {
		if _, ok := t.Agent(a); !ok {
			return mend("looked-for", string(a), "choice.unknown", nil)
		}
	}
	return nil
}

// tidy is the sample without needless spaces.
func (s Sample) tidy() Sample {
	for _, line := range []*string{&s.Kit.Number, &s.Kit.Lot, &s.Site, &s.Storage, &s.Courier, &s.Tracking} {
		*line = strings.Join(strings.Fields(*line), " ")
	}
	s.Note = strings.TrimSpace(s.Note)
	return s
}

// Sound reads a sample's document and looks for values that no command would
// have taken. The error is a *model.Refusal where a value is at fault.
func Sound(d model.Document, now model.Moment) error {
	s, err := decode(d)
	if err != nil {
		return err
	}
	if r := first(pool(s.Animals), s.Check(now)); r != nil {
		return r
	}
	return nil
}

// pool wants one animal at least, and none twice.
func pool(all []model.AnimalID) *model.Refusal {
	switch {
	case len(all) == 0:
		return mend("name", "", "sample.nobody", nil)
	case len(all) > MaxPool:
		return mend("name", "", "sample.pool", map[string]model.Gap{"Given": model.CountGap(len(all)), "Most": model.CountGap(MaxPool)})
	}
	for i, a := range all {
		if slices.Contains(all[:i], a) {
			return mend("name", "", "sample.animal-twice", nil)
		}
	}
	return nil
}
