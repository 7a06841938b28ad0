package disk

import (
	"errors"

	"golang.org/x/sys/windows"
)

// Full reports whether an error of the system says that there is no space left.
func Full(err error) bool {
	return errors.Is(err, windows.ERROR_DISK_FULL) || errors.Is(err, windows.ERROR_HANDLE_DISK_FULL)
}

// held reports whether another program has the file open and keeps others from writing.
func held(err error) bool {
	return errors.Is(err, windows.ERROR_SHARING_VIOLATION) || errors.Is(err, windows.ERROR_LOCK_VIOLATION)
}

// SyncFolder does nothing: Windows cannot, and writes a rename through by itself.
func SyncFolder(string) error { return nil }
