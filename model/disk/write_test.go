package disk_test

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"coilward/model/disk"
)

func TestWrite(t *testing.T) {
	folder := t.TempDir()
	path := filepath.Join(folder, strings.Repeat("n", 240)+".pdf") // as long as names may be
	for _, text := range []string{"one", "two"} {
		if err := disk.Write(path, []byte(text)); err != nil {
			t.Fatal(err)
		}
		if raw, err := os.ReadFile(path); err != nil || string(raw) != text {
			t.Errorf("%q, %v, want %q", raw, err, text)
		}
	}
	if err := os.Chmod(path, 0o640); err != nil {
		t.Fatal(err)
	}
	if err := disk.WritePassing(path, []byte("three")); err != nil {
		t.Fatal(err)
	}
	before, err := os.Stat(path)
	if err != nil {
		t.Fatal(err)
	}
	if before.Mode().Perm()&0o040 == 0 && os.PathSeparator == '/' {
		t.Errorf("those who could read it no longer can: %v", before.Mode())
	}
	if left, err := os.ReadDir(folder); err != nil || len(left) != 1 {
		t.Errorf("%v lie there, %v", left, err)
	}
}

func TestWhatCannotBeWritten(t *testing.T) {
	folder := t.TempDir()
	for path, want := range map[string]string{
		folder:                                 "disk.no-file",
		filepath.Join(folder, "none", "a.pdf"): "disk.no-folder",
	} {
		var f *disk.Fault
		if err := disk.Write(path, nil); !errors.As(err, &f) || f.Refusal().Reason != want || f.Refusal().Value != path {
			t.Errorf("%s: %v, want %s", path, err, want)
		}
	}
	for err, want := range map[error]string{
		syscall.EROFS: "disk.readonly", fs.ErrPermission: "disk.forbidden", syscall.EIO: "disk.unwritable",
	} {
		if got := (&disk.Fault{Path: "a.pdf", Err: err}).Refusal().Reason; got != want {
			t.Errorf("%v: %s, want %s", err, got, want)
		}
	}
}
