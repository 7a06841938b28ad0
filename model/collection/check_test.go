package collection_test

import (
	"errors"
	"testing"

	"coilward/model"
	"coilward/model/collection"
	"coilward/model/storetest"
)

// checked is a store with some history.
func checked(t *testing.T) collection.Store {
	t.Helper()
	s := storetest.Memory()
	c, err := collection.New(s, collection.Options{Now: storetest.NewClock().Now})
	if err != nil {
		t.Fatal(err)
	}
	do(t, c, put(storetest.Entry(first, animal, 5, 1), storetest.Entry(second, animal, 6, 1)))
	do(t, c, put(changed(t, c, first, 2)))
	do(t, c, storetest.Remove{IDs: []model.ID{second}})
	if _, err := c.Undo(); err != nil {
		t.Fatal(err)
	}
	if err := s.View(collection.Check); err != nil {
		t.Fatal(err)
	}
	return s
}

func records(t *testing.T, s collection.Store, b collection.Bucket) (keys, values [][]byte) {
	t.Helper()
	if err := s.View(func(r collection.Reader) error {
		return r.Walk(b, nil, nil, false, func(key, value []byte) bool {
			keys, values = append(keys, key), append(values, value)
			return true
		})
	}); err != nil {
		t.Fatal(err)
	}
	return keys, values
}

func alter(t *testing.T, s collection.Store, change func(collection.Writer) error) {
	t.Helper()
	if err := s.Update(change); err != nil {
		t.Fatal(err)
	}
}

// Each record that is missing, and each that is one too many, is noticed.
func TestCheckFindsEachRecordThatIsMissing(t *testing.T) {
	for _, b := range collection.Buckets() {
		keys, _ := records(t, checked(t), b)
		for _, key := range keys {
			s := checked(t)
			alter(t, s, func(w collection.Writer) error { return w.Delete(b, key) })
			err := s.View(collection.Check)
			if last := b == collection.Journal && key[7] == byte(len(keys)); err == nil && !last {
				t.Errorf("%x of %s is missing, and nobody notices", key, b)
			}
		}
	}
}

func TestCheckFindsWhatIsTooMuchOrWrong(t *testing.T) {
	stray := storetest.Entry(model.ID{77}, animal, 5, 1)
	for what, change := range map[string]func(collection.Writer) error{
		"a head of nothing": func(w collection.Writer) error { return w.Put(collection.Heads, stray.ID[:], []byte("1")) },
		"a row of nothing": func(w collection.Writer) error {
			return w.Put(collection.ByType, []byte("entry\x00abcdefghijklmnop"), []byte("1"))
		},
		"a time of nothing": func(w collection.Writer) error { return w.Put(collection.BySubject, make([]byte, 50), []byte("1")) },
		"an old head":       func(w collection.Writer) error { return w.Put(collection.Heads, first[:], []byte("1")) },
		"a head of no form": func(w collection.Writer) error { return w.Put(collection.Heads, first[:], []byte("x")) },
		"a line of no form": func(w collection.Writer) error {
			return w.Put(collection.Journal, []byte{0, 0, 0, 0, 0, 0, 0, 9}, []byte("{}"))
		},
		"a short key":        func(w collection.Writer) error { return w.Put(collection.Journal, []byte{9}, []byte("{}")) },
		"a revision renamed": func(w collection.Writer) error { return w.Put(collection.Revisions, make([]byte, 20), []byte("{}")) },
	} {
		s := checked(t)
		alter(t, s, change)
		if s.View(collection.Check) == nil {
			t.Errorf("%s: nobody notices", what)
		}
	}
}

func TestRebuild(t *testing.T) {
	s := checked(t)
	want := storetest.Everything(t, s)
	alter(t, s, func(w collection.Writer) error {
		return errors.Join(w.Delete(collection.Heads, first[:]), w.Put(collection.ByType, []byte("stray"), []byte("1")), w.Put(collection.BySubject, []byte("stray"), []byte("1")))
	})
	alter(t, s, collection.Rebuild)
	if storetest.Everything(t, s) != want {
		t.Error("rebuilt, it differs")
	}
}

func TestRebuildNeedsTheRevisions(t *testing.T) {
	s := checked(t)
	keys, _ := records(t, s, collection.Revisions)
	alter(t, s, func(w collection.Writer) error {
		for _, key := range keys {
			if err := w.Delete(collection.Revisions, key); err != nil {
				return err
			}
		}
		return nil
	})
	if err := s.Update(collection.Rebuild); !errors.Is(err, model.ErrNotFound) {
		t.Errorf("rebuild: %v, want ErrNotFound", err)
	}
}

// Errors of the store come through every method.
func TestDamagedRecordsAreErrors(t *testing.T) {
	for _, b := range []collection.Bucket{collection.Journal, collection.Revisions, collection.Heads, collection.BySubject, collection.ByType} {
		s := checked(t)
		keys, _ := records(t, s, b)
		alter(t, s, func(w collection.Writer) error {
			for _, key := range keys {
				if err := w.Put(b, key, []byte(`"x`)); err != nil {
					return err
				}
			}
			return nil
		})
		c, err := collection.New(s, collection.Options{Now: storetest.NewClock().Now})
		if err != nil {
			t.Fatal(err)
		}
		none := func(model.Document) bool { return true }
		errs := map[collection.Bucket]error{
			collection.Journal:   c.Journal(0, func(collection.Entry) bool { return true }),
			collection.Revisions: c.View(func(v model.View) error { _, err := v.Revisions(first); return err }),
			collection.Heads:     c.View(func(v model.View) error { _, err := v.Document(first); return err }),
			collection.ByType:    c.View(func(v model.View) error { return v.All(model.TypeEntry, none) }),
			collection.BySubject: c.View(func(v model.View) error {
				return v.Timeline(model.Subject{Kind: model.SubjectAnimal, ID: animal}, 0, 99, none)
			}),
		}
		if errs[b] == nil {
			t.Errorf("records of %s are damaged, and nobody notices", b)
		}
		if _, err := c.Undo(); err == nil && (b == collection.Journal || b == collection.Heads) {
			t.Errorf("records of %s are damaged, and undo goes on", b)
		}
	}
}
