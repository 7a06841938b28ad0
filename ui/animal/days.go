package animal

import (
	"slices"
	"time"

	"coilward/model"
)

// Days are the entries about one animal, newest first, as its list of days
// shows them: under headings of months, some kinds left out.
type Days struct {
	Entries []model.Document
	// Lines are what stands in the list.
	Lines []Line
	only  []string
}

// Line is one line of the list of days: a month's heading, or an entry.
type Line struct {
	Heading bool
	Year    int
	Month   time.Month
	Count   int // of a heading: how many entries stand under it
	Entry   int // of an entry: its index in Entries
}

// Only leaves entries of these kinds in the list; none: all.
func (d *Days) Only(kinds ...string) {
	d.only = kinds
	d.arrange()
}

// Chosen are the kinds that the list is kept to; none: all.
func (d *Days) Chosen() []string { return d.only }

func (d *Days) arrange() {
	d.Lines = d.Lines[:0]
	heading := -1
	for i := range d.Entries {
		if len(d.only) > 0 && !slices.Contains(d.only, d.Entries[i].Kind) {
			continue
		}
		year, month, _ := d.Entries[i].At.Day().Date()
		if heading < 0 || d.Lines[heading].Year != year || d.Lines[heading].Month != month {
			heading = len(d.Lines)
			d.Lines = append(d.Lines, Line{Heading: true, Year: year, Month: month})
		}
		d.Lines[heading].Count++
		d.Lines = append(d.Lines, Line{Entry: i, Year: year, Month: month})
	}
}

// Find is the line of an entry, or −1.
func (d *Days) Find(id model.EntryID) int {
	return slices.IndexFunc(d.Lines, func(l Line) bool { return !l.Heading && d.Entries[l.Entry].ID == id.ID })
}

// FindMonth is the line of the heading of that month, or of the nearest month
// before it that has entries; −1: there is none.
func (d *Days) FindMonth(year int, month time.Month) int {
	wanted := year*12 + int(month)
	return slices.IndexFunc(d.Lines, func(l Line) bool { return l.Heading && l.Year*12+int(l.Month) <= wanted })
}

// Months counts the entries of each month from the first to the last that has
// any, chosen kinds only.
func (d *Days) Months() (first time.Time, counts []int) {
	if len(d.Lines) == 0 {
		return time.Time{}, nil
	}
	newest, oldest := d.Lines[0], d.Lines[len(d.Lines)-1]
	from := oldest.Year*12 + int(oldest.Month)
	counts = make([]int, newest.Year*12+int(newest.Month)-from+1)
	for _, l := range d.Lines {
		if l.Heading {
			counts[l.Year*12+int(l.Month)-from] = l.Count
		}
	}
	return time.Date(oldest.Year, oldest.Month, 1, 0, 0, 0, 0, time.UTC), counts
}

// Kinds are the kinds that occur, in the order of the known ones, the unknown
// after them.
func (d *Days) Kinds(known []string) []string {
	var kinds []string
	for i := range d.Entries {
		if !slices.Contains(kinds, d.Entries[i].Kind) {
			kinds = append(kinds, d.Entries[i].Kind)
		}
	}
	place := func(kind string) int {
		if i := slices.Index(known, kind); i >= 0 {
			return i
		}
		return len(known)
	}
	slices.SortStableFunc(kinds, func(a, b string) int { return place(a) - place(b) })
	return kinds
}
