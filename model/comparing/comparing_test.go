package comparing_test

import (
	"context"
	"errors"
	"slices"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"coilward/assets"
	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/collection"
	"coilward/model/comparing"
	"coilward/model/knowledge"
	"coilward/model/people"
	"coilward/model/quarantine"
	"coilward/model/storetest"
)

const photo = model.PhotoID("aa00aa00aa00aa00aa00aa00aa00aa00aa00aa00aa00aa00aa00aa00aa00aa00")

func do(t storetest.T, c *collection.Collection, command model.Command) model.ID {
	change, err := c.Do(command)
	if err != nil {
		t.Fatal(err)
	}
	return change.Documents[0]
}

// twin is another collection with the same beginning.
func twin(t storetest.T, from collection.Store, clock *storetest.Clock) *collection.Collection {
	to := storetest.Memory()
	err := from.View(func(r collection.Reader) error {
		return to.Update(func(w collection.Writer) error {
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
	return over(t, to, clock)
}

func over(t storetest.T, s collection.Store, clock *storetest.Clock) *collection.Collection {
	c, err := collection.New(s, collection.Options{Now: clock.Now})
	if err != nil {
		t.Fatal(err)
	}
	return c
}

func add(t storetest.T, c *collection.Collection, name string) model.AnimalID {
	return model.AnimalID{ID: do(t, c, animals.Add{Animal: animals.Animal{Name: name, Species: "python-regius", Status: animals.Kept}})}
}

func note(t storetest.T, c *collection.Collection, a model.AnimalID, at time.Time, photos ...model.PhotoID) model.ID {
	return do(t, c, care.WriteNote{About: care.About{Animal: a, At: model.MomentOf(at)}, Note: care.Note{Text: "seen", Photos: photos}})
}

func compare(t storetest.T, now, then *collection.Collection) comparing.Summary {
	s, err := comparing.Compare(context.Background(), now, then, func(id model.PhotoID) bool { return id != photo })
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func TestWhatDiffersIsNamed(t *testing.T) {
	clock, store := storetest.NewClock(), storetest.Memory()
	now := over(t, store, clock)
	kestrel := add(t, now, "Kestrel")
	old := note(t, now, kestrel, clock.Now(), photo)
	then := twin(t, store, clock)
	clock.Pass(time.Hour)
	brook := add(t, now, "Brook")
	note(t, now, kestrel, clock.Now())
	note(t, now, brook, clock.Now())
	do(t, now, care.Remove{Entry: model.EntryID{ID: old}})
	do(t, now, people.Add{Person: people.Person{Name: "Wren Alder"}})
	s := compare(t, now, then)
	if s.Now != (comparing.Side{Animals: 2, Entries: 2}) || s.Then != (comparing.Side{Animals: 1, Entries: 1}) {
		t.Errorf("sides %+v, %+v", s.Now, s.Then)
	}
	var said []string
	for _, l := range s.Lines {
		said = append(said, strings.Join(append([]string{string(l.Type), l.Kind, []string{"gone", "back", "changed"}[l.Way]}, l.Names...), " "))
	}
	want := []string{"animal  gone Brook", "person  gone Wren Alder", "entry note gone Brook", "entry note gone Kestrel", "entry note back Kestrel"}
	if !slices.Equal(said, want) {
		t.Errorf("lines\n%q, want\n%q", said, want)
	}
	if len(s.Counts) != 3 || s.Counts[2] != (comparing.Count{Type: model.TypeEntry, Kind: "note", Gone: 2, Back: 1}) {
		t.Errorf("counts %+v", s.Counts)
	}
	if !slices.Equal(s.Missing, []model.PhotoID{photo}) {
		t.Errorf("missing photos %v", s.Missing)
	}
	if same := compare(t, then, then); !same.Same() || len(same.Counts) != 0 {
		t.Errorf("a state differs from itself: %+v", same)
	}
}

// stopping is a context that is done once it was looked at a number of times.
type stopping struct {
	context.Context
	left int
}

func (s *stopping) Err() error {
	if s.left--; s.left < 0 {
		return context.Canceled
	}
	return nil
}

// However far it is, it stops at the next document.
func TestComparingCanBeStoppedAtEachDocument(t *testing.T) {
	clock, store := storetest.NewClock(), storetest.Memory()
	now := over(t, store, clock)
	kestrel := add(t, now, "Kestrel")
	then := twin(t, store, clock)
	add(t, now, "Brook")
	note(t, then, kestrel, clock.Now(), photo)
	kept := func(model.PhotoID) bool { return false }
	whole := &stopping{Context: t.Context(), left: 1000}
	if _, err := comparing.Compare(whole, now, then, kept); err != nil {
		t.Fatal(err)
	}
	looks := 1000 - whole.left
	if looks < 10 { // two states of two documents, names of both, and the photos
		t.Errorf("it looked %d times whether it is to stop", looks)
	}
	for n := range looks {
		if s, err := comparing.Compare(&stopping{Context: t.Context(), left: n}, now, then, kept); !errors.Is(err, context.Canceled) || len(s.Lines) != 0 {
			t.Errorf("stopped after %d looks: %+v, %v", n, s, err)
		}
	}
}

func TestKindsHaveTheirText(t *testing.T) {
	has := func(key string) bool { return key == "kind.meal" || key == "keeping.type.animal" }
	for _, c := range []struct {
		kind model.DocumentType
		of   string
		want string
	}{{model.TypeEntry, "meal", "kind.meal"}, {model.TypeEntry, "from-a-newer-version", "keeping.type.entry"}, {model.TypeAnimal, "", "keeping.type.animal"}, {"newer", "", "keeping.type.entry"}} {
		if got := comparing.Key(c.kind, c.of, has); got != c.want {
			t.Errorf("%s %s: %s, want %s", c.kind, c.of, got, c.want)
		}
	}
}

// What is gone one way comes back the other; the counts are those of the lines, and
// lead from the one number of animals and entries to the other.
func TestTheCountsAddUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		clock, store := storetest.NewClock(), storetest.Memory()
		now := over(t, store, clock)
		live(t, now, clock)
		then := twin(t, store, clock)
		live(t, now, clock)
		live(t, then, clock)
		s, back := compare(t, now, then), compare(t, then, now)
		sums := map[model.DocumentType][3]int{}
		lines := 0
		for i, c := range s.Counts {
			other := back.Counts[i]
			if other != (comparing.Count{Type: c.Type, Kind: c.Kind, Gone: c.Back, Back: c.Gone, Changed: c.Changed}) {
				t.Fatalf("one way %+v, the other %+v", c, other)
			}
			sum := sums[c.Type]
			sums[c.Type] = [3]int{sum[0] + c.Gone, sum[1] + c.Back, sum[2] + c.Changed}
			lines += c.Gone + c.Back + c.Changed
		}
		animal, entry := sums[model.TypeAnimal], sums[model.TypeEntry]
		if s.Now.Animals-animal[0]+animal[1] != s.Then.Animals || s.Now.Entries-entry[0]+entry[1] != s.Then.Entries {
			t.Fatalf("%+v by %v and %v is not %+v", s.Now, animal, entry, s.Then)
		}
		if lines != len(s.Lines) || s.Same() != (lines == 0) {
			t.Fatalf("%d lines, counted %d", len(s.Lines), lines)
		}
	})
}

// live does some days of keeping.
func live(t *rapid.T, c *collection.Collection, clock *storetest.Clock) {
	for i := range rapid.IntRange(0, 5).Draw(t, "days") {
		clock.Pass(24 * time.Hour)
		var all []animals.Stored
		var entries []model.ID
		if err := c.View(func(v model.View) (err error) {
			all, err = animals.All(v)
			if err != nil {
				return err
			}
			return v.All(model.TypeEntry, func(d model.Document) bool { entries = append(entries, d.ID); return true })
		}); err != nil {
			t.Fatal(err)
		}
		switch act := rapid.IntRange(0, 3).Draw(t, "act"); {
		case act == 0 || len(all) == 0:
			add(t, c, "Kestrel "+strings.Repeat("I", i+1)+rapid.StringMatching("[a-z]{6}").Draw(t, "name"))
		case act == 1 && len(entries) > 0:
			do(t, c, care.Remove{Entry: model.EntryID{ID: rapid.SampledFrom(entries).Draw(t, "entry")}})
		case act == 2:
			a := rapid.SampledFrom(all).Draw(t, "animal")
			changed := a.Animal
			changed.Note = rapid.StringMatching("[a-z]{3}").Draw(t, "note")
			if _, err := c.Do(animals.Change{ID: a.ID, Base: a.Revision, Animal: changed}); err != nil {
				t.Fatal(err)
			}
		default:
			note(t, c, rapid.SampledFrom(all).Draw(t, "animal").ID, clock.Now())
		}
	}
}

// A quarantine is called by its animal, the keeper's own protocol by its name.
func TestQuarantinesAreNamed(t *testing.T) {
	tables, err := knowledge.Load(assets.Knowledge())
	if err != nil {
		t.Fatal(err)
	}
	clock, store := storetest.NewClock(), storetest.Memory()
	now := over(t, store, clock)
	kestrel := add(t, now, "Kestrel")
	then := twin(t, store, clock)
	clock.Pass(time.Hour)
	do(t, now, quarantine.Begin{Tables: tables, Animal: kestrel, Arrived: model.MomentOf(clock.Now()), Protocol: "python"})
	do(t, now, quarantine.ChangeProtocol{Tables: tables, Own: quarantine.Own{Name: "For imports", Protocol: tables.Protocols()[0]}})
	named := map[model.DocumentType]string{}
	for _, l := range compare(t, now, then).Lines {
		named[l.Type] = strings.Join(l.Names, " ")
	}
	if named[model.TypeQuarantine] != "Kestrel" || named[model.TypeProtocol] != "For imports" || len(named) != 2 {
		t.Errorf("named: %v", named)
	}
}
