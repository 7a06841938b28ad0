package store

import (
	"errors"
	"os"
	"path/filepath"
	"time"

	"coilward/model/collection"
)

// ErrConflicted says that another state of this collection lies beside it, as a
// program that keeps folders of several machines alike makes one when both have
// changed it. Nothing is written until a person has chosen between them.
var ErrConflicted = errors.New("another state of the collection lies beside it")

// Other is another state of a collection, in its folder.
type Other struct {
	Path     string
	Modified time.Time
	Sequence uint64 // changes that it holds; 0 if it cannot be read
	Replaced bool   // it took the place of the open file
	// Overwritten: it was written into the open file itself, so that what was there
	// before is in the backups alone.
	Overwritten bool
}

var (
	errCounter = errors.New("what it says was written last is not what was written last here")
	errShorter = errors.New("it is shorter than it was")
)

// undisturbed looks, before anything is written, whether the file in the folder is
// still the open one and as it was left, and whether another state lies beside it.
// On Windows no file takes the place of an open one, but one may be written into.
func (s *Store) undisturbed(t *transaction) error {
	if s.opened == nil {
		return nil
	}
	if err := s.sameFile(); err != nil {
		return err
	}
	if last := s.watch.last.Load(); last != 0 && uint64(t.bolt.ID()) != last+1 {
		return &Fault{Kind: ErrReplaced, Path: s.path, Err: errCounter}
	}
	if info, err := os.Stat(s.path); err == nil && info.Size() < t.bolt.Size() {
		return &Fault{Kind: ErrReplaced, Path: s.path, Err: errShorter}
	}
	if err := s.own(t); err != nil {
		return err
	}
	return s.alone()
}

// alone fails if another state lies beside the file. The folder is read again only
// when something came into it or left it.
func (s *Store) alone() error {
	if s.folder == "" {
		return nil
	}
	info, err := os.Stat(s.folder)
	if err != nil {
		return fault(s.folder, "look at the folder", err)
	}
	if !s.conflicted && info.ModTime().Equal(s.looked) {
		return nil
	}
	others, err := s.beside()
	if err != nil {
		return err
	}
	s.looked, s.conflicted = info.ModTime(), len(others) > 0
	if s.conflicted {
		return &Fault{Kind: ErrConflicted, Path: others[0].Path}
	}
	return nil
}

// beside are the files beside the collection that are states of it: by their names
// they may be, by what is in them they are.
func (s *Store) beside() ([]Other, error) {
	copies, err := Copies(s.folder)
	if err != nil {
		return nil, err
	}
	var others []Other
	for _, path := range copies {
		if other, name := otherAt(path); name != "" && name == s.name {
			others = append(others, other)
		}
	}
	return others, nil
}

// otherAt reads what a file is, with the name of its collection; empty: it is none,
// or cannot be read now.
func otherAt(path string) (other Other, name string) {
	other.Path = path
	if info, err := os.Stat(path); err == nil {
		other.Modified = info.ModTime()
	}
	s, err := OpenReadOnly(path)
	if err != nil {
		return other, ""
	}
	defer s.Close()
	f, err := s.form()
	if err != nil {
		return other, ""
	}
	err = s.View(func(r collection.Reader) (err error) {
		other.Sequence, err = collection.Sequence(r)
		return err
	})
	if err != nil {
		return other, ""
	}
	return other, f.Name
}

// Apart are the other states of this collection in its folder: what took the place
// of the open file, and what lies beside it.
func (s *Store) Apart() ([]Other, error) {
	if s.folder == "" || s.readOnly {
		return nil, nil
	}
	others, err := s.beside()
	if err != nil {
		return nil, err
	}
	s.writing.Lock()
	defer s.writing.Unlock()
	overwritten := s.View(func(r collection.Reader) error { return s.own(r) })
	if overwritten != nil && !errors.Is(overwritten, ErrReplaced) {
		return others, overwritten
	}
	if overwritten == nil && s.sameFile() == nil {
		return others, nil
	}
	return append([]Other{otherAtReplaced(s.path, overwritten != nil)}, others...), nil
}

// otherAtReplaced is what took the place of the open file, or was written into it.
func otherAtReplaced(path string, overwritten bool) Other {
	if overwritten { // it is the open file: opening it again would wait for itself
		other := Other{Path: path, Replaced: true, Overwritten: true}
		if info, err := os.Stat(path); err == nil {
			other.Modified = info.ModTime()
		}
		return other
	}
	other, _ := otherAt(path)
	other.Replaced = true
	return other
}

// KeepThis goes on with the open state: every other one is set aside among the
// backups, and where one took the place of the open file, the open state is written
// back, read whole, and put in its place again. What was overwritten cannot be
// written back: ErrReplaced.
func (s *Store) KeepThis() error {
	others, err := s.Apart()
	if err != nil {
		return err
	}
	s.backing.Lock()
	defer s.backing.Unlock()
	for _, o := range others {
		switch {
		case o.Overwritten:
			return &Fault{Kind: ErrReplaced, Path: s.path, Err: errCounter}
		case !o.Replaced:
			if err := moveAside(o.Path, s.folder, s.options); err != nil {
				return err
			}
		}
	}
	if len(others) == 0 || !others[0].Replaced {
		return nil
	}
	fresh := s.path + ".new"
	if err := s.verifiedCopy(fresh); err != nil {
		return errors.Join(err, removeIfThere(fresh))
	}
	if _, err := keep(s.path, s.options); err != nil {
		return errors.Join(err, removeIfThere(fresh))
	}
	s.writing.Lock()
	defer s.writing.Unlock()
	return s.exchange(func() error { return place(fresh, s.path) })
}

// SetThisAside keeps the open state among the backups, before another one takes its
// place, and tells where. What was overwritten is not there any more: its place is
// empty then.
func (s *Store) SetThisAside() (string, error) {
	others, err := s.Apart()
	if err != nil || len(others) > 0 && others[0].Overwritten {
		return "", err
	}
	s.backing.Lock()
	defer s.backing.Unlock()
	fresh := filepath.Join(s.folder, BackupsFolder, unfinished)
	if err := s.verifiedCopy(fresh); err != nil {
		return "", errors.Join(err, removeIfThere(fresh))
	}
	aside, err := keepAs(fresh, s.folder, s.options)
	return aside, errors.Join(err, removeIfThere(fresh))
}

func (s *Store) verifiedCopy(path string) error {
	if _, err := s.copyTo(path); err != nil {
		return err
	}
	report, err := s.options.Verifier(path)
	if err != nil {
		return err
	}
	return report.fault(path)
}

// Take puts another state in the place of the collection of a folder, which must
// not be open. What was there is kept, and setAside is where.
func Take(folder string, other Other, o Options) (setAside string, err error) {
	if other.Replaced { // it is there already
		return "", nil
	}
	if o, err = o.complete(); err != nil {
		return "", err
	}
	if setAside, err = Restore(folder, other.Path, o); err != nil {
		return setAside, err
	}
	return setAside, moveAside(other.Path, folder, o)
}

// moveAside puts a file among the backups.
func moveAside(path, folder string, o Options) error {
	if _, err := keepAs(path, folder, o); err != nil {
		return err
	}
	return removeIfThere(path)
}

// exchange closes the file, puts another in its place, and opens that one, while
// nobody reads; the caller holds writing. If it cannot be opened, reading and writing fail from then
// on.
func (s *Store) exchange(put func() error) error {
	s.exchanging.Lock()
	defer s.exchanging.Unlock()
	if err := s.shut(); err != nil {
		return fault(s.path, "close the file", err)
	}
	return errors.Join(put(), s.connect())
}
