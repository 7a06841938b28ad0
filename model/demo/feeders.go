package demo

import (
	"fmt"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/feeders"
	"coilward/model/meals"
)

// stock tells of the freezer: a batch of which three meals came up, long ago, and one in
// use, of which some are thawed for tonight; and of a skin that is about to come off, and
// a bath.
func (s *scenario) stock() error {
	all, err := animals.All(s.bench)
	if err != nil {
		return err
	}
	of := func(name string) (id model.AnimalID) {
		for _, a := range all {
			if a.Name == name {
				id = a.ID
			}
		}
		return id
	}
	on := func(ago int) model.Date { return model.Date{Day: s.day(ago), Precision: model.ToDay} }
	for _, b := range []feeders.Batch{
		{Name: s.say("demo.feeders.bad"), Prey: care.Rat, Size: care.SmallAdult, Each: model.Grams(70), Count: 10, Bought: on(330), Frozen: on(340), Best: on(-60), Freezer: s.say("demo.feeders.chest")},
		{Name: s.say("demo.feeders.good"), Prey: care.Rat, Size: care.SmallAdult, Each: model.Grams(75), Count: 30, Bought: on(20), Frozen: on(26), Best: on(-300), Freezer: s.say("demo.feeders.chest")},
	} {
		if err := s.do(feeders.Add{Batch: b, By: s.people[keeper]}); err != nil {
			return fmt.Errorf("a batch: %w", err)
		}
	}
	batches, err := feeders.All(s.tables, s.bench)
	if err != nil {
		return err
	}
	bad, good := batches[0].ID, batches[1].ID
	for i, name := range []string{"Bramble", "Juniper", "Mallow"} {
		about := s.about(of(name), 251-5*i, 19, 40)
		about.Confirmed = model.Confirmed{meals.AskWaits, meals.AskMore, meals.AskAfter, feeders.AskUp}
		if err := s.do(meals.Offer{Tables: s.tables, About: about, Meal: care.Meal{Prey: care.Rat, Size: care.SmallAdult, Each: model.Grams(70), Count: 1, State: care.Thawed, Outcome: care.Regurgitated, Batch: bad}}); err != nil {
			return fmt.Errorf("a meal that came up: %w", err)
		}
	}
	for _, c := range []model.Command{
		feeders.ThawOut{Tables: s.tables, Batch: good, Thaw: feeders.Thaw{Count: 3}, At: s.now, By: s.people[keeper]},
		care.RecordBlue{About: s.about(of("Linnet"), 4, 18, 20), Blue: care.Blue{Beside: care.Beside{Note: s.say("demo.note.blue")}}},
		care.RecordClutch{About: s.about(of("Bramble"), clutch, 7, 15), Clutch: care.Clutch{Eggs: 6, Beside: care.Beside{Note: s.say("demo.note.clutch")}}},
		care.GiveFluids{Tables: s.tables, About: s.about(of("Heron"), 697, 11, 0), Fluids: care.Fluids{What: s.say("demo.fluids.what"), Advised: s.say("demo.person.vet")}},
		care.Bathe{Tables: s.tables, About: s.about(of("Teasel"), 6, 18, 30), Bath: care.Bath{Warm: model.Temperature{Hundredths: 2800}, Minutes: 20, Beside: care.Beside{Note: s.say("demo.note.bath")}}},
	} {
		if err := s.do(c); err != nil {
			return err
		}
	}
	return nil
}
