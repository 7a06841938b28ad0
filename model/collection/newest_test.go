package collection_test

import (
	"testing"

	"coilward/model/collection"
	"coilward/model/storetest"
)

// newest is the change that undo would take back; 0: none.
func newest(t *testing.T, c *collection.Collection) uint64 {
	t.Helper()
	e, found, err := c.Newest()
	if err != nil || found != (e.Sequence != 0) {
		t.Fatalf("%+v, %v, %v", e, found, err)
	}
	return e.Sequence
}

// Newest names the change that undo takes back, and one that was done again by its
// first entry, however often it goes to and fro.
func TestNewest(t *testing.T) {
	c, _ := storetest.New(t)
	if s := newest(t, c); s != 0 {
		t.Fatalf("of nothing it is %d", s)
	}
	a := do(t, c, put(storetest.Entry(first, animal, 5, 1))).Sequence
	b := do(t, c, put(storetest.Entry(second, other, 6, 2))).Sequence
	turn := func(act func() (collection.Change, error), want uint64) {
		t.Helper()
		if _, err := act(); err != nil {
			t.Fatal(err)
		}
		if s := newest(t, c); s != want {
			t.Errorf("it is %d, want %d", s, want)
		}
	}
	for range 3 {
		turn(c.Undo, a)
		turn(c.Redo, b)
	}
	turn(c.Undo, a)
	turn(c.Undo, 0)
	turn(c.Redo, a)
	if e, _, _ := c.Newest(); !e.Wrote(first) || e.Wrote(second) {
		t.Errorf("it wrote %+v", e.Steps)
	}
}
