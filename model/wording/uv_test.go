package wording_test

import (
	"testing"

	"coilward/assets"
	"coilward/model/wording"
)

func TestParseUV(t *testing.T) {
	languages, err := wording.Load(assets.Text())
	if err != nil {
		t.Fatal(err)
	}
	text := languages.In("de", wording.Units{})
	for typed, want := range map[string]int{"0": 0, "0,9": 90, "1.25": 125, "30": 3000, " 3,1 ": 310} {
		if got, err := text.ParseUV(typed); err != nil || got != want {
			t.Errorf("%q: %d, %v", typed, got, err)
		}
	}
	for _, typed := range []string{"", "-1", "30,01", "high", "1,2,3"} {
		if got, err := text.ParseUV(typed); err == nil {
			t.Errorf("%q: %d", typed, got)
		}
	}
}
