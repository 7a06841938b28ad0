package climate_test

import (
	"os"
	"path/filepath"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/storage"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/climate"
	"coilward/model/collection"
	"coilward/model/husbandry"
	"coilward/model/knowledge"
	"coilward/model/storetest"
	"coilward/ui/uitest"
)

// lived is oneBox with an animal of a species in it, and with a day of a logger's readings.
func lived(t testing.TB, species knowledge.SpeciesID) func(*collection.Collection) {
	return func(c *collection.Collection) {
		oneBox(t)(c)
		do := func(command model.Command) collection.Change {
			t.Helper()
			done, err := c.Do(command)
			if err != nil {
				t.Fatal(err)
			}
			return done
		}
		k := climate.Key{Zone: climate.Warm}
		if err := c.View(func(v model.View) error {
			h, err := husbandry.ReadHouse(v)
			if err != nil {
				return err
			}
			k.Place = h.Places()[0].ID
			all, err := husbandry.Instruments(v)
			k.With = all[0].ID
			return err
		}); err != nil {
			t.Fatal(err)
		}
		now := model.MomentOf(storetest.Start())
		at := now
		at.UTC -= 2 * 86400
		animal := model.AnimalID{ID: do(animals.Add{Animal: animals.Animal{Name: "Sorrel", Species: species}}).Documents[0]}
		do(husbandry.Move{Animal: animal, Place: k.Place, At: at, Confirmed: model.Confirmed{"day.before-arrival"}})
		var all []climate.Reading
		for i := range 24 {
			all = append(all, climate.Reading{At: now.UTC - 86400 + int64(i)*3600, Temperature: int16(2800 + i), Humidity: 5500})
		}
		all[20].Temperature = 3600
		do(climate.TakeIn{Key: k, Readings: all})
	}
}

func (w hand) types(at int, texts ...string) {
	w.t.Helper()
	for i, text := range texts {
		w.fill(at+i, text)
	}
}

func (w hand) own() (all []climate.Own) {
	w.t.Helper()
	if err := w.Collection().View(func(v model.View) error {
		h, err := husbandry.ReadHouse(v)
		if err != nil {
			return err
		}
		all, _, err = climate.OwnTargets(v, h.Places()[0].ID)
		return err
	}); err != nil {
		w.t.Fatal(err)
	}
	return all
}

// Where the tables have no numbers for a species none are given; the keeper's own are asked
// for, refused at their fields, and then stand.
func TestOwnNumbers(t *testing.T) {
	for _, language := range []string{"en", "de"} {
		w := open(t, language, lived(t, "morelia-spilota"))
		text := w.Text()
		w.sees(text.Say("climate.lack.no-row", map[string]any{"Species": text.Say("species.morelia-spilota")}))
		w.tap(text.Say("climate.set-target"))
		w.types(0, "20", "27", "29")
		w.tap(text.Say("particulars.keep"))
		if w.sees(text.Say("refusal.climate.target-missing")); len(w.own()) != 0 {
			t.Fatal("three of four numbers are kept")
		}
		w.types(3, "28")
		w.tap(text.Say("particulars.keep"))
		if w.sees(text.Say("refusal.climate.target-order")); len(w.own()) != 0 {
			t.Fatal("numbers that fall are kept")
		}
		w.types(3, "35")
		w.tap(text.Say("particulars.keep"))
		all := w.own()
		if len(all) != 1 || all[0].Zone != climate.Warm || all[0].Night != nil || *all[0].Day != (climate.Target{HardLow: 2000, SoftLow: 2700, SoftHigh: 2900, HardHigh: 3500}) {
			t.Fatalf("%s: kept %+v", language, all)
		}
		w.sees(text.Say("climate.aims-own"))
		w.tap(text.Say("climate.set-target"))
		for i := range 4 {
			w.fill(i, "")
		}
		w.tap(text.Say("particulars.keep"))
		if all = w.own(); len(all) != 0 {
			t.Errorf("taken back, and %+v", all)
		}
	}
}

// The numbers of the tables are shown for whom they are, and what is too hot is said.
func TestWhoseNumbers(t *testing.T) {
	w := open(t, "en", lived(t, "python-regius"))
	text := w.Text()
	w.sees(text.Say("climate.aims-table", map[string]any{"Species": text.Say("species.python-regius"), "From": "08:00", "Until": "20:00"}) + " " + text.Say("climate.aims-shed", map[string]any{"Zones": "Warm end 60\u00a0% to 80\u00a0%, Cool end 60\u00a0% to 80\u00a0%", "Days": 10}))
	w.sees(text.Temperature(model.Temperature{Hundredths: 3500}) + " (common practice, no source)")
	w.sees("check thermostat and guard now")
	// what lies long back is told, and not what to do now
	w = open(t, "en", func(c *collection.Collection) {
		lived(t, "python-regius")(c)
		at := model.MomentOf(storetest.Start())
		at.UTC -= 20 * 86400
		k := climate.Key{Zone: climate.Cool}
		if err := c.View(func(v model.View) error {
			h, err := husbandry.ReadHouse(v)
			if err == nil {
				k.Place = h.Places()[0].ID
			}
			return err
		}); err != nil {
			t.Fatal(err)
		}
		if _, err := c.Do(climate.Note{Key: k, At: at, Reading: climate.Reading{Temperature: 3900, Humidity: climate.NoHumidity}}); err != nil {
			t.Fatal(err)
		}
	})
	w.tap(text.Say("climate.scale.year"))
	w.sees("It was up to " + text.Temperature(model.Temperature{Hundredths: 3900}))
	if uitest.Shows(uitest.Top(w.Canvas()), text.Temperature(model.Temperature{Hundredths: 3900})+" on 20 May 2027, 09:00, above "+text.Temperature(model.Temperature{Hundredths: 3500})+" (common practice, no source). This can burn") {
		t.Error("of a heat of three weeks ago it is said what to do now")
	}
	w = open(t, "en", lived(t, ""))
	w.sees(w.Text().Say("climate.lack.unsaid"))
}

// Readings that were put into the wrong zone go where they belong, and nothing is lost.
func TestReadingsBelongElsewhere(t *testing.T) {
	w := open(t, "en", lived(t, "python-regius"))
	text := w.Text()
	w.tap(text.Say("climate.elsewhere"))
	if w.Canvas().Focused() != uitest.Entries(w.Content())[0] {
		t.Error("the keys do not begin at the first field")
	}
	w.tap(text.Say("climate.elsewhere-do"))
	w.sees(text.Say("refusal.climate.move-same"))
	w.tap(text.Say("climate.zone.cool"))
	w.tap(text.Say("climate.elsewhere-do"))
	all := stored(t, w)
	if len(all) != 1 || all[0].Zone != climate.Cool || len(all[0].Readings) != 24 {
		t.Fatalf("%d series, %+v", len(all), all[0].Key)
	}
	w.Undo()
	if all = stored(t, w); len(all) != 1 || all[0].Zone != climate.Warm || len(all[0].Readings) != 24 {
		t.Errorf("undone: %d series, %+v", len(all), all[0].Key)
	}
}

// A distance without an index is asked about, and what is dropped and not taken is said.
func TestNothingIsDroppedSilently(t *testing.T) {
	w := open(t, "en", oneBox(t))
	text := w.Text()
	w.tap(text.Say("climate.note"))
	w.fill(temperature, "30")
	w.fill(uv+1, "30 cm")
	w.tap(text.Say("particulars.keep"))
	if w.sees(text.Say("refusal.climate.distance-alone")); len(stored(t, w)) != 0 {
		t.Error("it is kept without its distance")
	}
	w.drop(logFile(t, 1))
	w.sees(text.Say("climate.drop-form"))

	w = open(t, "en", func(*collection.Collection) {})
	w.drop(logFile(t, 1))
	w.sees(text.Say("climate.no-place-what"))

	w = open(t, "en", oneBox(t))
	second := filepath.Join(t.TempDir(), "second.csv")
	if err := os.WriteFile(second, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	w.Dropped([]fyne.URI{storage.NewFileURI(logFile(t, 1)), storage.NewFileURI(second)})
	w.sees(text.Count("climate.drop-more", 1, map[string]any{"File": "log.csv"}))
}

// broken writes own numbers of a later version, which cannot be read.
type broken struct{ climate.SetTarget }

func (c broken) Plan(v model.View) (model.Writes, error) {
	w, err := c.SetTarget.Plan(v)
	for i := range w.Put {
		w.Put[i].Version++
	}
	return w, err
}

// Own numbers that cannot be read are said to be there.
func TestOwnNumbersThatCannotBeReadAreSaid(t *testing.T) {
	w := open(t, "en", func(c *collection.Collection) {
		lived(t, "python-regius")(c)
		own := climate.SetTarget{Own: climate.Own{Zone: climate.Warm, Measure: climate.Temperature, Day: &climate.Target{HardHigh: 3000}}}
		if err := c.View(func(v model.View) error {
			h, err := husbandry.ReadHouse(v)
			if err == nil {
				own.Place = h.Places()[0].ID
			}
			return err
		}); err != nil {
			t.Fatal(err)
		}
		if _, err := c.Do(broken{own}); err != nil {
			t.Fatal(err)
		}
	})
	w.sees(w.Text().Say("climate.own-unread"))
}
