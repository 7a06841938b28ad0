package due_test

import (
	"context"
	"slices"
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/collection"
	modeldue "coilward/model/due"
	"coilward/ui/due"
	"coilward/ui/place"
	"coilward/ui/uitest"
)

// open is a window at the place of what is due; fill nil: over the sample.
func open(t testing.TB, l uitest.Look, language string, fill func(*collection.Collection)) *uitest.Opened {
	t.Helper()
	w := uitest.Open(t, uitest.Setting{Look: l, Language: language, Fill: fill, Place: place.Due,
		Make: func(w place.Window) place.Place { return due.New(w) }})
	w.Go(place.Route{To: place.Due})
	return w
}

func plain() uitest.Look { return uitest.Looks()[0] }

// one fills in an adult that was weighed 40 days ago, and needs nothing else.
func one(t testing.TB) func(*collection.Collection) {
	return func(c *collection.Collection) {
		do := func(command model.Command) collection.Change {
			change, err := c.Do(command)
			if err != nil {
				t.Fatal(err)
			}
			return change
		}
		id := model.AnimalID{ID: do(animals.Add{Animal: animals.Animal{Name: "Juniper", Species: "python-regius"}}).Documents[0]}
		var now model.Moment
		if err := c.View(func(v model.View) error { now = v.Now(); return nil }); err != nil {
			t.Fatal(err)
		}
		ago := func(days int64) care.About {
			at := now
			at.UTC -= days * 86400
			return care.About{Animal: id, At: at}
		}
		do(care.Weigh{About: ago(40), Weight: care.Weight{Mass: model.Grams(1432)}})
		do(care.Feed{About: ago(5), Meal: care.Meal{Prey: care.Rat, Outcome: care.Took}})
	}
}

func TestEmptyPageSaysWhatToDo(t *testing.T) {
	w := open(t, plain(), "en", func(*collection.Collection) {})
	if !w.Shows("No animals yet") {
		t.Fatalf("shown: %q", uitest.Texts(w.Content()))
	}
	uitest.Tap(t, w.Content(), "Add an animal")
	if len(w.Went) == 0 || w.Went[len(w.Went)-1] != (place.Route{To: place.Animals, Page: "new"}) {
		t.Errorf("went %+v", w.Went)
	}
}

// Where nothing is due the page says so of the records alone, and nobody is
// called healthy.
func TestNothingDueIsSaidOfTheRecords(t *testing.T) {
	w := open(t, plain(), "en", func(c *collection.Collection) {
		if _, err := c.Do(animals.Add{Animal: animals.Animal{Name: "Juniper"}}); err != nil {
			t.Fatal(err)
		}
	})
	said := strings.Join(uitest.Texts(w.Content()), " ")
	for _, part := range []string{"Nothing is due in the records.", "no word on how the animals are"} {
		if !strings.Contains(said, part) {
			t.Errorf("%q is not said: %q", part, said)
		}
	}
	if strings.Contains(strings.ToLower(said), "healthy") {
		t.Errorf("called healthy: %q", said)
	}
}

// The sample has alerts with their reasons and acts, by animal and by job, and
// the rail counts them.
func TestTheSampleHasAlerts(t *testing.T) {
	w := open(t, plain(), "en", nil)
	for _, part := range []string{"Needs the vet", "Vet within days", "Go to the vet page", "Due, by animal", "Not done this month"} {
		if !w.Shows(part) {
			t.Errorf("%q is not shown", part)
		}
	}
	uitest.Tap(t, w.Content(), "By job")
	if !w.Shows("Due, by job") {
		t.Error("by job is not shown")
	}
	uitest.Tap(t, w.Content(), "Go to the vet page")
	if last := w.Went[len(w.Went)-1]; last.To != place.Animal || last.Page != "vet" {
		t.Errorf("went to %+v", last)
	}
}

// The rail counts what presses, and no more when it is answered.
func TestTheRailCounts(t *testing.T) {
	w := open(t, plain(), "en", one(t))
	badge := func() bool { // seen from a place that says no number itself
		w.Go(place.Route{To: place.Settings})
		defer w.Go(place.Route{To: place.Due})
		return slices.Contains(uitest.Texts(w.Content()), "1")
	}
	if !badge() {
		t.Fatalf("not counted: %q", uitest.Texts(w.Content()))
	}
	uitest.Key(w.Canvas(), fyne.KeyReturn)
	uitest.Tap(t, uitest.Top(w.Canvas()), "Done elsewhere")
	uitest.Tap(t, uitest.Top(w.Canvas()), "Keep the answer")
	if badge() {
		t.Errorf("still counted: %q", uitest.Texts(w.Content()))
	}
	w.Undo()
	if !badge() {
		t.Errorf("not counted after undo: %q", uitest.Texts(w.Content()))
	}
}

// Everything by the keys: from the list to an item, to an answer that is refused,
// put right, kept and undone.
func TestAnAnswerByTheKeys(t *testing.T) {
	w := open(t, plain(), "en", one(t))
	c := w.Canvas()
	if !w.Shows("overdue since 30 May") {
		t.Fatalf("shown: %q", uitest.Texts(w.Content()))
	}
	uitest.Key(c, fyne.KeyReturn) // the first item has the keys
	if top := uitest.Top(c); !uitest.Shows(top, "Juniper: Weigh") || !uitest.Shows(top, "Every 30 days.") {
		t.Fatalf("the sheet shows %q", uitest.Texts(top))
	}
	uitest.Tap(t, uitest.Top(c), "Not needed")
	uitest.Key(c, fyne.KeyReturn)
	if top := uitest.Top(c); !uitest.Shows(top, "Write why it is not needed.") {
		t.Fatalf("without a reason: %q", uitest.Texts(top))
	}
	uitest.Type(c, "laying")
	uitest.Key(c, fyne.KeyReturn)
	if c.Overlays().Top() != nil || w.Shows("overdue since 30 May") || !w.Shows("Later: ") {
		t.Fatalf("answered: %q", uitest.Texts(w.Content()))
	}
	w.Undo()
	if !w.Shows("overdue since 30 May") {
		t.Errorf("undone: %q", uitest.Texts(w.Content()))
	}
}

// A day that cannot stand is refused at its field, and stays as typed.
func TestPutOffRefusesADayThatHasBeen(t *testing.T) {
	w := open(t, plain(), "en", one(t))
	c := w.Canvas()
	uitest.Key(c, fyne.KeyReturn)
	uitest.Tap(t, uitest.Top(c), "Put off")
	entries := uitest.Entries(uitest.Top(c))
	entries[0].(interface{ SetText(string) }).SetText("1 June 2027")
	uitest.Tap(t, uitest.Top(c), "Keep the answer")
	if top := uitest.Top(c); !uitest.Shows(top, "Give a day after today") || !uitest.Shows(top, "1 June 2027") {
		t.Errorf("shown: %q", uitest.Texts(top))
	}
	entries[0].(interface{ SetText(string) }).SetText("20 June 2027")
	uitest.Tap(t, uitest.Top(c), "Keep the answer")
	uitest.Tap(t, w.Content(), "Later: 3")
	if !w.Shows("20 Jun 2027") || !w.Shows("Put off") {
		t.Errorf("put off: %q", uitest.Texts(w.Content()))
	}
}

// What was passed over is named, and the last month can be looked at.
func TestNotDoneIsNamed(t *testing.T) {
	w := open(t, plain(), "en", one(t))
	if !w.Shows("Not weighed") || w.Shows("Not looked at") || !w.Shows("1 of 1") {
		t.Errorf("this month: %q", uitest.Texts(w.Content()))
	}
	uitest.Tap(t, w.Content(), "May 2027") // it came in June
	if w.Shows("Not weighed") {
		t.Errorf("last month: %q", uitest.Texts(w.Content()))
	}
}

func TestNothingIsClipped(t *testing.T) {
	for _, language := range uitest.Languages() {
		for _, l := range uitest.LooksIn(language) {
			w := open(t, l, language, nil)
			check := func(what string) {
				for _, fault := range uitest.Clipped(w.Content(), fyne.NewSize(l.Width, l.Height)) {
					t.Errorf("%s, %gx%g, %s: %s", language, l.Width, l.Height, what, fault)
				}
			}
			check("by animal")
			uitest.Tap(t, w.Content(), w.Text().Say("due.page.by-job"))
			uitest.Tap(t, w.Content(), w.Text().Count("due.page.fold-later", later(t, w)))
			check("by job, with what is later")
		}
	}
}

// later is how many things are due later.
func later(t testing.TB, w *uitest.Opened) int {
	t.Helper()
	list, err := w.Due().Bring(context.Background(), w.Collection(), nil)
	if err != nil {
		t.Fatal(err)
	}
	return len(list.In(modeldue.Later))
}
