package disk

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"github.com/natefinch/atomic"
)

// ErrNoFile says that what lies at a path is no ordinary file, such as a folder,
// a pipe or a device, and is not written over.
var ErrNoFile = errors.New("no ordinary file lies there")

// A file that is being written lies beside the one it becomes; between these two its name
// has digits alone.
const before, after = "unfinished-", ".new"

// Unfinished reports whether a name is that of a file that Write had begun: where nobody
// writes, an end in between has left it.
func Unfinished(name string) bool {
	digits, begins := strings.CutPrefix(name, before)
	digits, ends := strings.CutSuffix(digits, after)
	return begins && ends && digits != "" && strings.Trim(digits, "0123456789") == ""
}

// Write puts data into a file, whole or not at all: what stood there before stays until
// all of the new file is on the disk. What is no file stays: ErrNoFile. The error is a
// *Fault.
func Write(path string, data []byte) error { return fault(path, write(path, data, (*os.File).Sync)) }

// WritePassing is Write for what can be made again: it does not wait for the disk.
func WritePassing(path string, data []byte) error {
	return fault(path, write(path, data, func(*os.File) error { return nil }))
}

func write(path string, data []byte, settle func(*os.File) error) (err error) {
	// The library's own way of writing keeps of the system's error its text alone, which
	// does not tell a full disk from others.
	mode := os.FileMode(0o600)
	switch info, err := os.Stat(path); {
	case err == nil && !info.Mode().IsRegular():
		return ErrNoFile
	case err == nil:
		mode = info.Mode().Perm()
	}
	part, err := os.CreateTemp(filepath.Dir(path), before+"*"+after)
	if err != nil {
		return err
	}
	defer func() {
		if err != nil {
			err = errors.Join(err, os.Remove(part.Name()))
		}
	}()
	_, err = part.Write(data)
	if err == nil {
		err = settle(part)
	}
	if err = errors.Join(err, part.Close()); err != nil {
		return err
	}
	if mode != 0o600 {
		if err := os.Chmod(part.Name(), mode); err != nil {
			return err
		}
	}
	if err := atomic.ReplaceFile(part.Name(), path); err != nil {
		return fmt.Errorf("put the file in its place: %w", err)
	}
	return nil
}
