//go:build unix

package handover

import (
	"path/filepath"
	"syscall"
	"testing"
)

// notFiles are a folder, a pipe that nobody writes to, and devices.
func notFiles(t *testing.T, folder string) map[string]string {
	pipe := filepath.Join(folder, "pipe"+Extension)
	if err := syscall.Mkfifo(pipe, 0o600); err != nil {
		t.Fatal(err)
	}
	return map[string]string{"a folder": folder, "a pipe": pipe, "a device": "/dev/null", "a device without an end": "/dev/zero"}
}
