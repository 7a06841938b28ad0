package rescue_test

import (
	"encoding/binary"
	"slices"
	"strings"
	"sync"
	"testing"

	"pgregory.net/rapid"

	"coilward/assets"
	"coilward/model"
	"coilward/model/knowledge"
	"coilward/model/rescue"
)

var loaded = sync.OnceValues(func() (*knowledge.Tables, error) { return knowledge.Load(assets.Knowledge()) })

func tables(t testing.TB) *knowledge.Tables {
	t.Helper()
	all, err := loaded()
	if err != nil {
		t.Fatal(err)
	}
	return all
}

// large is an adult of which nothing else is to be said.
var large = model.Grams(1500)

func named(name string, walk int, f rescue.Facts) rescue.Animal {
	a := rescue.Animal{Name: name, Walk: walk, Facts: f}
	copy(a.ID.ID[:], name)
	return a
}

// The order of the table: small bodies cool sooner, from memory; the rest is common
// practice, no source.
func TestOrder(t *testing.T) {
	got := rescue.Order(tables(t), []rescue.Animal{
		named("rest in no box", 0, rescue.Facts{Mass: large}),
		named("rest far", 9, rescue.Facts{Mass: large}),
		named("rest near", 1, rescue.Facts{Mass: large}),
		named("fed", 2, rescue.Facts{Mass: large, Fed: true}),
		named("gravid", 3, rescue.Facts{Mass: large, Gravid: true, Fed: true}),
		named("unweighed", 4, rescue.Facts{}),
		named("199 g", 5, rescue.Facts{Mass: model.Grams(199)}),
		named("200 g", 1, rescue.Facts{Mass: model.Grams(200), Fed: true}),
		named("hatchling", 6, rescue.Facts{Mass: model.Grams(65), Hatchling: true}),
		named("unread", 7, rescue.Facts{Unread: true}),
		named("vet", 8, rescue.Facts{Mass: large, Vet: true}),
		named("chilled", 12, rescue.Facts{Mass: large, Chilled: true}),
		named("emergency", 11, rescue.Facts{Mass: large, Emergency: true, Vet: true}),
		named("airway", 9, rescue.Facts{Mass: model.Grams(65), Hatchling: true, Airway: true, Vet: true}),
	})
	var names []string
	for _, turn := range got {
		names = append(names, turn.Name)
	}
	if want := "emergency, airway, chilled, vet, unread, hatchling, 199 g, unweighed, gravid, 200 g, fed, rest near, rest far, rest in no box"; strings.Join(names, ", ") != want {
		t.Errorf("got  %s\nwant %s", strings.Join(names, ", "), want)
	}
	if why := got[1].Why; !slices.Equal(why, []knowledge.RescueID{knowledge.RescueAirway, knowledge.RescueVet, knowledge.RescueHatchling, knowledge.RescueSmall}) {
		t.Errorf("the second comes second because of %v, want all that applies", why)
	}
}

func drawAnimal(t *rapid.T) rescue.Animal {
	a := rescue.Animal{Name: rapid.SampledFrom([]string{"Box 2", "Box 10", "box 2", ""}).Draw(t, "name"), Walk: rapid.IntRange(0, 3).Draw(t, "walk"),
		Facts: rescue.Facts{Emergency: rapid.Bool().Draw(t, "emergency"), Airway: rapid.Bool().Draw(t, "airway"), Chilled: rapid.Bool().Draw(t, "chilled"), Vet: rapid.Bool().Draw(t, "vet"), Unread: rapid.Bool().Draw(t, "unread"), Hatchling: rapid.Bool().Draw(t, "hatchling"),
			Gravid: rapid.Bool().Draw(t, "gravid"), Fed: rapid.Bool().Draw(t, "fed"), Mass: model.Mass{Milligrams: rapid.SampledFrom([]int64{0, 65_000, 199_999, 200_000, 1_500_000}).Draw(t, "mass")}}}
	binary.BigEndian.PutUint64(a.ID.ID[:], rapid.Uint64().Draw(t, "id"))
	return a
}

// Nobody is lost or doubled, everyone has a reason, the order does not depend on how they
// are handed in, and one reason more never puts an animal later.
func TestOrder_IsTotalAndFreeOfTheOrderBefore(t *testing.T) {
	all := tables(t)
	rank := func(id knowledge.RescueID) int {
		return slices.IndexFunc(all.Rescue(), func(c knowledge.Criterion) bool { return c.ID == id })
	}
	rapid.Check(t, func(t *rapid.T) {
		some := rapid.SliceOfNDistinct(rapid.Custom(drawAnimal), 0, 12, func(a rescue.Animal) model.AnimalID { return a.ID }).Draw(t, "animals")
		got := rescue.Order(all, some)
		if len(got) != len(some) {
			t.Fatalf("%d of %d have a turn", len(got), len(some))
		}
		for _, a := range some {
			if !slices.ContainsFunc(got, func(turn rescue.Turn) bool { return turn.Animal == a }) {
				t.Fatalf("%+v has no turn", a)
			}
		}
		for i, turn := range got {
			if len(turn.Why) == 0 || i > 0 && rank(got[i-1].Why[0]) > rank(turn.Why[0]) {
				t.Fatalf("turn %d: %+v after %+v", i, turn, got[max(0, i-1)])
			}
			if turn.Facts.Mass.IsZero() && !turn.Facts.Unread && !slices.Contains(turn.Why, knowledge.RescueUnweighed) {
				t.Fatalf("that its mass is not known is not said: %+v", turn)
			}
		}
		again := rescue.Order(all, rapid.Permutation(some).Draw(t, "shuffled"))
		if !slices.EqualFunc(got, again, func(a, b rescue.Turn) bool { return a.Animal == b.Animal }) {
			t.Fatal("another order was made of the same animals")
		}
		if len(some) == 0 {
			return
		}
		i := rapid.IntRange(0, len(some)-1).Draw(t, "worse")
		at := func(turns []rescue.Turn) int {
			return slices.IndexFunc(turns, func(turn rescue.Turn) bool { return turn.ID == some[i].ID })
		}
		before := at(got)
		worse := slices.Clone(some)
		worse[i].Facts.Airway = true
		if at(rescue.Order(all, worse)) > before {
			t.Fatal("with a sign of the airways it comes later")
		}
	})
}
