//go:build !windows

package store

import (
	"errors"
	"os"
	"syscall"
)

func full(err error) bool {
	return errors.Is(err, syscall.ENOSPC) || errors.Is(err, syscall.EDQUOT)
}

// hold takes the lock of an open file, or reports false if another holds it.
func hold(f *os.File) (bool, error) {
	err := syscall.Flock(int(f.Fd()), syscall.LOCK_EX|syscall.LOCK_NB)
	if errors.Is(err, syscall.EWOULDBLOCK) {
		return false, nil
	}
	return err == nil, err
}

// syncFolder makes renames in a folder last.
func syncFolder(path string) error {
	f, err := os.Open(path)
	if err != nil {
		return err
	}
	defer f.Close()
	if err := f.Sync(); !errors.Is(err, syscall.EINVAL) && !errors.Is(err, errors.ErrUnsupported) { // some file systems of sticks and shares cannot
		return err
	}
	return nil
}

// letGo gives the lock on an open file back, which a mapping would keep after it is
// closed.
func letGo(f *os.File) error { return syscall.Flock(int(f.Fd()), syscall.LOCK_UN) }
