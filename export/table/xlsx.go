package table

import (
	"archive/zip"
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"regexp"
	"strconv"
	"strings"

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
	if err := wholeXLSX(raw); err != nil {
		return Book{}, notOpened(name, raw, err)
	}
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

// wholeXLSX tells why a file of that form is not whole: a part whose sum is another, or a
// sheet or the list of texts that ends or breaks before its end. The library reads both as
// far as it can and says nothing.
func wholeXLSX(raw []byte) error {
	z, err := zip.NewReader(bytes.NewReader(raw), int64(len(raw)))
	if err != nil {
		return fmt.Errorf("open the parts of a workbook: %w", err)
	}
	left := int64(MaxUnzip)
	for _, part := range z.File {
		if err := wholePart(part, &left); err != nil {
			return fmt.Errorf("read %s: %w", part.Name, err)
		}
	}
	return nil
}

// wholePart reads one part to its end. left is how many bytes may still be unpacked.
func wholePart(part *zip.File, left *int64) error {
	r, err := part.Open()
	if err != nil {
		return err
	}
	defer r.Close()
	counted := &io.LimitedReader{R: r, N: *left + 1}
	defer func() { *left = counted.N - 1 }()
	if name := strings.ToLower(part.Name); strings.HasPrefix(name, "xl/worksheets/") && strings.HasSuffix(name, ".xml") || strings.HasSuffix(name, "sharedstrings.xml") {
		x := xml.NewDecoder(counted)
		x.CharsetReader = func(_ string, in io.Reader) (io.Reader, error) { return in, nil } // its signs are of no matter here
		for err == nil {
			_, err = x.Token()
		}
		if !errors.Is(err, io.EOF) && counted.N > 0 {
			return err
		}
	}
	if _, err := io.Copy(io.Discard, counted); err != nil {
		return err
	}
	if counted.N == 0 {
		return errUnpacked
	}
	return nil
}

// errUnpacked is that a workbook is larger than it may be once it is unpacked.
var errUnpacked = errors.New("unzip size exceeds the limit")

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
