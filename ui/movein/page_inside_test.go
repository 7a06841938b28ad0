package movein

import (
	"testing"

	"coilward/export/table"
)

// Days stand whole whatever is beside them; a column of words takes what is left.
func TestColumnsOfDaysStandWhole(t *testing.T) {
	rows := []table.Row{{Cells: []string{"2018-06-03", "came from a keeper who moved"}}, {Cells: []string{""}}, {Cells: []string{"2018", "x", ""}}}
	day, short := narrow(rows, 0), narrow(rows[2:], 0)
	if day <= short || short < leastColumn {
		t.Errorf("a day takes %.0f, a year %.0f", day, short)
	}
	if words, empty := narrow(rows, 1), narrow(rows, 2); words != 0 || empty != 0 {
		t.Errorf("words take %.0f, nothing %.0f", words, empty)
	}
}
