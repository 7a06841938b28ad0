package storetest

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"sync"
	"testing"

	"pgregory.net/rapid"

	"coilward/model"
	"coilward/model/collection"
)

// Suite runs what every store must do over stores that open gives, each empty.
func Suite(t *testing.T, open func(testing.TB) collection.Store) {
	cases := map[string]func(*testing.T, collection.Store){
		"a missing key is not found":                     missing,
		"an update that fails changes nothing":           rollsBack,
		"an update that panics changes nothing":          rollsBackPanic,
		"a view keeps the state it began with":           keepsState,
		"an update sees what it wrote":                   seesItself,
		"what is read is the caller's":                   copies,
		"empty keys and values are refused":              refusesEmpty,
		"a walk stops when told to":                      stops,
		"an error of the caller comes back as it is":     givesErrorBack,
		"many goroutines lose nothing":                   manyGoroutines,
		"buckets hold the keys of their own":             separateBuckets,
		"walks give what a sorted list would give":       walksLikeList,
		"revisions, undo and timelines of a collection":  collectionOnTop,
		"keys of any bytes and values of any size stand": anyBytes,
	}
	for name, run := range cases {
		t.Run(name, func(t *testing.T) { run(t, open(t)) })
	}
}

const bucket = collection.Journal

func put(t testing.TB, s collection.Store, b collection.Bucket, pairs ...string) {
	t.Helper()
	err := s.Update(func(w collection.Writer) error {
		for i := 0; i < len(pairs); i += 2 {
			if err := w.Put(b, []byte(pairs[i]), []byte(pairs[i+1])); err != nil {
				return err
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
}

func get(t testing.TB, s collection.Store, b collection.Bucket, key string) (value string) {
	t.Helper()
	err := s.View(func(r collection.Reader) error {
		v, err := r.Get(b, []byte(key))
		if errors.Is(err, model.ErrNotFound) {
			err = nil
		}
		value = string(v)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return value
}

func missing(t *testing.T, s collection.Store) {
	for _, fill := range []string{"", "b"} {
		if fill != "" {
			put(t, s, bucket, fill, `1`)
		}
		err := s.View(func(r collection.Reader) error {
			_, err := r.Get(bucket, []byte("a"))
			return err
		})
		if !errors.Is(err, model.ErrNotFound) {
			t.Errorf("Get of a missing key: %v, want ErrNotFound", err)
		}
	}
}

func rollsBack(t *testing.T, s collection.Store) {
	put(t, s, bucket, "a", `1`, "b", `2`)
	before := Everything(t, s)
	want := errors.New("no")
	err := s.Update(func(w collection.Writer) error {
		return errors.Join(w.Put(bucket, []byte("a"), []byte(`9`)), w.Delete(bucket, []byte("b")), w.Put(collection.Heads, []byte("n"), []byte(`1`)), want)
	})
	if !errors.Is(err, want) || Everything(t, s) != before {
		t.Errorf("after an update that failed with %v the store holds\n%s\nwant\n%s", err, Everything(t, s), before)
	}
}

func rollsBackPanic(t *testing.T, s collection.Store) {
	put(t, s, bucket, "a", `1`)
	before := Everything(t, s)
	func() {
		defer func() {
			if p := recover(); p != "stop" {
				t.Errorf("the caller's panic became %v", p)
			}
		}()
		t.Errorf("an update that panics returned: %v", s.Update(func(w collection.Writer) error {
			if err := w.Put(bucket, []byte("a"), []byte(`2`)); err != nil {
				t.Error(err)
			}
			panic("stop")
		}))
	}()
	if Everything(t, s) != before {
		t.Error("an update that panicked was kept")
	}
	put(t, s, bucket, "b", `1`) // the store is still usable
}

func keepsState(t *testing.T, s collection.Store) {
	put(t, s, bucket, "a", `1`)
	err := s.View(func(r collection.Reader) error {
		done := make(chan struct{})
		go func() {
			defer close(done)
			put(t, s, bucket, "a", `2`, "b", `2`)
		}()
		<-done
		if v, err := r.Get(bucket, []byte("a")); err != nil || string(v) != `1` {
			t.Errorf("the view reads %q, %v after an update, want 1", v, err)
		}
		if _, err := r.Get(bucket, []byte("b")); !errors.Is(err, model.ErrNotFound) {
			t.Errorf("the view finds a key written after it began: %v", err)
		}
		return nil
	})
	if err != nil || get(t, s, bucket, "a") != `2` {
		t.Errorf("after the view: %q, %v", get(t, s, bucket, "a"), err)
	}
}

func seesItself(t *testing.T, s collection.Store) {
	put(t, s, bucket, "a", `1`, "b", `1`)
	err := s.Update(func(w collection.Writer) error {
		if err := errors.Join(w.Put(bucket, []byte("c"), []byte(`3`)), w.Delete(bucket, []byte("a"))); err != nil {
			return err
		}
		if got := strings.Join(keys(t, w, "", "", false), " "); got != "b c" {
			t.Errorf("the update sees %q, want b c", got)
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
}

func copies(t *testing.T, s collection.Store) {
	put(t, s, bucket, "a", `"one"`)
	err := s.Update(func(w collection.Writer) error {
		key, value := []byte("z"), []byte(`"two"`)
		if err := w.Put(bucket, key, value); err != nil {
			return err
		}
		key[0], value[0] = 'y', 'x'
		got, err := w.Get(bucket, []byte("a"))
		if err != nil {
			return err
		}
		got[0] = 'x'
		return w.Walk(bucket, nil, nil, false, func(key, value []byte) bool {
			key[0], value[0] = 'x', 'x'
			return true
		})
	})
	if err != nil {
		t.Fatal(err)
	}
	if a, z := get(t, s, bucket, "a"), get(t, s, bucket, "z"); a != `"one"` || z != `"two"` {
		t.Errorf("changing what was read or given changed the store: %s %s", a, z)
	}
}

func refusesEmpty(t *testing.T, s collection.Store) {
	for _, pair := range [][2]string{{"", `1`}, {"a", ""}, {"", ""}} {
		err := s.Update(func(w collection.Writer) error { return w.Put(bucket, []byte(pair[0]), []byte(pair[1])) })
		if err == nil {
			t.Errorf("Put(%q, %q) was accepted", pair[0], pair[1])
		}
	}
}

func stops(t *testing.T, s collection.Store) {
	put(t, s, bucket, "a", `1`, "b", `1`, "c", `1`)
	for _, backwards := range []bool{false, true} {
		n := 0
		err := s.View(func(r collection.Reader) error {
			return r.Walk(bucket, nil, nil, backwards, func(_, _ []byte) bool { n++; return n < 2 })
		})
		if n != 2 || err != nil {
			t.Errorf("walk (backwards %t) visited %d keys, want 2: %v", backwards, n, err)
		}
	}
}

func givesErrorBack(t *testing.T, s collection.Store) {
	want := &model.Refusal{Field: "mass", Reason: "mass.zero"}
	var got *model.Refusal
	if err := s.View(func(collection.Reader) error { return want }); !errors.As(err, &got) || got != want {
		t.Errorf("a view gave %v", err)
	}
	if err := s.Update(func(collection.Writer) error { return want }); !errors.As(err, &got) || got != want {
		t.Errorf("an update gave %v", err)
	}
}

func manyGoroutines(t *testing.T, s collection.Store) {
	var group sync.WaitGroup
	for g := range 8 {
		group.Go(func() {
			for i := range 10 {
				put(t, s, bucket, fmt.Sprintf("%d-%d", g, i), `1`)
				get(t, s, bucket, "0-0")
			}
		})
	}
	group.Wait()
	if n := strings.Count(Everything(t, s), string(bucket)+" "); n != 80 {
		t.Errorf("%d keys are there, want 80", n)
	}
}

func separateBuckets(t *testing.T, s collection.Store) {
	for i, b := range collection.Buckets() {
		put(t, s, b, "k", fmt.Sprint(i+1))
	}
	for i, b := range collection.Buckets() {
		if got := get(t, s, b, "k"); got != fmt.Sprint(i+1) {
			t.Errorf("bucket %s holds %s, want %d", b, got, i+1)
		}
	}
}

func anyBytes(t *testing.T, s collection.Store) {
	long := strings.Repeat(`"x`, 50_000)
	put(t, s, bucket, "\x00", `1`, "\xff\xff", `2`, "__storm_metadatb", `3`, strings.Repeat("k", 200), long)
	if get(t, s, bucket, "\x00") != `1` || get(t, s, bucket, "\xff\xff") != `2` || get(t, s, bucket, strings.Repeat("k", 200)) != long {
		t.Error("a key or value came back changed")
	}
}

func keys(t testing.TB, r collection.Reader, from, to string, backwards bool) (all []string) {
	t.Helper()
	var end []byte
	if to != "" {
		end = []byte(to)
	}
	if err := r.Walk(bucket, []byte(from), end, backwards, func(key, _ []byte) bool {
		all = append(all, string(key))
		return true
	}); err != nil {
		t.Fatal(err)
	}
	return all
}

// walksLikeList compares walks over random keys with a sorted list.
func walksLikeList(t *testing.T, s collection.Store) {
	key := rapid.StringMatching(`[a_~\x00]{1,4}`)
	present := map[string]bool{}
	rapid.Check(t, func(rt *rapid.T) {
		k := key.Draw(rt, "key")
		err := s.Update(func(w collection.Writer) error {
			if present[k] = rapid.Bool().Draw(rt, "put"); present[k] {
				return w.Put(bucket, []byte(k), []byte(`1`))
			}
			delete(present, k)
			return w.Delete(bucket, []byte(k))
		})
		if err != nil {
			rt.Fatal(err)
		}
		from, to := key.Draw(rt, "from"), rapid.OneOf(key, rapid.Just("")).Draw(rt, "to")
		compareWalk(rt, s, present, from, to, rapid.Bool().Draw(rt, "backwards"))
	})
}

func compareWalk(t *rapid.T, s collection.Store, present map[string]bool, from, to string, backwards bool) {
	var want []string
	for k := range present {
		if k >= from && (to == "" || k < to) {
			want = append(want, k)
		}
	}
	slices.Sort(want)
	if backwards {
		slices.Reverse(want)
	}
	var got []string
	err := s.View(func(r collection.Reader) error {
		var end []byte
		if to != "" {
			end = []byte(to)
		}
		return r.Walk(bucket, []byte(from), end, backwards, func(k, _ []byte) bool {
			got = append(got, string(k))
			return true
		})
	})
	if err != nil || !slices.Equal(got, want) {
		t.Fatalf("walk from %q to %q backwards %t gave %q, %v, want %q", from, to, backwards, got, err, want)
	}
}

// collectionOnTop runs random commands of every sort, their undo and redo.
func collectionOnTop(t *testing.T, s collection.Store) {
	clock := NewClock()
	c, err := collection.New(s, collection.Options{Now: clock.Now})
	if err != nil {
		t.Fatal(err)
	}
	rapid.Check(t, func(rt *rapid.T) {
		for range rapid.IntRange(1, 5).Draw(rt, "commands") {
			step(rt, c, Commands())
		}
		undoRedo(rt, c, s)
	})
	if err := s.View(collection.Check); err != nil {
		t.Error(err)
	}
}
