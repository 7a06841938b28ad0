package logger

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
	"time"
	"unicode/utf8"

	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/encoding/unicode"
	"golang.org/x/text/transform"

	"coilward/model"
	"coilward/model/climate"
)

// What is read at the most: a line of a logger is short, and a file of more readings is
// taken in part by part. Of the lines that cannot be read so many are listed.
const (
	mostLine   = 16 << 10
	headLines  = 60
	headBytes  = 256 << 10
	MostListed = 500
)

// refuse is a refusal of the whole file.
func refuse(name, reason string, gaps map[string]model.Gap) error {
	if gaps == nil {
		gaps = map[string]model.Gap{}
	}
	gaps["File"] = model.TextGap(name)
	return &model.Refusal{Field: "file", Value: name, Reason: reason, Gaps: gaps, Answer: model.Mend}
}

// text is the file as UTF-8, whichever of the usual ways it is written in. Bytes that
// are none are left for each line.
func text(r io.Reader) *bufio.Reader {
	b := bufio.NewReaderSize(r, mostLine)
	head, _ := b.Peek(512)
	order, mark := unicode.LittleEndian, unicode.IgnoreBOM
	switch {
	case bytes.HasPrefix(head, []byte("\xef\xbb\xbf")):
		_, _ = b.Discard(3)
		return b
	case bytes.HasPrefix(head, []byte("\xff\xfe")):
		_, _ = b.Discard(2)
	case bytes.HasPrefix(head, []byte("\xfe\xff")):
		_, _ = b.Discard(2)
		order = unicode.BigEndian
	case len(head) > 3 && bytes.Count(head, []byte{0})*2 >= len(head)-1 && head[1] == 0:
	case len(head) > 3 && bytes.Count(head, []byte{0})*2 >= len(head)-1 && head[0] == 0:
		order = unicode.BigEndian
	default:
		return b
	}
	return bufio.NewReaderSize(transform.NewReader(b, unicode.UTF16(order, mark).NewDecoder()), mostLine)
}

// errLong is a line longer than any of a logger.
var errLong = errors.New("a line is longer than any that a logger writes")

// lines hands out the lines of a text one after the other; the line is valid until the
// next one is asked for.
type lines struct {
	r    *bufio.Reader
	n    int // of the line last handed out
	read int64
}

func (l *lines) next() (line string, err error) {
	raw, err := l.r.ReadSlice('\n')
	l.read += int64(len(raw))
	switch {
	case errors.Is(err, bufio.ErrBufferFull):
		return "", errLong
	case err != nil && (len(raw) == 0 || !errors.Is(err, io.EOF)):
		return "", err
	}
	l.n++
	raw = bytes.TrimRight(raw, "\r\n")
	if !utf8.Valid(raw) {
		if decoded, err := charmap.Windows1252.NewDecoder().Bytes(raw); err == nil {
			raw = decoded
		}
	}
	return string(raw), nil
}

// Look reads the beginning of a file and guesses how it stands. The error is a
// *model.Refusal where it is no file of a logger.
func Look(r io.Reader, name string, w Words) (Layout, error) {
	var head []string
	l := lines{r: text(io.LimitReader(r, headBytes))}
	for len(head) < headLines {
		line, err := l.next()
		switch {
		case errors.Is(err, io.EOF):
		case errors.Is(err, errLong) && len(head) == 0:
			return Layout{}, refuse(name, "logger.other", nil)
		case errors.Is(err, errLong): // said when it is read
		case err != nil:
			return Layout{}, fmt.Errorf("read the beginning of %s: %w", name, err)
		default:
			if strings.Count(line, "\x00") > len(line)/8 && line != "" {
				return Layout{}, refuse(name, "logger.other", nil)
			}
			head = append(head, line)
			continue
		}
		break
	}
	if len(head) == 0 {
		return Layout{}, refuse(name, "logger.empty", nil)
	}
	layout := w.guess(head)
	if len(layout.Roles) == 0 || !slices.ContainsFunc(head, func(line string) bool {
		return slices.ContainsFunc(split(nil, line, layout.Comma), func(cell string) bool { _, ok := readMoment(cell); return ok })
	}) {
		return layout, refuse(name, "logger.other", nil)
	}
	return layout, nil
}

// row is what one line says, before it is settled what it means.
type row struct {
	line          int32
	at            clockShort
	temperature   int32 // hundredths of whatever unit; absent: missing
	humidity      int16
	celsius, fahr bool // the cell itself says the unit
}

const absent = int32(-1 << 31)

// hottestFahrenheit is climate.Hottest in hundredths of a degree Fahrenheit; the coldest
// is the same in both.
const hottestFahrenheit = climate.Hottest*9/5 + 3200

// clockShort is a clock in little room.
type clockShort struct {
	a, b, c   int16
	yearFirst bool
	hasOffset bool
	second    int32
	offset    int32
}

// Fault is a line that cannot be read as it stands, or of which something is said.
type Fault struct {
	Line    int
	Refusal *model.Refusal
}

// Recording is a file that was read, with what each line says.
type Recording struct {
	Name   string
	Layout Layout
	Lines  int
	rows   []row
	faults []Fault
	bad    int // lines that cannot be read, listed or not
}

func mend(field, value, reason string, gaps map[string]model.Gap) *model.Refusal {
	const most = 60
	if runes := []rune(value); len(runes) > most {
		value = string(runes[:most]) + "…"
	}
	return &model.Refusal{Field: field, Value: strings.ReplaceAll(value, "\x00", "␀"), Reason: reason, Gaps: gaps, Answer: model.Mend}
}

// Read reads a file as it stands. step is told now and then how many bytes are read; an
// error of it ends the reading. The error is a *model.Refusal where the file is refused
// as a whole.
func Read(r io.Reader, name string, layout Layout, step func(read int64) error) (*Recording, error) {
	rec := &Recording{Name: name, Layout: layout}
	if !layout.Whole() {
		return nil, refuse(name, "logger.columns", nil)
	}
	in := lines{r: text(r)}
	reader := rowReader{layout: layout, at: map[Role]int{}}
	for _, role := range Roles() {
		reader.at[role] = layout.column(role)
	}
	reader.find()
	for {
		line, err := in.next()
		switch {
		case errors.Is(err, io.EOF):
			rec.Lines = in.n
			if len(rec.rows) == 0 && rec.bad == 0 {
				return nil, refuse(name, "logger.empty", nil)
			}
			return rec, nil
		case errors.Is(err, errLong):
			return nil, refuse(name, "logger.long", map[string]model.Gap{"Line": model.CountGap(in.n + 1)})
		case err != nil:
			return nil, fmt.Errorf("read line %d of %s: %w", in.n+1, name, err)
		}
		if in.n%4096 == 0 && step != nil {
			if err := step(in.read); err != nil {
				return nil, err
			}
		}
		if in.n <= layout.Heading || strings.TrimSpace(line) == "" {
			continue
		}
		one, refusal := reader.row(line)
		if refusal != nil {
			if layout.Heading == 0 && len(rec.rows) == 0 && refusal.Field == "logger-when" && rec.bad < headLines {
				continue // what stands before the readings of a file without a heading
			}
			rec.fault(in.n, refusal)
			if rec.bad++; rec.bad >= tooBad && rec.bad > 4*len(rec.rows) {
				return nil, refuse(name, "logger.mostly-bad", map[string]model.Gap{"Count": model.CountGap(rec.bad), "Lines": model.CountGap(in.n)})
			}
			continue
		}
		if len(rec.rows) == climate.MostReadings {
			return nil, refuse(name, "climate.many", map[string]model.Gap{"Most": model.CountGap(climate.MostReadings)})
		}
		one.line = int32(in.n)
		rec.rows = append(rec.rows, one)
	}
}

// tooBad is how many bad lines, beside few good ones, end the reading: it is no file of
// a logger, or its columns are wrong.
const tooBad = 20_000

func (rec *Recording) fault(line int, refusal *model.Refusal) {
	if len(rec.faults) < MostListed {
		rec.faults = append(rec.faults, Fault{line, refusal})
	}
}

// rowReader reads lines one after the other.
type rowReader struct {
	layout                              Layout
	at                                  map[Role]int
	when, day, hour, zone, warmth, damp int
	cells                               []string
	zones                               map[string]*time.Location
}

func (r *rowReader) find() {
	r.when, r.day, r.hour, r.zone, r.warmth, r.damp = r.at[When], r.at[Day], r.at[Hour], r.at[Zone], r.at[Temperature], r.at[Humidity]
}

func (r *rowReader) cell(i int) string {
	if i < 0 || i >= len(r.cells) {
		return ""
	}
	return r.cells[i]
}

func (r *rowReader) row(line string) (one row, refusal *model.Refusal) {
	r.cells = split(r.cells, line, r.layout.Comma)
	if strings.ContainsRune(line, 0) {
		return one, mend("logger-row", line, "logger.zero", nil)
	}
	if n := len(r.cells); n > len(r.layout.Roles) && strings.Join(r.cells[len(r.layout.Roles):], "") != "" {
		return one, mend("logger-row", line, "logger.wide", map[string]model.Gap{"Count": model.CountGap(n), "Want": model.CountGap(len(r.layout.Roles))})
	}
	if refusal = r.moment(&one); refusal != nil {
		return one, refusal
	}
	one.temperature, one.humidity = absent, climate.NoHumidity
	if cell := r.cell(r.warmth); cell != "" {
		value, unit, ok := readNumber(cell)
		if !ok || unit != "" && unitOf(unit) == "" {
			return one, mend("logger-temperature", cell, "logger.number", nil)
		}
		if value < climate.Coldest || value > hottestFahrenheit { // in neither unit, so that it says nothing of when the file begins or ends
			return one, mend("logger-temperature", hundredths(value), "climate.temperature", map[string]model.Gap{"Least": model.TemperatureGap(climate.Coldest), "Most": model.TemperatureGap(climate.Hottest)})
		}
		one.temperature = int32(value)
		one.celsius, one.fahr = unitOf(unit) == Celsius, unitOf(unit) == Fahrenheit
	}
	if cell := r.cell(r.damp); cell != "" {
		value, unit, ok := readNumber(cell)
		switch {
		case !ok || unit != "" && !strings.HasPrefix(unit, "%"):
			return one, mend("logger-humidity", cell, "logger.number", nil)
		case value < 0 || value > climate.MostHumid:
			return one, mend("logger-humidity", cell, "climate.humidity", nil)
		}
		one.humidity = int16(value)
	}
	if one.temperature == absent && one.humidity == climate.NoHumidity {
		return one, mend("logger-temperature", "", "logger.blank", nil)
	}
	return one, nil
}

func (r *rowReader) moment(one *row) *model.Refusal {
	field, cell := "logger-when", r.cell(r.when)
	m, ok := readMoment(cell)
	if r.when < 0 {
		day, hour := r.cell(r.day), r.cell(r.hour)
		cell = strings.TrimSpace(day + " " + hour)
		m, ok = readMoment(day)
		clock, hourly := readMoment(hour)
		ok = ok && hourly && m.hasDay && clock.hasHour && !clock.hasDay
		m.second, m.hasHour = clock.second, true
		m.offset, m.hasOffset = clock.offset, clock.hasOffset
	}
	if !ok || !m.hasDay || !m.hasHour {
		return mend(field, cell, "logger.when", nil)
	}
	if m.yearFirst {
		if _, exists := localDay(m.a, m.b, m.c); !exists {
			return mend(field, cell, "logger.no-day", nil)
		}
	} else if _, first := localDay(m.c, m.b, m.a); !first {
		if _, second := localDay(m.c, m.a, m.b); !second {
			return mend(field, cell, "logger.no-day", nil)
		}
	}
	one.at = clockShort{int16(m.a), int16(m.b), int16(m.c), m.yearFirst, m.hasOffset, int32(m.second), int32(m.offset)}
	zone := r.cell(r.zone)
	if zone == "" || m.hasOffset {
		return nil
	}
	if seconds, ok := readOffset(zone); ok {
		one.at.hasOffset, one.at.offset = true, int32(seconds)
		return nil
	}
	loc, ok := r.location(zone)
	if !ok || !m.yearFirst {
		return mend("logger-zone", zone, "logger.zone", nil)
	}
	_, offset := time.Date(m.a, time.Month(m.b), m.c, 0, 0, m.second, 0, loc).Zone()
	one.at.hasOffset, one.at.offset = true, int32(offset)
	return nil
}

func (r *rowReader) location(name string) (*time.Location, bool) {
	if loc, known := r.zones[name]; known {
		return loc, loc != nil
	}
	if r.zones == nil {
		r.zones = map[string]*time.Location{}
	}
	loc, err := time.LoadLocation(name)
	if err != nil || name == "Local" || !strings.Contains(name, "/") && name != "UTC" {
		loc = nil
	}
	if len(r.zones) < 100 {
		r.zones[name] = loc
	}
	return loc, loc != nil
}
