package powercut

import (
	"errors"
	"fmt"

	"coilward/model"
	"coilward/model/exam"
	"coilward/model/knowledge"
)

// Watch is how the watch over one animal stands after a power cut.
type Watch struct {
	// Next is the day of the next look; 0: the watch is over.
	Next model.Day
	// Last is the day of the last look since the cut; 0: there was none.
	Last model.Day
	// Ends is the first day on which a look can end it.
	Ends model.Day
	// Looks are how many planned days are behind it, and Of how many there are.
	Looks, Of int
}

// Over reports whether the watch has ended: by a look, never by time alone.
func (w Watch) Over() bool { return w.Next == 0 }

// WatchAfter tells how a watch stands that follows a power cut which ended on a day, with
// the days on which the animal was looked at. A look counts for the planned days up to its own
// that no look has met; one on the day of the cut itself meets none.
func WatchAfter(t *knowledge.Tables, ended model.Day, looks []model.Day) Watch {
	plan := t.ColdLooks()
	w := Watch{Of: len(plan), Ends: ended + model.Day(plan[len(plan)-1].Day)}
	for _, day := range looks {
		if day > ended {
			w.Last = max(w.Last, day)
		}
	}
	for _, look := range plan {
		day := ended + model.Day(look.Day)
		if day > w.Last {
			w.Next = day
			break
		}
		w.Looks++
	}
	return w
}

// Looked reports whether a check looked at the animal at rest, which is how its breathing
// is looked at.
func Looked(c exam.Check) bool { return c.At(knowledge.Rest).Look.Looked() }

// Looks are the days of the checks that did.
func Looks(checks []exam.StoredCheck) (days []model.Day) {
	for _, c := range checks {
		if Looked(c.Check) {
			days = append(days, c.Finished.Day())
		}
	}
	return days
}

// Of reads how the watch over one animal stands after a power cut.
func Of(v model.View, t *knowledge.Tables, cut Stored, animal model.AnimalID) (Watch, error) {
	var checks []exam.StoredCheck
	var failed error
	err := v.Timeline(animal.Subject(), cut.Until.UTC, model.EndOfTime, func(d model.Document) bool {
		if d.Type != model.TypeEntry || d.Kind != exam.KindCheck {
			return true
		}
		check, err := exam.ReadCheck(d)
		if err != nil && !errors.Is(err, model.ErrNewer) {
			failed = err
			return false
		}
		if err == nil {
			checks = append(checks, exam.StoredCheck{Check: check})
		}
		return true
	})
	if err = errors.Join(err, failed); err != nil {
		return Watch{}, fmt.Errorf("read the watch after a power cut: %w", err)
	}
	return WatchAfter(t, cut.Until.Day(), Looks(checks)), nil
}
