package papers

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/test"

	"coilward/assets"
	"coilward/export/paper"
	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/collection"
	"coilward/model/due"
	"coilward/model/knowledge"
	"coilward/model/newcomers"
	"coilward/model/people"
	"coilward/model/photo"
	"coilward/model/quarantine"
	"coilward/model/samples"
	"coilward/model/storetest"
	"coilward/model/wording"
	"coilward/ui/place"
	"coilward/ui/uitest"
	"coilward/ui/widgets"
)

// window is what the place needs of a window; what it must not ask is missing
// and would panic. Tasks are done at once.
type window struct {
	place.Window
	t          testing.TB
	collection *collection.Collection
	photos     *photo.Folder
	tables     *knowledge.Tables
	text       *wording.Text
	settings   place.Preferences
	saveTo     string
	opened     []string
	told       []string
	faults     []error
	gone       []place.Route
	canvas     fyne.Canvas
	sheets     *widgets.Sheets
}

func (w *window) Collection() *collection.Collection { return w.collection }
func (w *window) Now() model.Moment                  { return model.MomentOf(storetest.Start()) }
func (w *window) Photos() *photo.Folder              { return w.photos }
func (w *window) Tables() *knowledge.Tables          { return w.tables }
func (w *window) Due() *due.Book                     { return due.NewBook(w.tables) }
func (w *window) Text() *wording.Text                { return w.text }
func (w *window) Settings() place.Preferences        { return w.settings }
func (w *window) ActionsChanged()                    {}
func (w *window) Go(r place.Route)                   { w.gone = append(w.gone, r) }
func (w *window) Open(path string)                   { w.opened = append(w.opened, path) }
func (w *window) Tell(title, sentence string)        { w.told = append(w.told, title+" "+sentence) }
func (w *window) Fault(_ string, err error)          { w.faults = append(w.faults, err) }
func (w *window) Focus(f fyne.Focusable)             { w.canvas.Focus(f) }
func (w *window) ShowSheet(s widgets.Sheet) func()   { return w.sheets.Show(s) }
func (w *window) SaveAs(suggested string, done func(string)) {
	if suggested != filepath.Base(suggested) || !strings.HasSuffix(suggested, ".pdf") {
		w.t.Errorf("suggests the name %q", suggested)
	}
	if w.saveTo != "" {
		done(filepath.Join(w.saveTo, suggested))
	}
}
func (w *window) Task(_ string, work func(context.Context, func(float64)) error, done func(error)) {
	done(work(w.t.Context(), func(float64) {}))
}

// opened is the place over a collection with animals of these names.
func opened(t *testing.T, look uitest.Look, language string, names ...string) (*Page, *window, fyne.Window) {
	t.Helper()
	uitest.App(t, look)
	c, _ := storetest.New(t)
	photos, err := photo.Open(t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	tables, err := knowledge.Load(assets.Knowledge())
	if err != nil {
		t.Fatal(err)
	}
	languages, err := wording.Load(assets.Text())
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range names {
		change, err := c.Do(animals.Add{Animal: animals.Animal{Name: name, Species: "python-regius", Status: animals.Kept}})
		if err != nil {
			t.Fatal(err)
		}
		about := care.About{Animal: model.AnimalID{ID: change.Documents[0]}, At: model.MomentOf(storetest.Start())}
		if _, err := c.Do(care.Weigh{About: about, Weight: care.Weight{Mass: model.Grams(1432), Gut: care.GutEmpty}}); err != nil {
			t.Fatal(err)
		}
	}
	w := &window{t: t, collection: c, photos: photos, tables: tables, text: languages.In(language, wording.Units{})}
	p := New(w, "1.0.0")
	shown := test.NewTempWindow(t, p.Content())
	uitest.Dress(shown, look)
	w.canvas, w.sheets = shown.Canvas(), widgets.NewSheets(shown.Canvas())
	p.Show(place.Route{To: place.Papers})
	return p, w, shown
}

// choose chooses a paper by its name, chooseAnimal an animal.
func (w *window) choose(p *Page, name string)       { w.pick(p, "papers.paper", name) }
func (w *window) chooseAnimal(p *Page, name string) { w.pick(p, "papers.animal", name) }

func (w *window) pick(p *Page, choice, name string) {
	w.t.Helper()
	uitest.Tap(w.t, p.Content(), w.text.Say(choice))
	uitest.Type(w.canvas, name)
	uitest.Key(w.canvas, fyne.KeyReturn)
	if !uitest.Shows(p.Content(), name) {
		w.t.Fatalf("%q is not chosen; shown: %q", name, uitest.Texts(uitest.Top(w.canvas)))
	}
}

func TestPagesAreShownAndSaved(t *testing.T) {
	p, w, _ := opened(t, uitest.Looks()[0], "en", "Kestrel", "Brook: CON")
	if p.paper == nil || len(p.paper.pages) < 2 {
		t.Fatalf("no pages; faults %v", w.faults)
	}
	for _, want := range []string{"Papers", "Brook: CON", "page 1 of", "A4", "Letter"} {
		if !uitest.Shows(p.Content(), want) {
			t.Errorf("the place does not show %q", want)
		}
	}
	w.saveTo = t.TempDir()
	uitest.Tap(t, p.Content(), "Save as a file …")
	files, err := filepath.Glob(filepath.Join(w.saveTo, "*.pdf"))
	if err != nil || len(files) != 1 || len(w.told) != 1 {
		t.Fatalf("files %v, told %v, faults %v", files, w.told, w.faults)
	}
	if written, err := os.ReadFile(files[0]); err != nil || !bytes.HasPrefix(written, []byte("%PDF-")) {
		t.Errorf("%s: %v", files[0], err)
	}
	uitest.Tap(t, p.Content(), "Open to print")
	if len(w.opened) != 1 || filepath.Ext(w.opened[0]) != ".pdf" {
		t.Fatalf("opened %v", w.opened)
	}
	if _, err := os.Stat(w.opened[0]); err != nil {
		t.Error(err)
	}
	if err := os.RemoveAll(filepath.Dir(w.opened[0])); err != nil {
		t.Error(err)
	}
}

func TestSheetAndLanguageAreThePapersOwn(t *testing.T) {
	p, _, _ := opened(t, uitest.Looks()[0], "en", "Kestrel")
	uitest.Tap(t, p.Content(), "Letter")
	if p.paper.document.Size != paper.Letter {
		t.Errorf("the sheet is %v", p.paper.document.Size)
	}
	uitest.Tap(t, p.Content(), "Deutsch")
	if p.paper.document.Language != "de" || !uitest.Shows(p.Content(), "Papers") {
		t.Errorf("the paper's language is %q", p.paper.document.Language)
	}
	if b := p.paper.pages[0].Bounds(); b.Dx() < sheetWidth || b.Dy() < b.Dx()*5/4 {
		t.Errorf("a page is %v", b)
	}
}

func TestARoutesAnimalIsChosen(t *testing.T) {
	p, _, _ := opened(t, uitest.Looks()[0], "de", "Kestrel", "Brook")
	p.Show(place.Route{To: place.Papers, Subject: p.animals[0].ID.ID}) // by name: Brook, Kestrel
	if chosen, ok := p.animal(); !ok || chosen.Name != "Brook" || p.paper.document.FootLeft != "Brook" {
		t.Errorf("chosen is %q, the paper's foot says %q", chosen.Name, p.paper.document.FootLeft)
	}
}

func TestNoAnimalNoPaper(t *testing.T) {
	p, w, _ := opened(t, uitest.Looks()[0], "en")
	uitest.Tap(t, p.Content(), "To the animals")
	if p.paper != nil || len(w.gone) != 1 || w.gone[0].To != place.Animals {
		t.Errorf("paper %v, went to %v", p.paper, w.gone)
	}
	for _, a := range p.Actions() {
		if !a.Off {
			t.Errorf("%s is on without a paper", a.Label)
		}
		a.Do()
	}
}

func TestNowhereToWrite(t *testing.T) {
	p, w, _ := opened(t, uitest.Looks()[0], "en", "Kestrel")
	w.saveTo = filepath.Join(t.TempDir(), "not", "there")
	p.save()
	if len(w.faults) != 1 || len(w.told) != 0 || p.paper == nil {
		t.Errorf("faults %v, told %v", w.faults, w.told)
	}
}

func TestNothingIsCut(t *testing.T) {
	for _, language := range uitest.Languages() {
		for _, look := range uitest.LooksIn(language) {
			p, w, _ := opened(t, look, language, "Anneliese-Wilhelmina von der Großen Schlangenhöhle", "Kestrel")
			one := people.Person{Name: "Dr. Anneliese-Wilhelmina von der Großen Schlangenhöhle", Roles: []people.Role{people.OutOfHours}, Private: true}
			if _, err := w.collection.Do(people.Add{Person: one}); err != nil {
				t.Fatal(err)
			}
			for _, kicker := range []string{"paper.record.kicker", "paper.card.kicker", "paper.quarantine.kicker", "paper.sitter.kicker", "paper.round.kicker", "paper.check-sheet.kicker", "paper.weigh-sheet.kicker", "paper.door.kicker", "paper.collection.kicker", "paper.stock.kicker", "paper.cards.kicker"} {
				w.choose(p, w.text.Say(kicker))
				p.Changed(collection.Change{})
				if cut := uitest.Clipped(p.Content(), p.Content().Size()); len(cut) > 0 {
					t.Errorf("%+v %s %s: %s", look, language, kicker, strings.Join(cut, "; "))
				}
			}
		}
	}
}

// The emergency card is a paper like the others; whom it names is ticked, and who
// is private only where that was asked for.
func TestTheCardNamesWhomItIsTold(t *testing.T) {
	p, w, _ := opened(t, uitest.Looks()[0], "en", "Kestrel")
	w.choose(p, "Emergency card")
	says := func(part string) bool { return strings.Contains(paper.Plain(p.paper.document), part) }
	if p.paper == nil || len(p.paper.pages) != 2 || !says("Kestrel") || !uitest.Shows(p.Content(), "No vet is among the people") {
		t.Fatalf("no card, or nobody says that there is no vet; faults %v", w.faults)
	}
	uitest.Tap(t, p.Content(), "Add a person")
	if len(w.gone) != 1 || w.gone[0].To != place.People {
		t.Errorf("went to %v", w.gone)
	}
	for _, one := range []people.Person{{Name: "Wren Alder", Roles: []people.Role{people.Vet}, Phones: []string{"01 23 45"}},
		{Name: "Night line", Roles: []people.Role{people.OutOfHours}, Private: true}, {Name: "Ash", Roles: []people.Role{people.Buyer}}} {
		if _, err := w.collection.Do(people.Add{Person: one}); err != nil {
			t.Fatal(err)
		}
	}
	p.Changed(collection.Change{})
	if !says("01 23 45") || says("Night line") || says("Ash") {
		t.Errorf("the card says:\n%s", paper.Plain(p.paper.document))
	}
	uitest.Tap(t, p.Content(), "Night line")
	if !says("Night line") {
		t.Error("who is private is not named although ticked")
	}
	uitest.Tap(t, p.Content(), "Wren Alder")
	if says("Wren Alder") {
		t.Error("who is not ticked is named")
	}
	w.choose(p, "Health record")
	if p.paper.document.Size == paper.A6 {
		t.Error("the record is no longer to be had")
	}
}

func TestTheSittersPaperIsAboutAllAndItsDays(t *testing.T) {
	p, w, _ := opened(t, uitest.Looks()[0], "en", "Kestrel", "Brook")
	w.choose(p, "Paper for the sitter")
	if p.paper == nil {
		t.Fatalf("no paper; faults %v", w.faults)
	}
	says := func(part string) bool { return strings.Contains(paper.Plain(p.paper.document), part) }
	if !says("Kestrel") || !says("Brook") || p.paper.document.Size != paper.A4 {
		t.Errorf("the paper says:\n%s", paper.Plain(p.paper.document))
	}
	before := p.paper.document.Subject
	uitest.Tap(t, p.Content(), "28")
	if after := p.paper.document.Subject; after == before {
		t.Errorf("two weeks and four are both %q", after)
	}
	w.saveTo = t.TempDir()
	uitest.Tap(t, p.Content(), "Save as a file …")
	if len(w.told) != 1 || len(w.faults) != 0 {
		t.Errorf("told %v, faults %v", w.told, w.faults)
	}
}

// The quarantine report is of an animal that has one; of another it is said that there
// is none, and nothing can be saved.
func TestTheQuarantineReportIsOfANewcomer(t *testing.T) {
	p, w, _ := opened(t, uitest.Looks()[0], "en", "Kestrel")
	w.choose(p, "Quarantine report")
	if p.paper != nil || !uitest.Shows(p.Content(), "has had no quarantine") {
		t.Fatalf("a report of nothing; faults %v", w.faults)
	}
	chosen, _ := p.animal()
	var now model.Moment
	if err := w.collection.View(func(v model.View) error { now = v.Now(); return nil }); err != nil {
		t.Fatal(err)
	}
	if _, err := w.collection.Do(quarantine.Begin{Tables: w.Tables(), Animal: chosen.ID, Arrived: now, Protocol: newcomers.Usual}); err != nil {
		t.Fatal(err)
	}
	p.Changed(collection.Change{})
	if p.paper == nil || len(p.paper.pages) != 1 || !strings.Contains(paper.Plain(p.paper.document), "day 0 of 90") {
		t.Errorf("no report; faults %v", w.faults)
	}
}

// For the report of a quarantine who is in one stands first, then who was; of an animal
// that never was it is said what to do.
func TestWhoIsInQuarantineStandsFirst(t *testing.T) {
	p, w, _ := opened(t, uitest.Looks()[0], "en", "Alder", "Brook", "Cress", "Dunlin")
	var now model.Moment
	if err := w.collection.View(func(v model.View) error { now = v.Now(); return nil }); err != nil {
		t.Fatal(err)
	}
	begin := func(i int) model.QuarantineID {
		t.Helper()
		done, err := w.collection.Do(quarantine.Begin{Tables: w.Tables(), Animal: p.animals[i].ID, Arrived: now, Protocol: newcomers.Usual})
		if err != nil {
			t.Fatal(err)
		}
		return model.QuarantineID{ID: done.Documents[0]}
	}
	id := begin(2)
	if _, err := w.collection.Do(newcomers.Release{Tables: w.Tables(), ID: id, Base: 1, At: now, Why: "asked", Confirmed: model.Confirmed{"quarantine.unmet"}}); err != nil {
		t.Fatal(err)
	}
	begin(3)
	p.Changed(collection.Change{})
	names := func() (all []string) {
		for _, a := range p.inOrder() {
			all = append(all, a.Name)
		}
		return all
	}
	if got := strings.Join(names(), " "); got != "Alder Brook Cress Dunlin" {
		t.Errorf("for a record: %s", got)
	}
	w.choose(p, "Quarantine report")
	if got := strings.Join(names(), " "); got != "Dunlin Cress Alder Brook" {
		t.Errorf("for a quarantine: %s", got)
	}
	w.chooseAnimal(p, "Brook")
	if chosen, _ := p.animal(); chosen.Name != "Brook" || p.paper != nil {
		t.Fatalf("chosen is %s", chosen.Name)
	}
	uitest.Tap(t, p.Content(), "Begin its quarantine")
	if last := w.gone[len(w.gone)-1]; last.To != place.Newcomers || last.Page != "new" || last.Subject != p.wanted.animal.ID {
		t.Errorf("went to %+v", last)
	}
}

// An animal is chosen by its name, also one that is new.
func TestAnAnimalIsChosen(t *testing.T) {
	p, w, _ := opened(t, uitest.Looks()[0], "en", "Alder", "Brook", "Cress")
	w.chooseAnimal(p, "Cress")
	if chosen, _ := p.animal(); chosen.Name != "Cress" || !strings.Contains(paper.Plain(p.paper.document), "Cress") {
		t.Errorf("chosen is %s", chosen.Name)
	}
	if _, err := p.w.Collection().Do(animals.Add{Animal: animals.Animal{Name: "Dunlin", Status: animals.Kept}}); err != nil {
		t.Fatal(err)
	}
	p.Changed(collection.Change{})
	w.chooseAnimal(p, "Dunlin")
	if chosen, _ := p.animal(); chosen.Name != "Dunlin" {
		t.Errorf("chosen is %s", chosen.Name)
	}
}

// At 1280 by 800 nothing of the choices of a paper about an animal scrolls: they stand in sight
// whole.
func TestTheChoicesStandInSight(t *testing.T) {
	for _, language := range []string{"en", "de"} {
		p, w, shown := opened(t, uitest.Looks()[0], language, "Kestrel", "Brook")
		shown.Resize(fyne.NewSize(1177, 731)) // what the window leaves of 1280 by 800 to a place
		for _, kicker := range []string{"paper.record.kicker", "paper.vet.kicker", "paper.quarantine.kicker", "paper.check-sheet.kicker", "paper.weigh-sheet.kicker"} {
			w.choose(p, w.text.Say(kicker))
			found := false
			uitest.Walk(p.scrolled, func(s uitest.Seen) bool {
				bar, is := s.Object.(*container.Scroll)
				if is {
					found = true
					if need, has := bar.Content.Size().Height, bar.Size().Height; need > has {
						t.Errorf("%s %s: %g high, %g in sight", language, kicker, need, has)
					}
				}
				return !is
			})
			if !found {
				t.Fatal("the choices are not found")
			}
		}
	}
}

// What may speak of people is on a paper only where it was ticked.
func TestWhatMaySpeakOfPeopleIsTicked(t *testing.T) {
	p, w, _ := opened(t, uitest.Looks()[0], "en", "Kestrel")
	chosen, _ := p.animal()
	about := chosen.Animal
	about.From = "Fenwick of Otterby"
	var now model.Moment
	if err := w.collection.View(func(v model.View) error { now = v.Now(); return nil }); err != nil {
		t.Fatal(err)
	}
	for _, c := range []model.Command{animals.Change{ID: chosen.ID, Base: chosen.Revision, Animal: about},
		quarantine.Begin{Tables: w.Tables(), Animal: chosen.ID, Arrived: now, Protocol: newcomers.Usual},
		samples.Prepare{Tables: w.Tables(), Each: []samples.New{{Animals: []model.AnimalID{chosen.ID}, Sample: samples.Sample{Material: "choanal-swab", For: []knowledge.AgentID{"serpentovirus"}, Taken: now, Note: "the neighbour held her"}}}}} {
		if _, err := w.collection.Do(c); err != nil {
			t.Fatal(err)
		}
	}
	p.Changed(collection.Change{})
	for _, c := range []struct{ paper, tick, private string }{
		{"Health record", "With the notes of samples", "the neighbour held her"},
		{"Quarantine report", "With from whom, and why released", "Fenwick of Otterby"},
	} {
		w.choose(p, c.paper)
		for _, asked := range []bool{false, true, false} {
			if p.paper == nil {
				t.Fatalf("%s: no paper; faults %v", c.paper, w.faults)
			}
			if said := strings.Contains(paper.Plain(p.paper.document), c.private); said != asked {
				t.Errorf("%s, ticked %v: %q is said: %v", c.paper, asked, c.private, said)
			}
			uitest.Tap(t, p.Content(), c.tick)
		}
	}
}
