package animals

import (
	"bytes"
	"cmp"
	"slices"
	"strings"
	"unicode"

	"golang.org/x/text/runes"
	"golang.org/x/text/transform"
	"golang.org/x/text/unicode/norm"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/exam"
	"coilward/model/history"
	"coilward/model/knowledge"
	"coilward/model/weight"
)

// Row is one animal as the list knows it: what it is sorted, filtered and found
// by. Its words are made only when it is shown.
type Row struct {
	ID     model.AnimalID
	Name   string
	Code   string
	Chip   string
	Morph  string
	Sex    animals.Sex
	Status animals.Status
	Coat   animals.Coat
	Kept   bool
	Photo  model.PhotoID

	Hatched   model.Date
	Weight    model.Mass // the last one; zero: never weighed
	WeighedOn model.Day
	Before    model.Mass // the one before it; zero: none
	Meal      model.Moment
	Checked   model.Moment
	Brief     bool                // that was a brief look
	Open      int                 // open findings
	Level     knowledge.Level     // the most urgent of all that stands: everyday entries, a loss, a young animal unfed and breathing too
	Stands    history.Part        // what that level is of, where anything stands
	Loss      weight.Loss         // what it is of where that is a loss of weight; zero: none
	Unfed     history.Unfed       // and where a young animal has kept no meal; zero: none
	Breathing model.Day           // and the day of the visit whose breathing a vet should hear of; 0: none
	Begun     exam.Draft          // a check that was broken off; zero: none
	Unread    bool                // not all that is noted of it can be read
	Detected  []knowledge.AgentID // what was detected in it and is not settled, the earliest first
	Near      []knowledge.AgentID // what was detected in another while it was near
	Waits     bool                // it is in quarantine
	Mites     model.Day           // on which they were seen last, while they are watched for; 0: they are not
	Looked    bool                // looked at, by a check, since this month began

	folded string
}

// Fold readies the row for searching: name, code, chip and morph, without case
// and accents.
func (r *Row) Fold() {
	r.folded = fold(r.Name) + "\n" + fold(r.Code) + "\n" + fold(r.Chip) + "\n" + fold(r.Morph)
}

// fold brings a text down to small letters without accents. Plain ASCII, which
// most of it is, takes the short way.
func fold(s string) string {
	plain := true
	for i := range len(s) {
		plain = plain && s[i] < 0x80
	}
	if plain {
		return strings.ToLower(s)
	}
	out, _, err := transform.String(transform.Chain(norm.NFD, runes.Remove(runes.In(unicode.Mn)), norm.NFC), strings.ToLower(s))
	if err != nil {
		return strings.ToLower(s)
	}
	return strings.ReplaceAll(out, "ß", "ss")
}

// Column is a column of the table, by which it may be sorted.
type Column string

// The columns, in the order in which they stand.
const (
	ByName   Column = "name"
	ByCode   Column = "code"
	BySex    Column = "sex"
	ByAge    Column = "age"
	ByWeight Column = "weight"
	ByMeal   Column = "meal"
	ByCheck  Column = "check"
	ByOpen   Column = "open"
)

// Choice is which animals are shown, and in what order. The zero Choice shows
// all, by name.
type Choice struct {
	Search   string
	Gone     bool            // those that are no longer kept, instead of those that are
	Sex      animals.Sex     // only this sex; empty: any
	Level    knowledge.Level // only where something stands that is at least so urgent; 0: any
	Unlooked bool            // only those not looked at this month
	Detected bool            // only those in which something was detected that is not settled, and those near
	Sort     Column
	Back     bool // the other way round
}

// Filtered reports whether the choice hides anything but animals gone.
func (c Choice) Filtered() bool {
	return c.Search != "" || c.Sex != "" || c.Level != 0 || c.Unlooked || c.Detected
}

// Choose lists the rows that the choice shows, in its order, as indexes.
func Choose(rows []Row, c Choice) []int {
	words := strings.Fields(fold(c.Search))
	shown := make([]int, 0, len(rows))
	for i := range rows {
		if c.shows(&rows[i], words) {
			shown = append(shown, i)
		}
	}
	compare := c.order()
	slices.SortStableFunc(shown, func(a, b int) int { return compare(&rows[a], &rows[b]) })
	return shown
}

func (c Choice) shows(r *Row, words []string) bool {
	if r.Kept == c.Gone || c.Sex != "" && r.Sex != c.Sex || c.Unlooked && r.Looked {
		return false
	}
	if c.Detected && len(r.Detected)+len(r.Near) == 0 {
		return false
	}
	if r.Level < c.Level && (c.Level > knowledge.NoAction || len(r.Detected) == 0) { // what was detected is open, however urgent
		return false
	}
	for _, w := range words {
		if !strings.Contains(r.folded, w) {
			return false
		}
	}
	return true
}

// order compares two rows by the chosen column; animals without a value come
// last either way, and equal ones stand by name.
func (c Choice) order() func(a, b *Row) int {
	return func(a, b *Row) int {
		if x, y := c.Sort.missing(a), c.Sort.missing(b); x != y {
			if x {
				return 1
			}
			return -1
		}
		n := c.Sort.compare(a, b)
		if c.Back {
			n = -n
		}
		return cmp.Or(n, model.Natural(a.name(), b.name()), bytes.Compare(a.ID.ID[:], b.ID.ID[:]))
	}
}

// missing reports whether the row has no value in the column.
func (c Column) missing(r *Row) bool {
	switch c {
	case ByCode:
		return r.Code == ""
	case ByAge:
		return r.Hatched.IsZero()
	case ByWeight:
		return r.Weight.IsZero()
	case ByMeal:
		return r.Meal.IsZero()
	case ByCheck:
		return r.Checked.IsZero()
	}
	return false
}

// compare orders two rows by the column: what is small, young, long ago or
// least urgent first.
func (c Column) compare(a, b *Row) int {
	switch c {
	case ByCode:
		return model.Natural(strings.ToLower(a.Code), strings.ToLower(b.Code))
	case BySex:
		return cmp.Compare(a.Sex, b.Sex)
	case ByAge:
		return cmp.Compare(b.Hatched.Day, a.Hatched.Day)
	case ByWeight:
		return cmp.Compare(a.Weight.Milligrams, b.Weight.Milligrams)
	case ByMeal:
		return cmp.Compare(a.Meal.UTC, b.Meal.UTC)
	case ByCheck:
		return cmp.Compare(a.Checked.UTC, b.Checked.UTC)
	case ByOpen:
		return cmp.Or(cmp.Compare(a.rank(), b.rank()), cmp.Compare(a.Level, b.Level), cmp.Compare(len(a.Near), len(b.Near)), cmp.Compare(a.Open, b.Open))
	}
	return model.Natural(a.name(), b.name())
}

// rank puts what was detected above all but what is for today.
func (r *Row) rank() int {
	switch {
	case r.Level == knowledge.EmergencyToday:
		return 2
	case len(r.Detected) > 0:
		return 1
	}
	return 0
}

// name is the folded name.
func (r *Row) name() string {
	name, _, _ := strings.Cut(r.folded, "\n")
	return name
}
