package climate_test

import (
	"reflect"
	"slices"
	"strings"
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
	if got, want := rules(t), (climate.Rules{GapHundredths: 250, Stands: 7200, FlatSeconds: 12 * 3600, DampBy: 100, JumpBy: 300, JumpWithin: 60}); got != want {
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
	target, source, ok := climate.TargetOf(tables(t), "python-regius", climate.Warm, climate.Temperature, true, false)
	if !ok || source == "" || target != (climate.Target{HardLow: 2000, SoftLow: 2700, SoftHigh: 2900, HardHigh: 3500}) {
		t.Errorf("%+v, %q, %t", target, source, ok)
	}
	if night, _, ok := climate.TargetOf(tables(t), "python-regius", climate.Warm, climate.Temperature, false, true); !ok || night.HardLow != 2100 {
		t.Errorf("%+v, %t", night, ok)
	}
	for _, z := range []climate.Zone{climate.RoomAir, climate.Outside} {
		if _, _, ok := climate.TargetOf(tables(t), "python-regius", z, climate.Temperature, true, false); ok || z.Inside() {
			t.Errorf("%s has a target", z)
		}
	}
	for _, z := range []climate.Zone{climate.Basking, climate.Warm, climate.Cool, climate.Hide} {
		if !z.Inside() {
			t.Errorf("no animal is in %s", z)
		}
	}
	// 50 to 60 percent, and 60 to 80 before a shed: care pages, and common practice
	for _, zone := range []climate.Zone{climate.Warm, climate.Cool} {
		for _, day := range []bool{true, false} {
			always, _, ok := climate.TargetOf(tables(t), "python-regius", zone, climate.Humidity, day, false)
			shed, source, also := climate.TargetOf(tables(t), "python-regius", zone, climate.Humidity, day, true)
			if !ok || !also || always.SoftLow != 5000 || always.SoftHigh != 6000 || shed.SoftLow != 6000 || shed.SoftHigh != 8000 || !strings.HasPrefix(source, "common practice") {
				t.Errorf("%s: %+v, before a shed %+v (%s)", zone, always, shed, source)
			}
		}
	}
	for _, zone := range climate.Zones() { // a hide is as moist always
		target, other := climate.BeforeShed(tables(t), "python-regius", zone)
		if want := zone == climate.Warm || zone == climate.Cool; other != want || other && (target.SoftLow != 6000 || target.SoftHigh != 8000) {
			t.Errorf("%s before a shed: %+v, other than else: %v", zone, target, other)
		}
	}
	if _, _, ok := climate.TargetOf(tables(t), "morelia-spilota", climate.Warm, climate.Temperature, true, false); ok || climate.HasTargets(tables(t), "morelia-spilota") || !climate.HasTargets(tables(t), "python-regius") {
		t.Error("the numbers of one species are given for another")
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
	damp := func(count, humidity, moves int) (all []climate.Reading) { // to and fro by so much
		for i := range count {
			all = append(all, climate.Reading{At: int64(i) * 600, Temperature: int16(2500 + i%2*moves), Humidity: int16(humidity)})
		}
		return all
	}
	later := func(all []climate.Reading, by int64) []climate.Reading {
		for i := range all {
			all[i].At += by
		}
		return all
	}
	hand := func(days, value int) (all []climate.Reading) {
		for i := range days {
			all = append(all, warm(i*86400, value)...)
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
		{"a humidity that stays while the temperature moves", damp(half+1, 5000, 100), climate.Faults{Damp: []climate.Span{{From: 0, Until: half * 600}}}},
		{"by less than a degree", damp(half+1, 5000, 99), climate.Faults{}},
		{"for ten minutes less", damp(half, 5000, 100), climate.Faults{}},
		{"a humidity that is not measured", damp(half+1, int(none), 100), climate.Faults{}},
		{"it moved before", slices.Concat(damp(3, 4900, 500), later(damp(half+1, 5000, 100), 1800)), climate.Faults{Damp: []climate.Span{{From: 1800, Until: 1800 + half*600}}}},
		{"the warmth moved before", slices.Concat(damp(3, 4900, 500), later(damp(half+1, 5000, 99), 1800)), climate.Faults{}},
		{"readings by hand", hand(9, 2500), climate.Faults{}},
		{"where nothing was measured there is none", []climate.Reading{{At: 0, Temperature: climate.NoTemperature, Humidity: 5000}, {At: 60, Temperature: 2000, Humidity: 5000}, {At: 120, Temperature: climate.NoTemperature, Humidity: 5000}}, climate.Faults{}},
	} {
		got := rules(t).Faults(c.all)
		if !reflect.DeepEqual(got, c.want) || got.None() != reflect.DeepEqual(c.want, climate.Faults{}) {
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
	target := func(_ int64, day bool) (climate.Target, bool) {
		return climate.Target{HardLow: 2000, SoftLow: 2700, SoftHigh: 2900, HardHigh: 3500}, day
	}
	clock := func(at int64) int { return int(at / 60 % 1440) }
	light := climate.Light{From: 2, Until: 1440}
	// a step of 60; a gap after the fourth; the night ends at second 120
	all := warm(0, 2800, 60, 2800, 120, 1900, 180, 2000, 400, 2800, 460, 2950, 520, 3600)
	all[1].Temperature = climate.NoTemperature
	day, night, left := rules(t).Shares(all, climate.Temperature, nil, light, clock, target)
	if want := (climate.Share{climate.FarLow: 60, climate.Low: 60, climate.Good: 60, climate.High: 60, climate.FarHigh: 60}); day != want || night != (climate.Share{}) || left != 60 {
		t.Errorf("day %v, night %v, left %d", day, night, left)
	}
	if day.Total() != 300 || day.Percent(climate.Good) != 20 {
		t.Errorf("of %d: %d %%", day.Total(), day.Percent(climate.Good))
	}
	for _, c := range []struct {
		share climate.Share
		want  [5]int
	}{
		{climate.Share{climate.Good: 2, climate.Low: 1}, [5]int{climate.Good: 67, climate.Low: 33}},
		{climate.Share{climate.Good: 925, climate.High: 75}, [5]int{climate.Good: 93, climate.High: 7}}, // 92.5 and 7.5: not 93 and 8
		{climate.Share{1, 1, 1, 1, 2}, [5]int{17, 17, 17, 16, 33}},                                      // 16.67 each and 33.33
		{climate.Share{climate.FarHigh: 9}, [5]int{climate.FarHigh: 100}},
	} {
		if got := c.share.Percents(); got != c.want {
			t.Errorf("%v: %v, want %v", c.share, got, c.want)
		}
	}
	if got := (climate.Share{}).Percent(climate.Good); got != 0 {
		t.Errorf("of nothing: %d", got)
	}
	nights := func(at int64, day bool) (climate.Target, bool) { target, _ := target(at, true); return target, !day }
	day, night, left = rules(t).Shares(all, climate.Temperature, nil, light, clock, nights)
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
		{-4000, none, ""}, {-4001, none, climate.Temperature}, {8500, 10000, ""}, {8501, 0, climate.Temperature}, {2000, 0, ""}, {2000, 10001, climate.Humidity}, {2000, -2, climate.Humidity},
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
		r.Spans(all, nil, func(_ climate.Reading, seconds int64) {
			if seconds < 0 {
				t.Fatal("a span of less than nothing")
			}
			total += seconds
		})
		want, median := int64(0), climate.MedianStep(all)
		if n := len(all); n > 1 {
			want = min(median, r.Stands) // of the last
			for i := 1; i < n; i++ {
				step := all[i].At - all[i-1].At
				if step*2 > 5*median { // a gap
					step = median
				}
				want += min(step, r.Stands)
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

// One reading a day by hand stands for two hours each, not for the day.
func TestAReadingByHandDoesNotStandForADay(t *testing.T) {
	r := rules(t)
	hand := warm(0, 2800, 86400, 2800, 172800, 2000)
	var seconds []int64
	r.Spans(hand, nil, func(_ climate.Reading, s int64) { seconds = append(seconds, s) })
	if !slices.Equal(seconds, []int64{7200, 7200, 7200}) {
		t.Errorf("they stand for %v seconds", seconds)
	}
	if !r.Single(7201) || r.Single(7200) || r.Gaps(warm(0, 1, 7201, 1, 14402, 1, 90000, 1)) != nil {
		t.Error("single readings have gaps between them")
	}
	if got := r.Gaps(warm(0, 1, 7200, 1, 14400, 1, 90000, 1)); len(got) != 1 {
		t.Errorf("a sensor of two hours: %v", got)
	}
}

// A reading by hand beside a sensor adds nothing for the time that the sensor read.
func TestNoTimeIsTakenTwice(t *testing.T) {
	r := rules(t)
	place := climate.Key{Zone: climate.Warm}
	sensor := climate.Series{Key: place, Readings: warm(0, 1, 600, 1, 1200, 1, 9000, 1, 9600, 1)} // a gap from 1800 to 9000; it ends at 10200
	hand := climate.Series{Key: place, Readings: warm(300, 2, 86400, 2)}
	alone := climate.Series{Key: place, Readings: warm(5, 3)}
	other := climate.Series{Key: climate.Key{Zone: climate.Cool}, Readings: warm(300, 2, 900, 2)}
	all := []climate.Series{alone, hand, sensor, other}
	taken := r.Taken(all, climate.Temperature)
	covered := []climate.Span{{From: 0, Until: 1800}, {From: 9000, Until: 10200}}
	if taken[2] != nil || taken[3] != nil || !reflect.DeepEqual(taken[1], covered) {
		t.Errorf("taken %v", taken)
	}
	if want := []climate.Span{{From: 0, Until: 7500}, {From: 9000, Until: 10200}, {From: 86400, Until: 93600}}; !reflect.DeepEqual(taken[0], want) {
		t.Errorf("of one alone: %v", taken[0])
	}
	var seconds []int64
	r.Spans(hand.Readings, taken[1], func(_ climate.Reading, s int64) { seconds = append(seconds, s) })
	if !slices.Equal(seconds, []int64{7200 - 1500, 7200}) { // from 300 on; 300 to 1800 is the sensor's
		t.Errorf("they stand for %v seconds", seconds)
	}
	if got := r.Taken(all, climate.Humidity); got[0] != nil || got[1] != nil {
		t.Errorf("the sensor reads no humidity: %v", got)
	}
}

func TestCover_Properties(t *testing.T) {
	r := rules(t)
	rapid.Check(t, func(t *rapid.T) {
		one, two := drawSeries(t, 0), drawSeries(t, 0)
		taken := r.Cover(nil, one, climate.Temperature)
		both := r.Cover(taken, two, climate.Temperature)
		var first, all, more int64
		for i, s := range both {
			if all += s.Seconds(); s.Seconds() <= 0 || i > 0 && both[i-1].Until >= s.From {
				t.Fatalf("not apart: %v", both)
			}
		}
		for _, s := range taken {
			first += s.Seconds()
		}
		r.Spans(two, taken, func(_ climate.Reading, s int64) {
			if s < 0 {
				t.Fatal("less than nothing")
			}
			more += s
		})
		if more < all-first { // those of the second may lie over one another by its last step
			t.Fatalf("%d and %d more, together %d", first, more, all)
		}
	})
}

// An end that says the minute in which a span begins or ends is as exact as the span was;
// another counts by whole minutes.
func TestMinutesOfASpan(t *testing.T) {
	s := climate.Series{Readings: []climate.Reading{{At: 3625}, {At: 7199}}, UV: []climate.UVReading{{At: 3605}, {At: 7200}}}.Span()
	if want := (climate.Span{From: 3605, Until: 7201}); s != want {
		t.Fatalf("from the first to the last: %+v, want %+v", s, want)
	}
	for _, row := range []struct {
		from, until int64
		want        climate.Span
	}{
		{3600, 7200, s},
		{3660, 7200, climate.Span{From: 3660, Until: 7201}},
		{3540, 7200, climate.Span{From: 3540, Until: 7201}},
		{3600, 7140, climate.Span{From: 3605, Until: 7200}},
		{3600, 7260, climate.Span{From: 3605, Until: 7320}},
		{3660, 3660, climate.Span{From: 3660, Until: 3720}},
	} {
		if got := s.Minutes(row.from, row.until); got != row.want {
			t.Errorf("%d to %d: %+v, want %+v", row.from, row.until, got, row.want)
		}
	}
	if s := (climate.Series{}).Span(); s.From < s.Until {
		t.Errorf("of no readings: %+v", s)
	}
}

// A second that another sensor stands for already is not counted, wherever it lies.
func TestSecondsThatAreTaken(t *testing.T) {
	all := warm(100, 1, 160, 2, 220, 3)
	for _, row := range []struct {
		taken []climate.Span
		want  [3]int64
	}{
		{nil, [3]int64{60, 60, 60}},
		{[]climate.Span{{From: 40, Until: 100}}, [3]int64{60, 60, 60}},
		{[]climate.Span{{From: 40, Until: 101}}, [3]int64{59, 60, 60}},
		{[]climate.Span{{From: 40, Until: 161}}, [3]int64{0, 59, 60}},
		{[]climate.Span{{From: 159, Until: 160}, {From: 279, Until: 280}}, [3]int64{59, 60, 59}},
		{[]climate.Span{{From: 280, Until: 290}}, [3]int64{60, 60, 60}},
	} {
		i := 0
		rules(t).Spans(all, row.taken, func(_ climate.Reading, seconds int64) {
			if seconds != row.want[i] {
				t.Errorf("%+v: reading %d stands for %d seconds, want %d", row.taken, i, seconds, row.want[i])
			}
			i++
		})
	}
}

// What was measured at one moment is one reading, with or without a UV index.
func TestMoments(t *testing.T) {
	for _, row := range []struct {
		readings []climate.Reading
		uv       []climate.UVReading
		want     int
	}{
		{nil, nil, 0},
		{warm(60, 1, 120, 2), nil, 2},
		{nil, []climate.UVReading{{At: 60}}, 1},
		{warm(60, 1, 120, 2), []climate.UVReading{{At: 60}, {At: 120}}, 2},
		{warm(60, 1, 120, 2), []climate.UVReading{{At: 61}, {At: 61}, {At: 120}, {At: 180}}, 4},
	} {
		if got := (climate.Series{Readings: row.readings, UV: row.uv}).Moments(); got != row.want {
			t.Errorf("%d readings, %+v: %d, want %d", len(row.readings), row.uv, got, row.want)
		}
	}
}
