package wording_test

import (
	"errors"
	"testing"

	"coilward/assets"
	"coilward/model"
	"coilward/model/wording"
)

func TestParsePercent(t *testing.T) {
	languages, err := wording.Load(assets.Text())
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		language, typed string
		want            int
		reason          string
	}{
		{"en", "12", 1200, ""}, {"en", "0.5", 50, ""}, {"de", "0,5 %", 50, ""}, {"en", "99.99%", 9999, ""}, {"en", "0", 0, ""}, {"en", "100", 10_000, ""},
		{"de", "12 Prozent", 1200, ""}, {"en", "100.01", 0, "percent.range"}, {"en", "-1", 0, "percent.range"}, {"en", "many", 0, "percent.range"}, {"en", "1.255", 0, "percent.fine"}, {"en", "0.12345", 0, "percent.fine"},
		{"en", "0,5", 50, ""}, {"de", "0.5", 50, ""}, {"en", " 12\u00a0% ", 1200, ""}, {"de", "12,0%", 1200, ""}, {"en", "0.5000", 50, ""}, {"en", "", 0, "text.empty"}, {"en", "  ", 0, "text.empty"}, {"en", "%", 0, "percent.range"},
		{"en", "1.000,5", 0, "percent.range"}, {"en", "5 in 100", 0, "percent.range"},
	} {
		got, err := languages.In(c.language, wording.Units{}).ParsePercent(c.typed)
		var r *model.Refusal
		if got != c.want || errors.As(err, &r) != (c.reason != "") || r != nil && (r.Reason != c.reason || r.Field != "percent" || r.Value != c.typed) {
			t.Errorf("%s %q: %d, %v", c.language, c.typed, got, err)
		}
	}
}
