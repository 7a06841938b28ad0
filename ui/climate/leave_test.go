package climate_test

import (
	"reflect"
	"slices"
	"testing"

	"fyne.io/fyne/v2"

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
