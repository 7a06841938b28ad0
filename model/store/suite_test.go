package store_test

import (
	"path/filepath"
	"testing"
	"time"

	bolt "go.etcd.io/bbolt"

	"coilward/model/collection"
	"coilward/model/store"
	"coilward/model/storetest"
)

func TestSuite(t *testing.T) {
	storetest.Suite(t, func(t testing.TB) collection.Store {
		folder := t.TempDir()
		s := open(t, folder)
		t.Cleanup(func() {
			closeStore(t, s)
			goodPages(t, file(folder))
		})
		return s
	})
}

// goodPages runs bbolt's own check: the suite writes records of no collection.
func goodPages(t testing.TB, path string) {
	t.Helper()
	db, err := bolt.Open(path, 0o600, &bolt.Options{Timeout: time.Second, ReadOnly: true})
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	if err := db.View(func(tx *bolt.Tx) error {
		for err := range tx.Check() {
			t.Error(err)
		}
		return nil
	}); err != nil {
		t.Error(err)
	}
}

func TestUndoRestores(t *testing.T) {
	clock := storetest.NewClock()
	o := options(clock)
	folders := map[collection.Store]string{}
	start := func(t storetest.T, folder string) collection.Store {
		t.Helper()
		s, err := store.Open(folder, o)
		if err != nil {
			t.Fatal(err)
		}
		folders[s] = folder
		return s
	}
	end := func(t storetest.T, s collection.Store) {
		t.Helper()
		if err := s.(*store.Store).Close(); err != nil {
			t.Fatal(err)
		}
		delete(folders, s)
	}
	reopen := func(t storetest.T, s collection.Store) collection.Store {
		t.Helper()
		folder := folders[s]
		end(t, s)
		return start(t, folder)
	}
	storetest.UndoRestores(t, func(t testing.TB) collection.Store { return start(t, t.TempDir()) }, reopen, clock, storetest.Commands())
	for s, folder := range folders {
		end(t, s)
		if r, err := store.VerifyFile(filepath.Join(folder, "collection.db")); err != nil || !r.Good {
			t.Errorf("verify: %+v, %v", r, err)
		}
	}
}
