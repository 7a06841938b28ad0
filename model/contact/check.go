package contact

import (
	"slices"

	"coilward/model"
	"coilward/model/knowledge"
)

// The most signs of a note, and the most words on one list.
const (
	MaxNote = 10_000
	MaxDone = 200
)

func mend(field, value, reason string, gaps map[string]model.Gap) *model.Refusal {
	return &model.Refusal{Field: field, Value: value, Reason: reason, Gaps: gaps, Answer: model.Mend}
}

// past wants a day that is known and does not lie ahead.
func past(field string, at, now model.Moment) *model.Refusal {
	switch value := at.Day().String(); {
	case at.IsZero():
		return mend(field, "", "day.empty", nil)
	case at.Precision == model.ToMonth || at.Precision == model.ToYear:
		return mend(field, value, "day.vague", nil)
	case at.Day() > now.Day() || (at.Precision == model.ToMinute || at.Precision == "") && at.UTC > now.UTC+60:
		return mend(field, value, "day.future", map[string]model.Gap{"Today": model.DayGap(now.Day())})
	}
	return nil
}

// Check tells what of the positive cannot stand; nil if nothing. now is the present
// moment.
func (s Stored) Check(now model.Moment) *model.Refusal {
	switch {
	case len(s.Animals) == 0:
		return mend("name", "", "sample.nobody", nil)
	case s.Sample.IsZero() || s.Agent == "":
		return mend("looked-for", string(s.Agent), "choice.unknown", nil)
	case len(s.Done) > MaxDone:
		return mend("positive-act", "", "positive.many", map[string]model.Gap{"Most": model.CountGap(MaxDone)})
	}
	for _, d := range s.Done {
		if r := s.did(d, now); r != nil {
			return r
		}
	}
	return s.closed(now)
}

func (s Stored) did(d Did, now model.Moment) *model.Refusal {
	if d.Act == "" {
		return mend("positive-act", "", "choice.unknown", nil)
	}
	if r := s.since("day", d.At, now); r != nil {
		return r
	}
	return model.CheckText("note", d.Note, MaxNote)
}

// since wants a day that is not before the result was reported, and does not lie
// ahead.
func (s Stored) since(field string, at, now model.Moment) *model.Refusal {
	if r := past(field, at, now); r != nil {
		return r
	}
	if at.Day() < s.Reported.Day() {
		return mend(field, at.Day().String(), "positive.before", map[string]model.Gap{"Day": model.DayGap(s.Reported.Day())})
	}
	return nil
}

func (s Stored) closed(now model.Moment) *model.Refusal {
	c := s.Closed
	if c == nil {
		return nil
	}
	if !slices.Contains(Whys(), c.Why) {
		return mend("why", string(c.Why), "choice.unknown", nil)
	}
	if r := s.since("day", c.At, now); r != nil {
		return r
	}
	if c.Note == "" && (c.Why == Otherwise || len(c.Unmet) > 0) {
		return mend("note", "", "positive.note", map[string]model.Gap{"Unmet": model.CountGap(len(c.Unmet))})
	}
	return model.CheckText("note", c.Note, MaxNote)
}

// known wants a thing of the list to stand in the tables.
func known(t *knowledge.Tables, act knowledge.PositiveActID) *model.Refusal {
	if slices.ContainsFunc(t.PositiveActs(), func(a knowledge.PositiveAct) bool { return a.ID == act }) {
		return nil
	}
	return mend("positive-act", string(act), "choice.unknown", nil)
}

// Sound reads a positive's document and looks for values that no command would have
// taken. The error is a *model.Refusal where a value is at fault.
func Sound(d model.Document, now model.Moment) error {
	s, err := Read(d)
	if err != nil {
		return err
	}
	if r := s.Check(now); r != nil {
		return r
	}
	return nil
}
