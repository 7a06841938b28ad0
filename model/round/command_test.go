package round_test

import (
	"errors"
	"slices"
	"testing"
	"time"

	"pgregory.net/rapid"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/collection"
	"coilward/model/round"
	"coilward/model/storetest"
)

// begun is a round of some animals, one to each box.
type begun struct {
	*collection.Collection
	clock *storetest.Clock
	all   []model.AnimalID
	id    model.RoundID
}

func (b *begun) begin(confirmed ...string) error {
	c := round.Begin{Tables: nil, Confirmed: confirmed}
	c.Tables, c.Order = tablesOf, "ill-newcomers"
	for _, a := range b.all {
		c.Stops = append(c.Stops, round.Planned{Animals: []model.AnimalID{a}})
	}
	change, err := b.Do(c)
	if err == nil {
		b.id = model.RoundID{ID: change.Documents[0]}
	}
	return err
}

func (b *begun) look(n int, c round.Class, passed bool) error {
	_, err := b.Do(round.LookInto{Tables: tablesOf, Round: b.id, Look: round.Look{Animals: []model.AnimalID{b.all[n]}, Class: c.String(), Passed: passed}})
	return err
}

func (b *begun) read(t testing.TB) (s round.Stored) {
	t.Helper()
	if err := b.View(func(v model.View) (err error) { s, err = round.Find(v, b.id); return err }); err != nil {
		t.Fatal(err)
	}
	return s
}

func (b *begun) end(t testing.TB) {
	t.Helper()
	if _, err := b.Do(round.End{Round: b.id, Base: b.read(t).Revision}); err != nil {
		t.Fatal(err)
	}
}

var tablesOf = loaded(&testing.T{})

func newBegun(t testing.TB, n int) *begun {
	t.Helper()
	c, clock := storetest.New(t)
	b := &begun{Collection: c, clock: clock}
	for i := range n {
		change, err := c.Do(animals.Add{Animal: animals.Animal{Name: string(rune('A'+i)) + "sh", Species: "python-regius", Status: animals.Kept}})
		if err != nil {
			t.Fatal(err)
		}
		b.all = append(b.all, model.AnimalID{ID: change.Documents[0]})
	}
	return b
}

func reason(err error) string {
	var r *model.Refusal
	if errors.As(err, &r) {
		return r.Reason
	}
	return ""
}

// A round from its begin to its end, left and gone on with, with all that is refused.
func TestRound(t *testing.T) {
	b := newBegun(t, 5)
	want := func(what string, err error, refused string) {
		t.Helper()
		if reason(err) != refused || refused == "" && err != nil {
			t.Errorf("%s: %v, want %q", what, err, refused)
		}
	}
	want("begin", b.begin(), "")
	want("another beside", b.begin(), "round.open")
	want("look at 0", b.look(0, round.Resident, false), "")
	want("0 again", b.look(0, round.Resident, false), "round.looked")
	want("leave 1 out", b.look(1, round.Resident, true), "")
	want("leave 2 out", b.look(2, round.Resident, true), "")
	want("2 after all", b.look(2, round.Resident, false), "")
	b.clock.Pass(20 * time.Minute) // left, and gone on with
	want("look at 3", b.look(3, round.NearPositive, false), "")
	want("back to 1", b.look(1, round.Resident, false), "round.back")
	if looked, passed, left := b.read(t).Count(); looked != 3 || passed != 1 || left != 1 {
		t.Errorf("%d looked at, %d left out, %d left", looked, passed, left)
	}
	b.end(t)
	want("after its end", b.look(4, round.Ill, false), "round.ended")
	want("another on the same day", b.begin(), round.AsksAgain)
	want("with what lies between done", b.begin(round.AsksAgain), "")
	if !b.read(t).Again {
		t.Error("that what lies between was done is not kept")
	}
	want("one that was not there", func() error {
		_, err := b.Do(round.LookInto{Tables: tablesOf, Round: b.id, Look: round.Look{Animals: b.all[:2], Class: "ill"}})
		return err
	}(), "round.not-in")
	b.end(t)
	b.clock.Pass(24 * time.Hour)
	want("on the next day", b.begin(), "")
	if b.read(t).Again {
		t.Error("on the next day it counts as another of the day")
	}
}

// Undone: a look is gone, and the box can be looked at again.
func TestRound_Undo(t *testing.T) {
	b := newBegun(t, 2)
	for _, err := range []error{b.begin(), b.look(0, round.Resident, false), b.look(1, round.Ill, false)} {
		if err != nil {
			t.Fatal(err)
		}
	}
	if _, err := b.Undo(); err != nil {
		t.Fatal(err)
	}
	if looked, _, left := b.read(t).Count(); looked != 1 || left != 1 {
		t.Errorf("%d looked at, %d left", looked, left)
	}
	if err := b.look(1, round.Resident, false); err != nil {
		t.Error(err)
	}
}

// However one tries: what stands of a round never goes back to a cleaner class.
func TestRound_NeverBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := newBegun(quiet{}, 6)
		if err := b.begin(); err != nil {
			t.Fatal(err)
		}
		for range rapid.IntRange(1, 15).Draw(t, "tries") {
			err := b.look(rapid.IntRange(0, 5).Draw(t, "box"), rapid.SampledFrom(round.Classes()).Draw(t, "class"), rapid.Bool().Draw(t, "passed"))
			if err != nil && reason(err) == "" {
				t.Fatal(err)
			}
		}
		o, _ := tablesOf.Round("ill-newcomers")
		rank := 0
		for _, l := range b.read(quiet{}).Looks {
			is := slices.Index(o.Classes, l.Class)
			if !l.Passed && is < rank {
				t.Fatalf("back to %s", l.Class)
			}
			if !l.Passed {
				rank = is
			}
		}
	})
}

// quiet stands for a test where a helper wants one within a property.
type quiet struct{ testing.TB }

func (quiet) Helper()           {}
func (quiet) Fatal(args ...any) { panic(args) }
