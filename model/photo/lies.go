package photo

import (
	"os"
	"path/filepath"
)

// Within tells whether a folder is another one or lies in it, by whatever name or
// link it is reached. It is false where either is not there.
func Within(folder, other string) bool {
	want, err := os.Stat(other)
	if err != nil {
		return false
	}
	at, err := filepath.Abs(folder)
	if err == nil {
		at, err = filepath.EvalSymlinks(at)
	}
	if err != nil {
		return false
	}
	for {
		if info, err := os.Stat(at); err == nil && os.SameFile(info, want) {
			return true
		}
		up := filepath.Dir(at)
		if up == at {
			return false
		}
		at = up
	}
}
