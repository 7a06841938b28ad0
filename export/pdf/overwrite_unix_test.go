//go:build !windows

package pdf

import (
	"errors"
	"os"
	"path/filepath"
	"syscall"
	"testing"

	"coilward/model/disk"
)

// A file is replaced; a folder, a pipe and a link to one stay what they are.
func TestWriteFileReplacesFilesAlone(t *testing.T) {
	room := t.TempDir()
	pipe, link := filepath.Join(room, "pipe"), filepath.Join(room, "link.pdf")
	if err := errors.Join(syscall.Mkfifo(pipe, 0o600), os.Symlink(pipe, link)); err != nil {
		t.Fatal(err)
	}
	for _, path := range []string{room, pipe, link} {
		before, err := os.Lstat(path)
		if err != nil {
			t.Fatal(err)
		}
		if err := WriteFile(path, document(), made); !errors.Is(err, disk.ErrNoFile) {
			t.Errorf("%s: %v, want ErrNoFile", path, err)
		}
		if after, err := os.Lstat(path); err != nil || !os.SameFile(before, after) {
			t.Errorf("%s was replaced: %v", path, err)
		}
	}
	file := filepath.Join(room, "record.pdf")
	for range 2 {
		if err := WriteFile(file, document(), made); err != nil {
			t.Fatal(err)
		}
	}
}
