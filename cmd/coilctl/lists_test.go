package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

func TestPrintLists(t *testing.T) {
	folder := watched(t)
	for name, arguments := range map[string][]string{"collection-list": nil, "stock": {"--day", "2020-01-05", "--from-whom"}, "door-sheet": nil} {
		for _, size := range []string{"A4", "Letter"} {
			file := filepath.Join(t.TempDir(), name+".pdf")
			out := mustDo(t, append([]string{"print", name, "--collection", folder, "--out", file, "--lang", "de", "--paper", size}, arguments...)...)
			if !strings.Contains(out, file) {
				t.Errorf("%s said: %s", name, out)
			}
			if written, err := os.ReadFile(file); err != nil || !bytes.HasPrefix(written, []byte("%PDF-")) {
				t.Errorf("%s: %v", name, err)
			}
		}
		if code, _, _ := ctl("en", "print", name, "--collection", folder, "--animal", "Brook", "--out", filepath.Join(t.TempDir(), "x.pdf")); code == exitDone {
			t.Errorf("%s is of one animal", name)
		}
	}
	for _, wrong := range [][]string{{"stock", "--day", "1 Jan 2199"}, {"stock", "--day", "=cmd()"}, {"door-sheet", "--place", "nowhere"}, {"door-sheet", "--with", "nobody"}} {
		file := filepath.Join(t.TempDir(), "x.pdf")
		code, _, said := ctl("en", append([]string{"print", "--collection", folder, "--out", file}, wrong...)...)
		if code == exitDone || !strings.Contains(said, wrong[2]) {
			t.Errorf("%v: code %d, said %q", wrong, code, said)
		}
		if _, err := os.Stat(file); err == nil {
			t.Errorf("%v: a file all the same", wrong)
		}
	}
}
