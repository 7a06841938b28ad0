package label

import (
	"errors"
	"io/fs"
	"strconv"

	"coilward/model/knowledge"
)

// Sheet is how labels lie on a sheet of paper; all lengths are tenths of a
// millimetre.
type Sheet struct {
	ID            SheetID
	Paper         Paper
	Left, Top     int // from the paper's edge to the first label
	Width, Height int // of a label
	Right, Down   int // of the empty paper between two labels
	Columns, Rows int
	Cut           bool // plain paper, cut along marks
	Source        string
}

// SheetID names a sheet by its measures.
type SheetID string

// Paper is a size of paper.
type Paper string

// The sizes of paper: ISO 216 A4 and North American Letter.
const (
	A4     Paper = "A4"
	Letter Paper = "Letter"
)

// Size is the paper's width and height in tenths of a millimetre; both are 0 for
// paper that is not known.
func (p Paper) Size() (width, height int) {
	switch p {
	case A4:
		return 2100, 2970
	case Letter:
		return 2159, 2794
	}
	return 0, 0
}

// Count is how many labels the sheet has.
func (s Sheet) Count() int { return s.Columns * s.Rows }

// At is where label n lies, counted from 0 along the rows: its upper left corner.
func (s Sheet) At(n int) (x, y int) {
	return s.Left + n%s.Columns*(s.Width+s.Right), s.Top + n/s.Columns*(s.Height+s.Down)
}

// sheetFile is the table of sheets, and sheetColumns its columns.
const sheetFile = "sheets.txt"

func sheetColumns() []string {
	return []string{"sheet", "paper", "left", "top", "width", "height", "right", "down", "columns", "rows", "cut", "source"}
}

// HoldsCard reports whether a label of the sheet holds the card of a box.
func (s Sheet) HoldsCard() bool { return s.Width >= cardWidth && s.Height >= cardHeight }

// HoldsTube reports whether a label of the sheet goes around a tube. Source: common
// practice, no source: tubes are some 40 mm long.
func (s Sheet) HoldsTube() bool { return s.Height <= tubeHeight }

// Cards are the sheets that hold the cards of boxes.
func Cards(all []Sheet) []Sheet { return those(all, Sheet.HoldsCard) }

// Tubes are the sheets whose labels go around tubes.
func Tubes(all []Sheet) []Sheet { return those(all, Sheet.HoldsTube) }

func those(all []Sheet, hold func(Sheet) bool) (held []Sheet) {
	for _, s := range all {
		if hold(s) {
			held = append(held, s)
		}
	}
	return held
}

// The bounds of a sheet's cells: the smallest label that holds a tube's code, the
// smallest that holds a card's code of the least size, each with its quiet zone, the
// highest that goes around a tube, and the most labels of a sheet.
const (
	leastWidth  = 300
	leastHeight = 125
	cardWidth   = 300
	cardHeight  = 210
	tubeHeight  = 260
	mostAcross  = 20
	mostDown    = 40
)

// Sheets reads the table of sheets. An error joins a *knowledge.Fault for every
// cell that cannot stand.
func Sheets(files fs.FS) ([]Sheet, error) {
	rows, err := knowledge.Rows(files, sheetFile, sheetColumns()...)
	if err != nil {
		return nil, err
	}
	l := sheets{taken: map[SheetID]bool{}}
	var all []Sheet
	for _, row := range rows {
		all = append(all, l.sheet(row))
	}
	if len(rows) == 0 {
		l.faults = append(l.faults, &knowledge.Fault{File: sheetFile, Reason: "want at least one sheet"})
	}
	return all, errors.Join(l.faults...)
}

// sheets is the table as far as it has been read.
type sheets struct {
	taken  map[SheetID]bool
	faults []error
}

func (l *sheets) fault(row knowledge.Row, column int, reason string) {
	l.faults = append(l.faults, &knowledge.Fault{File: sheetFile, Line: row.Line, Row: row.Cells[0], Column: sheetColumns()[column], Value: row.Cells[column], Reason: reason})
}

func (l *sheets) number(row knowledge.Row, column, least, most int) int {
	n, err := strconv.Atoi(row.Cells[column])
	if err != nil || n < least || n > most {
		l.fault(row, column, "want a whole number from "+strconv.Itoa(least)+" to "+strconv.Itoa(most))
		return least
	}
	return n
}

func (l *sheets) sheet(row knowledge.Row) Sheet {
	s := Sheet{ID: SheetID(row.Cells[0]), Paper: Paper(row.Cells[1]), Source: row.Cells[11]}
	if s.ID == "" || l.taken[s.ID] {
		l.fault(row, 0, "want an id that no earlier row has")
	}
	l.taken[s.ID] = true
	wide, high := s.Paper.Size()
	if wide == 0 {
		l.fault(row, 1, "want A4 or Letter")
		return s
	}
	s.Left, s.Top = l.number(row, 2, 0, wide), l.number(row, 3, 0, high)
	s.Width, s.Height = l.number(row, 4, leastWidth, wide), l.number(row, 5, leastHeight, high)
	s.Right, s.Down = l.number(row, 6, 0, wide), l.number(row, 7, 0, high)
	s.Columns, s.Rows = l.number(row, 8, 1, mostAcross), l.number(row, 9, 1, mostDown)
	switch row.Cells[10] {
	case "yes":
		s.Cut = true
	case "no":
	default:
		l.fault(row, 10, "want yes or no")
	}
	if s.Source == "" {
		l.fault(row, 11, "every row names its source")
	}
	x, y := s.At(s.Count() - 1)
	if x+s.Width > wide {
		l.fault(row, 8, "the last column reaches over the edge of the paper")
	}
	if y+s.Height > high {
		l.fault(row, 9, "the last row reaches over the edge of the paper")
	}
	return s
}
