//go:build !windows

package main

import (
	"syscall"
	"testing"
)

func makePipe(t *testing.T, path string) {
	t.Helper()
	if err := syscall.Mkfifo(path, 0o600); err != nil {
		t.Fatal(err)
	}
}
