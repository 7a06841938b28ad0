package climate_test

import (
	"encoding/json"
	"errors"
	"slices"
	"testing"
	"time"

	"coilward/model"
	"coilward/model/climate"
	"coilward/model/collection"
	"coilward/model/husbandry"
	"coilward/model/storetest"
)

type world struct {
	*testing.T
	*collection.Collection
	clock        *storetest.Clock
	place, other model.PlaceID
	logger, hand model.InstrumentID
	now          int64
}

func begin(t *testing.T) *world {
	t.Helper()
	c, clock := storetest.New(t)
	w := &world{T: t, Collection: c, clock: clock}
	id := func(done collection.Change) model.ID { return done.Documents[0] }
	w.place.ID = id(w.do(husbandry.AddPlaces{Branches: []husbandry.Branch{{Place: husbandry.Place{Name: "A1", Kind: husbandry.Tub}}}}))
	w.other.ID = id(w.do(husbandry.AddPlaces{Branches: []husbandry.Branch{{Place: husbandry.Place{Name: "A2", Kind: husbandry.Tub}}}}))
	w.logger.ID = id(w.do(husbandry.AddInstrument{Instrument: husbandry.Instrument{Name: "Logger", Kind: husbandry.Hygrometer}}))
	w.hand.ID = id(w.do(husbandry.AddInstrument{Instrument: husbandry.Instrument{Name: "Infrared", Kind: husbandry.Thermometer}}))
	w.now = model.MomentOf(clock.Now()).UTC
	return w
}

func (w *world) do(c model.Command) collection.Change {
	w.Helper()
	done, err := w.Do(c)
	if err != nil {
		w.Fatalf("%s: %v", c.Name(), err)
	}
	return done
}

func (w *world) refuses(name string, c model.Command, field, reason string) {
	w.Helper()
	_, err := w.Do(c)
	var r *model.Refusal
	if !errors.As(err, &r) || r.Field != field || r.Reason != reason {
		w.Errorf("%s: %v, want field %s, reason %s", name, err, field, reason)
	}
}

func (w *world) series(place model.PlaceID) (all []climate.Series) {
	w.Helper()
	if err := w.View(func(v model.View) (err error) {
		var unread int
		if all, unread, err = climate.InPlace(v, place, climate.Span{From: model.Beginning, Until: model.EndOfTime}); unread > 0 {
			w.Errorf("%d days cannot be read", unread)
		}
		return err
	}); err != nil {
		w.Fatal(err)
	}
	return all
}

func (w *world) key(z climate.Zone) climate.Key {
	return climate.Key{Place: w.place, Zone: z, With: w.logger}
}

// logged are readings every ten minutes that end an hour ago.
func (w *world) logged(n int) (all []climate.Reading) {
	for i := range n {
		all = append(all, climate.Reading{At: w.now - 3600 - int64(n-1-i)*600, Temperature: int16(2800 + i%50), Humidity: int16(5500 + i%70)})
	}
	return all
}

func TestTakeIn(t *testing.T) {
	w := begin(t)
	all := w.logged(500)
	shuffled := slices.Clone(all)
	slices.Reverse(shuffled)
	done := w.do(climate.TakeIn{Key: w.key(climate.Warm), Readings: append(shuffled, all[3])})
	if n := len(done.Documents); n < 4 || n > 5 {
		t.Errorf("%d days for 83 hours", n)
	}
	if got := done.Label.Gaps["Count"].Number; got != 500 {
		t.Errorf("said to be %d", got)
	}
	if got := w.series(w.place); len(got) != 1 || got[0].Key != w.key(climate.Warm) || !slices.Equal(got[0].Readings, all) {
		t.Errorf("stored %d series", len(got))
	}
	if done := w.do(climate.TakeIn{Key: w.key(climate.Warm), Readings: all}); !done.Empty() {
		t.Error("again is not nothing")
	}
	// the same logger cannot have hung elsewhere at these seconds
	elsewhere := climate.Key{Place: w.other, Zone: climate.Cool, With: w.logger}
	if done := w.do(climate.TakeIn{Key: elsewhere, Readings: all[10:20]}); !done.Empty() {
		t.Error("readings are taken twice")
	}
	changed := slices.Clone(all[:2])
	changed[0].Temperature++
	if err := w.View(func(v model.View) error {
		fresh, same, differing, err := climate.Fresh(v, w.logger, append(changed, w.logged(501)[0]))
		if len(fresh) != 1 || same != 1 || differing != 1 {
			t.Errorf("%v, %d, %d", fresh, same, differing)
		}
		return err
	}); err != nil {
		t.Fatal(err)
	}
	more := w.logged(501)
	done = w.do(climate.TakeIn{Key: w.key(climate.Warm), Readings: more})
	if len(done.Documents) != 1 || len(w.series(w.place)[0].Readings) != 501 {
		t.Errorf("one more: %d days", len(done.Documents))
	}
	if _, err := w.Undo(); err != nil {
		t.Fatal(err)
	}
	if got := len(w.series(w.place)[0].Readings); got != 500 {
		t.Errorf("after undo %d", got)
	}
	if _, err := w.Undo(); err != nil {
		t.Fatal(err)
	}
	if got := w.series(w.place); len(got) != 0 {
		t.Errorf("after undo of all %d series", len(got))
	}
}

func TestTakeIn_Refused(t *testing.T) {
	w := begin(t)
	good := w.logged(2)
	with := func(r climate.Reading) []climate.Reading { r.At = good[0].At + 1; return append(slices.Clone(good), r) }
	for name, c := range map[string]struct {
		key           climate.Key
		readings      []climate.Reading
		field, reason string
	}{
		"no instrument":       {climate.Key{Place: w.place, Zone: climate.Warm}, good, "climate-with", "choice.empty"},
		"no reading":          {w.key(climate.Warm), nil, "reading-temperature", "climate.nothing"},
		"a zone that is none": {w.key("loft"), good, "climate-zone", "choice.unknown"},
		"no place":            {climate.Key{Zone: climate.Warm, With: w.logger}, good, "climate-place", "choice.empty"},
		"no such place":       {climate.Key{Place: model.PlaceID{ID: model.ID{1}}, Zone: climate.Warm, With: w.logger}, good, "climate-place", "choice.unknown"},
		"an instrument there": {climate.Key{Place: model.PlaceID{ID: w.logger.ID}, Zone: climate.Warm, With: w.logger}, good, "climate-place", "choice.unknown"},
		"a place for it":      {climate.Key{Place: w.place, Zone: climate.Warm, With: model.InstrumentID{ID: w.place.ID}}, good, "climate-with", "choice.unknown"},
		"400 degrees":         {w.key(climate.Warm), with(climate.Reading{Temperature: 32767, Humidity: none}), "reading-temperature", "climate.temperature"},
		"more than all water": {w.key(climate.Warm), with(climate.Reading{Temperature: 2500, Humidity: 10001}), "reading-humidity", "climate.humidity"},
		"nothing in it":       {w.key(climate.Warm), with(climate.Reading{Temperature: climate.NoTemperature, Humidity: none}), "reading-temperature", "climate.nothing"},
		"tomorrow":            {w.key(climate.Warm), append(slices.Clone(good), climate.Reading{At: w.now + 61, Temperature: 2500, Humidity: none}), "reading-at", "day.future"},
		"more than are taken": {w.key(climate.Warm), make([]climate.Reading, climate.MostReadings+1), "reading-temperature", "climate.many"},
	} {
		w.refuses(name, climate.TakeIn{Key: c.key, Readings: c.readings}, c.field, c.reason)
	}
	if len(w.series(w.place)) != 0 {
		t.Error("something was written")
	}
	w.do(climate.TakeIn{Key: w.key(climate.Warm), Readings: []climate.Reading{{At: w.now + 60, Temperature: 2500, Humidity: none}}})
	if all := w.series(w.place); len(all) != 1 || len(all[0].Readings) != 1 {
		t.Errorf("one alone: %+v", all)
	}
}

func TestNote(t *testing.T) {
	w := begin(t)
	now := model.MomentOf(w.clock.Now())
	hand := climate.Key{Place: w.place, Zone: climate.Basking, With: w.hand}
	temperature := climate.Reading{Temperature: 3210, Humidity: none}
	w.do(climate.Note{Key: hand, At: now, Reading: temperature, UV: &climate.UVReading{Index: 90, Distance: model.Length{Tenths: 3000}}})
	nobody := climate.Key{Place: w.place, Zone: climate.Basking}
	w.do(climate.Note{Key: nobody, At: now, Reading: temperature})
	empty := climate.Reading{Temperature: climate.NoTemperature, Humidity: none}
	w.do(climate.Note{Key: hand, At: now, Reading: empty, UV: &climate.UVReading{Index: 0}})
	all := w.series(w.place)
	if len(all) != 2 || all[0].Key != nobody || all[1].Key != hand || len(all[1].Readings) != 1 || all[1].Readings[0].Temperature != 3210 || all[1].Readings[0].At != now.UTC || len(all[1].UV) != 2 || all[1].UV[0].Index != 90 {
		t.Errorf("got %+v", all)
	}
	w.refuses("twice", climate.Note{Key: hand, At: now, Reading: temperature}, "reading-at", "climate.twice")
	w.refuses("nothing", climate.Note{Key: hand, At: now, Reading: empty}, "reading-temperature", "climate.nothing")
	w.refuses("no time", climate.Note{Key: hand, Reading: temperature}, "reading-at", "day.empty")
	day := now
	day.Precision = model.ToDay
	w.refuses("the day alone", climate.Note{Key: hand, At: day, Reading: temperature}, "reading-at", "climate.hour")
	late := now
	late.UTC += 61
	w.refuses("ahead", climate.Note{Key: hand, At: late, Reading: temperature}, "reading-at", "day.future")
	w.refuses("ahead, of UV", climate.Note{Key: hand, At: late, Reading: empty, UV: &climate.UVReading{}}, "reading-at", "day.future")
	w.refuses("too hot", climate.Note{Key: hand, At: now, Reading: climate.Reading{Temperature: 8501, Humidity: none}}, "reading-temperature", "climate.temperature")
	w.refuses("nowhere", climate.Note{At: now, Reading: temperature}, "climate-zone", "choice.unknown")
	for index, field := range map[int]string{-1: "reading-uv", climate.HighestUV + 1: "reading-uv"} {
		w.refuses("an index", climate.Note{Key: hand, At: now, Reading: empty, UV: &climate.UVReading{Index: index}}, field, "climate.uv")
	}
	for _, tenths := range []int64{-1, climate.Farthest + 1} {
		w.refuses("a distance", climate.Note{Key: hand, At: now, Reading: empty, UV: &climate.UVReading{Distance: model.Length{Tenths: tenths}}}, "reading-distance", "length.range")
	}
	w.do(climate.Note{Key: hand, At: now, Reading: empty, UV: &climate.UVReading{Index: climate.HighestUV, Distance: model.Length{Tenths: climate.Farthest}}})
}

// What is of one sensor, zone and day is one document, whatever was measured; a clock may be
// a minute ahead.
func TestADayIsOneDocument(t *testing.T) {
	w := begin(t)
	at := model.MomentOf(w.clock.Now())
	hand := climate.Key{Place: w.place, Zone: climate.Basking}
	empty := climate.Reading{Temperature: climate.NoTemperature, Humidity: none}
	uv := func(at model.Moment) collection.Change {
		return w.do(climate.Note{Key: hand, At: at, Reading: empty, UV: &climate.UVReading{Index: 50}})
	}
	earlier, later := at, at
	earlier.UTC -= 3600
	later.UTC += 60
	first := uv(earlier)
	for _, more := range []collection.Change{uv(at), uv(later), w.do(climate.Note{Key: hand, At: at, Reading: climate.Reading{Temperature: 3000, Humidity: none}})} {
		if !slices.Equal(more.Documents, first.Documents) {
			t.Errorf("of one day %v and %v", first.Documents, more.Documents)
		}
	}
	if err := w.View(func(v model.View) error {
		all, _, err := climate.InPlace(v, w.place, climate.Span{From: at.UTC, Until: later.UTC})
		if len(all) != 1 || len(all[0].UV) != 1 || all[0].UV[0].At != at.UTC || len(all[0].Readings) != 1 {
			t.Errorf("within a minute %+v", all)
		}
		return err
	}); err != nil {
		t.Fatal(err)
	}
}

func TestMove(t *testing.T) {
	w := begin(t)
	all := w.logged(300)
	w.do(climate.TakeIn{Key: w.key(climate.Warm), Readings: all})
	w.do(climate.Note{Key: w.key(climate.Warm), At: model.MomentOf(w.clock.Now()), Reading: climate.Reading{Temperature: climate.NoTemperature, Humidity: none}, UV: &climate.UVReading{Index: 5}})
	to := climate.Key{Place: w.other, Zone: climate.Cool, With: w.logger}
	done := w.do(climate.Move{Key: w.key(climate.Warm), Span: climate.Span{From: all[100].At, Until: all[200].At}, To: to})
	if done.Label.Key != "climate.done.move" || done.Label.Gaps["Count"].Number != 100 || done.Label.Gaps["Place"].Text != "A2" {
		t.Errorf("said %+v", done.Label)
	}
	if here, there := w.series(w.place)[0], w.series(w.other)[0]; !slices.Equal(there.Readings, all[100:200]) || len(here.Readings) != 200 || len(here.UV) != 1 {
		t.Errorf("%d there, %d here", len(there.Readings), len(here.Readings))
	}
	if err := w.View(func(v model.View) error {
		got, unread, err := climate.Hangings(v, w.logger)
		want := []climate.Hanging{{w.key(climate.Warm), climate.Span{From: all[0].At, Until: all[99].At + 1}, 100}, {to, climate.Span{From: all[100].At, Until: all[199].At + 1}, 100}, {w.key(climate.Warm), climate.Span{From: all[200].At, Until: all[299].At + 1}, 100}}
		if !slices.Equal(got, want) || unread != 0 {
			t.Errorf("hung %+v", got)
		}
		until, ok, err2 := climate.Newest(v, w.place)
		if !ok || until != w.now+1 {
			t.Errorf("the newest is before %d, want %d", until, w.now+1)
		}
		_, ok, err3 := climate.Newest(v, model.PlaceID{ID: model.ID{9}})
		if ok {
			t.Error("something is the newest of nothing")
		}
		return errors.Join(err, err2, err3)
	}); err != nil {
		t.Fatal(err)
	}
	here := w.series(w.place)[0].Readings[0]
	other := here
	other.Temperature++
	key := climate.Key{Place: w.other, Zone: climate.Hide} // by hand, beside
	w.do(climate.Note{Key: key, At: model.MomentOf(time.Unix(here.At, 0)), Reading: other})
	w.do(climate.Note{Key: climate.Key{Place: w.place, Zone: climate.Hide}, At: model.MomentOf(time.Unix(here.At, 0)), Reading: here})
	alike := climate.Move{Key: climate.Key{Place: w.place, Zone: climate.Hide}, Span: climate.Span{From: here.At, Until: here.At + 1}, To: key}
	w.refuses("two values of one second", alike, "climate-zone", "climate.move-differs")
	alike.To.Zone = climate.Cool
	w.do(alike)
	w.do(climate.Note{Key: climate.Key{Place: w.place, Zone: climate.Hide}, At: model.MomentOf(time.Unix(here.At, 0)), Reading: here})
	w.do(alike) // the same reading is there already
	for range 4 {
		if _, err := w.Undo(); err != nil {
			t.Fatal(err)
		}
	}
	if _, err := w.Undo(); err != nil {
		t.Fatal(err)
	}
	w.refuses("none there", climate.Move{Key: w.key(climate.Warm), Span: climate.Span{From: all[100].At, Until: all[200].At}, To: to}, "move-from", "climate.none-there")
	w.refuses("another instrument", climate.Move{Key: w.key(climate.Warm), Span: climate.Span{From: 0, Until: w.now}, To: climate.Key{Place: w.other, Zone: climate.Cool, With: w.hand}}, "climate-with", "choice.unknown")
	w.refuses("no zone", climate.Move{Key: w.key(climate.Warm), Span: climate.Span{From: 0, Until: w.now}, To: climate.Key{Place: w.other, With: w.logger}}, "climate-zone", "choice.unknown")
	w.refuses("where they are", climate.Move{Key: w.key(climate.Warm), Span: climate.Span{From: 0, Until: w.now}, To: w.key(climate.Warm)}, "climate-place", "climate.move-same")
	for _, until := range []int64{all[100].At, all[100].At - 1} {
		w.refuses("backwards", climate.Move{Key: w.key(climate.Warm), Span: climate.Span{From: all[100].At, Until: until}, To: to}, "move-until", "climate.move-backwards")
	}
	w.refuses("a distance alone", climate.Note{Key: w.key(climate.Warm), At: model.MomentOf(w.clock.Now()), Reading: climate.Reading{Temperature: 2500, Humidity: climate.NoHumidity}, UV: &climate.UVReading{Index: climate.NoUV, Distance: model.Length{Tenths: 3000}}}, "reading-distance", "climate.distance-alone")
	done = w.do(climate.Move{Key: w.key(climate.Warm), Span: climate.Span{From: 0, Until: w.now + 1}})
	if done.Label.Key != "climate.done.remove" || done.Label.Gaps["Count"].Number != 201 || len(w.series(w.place)) != 0 {
		t.Errorf("taken out: %+v", done.Label)
	}
	for range 2 {
		if _, err := w.Undo(); err != nil {
			t.Fatal(err)
		}
	}
	if got := w.series(w.place); len(got) != 1 || !slices.Equal(got[0].Readings, all) {
		t.Error("undo does not bring them back")
	}
}

// A place with readings is kept as closed: nothing is lost when it is taken out.
func TestAPlaceWithReadingsStays(t *testing.T) {
	w := begin(t)
	w.do(climate.TakeIn{Key: w.key(climate.Warm), Readings: w.logged(3)})
	w.do(husbandry.RemovePlace{ID: w.place})
	w.do(husbandry.RemoveInstrument{ID: w.logger})
	if err := w.View(func(v model.View) error {
		for _, id := range []model.ID{w.place.ID, w.logger.ID} {
			if _, err := v.Document(id); err != nil {
				t.Errorf("%s: %v", id, err)
			}
		}
		return nil
	}); err != nil {
		t.Fatal(err)
	}
}

func TestSound(t *testing.T) {
	now := model.Moment{UTC: 10 * 86400}
	good, err := climate.Pack(1, warm(86400, 2000))
	if err != nil {
		t.Fatal(err)
	}
	hot, _ := climate.Pack(1, warm(86400, 9000))
	late, _ := climate.Pack(11, warm(11*86400, 2000))
	damp, _ := climate.Pack(1, []climate.Reading{{At: 86400, Temperature: 2000, Humidity: -5}})
	nothing, _ := climate.Pack(1, nil)
	key := climate.Key{Place: model.PlaceID{ID: model.ID{1}}, Zone: climate.Warm}
	type body struct {
		climate.Key
		Packed []byte              `json:"packed"`
		UV     []climate.UVReading `json:"uv,omitempty"`
	}
	for name, c := range map[string]struct {
		day   int64
		body  body
		sound bool
	}{
		"good":                {1, body{Key: key, Packed: good}, true},
		"of another day":      {11, body{Key: key, Packed: late}, false},
		"too hot":             {1, body{Key: key, Packed: hot}, false},
		"too dry":             {1, body{Key: key, Packed: damp}, false},
		"nothing":             {1, body{Key: key, Packed: nothing}, false},
		"UV alone":            {1, body{Key: key, Packed: nothing, UV: []climate.UVReading{{At: 86400, Index: 1}}}, true},
		"UV of another day":   {1, body{Key: key, Packed: good, UV: []climate.UVReading{{At: 86399, Index: 1}}}, false},
		"UV beyond":           {1, body{Key: key, Packed: good, UV: []climate.UVReading{{At: 86400, Index: 9999}}}, false},
		"not packed":          {1, body{Key: key, Packed: []byte("C2....")}, false},
		"nowhere":             {1, body{Key: climate.Key{Zone: climate.Warm}, Packed: good}, false},
		"a zone that is none": {1, body{Key: climate.Key{Place: key.Place, Zone: "x"}, Packed: good}, false},
	} {
		d := model.Document{Type: model.TypeReadings, At: model.Moment{UTC: c.day * 86400}}
		if err := d.Encode(1, c.body); err != nil {
			t.Fatal(err)
		}
		if known, err := climate.Sound(d, now); !known || (err == nil) != c.sound {
			t.Errorf("%s: %t, %v", name, known, err)
		}
	}
	if known, err := climate.Sound(model.Document{Type: model.TypeEntry}, now); known || err != nil {
		t.Errorf("of another type: %t, %v", known, err)
	}
	if known, err := climate.Sound(model.Document{Type: model.TypeReadings, Version: 2, Body: json.RawMessage(`{}`)}, now); !known || !errors.Is(err, model.ErrNewer) {
		t.Errorf("of a newer form: %t, %v", known, err)
	}
	if _, err := climate.Decode(model.Document{Type: model.TypePlace}); err == nil {
		t.Error("a place is read as readings")
	}
}

// What an instrument has brought already is told apart from what it brought otherwise.
func TestFreshCounts(t *testing.T) {
	w := begin(t)
	all := w.logged(10)
	w.do(climate.TakeIn{Key: w.key(climate.Warm), Readings: all[:6]})
	again := slices.Clone(all)
	again[2].Temperature++
	if err := w.View(func(v model.View) error {
		fresh, same, differing, err := climate.Fresh(v, w.logger, again)
		if !slices.Equal(fresh, all[6:]) || same != 5 || differing != 1 {
			t.Errorf("%d fresh, %d the same, %d differing", len(fresh), same, differing)
		}
		fresh, same, differing, err2 := climate.Fresh(v, w.hand, again[:3]) // another instrument
		if len(fresh) != 3 || same+differing != 0 {
			t.Errorf("of another: %d fresh, %d the same, %d differing", len(fresh), same, differing)
		}
		return errors.Join(err, err2)
	}); err != nil {
		t.Fatal(err)
	}
}

// unreadable writes readings in the form of a later version, which cannot be read.
type unreadable struct{ climate.Note }

func (c unreadable) Plan(v model.View) (model.Writes, error) {
	w, err := c.Note.Plan(v)
	for i := range w.Put {
		w.Put[i].Version++
	}
	return w, err
}

// Beside a day that cannot be read nothing is written, so that nothing of it is lost; the
// others are read as before, and it is counted.
func TestADayThatCannotBeRead(t *testing.T) {
	w := begin(t)
	at := model.MomentOf(w.clock.Now())
	before := at
	before.UTC -= 86400
	reading := climate.Reading{Temperature: 3000, Humidity: none}
	w.do(climate.Note{Key: w.key(climate.Warm), At: before, Reading: reading})
	w.do(unreadable{climate.Note{Key: w.key(climate.Cool), At: at, Reading: reading}})
	later := at
	later.UTC += 60
	for name, c := range map[string]model.Command{
		"a logger's file":        climate.TakeIn{Key: w.key(climate.Warm), Readings: []climate.Reading{{At: later.UTC, Temperature: 3000, Humidity: none}}},
		"it hangs elsewhere now": climate.TakeIn{Key: climate.Key{Place: w.other, Zone: climate.Warm, With: w.logger}, Readings: []climate.Reading{{At: later.UTC, Temperature: 3000, Humidity: none}}},
		"of another logger":      climate.TakeIn{Key: climate.Key{Place: w.place, Zone: climate.Warm, With: w.hand}, Readings: []climate.Reading{{At: later.UTC, Temperature: 3000, Humidity: none}}},
		"by hand":                climate.Note{Key: climate.Key{Place: w.place, Zone: climate.Warm}, At: later, Reading: reading},
		"to where it cannot be":  climate.Move{Key: w.key(climate.Warm), Span: climate.Span{From: before.UTC, Until: at.UTC + 1}, To: w.key(climate.Hide)},
		"taken out where it was": climate.Move{Key: w.key(climate.Warm), Span: climate.Span{From: before.UTC, Until: at.UTC + 1}},
	} {
		var r *model.Refusal
		if _, err := w.Do(c); err == nil || errors.As(err, &r) {
			t.Errorf("%s: %v", name, err)
		}
	}
	if err := w.View(func(v model.View) error {
		all, unread, err := climate.InPlace(v, w.place, climate.Span{From: model.Beginning, Until: model.EndOfTime})
		if unread != 1 || len(all) != 1 || len(all[0].Readings) != 1 || all[0].Readings[0].At != before.UTC {
			t.Errorf("%d days cannot be read, and there is %+v", unread, all)
		}
		until, ok, err2 := climate.Newest(v, w.place)
		if !ok || until != before.UTC+1 {
			t.Errorf("the newest is before %d, want %d", until, before.UTC+1)
		}
		return errors.Join(err, err2)
	}); err != nil {
		t.Fatal(err)
	}
}

// What is there already is planned as nothing, and nothing is said of it.
func TestAgainIsPlannedAsNothing(t *testing.T) {
	w := begin(t)
	c := climate.TakeIn{Key: w.key(climate.Warm), Readings: w.logged(3)}
	w.do(c)
	if err := w.View(func(v model.View) error {
		again, err := c.Plan(v)
		if again.Label.Key != "" || len(again.Put)+len(again.Remove) != 0 {
			t.Errorf("planned %+v", again)
		}
		return err
	}); err != nil {
		t.Fatal(err)
	}
}

// A reading of the very second in which a day begins is not taken twice either.
func TestMidnightIsTakenOnce(t *testing.T) {
	w := begin(t)
	midnight := climate.Reading{At: w.now - w.now%86400, Temperature: 2500, Humidity: none}
	for i, n := range []int{1, 0} {
		if done := w.do(climate.TakeIn{Key: w.key(climate.Warm), Readings: []climate.Reading{midnight}}); len(done.Documents) != n {
			t.Errorf("time %d: %d days", i+1, len(done.Documents))
		}
	}
}

// A UV index is taken up to 30, 3 m from the lamp at the most, and a reason of 300 characters
// (assumed).
func TestTheMostThatIsTaken(t *testing.T) {
	if climate.HighestUV != 30_00 || climate.Farthest != 3_000_0 || climate.LongestWhy != 300 {
		t.Errorf("%d hundredths, %d tenths of a millimetre, %d characters", climate.HighestUV, climate.Farthest, climate.LongestWhy)
	}
}

// The newest reading of a place is that of whichever sensor read last on its last day.
func TestTheNewestOfTwoSensors(t *testing.T) {
	for _, last := range []climate.Zone{climate.Warm, climate.Cool} {
		w := begin(t)
		for _, zone := range []climate.Zone{climate.Warm, climate.Cool} {
			at := model.MomentOf(w.clock.Now())
			if zone != last {
				at.UTC -= 600
			}
			w.do(climate.Note{Key: climate.Key{Place: w.place, Zone: zone}, At: at, Reading: climate.Reading{Temperature: 2500, Humidity: none}})
		}
		if err := w.View(func(v model.View) error {
			until, ok, err := climate.Newest(v, w.place)
			if !ok || until != w.now+1 {
				t.Errorf("%s read last, and the newest is before %d, want %d", last, until, w.now+1)
			}
			return err
		}); err != nil {
			t.Fatal(err)
		}
	}
}
