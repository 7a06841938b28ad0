package climate_test

import (
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"testing"

	"fyne.io/fyne/v2"

	"coilward/model/collection"
	"coilward/model/husbandry"
	"coilward/ui/uitest"
)

// climates opens each form of the page, with how many of its fields, from the first, take
// numbers, days and hours alone.
var climates = map[string]int{"climate.note": 6, "climate.set-target": 8, "climate.elsewhere": 4}

func (w hand) holds(i int) string {
	return reflect.ValueOf(uitest.Entries(w.Content())[i]).Elem().FieldByName("Text").String()
}

func (w hand) puts(i int, text string) {
	uitest.Entries(w.Content())[i].(interface{ SetText(string) }).SetText(text)
}

// One key throws away nothing that was typed into a form.
func TestEscapeSaysWhatIsNotKept(t *testing.T) {
	for form := range climates {
		w := open(t, "en", lived(t, "python-regius"))
		before := len(uitest.Entries(w.Content()))
		w.tap(w.Text().Say(form))
		w.escape()
		if len(uitest.Entries(w.Content())) != before {
			t.Errorf("%s: one that nobody touched is not left", form)
			continue
		}
		w.tap(w.Text().Say(form))
		w.puts(0, "31")
		w.escape()
		if w.sees(w.Text().Say("particulars.leave")); len(uitest.Entries(w.Content())) == before {
			t.Errorf("%s: what was typed is thrown away unsaid", form)
			continue
		}
		if w.escape(); len(uitest.Entries(w.Content())) != before {
			t.Errorf("%s: it cannot be left", form)
		}
	}
}

// Wrong values are said at their fields from the top to the foot, and what was typed stays.
func TestWrongValuesFromTheTop(t *testing.T) {
	for form, strict := range climates {
		w := open(t, "en", lived(t, "python-regius"))
		w.tap(w.Text().Say(form))
		all := uitest.Entries(w.Content())
		keep := w.Text().Say("particulars.keep")
		if form == "climate.elsewhere" {
			keep = w.Text().Say("climate.elsewhere-do")
		}
		var was []string
		for i := range strict {
			was = append(was, w.holds(i))
			w.puts(i, "x")
		}
		for i := range strict {
			w.tap(keep)
			if got := slices.Index(all, w.Canvas().Focused()); got != i || w.holds(i) != "x" {
				t.Errorf("%s: field %d is wrong, and field %d is refused; there stands %q", form, i, got, w.holds(i))
			}
			right := was[i]
			if right == "" {
				right = []string{"", "", "30", "50", "1", "30 cm", "", ""}[i] // of a reading
			}
			w.puts(i, right)
		}
	}
}

// What was chosen of a logger's file is not thrown away by one key either.
func TestEscapeSaysThatAFileIsNotTakenIn(t *testing.T) {
	w := open(t, "en", oneBox(t))
	w.drop(logFile(t, 1))
	w.sees(w.Text().Say("climate.file"))
	if w.escape(); uitest.Shows(w.Content(), w.Text().Say("climate.columns")) {
		t.Error("a file of which nothing was chosen is not left")
	}
	w.drop(logFile(t, 1))
	w.tap(w.Text().Say("climate.zone.cool"))
	w.escape()
	if w.sees(w.Text().Say("particulars.leave")); !uitest.Shows(w.Content(), w.Text().Say("climate.columns")) {
		t.Error("what was chosen is thrown away unsaid")
	}
	if w.escape(); uitest.Shows(w.Content(), w.Text().Say("climate.columns")) {
		t.Error("it cannot be left")
	}
}

func (w hand) escape() { uitest.Key(w.Canvas(), fyne.KeyEscape) }

// Another file does not throw away what was chosen of the first one; where nothing was, it
// takes its place.
func TestASecondFileWaits(t *testing.T) {
	for _, language := range []string{"en", "de"} {
		w := open(t, language, twoLoggers(t))
		text, other := w.Text(), filepath.Join(t.TempDir(), "second.csv")
		if err := os.WriteFile(other, []byte("Datum;Uhrzeit;Temperatur (°C)\n01.01.2027;12:00;25\n"), 0o600); err != nil {
			t.Fatal(err)
		}
		w.drop(other)
		w.sees("second.csv")
		w.drop(logFile(t, 1))
		w.sees(text.Count("climate.take-in-count", 24))
		w.tap(text.Say("climate.zone.cool"))
		w.drop(other)
		w.sees(text.Say("climate.file-first", map[string]any{"File": "log.csv"}))
		if !uitest.Shows(w.Content(), text.Count("climate.take-in-count", 24)) || uitest.Shows(w.Content(), "second.csv") {
			t.Errorf("%s: the second file is in the place of the first", language)
		}
	}
}

// What is missing of a file is said from the top, where it is chosen.
func TestWhatIsMissingOfAFile(t *testing.T) {
	w := open(t, "en", twoLoggers(t))
	text := w.Text()
	w.drop(logFile(t, 1))
	w.sees(text.Say("climate.choose-with"))
	act := text.Count("climate.take-in-count", 24)
	w.tap(act)
	w.sees(text.Say("climate.missing-zone"))
	w.tap(text.Say("climate.zone.cool"))
	if uitest.Shows(w.Content(), text.Say("climate.missing-zone")) {
		t.Error("what was missing is said after it was chosen")
	}
	w.tap(act)
	if w.sees(text.Say("climate.missing-with")); w.Canvas().Focused() == nil {
		t.Error("the box of the instrument has not got the keys")
	}
	if len(stored(t, w)) != 0 {
		t.Error("it is taken in without its instrument")
	}
}

func twoLoggers(t *testing.T) func(*collection.Collection) {
	return func(c *collection.Collection) {
		oneBox(t)(c)
		if _, err := c.Do(husbandry.AddInstrument{Instrument: husbandry.Instrument{Name: "Second logger", Kind: husbandry.Hygrometer}}); err != nil {
			t.Fatal(err)
		}
	}
}
