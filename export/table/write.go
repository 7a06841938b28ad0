package table

import (
	"bufio"
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strconv"
	"strings"

	"github.com/xuri/excelize/v2"

	"coilward/model/disk"
	"coilward/model/wording"
)

// WriteCSV writes a sheet as RFC 4180 has it, in UTF-8 with a mark by which a
// spreadsheet knows the encoding. In German, columns are parted by semicolons and
// decimals by commas, as spreadsheets expect it there.
func WriteCSV(to io.Writer, s Sheet, t *wording.Text) error {
	buffered := bufio.NewWriter(to)
	if _, err := buffered.WriteString("\ufeff"); err != nil {
		return err
	}
	w := csv.NewWriter(buffered)
	w.UseCRLF = true
	german := t.Language() == "de"
	if german {
		w.Comma = ';'
	}
	for _, r := range s.Rows {
		cells := r.Cells
		if german && r.Numbers != nil {
			cells = make([]string, len(r.Cells))
			for i, text := range r.Cells {
				if cells[i] = text; r.number(i) {
					cells[i] = strings.Replace(text, ".", ",", 1)
				}
			}
		}
		if err := w.Write(cells); err != nil {
			return fmt.Errorf("write line %d of %s: %w", r.Line, s.Name, err)
		}
	}
	if w.Flush(); w.Error() != nil {
		return fmt.Errorf("write %s: %w", s.Name, w.Error())
	}
	return buffered.Flush()
}

// program is what stands in a workbook as that which wrote it. It names no person.
const program = "Coilward"

// WriteXLSX writes a book as an XLSX file. Quantities are numbers, all else is
// text, and the headings stay in sight.
func WriteXLSX(to io.Writer, b Book) (err error) {
	f := excelize.NewFile()
	defer func() {
		if closed := f.Close(); err == nil {
			err = closed
		}
	}()
	if err := errors.Join(f.SetDocProps(&excelize.DocProperties{Creator: program, LastModifiedBy: program}), f.SetAppProps(&excelize.AppProperties{Application: program})); err != nil {
		return fmt.Errorf("say whose workbook it is: %w", err)
	}
	bold, err := f.NewStyle(&excelize.Style{Font: &excelize.Font{Bold: true}})
	if err != nil {
		return fmt.Errorf("write the headings: %w", err)
	}
	for i, s := range b.Sheets {
		if i == 0 {
			err = f.SetSheetName(f.GetSheetName(0), s.Name)
		} else {
			_, err = f.NewSheet(s.Name)
		}
		if err == nil {
			err = writeSheet(f, s, bold)
		}
		if err != nil {
			return fmt.Errorf("write the sheet %s: %w", s.Name, err)
		}
	}
	if _, err := f.WriteTo(to); err != nil {
		return fmt.Errorf("write the workbook: %w", err)
	}
	return nil
}

func writeSheet(f *excelize.File, s Sheet, bold int) error {
	w, err := f.NewStreamWriter(s.Name)
	if err != nil {
		return err
	}
	if err := w.SetPanes(&excelize.Panes{Freeze: true, YSplit: 1, TopLeftCell: "A2", ActivePane: "bottomLeft"}); err != nil {
		return err
	}
	for column := range width(s) {
		if err := w.SetColWidth(column+1, column+1, columnWidth(s, column)); err != nil {
			return err
		}
	}
	for i, r := range s.Rows {
		cells := make([]any, len(r.Cells))
		for column, text := range r.Cells {
			switch {
			case i == 0:
				cells[column] = excelize.Cell{StyleID: bold, Value: text}
			case r.number(column):
				if cells[column], err = strconv.ParseFloat(text, 64); err != nil {
					return err
				}
			case text != "":
				cells[column] = text
			}
		}
		if err := w.SetRow("A"+strconv.Itoa(i+1), cells); err != nil {
			return err
		}
	}
	return w.Flush()
}

// The widths that a column may have, in signs.
const (
	narrowest = 10
	widest    = 44
)

// columnWidth is a width in which most of a column's first texts stand whole.
func columnWidth(s Sheet, column int) float64 {
	const looked = 200
	most := narrowest
	for _, r := range s.Rows[:min(len(s.Rows), looked)] {
		if column < len(r.Cells) {
			most = max(most, len([]rune(r.Cells[column]))+2)
		}
	}
	return float64(min(most, widest))
}

// WriteFile writes a book into an XLSX file, whole or not at all.
func WriteFile(path string, b Book) error {
	var file bytes.Buffer
	if err := WriteXLSX(&file, b); err != nil {
		return err
	}
	return disk.Write(path, file.Bytes())
}

// WriteFolder writes a book into a folder, a CSV file for each sheet. A folder
// that is not there is made; where not everything could be written, it is cleared away
// again.
func WriteFolder(folder string, b Book, t *wording.Text) (err error) {
	switch made := os.Mkdir(folder, 0o700); {
	case made == nil:
		defer func() {
			if err != nil {
				err = errors.Join(err, os.RemoveAll(folder))
			}
		}()
	case !errors.Is(made, fs.ErrExist):
		return made
	}
	for _, s := range b.Sheets {
		var file bytes.Buffer
		if err := WriteCSV(&file, s, t); err != nil {
			return err
		}
		if err := disk.Write(filepath.Join(folder, s.Name+".csv"), file.Bytes()); err != nil {
			return err
		}
	}
	return nil
}
