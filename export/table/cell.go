package table

import (
	"errors"
	"fmt"
	"regexp"
	"strings"
	"time"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
)

// cellReader reads the cells of one sheet.
type cellReader struct {
	w    *Words
	t    Taking
	at   map[Field]int // columns
	now  model.Moment
	zone *time.Location
	mass map[typedCell]answer[model.Mass]
	days map[typedCell]answer[dated]
}

// typedCell is a cell with its column, to read alike cells once.
type typedCell struct {
	field  Field
	text   string
	number bool
}

type answer[T any] struct {
	value T
	err   *model.Refusal
}

// dated is a day with the time that stood behind it.
type dated struct {
	date   model.Date
	clock  string
	moment model.Moment // where the cell named its own zone
}

// errWaits says that a cell cannot be read before a question is answered.
var errWaits = &model.Refusal{Field: "table", Reason: "table.waits", Answer: model.Mend}

func newCells(w *Words, t Taking, now model.Moment) *cellReader {
	c := &cellReader{w: w, t: t, at: map[Field]int{}, now: now, mass: map[typedCell]answer[model.Mass]{}, days: map[typedCell]answer[dated]{}}
	for i, column := range t.Columns {
		if column.Field != NotTaken {
			c.at[column.Field] = i
		}
	}
	c.zone = now.Location()
	return c
}

// text is what a row says of a field.
func (c *cellReader) text(r Row, f Field) string {
	if column, ok := c.at[f]; ok {
		return r.cell(column)
	}
	return ""
}

func (c *cellReader) column(f Field) Column { return c.t.Columns[c.at[f]] }

func mend(f Field, value, reason string) *model.Refusal {
	return &model.Refusal{Field: string(f), Value: value, Reason: reason, Answer: model.Mend}
}

// named is the refusal of a value with the field that it stands in.
func named(f Field, err error) *model.Refusal {
	var r *model.Refusal
	if !errors.As(err, &r) {
		return &model.Refusal{Field: string(f), Reason: "number.unreadable", Answer: model.Mend}
	}
	again := *r
	again.Field = string(f)
	return &again
}

// readMass reads a mass; empty is none.
func (c *cellReader) readMass(r Row, f Field) (model.Mass, *model.Refusal) {
	text := c.text(r, f)
	if text == "" {
		return model.Mass{}, nil
	}
	key := typedCell{f, text, r.number(c.at[f])}
	a, ok := c.mass[key]
	if !ok {
		clean, typed, err := c.quantity(key)
		if a.err = err; err == nil {
			mass, err := c.w.text.ParseMass(clean)
			if a.value = mass; err != nil {
				a.err = named(f, err)
				a.err.Value = text
			}
			a.value.Typed = typed
		}
		c.mass[key] = a
	}
	return a.value, a.err
}

func (c *cellReader) readLength(r Row, f Field) (model.Length, *model.Refusal) {
	text := c.text(r, f)
	if text == "" {
		return model.Length{}, nil
	}
	clean, typed, refusal := c.quantity(typedCell{f, text, r.number(c.at[f])})
	if refusal != nil {
		return model.Length{}, refusal
	}
	length, err := c.w.text.ParseLength(clean)
	if err != nil {
		refusal = named(f, err)
		refusal.Value = text
		return model.Length{}, refusal
	}
	length.Typed = typed
	return length, nil
}

// quantity is a quantity in one style and with its unit, to be read one way only,
// and as it was typed.
func (c *cellReader) quantity(k typedCell) (clean, typed string, err *model.Refusal) {
	column := c.column(k.field)
	style := column.Numbers
	switch {
	case k.number:
		style = Point
	case style == NumbersOpen:
		if needsStyle(k.text) {
			return "", "", errWaits
		}
		style = Point
	}
	unit := column.Unit
	if unit == "" {
		unit = k.field.usual()
	}
	typed = k.text
	if !strings.ContainsFunc(k.text, isLetter) {
		typed += " " + unit
	}
	return inStyle(typed, style), typed, nil
}

func isLetter(r rune) bool {
	return r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || r == '"' || r == '″'
}

// needsStyle reports whether a text holds a number that tells its style, or that
// may be two things.
func needsStyle(text string) bool {
	for _, part := range numberPart.FindAllString(text, -1) {
		if _, says := votes(strings.TrimRight(part, " .,'’\u00a0\u202f")); says {
			return true
		}
	}
	return false
}

// yearForm is what a day of a file must have: without a year it would be guessed.
var yearForm = regexp.MustCompile(`[0-9]{4}|^[0-9]{1,2}[./-] ?[0-9]{1,2}[./-] ?[0-9]{2}$|\pL\.?,? ?[0-9]{2}$`)

// readDate reads a day, or where the field takes them a month or a year.
func (c *cellReader) readDate(r Row, f Field) (dated, *model.Refusal) {
	text := c.text(r, f)
	if text == "" {
		return dated{}, nil
	}
	key := typedCell{f, text, false}
	a, ok := c.days[key]
	if !ok {
		a.value, a.err = c.date(f, text)
		c.days[key] = a
	}
	return a.value, a.err
}

func (c *cellReader) date(f Field, text string) (dated, *model.Refusal) {
	column := c.column(f)
	if serialForm.MatchString(text) {
		return c.serial(f, text, column.Serials)
	}
	if at, err := time.Parse(time.RFC3339, text); err == nil {
		m := model.MomentOf(at)
		m.Zone = ""
		return dated{date: model.Date{Day: m.Day(), Precision: model.ToDay}, moment: m}, nil
	}
	day, clock := partTime(text)
	if s := slashForm.FindStringSubmatch(day); s != nil {
		switch column.Days {
		case DaysOpen:
			return dated{}, errWaits
		case DayFirst:
			day = s[1] + "." + s[3] + "." + s[4]
		case MonthFirst:
			day = s[3] + "." + s[1] + "." + s[4]
		}
	}
	if !yearForm.MatchString(day) {
		return dated{}, mend(f, text, "table.day-year")
	}
	today := c.now.Day()
	date := model.Date{Precision: model.ToDay}
	var err error
	if f.reading() == asDate {
		date, err = c.w.text.ParseDate(day, today)
	} else {
		date.Day, err = c.w.text.ParseDay(day, today)
	}
	if err != nil {
		refusal := named(f, err)
		refusal.Value = text
		return dated{}, refusal
	}
	return dated{date: date, clock: clock}, nil
}

func (c *cellReader) serial(f Field, text string, from Serials) (dated, *model.Refusal) {
	if from == SerialsOpen {
		return dated{}, errWaits
	}
	day, minutes, ok := serialDay(text, from)
	if year, _, _ := day.Date(); !ok || year < 1900 || year > 2199 {
		return dated{}, mend(f, text, "day.unreadable")
	}
	d := dated{date: model.Date{Day: day, Precision: model.ToDay}}
	if strings.Contains(text, ".") {
		d.moment = c.moment(day, minutes, model.ToMinute)
	}
	return d, nil
}

// noon is the minute at which a day's entry stands whose time is not known.
const noon = 12 * 60

func (c *cellReader) moment(day model.Day, minutes int, p model.Precision) model.Moment {
	year, month, d := day.Date()
	m := model.MomentOf(time.Date(year, month, d, 0, minutes, 0, 0, c.zone))
	m.Zone, m.Precision = c.now.Zone, p
	return m
}

// readMoment is when an entry was.
func (c *cellReader) readMoment(r Row) (model.Moment, *model.Refusal) {
	m, refusal := c.readWhen(r, whenColumns{OnDay, AtTime, Zone})
	if refusal == nil && m.IsZero() {
		refusal = mend(OnDay, "", "day.empty")
	}
	return m, refusal
}

// whenColumns are the columns that tell one moment.
type whenColumns struct{ day, time, zone Field }

// readWhen is a moment: its day with the time that stands in its own column or
// behind it; zero where no day stands there.
func (c *cellReader) readWhen(r Row, in whenColumns) (model.Moment, *model.Refusal) {
	d, refusal := c.readDate(r, in.day)
	for _, u := range c.t.undated() {
		if in.day == u.asks.day() {
			d, refusal = c.sameDay(u.asks)
		}
	}
	switch {
	case refusal != nil:
		return model.Moment{}, refusal
	case d.date.IsZero():
		return model.Moment{}, nil
	case !d.moment.IsZero():
		return d.moment, nil
	}
	clock := c.text(r, in.time)
	if clock == "" {
		clock = d.clock
	}
	minutes, precision := noon, model.ToDay
	if clock != "" {
		if minutes, refusal = c.minutes(in.time, clock); refusal != nil {
			return model.Moment{}, refusal
		}
		precision = model.ToMinute
	}
	if zone := c.text(r, in.zone); zone != "" {
		return onClock(d.date.Day, minutes, precision, in.zone, zone)
	}
	return c.moment(d.date.Day, minutes, precision), nil
}

// sameDay is the day that was said of all rows.
func (c *cellReader) sameDay(what Asked) (dated, *model.Refusal) {
	d := dated{date: model.Date{Precision: model.ToDay}}
	if err := d.date.Day.UnmarshalText([]byte(c.t.on(what))); err != nil {
		return dated{}, errWaits // not answered yet
	}
	return d, nil
}

// readWhole is a moment that stands in one cell: its day, and behind it its time
// and its clock as far as they are told; zero where none stands there.
func (c *cellReader) readWhole(r Row, f Field) (model.Moment, *model.Refusal) {
	text := c.text(r, f)
	at := clockTail.FindStringIndex(text)
	if at == nil {
		return c.readWhen(r, whenColumns{day: f})
	}
	d, refusal := c.date(f, text[:at[0]])
	if refusal != nil {
		return model.Moment{}, refusal
	}
	minutes, precision := noon, model.ToDay
	if d.clock != "" {
		if minutes, refusal = c.minutes(f, d.clock); refusal != nil {
			return model.Moment{}, refusal
		}
		precision = model.ToMinute
	}
	return onClock(d.date.Day, minutes, precision, f, strings.TrimSpace(text[at[0]:]))
}

// clockTail is a clock behind a day or a time.
var clockTail = regexp.MustCompile(` (?:[A-Za-z0-9_+/-]*[A-Za-z/_][A-Za-z0-9_+/-]* )?UTC[-+][0-9]{2}:[0-9]{2}(?::[0-9]{2})?$`)

// clockForm is a clock: its zone where that is known, and how far it is from UTC.
var clockForm = regexp.MustCompile(`^(?:([A-Za-z0-9_+/-]{1,64}) )?UTC([-+])([0-9]{2}):([0-9]{2})(?::([0-9]{2}))?$`)

// mostOffset is the largest distance from UTC that a clock may have, in seconds:
// more than the 14 hours of the Line Islands (from memory).
const mostOffset = 18 * 60 * 60

// onClock is a moment by the clock that its row names.
func onClock(day model.Day, minutes int, p model.Precision, f Field, zone string) (model.Moment, *model.Refusal) {
	found := clockForm.FindStringSubmatch(zone)
	if found == nil {
		return model.Moment{}, mend(f, zone, "table.zone")
	}
	offset := number(found[3])*3600 + number(found[4])*60 + number(found[5])
	if offset > mostOffset {
		return model.Moment{}, mend(f, zone, "table.zone")
	}
	if found[2] == "-" {
		offset = -offset
	}
	year, month, d := day.Date()
	at := time.Date(year, month, d, 0, minutes, 0, 0, time.FixedZone(found[1], offset))
	return model.Moment{UTC: at.Unix(), Offset: int32(offset), Zone: found[1], Precision: p}, nil
}

// clock is how a moment's clock is written, so that onClock reads it.
func clock(m model.Moment) string {
	sign, offset := "+", m.Offset
	if offset < 0 {
		sign, offset = "-", -offset
	}
	text := fmt.Sprintf("UTC%s%02d:%02d", sign, offset/3600, offset/60%60)
	if seconds := offset % 60; seconds != 0 {
		text += fmt.Sprintf(":%02d", seconds)
	}
	if named := m.Zone + " " + text; m.Zone != "" && clockForm.MatchString(named) {
		return named
	}
	return text
}

// dayFraction is a time as a part of a day, as a spreadsheet stores it.
var dayFraction = regexp.MustCompile(`^0(?:\.[0-9]+)?$`)

func (c *cellReader) minutes(f Field, clock string) (int, *model.Refusal) {
	if dayFraction.MatchString(clock) {
		_, fraction, _ := strings.Cut(clock, ".")
		if minutes := fractionMinutes(fraction); minutes < 24*60 {
			return minutes, nil
		}
	}
	minutes, err := c.w.text.ParseTime(withoutSeconds(clock))
	if err != nil {
		refusal := named(f, err)
		refusal.Value = clock
		return 0, refusal
	}
	return minutes, nil
}

// readChoice is the value that a word stands for; empty and a dash are none.
func (c *cellReader) readChoice(r Row, f Field) (string, *model.Refusal) {
	text := c.text(r, f)
	value, ok := c.w.value(f, text)
	if !ok && folded(text) != "" {
		return "", mend(f, text, "table.word")
	}
	return value, nil
}

// traitMarks part words that stand beside each other.
const traitMarks = ";,/+\n"

// readTraits are the values of words that stand beside each other.
func (c *cellReader) readTraits(r Row, f Field) ([]care.Trait, *model.Refusal) {
	text := c.text(r, f)
	var all []care.Trait
	for _, word := range strings.FieldsFunc(text, func(r rune) bool { return strings.ContainsRune(traitMarks, r) }) {
		value, ok := c.w.value(f, word)
		if !ok && folded(word) != "" {
			if value, ok = c.w.value(f, text); ok { // a word with a comma in it
				return []care.Trait{care.Trait(value)}, nil
			}
			return nil, mend(f, word, "table.word")
		}
		if value != "" {
			all = append(all, care.Trait(value))
		}
	}
	return all, nil
}

// roundedChip is a number of a chip that a spreadsheet program has taken for an
// amount and rounded: its last digits are gone. wholeChip is one that it has only
// given decimals.
var (
	roundedChip = regexp.MustCompile(`^[0-9]+(?:[.,][0-9]+)?[eE][-+]?[0-9]+$`)
	wholeChip   = regexp.MustCompile(`^([0-9]{9,})[.,]0+$`)
)

// readChip is a microchip as a file has it: with 15 digits one of the standard. A
// rounded one is none.
func readChip(text string) animals.Chip {
	text = strings.TrimSpace(text)
	if roundedChip.MatchString(text) {
		return animals.Chip{}
	}
	digits := animals.ReadDigits(wholeChip.ReplaceAllString(text, "$1"))
	if digits == "" {
		return animals.Chip{}
	}
	c := animals.Chip{Digits: digits, Standard: animals.ChipOther}
	if len(digits) == 15 && strings.Trim(digits, "0123456789") == "" {
		c.Standard = animals.ChipISO
	}
	return c
}
