package climate_test

import (
	"reflect"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"coilward/assets"
	"coilward/model/climate"
	"coilward/model/knowledge"
)

const none = climate.NoHumidity

// warm are readings of temperatures alone, at seconds.
func warm(pairs ...int) (all []climate.Reading) {
	for i := 0; i < len(pairs); i += 2 {
		all = append(all, climate.Reading{At: int64(pairs[i]), Temperature: int16(pairs[i+1]), Humidity: none})
	}
	return all
}

func tables(t testing.TB) *knowledge.Tables {
	t.Helper()
	tables, err := knowledge.Load(assets.Knowledge())
	if err != nil {
		t.Fatal(err)
	}
	return tables
}

func rules(t testing.TB) climate.Rules { return climate.RulesOf(tables(t)) }

func TestRulesOfTheTable(t *testing.T) {
	if got, want := rules(t), (climate.Rules{GapHundredths: 250, FlatSeconds: 12 * 3600, JumpBy: 300, JumpWithin: 60}); got != want {
		t.Errorf("got %+v", got)
	}
	if got, want := climate.LightOf(tables(t)), (climate.Light{From: 480, Until: 1200}); got != want {
		t.Errorf("got %+v", got)
	}
}

func TestBand(t *testing.T) {
	target := climate.Target{HardLow: 2000, SoftLow: 2700, SoftHigh: 2900, HardHigh: 3500}
	for value, want := range map[int]climate.Band{1999: climate.FarLow, 2000: climate.Low, 2699: climate.Low, 2700: climate.Good, 2900: climate.Good, 2901: climate.High, 3500: climate.High, 3501: climate.FarHigh} {
		if got := target.Band(value); got != want {
			t.Errorf("%d: %d, want %d", value, got, want)
		}
	}
}

func TestTargetOf(t *testing.T) {
	target, source, ok := climate.TargetOf(tables(t), climate.Warm, climate.Temperature, true)
	if !ok || source == "" || target != (climate.Target{HardLow: 2000, SoftLow: 2700, SoftHigh: 2900, HardHigh: 3500}) {
		t.Errorf("%+v, %q, %t", target, source, ok)
	}
	if night, _, ok := climate.TargetOf(tables(t), climate.Warm, climate.Temperature, false); !ok || night.HardLow != 2100 {
		t.Errorf("%+v, %t", night, ok)
	}
	for _, z := range []climate.Zone{climate.RoomAir, climate.Outside} {
		if _, _, ok := climate.TargetOf(tables(t), z, climate.Temperature, true); ok || z.Inside() {
			t.Errorf("%s has a target", z)
		}
	}
	for _, z := range []climate.Zone{climate.Basking, climate.Warm, climate.Cool, climate.Hide} {
		if !z.Inside() {
			t.Errorf("no animal is in %s", z)
		}
	}
	for _, c := range tables(t).Climate() {
		if !slices.Contains(climate.Zones(), climate.Zone(c.Zone)) || !slices.Contains(climate.Measures(), climate.Measure(c.Measure)) {
			t.Errorf("row %s is of nothing that is measured", c.ID)
		}
	}
}

func TestLight(t *testing.T) {
	for _, c := range []struct {
		light  climate.Light
		minute int
		day    bool
	}{
		{climate.Light{From: 480, Until: 1200}, 479, false}, {climate.Light{From: 480, Until: 1200}, 480, true}, {climate.Light{From: 480, Until: 1200}, 1199, true},
		{climate.Light{From: 480, Until: 1200}, 1200, false}, {climate.Light{From: 1200, Until: 480}, 1200, true}, {climate.Light{From: 1200, Until: 480}, 479, true},
		{climate.Light{From: 1200, Until: 480}, 480, false}, {climate.Light{From: 1200, Until: 480}, 1199, false}, {climate.Light{From: 60, Until: 60}, 60, false},
	} {
		if got := c.light.Day(c.minute); got != c.day {
			t.Errorf("%+v at %d: %t", c.light, c.minute, got)
		}
	}
}

func TestMedianStepAndGaps(t *testing.T) {
	for _, c := range []struct {
		name   string
		at     []int
		median int64
		gaps   []climate.Span
	}{
		{"none", nil, 0, nil}, {"one", []int{5}, 0, nil}, {"two", []int{0, 60}, 60, nil},
		{"the lower of two middle ones", []int{0, 60, 200}, 60, nil},
		{"just not one", []int{0, 60, 120, 270}, 60, nil},
		{"one", []int{0, 60, 120, 271}, 60, []climate.Span{{From: 120, Until: 271}}},
		{"two of them", []int{0, 60, 120, 400, 460, 520, 1000}, 60, []climate.Span{{From: 120, Until: 400}, {From: 520, Until: 1000}}},
	} {
		var all []climate.Reading
		for _, at := range c.at {
			all = append(all, warm(at, 2000)...)
		}
		if got := climate.MedianStep(all); got != c.median {
			t.Errorf("%s: a step of %d, want %d", c.name, got, c.median)
		}
		if got := rules(t).Gaps(all); !reflect.DeepEqual(got, c.gaps) {
			t.Errorf("%s: gaps %v, want %v", c.name, got, c.gaps)
		}
	}
}

func TestFaults(t *testing.T) {
	flat := func(from, count, value int) (all []climate.Reading) {
		for i := range count {
			all = append(all, warm(from+i*600, value)...)
		}
		return all
	}
	const half = 12 * 6 // readings of ten minutes in twelve hours
	for _, c := range []struct {
		name string
		all  []climate.Reading
		want climate.Faults
	}{
		{"nothing", nil, climate.Faults{}},
		{"one", warm(0, 2000), climate.Faults{}},
		{"ten minutes less", flat(0, half, 2500), climate.Faults{}},
		{"twelve hours", flat(0, half+1, 2500), climate.Faults{Stuck: []climate.Span{{From: 0, Until: half * 600}}}},
		{"it moves once", slices.Concat(flat(0, half-1, 2500), warm((half-1)*600, 2501, half*600, 2500)), climate.Faults{}},
		{"after it moved", slices.Concat(warm(0, 2400), flat(600, half+1, 2500), warm((half+2)*600, 2400)), climate.Faults{Stuck: []climate.Span{{From: 600, Until: (half + 1) * 600}}}},
		{"over a gap it is not known", slices.Concat(flat(0, half/2, 2500), flat(half*600, half/2+1, 2500)), climate.Faults{}},
		{"a jump up", warm(0, 2000, 60, 2301, 120, 2301), climate.Faults{Jumps: []int64{60}}},
		{"a jump down", warm(0, 2301, 60, 2000, 120, 2000), climate.Faults{Jumps: []int64{60}}},
		{"three degrees are none", warm(0, 2000, 60, 2300), climate.Faults{}},
		{"in more than a minute it is none", warm(0, 2000, 61, 2900), climate.Faults{}},
		{"where nothing was measured there is none", []climate.Reading{{At: 0, Temperature: climate.NoTemperature, Humidity: 5000}, {At: 60, Temperature: 2000, Humidity: 5000}, {At: 120, Temperature: climate.NoTemperature, Humidity: 5000}}, climate.Faults{}},
	} {
		got := rules(t).Faults(c.all)
		if !reflect.DeepEqual(got, c.want) || got.None() != (len(c.want.Jumps)+len(c.want.Stuck) == 0) {
			t.Errorf("%s: %+v, want %+v", c.name, got, c.want)
		}
	}
	// a humidity that moves says that the sensor lives
	lives := flat(0, half+1, 2500)
	for i := range lives {
		lives[i].Humidity = int16(5000 + i)
	}
	if got := rules(t).Faults(lives); !got.None() {
		t.Errorf("with a humidity that moves: %+v", got)
	}
}

func TestShares(t *testing.T) {
	target := func(day bool) (climate.Target, bool) {
		return climate.Target{HardLow: 2000, SoftLow: 2700, SoftHigh: 2900, HardHigh: 3500}, day
	}
	clock := func(at int64) int { return int(at / 60 % 1440) }
	light := climate.Light{From: 2, Until: 1440}
	// a step of 60; a gap after the fourth; the night ends at second 120
	all := warm(0, 2800, 60, 2800, 120, 1900, 180, 2000, 400, 2800, 460, 2950, 520, 3600)
	all[1].Temperature = climate.NoTemperature
	day, night, left := rules(t).Shares(all, climate.Temperature, light, clock, target)
	if want := (climate.Share{climate.FarLow: 60, climate.Low: 60, climate.Good: 60, climate.High: 60, climate.FarHigh: 60}); day != want || night != (climate.Share{}) || left != 60 {
		t.Errorf("day %v, night %v, left %d", day, night, left)
	}
	if day.Total() != 300 || day.Percent(climate.Good) != 20 {
		t.Errorf("of %d: %d %%", day.Total(), day.Percent(climate.Good))
	}
	if got := (climate.Share{climate.Good: 2, climate.Low: 1}).Percent(climate.Good); got != 67 {
		t.Errorf("two of three: %d", got)
	}
	if got := (climate.Share{}).Percent(climate.Good); got != 0 {
		t.Errorf("of nothing: %d", got)
	}
	nights := func(day bool) (climate.Target, bool) { target, _ := target(true); return target, !day }
	day, night, left = rules(t).Shares(all, climate.Temperature, light, clock, nights)
	if night[climate.Good] != 60 || night.Total() != 60 || day.Total() != 0 || left != 300 {
		t.Errorf("nights: day %v, night %v, left %d", day, night, left)
	}
}

func TestBuckets(t *testing.T) {
	all := warm(-1, 1000, 0, 2000, 59, 2501, 60, -100, 200, -101, 210, -102)
	all[4].Humidity = 5000
	want := []climate.Bucket{{From: -60, N: 1, Min: 1000, Max: 1000, Mean: 1000}, {From: 0, N: 2, Min: 2000, Max: 2501, Mean: 2251}, {From: 60, N: 1, Min: -100, Max: -100, Mean: -100}, {From: 180, N: 2, Min: -102, Max: -101, Mean: -102}}
	if got := climate.Buckets(all, climate.Temperature, 0, 60); !reflect.DeepEqual(got, want) {
		t.Errorf("got %+v", got)
	}
	if got := climate.Buckets(all, climate.Humidity, 0, 60); !reflect.DeepEqual(got, []climate.Bucket{{From: 180, N: 1, Min: 5000, Max: 5000, Mean: 5000}}) {
		t.Errorf("humidity: %+v", got)
	}
	if mean, n := climate.Mean(all, climate.Temperature); mean != 866 || n != 6 {
		t.Errorf("mean %d of %d", mean, n)
	}
	if mean, n := climate.Mean(nil, climate.Temperature); mean != 0 || n != 0 {
		t.Errorf("mean %d of %d", mean, n)
	}
}

func TestWithin(t *testing.T) {
	all := warm(0, 1, 60, 2, 120, 3)
	for _, c := range []struct {
		span climate.Span
		want int
	}{{climate.Span{From: 0, Until: 121}, 3}, {climate.Span{From: 0, Until: 120}, 2}, {climate.Span{From: 1, Until: 120}, 1}, {climate.Span{From: 60, Until: 61}, 1}, {climate.Span{From: 61, Until: 61}, 0}, {climate.Span{From: 121, Until: 0}, 0}, {climate.Span{From: 121, Until: 900}, 0}} {
		if got := climate.Within(all, c.span); len(got) != c.want {
			t.Errorf("%+v: %d", c.span, len(got))
		}
	}
	if got := (climate.Span{From: 3, Until: 10}).Seconds(); got != 7 {
		t.Errorf("%d seconds", got)
	}
}

func TestPlausible(t *testing.T) {
	for _, c := range []struct {
		temperature, humidity int16
		want                  climate.Measure
	}{
		{-4000, none, ""}, {-4001, none, climate.Temperature}, {8500, 10000, ""}, {8501, 0, climate.Temperature}, {2000, 10001, climate.Humidity}, {2000, -2, climate.Humidity},
		{climate.NoTemperature, 5000, ""}, {climate.NoTemperature, none, ""},
	} {
		r := climate.Reading{Temperature: c.temperature, Humidity: c.humidity}
		if got := r.Plausible(); got != c.want {
			t.Errorf("%+v: %q", r, got)
		}
		if got := r.Empty(); got != (c.temperature == climate.NoTemperature && c.humidity == none) {
			t.Errorf("%+v: empty %t", r, got)
		}
	}
}

func drawSeries(t *rapid.T, day int64) []climate.Reading {
	seconds := rapid.SliceOfDistinct(rapid.Int64Range(0, 86399), rapid.ID[int64]).Draw(t, "seconds")
	slices.Sort(seconds)
	var all []climate.Reading
	for _, s := range seconds {
		all = append(all, climate.Reading{At: day*86400 + s, Temperature: int16(rapid.IntRange(climate.Coldest, climate.Hottest).Draw(t, "t")), Humidity: int16(rapid.IntRange(-1, 10000).Draw(t, "h"))})
	}
	return all
}

func TestPack_Properties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		day := rapid.Int64Range(-40000, 40000).Draw(t, "day")
		all := drawSeries(t, day)
		packed, err := climate.Pack(day, all)
		if err != nil {
			t.Fatal(err)
		}
		got, err := climate.Unpack(nil, day, packed)
		if err != nil || !slices.Equal(got, all) {
			t.Fatalf("%v, %v", got, err)
		}
		if len(packed) != 6+8*len(all) {
			t.Fatalf("%d bytes for %d readings", len(packed), len(all))
		}
		bad := slices.Clone(packed)
		bad[rapid.IntRange(0, len(bad)-1).Draw(t, "byte")] ^= 1 << rapid.IntRange(0, 7).Draw(t, "bit")
		if _, err := climate.Unpack(nil, day, bad); err == nil {
			t.Fatal("a flipped bit is taken")
		}
		if _, err := climate.Unpack(nil, day, packed[:len(packed)-1]); err == nil {
			t.Fatal("a cut end is taken")
		}
		if len(all) > 1 {
			slices.Reverse(all)
			if _, err := climate.Pack(day, all); err == nil {
				t.Fatal("packed out of order")
			}
		}
		if len(all) > 0 {
			if _, err := climate.Pack(day+1, all[:1]); err == nil {
				t.Fatal("packed on another day")
			}
		}
	})
	if _, err := climate.Unpack(nil, 0, nil); err == nil {
		t.Error("nothing is taken for readings")
	}
	if _, err := climate.Pack(0, warm(5, 1, 5, 2)); err == nil {
		t.Error("a second twice is packed")
	}
}

func TestMerge(t *testing.T) {
	had, more := warm(0, 1, 60, 2, 120, 3), warm(60, 2, 60, 9, 90, 5, 120, 4, 180, 6, 180, 6)
	all, same, differing := climate.Merge(had, more)
	if want := warm(0, 1, 60, 2, 90, 5, 120, 3, 180, 6); !slices.Equal(all, want) || same != 2 || differing != 2 {
		t.Errorf("%v, %d, %d", all, same, differing)
	}
}

func TestMerge_Properties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		had, more := drawSeries(t, 0), drawSeries(t, 0)
		all, same, differing := climate.Merge(had, more)
		if len(all) != len(had)+len(more)-same-differing {
			t.Fatalf("%d of %d and %d, %d the same, %d not", len(all), len(had), len(more), same, differing)
		}
		again, same, differing := climate.Merge(all, had)
		if !slices.Equal(again, all) || same != len(had) || differing != 0 {
			t.Fatal("again is not nothing")
		}
		if !slices.IsSortedFunc(all, func(a, b climate.Reading) int { return int(a.At - b.At) }) {
			t.Fatal("out of order")
		}
	})
}

func TestSpans_Properties(t *testing.T) {
	r := rules(t)
	rapid.Check(t, func(t *rapid.T) {
		all := drawSeries(t, 0)
		var total int64
		r.Spans(all, func(_ climate.Reading, seconds int64) {
			if seconds < 0 {
				t.Fatal("a span of less than nothing")
			}
			total += seconds
		})
		want := int64(0)
		if n := len(all); n > 1 {
			want = all[n-1].At - all[0].At + climate.MedianStep(all)
			for _, gap := range r.Gaps(all) {
				want -= gap.Seconds() - climate.MedianStep(all)
			}
		}
		if total != want {
			t.Fatalf("%d seconds, want %d", total, want)
		}
		n := 0
		for _, b := range climate.Buckets(all, climate.Temperature, 0, 3600) {
			if n += b.N; b.Min > b.Mean || b.Mean > b.Max {
				t.Fatalf("%+v", b)
			}
		}
		if n != len(all) {
			t.Fatalf("%d in buckets of %d", n, len(all))
		}
	})
}
