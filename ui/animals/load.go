package animals

import (
	"errors"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/exam"
	"coilward/model/history"
	"coilward/model/husbandry"
	"coilward/model/knowledge"
	"coilward/model/positives"
	"coilward/model/quarantine"
)

// Load reads the rows of all animals. One whose records cannot be read hides no
// other: its row stands with what is known, and says so. progress is told the share
// done; it may be nil.
func Load(v model.View, tables *knowledge.Tables, now model.Moment, progress func(float64)) ([]Row, error) {
	all, err := animals.All(v)
	if err != nil {
		return nil, err
	}
	problems, unread, err := problemsOfAll(v)
	if err != nil {
		return nil, err
	}
	rows := make([]Row, 0, len(all))
	for i, a := range all {
		row, err := rowOf(v, tables, a, problems[a.ID], now)
		row.Unread = err != nil || unread[a.ID]
		rows = append(rows, row)
		if progress != nil && i%50 == 0 {
			progress(float64(i) / float64(len(all)))
		}
	}
	return rows, mark(v, tables, rows)
}

// LoadOne reads the row of one animal; there is false where it was removed.
func LoadOne(v model.View, tables *knowledge.Tables, id model.AnimalID, now model.Moment) (row Row, there bool, err error) {
	a, err := animals.Find(v, id)
	if errors.Is(err, model.ErrNotFound) {
		return Row{}, false, nil
	}
	if err != nil {
		return Row{}, false, err
	}
	problems, unread, err := exam.LegibleProblems(v, id)
	if err != nil {
		return Row{}, false, err
	}
	row, err = rowOf(v, tables, a, problems, now)
	row.Unread = err != nil || len(unread) > 0
	return row, true, nil
}

// mark puts to each animal what was detected in it, or while it was near, and is not
// settled, and whether it is in quarantine. A quarantine that cannot be read is of an
// animal that waits.
func mark(v model.View, tables *knowledge.Tables, rows []Row) error {
	all, err := positives.Unsettled(v, tables)
	if err != nil {
		return err
	}
	detected, near := map[model.AnimalID][]knowledge.AgentID{}, map[model.AnimalID][]knowledge.AgentID{}
	for _, trace := range all {
		for _, a := range trace.Animals {
			detected[a] = append(detected[a], trace.Agent)
		}
		for _, n := range trace.Exposed() {
			near[n.Animal] = append(near[n.Animal], trace.Agent)
		}
	}
	waits := map[model.AnimalID]bool{}
	if err := v.All(model.TypeQuarantine, func(d model.Document) bool {
		if q, failed := quarantine.Read(d); failed != nil || q.Open() {
			id, _ := d.Animal()
			waits[id] = true
		}
		return true
	}); err != nil {
		return err
	}
	for i := range rows {
		rows[i].Detected, rows[i].Near, rows[i].Waits = detected[rows[i].ID], near[rows[i].ID], waits[rows[i].ID]
	}
	return nil
}

// problemsOfAll are the problems of every animal: they are few beside the
// entries, so that one look at all of them is cheaper than one per animal. Unread
// are the animals of which one cannot be read.
func problemsOfAll(v model.View) (all map[model.AnimalID][]exam.StoredProblem, unread map[model.AnimalID]bool, err error) {
	all, unread = map[model.AnimalID][]exam.StoredProblem{}, map[model.AnimalID]bool{}
	err = v.All(model.TypeProblem, func(d model.Document) bool {
		p, failed := exam.ReadProblem(d)
		switch id, is := d.Animal(); {
		case is && failed != nil:
			unread[id] = true
		case is:
			all[id] = append(all[id], p)
		}
		return true
	})
	return all, unread, err
}

func rowOf(v model.View, tables *knowledge.Tables, a animals.Stored, problems []exam.StoredProblem, now model.Moment) (Row, error) {
	r := Row{ID: a.ID, Name: a.Name, Code: a.Code, Chip: a.Chip.Digits, Morph: a.Morph, Sex: a.Sex, Status: a.Status,
		Kept: a.Status.Here(), Photo: a.Portrait, Coat: a.Coat, Hatched: a.Hatched}
	r.Fold()
	records, err := history.Lately(tables, v, a, problems, now)
	if err != nil {
		return r, err
	}
	r.recall(tables, records)
	for _, p := range problems {
		if p.Open() {
			r.Open++
		}
	}
	r.stand(records.Stand(tables, problems, now))
	if looks := records.MiteDays(); looks.Positive() {
		house, err := husbandry.ReadHouseOf(v, a.ID)
		if err != nil {
			return r, err
		}
		watch, _ := looks.Watch(tables, records.Treated(), house.MitesLast(tables, a.ID, looks.Seen(now.Day()), now), now.Day())
		r.Mites = watch.Mites
	}
	r.Looked = !r.Checked.IsZero() && sameMonth(r.Checked.Day(), now.Day())
	return r, nil
}

// stand takes the most urgent of what stands; what a vet should hear of beside that
// is named where nothing else is as urgent.
func (r *Row) stand(s history.Standing) {
	r.Level = s.Level()
	if b := s.Breathing; r.Kept && b.Level > r.Level {
		r.Level, r.Breathing = b.Level, b.At.Day()
		return
	}
	if len(s.Parts) > 0 {
		r.Stands = s.Parts[0]
	}
	if !r.Kept || r.Level >= knowledge.VetWithinDays {
		return
	}
	if s.ForVet() {
		r.Level, r.Unfed = knowledge.VetWithinDays, s.Unfed
	}
	if s.Loss.Level >= max(r.Level, knowledge.LookAgain) {
		r.Level, r.Loss = s.Loss.Level, s.Loss
	}
}

// recall takes the last of each kind.
func (r *Row) recall(t *knowledge.Tables, records history.Records) {
	if w := records.Weights; len(w) > 0 {
		r.Weight, r.WeighedOn = w[0].Mass, w[0].At.Day()
		if len(w) > 1 {
			r.Before = w[1].Mass
		}
	}
	r.Meal = records.Context.LastMeal
	if len(records.Checks) > 0 {
		r.Checked, r.Brief = records.Checks[0].Begun, records.Checks[0].Extent(t) == exam.BriefLook
	}
}

func sameMonth(a, b model.Day) bool {
	y0, m0, _ := a.Date()
	y1, m1, _ := b.Date()
	return y0 == y1 && m0 == m1
}
