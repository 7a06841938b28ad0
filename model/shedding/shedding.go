// Package shedding tells of the sheds of one animal: the time between them, and what of
// them wants a look. None of it is a diagnosis.
package shedding

import (
	"coilward/model"
	"coilward/model/care"
	"coilward/model/knowledge"
)

// Since is how many days lie between the shed of that index among entries, newest
// first, and the one before it; known is false where there is none.
func Since(newestFirst []care.Entry, i int) (days int, known bool) {
	for _, e := range newestFirst[i+1:] {
		if _, is := e.Body.(care.Shed); is {
			return int(newestFirst[i].At.Day() - e.At.Day()), true
		}
	}
	return 0, false
}

// Watch is what the sheds of an animal want looked at.
type Watch struct {
	Entry model.EntryID // that it follows from
	On    model.Day     // of that entry
	From  model.Day     // the first day on which it is told
	Days  int           // between, or as many as the tables say
}

// InBlue is the cycle that has begun and not ended with a shed: since the first entry
// that says so after the last shed. The look is told once it lasts longer than the
// tables say. Source: keeper pages, 10 to 14 days; the longer is taken.
func InBlue(t *knowledge.Tables, newestFirst []care.Entry) (w Watch, blue bool) {
	for _, e := range newestFirst {
		switch e.Body.(type) {
		case care.Shed:
			return w, blue
		case care.Blue:
			days := t.Value(knowledge.ValueBlueCycle)
			w, blue = Watch{Entry: e.ID, On: e.At.Day(), Days: days, From: e.At.Day() + model.Day(days) + 1}, true
		}
	}
	return w, blue
}

// Overdue is the last shed of a growing animal, with the first day on which it lies
// longer back than the tables say. Where no shed is known nothing is. Source: common
// practice, no source.
func Overdue(t *knowledge.Tables, growing bool, newestFirst []care.Entry) (Watch, bool) {
	for _, e := range newestFirst {
		if _, is := e.Body.(care.Shed); is && growing {
			days := t.Value(knowledge.ValueShedGrowing)
			return Watch{Entry: e.ID, On: e.At.Day(), Days: days, From: e.At.Day() + model.Day(days) + 1}, true
		}
	}
	return Watch{}, false
}

// Close are the last two sheds, if they lie closer than the tables say. Source: common
// practice, no source.
func Close(t *knowledge.Tables, newestFirst []care.Entry) (Watch, bool) {
	for i, e := range newestFirst {
		if _, is := e.Body.(care.Shed); !is {
			continue
		}
		days, known := Since(newestFirst, i)
		return Watch{Entry: e.ID, On: e.At.Day(), From: e.At.Day(), Days: days}, known && days < t.Value(knowledge.ValueShedApart)
	}
	return Watch{}, false
}
