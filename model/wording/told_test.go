package wording_test

import (
	"strings"
	"testing"

	"coilward/assets"
	"coilward/model"
	"coilward/model/wording"
)

// A day that cannot stand is said as the language writes days; what only looks like one
// stays as it was typed.
func TestADayThatIsRefusedIsSaidInTheLanguage(t *testing.T) {
	l, err := wording.Load(assets.Text())
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct{ code, value, want string }{
		{"en", "2026-11-28", "28 Nov 2026"}, {"de", "2026-11-28", "28. Nov. 2026"}, {"en", "2026-13-28", "2026-13-28"}, {"en", "2026-11", "2026-11"}, {"de", "K-2026-11", "K-2026-11"},
	} {
		said := l.In(c.code, wording.Units{}).Refusal(&model.Refusal{Field: "posted", Value: c.value, Reason: "sample.over-weekend"})
		if !strings.Contains(said, c.want) || c.want != c.value && strings.Contains(said, c.value) {
			t.Errorf("%s: %s is said in %q, want %q", c.code, c.value, said, c.want)
		}
	}
}

// What is done each day is said so, and not every so many days.
func TestEachDayIsSaidWithoutANumber(t *testing.T) {
	l, err := wording.Load(assets.Text())
	if err != nil {
		t.Fatal(err)
	}
	for code, want := range map[string]string{"en": "every day", "de": "jeden Tag"} {
		for _, key := range []string{"due.why.quarantine-mites", "due.why.quarantine-weigh"} {
			said := l.In(code, wording.Units{}).Label(model.Label{Key: key, Gaps: map[string]model.Gap{"Count": model.CountGap(1)}})
			if !strings.Contains(said, want) {
				t.Errorf("%s: %s with 1 is %q", code, key, said)
			}
		}
	}
}
