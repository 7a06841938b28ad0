package registry_test

import (
	"slices"

	"pgregory.net/rapid"

	"coilward/model"
	"coilward/model/climate"
	"coilward/model/storetest"
)

// drawKey draws a place with an instrument that are there.
func drawKey(t *rapid.T, v model.View, named bool) (k climate.Key, ok bool) {
	place, ok := pick(t, v, model.TypePlace, func(model.Document) bool { return true })
	if !ok {
		return k, false
	}
	k = climate.Key{Place: model.PlaceID{ID: place.ID}, Zone: rapid.SampledFrom(climate.Zones()).Draw(t, "zone")}
	if named || rapid.Bool().Draw(t, "with one") {
		with, found := pick(t, v, model.TypeInstrument, func(model.Document) bool { return true })
		k.With, ok = model.InstrumentID{ID: with.ID}, found
	}
	return k, ok
}

func drawReading(t *rapid.T, from int64) climate.Reading {
	r := climate.Reading{At: from + int64(rapid.IntRange(0, 3*86400).Draw(t, "second")), Temperature: climate.NoTemperature, Humidity: climate.NoHumidity}
	if r.Temperature = int16(rapid.IntRange(climate.Coldest, climate.Hottest).Draw(t, "temperature")); rapid.Bool().Draw(t, "humidity too") {
		r.Humidity = int16(rapid.IntRange(0, climate.MostHumid).Draw(t, "humidity"))
	}
	return r
}

func climateGenerators() storetest.Generators {
	return storetest.Generators{
		"climate.take-in": func(t *rapid.T, v model.View) model.Command {
			k, ok := drawKey(t, v, true)
			if !ok {
				return nil
			}
			c := climate.TakeIn{Key: k}
			for range rapid.IntRange(1, 6).Draw(t, "readings") {
				c.Readings = append(c.Readings, drawReading(t, v.Now().UTC-4*86400))
			}
			return c
		},
		"climate.note": func(t *rapid.T, v model.View) model.Command {
			k, ok := drawKey(t, v, false)
			if !ok {
				return nil
			}
			at := v.Now()
			at.UTC -= int64(rapid.IntRange(0, 2*86400).Draw(t, "ago"))
			c := climate.Note{Key: k, At: at, Reading: drawReading(t, 0)}
			if rapid.Bool().Draw(t, "uv") {
				c.UV = &climate.UVReading{Index: rapid.IntRange(0, climate.HighestUV).Draw(t, "index"), Distance: model.Length{Tenths: 3000}}
			}
			return c
		},
		"climate.move": func(t *rapid.T, v model.View) model.Command {
			d, ok := pick(t, v, model.TypeReadings, func(model.Document) bool { return true })
			if !ok {
				return nil
			}
			day, err := climate.Decode(d)
			must(t, day, err)
			to, _ := drawKey(t, v, false)
			if to.With = day.With; rapid.IntRange(0, 3).Draw(t, "take out") == 0 {
				to = climate.Key{}
			}
			from := day.Day * 86400
			return climate.Move{Key: day.Key, Span: climate.Span{From: from, Until: from + int64(rapid.IntRange(1, 86400).Draw(t, "until"))}, To: to}
		},
		"climate.set-target": func(t *rapid.T, v model.View) model.Command {
			place, ok := pick(t, v, model.TypePlace, func(model.Document) bool { return true })
			if !ok {
				return nil
			}
			draw := func(name string) *climate.Target {
				if !rapid.Bool().Draw(t, name) {
					return nil
				}
				n := rapid.SliceOfN(rapid.IntRange(0, 6000), 4, 4).Draw(t, name+" numbers")
				slices.Sort(n)
				return &climate.Target{HardLow: n[0], SoftLow: n[1], SoftHigh: n[2], HardHigh: n[3]}
			}
			c := climate.SetTarget{Place: model.PlaceID{ID: place.ID}, Own: climate.Own{Zone: rapid.SampledFrom(climate.Zones()[:4]).Draw(t, "zone"),
				Measure: rapid.SampledFrom(climate.Measures()).Draw(t, "measure"), Day: draw("day"), Night: draw("night"), Why: drawText(t)}}
			if had, _, err := climate.OwnTargets(v, c.Place); err != nil || len(had) == 0 && c.Own.Empty() {
				c.Own.Day = &climate.Target{HardHigh: 3000}
			}
			return c
		},
	}
}
