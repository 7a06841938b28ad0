package store_test

import (
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
	folder := t.TempDir()
	clock := storetest.NewClock()
	s := open(t, folder)
	storetest.UndoRestores(t, s, func(t storetest.T, _ collection.Store) collection.Store {
		t.Helper()
		err := s.Close()
		if err == nil {
			s, err = store.Open(folder, options(clock))
		}
		if err != nil {
			t.Fatal(err)
		}
		return s
	}, clock, storetest.Commands())
	closeStore(t, s)
	good(t, file(folder))
}
