package due_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"coilward/model/collection"
	"coilward/ui/due"
	"coilward/ui/place"
	"coilward/ui/uitest"
)

// saver is a window that saves in one place.
type saver struct {
	place.Window
	folder    string
	suggested *string
}

func (s saver) SaveAs(suggested string, done func(string)) {
	*s.suggested = suggested
	done(filepath.Join(s.folder, suggested))
}

// What is due is saved as a calendar; where nothing is due it is said, and no file is
// written.
func TestSavedAsACalendar(t *testing.T) {
	for name, fill := range map[string]func(*collection.Collection){"Weigh: Juniper": one(t), "": func(*collection.Collection) {}} {
		folder, suggested := t.TempDir(), ""
		w := uitest.Open(t, uitest.Setting{Look: plain(), Language: "en", Fill: fill, Place: place.Due,
			Make: func(w place.Window) place.Place { return due.New(saver{w, folder, &suggested}) }})
		w.Go(place.Route{To: place.Due})
		if name == "" {
			if w.Shows("Save as a calendar") {
				t.Error("it is offered where nobody is here")
			}
			continue
		}
		uitest.Tap(t, w.Content(), "Save as a calendar")
		written, err := os.ReadFile(filepath.Join(folder, suggested))
		if err != nil {
			t.Fatal(err)
		}
		if !strings.HasPrefix(suggested, "Calendar") || !strings.HasSuffix(suggested, ".ics") || !strings.Contains(string(written), "SUMMARY:"+name) {
			t.Errorf("%s:\n%s", suggested, written)
		}
		if top := uitest.Top(w.Canvas()); top == nil || !uitest.Shows(top, "doubles nothing") {
			t.Errorf("it is not said: %q", uitest.Texts(w.Content()))
		}
	}
}
