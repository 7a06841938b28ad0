package registry_test

import (
	"path/filepath"
	"testing"

	"coilward/model/collection"
	"coilward/model/registry"
	"coilward/model/store"
	"coilward/model/storetest"
)

// Names stand in the journal for ever: none may be given twice, and every
// command has a generator below.
func TestNamesAreUniqueAndAllGenerated(t *testing.T) {
	seen := map[string]bool{}
	all := generators()
	for _, c := range registry.Commands() {
		switch name := c.Name(); {
		case seen[name]:
			t.Errorf("two commands are called %s", name)
		case all[name] == nil:
			t.Errorf("no generator draws a %s", name)
		default:
			seen[name] = true
		}
	}
	if len(all) != len(seen) {
		t.Errorf("%d generators for %d commands", len(all), len(seen))
	}
}

// Names are frozen.
func TestNames(t *testing.T) {
	want := map[string]bool{
		"animals.add": true, "animals.change": true, "animals.status": true, "animals.remove": true,
		"people.add": true, "people.change": true, "people.remove": true,
		"care.weigh": true, "care.feed": true, "care.shed": true, "care.waste": true, "care.note": true, "care.photo": true,
		"care.change": true, "care.remove": true,
		"import.rows":    true,
		"care.mite-look": true, "care.mites-none-seen": true,
		"husbandry.places.add": true, "husbandry.place.change": true, "husbandry.place.move": true, "husbandry.place.remove": true,
		"husbandry.move": true, "husbandry.move-all": true, "husbandry.move-out": true, "husbandry.stay.change": true, "husbandry.stay.remove": true,
		"husbandry.tool.add": true, "husbandry.tool.change": true, "husbandry.tool.remove": true,
		"husbandry.instrument.add": true, "husbandry.instrument.change": true, "husbandry.instrument.remove": true, "husbandry.instrument.check": true,
		"husbandry.clean": true, "husbandry.entry.change": true, "husbandry.entry.remove": true,
		"exam.finish": true, "exam.change": true, "exam.remove": true, "exam.baseline": true, "exam.close": true,
		"due.answer": true, "due.withdraw": true,
		"jot.several":     true,
		"samples.prepare": true, "samples.take": true, "samples.post": true, "samples.arrive": true, "samples.ask": true, "samples.enter": true, "samples.correct": true,
		"samples.give-up": true, "samples.change": true, "samples.remove": true,
	}
	for _, c := range registry.Commands() {
		delete(want, c.Name())
	}
	if len(want) > 0 {
		t.Errorf("no command is called any more: %v", want)
	}
}

func TestUndoRestoresInMemory(t *testing.T) {
	same := func(_ storetest.T, s collection.Store) collection.Store { return s }
	storetest.UndoRestores(t, func(testing.TB) collection.Store { return storetest.Memory() }, same, storetest.NewClock(), generators())
}

func TestUndoRestoresOnDisk(t *testing.T) {
	if testing.Short() {
		t.Skip("writes some thousand times to disk")
	}
	clock := storetest.NewClock()
	o := store.Options{Now: clock.Now, Machine: "workshop", Verifier: store.VerifyHere}
	folders := map[collection.Store]string{}
	start := func(t storetest.T, folder string) collection.Store {
		t.Helper()
		s, err := store.Open(folder, o)
		if err != nil {
			t.Fatal(err)
		}
		folders[s] = folder
		return s
	}
	end := func(t storetest.T, s collection.Store) {
		t.Helper()
		if err := s.(*store.Store).Close(); err != nil {
			t.Fatal(err)
		}
		delete(folders, s)
	}
	reopen := func(t storetest.T, s collection.Store) collection.Store {
		t.Helper()
		folder := folders[s]
		end(t, s)
		return start(t, folder)
	}
	storetest.UndoRestores(t, func(t testing.TB) collection.Store { return start(t, t.TempDir()) }, reopen, clock, generators())
	for s, folder := range folders {
		end(t, s)
		if r, err := store.VerifyFile(filepath.Join(folder, "collection.db")); err != nil || !r.Good {
			t.Errorf("verify: %+v, %v", r, err)
		}
	}
}
