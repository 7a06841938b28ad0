package wording_test

import (
	"testing"

	"coilward/model/wording"
)

func TestParseDose(t *testing.T) {
	l := languages(t)
	english, german := l.In("en", wording.Units{}), l.In("de", wording.Units{})
	for _, c := range []struct {
		text  *wording.Text
		typed string
		want  int64
		of    string
		why   string
	}{
		{english, "20", 0, "", "dose.unit"},
		{english, "20 mg/kg", 20_000_000, "mg", ""},
		{german, "0,2 mg / kg", 200_000, "mg", ""},
		{english, "0.2 mg per kg", 200_000, "mg", ""},
		{german, "200 µg/kg", 200_000, "mg", ""},
		{german, "200 mcg/kg", 200_000, "mg", ""},
		{english, "20 mL/kg", 20_000_000, "ml", ""},
		{english, "1.250 mg/kg", 0, "", "number.open"},
		{german, "1,250 mg/kg", 0, "", "number.open"},
		{english, "0.125 mg/kg", 125_000, "mg", ""},
		{english, "0 mg/kg", 0, "", "amount.zero"},
		{english, "-5", 0, "", "number.negative"},
		{english, "5 lb", 0, "", "amount.unit"},
		{english, "five", 0, "", "number.unreadable"},
		{english, "", 0, "", "text.empty"},
		{english, "0.0000001 mg/kg", 0, "", "amount.fine"},
		{english, "200000 mg/kg", 0, "", "amount.range"},
	} {
		n, of, err := c.text.ParseDose(c.typed)
		if why := reason(t, l, err); n != c.want || of != c.of || why != c.why {
			t.Errorf("%q: %d %s %s", c.typed, n, of, why)
		}
	}
	// 1 % w/v = 10 mg/mL, 1:1000 = 1 mg/mL: computed from what the signs mean.
	for typed, want := range map[string]int64{"50": 50_000_000, "50 mg/ml": 50_000_000, "2.5 %": 25_000_000, "1 %": 10_000_000, "1:1000": 1_000_000, "1 : 10000": 100_000} {
		if n, err := english.ParseConcentration(typed); n != want || err != nil {
			t.Errorf("%q: %d, %v", typed, n, err)
		}
	}
	for typed, why := range map[string]string{"0": "amount.zero", "1:0": "amount.unit", "1:3": "amount.fine", "50 mg": "amount.unit"} {
		if _, err := english.ParseConcentration(typed); reason(t, l, err) != why {
			t.Errorf("%q: %v, want %s", typed, err, why)
		}
	}
	for typed, want := range map[string]int64{"0,3": 300_000, "0,3 ml": 300_000, "40 µl": 40_000, "2": 2_000_000} {
		if n, err := german.ParseVolume(typed); n != want || err != nil {
			t.Errorf("%q: %d, %v", typed, n, err)
		}
	}
	for typed, want := range map[string]int{"24": 24, "12 h": 12, "3 days": 72, "3 Tage": 72, "2 Wochen": 336} {
		if n, err := german.ParseInterval(typed); n != want || err != nil {
			t.Errorf("%q: %d, %v", typed, n, err)
		}
	}
	for typed, why := range map[string]string{"0": "interval.zero", "": "text.empty", "daily": "interval.unreadable", "3 moons": "interval.unit"} {
		if _, err := english.ParseInterval(typed); reason(t, l, err) != why {
			t.Errorf("%q: %v, want %s", typed, err, why)
		}
	}
}

// What is read is written so that it is read the same again, in either language.
func FuzzParseDose(f *testing.F) {
	for _, typed := range []string{"20", "0,2 mg/kg", "2.5 %", "1:1000", "1.250", "20 ml/kg", "٣", "1' 5"} {
		f.Add(typed)
	}
	l := languages(f)
	f.Fuzz(func(t *testing.T, typed string) {
		for _, code := range []string{"en", "de"} {
			text := l.In(code, wording.Units{})
			again := func(n int64, unit string, read func(string) (int64, error)) {
				if n <= 0 || n > 100_000_000_000 {
					t.Fatalf("%q: %d", typed, n)
				}
				if m, err := read(text.Millionths(n) + unit); err == nil && m != n {
					t.Fatalf("%q: %d, then %d", typed, n, m)
				}
			}
			if n, of, err := text.ParseDose(typed); err == nil {
				again(n, " "+of+"/kg", func(s string) (int64, error) { m, _, err := text.ParseDose(s); return m, err })
			}
			if n, err := text.ParseConcentration(typed); err == nil {
				again(n, " mg/ml", text.ParseConcentration)
			}
			if n, err := text.ParseVolume(typed); err == nil {
				again(n, " ml", text.ParseVolume)
			}
			if hours, err := text.ParseInterval(typed); err == nil && (hours < 1 || hours > 9999*168) {
				t.Fatalf("%q: every %d hours", typed, hours)
			}
		}
	})
}
