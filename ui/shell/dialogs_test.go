package shell_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/widget"

	"coilward/ui/place"
	"coilward/ui/uitest"
)

// Fyne's own dialogs speak the window's language, whatever the system's is, also after
// it was changed.
func TestFynesDialogsSpeakTheWindowsLanguage(t *testing.T) {
	for _, system := range []string{"en_US.UTF-8", "fr_FR.UTF-8", "de_AT.UTF-8", "nl_NL.UTF-8", "C"} {
		for _, name := range []string{"LC_ALL", "LC_MESSAGES", "LANG", "LANGUAGE"} {
			t.Setenv(name, "")
		}
		t.Setenv("LANG", system)
		b := open(t, uitest.Looks()[0], "", nil)
		for _, c := range []struct{ language, cancel, parent string }{{"de", "Abbrechen", "darüber"}, {"en", "Cancel", "up"}, {"de", "Abbrechen", "darüber"}} {
			b.Change(func(p *place.Preferences) { p.Language = c.language })
			if cancel, parent := lang.L("Cancel"), lang.X("file.parent", "Parent"); cancel != c.cancel || parent != c.parent {
				t.Errorf("%s, window %s: says %q and %q", system, c.language, cancel, parent)
			}
		}
	}
}

// dialogSays is what Fyne's dialog says: it is made of Fyne's own parts.
func dialogSays(b bench) string {
	popUp, ok := b.Window().Canvas().Overlays().Top().(*widget.PopUp)
	if !ok {
		return ""
	}
	var said []string
	for _, o := range test.LaidOutObjects(popUp) {
		switch o := o.(type) {
		case *widget.Label:
			said = append(said, o.Text)
		case *widget.Button:
			said = append(said, o.Text)
		}
	}
	return strings.Join(said, " | ")
}

func TestTheSideOfAFileDialogIsGerman(t *testing.T) {
	t.Setenv("HOME", t.TempDir())
	b := open(t, uitest.Looks()[0], "de", nil)
	b.ChooseFolder(func(string) {})
	said := dialogSays(b)
	for _, want := range []string{"Ordner wählen", "Abbrechen", "Öffnen", "Eigene Dateien"} {
		if !strings.Contains(said, want) {
			t.Errorf("says %q, want %q", said, want)
		}
	}
	if strings.Contains(said, "Home") {
		t.Errorf("says %q", said)
	}
}

// A dialog opens where the collection lies, and the next one where was chosen last.
func TestADialogOpensWhereTheCollectionIsOrWasChosenLast(t *testing.T) {
	room := t.TempDir()
	collection := filepath.Join(room, "Beside the collection", "Old Mill")
	if err := os.MkdirAll(collection, 0o700); err != nil {
		t.Fatal(err)
	}
	t.Setenv("HOME", t.TempDir())
	b := open(t, uitest.Looks()[0], "en", nil)
	b.Change(func(p *place.Preferences) { p.Folder = collection })
	took := ""
	choose := func() {
		b.ChooseFolder(func(folder string) { took = folder })
		button(t, b, "Open").OnTapped()
	}
	if choose(); took != filepath.Dir(collection) {
		t.Errorf("opened in %q", took)
	}
	b.ChooseFolder(func(folder string) { took = folder })
	button(t, b, filepath.Base(room)).OnTapped()
	button(t, b, "Open").OnTapped()
	if choose(); took != room {
		t.Errorf("opened in %q, chosen last was %q", took, room)
	}
	if err := os.RemoveAll(room); err != nil {
		t.Fatal(err)
	}
	b.ChooseFolder(func(string) {})
	if said := dialogSays(b); strings.Contains(said, filepath.Base(room)) {
		t.Errorf("opened in %q, though it is gone", said)
	}
}

// Escape leaves a dialog, and nothing else that is typed there gets to what lies behind it; after
// it the keys are the window's again.
func TestEscapeLeavesADialog(t *testing.T) {
	t.Setenv("HOME", t.TempDir())
	b := open(t, uitest.Looks()[0], "en", nil)
	canvas := b.Window().Canvas()
	chosen := false
	for range 2 {
		b.ChooseFile([]string{".herpapers"}, func(string) { chosen = true })
		uitest.Type(canvas, "7")
		uitest.Key(canvas, fyne.KeyReturn)
		if dialogSays(b) == "" {
			t.Fatal("the dialog is gone")
		}
		uitest.Key(canvas, fyne.KeyEscape)
		if said := dialogSays(b); said != "" || chosen {
			t.Fatalf("it still says %q; chosen %v", said, chosen)
		}
	}
	b.Tell("Told", "Something.")
	uitest.Key(canvas, fyne.KeyEscape)
	if canvas.Overlays().Top() != nil {
		t.Error("Escape leaves no sheet after it")
	}
}

// From a sheet, Escape leaves the dialog above it first.
func TestEscapeLeavesTheDialogAboveASheet(t *testing.T) {
	t.Setenv("HOME", t.TempDir())
	b := open(t, uitest.Looks()[0], "en", nil)
	b.Tell("Told", "Something.")
	b.ChooseFolder(func(string) {})
	uitest.Key(b.Window().Canvas(), fyne.KeyEscape)
	if dialogSays(b) != "" || !uitest.Shows(uitest.Top(b.Window().Canvas()), "Something.") {
		t.Fatalf("in sight: %q", dialogSays(b))
	}
	uitest.Key(b.Window().Canvas(), fyne.KeyEscape)
	if b.Window().Canvas().Overlays().Top() != nil {
		t.Error("the sheet stays")
	}
}

// button is a button of Fyne's dialog.
func button(t *testing.T, b bench, label string) *widget.Button {
	t.Helper()
	popUp, ok := b.Window().Canvas().Overlays().Top().(*widget.PopUp)
	if !ok {
		t.Fatal("no dialog is open")
	}
	for _, o := range test.LaidOutObjects(popUp) {
		if press, ok := o.(*widget.Button); ok && press.Text == label {
			return press
		}
	}
	t.Fatalf("no button %q: %q", label, dialogSays(b))
	return nil
}
