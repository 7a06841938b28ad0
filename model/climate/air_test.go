package climate_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"coilward/model"
	"coilward/model/climate"
)

func near(t *testing.T, name string, got, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within) {
		t.Errorf("%s: %g, want %g", name, got, want)
	}
}

// Computed from the formula of the WMO, and of FAO-56, equation 11.
func TestSaturation(t *testing.T) {
	for _, c := range []struct{ t, magnus, tetens float64 }{
		{0, 6.1120, .6108}, {10, 12.2603, 1.2280}, {15, 17.0167, 1.7053}, {20, 23.3260, 2.3383}, {24, 29.7659, 2.9839}, {25, 31.6006, 3.1678},
		{26, 33.5334, 3.3614}, {28, 37.7115, 3.7799}, {30, 42.3372, 4.2431}, {32, 47.4505, 4.7548}, {35, 56.1284, 5.6227}, {40, 73.6746, 7.3756},
	} {
		near(t, "Magnus", climate.SaturationMagnus(c.t), c.magnus, .00005)
		near(t, "Tetens", climate.SaturationTetens(c.t), c.tetens, .00005)
	}
}

// Printed in FAO Irrigation and Drainage Paper 56, table 2.3 and the worked examples of
// chapter 3.
func TestFAO56(t *testing.T) {
	for of, want := range map[float64]float64{15: 1.705, 24.5: 3.075, 18: 2.064, 25: 3.168, 19.5: 2.267} {
		near(t, "table", climate.SaturationTetens(of), want, .0005)
	}
	// Example 3: highest 24.5, lowest 15: the mean of both pressures, not the pressure of the mean.
	near(t, "example 3", (climate.SaturationTetens(24.5)+climate.SaturationTetens(15))/2, 2.39, .005)
	near(t, "example 3, of the mean", climate.SaturationTetens(19.75), 2.302, .0005)
	// Example 4: wet bulb 19.5, dry 25.6, at 87.9 kPa with a coefficient of 0.000662.
	near(t, "example 4", climate.SaturationTetens(19.5)-.000662*87.9*(25.6-19.5), 1.91, .005)
	// Example 5: lowest 18 at 82 %, highest 25 at 54 %; with the mean of 68 %.
	near(t, "example 5", (climate.SaturationTetens(18)*.82+climate.SaturationTetens(25)*.54)/2, 1.70, .005)
	near(t, "example 5, by the mean", (climate.SaturationTetens(25)+climate.SaturationTetens(18))/2*.68, 1.78, .005)
}

// Computed from both formulas.
func TestAir(t *testing.T) {
	for _, c := range []struct{ t, humidity, magnus, tetens, deficit, water float64 }{
		{20, 50, 9.255, 9.270, 1.1691, 8.62}, {24, 80, 20.334, 20.334, .5968, 17.36}, {25, 60, 16.693, 16.696, 1.2671, 13.78}, {28, 60, 19.509, 19.508, 1.5120, 16.28},
		{30, 60, 21.385, 21.381, 1.6972, 18.16}, {32, 40, 16.710, 16.706, 2.8529, 13.48}, {32, 50, 20.275, 20.268, 2.3774, 16.85},
	} {
		near(t, "dew point", climate.DewPoint(c.t, c.humidity), c.magnus, .0005)
		near(t, "dew point of FAO-56", climate.DewPointTetens(c.t, c.humidity), c.tetens, .0005)
		near(t, "deficit", climate.Deficit(c.t, c.humidity), c.deficit, .00005)
		near(t, "water", climate.AbsoluteHumidity(c.t, c.humidity), c.water, .005)
	}
	near(t, "warmed", climate.HumidityAt(25, 60, 32), 40.0, .05)
	near(t, "cooled", climate.HumidityAt(25, 60, 22), 71.9, .05)
}

func TestAir_Properties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		at := rapid.Float64Range(0, 50).Draw(t, "t")
		humidity := rapid.Float64Range(1, 100).Draw(t, "humidity")
		dew := climate.DewPoint(at, humidity)
		if dew > at+1e-9 {
			t.Fatalf("air of %g and %g %% is wet at %g", at, humidity, dew)
		}
		if got := climate.DewPoint(at, 100); math.Abs(got-at) > 1e-9 {
			t.Fatalf("saturated air of %g: %g", at, got)
		}
		// the dew point stays where air is warmed alone
		warmer := at + rapid.Float64Range(0, 10).Draw(t, "by")
		if got := climate.DewPoint(warmer, climate.HumidityAt(at, humidity, warmer)); math.Abs(got-dew) > 1e-9 {
			t.Fatalf("warmed from %g to %g: %g, want %g", at, warmer, got, dew)
		}
		// saturated at its dew point
		if got := climate.SaturationMagnus(dew); math.Abs(got-climate.SaturationMagnus(at)*humidity/100) > 1e-9*got {
			t.Fatalf("pressure %g", got)
		}
		if share := climate.SaturationTetens(at)*10/climate.SaturationMagnus(at) - 1; at >= 20 && at <= 35 && math.Abs(share) > .003 {
			t.Fatalf("the two differ by %g", share)
		}
	})
}

func TestStretches(t *testing.T) {
	length := func(tenths int64) model.Length { return model.Length{Tenths: tenths} }
	for _, c := range []struct {
		enclosure, animal int64
		percent           int
		enough, known     bool
	}{
		{12000, 12000, 100, true, true}, {11999, 12000, 99, false, true}, {24000, 12000, 200, true, true},
		{0, 12000, 0, false, false}, {12000, 0, 0, false, false}, {1, 1, 100, true, true}, {-1, 1, 0, false, false},
	} {
		if percent, enough, known := climate.Stretches(length(c.enclosure), length(c.animal)); percent != c.percent || enough != c.enough || known != c.known {
			t.Errorf("%+v: %d, %t, %t", c, percent, enough, known)
		}
	}
}

// The usual highest of the four zones as secondary pages on Ferguson and others 2010
// give it: 1.4, 3.0, 7.4, 9.5.
func TestFerguson(t *testing.T) {
	for index, want := range map[int]int{0: 1, 140: 1, 141: 2, 300: 2, 301: 3, 740: 3, 741: 4, 950: 4, 951: 0} {
		if got := climate.Ferguson(index); got != want {
			t.Errorf("%d: %d, want %d", index, got, want)
		}
	}
}
