package history

import (
	"testing"

	"coilward/model/care"
)

func TestStuckCapsCountsSheds(t *testing.T) {
	caps, whole := care.Shed{StuckEyeCaps: care.Yes}, care.Shed{StuckEyeCaps: care.No}
	for _, c := range []struct {
		name string
		r    Records
		want int
	}{
		{"no shed", records(1000, waste(care.Formed, care.White)), 0},
		{"left once", records(1000, caps, waste(care.Formed, care.White)), 1},
		{"left twice running", records(1000, whole, caps, caps), 2},
		{"left, then not", records(1000, caps, caps, whole), 0},
	} {
		if got := c.r.StuckCaps(); got != c.want {
			t.Errorf("%s: %d, want %d", c.name, got, c.want)
		}
	}
}
