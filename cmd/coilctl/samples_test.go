package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// Form and labels are written of those that have not left, or of those that are named; what
// cannot be is said by its name.
func TestPrintSamples(t *testing.T) {
	folder := sampled(t)
	file := filepath.Join(t.TempDir(), "samples.pdf")
	print := func(what string, rest ...string) []string {
		return append([]string{"print", what, "--collection", folder, "--out", file}, rest...)
	}
	for _, c := range []struct {
		what string
		rest []string
		want string
	}{
		{"tube-labels", []string{"--sheet", "a4-cut-33x13"}, "label"},
		{"tube-labels", []string{"--sheet", "letter-44x13", "--first", "80", "--lang", "de"}, "label"},
		{"lab-form", []string{"--urgent", "--signs", "--treatments", "--keeper", "Somebody"}, "form for"},
		{"lab-form", []string{"--paper", "Letter", "--lang", "de"}, "form for"},
	} {
		if out := mustDo(t, print(c.what, c.rest...)...); !strings.Contains(out, c.want) {
			t.Errorf("%s %v: %q", c.what, c.rest, out)
		}
		if written, err := os.ReadFile(file); err != nil || !bytes.HasPrefix(written, []byte("%PDF-")) {
			t.Errorf("%v: %v, begins with %.8q", c.rest, err, written)
		}
	}
	if out := mustDo(t, print("lab-form", "--tube", "W-04", "--tube", "w-04")...); !strings.Contains(out, "1 sample") {
		t.Errorf("a tube named twice: %q", out)
	}
	for _, c := range []struct {
		what string
		rest []string
		want []string
	}{
		{"tube-labels", []string{"--sheet", "a4-70x37"}, []string{"Sheet", "a4-70x37", "a4-cut-33x13"}}, // too high for a tube
		{"tube-labels", []string{"--sheet", "a4-cut-33x13", "--first", "121"}, []string{"First free label", "121", "120"}},
		{"lab-form", []string{"--tube", "X-1"}, []string{"Tube", "X-1"}},
		{"lab-form", []string{"--with", "Nobody"}, []string{"Nobody"}},
		{"cards", []string{"--sheet", "a4-cut-33x13"}, []string{"Sheet", "a4-cut-33x13"}}, // too low for a card
	} {
		code, _, said := ctl("en", print(c.what, c.rest...)...)
		for _, want := range c.want {
			if code != exitFailed || !strings.Contains(said, want) {
				t.Errorf("%s %v: code %d, %q does not name %q", c.what, c.rest, code, said, want)
			}
		}
	}
	if code, _, _ := ctl("en", print("lab-form", "--animal", "Kestrel")...); code != exitUsage {
		t.Errorf("a form of one animal: code %d", code)
	}
}
