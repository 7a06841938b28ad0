package store

import (
	"os"
	"path/filepath"
)

// Holds tells whether a collection lies in a folder, or at least backups of one.
func Holds(folder string) bool {
	if _, err := os.Stat(filepath.Join(folder, fileName)); err == nil {
		return true
	}
	_, found, err := NewestSnapshot(folder)
	return found && err == nil
}
