package paper_test

import (
	"encoding/json"
	"maps"
	"slices"
	"strings"
	"testing"
	"unicode"

	"coilward/export/paper"
	"coilward/export/papertest"
	"coilward/model"
	"coilward/model/due"
	"coilward/model/people"
)

// typedView shows every text that a person types as the same one, whatever was checked when
// it was put in: an older version, a merge or another program may have let it through.
type typedView struct {
	model.View
	typed string
}

// typedKeys are the names of the texts that people type.
var typedKeys = []string{"name", "code", "morph", "origin", "permits", "from", "note", "text", "caption", "words", "medicine", "address", "lab", "site", "report", "why", "reason", "said", "tracking", "courier"}

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
	k := stocked(t)
	k.do(people.Add{Person: people.Person{Name: "Dr Ada Fern", Roles: []people.Role{people.Vet}, Phones: []string{"01632 960114"}, Address: "Dike Road"}})
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
				if strings.ContainsRune(said, '\x00') && !strings.ContainsRune(d.Title, '\x00') {
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

// everyPaper are all papers of the house with one text for every typed one.
func everyPaper(t *testing.T, k *kept, list due.List, typed string, text paper.Text) map[string]paper.Document {
	papers := map[string]paper.Document{}
	k.view(func(view model.View) error {
		v := typedView{view, typed}
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
		papers["record"], papers["card"], papers["vet page"] = paper.HealthRecord(f, text, paper.A4), paper.EmergencyCard(f, all, text), paper.VetPage(f, text, paper.Letter)
		collection, err := paper.GatherCollection(v, k.tables)
		must(err)
		papers["list"] = paper.CollectionList(collection, text, paper.A4)
		stock, err := paper.GatherStock(v, k.tables, v.Now().Day())
		must(err)
		stock.Told = true
		papers["stock"] = paper.StockPaper(stock, text, paper.Letter)
		door, err := paper.GatherDoorSheet(v, k.tables, model.PlaceID{})
		must(err)
		papers["door sheet"] = paper.DoorSheetPaper(door, all, text, paper.A4)
		cut, err := paper.GatherPowerCut(v, k.tables)
		must(err)
		papers["power cut"] = paper.PowerCutPaper(cut, all, text, paper.A4)
		sitting, err := paper.GatherSitting(v, k.tables, list, 7)
		must(err)
		papers["sitter"] = paper.SitterPaper(sitting, all, k.tables, text, paper.A4)
		round, err := paper.GatherRoundSheet(v, k.tables, "")
		must(err)
		papers["round"], err = paper.RoundSheetPaper(round, text, paper.A4)
		must(err)
		weights, err := paper.GatherWeighSheet(v, model.PlaceID{}, v.Now().Day())
		must(err)
		papers["weighing"], err = paper.WeighSheetPaper(weights, text, paper.A4)
		must(err)
		checks, err := paper.GatherCheckSheets(v, []model.AnimalID{k.animal, {}}, v.Now().Day())
		must(err)
		papers["check sheets"], err = paper.CheckSheetsPaper(checks, k.tables, text, paper.Letter, true)
		must(err)
		return nil
	})
	return papers
}
