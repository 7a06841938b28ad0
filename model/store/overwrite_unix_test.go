//go:build !windows

package store_test

import (
	"errors"
	"os"
	"path/filepath"
	"syscall"
	"testing"

	"coilward/model/store"
)

// The one who dumps may have a file of his own beside the dump.
func TestDumpFileLeavesOtherFilesAlone(t *testing.T) {
	folder := filled(t, 3)
	s := open(t, folder)
	defer closeStore(t, s)
	room := t.TempDir()
	path := filepath.Join(room, "dump.jsonl")
	write(t, path+".new", []byte("a letter"))
	for range 2 { // the second writes over the first
		if err := store.DumpFile(s, path); err != nil {
			t.Fatal(err)
		}
	}
	if string(read(t, path+".new")) != "a letter" {
		t.Error("the file beside the dump is gone")
	}
	letter, pipe := filepath.Join(room, "letter"), filepath.Join(room, "pipe")
	write(t, letter, []byte("Dear vet"))
	if err := syscall.Mkfifo(pipe, 0o600); err != nil {
		t.Fatal(err)
	}
	for _, path := range []string{letter, pipe, room, file(folder)} {
		before, _ := os.Lstat(path)
		if err := store.DumpFile(s, path); !errors.Is(err, store.ErrNoDump) {
			t.Errorf("%s: %v, want ErrNoDump", path, err)
		}
		if after, err := os.Lstat(path); err != nil || !os.SameFile(before, after) {
			t.Errorf("%s was replaced: %v", path, err)
		}
	}
	if left, err := filepath.Glob(filepath.Join(room, "dump-*")); err != nil || len(left) != 0 {
		t.Errorf("left: %v, %v", left, err)
	}
}
