package handover_test

import (
	"errors"
	"math"
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
	"coilward/model/handover"
	"coilward/model/knowledge"
	"coilward/model/memory"
	"coilward/model/people"
	"coilward/model/quarantine"
)

// fataler is what tests and properties have in common.
type fataler interface {
	Helper()
	Fatalf(format string, args ...any)
}

// keeper is one who keeps animals.
type keeper struct {
	t      fataler
	c      *collection.Collection
	tables *knowledge.Tables
	now    *time.Time
}

var tables = func() *knowledge.Tables {
	t, err := knowledge.Load(assets.Knowledge())
	if err != nil {
		panic(err)
	}
	return t
}()

func newKeeper(t fataler, now *time.Time) *keeper {
	t.Helper()
	c, err := collection.New(memory.Open(), collection.Options{Now: func() time.Time { return *now }})
	if err != nil {
		t.Fatalf("%v", err)
	}
	return &keeper{t, c, tables, now}
}

func start() *time.Time {
	at := time.Date(2027, 1, 15, 9, 30, 0, 0, time.FixedZone("Europe/Berlin", 3600))
	return &at
}

func (k *keeper) do(c model.Command) []model.ID {
	k.t.Helper()
	change, err := k.c.Do(c)
	if err != nil {
		k.t.Fatalf("%s: %v", c.Name(), err)
	}
	return change.Documents
}

func (k *keeper) view(read func(model.View) error) {
	k.t.Helper()
	if err := k.c.View(read); err != nil {
		k.t.Fatalf("%v", err)
	}
}

func (k *keeper) at() (m model.Moment) {
	k.view(func(v model.View) error { m = v.Now(); return nil })
	return m
}

// record is what is told of an animal, read back from its bytes.
func (k *keeper) record(id model.AnimalID) handover.Record {
	k.t.Helper()
	var g handover.Gathered
	k.view(func(v model.View) (err error) {
		g, err = handover.Gather(v, k.tables, id, "0.8.0")
		return err
	})
	raw, err := g.Record.Bytes()
	if err != nil {
		k.t.Fatalf("%v", err)
	}
	r, err := handover.Read(raw)
	if err != nil {
		k.t.Fatalf("%v", err)
	}
	return r
}

// takeIn takes in a record; the photos are kept under these ids.
func (k *keeper) takeIn(r handover.Record, key string, confirmed ...string) error {
	c := handover.TakeIn{Tables: k.tables, Record: r, Key: key, Sum: "a list", At: k.at(), Protocol: "python", Confirmed: confirmed}
	for i := range r.Photos {
		c.Photos = append(c.Photos, model.PhotoID(string(rune('a'+i%6))+"0"))
	}
	_, err := k.c.Do(c)
	return err
}

// entries are those of an animal, by id.
func (k *keeper) entries(id model.AnimalID) map[model.ID]model.Document {
	all := map[model.ID]model.Document{}
	k.view(func(v model.View) error {
		return v.Timeline(id.Subject(), model.Beginning, model.EndOfTime, func(d model.Document) bool {
			if d.Type == model.TypeEntry {
				if all[d.ID].ID != (model.ID{}) {
					k.t.Fatalf("%s stands twice", d.ID)
				}
				all[d.ID] = d
			}
			return true
		})
	})
	return all
}

func reason(err error) string {
	var r *model.Refusal
	if errors.As(err, &r) {
		return r.Reason
	}
	if err != nil {
		return err.Error()
	}
	return ""
}

// seller has one animal with a few entries.
func seller(t fataler, now *time.Time) (*keeper, model.AnimalID, model.PersonID) {
	k := newKeeper(t, now)
	id := model.AnimalID{ID: k.do(animals.Add{Animal: animals.Animal{Name: "Juno", Species: "python-regius", Sex: animals.Female, SexHow: animals.HowProbed, Morph: "pastel", Note: "shy"}})[0]}
	by := model.PersonID{ID: k.do(people.Add{Person: people.Person{Name: "Mira", Roles: []people.Role{people.Hand}}})[0]}
	about := care.About{Animal: id, At: k.at(), By: by}
	k.do(care.Weigh{About: about, Weight: care.Weight{Mass: model.Grams(1432), Gut: care.GutEmpty, Beside: care.Beside{Note: "calm"}}})
	k.do(care.Feed{About: about, Meal: care.Meal{Prey: care.Rat, Outcome: care.Refused}})
	return k, id, by
}

func TestTakenInAsANewcomer(t *testing.T) {
	now := start()
	from, id, by := seller(t, now)
	to := newKeeper(t, now)
	if err := to.takeIn(from.record(id), "AAAA"); err != nil {
		t.Fatal(err)
	}
	to.view(func(v model.View) error {
		a, err := animals.Find(v, id)
		if err != nil || a.Name != "Juno" || a.Morph != "pastel" || a.Sex != animals.Female || a.Note != "" || !a.Status.Here() || a.Since.Day != v.Now().Day() {
			t.Errorf("taken in is %+v, %v", a, err)
		}
		all, err := quarantine.Of(v, id)
		if err != nil || len(all) != 1 || !all[0].Open() || all[0].Protocol != "python" {
			t.Errorf("the quarantine is %+v, %v", all, err)
		}
		name, err := people.NameOf(v, by)
		if err != nil || name != "Mira (AAAA)" {
			t.Errorf("done by %q, %v", name, err)
		}
		all2, err := people.All(v)
		if err != nil || len(all2) != 1 || all2[0].Works() {
			t.Errorf("people are %+v, %v", all2, err)
		}
		return nil
	})
	if got := to.entries(id); len(got) != 2 {
		t.Errorf("%d entries", len(got))
	}
	if err := to.takeIn(from.record(id), "AAAA"); reason(err) != "papers.nothing-new" {
		t.Errorf("again: %v", err)
	}
	if err := from.takeIn(from.record(id), "AAAA"); reason(err) != "papers.nothing-new" {
		t.Errorf("one's own: %v", err)
	}
}

func TestLaterAndEarlierPapers(t *testing.T) {
	now := start()
	from, id, by := seller(t, now)
	to := newKeeper(t, now)
	first := from.record(id)
	*now = now.Add(48 * time.Hour)
	meal := from.do(care.Feed{About: care.About{Animal: id, At: from.at(), By: by}, Meal: care.Meal{Prey: care.Rat, Outcome: care.Took}})[0]
	second := from.record(id)
	for _, r := range []handover.Record{first, second} {
		if err := to.takeIn(r, "AAAA"); err != nil {
			t.Fatal(err)
		}
	}
	if got := to.entries(id); len(got) != 3 || got[meal].Kind != care.KindMeal {
		t.Errorf("after the second %d entries", len(got))
	}
	if err := to.takeIn(first, "AAAA"); reason(err) != handover.AskOlder {
		t.Errorf("the first once more: %v", err)
	}
	if err := to.takeIn(second, "BBBB"); reason(err) != handover.AskOtherKey {
		t.Errorf("another key: %v", err)
	}
	later := second
	later.Entries = slices.Clone(second.Entries)
	later.Entries[0].ID = model.EntryID(id)
	if err := to.takeIn(later, "AAAA"); err == nil {
		t.Error("an entry with the animal's id was taken in")
	}
	later.Entries[0].ID, later.Entries[0].When.Day = model.EntryID{ID: model.ID{9}}, model.NewDay(2027, 3, 1)
	if err := to.takeIn(later, "AAAA"); reason(err) != "day.future" {
		t.Errorf("an entry of tomorrow: %v", err)
	}
}

// Papers of a clock that is ahead are not taken in: the true ones after them would be the older ones.
func TestPapersOfAClockThatIsAhead(t *testing.T) {
	now := start()
	from, id, _ := seller(t, now)
	today := from.at()
	const aDay = 24 * 60 * 60
	for name, c := range map[string]struct {
		issued func(*handover.Issued)
		why    string
	}{
		"ten years ahead":          {func(i *handover.Issued) { i.UTC, i.Day = i.UTC+3653*aDay, i.Day+3653 }, "papers.ahead"},
		"by the day alone":         {func(i *handover.Issued) { i.Day += 2 }, "papers.ahead"},
		"by the seconds alone":     {func(i *handover.Issued) { i.UTC += 2 * aDay }, "papers.ahead"},
		"by all seconds there are": {func(i *handover.Issued) { i.UTC = math.MaxInt64 }, "papers.ahead"},
		"by all days there are":    {func(i *handover.Issued) { i.Day = math.MaxInt32 }, "papers.ahead"},
		"tomorrow, further east":   {func(i *handover.Issued) { i.UTC, i.Day = i.UTC+aDay, i.Day+1 }, ""},
		"before all time":          {func(i *handover.Issued) { i.UTC = math.MinInt64 }, ""},
		"as they were made":        {func(*handover.Issued) {}, ""},
	} {
		to := newKeeper(t, now)
		r := from.record(id)
		c.issued(&r.Issued)
		if err := to.takeIn(r, "AAAA"); reason(err) != c.why {
			t.Errorf("%s: %v, want %q", name, err, c.why)
		}
		if c.why == "" {
			continue
		}
		if err := to.takeIn(from.record(id), "AAAA"); err != nil || to.at().Day() != today.Day() {
			t.Errorf("%s: the true ones after it: %v", name, err)
		}
	}
}

// A stranger's papers that name somebody of this house do not make that one's entries.
func TestNobodyOfThisHouseByTheWordOfPapers(t *testing.T) {
	now := start()
	from, id, _ := seller(t, now)
	to := newKeeper(t, now)
	own := model.PersonID{ID: to.do(people.Add{Person: people.Person{Name: "Ines", Roles: []people.Role{people.Hand}}})[0]}
	r := from.record(id)
	r.Hands[0].ID = own
	for i := range r.Entries {
		r.Entries[i].By = own
	}
	for n := range 2 { // the second ones are of a key that is known
		if err := to.takeIn(r, "AAAA"); err != nil {
			t.Fatal(err)
		}
		got := to.entries(id)
		if len(got) != 2+n {
			t.Errorf("%d entries", len(got))
		}
		for _, d := range got {
			if d.By == own {
				t.Errorf("papers %d: entry %s is by one of this house", n, d.ID)
			}
		}
		more := r.Entries[0]
		more.ID = model.EntryID{ID: model.ID{9}}
		r.Entries = append(slices.Clone(r.Entries), more)
		r.Issued.UTC++
	}
	to.view(func(v model.View) error {
		name, err := people.NameOf(v, own)
		if err != nil || name != "Ines" {
			t.Errorf("she is %q, %v", name, err)
		}
		return nil
	})
}

// Who came with papers did what later ones say, also those of another keeper and another animal.
func TestWhoCameWithPapersIsTheSame(t *testing.T) {
	now := start()
	from, id, by := seller(t, now)
	to := newKeeper(t, now)
	second := model.AnimalID{ID: from.do(animals.Add{Animal: animals.Animal{Name: "Pax"}})[0]}
	for _, of := range []model.AnimalID{id, second} {
		entry := from.do(care.Feed{About: care.About{Animal: of, At: from.at(), By: by}, Meal: care.Meal{Prey: care.Rat, Outcome: care.Took}})[0]
		if err := to.takeIn(from.record(of), "AAAA"); err != nil {
			t.Fatal(err)
		}
		if got := to.entries(of)[entry]; got.By != by {
			t.Errorf("it is by %s, want %s", got.By, by)
		}
		*now = now.Add(time.Hour)
		later := from.do(care.Feed{About: care.About{Animal: of, At: from.at(), By: by}, Meal: care.Meal{Prey: care.Mouse, Outcome: care.Took}})[0]
		if err := to.takeIn(from.record(of), "AAAA"); err != nil {
			t.Fatal(err)
		}
		if got := to.entries(of)[later]; got.By != by {
			t.Errorf("the later one is by %s, want %s", got.By, by)
		}
	}
}

// Whom the seller entered anew, or in a new collection, is the one who came with papers of the
// same key under that name. By the word of another key nobody is, nor is somebody of this house.
func TestWhoWasEnteredAnewIsTheSame(t *testing.T) {
	now := start()
	from, id, by := seller(t, now)
	to := newKeeper(t, now)
	if err := to.takeIn(from.record(id), "AAAA"); err != nil {
		t.Fatal(err)
	}
	anew := func(name string) (record handover.Record, entry model.ID) {
		k := newKeeper(t, now)
		animal := model.AnimalID{ID: k.do(animals.Add{Animal: animals.Animal{Name: name}})[0]}
		for _, called := range []string{"mira", "Ines"} {
			hand := model.PersonID{ID: k.do(people.Add{Person: people.Person{Name: called, Roles: []people.Role{people.Hand}}})[0]}
			entry = k.do(care.Feed{About: care.About{Animal: animal, At: k.at(), By: hand}, Meal: care.Meal{Prey: care.Rat, Outcome: care.Took}})[0]
			if called == "mira" {
				defer func(mira model.ID) { entry = mira }(entry)
			}
		}
		return k.record(animal), entry
	}
	r, entry := anew("Pax")
	for n := range 2 { // the second time nothing is new
		if err := to.takeIn(r, "AAAA"); reason(err) != []string{"", "papers.nothing-new"}[n] {
			t.Fatalf("time %d: %v", n+1, err)
		}
		if got := to.entries(r.Animal.ID)[entry]; got.By != by {
			t.Errorf("it is by %s, want %s", got.By, by)
		}
	}
	if r, entry = anew("Wren"); to.takeIn(r, "BBBB") != nil || to.entries(r.Animal.ID)[entry].By == by {
		t.Error("by the word of another key it is the same")
	}
	to.do(people.Add{Person: people.Person{Name: "Mira (CCCC)", Roles: []people.Role{people.Hand}}})
	if r, _ = anew("Finch"); reason(to.takeIn(r, "CCCC")) != "person.twice" {
		t.Error("somebody of this house is the same")
	}
	to.view(func(v model.View) error {
		all, err := people.All(v)
		if names := len(all); names != 5 { // Mira of A; Ines of A; both of B; the one of this house
			t.Errorf("%d people: %v", names, all)
		}
		return err
	})
}

// When one's own animal comes back, what stands here stays by whom it was.
func TestOnesOwnComesBackByWhomItWas(t *testing.T) {
	now := start()
	from, id, by := seller(t, now)
	to := newKeeper(t, now)
	if err := to.takeIn(from.record(id), "AAAA"); err != nil {
		t.Fatal(err)
	}
	next := model.PersonID{ID: to.do(people.Add{Person: people.Person{Name: "Ines", Roles: []people.Role{people.Hand}}})[0]}
	*now = now.Add(24 * time.Hour)
	weight := to.do(care.Weigh{About: care.About{Animal: id, At: to.at(), By: next}, Weight: care.Weight{Mass: model.Grams(1500)}})[0]
	if err := from.takeIn(to.record(id), "BBBB"); err != nil {
		t.Fatal(err)
	}
	got := from.entries(id)
	for _, d := range got {
		if want := map[bool]model.PersonID{true: next, false: by}[d.ID == weight]; d.By != want {
			t.Errorf("entry %s is by %s, want %s", d.ID, d.By, want)
		}
	}
	if len(got) != 3 {
		t.Errorf("%d entries", len(got))
	}
}

func TestOnesNameAndIdsAreOnesOwn(t *testing.T) {
	now := start()
	from, id, _ := seller(t, now)
	to := newKeeper(t, now)
	own := model.AnimalID{ID: to.do(animals.Add{Animal: animals.Animal{Name: "Juno"}})[0]}
	weight := to.do(care.Weigh{About: care.About{Animal: own, At: to.at()}, Weight: care.Weight{Mass: model.Grams(700)}})[0]
	r := from.record(id)
	if err := to.takeIn(r, "AAAA"); reason(err) != "name.twice" {
		t.Errorf("a second Juno: %v", err)
	}
	r.Animal.Name = "Juno of Mira"
	r.Entries[0].ID = model.EntryID{ID: weight}
	if err := to.takeIn(r, "AAAA"); reason(err) != "papers.id" {
		t.Errorf("an entry of one's own animal: %v", err)
	}
	r = from.record(id)
	r.Animal.ID, r.Animal.Name = model.AnimalID{ID: weight}, "Other"
	if err := to.takeIn(r, "AAAA"); reason(err) != "papers.id" {
		t.Errorf("an entry's id: %v", err)
	}
}

// Whatever both do, an entry never stands twice, what the next keeper changed or took
// out stays so, and what nobody touched is as the papers say.
func TestAgainUpdatesAndNeverDoubles(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		now := start()
		from, id, by := seller(t, now)
		to := newKeeper(t, now)
		touched, gone := map[model.ID]string{}, map[model.ID]bool{}
		var sold []model.ID
		for d := range from.entries(id) {
			sold = append(sold, d)
		}
		slices.SortFunc(sold, func(a, b model.ID) int { return slices.Compare(a[:], b[:]) })
		taken := 0
		for range rapid.IntRange(1, 12).Draw(t, "steps") {
			*now = now.Add(time.Duration(rapid.IntRange(1, 72).Draw(t, "hours")) * time.Hour)
			switch rapid.IntRange(0, 4).Draw(t, "what") {
			case 0:
				sold = append(sold, from.do(care.Feed{About: care.About{Animal: id, At: from.at(), By: by}, Meal: care.Meal{Prey: care.Rat, Count: rapid.IntRange(1, 3).Draw(t, "count"), Outcome: care.Took}})[0])
			case 1:
				all := from.entries(id)
				which := all[sold[rapid.IntRange(0, len(sold)-1).Draw(t, "corrected")]]
				if which.Kind == care.KindMeal {
					from.do(care.Change{Entry: model.EntryID{ID: which.ID}, Base: which.Revision, About: care.About{Animal: id, At: which.At, By: by}, Body: care.Meal{Prey: care.Mouse, Count: rapid.IntRange(1, 9).Draw(t, "now"), Outcome: care.Took}})
				}
			case 2:
				err := to.takeIn(from.record(id), "AAAA")
				if why := reason(err); why != "" && why != "papers.nothing-new" {
					t.Fatalf("taken in: %v", err)
				}
				taken++
				for _, d := range sold {
					here, there := to.entries(id)[d]
					theirs := from.entries(id)[d]
					switch note := touched[d]; {
					case gone[d]:
						if there {
							t.Fatalf("%s came back", d)
						}
					case note != "":
						if e, _, err := care.Decode(here); err != nil || e.Body.(care.Meal).Note != note {
							t.Fatalf("what was written here is gone: %+v, %v", here, err)
						}
					case !there || here.Kind != theirs.Kind || here.At.UTC != theirs.At.UTC && theirs.At.UTC%60 == 0:
						t.Fatalf("%s is %+v here, %+v there", d, here, theirs)
					case here.Kind == care.KindMeal:
						ours, _, err := care.Decode(here)
						if err != nil {
							t.Fatal(err)
						}
						sold, _, err := care.Decode(theirs)
						if err != nil || ours.Body.(care.Meal).Count != sold.Body.(care.Meal).Count {
							t.Fatalf("%s is %+v here, %+v there", d, ours.Body, sold.Body)
						}
					}
				}
				if len(to.entries(id)) > len(sold) {
					t.Fatalf("%d entries of %d", len(to.entries(id)), len(sold))
				}
			case 3, 4:
				if taken == 0 {
					continue
				}
				d := sold[rapid.IntRange(0, len(sold)-1).Draw(t, "here")]
				here, there := to.entries(id)[d]
				if !there || here.Kind != care.KindMeal {
					continue
				}
				if rapid.Bool().Draw(t, "taken out") {
					to.do(care.Remove{Entry: model.EntryID{ID: d}})
					gone[d] = true
					continue
				}
				touched[d] = rapid.StringMatching("[a-z]{3,9}").Draw(t, "note")
				to.do(care.Change{Entry: model.EntryID{ID: d}, Base: here.Revision, About: care.About{Animal: id, At: here.At, By: here.By, Confirmed: model.Confirmed{"day.before-arrival"}}, Body: care.Meal{Prey: care.Rat, Outcome: care.Refused, Beside: care.Beside{Note: touched[d]}}})
			}
		}
	})
}

// One that was sold and comes back begins another quarantine, and keeps what stood.
func TestOneComesBack(t *testing.T) {
	now := start()
	from, id, _ := seller(t, now)
	to := newKeeper(t, now)
	if err := to.takeIn(from.record(id), "AAAA"); err != nil {
		t.Fatal(err)
	}
	*now = now.Add(24 * time.Hour)
	from.do(animals.SetStatus{ID: id, Base: 1, Status: animals.Sold, Day: model.Date{Day: from.at().Day(), Precision: model.ToDay}})
	*now = now.Add(24 * time.Hour)
	weight := to.do(care.Weigh{About: care.About{Animal: id, At: to.at()}, Weight: care.Weight{Mass: model.Grams(1500)}})[0]
	*now = now.Add(24 * time.Hour)
	if err := from.takeIn(to.record(id), "BBBB"); err != nil {
		t.Fatal(err)
	}
	if got := from.entries(id); len(got) != 3 || got[weight].Kind != care.KindWeight {
		t.Errorf("%d entries", len(got))
	}
	from.view(func(v model.View) error {
		a, err := animals.Find(v, id)
		if err != nil || !a.Status.Here() || a.Note != "shy" {
			t.Errorf("it is %+v, %v", a, err)
		}
		all, err := quarantine.Of(v, id)
		if err != nil || len(all) != 1 || !all[0].Open() {
			t.Errorf("quarantines %+v, %v", all, err)
		}
		return nil
	})
}

func TestUndoneAndTakenInAgain(t *testing.T) {
	now := start()
	from, id, _ := seller(t, now)
	to := newKeeper(t, now)
	r := from.record(id)
	for range 2 {
		if err := to.takeIn(r, "AAAA"); err != nil {
			t.Fatal(err)
		}
		if got := to.entries(id); len(got) != 2 {
			t.Fatalf("%d entries", len(got))
		}
		if _, err := to.c.Undo(); err != nil {
			t.Fatal(err)
		}
		if got := to.entries(id); len(got) != 0 {
			t.Fatalf("undone, %d entries", len(got))
		}
	}
}

func TestReadRefusesWhatCannotStand(t *testing.T) {
	now := start()
	from, id, _ := seller(t, now)
	for name, spoil := range map[string]func(*handover.Record){
		"no animal":           func(r *handover.Record) { r.Animal.ID = model.AnimalID{} },
		"no name":             func(r *handover.Record) { r.Animal.Name = "" },
		"a name that steers":  func(r *handover.Record) { r.Animal.Name = "Ju\x1b[2Jno" },
		"a name too long":     func(r *handover.Record) { r.Animal.Name = string(make([]rune, 500)) },
		"an id twice":         func(r *handover.Record) { r.Entries[1].ID = r.Entries[0].ID },
		"a kind of nothing":   func(r *handover.Record) { r.Entries[0].Kind = "spell" },
		"a check as an entry": func(r *handover.Record) { r.Entries[0].Kind = "check" },
		"a note in an entry":  func(r *handover.Record) { r.Entries[0].Body = []byte(`{"mass":{"mg":1000},"note":"x"}`) },
		"a weight of nothing": func(r *handover.Record) { r.Entries[0].Body = []byte(`{"mass":{"mg":0}}`) },
		"a minute of no day":  func(r *handover.Record) { r.Entries[0].When.Minute = 5000 },
		"a time of no kind":   func(r *handover.Record) { r.Entries[0].When.Precision = "about" },
		"a day before all":    func(r *handover.Record) { r.Entries[0].When.Day = -1_000_000 },
		"two portraits":       func(r *handover.Record) { r.Photos = []handover.Photo{{Portrait: true}, {Portrait: true}} },
		"fewer than none":     func(r *handover.Record) { r.Unread = -1 },
		"a hand of no name":   func(r *handover.Record) { r.Hands[0].Name = "" },
		"by one not told of":  func(r *handover.Record) { r.Entries[0].By = model.PersonID{ID: model.ID{7}} },
		"too many people": func(r *handover.Record) {
			for i := range handover.MaxHands + 1 {
				r.Hands = append(r.Hands, handover.Hand{ID: model.PersonID{ID: model.ID{8, byte(i >> 8), byte(i)}}, Name: "Ada"})
			}
		},
	} {
		r := from.record(id)
		spoil(&r)
		raw, err := r.Bytes()
		if err != nil {
			continue // no bytes at all
		}
		if _, err := handover.Read(raw); err == nil {
			t.Errorf("%s was read", name)
		}
	}
}

// What asks for more room than any record is refused before room is made for it.
func TestReadMakesNoRoomForMillions(t *testing.T) {
	many := func(one string) string { return "[" + strings.Repeat(one+",", 2_000_000) + one + "]" }
	for name, said := range map[string]string{
		"objects":          `"checks":` + many("{}"),
		"zeros":            `"checks":` + many("0"),
		"nulls":            `"checks":` + many("null"),
		"empty texts":      `"checks":` + many(`""`),
		"with spaces":      `"checks":` + many(" 0 "),
		"empty lists":      `"checks":` + many("[]"),
		"lists of one":     `"unknown":` + many("[0]"),
		"objects by name":  `"unknown":{` + strings.Repeat(`"a":{},`, 2_000_000) + `"a":{}}`,
		"behind a bracket": `"animal":{"name":"\"]["},"checks":` + many("0"),
		"in many lists":    strings.Repeat(`"checks":[0,0,0],`, 500_000) + `"visits":0`,
	} {
		raw := []byte(`{"form":1,` + said + "}\n")
		before := testing.AllocsPerRun(1, func() {
			if _, err := handover.Read(raw); err == nil || !strings.Contains(err.Error(), "objects and elements") {
				t.Errorf("%s: it was read: %v", name, err)
			}
		})
		if before > 100 {
			t.Errorf("%s: %v allocations", name, before)
		}
	}
}

// As many as may be are read, however they are counted; brackets and commas in texts count for nothing.
func TestReadCountsNoText(t *testing.T) {
	k, id, _ := seller(t, start())
	r := k.record(id)
	r.Unread = 1
	r.Animal.Morph = strings.Repeat("[{,", 60) + `\"`
	for range handover.MaxList {
		r.Photos = append(r.Photos, handover.Photo{Pose: "[,,,,,,,,,,,,,,,,,,,,,,,,,]"})
	}
	r.Photos = r.Photos[:handover.MaxList]
	raw, err := r.Bytes()
	if err != nil {
		t.Fatal(err)
	}
	if _, err := handover.Read(raw); err != nil {
		t.Error(err)
	}
}
