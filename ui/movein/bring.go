package movein

import (
	"bytes"
	"context"
	"encoding/csv"
	"slices"
	"strconv"

	"coilward/export/table"
	"coilward/model"
	"coilward/model/animals"
	"coilward/model/collection"
	"coilward/model/comparing"
	"coilward/model/disk"
	"coilward/model/feeders"
	"coilward/model/husbandry"
	"coilward/model/importing"
	"coilward/model/knowledge"
	"coilward/model/people"
	"coilward/model/wording"
)

// bring is one spreadsheet on its way in. Its answers are changed on Fyne's
// goroutine; look works on a copy.
type bring struct {
	book      table.Book
	guessed   []table.Taking  // as the headings say
	takings   []table.Taking  // as the headings and the person say
	recalled  []bool          // of takings: as the person said the last time
	doubts    map[string]bool // questions of rows by their reason: yes or no
	strangers bool
	places    table.NewPlaces
	answered  []table.Question // that were asked, to be answered otherwise
}

// seen is what came of looking at every row.
type seen struct {
	takings []table.Taking // with the styles that the columns show
	open    []table.Question
	taken   table.Taken
	j       importing.Judgement
	doubts  map[string][]importing.Refused // raised and not answered
	bad     []table.Bad
}

// begun is a book as it was taken the last time by hand, else as its headings say.
func begun(b table.Book, w *table.Words, m table.Memory) *bring {
	n := &bring{book: b, doubts: map[string]bool{}, strangers: true}
	for _, s := range b.Sheets {
		guessed := w.Guess(s)
		t, recalled := m.Recall(w, guessed)
		n.guessed, n.takings, n.recalled = append(n.guessed, guessed), append(n.takings, t), append(n.recalled, recalled)
	}
	return n
}

// answer keeps an answer, and that it was asked.
func (b *bring) answer(q table.Question, value string) {
	b.takings[q.Sheet] = b.takings[q.Sheet].Answer(q, value)
	if !slices.Contains(b.answered, q) {
		b.answered = append(b.answered, q)
	}
}

// standing are the questions whose answer still stands.
func (b *bring) standing() (all []table.Question) {
	for _, q := range b.answered {
		if b.takings[q.Sheet].Answered(q) != "" {
			all = append(all, q)
		}
	}
	return all
}

// copied is the same with answers of its own.
func (b *bring) copied() *bring {
	c := *b
	c.takings = slices.Clone(b.takings)
	c.doubts = map[string]bool{}
	for reason, yes := range b.doubts {
		c.doubts[reason] = yes
	}
	return &c
}

// remembered is the memory with how the sheets are taken.
func (b *bring) remembered(w *table.Words, m table.Memory) table.Memory {
	for i, t := range b.takings {
		m = m.Keep(w, b.guessed[i], t)
	}
	return m
}

// look reads and judges every row.
func (b *bring) look(ctx context.Context, c *collection.Collection, w *table.Words, tables *knowledge.Tables, by model.PersonID, progress func(float64)) (*seen, error) {
	s := &seen{doubts: map[string][]importing.Refused{}}
	err := c.View(func(v model.View) error {
		known, err := animals.All(v)
		if err != nil {
			return err
		}
		persons, err := people.All(v)
		if err != nil {
			return err
		}
		batches, err := feeders.Batches(v)
		if err != nil {
			return err
		}
		house, err := husbandry.ReadHouse(v)
		if err != nil {
			return err
		}
		for i, t := range b.takings {
			t, open := table.Settle(b.book, i, t, v.Now().Day())
			s.takings, s.open = append(s.takings, t), append(s.open, open...)
		}
		s.taken, err = table.Take(b.book, s.takings, table.Given{Words: w, Tables: tables, Known: known, House: house, People: persons, Batches: batches, Now: v.Now(), Strangers: b.strangers, NewPlaces: b.places, By: by,
			Step: func(share float64) error { progress(share / 2); return ctx.Err() }})
		if err != nil {
			return err
		}
		for reason, yes := range b.doubts {
			if yes {
				s.taken.Rows.Confirmed = append(s.taken.Rows.Confirmed, reason)
			}
		}
		slices.Sort(s.taken.Rows.Confirmed)
		s.j, err = s.taken.Rows.Judge(v, func(share float64) error { progress(.5 + share/2); return ctx.Err() })
		return err
	})
	s.bad = slices.Clone(s.taken.Bad)
	for _, r := range s.j.Refused {
		if _, answered := b.doubts[r.Refusal.Reason]; r.Refusal.Answer != model.Mend && !answered {
			s.doubts[r.Refusal.Reason] = append(s.doubts[r.Refusal.Reason], r)
			continue
		}
		s.bad = append(s.bad, table.BadOf(r, func(of *model.Refusal) string { return s.heading(b.book, r.Sheet, of.Field) }))
	}
	slices.SortStableFunc(s.bad, func(a, c table.Bad) int { return a.Line - c.Line })
	return s, err
}

// heading is what the column of a sheet is called that a field stands in.
func (s *seen) heading(b table.Book, name, field string) string {
	for i, sheet := range b.Sheets {
		if sheet.Name != name {
			continue
		}
		for _, c := range s.takings[i].Columns {
			if c.Field == table.Field(field) {
				return c.Heading
			}
		}
	}
	return ""
}

// reasons are those of the doubts, in a steady order.
func (s *seen) reasons() []string {
	var all []string
	for reason := range s.doubts {
		all = append(all, reason)
	}
	slices.Sort(all)
	return all
}

// askPlaces reports whether it must be asked if places are to be made.
func (s *seen) askPlaces(answer table.NewPlaces) bool {
	return answer == table.PlacesOpen && len(s.taken.Places) > 0
}

// ready reports whether nothing is left to answer and something to bring in.
func (s *seen) ready(places table.NewPlaces) bool {
	return len(s.open) == 0 && len(s.doubts) == 0 && !s.askPlaces(places) && s.j.Made() > 0
}

// partOf is what of a row is not brought in.
func partOf(b table.Bad, t *wording.Text) string {
	return t.Say(comparing.Key(b.Part.Type, b.Part.Kind, t.Has))
}

// saveBad writes the rows that are not brought in as a list of its own.
func saveBad(path string, bad []table.Bad, t *wording.Text) error {
	var file bytes.Buffer
	file.WriteString("\ufeff") // so that a spreadsheet knows the encoding
	w := csv.NewWriter(&file)
	rows := [][]string{{t.Say("movein.sheet"), t.Say("movein.line"), t.Say("movein.part"), t.Say("movein.column.word"), t.Say("movein.value"), t.Say("movein.reason")}}
	for _, b := range bad {
		for _, f := range b.Faults() {
			rows = append(rows, []string{table.Neutralised(b.Sheet), strconv.Itoa(b.Line), partOf(b, t), table.Neutralised(f.Column), table.Neutralised(f.Refusal.Value), table.Neutralised(t.Why(f.Refusal))})
		}
	}
	if t.Language() == "de" {
		w.Comma = ';'
	}
	if err := w.WriteAll(rows); err != nil {
		return err
	}
	return disk.Write(path, file.Bytes())
}
