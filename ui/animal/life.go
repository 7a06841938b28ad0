package animal

import (
	"errors"
	"fmt"
	"slices"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/exam"
	"coilward/model/history"
	"coilward/model/husbandry"
	"coilward/model/knowledge"
	"coilward/model/newcomers"
	"coilward/model/people"
	"coilward/model/positives"
	"coilward/model/quarantine"
	"coilward/model/welfare"
	"coilward/model/wording"
)

// Life is all that the page shows of one animal. What only some pages need of
// the entries' bodies is read when it is asked for.
type Life struct {
	animals.Stored
	Days     *Days
	Problems []exam.StoredProblem // oldest first
	People   map[model.PersonID]string
	workers  []people.Stored // whose entries may be, in order

	tables   *knowledge.Tables
	house    *husbandry.House    // with the stays of this animal alone
	newcomer *newcomers.Newcomer // nil: it is in no quarantine
	unsure   error               // why it cannot be told whether it is in one, or how it stands
	arrived  bool                // it came lately, and was never in one
	detected []positives.Trace   // what was detected in it, or while it was near, and is not settled
	scales   husbandry.Scales
	weights  []care.Weighed
	checks   []exam.StoredCheck
	records  *history.Records
	day      model.Day // on which what follows was worked out
	standing *history.Standing
	said     map[model.EntryID]exam.Verdict
	// corrected is when an entry was put right, of those that say something else
	// than at first.
	corrected map[model.EntryID]model.Moment
	unread    int // entries and problems that this version cannot read
}

// LoadLife reads an animal with all its entries.
func LoadLife(v model.View, t *knowledge.Tables, id model.AnimalID) (*Life, error) {
	a, err := animals.Find(v, id)
	if err != nil {
		return nil, err
	}
	l := &Life{Stored: a, tables: t, People: map[model.PersonID]string{}, corrected: map[model.EntryID]model.Moment{}}
	if err := l.readDays(v); err != nil {
		return nil, fmt.Errorf("read the days of %q: %w", a.Name, err)
	}
	if l.house, err = husbandry.ReadHouseOf(v, id); err != nil {
		return nil, fmt.Errorf("read where %q lives: %w", a.Name, err)
	}
	if l.scales, err = husbandry.ReadScales(v); err != nil {
		return nil, err
	}
	l.unsure = l.readNewcomer(v)
	if err = l.readDetected(v); err != nil {
		return nil, fmt.Errorf("read what was detected about %q: %w", a.Name, err)
	}
	all, err := people.All(v)
	for _, p := range all {
		if l.People[p.ID] = p.Name; p.Works() {
			l.workers = append(l.workers, p)
		}
	}
	return l, err
}

// readNewcomer reads how far its quarantine has come, where it is in one, or whether
// one is to be offered.
func (l *Life) readNewcomer(v model.View) error {
	all, unread, err := quarantine.LegibleOf(v, l.ID)
	switch {
	case err != nil:
	case slices.ContainsFunc(all, quarantine.Stored.Open):
		var n newcomers.Newcomer
		if n, _, err = newcomers.Of(v, l.tables, l.ID); err == nil {
			l.newcomer = &n
		}
	case len(unread) > 0:
		return unread[0]
	default:
		_, l.arrived, err = newcomers.Propose(v, l.tables, l.ID)
	}
	return err
}

// readDetected reads what was detected in it, or in another while it was near, and is
// not settled.
func (l *Life) readDetected(v model.View) error {
	all, err := positives.Unsettled(v, l.tables)
	for _, trace := range all {
		if _, near := trace.NearOf(l.ID); near || slices.Contains(trace.Animals, l.ID) {
			l.detected = append(l.detected, trace)
		}
	}
	return err
}

// Weights are all weighings, newest first. Bodies of a newer version are left
// out: the list of days says that they are there.
func (l *Life) Weights() []care.Weighed {
	if l.weights == nil {
		l.weights = l.lastWeights(len(l.Days.Entries))
	}
	return l.weights
}

// lastWeights are the n last weighings, newest first.
func (l *Life) lastWeights(n int) []care.Weighed {
	weights := []care.Weighed{}
	for i := range l.Days.Entries {
		d := &l.Days.Entries[i]
		if d.Kind != care.KindWeight || len(weights) == n {
			continue
		}
		if w, err := care.DecodeWeight(*d); err == nil {
			weights = append(weights, care.Weighed{Entry: model.EntryID{ID: d.ID}, At: d.At, Weight: w})
		}
	}
	return weights
}

// weightBefore is the weighing before an entry.
func (l *Life) weightBefore(entry int) (care.Weighed, bool) {
	for i := entry + 1; i < len(l.Days.Entries); i++ {
		d := &l.Days.Entries[i]
		if d.Kind != care.KindWeight {
			continue
		}
		if w, err := care.DecodeWeight(*d); err == nil {
			return care.Weighed{Entry: model.EntryID{ID: d.ID}, At: d.At, Weight: w}, true
		}
	}
	return care.Weighed{}, false
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
	l.dayOf(now)
	if l.standing == nil {
		s := l.Records(t, now).Stand(t, l.Problems, now)
		l.standing = &s
	}
	return *l.standing
}

// dayOf drops what was worked out on another day: a window stays open past
// midnight.
func (l *Life) dayOf(now model.Moment) {
	if day := now.Day(); day != l.day {
		l.day, l.standing, l.records, l.said = day, nil, nil, nil
	}
}

// Records are the facts that the rules ask for. Entries that cannot be read are
// left out; Unread counts them.
func (l *Life) Records(t *knowledge.Tables, now model.Moment) history.Records {
	l.dayOf(now)
	if l.records == nil {
		var entries []care.Entry
		whose := history.WhoseOf(l.Stored)
		for _, d := range l.Days.Entries {
			if e, ours, err := welfare.Decode(d); err == nil && ours && !now.Before(d.At) {
				whose.Visits = append(whose.Visits, e)
				continue
			}
			if e, ours, err := care.Decode(d); err == nil && ours && !now.Before(d.At) {
				entries = append(entries, e)
			}
		}
		whose.Scales, whose.Moves = l.scales, l.moves()
		r := history.Made(t, whose, entries, l.Checks(), now)
		l.records = &r
	}
	return *l.records
}

// moves are the days on which the animal came to another place, newest first.
func (l *Life) moves() (days []model.Day) {
	for _, d := range l.Days.Entries {
		if d.Type == model.TypeStay {
			days = append(days, d.At.Day())
		}
	}
	return days
}

// Unread counts what this version cannot read of the animal: nothing of it is in
// the judgement of how the animal stands.
func (l *Life) Unread() int { return l.unread }

// Said is what the tables say of each everyday entry that deserves something.
func (l *Life) Said(t *knowledge.Tables, now model.Moment) map[model.EntryID]exam.Verdict {
	l.dayOf(now)
	if l.said == nil {
		l.said = map[model.EntryID]exam.Verdict{}
		for _, s := range l.Records(t, now).Judge(t) {
			l.said[s.Entry] = s.Verdict
		}
	}
	return l.said
}

// By is the name of who made an entry; of one who was taken out since, that it
// was such a person.
func (l *Life) By(t *wording.Text, id model.PersonID) string {
	name, there := l.People[id]
	if !there && !id.IsZero() {
		return t.Say("people.removed")
	}
	return name
}

// readDays reads everything about the animal in one pass, and then the
// corrections of its entries.
func (l *Life) readDays(v model.View) error {
	l.Days = &Days{}
	var failed error
	var courses []model.Document
	err := v.Timeline(l.ID.Subject(), model.Beginning, model.EndOfTime, func(d model.Document) bool {
		switch d.Type {
		case model.TypeStay:
			d.Kind = kindStay
			l.Days.Entries = append(l.Days.Entries, d)
		case model.TypeSample:
			d.Kind = kindSample
			l.Days.Entries = append(l.Days.Entries, d)
		case model.TypePrescription:
			courses = append(courses, d)
		case model.TypeVisit:
			l.addVisit(d)
		case model.TypeEntry:
			l.Days.Entries = append(l.Days.Entries, d)
			if !legible(d) {
				l.unread++
			}
		case model.TypeProblem:
			p, err := exam.ReadProblem(d)
			if err != nil {
				l.unread++
				return true
			}
			l.Problems = append(l.Problems, p)
		}
		return true
	})
	exam.InOrder(l.Problems)
	for _, d := range courses {
		l.addCourse(d)
	}
	for _, d := range l.Days.Entries {
		if d.Revision < 2 || d.Type != model.TypeEntry || err != nil || failed != nil {
			continue
		}
		var revisions []model.Document
		if revisions, failed = v.Revisions(d.ID); failed == nil {
			if on, corrected := care.Corrected(d, revisions); corrected {
				l.corrected[model.EntryID{ID: d.ID}] = on
			}
		}
	}
	l.Days.arrange()
	return errors.Join(err, failed)
}

// legible reports whether this version can read an entry; one of a kind that it
// does not know is for another to read.
func legible(d model.Document) bool {
	var err error
	if d.Kind == exam.KindCheck {
		_, err = exam.ReadCheck(d)
	} else {
		_, _, err = care.Decode(d)
	}
	return err == nil
}

// arrivesUnweighed reports whether its arrival still asks for its weight, which later
// ones are held against.
func (l *Life) arrivesUnweighed() bool {
	return l.newcomer != nil && slices.ContainsFunc(l.newcomer.Arriving(), func(s newcomers.ArrivalStep) bool { return s.Kind == newcomers.ArriveWeigh && !s.Done })
}
