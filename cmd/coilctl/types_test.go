package main

import (
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"coilward/assets"
	"coilward/model"
	"coilward/model/animals"
	"coilward/model/assumed"
	"coilward/model/care"
	"coilward/model/climate"
	"coilward/model/collection"
	"coilward/model/contact"
	"coilward/model/due"
	"coilward/model/feeders"
	"coilward/model/husbandry"
	"coilward/model/knowledge"
	"coilward/model/medicine"
	"coilward/model/people"
	"coilward/model/quarantine"
	"coilward/model/round"
	"coilward/model/samples"
	"coilward/model/store"
)

// within does something to the collection of a folder.
func within(t *testing.T, folder string, do func(*collection.Collection)) {
	t.Helper()
	s, err := store.Open(folder, store.Options{Now: now, Verifier: store.VerifyHere})
	if err != nil {
		t.Fatal(err)
	}
	defer func() {
		if err := s.Close(); err != nil {
			t.Error(err)
		}
	}()
	c, err := collection.New(s, collection.Options{Now: now})
	if err != nil {
		t.Fatal(err)
	}
	do(c)
}

// spoilt puts in a document of each of these types whose body nobody can read.
type spoilt []model.DocumentType

func (spoilt) Name() string { return "test.spoilt" }

func (s spoilt) Plan(v model.View) (model.Writes, error) {
	w := model.Writes{Label: model.Label{Key: "care.done.note"}}
	for _, of := range s {
		d := model.Document{Type: of, ID: v.NewID(), Version: 1, At: v.Now(), Body: json.RawMessage(`7`)}
		if of == model.TypeEntry {
			d.Kind = care.KindNote
		}
		w.Put = append(w.Put, d)
	}
	return w, nil
}

// answered puts in an answer to something that was due.
type answered struct {
	animal model.AnimalID
	visit  medicine.VisitID // zero: a person gave it
}

func (answered) Name() string { return "test.answered" }

func (a answered) Plan(v model.View) (model.Writes, error) {
	d := model.Document{Type: model.TypeAnswer, ID: v.NewID(), At: v.Now(), Subjects: []model.Subject{a.animal.Subject()}}
	err := d.Encode(due.Version, due.Answer{Key: due.Key{Subject: a.animal.Subject(), Job: due.Weigh, Cause: "two weeks"}, What: due.NotNeeded, Why: "weighed elsewhere", Visit: a.visit})
	return model.Writes{Put: []model.Document{d}, Label: model.Label{Key: "care.done.note"}}, err
}

// What verify reads are documents of every type.
func TestVerifyReadsEveryType(t *testing.T) {
	folder := kept(t, "Kestrel")
	within(t, folder, func(c *collection.Collection) {
		if _, err := c.Do(spoilt(model.DocumentTypes())); err != nil {
			t.Fatal(err)
		}
	})
	code, out, _ := ctl("en", "verify", folder)
	if n := strings.Count(out, "\n"); code != exitFailed || n != len(model.DocumentTypes()) {
		t.Errorf("code %d, %d lines for %d spoilt documents:\n%s", code, n, len(model.DocumentTypes()), out)
	}
}

// A dump holds everything of a house, and what is loaded holds it again.
func TestDumpAndLoadCarryTheHouse(t *testing.T) {
	folder := kept(t, "Kestrel")
	within(t, folder, func(c *collection.Collection) {
		do := func(command model.Command) []model.ID {
			t.Helper()
			change, err := c.Do(command)
			if err != nil {
				t.Fatalf("%s: %v", command.Name(), err)
			}
			return change.Documents
		}
		var animal model.AnimalID
		err := c.View(func(v model.View) error {
			all, err := animals.All(v)
			animal = all[0].ID
			return err
		})
		if err != nil {
			t.Fatal(err)
		}
		at := model.MomentOf(now())
		box := do(husbandry.AddPlaces{Branches: []husbandry.Branch{{Place: husbandry.Place{Name: "Loft tub", Kind: husbandry.Tub}}}})[0]
		do(husbandry.Move{Animal: animal, Place: model.PlaceID{ID: box}, At: at})
		do(husbandry.AddTool{Tool: husbandry.Tool{Name: "Long hook", Kind: husbandry.Hook}})
		scale := do(husbandry.AddInstrument{Instrument: husbandry.Instrument{Name: "Shelf scale", Kind: husbandry.Scale}})[0]
		do(husbandry.CheckInstrument{Instrument: model.InstrumentID{ID: scale}, At: at})
		do(climate.Note{Key: climate.Key{Place: model.PlaceID{ID: box}, Zone: climate.Warm}, At: at, Reading: climate.Reading{Temperature: 2840, Humidity: climate.NoHumidity}})
		do(people.Add{Person: people.Person{Name: "Mira"}})
		do(answered{animal: animal})
		tables, err := knowledge.Load(assets.Knowledge())
		if err != nil {
			t.Fatal(err)
		}
		do(quarantine.Begin{Tables: tables, Animal: animal, Arrived: at, Protocol: "python"})
		do(quarantine.ChangeProtocol{Tables: tables, Own: quarantine.Own{Name: "Longer", Protocol: tables.Protocols()[0]}})
		do(assumed.Change{Tables: tables, Own: assumed.Own{Row: assumed.Row{Table: assumed.Priors, ID: tables.Priors()[0].ID}, By: assumed.Vet, Why: "a survey nearby",
			Values: map[assumed.Figure]knowledge.Span{assumed.Prior: {Low: 10, Assumed: 20, High: 40}}}})
		do(samples.Prepare{Tables: tables, Each: []samples.New{{Animals: []model.AnimalID{animal}, Sample: samples.Sample{Kit: samples.Kit{Number: "KIT-7"}, Material: tables.Materials()[0].ID,
			For: []knowledge.AgentID{tables.Agents()[0].ID}}}}})
		sample := do(samples.Prepare{Tables: tables, Each: []samples.New{{Animals: []model.AnimalID{animal}, Sample: samples.Sample{Kit: samples.Kit{Number: "KIT-8"}, Material: tables.Materials()[0].ID,
			For: []knowledge.AgentID{tables.Agents()[0].ID}, Taken: at}}}, Confirmed: model.Confirmed{"day.before-arrival"}})[0]
		do(samples.Enter{Tables: tables, At: at, Rows: []samples.Row{{On: samples.On{ID: model.SampleID{ID: sample}, Base: 1}, Found: []samples.Found{{Of: tables.Agents()[0].ID, Outcome: samples.Detected}}}}})
		do(contact.Open{Tables: tables, Sample: model.SampleID{ID: sample}, Agent: tables.Agents()[0].ID})
		do(feeders.Add{Batch: feeders.Batch{Name: "Autumn rats", Prey: care.Rat, Count: 50}})
		do(round.Begin{Tables: tables, Order: tables.Rounds()[0].ID, Stops: []round.Planned{{Place: model.PlaceID{ID: box}, Animals: []model.AnimalID{animal}}}})
		vet := do(people.Add{Person: people.Person{Name: "Dr Ada Fern", Roles: []people.Role{people.Vet}}})[0]
		do(medicine.Prescribe{Tables: tables, Animal: animal, At: at, Prescription: medicine.Prescription{Medicine: "Ointment", Vet: model.PersonID{ID: vet}, Form: medicine.InWords, Route: medicine.OnSkin, Begins: at,
			Steps: []medicine.Step{{Day: 1, Times: 1, Words: "a thin layer"}}}})
		asked := do(medicine.AskQuestion{Animal: animal, At: at, Words: "May it bathe?"})[0]
		do(due.HoldVisit{HoldVisit: medicine.HoldVisit{Animal: animal, At: at, Visit: medicine.Visit{Vet: model.PersonID{ID: vet}}, Answers: []medicine.Answered{{Question: medicine.QuestionID{ID: asked}, Base: 1, Said: "not yet"}}}})
	})
	file := filepath.Join(t.TempDir(), "all.jsonl")
	mustDo(t, "dump", "--out", file, folder)
	raw, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	for _, word := range []string{"Loft tub", `"type":"stay"`, "Long hook", "Shelf scale", husbandry.KindInstrumentCheck, `"type":"answer"`, "KIT-7", "Autumn rats", `"type":"round"`} {
		if !strings.Contains(string(raw), word) {
			t.Errorf("the dump does not hold %q", word)
		}
	}
	other := filepath.Join(t.TempDir(), "other")
	if out := mustDo(t, "load", file, "--collection", other); strings.Count(strings.TrimSpace(out), "\n") > 0 {
		t.Errorf("load says:\n%s", out)
	}
	within(t, other, func(c *collection.Collection) {
		err := c.View(func(v model.View) error {
			h, err := husbandry.ReadHouse(v)
			if err != nil {
				return err
			}
			if len(h.Places()) != 1 || len(h.Residents(v.Now())[h.Places()[0].ID]) != 1 {
				t.Errorf("loaded: %+v, in it %v", h.Places(), h.Residents(v.Now()))
			}
			for _, of := range model.DocumentTypes() {
				n := 0
				if err := v.All(of, func(model.Document) bool { n++; return true }); err != nil || n == 0 && of != model.TypeProblem {
					t.Errorf("%d of %s, %v", n, of, err)
				}
			}
			return nil
		})
		if err != nil {
			t.Fatal(err)
		}
	})
}

// Nothing that the program's own commands write is called unsound.
func TestTheSampleCollectionIsSound(t *testing.T) {
	folder := sampled(t)
	_, out, said := ctl("en", "verify", folder)
	if !strings.Contains(out, collectionFile+": every record is whole") {
		t.Errorf("says\n%s%s", out, said)
	}
}
