package climate

import (
	"image"
	"testing"

	"coilward/assets"
	"coilward/model"
	"coilward/model/chart"
	"coilward/model/climate"
	"coilward/model/drawing"
	"coilward/model/husbandry"
	"coilward/model/indoors"
	"coilward/model/knowledge"
	"coilward/model/pixel"
	"coilward/model/storetest"
)

// halfAMillion are readings of a minute, of most of a year.
func halfAMillion(from int64) (all []climate.Reading) {
	for i := range 500_000 {
		all = append(all, climate.Reading{At: from + int64(i)*60, Temperature: int16(2600 + i/720%2*300 + i%17), Humidity: int16(5000 + i%900)})
	}
	return all
}

// The chart of a year with half a million readings, from the readings to the picture.
func BenchmarkChartOfAYear(b *testing.B) {
	tables, err := knowledge.Load(assets.Knowledge())
	if err != nil {
		b.Fatal(err)
	}
	loc := storetest.Start().Location()
	last := model.NewDay(2027, 6, 9)
	k := Kit{loc: loc, Air: indoors.Air{Span: spanOf(ByYear, last, loc)}}
	all := halfAMillion(k.Air.Span.From)
	z := indoors.Zone{Series: climate.Series{Key: climate.Key{Zone: climate.Warm}, Readings: all}, Step: 60}
	for b.Loop() {
		d := k.data(tables, z, climate.Temperature, ByYear)
		if len(d.Points) != 348 {
			b.Fatal(len(d.Points))
		}
		pen := pixel.NewPen(image.NewRGBA(image.Rect(0, 0, 1200, 460)), drawing.LightPalette())
		chart.NewAir(d, 1200, 460, 12).Draw(pen)
	}
}

// The same readings read from the store, with all that the page tells of them.
func BenchmarkReadAYear(b *testing.B) {
	tables, err := knowledge.Load(assets.Knowledge())
	if err != nil {
		b.Fatal(err)
	}
	c, clock := storetest.New(b)
	do := func(command model.Command) model.ID {
		done, err := c.Do(command)
		if err != nil {
			b.Fatal(err)
		}
		return done.Documents[0]
	}
	place := model.PlaceID{ID: do(husbandry.AddPlaces{Branches: []husbandry.Branch{{Place: husbandry.Place{Name: "A1", Kind: husbandry.Vivarium}}}})}
	with := model.InstrumentID{ID: do(husbandry.AddInstrument{Instrument: husbandry.Instrument{Name: "Logger", Kind: husbandry.Hygrometer}})}
	do(climate.TakeIn{Key: climate.Key{Place: place, Zone: climate.Warm, With: with}, Readings: halfAMillion(clock.Now().Unix() - 500_000*60)})
	for b.Loop() {
		err := c.View(func(v model.View) error {
			k, _, err := Load(v, tables, place, ByYear, 0)
			if err == nil && len(k.Air.Zones[0].Readings) != 500_000 {
				b.Fatal(len(k.Air.Zones[0].Readings))
			}
			return err
		})
		if err != nil {
			b.Fatal(err)
		}
	}
}
