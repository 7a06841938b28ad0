package table

import (
	"regexp"
	"slices"
	"strings"
)

// Taking is how a sheet is taken: what it lists, where its headings stand, and
// what each column holds.
type Taking struct {
	Lists   Listing  `json:"lists,omitempty"`
	Heading int      `json:"heading"` // the row of the headings; −1: there is none
	Columns []Column `json:"columns"`
	// Said is what became of the meals where no column says it; empty: not
	// answered.
	Said string `json:"said,omitempty"`
	// On is the day of every weight, and Housed the first of every stay, where no
	// column says it, as 2027-03-09, or LeaveOut; empty: not answered.
	On     string `json:"on,omitempty"`
	Housed string `json:"housed,omitempty"`
}

// Column is how one column is taken.
type Column struct {
	Heading string  `json:"heading"`
	Field   Field   `json:"field,omitempty"`
	Unit    string  `json:"unit,omitempty"` // of a quantity without one; empty: the usual one
	Numbers Numbers `json:"numbers,omitempty"`
	Days    Days    `json:"days,omitempty"`
	Serials Serials `json:"serials,omitempty"`
	// Twin is what another column stands for already, and this one may: it is asked
	// which of the two is taken.
	Twin Field `json:"-"`
}

// searched is how many rows may stand above the headings.
const searched = 15

// Guess takes a sheet as its headings say.
func (w *Words) Guess(s Sheet) Taking {
	best, most := Taking{Heading: 0}, 0
	for row := range s.Rows[:min(len(s.Rows), searched)] {
		for _, l := range Listings() {
			t := w.at(s, row, l)
			if score := w.score(s, t); score > most {
				best, most = t, score
			}
		}
	}
	if best.Lists == Stays { // what an animal is would be lost
		if t := w.at(s, best.Heading, Animals); t.taken() > best.taken() {
			best = t
		}
	}
	if most == 0 {
		best = w.at(s, 0, NotListed)
	}
	return best
}

// taken is how many columns are taken.
func (t Taking) taken() (n int) {
	for _, c := range t.Columns {
		if c.Field != NotTaken {
			n++
		}
	}
	return n
}

// At takes the sheet with its headings where they stand already, as a list of
// something else.
func (w *Words) At(s Sheet, t Taking, l Listing) Taking { return w.at(s, t.Heading, l) }

func (w *Words) at(s Sheet, row int, l Listing) Taking {
	t := Taking{Lists: l, Heading: row}
	for column := range width(s) {
		text := s.Rows[row].cell(column)
		c := Column{Heading: text, Field: w.named(l, strings.ReplaceAll(folded(text), ".", ""))}
		if c.Field == NotTaken {
			words, unit := w.heading(text)
			if f := w.named(l, words); f.measured() {
				c.Field, c.Unit = f, unit
			} else if words, _ = w.heading(bracketForm.ReplaceAllString(text, "")); f == NotTaken {
				c.Field = w.named(l, words)
			}
		}
		if slices.ContainsFunc(t.Columns, func(other Column) bool { return other.Field == c.Field }) {
			c.Twin, c.Field = c.Field, NotTaken // the first of two is taken, unless it is said
		}
		t.Columns = append(t.Columns, c)
	}
	if !t.has(StayPlace) { // a room or a rack alone is nowhere an animal lives
		for i, c := range t.Columns {
			if slices.Contains(within(), c.Field) {
				t.Columns[i].Field = NotTaken
			}
		}
	}
	return t
}

// bracketForm is what explains a heading, such as "(m/f)".
var bracketForm = regexp.MustCompile(`\(.*\)|\[.*\]`)

// width is the most columns that a row has.
func width(s Sheet) (most int) {
	for _, r := range s.Rows {
		most = max(most, len(r.Cells))
	}
	return most
}

// score is how well a sheet fits a listing: 0 where what it must have is missing.
func (w *Words) score(s Sheet, t Taking) int {
	var has []Field
	for _, c := range t.Columns {
		has = append(has, c.Field)
	}
	named := w.called(s.Name, t.Lists)
	if !t.enough(has, named) {
		return 0
	}
	score := 0
	for _, f := range has {
		switch {
		case f == NotTaken, t.Lists == Animals && f == OnDay && !t.has(MassOf): // the day of nothing
		case t.Lists == Animals && (f == StayPlace || slices.Contains(within(), f)): // that may stand beside anything
		case slices.Contains(t.Lists.own(), f):
			score += 3
		default:
			score++
		}
	}
	if named {
		score += 2
	}
	return score
}

// enough reports whether the fields make a list of this; named: the sheet's name
// says that it is one.
func (t Taking) enough(has []Field, named bool) bool {
	any := func(wanted ...Field) bool {
		return slices.ContainsFunc(wanted, func(f Field) bool { return slices.Contains(has, f) })
	}
	if !any(Name, Code, Chip) {
		return false
	}
	switch t.Lists {
	case Weights:
		return any(MassOf) && any(OnDay)
	case Meals:
		return any(OnDay) && (any(Prey, PreySize, PreyMass, Outcome) || named)
	case Sheds:
		return any(OnDay) && (any(Skin, EyeCaps, TailTip) || named)
	case Wastes:
		return any(OnDay) && any(Faeces, Urates)
	case Notes:
		return any(OnDay) && any(Remark)
	case Samples:
		return any(LookedFor) && any(Material, SampleOutcome, TakenOn)
	case Stays:
		return any(StayPlace) && any(StayFrom)
	}
	return true
}

// called reports whether a sheet's name says what it lists.
func (w *Words) called(name string, l Listing) bool {
	words := " " + strings.ReplaceAll(folded(name), ".", " ") + " "
	return slices.ContainsFunc(w.sheets[l], func(word string) bool { return strings.Contains(words, " "+word+" ") })
}

// Placed are the headings of columns that are left out and name where an animal
// lives: a list of stays takes them.
func (w *Words) Placed(t Taking) (headings []string) {
	if t.Lists == NotListed || t.Lists == Stays {
		return nil
	}
	for _, c := range t.Columns {
		words := strings.ReplaceAll(folded(c.Heading), ".", "")
		_, kind := w.values[placeKind][words]
		if c.Field == NotTaken && words != "" && (kind || w.named(Stays, words) == StayPlace) {
			headings = append(headings, c.Heading)
		}
	}
	return headings
}
