package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

func TestNothingThatSteersATerminalIsWritten(t *testing.T) {
	for _, name := range []string{"\x1b[2Jgone", "\x1b]0;title\x07", "a\rb", "\u009b31m", "\u202egnp"} {
		_, out, errors := ctl("en", "verify", "nowhere"+name)
		if said := out + errors; strings.ContainsAny(said, "\x1b\x07\r\u009b\u202e") || !strings.Contains(said, "nowhere") {
			t.Errorf("%q: says %q", name, said)
		}
	}
}

// Names and cells can neither break a line, nor make it look like two, nor fill the
// terminal.
func TestNoNameBreaksALine(t *testing.T) {
	room := t.TempDir()
	for name, cell := range map[string]string{
		"a break":      "dragon\nfaked, line 9: this one is well",
		"two of them":  "dragon\r\n\r\nfaked",
		"a separator":  "dragon\u2028faked\u2029faked\u0085faked",
		"a sign":       "dragon\x1b[2K\x1b[1Gfaked",
		"a long one":   strings.Repeat("dragon ", 400),
		"a right mark": "dragon\u202efaked",
	} {
		path := filepath.Join(room, "rows.csv")
		if err := os.WriteFile(path, []byte("Name;Species\nKestrel;\""+cell+"\"\n"), 0o600); err != nil {
			t.Fatal(err)
		}
		_, out, _ := ctl("en", "import", "--new", "--collection", filepath.Join(room, "new"), path)
		if strings.Count(out, "\n") != 1 || !strings.Contains(out, "dragon") || len(out) > 800 || strings.ContainsAny(out, "\x1b\u2028\u2029\u0085\u202e") {
			t.Errorf("%s: says %d bytes: %.300q", name, len(out), out)
		}
		_, out, errors := ctl("en", "verify", filepath.Join(room, cell[:min(len(cell), 100)]))
		if out != "" || strings.Count(errors, "\n") != 1 {
			t.Errorf("%s: of a folder it says %q %q", name, out, errors)
		}
	}
}

func TestTheFirstFreeLabelIsANumber(t *testing.T) {
	folder := kept(t, "Kestrel")
	_, _, want := ctl("en", "print", "cards", "--collection", folder, "--first", "0", "--sheet", "a4-70x37", "--out", t.TempDir()+"/cards.pdf")
	for _, typed := range []string{"NaN", "1.5", "99999999999999999999"} {
		code, _, errors := ctl("en", "print", "cards", "--collection", folder, "--first", typed, "--sheet", "a4-70x37", "--out", t.TempDir()+"/cards.pdf")
		if code != exitFailed || !strings.Contains(errors, typed) || len(errors) != len(want)+len(typed)-1 {
			t.Errorf("%s: code %d, %q, want as %q", typed, code, errors, want)
		}
	}
}

// A single value that is given twice is asked about, whichever command it is of; what
// can be given several times can.
func TestAFlagGivenTwice(t *testing.T) {
	folder, out := kept(t, "Kestrel"), filepath.Join(t.TempDir(), "a.pdf")
	for flag, arguments := range map[string][]string{
		"--take-over": {"verify", folder, "--take-over", "--take-over"},
		"--days":      {"print", "sitter", "--days", "3", "--collection", folder, "--out", out, "--days=4"},
		"--to":        {"backup", "--to", "a", folder, "--to", "b"},
	} {
		code, said, errors := ctl("en", arguments...)
		if code != exitFailed || said != "" || !strings.Contains(errors, flag) || !strings.Contains(errors, "twice") {
			t.Errorf("%s: code %d, %q, %q", flag, code, said, errors)
		}
	}
	if _, err := os.Stat(out); err == nil {
		t.Error("a paper was written all the same")
	}
	if _, _, errors := ctl("en", "print", "emergency-card", "--collection", folder, "--animal", "Kestrel", "--with", "A", "--with", "B", "--out", out); strings.Contains(errors, "twice") {
		t.Errorf("--with: %q", errors)
	}
}
