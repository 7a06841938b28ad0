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

func TestRestoreShowsFirstWhatDiffers(t *testing.T) {
	folder := kept(t, "Kestrel")
	mustDo(t, "backup", folder)
	file := filepath.Join(t.TempDir(), "room.csv")
	if err := os.WriteFile(file, []byte("Name\nBrook\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	mustDo(t, "import", "--collection", folder, file, "--yes")
	before, err := os.ReadFile(filepath.Join(folder, collectionFile))
	if err != nil {
		t.Fatal(err)
	}
	out := mustDo(t, "restore", "--collection", folder, "--preview")
	for _, want := range []string{"Now: animals 2", "animals 1", "Animal: no longer there 1, come in 0, read otherwise 0.", "no longer there: Animal, Brook", "Nothing was changed"} {
		if !strings.Contains(out, want) {
			t.Errorf("preview says\n%s, want %q in it", out, want)
		}
	}
	if after, err := os.ReadFile(filepath.Join(folder, collectionFile)); err != nil || string(after) != string(before) {
		t.Errorf("the preview changed the collection (%v)", err)
	}
	mustDo(t, "restore", "--collection", folder)
	if out := mustDo(t, "restore", "--collection", folder, "--preview"); !strings.Contains(out, "Nothing differs") {
		t.Errorf("restored, but the preview says\n%s", out)
	}
}

func TestRestoreOfADumpNamesLoad(t *testing.T) {
	folder := kept(t, "Kestrel")
	file := filepath.Join(t.TempDir(), "all.jsonl")
	mustDo(t, "dump", folder, "--out", file)
	for _, more := range [][]string{nil, {"--preview"}} {
		code, _, errors := ctl("en", append([]string{"restore", "--collection", folder, "--from", file}, more...)...)
		if code != exitFailed || !strings.Contains(errors, "coilctl load") || !strings.Contains(errors, "all.jsonl") {
			t.Errorf("code %d, %q", code, errors)
		}
	}
}

func TestVerifySaysPlainlyWhatAFileIs(t *testing.T) {
	for name, c := range map[string]struct {
		make  func(t *testing.T, folder string)
		out   string
		error string
	}{
		"a text": {func(t *testing.T, folder string) { spoil(t, folder, func([]byte) []byte { return []byte("a letter") }) },
			"no collection of this program", "coilctl salvage"},
		"noise": {func(t *testing.T, folder string) {
			spoil(t, folder, func([]byte) []byte { return []byte(strings.Repeat("noise ", 4000)) })
		}, "no collection of this program", "coilctl salvage"},
		"cut": {func(t *testing.T, folder string) {
			spoil(t, folder, func(raw []byte) []byte { return raw[:len(raw)/2] })
		},
			"it is damaged and cannot be trusted", "coilctl salvage"},
		"damaged, with a backup": {func(t *testing.T, folder string) {
			mustDo(t, "backup", folder)
			spoil(t, folder, func(raw []byte) []byte { return []byte(strings.ReplaceAll(string(raw), "Kestrel", "Kestrfl")) })
		}, "it is damaged and cannot be trusted", "coilctl restore"},
	} {
		t.Run(name, func(t *testing.T) {
			folder := kept(t, "Kestrel")
			c.make(t, folder)
			code, out, errors := ctl("en", "verify", folder)
			if code != exitFailed || !strings.Contains(out, c.out) || !strings.Contains(errors, c.error) {
				t.Errorf("code %d, %q, %q", code, out, errors)
			}
			path := filepath.Join(folder, collectionFile)
			for line := range strings.Lines(out) {
				if strings.Count(line, path) > 1 || strings.Contains(line, "disk failed") {
					t.Errorf("says %q", line)
				}
			}
			if strings.Contains(out, "photo") {
				t.Errorf("speaks of photos where there are none: %q", out)
			}
		})
	}
}

func spoil(t *testing.T, folder string, change func([]byte) []byte) {
	t.Helper()
	path := filepath.Join(folder, collectionFile)
	raw, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, change(raw), 0o600); err != nil {
		t.Fatal(err)
	}
}

func TestAnEmptySecondPlaceIsAMistake(t *testing.T) {
	folder := kept(t, "Kestrel")
	for _, arguments := range [][]string{{"--to", ""}, {"--to="}} {
		code, out, errors := ctl("en", append([]string{"backup", folder}, arguments...)...)
		if code != exitUsage || out != "" || !strings.Contains(errors, "coilctl backup") {
			t.Errorf("%q: code %d, %q, %q", arguments, code, out, errors)
		}
	}
}

func TestLoadDoesNotWaitForAPipe(t *testing.T) {
	pipe := filepath.Join(t.TempDir(), "pipe")
	makePipe(t, pipe)
	folder := filepath.Join(t.TempDir(), "new")
	code, _, errors := ctl("en", "load", pipe, "--collection", folder)
	if code != exitFailed || !strings.Contains(errors, pipe) || store.Exists(folder) {
		t.Errorf("code %d, %q", code, errors)
	}
}
