package climate_test

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/storage"

	"coilward/model"
	"coilward/model/climate"
	"coilward/model/collection"
	"coilward/model/husbandry"
	"coilward/model/storetest"
	ui "coilward/ui/climate"
	"coilward/ui/look"
	"coilward/ui/place"
	"coilward/ui/uitest"
)

func open(t testing.TB, language string, fill func(*collection.Collection)) hand {
	t.Helper()
	w := uitest.Open(t, uitest.Setting{Look: uitest.Look{Shine: look.ByDay, Width: 1280, Height: 800, Scale: 1}, Language: language, Fill: fill, Place: place.Climate,
		Make: func(w place.Window) place.Place { return ui.New(w) }})
	w.Go(place.Route{To: place.Climate})
	return hand{w, t}
}

// oneBox is a vivarium with one logger.
func oneBox(t testing.TB) func(*collection.Collection) {
	return func(c *collection.Collection) {
		for _, command := range []model.Command{
			husbandry.AddPlaces{Branches: []husbandry.Branch{{Place: husbandry.Place{Name: "Loft box", Kind: husbandry.Vivarium}}}},
			husbandry.AddInstrument{Instrument: husbandry.Instrument{Name: "Small logger", Kind: husbandry.Hygrometer}},
		} {
			if _, err := c.Do(command); err != nil {
				t.Fatal(err)
			}
		}
	}
}

// hand does what a person does at the page.
type hand struct {
	*uitest.Opened
	t testing.TB
}

func (w hand) tap(name string) { w.t.Helper(); uitest.Tap(w.t, uitest.Top(w.Canvas()), name) }

func (w hand) sees(part string) {
	w.t.Helper()
	if !uitest.Shows(uitest.Top(w.Canvas()), part) {
		w.t.Errorf("%q is not in sight", part)
	}
}

// fill types into the field at that place among those of the form.
func (w hand) fill(at int, text string) {
	w.t.Helper()
	entry := uitest.Entries(w.Content())[at]
	w.Canvas().Focus(entry)
	for range 12 {
		entry.TypedKey(&fyne.KeyEvent{Name: fyne.KeyEnd})
		entry.TypedKey(&fyne.KeyEvent{Name: fyne.KeyBackspace})
	}
	uitest.Type(w.Canvas(), text)
}

func (w hand) drop(path string) { w.Dropped([]fyne.URI{storage.NewFileURI(path)}) }

// stored are the readings of the only place that has some.
func stored(t testing.TB, w hand) (all []climate.Series) {
	t.Helper()
	if err := w.Collection().View(func(v model.View) error {
		h, err := husbandry.ReadHouse(v)
		if err != nil {
			return err
		}
		for _, p := range h.Places() {
			some, _, err := climate.InPlace(v, p.ID, climate.Span{From: model.Beginning, Until: model.EndOfTime})
			if err != nil {
				return err
			}
			all = append(all, some...)
		}
		return nil
	}); err != nil {
		t.Fatal(err)
	}
	return all
}

// The fields of the form, as they stand: the day, the hour, and these.
const (
	temperature = 2
	uv          = 4
)

func TestAReadingIsNoted(t *testing.T) {
	for _, language := range []string{"en", "de"} {
		w := open(t, language, oneBox(t))
		text := w.Text()
		w.tap(text.Say("climate.note"))
		w.fill(temperature, "400")
		w.tap(text.Say("particulars.keep"))
		if len(stored(t, w)) != 0 {
			t.Fatal("400 degrees are noted")
		}
		w.fill(temperature, "31,5")
		w.fill(uv, "0.9")
		w.tap(text.Say("particulars.keep"))
		all := stored(t, w)
		if len(all) != 1 || all[0].Zone != climate.Basking || len(all[0].Readings) != 1 || all[0].Readings[0].Temperature != 3150 || len(all[0].UV) != 1 || all[0].UV[0].Index != 90 {
			t.Fatalf("%s: noted %+v", language, all)
		}
		w.sees(text.Say("climate.zone.basking"))
		w.sees(text.Say("climate.lamp-what")) // though no lamp is noted
	}
}

// logFile writes a file of a logger with some bad lines.
func logFile(t testing.TB, days int) string {
	t.Helper()
	var b strings.Builder
	b.WriteString("Datum;Uhrzeit;Temperatur (°C);Feuchte (%)\n")
	at := storetest.Start().Add(-time.Duration(days) * 24 * time.Hour)
	for i := range days * 24 {
		fmt.Fprintf(&b, "%s;%d,%d;55\n", at.Add(time.Duration(i)*time.Hour).Format("02.01.2006;15:04"), 24+i%24/4, i%10)
	}
	b.WriteString("01.01.2020;12:00;400;55\nyesterday;;;\n")
	path := filepath.Join(t.TempDir(), "log.csv")
	if err := os.WriteFile(path, []byte(b.String()), 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}

func TestAFileIsTakenInOnce(t *testing.T) {
	w := open(t, "en", oneBox(t))
	text, path := w.Text(), logFile(t, 10)
	w.drop(path)
	w.sees(text.Say("climate.bad-lines"))
	w.sees(text.Count("climate.found-bad", 2))
	if len(stored(t, w)) != 0 {
		t.Fatal("something is written before it was said")
	}
	act := text.Count("climate.take-in-count", 240)
	w.tap(act)
	w.sees(text.Say("climate.missing-zone"))
	w.tap(text.Say("climate.zone.warm"))
	w.tap(act)
	all := stored(t, w)
	if len(all) != 1 || all[0].Zone != climate.Warm || len(all[0].Readings) != 240 {
		t.Fatalf("%d series", len(all))
	}
	w.drop(path)
	w.sees(text.Count("climate.found-same", 240))
	w.tap(text.Say("climate.zone.warm"))
	w.tap(text.Say("climate.take-in"))
	w.sees(text.Say("climate.nothing-new"))
	if got := stored(t, w); len(got[0].Readings) != 240 {
		t.Errorf("%d readings after the same file twice", len(got[0].Readings))
	}
}

func TestWhatIsNoLogIsRefused(t *testing.T) {
	w := open(t, "de", oneBox(t))
	path := filepath.Join(t.TempDir(), "letter.txt")
	if err := os.WriteFile(path, []byte("Dear Mira,\nthank you.\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	w.drop(path)
	w.sees(w.Text().Say("climate.file-not"))
}
