package store_test

import (
	"os"
	"path/filepath"
	"testing"

	"coilward/model"
	"coilward/model/collection"
	"coilward/model/store"
	"coilward/model/storetest"
)

// TestMain lets the test binary be the child that verifies, and the one that
// writes until it is killed.
func TestMain(m *testing.M) {
	if store.MainVerify(os.Args) || mainWriter(os.Args) {
		return
	}
	os.Exit(m.Run())
}

func options(clock *storetest.Clock) store.Options {
	return store.Options{Now: clock.Now, Machine: "workshop", Verifier: store.VerifyInChild}
}

func open(t testing.TB, folder string) *store.Store {
	t.Helper()
	s, err := store.Open(folder, options(storetest.NewClock()))
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func closeStore(t testing.TB, s *store.Store) {
	t.Helper()
	if err := s.Close(); err != nil {
		t.Error(err)
	}
}

func file(folder string) string { return filepath.Join(folder, "collection.db") }

func good(t testing.TB, path string) {
	t.Helper()
	if r, err := store.VerifyFile(path); err != nil || !r.Good {
		t.Errorf("verify %s: %+v, %v", filepath.Base(path), r, err)
	}
}

func over(t testing.TB, s collection.Store) *collection.Collection {
	t.Helper()
	c, err := collection.New(s, collection.Options{Now: storetest.NewClock().Now})
	if err != nil {
		t.Fatal(err)
	}
	return c
}

var animal = model.ID{1}

// weigh writes an entry with a body that can be told from others.
func weigh(t testing.TB, c *collection.Collection, n int) model.ID {
	t.Helper()
	var id model.ID
	if err := c.View(func(v model.View) error { id = v.NewID(); return nil }); err != nil {
		t.Fatal(err)
	}
	if _, err := c.Do(storetest.Put{Documents: []model.Document{storetest.Entry(id, animal, int64(n), n)}}); err != nil {
		t.Fatal(err)
	}
	return id
}

// filled is the folder of a closed collection with n entries, of which the last
// is undone.
func filled(t testing.TB, n int) string {
	t.Helper()
	folder := t.TempDir()
	s := open(t, folder)
	c := over(t, s)
	for i := range n {
		weigh(t, c, i)
	}
	if _, err := c.Undo(); err != nil {
		t.Fatal(err)
	}
	closeStore(t, s)
	return folder
}

func read(t testing.TB, path string) []byte {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return data
}

func write(t testing.TB, path string, data []byte) {
	t.Helper()
	if err := os.WriteFile(path, data, 0o600); err != nil {
		t.Fatal(err)
	}
}
