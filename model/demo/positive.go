package demo

import (
	"fmt"

	"coilward/model"
	"coilward/model/contact"
	"coilward/model/knowledge"
	"coilward/model/samples"
)

// detectedIn is the kit in which something was detected, and detectedOn how many days
// ago the lab said so.
const (
	detectedIn = "V-07"
	detectedOn = 9
)

// detect tells of the one in which something was detected: the positive was opened on
// the day of the report, half of its list is done, and a second sample, by which the
// first is confirmed or not, is on its way.
func (s *scenario) detect() error {
	id, err := s.tubeOf(detectedIn)
	if err != nil {
		return err
	}
	if err := s.then(detectedOn, 19, 20, contact.Open{Tables: s.tables, Sample: id, Agent: ferla, By: s.people[keeper]}); err != nil {
		return err
	}
	sent := s.lastParcelDay()
	second := tube{of: []string{"Yarrow"}, kit: "V-09", material: "tracheal-wash", byVet: true, found: []finding{{of: ferla}}, taken: sent + 1, posted: sent}
	if err := s.sample(second); err != nil {
		return err
	}
	all, err := contact.All(s.bench)
	if err != nil {
		return err
	}
	for i, done := range []struct {
		act  knowledge.PositiveActID
		ago  int
		note string
	}{
		{contact.StopMoves, detectedOn, s.say("demo.positive.moves")},
		{contact.CallVet, detectedOn - 1, s.say("demo.positive.vet")},
		{"own-tools", detectedOn - 1, s.say("demo.positive.tools")},
		{"serve-last", detectedOn - 1, ""},
		{contact.Confirm, sent + 1, s.say("demo.positive.second")},
	} {
		act := contact.Act{Tables: s.tables, ID: all[0].ID, Base: uint32(i + 1), Act: done.act, At: s.at(done.ago, 19, 30), By: s.people[keeper], Note: done.note}
		if err := s.do(act); err != nil {
			return fmt.Errorf("%s: %w", done.act, err)
		}
	}
	return nil
}

// then carries out a command that writes down when it is done, on an earlier day.
func (s *scenario) then(daysAgo, hour, minute int, c model.Command) error {
	now := s.bench.now
	s.bench.now = s.at(daysAgo, hour, minute)
	defer func() { s.bench.now = now }()
	return s.do(c)
}

// lastParcelDay is how many days ago a parcel could last go off so that it is with the
// lab before a weekend.
func (s *scenario) lastParcelDay() int {
	ago := 1
	for samples.OverWeekend(s.day(ago)) {
		ago++
	}
	return ago
}
