//go:build !windows

package store_test

import (
	"syscall"
	"testing"
)

// pipe makes a pipe that nobody writes into: who reads it waits for ever.
func pipe(t *testing.T, path string) {
	t.Helper()
	if err := syscall.Mkfifo(path, 0o600); err != nil {
		t.Skipf("no pipe can be made here: %v", err)
	}
}
