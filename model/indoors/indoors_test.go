package indoors_test

import (
	"math"
	"slices"
	"testing"

	"coilward/assets"
	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/climate"
	"coilward/model/collection"
	"coilward/model/husbandry"
	"coilward/model/indoors"
	"coilward/model/knowledge"
	"coilward/model/powercut"
	"coilward/model/storetest"
)

type world struct {
	*testing.T
	*collection.Collection
	tables            *knowledge.Tables
	room, box         model.PlaceID
	animal            model.AnimalID
	logger, roomSense model.InstrumentID
	now               model.Moment
}

func (w *world) do(c model.Command) collection.Change {
	w.Helper()
	done, err := w.Do(c)
	if err != nil {
		w.Fatalf("%s: %v", c.Name(), err)
	}
	return done
}

func begin(t *testing.T) *world {
	t.Helper()
	tables, err := knowledge.Load(assets.Knowledge())
	if err != nil {
		t.Fatal(err)
	}
	c, clock := storetest.New(t)
	w := &world{T: t, Collection: c, tables: tables, now: model.MomentOf(clock.Now())}
	places := w.do(husbandry.AddPlaces{Branches: []husbandry.Branch{{Place: husbandry.Place{Name: "Loft", Kind: husbandry.Room}, Below: []husbandry.Branch{
		{Place: husbandry.Place{Name: "A1", Kind: husbandry.Vivarium, Size: husbandry.Size{Width: model.Length{Tenths: 6000}, Depth: model.Length{Tenths: 9000}}}}}}}}).Documents
	if err := c.View(func(v model.View) error {
		for _, id := range places {
			d, err := v.Document(id)
			if err != nil {
				return err
			}
			p, err := husbandry.DecodePlace(d)
			if err != nil {
				return err
			}
			if p.Kind == husbandry.Room {
				w.room = p.ID
			} else {
				w.box = p.ID
			}
		}
		return nil
	}); err != nil {
		t.Fatal(err)
	}
	w.animal.ID = w.do(animals.Add{Animal: animals.Animal{Name: "Sorrel", Species: "python-regius", Length: animals.Measured{SnoutVent: model.Length{Tenths: 12000}}}}).Documents[0]
	w.do(husbandry.Move{Animal: w.animal, Place: w.box, At: w.ago(700), Confirmed: model.Confirmed{"day.before-arrival"}})
	w.logger.ID = w.do(husbandry.AddInstrument{Instrument: husbandry.Instrument{Name: "Box logger", Kind: husbandry.Hygrometer}}).Documents[0]
	w.roomSense.ID = w.do(husbandry.AddInstrument{Instrument: husbandry.Instrument{Name: "Room logger", Kind: husbandry.Thermometer}}).Documents[0]
	return w
}

func (w *world) ago(days int) model.Moment {
	m := w.now
	m.UTC -= int64(days) * 86400
	return m
}

// log logs hourly readings in days that lie back from one number to before another.
func (w *world) log(k climate.Key, from, until int, value func(hour int) (temperature, humidity int)) {
	w.Helper()
	var all []climate.Reading
	for at := w.now.UTC - int64(from)*86400; at < w.now.UTC-int64(until)*86400; at += 3600 {
		t, h := value(int(at / 3600))
		all = append(all, climate.Reading{At: at, Temperature: int16(t), Humidity: int16(h)})
	}
	w.do(climate.TakeIn{Key: k, Readings: all})
}

func (w *world) warm() climate.Key {
	return climate.Key{Place: w.box, Zone: climate.Warm, With: w.logger}
}

func (w *world) read(days int) (a indoors.Air) {
	w.Helper()
	if err := w.View(func(v model.View) (err error) {
		a, err = indoors.Read(v, w.tables, w.box, climate.Span{From: w.now.UTC - int64(days)*86400, Until: w.now.UTC})
		return err
	}); err != nil {
		w.Fatal(err)
	}
	return a
}

func TestRead(t *testing.T) {
	w := begin(t)
	w.log(w.warm(), 4, 0, func(hour int) (int, int) { return 2800 + hour%3, 5500 })
	w.log(climate.Key{Place: w.room, Zone: climate.RoomAir, With: w.roomSense}, 2, 0, func(hour int) (int, int) { return 2200 + hour%2, -1 })
	w.do(climate.Note{Key: climate.Key{Place: w.room, Zone: climate.Cool}, At: w.ago(1), Reading: climate.Reading{Temperature: 2500, Humidity: -1}}) // of no enclosure
	for days, good := range map[int]bool{3: true, 1: false} {
		w.do(husbandry.CheckInstrument{Instrument: w.logger, At: w.ago(days), Check: husbandry.InstrumentCheck{Good: good}})
	}
	a := w.read(10)
	if a.Title == "" || len(a.Zones) != 2 || a.Unread != 0 || a.Length.Tenths != 9000 {
		t.Fatalf("%+v", a)
	}
	z := a.Zones[0]
	if z.Key != w.warm() || z.Instrument != "Box logger" || z.Step != 3600 || len(z.Gaps) != 0 || z.Temperature.N != 96 || z.Temperature.Mean != 2801 || z.Temperature.Min != 2800 || z.Temperature.Max != 2802 {
		t.Errorf("%+v", z.Temperature)
	}
	if got := z.Temperature.Day[climate.Good]; got != z.Temperature.Day.Total() || got == 0 || z.Temperature.Night[climate.High] != z.Temperature.Night.Total() {
		t.Errorf("by day %v, by night %v", z.Temperature.Day, z.Temperature.Night)
	}
	if len(z.Doubtful) != 1 || z.Doubtful[0] != (climate.Span{From: w.ago(3).UTC, Until: w.now.UTC}) {
		t.Errorf("doubtful %v", z.Doubtful)
	}
	if a.Ends != (indoors.Ends{}) {
		t.Errorf("of one end alone: %+v", a.Ends)
	}
	if room := a.Zones[1]; room.Zone != climate.RoomAir || room.Temperature.Left == 0 || room.Temperature.Day.Total() != 0 || room.Humidity.N != 0 {
		t.Errorf("room %+v", room.Temperature)
	}
	if len(a.Animals) != 1 || a.Animals[0].Name != "Sorrel" || a.Animals[0].Percent != 75 || a.Animals[0].Enough || !a.Animals[0].Known {
		t.Errorf("%+v", a.Animals)
	}
	if a.Cooling != nil {
		t.Errorf("no power cut, and %+v", a.Cooling)
	}
	if err := w.View(func(v model.View) error {
		all, err := indoors.Placed(v)
		if len(all) != 2 {
			t.Errorf("readings in %d places", len(all))
		}
		if _, err := indoors.Read(v, w.tables, model.PlaceID{ID: model.ID{1}}, climate.Span{}); err == nil {
			t.Error("a place that is not there has a climate")
		}
		return err
	}); err != nil {
		t.Fatal(err)
	}
}

func TestCooling(t *testing.T) {
	w := begin(t)
	begun := w.ago(20)
	var all []climate.Reading
	for i := range 25 { // four hours, half a degree in each
		all = append(all, climate.Reading{At: begun.UTC + int64(i)*600, Temperature: int16(2800 - i*50/6), Humidity: -1})
	}
	w.do(climate.TakeIn{Key: w.warm(), Readings: all})
	w.log(w.warm(), 1, 0, func(int) (int, int) { return 2600, -1 })
	until := begun
	until.UTC += 4 * 3600
	tansy := model.AnimalID{ID: w.do(animals.Add{Animal: animals.Animal{Name: "Tansy"}}).Documents[0]}
	elsewhere := model.PlaceID{ID: w.do(husbandry.AddPlaces{Branches: []husbandry.Branch{{Place: husbandry.Place{Name: "Cellar", Kind: husbandry.Vivarium}}}}).Documents[0]}
	w.do(husbandry.Move{Animal: tansy, Place: elsewhere, At: w.ago(30), Confirmed: model.Confirmed{"day.before-arrival"}})
	w.do(powercut.Note{From: begun, Places: []model.PlaceID{elsewhere}, Cut: powercut.Cut{Until: until}})
	if a := w.read(2); a.Cooling != nil || a.PowerCut != 0 {
		t.Errorf("the cellar was without power: %+v", a.Cooling)
	}
	w.do(powercut.Note{From: begun, Places: []model.PlaceID{w.room}, Cut: powercut.Cut{Until: until}})
	a := w.read(2)
	if a.Cooling == nil || a.PowerCut != 1 || a.Cooling.Zone != climate.Warm || a.Cooling.From != 2600 || a.Cooling.Falls != 1 || a.Cooling.Curve || math.Abs(a.Cooling.Hours-12) > .2 {
		t.Fatalf("%+v", a.Cooling)
	}
}

// together is what goes with what of one animal.
func (w *world) together() (sheds, meals indoors.Together) {
	w.Helper()
	if err := w.View(func(v model.View) error {
		var entries []care.Entry
		if err := v.Timeline(w.animal.Subject(), model.Beginning, model.EndOfTime, func(d model.Document) bool {
			if e, known, err := care.Decode(d); known && err == nil {
				entries = append(entries, e)
			}
			return true
		}); err != nil {
			return err
		}
		all, err := indoors.GoTogether(v, w.tables, w.animal, entries)
		if err == nil {
			sheds, meals = all[0], all[1]
		}
		return err
	}); err != nil {
		w.Fatal(err)
	}
	return sheds, meals
}

func (w *world) shed(days int, s care.Shed) {
	w.Helper()
	w.do(care.RecordShed{About: care.About{Animal: w.animal, At: w.ago(days), Confirmed: model.Confirmed{"day.before-arrival"}}, Shed: s})
}

// Five sheds in pieces, each after dry days, and five whole ones after moist days: of the
// 252 ways in which ten can fall, the two farthest, p = 2/252 = .0079.
func TestShedsGoWithHumidity(t *testing.T) {
	w := begin(t)
	w.log(w.warm(), 620, 0, func(hour int) (int, int) {
		back := (int(w.now.UTC/3600) - hour) / 24
		return 2800 + hour%7, 4000 + back/60%2*1500 + hour%40 // sixty dry days, sixty moist ones
	})
	for i := range 10 {
		s := care.Shed{Skin: care.Whole}
		if i%2 == 0 {
			s = care.Shed{Skin: care.InPieces}
		}
		w.shed(i*60+20, s)
	}
	w.shed(15, care.Shed{})
	sheds, meals := w.together()
	if len(sheds.Bad) != 5 || len(sheds.Good) != 5 || sheds.Left != 1 || sheds.Zone != climate.Warm || !sheds.Told || math.Abs(sheds.P-2./252) > 1e-9 || !sheds.Apart() {
		t.Errorf("%+v", sheds)
	}
	if meals.Told || meals.Apart() || meals.Least != 1 {
		t.Errorf("no meal, and %+v", meals)
	}
	// once the logger fails its check, nothing it showed counts
	w.do(husbandry.CheckInstrument{Instrument: w.logger, At: w.now, Check: husbandry.InstrumentCheck{}})
	if sheds, _ = w.together(); sheds.Told || sheds.Left != 11 {
		t.Errorf("of a logger that failed: %+v", sheds)
	}
}

// One against nine: no order is rarer than 2 in 10, so that it cannot be told yet.
func TestOneAgainstNine(t *testing.T) {
	w := begin(t)
	w.log(w.warm(), 620, 0, func(hour int) (int, int) {
		back := (int(w.now.UTC/3600) - hour) / 24
		humidity := 5500
		if back < 60 {
			humidity = 3000
		}
		return 2800 + hour%7, humidity + hour%40
	})
	for i := range 10 {
		s := care.Shed{Skin: care.Whole}
		if i == 0 {
			s.StuckEyeCaps = care.Yes
		}
		w.shed(i*60+20, s)
	}
	sheds, _ := w.together()
	if sheds.Told || sheds.Apart() || math.Abs(sheds.Least-.2) > 1e-12 || len(sheds.Bad) != 1 || len(sheds.Good) != 9 {
		t.Errorf("%+v", sheds)
	}
}

func TestRefusalsGoWithTemperature(t *testing.T) {
	w := begin(t)
	w.log(w.warm(), 100, 0, func(hour int) (int, int) {
		back := (int(w.now.UTC/3600) - hour) / 24
		return 2400 + back/10%2*400 + hour%7, -1
	})
	for i := range 8 {
		m := care.Meal{Outcome: care.Took, Prey: care.Rat, Count: 1, Each: model.Grams(80)}
		if i%2 == 0 {
			m.Outcome = care.Refused
		}
		w.do(care.Feed{About: care.About{Animal: w.animal, At: w.ago(i*10 + 4), Confirmed: model.Confirmed{"day.before-arrival"}}, Meal: m})
	}
	_, meals := w.together()
	// 4 against 4: the two farthest of 70 ways
	if !meals.Told || len(meals.Bad) != 4 || len(meals.Good) != 4 || math.Abs(meals.P-2./70) > 1e-9 || !meals.Apart() {
		t.Errorf("%+v", meals)
	}
}

func TestOf(t *testing.T) {
	w := begin(t)
	w.log(w.warm(), 4, 0, func(hour int) (int, int) { return 2800 + hour%3, 5500 })
	w.do(climate.Note{Key: climate.Key{Place: w.box, Zone: climate.Warm}, At: w.ago(2), Reading: climate.Reading{Temperature: 3000, Humidity: -1}})
	w.do(husbandry.CheckInstrument{Instrument: w.logger, At: w.now})
	if err := w.View(func(v model.View) error {
		all, unread, err := indoors.Of(v, w.tables, w.animal, climate.Span{From: w.ago(30).UTC, Until: w.now.UTC})
		if len(all) != 2 || unread != 0 {
			t.Fatalf("%+v, %d", all, unread)
		}
		warm, damp := all[0], all[1]
		if warm.Measure != climate.Temperature || warm.N != 97 || warm.Min != 2800 || warm.Max != 3000 || warm.Mean != 2803 || warm.Doubtful != 96 || warm.First != w.ago(4).UTC || warm.Last != w.now.UTC-3600 || warm.Day.Total() == 0 {
			t.Errorf("%+v", warm)
		}
		if damp.Measure != climate.Humidity || damp.N != 96 || damp.Mean != 5500 || damp.Night[climate.Good] != damp.Night.Total() {
			t.Errorf("%+v", damp)
		}
		none, _, err2 := indoors.Of(v, w.tables, w.animal, climate.Span{From: w.ago(90).UTC, Until: w.ago(60).UTC})
		if len(none) != 0 || err2 != nil {
			t.Errorf("%+v, %v", none, err2)
		}
		return err
	}); err != nil {
		t.Fatal(err)
	}
}

// A reading by hand beside a logger adds no time, and alone it stands for two hours; both
// are in the mean.
func TestReadingsByHandBesideALogger(t *testing.T) {
	w := begin(t)
	w.log(w.warm(), 4, 0, func(int) (int, int) { return 2800, 5500 })
	for days := range 3 {
		w.do(climate.Note{Key: climate.Key{Place: w.box, Zone: climate.Warm}, At: w.ago(days + 1), Reading: climate.Reading{Temperature: 1500, Humidity: -1}})
		w.do(climate.Note{Key: climate.Key{Place: w.box, Zone: climate.Cool}, At: w.ago(days + 1), Reading: climate.Reading{Temperature: 2500, Humidity: -1}})
	}
	a := w.read(10)
	if len(a.Zones) != 3 {
		t.Fatalf("%d zones", len(a.Zones))
	}
	for _, z := range a.Zones {
		total := z.Temperature.Day.Total() + z.Temperature.Night.Total()
		switch {
		case z.Zone == climate.Cool && (total != 3*7200 || !z.Single || len(z.Gaps) != 0):
			t.Errorf("by hand alone: %d seconds, %+v", total, z)
		case z.Zone == climate.Warm && z.With.IsZero() && (total != 0 || !z.Single || z.Temperature.N != 3):
			t.Errorf("by hand beside: %d seconds, %+v", total, z)
		case z.Zone == climate.Warm && !z.With.IsZero() && (total != 96*3600 || z.Single):
			t.Errorf("the logger: %d seconds", total)
		}
	}
	if err := w.View(func(v model.View) error {
		all, _, err := indoors.Of(v, w.tables, w.animal, climate.Span{From: w.ago(30).UTC, Until: w.now.UTC})
		if total := all[0].Day.Total() + all[0].Night.Total(); all[0].N != 99 || total != 96*3600 {
			t.Errorf("%d readings for %d seconds", all[0].N, total)
		}
		return err
	}); err != nil {
		t.Fatal(err)
	}
}

// The numbers are those of the species; where the table has none, or it is not known of
// which the animal is, none are given, and the keeper's own stand before all.
func TestAims(t *testing.T) {
	w := begin(t)
	w.log(w.warm(), 2, 0, func(int) (int, int) { return 2800, 5500 })
	judged := func(a indoors.Air) int64 {
		return a.Zones[0].Temperature.Day.Total() + a.Zones[0].Temperature.Night.Total()
	}
	if a := w.read(10); a.Aims.Species != "python-regius" || a.Aims.Lack != "" || judged(a) != 48*3600 {
		t.Errorf("%+v", a.Aims)
	}
	add := func(name string, species knowledge.SpeciesID) model.AnimalID {
		t.Helper()
		id := model.AnimalID{ID: w.do(animals.Add{Animal: animals.Animal{Name: name, Species: species}}).Documents[0]}
		w.do(husbandry.Move{Animal: id, Place: w.box, At: w.ago(1), Confirmed: model.Confirmed{"day.before-arrival", "house.shared"}})
		return id
	}
	other := add("Tansy", "morelia-spilota")
	if a := w.read(10); a.Aims.Lack != indoors.Several || a.Aims.Species != "" || judged(a) != 0 || a.Zones[0].Temperature.Left != 48*3600 {
		t.Errorf("%+v", a.Aims)
	}
	four := &climate.Target{HardLow: 2000, SoftLow: 2500, SoftHigh: 2700, HardHigh: 3000}
	w.do(climate.SetTarget{Place: w.box, Own: climate.Own{Zone: climate.Warm, Measure: climate.Temperature, Day: four}})
	a := w.read(10)
	if z := a.Zones[0].Temperature; z.Day.Total() == 0 || z.Day[climate.High] != z.Day.Total() || z.Night.Total() != 0 || a.Zones[0].Humidity.Left != 48*3600 {
		t.Errorf("with own numbers: %+v", z)
	}
	if err := w.View(func(v model.View) error {
		all, _, err := indoors.Of(v, w.tables, other, climate.Span{From: w.ago(30).UTC, Until: w.now.UTC})
		if len(all) != 2 || !all[0].Own || all[0].Lack != "" || all[0].Day.Total() == 0 || all[1].Own || all[1].Lack != indoors.NoRow || all[1].Day.Total()+all[1].Night.Total() != 0 {
			t.Errorf("of one whose species has no row: %+v", all)
		}
		return err
	}); err != nil {
		t.Fatal(err)
	}
	for name, c := range map[string]struct {
		species knowledge.SpeciesID
		lack    indoors.Lack
	}{"of no species that is noted": {"", indoors.Unsaid}, "of one without a row": {"morelia-viridis", indoors.NoRow}} {
		place := model.PlaceID{ID: w.do(husbandry.AddPlaces{Branches: []husbandry.Branch{{Place: husbandry.Place{Name: name, Kind: husbandry.Vivarium}}}}).Documents[0]}
		read := func() (a indoors.Air) {
			if err := w.View(func(v model.View) (err error) {
				a, err = indoors.Read(v, w.tables, place, climate.Span{From: w.ago(3).UTC, Until: w.now.UTC})
				return err
			}); err != nil {
				t.Fatal(err)
			}
			return a
		}
		if a := read(); a.Aims.Lack != indoors.Nobody {
			t.Errorf("nobody lives there: %q", a.Aims.Lack)
		}
		id := model.AnimalID{ID: w.do(animals.Add{Animal: animals.Animal{Name: name, Species: c.species}}).Documents[0]}
		w.do(husbandry.Move{Animal: id, Place: place, At: w.ago(1), Confirmed: model.Confirmed{"day.before-arrival"}})
		if a := read(); a.Aims.Lack != c.lack {
			t.Errorf("%s: %q", name, a.Aims.Lack)
		}
	}
}

// Before a shed 60 to 80 percent are good: since the animal was noted in blue, at most
// fourteen days, and where that was not noted in the ten days before.
func TestAimsBeforeAShed(t *testing.T) {
	w := begin(t)
	day := int64(86400)
	blue := func(days int) {
		w.do(care.RecordBlue{About: care.About{Animal: w.animal, At: w.ago(days), Confirmed: model.Confirmed{"day.before-arrival"}}})
	}
	blue(214) // to the very day
	w.shed(200, care.Shed{Skin: care.Whole})
	blue(100) // never shed: it ends by itself
	w.shed(60, care.Shed{Skin: care.Whole})
	blue(48)
	blue(45)
	w.shed(38, care.Shed{Skin: care.Whole})
	w.shed(30, care.Shed{Skin: care.Whole}) // so soon after the one before
	blue(3)
	spans := func(from, until int) []climate.Span {
		var a indoors.Air
		if err := w.View(func(v model.View) (err error) {
			a, err = indoors.Read(v, w.tables, w.box, climate.Span{From: w.ago(from).UTC, Until: w.ago(until).UTC})
			return err
		}); err != nil {
			t.Fatal(err)
		}
		return a.Aims.Blue
	}
	at := func(from, until int) climate.Span {
		return climate.Span{From: w.ago(from).UTC, Until: w.ago(until).UTC}
	}
	want := []climate.Span{at(48, 38), at(38, 30), {From: w.ago(3).UTC, Until: w.ago(3).UTC + 14*day}}
	if got := spans(50, 0); !slices.Equal(got, want) {
		t.Errorf("in blue %v, want %v", got, want)
	}
	if got, want := spans(120, 55), []climate.Span{at(100, 86), at(70, 60)}; !slices.Equal(got, want) {
		t.Errorf("in blue %v, want %v", got, want)
	}
	if got, want := spans(230, 190), []climate.Span{at(214, 200)}; !slices.Equal(got, want) {
		t.Errorf("in blue %v, want %v", got, want)
	}
	if got := spans(30, 3); len(got) != 0 {
		t.Errorf("between: %v", got)
	}
	w.log(w.warm(), 40, 20, func(int) (int, int) { return 2800, 7000 })
	var a indoors.Air
	if err := w.View(func(v model.View) (err error) {
		a, err = indoors.Read(v, w.tables, w.box, climate.Span{From: w.ago(40).UTC, Until: w.ago(20).UTC})
		return err
	}); err != nil {
		t.Fatal(err)
	}
	h := a.Zones[0].Humidity
	if good := h.Day[climate.Good] + h.Night[climate.Good]; good != 10*day || h.Day[climate.High]+h.Night[climate.High] != 10*day {
		t.Errorf("70 percent are good for %d seconds of %d", good, h.Day.Total()+h.Night.Total())
	}
}

// One that is brought up was eaten, but did not go well: it is neither.
func TestWhatWasBroughtUpIsLeftOut(t *testing.T) {
	w := begin(t)
	w.log(w.warm(), 60, 0, func(hour int) (int, int) { return 2800 + hour%7, -1 })
	for i, outcome := range []care.Outcome{care.Took, care.Refused, care.Regurgitated} {
		w.do(care.Feed{About: care.About{Animal: w.animal, At: w.ago(i*10 + 4), Confirmed: model.Confirmed{"day.before-arrival"}}, Meal: care.Meal{Outcome: outcome, Prey: care.Rat, Count: 1, Each: model.Grams(80)}})
	}
	if _, meals := w.together(); len(meals.Bad) != 1 || len(meals.Good) != 1 || meals.Left != 1 {
		t.Errorf("%+v", meals)
	}
}

// A humidity that stands still while the warmth moves tells nothing of sheds; the warmth
// beside it does of meals.
func TestAStuckHumidityIsLeftOut(t *testing.T) {
	w := begin(t)
	w.log(w.warm(), 60, 0, func(hour int) (int, int) { return 2600 + hour%9*30, 5500 })
	w.shed(20, care.Shed{Skin: care.Whole})
	w.do(care.Feed{About: care.About{Animal: w.animal, At: w.ago(20), Confirmed: model.Confirmed{"day.before-arrival"}}, Meal: care.Meal{Outcome: care.Took, Prey: care.Rat, Count: 1, Each: model.Grams(80)}})
	sheds, meals := w.together()
	if len(sheds.Good) != 0 || sheds.Left != 1 || len(meals.Good) != 1 || meals.Left != 0 {
		t.Errorf("sheds %+v, meals %+v", sheds, meals)
	} else if mean := meals.Good[0]; mean < 2600 || mean > 2840 {
		t.Errorf("the day before the meal was at %d in the mean", mean)
	}
}

func TestCoolingIsFromTheColdest(t *testing.T) {
	w := begin(t)
	begun := w.ago(20)
	var all []climate.Reading
	for i := range 25 { // four hours, half a degree in each
		all = append(all, climate.Reading{At: begun.UTC + int64(i)*600, Temperature: int16(2800 - i*50/6), Humidity: -1})
	}
	w.do(climate.TakeIn{Key: w.warm(), Readings: all})
	w.log(w.warm(), 1, 0, func(hour int) (int, int) { return 2400 + hour%4*100, -1 })
	until := begun
	until.UTC += 4 * 3600
	w.do(powercut.Note{From: begun, Places: []model.PlaceID{w.room}, Cut: powercut.Cut{Until: until}})
	w.do(climate.Note{Key: climate.Key{Place: w.room, Zone: climate.Warm}, At: w.now, Reading: climate.Reading{Temperature: 1500, Humidity: -1}}) // of another animal in the room
	a := w.read(2)
	if a.Cooling == nil || a.Cooling.From != 2400 || math.Abs(a.Cooling.Hours-8) > .2 {
		t.Fatalf("%+v", a.Cooling)
	}
	w.do(climate.Note{Key: w.warm(), At: w.now, Reading: climate.Reading{Temperature: 1990, Humidity: -1}})
	if a = w.read(2); a.Cooling == nil || !a.Cooling.Already || a.Cooling.From != 1990 {
		t.Fatalf("as cold already: %+v", a.Cooling)
	}
}

// The hours of a zone that an animal can be in are not hidden by one that was cold for a
// moment, nor by the air of the room.
func TestCoolingIsOfTheZonesThatHaveHours(t *testing.T) {
	w := begin(t)
	begun := w.ago(20)
	until := begun
	until.UTC += 4 * 3600
	w.do(powercut.Note{From: begun, Places: []model.PlaceID{w.room}, Cut: powercut.Cut{Until: until}})
	fall := func(k climate.Key) {
		var all []climate.Reading
		for i := range 25 { // four hours, half a degree in each
			all = append(all, climate.Reading{At: begun.UTC + int64(i)*600, Temperature: int16(2800 - i*50/6), Humidity: -1})
		}
		w.do(climate.TakeIn{Key: k, Readings: all})
	}
	room := climate.Key{Place: w.room, Zone: climate.RoomAir, With: w.roomSense}
	fall(room)
	w.log(room, 1, 0, func(int) (int, int) { return 1900, -1 })
	if a := w.read(2); a.Cooling != nil {
		t.Fatalf("the room alone: %+v", a.Cooling)
	}
	fall(w.warm())
	w.log(w.warm(), 1, 0, func(int) (int, int) { return 2400, -1 })
	hide := w.warm()
	hide.Zone, hide.With.ID = climate.Hide, w.do(husbandry.AddInstrument{Instrument: husbandry.Instrument{Name: "Hide logger", Kind: husbandry.Thermometer}}).Documents[0]
	fall(hide)
	w.log(hide, 1, 0, func(int) (int, int) { return 1990, -1 })
	if a := w.read(2); a.Cooling == nil || a.Cooling.Zone != climate.Warm || a.Cooling.Already || math.Abs(a.Cooling.Hours-8) > .2 {
		t.Fatalf("%+v", a.Cooling)
	}
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

// Where own numbers cannot be read the table judges, and it is said.
func TestOwnNumbersThatCannotBeReadAreCounted(t *testing.T) {
	w := begin(t)
	w.log(w.warm(), 1, 0, func(int) (int, int) { return 2800, 5500 })
	lately := func() (all []indoors.Lately) {
		if err := w.View(func(v model.View) (err error) {
			all, _, err = indoors.Of(v, w.tables, w.animal, climate.Span{From: w.ago(2).UTC, Until: w.now.UTC})
			return err
		}); err != nil {
			t.Fatal(err)
		}
		return all
	}
	if all := lately(); w.read(2).Aims.UnreadOwn != 0 || len(all) != 2 || all[0].UnreadOwn {
		t.Fatalf("%+v", all)
	}
	w.do(broken{climate.SetTarget{Place: w.box, Own: climate.Own{Zone: climate.Warm, Measure: climate.Temperature, Day: &climate.Target{HardHigh: 3000}}}})
	if n := w.read(2).Aims.UnreadOwn; n != 1 {
		t.Errorf("%d on the page", n)
	}
	if all := lately(); len(all) != 2 || !all[0].UnreadOwn || !all[1].UnreadOwn || all[0].Own {
		t.Errorf("%+v", all)
	}
}

// The lamps of a place are those that hang there and are in use.
func TestLampsOfAPlace(t *testing.T) {
	w := begin(t)
	lamp := func(name string, kind husbandry.InstrumentKind, place model.PlaceID) model.InstrumentID {
		return model.InstrumentID{ID: w.do(husbandry.AddInstrument{Instrument: husbandry.Instrument{Name: name, Kind: kind, Place: place}}).Documents[0]}
	}
	here := lamp("Bright lamp", husbandry.UVLamp, w.box)
	lamp("Lamp of the room", husbandry.UVLamp, w.room)
	lamp("Lamp in the drawer", husbandry.UVLamp, model.PlaceID{})
	lamp("Thermometer", husbandry.Thermometer, w.box)
	old := lamp("Old lamp", husbandry.UVLamp, w.box)
	w.do(husbandry.CheckInstrument{Instrument: old, At: w.now, Check: husbandry.InstrumentCheck{Good: true}})
	w.do(husbandry.RemoveInstrument{ID: old})
	if a := w.read(1); len(a.Lamps) != 1 || a.Lamps[0].ID != here {
		t.Errorf("%+v", a.Lamps)
	}
}

// A room shows its own air once, though it is the room it stands in itself.
func TestTheClimateOfARoom(t *testing.T) {
	w := begin(t)
	w.log(climate.Key{Place: w.room, Zone: climate.RoomAir, With: w.roomSense}, 2, 0, func(hour int) (int, int) { return 2200 + hour%2, -1 })
	if err := w.View(func(v model.View) error {
		a, err := indoors.Read(v, w.tables, w.room, climate.Span{From: w.now.UTC - 86400, Until: w.now.UTC})
		if len(a.Zones) != 1 || a.Zones[0].Zone != climate.RoomAir || a.Zones[0].Temperature.N != 24 {
			t.Errorf("%d zones, %+v", len(a.Zones), a.Zones)
		}
		return err
	}); err != nil {
		t.Fatal(err)
	}
}

// Day and night change at the very minute of the local clock (08:00 and 20:00, assumed). Of a
// sensor that reads every minute jumps can be seen, of one that does so less often not.
func TestTheMinuteInWhichDayBegins(t *testing.T) {
	for minutes, day := range map[int]bool{8 * 60: true, 20 * 60: false} {
		w := begin(t)
		changes := model.MomentOn(w.now, w.now.Day()-1, minutes, model.ToMinute).UTC
		var all []climate.Reading
		for i := range int64(5) {
			all = append(all, climate.Reading{At: changes + (i-2)*60, Temperature: 2600, Humidity: climate.NoHumidity})
		}
		w.do(climate.TakeIn{Key: w.warm(), Readings: all})
		z := w.read(3).Zones[0]
		before, after := z.Temperature.Night.Total(), z.Temperature.Day.Total()
		if !day {
			before, after = after, before
		}
		if before != 120 || after != 180 || z.Coarse {
			t.Errorf("%d seconds before, %d from minute %d on; coarse %t", before, after, minutes, z.Coarse)
		}
	}
	w := begin(t)
	w.do(climate.TakeIn{Key: w.warm(), Readings: []climate.Reading{{At: w.now.UTC - 200, Temperature: 2600, Humidity: climate.NoHumidity}, {At: w.now.UTC - 139, Temperature: 2600, Humidity: climate.NoHumidity}}})
	if !w.read(3).Zones[0].Coarse {
		t.Error("61 seconds apart jumps are seen")
	}
}

// The highest UV index counts, of whatever zone; without any none was measured.
func TestHighestUV(t *testing.T) {
	w := begin(t)
	if _, measured := w.read(3).HighestUV(); measured {
		t.Error("measured before it was")
	}
	for days, index := range []int{0, 90, 310, 20} {
		zone := []climate.Zone{climate.Basking, climate.Cool}[days%2]
		w.do(climate.Note{Key: climate.Key{Place: w.box, Zone: zone}, At: w.ago(days + 1), Reading: climate.Reading{Temperature: climate.NoTemperature, Humidity: climate.NoHumidity}, UV: &climate.UVReading{Index: index}})
	}
	for days, want := range map[int]int{2: 90, 10: 310} { // that of the last day but one, and of all
		if index, measured := w.read(days).HighestUV(); index != want || !measured {
			t.Errorf("in %d days %d, %t", days, index, measured)
		}
	}
}

// Only what was read in the time asked for counts, where the animal lived then; what an
// instrument showed is doubtful from the second after its last good check on.
func TestOfTheTimeAskedFor(t *testing.T) {
	w := begin(t)
	w.log(w.warm(), 4, 0, func(hour int) (int, int) { return 2800 + hour%3, -1 })
	moved := w.ago(2)
	other := model.PlaceID{ID: w.do(husbandry.AddPlaces{Branches: []husbandry.Branch{{Place: husbandry.Place{Name: "B1", Kind: husbandry.Tub}}}}).Documents[0]}
	w.log(climate.Key{Place: other, Zone: climate.Cool, With: w.roomSense}, 4, 0, func(hour int) (int, int) { return 2400 + hour%3, -1 })
	w.do(husbandry.Move{Animal: w.animal, Place: other, At: moved})
	of := func(days int) map[climate.Zone]indoors.Lately {
		found := map[climate.Zone]indoors.Lately{}
		if err := w.View(func(v model.View) error {
			all, _, err := indoors.Of(v, w.tables, w.animal, climate.Span{From: w.ago(days).UTC, Until: w.now.UTC})
			for _, one := range all {
				found[one.Zone] = one
			}
			return err
		}); err != nil {
			t.Fatal(err)
		}
		return found
	}
	for days, want := range map[int][2]int{10: {48, 48}, 3: {24, 48}, 1: {0, 24}} {
		if got := of(days); got[climate.Warm].N != want[0] || got[climate.Cool].N != want[1] {
			t.Errorf("of %d days %d and %d, want %v", days, got[climate.Warm].N, got[climate.Cool].N, want)
		}
	}
	good := w.ago(1)
	w.do(husbandry.CheckInstrument{Instrument: w.roomSense, At: good, Check: husbandry.InstrumentCheck{Good: true}})
	w.do(husbandry.CheckInstrument{Instrument: w.roomSense, At: w.now})
	if got := of(1)[climate.Cool]; got.N != 24 || got.Doubtful != 23 { // that of the check itself is sound
		t.Errorf("%+v", got)
	}
	w.do(climate.TakeIn{Key: climate.Key{Place: other, Zone: climate.Cool, With: w.roomSense}, Readings: []climate.Reading{{At: good.UTC + 1, Temperature: 2400, Humidity: climate.NoHumidity}}})
	if got := of(1)[climate.Cool]; got.N != 25 || got.Doubtful != 24 {
		t.Errorf("with one of the second after it: %+v", got)
	}
}
