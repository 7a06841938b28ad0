package logger_test

import (
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"golang.org/x/text/encoding/unicode"

	"coilward/assets"
	"coilward/export/logger"
	"coilward/model"
	"coilward/model/climate"
	"coilward/model/wording"
)

var known = sync.OnceValues(func() (logger.Words, error) {
	languages, err := wording.Load(assets.Text())
	if err != nil {
		return nil, err
	}
	var all []*wording.Text
	for _, code := range languages.Codes() {
		all = append(all, languages.In(code, wording.Units{}))
	}
	return logger.NewWords(all...), nil
})

func words(t testing.TB) logger.Words {
	t.Helper()
	w, err := known()
	if err != nil {
		t.Fatal(err)
	}
	return w
}

func berlin(t testing.TB) *time.Location {
	t.Helper()
	loc, err := time.LoadLocation("Europe/Berlin")
	if err != nil {
		t.Fatal(err)
	}
	return loc
}

var later = time.Date(2030, 1, 1, 0, 0, 0, 0, time.UTC).Unix()

// hottest is what no snake is kept at: common practice, no source.
const hottest = 5000

// taken reads a file as a person would who has no question.
func taken(t testing.TB, content string, answers logger.Answers) (logger.Settled, logger.Layout, error) {
	t.Helper()
	layout, err := logger.Look(strings.NewReader(content), "log.csv", words(t))
	if err != nil {
		return logger.Settled{}, layout, err
	}
	rec, err := logger.Read(strings.NewReader(content), "log.csv", layout, nil)
	if err != nil {
		return logger.Settled{}, layout, err
	}
	return rec.Settle(answers, berlin(t), later, hottest), layout, nil
}

// told writes readings as "2027-03-01 10:00:00Z 23.50 55.00".
func told(all []climate.Reading) (lines []string) {
	for _, r := range all {
		line := time.Unix(r.At, 0).UTC().Format("2006-01-02 15:04:05Z")
		if r.Temperature != climate.NoTemperature {
			line += fmt.Sprintf(" %.2f", float64(r.Temperature)/100)
		}
		if r.Humidity != climate.NoHumidity {
			line += fmt.Sprintf(" %.2f%%", float64(r.Humidity)/100)
		}
		lines = append(lines, line)
	}
	return lines
}

// Every way in which loggers write the same two readings.
func TestLayouts(t *testing.T) {
	want := []string{"2027-03-01 09:00:00Z 23.50 55.10%", "2027-03-01 09:10:00Z -0.50 60.00%"}
	utf16 := func(order unicode.Endianness, mark unicode.BOMPolicy, text string) string {
		out, err := unicode.UTF16(order, mark).NewEncoder().String(text)
		if err != nil {
			t.Fatal(err)
		}
		return out
	}
	semicolons := "Datum;Uhrzeit;Temperatur (°C);rel. Luftfeuchte (%)\r\n01.03.2027;10:00:00;23,5;55,1\r\n01.03.2027;10:10:00;-0,5;60\r\n"
	for name, content := range map[string]string{
		"commas and points":      "Timestamp,Temperature (°C),Humidity (%)\n2027-03-01 10:00:00,23.5,55.1\n2027-03-01 10:10:00,-0.5,60.0\n",
		"another order":          "Humidity (%RH);Battery;Time;Date;Temp °C\n55.1;3.1;10:00;2027-03-01;23.5\n60.0;3.1;10:10;2027-03-01;-0.5\n",
		"semicolons, commas":     semicolons,
		"tabs":                   strings.ReplaceAll(semicolons, ";", "\t"),
		"with a mark":            "\xef\xbb\xbf" + semicolons,
		"UTF-16":                 utf16(unicode.LittleEndian, unicode.UseBOM, semicolons),
		"UTF-16, the other way":  utf16(unicode.BigEndian, unicode.UseBOM, semicolons),
		"UTF-16 without a mark":  utf16(unicode.LittleEndian, unicode.IgnoreBOM, semicolons),
		"and the other way":      utf16(unicode.BigEndian, unicode.IgnoreBOM, semicolons),
		"Windows":                strings.ReplaceAll(semicolons, "°", "\xb0"),
		"quoted":                 "\"Date/Time\",\"Temperature\",\"Relative humidity\"\n\"2027-03-01 10:00:00\",\"23,5 °C\",\"55,1 %\"\n\"2027-03-01 10:10:00\",\"-0,5 °C\",\"60 %\"\n",
		"month first":            "Date,Time,Temperature °C,RH\n02/28/2027,10:00,1,1\n03/01/2027,10:00,23.5,55.1\n03/01/2027,10:10,-0.5,60\n",
		"month first, am and pm": "Date Time,Temperature °C,RH\n2/28/2027 10:00 PM,1,1\n3/1/2027 10:00:00 AM,23.5,55.1\n3/1/2027 10:10:00 AM,-0.5,60\n",
		"Fahrenheit":             "time,temperature °F,humidity\n2027-03-01 10:00,74.3,55.1\n2027-03-01 10:10,31.1,60\n",
		"offsets":                "time,temp (C),rh\n2027-03-01T10:00:00+01:00,23.5,55.1\n2027-03-01T09:10:00Z,-0.5,60\n",
		"an offset of its own":   "time,utc offset,temp (C),rh\n2027-03-01 04:00:00,-05:00,23.5,55.1\n2027-03-01 11:10:00,+2,-0.5,60\n",
		"a zone of its own":      "time,time zone,temp (C),rh\n2027-03-01 04:00:00,America/New_York,23.5,55.1\n2027-03-01 10:10:00,Europe/Berlin,-0.5,60\n",
		"with lines before":      "Logger: LR 7\nSerial number: 12\n\nNo.,Date and time,Temperature °C,Dew point °C,RH %\n1,2027-03-01 10:00:00,23.5,14,55.1\n2,2027-03-01 10:10:00,-0.5,-8,60\n",
		"without a heading":      "2027-03-01 10:00:00;23.5 °C;55.1 %\n2027-03-01 10:10:00;-0.5 °C;60 %\n",
		"decimals of seconds":    "time;temp c;rh\n2027-03-01 10:00:00.250;23.5;55.1\n2027-03-01 10:10:00,999;-0.5;60\n",
		"a sign of minus":        "time;temp c;rh\n2027-03-01 10:00;+23.5;55.1\n2027-03-01 10:10;−0.5;60\n",
		"newest first":           "time;temp c;rh\n2027-03-01 10:10;-0.5;60\n2027-03-01 10:00;23.5;55.1\n",
		"a last empty column":    "time;temp c;rh;\n2027-03-01 10:00;23.5;55.1;\n2027-03-01 10:10;-0.5;60;\n",
		"no name for the last":   "time;temp c;rh\n2027-03-01 10:00;23.5;55.1;\n2027-03-01 10:10;-0.5;60;\n",
		"a short year":           "time;temp c;rh\n28.02.27 10:00;1;1\n01.03.27 10:00;23.5;55.1\n01.03.27 10:10;-0.5;60\n",
	} {
		got, layout, err := taken(t, content, logger.Answers{})
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		lines := told(got.Readings)
		lines = lines[max(0, len(lines)-2):] // some have one before that tells the order
		if !slices.Equal(lines, want) || got.Open.Any() || got.Bad != 0 {
			t.Errorf("%s: %q, open %+v, bad %+v, by %+v", name, lines, got.Open, got.Faults, layout)
		}
	}
}

// What a file leaves open is asked, and not taken as it may be.
func TestQuestions(t *testing.T) {
	open := func(content string, want logger.Open) {
		t.Helper()
		got, _, err := taken(t, content, logger.Answers{})
		if err != nil || got.Open != want {
			t.Errorf("%q: %v, open %+v, want %+v", content, err, got.Open, want)
		}
	}
	const head, degrees = "time;temp;rh\n", "time;temp °C;rh\n"
	open(degrees+"03/04/2027 10:00;23.5;50\n03/04/2027 10:10;23.5;50\n", logger.Open{Order: true})
	open(degrees+"03/04/2027 10:00;23.5;50\n04/04/2027 10:00;23.5;50\n05/04/2027 10:00;23.5;50\n", logger.Open{}) // as months it would leap
	open(degrees+"04/03/2027 10:00;23.5;50\n04/04/2027 10:00;23.5;50\n04/05/2027 10:00;23.5;50\n", logger.Open{})
	open(degrees+"13/04/2027 10:00;23.5;50\n04/13/2027 10:00;23.5;50\n", logger.Open{Order: true})
	open(degrees+"2027-04-03 10:00;23.5;50\n", logger.Open{})
	open(head+"2027-04-03 10:00;23.5 °C;50\n", logger.Open{})
	// 40 °F are a frosty day out of doors, and 40 °C a warm spot: it is asked
	for _, degrees := range []string{"23.5", "40", "45", "49.99", "-3"} {
		open(head+"2027-04-03 10:00;"+degrees+";50\n", logger.Open{Unit: true})
	}
	open(head+"2027-04-03 10:00;50;50\n", logger.Open{})
	open("time;rh\n2027-04-03 10:00;50\n", logger.Open{})
	open(head+"2027-04-03 10:00;60;50\n2027-04-03 10:10;40;50\n", logger.Open{Unit: true})
	open(head+"2027-04-03 10:00;78.2;50\n2027-04-03 10:10;81;50\n", logger.Open{})
	got, _, _ := taken(t, head+"2027-04-03 10:00;78.8;50\n", logger.Answers{})
	if got.Unit != logger.Fahrenheit || got.Readings[0].Temperature != 2600 {
		t.Errorf("78.8 degrees are %+v", got)
	}
	for order, want := range map[logger.Order]string{logger.DayFirst: "2027-04-03 08:00:00Z 23.50 50.00%", logger.MonthFirst: "2027-03-04 09:00:00Z 23.50 50.00%"} {
		if got, _, _ := taken(t, degrees+"03/04/2027 10:00;23.5;50\n", logger.Answers{Order: order}); got.Open.Any() || told(got.Readings)[0] != want {
			t.Errorf("%s: %v, %+v", order, told(got.Readings), got.Open)
		}
	}
	if got, _, _ := taken(t, head+"2027-04-03 10:00;60;50\n", logger.Answers{Unit: logger.Fahrenheit}); got.Open.Any() || got.Readings[0].Temperature != 1556 {
		t.Errorf("60 °F: %+v", got)
	}
}

// file writes readings every so often by a clock.
func file(from time.Time, step time.Duration, n int, loc *time.Location) string {
	var b strings.Builder
	b.WriteString("time;temp c\n")
	for i := range n {
		fmt.Fprintf(&b, "%s;%d.0\n", from.Add(time.Duration(i)*step).In(loc).Format("2006-01-02 15:04:05"), 20+i%5)
	}
	return b.String()
}

// In Germany the clocks went from 02:00 to 03:00 on 28 March 2027 and from 03:00 to
// 02:00 on 31 October 2027. Source: EU directive 2000/84, the last Sunday at 01:00 UTC.
func TestClocksThatChange(t *testing.T) {
	loc := berlin(t)
	winter, summer := time.FixedZone("", 3600), time.FixedZone("", 7200)
	spring, autumn := time.Date(2027, 3, 27, 22, 0, 0, 0, time.UTC), time.Date(2027, 10, 30, 21, 0, 0, 0, time.UTC)
	for name, c := range map[string]struct {
		from    time.Time
		step    time.Duration
		clock   *time.Location
		answers logger.Answers
		open    bool
	}{
		"spring, changed":                     {spring, 10 * time.Minute, loc, logger.Answers{}, false},
		"autumn, changed":                     {autumn, 10 * time.Minute, loc, logger.Answers{}, false},
		"spring, stayed":                      {spring, 10 * time.Minute, winter, logger.Answers{}, true},
		"spring, stayed, answered":            {spring, 10 * time.Minute, winter, logger.Answers{Clock: logger.Standard}, false},
		"autumn, stayed":                      {autumn, 10 * time.Minute, summer, logger.Answers{}, true},
		"autumn, stayed, answered":            {autumn, 10 * time.Minute, summer, logger.Answers{Clock: logger.Summer}, false},
		"universal":                           {spring, 10 * time.Minute, time.UTC, logger.Answers{Clock: logger.UTC}, false},
		"every two hours, spring":             {spring.Add(30 * time.Minute), 2 * time.Hour, loc, logger.Answers{}, true},
		"every two hours, spring, answered":   {spring.Add(30 * time.Minute), 2 * time.Hour, loc, logger.Answers{Clock: logger.Follows}, false},
		"no change between":                   {spring.Add(-48 * time.Hour), 10 * time.Minute, loc, logger.Answers{}, false},
		"universal by its own answer, autumn": {autumn, time.Hour, time.UTC, logger.Answers{Clock: logger.UTC}, false},
	} {
		got, _, err := taken(t, file(c.from, c.step, 60, c.clock), c.answers)
		if err != nil || got.Open.Clock != c.open {
			t.Errorf("%s: %v, open %+v, clock %q", name, err, got.Open, got.Clock)
			continue
		}
		if c.open {
			continue
		}
		if len(got.Readings) != 60 || got.Bad != 0 || got.Back != 0 {
			t.Errorf("%s: %d readings, %d bad %+v", name, len(got.Readings), got.Bad, got.Faults)
			continue
		}
		for i, r := range got.Readings {
			if want := c.from.Add(time.Duration(i) * c.step).Unix(); r.At != want {
				t.Errorf("%s: reading %d is at %d, want %d", name, i, r.At, want)
				break
			}
		}
	}
	// the hour that was left out, where it is said that the clock was changed
	got, _, err := taken(t, file(spring, 10*time.Minute, 60, winter), logger.Answers{Clock: logger.Follows})
	if err != nil || got.Bad != 6 || got.Faults[0].Refusal.Reason != "logger.left-out" || got.Faults[0].Refusal.Value != "2027-03-28 02:00" {
		t.Errorf("%v, %d bad, %+v", err, got.Bad, got.Faults)
	}
	// newest first, through the hour that is twice
	lines := strings.Split(strings.TrimSpace(file(autumn, 10*time.Minute, 60, loc)), "\n")
	slices.Reverse(lines[1:])
	got, _, err = taken(t, strings.Join(lines, "\n"), logger.Answers{Clock: logger.Follows})
	if err != nil || len(got.Readings) != 60 || got.Back != 0 || got.Readings[59].At != autumn.Add(590*time.Minute).Unix() {
		t.Errorf("newest first: %v, %d readings", err, len(got.Readings))
	}
}

func TestBadLines(t *testing.T) {
	content := "time;temp c;rh\n" +
		"2027-03-01 10:00:00;23.5;55\n" +
		"2027-03-01 10:10:00;400;55\n" + // 3
		"2027-03-01 10:20:00;23.5;101\n" +
		"2027-03-01 10:30:00;warm;55\n" + // 5
		"2027-02-30 10:40:00;23.5;55\n" +
		"yesterday;23.5;55\n" + // 7
		"2027-03-01 10:50:00;;\n" +
		"2027-03-01 11:00:00;23\x00.5;55\n" + // 9
		"2027-03-01 11:10:00;23.5;55;7;8\n" +
		"2031-03-01 11:10:00;23.5;55\n" + // 11: after now
		"\n" +
		"2027-03-01 09:00:00;23.5;55\n" + // 13: back
		"2027-03-01 10:00:00;23.5;55\n" + // 14: again
		"2027-03-01 10:00:01;;55\n" +
		"2027-03-01 25:00:00;1;1\n" + // 16
		"2027-03-01 12:00:00;1.2.3;1\n" +
		"2027-03-01 12:00:00;23.5;5 g\n"
	got, _, err := taken(t, content, logger.Answers{})
	if err != nil {
		t.Fatal(err)
	}
	var lines []string
	for _, f := range got.Faults {
		lines = append(lines, fmt.Sprintf("%d %s %s", f.Line, f.Refusal.Field, f.Refusal.Reason))
	}
	want := []string{"3 logger-temperature climate.temperature", "4 logger-humidity climate.humidity", "5 logger-temperature logger.number", "6 logger-when logger.no-day",
		"7 logger-when logger.when", "8 logger-temperature logger.blank", "9 logger-row logger.zero", "10 logger-row logger.wide", "11 logger-when day.future", "13 logger-when logger.back",
		"16 logger-when logger.when", "17 logger-temperature logger.number", "18 logger-humidity logger.number"}
	if !slices.Equal(lines, want) {
		t.Errorf("got %s", strings.Join(lines, "\n"))
	}
	if got.Bad != 12 || got.Back != 1 || got.Twice != 1 || len(got.Readings) != 3 {
		t.Errorf("%d bad, %d back, %d twice, %d readings", got.Bad, got.Back, got.Twice, len(got.Readings))
	}
	if value := got.Faults[0].Refusal.Value; value != "400.00" {
		t.Errorf("the temperature is said to be %q", value)
	}
}

func TestRefusedFiles(t *testing.T) {
	for name, c := range map[string]struct{ content, want string }{
		"empty":                  {"", "logger.empty"},
		"a picture":              {"\x89PNG\r\n\x1a\n" + strings.Repeat("\x00\x01\x02", 900), "logger.other"},
		"a letter":               {"Dear Mira,\nthank you; the snake is well.\n", "logger.other"},
		"one line without end":   {strings.Repeat("a", 1<<20), "logger.other"},
		"a list without times":   {"name;mass\nKestrel;1432\nBrook;980\n", "logger.other"},
		"a heading alone":        {"time;temp;rh\n", "logger.other"},
		"nothing that is known":  {"time;wind\n2027-03-01 10:00;3 knots\n", "logger.columns"},
		"a long line further on": {"time;temp c\n2027-03-01 10:00;23\n" + strings.Repeat("x", 1<<20), "logger.long"},
		"zeros alone":            {strings.Repeat("\x00", 1<<20), "logger.other"},
	} {
		_, _, err := taken(t, c.content, logger.Answers{})
		var r *model.Refusal
		if !errors.As(err, &r) || r.Reason != c.want {
			t.Errorf("%s: %v, want %s", name, err, c.want)
		}
	}
}

// endless hands out the same lines until so many bytes are read.
type endless struct {
	line string
	left int64
	at   int
}

func (e *endless) Read(p []byte) (n int, err error) {
	if e.left <= 0 {
		return 0, io.EOF
	}
	for n < len(p) && e.left > 0 {
		m := copy(p[n:], e.line[e.at:])
		n, e.at, e.left = n+m, (e.at+m)%len(e.line), e.left-int64(m)
	}
	return n, nil
}

// A file of two gigabytes is read as a stream: it ends at the most readings that are
// taken, or where nearly all lines are bad.
func TestTwoGigabytes(t *testing.T) {
	if testing.Short() {
		t.Skip("reads millions of lines")
	}
	layout, err := logger.Look(strings.NewReader("time;temp c\n2027-03-01 10:00;23.5\n"), "log.csv", words(t))
	if err != nil {
		t.Fatal(err)
	}
	for line, want := range map[string]string{"2027-03-01 10:00;23.5\n": "climate.many", "x;y\n": "logger.mostly-bad", "2027-03-01 10:00;\x00\n": "logger.mostly-bad", "\x00": "logger.long"} {
		source := &endless{line: line, left: 2 << 30}
		_, err := logger.Read(source, "log.csv", layout, nil)
		var r *model.Refusal
		if !errors.As(err, &r) || r.Reason != want {
			t.Errorf("%q: %v, want %s", line, err, want)
		}
		if read := int64(2<<30) - source.left; read > 100<<20 {
			t.Errorf("%q: %d bytes were read", line, read)
		}
	}
}

func TestReadingEnds(t *testing.T) {
	layout, err := logger.Look(strings.NewReader("time;temp c\n2027-03-01 10:00;23.5\n"), "log.csv", words(t))
	if err != nil {
		t.Fatal(err)
	}
	enough := errors.New("enough")
	calls := 0
	_, err = logger.Read(&endless{line: "2027-03-01 10:00;23.5\n", left: 1 << 20}, "log.csv", layout, func(int64) error {
		calls++
		if calls == 3 {
			return enough
		}
		return nil
	})
	if !errors.Is(err, enough) || calls != 3 {
		t.Errorf("%v after %d calls", err, calls)
	}
}

func TestChoose(t *testing.T) {
	content := "a;b;c\n2027-03-01 10:00;40;25\n"
	layout, err := logger.Look(strings.NewReader(content), "log.csv", words(t))
	if err != nil {
		t.Fatal(err)
	}
	if layout.Whole() {
		t.Errorf("nothing is known of %+v", layout)
	}
	layout = layout.Choose(1, logger.Temperature).Choose(2, logger.Temperature).Choose(1, logger.Humidity)
	if !layout.Whole() || !slices.Equal(layout.Roles, []logger.Role{logger.When, logger.Humidity, logger.Temperature}) {
		t.Errorf("chosen: %+v", layout.Roles)
	}
	rec, err := logger.Read(strings.NewReader(content), "log.csv", layout, nil)
	if err != nil {
		t.Fatal(err)
	}
	if got := told(rec.Settle(logger.Answers{}, time.UTC, later, hottest).Readings); !slices.Equal(got, []string{"2027-03-01 10:00:00Z 25.00 40.00%"}) {
		t.Errorf("got %q", got)
	}
}

// Whatever a file holds: nothing breaks, and what is taken could be written.
func FuzzRead(f *testing.F) {
	f.Add("time;temp c;rh\n2027-03-01 10:00;23.5;50\n01.03.27 10:10;23,5;50\n", "")
	f.Add("\xff\xfed\x00a\x00t\x00e\x00", "f")
	f.Add("date,time,zone,temp\n03/28/2027,02:30 am,Europe/Berlin,\"7\"\"5\"\n", "c")
	f.Add("2027-10-31 02:30;1\n2027-10-31 02:00;1\n", "")
	w := words(f)
	loc := berlin(f)
	f.Fuzz(func(t *testing.T, content, unit string) {
		layout, err := logger.Look(strings.NewReader(content), "log.csv", w)
		if err != nil {
			return
		}
		rec, err := logger.Read(strings.NewReader(content), "log.csv", layout, nil)
		if err != nil {
			return
		}
		s := rec.Settle(logger.Answers{Unit: logger.Unit(unit)}, loc, later, hottest)
		for i, r := range s.Readings {
			if r.Plausible() != "" || r.Empty() || r.At > later+60 || i > 0 && s.Readings[i-1].At >= r.At {
				t.Fatalf("taken: %+v of %q", r, content)
			}
		}
		if len(s.Readings)+s.Twice+s.Bad > rec.Lines {
			t.Fatalf("%d readings, %d twice and %d bad of %d lines", len(s.Readings), s.Twice, s.Bad, rec.Lines)
		}
		again := rec.Settle(s.Answers, loc, later, hottest)
		if !slices.Equal(again.Readings, s.Readings) && s.Clock != "" {
			t.Fatal("settled again by what it says itself it is another thing")
		}
	})
}
