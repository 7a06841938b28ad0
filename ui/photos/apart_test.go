package photos

import (
	"testing"

	"coilward/assets"
	"coilward/model"
	"coilward/model/wording"
)

// Time between two days is told in days as long as anybody counts them, and then in
// months and years; which side is the earlier does not matter.
func TestApart(t *testing.T) {
	languages, err := wording.Load(assets.Text())
	if err != nil {
		t.Fatal(err)
	}
	day := model.NewDay(2025, 1, 10)
	for _, c := range []struct {
		days    model.Day
		english string
		german  string
	}{{0, "0 days apart", "0 Tage auseinander"}, {1, "1 day apart", "1 Tag auseinander"}, {89, "89 days apart", "89 Tage auseinander"},
		{900, "2 years 5 months apart", "2 Jahre 5 Monate auseinander"}} {
		for language, want := range map[string]string{"en": c.english, "de": c.german} {
			text := languages.In(language, wording.Units{})
			if there, back := apart(text, day, day+c.days), apart(text, day+c.days, day); there != want || back != want {
				t.Errorf("%d days: %q and %q, want %q", c.days, there, back, want)
			}
		}
	}
}
