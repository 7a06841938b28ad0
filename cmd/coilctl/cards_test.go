package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

func TestPrintCards(t *testing.T) {
	folder := sampled(t)
	file := filepath.Join(t.TempDir(), "cards.pdf")
	print := func(rest ...string) []string {
		return append([]string{"print", "cards", "--collection", folder, "--out", file}, rest...)
	}
	for _, c := range []struct {
		rest []string
		want string
	}{
		{[]string{"--sheet", "a4-70x37"}, "13 cards"},
		{[]string{"--sheet", "A4-70X37", "--place", "long rack", "--first", "24", "--lang", "de"}, "8 cards"},
		{[]string{"--sheet", "letter-cut-89x51", "--place", "Box 3", "--keeper", "Lock keeper"}, "One card"},
		{[]string{"--sheet", "letter-102x51", "--animals"}, "12 cards"},
	} {
		if out := mustDo(t, print(c.rest...)...); !strings.Contains(out, c.want) {
			t.Errorf("%v: %q", c.rest, out)
		}
		if written, err := os.ReadFile(file); err != nil || !bytes.HasPrefix(written, []byte("%PDF-")) {
			t.Errorf("%v: %v, begins with %.8q", c.rest, err, written)
		}
	}
	for _, c := range []struct {
		rest []string
		want []string
	}{
		{[]string{"--sheet", "a5"}, []string{"Sheet", "a5", "a4-70x37"}},
		{nil, []string{"Sheet", "letter-67x25"}},
		{[]string{"--sheet", "a4-70x37", "--first", "25"}, []string{"First free label", "25", "24"}},
		{[]string{"--sheet", "a4-70x37", "--place", "attic"}, []string{"Place", "attic", "--place"}},
		{[]string{"--sheet", "a4-70x37", "--animals", "--place", "Box 12"}, []string{"Place", "Box 12"}},
	} {
		code, _, said := ctl("en", print(c.rest...)...)
		for _, want := range c.want {
			if code != exitFailed || !strings.Contains(said, want) {
				t.Errorf("%v: code %d, %q does not name %q", c.rest, code, said, want)
			}
		}
	}
	if code, _, _ := ctl("en", print("--sheet", "a4-70x37", "--animal", "Kestrel")...); code != exitUsage {
		t.Errorf("cards of one animal: code %d", code)
	}
}
