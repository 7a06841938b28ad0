package chances_test

import (
	"fmt"
	"math"
	"reflect"
	"slices"
	"testing"
	"time"

	"coilward/assets"
	"coilward/model"
	"coilward/model/animals"
	"coilward/model/chances"
	"coilward/model/collection"
	"coilward/model/contact"
	"coilward/model/evidence"
	"coilward/model/evidence/plan"
	"coilward/model/husbandry"
	"coilward/model/knowledge"
	"coilward/model/quarantine"
	"coilward/model/samples"
	"coilward/model/storetest"
)

// world is a house of two rooms: three animals in the loft, one in the cellar.
type world struct {
	testing.TB
	*collection.Collection
	tables               *knowledge.Tables
	loft, cellar         model.PlaceID
	boxes                []model.PlaceID
	ash, birch, elm, fir model.AnimalID
}

var yes = model.Confirmed{"day.before-arrival", "house.shared", "animal.gone-asks", "sample.kept-long", "sample.over-weekend", "sample.material-long", "quarantine.unmet", "quarantine.not-met"}

const virus, worms = knowledge.AgentID("serpentovirus"), knowledge.AgentID("worms-and-protozoa")

func (w *world) do(c model.Command) model.ID {
	w.Helper()
	done, err := w.Do(c)
	if err != nil {
		w.Fatalf("%s: %v", c.Name(), err)
	}
	return done.Documents[0]
}

func (w *world) on(ago int) (m model.Moment) {
	w.Helper()
	if err := w.View(func(v model.View) error {
		m = model.MomentOn(v.Now(), v.Now().Day()-model.Day(ago), model.Noon, model.ToDay)
		return nil
	}); err != nil {
		w.Fatal(err)
	}
	return m
}

func begin(t testing.TB) *world {
	t.Helper()
	w, _ := beginAt(t)
	return w
}

// beginAt is that with its clock.
func beginAt(t testing.TB) (*world, *storetest.Clock) {
	t.Helper()
	tables, err := knowledge.Load(assets.Knowledge())
	if err != nil {
		t.Fatal(err)
	}
	c, clock := storetest.New(t)
	w := &world{TB: t, Collection: c, tables: tables}
	place := func(in model.PlaceID, name string, kind husbandry.PlaceKind) model.PlaceID {
		return model.PlaceID{ID: w.do(husbandry.AddPlaces{Parent: in, Branches: []husbandry.Branch{{Place: husbandry.Place{Name: name, Kind: kind}}}})}
	}
	w.loft, w.cellar = place(model.PlaceID{}, "Loft", husbandry.Room), place(model.PlaceID{}, "Cellar", husbandry.Room)
	for _, name := range []string{"Box 1", "Box 2", "Box 3"} {
		w.boxes = append(w.boxes, place(w.loft, name, husbandry.Tub))
	}
	w.boxes = append(w.boxes, place(w.cellar, "Box 4", husbandry.Tub), place(w.cellar, "Box 5", husbandry.Tub))
	for i, name := range []string{"Ash", "Birch", "Elm", "Fir"} {
		*[]*model.AnimalID{&w.ash, &w.birch, &w.elm, &w.fir}[i] = w.animal(name, 400, w.boxes[i])
	}
	return w, clock
}

// animal came so many days ago and lives in a box since 300 days at the most.
func (w *world) animal(name string, ago int, box model.PlaceID) model.AnimalID {
	id := model.AnimalID{ID: w.do(animals.Add{Animal: animals.Animal{Name: name, Status: animals.Kept, Since: model.Date{Day: w.on(ago).Day(), Precision: model.ToDay}}})}
	w.do(husbandry.Move{Animal: id, Place: box, At: w.on(min(ago, 300)), Confirmed: yes})
	return id
}

func (w *world) sample(material knowledge.MaterialID, ago int, of knowledge.AgentID, found samples.Outcome, who ...model.AnimalID) model.SampleID {
	w.Helper()
	id := model.SampleID{ID: w.do(samples.Prepare{Tables: w.tables, Each: []samples.New{{Animals: who, Sample: samples.Sample{Material: material, For: []knowledge.AgentID{of}, Taken: w.on(ago)}}}, Confirmed: yes})}
	if found != samples.Pending {
		w.do(samples.Enter{Tables: w.tables, At: w.on(max(ago-5, 0)), Rows: []samples.Row{{On: samples.On{ID: id, Base: 1}, Found: []samples.Found{{Of: of, Outcome: found}}}}, Confirmed: yes})
	}
	return id
}

// quarantined has been in quarantine from a day on.
func (w *world) quarantined(id model.AnimalID, ago int) model.QuarantineID {
	w.Helper()
	return model.QuarantineID{ID: w.do(quarantine.Begin{Tables: w.tables, Animal: id, Protocol: "python", Arrived: w.on(ago), Confirmed: yes})}
}

func (w *world) read() (r *chances.Reader) {
	w.Helper()
	if err := w.View(func(v model.View) (err error) { r, err = chances.NewReader(v, w.tables); return err }); err != nil {
		w.Fatal(err)
	}
	return r
}

func (w *world) of(animal model.AnimalID, of knowledge.AgentID) chances.Chance {
	w.Helper()
	c, ok := w.read().Of(animal, of)
	if !ok {
		w.Fatalf("no figures of %s", of)
	}
	return c
}

func near(t *testing.T, what string, got, want float64) {
	t.Helper()
	if math.Abs(got-want) > 1e-9 {
		t.Errorf("%s: %.9f, want %.9f", what, got, want)
	}
}

// By hand, as in package evidence: 20 in 100 before any sample; after one swab that could
// see it .2 × .15 against .8 × .995.
func TestOf_OneSwab(t *testing.T) {
	w := begin(t)
	near(t, "before any", w.of(w.ash, virus).Now.Mid, .2)
	w.sample("oral-swab", 100, virus, samples.NotDetected, w.ash)
	c := w.of(w.ash, virus)
	near(t, "after one", c.Now.Mid, .2*.15/(.2*.15+.8*.995))
	if len(c.Steps) != 1 || c.Steps[0].Mute != "" || c.Steps[0].Early() || c.Steps[0].After != c.Now {
		t.Errorf("the steps are %+v", c.Steps)
	}
	near(t, "before its step", c.Steps[0].Before.Mid, .2)
	if !c.Assumed() || c.Begun.Why != chances.ByArrival || c.Begun.Day != w.on(400).Day() || c.Begun.Prior.ID != "serpentovirus-any" || len(c.Sights) != 1 {
		t.Errorf("it begins with %+v, seen by %+v", c.Begun, c.Sights)
	}
	if c.Act != evidence.Take || c.From != w.on(100-42).Day() && c.From != w.on(0).Day() {
		t.Errorf("what follows: %s from %v", c.Act, c.From)
	}
	// The low end rests on the low prior, the high sensitivity and the shortest latent time.
	near(t, "the low end", c.Now.Low, .05*.05/(.05*.05+.95*.995))
	near(t, "the high end", c.Now.High, .4*.4/(.4*.4+.6*.995))
}

func TestOf_WhatSaysNothing(t *testing.T) {
	w := begin(t)
	w.sample("blood", 100, virus, samples.NotDetected, w.ash)
	w.sample("oral-swab", 90, virus, samples.Inconclusive, w.ash)
	w.sample("oral-swab", 80, virus, samples.Inhibited, w.ash)
	w.sample("oral-swab", 70, virus, samples.NotDone, w.ash)
	w.sample("oral-swab", 60, worms, samples.NotDetected, w.ash)
	c := w.of(w.ash, virus)
	near(t, "nothing was learned", c.Now.Mid, .2)
	if len(c.Steps) != 4 || c.Steps[0].Mute != chances.Unfit || c.Steps[0].Sample.Material != "blood" {
		t.Errorf("the steps are %+v", c.Steps)
	}
	for _, s := range c.Steps[1:] {
		if s.Mute != chances.Unfound {
			t.Errorf("%s: %q", s.Outcome, s.Mute)
		}
	}
	if none, ok := w.read().Of(w.ash, "reptarenavirus"); ok || none.Known() || len(none.Steps) != 0 {
		t.Errorf("of what has no figures: %+v", none)
	}
	w.sample("blood", 50, "reptarenavirus", samples.NotDetected, w.ash)
	var things []knowledge.AgentID
	for _, c := range w.read().All(w.ash) {
		things = append(things, c.Of)
	}
	if len(things) != 6 || things[1] != "reptarenavirus" {
		t.Errorf("told of %v", things)
	}
}

func TestOf_PoolNamesWhoSharedIt(t *testing.T) {
	w := begin(t)
	w.sample("choanal-swab", 100, virus, samples.NotDetected, w.ash, w.birch, w.elm)
	pooled, single := w.of(w.ash, virus), 0.0
	w.sample("choanal-swab", 100, virus, samples.NotDetected, w.fir)
	single = w.of(w.fir, virus).Now.Mid
	if !(pooled.Now.Mid > single && pooled.Now.Mid < .2) || len(pooled.Steps[0].Sample.Animals) != 3 {
		t.Errorf("a pool of three says %v, a swab alone %v", pooled.Now.Mid, single)
	}
}

func TestOf_TooEarly(t *testing.T) {
	w := begin(t)
	late := w.animal("Gorse", 60, w.boxes[4])
	w.sample("oral-swab", 55, virus, samples.NotDetected, late)
	c := w.of(late, virus)
	if near(t, "within the latent days", c.Now.Mid, .2); !c.Steps[0].Early() {
		t.Error("the step does not say that it was too early")
	}
	w.sample("oral-swab", 46, virus, samples.NotDetected, late)
	if c = w.of(late, virus); c.Steps[1].Early() {
		t.Error("on the last latent day and after it is early no more")
	}
	if c.Steps[1].Soon != chances.AtTheLongest { // 14 days of 42
		t.Errorf("after the latent days assumed: %q", c.Steps[1].Soon)
	}
	w.sample("oral-swab", 18, virus, samples.NotDetected, late)
	if got := w.of(late, virus).Steps[2].Soon; got != "" {
		t.Errorf("42 days after it came: %q", got)
	}
	near(t, "14 days after", c.Now.Mid, .2*.15*.995/(.2*.15*.995+.8*.995*.995))
	found := w.animal("Hazel", 60, w.boxes[4])
	w.sample("oral-swab", 55, virus, samples.Detected, found)
	if c := w.of(found, virus); c.Steps[0].Soon != chances.FoundEarly || c.Steps[0].Early() {
		t.Errorf("detected within the latent days: %q", c.Steps[0].Soon)
	}
}

// A newcomer in the room is a chance of catching what it may have brought, on each day
// until it is released; what the residents may have is none.
func TestOf_ANewcomerInTheRoom(t *testing.T) {
	w := begin(t)
	w.sample("oral-swab", 200, virus, samples.NotDetected, w.ash)
	before := w.of(w.ash, virus).Now.Mid
	q := w.quarantined(w.birch, 40)
	c := w.of(w.ash, virus)
	if len(c.Exposed) != 1 || c.Exposed[0].To != w.birch || !c.Exposed[0].Still || c.Exposed[0].By != chances.ByNewcomer || c.Exposed[0].From != w.on(40).Day() {
		t.Fatalf("exposed: %+v", c.Exposed)
	}
	// 41 days of 50 in 10,000 times 20 in 100.
	near(t, "in the room", c.Now.Mid, 1-(1-before)*math.Pow(1-.005*.2, 41))
	if c.Act != evidence.Apart {
		t.Errorf("what follows: %s", c.Act)
	}
	if c := w.of(w.fir, virus); len(c.Exposed) != 0 {
		t.Errorf("in another room: %+v", c.Exposed)
	}
	if c := w.of(w.birch, virus); len(c.Exposed) != 0 {
		t.Errorf("the newcomer by the residents: %+v", c.Exposed)
	}
	w.do(husbandry.Move{Animal: w.birch, Place: w.boxes[4], At: w.on(10), Confirmed: yes})
	c = w.of(w.ash, virus)
	if c.Exposed[0].Still || c.Exposed[0].Until != w.on(10).Day() || c.Act != evidence.Take || c.From != w.on(-4).Day() {
		t.Errorf("moved out: %+v, then %s from %v", c.Exposed, c.Act, c.From)
	}
	_ = q
}

// With an open positive of anything in the room, nobody is sent to part them: its page says who
// is moved.
func TestOf_ANewcomerBesideAPositive(t *testing.T) {
	w := begin(t)
	w.quarantined(w.birch, 40)
	if _, open := w.of(w.ash, virus).Open(); open {
		t.Error("a positive is open where nothing was detected")
	}
	w.sample("faeces", 3, worms, samples.Detected, w.fir)
	if got := w.of(w.ash, virus).Follows(w.names()).Key; got != "chance.act.apart-newcomer" {
		t.Errorf("beside what was detected in another room: %s", got)
	}
	w.sample("faeces", 3, worms, samples.Detected, w.elm)
	c := w.of(w.ash, virus)
	if to, open := c.Open(); c.Follows(w.names()).Key != "chance.act.apart-open" || !open || to.Agent != worms {
		t.Errorf("then %s, to %v, %v", c.Follows(w.names()).Key, to.Agent, open)
	}
}

// What does not go through a room keeps no day of a sample from coming.
func TestOf_ConfinedDoesNotRunAway(t *testing.T) {
	w := begin(t)
	w.quarantined(w.birch, 40)
	if c := w.of(w.ash, worms); c.Act != evidence.Take || c.From != w.on(0).Day() {
		t.Errorf("then %s from %v, today is %v", c.Act, c.From, w.on(0).Day())
	}
}

// A sample that waits to be taken is not laid out again.
func TestOf_ASampleIsLaidOut(t *testing.T) {
	w := begin(t)
	lay := func(planned *samples.Planned, of knowledge.AgentID) {
		w.do(samples.Prepare{Tables: w.tables, Each: []samples.New{{Animals: []model.AnimalID{w.ash}, Sample: samples.Sample{Material: "oral-swab", For: []knowledge.AgentID{of}, Planned: planned}}}, Confirmed: yes})
	}
	follows := func() string { return w.of(w.ash, virus).Follows(w.names()).Key }
	lay(nil, "ferlavirus")
	if got := follows(); got != "chance.act.take-now" {
		t.Errorf("one for another thing: %s", got)
	}
	lay(&samples.Planned{Day: w.on(-9).Day(), Round: 1, Of: 1}, virus)
	if got := follows(); got != "chance.act.laid-ahead" || w.of(w.ash, virus).Laid() {
		t.Errorf("one for a day to come: %s", got)
	}
	if got := w.of(w.ash, virus).Follows(w.names()).Gaps["Day"]; got != w.on(-9).Day() {
		t.Errorf("it is laid out for %v", got)
	}
	lay(nil, virus)
	if got := follows(); got != "chance.act.laid" || !w.of(w.ash, virus).Laid() {
		t.Errorf("one that waits: %s", got)
	}
}

func TestOf_APositiveInTheRoom(t *testing.T) {
	w := begin(t)
	w.sample("oral-swab", 200, virus, samples.NotDetected, w.birch)
	w.sample("oral-swab", 30, virus, samples.Detected, w.birch)
	c := w.of(w.birch, virus)
	if c.Act != evidence.Vet || c.Now.Mid < .8 {
		t.Errorf("it was detected: %v, then %s", c.Now, c.Act)
	}
	c = w.of(w.ash, virus)
	if len(c.Exposed) != 1 || c.Exposed[0].By != chances.ByPositive || c.Exposed[0].To != w.birch || c.Exposed[0].From != w.on(200).Day() {
		t.Fatalf("near it: %+v", c.Exposed)
	}
	near(t, "near it", c.Now.Mid, 1-.8*math.Pow(1-.005, 201))
	w.quarantined(w.birch, 200) // a newcomer too: it is not counted twice
	if c := w.of(w.ash, virus); len(c.Exposed) != 1 {
		t.Errorf("counted twice: %+v", c.Exposed)
	}
}

func TestOf_WhatCanBeGotRidOfBeginsAnew(t *testing.T) {
	w := begin(t)
	for of, want := range map[knowledge.AgentID]chances.BegunWhy{worms: chances.ByCleared, virus: chances.ByArrival} {
		material := map[knowledge.AgentID]knowledge.MaterialID{worms: "faeces", virus: "oral-swab"}[of]
		s := w.sample(material, 60, of, samples.Detected, w.fir)
		p := contact.PositiveID{ID: w.do(contact.Open{Tables: w.tables, Sample: s, Agent: of})}
		if c := w.of(w.fir, of); c.Begun.Why != chances.ByArrival || c.Act != evidence.Vet {
			t.Errorf("%s while it is open: %+v", of, c.Begun)
		}
		w.do(contact.Close{ID: p, Base: 1, At: w.on(20), Why: contact.VetsWord, Note: "as said"})
		c := w.of(w.fir, of)
		if c.Begun.Why != want {
			t.Errorf("%s after it was closed: %+v", of, c.Begun)
		}
		if of == worms {
			if near(t, "before it is looked for again", c.Now.Mid, .2); c.Steps[0].Mute != chances.Earlier || c.Act != evidence.Take || c.Begun.Day != w.on(20).Day() {
				t.Errorf("the step before: %+v, then %s", c.Steps[0], c.Act)
			}
		} else if c.Now.Mid < .9 {
			t.Errorf("%s stays: %v", of, c.Now)
		}
	}
}

// What an animal was before it got rid of the thing still answers for a pool of that time:
// the other of the pool is not blamed for it.
func TestOf_APoolFromBeforeOneWasRidOfIt(t *testing.T) {
	w := begin(t)
	w.sample("faeces", 61, worms, samples.Detected, w.fir, w.ash)
	own := w.sample("faeces", 60, worms, samples.Detected, w.fir)
	w.sample("faeces", 60, worms, samples.NotDetected, w.ash)
	before := w.of(w.ash, worms).Now
	p := contact.PositiveID{ID: w.do(contact.Open{Tables: w.tables, Sample: own, Agent: worms})}
	w.do(contact.Close{ID: p, Base: 1, At: w.on(20), Why: contact.VetsWord, Note: "as said"})
	if after := w.of(w.ash, worms).Now; math.Abs(after.Mid-before.Mid) > .02 {
		t.Errorf("before the other was rid of it %v, after %v", before, after)
	}
	if c := w.of(w.fir, worms); c.Begun.Why != chances.ByCleared || math.Abs(c.Now.Mid-.2) > 1e-9 {
		t.Errorf("the one that is rid of it: %+v, %v", c.Begun, c.Now)
	}
}

func TestOf_AnAnswerOnItsWay(t *testing.T) {
	w := begin(t)
	w.sample("oral-swab", 3, virus, samples.Pending, w.fir)
	if c := w.of(w.fir, virus); c.Act != evidence.Await {
		t.Errorf("what follows: %s", c.Act)
	}
	w.sample("blood", 3, virus, samples.Pending, w.ash)
	if c := w.of(w.ash, virus); c.Act != evidence.Take {
		t.Errorf("of one that cannot say anything: %s", c.Act)
	}
}

func TestOf_NobodyNotedWhenItCame(t *testing.T) {
	w := begin(t)
	id := model.AnimalID{ID: w.do(animals.Add{Animal: animals.Animal{Name: "Hazel", Status: animals.Kept, Source: animals.SourceWild}})}
	c := w.of(id, virus)
	if c.Begun.Why != chances.ByRecords || c.Begun.Day != w.on(0).Day() || c.Begun.Prior.ID != "serpentovirus-wild" {
		t.Errorf("it begins with %+v", c.Begun)
	}
	w.sample("oral-swab", 50, virus, samples.NotDetected, id)
	if c := w.of(id, virus); c.Begun.Day != w.on(50).Day() {
		t.Errorf("with a sample before: %+v", c.Begun)
	}
}

func TestAtLeastOne(t *testing.T) {
	w := begin(t)
	r := w.read()
	one, _ := r.Of(w.ash, virus)
	all, ok := r.AtLeastOne([]model.AnimalID{w.ash, w.birch, w.fir}, virus)
	if !ok {
		t.Fatal("no figure")
	}
	near(t, "of three that share no sample", all.Chance.Mid, 1-math.Pow(1-one.Now.Mid, 3))
	if _, ok := r.AtLeastOne(nil, virus); ok {
		t.Error("a figure of nobody")
	}
	if _, ok := r.AtLeastOne([]model.AnimalID{w.ash}, "reptarenavirus"); ok {
		t.Error("a figure of what has none")
	}
	w.sample("choanal-swab", 100, virus, samples.NotDetected, w.ash, w.birch)
	r = w.read()
	fewer, _ := r.AtLeastOne([]model.AnimalID{w.ash, w.birch, w.ash}, virus)
	if one, _ := r.Of(w.ash, virus); !(fewer.Chance.Mid > one.Now.Mid && fewer.Chance.Mid < 1-math.Pow(1-one.Now.Mid, 2)+.02) {
		t.Errorf("of two that share one: %v, of each %v", fewer, one.Now)
	}
}

// Every row of the tables is one of which the engine works something out.
func TestTables_AreSuchThatChancesCanBeWorkedOut(t *testing.T) {
	w := begin(t)
	for _, s := range w.tables.Sights() {
		if refused := chances.Way(s).Check(); refused != nil {
			t.Errorf("%s: %v", s.ID, refused)
		}
	}
}

func TestCourse(t *testing.T) {
	w := begin(t)
	w.sample("oral-swab", 100, virus, samples.NotDetected, w.ash)
	w.quarantined(w.birch, 60)
	w.do(husbandry.Move{Animal: w.birch, Place: w.boxes[4], At: w.on(20), Confirmed: yes})
	c := w.of(w.ash, virus)
	course := c.Course()
	var days []model.Day
	for i, p := range course {
		days = append(days, p.Day)
		if i > 0 && p.Day < course[i-1].Day {
			t.Errorf("the days go back: %v", course)
		}
	}
	want := []model.Day{w.on(400).Day(), w.on(100).Day(), w.on(100).Day(), w.on(61).Day(), w.on(20).Day(), w.on(0).Day()}
	if len(days) != len(want) {
		t.Fatalf("the days are %v, want %v", days, want)
	}
	for i := range want {
		if days[i] != want[i] {
			t.Errorf("day %d is %v, want %v", i, days[i], want[i])
		}
	}
	near(t, "it ends with what it is", course[5].Chance.Mid, c.Now.Mid)
	if !(course[1].Chance.Mid > course[2].Chance.Mid && course[3].Chance.Mid < course[4].Chance.Mid && course[4].Chance.Mid == course[5].Chance.Mid) {
		t.Errorf("the course is %v", course)
	}
	if none, _ := w.read().Of(w.ash, "reptarenavirus"); none.Course() != nil {
		t.Error("a course of what has no figures")
	}
}

// By which method a lab looked decides what the answer is worth: antibodies and what has no
// figures move nothing, and it is said why.
func TestOf_ByTheMethodOfTheLab(t *testing.T) {
	for by, want := range map[knowledge.Method]chances.Mute{"": "", knowledge.PCR: "", knowledge.Flotation: chances.Unrated, knowledge.Antibodies: chances.Met} {
		w := begin(t)
		before := w.of(w.ash, virus).Now
		id := model.SampleID{ID: w.do(samples.Prepare{Tables: w.tables, Each: []samples.New{{Animals: []model.AnimalID{w.ash}, Sample: samples.Sample{Material: "oral-swab", For: []knowledge.AgentID{virus}, Taken: w.on(100)}}}, Confirmed: yes})}
		w.do(samples.Enter{Tables: w.tables, At: w.on(90), Rows: []samples.Row{{On: samples.On{ID: id, Base: 1}, Found: []samples.Found{{Of: virus, Outcome: samples.NotDetected, Method: by}}}}, Confirmed: yes})
		c := w.of(w.ash, virus)
		if len(c.Steps) != 1 || c.Steps[0].Mute != want {
			t.Fatalf("by %q: %+v", by, c.Steps)
		}
		if moved := c.Now != before; moved != (want == "") {
			t.Errorf("by %q the chance moved from %v to %v", by, before, c.Now)
		}
	}
}

// All earlier samples count, by the row of the table that tells of each: who sheds little is missed
// by all of them. So when the plan was carried out and nothing was detected, the chance is what it
// promised.
func TestPlan_CountsEarlierSamplesOfAllRows(t *testing.T) {
	w, clock := beginAt(t)
	w.sample("tracheal-wash", 100, "ferlavirus", samples.NotDetected, w.ash)
	w.sample("cloacal-swab", 80, "ferlavirus", samples.NotDetected, w.ash)
	w.sample("oral-swab", 60, "ferlavirus", samples.NotDetected, w.ash)
	w.sample("tissue", 40, "ferlavirus", samples.NotDetected, w.ash)
	w.sample("tracheal-wash", 399, "ferlavirus", samples.NotDetected, w.ash) // within the latent days
	w.sample("oral-swab", 30, virus, samples.NotDetected, w.ash)
	r := w.read()
	p, _ := r.Plan([]model.AnimalID{w.ash}, "ferlavirus")
	sights := map[string]evidence.Way{}
	for _, s := range w.tables.Sights() {
		sights[s.ID] = chances.Way(s)
	}
	others := []plan.Missed{{By: sights["ferlavirus-wash"], Times: 1}, {By: sights["ferlavirus-tissue"], Times: 1}}
	if c, _ := r.Of(w.ash, "ferlavirus"); p.By.ID != "ferlavirus-swab" || p.Animals[0].Earlier != 2 || !slices.Equal(p.Animals[0].Others, others) || p.Animals[0].Chance != c.Now || len(c.Steps) != 5 {
		t.Errorf("by %s, of five samples %d count as its own, %+v as others: %+v", p.By.ID, p.Animals[0].Earlier, p.Animals[0].Others, c.Steps)
	}
	ready, err := p.Ready()
	if err != nil || ready[0].Kind != plan.TwoSwabs {
		t.Fatalf("%+v, %v", ready, err)
	}
	two, begun := ready[0].Plan, w.on(0).Day()
	clock.Pass(time.Duration(two.Known-begun) * 24 * time.Hour)
	for _, day := range two.Days {
		w.sample(p.Material, int(two.Known-day), "ferlavirus", samples.NotDetected, w.ash)
	}
	near(t, "when it was carried out", w.of(w.ash, "ferlavirus").Now.Mid, two.Most.Mid)
	for i := range p.Animals {
		p.Animals[i].Others = nil
	}
	if less, err := p.Ready(); err != nil || less[0].Most.Mid >= two.Most.Mid*(1-1e-6) {
		t.Errorf("as if the others had not been: %v, with them %v (%v)", less[0].Most.Mid, two.Most.Mid, err)
	}
}

// What is wanted is put in; where no pools can be planned, all are sampled singly and that is told.
func TestPlanned_Want(t *testing.T) {
	w := begin(t)
	r := w.read()
	wanted := plan.Facts{Target: .02, Price: plan.Price{Test: 1, Swab: 2}, Budget: 3, Latest: w.on(-99).Day(), Largest: 4, Rounds: 6, Apart: 7, Lab: plan.Lab{Rounds: 2, Pool: 3, Apart: 9}}
	for of, pools := range map[knowledge.AgentID]bool{virus: true, worms: false} {
		p, _ := r.Plan([]model.AnimalID{w.fir}, of)
		want := p.Facts
		want.Target, want.Price, want.Budget, want.Latest, want.Largest, want.Rounds, want.Apart, want.Lab = wanted.Target, wanted.Price, wanted.Budget, wanted.Latest, 4, 6, 7, wanted.Lab
		if !pools {
			want.Largest, want.Lab.Pool = 1, 1
		}
		p.Want(wanted)
		if !reflect.DeepEqual(p.Facts, want) || p.Singly != !pools || p.Check() != nil {
			t.Errorf("%s: %+v, singly %v, want %+v (%v)", of, p.Facts, p.Singly, want, p.Check())
		}
	}
	for _, few := range []plan.Facts{{Largest: 1, Lab: plan.Lab{Rounds: 1, Pool: 1, Apart: 1}}, {Largest: 1}} {
		p, _ := r.Plan([]model.AnimalID{w.fir}, worms)
		if p.Want(few); p.Singly {
			t.Errorf("%+v: no pools are wanted", few)
		}
	}
}

// A plan is laid out by its rounds: each pool one sample on each day on which it takes part.
func TestPlanned_Samples(t *testing.T) {
	a := []model.AnimalID{{ID: model.ID{1}}, {ID: model.ID{2}}, {ID: model.ID{3}}, {ID: model.ID{4}}}
	p := chances.Planned{Material: "oral-swab"}
	one := plan.Plan{Days: []model.Day{100, 142, 184}, Parts: []plan.Part{
		{Rounds: 3, Pools: []plan.Pool{{Animals: []int{2, 0}}}}, {Rounds: 1, Pools: []plan.Pool{{Animals: []int{1}}}}, {Rounds: 0, Pools: []plan.Pool{{Animals: []int{3}}}},
	}}
	var got []string
	for _, s := range p.Samples(one, a, virus) {
		if s.Sample.Material != "oral-swab" || !slices.Equal(s.Sample.For, []knowledge.AgentID{virus}) || s.Sample.Stage() != samples.ToTake {
			t.Errorf("a sample of %+v", s.Sample)
		}
		var of []byte
		for _, id := range s.Animals {
			of = append(of, '0'+id.ID[0])
		}
		got = append(got, fmt.Sprintf("%d of %d on %d: %s", s.Sample.Planned.Round, s.Sample.Planned.Of, int(s.Sample.Planned.Day), of))
	}
	want := []string{"1 of 3 on 100: 31", "2 of 3 on 142: 31", "3 of 3 on 184: 31", "3 of 3 on 184: 2"}
	if !slices.Equal(got, want) {
		t.Errorf("laid out are %q, want %q", got, want)
	}
}

func TestPlan(t *testing.T) {
	w := begin(t)
	w.sample("oral-swab", 100, virus, samples.NotDetected, w.ash)
	w.sample("oral-swab", 399, virus, samples.NotDetected, w.ash) // within the latent days
	w.sample("oral-swab", 90, virus, samples.NotDetected, w.ash, w.birch)
	w.quarantined(w.elm, 30)
	r := w.read()
	p, ok := r.Plan([]model.AnimalID{w.ash, w.fir}, virus)
	if !ok || p.By.ID != "serpentovirus-swab" || p.Material != "choanal-swab" || p.Check() != nil || len(p.Detected) != 0 || p.Largest < 2 {
		t.Fatalf("a plan by %s of %s: %v, detected in %v", p.By.ID, p.Material, p.Check(), p.Detected)
	}
	ash, _ := r.Of(w.ash, virus)
	if a := p.Animals[0]; a.Chance != ash.Now || a.Earlier != 2 || !a.Ongoing || a.Exposed != w.on(0).Day() {
		t.Errorf("one near a newcomer: %+v", a)
	}
	if ash.Next != "oral-swab" {
		t.Errorf("the next sample is of %s, not as the last", ash.Next)
	}
	if a := p.Animals[1]; a.Earlier != 0 || a.Ongoing || a.Exposed != w.on(400).Day() {
		t.Errorf("one in another room: %+v", a)
	}
	if p.Latent.Mid != 14 || p.LabDays != 17 || p.Target != .01 || p.Today != w.on(0).Day() {
		t.Errorf("it rests on %+v", p.Facts)
	}
	if p.Animals[0].Alone || p.Animals[1].Alone || len(p.Alone) != 0 {
		t.Errorf("in no quarantine, and sampled singly: %v", p.Alone)
	}
	if p, _ := r.Plan([]model.AnimalID{w.fir, w.elm}, virus); p.Animals[0].Alone || !p.Animals[1].Alone || !slices.Equal(p.Alone, []model.AnimalID{w.elm}) {
		t.Errorf("one in quarantine is not sampled singly: %v", p.Alone)
	}
	// What goes by droppings holds nobody back for the room, and only PCR is pooled.
	p, _ = r.Plan([]model.AnimalID{w.ash}, worms)
	if p.Animals[0].Ongoing || p.Largest != 1 || p.Material != "faeces" {
		t.Errorf("of worms: %+v, in %s", p.Facts, p.Material)
	}
	if c, _ := r.Of(w.ash, worms); len(c.Exposed) != 1 || c.Act == evidence.Apart {
		t.Errorf("of worms: exposed %+v, then %s", c.Exposed, c.Act)
	}
	for of, want := range map[knowledge.AgentID]knowledge.MaterialID{"ferlavirus": "oral-swab", "cryptosporidium-serpentis": "faeces"} {
		if p, _ := r.Plan([]model.AnimalID{w.ash}, of); p.Material != want {
			t.Errorf("%s by %s of %s, want what a keeper takes", of, p.By.ID, p.Material)
		}
	}
	if _, ok := r.Plan([]model.AnimalID{w.ash}, "reptarenavirus"); ok {
		t.Error("a plan for what no sample finds")
	}
	if _, ok := r.Plan(nil, virus); ok {
		t.Error("a plan for nobody")
	}
	w.sample("oral-swab", 10, virus, samples.Detected, w.fir)
	if p, _ := w.read().Plan([]model.AnimalID{w.ash, w.fir}, virus); len(p.Detected) != 1 || p.Detected[0] != w.fir {
		t.Errorf("detected in %v", p.Detected)
	}
}

// What was detected in a sample of which no figure speaks is not left out of the answer: no
// number is told that would be the one of an animal in which nothing was found.
func TestOf_DetectedInWhatHasNoFigure(t *testing.T) {
	for _, c := range []struct {
		name     string
		of       knowledge.AgentID
		material knowledge.MaterialID
		says     string
		why      string
	}{
		{"a sample that is not fit for it", virus, "blood", "chance.none-detected", "chance.none-detected-why"},
		{"a thing of which there are no figures", "reptarenavirus", "blood", "chance.none", "chance.none-why"},
	} {
		t.Run(c.name, func(t *testing.T) {
			w := begin(t)
			w.sample("oral-swab", 60, virus, samples.NotDetected, w.ash)
			w.sample(c.material, 50, c.of, samples.Detected, w.ash)
			got, ok := w.read().Of(w.ash, c.of)
			if ok || got.Known() || got.Act != evidence.Vet {
				t.Errorf("it is known %v, what follows %q", ok, got.Act)
			}
			if _, there := got.Open(); !there {
				t.Error("no positive is led to")
			}
			named := chances.Named{Name: "Ash"}
			if says, why := got.Says(named).Key, got.WhyNone().Key; says != c.says || why != c.why {
				t.Errorf("it says %s, %s", says, why)
			}
			if len(got.Course()) != 0 || len(got.Assumes(named)) != 0 {
				t.Error("there is a course, or something is assumed")
			}
			last := got.Steps[len(got.Steps)-1]
			if said := last.Says(); len(said) != 1 || said[0].Key != "chance.mute.detected" {
				t.Errorf("the sample says %v", said)
			}
			if follows := got.Follows(named).Key; follows != "chance.act.vet-sample" {
				t.Errorf("what follows is %s", follows)
			}
			w.sample("oral-swab", 40, virus, samples.Detected, w.ash) // of this one figures speak
			if reckoned, ok := w.read().Of(w.ash, virus); !ok || reckoned.Now.Mid < .5 {
				t.Errorf("with one that counts: %v, %v", ok, reckoned.Now)
			}
		})
	}
}

// Nor is it left out of what at least one of several carries.
func TestOfRoom_DetectedInWhatHasNoFigure(t *testing.T) {
	w := begin(t)
	w.sample("blood", 50, virus, samples.Detected, w.ash)
	for of, want := range map[knowledge.AgentID]bool{virus: true, worms: false} {
		if all, ok := w.read().AtLeastOne([]model.AnimalID{w.ash, w.birch}, of); !ok || all.Silent != want {
			t.Errorf("%s: %v, %v", of, ok, all.Silent)
		}
	}
	if other, _ := w.read().AtLeastOne([]model.AnimalID{w.birch}, virus); other.Silent {
		t.Error("of another alone it says so too")
	}
}
