package check

import (
	"fmt"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/exam"
	"coilward/model/history"
	"coilward/ui/place"
)

// start is what is read of an animal when its check begins.
type start struct {
	animal    animals.Stored
	mass      model.Mass
	beginning exam.Beginning
}

func gather(w place.Window, id model.AnimalID) (start, error) {
	var s start
	err := w.Collection().View(func(v model.View) error {
		var err error
		if s.animal, err = animals.Find(v, id); err != nil {
			return err
		}
		records, err := history.Read(v, s.animal, v.Now())
		if err != nil {
			return err
		}
		problems, err := exam.Problems(v, id)
		if err != nil {
			return err
		}
		s.mass = records.Context.Mass
		s.beginning = exam.Beginning{
			Check: model.EntryID{ID: v.NewID()}, Animal: id, At: v.Now(), Problems: problems,
			Context: records.Context, Sheds: records.Sheds,
		}
		return nil
	})
	if err != nil {
		return start{}, fmt.Errorf("begin a check: %w", err)
	}
	return s, nil
}
