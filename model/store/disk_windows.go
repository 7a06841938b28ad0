package store

import (
	"errors"
	"os"

	"golang.org/x/sys/windows"
)

// hold takes the lock of an open file, or reports false if another holds it. It
// locks a byte far behind the end, because a locked one could not be read.
func hold(f *os.File) (bool, error) {
	place := &windows.Overlapped{Offset: 0xffffffff, OffsetHigh: 0x7fffffff}
	err := windows.LockFileEx(windows.Handle(f.Fd()), windows.LOCKFILE_EXCLUSIVE_LOCK|windows.LOCKFILE_FAIL_IMMEDIATELY, 0, 1, 0, place)
	if errors.Is(err, windows.ERROR_LOCK_VIOLATION) {
		return false, nil
	}
	return err == nil, err
}

// letGo does nothing: closing the file gives its lock back.
func letGo(*os.File) error { return nil }
