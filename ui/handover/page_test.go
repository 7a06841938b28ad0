package handover_test

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"testing"

	"coilward/assets"
	"coilward/export/handover"
	"coilward/export/paper"
	"coilward/model"
	"coilward/model/animals"
	"coilward/model/collection"
	"coilward/model/demo"
	"coilward/model/knowledge"
	"coilward/model/quarantine"
	"coilward/model/storetest"
	"coilward/model/wording"
	page "coilward/ui/handover"
	"coilward/ui/place"
	"coilward/ui/uitest"
)

// sold is a file of the papers of an animal of the sample, as its seller made it.
func sold(t *testing.T, name string) (path, fingerprint string) {
	t.Helper()
	tables, err := knowledge.Load(assets.Knowledge())
	if err != nil {
		t.Fatal(err)
	}
	languages, err := wording.Load(assets.Text())
	if err != nil {
		t.Fatal(err)
	}
	text := languages.In("en", wording.Units{})
	c, _ := storetest.New(t)
	if err := demo.Fill(c, tables, text); err != nil {
		t.Fatal(err)
	}
	m := handover.Making{Tables: tables, Pictures: func(model.PhotoID, int) ([]byte, error) { return nil, os.ErrNotExist }, Text: text, Size: paper.A4, Program: "0.8.0"}
	err = c.View(func(v model.View) error {
		all, err := animals.All(v)
		for _, a := range all {
			if a.Name == name {
				m.Animal = a.ID
			}
		}
		return err
	})
	if err != nil || m.Animal.IsZero() {
		t.Fatalf("no %s: %v", name, err)
	}
	if m.Key, err = handover.NewKey(); err != nil {
		t.Fatal(err)
	}
	path = filepath.Join(t.TempDir(), "her"+handover.Extension)
	if _, err := handover.MakeFile(context.Background(), path, c, m, func(float64) {}); err != nil {
		t.Fatal(err)
	}
	return path, m.Key.Public().Fingerprint()
}

// empty is a window over a collection with nothing in it.
func empty(t *testing.T, l uitest.Look, language string) *uitest.Opened {
	return uitest.Open(t, uitest.Setting{Look: l, Language: language, Fill: func(*collection.Collection) {}, Place: place.HerPapers,
		Make: func(w place.Window) place.Place { return page.New(w) }})
}

const name = "Kestrel"

// A buyer opens the file, reads what was checked and what was not, and takes the animal
// in: it is a newcomer then; once more nothing is doubled.
func TestABuyersWalk(t *testing.T) {
	path, fingerprint := sold(t, name)
	w := empty(t, uitest.Looks()[0], "en")
	w.Go(place.Route{To: place.HerPapers, Page: path})
	for _, words := range []string{name, "Unchanged since it was signed with the key " + fingerprint, "only if the seller told you", "What was checked", "Weighings", "What was not", "Look at the animal yourself"} {
		if !w.Shows(words) {
			t.Errorf("not told: %q", words)
		}
	}
	uitest.Tap(t, w.Content(), "Take in as a newcomer")
	a := w.Animal(name)
	if len(w.Went) == 0 || w.Went[len(w.Went)-1] != (place.Route{To: place.Animal, Subject: a.ID.ID}) {
		t.Errorf("went %v", w.Went)
	}
	before := 0
	err := w.Collection().View(func(v model.View) error {
		all, err := quarantine.Of(v, a.ID)
		if err != nil || len(all) != 1 || !all[0].Open() {
			t.Errorf("quarantines %+v, %v", all, err)
		}
		return v.Timeline(a.ID.Subject(), model.Beginning, model.EndOfTime, func(model.Document) bool { before++; return true })
	})
	if err != nil || before < 10 {
		t.Fatalf("%d documents, %v", before, err)
	}
	w.Go(place.Route{To: place.HerPapers, Page: path})
	uitest.Tap(t, w.Content(), "Take in as a newcomer")
	after := 0
	err = w.Collection().View(func(v model.View) error {
		return v.Timeline(a.ID.Subject(), model.Beginning, model.EndOfTime, func(model.Document) bool { after++; return true })
	})
	if err != nil || after != before {
		t.Errorf("%d documents before, %d after, %v", before, after, err)
	}
	if top := uitest.Top(w.Canvas()); !uitest.Shows(top, "stands here already") {
		t.Errorf("said %v", uitest.Texts(top))
	}
}

// What was changed is refused, told why, and nothing of it shown.
func TestAChangedFileIsNotTold(t *testing.T) {
	path, _ := sold(t, name)
	raw, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, bytes.Replace(raw, []byte(`"name":"`+name), []byte(`"name":"Xestrel`), 1), 0o600); err != nil {
		t.Fatal(err)
	}
	w := empty(t, uitest.Looks()[0], "en")
	w.Go(place.Route{To: place.HerPapers, Page: path})
	if !w.Shows("record.json was changed after it was signed") || w.Shows("What was checked") || w.Shows("Xestrel") {
		t.Errorf("shown %v", uitest.Texts(w.Content()))
	}
}

// A name that is taken is said at the field, and what was typed stays.
func TestANameThatIsTaken(t *testing.T) {
	path, _ := sold(t, name)
	w := empty(t, uitest.Looks()[0], "en")
	if _, err := w.Collection().Do(animals.Add{Animal: animals.Animal{Name: name}}); err != nil {
		t.Fatal(err)
	}
	w.Go(place.Route{To: place.HerPapers, Page: path})
	uitest.Tap(t, w.Content(), "Take in as a newcomer")
	if last := w.Went[len(w.Went)-1]; last.To == place.Animal || !w.Shows("has this name already") {
		t.Errorf("went %v, shown %v", w.Went, uitest.Texts(w.Content()))
	}
}

// Everything has room, in every look and language.
func TestNothingIsCut(t *testing.T) {
	path, _ := sold(t, name)
	for _, language := range uitest.Languages() {
		for _, l := range uitest.LooksIn(language) {
			w := empty(t, l, language)
			w.Go(place.Route{To: place.HerPapers, Page: path})
			for _, cut := range uitest.Clipped(w.Content(), w.Canvas().Size()) {
				t.Errorf("%v %s: %s", l, language, cut)
			}
		}
	}
}
