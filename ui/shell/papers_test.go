package shell_test

import (
	"context"
	"os"
	"path/filepath"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/storage"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/widget"

	"coilward/assets"
	signed "coilward/export/handover"
	"coilward/export/paper"
	"coilward/model"
	"coilward/model/animals"
	"coilward/model/knowledge"
	"coilward/model/storetest"
	"coilward/model/wording"
	"coilward/ui/first"
	"coilward/ui/handover"
	"coilward/ui/place"
	"coilward/ui/settings"
	"coilward/ui/shell"
	"coilward/ui/uitest"
)

// sold is a file of an animal's papers as somebody else made it, and the key's fingerprint.
func sold(t *testing.T) (path, fingerprint string) {
	t.Helper()
	tables, err := knowledge.Load(assets.Knowledge())
	if err != nil {
		t.Fatal(err)
	}
	languages, err := wording.Load(assets.Text())
	if err != nil {
		t.Fatal(err)
	}
	c, _ := storetest.New(t)
	change, err := c.Do(animals.Add{Animal: animals.Animal{Name: "Kestrel", Species: "python-regius", Status: animals.Kept}})
	if err != nil {
		t.Fatal(err)
	}
	key, err := signed.NewKey()
	if err != nil {
		t.Fatal(err)
	}
	path = filepath.Join(t.TempDir(), "Kestrel"+signed.Extension)
	m := signed.Making{Animal: model.AnimalID{ID: change.Documents[0]}, Tables: tables, Text: languages.In("en", wording.Units{}), Size: paper.A4, Program: "0.8.0", Key: key}
	if _, err := signed.MakeFile(context.Background(), path, c, m, func(float64) {}); err != nil {
		t.Fatal(err)
	}
	return path, key.Public().Fingerprint()
}

// buyer is a window that opens papers, of one who may have no collection yet; asked are the
// folders that were opened.
func buyer(t *testing.T) (b bench, asked *[]string) {
	t.Helper()
	asked = &[]string{}
	b = open(t, uitest.Looks()[0], "en", func(o *shell.Options) {
		o.Places = []shell.Room{{Name: place.Settings, Icon: "settings", Key: "window.settings", Foot: true, Make: func(w place.Window) place.Place { return settings.New(w) }},
			{Name: place.HerPapers, Key: "window.settings", Make: func(w place.Window) place.Place { return handover.New(w) }}}
		o.Papers = handover.Alone
		o.First = func(w place.Window, begin shell.Beginning) fyne.CanvasObject {
			return first.Page(w, first.Choices{Suggested: begin.Suggested, Empty: begin.Empty, Sample: begin.Sample, Papers: begin.Papers})
		}
		inner := o.Open
		o.Open = func(ctx context.Context, folder string, over bool, early func(shell.Session)) (shell.Session, error) {
			*asked = append(*asked, folder)
			return inner(ctx, folder, over, early)
		}
	})
	return b, asked
}

const (
	takeIn      = "Take in as a newcomer"
	beginToTake = "Begin a collection to take the animal in"
	openPapers  = "Open her papers"
)

// told reports what of the papers stands in sight.
func (b bench) told(t *testing.T, fingerprint string, alone bool) {
	t.Helper()
	content := b.Window().Canvas().Content()
	for words, wanted := range map[string]bool{"Kestrel": true, "Unchanged since it was signed with the key " + fingerprint: true, "What was checked": true, "What was not": true,
		beginToTake: alone, takeIn: !alone} {
		if uitest.Shows(content, words) != wanted {
			t.Fatalf("%q is in sight: %v, want %v; %q", words, !wanted, wanted, uitest.Texts(content))
		}
	}
}

func (b bench) tap(t *testing.T, words string) {
	t.Helper()
	uitest.Tap(t, b.Window().Canvas().Content(), words)
}

func (b bench) shows(words string) bool {
	return uitest.Shows(b.Window().Canvas().Content(), words)
}

// Whoever opens the file of an animal and has no collection is told it, may begin one, and
// takes the animal in.
func TestPapersAreOpenedWithoutACollection(t *testing.T) {
	path, fingerprint := sold(t)
	b, asked := buyer(t)
	b.StartWith(path, "", false)
	b.told(t, fingerprint, true)
	if len(*asked) != 0 {
		t.Fatalf("opened %v unasked", *asked)
	}
	b.tap(t, beginToTake)
	if b.shows("What was checked") || !b.shows(openPapers) {
		t.Fatalf("not the first page: %q", uitest.Texts(b.Window().Canvas().Content()))
	}
	b.tap(t, "Start")
	if len(*asked) != 1 {
		t.Fatalf("opened %v", *asked)
	}
	b.told(t, fingerprint, false)
	b.tap(t, takeIn)
	var all []animals.Stored
	if err := b.c.View(func(v model.View) (err error) { all, err = animals.All(v); return err }); err != nil || len(all) != 1 || all[0].Name != "Kestrel" {
		t.Errorf("taken in %v, %v", all, err)
	}
}

// Where there is a collection, of the command line or of last time, the papers are shown in
// it, and only once.
func TestPapersAreShownInTheCollection(t *testing.T) {
	path, fingerprint := sold(t)
	for _, folder := range []string{"Old Mill", ""} {
		b, asked := buyer(t)
		if folder == "" {
			b.Change(func(p *place.Preferences) { p.Folder = "Last time" })
		}
		b.StartWith(path, folder, false)
		if len(*asked) != 1 {
			t.Fatalf("%q: opened %v", folder, *asked)
		}
		b.told(t, fingerprint, false)
		b.OpenCollection("Another")
		if b.shows("What was checked") {
			t.Errorf("%q: shown once more", folder)
		}
	}
}

// The way back from papers that are told alone leads to the first page; a collection that
// is begun then does not bring them again.
func TestPapersAreLeft(t *testing.T) {
	path, _ := sold(t)
	b, _ := buyer(t)
	b.StartWith(path, "", false)
	b.tap(t, "Back")
	if !b.shows(openPapers) || b.shows("What was checked") {
		t.Fatalf("not the first page: %q", uitest.Texts(b.Window().Canvas().Content()))
	}
	b.tap(t, "Start")
	if b.shows("What was checked") {
		t.Error("they are shown all the same")
	}
}

// The first page offers to open papers: the file is chosen, and told.
func TestTheFirstPageOpensPapers(t *testing.T) {
	path, fingerprint := sold(t)
	t.Setenv("HOME", t.TempDir())
	b, _ := buyer(t)
	b.StartWith("", "", false)
	b.tap(t, openPapers)
	if dialogSays(b) == "" {
		t.Fatal("no file is asked for")
	}
	button(t, b, "Cancel").OnTapped()
	if !b.shows(openPapers) {
		t.Fatal("the first page is gone")
	}
	fyne.CurrentApp().Preferences().SetString("chosen", filepath.Dir(path))
	if err := os.WriteFile(filepath.Join(filepath.Dir(path), "Kestrel.pdf"), nil, 0o600); err != nil {
		t.Fatal(err)
	}
	b.tap(t, openPapers)
	files := filesIn(t, b)
	if n := files.Length(); n != 2 { // the way up, and the papers
		t.Fatalf("%d files are offered: %q", n, dialogSays(b))
	}
	files.Select(1)
	button(t, b, "Open").OnTapped()
	b.told(t, fingerprint, true)
	b.tap(t, "Back")
	b.Dropped([]fyne.URI{storage.NewFileURI(path)})
	b.told(t, fingerprint, true)
}

// filesIn are the files that Fyne's dialog offers.
func filesIn(t *testing.T, b bench) *widget.GridWrap {
	t.Helper()
	popUp, ok := b.Window().Canvas().Overlays().Top().(*widget.PopUp)
	if !ok {
		t.Fatal("no dialog is open")
	}
	for _, o := range test.LaidOutObjects(popUp) {
		if files, ok := o.(*widget.GridWrap); ok {
			return files
		}
	}
	t.Fatalf("no files: %q", dialogSays(b))
	return nil
}

// A file that was changed is refused, and another can be chosen.
func TestPapersThatWereChanged(t *testing.T) {
	path, _ := sold(t)
	raw, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	raw[len(raw)/2] ^= 1
	if err := os.WriteFile(path, raw, 0o600); err != nil {
		t.Fatal(err)
	}
	b, _ := buyer(t)
	b.StartWith(path, "", false)
	if b.shows("What was checked") || b.shows(beginToTake) || !b.shows(filepath.Base(path)+" is not shown") || !b.shows("Choose another file") {
		t.Errorf("shown %q", uitest.Texts(b.Window().Canvas().Content()))
	}
	b.tap(t, "Back")
	if !b.shows(openPapers) {
		t.Errorf("shown %q", uitest.Texts(b.Window().Canvas().Content()))
	}
}
