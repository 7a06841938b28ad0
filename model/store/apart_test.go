package store_test

import (
	"errors"
	"os"
	"path/filepath"
	"testing"

	"coilward/model"
	"coilward/model/collection"
	"coilward/model/store"
	"coilward/model/storetest"
)

// noting tries to write an entry.
func noting(t *testing.T, c *collection.Collection, n int) error {
	t.Helper()
	_, err := c.Do(storetest.Put{Documents: []model.Document{storetest.Entry(numbered(1000+n), animal, int64(n), n)}})
	return err
}

// another is a file with a further state of the collection, as another machine has
// it.
func another(t *testing.T, folder string, n int) (path string, everything string) {
	t.Helper()
	other := t.TempDir()
	write(t, file(other), read(t, file(folder)))
	s := open(t, other)
	c := over(t, s)
	for i := range n {
		weigh(t, c, 500+i)
	}
	everything = storetest.Everything(t, s)
	closeStore(t, s)
	return file(other), everything
}

func aside(t *testing.T, folder string) []store.Snapshot {
	t.Helper()
	all, err := store.SetAside(folder)
	if err != nil {
		t.Fatal(err)
	}
	return all
}

func apart(t *testing.T, s *store.Store) []store.Other {
	t.Helper()
	all, err := s.Apart()
	if err != nil {
		t.Fatal(err)
	}
	return all
}

// A file that took the place of the open one is noticed before anything is written.
// Going on with the open state writes that back, and the other is kept.
func TestAReplacedFileIsNoticedAndThisStateKept(t *testing.T) {
	folder := filled(t, 3)
	path, theirs := another(t, folder, 2)
	s := open(t, folder)
	c := over(t, s)
	weigh(t, c, 7)
	ours := storetest.Everything(t, s)
	if err := os.Rename(path, file(folder)); err != nil {
		t.Fatal(err)
	}
	if err := noting(t, c, 1); !errors.Is(err, store.ErrReplaced) {
		t.Fatalf("noted into a replaced file: %v, want ErrReplaced", err)
	}
	others := apart(t, s)
	if len(others) != 1 || !others[0].Replaced || others[0].Overwritten || others[0].Sequence != 6 || others[0].Modified.IsZero() {
		t.Fatalf("found %+v", others)
	}
	if err := s.KeepThis(); err != nil {
		t.Fatal(err)
	}
	if storetest.Everything(t, s) != ours {
		t.Error("what was kept differs from what was open")
	}
	kept := aside(t, folder)
	if len(kept) != 1 {
		t.Fatalf("set aside: %+v", kept)
	}
	other, err := store.OpenReadOnly(kept[0].Path)
	if err != nil {
		t.Fatal(err)
	}
	defer closeStore(t, other)
	if storetest.Everything(t, other) != theirs {
		t.Error("what was set aside differs from what lay there")
	}
	if err := noting(t, c, 2); err != nil {
		t.Errorf("afterwards nothing can be noted: %v", err)
	}
	if left := apart(t, s); len(left) != 0 {
		t.Errorf("still found: %+v", left)
	}
	closeStore(t, s)
	good(t, file(folder))
	if unclean, err := store.Unclean(folder); unclean || err != nil {
		t.Errorf("not closed in order: %v", err)
	}
}

// Taking the other keeps this state among the backups.
func TestAReplacedFileIsTaken(t *testing.T) {
	folder := filled(t, 3)
	path, theirs := another(t, folder, 2)
	s := open(t, folder)
	weigh(t, over(t, s), 7)
	ours := storetest.Everything(t, s)
	if err := os.Rename(path, file(folder)); err != nil {
		t.Fatal(err)
	}
	others := apart(t, s)
	saved, err := s.SetThisAside()
	if err != nil || len(others) != 1 {
		t.Fatal(others, err)
	}
	closeStore(t, s)
	if _, err := store.Take(folder, others[0], options(storetest.NewClock())); err != nil {
		t.Fatal(err)
	}
	s = open(t, folder)
	defer closeStore(t, s)
	if storetest.Everything(t, s) != theirs {
		t.Error("what is open differs from what was taken")
	}
	before, err := store.OpenReadOnly(saved)
	if err != nil {
		t.Fatal(err)
	}
	defer closeStore(t, before)
	if storetest.Everything(t, before) != ours {
		t.Error("what was set aside differs from what was open")
	}
}

// The system may write another state into the open file, where it cannot take its
// place.
func TestAnOverwrittenFileIsNoticed(t *testing.T) {
	folder := filled(t, 3)
	path, theirs := another(t, folder, 2)
	s := open(t, folder)
	c := over(t, s)
	f, err := os.OpenFile(file(folder), os.O_WRONLY, 0)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := f.Write(read(t, path)); err != nil {
		t.Fatal(err)
	}
	if err := f.Close(); err != nil {
		t.Fatal(err)
	}
	if err := noting(t, c, 1); !errors.Is(err, store.ErrReplaced) {
		t.Fatalf("noted into an overwritten file: %v, want ErrReplaced", err)
	}
	others := apart(t, s)
	if len(others) != 1 || !others[0].Overwritten {
		t.Fatalf("found %+v", others)
	}
	if err := s.KeepThis(); !errors.Is(err, store.ErrReplaced) {
		t.Errorf("what was overwritten was kept: %v", err)
	}
	closeStore(t, s)
	s = open(t, folder)
	defer closeStore(t, s)
	if storetest.Everything(t, s) != theirs {
		t.Error("what is open differs from what was written there")
	}
}

// Conflicted copies are known by what is in them, whatever they are called; what
// only looks like one by its name is none.
func TestConflictedCopiesStopWriting(t *testing.T) {
	for _, name := range []string{
		"collection (conflicted copy 2027-06-09).db", "collection-conflict-2.db", "collection (1).db", "collection 2.db",
		"Collection (workshop in conflict).db", "Copy of collection.db", "collection.db.conflict", "collection.sync-conflict-20270609.db",
	} {
		t.Run(name, func(t *testing.T) {
			folder := filled(t, 3)
			path, theirs := another(t, folder, 2)
			s := open(t, folder)
			defer closeStore(t, s)
			c := over(t, s)
			if err := noting(t, c, 1); err != nil {
				t.Fatal(err)
			}
			beside := filepath.Join(folder, name)
			write(t, beside, read(t, path))
			var fault *store.Fault
			for range 2 {
				if err := noting(t, c, 2); !errors.Is(err, store.ErrConflicted) || !errors.As(err, &fault) || fault.Path != beside || fault.Refusal().Reason != "collection.conflicted" {
					t.Fatalf("noted beside a copy: %v, want ErrConflicted", err)
				}
			}
			others := apart(t, s)
			if len(others) != 1 || others[0].Replaced || others[0].Path != beside || others[0].Sequence != 6 {
				t.Fatalf("found %+v", others)
			}
			if err := s.KeepThis(); err != nil {
				t.Fatal(err)
			}
			if err := noting(t, c, 2); err != nil {
				t.Errorf("afterwards nothing can be noted: %v", err)
			}
			kept, err := store.OpenReadOnly(aside(t, folder)[0].Path)
			if err != nil {
				t.Fatal(err)
			}
			defer closeStore(t, kept)
			if storetest.Everything(t, kept) != theirs {
				t.Error("what was set aside differs from the copy")
			}
		})
	}
}

func TestAConflictedCopyIsTaken(t *testing.T) {
	folder := filled(t, 3)
	path, theirs := another(t, folder, 2)
	beside := filepath.Join(folder, "collection 2.db")
	write(t, beside, read(t, path))
	s := open(t, folder)
	ours := storetest.Everything(t, s)
	others := apart(t, s)
	closeStore(t, s)
	was, err := store.Take(folder, others[0], options(storetest.NewClock()))
	if err != nil {
		t.Fatal(err)
	}
	s = open(t, folder)
	defer closeStore(t, s)
	before, err := store.OpenReadOnly(was)
	if err != nil {
		t.Fatal(err)
	}
	defer closeStore(t, before)
	if storetest.Everything(t, s) != theirs || storetest.Everything(t, before) != ours || len(apart(t, s)) != 0 {
		t.Errorf("taken wrongly; still there: %+v", apart(t, s))
	}
}

func TestWhatIsNoStateOfThisCollectionStopsNothing(t *testing.T) {
	folder, stranger := filled(t, 3), filled(t, 2)
	for name, data := range map[string][]byte{
		"collection stranger.db": read(t, file(stranger)), // another collection
		"collection notes.db":    []byte("a letter to the vet"),
		"collection half.db":     read(t, file(folder))[:8000],
		"garden.db":              read(t, file(folder)),
	} {
		write(t, filepath.Join(folder, name), data)
	}
	s := open(t, folder)
	defer closeStore(t, s)
	if err := noting(t, over(t, s), 1); err != nil {
		t.Error(err)
	}
}
