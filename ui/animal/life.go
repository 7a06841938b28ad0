package animal

import (
	"errors"
	"fmt"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/exam"
	"coilward/model/history"
	"coilward/model/knowledge"
	"coilward/model/people"
)

// Life is all that the page shows of one animal. What only some pages need of
// the entries' bodies is read when it is asked for.
type Life struct {
	animals.Stored
	Days     *Days
	Problems []exam.StoredProblem // oldest first
	People   map[model.PersonID]string

	weights  []Weighed
	checks   []exam.StoredCheck
	records  *history.Records
	standing *history.Standing
	said     map[model.EntryID]exam.Verdict
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
func (l *Life) Checks() []exam.StoredCheck {
	if l.checks == nil {
		l.checks = []exam.StoredCheck{}
		for i := range l.Days.Entries {
			if d := &l.Days.Entries[i]; d.Kind == exam.KindCheck {
				if c, err := exam.ReadCheck(*d); err == nil {
					l.checks = append(l.checks, exam.StoredCheck{ID: model.EntryID{ID: d.ID}, By: d.By, Check: c})
				}
			}
		}
	}
	return l.checks
}

// Standing is how the animal stands now, by the one judgement of the records.
func (l *Life) Standing(t *knowledge.Tables, now model.Moment) history.Standing {
	if l.standing == nil {
		s := l.Records(t, now).Stand(t, l.Problems, now)
		l.standing = &s
	}
	return *l.standing
}

// Records are the facts that the rules ask for. Entries that cannot be read are
// left out; the list of days names them.
func (l *Life) Records(t *knowledge.Tables, now model.Moment) history.Records {
	if l.records == nil {
		var entries []care.Entry
		for _, d := range l.Days.Entries {
			if e, ours, err := care.Decode(d); err == nil && ours && !now.Before(d.At) {
				entries = append(entries, e)
			}
		}
		r := history.Made(t, l.Hatched, entries, l.Checks(), now)
		l.records = &r
	}
	return *l.records
}

// Said is what the tables say of each everyday entry that deserves something.
func (l *Life) Said(t *knowledge.Tables, now model.Moment) map[model.EntryID]exam.Verdict {
	if l.said == nil {
		l.said = map[model.EntryID]exam.Verdict{}
		for _, s := range l.Records(t, now).Judge(t) {
			l.said[s.Entry] = s.Verdict
		}
	}
	return l.said
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
