package climate_test

import (
	"testing"

	"coilward/model"
	"coilward/model/climate"
	"coilward/model/collection"
	"coilward/model/husbandry"
	"coilward/model/storetest"
)

// box is the only place of lived and oneBox.
func box(t testing.TB, c *collection.Collection) (id model.PlaceID) {
	t.Helper()
	if err := c.View(func(v model.View) error {
		h, err := husbandry.ReadHouse(v)
		if err == nil {
			id = h.Places()[0].ID
		}
		return err
	}); err != nil {
		t.Fatal(err)
	}
	return id
}

// ago is so many days before the beginning.
func ago(days int) model.Moment {
	at := model.MomentOf(storetest.Start())
	at.UTC -= int64(days) * 86400
	return at
}

// A heat or a cold of the last days is told with what to do, also where a worse one lies
// long back, and where another time is in sight.
func TestHarmOfTheLastDaysIsTold(t *testing.T) {
	for language, advice := range map[string][]string{"en": {"check thermostat and guard now", "how long is not known. Please check the heating"}, "de": {"gleich Thermostat und Schutzgitter prüfen", "wie lange, ist nicht bekannt. Bitte gleich die Heizung"}} {
		w := open(t, language, func(c *collection.Collection) {
			lived(t, "python-regius")(c)
			for _, one := range []struct {
				zone        climate.Zone
				days        int
				temperature int16
			}{{climate.Warm, 200, 4500}, {climate.Cool, 9, 1700}} {
				if _, err := c.Do(climate.Note{Key: climate.Key{Place: box(t, c), Zone: one.zone}, At: ago(one.days), Reading: climate.Reading{Temperature: one.temperature, Humidity: climate.NoHumidity}}); err != nil {
					t.Fatal(err)
				}
			}
		})
		text := w.Text()
		for _, scale := range []string{"day", "week", "year"} {
			w.tap(text.Say("climate.scale." + scale))
			w.sees(advice[0])
			w.sees(text.Temperature(model.Temperature{Hundredths: 3600}))
			w.sees(advice[1])
		}
		w.sees(text.Temperature(model.Temperature{Hundredths: 4500}))
	}
}
