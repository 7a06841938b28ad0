package handover_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/exam"
	"coilward/model/handover"
	"coilward/model/knowledge"
	"coilward/model/medicine"
	"coilward/model/people"
	"coilward/model/quarantine"
	"coilward/model/samples"
)

// A record is read up to each of its limits, and refused above it.
func TestReadUpToItsLimits(t *testing.T) {
	now := start()
	from, id, by := seller(t, now)
	at := handover.When{Day: model.NewDay(2026, 5, 1), Precision: model.ToDay}
	check := func(change func(*handover.Check)) func(*handover.Record) {
		return func(r *handover.Record) {
			c := handover.Check{ID: model.EntryID{ID: model.ID{40}}, When: at, By: by, Extent: exam.FullCheck}
			change(&c)
			r.Checks = append(r.Checks, c)
		}
	}
	sample := func(change func(*handover.Sample)) func(*handover.Record) {
		return func(r *handover.Record) {
			s := handover.Sample{ID: model.SampleID{ID: model.ID{41}}, Material: "blood", For: []knowledge.AgentID{"serpentovirus"}}
			change(&s)
			r.Samples = append(r.Samples, s)
		}
	}
	stops := func(n int) []handover.Stop { return slices.Repeat([]handover.Stop{{Stop: "mouth"}}, n) }
	found := func(n int) []handover.Found {
		return slices.Repeat([]handover.Found{{What: "mucus", Stop: "mouth", Standing: exam.New}}, n)
	}
	results := func(n int) []handover.Result {
		return slices.Repeat([]handover.Result{{Of: "serpentovirus", Outcome: samples.NotDetected, When: at}}, n)
	}
	hands := func(n int) func(*handover.Record) {
		return func(r *handover.Record) {
			for i := range n - len(r.Hands) {
				r.Hands = append(r.Hands, handover.Hand{ID: model.PersonID{ID: model.ID{8, byte(i >> 8), byte(i)}}, Name: "Ada"})
			}
		}
	}
	lines := func(n int) func(*handover.Record) {
		return func(r *handover.Record) {
			r.Quarantines = append(r.Quarantines, handover.Quarantine{Arrived: at, Protocol: "python", Lines: slices.Repeat([]handover.Line{{Item: "days", State: quarantine.Met}}, n)})
		}
	}
	const most = handover.MaxName
	for name, c := range map[string]struct {
		change func(*handover.Record)
		reads  bool
	}{
		"as it is":                   {func(*handover.Record) {}, true},
		"form 0":                     {func(r *handover.Record) { r.Form = 0 }, false},
		"a check":                    {check(func(*handover.Check) {}), true},
		"a check by nobody":          {check(func(c *handover.Check) { c.By = model.PersonID{} }), true},
		"a check by one not told of": {check(func(c *handover.Check) { c.By = model.PersonID{ID: model.ID{77}} }), false},
		"a check without an id":      {check(func(c *handover.Check) { c.ID = model.EntryID{} }), false},
		"a check with the animal's":  {check(func(c *handover.Check) { c.ID.ID = id.ID }), false},
		"as many stops as may be":    {check(func(c *handover.Check) { c.Stops = stops(most) }), true},
		"one more":                   {check(func(c *handover.Check) { c.Stops = stops(most + 1) }), false},
		"as many findings as may be": {check(func(c *handover.Check) { c.Findings = found(most) }), true},
		"one finding more":           {check(func(c *handover.Check) { c.Findings = found(most + 1) }), false},
		"a sample":                   {sample(func(*handover.Sample) {}), true},
		"a sample without an id":     {sample(func(s *handover.Sample) { s.ID = model.SampleID{} }), false},
		"one other in its pool":      {sample(func(s *handover.Sample) { s.Others = 1 }), true},
		"fewer than none":            {sample(func(s *handover.Sample) { s.Others = -1 }), false},
		"as many results as may be":  {sample(func(s *handover.Sample) { s.Results = results(samples.MaxResults) }), true},
		"one result more":            {sample(func(s *handover.Sample) { s.Results = results(samples.MaxResults + 1) }), false},
		"for as much as may be":      {sample(func(s *handover.Sample) { s.For = slices.Repeat(s.For, most) }), true},
		"for one more":               {sample(func(s *handover.Sample) { s.For = slices.Repeat(s.For, most+1) }), false},
		"as many lines as may be":    {lines(most), true},
		"one line more":              {lines(most + 1), false},
		"as many people as may be":   {hands(handover.MaxHands), true},
		"one more of them":           {hands(handover.MaxHands + 1), false},
		"a name as long as may be":   {func(r *handover.Record) { r.Animal.Name = strings.Repeat("ä", most) }, true},
		"a name one longer":          {func(r *handover.Record) { r.Animal.Name = strings.Repeat("ä", most+1) }, false},
		"the last day there is": {func(r *handover.Record) {
			r.Entries[0].When = handover.When{Day: model.NewDay(9999, 12, 31), Precision: model.ToDay}
		}, true},
		"one portrait":                {func(r *handover.Record) { r.Photos = []handover.Photo{{Portrait: true}, {When: at}} }, true},
		"a course, a visit, one lost": {func(r *handover.Record) { r.Courses, r.Visits, r.Unread = 1, 1, 1 }, true},
		"fewer courses than none":     {func(r *handover.Record) { r.Courses = -1 }, false},
		"fewer visits than none":      {func(r *handover.Record) { r.Visits = -1 }, false},
	} {
		r := from.record(id)
		c.change(&r)
		raw, err := r.Bytes()
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		if _, err := handover.Read(raw); (err == nil) != c.reads {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// A text of any field that steers, or is too long, is refused.
func TestReadHoldsEveryText(t *testing.T) {
	now := start()
	from, id, by := seller(t, now)
	at := handover.When{Day: model.NewDay(2026, 5, 1), Precision: model.ToDay}
	for name, put := range map[string]func(*handover.Record, string){
		"species": func(r *handover.Record, s string) { r.Animal.Species = knowledge.SpeciesID(s) },
		"morph":   func(r *handover.Record, s string) { r.Animal.Morph = s },
		"source":  func(r *handover.Record, s string) { r.Animal.Source = animals.SourceCode(s) },
		"chip":    func(r *handover.Record, s string) { r.Animal.Chip.Digits = s },
		"program": func(r *handover.Record, s string) { r.Issued.Program = s },
		"tables":  func(r *handover.Record, s string) { r.Issued.Tables = s },
		"a hand":  func(r *handover.Record, s string) { r.Hands[0].Name = s },
		"a check": func(r *handover.Record, s string) {
			r.Checks = []handover.Check{{ID: model.EntryID{ID: model.ID{40}}, When: at, By: by, Extent: exam.Extent(s)}}
		},
		"a stop": func(r *handover.Record, s string) {
			r.Checks = []handover.Check{{ID: model.EntryID{ID: model.ID{40}}, When: at, Stops: []handover.Stop{{Stop: knowledge.StopID(s)}}}}
		},
		"a look": func(r *handover.Record, s string) {
			r.Checks = []handover.Check{{ID: model.EntryID{ID: model.ID{40}}, When: at, Stops: []handover.Stop{{Look: exam.Look(s)}}}}
		},
		"found": func(r *handover.Record, s string) {
			r.Checks = []handover.Check{{ID: model.EntryID{ID: model.ID{40}}, When: at, Findings: []handover.Found{{What: knowledge.FindingID(s)}}}}
		},
		"problem": func(r *handover.Record, s string) {
			r.Problems = []handover.Problem{{Since: at, Last: at, Found: handover.Found{What: knowledge.FindingID(s)}}}
		},
		"material": func(r *handover.Record, s string) {
			r.Samples = []handover.Sample{{ID: model.SampleID{ID: model.ID{41}}, Material: knowledge.MaterialID(s)}}
		},
		"lab": func(r *handover.Record, s string) {
			r.Samples = []handover.Sample{{ID: model.SampleID{ID: model.ID{41}}, Lab: s}}
		},
		"for": func(r *handover.Record, s string) {
			r.Samples = []handover.Sample{{ID: model.SampleID{ID: model.ID{41}}, For: []knowledge.AgentID{knowledge.AgentID(s)}}}
		},
		"report": func(r *handover.Record, s string) {
			r.Samples = []handover.Sample{{ID: model.SampleID{ID: model.ID{41}}, Results: []handover.Result{{When: at, Report: s}}}}
		},
		"protocol": func(r *handover.Record, s string) {
			r.Quarantines = []handover.Quarantine{{Arrived: at, Protocol: knowledge.ProtocolID(s)}}
		},
		"item": func(r *handover.Record, s string) {
			r.Quarantines = []handover.Quarantine{{Arrived: at, Lines: []handover.Line{{Item: quarantine.ItemID(s)}}}}
		},
		"pose": func(r *handover.Record, s string) { r.Photos = []handover.Photo{{When: at, Pose: knowledge.PoseID(s)}} },
	} {
		for text, reads := range map[string]bool{"x": true, "a\u202eb": false, "a\x1b[2J": false, "a\nb": false, strings.Repeat("x", handover.MaxName+1): false} {
			r := from.record(id)
			put(&r, text)
			raw, err := r.Bytes()
			if err != nil {
				t.Fatalf("%s: %v", name, err)
			}
			if _, err := handover.Read(raw); (err == nil) != reads {
				t.Errorf("%s %.12q: %v", name, text, err)
			}
		}
	}
}

// holding is a visit that was held, as a command.
type holding struct{ medicine.HoldVisit }

func (holding) Name() string { return "test.hold" }

// Each kind of everyday care goes, without what hangs beside it; notes stay, photos go as
// photos, and what cannot be told again is counted.
func TestWhatGoesOfEveryKind(t *testing.T) {
	now := start()
	k := newKeeper(t, now)
	id := model.AnimalID{ID: k.do(animals.Add{Animal: animals.Animal{Name: "Juno"}})[0]}
	about := care.About{Animal: id, At: k.at()}
	beside := care.Beside{Note: "PRIVATE", Photos: []model.PhotoID{"0a"}}
	want := map[string]bool{}
	for _, c := range []struct {
		kind    string
		command model.Command
	}{
		{care.KindWeight, care.Weigh{About: about, Weight: care.Weight{Mass: model.Grams(140), Beside: beside}}},
		{care.KindMeal, care.Feed{About: about, Meal: care.Meal{Outcome: care.Took, Beside: beside}}},
		{care.KindShed, care.RecordShed{About: about, Shed: care.Shed{Beside: beside}}},
		{care.KindWaste, care.RecordWaste{About: about, Waste: care.Waste{Urates: []care.Trait{care.White}, Beside: beside}}},
		{care.KindMiteLook, care.LookForMites{About: about, MiteLook: care.MiteLook{Where: []care.MiteWhere{care.WaterBowl}, Beside: beside}}},
		{care.KindBlue, care.RecordBlue{About: about, Blue: care.Blue{Beside: beside}}},
		{care.KindClutch, care.RecordClutch{About: about, Clutch: care.Clutch{Beside: beside}}},
		{care.KindMiteTreatment, care.TreatMites{About: about, MiteTreatment: care.MiteTreatment{What: "as written", Advised: "Dr Heron", Beside: beside}}},
		{care.KindBath, care.Bathe{Tables: k.tables, About: about, Bath: care.Bath{Beside: beside}}},
		{care.KindFluids, care.GiveFluids{Tables: k.tables, About: about, Fluids: care.Fluids{What: "as written", Advised: "Dr Heron", Beside: beside}}},
	} {
		k.do(c.command)
		want[c.kind] = true
	}
	k.do(care.WriteNote{About: about, Note: care.Note{Text: "PRIVATE"}})
	k.do(care.AddPhoto{About: about, Photo: care.Photo{Photos: []model.PhotoID{"0b"}, Caption: "PRIVATE"}})
	k.do(holding{medicine.HoldVisit{Animal: id, At: k.at(), Visit: medicine.Visit{Practice: "PRIVATE", Held: &medicine.Held{Said: "PRIVATE"}}}})
	next := k.at()
	next.UTC += 7 * 24 * 60 * 60
	k.do(medicine.PlanVisit{Animal: id, At: next, Visit: medicine.Visit{Practice: "PRIVATE"}})
	r := k.record(id)
	got := map[string]bool{}
	for _, e := range r.Entries {
		got[e.Kind] = true
	}
	if len(r.Entries) != len(want) || fmt.Sprint(got) != fmt.Sprint(want) || len(r.Photos) != 1 || r.Visits != 1 || r.Unread != 0 {
		t.Errorf("what goes is %v, %d entries, %d photos, %d visits, %d unread", got, len(r.Entries), len(r.Photos), r.Visits, r.Unread)
	}
	raw, err := r.Bytes()
	if err != nil || strings.Contains(string(raw), "PRIVATE") || strings.Contains(string(raw), `"0a"`) {
		t.Errorf("%v: %s", err, raw)
	}
}

// A day is today, or tomorrow where it is tomorrow already, and no later.
func TestTakenInOfTomorrow(t *testing.T) {
	now := start()
	from, id, _ := seller(t, now)
	for ahead, why := range []string{"", "", "day.future"} {
		to := newKeeper(t, now)
		r := from.record(id)
		r.Problems = []handover.Problem{{Since: r.Entries[0].When, Last: r.Entries[0].When}}
		r.Problems[0].Last.Day += model.Day(ahead)
		if err := to.takeIn(r, "AAAA"); reason(err) != why {
			t.Errorf("%d days ahead: %v, want %q", ahead, err, why)
		}
	}
}

// Whoever came with papers has their name as far as it has room beside the key.
func TestALongNameKeepsItsKey(t *testing.T) {
	now := start()
	from, id, by := seller(t, now)
	const key = "AAAA BBBB"
	for _, long := range []int{1, people.MaxName - len(" ("+key+")"), people.MaxName, handover.MaxName} {
		to := newKeeper(t, now)
		r := from.record(id)
		r.Hands[0].Name = strings.Repeat("ä", long)
		if err := to.takeIn(r, key); err != nil {
			t.Fatal(err)
		}
		to.view(func(v model.View) error {
			name, err := people.NameOf(v, by)
			want := strings.Repeat("ä", min(long, people.MaxName-len(" ("+key+")"))) + " (" + key + ")"
			if err != nil || name != want {
				t.Errorf("of %d: called %q, want %q, %v", long, name, want, err)
			}
			return nil
		})
	}
}

// These are frozen: what was taken in with an older version is found again.
func TestWhatRemembersIsFrozen(t *testing.T) {
	if handover.Version != 3 || handover.Form != 1 || handover.Kind != "her-papers" || handover.MostPhotos != 100 {
		t.Errorf("version %d, form %d, kind %s, photos %d", handover.Version, handover.Form, handover.Kind, handover.MostPhotos)
	}
	if got := handover.TakenID(model.AnimalID{ID: model.ID{1}}).String(); got != "f1fd5dbd-6573-800c-af1f-ed7cfa7e2b90" {
		t.Errorf("the id is %s", got)
	}
	for name, d := range map[string]model.Document{"another type": {Type: model.TypeAnimal, Kind: handover.Kind}, "another kind": {Type: model.TypeEntry, Kind: "meal"}} {
		d.ID = handover.TakenID(model.AnimalID{ID: model.ID{1}})
		if err := d.Encode(handover.Version, handover.Taken{Animal: model.AnimalID{ID: model.ID{1}}, Key: "A", Sum: "b"}); err != nil {
			t.Fatal(err)
		}
		if _, err := handover.ReadTaken(d); err == nil {
			t.Errorf("%s was read", name)
		}
	}
}

// An animal that is sold here and comes back is filled in, and what it said stays; an entry
// that became another kind there stays as it was noted here; photos that clash are refused.
func TestTakenInAgainWithOtherThings(t *testing.T) {
	now := start()
	from, id, by := seller(t, now)
	to := newKeeper(t, now)
	first := from.record(id)
	if err := to.takeIn(first, "AAAA"); err != nil {
		t.Fatal(err)
	}
	*now = now.Add(24 * time.Hour)
	r := first
	r.Issued.UTC += 24 * 60 * 60
	r.Entries = slices.Clone(first.Entries)
	i := slices.IndexFunc(r.Entries, func(e handover.Entry) bool { return e.Kind == care.KindMeal })
	meal := r.Entries[i].ID
	r.Entries[i].Kind, r.Entries[i].Body = care.KindWeight, []byte(`{"mass":{"mg":1000}}`)
	r.Animal.Source = "C"
	if err := to.takeIn(r, "AAAA"); err != nil {
		t.Fatal(err)
	}
	if got := to.entries(id)[meal.ID]; got.Kind != care.KindMeal || got.By != by {
		t.Errorf("it is %+v", got)
	}
	if a, err := to.find(id); err != nil || a.Source != "C" {
		t.Errorf("it is %+v, %v", a, err)
	}
}

// What was measured here stays, and papers that tell of no length take nothing away.
func TestItsLengthStays(t *testing.T) {
	for name, c := range map[string]struct{ here, told, want int64 }{
		"not known here":    {0, 9000, 9000},
		"known here":        {8000, 9000, 8000},
		"known here alone":  {8000, 0, 8000},
		"not known at all":  {0, 0, 0},
		"the smallest told": {0, 1, 1},
	} {
		now := start()
		from, id, _ := seller(t, now)
		to := newKeeper(t, now)
		r := from.record(id)
		day := model.Date{Day: model.NewDay(2026, 12, 1), Precision: model.ToDay}
		if r.Animal.Length = c.told; c.told > 0 {
			r.Animal.Measured = day
		}
		own := animals.Animal{Name: "Typed", Length: animals.Measured{SnoutVent: model.Length{Tenths: c.here}}}
		if c.here > 0 {
			own.Length.On = day
		}
		here := model.AnimalID{ID: to.do(animals.Add{Animal: own})[0]}
		if err := to.into(r, here); err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		if a, err := to.find(here); err != nil || a.Length.SnoutVent.Tenths != c.want {
			t.Errorf("%s: it is %+v, %v", name, a.Length, err)
		}
	}
}

// The portrait is no entry, nor is a photo that was not kept, one of no day, or one that goes twice.
func TestWhichPhotosBecomeEntries(t *testing.T) {
	now := start()
	from, id, _ := seller(t, now)
	to := newKeeper(t, now)
	r := from.record(id)
	on := r.Entries[0].When
	r.Photos = []handover.Photo{{Portrait: true, When: on}, {When: on}, {}, {When: on}, {When: on, Pose: "head"}}
	c := handover.TakeIn{Tables: to.tables, Record: r, Photos: []model.PhotoID{"aa", "bb", "cc", "", "bb"}, Key: "A", Sum: "b", At: to.at(), Protocol: "python"}
	if _, err := to.c.Do(c); err != nil {
		t.Fatal(err)
	}
	var photos []model.PhotoID
	for _, d := range to.entries(id) {
		if e, _, err := care.Decode(d); err == nil && d.Kind == care.KindPhoto {
			photos = append(photos, e.Body.(care.Photo).Photos...)
		}
	}
	if fmt.Sprint(photos) != "[bb]" {
		t.Errorf("entries of photos are %v", photos)
	}
}

// What is large by what it says, and has no more objects than may be, is read.
func TestReadALongRecord(t *testing.T) {
	k, id, _ := seller(t, start())
	r := k.record(id)
	r.Photos = slices.Repeat([]handover.Photo{{When: handover.When{Day: model.NewDay(2026, 5, 1), Minute: 5, Precision: model.ToMinute}, Pose: "head"}}, handover.MaxList)
	raw, err := r.Bytes()
	if err != nil {
		t.Fatal(err)
	}
	if _, err := handover.Read(raw); err != nil {
		t.Error(err)
	}
}

// writing writes documents as they are.
type writing []model.Document

func (writing) Name() string { return "test.write" }

func (w writing) Plan(model.View) (model.Writes, error) { return model.Writes{Put: w}, nil }

// Where one that remembers cannot be read, nobody can tell who came with papers: nothing is taken in.
func TestTakenInBesideOneThatCannotBeRead(t *testing.T) {
	now := start()
	from, id, _ := seller(t, now)
	to := newKeeper(t, now)
	if err := to.takeIn(from.record(id), "AAAA"); err != nil {
		t.Fatal(err)
	}
	newer := model.Document{Type: model.TypeEntry, Kind: handover.Kind, ID: model.ID{0, 1}, Version: handover.Version + 1, At: to.at(), Body: []byte("{}")}
	to.do(writing{newer})
	*now = now.Add(time.Hour)
	from.do(care.Feed{About: care.About{Animal: id, At: from.at()}, Meal: care.Meal{Prey: care.Rat, Outcome: care.Took}})
	if err := to.takeIn(from.record(id), "AAAA"); err == nil || len(to.entries(id)) != 2 {
		t.Errorf("taken in: %v, %d entries", err, len(to.entries(id)))
	}
}

// Elements count wherever their list stands: alone in it, with nothing around it, or behind another.
func TestReadCountsEveryList(t *testing.T) {
	const most = 16 * handover.MaxList
	for name, c := range map[string]struct {
		raw     string
		crowded bool
	}{
		"each alone in its list":    {"{" + strings.Repeat(`"x":[0],`, most+1) + `"form":1}`, true},
		"and no more than may be":   {"{" + strings.Repeat(`"x":[0],`, most-1) + `"form":1}`, false}, // the whole is an object too
		"a list with nothing round": {"[" + strings.Repeat("0,", most) + "0]", true},
		"lists of nothing":          {"{" + strings.Repeat(`"x":[],`, most+1) + `"form":1}`, false},
	} {
		_, err := handover.Read([]byte(c.raw))
		if got := err != nil && strings.Contains(err.Error(), "objects and elements"); got != c.crowded {
			t.Errorf("%s: %v", name, err)
		}
	}
}
