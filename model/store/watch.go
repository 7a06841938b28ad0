package store

import (
	"encoding/binary"
	"errors"
	"fmt"
	"hash/fnv"
	"os"
	"sync/atomic"

	bolt "go.etcd.io/bbolt"

	"coilward/model/collection"
)

// Where the head of a file tells how many updates there were; see headAt.
const headCounter = 48

var (
	errStranger = errors.New("it is another collection")
	errSpoilt   = errors.New("something wrote into it, and it cannot be read any more")
)

// watch is what is remembered of the open file, so that every reading can tell at
// the cost of one question to the system whether it is still as it was left. bbolt maps the
// file: what another program writes there it takes for its own, and where the file
// was cut, it fails with its locks held.
type watch struct {
	file     *os.File // as bbolt holds it
	size     atomic.Int64
	last     atomic.Uint64 // what bbolt counted at the last update; 0: not known
	modified atomic.Int64  // when it was written here last, or was seen to be ours after that
	turns    atomic.Int64  // odd while an update runs here
	spoilt   atomic.Pointer[Fault]
}

// follow notes the file as it is now.
func (w *watch) follow(last uint64) error {
	info, err := w.file.Stat()
	if err != nil {
		return err
	}
	w.size.Store(info.Size())
	w.modified.Store(info.ModTime().UnixNano())
	w.last.Store(last)
	return nil
}

// untouched fails with ErrReplaced if the open file was cut or written over since
// it was left here. It does not enter bbolt. touched is when something may have
// written there all the same, so that its name has to tell; 0: nothing did.
func (s *Store) untouched() (touched int64, err error) {
	if known := s.watch.spoilt.Load(); known != nil {
		return 0, known
	}
	if s.watch.file == nil {
		return 0, nil
	}
	turn := s.watch.turns.Load()
	info, err := s.watch.file.Stat()
	if err != nil {
		return 0, fault(s.path, "look at the open file", err)
	}
	if info.Size() < s.watch.size.Load() {
		return 0, &Fault{Kind: ErrReplaced, Path: s.path, Err: errShorter}
	}
	last, at := s.watch.last.Load(), info.ModTime().UnixNano()
	if s.readOnly || at == s.watch.modified.Load() {
		return 0, nil
	}
	if last == 0 {
		return at, nil
	}
	counted, err := counter(s.watch.file)
	if err != nil {
		return 0, fault(s.path, "read its heads", err)
	}
	if turn%2 != 0 || turn != s.watch.turns.Load() { // whoever writes here looks
		return 0, nil
	}
	if counted != last {
		return 0, &Fault{Kind: ErrReplaced, Path: s.path, Err: errCounter}
	}
	return at, nil
}

// counter is what the better of the two heads of a file counts; 0: both are spoilt.
func counter(file *os.File) (uint64, error) {
	var newest uint64
	size := int64(os.Getpagesize())
	for page := range int64(2) {
		var head [headLength]byte
		if _, err := file.ReadAt(head[:], page*size+headAt); err != nil {
			return 0, err
		}
		sum := fnv.New64a()
		sum.Write(head[:headChecksum])
		if binary.NativeEndian.Uint32(head[:]) != headMagic || binary.NativeEndian.Uint64(head[headChecksum:]) != sum.Sum64() {
			continue
		}
		size = int64(binary.NativeEndian.Uint32(head[headPageSize:]))
		newest = max(newest, binary.NativeEndian.Uint64(head[headCounter:]))
	}
	return newest, nil
}

// own fails with ErrReplaced if the file holds another collection than the one that
// was opened.
func (s *Store) own(r collection.Reader) error {
	if s.name == "" {
		return nil
	}
	if f, err := formOf(r); err != nil || f.Name != s.name {
		return &Fault{Kind: ErrReplaced, Path: s.path, Err: errors.Join(errStranger, err)}
	}
	return nil
}

// ours fails with ErrReplaced if the open file is no longer the one in the folder,
// or no longer as it was left.
func (s *Store) ours() error {
	if err := s.sameFile(); err != nil {
		return err
	}
	return s.View(func(collection.Reader) error { return nil })
}

// enter is guard for what calls bbolt. Where bbolt itself failed on the file, it may
// hold its locks: it is not entered again, because that would wait for ever.
func (s *Store) enter(work func() error) error {
	returned := false
	err := guard(func() error {
		err := work()
		returned = true
		return err
	})
	if returned {
		return err
	}
	kind := ErrDamaged
	if s.name != "" { // it could be read when it was opened
		kind = ErrReplaced
	}
	s.watch.spoilt.CompareAndSwap(nil, &Fault{Kind: kind, Path: s.path, Err: fmt.Errorf("%w: %w", errSpoilt, err)})
	return s.watch.spoilt.Load()
}

// shut closes the file. One that is spoilt is let go of without bbolt, which would
// wait for its own locks.
func (s *Store) shut() error {
	if s.watch.spoilt.Load() == nil {
		return guard(s.storm.Close)
	}
	return errors.Join(letGo(s.watch.file), s.watch.file.Close())
}

// holding lets bbolt open its file and gives it too.
func holding(o *bolt.Options) **os.File {
	file := new(*os.File)
	o.OpenFile = func(path string, flag int, mode os.FileMode) (*os.File, error) {
		f, err := os.OpenFile(path, flag, mode)
		if *file == nil {
			*file = f
		}
		return f, err
	}
	return file
}
