package animals

import (
	"errors"
	"fmt"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/exam"
	"coilward/ui/particulars"
)

// Load reads the rows of all animals. progress is told the share done; it may be
// nil.
func Load(v model.View, today model.Day, progress func(float64)) ([]Row, error) {
	all, err := animals.All(v)
	if err != nil {
		return nil, err
	}
	problems, err := problemsOfAll(v)
	if err != nil {
		return nil, err
	}
	rows := make([]Row, 0, len(all))
	for i, a := range all {
		row, err := rowOf(v, a, problems[a.ID], today)
		if err != nil {
			return nil, err
		}
		rows = append(rows, row)
		if progress != nil && i%50 == 0 {
			progress(float64(i) / float64(len(all)))
		}
	}
	return rows, nil
}

// LoadOne reads the row of one animal; there is false where it was removed.
func LoadOne(v model.View, id model.AnimalID, today model.Day) (row Row, there bool, err error) {
	a, err := animals.Find(v, id)
	if errors.Is(err, model.ErrNotFound) {
		return Row{}, false, nil
	}
	var problems []exam.StoredProblem
	if err == nil {
		problems, err = exam.Problems(v, id)
	}
	if err == nil {
		row, err = rowOf(v, a, problems, today)
	}
	return row, err == nil, err
}

// problemsOfAll are the problems of every animal: they are few beside the
// entries, so that one look at all of them is cheaper than one per animal.
func problemsOfAll(v model.View) (map[model.AnimalID][]exam.StoredProblem, error) {
	all := map[model.AnimalID][]exam.StoredProblem{}
	var failed error
	err := v.All(model.TypeProblem, func(d model.Document) bool {
		var p exam.StoredProblem
		if p, failed = exam.ReadProblem(d); failed != nil {
			return false
		}
		if id, is := d.Animal(); is {
			all[id] = append(all[id], p)
		}
		return true
	})
	return all, errors.Join(err, failed)
}

func rowOf(v model.View, a animals.Stored, problems []exam.StoredProblem, today model.Day) (Row, error) {
	r := Row{ID: a.ID, Name: a.Name, Code: a.Code, Chip: a.Chip.Digits, Morph: a.Morph, Sex: a.Sex, Status: a.Status,
		Kept: a.Status.Here(), Photo: a.Portrait, Coat: a.Coat, Hatched: a.Hatched}
	r.Fold()
	if err := r.readLast(v); err != nil {
		return r, fmt.Errorf("read the last entries of %q: %w", a.Name, err)
	}
	if err := r.readOpen(v, problems); err != nil {
		return r, fmt.Errorf("read what is open of %q: %w", a.Name, err)
	}
	r.Looked = !r.Checked.IsZero() && sameMonth(r.Checked.Day(), today)
	return r, nil
}

// readLast reads back from the newest entry until the last of each kind is known.
func (r *Row) readLast(v model.View) error {
	var failed error
	weights := 0
	err := v.Timeline(r.ID.Subject(), model.Beginning, model.EndOfTime, func(d model.Document) bool {
		switch {
		case d.Type != model.TypeEntry:
		case d.Kind == care.KindWeight && weights < 2:
			weights++
			failed = r.weigh(d, weights)
		case d.Kind == care.KindMeal && r.Meal.IsZero():
			failed = r.feed(d)
		case d.Kind == exam.KindCheck && r.Checked.IsZero():
			r.Checked = d.At
		}
		known := weights == 2 && !r.Meal.IsZero() && !r.Checked.IsZero()
		return failed == nil && !known
	})
	return errors.Join(err, failed)
}

func (r *Row) weigh(d model.Document, which int) error {
	w, err := care.DecodeWeight(d)
	if errors.Is(err, model.ErrNewer) {
		return nil
	}
	if which == 1 {
		r.Weight, r.WeighedOn = w.Mass, d.At.Day()
	} else {
		r.Before = w.Mass
	}
	return err
}

func (r *Row) feed(d model.Document) error {
	meal, err := care.DecodeMeal(d)
	if errors.Is(err, model.ErrNewer) {
		return nil
	}
	if meal.Outcome == care.Took {
		r.Meal = d.At
	}
	return err
}

// readOpen counts the open problems and takes the most urgent of them, as the
// last check said.
func (r *Row) readOpen(v model.View, problems []exam.StoredProblem) error {
	for _, p := range problems {
		if p.Open() {
			r.Open++
		}
	}
	if r.Open == 0 {
		return nil
	}
	check, found, err := exam.Latest(v, r.ID, model.Moment{UTC: model.EndOfTime})
	if err != nil || !found {
		return err
	}
	levels := particulars.Levels(check.Verdict)
	for _, p := range problems {
		if p.Open() {
			r.Level = max(r.Level, levels[p.ID])
		}
	}
	return nil
}

func sameMonth(a, b model.Day) bool {
	y0, m0, _ := a.Date()
	y1, m1, _ := b.Date()
	return y0 == y1 && m0 == m1
}
