package store

import (
	"errors"
	"fmt"
	"io"
	"log/slog"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"
)

// asideBegin is how the names of files that were set aside begin.
const asideBegin = "replaced-"

// Restore puts a snapshot, or any good collection file, in the place of the
// collection of a folder, which must not be open. The file is verified first.
// What was there is kept, and setAside is where; empty if there was nothing. Encrypted
// copies of keys that lie beside a snapshot of another folder come along.
func Restore(folder, from string, o Options) (setAside string, err error) {
	if o, err = o.complete(); err != nil {
		return "", err
	}
	if err := makeFolders(folder); err != nil {
		return "", err
	}
	l, err := takeLock(folder, o)
	if err != nil {
		return "", err
	}
	path := filepath.Join(folder, fileName)
	if setAside, err = replace(path, from, o); err != nil {
		l.abandon()
		return setAside, err
	}
	if err := bringKeysBeside(from, folder); err != nil { // the collection stands all the same
		slog.Warn("bring the copies of keys", "error", err)
	}
	state, err := stateOf(path)
	if err != nil {
		l.abandon()
		return setAside, fault(path, "look at the restored file", err)
	}
	return setAside, fault(folder, "write the lock file", l.release(holder{Machine: o.Machine, Since: o.Now(), Closed: state}))
}

// replace verifies the copy, not the source, so that nothing can change between.
func replace(path, from string, o Options) (setAside string, err error) {
	if real := resolved(from); summed(real) {
		if err := checkSum(real); err != nil {
			return "", err
		}
	}
	fresh := path + ".new"
	if err := copyFile(from, fresh); err != nil {
		return "", errors.Join(err, removeIfThere(fresh))
	}
	report, err := o.Verifier(fresh)
	if err == nil {
		err = report.fault(from)
	}
	if err != nil {
		return "", errors.Join(err, removeIfThere(fresh))
	}
	if setAside, err = keep(path, o); err != nil {
		return "", errors.Join(err, removeIfThere(fresh))
	}
	return setAside, place(fresh, path)
}

// summed tells whether a sum lies beside a file.
func summed(path string) bool {
	_, err := os.Stat(path + sumEnd)
	return err == nil
}

// keep gives the present file a second name before it is replaced. Where the
// disk cannot do that, it is copied.
func keep(path string, o Options) (string, error) {
	if _, err := os.Stat(path); errors.Is(err, os.ErrNotExist) {
		return "", nil
	}
	return keepAs(path, filepath.Dir(path), o)
}

// keepAs gives a file a second name among the backups of a folder.
func keepAs(path, folder string, o Options) (string, error) {
	stamp := o.Now().UTC().Format(snapshotTime)
	for n := 1; ; n++ {
		aside := filepath.Join(folder, BackupsFolder, fmt.Sprintf(asideBegin+"%s-%d"+snapshotEnd, stamp, n))
		err := os.Link(path, aside)
		if errors.Is(err, os.ErrExist) {
			continue
		}
		if err != nil {
			err = copyFile(path, aside)
		}
		return aside, err
	}
}

// SetAside are the files of a folder that something else took the place of, by
// Restore, SalvageFolder, KeepThis or Take, newest first. Nothing clears them away.
func SetAside(folder string) ([]Snapshot, error) {
	backups := filepath.Join(folder, BackupsFolder)
	files, err := os.ReadDir(backups)
	if errors.Is(err, os.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, fault(backups, "list what was set aside", err)
	}
	var all []Snapshot
	for _, f := range slices.Backward(files) {
		stamp, _, _ := strings.Cut(strings.TrimPrefix(f.Name(), asideBegin), "-")
		taken, err := time.Parse(snapshotTime, stamp)
		if err == nil && strings.HasPrefix(f.Name(), asideBegin) && strings.HasSuffix(f.Name(), snapshotEnd) {
			all = append(all, Snapshot{Path: filepath.Join(backups, f.Name()), Taken: taken})
		}
	}
	return all, nil
}

func copyFile(from, to string) error {
	source, err := os.Open(from)
	if err != nil {
		return fault(from, "read the file", err)
	}
	defer source.Close()
	target, err := makeFile(to)
	if err != nil {
		return err
	}
	_, err = io.Copy(target, source)
	if err == nil {
		err = target.Sync()
	}
	return fault(to, "write the copy", errors.Join(err, target.Close()))
}
