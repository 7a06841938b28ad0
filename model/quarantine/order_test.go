package quarantine_test

import (
	"slices"
	"testing"

	"coilward/model"
	"coilward/model/quarantine"
)

// Of restarts and checks of one day always the same is told, in whichever order they come.
func TestOfOneDayAlwaysTheSameIsTold(t *testing.T) {
	tables := load(t)
	p := protocol(tables, "python")
	restarts := []quarantine.Restart{{Day: on(70), Stay: model.StayID{ID: id(71)}, Name: "Ash"}, {Day: on(70), Stay: model.StayID{ID: id(72)}, Name: "Elm"}, {Day: on(60), Stay: model.StayID{ID: id(70)}, Name: "Fern"}}
	checks := []quarantine.Check{{Entry: entry(81), Day: on(86), Full: true}, {Entry: entry(82), Day: on(86), Full: true}, {Entry: entry(83), Day: on(84), Full: true}}
	for range 2 {
		f := whole()
		f.Restarts, f.Checks = restarts, checks
		g := quarantine.Judge(tables, p, f)
		if l := line(t, g, quarantine.InRoom); !slices.Equal(l.On, []model.ID{id(71)}) || l.Reasons[0].Gaps["Name"].Text != "Ash" {
			t.Errorf("who came in: %+v", l)
		}
		if l := line(t, g, quarantine.LookedFor); l.Again != on(70) || l.Reasons[0].Gaps["Name"].Text != "Ash" {
			t.Errorf("one sample since: %+v", l)
		}
		if l := line(t, g, quarantine.FullCheck); !slices.Equal(l.On, []model.ID{id(82)}) {
			t.Errorf("the check: %+v", l)
		}
		slices.Reverse(restarts)
		slices.Reverse(checks)
	}
}

// The line of mites tells how many days of its watch are over, never more than it lasts.
func TestTheDaysOfTheWatchThatAreOver(t *testing.T) {
	tables := load(t)
	for today, have := range map[int]int{0: 0, 1: 0, 2: 1, 77: 76, 78: 77, 79: 77, 90: 77} {
		f := whole()
		f.Today = on(today)
		if f.Mites.Over = 0; today >= 78 {
			f.Mites.Over = on(78)
		}
		if l := line(t, quarantine.Judge(tables, protocol(tables, "python"), f), quarantine.MiteFree); l.Have != have || l.Want != 77 {
			t.Errorf("day %d: %d of %d", today, l.Have, l.Want)
		}
	}
}
