package check_test

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"testing"
	"time"

	"fyne.io/fyne/v2"

	"coilward/assets"
	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/collection"
	"coilward/model/demo"
	"coilward/model/draft"
	"coilward/model/exam"
	"coilward/model/knowledge"
	"coilward/model/photo"
	"coilward/model/storetest"
	"coilward/model/wording"
	"coilward/ui/check"
	"coilward/ui/look"
	"coilward/ui/place"
	"coilward/ui/shell"
	"coilward/ui/uitest"
	"coilward/ui/widgets"
)

// hand is the window with a check in it, over the sample collection.
type hand struct {
	*shell.Shell
	t      *testing.T
	c      *collection.Collection
	clock  *storetest.Clock
	tables *knowledge.Tables
	drafts string
	went   []place.Route
}

type elsewhere struct{ h *hand }

func (e elsewhere) Content() fyne.CanvasObject { return widgets.Space(0, 0) }
func (e elsewhere) Show(r place.Route)         { e.h.went = append(e.h.went, r) }
func (e elsewhere) Hide()                      {}
func (e elsewhere) Changed(collection.Change)  {}

type keeping struct{}

func (keeping) Folder() string                   { return "" }
func (keeping) Backups() ([]place.Backup, error) { return nil, nil }
func (keeping) Backup() error                    { return nil }

func open(t *testing.T, l uitest.Look, language string) *hand {
	t.Helper()
	app := uitest.App(t, l)
	languages, err := wording.Load(assets.Text())
	if err != nil {
		t.Fatal(err)
	}
	h := &hand{t: t, drafts: t.TempDir()}
	if h.tables, err = knowledge.Load(assets.Knowledge()); err != nil {
		t.Fatal(err)
	}
	h.c, h.clock = storetest.New(t)
	if err := demo.Fill(h.c, h.tables, languages.In("en", wording.Units{})); err != nil {
		t.Fatal(err)
	}
	photos, err := photo.Open(t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	away := func(place.Window) place.Place { return elsewhere{h} }
	app.Preferences().SetString("shine", string(l.Shine))
	h.Shell = shell.New(shell.Options{App: app, Languages: languages, Tables: h.tables, Now: h.clock.Now, Forced: language,
		Places: []shell.Room{
			{Name: place.Animals, Icon: "animals", Key: "window.place.animals", Rail: true, Make: away},
			{Name: place.Animal, Make: away},
			{Name: place.Check, Make: func(w place.Window) place.Place { return check.New(w) }},
			{Name: place.Papers, Icon: "papers", Key: "window.place.papers", Rail: true, Make: away},
			{Name: place.Settings, Icon: "settings", Key: "window.settings", Foot: true, Make: away},
		},
		Sample: func(context.Context, *wording.Text) (shell.Session, error) {
			return shell.Session{Collection: h.c, Photos: photos, Drafts: draft.Open(h.drafts), Keeping: keeping{}, Name: "Lock house"}, nil
		},
		Begin: func(work func()) { work() }, Post: func(say func()) { say() },
	})
	h.OpenSample()
	uitest.Dress(h.Window(), l)
	t.Cleanup(h.Stopped)
	return h
}

func (h *hand) find(name string) animals.Stored {
	h.t.Helper()
	var found animals.Stored
	err := h.c.View(func(v model.View) error {
		all, err := animals.All(v)
		for _, a := range all {
			if a.Name == name {
				found = a
			}
		}
		return err
	})
	if err != nil || found.ID.IsZero() {
		h.t.Fatalf("no animal %s: %v", name, err)
	}
	return found
}

func (h *hand) check(name string) {
	h.t.Helper()
	h.Go(place.Route{To: place.Check, Subject: h.find(name).ID.ID})
}

func (h *hand) latest(name string) (exam.StoredCheck, bool) {
	h.t.Helper()
	var latest exam.StoredCheck
	var found bool
	id := h.find(name).ID
	err := h.c.View(func(v model.View) (err error) {
		latest, found, err = exam.Latest(v, id, model.Moment{UTC: model.EndOfTime})
		return err
	})
	if err != nil {
		h.t.Fatal(err)
	}
	return latest, found
}

// keys types keys with so many seconds between them; Enter is '\n'.
func (h *hand) keys(keys string, pause time.Duration) {
	for _, k := range keys {
		h.clock.Pass(pause)
		if k == '\n' {
			uitest.Key(h.Window().Canvas(), fyne.KeyReturn)
			continue
		}
		uitest.Type(h.Window().Canvas(), string(k))
	}
}

// tapText presses what has that text on it.
func (h *hand) tapText(key string) {
	h.t.Helper()
	uitest.Tap(h.t, h.Window().Canvas().Content(), h.Text().Say(key))
}

// A clear animal by the keyboard alone: at most 25 keys from the first stop to
// the kept check, and every stop has an answer with its time.
func TestClearAnimalByKeyboardAlone(t *testing.T) {
	h := open(t, uitest.Looks()[0], "en")
	h.check("Kestrel")
	keys := 0
	for len(h.went) == 1 { // home was seen once
		h.keys("\n", 4*time.Second)
		if keys++; keys > 25 {
			t.Fatalf("%d keys and not kept; shown: %q", keys, uitest.Texts(h.Window().Canvas().Content()))
		}
	}
	latest, _ := h.latest("Kestrel")
	if latest.Extent(h.tables) != exam.PartCheck { // the mouth was not opened
		t.Errorf("extent %s", latest.Extent(h.tables))
	}
	for _, a := range latest.Stops {
		if a.Look == exam.NotYet || a.At.IsZero() {
			t.Errorf("stop %s: %q at %v", a.Stop, a.Look, a.At)
		}
	}
	if left, err := os.ReadDir(h.drafts); err != nil || len(left) > 0 {
		t.Errorf("drafts left: %v %v", left, err)
	}
}

// Twenty keys in a few seconds are a brief look, and the end page says so.
func TestBriefLookIsSaid(t *testing.T) {
	h := open(t, uitest.Looks()[0], "en")
	h.check("Kestrel")
	h.keys("\n\n\n\n\n\n\n\n\n\n\n\n\n\n\n\n\n\n\n\n", 100*time.Millisecond)
	if !uitest.Shows(h.Window().Canvas().Content(), "brief look") {
		t.Errorf("shown: %q", uitest.Texts(h.Window().Canvas().Content()))
	}
}

// A draft outlives the program: what was answered and noted is there again, and
// the check goes on where it was.
func TestBrokenOffAndBroughtBack(t *testing.T) {
	h := open(t, uitest.Looks()[0], "en")
	h.check("Kestrel")
	h.keys("\n3\n", 3*time.Second) // rest seen; nose rub at the snout; on to the lips
	first := uitest.Texts(h.Window().Canvas().Content())
	again := open(t, uitest.Looks()[0], "en")
	id, old := again.find("Kestrel").ID, h.find("Kestrel").ID
	if id != old {
		t.Fatalf("the sample differs: %s and %s", id, old)
	}
	raw, err := os.ReadFile(filepath.Join(h.drafts, old.String()+".draft.json"))
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(again.drafts, id.String()+".draft.json"), raw, 0o600); err != nil {
		t.Fatal(err)
	}
	again.check("Kestrel")
	second := uitest.Texts(again.Window().Canvas().Content())
	if !slices.Contains(second, "Lips and heat pits") || !uitest.Shows(again.Window().Canvas().Content(), "2 of 20 answered · 1 noted") {
		t.Errorf("before %q\nafter %q", first, second)
	}
}

// A draft that cannot be read is set aside and said; the check begins anew.
func TestDamagedDraftIsSetAside(t *testing.T) {
	h := open(t, uitest.Looks()[0], "en")
	id := h.find("Kestrel").ID
	if err := os.WriteFile(filepath.Join(h.drafts, id.String()+".draft.json"), []byte(`{"form":1`), 0o600); err != nil {
		t.Fatal(err)
	}
	h.check("Kestrel")
	if !uitest.Shows(uitest.Top(h.Window().Canvas()), "cannot be read") {
		t.Errorf("shown: %q", uitest.Texts(uitest.Top(h.Window().Canvas())))
	}
	kept, err := os.ReadDir(h.drafts)
	if err != nil || len(kept) != 1 {
		t.Errorf("set aside: %v %v", kept, err)
	}
}

// An open finding of an earlier check is asked first; Enter without an answer is
// refused with a sentence, and the answers of the numpad go into the problem.
func TestEarlierFindingIsAsked(t *testing.T) {
	h := open(t, uitest.Looks()[0], "en")
	h.check("Juniper")
	uitest.Tap(t, h.Window().Canvas().Content(), "Back and flanks")
	h.keys("\n", time.Second)
	if !uitest.Shows(h.Window().Canvas().Content(), "Say first how it stands") {
		t.Errorf("not refused; shown: %q", uitest.Texts(h.Window().Canvas().Content()))
	}
	h.keys("3\n", time.Second) // worse
	uitest.Tap(t, h.Window().Canvas().Content(), "To the end page")
	if !uitest.Shows(h.Window().Canvas().Content(), "Worse") {
		t.Errorf("end page: %q", uitest.Texts(h.Window().Canvas().Content()))
	}
}

// Two airway findings at one check are said to be urgent with the reason, and to
// keep the animal apart; the verdict is stored as it was shown.
func TestAirwayClusterAtTheEnd(t *testing.T) {
	h := open(t, uitest.Looks()[0], "en")
	h.check("Kestrel")
	h.keys("4\n2\n", 5*time.Second) // a sound at rest, discharge at a nostril
	uitest.Tap(t, h.Window().Canvas().Content(), "To the end page")
	page := h.Window().Canvas().Content()
	for _, want := range []string{"Vet within days", "Keep this animal apart"} {
		if !uitest.Shows(page, want) {
			t.Errorf("end page lacks %q: %q", want, uitest.Texts(page))
		}
	}
	uitest.Tap(t, page, "Keep this check")
	latest, _ := h.latest("Kestrel")
	if latest.Verdict.Level != knowledge.VetWithinDays || latest.Verdict.Tables != h.tables.Hash() {
		t.Errorf("stored verdict %+v", latest.Verdict)
	}
}

// A typed place goes to the next finding; one that cannot be read keeps its text
// and says what to do.
func TestTypedPlace(t *testing.T) {
	h := open(t, uitest.Looks()[0], "en")
	h.check("Kestrel")
	uitest.Tap(t, h.Window().Canvas().Content(), "Back and flanks")
	h.keys("t", time.Second)
	h.keys("162 left\n", time.Millisecond)
	if !uitest.Shows(h.Window().Canvas().Content(), "162") {
		t.Errorf("shown: %q", uitest.Texts(h.Window().Canvas().Content()))
	}
	for range len("162 left") {
		uitest.Key(h.Window().Canvas(), fyne.KeyBackspace)
	}
	h.keys("62 left\n", time.Millisecond)
	h.keys("3", time.Second)
	uitest.Tap(t, h.Window().Canvas().Content(), "To the end page")
	uitest.Tap(t, h.Window().Canvas().Content(), "Keep this check")
	latest, _ := h.latest("Kestrel")
	if len(latest.Findings) != 1 || latest.Findings[0].Place.Along != 6200 || latest.Findings[0].Place.Angle < 31 {
		t.Errorf("findings %+v", latest.Findings)
	}
}

// Nothing is cut or outside, on the pages that hold most, in every look.
func TestFits(t *testing.T) {
	for i, l := range uitest.Looks() {
		for _, language := range uitest.Languages() {
			if l.Shine == look.ByNight && language != "en" {
				continue // the colours of the night change no width
			}
			h := open(t, l, language)
			for _, scene := range []struct{ name, animal, keys string }{
				{"first stop", "Kestrel", ""}, {"nose rub", "Kestrel", "\n3"}, {"mouth", "Kestrel", "\n\n\n\n\n\n\n"},
				{"earlier", "Juniper", ""}, {"end", "Sorrel", "114\n"},
			} {
				h.check(scene.animal)
				h.keys(scene.keys, 2*time.Second)
				switch scene.name {
				case "earlier":
					h.tapText("stop.skin")
				case "end":
					h.tapText("check.act.end")
				}
				for _, fault := range uitest.Clipped(h.Window().Canvas().Content(), fyne.NewSize(l.Width, l.Height)) {
					t.Errorf("%s, %s, %v: %s", scene.name, language, l, fault)
				}
				if dir := os.Getenv("COILWARD_PICTURES"); dir != "" && language != "qps" {
					uitest.Keep(t, h.Window(), filepath.Join(dir, fmt.Sprintf("check-%s-%s-%d.png", scene.name, language, i)))
				}
			}
		}
	}
}

// A kept check can be put right: a size added later is in it, in its problem and
// in its history, and no second check is made.
func TestKeptCheckIsPutRight(t *testing.T) {
	h := open(t, uitest.Looks()[0], "en")
	h.check("Juniper")
	before, _ := h.latest("Juniper")
	h.Go(place.Route{To: place.Check, Subject: h.find("Juniper").ID.ID, Page: before.ID.String()})
	if !uitest.Shows(h.Window().Canvas().Content(), "put right") {
		t.Fatalf("shown: %q", uitest.Texts(h.Window().Canvas().Content()))
	}
	h.tapText("check.back")
	h.tapText("stop.skin")
	uitest.Tap(t, h.Window().Canvas().Content(), "Stuck shed")
	h.tapText("check.act.end")
	h.tapText("check.keep")
	after, _ := h.latest("Juniper")
	if after.ID != before.ID || len(after.Findings) != len(before.Findings)+1 || after.Finished != before.Finished {
		t.Errorf("before %s with %d findings, after %s with %d", before.ID, len(before.Findings), after.ID, len(after.Findings))
	}
	err := h.c.View(func(v model.View) error {
		revisions, err := v.Revisions(before.ID.ID)
		if len(revisions) != 2 {
			t.Errorf("%d revisions", len(revisions))
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
}

// The body's temperature may be given before touching: weak and cold is more than
// weak. What cannot be read stays, with the reason.
func TestBodyTemperatureCounts(t *testing.T) {
	h := open(t, uitest.Looks()[0], "en")
	h.check("Kestrel")
	fields := uitest.Entries(h.Window().Canvas().Content())
	h.Window().Canvas().Focus(fields[len(fields)-1])
	h.keys("warm\n", time.Millisecond)
	if !uitest.Shows(h.Window().Canvas().Content(), "warm") {
		t.Errorf("what was typed is gone: %q", uitest.Texts(h.Window().Canvas().Content()))
	}
	h.Window().Canvas().Focus(fields[len(fields)-1])
	for range "warm" {
		uitest.Key(h.Window().Canvas(), fyne.KeyBackspace)
	}
	h.keys("19.5\n6", time.Millisecond)
	h.tapText("check.act.end")
	for _, want := range []string{"Emergency today", "Rests on an assumed number: a body under 22"} {
		if !uitest.Shows(h.Window().Canvas().Content(), want) {
			t.Errorf("end page lacks %q: %q", want, uitest.Texts(h.Window().Canvas().Content()))
		}
	}
}

// Before touching, a meal that is too short ago is named, and its hours.
func TestMealTooShortAgoIsSaid(t *testing.T) {
	h := open(t, uitest.Looks()[0], "en")
	id := h.find("Kestrel").ID
	if _, err := h.c.Do(care.Feed{About: care.About{Animal: id, At: model.MomentOf(h.clock.Now())}, Meal: care.Meal{Prey: care.Rat, Outcome: care.Took}}); err != nil {
		t.Fatal(err)
	}
	h.clock.Pass(47 * time.Hour)
	h.check("Kestrel")
	if !uitest.Shows(h.Window().Canvas().Content(), "less than 48 hours ago") {
		t.Errorf("shown: %q", uitest.Texts(h.Window().Canvas().Content()))
	}
}

// What has become worse counts at once, and the end page says why.
func TestWorseCountsAtTheEnd(t *testing.T) {
	h := open(t, uitest.Looks()[0], "en")
	h.check("Juniper")
	h.tapText("stop.skin")
	h.keys("3", time.Second)
	h.tapText("check.act.end")
	if !uitest.Shows(h.Window().Canvas().Content(), "It has become worse") {
		t.Errorf("end page: %q", uitest.Texts(h.Window().Canvas().Content()))
	}
}
