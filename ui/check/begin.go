package check

import (
	"fmt"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/exam"
	"coilward/model/history"
	"coilward/ui/place"
)

// start is what is read of an animal when its check begins.
type start struct {
	animal    animals.Stored
	mass      model.Mass
	meal      care.AfterMeal // the last one, where it is so short ago that the animal is to rest
	rests     bool
	beginning exam.Beginning
}

func gather(w place.Window, id model.AnimalID) (start, error) {
	var s start
	err := w.Collection().View(func(v model.View) error {
		var err error
		if s.animal, err = animals.Find(v, id); err != nil {
			return err
		}
		records, err := history.Read(w.Tables(), v, s.animal, v.Now())
		if err != nil {
			return err
		}
		problems, _, err := exam.LegibleProblems(v, id)
		if err != nil {
			return err
		}
		standing := records.Stand(w.Tables(), problems, v.Now())
		s.mass = records.Context.Mass
		s.meal, s.rests = care.Resting(w.Tables(), records.Entries, s.mass, v.Now())
		s.beginning = exam.Beginning{
			Check: model.EntryID{ID: v.NewID()}, Animal: id, At: v.Now(), Problems: problems,
			Context: records.Context, Sheds: records.Sheds, StuckCaps: records.StuckCaps(),
			VetBy: standing.VetFor(), Noted: standing.VetNoted(),
		}
		return nil
	})
	if err != nil {
		return start{}, fmt.Errorf("begin a check: %w", err)
	}
	return s, nil
}

// besides is what still stands from the days before a check, once it is kept.
func besides(w place.Window, animal animals.Stored, c exam.StoredCheck) (history.Standing, error) {
	var s history.Standing
	err := w.Collection().View(func(v model.View) error {
		records, err := history.Read(w.Tables(), v, animal, c.Finished)
		if err != nil {
			return err
		}
		problems, _, err := exam.LegibleProblems(v, animal.ID)
		s = records.Besides(w.Tables(), c, problems, c.Finished)
		return err
	})
	if err != nil {
		return s, fmt.Errorf("read what stands beside a check: %w", err)
	}
	return s, nil
}

// reopen reads a kept check to be put right, with what was known before it.
func reopen(w place.Window, animal animals.Stored, entry model.EntryID) (*kept, exam.Draft, error) {
	var k *kept
	var draft exam.Draft
	err := w.Collection().View(func(v model.View) error {
		d, err := v.Document(entry.ID)
		if err != nil {
			return err
		}
		c, err := exam.ReadCheck(d)
		if err != nil {
			return err
		}
		before := c.Begun
		before.UTC--
		records, err := history.Read(w.Tables(), v, animal, before)
		if err != nil {
			return err
		}
		problems, _, err := exam.LegibleProblems(v, animal.ID)
		if err != nil {
			return err
		}
		problems = exam.Before(problems, entry, c.Begun)
		standing := records.Stand(w.Tables(), problems, before)
		k = &kept{entry: entry, revision: d.Revision, finished: c.Finished}
		draft = exam.Again(w.Tables(), exam.Beginning{Check: entry, Animal: animal.ID, At: c.Begun, Problems: problems, Context: c.Context,
			Sheds: records.Sheds, StuckCaps: records.StuckCaps(), VetBy: standing.VetFor(), Noted: standing.VetNoted()}, c)
		return nil
	})
	if err != nil {
		return nil, exam.Draft{}, fmt.Errorf("open a kept check: %w", err)
	}
	return k, draft, nil
}
