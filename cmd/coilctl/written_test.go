package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

func TestPrintSheetsToWriteOn(t *testing.T) {
	folder := sampled(t)
	file := filepath.Join(t.TempDir(), "sheets.pdf")
	print := func(rest ...string) []string {
		return append([]string{"print", rest[0], "--collection", folder, "--out", file}, rest[1:]...)
	}
	for _, c := range []struct {
		rest []string
		want string
	}{
		{[]string{"check-sheet", "--animal", "Kestrel"}, "1 sheet for a check"},
		{[]string{"check-sheet", "--any-animal", "--without-list", "--paper", "letter"}, "1 sheet for a check"},
		{[]string{"check-sheet", "--lang", "de"}, "12 sheets for checks"},
		{[]string{"weigh-sheet"}, "12 animals"},
		{[]string{"weigh-sheet", "--place", "Box 1"}, "1 animal "},
	} {
		if out := mustDo(t, print(c.rest...)...); !strings.Contains(out, c.want) {
			t.Errorf("%v: %q", c.rest, out)
		}
		if written, err := os.ReadFile(file); err != nil || !bytes.HasPrefix(written, []byte("%PDF-")) {
			t.Errorf("%v: %v, begins with %.8q", c.rest, err, written)
		}
	}
	for _, rest := range [][]string{{"weigh-sheet", "--place", "Box 3"}, {"check-sheet", "--place", "Box 3"}} {
		code, _, said := ctl("en", print(rest...)...)
		if code != exitFailed || !strings.Contains(said, "Box 3") || !strings.Contains(said, "Nobody lives there") {
			t.Errorf("%v: code %d, %q", rest, code, said)
		}
	}
	if code, _, _ := ctl("en", print("weigh-sheet", "--animal", "Kestrel")...); code != exitUsage {
		t.Errorf("a sheet for weighing of one animal: code %d", code)
	}
}
