package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

func TestCalendar(t *testing.T) {
	folder := watched(t)
	file := filepath.Join(t.TempDir(), "due.ics")
	if out := mustDo(t, "calendar", "--collection", folder, "--out", file, "--lang", "de"); !strings.Contains(out, file) {
		t.Errorf("said: %s", out)
	}
	written, err := os.ReadFile(file)
	if err != nil || !strings.Contains(string(written), "SUMMARY:Etwas ist zu erledigen: Kestrel") {
		t.Errorf("%v\n%s", err, written)
	}
	if again := mustDo(t, "calendar", "--collection", folder, "--out", file); again == "" {
		t.Error("an older calendar is not written over")
	}
	other := filepath.Join(t.TempDir(), "note.txt")
	if err := os.WriteFile(other, []byte("a note of mine, which is long enough"), 0o600); err != nil {
		t.Fatal(err)
	}
	for want, arguments := range map[string][]string{
		"1 to 26 weeks":       {"--out", file, "--weeks", "27"},
		"Something else than": {"--out", other},
		"own folder":          {"--out", filepath.Join(folder, "due.ics")},
		"en or de":            {"--out", file, "--lang", "xx"},
	} {
		code, _, errors := ctl("en", append([]string{"calendar", "--collection", folder}, arguments...)...)
		if code == exitDone || !strings.Contains(errors, want) {
			t.Errorf("%s: code %d, %s", want, code, errors)
		}
	}
}
