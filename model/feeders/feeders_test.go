package feeders_test

import (
	"errors"
	"testing"
	"time"

	"pgregory.net/rapid"

	"coilward/assets"
	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/collection"
	"coilward/model/feeders"
	"coilward/model/knowledge"
	"coilward/model/meals"
	"coilward/model/storetest"
)

const day = 24 * time.Hour

func shipped(t testing.TB) *knowledge.Tables {
	t.Helper()
	tables, err := knowledge.Load(assets.Knowledge())
	if err != nil {
		t.Fatal(err)
	}
	return tables
}

type bench struct {
	*testing.T
	*collection.Collection
	clock  *storetest.Clock
	tables *knowledge.Tables
	animal model.AnimalID
	batch  model.BatchID
}

// begin is a collection with one animal and a batch of three rats.
func begin(t *testing.T) bench {
	t.Helper()
	c, clock := storetest.New(t)
	b := bench{T: t, Collection: c, clock: clock, tables: shipped(t)}
	b.animal.ID = b.do(animals.Add{Animal: animals.Animal{Name: "Brook", Status: animals.Kept}})
	b.batch.ID = b.do(feeders.Add{Batch: feeders.Batch{Name: "May", Prey: care.Rat, Each: model.Grams(60), Count: 3, Freezer: "Chest"}})
	return b
}

func (b bench) now() model.Moment { return model.MomentOf(b.clock.Now()) }

func (b bench) do(c model.Command) model.ID {
	b.Helper()
	done, err := b.Do(c)
	if err != nil {
		b.Fatalf("%s: %v", c.Name(), err)
	}
	return done.Documents[0]
}

func (b bench) meal(o care.Outcome, yes ...string) meals.Offer {
	return meals.Offer{Tables: b.tables, About: care.About{Animal: b.animal, At: b.now(), Confirmed: append(yes, meals.AskWaits)}, Meal: care.Meal{Prey: care.Rat, Batch: b.batch, Outcome: o}}
}

func (b bench) thaw(n int) feeders.ThawOut {
	return feeders.ThawOut{Tables: b.tables, Batch: b.batch, Thaw: feeders.Thaw{Count: n}, At: b.now()}
}

func (b bench) standing() (s feeders.Standing) {
	b.Helper()
	if err := b.View(func(v model.View) (err error) {
		s, err = feeders.Of(b.tables, v, b.batch, model.EntryID{})
		return err
	}); err != nil {
		b.Fatal(err)
	}
	return s
}

func (b bench) left(what string, left, thawed int) {
	b.Helper()
	if s := b.standing(); s.Left != left || s.Thawed != thawed {
		b.Errorf("%s: %d left and %d thawed, want %d and %d", what, s.Left, s.Thawed, left, thawed)
	}
}

func reason(err error) string {
	var r *model.Refusal
	if errors.As(err, &r) {
		return r.Reason
	}
	return ""
}

// The count falls by what is thawed and offered, once; undone it rises again; and it
// never falls below nothing.
func TestTheCountFalls(t *testing.T) {
	b := begin(t)
	b.do(b.thaw(2))
	b.left("two thawed", 1, 2)
	b.do(b.meal(care.Took))
	b.left("one of them eaten", 1, 1)
	b.do(b.meal(care.Refused))
	b.left("one refused", 1, 0)
	b.do(b.meal(care.Took))
	b.left("one from the freezer", 0, 0)
	if _, err := b.Do(b.meal(care.Took)); reason(err) != "batch.short" {
		t.Errorf("a fourth of three: %v", err)
	}
	if _, err := b.Do(b.thaw(1)); reason(err) != "batch.short" {
		t.Errorf("a fourth thawed: %v", err)
	}
	if _, err := b.Undo(); err != nil {
		t.Fatal(err)
	}
	b.left("undone", 1, 0)
}

// What was thawed out and is not offered on that day or the next is gone: it is never
// frozen again. Source: common practice, no source.
func TestWhatWasThawedIsNotFrozenAgain(t *testing.T) {
	b := begin(t)
	b.do(b.thaw(1))
	b.clock.Pass(day)
	b.left("on the next day", 2, 1)
	b.clock.Pass(day)
	b.left("two days later", 2, 0)
	b.do(b.meal(care.Took))
	b.left("a meal then", 1, 0)
}

// A freezer that failed puts what lies in it in doubt, and only that; the meal asks.
func TestAFreezerThatFailed(t *testing.T) {
	b := begin(t)
	other := model.BatchID{ID: b.do(feeders.Add{Batch: feeders.Batch{Name: "May", Prey: care.Mouse, Count: 9, Freezer: "Upright"}})}
	fail := feeders.Fail{Tables: b.tables, Failure: feeders.Failure{Freezer: "Chest"}, At: b.now()}
	entry := b.do(fail)
	if s := b.standing(); s.Doubtful != b.now().Day() {
		t.Errorf("not in doubt: %+v", s)
	}
	if _, err := b.Do(b.meal(care.Took)); reason(err) != feeders.AskDoubtful {
		t.Errorf("a meal of it: %v", err)
	}
	b.do(b.meal(care.Took, feeders.AskDoubtful))
	b.batch, other = other, b.batch
	if s := b.standing(); s.Doubtful != 0 {
		t.Errorf("one in another freezer: %+v", s)
	}
	b.batch = other
	b.do(feeders.RemoveEntry{Entry: model.EntryID{ID: entry}})
	if s := b.standing(); s.Doubtful != 0 {
		t.Errorf("taken back: %+v", s)
	}
	fail.Freezer = "Garage"
	if _, err := b.Do(fail); reason(err) != "freezer.empty" {
		t.Errorf("one with nothing in it: %v", err)
	}
}

// Three meals of one batch that came up tell of the batch. Source: assumed.
func TestThreeThatCameUp(t *testing.T) {
	b := begin(t)
	for n := 1; n <= 3; n++ {
		b.do(b.meal(care.Regurgitated))
		if many := b.standing().ManyUp(b.tables); many != (n == 3) {
			t.Errorf("%d came up: %v", n, many)
		}
	}
	b.do(feeders.Change{Tables: b.tables, ID: b.batch, Base: 1, Batch: feeders.Batch{Name: "May", Prey: care.Rat, Count: 9, Freezer: "Chest"}})
	if _, err := b.Do(b.meal(care.Took)); reason(err) != feeders.AskUp {
		t.Errorf("a fourth meal: %v", err)
	}
}

func TestWhatABatchCannotBe(t *testing.T) {
	b := begin(t)
	on := func(days int) model.Date {
		return model.Date{Day: b.now().Day() + model.Day(days), Precision: model.ToDay}
	}
	for name, c := range map[string]struct {
		batch  feeders.Batch
		reason string
	}{
		"without a name":         {feeders.Batch{Name: " ", Prey: care.Rat, Count: 1}, "text.empty"},
		"of no kind":             {feeders.Batch{Name: "May", Count: 1}, "choice.empty"},
		"of a strange kind":      {feeders.Batch{Name: "May", Prey: "wyrm", Count: 1}, "choice.unknown"},
		"of none":                {feeders.Batch{Name: "May", Prey: care.Rat}, "number.range"},
		"of less than none":      {feeders.Batch{Name: "May", Prey: care.Rat, Count: -1}, "number.range"},
		"bought tomorrow":        {feeders.Batch{Name: "May", Prey: care.Rat, Count: 1, Bought: on(1)}, "day.future"},
		"bad before it was here": {feeders.Batch{Name: "May", Prey: care.Rat, Count: 1, Bought: on(0), Best: on(-1)}, "batch.best"},
		"prey of 30 kg":          {feeders.Batch{Name: "May", Prey: care.Rat, Count: 1, Each: model.Mass{Milligrams: care.HeaviestPrey}}, ""},
		"prey heavier than that": {feeders.Batch{Name: "May", Prey: care.Rat, Count: 1, Each: model.Mass{Milligrams: care.HeaviestPrey + 1}}, "prey.heavy"},
		"prey of less than none": {feeders.Batch{Name: "May", Prey: care.Rat, Count: 1, Each: model.Mass{Milligrams: -1}}, "mass.none"},
		"as it should be":        {feeders.Batch{Name: "May", Prey: care.Rat, Count: 1, Bought: on(-3), Frozen: on(-9), Best: on(180)}, ""},
	} {
		if _, err := b.Do(feeders.Add{Batch: c.batch}); reason(err) != c.reason || c.reason == "" && err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
	b.do(b.thaw(2))
	if _, err := b.Do(feeders.Change{Tables: b.tables, ID: b.batch, Base: 1, Batch: feeders.Batch{Name: "May", Prey: care.Rat, Count: 1}}); reason(err) != "batch.used" {
		t.Errorf("fewer than were used: %v", err)
	}
	if _, err := b.Do(feeders.Remove{ID: b.batch}); reason(err) != "batch.kept" {
		t.Errorf("one that was used: %v", err)
	}
}

// Whatever is thawed and offered, what is left and what was used make up the batch, and
// nothing falls below nothing.
func TestNothingFallsBelowNothing(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		b := begin(t)
		for range rapid.IntRange(1, 12).Draw(rt, "acts") {
			b.clock.Pass(time.Duration(rapid.IntRange(1, 40).Draw(rt, "hours")) * time.Hour)
			var c model.Command = b.meal(rapid.SampledFrom(care.Outcomes()).Draw(rt, "outcome"), feeders.AskUp)
			if rapid.Bool().Draw(rt, "thaws") {
				thaw := b.thaw(rapid.IntRange(1, 2).Draw(rt, "count"))
				thaw.Confirmed = model.Confirmed{feeders.AskUp}
				c = thaw
			}
			if _, err := b.Do(c); err != nil && reason(err) != "batch.short" {
				rt.Fatal(err)
			}
			if s := b.standing(); s.Left < 0 || s.Thawed < 0 || s.Left+s.Thawed > s.Count {
				rt.Fatalf("%d left, %d thawed of %d", s.Left, s.Thawed, s.Count)
			}
		}
	})
}

// What comes up by an entry of its own, days after the meal and without a word of where it
// was from, counts for the batch of that meal, and takes nothing more from it.
func TestWhatComesUpLaterIsOfItsBatch(t *testing.T) {
	b := begin(t)
	up := b.meal(care.Regurgitated)
	up.Batch = model.BatchID{}
	for n := 1; n <= 3; n++ {
		b.clock.Pass(20 * day)
		b.do(b.meal(care.Took, meals.AskWaits))
		b.clock.Pass(2 * day)
		up.At = b.now()
		b.do(up)
		if s := b.standing(); len(s.Up) != n || s.Left != 3-n || s.ManyUp(b.tables) != (n == 3) {
			t.Errorf("after %d: %d came up, %d left", n, len(s.Up), s.Left)
		}
	}
	up.At = b.now()
	b.do(up) // nothing was eaten since
	if s := b.standing(); len(s.Up) != 3 {
		t.Errorf("%d came up of three", len(s.Up))
	}
}

// A batch is in doubt until it was looked through; what was thrown away is gone, and no
// more than there is. A freezer that fails later puts the rest in doubt again.
func TestALookEndsTheDoubt(t *testing.T) {
	b := begin(t)
	fail := func() {
		b.do(feeders.Fail{Tables: b.tables, Failure: feeders.Failure{Freezer: "Chest"}, At: b.now()})
		b.clock.Pass(day)
	}
	look := func(thrown int) feeders.LookThrough {
		return feeders.LookThrough{Tables: b.tables, Batch: b.batch, Look: feeders.Look{Thrown: thrown}, At: b.now()}
	}
	fail()
	for thrown, want := range map[int]string{-1: "number.range", 4: "batch.short"} {
		if _, err := b.Do(look(thrown)); reason(err) != want {
			t.Errorf("%d thrown away: %v", thrown, err)
		}
	}
	entry := b.do(look(1))
	if s := b.standing(); s.Doubtful != 0 || s.Left != 2 {
		t.Errorf("looked through: %+v", s)
	}
	b.do(b.meal(care.Took))
	b.clock.Pass(day)
	fail()
	if s := b.standing(); s.Doubtful == 0 {
		t.Error("a second failure is in no doubt")
	}
	b.do(look(0))
	if s := b.standing(); s.Doubtful != 0 || s.Left != 1 {
		t.Errorf("none thrown away: %+v", s)
	}
	b.do(feeders.RemoveEntry{Entry: model.EntryID{ID: entry}})
	if s := b.standing(); s.Left != 2 {
		t.Errorf("the first look taken back: %+v", s)
	}
}
