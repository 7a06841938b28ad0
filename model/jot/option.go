package jot

import (
	"errors"
	"regexp"
	"strconv"
	"strings"

	"coilward/model"
)

// option is one thing that a run of words can be taken for.
type option struct {
	to   int // the word behind it
	as   As
	word sense // of the lexicon

	who  int // whom it names; of AsWhom: everyone, where it is −1
	mass model.Mass
	n    int // a count, a grade, or minutes since midnight
	day  model.Day
	bare bool // a number without a unit, or a count without "x"
}

const everyone = -1

// whoms are the options of the word at i as whom the line is about.
func (r *reader) whoms(i int) []option {
	var full, beginning []option
	t := r.tokens[i]
	for to, folded := i+1, t.folded; ; to++ {
		named, begun, begins := r.names.named(folded)
		for _, who := range named {
			full = append(full, option{to: to, as: AsWhom, who: who})
		}
		if !t.quoted && r.means(folded, all) {
			full = append(full, option{to: to, as: AsWhom, who: everyone})
		}
		before := r.tokens[to-1]
		last := !begins || to == len(r.tokens) || before.quoted || before.comma || before.colon || r.tokens[to].quoted
		switch {
		case len(full) > 0:
			beginning = nil // as long a name in full comes first
		case t.quoted:
		case len(begun) > MostReadings:
			r.tooOpen(i, to, begun)
		default:
			for _, who := range begun {
				beginning = append(beginning, option{to: to, as: AsWhom, who: who})
			}
		}
		if last {
			return append(full, beginning...)
		}
		folded += " " + r.tokens[to].folded
	}
}

// options are those of the word at i once it is said whom the line is about, or
// before, of a day or time.
func (r *reader) options(i int) []option {
	t := r.tokens[i]
	if t.quoted {
		return nil
	}
	var found []option
	r.phrases(i, func(to int, s sense) { found = append(found, r.meant(i, to, s)...) })
	if c := t.folded[0]; c >= '0' && c <= '9' || c == 'x' || c >= 0x80 {
		found = append(found, r.numeric(i)...)
	}
	return found
}

// phrases visits what the words from i on mean in the lexicon.
func (r *reader) phrases(i int, visit func(to int, s sense)) {
	t := r.tokens[i]
	if t.quoted {
		return
	}
	longest := r.lexicon.longest[t.folded]
	for to, folded := i+1, t.folded; to <= i+longest; to++ {
		for _, s := range r.lexicon.senses[folded] {
			visit(to, s)
		}
		if to == len(r.tokens) || r.tokens[to-1].comma || r.tokens[to].quoted {
			return
		}
		folded += " " + r.tokens[to].folded
	}
}

// phrase is where the phrase of that meaning that begins at i ends; 0: there is
// none.
func (r *reader) phrase(i int, m meaning) (end int) {
	if i < len(r.tokens) {
		r.phrases(i, func(to int, s sense) {
			if s.meaning == m {
				end = to
			}
		})
	}
	return end
}

// value is the last part of the meaning in a group that the phrase at i has.
func (r *reader) value(i int, group string) (value string, end int) {
	if i < len(r.tokens) {
		r.phrases(i, func(to int, s sense) {
			if rest, ok := strings.CutPrefix(string(s.meaning), group); ok {
				value, end = rest, to
			}
		})
	}
	return value, end
}

// meant are the options of a phrase of the lexicon.
func (r *reader) meant(i, to int, s sense) []option {
	group, rest, _ := strings.Cut(string(s.meaning), ".")
	o := option{to: to, word: s}
	switch s.meaning {
	case filler:
		o.as = AsFiller
	case weighs:
		o.as = AsWeight
	case shed:
		o.as = AsShed
	case inBlue:
		o.as = AsBlue
	case capsLeft, capsOff:
		o.as = AsCaps
	case tipLeft, tipOff:
		o.as = AsTip
	case faeces:
		o.as = AsFaeces
	case urates:
		o.as = AsUrates
	case mites:
		o.as = AsMites
	case noted:
		o.as, o.to = AsNote, len(r.tokens)
	case asked:
		o.as = AsQuestion
	case agoBefore:
		return r.daysAgo(to)
	case times:
		if n, ok := r.whole(to, 100); ok {
			return []option{{to: to + 1, as: AsCount, n: n}}
		}
		return nil
	}
	switch group + "." {
	case inDay:
		o.as, o.day = AsDay, r.today+map[string]model.Day{"yesterday": -1, "before-yesterday": -2, "tomorrow": 1}[rest]
	case inWeekday:
		return r.weekday(to, rest)
	case inMonth:
		return r.monthDay(i, to, rest)
	case inGut:
		o.as = AsGut
	case inOutcome:
		o.as = AsOutcome
	case inPrey:
		o.as = AsPrey
	case inSize:
		o.as = AsSize
	case inState:
		o.as = AsState
	case inSkin:
		o.as = AsShed
	case inTrait:
		o.as = AsTrait
	case inWhere:
		o.as = AsWhere
	case inClean:
		o.as = AsClean
	case inGrade:
		o.as, o.n = AsGrade, int(rest[0]-'0')
	}
	if o.as == "" {
		return nil
	}
	return []option{o}
}

// whole is the word at i as a whole number from 0 to most.
func (r *reader) whole(i, most int) (int, bool) {
	if i >= len(r.tokens) || r.tokens[i].quoted {
		return 0, false
	}
	return digits(strings.TrimSuffix(r.tokens[i].folded, "."), most)
}

func digits(text string, most int) (int, bool) {
	if text == "" || len(text) > 9 || strings.Trim(text, "0123456789") != "" {
		return 0, false
	}
	n, err := strconv.Atoi(text)
	return n, err == nil && n <= most
}

const mostDaysAgo = 36_600 // a hundred years: beyond any snake

func (r *reader) daysAgo(at int) []option {
	n, ok := r.whole(at, mostDaysAgo)
	end := r.phrase(at+1, agoDays)
	if !ok || end == 0 {
		return nil
	}
	return []option{{to: end, as: AsDay, day: r.today - model.Day(n)}}
}

// weekday is the last such day; on that day itself it may be today or a week ago.
func (r *reader) weekday(to int, rest string) []option {
	back := (int(r.today.Weekday()) - int(rest[0]-'0') + 7) % 7
	found := []option{{to: to, as: AsDay, day: r.today - model.Day(back)}}
	if back == 0 {
		found = append(found, option{to: to, as: AsDay, day: r.today - 7})
	}
	return found
}

// monthDay is "March 3" and "March 3, 2027".
func (r *reader) monthDay(i, to int, month string) []option {
	if _, ok := r.whole(to, 31); !ok {
		return nil
	}
	return r.dated(i, to+1, strings.TrimSuffix(r.tokens[to].folded, ".")+"."+month+".")
}

// dated is a day and a month, and with the year behind it where one stands there.
func (r *reader) dated(i, to int, typed string) []option {
	found := r.day(i, to, typed)
	if to < len(r.tokens) && len(r.tokens[to].folded) == 4 {
		if _, ok := r.whole(to, 9999); ok {
			found = append(found, r.day(i, to+1, typed+r.tokens[to].folded)...)
		}
	}
	return found
}

// day reads a typed day; one that may be two days is both.
func (r *reader) day(from, to int, typed string) []option {
	day, err := r.quantities.ParseDay(typed, r.today)
	var refusal *model.Refusal
	switch {
	case err == nil:
		return []option{{to: to, as: AsDay, day: day}}
	case errors.As(err, &refusal) && refusal.Reason == "day.open":
		var found []option
		for _, gap := range []string{"One", "Other"} {
			found = append(found, option{to: to, as: AsDay, day: model.Day(refusal.Gaps[gap].Number)})
		}
		return found
	}
	r.refused(from, to, err)
	return nil
}

// numeric are the options of a word that begins with a digit, and of "x2".
func (r *reader) numeric(i int) []option {
	text := r.tokens[i].folded
	if text[0] < '0' || text[0] > '9' {
		if n, ok := digits(strings.TrimLeft(text, "x×"), 100); ok {
			return []option{{to: i + 1, as: AsCount, n: n}}
		}
		return nil
	}
	if strings.ContainsAny(text, "-/") {
		return r.day(i, i+1, text)
	}
	end := len(text) - len(strings.TrimLeft(text, "0123456789.,'’:"))
	amount, rest := text[:end], text[end:]
	found := r.clock(i, amount, rest)
	if strings.Contains(amount, ":") {
		return found
	}
	if rest == "" {
		return append(found, r.plain(i, amount)...)
	}
	if n, ok := digits(amount, 100); ok && r.means(rest, times) {
		found = append(found, option{to: i + 1, as: AsCount, n: n})
	}
	if unit := r.unit(rest); unit != "" {
		found = append(found, r.masses(i, i+1, amount, unit)...)
	}
	if month, to := r.value(i+1, inMonth); month != "" && strings.Contains("st nd rd th", rest) {
		found = append(found, r.dated(i, to, amount+"."+month+".")...)
	}
	return found
}

// dateForm is what is a day and nothing else, also where the calendar has none of it: as an
// amount it would be a number nobody writes.
var dateForm = regexp.MustCompile(`^[0-9]{1,2}\.[0-9]{1,2}\.[0-9]{2,4}$`)

// plain are the options of a number that stands alone.
func (r *reader) plain(i int, amount string) []option {
	if dateForm.MatchString(amount) {
		return r.day(i, i+1, amount)
	}
	var found []option
	if unit, to := r.value(i+1, inUnit); unit != "" && !r.tokens[i].comma {
		found = append(found, r.masses(i, to, amount, unit)...)
	} else if !strings.HasSuffix(amount, ".") {
		found = append(found, r.masses(i, i+1, amount, "")...)
	}
	if n, ok := digits(amount, 100); ok {
		if to := r.phrase(i+1, times); to > 0 {
			found = append(found, option{to: to, as: AsCount, n: n})
		}
		found = append(found, option{to: i + 1, as: AsCount, n: n, bare: true})
		if n <= 4 {
			found = append(found, option{to: i + 1, as: AsGrade, n: n, bare: true})
		}
	}
	if month, to := r.value(i+1, inMonth); month != "" {
		found = append(found, r.dated(i, to, strings.TrimSuffix(amount, ".")+"."+month+".")...)
	}
	if to := r.phrase(i+1, agoBehind); to > 0 {
		if n, ok := digits(amount, mostDaysAgo); ok {
			found = append(found, option{to: to, as: AsDay, day: r.today - model.Day(n)})
		}
	}
	if strings.Contains(amount, ".") && !strings.ContainsAny(amount, ",'’") {
		found = append(found, r.day(i, i+1, amount)...)
	}
	return found
}

// clock are the readings of a number as a time of day.
func (r *reader) clock(i int, amount, rest string) []option {
	word, to := "", i+1
	for _, half := range [...]struct {
		meaning meaning
		typed   string
	}{{timeAM, "am"}, {timePM, "pm"}, {timeClock, "uhr"}} {
		switch end := r.phrase(i+1, half.meaning); {
		case rest != "" && r.means(rest, half.meaning):
			word = half.typed
		case rest == "" && end > 0 && !r.tokens[i].comma:
			word, to = half.typed, end
		}
	}
	var found []option
	if word != "" {
		if minutes, err := r.quantities.ParseTime(amount + " " + word); err == nil {
			found = append(found, option{to: to, as: AsTime, n: minutes})
		} else {
			r.refused(i, to, err)
		}
	}
	if rest == "" && strings.ContainsAny(amount, ":.") {
		minutes, err := r.quantities.ParseTime(amount)
		switch {
		case err == nil:
			found = append(found, option{to: i + 1, as: AsTime, n: minutes})
		case strings.Contains(amount, ":"):
			r.refused(i, i+1, err)
		}
	}
	return found
}

func (r *reader) means(folded string, m meaning) bool {
	for _, s := range r.lexicon.senses[folded] {
		if s.meaning == m {
			return true
		}
	}
	return false
}

func (r *reader) unit(folded string) string {
	for _, s := range r.lexicon.senses[folded] {
		if unit, ok := strings.CutPrefix(string(s.meaning), inUnit); ok {
			return unit
		}
	}
	return ""
}

// masses reads a number with its unit, and with the second number and unit that
// may stand behind it ("3 lb 2 oz").
func (r *reader) masses(i, to int, amount, unit string) []option {
	found := r.mass(i, to, amount, unit)
	if unit == "" || to >= len(r.tokens) || r.tokens[to-1].comma {
		return found
	}
	text := r.tokens[to].folded
	end := len(text) - len(strings.TrimLeft(text, "0123456789.,'’"))
	more, less, after := text[:end], r.unit(text[end:]), to+1
	if end == len(text) {
		less, after = r.value(to+1, inUnit)
	}
	if more == "" || less == "" {
		return found
	}
	return append(found, r.mass(i, after, amount, unit+" "+more+" "+less)...)
}

// mass reads one typed mass; a number that may be thousands or a decimal is both.
func (r *reader) mass(i, to int, amount, unit string) []option {
	bare := unit == ""
	m, err := r.quantities.ParseMass(strings.TrimSpace(amount + " " + unit))
	var refusal *model.Refusal
	switch {
	case err == nil:
		return []option{r.weighed(i, to, m, bare)}
	case errors.As(err, &refusal) && refusal.Reason == "number.open" && !strings.Contains(unit, " "):
		var found []option
		for _, gap := range []string{"Thousands", "Decimal"} {
			if m, err := r.quantities.ParseMass(strings.TrimSpace(refusal.Gaps[gap].Text + " " + unit)); err == nil {
				found = append(found, r.weighed(i, to, m, bare))
			}
		}
		return found
	}
	r.refused(i, to, err)
	return nil
}

func (r *reader) weighed(i, to int, m model.Mass, bare bool) option {
	m.Typed = r.line[r.tokens[i].from:r.tokens[to-1].to]
	return option{to: to, as: AsMass, mass: m, bare: bare}
}
