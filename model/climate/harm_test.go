package climate_test

import (
	"testing"

	"coilward/model/climate"
)

// No reachable surface above 40 °C, no air above 35 °C, no spot below 20 °C for more than
// two hours: common practice, no source.
func TestLimits(t *testing.T) {
	l := climate.LimitsOf(tables(t))
	if want := (climate.Limits{Surface: 4000, Air: 3500, Cold: 2000, LongestCold: 7200}); l != want {
		t.Errorf("got %+v", l)
	}
	for z, want := range map[climate.Zone]int{climate.Basking: 4000, climate.Warm: 3500, climate.Cool: 3500, climate.Hide: 3500} {
		if got := l.Hottest(z); got != want {
			t.Errorf("%s: %d", z, got)
		}
	}
}

func TestHarm(t *testing.T) {
	half := func(values ...int) (all []climate.Reading) { // every half an hour
		for i, v := range values {
			all = append(all, warm(i*1800, v)...)
		}
		return all
	}
	missing := half(1900, 1900, 1900, 1900, 1900, 1900)
	missing[2].Temperature, missing[2].Humidity = climate.NoTemperature, 5000
	for _, c := range []struct {
		name string
		zone climate.Zone
		all  []climate.Reading
		want climate.Harm
	}{
		{"nothing", climate.Warm, nil, climate.Harm{}},
		{"as hot as may be", climate.Basking, half(4000, 3900), climate.Harm{}},
		{"a hotter surface", climate.Basking, half(4001, 4100, 4050), climate.Harm{Hot: true, HotAt: 1800, Hottest: 4100}},
		{"as hot air as may be", climate.Warm, half(3500), climate.Harm{}},
		{"hotter air", climate.Hide, half(3400, 3501), climate.Harm{Hot: true, HotAt: 1800, Hottest: 3501}},
		{"two hours", climate.Cool, half(2000, 1999, 1900, 1950, 1990, 2000), climate.Harm{}},
		{"more than two hours", climate.Cool, half(2000, 1999, 1900, 1950, 1990, 1999, 2000), climate.Harm{Cold: climate.Span{From: 1800, Until: 6 * 1800}, Coldest: 1900}},
		{"to the end", climate.Cool, half(1999, 1999, 1999, 1999, 1999, 1998), climate.Harm{Cold: climate.Span{From: 0, Until: 5 * 1800}, Coldest: 1998}},
		{"the longer of two", climate.Cool, half(1500, 1500, 1500, 1500, 1500, 1500, 2100, 1900, 1900, 1900, 1900, 1900, 1900, 1900, 2100), climate.Harm{Cold: climate.Span{From: 7 * 1800, Until: 14 * 1800}, Coldest: 1900}},
		{"one was not measured", climate.Cool, missing, climate.Harm{Cold: climate.Span{From: 0, Until: 5 * 1800}, Coldest: 1900}},
		{"over a gap it is not known", climate.Cool, warm(0, 1900, 1800, 1900, 3600, 1890, 9000, 1900, 10800, 1900), climate.Harm{Unclear: true, UnclearAt: 3600, UnclearLeast: 1890}},
		{"by hand", climate.Cool, warm(0, 1900, 86400, 1890, 172800, 1900), climate.Harm{Unclear: true, UnclearAt: 86400, UnclearLeast: 1890}},
		{"one alone", climate.Cool, warm(0, 1900), climate.Harm{Unclear: true, UnclearLeast: 1900}},
		{"from the beginning", climate.Cool, half(1900, 2000, 2000), climate.Harm{Unclear: true, UnclearLeast: 1900}},
		{"at the end", climate.Cool, half(2000, 2000, 1900), climate.Harm{Unclear: true, UnclearAt: 3600, UnclearLeast: 1900}},
		{"it was cold before a gap", climate.Cool, warm(0, 2100, 1800, 2100, 3600, 1900, 50000, 2100, 51800, 2100), climate.Harm{Unclear: true, UnclearAt: 3600, UnclearLeast: 1900}},
		{"it was cold after a gap", climate.Cool, warm(0, 2100, 1800, 2100, 50000, 1900, 51800, 2100), climate.Harm{Unclear: true, UnclearAt: 50000, UnclearLeast: 1900}},
		{"warm on both sides of a gap", climate.Cool, warm(0, 2100, 1800, 2100, 50000, 2100, 51800, 1900, 53600, 2100), climate.Harm{}},
		{"where no animal is", climate.Outside, half(5000, 1, 1, 1, 1, 1, 1, 1), climate.Harm{}},
	} {
		r := rules(t)
		if got := r.Harm(climate.LimitsOf(tables(t)), c.zone, c.all); got != c.want {
			t.Errorf("%s: %+v, want %+v", c.name, got, c.want)
		}
	}
}
