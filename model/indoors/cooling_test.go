package indoors_test

import (
	"math"
	"testing"

	"coilward/model"
	"coilward/model/climate"
	"coilward/model/husbandry"
	"coilward/model/powercut"
)

// What an instrument showed since its last good check before a failed one tells neither how
// fast it falls in a power cut nor how warm it is.
func TestCoolingIsOfTrustedReadings(t *testing.T) {
	w := begin(t)
	begun := w.ago(20)
	var all []climate.Reading
	for i := range 25 { // four hours, half a degree in each
		all = append(all, climate.Reading{At: begun.UTC + int64(i)*600, Temperature: int16(2800 - i*50/6), Humidity: -1})
	}
	w.do(climate.TakeIn{Key: w.warm(), Readings: all})
	sound := w.warm()
	sound.With.ID = w.do(husbandry.AddInstrument{Instrument: husbandry.Instrument{Name: "Second logger", Kind: husbandry.Thermometer}}).Documents[0]
	w.log(sound, 1, 0, func(int) (int, int) { return 2600, -1 })
	until := begun
	until.UTC += 4 * 3600
	w.do(powercut.Note{From: begun, Places: []model.PlaceID{w.room}, Cut: powercut.Cut{Until: until}})
	w.do(husbandry.CheckInstrument{Instrument: w.logger, At: w.ago(25), Check: husbandry.InstrumentCheck{Good: true}})
	if a := w.read(2); a.Cooling == nil || math.Abs(a.Cooling.Hours-12) > .2 {
		t.Fatalf("%+v", a.Cooling)
	}
	w.do(climate.Note{Key: w.warm(), At: w.now, Reading: climate.Reading{Temperature: 2100, Humidity: -1}})
	w.do(husbandry.CheckInstrument{Instrument: w.logger, At: w.ago(10), Check: husbandry.InstrumentCheck{Good: true}})
	w.do(husbandry.CheckInstrument{Instrument: w.logger, At: w.now, Check: husbandry.InstrumentCheck{}})
	if a := w.read(2); a.Cooling == nil || a.Cooling.From != 2600 {
		t.Errorf("as warm as an instrument says that failed: %+v", a.Cooling)
	}
}

// An instrument that failed its first check tells no hours.
func TestNoCoolingByAFailedInstrument(t *testing.T) {
	w := begin(t)
	begun := w.ago(20)
	var all []climate.Reading
	for i := range 25 {
		all = append(all, climate.Reading{At: begun.UTC + int64(i)*600, Temperature: int16(2800 - i*50/6), Humidity: -1})
	}
	w.do(climate.TakeIn{Key: w.warm(), Readings: all})
	w.do(climate.Note{Key: climate.Key{Place: w.box, Zone: climate.Warm}, At: w.now, Reading: climate.Reading{Temperature: 2600, Humidity: -1}})
	until := begun
	until.UTC += 4 * 3600
	w.do(powercut.Note{From: begun, Places: []model.PlaceID{w.room}, Cut: powercut.Cut{Until: until}})
	if a := w.read(2); a.Cooling == nil {
		t.Fatal("not told before the check")
	}
	w.do(husbandry.CheckInstrument{Instrument: w.logger, At: w.now, Check: husbandry.InstrumentCheck{}})
	if a := w.read(2); a.Cooling != nil {
		t.Errorf("%+v", a.Cooling)
	}
}
