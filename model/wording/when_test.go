package wording_test

import (
	"strings"
	"testing"

	"coilward/model"
	"coilward/model/wording"
)

func TestBy(t *testing.T) {
	l, today := languages(t), model.NewDay(2024, 10, 4)
	for _, c := range []struct {
		language string
		by       model.Day
		want     string
	}{
		{"en", today + 2, "by 6 Oct"}, {"en", today, "today"}, {"en", today + 100, "by 12 Jan 2025"}, {"en", today - 3, "overdue since 1 Oct"},
		{"de", today + 2, "bis 6. Okt."}, {"de", today, "heute"}, {"de", today - 3, "überfällig seit 1. Okt."},
	} {
		if got := strings.ReplaceAll(l.In(c.language, wording.Units{}).By(c.by, today), "\u00a0", " "); got != c.want {
			t.Errorf("%s, %d days: %q, want %q", c.language, c.by-today, got, c.want)
		}
	}
}
