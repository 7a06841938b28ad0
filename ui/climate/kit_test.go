package climate

import (
	"slices"
	"testing"

	"coilward/assets"
	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/chart"
	"coilward/model/climate"
	"coilward/model/collection"
	"coilward/model/husbandry"
	"coilward/model/knowledge"
	"coilward/model/storetest"
	"coilward/model/welfare"
)

// onePlace is the first vivarium of a new collection, with an animal that has lived in it
// for some days, and do, which does a command and gives the first document that it made.
func onePlace(t *testing.T, days int64) (c *collection.Collection, tables *knowledge.Tables, now model.Moment, do func(model.Command) model.ID, place model.PlaceID, animal model.AnimalID) {
	t.Helper()
	tables, err := knowledge.Load(assets.Knowledge())
	if err != nil {
		t.Fatal(err)
	}
	c, clock := storetest.New(t)
	do = func(command model.Command) model.ID {
		t.Helper()
		done, err := c.Do(command)
		if err != nil {
			t.Fatal(err)
		}
		return done.Documents[0]
	}
	now = model.MomentOf(clock.Now())
	at := now
	at.UTC -= days * 86400
	place = model.PlaceID{ID: do(husbandry.AddPlaces{Branches: []husbandry.Branch{{Place: husbandry.Place{Name: "A1", Kind: husbandry.Vivarium}}}})}
	animal = model.AnimalID{ID: do(animals.Add{Animal: animals.Animal{Name: "Sorrel", Species: "python-regius"}})}
	do(husbandry.Move{Animal: animal, Place: place, At: at, Confirmed: model.Confirmed{"day.before-arrival"}})
	return c, tables, now, do, place, animal
}

// The good band of the humidity changes at the very minute in which an animal was noted in
// blue, and not at the end of that day.
func TestTheBandChangesWhenAnAnimalIsInBlue(t *testing.T) {
	c, tables, now, do, place, animal := onePlace(t, 9)
	ago := func(seconds int64) model.Moment {
		m := now
		m.UTC -= seconds
		return m
	}
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

// What was noted of who lives there stands beside the readings, each in its shape.
func TestWhatWasNotedStandsBeside(t *testing.T) {
	c, tables, now, do, place, animal := onePlace(t, 30)
	about := func(days int64) care.About {
		at := now
		at.UTC -= days * 86400
		return care.About{Animal: animal, At: at, Confirmed: model.Confirmed{"day.before-arrival"}}
	}
	do(care.RecordShed{About: about(6), Shed: care.Shed{Skin: care.Whole}})
	do(care.RecordShed{About: about(5), Shed: care.Shed{Skin: care.InPieces}})
	do(care.RecordShed{About: about(20), Shed: care.Shed{Skin: care.InPieces}}) // before the week
	do(care.Feed{About: about(4), Meal: care.Meal{Outcome: care.Refused, Prey: care.Rat, Count: 1, Each: model.Grams(80)}})
	do(care.Feed{About: about(3), Meal: care.Meal{Outcome: care.Took, Prey: care.Rat, Count: 1, Each: model.Grams(80)}})
	do(welfare.Observe{Tables: tables, About: about(2), Observation: welfare.Observation{Setting: knowledge.Untouched, None: true}})
	if err := c.View(func(v model.View) error {
		k, _, err := Load(v, tables, place, ByWeek, now.Day())
		if err != nil {
			return err
		}
		for _, row := range []struct {
			name      string
			got, want []chart.AirMark
		}{
			{"sheds", k.Sheds, []chart.AirMark{{At: about(6).At.UTC, Shape: chart.Diamond}, {At: about(5).At.UTC, Shape: chart.Ring}}},
			{"refused", k.Refused, []chart.AirMark{{At: about(4).At.UTC, Shape: chart.Ring}}},
			{"observed", k.Observed, []chart.AirMark{{At: about(2).At.UTC, Shape: chart.Dot}}},
		} {
			slices.SortFunc(row.got, func(a, b chart.AirMark) int { return int(a.At - b.At) })
			if !slices.Equal(row.got, row.want) {
				t.Errorf("%s: %+v, want %+v", row.name, row.got, row.want)
			}
		}
		return nil
	}); err != nil {
		t.Fatal(err)
	}
}

// Where no readings are is shaded in all of the time in sight, but not what is yet to come.
func TestWhereNoReadingsAreIsShaded(t *testing.T) {
	c, tables, now, do, place, _ := onePlace(t, 30)
	hour := func(days, hour int64) int64 { return now.UTC - days*86400 + hour*3600 }
	var all []climate.Reading
	for h := range int64(48) {
		if h < 20 || h > 29 {
			all = append(all, climate.Reading{At: hour(4, h), Temperature: 2800, Humidity: climate.NoHumidity})
		}
	}
	do(climate.TakeIn{Key: climate.Key{Place: place, Zone: climate.Warm, With: model.InstrumentID{ID: do(husbandry.AddInstrument{Instrument: husbandry.Instrument{Name: "Logger", Kind: husbandry.Thermometer}})}}, Readings: all})
	do(climate.Note{Key: climate.Key{Place: place, Zone: climate.Hide}, At: now, Reading: climate.Reading{Temperature: 2800, Humidity: climate.NoHumidity}})
	if err := c.View(func(v model.View) error {
		k, _, err := Load(v, tables, place, ByWeek, now.Day())
		if err != nil {
			return err
		}
		for _, z := range k.Air.Zones {
			want := []chart.AirSpan{{From: k.Air.Span.From, Until: hour(4, 0)}, {From: hour(4, 19), Until: hour(4, 30)}, {From: hour(4, 47), Until: now.UTC}}
			if z.Zone == climate.Hide { // single ones by hand
				want = nil
			}
			if got := k.data(tables, z, climate.Temperature, ByWeek).Gaps; !slices.Equal(got, want) {
				t.Errorf("%s: %+v, want %+v", z.Zone, got, want)
			}
		}
		return nil
	}); err != nil {
		t.Fatal(err)
	}
}
