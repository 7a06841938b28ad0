package indoors_test

import (
	"testing"

	"coilward/model/climate"
)

// What may have hurt an animal in the last days is told whatever time is asked for, and
// what was worse long ago does not hide it.
func TestHarmOfTheLastDays(t *testing.T) {
	w := begin(t)
	note := func(zone climate.Zone, days, temperature int) {
		w.do(climate.Note{Key: climate.Key{Place: w.box, Zone: zone}, At: w.ago(days), Reading: climate.Reading{Temperature: int16(temperature), Humidity: -1}})
	}
	note(climate.Warm, 100, 4500)
	note(climate.Cool, 9, 1800)
	note(climate.Hide, 15, 4000)
	if a := w.read(365); len(a.Lately) != 1 || a.Lately[0].Zone != climate.Cool || !a.Lately[0].Unclear || a.Lately[0].UnclearLeast != 1800 {
		t.Errorf("%+v", a.Lately)
	}
	note(climate.Warm, 1, 4100)
	for _, days := range []int{365, 7, 0} {
		a := w.read(days)
		if a.LatelyFrom != w.ago(14).UTC || len(a.Lately) != 2 {
			t.Fatalf("%d days: %+v", days, a.Lately)
		}
		for _, h := range a.Lately {
			if h.Zone == climate.Warm && (!h.Hot || h.Hottest != 4100 || h.HotAt != w.ago(1).UTC) {
				t.Errorf("%d days: %+v", days, h)
			}
		}
	}
	if a := w.read(365); a.Zones[0].Harm.Hottest != 4500 {
		t.Errorf("of the year: %+v", a.Zones[0].Harm)
	}
	outside := climate.Key{Place: w.box, Zone: climate.Outside, With: w.roomSense}
	w.do(climate.Note{Key: outside, At: w.now, Reading: climate.Reading{Temperature: 4400, Humidity: -1}})
	if a := w.read(1); len(a.Lately) != 2 {
		t.Errorf("no animal is outside: %+v", a.Lately)
	}
	ahead := w.now // by a clock that is a minute ahead
	ahead.UTC += 60
	w.do(climate.Note{Key: climate.Key{Place: w.box, Zone: climate.Basking}, At: ahead, Reading: climate.Reading{Temperature: 4400, Humidity: -1}})
	if a := w.read(1); len(a.Lately) != 3 {
		t.Errorf("just now: %+v", a.Lately)
	}
}
