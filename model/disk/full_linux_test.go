package disk_test

import (
	"errors"
	"os"
	"path/filepath"
	"syscall"
	"testing"

	"coilward/model/disk"
)

// On a full disk nothing of the new file is left, the old one stays, and the fault says
// that the disk is full.
func TestWriteOnAFullDisk(t *testing.T) {
	folder := t.TempDir()
	if err := syscall.Mount("tmpfs", folder, "tmpfs", 0, "size=64k"); err != nil {
		t.Skipf("no file system can be mounted here: %v", err)
	}
	t.Cleanup(func() {
		if err := syscall.Unmount(folder, 0); err != nil {
			t.Error(err)
		}
	})
	path := filepath.Join(folder, "record.pdf")
	if err := disk.Write(path, []byte("before")); err != nil {
		t.Fatal(err)
	}
	var f *disk.Fault
	if err := disk.Write(path, make([]byte, 1<<20)); !errors.As(err, &f) || f.Refusal().Reason != "disk.full" || f.Path != path {
		t.Errorf("%v, want a full disk", err)
	}
	if raw, err := os.ReadFile(path); err != nil || string(raw) != "before" {
		t.Errorf("the old file: %q, %v", raw, err)
	}
	if left, err := os.ReadDir(folder); err != nil || len(left) != 1 {
		t.Errorf("%v lie there, %v", left, err)
	}
}
