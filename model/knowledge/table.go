package knowledge

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"hash"
	"io/fs"
	"strings"
	"unicode/utf8"
)

// Fault is one place in a table that cannot stand.
type Fault struct {
	File   string
	Line   int    // 1 is the first line of the file; 0 where no single line is meant
	Row    string // the id of the row, where it has one
	Column string
	Value  string
	Reason string
}

// Error names file, row, column, value and reason.
func (f *Fault) Error() string {
	var b strings.Builder
	b.WriteString(f.File)
	if f.Line > 0 {
		fmt.Fprintf(&b, ", line %d", f.Line)
	}
	if f.Row != "" {
		fmt.Fprintf(&b, ", row %q", f.Row)
	}
	if f.Column != "" {
		fmt.Fprintf(&b, ", column %q", f.Column)
	}
	if f.Value != "" {
		fmt.Fprintf(&b, ", value %q", f.Value)
	}
	b.WriteString(": " + f.Reason)
	return b.String()
}

type cell struct{ column, text string }

// row is one row of a table that has all its columns.
type row struct {
	file  string
	line  int
	cells []cell
}

func (r row) cell(column string) string {
	for _, c := range r.cells {
		if c.column == column {
			return c.text
		}
	}
	return ""
}

// The largest table that is read, in bytes: far above any that a person writes.
const largestTable = 1 << 20

func readTable(files fs.FS, file string, columns []string) ([]row, error) {
	raw, err := fs.ReadFile(files, file)
	if err != nil {
		return nil, fmt.Errorf("read table %s: %w", file, err)
	}
	return parseTable(file, columns, raw)
}

// parseTable reads rows of cells between upright bars. The first row must name
// the columns; empty lines and lines that begin with # are skipped.
func parseTable(file string, columns []string, raw []byte) ([]row, error) {
	if len(raw) > largestTable {
		return nil, &Fault{File: file, Reason: "the table is larger than 1 MB"}
	}
	if !utf8.Valid(raw) {
		return nil, &Fault{File: file, Reason: "the table is not text in UTF-8"}
	}
	var rows []row
	named := false
	for i, line := range strings.Split(string(raw), "\n") {
		line = strings.TrimSpace(line)
		if line == "" || strings.HasPrefix(line, "#") {
			continue
		}
		r, err := splitRow(file, i+1, columns, line)
		if err != nil {
			return nil, err
		}
		if !named {
			if err := namesColumns(r); err != nil {
				return nil, err
			}
			named = true
			continue
		}
		rows = append(rows, r)
	}
	if !named {
		return nil, &Fault{File: file, Reason: "the first row must name the columns: " + strings.Join(columns, " | ")}
	}
	return rows, nil
}

func splitRow(file string, line int, columns []string, text string) (row, error) {
	parts := strings.Split(text, "|")
	if len(parts) != len(columns) {
		return row{}, &Fault{File: file, Line: line, Row: strings.TrimSpace(parts[0]),
			Reason: fmt.Sprintf("the row has %d cells, want %d: %s", len(parts), len(columns), strings.Join(columns, " | "))}
	}
	r := row{file: file, line: line, cells: make([]cell, len(parts))}
	for i, p := range parts {
		r.cells[i] = cell{columns[i], strings.TrimSpace(p)}
	}
	return r, nil
}

func namesColumns(r row) error {
	for _, c := range r.cells {
		if c.text != c.column {
			return &Fault{File: r.file, Line: r.line, Column: c.column, Value: c.text, Reason: "the first row must name the columns"}
		}
	}
	return nil
}

// digest sums up what tables say, whatever the width of their columns.
type digest struct{ hash.Hash }

func newDigest() digest { return digest{sha256.New()} }

func (d digest) add(file string, columns []string, rows []row) {
	fmt.Fprintf(d, "%s\x1d%s\x1e", file, strings.Join(columns, "\x1f"))
	for _, r := range rows {
		for _, c := range r.cells {
			fmt.Fprintf(d, "%s\x1f", c.text)
		}
		fmt.Fprint(d, "\x1e")
	}
}

func (d digest) sum() string { return hex.EncodeToString(d.Sum(nil)) }
