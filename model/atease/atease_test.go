package atease_test

import (
	"errors"
	"slices"
	"testing"

	"coilward/assets"
	"coilward/model"
	"coilward/model/animals"
	"coilward/model/atease"
	"coilward/model/care"
	"coilward/model/climate"
	"coilward/model/collection"
	"coilward/model/husbandry"
	"coilward/model/knowledge"
	"coilward/model/medicine"
	"coilward/model/people"
	"coilward/model/quarantine"
	"coilward/model/samples"
	"coilward/model/storetest"
	"coilward/model/welfare"
)

type room struct {
	*collection.Collection
	t      *testing.T
	tables *knowledge.Tables
	of     model.AnimalID
	who    model.PersonID
	place  model.PlaceID
	now    model.Moment
}

func newRoom(t *testing.T) *room {
	tables, err := knowledge.Load(assets.Knowledge())
	if err != nil {
		t.Fatal(err)
	}
	c, err := collection.New(storetest.Memory(), collection.Options{Now: storetest.NewClock().Now})
	if err != nil {
		t.Fatal(err)
	}
	r := &room{Collection: c, t: t, tables: tables}
	r.do(animals.Add{Animal: animals.Animal{Name: "Juniper", Status: animals.Kept}})
	r.do(people.Add{Person: people.Person{Name: "Ada"}})
	r.do(husbandry.AddPlaces{Branches: []husbandry.Branch{{Place: husbandry.Place{Name: "Tub", Kind: husbandry.Tub}}}})
	if err := c.View(func(v model.View) error {
		r.now = v.Now()
		return errors.Join(v.All(model.TypeAnimal, func(d model.Document) bool { r.of.ID = d.ID; return true }),
			v.All(model.TypePerson, func(d model.Document) bool { r.who.ID = d.ID; return true }),
			v.All(model.TypePlace, func(d model.Document) bool { r.place.ID = d.ID; return true }))
	}); err != nil {
		t.Fatal(err)
	}
	return r
}

func (r *room) do(c model.Command) {
	r.t.Helper()
	if _, err := r.Do(c); err != nil {
		r.t.Fatalf("%s: %v", c.Name(), err)
	}
}

// ago is an entry of so many days ago.
func (r *room) ago(days int64) care.About {
	at := r.now
	at.UTC -= days * 86400
	return care.About{Animal: r.of, At: at, Confirmed: model.Confirmed{"day.before-arrival"}}
}

// Of a meal whose hour is not known the whole day counts, so that it rests for a day longer.
func TestRead_RestsAfterAMealOfTheDay(t *testing.T) {
	r := newRoom(t)
	fed := r.ago(1)
	fed.At.Precision = model.ToDay
	r.do(care.Feed{About: fed, Meal: care.Meal{Prey: care.Rat, Outcome: care.Took}})
	if got, want := r.read().Rest.FedUntil.UTC, fed.At.UTC+3600*int64(24+r.tables.Value(knowledge.ValueRestAfterMeal)); got != want {
		t.Errorf("it rests until %d, want %d", got, want)
	}
}

// The climate and the cleanings of where it lived count while it lived there, with the day on which it
// left; readings of long ago are not read.
func TestRead_OfWhereItLived(t *testing.T) {
	r := newRoom(t)
	sure := model.Confirmed{"day.before-arrival"}
	r.do(husbandry.Move{Animal: r.of, Place: r.place, At: r.ago(60).At, Confirmed: sure})
	r.do(husbandry.AddPlaces{Branches: []husbandry.Branch{{Place: husbandry.Place{Name: "Cage", Kind: husbandry.Tub}}}})
	var other model.PlaceID
	if err := r.View(func(v model.View) error {
		return v.All(model.TypePlace, func(d model.Document) bool {
			if d.ID != r.place.ID {
				other.ID = d.ID
			}
			return true
		})
	}); err != nil {
		t.Fatal(err)
	}
	r.do(husbandry.Move{Animal: r.of, Place: other, At: r.ago(4).At, Confirmed: sure})
	for _, days := range []int64{2, 4, 9, 29, 40} {
		r.do(climate.Note{Key: climate.Key{Place: r.place, Zone: climate.Zones()[0]}, At: r.ago(days).At, Reading: climate.Reading{Temperature: 3000, Humidity: climate.NoHumidity}})
		r.do(husbandry.Clean{Tables: r.tables, Places: []model.PlaceID{r.place}, At: r.ago(days).At, Cleaning: husbandry.Cleaning{Extent: husbandry.Spot}})
	}
	k, today := r.read(), r.now.Day()
	sorted := func(l welfare.Looked) []model.Day { return slices.Sorted(slices.Values(k.Looked[l])) }
	if got, want := sorted(welfare.LookedClimate), []model.Day{today - 29, today - 9, today - 4}; !slices.Equal(got, want) {
		t.Errorf("climate read on %v, want %v", got, want)
	}
	if got, want := sorted(welfare.LookedCleaning), []model.Day{today - 40, today - 29, today - 9, today - 4}; !slices.Equal(got, want) {
		t.Errorf("cleaned on %v, want %v", got, want)
	}
	if moved := days(k.On[welfare.AfterMove]); !slices.Equal(moved, []model.Day{today - 4}) {
		t.Errorf("moved on %v", moved)
	}
}

// days are the days of moments, in their order, each once.
func days(of []model.Moment) (all []model.Day) {
	for _, m := range of {
		if d := m.Day(); !slices.Contains(all, d) {
			all = append(all, d)
		}
	}
	return all
}

func (r *room) read() (k atease.Known) {
	r.t.Helper()
	if err := r.View(func(v model.View) error {
		a, err := animals.Find(v, r.of)
		if err != nil {
			return err
		}
		k, err = atease.Read(v, r.tables, a, r.now)
		return err
	}); err != nil {
		r.t.Fatal(err)
	}
	return k
}

func TestRead_JoinsWhatIsKnown(t *testing.T) {
	r := newRoom(t)
	today := r.now.Day()
	if k := r.read(); len(k.Entries) > 0 || k.Rest != (welfare.Rest{}) || len(k.Looked) > 0 || len(k.On) > 0 || k.Unread > 0 {
		t.Errorf("of nothing: %+v", k)
	}
	r.do(welfare.Observe{Tables: r.tables, About: r.ago(2), Observation: welfare.Observation{Setting: knowledge.Untouched, Signs: []knowledge.SignID{"exploring"}}})
	r.do(welfare.Handle{Tables: r.tables, About: r.ago(1), Handling: welfare.Handling{Lifts: 1}})
	r.do(care.RecordShed{About: r.ago(40), Shed: care.Shed{Skin: care.Whole}})
	r.do(care.RecordBlue{About: r.ago(3)})
	r.do(care.Feed{About: r.ago(0), Meal: care.Meal{Prey: care.Rat, Outcome: care.Took}})
	r.do(care.Weigh{About: r.ago(4), Weight: care.Weight{Mass: model.Grams(1400)}})
	k := r.read()
	if len(k.Entries) != 2 || len(k.Visits) != 1 || k.Visits[0].Setting != knowledge.Untouched {
		t.Errorf("entries %+v", k.Entries)
	}
	for f, want := range map[welfare.Factor][]model.Day{welfare.AfterHandling: {today - 1}, welfare.AfterFeeding: {today}, welfare.BeforeShed: {today - 40}} {
		if !slices.Equal(days(k.On[f]), want) {
			t.Errorf("%s on %v, want %v", f, k.On[f], want)
		}
	}
	for l, want := range map[welfare.Looked][]model.Day{welfare.LookedMeal: {today}, welfare.LookedWeight: {today - 4}, welfare.LookedHandled: {today - 1}} {
		if !slices.Equal(k.Looked[l], want) {
			t.Errorf("%s looked at on %v, want %v", l, k.Looked[l], want)
		}
	}
	if k.Rest.Blue != today-3 || k.Rest.FedUntil.UTC != r.now.UTC+3600*int64(r.tables.Value(knowledge.ValueRestAfterMeal)) {
		t.Errorf("rest %+v", k.Rest)
	}
	if against := welfare.Better(r.tables, k.Rest, k.Entries, r.now); !slices.Equal(against, []welfare.Against{welfare.AgainstFed, welfare.AgainstBlue}) {
		t.Errorf("against %v", against)
	}
	r.do(husbandry.Move{Animal: r.of, Place: r.place, At: r.ago(6).At, Confirmed: model.Confirmed{"day.before-arrival"}})
	r.do(husbandry.Clean{Tables: r.tables, Places: []model.PlaceID{r.place}, At: r.ago(5).At, Cleaning: husbandry.Cleaning{Extent: husbandry.Spot}})
	r.do(husbandry.Clean{Tables: r.tables, Places: []model.PlaceID{r.place}, At: r.ago(7).At, Cleaning: husbandry.Cleaning{Extent: husbandry.Spot}})
	if k = r.read(); !slices.Equal(days(k.On[welfare.AfterCleaning]), []model.Day{today - 5}) || !slices.Equal(k.Looked[welfare.LookedCleaning], []model.Day{today - 5}) || len(k.On[welfare.AfterMove]) > 0 {
		t.Errorf("cleaned on %v, moved on %v", k.On[welfare.AfterCleaning], k.On[welfare.AfterMove])
	}
	r.do(care.RecordShed{About: r.ago(1), Shed: care.Shed{Skin: care.Whole}})
	if k = r.read(); k.Rest.Blue != 0 {
		t.Errorf("it has shed since: %+v", k.Rest)
	}
	r.do(care.Feed{About: r.ago(0), Meal: care.Meal{Outcome: care.Regurgitated}})
	if k = r.read(); k.Rest.BroughtUp <= today {
		t.Errorf("it brought prey up: %+v", k.Rest)
	}
}

// A contact is about the person: the page of the animal finds it, its timeline does not.
func TestContacts(t *testing.T) {
	r := newRoom(t)
	for days, what := range []welfare.Contacted{welfare.Bite, welfare.Child} {
		r.do(welfare.NoteContact{Person: r.who, At: r.ago(int64(days)).At, Confirmed: model.Confirmed{"day.before-arrival"}, PersonContact: welfare.PersonContact{What: what, Animal: r.of}})
	}
	grace := r.who
	r.do(people.Add{Person: people.Person{Name: "Grace"}})
	if err := r.View(func(v model.View) error {
		return v.All(model.TypePerson, func(d model.Document) bool {
			if d.ID != r.who.ID {
				grace.ID = d.ID
			}
			return true
		})
	}); err != nil {
		t.Fatal(err)
	}
	for _, hours := range []int64{12, 36} { // between those of the other
		at := r.now
		at.UTC -= hours * 3600
		r.do(welfare.NoteContact{Person: grace, At: at, Confirmed: model.Confirmed{"day.before-arrival"}, PersonContact: welfare.PersonContact{What: welfare.Contact, Animal: r.of}})
	}
	if err := r.View(func(v model.View) error {
		all, err := atease.Contacts(v, r.of)
		if err != nil {
			return err
		}
		if len(all) != 4 || all[0].Body.(welfare.PersonContact).What != welfare.Bite || all[0].Person != r.who {
			t.Errorf("%+v", all)
		}
		if !slices.IsSortedFunc(all, func(a, b welfare.Entry) int { return int(b.At.UTC - a.At.UTC) }) {
			t.Errorf("not the newest first: %+v", all)
		}
		if all, err = atease.Contacts(v, model.AnimalID{ID: r.who.ID}); err != nil || len(all) > 0 {
			t.Errorf("of another: %+v, %v", all, err)
		}
		return v.Timeline(r.of.Subject(), model.Beginning, model.EndOfTime, func(d model.Document) bool {
			t.Errorf("on the animal's timeline: %s", d.Kind)
			return true
		})
	}); err != nil {
		t.Fatal(err)
	}
}

// Breathing that a vet should hear of speaks against lifting for as long as it counts as lately.
func TestRead_BreathingForTheVet(t *testing.T) {
	for days, want := range map[int64]bool{0: true, 29: true, 30: false} {
		r := newRoom(t)
		r.do(welfare.Observe{Tables: r.tables, About: r.ago(days), Observation: welfare.Observation{Setting: knowledge.Untouched, Signs: []knowledge.SignID{"heavy-breathing"}}})
		if got := r.read().Rest.ForVet; got != want {
			t.Errorf("%d days ago: %v", days, got)
		}
	}
}

// Who is in quarantine, in a positive, near one, or being treated is better left alone; who is none of
// it is not. What was noted of one animal is not said of another.
func TestRead_WhatIsGoingOn(t *testing.T) {
	r := newRoom(t)
	yes := model.Confirmed{"day.before-arrival", "sample.kept-long", "sample.over-weekend"}
	document := func(c model.Command) model.ID {
		done, err := r.Do(c)
		if err != nil {
			t.Fatalf("%s: %v", c.Name(), err)
		}
		return done.Documents[0]
	}
	rest := func(of model.AnimalID, want welfare.Rest, when string) {
		t.Helper()
		had := r.of
		r.of = of
		if got := r.read().Rest; got.Apart != want.Apart || got.Positive != want.Positive || got.Treated != want.Treated {
			t.Errorf("%s: %+v", when, got)
		}
		r.of = had
	}
	first, room := r.of, model.PlaceID{ID: document(husbandry.AddPlaces{Branches: []husbandry.Branch{{Place: husbandry.Place{Kind: husbandry.Room, Name: "Back room"}}}})}
	animal := func(name string) model.AnimalID {
		id := model.AnimalID{ID: document(animals.Add{Animal: animals.Animal{Name: name, Status: animals.Kept}})}
		box := model.PlaceID{ID: document(husbandry.AddPlaces{Parent: room, Branches: []husbandry.Branch{{Place: husbandry.Place{Kind: husbandry.Tub, Name: name}}}})}
		r.do(husbandry.Move{Animal: id, Place: box, At: r.ago(30).At, Confirmed: yes})
		return id
	}
	found, near := animal("Dunnock"), animal("Siskin")
	r.do(quarantine.Begin{Tables: r.tables, Animal: first, Protocol: "python", Arrived: r.ago(10).At, Confirmed: yes})
	rest(first, welfare.Rest{Apart: true}, "in quarantine")
	rest(near, welfare.Rest{}, "in none")
	sample := model.SampleID{ID: document(samples.Prepare{Tables: r.tables, Each: []samples.New{{Animals: []model.AnimalID{found}, Sample: samples.Sample{Material: "choanal-swab", For: []knowledge.AgentID{"serpentovirus"}, Taken: r.ago(8).At}}}, Confirmed: yes})}
	r.do(samples.Enter{Tables: r.tables, At: r.ago(1).At, Rows: []samples.Row{{On: samples.On{ID: sample, Base: 1}, Found: []samples.Found{{Of: "serpentovirus", Outcome: samples.Detected}}}}, Confirmed: yes})
	rest(found, welfare.Rest{Positive: true}, "detected in it")
	rest(near, welfare.Rest{Positive: true}, "near it")
	rest(first, welfare.Rest{Apart: true}, "far from it")
	vet := model.PersonID{ID: document(people.Add{Person: people.Person{Name: "Dr Vet", Roles: []people.Role{people.Vet}}})}
	course := medicine.PrescriptionID{ID: document(medicine.Prescribe{Tables: r.tables, Animal: first, At: r.now, Prescription: medicine.Prescription{Medicine: "Ointment", Vet: vet, Form: medicine.InWords, Route: medicine.OnSkin,
		Begins: r.now, Steps: []medicine.Step{{Day: 1, Times: 3, Every: 24, Words: "a thin layer"}}}})}
	rest(first, welfare.Rest{Apart: true, Treated: true}, "being treated")
	rest(near, welfare.Rest{Positive: true}, "another is treated")
	r.do(care.WriteNote{About: care.About{Animal: first, At: r.now}, Note: care.Note{Text: "calm"}})
	rest(first, welfare.Rest{Apart: true, Treated: true}, "something was noted since")
	illegible := model.Document{ID: model.ID{77}, Type: model.TypeQuarantine, Version: 1, At: r.ago(3).At, Subjects: []model.Subject{near.Subject()}, Body: []byte(`{"protocol":7}`)}
	r.do(storetest.Put{Documents: []model.Document{illegible}})
	rest(near, welfare.Rest{Positive: true, Apart: true}, "a quarantine that cannot be read")
	r.do(medicine.End{ID: course, Base: 1, At: r.now, Why: medicine.VetsWord, Note: "it has healed"})
	rest(first, welfare.Rest{Apart: true}, "treated no more")
}

// A change is judged beside all other changes of the animal, whatever visits those are judged
// by, and not beside itself.
func TestHelped_BesideTheOthers(t *testing.T) {
	r := newRoom(t)
	for week := range int64(12) {
		o := welfare.Observation{Setting: knowledge.Untouched, Signs: []knowledge.SignID{"hissing", "restless"}}
		if week < 6 {
			o.Signs = []knowledge.SignID{"exploring"}
		}
		r.do(welfare.Observe{Tables: r.tables, About: r.ago(7*week + 1), Observation: o})
	}
	try := func(days int64, in knowledge.Setting) {
		r.do(welfare.Try{About: r.ago(days), Change: welfare.Change{What: "x", Setting: in, Hoped: welfare.LessUnease}})
	}
	judged := func(want welfare.Verdict, others int) {
		t.Helper()
		k := r.read()
		for _, e := range k.Entries {
			if c, is := e.Body.(welfare.Change); is && e.At.Day() == r.now.Day()-42 && c.Setting == knowledge.Untouched {
				if h, err := atease.Helped(r.tables, k, e, c, r.now.Day()); err != nil || h.Verdict != want || h.Others != others {
					t.Errorf("%+v, %v; want %s beside %d", h, err, want, others)
				}
				return
			}
		}
		t.Error("no change is kept")
	}
	try(42, knowledge.Untouched)
	judged(welfare.Helped, 0)
	try(30, knowledge.Feeding)
	judged(welfare.BetterSince, 1)
	try(20, knowledge.Untouched)
	judged(welfare.BetterSince, 2)
}
