package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"coilward/model/store"
)

func TestBackUpToASecondPlace(t *testing.T) {
	folder, stick := kept(t, "Kestrel"), t.TempDir()
	for round, want := range []string{"backups copied 1, photos copied 0", "backups copied 1, photos copied 0"} {
		if out := mustDo(t, "backup", folder, "--to", stick); !strings.Contains(out, want) {
			t.Errorf("round %d: backup says:\n%s", round, out)
		}
	}
	inside, err := os.ReadDir(stick)
	if err != nil || len(inside) != 1 {
		t.Fatalf("there lie %v, %v", inside, err)
	}
	if all, err := store.Snapshots(filepath.Join(stick, inside[0].Name())); err != nil || len(all) != 2 {
		t.Errorf("there lie the backups %v, %v", all, err)
	}
	if out := mustDo(t, "backup", folder); strings.Contains(out, "second place") {
		t.Errorf("--to was remembered: %s", out)
	}
	code, out, errors := ctl("en", "backup", folder, "--to", filepath.Join(stick, "nowhere"))
	if code != exitFailed || !strings.Contains(out, "A verified backup is in") || !strings.Contains(errors, "Second place") || !strings.Contains(errors, "nowhere") {
		t.Errorf("a place that is not there: code %d, %q, %q", code, out, errors)
	}
}
