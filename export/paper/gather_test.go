package paper_test

import (
	"bytes"
	"errors"
	"image"
	"image/jpeg"
	"strings"
	"testing"
	"time"

	"coilward/export/paper"
	"coilward/export/papertest"
	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/collection"
	"coilward/model/exam"
	"coilward/model/knowledge"
	"coilward/model/newcomers"
	"coilward/model/people"
	"coilward/model/quarantine"
	"coilward/model/storetest"
)

// kept is a collection with one animal, for as long as a test goes on.
type kept struct {
	t      testing.TB
	c      *collection.Collection
	clock  *storetest.Clock
	tables *knowledge.Tables
	animal model.AnimalID
	by     model.PersonID
}

func keep(t testing.TB) *kept {
	k := &kept{t: t, tables: papertest.Tables(t)}
	k.c, k.clock = storetest.New(t)
	k.by.ID = k.do(people.Add{Person: people.Person{Name: "Mira"}})
	k.animal.ID = k.do(animals.Add{Animal: animals.Animal{Name: "Kestrel", Species: "python-regius", Status: animals.Kept}})
	return k
}

// do does one thing, an hour later than the last, and returns what it made.
func (k *kept) do(c model.Command) model.ID {
	k.t.Helper()
	k.clock.Pass(time.Hour)
	change, err := k.c.Do(c)
	if err != nil {
		k.t.Fatalf("%s: %v", c.Name(), err)
	}
	return change.Documents[0]
}

func (k *kept) now() (m model.Moment) {
	k.view(func(v model.View) error { m = v.Now(); return nil })
	return m
}

func (k *kept) view(read func(model.View) error) {
	k.t.Helper()
	if err := k.c.View(read); err != nil {
		k.t.Fatal(err)
	}
}

func (k *kept) about() care.About { return care.About{Animal: k.animal, At: k.now(), By: k.by} }

// check walks the animal with clear stops but for one finding.
func (k *kept) check(stop knowledge.StopID, what knowledge.FindingID) {
	k.t.Helper()
	var begun exam.Beginning
	k.view(func(v model.View) (err error) {
		begun = exam.Beginning{Check: model.EntryID{ID: v.NewID()}, Animal: k.animal, At: v.Now()}
		begun.Problems, err = exam.Problems(v, k.animal)
		return err
	})
	d := exam.Begin(k.tables, begun)
	for at := begun.At; !d.AtEnd(); at.UTC += 30 {
		here, _ := d.Stop()
		if _, asking := d.Asking(); asking {
			d = k.press(d, '3', at) // worse
		}
		if here == stop && what != "" {
			d = d.Mark(k.tables, what, at)
		}
		d = k.press(d, exam.KeyEnter, at)
	}
	k.do(exam.Finish{Tables: k.tables, Draft: d, By: k.by})
}

func (k *kept) press(d exam.Draft, key exam.Key, at model.Moment) exam.Draft {
	k.t.Helper()
	next, err := d.Press(k.tables, key, at)
	if err != nil {
		k.t.Fatal(err)
	}
	return next
}

func (k *kept) facts() paper.Facts {
	k.t.Helper()
	var g paper.Gathered
	k.view(func(v model.View) (err error) {
		g, err = paper.Gather(v, paper.Gathering{Animal: k.animal, Tables: k.tables, Version: "1.0.0", Pictures: func(_ model.PhotoID, longest int) ([]byte, error) {
			var b bytes.Buffer
			err := jpeg.Encode(&b, image.NewGray(image.Rect(0, 0, longest, longest*2/3)), nil)
			return b.Bytes(), err
		}})
		return err
	})
	return g.Facts()
}

func TestGather(t *testing.T) {
	k := keep(t)
	k.do(care.Weigh{About: k.about(), Weight: care.Weight{Mass: model.Grams(1400), Gut: care.GutEmpty}})
	k.check("", "")
	k.do(care.Feed{About: k.about(), Meal: care.Meal{Prey: care.Rat, Outcome: care.Took}})
	k.do(care.RecordShed{About: k.about(), Shed: care.Shed{Skin: care.Whole}})
	k.do(care.RecordWaste{About: k.about(), Waste: care.Waste{Faeces: []care.Trait{care.Formed}}})
	k.do(care.WriteNote{About: k.about(), Note: care.Note{Text: "drank"}})
	k.check("snout", "nose-rub")
	k.do(care.Weigh{About: k.about(), Weight: care.Weight{Mass: model.Grams(1410), Gut: care.GutFed}})
	k.check("", "")
	f := k.facts()
	if len(f.Checks) != 3 || len(f.Weights) != 2 || len(f.Meals) != 1 || len(f.Sheds) != 1 || len(f.Waste) != 1 || len(f.Notes) != 1 || f.Entries != 9 {
		t.Errorf("gathered %d checks, %d weights, %d meals, %d sheds, %d waste, %d notes of %d entries", len(f.Checks), len(f.Weights), len(f.Meals), len(f.Sheds), len(f.Waste), len(f.Notes), f.Entries)
	}
	if f.Weights[0].Body.Mass.Milligrams != 1_400_000 || f.Checks[0].At.UTC > f.Checks[2].At.UTC {
		t.Error("the oldest does not come first")
	}
	if f.Checks[1].By != "Mira" || f.Notes[0].By != "Mira" {
		t.Errorf("by %q and %q", f.Checks[1].By, f.Notes[0].By)
	}
	if len(f.Problems) != 1 || len(f.Problems[0].Glimpses) != 2 {
		t.Fatalf("problems %+v", f.Problems)
	}
	plain := paper.Plain(paper.HealthRecord(f, papertest.Keys{}, paper.A4))
	for _, want := range []string{"(1)", "finding.nose-rub, paper.where.rough{Stop=paper.stop.snout}", "standing.worse", "paper.unknown.never paper.stop.mouth", "urgency."} {
		if !strings.Contains(plain, want) {
			t.Errorf("the record does not say %q", want)
		}
	}
}

func TestAnEmergencyStandsUntilAVetClosesIt(t *testing.T) {
	k := keep(t)
	k.check("mouth", "bleeding")
	first := func() string {
		return paper.Plain(paper.HealthRecord(k.facts(), papertest.Keys{}, paper.A4))
	}
	if plain := first(); !strings.Contains(plain, "paper.sentence.emergency") {
		t.Errorf("blood in the mouth is no open emergency:\n%s", plain)
	}
	k.do(exam.Close{Problem: k.facts().Problems[0].ID, At: k.now(), Note: "seen, a loose tooth"})
	if plain := first(); strings.Contains(plain, "paper.sentence.emergency") || !strings.Contains(plain, "standing.closed") {
		t.Errorf("a closed emergency stands open:\n%s", plain)
	}
}

// foreign writes an entry of a kind that a newer version may bring.
type foreign struct{ about model.AnimalID }

func (foreign) Name() string { return "test.foreign" }

func (f foreign) Plan(v model.View) (model.Writes, error) {
	d := model.Document{Type: model.TypeEntry, ID: v.NewID(), Kind: "swab", At: v.Now(), Subjects: []model.Subject{f.about.Subject()}}
	err := d.Encode(7, "x")
	return model.Writes{Put: []model.Document{d}, Label: model.Label{Key: "test"}}, err
}

func TestEntriesOfUnknownKindsAreMentioned(t *testing.T) {
	k := keep(t)
	k.do(foreign{k.animal})
	f := k.facts()
	if f.Unknown["swab"] != 1 || !strings.Contains(paper.Plain(paper.HealthRecord(f, papertest.Keys{}, paper.A4)), "paper.unknown.kind{Kind=swab}×1") {
		t.Errorf("unknown kinds: %v", f.Unknown)
	}
}

// One entry that cannot be read does not keep the rest from being printed: it is
// counted and named.
func TestEntriesThatCannotBeReadAreMentioned(t *testing.T) {
	k := keep(t)
	var all []model.Document
	put := func(kind, body string) {
		all = append(all, model.Document{Type: model.TypeEntry, ID: model.ID{7, byte(len(all))}, Kind: kind, Version: 1, At: k.now(), Subjects: []model.Subject{k.animal.Subject()}, Body: []byte(body)})
	}
	put("weight", `{"mass":{"mg":-9223372036854775808}}`)
	put("weight", `{"mass":"heavy"}`)
	put("meal", `[]`)
	put("check", `"gone"`)
	put("", `{}`)
	all[4].Type = model.TypeProblem
	k.do(storetest.Put{Documents: all})
	f := k.facts()
	for kind, want := range map[string]int{"weight": 2, "meal": 1, "check": 1, "problem": 1} {
		if f.Unknown[kind] != want {
			t.Errorf("%d of kind %s could not be read, want %d", f.Unknown[kind], kind, want)
		}
	}
	plain := paper.Plain(paper.HealthRecord(f, papertest.Keys{}, paper.A4))
	if !strings.Contains(plain, "paper.unknown.kind{Kind=weight}×2") {
		t.Errorf("the record does not name them:\n%s", plain)
	}
}

// A look for mites is told by what was seen and where; one that says nothing is
// counted, and the rest is printed.
func TestGather_LooksForMites(t *testing.T) {
	k := keep(t)
	k.do(care.LookForMites{About: k.about(), MiteLook: care.MiteLook{Grade: care.OneMite, Where: []care.MiteWhere{care.OnAnimal}}})
	k.do(care.LookForMites{About: k.about(), MiteLook: care.MiteLook{Where: []care.MiteWhere{care.WaterBowl}}})
	hollow := model.Document{Type: model.TypeEntry, Kind: care.KindMiteLook, ID: model.ID{9}, At: k.now(), Subjects: []model.Subject{k.animal.Subject()}}
	if err := hollow.Encode(1, care.MiteLook{}); err != nil {
		t.Fatal(err)
	}
	k.do(storetest.Put{Documents: []model.Document{hollow}})
	f := k.facts()
	if len(f.MiteLooks) != 2 || f.MiteLooks[0].Body.Grade != care.OneMite || f.MiteLooks[1].Body.Grade != care.NoMites || f.MiteLooks[1].By != "Mira" {
		t.Errorf("%+v", f.MiteLooks)
	}
	if f.Unknown[care.KindMiteLook] != 1 {
		t.Errorf("unknown %v", f.Unknown)
	}
}

// A quarantine that cannot be read does not keep the record from being printed: it is
// counted and named, beside what it was that could not be read.
func TestAQuarantineThatCannotBeReadIsMentioned(t *testing.T) {
	k := keep(t)
	k.do(quarantine.Begin{Tables: k.tables, Animal: k.animal, Arrived: k.now(), Protocol: newcomers.Usual})
	if f := k.facts(); f.Quarantine == nil || f.Unknown[string(model.TypeQuarantine)] != 0 {
		t.Fatalf("read: %v", f.Unknown)
	}
	bad := model.Document{Type: model.TypeQuarantine, ID: model.ID{9}, Version: 1, At: k.now(), Subjects: []model.Subject{k.animal.Subject()}, Body: []byte("[]")}
	k.do(storetest.Put{Documents: []model.Document{bad}})
	if f := k.facts(); f.Quarantine == nil || f.Unknown[string(model.TypeQuarantine)] != 1 {
		t.Errorf("the open one can be read, an earlier one cannot: %+v, %v", f.Quarantine, f.Unknown)
	}
	k = keep(t)
	bad.Subjects = []model.Subject{k.animal.Subject()}
	k.do(storetest.Put{Documents: []model.Document{bad}})
	f := k.facts()
	if f.Quarantine != nil || f.Unknown[string(model.TypeQuarantine)] != 1 {
		t.Errorf("not read: %v", f.Unknown)
	}
	k.view(func(v model.View) error {
		var illegible *quarantine.Illegible
		if _, there, err := paper.GatherQuarantine(v, k.tables, k.animal); there || !errors.As(err, &illegible) {
			t.Errorf("a report of it: %v, %v", there, err)
		}
		return nil
	})
	for language, want := range map[string]string{"en": "one of kind “Quarantine”", "de": "einer der Art „Quarantäne“"} {
		if plain := paper.Plain(paper.HealthRecord(f, papertest.Text(t, language), paper.A4)); !strings.Contains(plain, want) {
			t.Errorf("%q is not said:\n%s", want, plain)
		}
	}
	k = keep(t)
	k.do(quarantine.Begin{Tables: k.tables, Animal: k.animal, Arrived: k.now(), Protocol: newcomers.Usual})
	meal := model.Document{Type: model.TypeEntry, Kind: care.KindMeal, ID: model.ID{9}, Version: 1, At: k.now(), Subjects: []model.Subject{k.animal.Subject()}, Body: []byte("[]")}
	k.do(storetest.Put{Documents: []model.Document{meal}})
	if f := k.facts(); f.Unknown[string(model.TypeQuarantine)] != 1 || f.Unknown[care.KindMeal] != 1 {
		t.Errorf("a meal of it is not read: %v", f.Unknown)
	}
}
