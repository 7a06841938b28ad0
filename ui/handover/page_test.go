package handover_test

import (
	"bytes"
	"context"
	"image"
	"image/jpeg"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"coilward/assets"
	"coilward/export/handover"
	"coilward/export/paper"
	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/collection"
	"coilward/model/demo"
	taken "coilward/model/handover"
	"coilward/model/knowledge"
	"coilward/model/quarantine"
	"coilward/model/storetest"
	"coilward/model/wording"
	page "coilward/ui/handover"
	"coilward/ui/look"
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
	m := handover.Making{Tables: tables, Pictures: picture, Text: text, Size: paper.A4, Program: "0.8.0"}
	var now model.Moment
	err = c.View(func(v model.View) error {
		all, err := animals.All(v)
		now = v.Now()
		for _, a := range all {
			if a.Name == name {
				m.Animal = a.ID
				a.Chip = animals.Chip{Digits: "276098102204417", Standard: animals.ChipISO}
				if _, err := c.Do(animals.Change{ID: a.ID, Base: a.Revision, Animal: a.Animal}); err != nil {
					return err
				}
			}
		}
		return err
	})
	if err != nil || m.Animal.IsZero() {
		t.Fatalf("no %s: %v", name, err)
	}
	photo := care.AddPhoto{About: care.About{Animal: m.Animal, At: now}, Photo: care.Photo{Photos: []model.PhotoID{model.PhotoID(strings.Repeat("ab", 32))}}}
	if _, err := c.Do(photo); err != nil {
		t.Fatal(err)
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

// picture is the photo of whatever there is one of.
func picture(model.PhotoID, int) ([]byte, error) {
	var file bytes.Buffer
	err := jpeg.Encode(&file, image.NewGray(image.Rect(0, 0, 32, 24)), nil)
	return file.Bytes(), err
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
	uitest.Tap(t, w.Content(), "Take in what is new")
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

// kept are the photos in the collection's folder.
func kept(t *testing.T, w *uitest.Opened) int {
	t.Helper()
	all, err := w.Photos().IDs()
	if err != nil {
		t.Fatal(err)
	}
	return len(all)
}

// Where the command refuses, no photo was kept; where it takes the animal in, all are.
func TestNoPhotoIsKeptForNothing(t *testing.T) {
	path, _ := sold(t, name)
	w := empty(t, uitest.Looks()[0], "en")
	own, err := w.Collection().Do(animals.Add{Animal: animals.Animal{Name: name}})
	if err != nil {
		t.Fatal(err)
	}
	w.Go(place.Route{To: place.HerPapers, Page: path})
	uitest.Tap(t, w.Content(), "Take in as a newcomer")
	if n := kept(t, w); n != 0 || !w.Shows("has this name already") {
		t.Fatalf("%d photos were kept, shown %v", n, uitest.Texts(w.Content()))
	}
	if _, err := w.Collection().Do(animals.Remove{ID: model.AnimalID{ID: own.Documents[0]}}); err != nil {
		t.Fatal(err)
	}
	uitest.Tap(t, w.Content(), "Take in as a newcomer")
	if n := kept(t, w); n != 1 {
		t.Errorf("%d photos were kept", n)
	}
}

// One that was entered by hand is offered, that with the same chip first, and stays one.
func TestOneOfThoseHere(t *testing.T) {
	path, _ := sold(t, name)
	p, shut, err := handover.OpenFile(path)
	if err != nil {
		t.Fatal(err)
	}
	chip := p.Record.Animal.Chip
	if err := shut(); err != nil || chip.IsZero() {
		t.Fatalf("the chip is %v, %v", chip, err)
	}
	w := empty(t, uitest.Looks()[0], "en")
	for _, a := range []animals.Animal{{Name: "Ada"}, {Name: "Zora", Chip: chip, Note: "typed"}} {
		if _, err := w.Collection().Do(animals.Add{Animal: a}); err != nil {
			t.Fatal(err)
		}
	}
	w.Go(place.Route{To: place.HerPapers, Page: path})
	if !w.Shows("Zora has the same chip") {
		t.Errorf("shown %v", uitest.Texts(w.Content()))
	}
	uitest.Tap(t, w.Content(), "Is it one of the animals here?")
	uitest.Type(w.Canvas(), "zor")
	uitest.Key(w.Canvas(), fyne.KeyReturn)
	if w.Shows("What you call the animal") || w.Shows("Take in as a newcomer") {
		t.Errorf("for Zora it asks %v", uitest.Texts(w.Content()))
	}
	uitest.Tap(t, w.Content(), "Take in what is new")
	a := w.Animal("Zora")
	if last := w.Went[len(w.Went)-1]; last != (place.Route{To: place.Animal, Subject: a.ID.ID}) || a.Note != "typed" || a.Species == "" {
		t.Errorf("went %v; it is %+v", w.Went, a)
	}
	all := 0
	err = w.Collection().View(func(v model.View) error {
		return v.All(model.TypeAnimal, func(model.Document) bool { all++; return true })
	})
	if err != nil || all != 2 {
		t.Errorf("%d animals, %v", all, err)
	}
	w.Go(place.Route{To: place.HerPapers, Page: path})
	if !w.Shows("These very papers were taken in already") || !w.Shows("The animal of these papers: Zora") || w.Shows("Is it one of the animals here?") {
		t.Errorf("once more: %v", uitest.Texts(w.Content()))
	}
}

// That papers are older than those before, or signed with another key, is said when they
// are opened.
func TestSaidOnOpening(t *testing.T) {
	path, fingerprint := sold(t, name)
	p, shut, err := handover.OpenFile(path)
	if err != nil {
		t.Fatal(err)
	}
	record := p.Record
	if err := shut(); err != nil {
		t.Fatal(err)
	}
	w := empty(t, uitest.Looks()[0], "en")
	later := record
	later.Issued.UTC++
	take := taken.TakeIn{Tables: w.Tables(), Record: later, Key: fingerprint, Sum: "other", At: w.Now(), Protocol: "python"}
	if _, err := w.Collection().Do(take); err != nil {
		t.Fatal(err)
	}
	w.Go(place.Route{To: place.HerPapers, Page: path})
	if !w.Shows("Older than papers of this animal") || w.Shows("another key") {
		t.Errorf("an older one: %v", uitest.Texts(w.Content()))
	}
	if _, err := w.Collection().Undo(); err != nil {
		t.Fatal(err)
	}
	take.Key, take.Record = "AAAA", record
	if _, err := w.Collection().Do(take); err != nil {
		t.Fatal(err)
	}
	w.Go(place.Route{To: place.HerPapers, Page: path})
	if !w.Shows("Signed with another key than the papers that were taken in before: AAAA") || w.Shows("Older than papers") {
		t.Errorf("of another key: %v", uitest.Texts(w.Content()))
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
		narrow := uitest.Look{Shine: look.ByNight, Width: 680, Height: 560, Scale: 2} // what a small screen leaves beside the rail
		for _, l := range append(uitest.LooksIn(language), narrow) {
			w := empty(t, l, language)
			if _, err := w.Collection().Do(animals.Add{Animal: animals.Animal{Name: "Zora"}}); err != nil { // so that there is one to choose
				t.Fatal(err)
			}
			w.Go(place.Route{To: place.HerPapers, Page: path})
			for _, cut := range uitest.Clipped(w.Content(), w.Canvas().Size()) {
				t.Errorf("%v %s: %s", l, language, cut)
			}
		}
	}
}
