package main

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"testing"

	"coilward/model"
	"coilward/model/people"
	"coilward/model/store"
	"coilward/model/storetest"
	"coilward/ui/place"
	"coilward/ui/shell"
)

// session is the program and a collection that it opened in a folder.
func session(t *testing.T, folder string) (program, shell.Session) {
	t.Helper()
	p := program{now: storetest.NewClock().Now}
	s, err := p.open(t.Context(), folder, false, func(shell.Session) {})
	if err != nil {
		t.Fatal(err)
	}
	return p, s
}

func closed(t *testing.T, s shell.Session) {
	t.Helper()
	if err := s.Close(); err != nil {
		t.Error(err)
	}
}

// add adds a person and tells the id.
func add(t *testing.T, s shell.Session) model.PersonID {
	t.Helper()
	if _, err := s.Collection.Do(people.Add{Person: people.Person{Name: "Wren Alder"}}); err != nil {
		t.Fatal(err)
	}
	var id model.PersonID
	if err := s.Collection.View(func(v model.View) error {
		return v.All(model.TypePerson, func(d model.Document) bool { id.ID = d.ID; return false })
	}); err != nil {
		t.Fatal(err)
	}
	return id
}

// While a collection is checked after an unclean end, the newest backup is read:
// that of the second place, where none is left in the folder.
func TestTheNewestBackupIsReadFromTheSecondPlaceToo(t *testing.T) {
	folder, stick := t.TempDir(), t.TempDir()
	p, s := session(t, folder)
	add(t, s)
	if err := s.Keeping.Backup(); err != nil {
		t.Fatal(err)
	}
	if err := s.Keeping.ChooseSecond(stick); err != nil {
		t.Fatal(err)
	}
	if err := s.Keeping.BringSecond(t.Context()); err != nil {
		t.Fatal(err)
	}
	closed(t, s)
	for _, where := range []string{"here", "there"} {
		newest, found := p.newest(folder)
		if !found {
			t.Fatalf("%s: no backup is read", where)
		}
		if n, err := newest.Collection.Count(model.TypePerson); err != nil || n != 1 || !newest.Checking {
			t.Errorf("%s: %d persons, %v", where, n, err)
		}
		closed(t, newest)
		all, err := store.Snapshots(folder)
		if err != nil {
			t.Fatal(err)
		}
		for _, one := range all {
			if err := os.Remove(one.Path); err != nil {
				t.Fatal(err)
			}
		}
	}
}

// A backup counts as verified by its sum alone.
func TestABackupWithoutItsSumIsNotVerified(t *testing.T) {
	folder := t.TempDir()
	_, s := session(t, folder)
	add(t, s)
	if err := s.Keeping.Backup(); err != nil {
		t.Fatal(err)
	}
	verified := func() bool {
		all, err := s.Keeping.Backups()
		if err != nil || len(all) != 1 {
			t.Fatalf("%d backups, %v", len(all), err)
		}
		return all[0].Verified
	}
	if !verified() {
		t.Error("a backup that was read back is not verified")
	}
	sums, err := filepath.Glob(filepath.Join(folder, store.BackupsFolder, "*.sha256"))
	if err != nil || len(sums) != 1 {
		t.Fatalf("%v, %v", sums, err)
	}
	if err := os.Remove(sums[0]); err != nil {
		t.Fatal(err)
	}
	if verified() {
		t.Error("a backup without its sum is verified")
	}
	closed(t, s)
}

// Stopped, a comparison ends with what stopped it.
func TestComparingWithABackupCanBeStopped(t *testing.T) {
	folder := t.TempDir()
	_, s := session(t, folder)
	add(t, s)
	if err := s.Keeping.Backup(); err != nil {
		t.Fatal(err)
	}
	all, err := s.Keeping.Backups()
	if err != nil || len(all) != 1 {
		t.Fatalf("%d backups, %v", len(all), err)
	}
	compare := func(ctx context.Context) error {
		_, err := s.Keeping.Compare(ctx, place.Backup{Path: all[0].Path})
		return err
	}
	if err := compare(t.Context()); err != nil {
		t.Error(err)
	}
	stopped, stop := context.WithCancel(t.Context())
	stop()
	if err := compare(stopped); !errors.Is(err, context.Canceled) {
		t.Errorf("stopped: %v", err)
	}
	closed(t, s)
}

// What was erased while the file could not be written anew is left to be done at the
// next opening.
func TestWhatWasErasedIsLeftToBeCompactedAtTheNextOpening(t *testing.T) {
	folder := t.TempDir()
	_, s := session(t, folder)
	if s.ToCompact {
		t.Error("a new collection is to be compacted")
	}
	id := add(t, s)
	if _, err := s.Collection.Do(people.Remove{ID: id}); err != nil {
		t.Fatal(err)
	}
	if _, err := s.Collection.Forget(model.Label{Key: "people.done.erase"}, id.ID); err != nil {
		t.Fatal(err)
	}
	closed(t, s)
	_, s = session(t, folder)
	if !s.ToCompact {
		t.Fatal("it is not to be compacted")
	}
	if err := s.Compact(t.Context()); err != nil {
		t.Fatal(err)
	}
	closed(t, s)
	if _, s = session(t, folder); s.ToCompact {
		t.Error("compacted, and still to be")
	}
	closed(t, s)
}
