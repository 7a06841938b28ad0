package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

func TestPrintPowerCut(t *testing.T) {
	folder, file := watched(t), filepath.Join(t.TempDir(), "power-cut.pdf")
	if out := mustDo(t, "print", "power-cut", "--collection", folder, "--out", file, "--lang", "de"); !strings.Contains(out, file) {
		t.Errorf("said: %s", out)
	}
	written, err := os.ReadFile(file)
	if err != nil || !bytes.HasPrefix(written, []byte("%PDF-")) || bytes.Count(written, []byte("/Type /Page\n")) < 2 { // what to do, and the order
		t.Errorf("%v, %d pages", err, bytes.Count(written, []byte("/Type /Page\n")))
	}
	if code, _, _ := ctl("en", "print", "power-cut", "--collection", folder, "--animal", "Brook", "--out", file); code == exitDone {
		t.Error("it is of one animal")
	}
	if code, _, _ := ctl("en", "print", "power-cut", "--collection", folder, "--with", "Nobody at all", "--out", file); code == exitDone {
		t.Error("somebody is named whom nobody knows")
	}
}
