package due

import (
	"errors"
	"fmt"
	"slices"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/exam"
	"coilward/model/history"
	"coilward/model/infested"
	"coilward/model/knowledge"
	"coilward/model/powercut"
)

// Facts are what is known of one animal at a moment.
type Facts struct {
	Animal   animals.Stored
	Records  history.Records
	Standing history.Standing
	// Checks are the checks that can be read, back to Read, newest first.
	Checks []exam.StoredCheck
	Read   model.Day // the oldest day that was read; Whole: there is nothing older
	Whole  bool
	Now    model.Moment
	// Rest is the day up to which it is better left unlifted after a meal; 0: none.
	Rest model.Day
	// Mites is the watch for mites, where Watching.
	Mites    care.MiteWatch
	Watching bool
	// refused, breathes and infested are what it tells the others in its room.
	refused, breathes model.Day
	infested          infested.Animal
	// MitesLooked is the day of the last look for mites; 0: there is none.
	MitesLooked model.Day
	// Cuts are the power cuts that it lived through.
	Cuts []powercut.Stored
	// Done are the jobs done in this month and the last.
	Done [2]Done
	// Until is the moment up to which the facts stay as they are, where they
	// change within the day without anything being noted; 0: they do not.
	Until int64
}

// Done are the jobs that were done with an animal in one month.
type Done struct {
	Looked  bool // a check or any other entry
	Weighed bool
	Offered bool
	Checked bool // with a check of the whole animal
	Here    bool // it was in the records by the end of that month
}

// Class is the class by which an animal is offered food and weighed: by its mass
// where that is one of the tables' species, otherwise by its age, and where
// neither is known the youngest. known is false for the last.
func (f Facts) Class(t *knowledge.Tables) (r knowledge.Rhythm, known bool) {
	return f.Records.Class(t)
}

// gather reads the facts of an animal: its days are read once, as far back as
// its standing needs them.
func gather(t *knowledge.Tables, v model.View, d model.Document, problems []exam.StoredProblem) (Facts, error) {
	animal, err := animals.Decode(d)
	if err != nil {
		return Facts{}, err
	}
	now := v.Now()
	f := Facts{Animal: animal, Now: now, Whole: true}
	days := &days{View: v, facts: &f, tables: t}
	f.Records, err = history.Lately(t, days, animal, problems, now)
	if err = errors.Join(err, days.failed); err != nil {
		return f, fmt.Errorf("gather what is known of %s: %w", animal.Name, err)
	}
	f.Standing = f.Records.Stand(t, problems, now)
	f.refused, f.breathes = f.told(t)
	if err := f.watch(t, v); err != nil {
		return f, fmt.Errorf("find out where %s lives: %w", animal.Name, err)
	}
	if meal := f.Records.Context.LastMeal; !meal.IsZero() {
		f.until(meal.UTC+60*int64(t.Value(knowledge.ValueAfterMeal))+1, now)
	}
	if after, resting := care.Resting(t, f.Records.Entries, f.Records.Context.Mass, now); resting {
		end := now
		end.UTC = after.At.UTC + int64(after.Hours)*60*60
		if after.At.Precision != model.ToMinute {
			end.UTC += 24 * 60 * 60
		}
		f.Rest = end.Day()
		f.until(end.UTC, now)
	}
	for i, month := range months(now.Day()) {
		f.Done[i].Here = f.Animal.Added <= month.last && (f.Animal.Since.IsZero() || f.Animal.Since.Day <= month.last)
	}
	return f, nil
}

// until notes that the facts change at that second, if it is still to come.
func (f *Facts) until(utc int64, now model.Moment) {
	if utc > now.UTC && (f.Until == 0 || utc < f.Until) {
		f.Until = utc
	}
}

// month is a month from its first day to its last.
type month struct{ first, last model.Day }

// months are the month of that day and the one before.
func months(today model.Day) [2]month {
	y, m, _ := today.Date()
	first := model.NewDay(y, m, 1)
	return [2]month{{first, model.NewDay(y, m+1, 0)}, {model.NewDay(y, m-1, 1), first - 1}}
}

// days is a view that notes of an animal's days, while they are read, what the
// facts need beside its records.
type days struct {
	model.View
	facts  *Facts
	tables *knowledge.Tables
	failed error
}

// Timeline is the view's; what lies in the future is noted and not passed on.
func (d *days) Timeline(s model.Subject, from, to int64, visit func(model.Document) bool) error {
	return d.View.Timeline(s, from, model.EndOfTime, func(doc model.Document) bool {
		if doc.At.UTC >= to {
			d.facts.until(doc.At.UTC, d.facts.Now)
			return true
		}
		if !visit(doc) {
			d.facts.Whole = false
			return false
		}
		d.facts.Read = doc.At.Day()
		d.failed = d.note(doc)
		return d.failed == nil
	})
}

func (d *days) note(doc model.Document) error {
	if doc.Type != model.TypeEntry {
		return nil
	}
	if doc.Kind == powercut.Kind {
		cut, err := powercut.Read(doc)
		if errors.Is(err, model.ErrNewer) {
			return nil
		}
		d.facts.Cuts = append(d.facts.Cuts, cut)
		return err
	}
	checked := false
	if doc.Kind == exam.KindCheck {
		check, err := exam.ReadCheck(doc)
		if errors.Is(err, model.ErrNewer) {
			return nil
		}
		if err != nil {
			return err
		}
		checked = check.Whole(d.tables)
		d.facts.Checks = append(d.facts.Checks, exam.StoredCheck{ID: model.EntryID{ID: doc.ID}, By: doc.By, Check: check})
	}
	for i, month := range months(d.facts.Now.Day()) {
		if day := doc.At.Day(); day < month.first || day > month.last {
			continue
		}
		done := &d.facts.Done[i]
		done.Looked = true
		done.Checked = done.Checked || checked
		done.Weighed = done.Weighed || doc.Kind == care.KindWeight
		done.Offered = done.Offered || doc.Kind == care.KindMeal
	}
	return nil
}

// lastCheck is the newest check of the whole animal.
func (f Facts) lastCheck(t *knowledge.Tables) (exam.StoredCheck, bool) {
	i := slices.IndexFunc(f.Checks, func(c exam.StoredCheck) bool { return c.Whole(t) })
	if i < 0 {
		return exam.StoredCheck{}, false
	}
	return f.Checks[i], true
}
