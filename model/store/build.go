package store

import (
	"crypto/rand"
	"errors"
	"os"
	"path/filepath"

	bolt "go.etcd.io/bbolt"

	"coilward/model/disk"
)

func randomName() string { return rand.Text() }

// build makes a whole new file under another name and puts it in its place when
// it is complete, so that a power cut never leaves half a file. What it replaces
// is gone; callers set it aside before.
func build(path string, fill func(*Store) error) error {
	fresh := path + ".new"
	if err := os.Remove(fresh); err != nil && !errors.Is(err, os.ErrNotExist) {
		return fault(fresh, "clear away an unfinished file", err)
	}
	if err := fillFile(fresh, fill); err != nil {
		return errors.Join(err, os.Remove(fresh))
	}
	return place(fresh, path)
}

// fillFile may leave single commits unsynced: the file counts only when it is
// whole.
func fillFile(path string, fill func(*Store) error) error {
	db, err := openStorm(path, bolt.Options{NoSync: true})
	if err != nil {
		return err
	}
	s := &Store{path: path, storm: db}
	if s.opened, err = os.Stat(path); err == nil {
		err = fill(s)
	}
	if err == nil {
		err = fault(path, "write the file to disk", db.Bolt.Sync())
	}
	return errors.Join(err, fault(path, "close the file", db.Close()))
}

// place renames a finished file and makes the rename last.
func place(from, to string) error {
	if err := os.Rename(from, to); err != nil {
		return fault(to, "put the file in its place", err)
	}
	return fault(to, "write the folder to disk", disk.SyncFolder(filepath.Dir(to)))
}
