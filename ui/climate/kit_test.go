package climate

import (
	"testing"

	"coilward/assets"
	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/climate"
	"coilward/model/husbandry"
	"coilward/model/knowledge"
	"coilward/model/storetest"
)

// The good band of the humidity changes at the very minute in which an animal was noted in
// blue, and not at the end of that day.
func TestTheBandChangesWhenAnAnimalIsInBlue(t *testing.T) {
	tables, err := knowledge.Load(assets.Knowledge())
	if err != nil {
		t.Fatal(err)
	}
	c, clock := storetest.New(t)
	do := func(command model.Command) model.ID {
		t.Helper()
		done, err := c.Do(command)
		if err != nil {
			t.Fatal(err)
		}
		return done.Documents[0]
	}
	now := model.MomentOf(clock.Now())
	ago := func(seconds int64) model.Moment {
		m := now
		m.UTC -= seconds
		return m
	}
	place := model.PlaceID{ID: do(husbandry.AddPlaces{Branches: []husbandry.Branch{{Place: husbandry.Place{Name: "A1", Kind: husbandry.Vivarium}}}})}
	animal := model.AnimalID{ID: do(animals.Add{Animal: animals.Animal{Name: "Sorrel", Species: "python-regius"}})}
	do(husbandry.Move{Animal: animal, Place: place, At: ago(9 * 86400), Confirmed: model.Confirmed{"day.before-arrival"}})
	do(care.RecordBlue{About: care.About{Animal: animal, At: ago(2 * 86400), Confirmed: model.Confirmed{"day.before-arrival"}}})
	do(climate.TakeIn{Key: climate.Key{Place: place, Zone: climate.Warm, With: model.InstrumentID{ID: do(husbandry.AddInstrument{Instrument: husbandry.Instrument{Name: "Logger", Kind: husbandry.Hygrometer}})}},
		Readings: []climate.Reading{{At: now.UTC - 3*86400, Temperature: 2800, Humidity: 5500}, {At: now.UTC - 3600, Temperature: 2800, Humidity: 7000}}})
	if err := c.View(func(v model.View) error {
		k, _, err := Load(v, tables, place, ByWeek, 0)
		if err != nil {
			return err
		}
		blue := now.UTC - 2*86400
		targets := k.data(tables, k.Air.Zones[0], climate.Humidity, ByWeek).Targets
		for i, target := range targets {
			if i > 0 && targets[i-1].Until != target.From {
				t.Errorf("between %d and %d there is no band", targets[i-1].Until, target.From)
			}
			if want := map[bool]float64{false: 50, true: 60}[target.From >= blue]; target.SoftLow != want || target.From < blue && target.Until > blue {
				t.Errorf("from %d to %d good from %v, in blue since %d", target.From-blue, target.Until-blue, target.SoftLow, blue)
			}
		}
		if n := len(targets); n != 7*3+1 || targets[0].From != k.Air.Span.From || targets[n-1].Until != k.Air.Span.Until {
			t.Errorf("%d bands", n)
		}
		return nil
	}); err != nil {
		t.Fatal(err)
	}
}
