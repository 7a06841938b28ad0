package animal

import (
	"cmp"
	"errors"
	"fmt"
	"slices"

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

	weights []Weighed
	checks  []exam.Check
	records *history.Records
	said    map[model.EntryID]exam.Verdict
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

// Owed is one thing that is due, with what it is for.
type Owed struct {
	exam.Obligation
	For   []knowledge.FindingID
	Level knowledge.Level // of what made it due
}

// Due is what the last check makes due, and what everyday entries that still
// stand do, soonest first.
func (l *Life) Due(t *knowledge.Tables, now model.Moment) []Owed {
	var due []Owed
	if checks := l.Checks(); len(checks) > 0 {
		due = append(due, owed(checks[0].Verdict)...)
	}
	for _, said := range l.Records(now).Standing(t, now) {
		due = append(due, owed(said.Verdict)...)
	}
	slices.SortStableFunc(due, func(a, b Owed) int { return cmp.Compare(a.By, b.By) })
	return due
}

func owed(v exam.Verdict) []Owed {
	var due []Owed
	for _, o := range v.Due() {
		owes := Owed{Obligation: o, Level: v.Level}
		for _, i := range o.Signs {
			if what := v.Signs[i].What; !slices.Contains(owes.For, what) {
				owes.For = append(owes.For, what)
			}
		}
		due = append(due, owes)
	}
	return due
}

// Records are the facts that the rules ask for; none where an entry cannot be
// read, which the list of days says.
func (l *Life) Records(now model.Moment) history.Records {
	if l.records == nil {
		r, err := history.Of(l.Days.Entries, l.Stored, now)
		if err != nil {
			r = history.Records{}
		}
		l.records = &r
	}
	return *l.records
}

// Said is what the tables say of each everyday entry that deserves something.
func (l *Life) Said(t *knowledge.Tables, now model.Moment) map[model.EntryID]exam.Verdict {
	if l.said == nil {
		l.said = map[model.EntryID]exam.Verdict{}
		for _, s := range l.Records(now).Judge(t) {
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
