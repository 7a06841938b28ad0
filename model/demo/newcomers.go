package demo

import (
	"fmt"

	"coilward/model"
	"coilward/model/newcomers"
	"coilward/model/quarantine"
)

// stranger is one that came from elsewhere: its days are days ago.
type stranger struct {
	name     string
	came     int
	released int // 0: it is still in quarantine
	note     string
	why      string // key of why it was let out before everything was met; empty: everything was
}

// strangers are those that were in quarantine, and those that still are.
func strangers() []stranger {
	return []stranger{
		{name: "Heron", came: 700, released: 640, note: "demo.quarantine.rescue", why: "demo.quarantine.early"},
		{name: "Linnet", came: 540, released: 425},
		{name: "Plover", came: 23, note: "demo.quarantine.box"},
		{name: "Yarrow", came: 75, note: "demo.quarantine.boathouse"},
		{name: "Wigeon", came: 33, note: "demo.quarantine.guest"},
	}
}

// keepApart puts them into quarantine, and lets out whose time was over.
func (s *scenario) keepApart() error {
	for _, one := range strangers() {
		if err := s.quarantine(one); err != nil {
			return fmt.Errorf("%s: %w", one.name, err)
		}
	}
	return nil
}

func (s *scenario) quarantine(one stranger) error {
	id, err := s.find(one.name)
	if err != nil {
		return err
	}
	arrived := s.at(one.came, 0, 0)
	arrived.Precision = model.ToDay
	begin := quarantine.Begin{Tables: s.tables, Animal: id, Arrived: arrived, Protocol: s.tables.Protocols()[1].ID, By: s.people[keeper]}
	if one.note != "" {
		begin.Note = s.say(one.note)
	}
	if err := s.do(begin); err != nil || one.released == 0 {
		return err
	}
	begun, err := quarantine.Of(s.bench, id)
	if err != nil {
		return err
	}
	release := newcomers.Release{Tables: s.tables, ID: begun[0].ID, Base: 1, At: s.at(one.released, 10, 0), By: s.people[keeper]}
	if one.why != "" {
		release.Why, release.Confirmed = s.say(one.why), model.Confirmed{"quarantine.unmet"}
	}
	return s.do(release)
}
