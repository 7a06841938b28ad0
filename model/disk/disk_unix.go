//go:build !windows

package disk

import (
	"errors"
	"os"
	"syscall"
)

// Full reports whether an error of the system says that there is no space left.
func Full(err error) bool {
	return errors.Is(err, syscall.ENOSPC) || errors.Is(err, syscall.EDQUOT)
}

// held reports whether another program keeps others from writing; here none can.
func held(error) bool { return false }

// SyncFolder makes renames in a folder last.
func SyncFolder(path string) error {
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
