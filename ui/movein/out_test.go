package movein_test

import (
	"os"
	"path/filepath"
	"testing"
	"time"

	"coilward/export/table"
	"coilward/ui/look"
	"coilward/ui/place"
	"coilward/ui/uitest"
)

// What is brought in goes out into a file that is read back with as many rows.
func TestTables_GoOutAsTheyCameIn(t *testing.T) {
	home := t.TempDir()
	t.Setenv("HOME", home)
	t.Setenv("USERPROFILE", home)
	w := open(t, "en", uitest.Look{Shine: look.ByDay, Width: small.Width, Height: small.Height, Scale: 1})
	w.Go(place.Route{To: place.MoveIn, Page: sixty(t)})
	uitest.Tap(t, w.Content(), "Bring in 116 records")
	w.Go(place.Route{To: place.MoveIn, Page: place.TablesOut})
	if dir := os.Getenv("COILWARD_PICTURES"); dir != "" {
		uitest.Keep(t, w.Window(), filepath.Join(dir, "tables-out.png"))
	}
	uitest.Tap(t, w.Content(), "Save the file")
	uitest.Tap(t, uitest.Top(w.Canvas()), "Save")
	path := filepath.Join(home, "Animals and entries.xlsx")
	for range 100 {
		if _, err := os.Stat(path); err == nil {
			break
		}
		time.Sleep(20 * time.Millisecond)
	}
	b, err := table.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	if len(b.Sheets) != 2 || len(b.Sheets[0].Rows) != 59 || len(b.Sheets[1].Rows) != 59 {
		t.Errorf("%d sheets, %d and %d rows", len(b.Sheets), len(b.Sheets[0].Rows), len(b.Sheets[len(b.Sheets)-1].Rows))
	}
}

// The page from which tables go out leaves the spreadsheet on its way in alone.
func TestTables_LeaveWhatComesInAlone(t *testing.T) {
	for _, language := range uitest.Languages() {
		w := open(t, language, uitest.Look{Shine: look.ByDay, Width: small.Width, Height: small.Height, Scale: 1})
		w.Go(place.Route{To: place.MoveIn, Page: sixty(t)})
		w.Go(place.Route{To: place.MoveIn, Page: place.TablesOut})
		for _, fault := range uitest.Clipped(w.Content(), small) {
			t.Errorf("%s: %s", language, fault)
		}
		if w.Shows("bestand.csv") {
			t.Errorf("%s: the other page is in sight", language)
		}
		w.Go(place.Route{To: place.MoveIn})
		if !w.Shows("bestand.csv") {
			t.Errorf("%s: the spreadsheet is gone: %q", language, uitest.Texts(w.Content()))
		}
	}
}
