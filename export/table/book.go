package table

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"

	"coilward/model"
)

// What a spreadsheet may be at the most.
const (
	MaxBytes   = 64 << 20  // of the file
	MaxUnzip   = 256 << 20 // of an XLSX file when it is unpacked
	MaxRows    = 200_000   // of all sheets together
	MaxColumns = 200
	MaxCell    = 41_000 // bytes of one cell: the longest note in signs of four bytes
)

// Book is a spreadsheet as it was read.
type Book struct {
	Name     string // of the file
	Encoding string // of a CSV file, such as "UTF-8"
	Comma    rune   // what parts the columns of a CSV file
	From1904 bool   // days are counted from 1904
	Sheets   []Sheet
}

// Sheet is one sheet of a book. A CSV file has one, named after the file.
type Sheet struct {
	Name string
	Rows []Row
}

// Row is one line that is not empty.
type Row struct {
	Line  int // 1 is the first of the file or sheet
	Cells []string
	// Numbers tells which cells hold a number, with a point before its decimals,
	// whatever the other cells look like; nil: none is known to.
	Numbers []bool
}

// cell is the text of a column, empty beyond the end of the row. Spaces around it
// are left out, unless it was neutralised as it is.
func (r Row) cell(column int) string {
	if column >= len(r.Cells) {
		return ""
	}
	if text := restored(r.Cells[column]); text != r.Cells[column] {
		return text
	}
	return restored(strings.TrimSpace(r.Cells[column]))
}

// number reports whether the cell is known to hold a number.
func (r Row) number(column int) bool { return column < len(r.Numbers) && r.Numbers[column] }

func tooManyColumns(file string, line int) error {
	return refuse(file, "table.columns", map[string]model.Gap{"Line": model.CountGap(line), "Most": model.CountGap(MaxColumns)})
}

// refuse is a refusal of a file.
func refuse(file, reason string, gaps map[string]model.Gap) error {
	return &model.Refusal{Field: "table", Value: file, Reason: reason, Gaps: gaps, Answer: model.Mend}
}

// Open reads the spreadsheet at path. What is none, is too large, damaged or of
// a kind that cannot be read is refused, a *model.Refusal of the field "table".
func Open(path string) (Book, error) {
	name := filepath.Base(path)
	info, err := os.Stat(path)
	switch {
	case err != nil:
		return Book{}, refuse(name, "table.unreadable", map[string]model.Gap{"Cause": model.TextGap(err.Error())})
	case !info.Mode().IsRegular():
		return Book{}, refuse(name, "table.no-file", nil)
	case info.Size() > MaxBytes:
		return Book{}, tooLarge(name, info.Size())
	}
	file, err := os.Open(path)
	if err != nil {
		return Book{}, refuse(name, "table.unreadable", map[string]model.Gap{"Cause": model.TextGap(err.Error())})
	}
	defer file.Close()
	raw, err := io.ReadAll(io.LimitReader(file, MaxBytes+1))
	if err != nil {
		return Book{}, refuse(name, "table.unreadable", map[string]model.Gap{"Cause": model.TextGap(err.Error())})
	}
	return Read(name, raw)
}

func tooLarge(name string, bytes int64) error {
	return refuse(name, "table.large", map[string]model.Gap{"Size": model.CountGap(int(bytes >> 20)), "Most": model.CountGap(MaxBytes >> 20)})
}

// Read reads the bytes of a spreadsheet; name is that of its file.
func Read(name string, raw []byte) (Book, error) {
	if len(raw) > MaxBytes {
		return Book{}, tooLarge(name, int64(len(raw)))
	}
	var b Book
	var err error
	switch begins := string(raw[:min(len(raw), 8)]); {
	case len(raw) == 0:
		return Book{}, refuse(name, "table.empty", nil)
	case strings.HasPrefix(begins, "PK\x03\x04"):
		b, err = readXLSX(name, raw)
	case begins == "\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1":
		return Book{}, refuse(name, "table.old", nil)
	case strings.HasPrefix(begins, "%PDF"), strings.HasPrefix(begins, "\x89PNG"), strings.HasPrefix(begins, "\xff\xd8\xff"), strings.HasPrefix(begins, "{\\rtf"):
		return Book{}, refuse(name, "table.other", nil)
	default:
		b, err = readCSV(name, raw)
	}
	if err != nil {
		return Book{}, err
	}
	b.Name = name
	return b, b.check()
}

// check refuses a book beyond the limits, and one without a row.
func (b Book) check() error {
	rows := 0
	for _, s := range b.Sheets {
		rows += len(s.Rows)
		for _, r := range s.Rows {
			if len(r.Cells) > MaxColumns {
				return tooManyColumns(b.Name, r.Line)
			}
			for _, c := range r.Cells {
				if len(c) > MaxCell {
					return refuse(b.Name, "table.cell", map[string]model.Gap{"Line": model.CountGap(r.Line), "Most": model.CountGap(MaxCell)})
				}
			}
		}
	}
	switch {
	case rows == 0:
		return refuse(b.Name, "table.empty", nil)
	case rows > MaxRows:
		return refuse(b.Name, "table.rows", map[string]model.Gap{"Most": model.CountGap(MaxRows)})
	}
	return nil
}

// errTooMany ends the reading of a sheet that goes on and on.
var errTooMany = errors.New("too many rows")

// damaged says that a file is cut or damaged.
func damaged(name string, err error) error {
	return refuse(name, "table.damaged", map[string]model.Gap{"Cause": model.TextGap(fmt.Sprint(err))})
}

// Beside are the sheets of several CSV files as one book, so that the rows of one
// may be about the animals of another.
func Beside(name string, books ...Book) Book {
	b := Book{Name: name, Comma: ','}
	for _, other := range books {
		b.Sheets = append(b.Sheets, other.Sheets...)
	}
	return b
}
