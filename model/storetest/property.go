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

// renewed is how many changes a store gets before a new one takes its place:
// every round reads the whole store several times.
const renewed = 300

// UndoRestores does random sequences of commands until each was carried out at
// least EachCommand times, and after each sequence undoes all of it and redoes
// it: undone, the present state is byte for byte what it was before; redone,
// what it was after; control, journal and revisions only grow; and opening the
// store again changes nothing. It works on empty stores that open gives.
func UndoRestores(t *testing.T, open func(testing.TB) collection.Store, reopen Reopen, clock *Clock, all Generators) {
	p := &property{reopen: reopen, clock: clock, all: all, names: sorted(all), done: map[string]int{}}
	mostRounds := 2*EachCommand + len(p.names) // the more commands there are, the rarer is each
	if testing.Short() {
		mostRounds *= 5 // rapid draws a fifth of the sequences then
	}
	rounds := 0
	for ; p.done[p.fewest()] < EachCommand; rounds++ {
		if rounds > mostRounds {
			t.Fatalf("command %s was carried out only %d times: its generator gives none that stands; carried out: %v", p.fewest(), p.done[p.fewest()], p.done)
		}
		p.store = open(t)
		rapid.Check(t, p.sequence)
		if err := p.store.View(collection.Check); err != nil {
			t.Error(err)
		}
	}
	t.Logf("carried out in %d rounds: %v", rounds, p.done)
}

type property struct {
	store  collection.Store
	reopen Reopen
	clock  *Clock
	all    Generators
	names  []string
	done   map[string]int
}

func (p *property) fewest() string {
	return slices.MinFunc(p.names, func(a, b string) int { return p.done[a] - p.done[b] })
}

func (p *property) enough(t *rapid.T) bool {
	t.Helper()
	var sequence uint64
	if err := p.store.View(func(r collection.Reader) (err error) {
		sequence, err = collection.Sequence(r)
		return err
	}); err != nil {
		t.Fatal(err)
	}
	return sequence > renewed || p.done[p.fewest()] >= EachCommand
}

func sorted(all Generators) []string {
	names := make([]string, 0, len(all))
	for name := range all {
		names = append(names, name)
	}
	slices.Sort(names)
	return names
}

// sequence is one sequence of commands with its undoing and redoing.
func (p *property) sequence(t *rapid.T) {
	if p.enough(t) {
		return
	}
	c := over(t, p.store, p.clock)
	before, grown := PresentState(t, p.store), Grown(t, p.store)
	carried := p.carryOut(t, c)
	after := PresentState(t, p.store)
	for range carried {
		must(t, c.Undo)
	}
	sameState(t, "undone", PresentState(t, p.store), before)
	if rapid.Bool().Draw(t, "reopen") {
		everything := Everything(t, p.store)
		p.store = p.reopen(t, p.store)
		sameState(t, "opened again", Everything(t, p.store), everything)
		c = over(t, p.store, p.clock)
	}
	for range carried {
		must(t, c.Redo)
	}
	sameState(t, "redone", PresentState(t, p.store), after)
	if !OnlyGrew(grown, Grown(t, p.store)) {
		t.Fatal("a record of control, journal or revisions was changed or removed")
	}
}

// carryOut does some commands, those most often that were done the least: rapid
// prefers what stands first. Where the state allows none of a sort, or refuses it,
// that which was done next to least takes its turn.
func (p *property) carryOut(t *rapid.T, c *collection.Collection) (carried int) {
	names := slices.Clone(p.names)
	for range rapid.IntRange(1, 12).Draw(t, "length") {
		slices.SortStableFunc(names, func(a, b string) int { return p.done[a] - p.done[b] })
		first := rapid.IntRange(0, len(names)-1).Draw(t, "command")
		for _, name := range slices.Concat(names[first:], names[:first]) {
			if step(t, c, Generators{name: p.all[name]}) {
				carried++
				p.done[name]++
				break
			}
		}
	}
	return carried
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
