package chances_test

import (
	"encoding/json"
	"io/fs"
	"slices"
	"testing"
	"testing/fstest"

	"coilward/assets"
	"coilward/model"
	"coilward/model/animals"
	"coilward/model/assumed"
	"coilward/model/chances"
	"coilward/model/husbandry"
	"coilward/model/knowledge"
	"coilward/model/samples"
	"coilward/model/storetest"
)

// What the keeper or the vet assumes stands in place of the table, in the chance, in the group and in what
// newcomers bring along, and is told with its reason.
func TestOf_RestsOnTheKeepersOwnFigures(t *testing.T) {
	w := begin(t)
	w.sample("oral-swab", 100, virus, samples.NotDetected, w.ash)
	before := w.of(w.ash, virus)
	if len(before.Own) != 0 || before.Spoilt {
		t.Fatalf("%+v", before.Own)
	}
	change := func(row assumed.Row, by assumed.Teller, why string, values map[assumed.Figure]knowledge.Span) model.ID {
		return w.do(assumed.Change{Tables: w.tables, Own: assumed.Own{Row: row, By: by, Why: why, Values: values}})
	}
	change(assumed.Row{Table: assumed.Priors, ID: "serpentovirus-any"}, assumed.Keeper, "none here in ten years", map[assumed.Figure]knowledge.Span{assumed.Prior: {Low: 10, Assumed: 100, High: 200}})
	document := change(assumed.Row{Table: assumed.Sights, ID: "serpentovirus-swab"}, assumed.Vet, "her lab's own figure", map[assumed.Figure]knowledge.Span{
		assumed.Sensitivity: {Low: 500, Assumed: 500, High: 500}, assumed.Specificity: {Low: 990, Assumed: 990, High: 990}, assumed.Share: {}})
	c := w.of(w.ash, virus)
	// Bayes: .1 × .5 / (.1 × .5 + .9 × .99), 2 of 10 and 1 of 100 likewise.
	near(t, "assumed", c.Now.Mid, .1*.5/(.1*.5+.9*.99))
	near(t, "low", c.Now.Low, .01*.5/(.01*.5+.99*.99))
	near(t, "high", c.Now.High, .2*.5/(.2*.5+.8*.99))
	var told []string
	for _, l := range c.Assumes(chances.Named{Name: "Ash", Others: func(model.AnimalID) string { return "" }}) {
		told = append(told, l.Key)
	}
	if !slices.Contains(told, "chance.assumes.own-prior") || !slices.Contains(told, "chance.assumes.own-sight-vet") || slices.Contains(told, "chance.assumes.own-carrier") || !slices.Contains(told, "chance.assumes.unpublished") {
		t.Errorf("told: %v", told)
	}
	if len(c.Own) != 2 || c.Own[0].Why != "none here in ten years" || c.Own[1].By != assumed.Vet {
		t.Errorf("%+v", c.Own)
	}
	other := w.of(w.birch, "ferlavirus")
	if len(other.Own) != 0 {
		t.Errorf("another thing rests on %+v", other.Own)
	}
	one, _ := w.read().AtLeastOne([]model.AnimalID{w.birch}, virus)
	near(t, "one alone", one.Chance.Mid, .1)
	w.do(assumed.Reset{Tables: w.tables, Document: document})
	if c = w.of(w.ash, virus); len(c.Own) != 1 || !c.Assumed() {
		t.Errorf("after it went back: %+v", c.Own)
	}
}

// How far samples lie apart says what a pool costs: where they lie closer, it misses more.
func TestOf_AnOwnSpreadSaysWhatAPoolCosts(t *testing.T) {
	w := begin(t)
	w.sample("oral-swab", 100, virus, samples.NotDetected, w.ash, w.birch, w.elm)
	before := w.of(w.ash, virus).Now.Mid
	row := assumed.Row{Table: assumed.Sights, ID: "serpentovirus-swab"}
	values, _, _ := row.Of(w.tables)
	put := func(spread int) float64 {
		values[assumed.Spread] = knowledge.Span{Low: spread, Assumed: spread, High: spread}
		w.do(assumed.Change{Tables: w.tables, Own: assumed.Own{Row: row, By: assumed.Vet, Why: "her lab's own figure", Values: values}, Base: w.revision(row)})
		return w.of(w.ash, virus).Now.Mid
	}
	close, alike, far := put(10), put(30), put(200)
	if near(t, "as the table has it", alike, before); !(close > alike+.01 && alike > far+.005) {
		t.Errorf("after a pool: %.4f where they lie close, %.4f as the table has it, %.4f far apart", close, alike, far)
	}
}

// revision is that of what stands in place of a row, 0: nothing does.
func (w *world) revision(row assumed.Row) (revision uint32) {
	w.Helper()
	if err := w.View(func(v model.View) error {
		f, err := assumed.ReadFigures(v, w.tables)
		if err == nil {
			own, _ := f.Own(row)
			revision = own.Revision
		}
		return err
	}); err != nil {
		w.Fatal(err)
	}
	return revision
}

// The row of a species holds for its animals alone, and for pools of them; a pool of several
// species is looked through as any.
func TestOf_ARowOfASpeciesGoesBeforeThatOfAny(t *testing.T) {
	w := begin(t)
	w.tables = tablesWith(t, map[string]string{"sight.txt": "serpentovirus-of-royals | serpentovirus | python-regius | oral-swab | pcr | 500 | 500 | 500 | 990 | 0 | 0 | 0 | 30 | 950 | assumed\n"})
	royal := func(name string) model.AnimalID {
		id := model.AnimalID{ID: w.do(animals.Add{Animal: animals.Animal{Name: name, Species: "python-regius", Status: animals.Kept, Since: model.Date{Day: w.on(400).Day(), Precision: model.ToDay}}})}
		w.do(husbandry.Move{Animal: id, Place: w.boxes[4], At: w.on(300), Confirmed: yes})
		return id
	}
	one, two, three, four := royal("Oak"), royal("Yew"), royal("Bay"), royal("Box")
	w.sample("oral-swab", 100, virus, samples.NotDetected, one)
	w.sample("oral-swab", 100, virus, samples.NotDetected, w.ash)
	w.sample("oral-swab", 100, virus, samples.NotDetected, two, three)
	w.sample("oral-swab", 100, virus, samples.NotDetected, four, w.birch)
	for name, c := range map[string]struct {
		animal model.AnimalID
		want   string
	}{"its own row": {one, "serpentovirus-of-royals"}, "of no species": {w.ash, "serpentovirus-swab"}, "a pool of the species": {two, "serpentovirus-of-royals"}, "a pool of several": {four, "serpentovirus-swab"}} {
		of := w.of(c.animal, virus)
		if len(of.Sights) != 1 || of.Sights[0].ID != c.want {
			t.Errorf("%s: %+v", name, of.Sights)
		}
	}
	near(t, "by its own row", w.of(one, virus).Now.Mid, .2*.5/(.2*.5+.8*.99))
	near(t, "by that of any", w.of(w.ash, virus).Now.Mid, .2*.15/(.2*.15+.8*.995))
	p, _ := w.read().Plan([]model.AnimalID{two, three}, virus)
	mixed, _ := w.read().Plan([]model.AnimalID{two, w.ash}, virus)
	if p.By.ID != "serpentovirus-of-royals" || mixed.By.ID != "serpentovirus-swab" {
		t.Errorf("plans rest on %s and %s", p.By.ID, mixed.By.ID)
	}
}

// tablesWith are the tables with rows more in some of them.
func tablesWith(t testing.TB, rows map[string]string) *knowledge.Tables {
	t.Helper()
	all := fstest.MapFS{}
	if err := fs.WalkDir(assets.Knowledge(), ".", func(path string, entry fs.DirEntry, err error) error {
		if err != nil || entry.IsDir() {
			return err
		}
		data, err := fs.ReadFile(assets.Knowledge(), path)
		if more := rows[path]; more != "" {
			data = append(data, "\n"+more...)
		}
		all[path] = &fstest.MapFile{Data: data}
		return err
	}); err != nil {
		t.Fatal(err)
	}
	tables, err := knowledge.Load(all)
	if err != nil {
		t.Fatal(err)
	}
	return tables
}

// An own figure that cannot stand is not used, and that is told.
func TestOf_TellsOfFiguresThatCannotBeUsed(t *testing.T) {
	w := begin(t)
	before := w.of(w.ash, virus).Now
	w.do(storePut(`{"table":"sight","row":"serpentovirus-swab","values":{"sensitivity":{"low":1,"assumed":2,"high":3},"specificity":{"low":900,"assumed":900,"high":900},"share":{"low":0,"assumed":0,"high":0}},"by":"vet","why":"x"}`))
	c := w.of(w.ash, virus)
	if !c.Spoilt || c.Now != before || len(c.Own) != 0 {
		t.Errorf("spoilt %v, %v, %+v", c.Spoilt, c.Now, c.Own)
	}
	if other := w.of(w.ash, "ferlavirus"); other.Spoilt {
		t.Error("it is told of another thing")
	}
	lines := c.Assumes(chances.Named{Name: "Ash", Others: func(model.AnimalID) string { return "" }})
	if !slices.ContainsFunc(lines, func(l chances.Line) bool { return l.Key == "chance.assumes.own-spoilt" }) {
		t.Errorf("told: %+v", lines)
	}
}

func storePut(body string) model.Command {
	return storetest.Put{Documents: []model.Document{{Type: model.TypeFigures, ID: model.ID{9, 9}, At: model.MomentOf(storetest.Start()), Version: assumed.Version, Body: json.RawMessage(body)}}}
}
