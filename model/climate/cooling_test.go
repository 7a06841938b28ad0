package climate_test

import (
	"math"
	"testing"

	"coilward/model/climate"
)

// exponential are readings every five minutes of a place that loses a share of its
// distance to the outside in an hour, by Newton's law of cooling.
func exponential(from, outside, rate, hours float64) (all []climate.Reading) {
	for s := 0; s <= int(hours*3600); s += 300 {
		t := outside + (from-outside)*math.Exp(-rate*float64(s)/3600)
		all = append(all, warm(s, int(math.Round(t)))...)
	}
	return all
}

func TestFallWithin(t *testing.T) {
	all := exponential(2800, 1000, .1, 4)
	whole := climate.Span{From: 0, Until: 4*3600 + 1}
	f, ok := climate.FallWithin(all, whole, nil)
	if !ok || f.First != 2800 || f.Last != 2207 || f.Known || f.Span != (climate.Span{From: 0, Until: 4 * 3600}) {
		t.Errorf("%+v, %t", f, ok)
	}
	if f, ok = climate.FallWithin(all, whole, warm(0, 900, 3600, 1100)); !ok || !f.Known || f.Outside != 1000 {
		t.Errorf("%+v, %t", f, ok)
	}
	if f, _ = climate.FallWithin(all, whole, warm(0, 2207)); f.Known {
		t.Error("it was no warmer than the outside at its end")
	}
	for name, span := range map[string]climate.Span{"too short": {From: 0, Until: 1800}, "none there": {From: 90000, Until: 99000}} {
		if f, ok := climate.FallWithin(all, span, nil); ok {
			t.Errorf("%s: %+v", name, f)
		}
	}
	if _, ok := climate.FallWithin(warm(0, 2800, 1800, 2750), climate.Span{From: 0, Until: 1801}, nil); !ok {
		t.Error("half a degree in half an hour is a fall")
	}
	if _, ok := climate.FallWithin(warm(0, 2800, 1800, 2751), climate.Span{From: 0, Until: 1801}, nil); ok {
		t.Error("less than half a degree is none")
	}
	if _, ok := climate.FallWithin(warm(0, 2800, 1799, 2000), climate.Span{From: 0, Until: 1801}, nil); ok {
		t.Error("less than half an hour tells nothing")
	}
	damp := warm(0, 2800, 900, 2800, 2700, 2600)
	damp[0].Temperature, damp[0].Humidity = climate.NoTemperature, 5000
	if f, ok := climate.FallWithin(damp, climate.Span{From: 0, Until: 9000}, nil); !ok || f.From != 900 {
		t.Errorf("%+v, %t", f, ok)
	}
}

func TestHoursUntil(t *testing.T) {
	span := climate.Span{From: 0, Until: 4*3600 + 1}
	slow, _ := climate.FallWithin(exponential(2800, 1000, .05, 4), span, warm(0, 1000))
	fast, _ := climate.FallWithin(exponential(2800, 1000, .1, 4), span, warm(0, 1000))
	unknown, _ := climate.FallWithin(exponential(2800, 1000, .1, 4), span, nil)
	// Newton's law: ln((28−10)/(20−10)) / 0.1 = 5.878 hours; as readings are rounded to
	// hundredths, the steepest hour is a hair steeper, and never flatter
	c, ok := climate.HoursUntil([]climate.Fall{slow, fast}, 2800, 2000, 1000, true)
	if !ok || !c.Curve || c.Never || c.Falls != 2 || c.Hours > 5.878 || c.Hours < 5.82 {
		t.Errorf("%+v, %t", c, ok)
	}
	c, ok = climate.HoursUntil([]climate.Fall{slow}, 2800, 2000, 1000, true)
	if !ok || c.Hours > 2*5.878 || c.Hours < 2*5.82 {
		t.Errorf("the slow one: %+v, %t", c, ok)
	}
	// without the outside: by the steepest hour, the first, in which it loses 18 × (1 − e^−.1)
	// = 1.71 degrees, and not by the mean of 5.93 degrees in four hours
	for name, falls := range map[string][]climate.Fall{"one without": {slow, unknown}, "none with": {unknown}} {
		c, ok = climate.HoursUntil(falls, 2800, 2000, 1000, true)
		if !ok || c.Curve || math.Abs(c.Hours-8/1.71) > .001 {
			t.Errorf("%s: %+v, %t", name, c, ok)
		}
	}
	if c, ok = climate.HoursUntil([]climate.Fall{fast}, 2800, 2000, 0, false); !ok || c.Curve || math.Abs(c.Hours-8/1.71) > .001 {
		t.Errorf("the outside is not known now: %+v, %t", c, ok)
	}
	if c, ok = climate.HoursUntil([]climate.Fall{fast}, 2800, 2000, 2000, true); !ok || !c.Never || c.Hours != 0 {
		t.Errorf("it is as warm outside: %+v, %t", c, ok)
	}
	if c, ok = climate.HoursUntil([]climate.Fall{fast}, 2000, 2000, 0, true); !ok || !c.Already || c.Hours != 0 || c.Falls != 1 {
		t.Errorf("as cold already: %+v, %t", c, ok)
	}
	if c, ok = climate.HoursUntil([]climate.Fall{fast}, 2001, 2000, 0, false); !ok || c.Already || c.Hours <= 0 {
		t.Errorf("a hundredth above: %+v, %t", c, ok)
	}
	if c, ok := climate.HoursUntil(nil, 2800, 2000, 0, true); ok {
		t.Errorf("no fall: %+v", c)
	}
}

// It stays warm for an hour, as heavy things give their warmth off, falls by three degrees
// in the next and by one in each of two more.
func TestTheSteepestHourCounts(t *testing.T) {
	fell := warm(0, 2800, 1800, 2800, 3600, 2800, 5400, 2650, 7200, 2500, 10800, 2400, 14400, 2300)
	f, ok := climate.FallWithin(fell, climate.Span{From: 0, Until: 14401}, warm(0, 1300))
	if want := math.Log(15. / 12); !ok || f.PerHour != 300 || math.Abs(f.Rate-want) > 1e-12 || f.First != 2800 || f.Last != 2300 {
		t.Errorf("%+v, %t", f, ok)
	}
	if f, ok = climate.FallWithin(fell, climate.Span{From: 0, Until: 14401}, nil); !ok || f.PerHour != 300 || f.Rate != 0 {
		t.Errorf("the outside is not known: %+v, %t", f, ok)
	}
	// three quarters of an hour, by which it fell a degree and a half: two in an hour
	if f, ok = climate.FallWithin(warm(0, 2800, 900, 2790, 2700, 2650), climate.Span{From: 0, Until: 3000}, nil); !ok || math.Abs(f.PerHour-200) > 1e-9 {
		t.Errorf("a short one: %+v, %t", f, ok)
	}
}
