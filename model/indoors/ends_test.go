package indoors_test

import (
	"math"
	"testing"

	"coilward/model/climate"
	"coilward/model/husbandry"
	"coilward/model/indoors"
)

// The ends are compared in the hours in which both were read; what an instrument showed
// that failed its check tells nothing.
func TestEnds(t *testing.T) {
	w := begin(t)
	second := w.warm()
	second.Zone, second.With.ID = climate.Cool, w.do(husbandry.AddInstrument{Instrument: husbandry.Instrument{Name: "Cool logger", Kind: husbandry.Hygrometer}}).Documents[0]
	damp := func(hour int) int { // three days ago the air was wetter
		if int64(hour)*3600 < w.ago(3).UTC {
			return 8500
		}
		return 6000
	}
	w.log(w.warm(), 6, 0, func(hour int) (int, int) { return 2800 + hour%3, damp(hour) })
	w.log(second, 3, 0, func(hour int) (int, int) { return 2800 + hour%3, damp(hour) })
	want := 0.0
	for i := range 3 {
		want += climate.DewPoint(28+float64(i)/100, 60) / 3 * 100
	}
	a := w.read(10)
	if a.Ends.Hours != 72 || a.Ends.Warm != a.Ends.Cool || math.Abs(float64(a.Ends.Warm)-want) > 1 {
		t.Fatalf("%+v, want %.0f", a.Ends, want)
	}
	dry := climate.Key{Place: w.box, Zone: climate.Warm} // without any water there is no dew point
	w.do(climate.Note{Key: dry, At: w.ago(1), Reading: climate.Reading{Temperature: 2800, Humidity: 0}})
	if again := w.read(10); again.Ends != a.Ends {
		t.Errorf("with a humidity of nothing %+v", again.Ends)
	}
	w.do(husbandry.CheckInstrument{Instrument: second.With, At: w.now, Check: husbandry.InstrumentCheck{}})
	if a = w.read(10); a.Ends != (indoors.Ends{}) {
		t.Errorf("by an instrument that failed: %+v", a.Ends)
	}
}

// Of a sensor that is stuck no reading tells of the water in the air, the first neither.
func TestEndsByAStuckSensor(t *testing.T) {
	w := begin(t)
	cool := w.warm()
	cool.Zone, cool.With.ID = climate.Cool, w.do(husbandry.AddInstrument{Instrument: husbandry.Instrument{Name: "Cool logger", Kind: husbandry.Hygrometer}}).Documents[0]
	w.log(cool, 1, 0, func(hour int) (int, int) { return 2500 + hour%3, 6000 + hour%5 })
	w.log(w.warm(), 1, 0, func(int) (int, int) { return 2800, 5500 })
	if a := w.read(3); a.Ends != (indoors.Ends{}) {
		t.Errorf("%+v", a.Ends)
	}
}
