package storetest

import (
	"errors"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"coilward/model"
	"coilward/model/collection"
)

// Generator draws a command that a person could give in the present state, or
// nil where that state allows none. It may look at the collection.
type Generator func(*rapid.T, model.View) model.Command

// Generators are the generators of commands by their names.
type Generators map[string]Generator

// Reopen closes a store and opens it again.
type Reopen func(T, collection.Store) collection.Store

// EachCommand is how often each command must have been carried out before
// UndoRestores is content.
const EachCommand = 50

// UndoRestores does random sequences of commands until each was carried out at
// least EachCommand times, and after each sequence undoes all of it and redoes
// it: undone, the present state is byte for byte what it was before; redone,
// what it was after; control, journal and revisions only grow; and opening the
// store again changes nothing.
func UndoRestores(t *testing.T, store collection.Store, reopen Reopen, clock *Clock, all Generators) {
	done := map[string]int{}
	names := sorted(all)
	fewest := func() string {
		return slices.MinFunc(names, func(a, b string) int { return done[a] - done[b] })
	}
	rounds := 0
	for done[fewest()] < EachCommand {
		if rounds++; rounds > EachCommand*len(all)+100 {
			t.Fatalf("command %s was carried out only %d times: its generator gives none that stands", fewest(), done[fewest()])
		}
		rapid.Check(t, func(rt *rapid.T) {
			store = sequence(rt, store, reopen, clock, all, fewest(), done)
		})
	}
	t.Logf("carried out: %v", done)
	if err := store.View(collection.Check); err != nil {
		t.Error(err)
	}
}

func sorted(all Generators) []string {
	names := make([]string, 0, len(all))
	for name := range all {
		names = append(names, name)
	}
	slices.Sort(names)
	return names
}

func sequence(t *rapid.T, store collection.Store, reopen Reopen, clock *Clock, all Generators, fewest string, done map[string]int) collection.Store {
	c := over(t, store, clock)
	before, grown := PresentState(t, store), Grown(t, store)
	carried := 0
	names := append(sorted(all), fewest, fewest, fewest)
	for range rapid.IntRange(1, 8).Draw(t, "length") {
		name := rapid.SampledFrom(names).Draw(t, "command")
		if step(t, c, Generators{name: all[name]}) {
			carried++
			done[name]++
		}
	}
	after := PresentState(t, store)
	for range carried {
		must(t, c.Undo)
	}
	sameState(t, "undone", PresentState(t, store), before)
	if rapid.Bool().Draw(t, "reopen") {
		everything := Everything(t, store)
		store = reopen(t, store)
		sameState(t, "opened again", Everything(t, store), everything)
		c = over(t, store, clock)
	}
	for range carried {
		must(t, c.Redo)
	}
	sameState(t, "redone", PresentState(t, store), after)
	if !OnlyGrew(grown, Grown(t, store)) {
		t.Fatal("a record of control, journal or revisions was changed or removed")
	}
	return store
}

func over(t *rapid.T, store collection.Store, clock *Clock) *collection.Collection {
	c, err := collection.New(store, collection.Options{Now: clock.Now})
	if err != nil {
		t.Fatal(err)
	}
	return c
}

func must(t *rapid.T, do func() (collection.Change, error)) {
	t.Helper()
	if _, err := do(); err != nil {
		t.Fatal(err)
	}
}

func sameState(t *rapid.T, when, got, want string) {
	t.Helper()
	if got != want {
		t.Fatalf("%s, the state is\n%s\nwant\n%s", when, got, want)
	}
}

// step does one command of a random sort; it reports whether it wrote anything.
// A refusal is fine, any other error is not.
func step(t *rapid.T, c *collection.Collection, all Generators) bool {
	name := rapid.SampledFrom(sorted(all)).Draw(t, "sort")
	var command model.Command
	if err := c.View(func(v model.View) error {
		command = all[name](t, v)
		return nil
	}); err != nil {
		t.Fatal(err)
	}
	if command == nil {
		return false
	}
	if command.Name() != name {
		t.Fatalf("the generator of %s gave a %s", name, command.Name())
	}
	change, err := c.Do(command)
	var refusal *model.Refusal
	if err != nil && !errors.As(err, &refusal) {
		t.Fatalf("%+v: %v", command, err)
	}
	return err == nil && !change.Empty()
}

// undoRedo undoes some changes and redoes them.
func undoRedo(t *rapid.T, c *collection.Collection, s collection.Store) {
	after := PresentState(t, s)
	n := 0
	for range rapid.IntRange(0, 5).Draw(t, "undone") {
		if _, ok := c.CanUndo(); ok {
			must(t, c.Undo)
			n++
		}
	}
	for range n {
		must(t, c.Redo)
	}
	sameState(t, "redone", PresentState(t, s), after)
}
