package demo

import "coilward/model/round"

// goRound tells of the round of yesterday evening: one box was left out, and at half of
// it the keeper was called away, so that it is open.
func (s *scenario) goRound() error {
	now := s.bench.now
	defer func() { s.bench.now = now }()
	s.bench.now = s.at(1, 18, 5)
	house, err := round.ReadHouse(s.bench, s.tables)
	if err != nil {
		return err
	}
	order := s.tables.Rounds()[0]
	stops := round.Parts(order, round.Stops(s.tables, house.Dwellers))[0].Stops
	begin := round.Begin{Tables: s.tables, Order: order.ID, By: s.people[keeper]}
	for _, stop := range stops {
		begin.Stops = append(begin.Stops, round.Planned{Place: stop.Place, Animals: stop.Animals})
	}
	if err := s.do(begin); err != nil {
		return err
	}
	last, err := round.Last(s.bench, 1)
	if err != nil {
		return err
	}
	for i, stop := range stops[:len(stops)/2] {
		s.bench.now = s.at(1, 18, 8+3*i)
		look := round.Look{Animals: stop.Animals, Class: round.Rules(order, stop.Classes).String(), Passed: i == 1}
		if err := s.do(round.LookInto{Tables: s.tables, Round: last[0].ID, Look: look, By: s.people[keeper]}); err != nil {
			return err
		}
	}
	return nil
}
