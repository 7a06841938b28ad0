package animal

import (
	"errors"
	"fmt"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/exam"
	"coilward/model/people"
)

// Life is all that the page shows of one animal. What only some pages need of
// the entries' bodies is read when it is asked for.
type Life struct {
	animals.Stored
	Days     *Days
	Problems []exam.StoredProblem // oldest first
	People   map[model.PersonID]string

	weights []Weighed
	checks  []exam.Check
}

// Weighed is one weighing, with where it stands among the entries.
type Weighed struct {
	Entry int
	At    model.Moment
	care.Weight
}

// LoadLife reads an animal with all its entries.
func LoadLife(v model.View, id model.AnimalID) (*Life, error) {
	a, err := animals.Find(v, id)
	if err != nil {
		return nil, err
	}
	l := &Life{Stored: a, People: map[model.PersonID]string{}}
	if l.Days, l.Problems, err = readDays(v, id); err != nil {
		return nil, fmt.Errorf("read the days of %q: %w", a.Name, err)
	}
	all, err := people.All(v)
	for _, p := range all {
		l.People[p.ID] = p.Name
	}
	return l, err
}

// Weights are all weighings, newest first. Bodies of a newer version are left
// out: the list of days says that they are there.
func (l *Life) Weights() []Weighed {
	if l.weights == nil {
		l.weights = l.lastWeights(len(l.Days.Entries))
	}
	return l.weights
}

// lastWeights are the n last weighings, newest first.
func (l *Life) lastWeights(n int) []Weighed {
	weights := []Weighed{}
	for i := range l.Days.Entries {
		d := &l.Days.Entries[i]
		if d.Kind != care.KindWeight || len(weights) == n {
			continue
		}
		if w, err := care.DecodeWeight(*d); err == nil {
			weights = append(weights, Weighed{i, d.At, w})
		}
	}
	return weights
}

// weightBefore is the weighing before an entry.
func (l *Life) weightBefore(entry int) (Weighed, bool) {
	for i := entry + 1; i < len(l.Days.Entries); i++ {
		d := &l.Days.Entries[i]
		if d.Kind != care.KindWeight {
			continue
		}
		if w, err := care.DecodeWeight(*d); err == nil {
			return Weighed{i, d.At, w}, true
		}
	}
	return Weighed{}, false
}

// usualPrey is the prey of the last meal that says one.
func (l *Life) usualPrey() care.Prey {
	for i := range l.Days.Entries {
		if l.Days.Entries[i].Kind != care.KindMeal {
			continue
		}
		if m, err := care.DecodeMeal(l.Days.Entries[i]); err == nil && m.Prey != "" {
			return m.Prey
		}
	}
	return ""
}

// Checks are all checks that can be read, newest first.
func (l *Life) Checks() []exam.Check {
	if l.checks != nil {
		return l.checks
	}
	l.checks = []exam.Check{}
	for i := range l.Days.Entries {
		if d := &l.Days.Entries[i]; d.Kind == exam.KindCheck {
			if c, err := exam.ReadCheck(*d); err == nil {
				l.checks = append(l.checks, c)
			}
		}
	}
	return l.checks
}

// Due is what the last check makes due, soonest first.
func (l *Life) Due() []exam.Obligation {
	if checks := l.Checks(); len(checks) > 0 {
		return checks[0].Verdict.Due()
	}
	return nil
}

// By is the name of who made an entry.
func (l *Life) By(id model.PersonID) string { return l.People[id] }

// readDays reads everything about the animal in one pass.
func readDays(v model.View, id model.AnimalID) (*Days, []exam.StoredProblem, error) {
	days := &Days{}
	var problems []exam.StoredProblem
	var failed error
	err := v.Timeline(id.Subject(), model.Beginning, model.EndOfTime, func(d model.Document) bool {
		switch d.Type {
		case model.TypeEntry:
			days.Entries = append(days.Entries, d)
		case model.TypeProblem:
			p, err := exam.ReadProblem(d)
			if errors.Is(err, model.ErrNewer) {
				return true
			}
			problems, failed = append([]exam.StoredProblem{p}, problems...), err
		}
		return failed == nil
	})
	days.arrange()
	return days, problems, errors.Join(err, failed)
}
