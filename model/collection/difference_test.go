package collection_test

import (
	"context"
	"slices"
	"testing"
	"time"

	"pgregory.net/rapid"

	"coilward/model"
	"coilward/model/collection"
	"coilward/model/storetest"
)

func collectionOn(t storetest.T, s collection.Store, clock *storetest.Clock) *collection.Collection {
	c, err := collection.New(s, collection.Options{Now: clock.Now})
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// copied is a second store with all that a store holds.
func copied(t storetest.T, s collection.Store) collection.Store {
	twin := storetest.Memory()
	err := s.View(func(r collection.Reader) error {
		return twin.Update(func(w collection.Writer) error {
			for _, b := range collection.Buckets() {
				if err := r.Walk(b, nil, nil, false, func(key, value []byte) bool { return w.Put(b, key, value) == nil }); err != nil {
					return err
				}
			}
			return nil
		})
	})
	if err != nil {
		t.Fatal(err)
	}
	return twin
}

// some does a few commands, undos among them.
func some(t *rapid.T, c *collection.Collection) {
	commands := storetest.Commands()
	names := []string{"test.put", "test.remove", "test.mixed"}
	for range rapid.IntRange(0, 6).Draw(t, "steps") {
		if rapid.IntRange(0, 4).Draw(t, "undo") == 0 {
			_, _ = c.Undo() // there may be nothing to undo
			continue
		}
		var command model.Command
		if err := c.View(func(v model.View) error {
			command = commands[rapid.SampledFrom(names).Draw(t, "command")](t, v)
			return nil
		}); err != nil {
			t.Fatal(err)
		}
		if command == nil {
			continue
		}
		if _, err := c.Do(command); err != nil {
			t.Fatal(err)
		}
	}
}

// bodies are the present documents by id, as far as they can differ.
func bodies(t storetest.T, c *collection.Collection) map[model.ID]model.Document {
	all := map[model.ID]model.Document{}
	var history []model.ID
	if err := c.Journal(0, func(e collection.Entry) bool {
		for _, s := range e.Steps {
			history = append(history, s.ID)
		}
		return true
	}); err != nil {
		t.Fatal(err)
	}
	if err := c.View(func(v model.View) error {
		for _, id := range history {
			if d, err := v.Document(id); err == nil {
				d.Revision, d.Written = 0, model.Moment{}
				all[id] = d
			}
		}
		return nil
	}); err != nil {
		t.Fatal(err)
	}
	return all
}

func alike(a, b model.Document) bool {
	return a.Type == b.Type && a.Kind == b.Kind && a.Version == b.Version && a.At == b.At && a.By == b.By &&
		slices.Equal(a.Subjects, b.Subjects) && string(a.Body) == string(b.Body)
}

func differ(t storetest.T, a, b *collection.Collection) collection.Difference {
	d, err := collection.Differ(context.Background(), a, b)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

// The difference of a state from itself is empty; seen from the other side it is
// mirrored; and what is taken out, put in and changed makes the one state of the
// other.
func TestTheDifferenceOfTwoStates(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		clock := storetest.NewClock()
		store := storetest.Memory()
		a := collectionOn(t, store, clock)
		some(t, a)
		b := collectionOn(t, copied(t, store), clock)
		if d := differ(t, a, b); !d.Empty() {
			t.Fatalf("a copy differs: %+v", d)
		}
		clock.Pass(time.Hour)
		some(t, a)
		some(t, b)
		if d := differ(t, a, a); !d.Empty() {
			t.Fatalf("a state differs from itself: %+v", d)
		}
		d, back := differ(t, a, b), differ(t, b, a)
		if m := d.Mirrored(); !sameDifference(m, back) {
			t.Fatalf("from the other side %+v, want %+v", back, m)
		}
		first, second := bodies(t, a), bodies(t, b)
		if len(first)-len(d.First)+len(d.Second) != len(second) {
			t.Fatalf("%d documents less %d and %d more are not %d", len(first), len(d.First), len(d.Second), len(second))
		}
		for _, gone := range d.First {
			delete(first, gone.ID)
		}
		for _, more := range d.Second {
			first[more.ID] = more
		}
		for _, p := range d.Changed {
			if alike(p.First, p.Second) || !alike(first[p.First.ID], p.First) {
				t.Fatalf("changed: %+v", p)
			}
			first[p.First.ID] = p.Second
		}
		for id, want := range second {
			if !alike(first[id], want) {
				t.Fatalf("%s became %+v, want %+v", id, first[id], want)
			}
		}
	})
}

func sameDifference(a, b collection.Difference) bool {
	same := func(a, b model.Document) bool { return a.ID == b.ID && a.Revision == b.Revision && alike(a, b) }
	return slices.EqualFunc(a.First, b.First, same) && slices.EqualFunc(a.Second, b.Second, same) &&
		slices.EqualFunc(a.Changed, b.Changed, func(a, b collection.Pair) bool { return same(a.First, b.First) && same(a.Second, b.Second) })
}

// Two machines that wrote the same revision of one document differ by what it
// says; what was changed and changed back does not differ.
func TestDifferenceLooksAtWhatIsSaid(t *testing.T) {
	clock := storetest.NewClock()
	store := storetest.Memory()
	a := collectionOn(t, store, clock)
	do(t, a, put(storetest.Entry(first, animal, 5, "a")))
	b := collectionOn(t, copied(t, store), clock)
	do(t, a, put(changed(t, a, first, "here")))
	do(t, b, put(changed(t, b, first, "there")))
	if d := differ(t, a, b); len(d.Changed) != 1 || string(d.Changed[0].First.Body) != `"here"` || string(d.Changed[0].Second.Body) != `"there"` {
		t.Errorf("difference %+v", d)
	}
	do(t, b, put(changed(t, b, first, "here")))
	if d := differ(t, a, b); !d.Empty() {
		t.Errorf("both say the same, but differ: %+v", d)
	}
}
