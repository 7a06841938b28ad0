package paper_test

import (
	"encoding/json"
	"io"
	"maps"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"
	"unicode"

	"coilward/assets"
	"coilward/export/paper"
	"coilward/export/papertest"
	"coilward/export/pdf"
	"coilward/model"
	"coilward/model/care"
	"coilward/model/due"
	"coilward/model/knowledge"
	"coilward/model/label"
	"coilward/model/medicine"
	"coilward/model/newcomers"
	"coilward/model/people"
	"coilward/model/quarantine"
	"coilward/model/samples"
	"coilward/model/welfare"
)

// typedView shows every text that a person types as the same one, whatever was checked when
// it was put in: an older version, a merge or another program may have let it through.
type typedView struct {
	model.View
	typed string
}

// typedKeys are the names of the texts that people type.
var typedKeys = []string{"name", "code", "morph", "origin", "permits", "from", "note", "text", "caption", "words", "medicine", "address", "site", "report", "why", "reason", "said", "tracking", "courier", "number", "lot", "storage", "practice",
	"word", "advised", "digits", "reading", "reference", "typed"}

func (v typedView) changed(d model.Document) model.Document {
	var body any
	if json.Unmarshal(d.Body, &body) != nil {
		return d
	}
	if raw, err := json.Marshal(v.through("", body)); err == nil {
		d.Body = raw
	}
	return d
}

func (v typedView) through(key string, value any) any {
	switch value := value.(type) {
	case map[string]any:
		for k, inner := range value {
			value[k] = v.through(k, inner)
		}
		if value["hoped"] != nil || value["advised"] != nil { // elsewhere it is a word of ours
			value["what"] = v.typed
		}
	case []any:
		for i, inner := range value {
			value[i] = v.through(key, inner)
		}
	case string:
		if slices.Contains(typedKeys, key) || key == "phones" {
			return v.typed
		}
	}
	return value
}

func (v typedView) Document(id model.ID) (model.Document, error) {
	d, err := v.View.Document(id)
	return v.changed(d), err
}

func (v typedView) All(t model.DocumentType, visit func(model.Document) bool) error {
	return v.View.All(t, func(d model.Document) bool { return visit(v.changed(d)) })
}

func (v typedView) Timeline(s model.Subject, from, to int64, visit func(model.Document) bool) error {
	return v.View.Timeline(s, from, to, func(d model.Document) bool { return visit(v.changed(d)) })
}

// Every paper can be laid out whatever stands in the texts of the collection, says of every
// sign that it cannot print what the box means, and gets a name that a file may have.
func TestEveryPaperBearsWhateverIsStored(t *testing.T) {
	k := furnished(t)
	hostile := papertest.Hostile()
	hostile["a formula"], hostile["a way up"], hostile["a device"] = `=cmd|' /C calc'!A0`, `..\..\../../etc/passwd`, "CON"
	list, err := due.NewBook(k.tables).Bring(t.Context(), k.c, nil)
	if err != nil {
		t.Fatal(err)
	}
	texts := map[string]paper.Text{"en": papertest.Text(t, "en"), "de": papertest.Text(t, "de")}
	for i, name := range slices.Sorted(maps.Keys(hostile)) {
		typed := hostile[name]
		for _, language := range []string{"en", "de"}[i%2 : i%2+1] { // each paper in both
			for which, d := range everyPaper(t, k, list, typed, texts[language]) {
				said := paper.Plain(d)
				if pages := paper.Layout(d); len(pages) == 0 {
					t.Errorf("%s of %s: no page", which, name)
				}
				if err := pdf.Write(io.Discard, d, time.Time{}); err != nil {
					t.Errorf("%s of %s: %.300v", which, name, err)
				}
				if strings.ContainsRune(said, '\x00') {
					t.Errorf("%s of %s: a NUL stands in it", which, name)
				}
				boxed := strings.ContainsFunc(said, func(r rune) bool { return r > 0xFFFF && unicode.IsGraphic(r) || r == '\u25A1' })
				if note, _, _ := strings.Cut(texts[language].Say("paper.record.unprintable", map[string]any{"Box": "\u25A1"}), "."); boxed && !strings.Contains(said, note) {
					t.Errorf("%s of %s, %s: nothing says what a box stands for", which, name, language)
				}
			}
		}
		file := paper.FileName(".pdf", typed)
		if strings.ContainsAny(file, `<>:"/\|?*`+"\x00") || strings.HasPrefix(file, "CON.") || len(file) > 130 {
			t.Errorf("%s: the file would be called %q", name, file)
		}
	}
}

// drawnByLot are the numbers of sheets and tubes, which differ each time.
var drawnByLot = regexp.MustCompile(`(Number=|…[\s\x{202f}]?)[0-9A-Za-z-]{6,}`)

// What every paper says of the same house, in the text form.
func TestWhatEveryPaperSays(t *testing.T) {
	k := furnished(t)
	list, err := due.NewBook(k.tables).Bring(t.Context(), k.c, nil)
	if err != nil {
		t.Fatal(err)
	}
	k.view(func(v model.View) error {
		for which, d := range papersOf(t, k, v, list, "1.0.0", papertest.Keys{}) {
			golden(t, strings.ReplaceAll(which, " ", "-")+".house.golden.txt", drawnByLot.ReplaceAllString(hashless(k, d), "${1}NUMBER"))
		}
		return nil
	})
}

// furnished is a stocked house with people, a newcomer in quarantine, samples, a check, a
// visit and a course.
func furnished(t *testing.T) *kept {
	k := stocked(t)
	vet := model.PersonID{ID: k.do(people.Add{Person: people.Person{Name: "Dr Ada Fern", Roles: []people.Role{people.Vet}, Phones: []string{"01632 960114"}, Address: "Dike Road"}})}
	lab := model.PersonID{ID: k.do(people.Add{Person: people.Person{Name: "Otterby lab", Roles: []people.Role{people.Lab}, Phones: []string{"01632 960115"}, Address: "Mill Lane"}})}
	k.do(quarantine.Begin{Tables: k.tables, Animal: k.animal, Arrived: k.now(), Protocol: newcomers.Usual})
	k.do(care.LookForMites{About: k.about(), MiteLook: care.MiteLook{Where: []care.MiteWhere{care.OnAnimal}, Beside: care.Beside{Note: "by lamp"}}})
	k.do(care.WriteNote{About: k.about(), Note: care.Note{Text: "rests by day"}})
	k.do(samples.Prepare{Tables: k.tables, Each: []samples.New{
		{Animals: []model.AnimalID{k.animal}, Sample: samples.Sample{Kit: samples.Kit{Number: "K-0012", Lot: "L 7"}, Material: "choanal-swab", Site: "left", For: []knowledge.AgentID{"serpentovirus"}, Taken: k.now(), TakenBy: k.by, Lab: lab, Storage: "fridge", Courier: "by bicycle", Tracking: "12-34"}},
		{Animals: []model.AnimalID{k.animal}, Sample: samples.Sample{Material: "faeces", For: []knowledge.AgentID{"worms-and-protozoa"}, Lab: lab}}}})
	k.do(medicine.Prescribe{Tables: k.tables, Animal: k.animal, At: k.now(), Prescription: medicine.Prescription{Medicine: "Brown drops", Vet: vet, Form: medicine.InWords, Route: medicine.ByMouth,
		Begins: k.now(), Steps: []medicine.Step{{Day: 1, Times: 4, Every: 24, Words: "as the label says"}}}})
	k.do(due.HoldVisit{Tables: k.tables, HoldVisit: medicine.HoldVisit{Animal: k.animal, At: k.now(), By: k.by, Visit: medicine.Visit{Vet: vet, Practice: "By the dike", Reason: "loud breathing", Held: &medicine.Held{Said: "listen again"}}}})
	k.do(medicine.AskQuestion{Animal: k.animal, At: k.now(), By: k.by, Words: "how warm?"})
	k.do(care.Bathe{Tables: k.tables, About: k.about(), Bath: care.Bath{Warm: model.Temperature{Hundredths: 2800}, Minutes: 20, Beside: care.Beside{Note: "drank"}}})
	k.do(care.GiveFluids{Tables: k.tables, About: k.about(), Fluids: care.Fluids{What: "salted water", Advised: "Dr Ada Fern"}})
	k.do(care.RecordClutch{About: k.about(), Clutch: care.Clutch{Eggs: 6, Beside: care.Beside{Note: "all white"}}})
	k.do(welfare.Observe{Tables: k.tables, About: k.about(), Observation: welfare.Observation{Setting: knowledge.Untouched, Signs: []knowledge.SignID{"loose-coil"}, Note: "by the water"}})
	k.do(welfare.Try{About: k.about(), Change: welfare.Change{What: "a second hide", Setting: knowledge.Untouched, Hoped: welfare.MoreEase, Note: "cork"}})
	return k
}

// everyPaper are all papers of the house with one text for every typed one.
func everyPaper(t *testing.T, k *kept, list due.List, typed string, text paper.Text) (papers map[string]paper.Document) {
	k.view(func(view model.View) error {
		papers = papersOf(t, k, typedView{view, typed}, list, typed, text)
		return nil
	})
	return papers
}

// papersOf are all papers of a view, by a program of that version.
func papersOf(t *testing.T, k *kept, v model.View, list due.List, typed string, text paper.Text) map[string]paper.Document {
	t.Helper()
	return papersOn(t, k, v, list, typed, text, paper.A4, paper.Letter)
}

// papersOn are they where those on A4 and those on Letter have these sizes instead.
func papersOn(t *testing.T, k *kept, v model.View, list due.List, typed string, text paper.Text, one, other paper.Size) map[string]paper.Document {
	t.Helper()
	papers := map[string]paper.Document{}
	all, err := people.All(v)
	must := func(err error) {
		t.Helper()
		if err != nil {
			t.Fatalf("%q: %v", typed, err)
		}
	}
	must(err)
	g, err := paper.Gather(v, paper.Gathering{Animal: k.animal, Tables: k.tables, Version: typed})
	must(err)
	f := g.Facts()
	papers["record"], papers["card"], papers["vet page"] = paper.HealthRecord(f, text, one), paper.EmergencyCard(f, all, text), paper.VetPage(f, text, other)
	collection, err := paper.GatherCollection(v, k.tables)
	must(err)
	papers["list"] = paper.CollectionList(collection, text, one)
	stock, err := paper.GatherStock(v, k.tables, v.Now().Day())
	must(err)
	stock.Told = true
	papers["stock"] = paper.StockPaper(stock, text, other)
	door, err := paper.GatherDoorSheet(v, k.tables, model.PlaceID{})
	must(err)
	papers["door sheet"] = paper.DoorSheetPaper(door, all, text, one)
	cut, err := paper.GatherPowerCut(v, k.tables)
	must(err)
	papers["power cut"] = paper.PowerCutPaper(cut, all, text, one)
	sitting, err := paper.GatherSitting(v, k.tables, list, 7)
	must(err)
	papers["sitter"] = paper.SitterPaper(sitting, all, k.tables, text, one)
	round, err := paper.GatherRoundSheet(v, k.tables, "")
	must(err)
	papers["round"], err = paper.RoundSheetPaper(round, text, one)
	must(err)
	weights, err := paper.GatherWeighSheet(v, model.PlaceID{}, v.Now().Day())
	must(err)
	papers["weighing"], err = paper.WeighSheetPaper(weights, text, one)
	must(err)
	checks, err := paper.GatherCheckSheets(v, []model.AnimalID{k.animal, {}}, v.Now().Day())
	must(err)
	papers["check sheets"], err = paper.CheckSheetsPaper(checks, k.tables, text, other, true)
	must(err)
	q, there, err := paper.GatherQuarantine(v, k.tables, k.animal)
	must(err)
	if !there {
		t.Fatal("no quarantine")
	}
	q.Version, q.Told = typed, true
	papers["quarantine"] = paper.QuarantineReport(q, text, other)
	var tubes []model.SampleID
	must(v.All(model.TypeSample, func(d model.Document) bool {
		tubes = append(tubes, model.SampleID{ID: d.ID})
		return true
	}))
	labels, err := paper.GatherTubes(v, tubes)
	must(err)
	sheets, err := label.Sheets(assets.Knowledge())
	must(err)
	papers["tube labels"], err = paper.TubesPaper(labels, paper.Laying{Sheet: label.Tubes(sheets)[0], First: 1}, text, v.Now())
	must(err)
	form, err := paper.GatherLab(v, tubes)
	must(err)
	form.Urgent, form.Signs, form.Treatments, form.Keeper.Name = true, true, true, typed
	papers["lab form"] = paper.LabForm(form, k.tables, text, one)
	for name, gather := range map[string]func(model.View, ...model.PlaceID) ([]paper.Card, error){"cards": paper.GatherCards, "cards of animals": paper.GatherAnimalCards} {
		cards, err := gather(v)
		must(err)
		papers[name], err = paper.CardsPaper(cards, paper.Laying{Sheet: sheetNamed(t, "a4-cut-85x55"), First: 1, Keeper: typed}, k.tables, text, v.Now())
		must(err)
	}
	return papers
}
