package table

import (
	"bytes"
	"errors"
	"fmt"
	"regexp"
	"strconv"

	"github.com/xuri/excelize/v2"

	"coilward/model"
)

// readXLSX reads the values of an XLSX file as they are stored, whatever format
// they are shown in.
func readXLSX(name string, raw []byte) (b Book, err error) {
	defer func() {
		// a damaged file must not end the program
		if what := recover(); what != nil {
			b, err = Book{}, damaged(name, fmt.Errorf("%v", what))
		}
	}()
	f, err := excelize.OpenReader(bytes.NewReader(raw), excelize.Options{RawCellValue: true, UnzipSizeLimit: MaxUnzip, UnzipXMLSizeLimit: MaxUnzip})
	if err != nil {
		return Book{}, notOpened(name, raw, err)
	}
	defer func() { err = errors.Join(err, f.Close()) }()
	if props, err := f.GetWorkbookProps(); err == nil && props.Date1904 != nil {
		b.From1904 = *props.Date1904
	}
	left := MaxRows
	for _, sheet := range f.GetSheetList() {
		rows, err := sheetRows(f, sheet, left)
		if errors.Is(err, errTooMany) {
			return Book{}, refuse(name, "table.rows", map[string]model.Gap{"Most": model.CountGap(MaxRows)})
		}
		if err != nil {
			return Book{}, damaged(name, err)
		}
		left -= len(rows)
		if len(rows) > 0 {
			b.Sheets = append(b.Sheets, Sheet{Name: sheet, Rows: rows})
		}
	}
	return b, nil
}

// notOpened says why a file that begins as XLSX cannot be read.
func notOpened(name string, raw []byte, err error) error {
	switch {
	case bytes.Contains(raw[:min(len(raw), 200)], []byte("opendocument")):
		return refuse(name, "table.old", nil)
	case regexp.MustCompile(`unzip size exceeds`).MatchString(err.Error()):
		return refuse(name, "table.unpacked", map[string]model.Gap{"Most": model.CountGap(MaxUnzip >> 20)})
	}
	return damaged(name, err)
}

func sheetRows(f *excelize.File, sheet string, left int) (rows []Row, err error) {
	all, err := f.Rows(sheet)
	if err != nil {
		return nil, err
	}
	defer func() { err = errors.Join(err, all.Close()) }()
	for line := 1; all.Next(); line++ {
		cells, err := all.Columns()
		if err != nil {
			return nil, err
		}
		if blank(cells) {
			continue
		}
		if len(cells) > MaxColumns {
			return append(rows, Row{Line: line, Cells: cells}), nil // refused as a whole: what follows is not read
		}
		if len(rows) >= left {
			return nil, errTooMany
		}
		row := Row{Line: line, Cells: cells}
		for i, text := range cells {
			if !storedForm.MatchString(text) {
				continue
			}
			if number, err := stored(f, sheet, i+1, line); err != nil || !number {
				continue
			}
			if row.Numbers == nil {
				row.Numbers = make([]bool, len(cells))
			}
			row.Cells[i], row.Numbers[i] = plainNumber(text), true
		}
		rows = append(rows, row)
	}
	return rows, all.Error()
}

// storedForm is the form of a stored number that is not whole. A whole one is
// the same number however it is read.
var storedForm = regexp.MustCompile(`^-?[0-9]+(?:\.[0-9]+(?:[eE][-+]?[0-9]+)?|[eE][-+]?[0-9]+)$`)

// stored reports whether a cell holds a number and not a text that looks so.
func stored(f *excelize.File, sheet string, column, line int) (bool, error) {
	cell, err := excelize.CoordinatesToCellName(column, line)
	if err != nil {
		return false, err
	}
	kind, err := f.GetCellType(sheet, cell)
	return kind == excelize.CellTypeUnset || kind == excelize.CellTypeNumber || kind == excelize.CellTypeFormula, err
}

// plainNumber writes a stored number without an exponent, in the 15 digits that a
// spreadsheet shows: 0.1 is stored as 0.10000000000000001.
func plainNumber(text string) string {
	v, err := strconv.ParseFloat(text, 64)
	if err != nil {
		return text
	}
	if v == float64(int64(v)) {
		return strconv.FormatInt(int64(v), 10)
	}
	rounded, err := strconv.ParseFloat(strconv.FormatFloat(v, 'g', 15, 64), 64)
	if err != nil {
		return text
	}
	return strconv.FormatFloat(rounded, 'f', -1, 64)
}
