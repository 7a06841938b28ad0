package logger

import (
	"slices"
	"strings"

	"coilward/model/wording"
)

// Role is what a column says. Values are frozen for the texts "logger.role." + value.
type Role string

// The roles.
const (
	Ignored     Role = "ignored"
	When        Role = "when" // day and time of day
	Day         Role = "day"
	Hour        Role = "hour"
	Zone        Role = "zone" // an offset from UTC, or the name of a zone
	Temperature Role = "temperature"
	Humidity    Role = "humidity"
)

// Roles are all of them, in the order in which they are offered.
func Roles() []Role { return []Role{Ignored, When, Day, Hour, Zone, Temperature, Humidity} }

// Layout is how a file stands: what parts its columns, where its readings begin and
// what each column says.
type Layout struct {
	Comma   rune
	Heading int // the line that names the columns, counted from 1; 0: none
	Roles   []Role
	Names   []string // of the columns; of a file without a heading its first cells
}

// Whole reports whether the columns say when, and something that was measured.
func (l Layout) Whole() bool {
	has := func(r Role) bool { return slices.Contains(l.Roles, r) }
	return (has(When) || has(Day) && has(Hour)) && (has(Temperature) || has(Humidity))
}

// Choose is the layout with a role given to a column; whoever had it before is ignored.
func (l Layout) Choose(column int, r Role) Layout {
	l.Roles = slices.Clone(l.Roles)
	for i := range l.Roles {
		if l.Roles[i] == r {
			l.Roles[i] = Ignored
		}
	}
	l.Roles[column] = r
	return l
}

func (l Layout) column(r Role) int { return slices.Index(l.Roles, r) }

// unit is what the name of the temperature says of its unit.
func (l Layout) unit() Unit {
	if at := l.column(Temperature); at >= 0 && l.Heading > 0 {
		return unitOf(l.Names[at])
	}
	return ""
}

// unitOf is the unit that a text ends with or has in brackets.
func unitOf(text string) Unit {
	for _, word := range strings.FieldsFunc(strings.ToLower(text), func(r rune) bool { return strings.ContainsRune(" ()[]/,_-:;\"", r) }) {
		switch strings.TrimLeft(word, "°ºÂ") {
		case "c", "celsius", "degc":
			return Celsius
		case "f", "fahrenheit", "degf":
			return Fahrenheit
		}
	}
	for suffix, unit := range map[string]Unit{"°c": Celsius, "°f": Fahrenheit, "ºc": Celsius, "ºf": Fahrenheit} {
		if strings.HasSuffix(strings.ToLower(strings.TrimSpace(text)), suffix) {
			return unit
		}
	}
	return ""
}

// Words are the words by which headings name columns, in every language.
type Words map[Role][]string

// NewWords reads them from the texts: for each role words with commas between, small.
func NewWords(languages ...*wording.Text) Words {
	w := Words{}
	for _, t := range languages {
		for role, key := range map[Role]string{Ignored: "logger.words.ignored", When: "logger.words.when", Day: "logger.words.day", Hour: "logger.words.hour",
			Zone: "logger.words.zone", Temperature: "logger.words.temperature", Humidity: "logger.words.humidity"} {
			for _, word := range strings.Split(t.Say(key), ",") {
				if word = strings.TrimSpace(word); word != "" && !slices.Contains(w[role], word) {
					w[role] = append(w[role], word)
				}
			}
		}
	}
	return w
}

// named is the role that a heading names; longer words count before shorter ones, and
// what is to be ignored, such as a dew point in degrees, before all.
func (w Words) named(heading string) Role {
	folded := strings.ToLower(strings.TrimSpace(heading))
	for _, word := range w[Ignored] {
		if strings.Contains(folded, word) {
			return Ignored
		}
	}
	best, most := Ignored, 0
	for _, role := range Roles() {
		for _, word := range w[role] {
			if len(word) > most && strings.Contains(folded, word) {
				best, most = role, len(word)
			}
		}
	}
	return best
}

// separators are what may part columns, the likelier first.
var separators = []rune{';', '\t', ',', '|'}

// mostColumns is how many columns a file may have.
const mostColumns = 200

// guess finds the layout from the first lines.
func (w Words) guess(lines []string) Layout {
	best, most := Layout{Comma: ';'}, 0
	for _, comma := range separators {
		rows := make([][]string, len(lines))
		counts := map[int]int{}
		for i, line := range lines {
			if rows[i] = split(nil, line, comma); len(rows[i]) > 1 {
				counts[len(rows[i])]++
			}
		}
		for width, count := range counts {
			if score := count*4 + min(width, 8); width <= mostColumns && score > most {
				most = score
				best = w.columns(rows, width, comma)
			}
		}
	}
	return best
}

// columns gives the columns of a width their roles: by the line that names them, or by
// what stands in the first line of readings.
func (w Words) columns(rows [][]string, width int, comma rune) Layout {
	l := Layout{Comma: comma, Roles: slices.Repeat([]Role{Ignored}, width), Names: make([]string, width)}
	first := -1
	for i, row := range rows {
		if len(row) != width {
			continue
		}
		if slices.ContainsFunc(row, func(cell string) bool { _, ok := readMoment(cell); return ok }) {
			first = i
			break
		}
	}
	for i := first - 1; i >= 0; i-- {
		if len(rows[i]) == width || len(rows[i]) == width-1 { // a last column without a name
			l.Heading = i + 1
			break
		}
	}
	if first < 0 {
		return l
	}
	taken := map[Role]bool{}
	give := func(i int, r Role) {
		if r != Ignored && !taken[r] {
			l.Roles[i], taken[r] = r, true
		}
	}
	row := rows[first]
	if l.Heading > 0 {
		copy(l.Names, rows[l.Heading-1])
		for i, name := range l.Names {
			give(i, w.named(name))
		}
	} else {
		copy(l.Names, row)
	}
	// what a cell is tells more than what its column is called
	for i, cell := range row {
		m, ok := readMoment(cell)
		kind := Ignored
		switch {
		case !ok:
			if l.Roles[i] == When || l.Roles[i] == Day || l.Roles[i] == Hour {
				l.Roles[i] = Ignored
			}
			continue
		case m.hasDay && m.hasHour:
			kind = When
		case m.hasDay:
			kind = Day
		default:
			kind = Hour
		}
		if l.Roles[i] != kind && !taken[kind] || l.Roles[i] == When || l.Roles[i] == Day || l.Roles[i] == Hour {
			if j := l.column(kind); j >= 0 && j < i {
				if l.Roles[i] != kind {
					l.Roles[i] = Ignored
				}
				continue
			}
			l.Roles[i], taken[kind] = kind, true
		}
	}
	for i, cell := range row {
		if l.Heading > 0 || l.Roles[i] != Ignored {
			continue
		}
		if _, _, ok := readNumber(cell); ok {
			switch {
			case strings.Contains(cell, "%"):
				give(i, Humidity)
			case !taken[Temperature]:
				give(i, Temperature)
			default:
				give(i, Humidity)
			}
		}
	}
	return l
}

// split cuts a line into cells, as RFC 4180 has them but within one line: a quotation
// mark that is not closed ends with it.
func split(cells []string, line string, comma rune) []string {
	cells = cells[:0]
	for {
		rest := strings.TrimLeft(line, " ")
		if strings.HasPrefix(rest, `"`) {
			end, cell := quoted(rest[1:])
			after := rest[1+end:]
			cells = append(cells, cell)
			at := strings.IndexRune(after, comma)
			if at < 0 || len(cells) > mostColumns {
				return cells
			}
			line = after[at+1:]
			continue
		}
		at := strings.IndexRune(line, comma)
		if at < 0 || len(cells) > mostColumns {
			return append(cells, strings.TrimSpace(line))
		}
		cells = append(cells, strings.TrimSpace(line[:at]))
		line = line[at+1:]
	}
}

// quoted is the cell up to its closing mark, and where what follows begins.
func quoted(text string) (end int, cell string) {
	if at := strings.IndexByte(text, '"'); at >= 0 && (at+1 == len(text) || text[at+1] != '"') {
		return at + 1, strings.TrimSpace(text[:at])
	}
	var b strings.Builder
	for i := 0; i < len(text); i++ {
		if text[i] == '"' {
			if i+1 < len(text) && text[i+1] == '"' {
				i++
			} else {
				return i + 1, strings.TrimSpace(b.String())
			}
		}
		b.WriteByte(text[i])
	}
	return len(text), strings.TrimSpace(b.String())
}
