package knowledge

import "io/fs"

// Row is one row of a table that another package gives its meaning.
type Row struct {
	Line  int // 1 is the first line of the file
	Cells []string
}

// Rows reads a table in the form of those of this package: the first row names
// the columns. The error is a *Fault where the table is at fault.
func Rows(files fs.FS, file string, columns ...string) ([]Row, error) {
	read, err := readTable(files, file, columns)
	if err != nil {
		return nil, err
	}
	rows := make([]Row, len(read))
	for i, r := range read {
		rows[i].Line = r.line
		for _, c := range r.cells {
			rows[i].Cells = append(rows[i].Cells, c.text)
		}
	}
	return rows, nil
}
