package wording_test

import (
	"errors"
	"math"
	"strings"
	"testing"
	"testing/fstest"
	"time"
	"unicode/utf8"

	"pgregory.net/rapid"

	"coilward/assets"
	"coilward/model"
	"coilward/model/wording"
)

func languages(t testing.TB) *wording.Languages {
	t.Helper()
	l, err := wording.Load(assets.Text())
	if err != nil {
		t.Fatal(err)
	}
	return l
}

var today = model.NewDay(2027, 6, 9)

func TestQuantitiesAreWrittenByLanguageAndUnit(t *testing.T) {
	l := languages(t)
	metric, imperial := wording.Units{}, wording.Units{Imperial: true, Fahrenheit: true}
	for _, c := range []struct {
		code  string
		units wording.Units
		say   func(*wording.Text) string
		want  string
	}{
		{"en", metric, mass(1_432_000), "1432 g"},
		{"de", metric, mass(1_432_000), "1432 g"},
		{"de", metric, mass(62_400), "62,4 g"},
		{"en", metric, mass(99_960), "100 g"},
		{"en", metric, mass(12_345_000), "12.35 kg"},
		{"de", metric, mass(9_999_500), "10 kg"},
		{"en", imperial, mass(1_432_000), "3 lb 2.5 oz"},
		{"en", imperial, mass(60_000), "2.12 oz"},
		{"en", imperial, mass(453_592), "1 lb"},
		{"en", imperial, mass(452_034), "15.95 oz"},
		{"en", imperial, mass(452_175), "15.95 oz"},
		{"en", metric, length(85), "8.5 mm"},
		{"de", metric, length(11_240), "112,4 cm"},
		{"en", imperial, length(254), "1 in"},
		{"en", metric, warmth(3150), "31.5 °C"},
		{"de", imperial, warmth(3150), "88,7 °F"},
		{"en", metric, func(t *wording.Text) string { return t.Percent(6250) }, "62.5 %"},
		{"de", metric, func(t *wording.Text) string { return t.Number(1234567) }, "1.234.567"},
		{"en", metric, func(t *wording.Text) string { return t.Number(-12345) }, "−12,345"},
	} {
		got := strings.ReplaceAll(c.say(l.In(c.code, c.units)), "\u00a0", " ")
		if got != c.want {
			t.Errorf("%s %+v: %q, want %q", c.code, c.units, got, c.want)
		}
	}
}

func mass(mg int64) func(*wording.Text) string {
	return func(t *wording.Text) string { return t.Mass(model.Mass{Milligrams: mg}) }
}

func length(tenths int64) func(*wording.Text) string {
	return func(t *wording.Text) string { return t.Length(model.Length{Tenths: tenths}) }
}

func warmth(c int64) func(*wording.Text) string {
	return func(t *wording.Text) string { return t.Temperature(model.Temperature{Hundredths: c}) }
}

func TestDaysAreWrittenByLanguage(t *testing.T) {
	l := languages(t)
	day := model.NewDay(2027, 3, 3)
	for _, c := range []struct{ code, got, want string }{
		{"en", l.In("en", wording.Units{}).Day(day), "3 March 2027"},
		{"de", l.In("de", wording.Units{}).Day(day), "3. März 2027"},
		{"en", l.In("en", wording.Units{}).DayShort(day), "3 Mar 2027"},
		{"en", l.In("en", wording.Units{}).Weekday(day), "Wednesday"},
		{"de", l.In("de", wording.Units{}).MonthYear(day), "März 2027"},
		{"en", l.In("en", wording.Units{}).Ago(today-27, today), "27 days ago"},
		{"de", l.In("de", wording.Units{}).Ago(today-27, today), "vor 27 Tagen"},
		{"de", l.In("de", wording.Units{}).Ago(today-1, today), "gestern"},
		{"de", l.In("de", wording.Units{}).Ago(today-400, today), "vor 13 Monaten"},
		{"en", l.In("en", wording.Units{}).Ago(today+3, today), "in 3 days"},
		{"en", l.In("en", wording.Units{}).Age(exactly(2022, 8, 1), today), "4 years 10 months"},
		{"de", l.In("de", wording.Units{}).Age(exactly(2027, 5, 8), today), "4 Wochen"},
		{"en", l.In("en", wording.Units{}).Age(model.Date{Day: model.NewDay(2020, 1, 1), Precision: model.ToYear}, today), "about 7 years"},
		{"en", l.In("en", wording.Units{}).Age(model.Date{}, today), ""},
		{"de", l.In("de", wording.Units{}).Date(model.Date{Day: model.NewDay(2023, 6, 1), Precision: model.ToMonth}), "Juni 2023"},
		{"en", l.In("en", wording.Units{}).Date(model.Date{}), "not known"},
	} {
		if c.got != c.want {
			t.Errorf("%s: %q, want %q", c.code, c.got, c.want)
		}
	}
}

func exactly(year int, month time.Month, day int) model.Date {
	return model.Date{Day: model.NewDay(year, month, day), Precision: model.ToDay}
}

func TestTypedMass(t *testing.T) {
	l := languages(t)
	for _, c := range []struct {
		code, typed string
		mg          int64
		reason      string
	}{
		{"en", "1432", 1_432_000, ""},
		{"en", "1,432 g", 1_432_000, ""},
		{"de", "1.432 g", 1_432_000, ""},
		{"en", "1.432 kg", 1_432_000, ""},
		{"de", "1,432 kg", 1_432_000, ""},
		{"en", "0,085 kg", 85_000, ""},
		{"de", "1432\u202fg", 1_432_000, ""},
		{"de", "1\u2009432\u00a0g", 1_432_000, ""},
		{"en", "1432.5", 1_432_500, ""},
		{"en", "3 lb 2 oz", 1_417_476, ""},
		{"en", "1 kg 432 g", 1_432_000, ""},
		{"en", "62g", 62_000, ""},
		{"de", "1.432", 0, "number.open"},
		{"en", "1,432", 0, "number.open"},
		{"en", "1.432", 0, "number.open"},
		{"de", "1,432 g", 0, "number.open"},
		{"en", "0", 0, "mass.zero"},
		{"en", "0.0001 g", 0, "mass.zero"},
		{"en", "-5", 0, "number.negative"},
		{"en", "NaN", 0, "number.unreadable"},
		{"en", "1e308", 0, "number.unreadable"},
		{"en", "1\x00", 0, "text.control"},
		{"en", strings.Repeat("9", 10_000), 0, "text.long"},
		{"en", strings.Repeat("9", 90), 0, "mass.range"},
		{"en", "14,32,1 g", 0, "number.groups"},
		{"en", "3 oz 2 lb", 0, "unit.order"},
		{"en", "3 lb 20 oz", 0, "unit.order"},
		{"en", "3 stone", 0, "unit.unknown"},
		{"en", "  ", 0, "text.empty"},
	} {
		m, err := l.In(c.code, wording.Units{}).ParseMass(c.typed)
		if reason(t, l, err) != c.reason || m.Milligrams != c.mg {
			t.Errorf("%s %.30q: %d mg, %q, want %d, %q", c.code, c.typed, m.Milligrams, reason(t, l, err), c.mg, c.reason)
		}
		if err == nil && m.Typed != c.typed {
			t.Errorf("%q is kept as %q", c.typed, m.Typed)
		}
	}
}

// reason is the refusal's reason, once it has shown that it can be said in every
// language with its field and value.
func reason(t testing.TB, l *wording.Languages, err error) string {
	if err == nil {
		return ""
	}
	var r *model.Refusal
	if !errors.As(err, &r) {
		t.Errorf("%v is no refusal", err)
		return err.Error()
	}
	for _, code := range []string{"en", "de", wording.Pseudo} {
		said := l.In(code, wording.Units{}).Refusal(r)
		if strings.Contains(said, "⟦") || strings.ContainsRune(said, 0) || !utf8.ValidString(said) {
			t.Errorf("%s: %q", code, said)
		}
		if len(said) > 1000 {
			t.Errorf("%s: a refusal of %d bytes", code, len(said))
		}
	}
	return r.Reason
}

func TestTypedHumidity(t *testing.T) {
	l := languages(t)
	for _, c := range []struct {
		typed, reason string
		hundredths    int
	}{
		{"55", "", 5500}, {"55,5 %", "", 5550}, {"55.5%", "", 5550}, {" 60 Prozent ", "", 6000}, {"0", "", 0}, {"100", "", 10_000},
		{"100.1", "humidity.range", 0}, {"-3", "humidity.unreadable", 0}, {"55 abc", "humidity.unreadable", 0}, {"", "text.empty", 0}, {"5 5", "humidity.unreadable", 0},
	} {
		for _, language := range []string{"en", "de"} {
			got, err := l.In(language, wording.Units{}).ParseHumidity(c.typed)
			if got != c.hundredths || reason(t, l, err) != c.reason {
				t.Errorf("%q in %s: %d, %q, want %d, %q", c.typed, language, got, reason(t, l, err), c.hundredths, c.reason)
			}
		}
	}
}

func TestTypedLengthAndTemperature(t *testing.T) {
	l := languages(t)
	en, imperial := l.In("en", wording.Units{}), l.In("en", wording.Units{Imperial: true, Fahrenheit: true})
	for _, c := range []struct {
		typed  string
		parse  func(string) (model.Length, error)
		tenths int64
		reason string
	}{
		{"8 mm", en.ParseLength, 80, ""}, {"1.2 cm", en.ParseLength, 120, ""}, {"112", en.ParseLength, 11200, ""},
		{"8", en.ParseSize, 80, ""}, {"0.5", imperial.ParseSize, 127, ""}, {"3 ft 10 in", en.ParseLength, 11684, ""},
		{"1 m 12 cm", en.ParseLength, 11200, ""}, {`44"`, en.ParseLength, 11176, ""}, {"11 m", en.ParseLength, 0, "length.range"}, {"0 mm", en.ParseLength, 0, "length.zero"},
	} {
		got, err := c.parse(c.typed)
		if got.Tenths != c.tenths || reason(t, l, err) != c.reason {
			t.Errorf("%q: %d, %q, want %d, %q", c.typed, got.Tenths, reason(t, l, err), c.tenths, c.reason)
		}
	}
	for _, c := range []struct {
		typed, reason string
		hundredths    int64
	}{
		{"31.5", "", 3150}, {"31,5 °C", "", 3150}, {"88.7 F", "", 3150}, {"-3", "", -300}, {"31.005 C", "", 3101}, {"0", "", 0},
		{"400", "temperature.range", 0}, {"warm", "number.unreadable", 0},
	} {
		got, err := en.ParseTemperature(c.typed)
		if got.Hundredths != c.hundredths || reason(t, l, err) != c.reason {
			t.Errorf("%q: %d, %q, want %d, %q", c.typed, got.Hundredths, reason(t, l, err), c.hundredths, c.reason)
		}
	}
}

func TestTypedDays(t *testing.T) {
	l := languages(t)
	third := model.NewDay(2027, 3, 3)
	for _, c := range []struct {
		typed, reason string
		want          model.Day
	}{
		{"3.3.2027", "", third}, {"3. 3. 2027", "", third}, {"3 Mar 2027", "", third}, {"3. März 2027", "", third}, {"March 3, 2027", "", third},
		{"2027-03-03", "", third}, {"3/3/2027", "", third}, {"3.3.27", "", third}, {"3.3.", "", third}, {"3rd March", "", third},
		{"13/3/2027", "", third + 10}, {"3.3.98", "", model.NewDay(1998, 3, 3)}, {"9.12.", "", model.NewDay(2026, 12, 9)},
		{"today", "", today}, {"Gestern", "", today - 1}, {"vorgestern", "", today - 2}, {"3 days ago", "", today - 3}, {"vor 3 Tagen", "", today - 3},
		{"29 February", "", model.NewDay(2024, 2, 29)},
		{"3/4/2027", "day.open", 0}, {"31 April 2027", "day.none", 0}, {"29.2.2027", "day.none", 0}, {"30 February", "day.none", 0},
		{"1.1.0", "day.year", 0}, {"0000-01-01", "day.year", 0}, {"10000-01-01", "day.year", 0}, {"1.1.10000", "day.year", 0},
		{"soon", "day.unreadable", 0}, {"3 Foo 2027", "day.unreadable", 0}, {"", "day.empty", 0}, {"1.1.2027\x00", "text.control", 0},
	} {
		for _, code := range []string{"en", "de"} {
			got, err := l.In(code, wording.Units{}).ParseDay(c.typed, today)
			if got != c.want || reason(t, l, err) != c.reason {
				t.Errorf("%s %q: %v, %q, want %v, %q", code, c.typed, got, reason(t, l, err), c.want, c.reason)
			}
		}
	}
}

func TestTypedDatesAndTimes(t *testing.T) {
	l := languages(t)
	en := l.In("en", wording.Units{})
	june := model.Date{Day: model.NewDay(2023, 6, 1), Precision: model.ToMonth}
	for typed, want := range map[string]model.Date{
		"June 2023": june, "Juni 2023": june, "6/2023": june, "2023-06": june, "2023": {Day: model.NewDay(2023, 1, 1), Precision: model.ToYear},
		"3.6.2023": {Day: model.NewDay(2023, 6, 3), Precision: model.ToDay},
	} {
		if got, err := en.ParseDate(typed, today); err != nil || got != want {
			t.Errorf("%q: %v, %v, want %v", typed, got, err, want)
		}
	}
	for typed, want := range map[string]string{"13/2023": "date.unreadable", "0000": "day.year", "12345": "day.year", "Foo 2023": "date.unreadable"} {
		if _, err := en.ParseDate(typed, today); reason(t, l, err) != want {
			t.Errorf("%q: %v, want %s", typed, err, want)
		}
	}
	for typed, want := range map[string]int{"14:07": 847, "14.07 Uhr": 847, "2:07 pm": 847, "12 am": 0, "9 Uhr": 540} {
		if got, err := en.ParseTime(typed); err != nil || got != want {
			t.Errorf("%q: %v, %v, want %v", typed, got, err, want)
		}
	}
	for typed, want := range map[string]string{"24:00": "time.none", "9": "time.unreadable", "13 pm": "time.none", "7:60": "time.none"} {
		if _, err := en.ParseTime(typed); reason(t, l, err) != want {
			t.Errorf("%q: %v, want %s", typed, err, want)
		}
	}
}

func TestWhatIsWrittenIsReadTheSame(t *testing.T) {
	l := languages(t)
	rapid.Check(t, func(r *rapid.T) {
		voice := l.In(rapid.SampledFrom([]string{"en", "de"}).Draw(r, "language"), wording.Units{Imperial: rapid.Bool().Draw(r, "imperial"), Fahrenheit: rapid.Bool().Draw(r, "fahrenheit")})
		said := voice.Mass(model.Mass{Milligrams: rapid.Int64Range(1000, 400_000_000).Draw(r, "mg")})
		if m, err := voice.ParseMass(said); err != nil || voice.Mass(m) != said {
			r.Fatalf("%q is read as %q: %v", said, voice.Mass(m), err)
		}
		said = voice.Length(model.Length{Tenths: rapid.Int64Range(5, 100_000).Draw(r, "tenths")})
		if m, err := voice.ParseLength(said); err != nil || voice.Length(m) != said {
			r.Fatalf("%q is read as %q: %v", said, voice.Length(m), err)
		}
		said = voice.Temperature(model.Temperature{Hundredths: rapid.Int64Range(-1900, 5900).Draw(r, "hundredths")})
		if m, err := voice.ParseTemperature(said); err != nil || voice.Temperature(m) != said {
			r.Fatalf("%q is read as %q: %v", said, voice.Temperature(m), err)
		}
		day := model.Day(rapid.IntRange(int(model.NewDay(1900, 1, 1)), int(model.NewDay(2199, 12, 31))).Draw(r, "day"))
		for _, said := range []string{voice.Day(day), voice.DayShort(day), day.String()} {
			if got, err := voice.ParseDay(said, today); err != nil || got != day {
				r.Fatalf("%q is read as %v: %v", said, got, err)
			}
		}
	})
}

func TestPseudoLanguageIsLongerAndKeepsItsGaps(t *testing.T) {
	l := languages(t)
	en, pseudo := l.In("en", wording.Units{}), l.In(wording.Pseudo, wording.Units{})
	for _, key := range l.Keys("en") {
		english, made := []rune(en.Say(key)), []rune(pseudo.Say(key))
		if made[0] != '[' && made[0] != '⟦' {
			t.Errorf("%s: %s", key, string(made))
		}
		if strings.Contains(string(english), "⟦") {
			continue // a gap or a count is wanted
		}
		if len(made)*10 < len(english)*14-10 {
			t.Errorf("%s: %d signs of %d", key, len(made), len(english))
		}
	}
	if got := pseudo.Refusal(&model.Refusal{Field: "mass", Value: "0", Reason: "mass.zero"}); !strings.Contains(got, "0") {
		t.Errorf("the value is lost: %s", got)
	}
}

func TestLoadRefusesAKeyTwiceAndSaysWhere(t *testing.T) {
	_, err := wording.Load(fstest.MapFS{
		"en/a.json": {Data: []byte(`{"x.y": "one"}`)},
		"en/b.json": {Data: []byte(`{"x.y": "two"}`)},
	})
	if err == nil || !strings.Contains(err.Error(), "en/a.json") || !strings.Contains(err.Error(), "en/b.json") {
		t.Fatalf("want both files named, got %v", err)
	}
	if _, err := wording.Load(fstest.MapFS{"de/a.json": {Data: []byte(`{}`)}}); err == nil {
		t.Fatal("catalogues without English are taken")
	}
}

func TestMissingTextsShow(t *testing.T) {
	l, err := wording.Load(fstest.MapFS{"en/a.json": {Data: []byte(`{"a.gap": "to {{.Name}}"}`)}})
	if err != nil {
		t.Fatal(err)
	}
	en := l.In("en", wording.Units{})
	if got := en.Say("no.such"); got != "⟦no.such⟧" {
		t.Error(got)
	}
	if got := en.Say("a.gap"); got != "to ⟦…⟧" {
		t.Error(got)
	}
	if got := l.Nearest("de_AT.UTF-8"); got != "en" {
		t.Errorf("nearest of a language that is not there: %s", got)
	}
}

func FuzzParseMass(f *testing.F) {
	for _, seed := range []string{"1432", "1,432 g", "3 lb 2 oz", "0,085 kg", "1'000", "9.9.9", "1 2"} {
		f.Add(seed, true)
	}
	l := languages(f)
	f.Fuzz(func(t *testing.T, typed string, german bool) {
		code := map[bool]string{true: "de", false: "en"}[german]
		m, err := l.In(code, wording.Units{}).ParseMass(typed)
		if err == nil && (m.Milligrams <= 0 || m.Typed != typed) {
			t.Errorf("%q: %+v", typed, m)
		}
		reason(t, l, err)
	})
}

func FuzzParseLength(f *testing.F) {
	f.Add("3 ft 10 in")
	f.Add("8 mm")
	l := languages(f)
	f.Fuzz(func(t *testing.T, typed string) {
		m, err := l.In("en", wording.Units{}).ParseLength(typed)
		if err == nil && m.Tenths <= 0 {
			t.Errorf("%q: %+v", typed, m)
		}
		reason(t, l, err)
	})
}

func FuzzParseTemperature(f *testing.F) {
	f.Add("31,5 °C")
	f.Add("-3 F")
	l := languages(f)
	f.Fuzz(func(t *testing.T, typed string) {
		_, err := l.In("de", wording.Units{}).ParseTemperature(typed)
		reason(t, l, err)
	})
}

func FuzzParseDay(f *testing.F) {
	for _, seed := range []string{"3.3.2027", "3 Mar 2027", "gestern", "2027-03-03", "3/4", "June 2023", "99999 days ago"} {
		f.Add(seed)
	}
	l := languages(f)
	f.Fuzz(func(t *testing.T, typed string) {
		en := l.In("en", wording.Units{})
		_, err := en.ParseDay(typed, today)
		reason(t, l, err)
		_, err = en.ParseDate(typed, today)
		reason(t, l, err)
		_, err = en.ParseTime(typed)
		reason(t, l, err)
	})
}

// A stored value may be anything that fits: it is told and never ends the
// program.
func TestEveryStoredValueIsTold(t *testing.T) {
	l := languages(t)
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.OneOf(rapid.Int64(), rapid.SampledFrom([]int64{math.MinInt64, math.MinInt64 + 1, -1, 0, math.MaxInt64, math.MaxInt64 - 1, math.MaxInt64 / 9})).Draw(t, "n")
		for _, units := range []wording.Units{{}, {Imperial: true, Fahrenheit: true}} {
			text := l.In("en", units)
			for name, told := range map[string]string{
				"mass": text.Mass(model.Mass{Milligrams: n}), "length": text.Length(model.Length{Tenths: n}), "temperature": text.Temperature(model.Temperature{Hundredths: n}), "percent": text.Percent(int(n)),
			} {
				if minus := strings.HasPrefix(told, "−"); strings.Contains(told, "-") || name != "temperature" && minus != (n < 0) && strings.ContainsAny(told, "123456789") {
					t.Fatalf("%s of %d is told as %q", name, n, told)
				}
			}
		}
	})
}

// What stands on the two lines is the age as on one; only an age of years and months
// takes both.
func TestAgeInTwoIsTheAge(t *testing.T) {
	l := languages(t)
	for _, code := range []string{"en", "de"} {
		text := l.In(code, wording.Units{})
		rapid.Check(t, func(r *rapid.T) {
			since := model.Date{Day: model.Day(rapid.Int32Range(0, 25_000).Draw(r, "since")), Precision: rapid.SampledFrom([]model.Precision{"", model.ToDay, model.ToMonth, model.ToYear}).Draw(r, "precision")}
			on := since.Day + model.Day(rapid.Int32Range(-40, 15_000).Draw(r, "days"))
			above, below := text.AgeInTwo(since, on)
			if got, want := strings.TrimSpace(above+" "+below), text.Age(since, on); got != want {
				r.Fatalf("%s: %q, want %q", code, got, want)
			}
			if months := below != ""; months != (len(strings.FieldsFunc(text.Age(since, on), func(c rune) bool { return c < '0' || c > '9' })) == 2) {
				r.Fatalf("%s: below stands %q of %q", code, below, text.Age(since, on))
			}
		})
	}
}

// A gap that ends with a full stop, as a short month does in German, takes that of the sentence.
func TestAFullStopIsNotDoubled(t *testing.T) {
	text := languages(t).In("de", wording.Units{})
	for said, want := range map[string]string{"5. Dez.": "Wieder ansehen am 5. Dez.", "5. Mai": "Wieder ansehen am 5. Mai.", "hm…": "Wieder ansehen am hm….", "so ...": "Wieder ansehen am so ..."} {
		if got := text.Say("check.again-in", wording.Gaps{"Day": said}); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
	if got := text.Say("handover.report", wording.Gaps{"Number": "A."}); got != "Bericht A." {
		t.Errorf("%q", got)
	}
	if got := text.Say("chance.step", wording.Gaps{"Before": "a.", "After": "b."}); got != "a. → b." {
		t.Errorf("within and at the end: %q", got)
	}
}
