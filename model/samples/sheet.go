package samples

import (
	"slices"

	"coilward/model/knowledge"
)

// Cell is a field of a result sheet: a sample's row and the column of a thing that
// is looked for.
type Cell struct{ Row, Column int }

// Sheet is a lab's report as it is entered: a row for each sample, a column for
// each thing looked for. Nothing stands in it at first; what a sample is not looked
// through for, and what has its result already, cannot be entered.
type Sheet struct {
	Rows    []Followed
	Columns []knowledge.AgentID
	At      Cell

	cells map[Cell]Outcome
}

// NewSheet is an empty sheet of some samples, with a column for each thing of which one of
// them has no result yet.
func NewSheet(rows []Followed) *Sheet {
	s := &Sheet{Rows: rows, cells: map[Cell]Outcome{}}
	for _, row := range rows {
		for _, of := range row.For {
			if row.Outcome(of) == Pending && !slices.Contains(s.Columns, of) {
				s.Columns = append(s.Columns, of)
			}
		}
	}
	if s.Cells() > 0 && !s.Open(s.At) {
		s.Next()
	}
	return s
}

// Open reports whether a result can be entered in a cell.
func (s *Sheet) Open(c Cell) bool {
	if c.Row < 0 || c.Row >= len(s.Rows) || c.Column < 0 || c.Column >= len(s.Columns) {
		return false
	}
	row, of := s.Rows[c.Row], s.Columns[c.Column]
	return slices.Contains(row.For, of) && row.Outcome(of) == Pending
}

// Outcome is what stands in a cell: what was entered, or what is known already.
func (s *Sheet) Outcome(c Cell) Outcome {
	if o := s.cells[c]; o != Pending || c.Row >= len(s.Rows) {
		return o
	}
	return s.Rows[c.Row].Outcome(s.Columns[c.Column])
}

// Cells is how many results can be entered.
func (s *Sheet) Cells() (n int) {
	s.Each(func(Cell, Outcome) { n++ })
	return n
}

// Each calls visit for each cell in which a result can be entered, row by row, with
// what was entered.
func (s *Sheet) Each(visit func(Cell, Outcome)) {
	for row := range s.Rows {
		for column := range s.Columns {
			if c := (Cell{row, column}); s.Open(c) {
				visit(c, s.cells[c])
			}
		}
	}
}

// Put enters an outcome in the cell that the keys are at, and goes on to the next;
// false: that was the last one. Pending takes out what was entered, and stays.
func (s *Sheet) Put(o Outcome) (more bool) {
	if !s.Open(s.At) {
		return true
	}
	if o == Pending {
		delete(s.cells, s.At)
		return true
	}
	s.cells[s.At] = o
	return s.Next()
}

// Next goes to the next cell in which a result can be entered; false: there is none.
func (s *Sheet) Next() bool { return s.step(1) }

// Back goes to the one before.
func (s *Sheet) Back() bool { return s.step(-1) }

func (s *Sheet) step(by int) bool {
	n := len(s.Columns)
	for i := s.At.Row*n + s.At.Column + by; i >= 0 && n > 0 && i < n*len(s.Rows); i += by {
		if c := (Cell{i / n, i % n}); s.Open(c) {
			s.At = c
			return true
		}
	}
	return false
}

// Move goes to the nearest cell in a direction in which a result can be entered.
func (s *Sheet) Move(dx, dy int) {
	for c := (Cell{s.At.Row + dy, s.At.Column + dx}); c.Row >= 0 && c.Row < len(s.Rows) && c.Column >= 0 && c.Column < len(s.Columns); c = (Cell{c.Row + dy, c.Column + dx}) {
		if s.Open(c) {
			s.At = c
			return
		}
	}
}

// Count is how many cells say an outcome; Pending: how many are empty.
func (s *Sheet) Count(o Outcome) (n int) {
	s.Each(func(_ Cell, entered Outcome) {
		if entered == o {
			n++
		}
	})
	return n
}

// Detected are the rows in which something was entered as detected, each with what.
func (s *Sheet) Detected(say func(row Followed, of []knowledge.AgentID)) {
	for i, row := range s.Rows {
		var of []knowledge.AgentID
		for _, f := range s.Found(i) {
			if f.Outcome == Detected {
				of = append(of, f.Of)
			}
		}
		if len(of) > 0 {
			say(row, of)
		}
	}
}

// Found is what was entered in a row.
func (s *Sheet) Found(row int) (all []Found) {
	for column, of := range s.Columns {
		if o := s.cells[Cell{row, column}]; o != Pending {
			all = append(all, Found{Of: of, Outcome: o})
		}
	}
	return all
}
