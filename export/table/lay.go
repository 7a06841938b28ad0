package table

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/feeders"
	"coilward/model/husbandry"
	"coilward/model/wording"
)

// Laid is a collection as tables.
type Laid struct {
	// Book has one sheet for each listing that has a row, and always that of the
	// animals. Its headings and words are those of one language and are read back
	// by NewWords in every one.
	Book Book
	// Left is how many entries of each kind stand in no table.
	Left map[string]int
	// Unread are the samples that cannot be read, and stand in no table.
	Unread int
}

// Lay lays the animals of a collection, the entries about them, where they
// lived and their samples out as tables, in the order of the animals and, of each, of time. Photos,
// what is known of a place beside its name and where it stands, how an animal is
// drawn, how a quantity was typed, the scale, the stock of feeders but for the name of the batch that
// a meal was of, and who noted an entry are not in tables, and a time is told to its minute. step is told how much is done, and
// its error ends the laying; nil: nobody.
func Lay(v model.View, w *Words, t *wording.Text, step func(share float64) error) (Laid, error) {
	all, err := animals.All(v)
	if err != nil {
		return Laid{}, err
	}
	house, err := husbandry.ReadHouse(v)
	if err != nil {
		return Laid{}, err
	}
	batches, err := feeders.Batches(v)
	if err != nil {
		return Laid{}, err
	}
	l := &layer{words: w, text: t, sheets: map[Listing]*Sheet{}, left: map[string]int{}, batches: called(batches)}
	l.sheet(Animals)
	for i, a := range all {
		l.row(Animals, func(f Field) (string, bool) { return l.ofAnimal(a, f) })
		if err := l.entries(v, a); err != nil {
			return Laid{}, err
		}
		l.stays(house, a)
		if step != nil {
			if err := step(float64(i+1) / float64(len(all))); err != nil {
				return Laid{}, err
			}
		}
	}
	if err := l.samples(v, all); err != nil {
		return Laid{}, err
	}
	laid := Laid{Left: l.left, Unread: l.unread}
	for _, lists := range Listings() {
		if s := l.sheets[lists]; s != nil {
			laid.Book.Sheets = append(laid.Book.Sheets, *s)
		}
	}
	return laid, nil
}

// layer lays rows out one after the other.
type layer struct {
	words  *Words
	text   *wording.Text
	sheets map[Listing]*Sheet
	left   map[string]int
	unread int // samples
	// batches are what each batch of feeders is called in a table.
	batches map[model.BatchID]string
}

// called are the names of batches; of one that shares its name, the id.
func called(all []feeders.Stored) map[model.BatchID]string {
	times, names := map[string]int{}, map[model.BatchID]string{}
	for _, b := range all {
		times[animals.Fold(b.Name)]++
	}
	for _, b := range all {
		if names[b.ID] = b.Name; times[animals.Fold(b.Name)] > 1 {
			names[b.ID] = b.ID.String()
		}
	}
	return names
}

// written are the fields that a listing is written with, in the order of its
// columns. A list of animals does not tell a weight: those have a list.
func (l Listing) written() []Field {
	all := []Field{Name, Code, Chip}
	if l != Animals && l != Stays && l != Samples {
		all = append(all, OnDay, AtTime, Zone)
	}
	return append(append(all, l.own()...), Remark, Mark)
}

// sheet is the sheet of a listing, made with its headings where there is none yet.
func (l *layer) sheet(lists Listing) *Sheet {
	s := l.sheets[lists]
	if s == nil {
		heading := Row{Line: 1}
		for _, f := range lists.written() {
			heading.Cells = append(heading.Cells, l.heading(lists, f))
		}
		s = &Sheet{Name: l.text.Say("movein.lists." + string(lists)), Rows: []Row{heading}}
		l.sheets[lists] = s
	}
	return s
}

// heading is what a field is called, by the first of its words that is read back
// as it in this listing: some of them are a word for something else too.
func (l *layer) heading(lists Listing, f Field) string {
	words := []string{l.text.Say("field." + string(f))}
	if more := "movein.also." + string(f); l.text.Has(more) {
		words = append(words, strings.Split(l.text.Say(more), "|")...)
	}
	for _, word := range words {
		if l.words.named(lists, strings.ReplaceAll(folded(word), ".", "")) != f {
			continue
		}
		first, size := utf8.DecodeRuneInString(word)
		word = string(unicode.ToUpper(first)) + word[size:]
		if f.measured() {
			word += " (" + f.usual() + ")"
		}
		return word
	}
	return words[0]
}

// row puts a row into the sheet of a listing; cell gives what stands in a field,
// and whether it is a number.
func (l *layer) row(lists Listing, cell func(Field) (text string, number bool)) {
	s, fields := l.sheet(lists), lists.written()
	r := Row{Line: len(s.Rows) + 1, Cells: make([]string, len(fields)), Numbers: make([]bool, len(fields))}
	for i, f := range fields {
		text, number := cell(f)
		r.Cells[i], r.Numbers[i] = neutralised(text), number && text != ""
	}
	s.Rows = append(s.Rows, r)
}

// entries lays out what is noted of an animal, oldest first.
func (l *layer) entries(v model.View, a animals.Stored) error {
	var all []model.Document
	err := v.Timeline(a.ID.Subject(), model.Beginning, model.EndOfTime, func(d model.Document) bool {
		// it stands with the first animal that it is about
		if first, _ := d.Animal(); d.Type == model.TypeEntry && first == a.ID {
			all = append(all, d)
		}
		return true
	})
	if err != nil {
		return fmt.Errorf("read the entries of animal %s: %w", a.ID, err)
	}
	for _, d := range slices.Backward(all) {
		e, known, err := care.Decode(d)
		if err != nil {
			return fmt.Errorf("lay out the entries of animal %s: %w", a.ID, err)
		}
		lists := NotListed
		if known {
			lists = listing(e.Body)
		}
		if lists == NotListed {
			l.left[d.Kind]++
			continue
		}
		l.row(lists, func(f Field) (string, bool) {
			if slices.Contains(who(), f) {
				return l.ofAnimal(a, f)
			}
			return l.ofEntry(e, f)
		})
	}
	return nil
}

// stays lays out where an animal lived, oldest first.
func (l *layer) stays(h *husbandry.House, a animals.Stored) {
	for _, s := range h.Stays(a.ID) {
		l.row(Stays, func(f Field) (string, bool) {
			switch f {
			case StayPlace:
				var names []string
				for _, p := range h.Path(s.Place) {
					names = append(names, p.Name)
				}
				return pathOf(names), false
			case StayFrom, StayFromTime, Zone:
				return l.ofMoment(s.From, whenColumns{StayFrom, StayFromTime, Zone}, f), false
			case StayTo, StayToTime, StayToZone:
				return l.ofMoment(s.To, whenColumns{StayTo, StayToTime, StayToZone}, f), false
			case Remark:
				return s.Note, false
			}
			return l.ofAnimal(a, f)
		})
	}
}

// ofMoment is what stands in one of the columns that tell a moment.
func (l *layer) ofMoment(m model.Moment, in whenColumns, f Field) string {
	switch {
	case m.IsZero():
		return ""
	case f == in.day:
		return m.Day().String()
	case f == in.zone:
		return clock(m)
	case m.Precision != model.ToMinute && m.Precision != "":
		return ""
	}
	return l.text.Time(m)
}

// listing is the listing that an entry of this body stands in.
func listing(b care.Body) Listing {
	switch b := b.(type) {
	case care.Weight:
		return Weights
	case care.Meal:
		return Meals
	case care.Shed:
		return Sheds
	case care.Waste:
		return Wastes
	case care.Note:
		if strings.TrimSpace(b.Text) != "" {
			return Notes
		}
	}
	return NotListed
}

func (l *layer) ofAnimal(a animals.Stored, f Field) (text string, number bool) {
	switch f {
	case Name:
		return a.Name, false
	case Code:
		return a.Code, false
	case Chip:
		return a.Chip.Digits, false
	case Mark:
		return a.ID.String(), false
	case Species:
		return l.word(f, string(a.Species)), false
	case Sex:
		return l.word(f, string(a.Sex)), false
	case SexHow:
		return l.word(f, string(a.SexHow)), false
	case Hatched:
		return date(a.Hatched), false
	case Morph:
		return a.Morph, false
	case Origin:
		return a.Origin, false
	case Permits:
		return a.Permits, false
	case SourceOf:
		return l.word(f, string(a.Source)), false
	case From:
		return a.From, false
	case Since:
		return date(a.Since), false
	case SnoutVent:
		return decimal(a.Length.SnoutVent.Tenths, 2), true
	case Measured:
		return date(a.Length.On), false
	case ChipKind:
		if a.Chip.IsZero() {
			return "", false
		}
		return l.word(f, string(a.Chip.Standard)), false
	case ChipSite:
		return l.word(f, string(a.Chip.Site)), false
	case ChipRead:
		return date(a.Chip.LastRead), false
	case Status:
		return l.word(f, string(a.Status)), false
	case StatusDay:
		return date(a.StatusDay), false
	case Remark:
		return a.Note, false
	}
	return "", false
}

func (l *layer) ofEntry(e care.Entry, f Field) (text string, number bool) {
	switch f {
	case OnDay, AtTime, Zone:
		return l.ofMoment(e.At, whenColumns{OnDay, AtTime, Zone}, f), false
	}
	switch b := e.Body.(type) {
	case care.Weight:
		switch f {
		case MassOf:
			return decimal(b.Mass.Milligrams, 3), true
		case Gut:
			return l.word(f, string(b.Gut)), false
		}
		return b.Note, false
	case care.Meal:
		return l.ofMeal(b, f)
	case care.Shed:
		switch f {
		case Skin:
			return l.word(f, string(b.Skin)), false
		case EyeCaps:
			return l.word(f, string(b.StuckEyeCaps)), false
		case TailTip:
			return l.word(f, string(b.StuckTailTip)), false
		}
		return b.Note, false
	case care.Waste:
		switch f {
		case Faeces:
			return l.traits(f, b.Faeces), false
		case Urates:
			return l.traits(f, b.Urates), false
		}
		return b.Note, false
	case care.Note:
		return b.Text, false
	}
	return "", false
}

func (l *layer) ofMeal(m care.Meal, f Field) (text string, number bool) {
	switch f {
	case Prey:
		return l.word(f, string(m.Prey)), false
	case PreySize:
		return l.word(f, string(m.Size)), false
	case PreyMass:
		return decimal(m.Each.Milligrams, 3), true
	case Count:
		if m.Count == 0 {
			return "", false
		}
		return strconv.Itoa(m.Count), true
	case PreyState:
		return l.word(f, string(m.State)), false
	case Outcome:
		return l.word(f, string(m.Outcome)), false
	case BroughtUp:
		return date(m.BroughtUp), false
	case BatchOf:
		return l.batches[m.Batch], false
	}
	return m.Note, false
}

// word is what a value is called, or the value itself where its word would be
// read back as another or as none; the zero value is an empty cell.
func (l *layer) word(f Field, value string) string {
	if value == "" {
		return ""
	}
	if key := l.words.keys[f][value]; key != "" {
		word := l.text.Say(key)
		if back, ok := l.words.value(f, word); ok && back == value {
			return word
		}
	}
	return value
}

// traits are words beside each other.
func (l *layer) traits(f Field, seen []care.Trait) string {
	var all []string
	for _, t := range seen {
		word := l.word(f, string(t))
		if strings.ContainsAny(word, traitMarks) {
			word = string(t)
		}
		all = append(all, word)
	}
	return strings.Join(all, "; ")
}

// date is a date as far as it is known, as ISO 8601 writes it.
func date(d model.Date) string {
	if d.IsZero() {
		return ""
	}
	text := d.Day.String()
	switch d.Precision {
	case model.ToMonth:
		return text[:len("2027-03")]
	case model.ToYear:
		return text[:len("2027")]
	}
	return text
}

// decimal is n / 10^places with a point and never with three decimals, which
// could be read as thousands; 0 is empty.
func decimal(n int64, places int) string {
	if n == 0 {
		return ""
	}
	digits := strconv.FormatInt(n, 10)
	if len(digits) <= places {
		digits = strings.Repeat("0", places+1-len(digits)) + digits
	}
	whole, part := digits[:len(digits)-places], strings.TrimRight(digits[len(digits)-places:], "0")
	switch len(part) {
	case 0:
		return whole
	case 3:
		part += "0"
	}
	return whole + "." + part
}
