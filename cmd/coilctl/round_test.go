package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

func TestPrintRound(t *testing.T) {
	folder, file := watched(t), filepath.Join(t.TempDir(), "round.pdf")
	if out := mustDo(t, "print", "round", "--collection", folder, "--out", file, "--lang", "de"); !strings.Contains(out, file) {
		t.Errorf("said: %s", out)
	}
	written, err := os.ReadFile(file)
	if err != nil || !bytes.HasPrefix(written, []byte("%PDF-")) || bytes.Count(written, []byte("/Type /Page\n")) != 2 { // the newcomer stands on a page of its own
		t.Errorf("%v, %d pages", err, bytes.Count(written, []byte("/Type /Page\n")))
	}
	if code, _, _ := ctl("en", "print", "round", "--collection", folder, "--animal", "Brook", "--out", file); code == exitDone {
		t.Error("it is of one animal")
	}
}
