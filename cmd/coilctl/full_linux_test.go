package main

import (
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
)

// On a full disk each command says that it is full, in plain words alone, and leaves
// nothing half done.
func TestAFullDiskIsSaidPlainly(t *testing.T) {
	full := t.TempDir()
	if err := syscall.Mount("tmpfs", full, "tmpfs", 0, "size=64k"); err != nil {
		t.Skipf("no file system can be mounted here: %v", err)
	}
	t.Cleanup(func() {
		if err := syscall.Unmount(full, 0); err != nil {
			t.Error(err)
		}
	})
	if err := os.WriteFile(filepath.Join(full, "ballast"), make([]byte, 60<<10), 0o600); err != nil {
		t.Fatal(err)
	}
	folder := kept(t, "Kestrel")
	in := func(name string) string { return filepath.Join(full, name) }
	for name, arguments := range map[string][]string{
		"paper":    {"print", "health-record", "--collection", folder, "--animal", "Kestrel", "--out", in("a.pdf")},
		"cards":    {"print", "cards", "--collection", folder, "--animals", "--sheet", "a4-70x37", "--out", in("a.pdf")},
		"workbook": {"export", "--collection", folder, "--out", in("a.xlsx")},
		"tables":   {"export", "--collection", folder, "--out", in("tables")},
		"backup":   {"backup", folder, "--to", full},
		"salvage":  {"salvage", folder, "--out", in("salvaged")},
	} {
		for language, want := range map[string]string{"en": "full", "de": "voll"} {
			code, _, said := ctl(language, arguments...)
			if code != exitFailed || !strings.Contains(said, want) || strings.Contains(said, "tempfile") || strings.Contains(said, "no space left") || strings.Contains(said, "⟦") {
				t.Errorf("%s: code %d, %q", name, code, said)
			}
		}
		left, err := os.ReadDir(full)
		if err != nil {
			t.Fatal(err)
		}
		for _, f := range left {
			if f.Name() != "ballast" && !strings.HasPrefix(f.Name(), filepath.Base(folder)+"-") { // the second place keeps its empty folders
				t.Errorf("%s: %s is left there", name, f.Name())
			}
		}
	}
}
