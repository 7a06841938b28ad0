//go:build !windows

package store

import (
	"errors"
	"os"
	"syscall"
)

// hold takes the lock of an open file, or reports false if another holds it.
func hold(f *os.File) (bool, error) {
	err := syscall.Flock(int(f.Fd()), syscall.LOCK_EX|syscall.LOCK_NB)
	if errors.Is(err, syscall.EWOULDBLOCK) {
		return false, nil
	}
	return err == nil, err
}

// letGo gives the lock on an open file back, which a mapping would keep after it is
// closed.
func letGo(f *os.File) error { return syscall.Flock(int(f.Fd()), syscall.LOCK_UN) }
