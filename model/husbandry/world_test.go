package husbandry_test

import (
	"errors"
	"strings"
	"testing"
	"time"

	"coilward/assets"
	"coilward/model"
	"coilward/model/animals"
	"coilward/model/collection"
	"coilward/model/husbandry"
	"coilward/model/knowledge"
	"coilward/model/storetest"
)

// world is a collection in which things are done by name.
type world struct {
	*testing.T
	*collection.Collection
	clock  *storetest.Clock
	tables *knowledge.Tables
}

func begin(t *testing.T) *world {
	t.Helper()
	tables, err := knowledge.Load(assets.Knowledge())
	if err != nil {
		t.Fatal(err)
	}
	c, clock := storetest.New(t)
	return &world{t, c, clock, tables}
}

// do does a command that must be taken.
func (w *world) do(c model.Command) collection.Change {
	w.Helper()
	done, err := w.Do(c)
	if err != nil {
		w.Fatalf("%s: %v", c.Name(), err)
	}
	return done
}

// refuses wants a command to be refused for a reason, "" to be taken, and says
// the refusal.
func (w *world) refuses(name string, c model.Command, want string) *model.Refusal {
	w.Helper()
	_, err := w.Do(c)
	var r *model.Refusal
	got := ""
	switch {
	case errors.As(err, &r):
		got = r.Reason
	case err != nil:
		got = err.Error()
	}
	if got != want {
		w.Errorf("%s: %q, want %q", name, got, want)
	}
	return r
}

// missing wants a command to fail because something is not there.
func (w *world) missing(name string, c model.Command) {
	w.Helper()
	if _, err := w.Do(c); !errors.Is(err, model.ErrNotFound) {
		w.Errorf("%s: %v", name, err)
	}
}

func (w *world) animal(name string) model.AnimalID {
	w.Helper()
	return model.AnimalID{ID: w.do(animals.Add{Animal: animals.Animal{Name: name,
		Hatched: model.Date{Day: model.NewDay(2020, 6, 1), Precision: model.ToMonth},
		Since:   model.Date{Day: model.NewDay(2024, 1, 5), Precision: model.ToDay}}}).Documents[0]}
}

// add adds a place in another (zero: in none).
func (w *world) add(in model.PlaceID, p husbandry.Place) model.PlaceID {
	w.Helper()
	return model.PlaceID{ID: w.do(husbandry.AddPlaces{Parent: in, Branches: []husbandry.Branch{{Place: p}}}).Documents[0]}
}

func (w *world) place(in model.PlaceID, name string, kind husbandry.PlaceKind) model.PlaceID {
	w.Helper()
	return w.add(in, husbandry.Place{Name: name, Kind: kind})
}

func (w *world) house() (h *husbandry.House) {
	w.Helper()
	if err := w.View(func(v model.View) (err error) { h, err = husbandry.ReadHouse(v); return err }); err != nil {
		w.Fatal(err)
	}
	return h
}

func (w *world) stored(id model.PlaceID) husbandry.StoredPlace {
	w.Helper()
	p, ok := w.house().Place(id)
	if !ok {
		w.Fatalf("place %s is not there", id)
	}
	return p
}

// ago is a moment of so many days ago, to the minute.
func ago(days int) model.Moment {
	return model.MomentOf(storetest.Start().Add(-time.Duration(days) * 24 * time.Hour))
}

// dayAgo is that moment, known to the day.
func dayAgo(days int) model.Moment {
	m := ago(days)
	m.Precision = model.ToDay
	return m
}

func onDay(days int) model.Date { return model.Date{Day: ago(days).Day(), Precision: model.ToDay} }

// walk names the places of a house in their order, each indented by what it
// stands in.
func walk(h *husbandry.House) string {
	var names []string
	for _, p := range h.Places() {
		names = append(names, strings.Repeat(".", len(h.Path(p.ID))-1)+p.Name)
	}
	return strings.Join(names, " ")
}
