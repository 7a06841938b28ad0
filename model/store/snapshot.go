package store

import (
	"cmp"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"coilward/model/collection"
)

// Snapshot is one verified copy of the file, in the folder backups.
type Snapshot struct {
	Path     string
	Taken    time.Time // to the second, UTC
	Sequence uint64    // changes that it holds
	// Number counts the snapshots as they were made, so that a clock set back, or
	// an older state that was restored, does not make a newer one look older.
	Number uint64
}

const (
	snapshotTime = "20060102T150405Z"
	snapshotEnd  = ".db"
	sumEnd       = ".sha256"
)

// Verified reports whether the copy was read back whole after it was written: only
// such a one has its sum beside it.
func (s Snapshot) Verified() bool { return summed(s.Path) }

func (s Snapshot) name() string {
	return fmt.Sprintf("%s-%012d-%06d%s", s.Taken.UTC().Format(snapshotTime), s.Sequence, s.Number, snapshotEnd)
}

func parseSnapshotName(name string) (s Snapshot, ok bool) {
	taken, rest, _ := strings.Cut(name, "-")
	t, err := time.Parse(snapshotTime, taken)
	if err != nil {
		return s, false
	}
	s.Taken = t
	_, err = fmt.Sscanf(rest, "%d-%d", &s.Sequence, &s.Number)
	return s, err == nil && s.name() == name
}

// Snapshots are the snapshots of a collection's folder, newest first: in the
// order in which they were made, whatever the clock said.
func Snapshots(folder string) ([]Snapshot, error) {
	backups := filepath.Join(folder, BackupsFolder)
	if noFolder(backups) {
		return nil, &Fault{Kind: ErrNoFolder, Path: backups}
	}
	files, err := os.ReadDir(backups)
	if errors.Is(err, os.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, fault(backups, "list the snapshots", err)
	}
	var all []Snapshot
	for _, f := range files {
		if s, ok := parseSnapshotName(f.Name()); ok && f.Type().IsRegular() { // a pipe would be waited for
			s.Path = filepath.Join(backups, f.Name())
			all = append(all, s)
		}
	}
	slices.SortFunc(all, func(a, b Snapshot) int {
		return cmp.Or(cmp.Compare(b.Number, a.Number), cmp.Compare(b.Sequence, a.Sequence), b.Taken.Compare(a.Taken))
	})
	return all, nil
}

// NewestSnapshot is the newest snapshot whose file is as it was when verified.
func NewestSnapshot(folder string) (Snapshot, bool, error) {
	return newestOf(folder, func(string) bool { return true })
}

// newestOf is NewestSnapshot of those that are wanted.
func newestOf(folder string, wanted func(path string) bool) (Snapshot, bool, error) {
	all, err := Snapshots(folder)
	for _, s := range all {
		if checkSum(s.Path) == nil && wanted(s.Path) {
			return s, true, err
		}
	}
	return Snapshot{}, false, err
}

// SnapshotIfChanged takes a snapshot unless the newest holds every change.
func (s *Store) SnapshotIfChanged() (Snapshot, bool, error) {
	var sequence uint64
	err := s.View(func(r collection.Reader) (err error) {
		sequence, err = collection.Sequence(r)
		return err
	})
	if err != nil {
		return Snapshot{}, false, err
	}
	newest, ok, err := NewestSnapshot(s.folder)
	if err != nil || ok && newest.Sequence == sequence || sequence == 0 {
		return newest, false, err
	}
	newest, err = s.Snapshot()
	return newest, err == nil, err
}

// Snapshot copies the file while it is in use, has the copy verified, and clears
// away the snapshots that Retain no longer keeps.
func (s *Store) Snapshot() (Snapshot, error) {
	if s.folder == "" {
		return Snapshot{}, &Fault{Kind: ErrReadOnly, Path: s.path}
	}
	s.backing.Lock()
	defer s.backing.Unlock()
	if err := s.ours(); err != nil {
		return Snapshot{}, err
	}
	if err := makeFolders(s.folder); err != nil { // they may be gone since the collection was opened
		return Snapshot{}, err
	}
	made, err := s.next()
	if err != nil {
		return Snapshot{}, err
	}
	fresh := filepath.Join(s.folder, BackupsFolder, unfinished)
	sum, err := s.copyTo(fresh)
	if err != nil {
		return Snapshot{}, errors.Join(err, removeIfThere(fresh))
	}
	report, err := s.options.Verifier(fresh)
	if err == nil {
		err = report.fault(fresh)
	}
	if err != nil {
		return Snapshot{}, errors.Join(err, removeIfThere(fresh))
	}
	made.Sequence = report.Sequence
	made.Path = filepath.Join(s.folder, BackupsFolder, made.name())
	if err := writeSum(made.Path, sum); err != nil {
		return Snapshot{}, err
	}
	if err := place(fresh, made.Path); err != nil {
		return Snapshot{}, err
	}
	return made, rotate(s.folder)
}

// next is the snapshot that is made now, numbered behind all that there are.
func (s *Store) next() (Snapshot, error) {
	all, err := Snapshots(s.folder)
	if err != nil {
		return Snapshot{}, err
	}
	made := Snapshot{Taken: s.options.Now().UTC().Truncate(time.Second), Number: 1}
	if len(all) > 0 {
		made.Number = all[0].Number + 1
	}
	return made, nil
}

// copyTo copies the present state and makes it last; the sum is that of what was
// written, not of what the disk gives back.
func (s *Store) copyTo(path string) (sum string, err error) {
	f, err := makeFile(path)
	if err != nil {
		return "", err
	}
	hash := sha256.New()
	target := &remembering{writer: io.MultiWriter(f, hash)}
	err = s.copyInto(target)
	if err == nil {
		err = f.Sync()
	}
	return hex.EncodeToString(hash.Sum(nil)), fault(path, "write the snapshot", errors.Join(err, f.Close()))
}

// makeFile makes a new file. What lies there is cleared away first, not written into:
// a link would lead to a file outside.
func makeFile(path string) (*os.File, error) {
	if err := removeIfThere(path); err != nil {
		return nil, err
	}
	f, err := os.OpenFile(path, os.O_RDWR|os.O_CREATE|os.O_EXCL, 0o600)
	return f, fault(path, "make the file", err)
}

func (s *Store) copyInto(target *remembering) error {
	s.exchanging.RLock()
	defer s.exchanging.RUnlock()
	return s.look("copy", func(t *transaction) error {
		return guard(func() error {
			_, err := t.bolt.WriteTo(target)
			return errors.Join(err, target.err)
		})
	})
}

// remembering keeps the error of its writer: bbolt gives only its text on, which
// does not tell a full disk from others.
type remembering struct {
	writer io.Writer
	err    error
}

func (r *remembering) Write(data []byte) (int, error) {
	n, err := r.writer.Write(data)
	r.err = errors.Join(r.err, err)
	return n, err
}

// writeSum writes the sum in the form that the usual sum programs read.
func writeSum(path, sum string) error {
	f, err := makeFile(path + sumEnd)
	if err != nil {
		return err
	}
	_, err = fmt.Fprintf(f, "%s  %s\n", sum, filepath.Base(path))
	return fault(path+sumEnd, "write the snapshot's sum", errors.Join(err, f.Close()))
}

// checkSum compares a snapshot with its sum.
func checkSum(path string) error {
	line, err := readPlain(path + sumEnd)
	if err != nil {
		return fault(path, "read the snapshot's sum", err)
	}
	sum, err := sumOf(path)
	if err != nil {
		return fault(path, "read the snapshot", err)
	}
	if want, _, _ := strings.Cut(string(line), " "); want != sum {
		return &Fault{Kind: ErrDamaged, Path: path, Err: errors.New("the snapshot's sum does not fit")}
	}
	return nil
}

func rotate(folder string) error {
	all, err := Snapshots(folder)
	if err != nil {
		return err
	}
	taken := make([]time.Time, len(all))
	for i, s := range all {
		taken[i] = s.Taken
	}
	for i, keep := range Retain(taken) {
		if !keep {
			err = errors.Join(err, removeIfThere(all[i].Path), removeIfThere(all[i].Path+sumEnd))
		}
	}
	return err
}

func removeIfThere(path string) error {
	if err := os.Remove(path); !errors.Is(err, os.ErrNotExist) {
		return fault(path, "clear the file away", err)
	}
	return nil
}
