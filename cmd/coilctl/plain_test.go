package main

import (
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
