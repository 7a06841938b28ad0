package main

import (
	"encoding/csv"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/santhosh-tekuri/jsonschema/v6"

	"coilward/assets"
	"coilward/model"
	"coilward/model/animals"
	"coilward/model/assumed"
	"coilward/model/care"
	"coilward/model/collection"
	"coilward/model/contact"
	"coilward/model/demo"
	"coilward/model/due"
	"coilward/model/exam"
	"coilward/model/husbandry"
	"coilward/model/knowledge"
	"coilward/model/medicine"
	"coilward/model/newcomers"
	"coilward/model/people"
	"coilward/model/quarantine"
	"coilward/model/samples"
	"coilward/model/wording"
)

// sampled is a folder with the sample collection and a note that looks like a
// formula.
func sampled(t *testing.T) (folder string) {
	t.Helper()
	folder = kept(t)
	within(t, folder, func(c *collection.Collection) {
		languages, err := wording.Load(assets.Text())
		if err != nil {
			t.Fatal(err)
		}
		tables, err := knowledge.Load(assets.Knowledge())
		if err != nil {
			t.Fatal(err)
		}
		if err := demo.Fill(c, tables, languages.In("en", wording.Units{})); err != nil {
			t.Fatal(err)
		}
		done, err := c.Do(animals.Add{Animal: animals.Animal{Name: "@Formula", Code: "=1+1"}})
		if err != nil {
			t.Fatal(err)
		}
		about := care.About{Animal: model.AnimalID{ID: done.Documents[0]}, At: model.MomentOf(now().Add(-time.Hour))}
		if _, err := c.Do(care.WriteNote{About: about, Note: care.Note{Text: "=HYPERLINK(\"x\");\nsecond line"}}); err != nil {
			t.Fatal(err)
		}
	})
	return folder
}

// mark is what a record is called by within one collection.
var mark = regexp.MustCompile(`[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}`)

// rows are those of all CSV files of a folder, all marks alike, since they are new in
// each collection; samples stand in the order of their marks, so theirs are sorted.
func rows(t *testing.T, folder string) map[string][][]string {
	t.Helper()
	files, err := filepath.Glob(filepath.Join(folder, "*.csv"))
	if err != nil {
		t.Fatal(err)
	}
	all := map[string][][]string{}
	for _, path := range files {
		raw, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		lines, err := csv.NewReader(strings.NewReader(strings.TrimPrefix(string(raw), "\ufeff"))).ReadAll()
		if err != nil {
			t.Fatal(path, err)
		}
		for _, line := range lines {
			for i, cell := range line {
				line[i] = mark.ReplaceAllString(cell, "mark")
			}
		}
		if filepath.Base(path) == "Samples.csv" {
			slices.SortFunc(lines[1:], slices.Compare[[]string])
		}
		all[filepath.Base(path)] = lines
	}
	return all
}

func sameRows(t *testing.T, what string, got, want map[string][][]string) {
	t.Helper()
	for name, lines := range want {
		if len(got[name]) != len(lines) {
			t.Errorf("%s: %s has %d lines, want %d", what, name, len(got[name]), len(lines))
			continue
		}
		for i := range lines {
			if a, b := strings.Join(got[name][i], "|"), strings.Join(lines[i], "|"); a != b {
				t.Errorf("%s: %s, line %d:\n%s, want\n%s", what, name, i+1, a, b)
				break
			}
		}
	}
	if len(got) != len(want) {
		t.Errorf("%s: %d files, want %d", what, len(got), len(want))
	}
}

// What goes out as tables comes into an empty collection as it was: brought out
// once more, it is the same, but for the batches of feeders, which no table tells of.
func TestExportAndImport(t *testing.T) {
	folder, room := sampled(t), t.TempDir()
	said := mustDo(t, "export", "--collection", folder, "--out", filepath.Join(room, "en"), "--lang", "en")
	if !strings.Contains(said, "stand in no table") || !strings.Contains(said, "Weights: rows") {
		t.Errorf("export says:\n%s", said)
	}
	want := rows(t, filepath.Join(room, "en"))
	if len(want) != 8 || len(want["Animals.csv"]) < 11 || len(want["Meals.csv"]) < 500 {
		t.Fatalf("%d files, %d animals, %d meals", len(want), len(want["Animals.csv"]), len(want["Meals.csv"]))
	}
	batch := slices.Index(want["Meals.csv"][0], "Batch")
	if batch < 0 || !slices.ContainsFunc(want["Meals.csv"][1:], func(line []string) bool { return line[batch] != "" }) {
		t.Fatalf("no meal names its batch: %q", want["Meals.csv"][0])
	}
	for _, line := range want["Meals.csv"][1:] {
		line[batch] = "" // a stock that knows none of them
	}
	mustDo(t, "export", "--collection", folder, "--out", filepath.Join(room, "de"), "--format", "csv", "--lang", "de")
	mustDo(t, "export", "--collection", folder, "--out", filepath.Join(room, "room.xlsx"))
	mustDo(t, "export", "--collection", folder, "--out", filepath.Join(room, "room.xlsx"), "--lang", "de") // over an older one
	for _, from := range []string{"en", "de", "room.xlsx"} {
		other, again := filepath.Join(room, "from "+from), filepath.Join(room, "again "+from)
		if said := mustDo(t, "import", "--new", "--yes", "--places", "--collection", other, filepath.Join(room, from)); !strings.Contains(said, "There already: animals 0, entries, stays and samples 0") {
			t.Errorf("import says:\n%s", said)
		}
		mustDo(t, "export", "--collection", other, "--out", again, "--format", "csv", "--lang", "en")
		sameRows(t, from, rows(t, again), want)
		mustDo(t, "verify", other)
		if said := mustDo(t, "import", "--yes", "--collection", other, filepath.Join(room, from)); !strings.Contains(said, "new animals 0, new entries 0, new stays 0, new places 0") {
			t.Errorf("once more:\n%s", said)
		}
		// and where it came from nothing is new, though weights name their scale there and entries their photos
		if said := mustDo(t, "import", "--yes", "--collection", folder, filepath.Join(room, from)); !strings.Contains(said, "new animals 0, new entries 0, new stays 0, new places 0") {
			t.Errorf("over where it came from:\n%s", said)
		}
	}
}

// walked are all revisions of all documents of a collection, corrected ones and
// what they name of photos included, as the collection shows them.
func walked(t *testing.T, folder string) (all []string) {
	t.Helper()
	within(t, folder, func(c *collection.Collection) {
		if err := c.View(func(v model.View) error {
			for _, of := range model.DocumentTypes() {
				var ids []model.ID
				if err := v.All(of, func(d model.Document) bool { ids = append(ids, d.ID); return true }); err != nil {
					return err
				}
				for _, id := range ids {
					revisions, err := v.Revisions(id)
					if err != nil {
						return err
					}
					for _, d := range revisions {
						all = append(all, fmt.Sprintf("%s %s %d %s %+v %s %+v %+v %s", d.Type, d.ID, d.Revision, d.Kind, d.At, d.By, d.Subjects, d.Written, d.Body))
					}
				}
			}
			return nil
		}); err != nil {
			t.Fatal(err)
		}
	})
	return all
}

// Everything goes out as lines, which are a dump, with the schema that every one
// of them keeps to: checked by a validator that knows nothing of this program.
func TestExportOfEverythingIsADumpAndKeepsToItsSchema(t *testing.T) {
	folder, room := sampled(t), t.TempDir()
	tables, err := knowledge.Load(assets.Knowledge())
	if err != nil {
		t.Fatal(err)
	}
	within(t, folder, func(c *collection.Collection) {
		done, err := c.Do(animals.Add{Animal: animals.Animal{Name: "Rowan", Photos: []model.PhotoID{"0a"}, Portrait: "0a", Coat: animals.Coat{Ground: 1},
			Length: animals.Measured{SnoutVent: model.Length{Tenths: 8000, Typed: "80"}}}})
		if err != nil {
			t.Fatal(err)
		}
		about := care.About{Animal: model.AnimalID{ID: done.Documents[0]}, At: model.MomentOf(now())}
		weighed, err := c.Do(care.Weigh{About: about, Weight: care.Weight{Mass: model.Grams(140)}})
		if err != nil {
			t.Fatal(err)
		}
		for _, command := range []model.Command{
			care.Change{Entry: model.EntryID{ID: weighed.Documents[0]}, Base: 1, About: about, Body: care.Weight{Mass: model.Mass{Milligrams: 142_000, Typed: "142"}}},
			care.AddPhoto{About: about, Photo: care.Photo{Photos: []model.PhotoID{"0a"}, Caption: "left"}},
			care.Remove{Entry: model.EntryID{ID: weighed.Documents[0]}},
			people.Add{Person: people.Person{Name: "A lab", Roles: []people.Role{people.Lab}, Phones: []string{"0123"}, Private: true}},
			husbandry.AddPlaces{Branches: []husbandry.Branch{{Place: husbandry.Place{Name: "Shed", Kind: husbandry.Room, Code: "S", CleanEvery: 9, Note: "dry",
				Closed: model.Date{Day: about.At.Day(), Precision: model.ToDay}, Zones: husbandry.Zones{Warm: model.Temperature{Hundredths: 3200, Typed: "32"}}}}}},
			husbandry.AddTool{Tool: husbandry.Tool{Name: "Short hook", Kind: husbandry.Hook}},
			care.LookForMites{About: about, MiteLook: care.MiteLook{Grade: care.OneMite, Where: []care.MiteWhere{care.OnAnimal}}},
			care.TreatMites{About: about, MiteTreatment: care.MiteTreatment{What: "as the practice said", Advised: "the practice", Until: model.Date{Day: about.At.Day(), Precision: model.ToDay}}},
			care.WriteNote{About: about, Note: care.Note{Text: "eats"}},
			care.RecordShed{About: about, Shed: care.Shed{Skin: care.Whole}},
			care.RecordWaste{About: about, Waste: care.Waste{Faeces: []care.Trait{care.NoneSeen}}},
			answered{animal: about.Animal},
			quarantine.ChangeProtocol{Tables: tables, Own: quarantine.Own{Name: "Longer", Protocol: knowledge.Protocol{Days: 120, Mites: true, Within: 30, Weight: 95, Watch: 90,
				For: []knowledge.Asked{{Agents: []knowledge.AgentID{"ferlavirus"}, NotDetected: 2, Apart: 42}}}}},
			assumed.Change{Tables: tables, Own: assumed.Own{Row: assumed.Row{Table: assumed.Carriers, ID: "ferlavirus"}, By: assumed.Keeper, Why: "read since",
				Values: map[assumed.Figure]knowledge.Span{assumed.Latent: {Low: 1, Assumed: 2, High: 3}, assumed.Daily: {Low: 4, Assumed: 5, High: 6}}}},
			samples.Prepare{Tables: tables, Each: []samples.New{{Animals: []model.AnimalID{about.Animal}, Sample: samples.Sample{Kit: samples.Kit{Number: "7", Expires: model.Date{Day: about.At.Day(), Precision: model.ToMonth}},
				Material: "faeces", For: []knowledge.AgentID{"ferlavirus"}, Taken: about.At, Storage: "cold"}}}},
			care.Feed{About: about, Meal: care.Meal{Outcome: care.Regurgitated, BroughtUp: model.Date{Day: about.At.Day(), Precision: model.ToDay}}},
		} {
			if _, err := c.Do(command); err != nil {
				t.Fatal(command.Name(), err)
			}
		}
		kept, err := c.Do(quarantine.Begin{Tables: tables, Animal: about.Animal, Arrived: about.At, Protocol: "python", Note: "from afar", Confirmed: model.Confirmed{"day.before-arrival"}})
		if err != nil {
			t.Fatal(err)
		}
		if _, err := c.Do(newcomers.Release{Tables: tables, ID: model.QuarantineID{ID: kept.Documents[0]}, Base: 1, At: about.At, Why: "goes back", Confirmed: model.Confirmed{"quarantine.unmet"}}); err != nil {
			t.Fatal(err)
		}
		instrument, err := c.Do(husbandry.AddInstrument{Instrument: husbandry.Instrument{Name: "Scale", Kind: husbandry.Scale}})
		if err != nil {
			t.Fatal(err)
		}
		if _, err := c.Do(husbandry.CheckInstrument{Instrument: model.InstrumentID{ID: instrument.Documents[0]}, At: about.At, Check: husbandry.InstrumentCheck{Good: true, Reading: "100 g"}}); err != nil {
			t.Fatal(err)
		}
		swab, err := c.Do(samples.Prepare{Tables: tables, Each: []samples.New{{Animals: []model.AnimalID{about.Animal}, Sample: samples.Sample{Kit: samples.Kit{Number: "8"}, Material: "choanal-swab", For: []knowledge.AgentID{"ferlavirus"}, Taken: about.At}}}})
		if err != nil {
			t.Fatal(err)
		}
		sample := model.SampleID{ID: swab.Documents[0]}
		if _, err := c.Do(samples.Enter{Tables: tables, At: about.At, Rows: []samples.Row{{On: samples.On{ID: sample, Base: 1}, Found: []samples.Found{{Of: "ferlavirus", Outcome: samples.Detected}}}}}); err != nil {
			t.Fatal(err)
		}
		opened, err := c.Do(contact.Open{Tables: tables, Sample: sample, Agent: "ferlavirus"})
		if err != nil {
			t.Fatal(err)
		}
		positive := contact.PositiveID{ID: opened.Documents[0]}
		for _, command := range []model.Command{
			contact.Act{Tables: tables, ID: positive, Base: 1, Act: contact.CallVet, At: about.At, Note: "by telephone"},
			contact.Close{ID: positive, Base: 2, Why: contact.VetsWord, Note: "as the vet said", Owed: []knowledge.PositiveActID{contact.Confirm}, At: about.At},
		} {
			if _, err := c.Do(command); err != nil {
				t.Fatal(command.Name(), err)
			}
		}
		vet, err := c.Do(people.Add{Person: people.Person{Name: "Dr Ada Fern", Roles: []people.Role{people.Vet}}})
		if err != nil {
			t.Fatal(err)
		}
		course, err := c.Do(medicine.Prescribe{Tables: tables, Animal: about.Animal, At: about.At, Prescription: medicine.Prescription{Medicine: "Solution", Reason: "as the vet said", Vet: model.PersonID{ID: vet.Documents[0]}, Form: medicine.PerKilogram,
			Measure: medicine.Milligrams, Concentration: medicine.Amount{Millionths: 5_000_000, Typed: "5"}, Route: medicine.ByMouth, Begins: about.At, Steps: []medicine.Step{{Day: 1, Times: 3, Every: 24, Dose: medicine.Amount{Millionths: 2_000_000, Typed: "2"}}}}})
		if err != nil {
			t.Fatal(err)
		}
		prescription := medicine.PrescriptionID{ID: course.Documents[0]}
		question := func(words string) medicine.QuestionID {
			asked, err := c.Do(medicine.AskQuestion{Animal: about.Animal, At: about.At, Words: words})
			if err != nil {
				t.Fatal(err)
			}
			return medicine.QuestionID{ID: asked.Documents[0]}
		}
		bath, heat := question("May it bathe?"), question("Warmer?")
		sure := model.Confirmed{"medicine.small", "medicine.weight-old", "medicine.early", "medicine.twice"}
		for _, command := range []model.Command{
			medicine.Tell{Tables: tables, ID: prescription, Base: 1, Number: 1, Did: medicine.LeftOut, At: about.At, Why: "the vet said so"},
			medicine.Tell{Tables: tables, ID: prescription, Base: 2, Number: 2, Did: medicine.Missed, At: about.At, Note: "away", Confirmed: sure},
			medicine.AnswerMissed{ID: prescription, Base: 3, Number: 2, At: about.At, Said: "go on"},
			medicine.End{ID: prescription, Base: 4, At: about.At, Why: medicine.VetsWord, Note: "it is well"},
			due.HoldVisit{HoldVisit: medicine.HoldVisit{Animal: about.Animal, At: about.At, Visit: medicine.Visit{Practice: "at the mill", Reason: "a cough", Held: &medicine.Held{Said: "listened", Photos: []model.PhotoID{"0c"}}},
				Answers: []medicine.Answered{{Question: bath, Base: 1, Said: "not yet"}}, Next: model.MomentOn(about.At, about.At.Day()+9, model.Noon, model.ToDay)}},
			medicine.WithdrawQuestion{ID: heat, Base: 1, At: about.At, Why: "seen since"},
		} {
			done, err := c.Do(command)
			if err != nil {
				t.Fatal(command.Name(), err)
			}
			if _, held := command.(due.HoldVisit); held {
				if _, err := c.Do(answered{about.Animal, medicine.VisitID{ID: done.Documents[0]}}); err != nil {
					t.Fatal(err)
				}
			}
		}
		noted, err := c.Do(care.WriteNote{About: about, Note: care.Note{Text: "eats"}})
		if err != nil {
			t.Fatal(err)
		}
		if _, err := c.Do(care.Change{Entry: model.EntryID{ID: noted.Documents[0]}, Base: 1, About: about, Body: care.Note{Text: "ate", Photos: []model.PhotoID{"0b"}}}); err != nil {
			t.Fatal(err)
		}
		hook := model.ToolID{}
		if err := c.View(func(v model.View) error {
			tools, err := husbandry.Tools(v)
			hook = tools[len(tools)-1].ID
			return err
		}); err != nil {
			t.Fatal(err)
		}
		if _, err := c.Do(husbandry.Clean{Tables: tables, Tools: []model.ToolID{hook}, At: about.At, Cleaning: husbandry.Cleaning{Extent: husbandry.Full,
			Uses: []husbandry.Use{{Means: tables.Means()[0].ID, Minutes: 10}}, Against: []knowledge.TargetID{tables.Targets()[0].ID}}, Confirmed: model.Confirmed{"clean.does-not", "clean.partly", "clean.too-short", "clean.time"}}); err != nil {
			t.Fatal(err)
		}
		if _, err := c.Undo(); err != nil {
			t.Fatal(err)
		}
		if _, err := c.Redo(); err != nil {
			t.Fatal(err)
		}
	})
	mustDo(t, "export", "--collection", folder, "--out", filepath.Join(room, "a.jsonl"))
	mustDo(t, "export", "--collection", folder, "--out", filepath.Join(room, "a.jsonl")) // over an older one
	mustDo(t, "dump", folder, "--out", filepath.Join(room, "b.jsonl"))
	a, err := os.ReadFile(filepath.Join(room, "a.jsonl"))
	if err != nil {
		t.Fatal(err)
	}
	if b, err := os.ReadFile(filepath.Join(room, "b.jsonl")); err != nil || string(a) != string(b) {
		t.Errorf("they differ (%v)", err)
	}
	mustDo(t, "load", filepath.Join(room, "a.jsonl"), "--collection", filepath.Join(room, "new"))
	was, is := walked(t, folder), walked(t, filepath.Join(room, "new"))
	if !slices.Equal(was, is) {
		t.Errorf("%d revisions are there, were %d", len(is), len(was))
	}
	if corrected := slices.IndexFunc(was, func(s string) bool { return strings.Contains(s, `"photos":["0a"]`) }); corrected < 0 || len(was) < 1000 {
		t.Errorf("%d revisions are compared, the first photo stands at %d", len(was), corrected)
	}
	if !slices.ContainsFunc(was, func(s string) bool {
		return strings.HasPrefix(s, "entry ") && strings.Fields(s)[2] == "2" && strings.Contains(s, `"photos":["0b"]`)
	}) {
		t.Error("no corrected entry is compared")
	}
	mustDo(t, "dump", filepath.Join(room, "new"), "--out", filepath.Join(room, "c.jsonl"))
	if c, err := os.ReadFile(filepath.Join(room, "c.jsonl")); err != nil || string(a) != string(c) {
		t.Errorf("once more, they differ (%v)", err)
	}

	schema, err := jsonschema.NewCompiler().Compile(filepath.Join(room, "a.schema.json"))
	if err != nil {
		t.Fatal(err)
	}
	valid := func(line string) error {
		value, err := jsonschema.UnmarshalJSON(strings.NewReader(line))
		if err != nil {
			t.Fatal(err)
		}
		return schema.Validate(value)
	}
	all := strings.Split(strings.TrimSpace(string(a)), "\n")
	for i, line := range all {
		if err := valid(line); err != nil {
			t.Fatalf("line %d: %v\n%.600s", i+1, err, line)
		}
	}
	// and a document of no kind takes what the program does not know of it
	told := map[string]bool{}
	for _, line := range all {
		var d struct{ V struct{ Type, Kind string } }
		if err := json.Unmarshal([]byte(line), &d); err != nil || d.V.Type == "" || told[d.V.Type+" "+d.V.Kind] {
			continue
		}
		told[d.V.Type+" "+d.V.Kind] = true
		if valid(strings.Replace(line, `"body":{`, `"body":{"wingspan":1,`, 1)) == nil {
			t.Errorf("a %s %s with a wingspan is valid", d.V.Type, d.V.Kind)
		}
	}
	for _, of := range model.DocumentTypes() {
		if of != model.TypeEntry && !told[string(of)+" "] {
			t.Errorf("no line is a %s", of)
		}
	}
	for _, kind := range append(care.Kinds(), exam.KindCheck, husbandry.KindCleaning, husbandry.KindInstrumentCheck) {
		if !told["entry "+kind] {
			t.Errorf("no line is an entry of kind %s", kind)
		}
	}
	// and a line that says something else does not
	for _, change := range [][2]string{{`"kind":"weight"`, `"kind":"meal"`}, {`"mg":1`, `"kg":1`}, {`"outcome":"took"`, `"outcome":"eaten"`}, {`"precision":"month"`, `"precision":"week"`}, {`"rev":1`, `"rev":0`}, {`"b":"revision"`, `"b":"head"`}} {
		i := slices.IndexFunc(all, func(line string) bool { return strings.Contains(line, change[0]) })
		if i < 0 {
			t.Errorf("no line has %s", change[0])
		} else if valid(strings.Replace(all[i], change[0], change[1], 1)) == nil {
			t.Errorf("%s is valid", change[1])
		}
	}
}

func TestWhatCannotGoOutOrComeIn(t *testing.T) {
	folder, room := kept(t, "Kestrel"), t.TempDir()
	file := func(name, text string) string {
		path := filepath.Join(room, name)
		if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
		return path
	}
	letter, empty := file("letter.xlsx", "Dear vet"), t.TempDir()
	file("letter.schema.json", "Dear vet")
	book := filepath.Join(room, "book.xlsx")
	mustDo(t, "export", "--collection", folder, "--out", book)
	weights := file("weights.csv", "Name;Weight (g);Day\nKestrel;1432;2027-06-01\n")
	before := contents(t, folder)
	for name, c := range map[string]struct {
		arguments []string
		code      int
		want      []string
	}{
		"no place":          {[]string{"export", "--collection", folder}, exitUsage, []string{"coilctl export"}},
		"unknown format":    {[]string{"export", "--collection", folder, "--out", empty, "--format", "ods"}, exitFailed, []string{"--format", "ods", "xlsx"}},
		"unknown language":  {[]string{"export", "--collection", folder, "--out", empty, "--lang", "tlh"}, exitFailed, []string{"--lang"}},
		"a full folder":     {[]string{"export", "--collection", folder, "--out", room}, exitFailed, []string{"already"}},
		"over a letter":     {[]string{"export", "--collection", folder, "--out", letter}, exitFailed, []string{"not written over"}},
		"beside a letter":   {[]string{"export", "--collection", folder, "--out", filepath.Join(room, "letter.jsonl")}, exitFailed, []string{"letter.schema", "not written over"}},
		"into the room":     {[]string{"export", "--collection", folder, "--out", filepath.Join(folder, "photos")}, exitFailed, []string{"own folder"}},
		"of nothing":        {[]string{"export", "--collection", empty, "--out", filepath.Join(room, "x")}, exitFailed, []string{"collection.db"}},
		"no file":           {[]string{"import", "--collection", folder}, exitUsage, []string{"coilctl import"}},
		"a missing file":    {[]string{"import", "--collection", folder, filepath.Join(room, "none.csv")}, exitFailed, []string{"none.csv"}},
		"an empty folder":   {[]string{"import", "--collection", folder, empty}, exitFailed, []string{"no CSV file"}},
		"two with a book":   {[]string{"import", "--collection", folder, book, weights}, exitFailed, []string{"alone"}},
		"a dump":            {[]string{"import", "--collection", folder, file("all.jsonl", "{}")}, exitFailed, []string{"coilctl load"}},
		"a letter":          {[]string{"import", "--collection", folder, file("letter.pdf", "%PDF-1.4")}, exitFailed, []string{"no spreadsheet"}},
		"into nothing":      {[]string{"import", "--collection", empty, weights}, exitFailed, []string{"collection.db"}},
		"an open question":  {[]string{"import", "--collection", folder, file("open.csv", "Name;Weight (g);Day\nKestrel;1,432;2027-06-01\n")}, exitFailed, []string{"Nothing was brought in"}},
		"a stranger":        {[]string{"import", "--collection", folder, file("stranger.csv", "Name;Weight (g);Day\nJuno;1432;2027-06-01\n")}, exitFailed, []string{"--partly"}},
		"a row that cannot": {[]string{"import", "--collection", folder, file("bad.csv", "Name;Weight (g);Day\nKestrel;1432;2027-06-01\nKestrel;1432;31.02.2027\n")}, exitFailed, []string{"--partly"}},
		"a new place":       {[]string{"import", "--collection", folder, file("place.csv", "Name;Box;From\nKestrel;Loft / Box 3;2027-05-01\n")}, exitFailed, []string{"--partly"}},
		"a row that asks":   {[]string{"import", "--collection", folder, file("far.csv", "Name;Weight (g);Day\nKestrel;143;2027-06-01\nKestrel;1432;2027-06-02\n")}, exitFailed, []string{"--yes"}},
	} {
		t.Run(name, func(t *testing.T) {
			code, out, errors := ctl("en", c.arguments...)
			if code != c.code {
				t.Errorf("code %d, want %d", code, c.code)
			}
			for _, want := range c.want {
				if !strings.Contains(errors, want) {
					t.Errorf("says %q, want %q in it", errors, want)
				}
			}
			if strings.Contains(out+errors, "⟦") {
				t.Errorf("a text is missing: %q %q", out, errors)
			}
			if german, _, said := ctl("de", c.arguments...); german != c.code || said == errors {
				t.Errorf("in German: code %d, %q", german, said)
			}
		})
	}
	after := contents(t, folder)
	for path, raw := range before {
		if filepath.Base(path) == collectionFile && after[path] != raw {
			t.Error("a refused import changed the collection")
		}
	}
	fresh := filepath.Join(room, "fresh")
	if code, out, _ := ctl("en", "import", "--new", "--strangers", "--collection", fresh, filepath.Join(room, "bad.csv")); code != exitFailed || strings.Count(out, "31.02.2027") != 1 {
		t.Errorf("into a new collection: code %d, %q", code, out)
	}
	if _, err := os.Stat(fresh); err == nil {
		t.Error("a refused import left an empty collection behind")
	}
	if said := mustDo(t, "import", "--new", "--strangers", "--partly", "--collection", fresh, filepath.Join(room, "bad.csv")); !strings.Contains(said, "new animals 1, new entries 1") {
		t.Errorf("into a new collection: %q", said)
	}
	_, out, _ := ctl("en", "import", "--collection", folder, filepath.Join(room, "bad.csv"))
	if !strings.Contains(out, "bad, line 3") || !strings.Contains(out, "31.02.2027") {
		t.Errorf("the bad row is not named: %q", out)
	}
	for name, want := range map[string]string{"bad.csv --partly": "new entries 1", "stranger.csv --strangers": "new animals 1, new entries 1", "far.csv --yes": "new entries 2",
		"place.csv --places": "new stays 1, new places 2"} {
		path, option, _ := strings.Cut(name, " ")
		if said := mustDo(t, "import", "--collection", kept(t, "Kestrel"), filepath.Join(room, path), option); !strings.Contains(said, want) {
			t.Errorf("%s says %q", name, said)
		}
	}
}

// What could not be brought into a new collection leaves none behind, and clears away
// nothing that lay there.
func TestNoEmptyCollectionIsLeft(t *testing.T) {
	room := t.TempDir()
	file := func(name, rows string) string {
		path := filepath.Join(room, name)
		if err := os.WriteFile(path, []byte(rows), 0o600); err != nil {
			t.Fatal(err)
		}
		return path
	}
	good, bad, none := file("good.csv", "Name;Species\nKestrel;Python regius\n"), file("bad.csv", "Name;Species\nKestrel;dragon\n"), file("none.csv", "a;b\n1;2\n")
	for _, arguments := range [][]string{{bad}, {bad, "--partly"}, {none}} {
		deep := filepath.Join(room, "a", "b")
		if code, out, errors := ctl("en", append([]string{"import", "--new", "--collection", deep}, arguments...)...); code != exitFailed || errors == "" {
			t.Errorf("%q: code %d, %q %q", arguments, code, out, errors)
		}
		if _, err := os.Stat(filepath.Dir(deep)); err == nil {
			t.Errorf("%q: %q is left", arguments, contents(t, filepath.Dir(deep)))
		}
	}
	beside := filepath.Join(room, "photos kept")
	if err := os.MkdirAll(filepath.Join(beside, "photos"), 0o700); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(beside, "photos", "one"), []byte("x"), 0o600); err != nil {
		t.Fatal(err)
	}
	if code, out, errors := ctl("en", "import", "--new", "--collection", beside, good); code != exitFailed {
		t.Fatalf("code %d, %q %q", code, out, errors)
	}
	if files, err := os.ReadDir(beside); err != nil || len(files) != 1 {
		t.Errorf("left %v, %v", files, err)
	}
	if raw, err := os.ReadFile(filepath.Join(beside, "photos", "one")); err != nil || string(raw) != "x" {
		t.Errorf("what lay there: %q, %v", raw, err)
	}
}

func TestADayThatNoColumnSaysIsGivenToAll(t *testing.T) {
	room := t.TempDir()
	list := filepath.Join(room, "animals.csv")
	if err := os.WriteFile(list, []byte("Name,Sex,Weight (g),Room,Rack,Box\nAlder,f,1432,Loft,R1,1\nBirch,m,85,Loft,R1,2\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	for name, c := range map[string]struct {
		options []string
		want    string
	}{
		"nothing said":   {nil, "no column says since when"},
		"one of two":     {[]string{"--weighed", "2027-05-04"}, "no column says since when"},
		"no day":         {[]string{"--weighed", "soon", "--living-since", "2027-05-04"}, "soon"},
		"a day to come":  {[]string{"--weighed", "2027-05-04", "--living-since", "2199-01-01"}, "2199"},
		"both":           {[]string{"--weighed", "2027-05-04", "--living-since", "4 May 2027"}, "new animals 2, new entries 2, new stays 2, new places 4"},
		"both left out":  {[]string{"--weighed", "leave", "--living-since", "leave"}, "new animals 2, new entries 0, new stays 0, new places 0"},
		"stays left out": {[]string{"--weighed", "2027-05-04", "--living-since", "leave"}, "new animals 2, new entries 2, new stays 0, new places 0"},
	} {
		t.Run(name, func(t *testing.T) {
			folder := filepath.Join(t.TempDir(), "made")
			code, out, said := ctl("en", append([]string{"import", "--new", "--places", "--collection", folder, list}, c.options...)...)
			if !strings.Contains(out+said, c.want) || (code == 0) != strings.HasPrefix(c.want, "new animals") {
				t.Errorf("code %d, says %q %q, want %q in it", code, out, said, c.want)
			}
		})
	}
}

// Of a column that is left out it is said that it is, and of one that names where an
// animal lives also what to do; of an empty one nothing.
func TestColumnsThatAreLeftOutAreNamed(t *testing.T) {
	room := t.TempDir()
	for name, c := range map[string]struct{ text, columns, places string }{
		"weights with a box":   {"Name,Date,Weight (g),Room,Box,Empty\nAlder,2027-05-04,1432,Loft,3,\n", "left out: Room, Box.", "Places: Room, Box. They make no stays here."},
		"animals with a thing": {"Name,Sex,Star sign\nAlder,f,Leo\n", "left out: Star sign.", ""},
		"all is taken":         {"Name,Sex,Empty\nAlder,f,\n", "", ""},
	} {
		list := filepath.Join(room, "list.csv")
		if err := os.WriteFile(list, []byte(c.text), 0o600); err != nil {
			t.Fatal(err)
		}
		code, out, said := ctl("en", "import", "--new", "--strangers", "--collection", filepath.Join(t.TempDir(), "made"), list)
		if code != 0 {
			t.Fatalf("%s: code %d, says %q", name, code, said)
		}
		for part, want := range map[string]string{"left out": c.columns, "They make no stays": c.places} {
			if !strings.Contains(out+said, want) || want == "" && strings.Contains(out+said, part) {
				t.Errorf("%s: says %q %q, want %q in it", name, out, said, want)
			}
		}
	}
}
