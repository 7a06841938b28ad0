package demo

import (
	"coilward/model"
	"coilward/model/powercut"
)

// lightsOut tells of a night without power in the boathouse, noted on the next evening, after
// which the two there were looked at until the watch was over.
func (s *scenario) lightsOut() error {
	now := s.bench.now
	defer func() { s.bench.now = now }()
	s.bench.now = s.at(cutAgo, 18, 30)
	from, until := s.at(cutAgo+1, 23, 40), s.at(cutAgo, 6, 10)
	if err := s.do(powercut.Note{Places: []model.PlaceID{s.house.rooms[boathouse]}, From: from, By: s.people[keeper], Cut: powercut.Cut{Until: until, Coldest: &model.Temperature{Hundredths: 1950}, Note: s.say("demo.note.power-cut")}}); err != nil {
		return err
	}
	cuts, _, err := powercut.All(s.bench)
	if err != nil {
		return err
	}
	for _, look := range s.tables.ColdLooks() {
		s.bench.now = s.at(cutAgo-look.Day, 19, 15)
		if err := s.do(powercut.LookedQuiet{Tables: s.tables, Animals: cuts[0].Animals, By: s.people[keeper]}); err != nil {
			return err
		}
	}
	return nil
}

// cutAgo is how many days ago the power was back.
const cutAgo = 25
