package positive_test

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"fyne.io/fyne/v2"

	"coilward/assets"
	"coilward/model"
	"coilward/model/animals"
	"coilward/model/collection"
	"coilward/model/contact"
	"coilward/model/demo"
	"coilward/model/knowledge"
	"coilward/model/positives"
	"coilward/model/samples"
	"coilward/model/wording"
	"coilward/ui/look"
	"coilward/ui/place"
	ui "coilward/ui/positive"
	"coilward/ui/uitest"
	"coilward/ui/widgets"
)

func plain() uitest.Look {
	return uitest.Look{Shine: look.ByDay, Width: 1280, Height: 800, Scale: 1}
}

func tables(t testing.TB) *knowledge.Tables {
	t.Helper()
	tables, err := knowledge.Load(assets.Knowledge())
	if err != nil {
		t.Fatal(err)
	}
	return tables
}

var yes = model.Confirmed{"day.before-arrival", "sample.kept-long", "sample.over-weekend", "animal.gone-asks"}

// detected is the sample collection, in which something was found in a sample of some
// animals, taken so many days ago.
func detected(t testing.TB, of knowledge.AgentID, ago model.Day, pooled int) func(*collection.Collection) {
	return func(c *collection.Collection) {
		languages, err := wording.Load(assets.Text())
		if err != nil {
			t.Fatal(err)
		}
		tb := tables(t)
		if err := demo.Fill(c, tb, languages.In("en", wording.Units{})); err != nil {
			t.Fatal(err)
		}
		var of3 []model.AnimalID
		var taken, reported model.Moment
		if err := c.View(func(v model.View) error {
			all, err := animals.All(v)
			for _, a := range all {
				if len(of3) < pooled && a.Status.Here() && a.Name != "Brook" {
					of3 = append(of3, a.ID)
				}
			}
			taken = model.MomentOn(v.Now(), v.Now().Day()-ago, model.Noon, model.ToDay)
			reported = model.MomentOn(v.Now(), v.Now().Day()-ago+6, model.Noon, model.ToDay)
			return err
		}); err != nil {
			t.Fatal(err)
		}
		done, err := c.Do(samples.Prepare{Tables: tb, Each: []samples.New{{Animals: of3, Sample: samples.Sample{Material: "choanal-swab", For: []knowledge.AgentID{of}, Taken: taken}}}, Confirmed: yes})
		if err != nil {
			t.Fatal(err)
		}
		on := samples.On{ID: model.SampleID{ID: done.Documents[0]}, Base: 1}
		if _, err := c.Do(samples.Enter{Tables: tb, At: reported, Rows: []samples.Row{{On: on, Found: []samples.Found{{Of: of, Outcome: samples.Detected}}}}, Confirmed: yes}); err != nil {
			t.Fatal(err)
		}
	}
}

func open(t testing.TB, l uitest.Look, language string, fill func(*collection.Collection)) *uitest.Opened {
	t.Helper()
	return uitest.Open(t, uitest.Setting{Look: l, Language: language, Fill: fill, Place: place.Positive, Make: func(w place.Window) place.Place { return ui.New(w) }})
}

func all(w *uitest.Opened) (all []contact.Stored) {
	w.T.Helper()
	if err := w.Collection().View(func(v model.View) (err error) { all, err = contact.All(v); return err }); err != nil {
		w.T.Fatal(err)
	}
	return all
}

// of is the animal in which something was detected.
func of(w *uitest.Opened) (id model.AnimalID) {
	w.T.Helper()
	if err := w.Collection().View(func(v model.View) error {
		every, err := animals.All(v)
		for _, a := range every {
			found, e := positives.Unopened(v, a.ID)
			if e != nil {
				return e
			}
			if len(found) > 0 {
				id = a.ID
				break
			}
		}
		return err
	}); err != nil || id.IsZero() {
		w.T.Fatal("nothing was detected", err)
	}
	return id
}

func TestAnEmptyPageSaysWhatToDo(t *testing.T) {
	w := open(t, plain(), "en", func(*collection.Collection) {})
	w.Go(place.Route{To: place.Positive})
	if !w.Shows("No positive is open") {
		t.Error("an empty page that does not say what to do")
	}
	uitest.Tap(t, w.Content(), "Go to the tray")
	if len(w.Went) == 0 || w.Went[len(w.Went)-1].To != place.Tray {
		t.Errorf("went to %v", w.Went)
	}
}

// One press opens it; the list is ticked off, and one that is closed with things undone
// wants a word and keeps them.
func TestOpenTickClose(t *testing.T) {
	w := open(t, plain(), "en", detected(t, "serpentovirus", 20, 1))
	before, animal := len(all(w)), of(w)
	w.Go(place.Route{To: place.Positive, Subject: animal.ID, Page: "open"})
	if len(all(w)) != before+1 {
		t.Fatalf("%d positives, %d before", len(all(w)), before)
	}
	opened := func() contact.Stored {
		every := all(w)
		return every[slices.IndexFunc(every, func(s contact.Stored) bool { return slices.Contains(s.Animals, animal) })]
	}
	for _, said := range []string{"What to do now", "Keep the animal apart, or stop all moves", "Repeat the animal’s test", "Call the vet, with the paper"} {
		if !w.Shows(said) {
			t.Errorf("%q is not said", said)
		}
	}
	uitest.Tap(t, w.Content(), "Done")
	if s := opened(); len(s.Done) != 1 || s.Done[0].Act != contact.StopMoves || !w.Shows("Not done after all") {
		t.Errorf("%+v", s.Done)
	}
	w.Clock.Pass(3 * time.Second)
	uitest.Tap(t, w.Content(), "Not done after all")
	if s := opened(); len(s.Done) != 0 {
		t.Errorf("%+v", s.Done)
	}
	uitest.Tap(t, w.Content(), "Close the positive")
	uitest.Tap(t, uitest.Top(w.Canvas()), "Close the positive")
	if s := opened(); !s.Open() {
		t.Error("closed without a word on what was not done")
	}
	uitest.Type(w.Canvas(), "The vet has seen them all")
	uitest.Tap(t, uitest.Top(w.Canvas()), "Close the positive")
	if s := opened(); !s.Open() {
		t.Error("closed though nobody said why")
	}
	uitest.Tap(t, uitest.Top(w.Canvas()), "All was done that the vet asked for, and the vet agrees")
	uitest.Tap(t, uitest.Top(w.Canvas()), "Close the positive")
	if s := opened(); s.Open() || s.Closed.Note != "The vet has seen them all" || len(s.Closed.Unmet) == 0 {
		t.Errorf("%+v", s.Closed)
	}
	if !w.Shows("Not done then") {
		t.Error("what was not done is not said")
	}
}

// Where it may be a false alarm that is said first; kits are laid out by one press.
func TestADoubtIsSaidAndKitsAreLaidOut(t *testing.T) {
	w := open(t, plain(), "en", detected(t, "ferlavirus", 20, 1))
	w.Go(place.Route{To: place.Positive, Subject: of(w).ID, Page: "open"})
	for _, said := range []string{"detected", "not detected", "“not detected”, but it says nothing here"} {
		if !slices.Contains(uitest.Texts(w.Content()), said) {
			t.Errorf("the legend of the chart does not say %q", said)
		}
	}
	if !w.Shows("It may be a false alarm; how often is not known") || !w.Shows("Keep the animal apart and call the vet first; then a second sample") {
		t.Error("the doubt is not said")
	}
	count := func() (n int) {
		if err := w.Collection().View(func(v model.View) error {
			every, err := samples.All(v)
			for _, s := range every {
				if s.Stage() == samples.ToTake && len(s.Animals) == 1 && len(s.For) == 1 && s.For[0] == "ferlavirus" {
					n++
				}
			}
			return err
		}); err != nil {
			t.Fatal(err)
		}
		return n
	}
	before := count()
	uitest.Tap(t, w.Content(), "Lay out a kit in the tray")
	if count() != before+1 || w.Went[len(w.Went)-1].To != place.Tray {
		t.Errorf("%d kits before, %d after; went to %v", before, count(), w.Went)
	}
}

// What does not work on the thing is named beside what does.
func TestWhatDoesNotWorkIsNamed(t *testing.T) {
	for agent, want := range map[knowledge.AgentID]bool{"cryptosporidium-serpentis": true, "serpentovirus": false} {
		w := open(t, plain(), "en", detected(t, agent, 20, 1))
		w.Go(place.Route{To: place.Positive, Subject: of(w).ID, Page: "open"})
		if got := w.Shows("these do not work on it") && w.Shows("Bleach, 6 % hypochlorite"); got != want {
			t.Errorf("%s: what does not work is named: %v", agent, got)
		}
	}
}

// The keys are at the first act that is not done, and stay with the list.
func TestKeysGoThroughTheActs(t *testing.T) {
	w := open(t, plain(), "en", detected(t, "serpentovirus", 20, 1))
	w.Go(place.Route{To: place.Positive, Subject: of(w).ID, Page: "open"})
	done := func() (acts []knowledge.PositiveActID) {
		every := all(w)
		for _, d := range every[slices.IndexFunc(every, func(s contact.Stored) bool { return s.Agent == "serpentovirus" })].Done {
			acts = append(acts, d.Act)
		}
		return acts
	}
	first := w.Canvas().Focused()
	if p, is := first.(*widgets.Press); !is || p.Name() != "Done" {
		t.Fatalf("the keys are at %T", first)
	}
	for range 5 { // held down
		uitest.Key(w.Canvas(), fyne.KeyReturn)
	}
	if got := done(); !slices.Equal(got, []knowledge.PositiveActID{contact.StopMoves}) {
		t.Fatalf("Enter held down does %v", got)
	}
	uitest.Key(w.Canvas(), fyne.KeyDown)
	uitest.Key(w.Canvas(), fyne.KeyReturn)
	if got := done(); !slices.Equal(got, []knowledge.PositiveActID{contact.StopMoves, contact.CallVet}) {
		t.Fatalf("down and Enter leave %v", got)
	}
	every := all(w)
	opened := every[slices.IndexFunc(every, func(s contact.Stored) bool { return s.Agent == "serpentovirus" })]
	if _, err := w.Collection().Do(contact.Act{Tables: w.Tables(), ID: opened.ID, Base: opened.Revision, Act: contact.Disinfect, Note: "red tongs only", At: w.Now()}); err != nil {
		t.Fatal(err)
	}
	w.Go(place.Route{To: place.Positive, Subject: opened.ID.ID})
	if !w.Shows("red tongs only") {
		t.Error("what was noted with an act is not shown")
	}
}

// What is refused of an act names it as the page does.
func TestARefusedActIsNamed(t *testing.T) {
	w := open(t, plain(), "en", detected(t, "serpentovirus", 20, 1))
	w.Go(place.Route{To: place.Positive, Subject: of(w).ID, Page: "open"})
	every := all(w)
	opened := every[slices.IndexFunc(every, func(s contact.Stored) bool { return s.Agent == "serpentovirus" })]
	act := contact.Act{Tables: w.Tables(), ID: opened.ID, Base: opened.Revision, Act: contact.SampleNear, At: w.Now()}
	for _, again := range []bool{false, true} {
		act.Not = !again
		if again {
			if _, err := w.Collection().Do(act); err != nil {
				t.Fatal(err)
			}
			act.Base++
		}
		_, err := w.Collection().Do(act)
		var r *model.Refusal
		if !errors.As(err, &r) {
			t.Fatalf("done again: %v, not a refusal", again)
		}
		if said := w.Text().Refusal(r); !strings.Contains(said, "“Sample those near” was") || strings.Contains(said, string(contact.SampleNear)) {
			t.Errorf("said %q", said)
		}
	}
}

// Up goes back to what was done, which Enter takes back.
func TestUpGoesBackToWhatWasDone(t *testing.T) {
	w := open(t, plain(), "en", detected(t, "serpentovirus", 20, 1))
	w.Go(place.Route{To: place.Positive, Subject: of(w).ID, Page: "open"})
	done := func() (acts []knowledge.PositiveActID) {
		every := all(w)
		for _, d := range every[slices.IndexFunc(every, func(s contact.Stored) bool { return s.Agent == "serpentovirus" })].Done {
			acts = append(acts, d.Act)
		}
		return acts
	}
	uitest.Key(w.Canvas(), fyne.KeyReturn)
	uitest.Key(w.Canvas(), fyne.KeyDown)
	uitest.Key(w.Canvas(), fyne.KeyReturn)
	uitest.Key(w.Canvas(), fyne.KeyDown)
	uitest.Key(w.Canvas(), fyne.KeyUp)
	uitest.Key(w.Canvas(), fyne.KeyUp)
	uitest.Key(w.Canvas(), fyne.KeyDown)
	uitest.Key(w.Canvas(), fyne.KeyReturn) // not done after all
	if got := done(); !slices.Equal(got, []knowledge.PositiveActID{contact.StopMoves}) {
		t.Fatalf("up and Enter leave %v", got)
	}
}

// Where not all that were near are drawn, and where fewer kits are laid out than animals
// are near, the page says so.
func TestHowManyAreShownIsSaid(t *testing.T) {
	w := open(t, plain(), "en", detected(t, "ferlavirus", 20, 1))
	source := of(w)
	w.Go(place.Route{To: place.Positive, Subject: source.ID, Page: "open"})
	trace := func() (of positives.Trace) {
		if err := w.Collection().View(func(v model.View) error {
			every, err := positives.All(v, w.Tables())
			of = every[slices.IndexFunc(every, func(o positives.Trace) bool { return slices.Contains(o.Animals, source) })]
			return err
		}); err != nil {
			t.Fatal(err)
		}
		return of
	}()
	if len(trace.Near) < 8 {
		t.Fatalf("only %d were near", len(trace.Near))
	}
	if said := fmt.Sprintf("6 of %d that were near are drawn.", len(trace.Near)); !w.Shows(said) {
		t.Errorf("%q is not said", said)
	}
	near := trace.Here()[0]
	if _, err := w.Collection().Do(samples.Prepare{Tables: w.Tables(), Each: []samples.New{{Animals: []model.AnimalID{near}, Sample: samples.Sample{Material: "choanal-swab", For: []knowledge.AgentID{"ferlavirus"}}}}, Confirmed: yes}); err != nil {
		t.Fatal(err)
	}
	w.Go(place.Route{To: place.Positive, Subject: source.ID})
	if !w.Shows("1 has a kit waiting in the tray.") {
		t.Error("it is not said that one has a kit")
	}
}

func TestWordsFitOnAPositive(t *testing.T) {
	for _, language := range uitest.Languages() {
		for i, l := range uitest.LooksIn(language) {
			pooled, agent := 1, knowledge.AgentID("ferlavirus")
			if i%2 == 1 {
				pooled, agent = 2, "serpentovirus"
			}
			w := open(t, l, language, detected(t, agent, 60, pooled))
			w.Go(place.Route{To: place.Positive, Subject: of(w).ID, Page: "open"})
			for _, said := range uitest.Clipped(w.Content(), fyne.NewSize(l.Width, l.Height)) {
				t.Errorf("%s %v: %s", language, l, said)
			}
			keep(w, fmt.Sprintf("%s-%s-%.0f-%.0f", language, l.Shine, l.Width, l.Scale))
		}
	}
}

// keep keeps a picture in the folder that the environment names.
func keep(w *uitest.Opened, name string) {
	if folder := os.Getenv("COILWARD_PICTURES"); folder != "" {
		uitest.Keep(w.T, w.Window(), filepath.Join(folder, "positive-"+name+".png"))
	}
}
