package feeders_test

import (
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"fyne.io/fyne/v2"

	"coilward/model"
	"coilward/model/care"
	"coilward/model/collection"
	"coilward/model/feeders"
	"coilward/model/storetest"
	ui "coilward/ui/feeders"
	"coilward/ui/look"
	"coilward/ui/place"
	"coilward/ui/uitest"
)

func open(t testing.TB, l uitest.Look, language string, fill func(*collection.Collection)) *uitest.Opened {
	t.Helper()
	w := uitest.Open(t, uitest.Setting{Look: l, Language: language, Fill: fill, Place: place.Feeders, Make: func(w place.Window) place.Place { return ui.New(w) }})
	w.Go(place.Route{To: place.Feeders})
	return w
}

func plain() uitest.Look { return uitest.Look{Shine: look.ByDay, Width: 1280, Height: 800, Scale: 1} }

func some(t testing.TB) func(*collection.Collection) {
	return func(c *collection.Collection) {
		day := model.MomentOf(storetest.Start()).Day()
		for _, b := range []feeders.Batch{
			{Name: "Rats, May", Prey: care.Rat, Size: care.SmallAdult, Each: model.Grams(70), Count: 12, Freezer: "Chest", Best: model.Date{Day: day + 200, Precision: model.ToDay}},
			{Name: "Mice, old", Prey: care.Mouse, Count: 4, Freezer: "Upright", Best: model.Date{Day: day - 2, Precision: model.ToDay}},
		} {
			if _, err := c.Do(feeders.Add{Batch: b}); err != nil {
				t.Fatal(err)
			}
		}
	}
}

func stock(w *uitest.Opened) (all []feeders.Standing) {
	if err := w.Collection().View(func(v model.View) (err error) { all, err = feeders.All(w.Tables(), v); return err }); err != nil {
		w.T.Fatal(err)
	}
	return all
}

func typeInto(w *uitest.Opened, n int, text string) {
	w.Focus(uitest.Entries(w.Content())[n])
	uitest.Type(w.Canvas(), text)
}

// An empty stock says what to do, and its act leads to a batch that stands.
func TestTheFirstBatch(t *testing.T) {
	w := open(t, plain(), "en", func(*collection.Collection) {})
	if !w.Shows("No batch yet") {
		t.Fatalf("%q", uitest.Texts(w.Content()))
	}
	uitest.Tap(t, w.Content(), "Add a batch")
	typeInto(w, 0, "Rats, June")
	typeInto(w, 1, "20")
	uitest.Tap(t, w.Content(), "Keep")
	if len(stock(w)) != 0 || !w.Shows("Choose one") {
		t.Fatalf("kept without a kind: %q", uitest.Texts(w.Content()))
	}
	uitest.Tap(t, w.Content(), "Prey")
	uitest.Type(w.Canvas(), "Rat")
	uitest.Key(w.Canvas(), fyne.KeyReturn)
	uitest.Tap(t, w.Content(), "Keep")
	if all := stock(w); len(all) != 1 || all[0].Count != 20 || all[0].Prey != care.Rat {
		t.Fatalf("%+v; %q", all, uitest.Texts(w.Content()))
	}
}

// Thawing counts down and can be taken back; a batch past its day asks first; the
// freezer that failed puts what lies in it in doubt.
func TestThawingAndAFreezerThatFailed(t *testing.T) {
	w := open(t, plain(), "en", some(t))
	uitest.Tap(t, w.Content(), "Rats, May, 12 of 12 left")
	if !w.Shows("Never freeze thawed prey again") {
		t.Error("no caution")
	}
	uitest.Tap(t, w.Content(), "Thaw out")
	if !w.Shows("11 of 12 left") || !w.Shows("1 thawed, to be offered") {
		t.Fatalf("%q", uitest.Texts(w.Content()))
	}
	uitest.Tap(t, w.Content(), "Take back")
	if !w.Shows("12 of 12 left") {
		t.Fatalf("%q", uitest.Texts(w.Content()))
	}
	uitest.Key(w.Canvas(), fyne.KeyEscape)
	uitest.Tap(t, w.Content(), "Mice, old, 4 of 4 left")
	uitest.Tap(t, w.Content(), "Thaw out")
	if top := w.Canvas().Overlays().Top(); top == nil || !uitest.Shows(top, "best before") {
		t.Fatalf("not asked: %q", uitest.Texts(w.Content()))
	}
	uitest.Tap(t, w.Canvas().Overlays().Top(), w.Text().Say("window.ask.yes"))
	uitest.Key(w.Canvas(), fyne.KeyEscape)
	uitest.Tap(t, w.Content(), "A freezer failed")
	uitest.Tap(t, w.Content(), "Keep")
	if !w.Shows("In doubt since 9 Jun 2027") {
		t.Errorf("%q", uitest.Texts(w.Content()))
	}
	for _, s := range stock(w) {
		if (s.Doubtful != 0) != (s.Freezer == "Chest") {
			t.Errorf("%s: %v", s.Name, s.Doubtful)
		}
	}
	uitest.Tap(t, w.Content(), "Rats, May, 12 of 12 left")
	look := func(thrown string) {
		typeInto(w, 1, thrown)
		uitest.Tap(t, w.Content(), "Looked through")
	}
	look("13")
	if !w.Shows("There are 12 left") {
		t.Fatalf("more thrown away than there is: %q", uitest.Texts(w.Content()))
	}
	uitest.Key(w.Canvas(), fyne.KeyBackspace)
	uitest.Key(w.Canvas(), fyne.KeyBackspace)
	look("5")
	if s := stock(w)[1]; s.Doubtful != 0 || s.Left != 7 || !w.Shows("7 of 12 left") || !w.Shows("Looked through, 5 thrown away") {
		t.Errorf("looked through: %+v, %q", s, uitest.Texts(w.Content()))
	}
}

// Nothing is cut off in any language, light or dark.
func TestNothingIsCutOff(t *testing.T) {
	for _, language := range []string{"en", "de"} {
		for _, l := range uitest.Looks() {
			w := open(t, l, language, some(t))
			check := func(what string) {
				for _, fault := range uitest.Clipped(w.Content(), fyne.NewSize(l.Width, l.Height)) {
					t.Errorf("%s, %v, %s: %s", language, l, what, fault)
				}
				if dir := os.Getenv("COILWARD_PICTURES"); dir != "" {
					uitest.Keep(t, w.Window(), filepath.Join(dir, "feeders-"+language+"-"+what+"-"+fmt.Sprint(l.Shine, l.Width, l.Scale)+".png"))
				}
			}
			check("list")
			uitest.Tap(t, w.Content(), w.Text().Say("feeders.add"))
			check("add")
			uitest.Key(w.Canvas(), fyne.KeyEscape)
			uitest.Tap(t, w.Content(), w.Text().Say("feeders.fail"))
			check("fail")
		}
	}
}
