package feeders_test

import (
	"encoding/json"
	"errors"
	"testing"

	"coilward/model"
	"coilward/model/care"
	"coilward/model/feeders"
)

func (b bench) add(name string, count int, best model.Day) model.BatchID {
	b.Helper()
	batch := feeders.Batch{Name: name, Prey: care.Rat, Count: count, Freezer: "Chest"}
	if best != 0 {
		batch.Best = model.Date{Day: best, Precision: model.ToDay}
	}
	return model.BatchID{ID: b.do(feeders.Add{Batch: batch})}
}

// The most that is taken is taken, and one more is not: of a batch, a thawing and a look.
// A batch frozen, bought and best on this day stands; one frozen tomorrow does not.
func TestTheMostIsTaken(t *testing.T) {
	const most = feeders.MaxCount
	today := model.Day(20_000)
	on := func(d model.Day) model.Date { return model.Date{Day: d, Precision: model.ToDay} }
	batch := func(change func(*feeders.Batch)) *model.Refusal {
		b := feeders.Batch{Name: "May", Prey: care.Rat, Count: 1}
		change(&b)
		return b.Check(today)
	}
	for name, c := range map[string]struct {
		said          *model.Refusal
		field, reason string
	}{
		"a batch of the most":                    {batch(func(b *feeders.Batch) { b.Count = most }), "", ""},
		"a batch of more":                        {batch(func(b *feeders.Batch) { b.Count = most + 1 }), "batch-count", "number.range"},
		"a batch of a strange size":              {batch(func(b *feeders.Batch) { b.Size = "vast" }), "prey-size", "choice.unknown"},
		"frozen today":                           {batch(func(b *feeders.Batch) { b.Frozen = on(today) }), "", ""},
		"frozen tomorrow":                        {batch(func(b *feeders.Batch) { b.Frozen = on(today + 1) }), "frozen", "day.future"},
		"bought today":                           {batch(func(b *feeders.Batch) { b.Bought = on(today) }), "", ""},
		"best before it was bought, on that day": {batch(func(b *feeders.Batch) { b.Bought, b.Best = on(today), on(today) }), "", ""},
		"best before it was frozen":              {batch(func(b *feeders.Batch) { b.Frozen, b.Best = on(today), on(today-1) }), "best-before", "batch.best"},
		"the most thawed":                        {feeders.Thaw{Count: most}.Check(), "", ""},
		"more thawed":                            {feeders.Thaw{Count: most + 1}.Check(), "thaw-count", "number.range"},
		"none thawed":                            {feeders.Thaw{}.Check(), "thaw-count", "number.range"},
		"the most thrown away":                   {feeders.Look{Thrown: most}.Check(), "", ""},
		"more thrown away":                       {feeders.Look{Thrown: most + 1}.Check(), "thrown-count", "number.range"},
		"a freezer without a name":               {feeders.Failure{}.Check(), "freezer", "text.empty"},
	} {
		field, reason := "", ""
		if c.said != nil {
			field, reason = c.said.Field, c.said.Reason
		}
		if field != c.field || reason != c.reason {
			t.Errorf("%s: %q of %q, want %q of %q", name, reason, field, c.reason, c.field)
		}
	}
}

// A batch is best before a day: on the day before it is offered, from that day on a meal
// and a thawing of it ask.
func TestPastTheDayBeforeWhichItIsBest(t *testing.T) {
	b := begin(t)
	best := b.now().Day() + 1
	b.batch = b.add("June", 9, best)
	if b.standing().Over(best - 1) {
		t.Error("over on the day before")
	}
	b.do(b.thaw(1))
	b.clock.Pass(day)
	for name, c := range map[string]model.Command{"a meal": b.meal(care.Took), "a thawing": b.thaw(1)} {
		if _, err := b.Do(c); reason(err) != feeders.AskOver {
			t.Errorf("%s on the day: %v", name, err)
		}
	}
	b.do(b.meal(care.Took, feeders.AskOver))
	b.batch = b.add("July", 9, 0)
	if b.standing().Over(best + 10_000) {
		t.Error("over without a day")
	}
}

// What was thawed out feeds on the next day too, and not before it was thawed out.
// Source of the day: common practice, no source.
func TestAMealOfTheNextDayIsOfWhatWasThawed(t *testing.T) {
	b := begin(t)
	thaw := b.thaw(1)
	early := b.meal(care.Took)
	early.About.At = b.now()
	b.clock.Pass(day)
	thaw.At = b.now()
	b.do(thaw)
	b.do(early)
	b.left("a meal of the day before", 1, 1)
	b.clock.Pass(day)
	b.do(b.meal(care.Refused))
	b.left("a meal on the next day", 1, 0)
}

// A meal that comes up within the eight days of digestion is of the batch of that meal and
// takes nothing more; one after them is prey of its own. Source of the days: Ott and Secor
// 2007 J Exp Biol 210:340 (seen, abstract).
func TestWhatComesUpWithinEightDays(t *testing.T) {
	tables := shipped(t)
	ate := model.Moment{UTC: 20_000 * 86_400}
	use := func(n byte, days int64, o care.Outcome) feeders.Use {
		return feeders.Use{Entry: model.EntryID{ID: model.ID{n}}, At: model.Moment{UTC: ate.UTC + days*86_400}, Animal: model.AnimalID{ID: model.ID{1}}, Meal: &care.Meal{Outcome: o}}
	}
	for days, left := range map[int64]int{0: 8, 1: 8, 8: 8, 9: 7} {
		s := feeders.Stand(tables, feeders.Stored{Batch: feeders.Batch{Count: 9}}, []feeders.Use{use(1, 0, care.Took), use(2, days, care.Regurgitated)}, ate.Day()+20)
		if s.Left != left || len(s.Up) != 1 {
			t.Errorf("after %d days: %d left, want %d; %d came up", days, s.Left, left, len(s.Up))
		}
	}
}

// A failure asks of the meals of its day and of later ones; a meal of before, which is
// noted afterwards, is in no doubt.
func TestAMealOfBeforeTheFailureIsInNoDoubt(t *testing.T) {
	b := begin(t)
	before := b.meal(care.Took)
	b.clock.Pass(day)
	b.do(feeders.Fail{Tables: b.tables, Failure: feeders.Failure{Freezer: "Chest"}, At: b.now()})
	b.do(before)
	if _, err := b.Do(b.meal(care.Took)); reason(err) != feeders.AskDoubtful {
		t.Errorf("a meal of the day: %v", err)
	}
}

// A freezer that failed touches what lies in it: a batch that is used up is left alone.
func TestAFailureLeavesWhatIsUsedUpAlone(t *testing.T) {
	b := begin(t)
	b.do(b.thaw(3))
	fail := feeders.Fail{Tables: b.tables, Failure: feeders.Failure{Freezer: "Chest"}, At: b.now()}
	if _, err := b.Do(fail); reason(err) != "freezer.empty" {
		t.Errorf("with nothing in it: %v", err)
	}
	b.add("June", 1, 0)
	b.do(fail)
	if s := b.standing(); s.Doubtful != 0 {
		t.Errorf("used up and in doubt: %+v", s)
	}
}

// A batch may be put right down to what was used of it; one of none is refused as such,
// and not for what was used.
func TestABatchIsPutRightDownToWhatWasUsed(t *testing.T) {
	b := begin(t)
	b.do(b.thaw(2))
	change := func(count int) feeders.Change {
		return feeders.Change{Tables: b.tables, ID: b.batch, Base: 1, Batch: feeders.Batch{Name: "May", Prey: care.Rat, Count: count, Freezer: "Chest"}}
	}
	for count, want := range map[int]string{0: "number.range", -1: "number.range", 1: "batch.used"} {
		if _, err := b.Do(change(count)); reason(err) != want {
			t.Errorf("%d: %v, want %s", count, err, want)
		}
	}
	b.do(change(2))
	b.left("as many as were used", 0, 2)
}

// What was noted by mistake is taken out, and so is a batch of which nothing was used;
// what is not of the stock stays, and so does a batch that is not one.
func TestWhatWasNotedByMistakeIsTakenOut(t *testing.T) {
	b := begin(t)
	thaw := b.do(b.thaw(2))
	b.do(feeders.RemoveEntry{Entry: model.EntryID{ID: thaw}})
	b.left("the thawing taken out", 3, 0)
	meal := b.do(b.meal(care.Took))
	for name, id := range map[string]model.ID{"a meal": meal, "an animal": b.animal.ID, "a batch": b.batch.ID} {
		if _, err := b.Do(feeders.RemoveEntry{Entry: model.EntryID{ID: id}}); err == nil {
			t.Errorf("%s was taken out as an entry of the stock", name)
		}
	}
	unused := b.add("June", 4, 0)
	b.do(feeders.Remove{ID: unused})
	gone := b.thaw(1)
	for name, id := range map[string]model.ID{"a batch that was taken out": unused.ID, "an animal": b.animal.ID} {
		gone.Batch = model.BatchID{ID: id}
		if _, err := b.Do(gone); reason(err) != "batch.gone" {
			t.Errorf("a thawing of %s: %v", name, err)
		}
	}
}

// A thawing, a failure and a look have a day that is not ahead; a clock that goes a minute
// fast is no reason to refuse one.
func TestNothingIsNotedAhead(t *testing.T) {
	b := begin(t)
	now := b.now()
	for name, c := range map[string]struct {
		at   model.Moment
		want string
	}{
		"no day":           {model.Moment{}, "day.empty"},
		"a minute ahead":   {model.Moment{UTC: now.UTC + 60, Zone: now.Zone, Precision: model.ToMinute}, ""},
		"two minutes":      {model.Moment{UTC: now.UTC + 120, Zone: now.Zone, Precision: model.ToMinute}, "day.future"},
		"today, no hour":   {model.MomentOn(now, now.Day(), 0, model.ToDay), ""},
		"tomorrow":         {model.MomentOn(now, now.Day()+1, 0, model.ToDay), "day.future"},
		"this evening yet": {model.MomentOn(now, now.Day(), 20*60, model.ToMinute), "day.future"},
	} {
		look := feeders.LookThrough{Tables: b.tables, Batch: b.batch, At: c.at}
		if _, err := b.Do(look); reason(err) != c.want || c.want == "" && err != nil {
			t.Errorf("%s: %v, want %q", name, err, c.want)
		}
	}
}

// Batches come with those first of which something is left or thawed out, and of these
// the one that is best before the earliest day; one without a day comes after them.
func TestAll_TheOneToUseFirst(t *testing.T) {
	b := begin(t)
	today := b.now().Day()
	empty := b.add("empty", 1, today+1)
	b.add("autumn", 2, today+90)
	thawed := b.add("summer", 1, today+30)
	b.batch = empty
	b.do(b.meal(care.Took))
	b.batch = thawed
	b.do(b.thaw(1))
	var all []feeders.Standing
	if err := b.View(func(v model.View) (err error) { all, err = feeders.All(b.tables, v); return err }); err != nil {
		t.Fatal(err)
	}
	got := ""
	for _, s := range all {
		got += s.Name + " "
	}
	if want := "summer autumn May empty "; got != want {
		t.Errorf("%q, want %q", got, want)
	}
}

// What another program has written is read for values that no command would have taken.
func TestSound(t *testing.T) {
	for _, c := range []struct {
		of     model.DocumentType
		kind   string
		body   string
		known  bool
		reason string // "unreadable": not a refusal
	}{
		{model.TypeBatch, "", `{"name":"May","prey":"rat","count":3}`, true, ""},
		{model.TypeBatch, "", `{"name":"May","prey":"rat"}`, true, "number.range"},
		{model.TypeBatch, "", `7`, true, "unreadable"},
		{model.TypeEntry, feeders.KindThaw, `{"count":1}`, true, ""},
		{model.TypeEntry, feeders.KindThaw, `{}`, true, "number.range"},
		{model.TypeEntry, feeders.KindThaw, `7`, true, "unreadable"},
		{model.TypeEntry, feeders.KindFreezer, `{"freezer":"Chest"}`, true, ""},
		{model.TypeEntry, feeders.KindFreezer, `{}`, true, "text.empty"},
		{model.TypeEntry, feeders.KindFreezer, `7`, true, "unreadable"},
		{model.TypeEntry, feeders.KindLook, `{}`, true, ""},
		{model.TypeEntry, feeders.KindLook, `{"thrown":-1}`, true, "number.range"},
		{model.TypeEntry, feeders.KindLook, `7`, true, "unreadable"},
		{model.TypeEntry, care.KindMeal, `7`, false, ""},
		{model.TypeAnimal, feeders.KindThaw, `7`, false, ""},
		{model.TypeAnimal, feeders.KindFreezer, `7`, false, ""},
		{model.TypeAnimal, feeders.KindLook, `7`, false, ""},
	} {
		known, err := feeders.Sound(model.Document{Type: c.of, Kind: c.kind, Version: 1, Body: json.RawMessage(c.body)}, 20_000)
		got := reason(err)
		if r := (*model.Refusal)(nil); err != nil && !errors.As(err, &r) {
			got = "unreadable"
		}
		if known != c.known || got != c.reason {
			t.Errorf("%s %s %s: %v, %v, want %v, %q", c.of, c.kind, c.body, known, err, c.known, c.reason)
		}
	}
}
