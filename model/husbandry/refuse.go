package husbandry

import (
	"slices"
	"strings"

	"coilward/model"
)

// The most signs that a name, a line and a note may have, and the most photos of
// one entry.
const (
	MaxName   = 80
	MaxLine   = 200
	MaxNote   = 10_000
	MaxPhotos = 50
)

func mend(field, value, reason string, gaps map[string]model.Gap) *model.Refusal {
	return &model.Refusal{Field: field, Value: value, Reason: reason, Gaps: gaps, Answer: model.Mend}
}

// ask is a question, unless it was answered with yes already.
func ask(confirmed model.Confirmed, field, value, reason string, gaps map[string]model.Gap) *model.Refusal {
	if confirmed.Has(reason) {
		return nil
	}
	return &model.Refusal{Field: field, Value: value, Reason: reason, Gaps: gaps, Answer: model.Confirm}
}

// first is the first refusal, as an error that is nil where there is none.
func first(refusals ...*model.Refusal) error {
	for _, r := range refusals {
		if r != nil {
			return r
		}
	}
	return nil
}

// checkName wants a name of one line.
func checkName(field, value string) *model.Refusal {
	if value == "" {
		return mend(field, value, "text.empty", nil)
	}
	return model.CheckLine(field, value, MaxName)
}

func checkChoice[T ~string](field string, value T, known []T) *model.Refusal {
	if slices.Contains(known, value) {
		return nil
	}
	return mend(field, string(value), "choice.unknown", nil)
}

// checkPast refuses a date that lies ahead; an unknown one may stand.
func checkPast(field string, d model.Date, today model.Day) *model.Refusal {
	if d.IsZero() || d.Day <= today {
		return nil
	}
	return mend(field, d.Day.String(), "day.future", map[string]model.Gap{"Today": model.DayGap(today)})
}

// checkMoment wants a moment known to the minute or the day that does not lie
// ahead.
func checkMoment(field string, at, now model.Moment) *model.Refusal {
	switch value := at.Day().String(); {
	case at.IsZero():
		return mend(field, "", "day.empty", nil)
	case at.Precision == model.ToMonth || at.Precision == model.ToYear:
		return mend(field, value, "day.vague", nil)
	case at.Day() > now.Day() || exact(at) && at.UTC > now.UTC+60:
		return mend(field, value, "day.future", map[string]model.Gap{"Today": model.DayGap(now.Day())})
	}
	return nil
}

// exact reports whether the moment is known to the minute.
func exact(m model.Moment) bool { return m.Precision == model.ToMinute || m.Precision == "" }

// Before reports whether a lies before b for certain: where one of them is known
// only to the day, on an earlier day.
func Before(a, b model.Moment) bool {
	if exact(a) && exact(b) {
		return a.UTC < b.UTC
	}
	return a.Day() < b.Day()
}

// tidy is a name without outer and double spaces.
func tidy(name string) string { return strings.Join(strings.Fields(name), " ") }

// fold is a name as names are compared: without case.
func fold(name string) string { return strings.ToLower(name) }
