package store

import (
	"cmp"
	"encoding/json"
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"time"
)

// The files of a collection's folder.
const (
	fileName    = "collection.db"
	lockName    = "collection.lock"
	forwardName = "forward"
)

// holder is what the lock file tells: who has the collection open, or how the
// file was when it was last closed in order. The lock of the system is what
// keeps a second start out; the file names the machine, and speaks where a
// folder is shared between machines and the system's lock does not reach.
type holder struct {
	Machine string     `json:"machine"`
	Since   time.Time  `json:"since"`
	Closed  *fileState `json:"closed,omitempty"`
}

// fileState tells whether a file is the one that was closed.
type fileState struct {
	Size     int64 `json:"size"`
	Modified int64 `json:"modified"` // nanoseconds since 1970
}

func stateOf(path string) (*fileState, error) {
	info, err := os.Stat(path)
	if err != nil {
		return nil, err
	}
	return &fileState{Size: info.Size(), Modified: info.ModTime().UnixNano()}, nil
}

// lock is the held lock of a folder.
type lock struct {
	file *os.File
	last holder // what the lock file told before
}

// takeLock takes the lock or fails with *AlreadyOpen. It writes nothing yet.
func takeLock(folder string, o Options) (*lock, error) {
	path := filepath.Join(folder, lockName)
	f, err := os.OpenFile(path, os.O_RDWR|os.O_CREATE, 0o600)
	if err != nil {
		return nil, fault(folder, "open the lock file", err)
	}
	l := &lock{file: f, last: readHolder(f)}
	free, err := hold(f)
	elsewhere := l.last.open() && l.last.Machine != o.Machine
	if err == nil && free && (!elsewhere || o.TakeOver) {
		return l, nil
	}
	f.Close()
	if err != nil {
		return nil, fault(path, "lock the collection", err)
	}
	return nil, &AlreadyOpen{Path: folder, Machine: l.last.Machine, Since: l.last.Since, Elsewhere: free}
}

// readLock takes the lock without a word in the lock file, which need not be
// there; a system that gives no lock for reading goes without.
func readLock(folder string, o Options) (*lock, error) {
	f, err := os.Open(filepath.Join(folder, lockName))
	if errors.Is(err, fs.ErrNotExist) {
		return &lock{}, nil
	}
	if err != nil {
		return nil, fault(folder, "read the lock file", err)
	}
	l := &lock{file: f, last: readHolder(f)}
	if free, err := hold(f); err == nil && !free {
		l.abandon()
		return nil, &AlreadyOpen{Path: folder, Machine: cmp.Or(l.last.Machine, o.Machine), Since: l.last.Since}
	}
	return l, nil
}

func (h holder) open() bool { return h.Machine != "" && h.Closed == nil }

// readHolder takes an unreadable lock file, as a power cut may leave it, for an
// empty one: then the collection was not closed in order.
func readHolder(r io.Reader) (h holder) {
	if json.NewDecoder(io.LimitReader(r, 4096)).Decode(&h) != nil {
		return holder{}
	}
	return h
}

// write replaces what the lock file tells, in place: a new file would not be the
// one that is locked.
func (l *lock) write(h holder) error {
	data, err := json.Marshal(h)
	if err != nil {
		return err
	}
	return errors.Join(l.file.Truncate(0), writeAt(l.file, append(data, '\n')), l.file.Sync())
}

func writeAt(f *os.File, data []byte) error {
	_, err := f.WriteAt(data, 0)
	return err
}

// release gives the lock back and says how the collection was left.
func (l *lock) release(h holder) error { return errors.Join(l.write(h), l.file.Close()) }

// abandon gives the lock back and leaves the lock file as it is.
func (l *lock) abandon() {
	if l.file != nil {
		l.file.Close()
	}
}

// clean reports whether the file is as it was when it was closed in order.
func (h holder) clean(path string) bool {
	now, err := stateOf(path)
	return err == nil && h.Closed != nil && *h.Closed == *now
}

// Unclean reports whether Open will first have the whole file verified, which
// may take seconds: the program ended without closing it, or something else
// changed it since.
func Unclean(folder string) (bool, error) {
	path := filepath.Join(folder, fileName)
	if !Exists(folder) {
		return false, nil
	}
	f, err := os.Open(filepath.Join(folder, lockName))
	if errors.Is(err, fs.ErrNotExist) {
		return true, nil
	}
	if err != nil {
		return false, fault(folder, "read the lock file", err)
	}
	defer f.Close()
	return !readHolder(f).clean(path), nil
}

// Held reports whether a program on this machine has the collection open now.
func Held(folder string) bool {
	f, err := os.Open(filepath.Join(folder, lockName))
	if err != nil {
		return false
	}
	defer f.Close()
	free, err := hold(f)
	return err == nil && !free
}

// RequestForward asks the program that has the collection open to bring its
// window forward.
func RequestForward(folder string) error {
	path := filepath.Join(folder, forwardName)
	return fault(path, "ask for the open window", os.WriteFile(path, nil, 0o600))
}

// ForwardRequested reports whether a second start asked for the window since the
// last call. It costs one failed removal of a file; several calls a second are fine.
func (s *Store) ForwardRequested() bool {
	return os.Remove(filepath.Join(s.folder, forwardName)) == nil
}
