package table

import (
	"math/big"
	"slices"
	"strings"
	"time"

	"coilward/model"
	"coilward/model/care"
	"coilward/model/wording"
)

// Question is something that a sheet does not tell by itself.
type Question struct {
	Sheet   int
	Column  int // −1: it is about the sheet
	Asks    Asked
	Example string // a value of the file that may be two things
	Unit    string // of the example, where it is a quantity
}

// Asked is what a question asks. The text is "movein.asks." + value.
type Asked string

// The questions. The answers are the styles of this package, and for AsksOutcome
// one of care.Outcomes.
const (
	AsksNumbers Asked = "numbers"
	AsksDays    Asked = "days"
	AsksSerials Asked = "serials"
	AsksOutcome Asked = "outcome"
	// AsksWeighed is of weights beside animals, and AsksHoused of stays, of which no
	// column says the day: the day of all, as 2027-03-09, or beside animals LeaveOut.
	AsksWeighed Asked = "weighed"
	AsksHoused  Asked = "housed"
	// AsksTwin is of two columns that may hold the same: whether the first is taken
	// (TakeFirst), or the one that the question is about (TakeThis).
	AsksTwin Asked = "twin"
)

// LeaveOut is the answer by which weights or stays without a day are left out.
const LeaveOut = "leave"

// The answers to AsksTwin.
const (
	TakeFirst = "first"
	TakeThis  = "this"
)

// Settle decides what the values of each column show of its style, where nobody
// said it, and tells what stays open.
func Settle(b Book, sheet int, t Taking, today model.Day) (Taking, []Question) {
	t.Columns = slices.Clone(t.Columns)
	rows := t.rows(b.Sheets[sheet])
	var open []Question
	for i := range t.Columns {
		c := &t.Columns[i]
		if c.Twin != NotTaken && t.TwinOf(i) >= 0 {
			if example := firstIn(rows, i); example != "" {
				open = append(open, Question{Sheet: sheet, Column: i, Asks: AsksTwin, Example: example})
			}
		}
		ask := func(what Asked, example string) {
			if example != "" {
				open = append(open, Question{Sheet: sheet, Column: i, Asks: what, Example: example})
			}
		}
		if c.Field.measured() && c.Numbers == NumbersOpen {
			var example string
			c.Numbers, example = decideNumbers(rows, i)
			if example != "" {
				open = append(open, Question{sheet, i, AsksNumbers, example, unitBehind(rows, i, *c, example)})
			}
		}
		if c.Field.dated() && c.Days == DaysOpen {
			var example string
			c.Days, example = decideDays(rows, i)
			ask(AsksDays, example)
		}
		if c.Field.dated() && c.Serials == SerialsOpen {
			var example string
			c.Serials, example = decideSerials(b, rows, i, today)
			ask(AsksSerials, example)
		}
	}
	if t.Lists == Meals && !t.has(Outcome) && !slices.Contains(care.Outcomes(), care.Outcome(t.Said)) {
		open = append(open, Question{Sheet: sheet, Column: -1, Asks: AsksOutcome, Example: b.Sheets[sheet].Name})
	}
	for _, u := range t.undated() {
		if example := firstIn(rows, u.column); example != "" && t.on(u.asks) == "" {
			open = append(open, Question{Sheet: sheet, Column: u.column, Asks: u.asks, Example: example})
		}
	}
	return t, open
}

// undated is a column that needs a day which no column of the sheet says, and how
// it is asked for.
type undated struct {
	asks   Asked
	column int
}

func (t Taking) undated() (all []undated) {
	for _, u := range []struct {
		asks  Asked
		of    Field
		lists []Listing
	}{{AsksWeighed, MassOf, []Listing{Animals, Weights}}, {AsksHoused, StayPlace, []Listing{Animals, Stays}}} {
		column := slices.IndexFunc(t.Columns, func(c Column) bool { return c.Field == u.of })
		if column >= 0 && slices.Contains(u.lists, t.Lists) && !t.has(u.asks.day()) {
			all = append(all, undated{u.asks, column})
		}
	}
	return all
}

// on is the day that was said of all, as it is kept.
func (t Taking) on(what Asked) string {
	if what == AsksHoused {
		return t.Housed
	}
	return t.On
}

// day is the field of the day that is asked for.
func (a Asked) day() Field {
	if a == AsksHoused {
		return StayFrom
	}
	return OnDay
}

// firstIn is the first value of a column; empty: it holds none.
func firstIn(rows []Row, column int) string {
	for _, r := range rows {
		if text := r.cell(column); text != "" {
			return text
		}
	}
	return ""
}

// TwinOf is the column that stands for what another may.
func (t Taking) TwinOf(column int) int {
	return slices.IndexFunc(t.Columns, func(c Column) bool { return c.Field == t.Columns[column].Twin })
}

// Below are the rows below the headings.
func (t Taking) Below(s Sheet) []Row { return s.Rows[min(t.Heading+1, len(s.Rows)):] }

// Left are the headings of the columns that hold something and of which nothing is
// taken.
func (t Taking) Left(s Sheet) (headings []string) {
	rows := t.rows(s)
	for i, c := range t.Columns {
		if c.Field == NotTaken && c.Heading != "" && firstIn(rows, i) != "" {
			headings = append(headings, c.Heading)
		}
	}
	return headings
}

// rows are the rows that are taken.
func (t Taking) rows(s Sheet) []Row {
	if t.Lists == NotListed {
		return nil
	}
	return t.Below(s)
}

func (t Taking) has(f Field) bool {
	return slices.ContainsFunc(t.Columns, func(c Column) bool { return c.Field == f })
}

// Choose takes a column for something; a field stands for one column only.
func (t Taking) Choose(column int, f Field) Taking {
	t.Columns = slices.Clone(t.Columns)
	for i := range t.Columns {
		if c := &t.Columns[i]; i == column || c.Field == f && f != NotTaken {
			*c = Column{Heading: c.Heading, Unit: c.Unit}
		}
	}
	t.Columns[column].Field = f
	for i := range t.Columns { // nobody need be asked any more
		if c := &t.Columns[i]; f != NotTaken && c.Twin == f {
			c.Twin = NotTaken
		}
	}
	return t
}

// Answer is the taking with a question answered.
func (t Taking) Answer(q Question, answer string) Taking {
	t.Columns = slices.Clone(t.Columns)
	switch q.Asks {
	case AsksNumbers:
		t.Columns[q.Column].Numbers = Numbers(answer)
	case AsksDays:
		t.Columns[q.Column].Days = Days(answer)
	case AsksSerials:
		t.Columns[q.Column].Serials = Serials(answer)
	case AsksOutcome:
		t.Said = answer
	case AsksWeighed:
		t.On = answer
	case AsksHoused:
		t.Housed = answer
	case AsksTwin:
		if answer == TakeThis {
			return t.Choose(q.Column, t.Columns[q.Column].Twin)
		}
		t.Columns[q.Column].Twin = NotTaken
	}
	return t
}

// Answered is the answer that a question has by now; empty: none, or, of one of two
// columns, none that can be told any more.
func (t Taking) Answered(q Question) string {
	switch {
	case q.Asks == AsksOutcome:
		return t.Said
	case q.Asks == AsksWeighed || q.Asks == AsksHoused:
		if slices.Contains(t.undated(), undated{q.Asks, q.Column}) {
			return t.on(q.Asks)
		}
		return ""
	case q.Column >= len(t.Columns):
		return ""
	}
	switch c := t.Columns[q.Column]; q.Asks {
	case AsksNumbers:
		return string(c.Numbers)
	case AsksDays:
		return string(c.Days)
	case AsksSerials:
		return string(c.Serials)
	}
	return ""
}

// unitBehind is the unit that stands behind a number of a column, else that of its
// heading, else the usual one.
func unitBehind(rows []Row, column int, c Column, number string) string {
	for _, r := range rows {
		if _, rest, found := strings.Cut(r.cell(column), number); found {
			word, _, _ := strings.Cut(strings.TrimSpace(rest), " ")
			if unit, known := units()[folded(word)]; known {
				return unit
			}
			break
		}
	}
	return cmpOr(c.Unit, c.Field.usual())
}

// Meant is what a number of a file is in a style, in words, with its unit and, where
// that has a smaller one, in that as well.
func Meant(example string, style Numbers, unit string, t *wording.Text) string {
	said := func(factor int64, unit string) string {
		words := meant(example, style, factor, t)
		if unit != "" {
			words += "\u00a0" + unit
		}
		return words
	}
	whole := said(1, unit)
	switch unit {
	case "kg":
		whole += " (" + said(1000, "g") + ")"
	case "m":
		whole += " (" + said(100, "cm") + ")"
	}
	return whole
}

func meant(example string, style Numbers, factor int64, t *wording.Text) string {
	clean := inStyle(example, style)
	n, ok := new(big.Rat).SetString(clean)
	if !ok {
		return example
	}
	whole, exact := new(big.Int), n.Mul(n, big.NewRat(1000*factor, 1))
	whole.Quo(exact.Num(), exact.Denom())
	if !whole.IsInt64() {
		return example
	}
	if thousandths := whole.Int64(); thousandths%1000 != 0 {
		return t.Decimal(thousandths, 3)
	}
	return t.Number(whole.Int64() / 1000)
}

// DayMeant is the day that a text of a file is in a style.
func DayMeant(example string, style Days) (model.Day, bool) {
	f := slashForm.FindStringSubmatch(example)
	if f == nil {
		return 0, false
	}
	day, month, year := number(f[1]), number(f[3]), number(f[4])
	if style == MonthFirst {
		day, month = month, day
	}
	if year < 100 {
		year += 2000
	}
	on := model.NewDay(year, time.Month(month), day)
	_, m, d := on.Date()
	return on, int(m) == month && d == day
}

// SerialMeant is the day that a plain number of a file is.
func SerialMeant(example string, from Serials) (model.Day, bool) {
	day, _, ok := serialDay(example, from)
	return day, ok
}
