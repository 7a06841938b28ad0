package check_test

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"testing"
	"time"

	"fyne.io/fyne/v2"

	"coilward/model"
	"coilward/model/care"
	"coilward/model/exam"
	"coilward/model/knowledge"
	"coilward/ui/check"
	"coilward/ui/place"
	"coilward/ui/uitest"
)

// hand is the window with a check in it, over the sample collection.
type hand struct {
	*uitest.Opened
	page *check.Page
}

func open(t *testing.T, l uitest.Look, language string) *hand {
	t.Helper()
	h := &hand{}
	h.Opened = uitest.Open(t, uitest.Setting{Look: l, Language: language, Place: place.Check, Make: func(w place.Window) place.Place {
		h.page = check.New(w)
		return h.page
	}})
	return h
}

func (h *hand) check(name string) {
	h.T.Helper()
	h.Go(place.Route{To: place.Check, Subject: h.Animal(name).ID.ID})
}

func (h *hand) latest(name string) (exam.StoredCheck, bool) {
	h.T.Helper()
	var latest exam.StoredCheck
	var found bool
	id := h.Animal(name).ID
	err := h.Collection().View(func(v model.View) (err error) {
		latest, found, err = exam.Latest(v, id, model.Moment{UTC: model.EndOfTime})
		return err
	})
	if err != nil {
		h.T.Fatal(err)
	}
	return latest, found
}

// keys types keys with so many seconds between them; Enter is '\n'.
func (h *hand) keys(keys string, pause time.Duration) {
	for _, k := range keys {
		h.Clock.Pass(pause)
		if k == '\n' {
			uitest.Key(h.Canvas(), fyne.KeyReturn)
			continue
		}
		uitest.Type(h.Canvas(), string(k))
	}
}

// tapText presses what has that text on it.
func (h *hand) tapText(key string) {
	h.T.Helper()
	uitest.Tap(h.T, h.Content(), h.Text().Say(key))
}

// A clear animal by the keyboard alone: at most 25 keys from the first stop to
// the kept check, and every stop has an answer with its time.
func TestClearAnimalByKeyboardAlone(t *testing.T) {
	h := open(t, uitest.Looks()[0], "en")
	h.check("Kestrel")
	keys := 0
	for len(h.Went) == 1 { // home was seen once
		h.keys("\n", 4*time.Second)
		if keys++; keys > 25 {
			t.Fatalf("%d keys and not kept; shown: %q", keys, uitest.Texts(h.Content()))
		}
	}
	latest, _ := h.latest("Kestrel")
	if latest.Extent(h.Tables()) != exam.PartCheck { // the mouth was not opened
		t.Errorf("extent %s", latest.Extent(h.Tables()))
	}
	for _, a := range latest.Stops {
		if a.Look == exam.NotYet || a.At.IsZero() {
			t.Errorf("stop %s: %q at %v", a.Stop, a.Look, a.At)
		}
	}
	if left, err := os.ReadDir(h.Drafts); err != nil || len(left) > 0 {
		t.Errorf("drafts left: %v %v", left, err)
	}
}

// Twenty keys in a few seconds are a brief look, and the end page says so.
func TestBriefLookIsSaid(t *testing.T) {
	h := open(t, uitest.Looks()[0], "en")
	h.check("Kestrel")
	h.keys("\n\n\n\n\n\n\n\n\n\n\n\n\n\n\n\n\n\n\n\n", 100*time.Millisecond)
	if !uitest.Shows(h.Content(), "brief look") {
		t.Errorf("shown: %q", uitest.Texts(h.Content()))
	}
}

// A draft outlives the program: what was answered and noted is there again, and
// the check goes on where it was.
func TestBrokenOffAndBroughtBack(t *testing.T) {
	h := open(t, uitest.Looks()[0], "en")
	h.check("Kestrel")
	h.keys("\n3\n", 3*time.Second) // rest seen; nose rub at the snout; on to the lips
	first := uitest.Texts(h.Content())
	again := open(t, uitest.Looks()[0], "en")
	id, old := again.Animal("Kestrel").ID, h.Animal("Kestrel").ID
	if id != old {
		t.Fatalf("the sample differs: %s and %s", id, old)
	}
	raw, err := os.ReadFile(filepath.Join(h.Drafts, old.String()+".draft.json"))
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(again.Drafts, id.String()+".draft.json"), raw, 0o600); err != nil {
		t.Fatal(err)
	}
	again.check("Kestrel")
	second := uitest.Texts(again.Content())
	if !slices.Contains(second, "Lips and heat pits") || !uitest.Shows(again.Content(), "2 of 20 answered · 1 noted") {
		t.Errorf("before %q\nafter %q", first, second)
	}
}

// A draft that cannot be read is set aside and said; the check begins anew.
func TestDamagedDraftIsSetAside(t *testing.T) {
	h := open(t, uitest.Looks()[0], "en")
	id := h.Animal("Kestrel").ID
	if err := os.WriteFile(filepath.Join(h.Drafts, id.String()+".draft.json"), []byte(`{"form":1`), 0o600); err != nil {
		t.Fatal(err)
	}
	h.check("Kestrel")
	if !uitest.Shows(uitest.Top(h.Canvas()), "cannot be read") {
		t.Errorf("shown: %q", uitest.Texts(uitest.Top(h.Canvas())))
	}
	kept, err := os.ReadDir(h.Drafts)
	if err != nil || len(kept) != 1 {
		t.Errorf("set aside: %v %v", kept, err)
	}
}

// An open finding of an earlier check is asked first; Enter without an answer is
// refused with a sentence, and the answers of the numpad go into the problem.
func TestEarlierFindingIsAsked(t *testing.T) {
	h := open(t, uitest.Looks()[0], "en")
	h.check("Juniper")
	uitest.Tap(t, h.Content(), "Back and flanks")
	h.keys("\n", time.Second)
	if !uitest.Shows(h.Content(), "Say first how it stands") {
		t.Errorf("not refused; shown: %q", uitest.Texts(h.Content()))
	}
	h.keys("3\n", time.Second) // worse
	uitest.Tap(t, h.Content(), "To the end page")
	if !uitest.Shows(h.Content(), "Worse") {
		t.Errorf("end page: %q", uitest.Texts(h.Content()))
	}
}

// Two airway findings at one check are said to be urgent with the reason, and to
// keep the animal apart; the verdict is stored as it was shown.
func TestAirwayClusterAtTheEnd(t *testing.T) {
	h := open(t, uitest.Looks()[0], "en")
	h.check("Kestrel")
	h.keys("4\n2\n", 5*time.Second) // a sound at rest, discharge at a nostril
	uitest.Tap(t, h.Content(), "To the end page")
	page := h.Content()
	for _, want := range []string{"Vet within days", "Keep this animal apart"} {
		if !uitest.Shows(page, want) {
			t.Errorf("end page lacks %q: %q", want, uitest.Texts(page))
		}
	}
	uitest.Tap(t, page, "Keep this check")
	latest, _ := h.latest("Kestrel")
	if latest.Verdict.Level != knowledge.VetWithinDays || latest.Verdict.Tables != h.Tables().Hash() {
		t.Errorf("stored verdict %+v", latest.Verdict)
	}
}

// A typed place goes to the next finding; one that cannot be read keeps its text
// and says what to do.
func TestTypedPlace(t *testing.T) {
	h := open(t, uitest.Looks()[0], "en")
	h.check("Kestrel")
	uitest.Tap(t, h.Content(), "Back and flanks")
	h.keys("t", time.Second)
	h.keys("162 left\n", time.Millisecond)
	if !uitest.Shows(h.Content(), "162") {
		t.Errorf("shown: %q", uitest.Texts(h.Content()))
	}
	for range len("162 left") {
		uitest.Key(h.Canvas(), fyne.KeyBackspace)
	}
	h.keys("62 left\n", time.Millisecond)
	h.keys("3", time.Second)
	uitest.Tap(t, h.Content(), "To the end page")
	uitest.Tap(t, h.Content(), "Keep this check")
	latest, _ := h.latest("Kestrel")
	if len(latest.Findings) != 1 || latest.Findings[0].Place.Along != 6200 || latest.Findings[0].Place.Angle < 31 {
		t.Errorf("findings %+v", latest.Findings)
	}
}

// Nothing is cut or outside, on the pages that hold most.
func TestFits(t *testing.T) {
	for _, language := range uitest.Languages() {
		looks := uitest.LooksIn(language)
		for i, l := range looks[:min(4, len(looks))] { // a check is slow to walk; these have both of everything
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
				for _, fault := range uitest.Clipped(h.Content(), fyne.NewSize(l.Width, l.Height)) {
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
	h.Go(place.Route{To: place.Check, Subject: h.Animal("Juniper").ID.ID, Page: before.ID.String()})
	if !uitest.Shows(h.Content(), "put right") {
		t.Fatalf("shown: %q", uitest.Texts(h.Content()))
	}
	h.tapText("check.back")
	h.tapText("stop.skin")
	uitest.Tap(t, h.Content(), "Stuck shed")
	h.tapText("check.act.end")
	h.tapText("check.keep")
	after, _ := h.latest("Juniper")
	if after.ID != before.ID || len(after.Findings) != len(before.Findings)+1 || after.Finished != before.Finished {
		t.Errorf("before %s with %d findings, after %s with %d", before.ID, len(before.Findings), after.ID, len(after.Findings))
	}
	err := h.Collection().View(func(v model.View) error {
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
	fields := uitest.Entries(h.Content())
	h.Canvas().Focus(fields[len(fields)-1])
	h.keys("warm\n", time.Millisecond)
	if !uitest.Shows(h.Content(), "warm") {
		t.Errorf("what was typed is gone: %q", uitest.Texts(h.Content()))
	}
	h.Canvas().Focus(fields[len(fields)-1])
	for range "warm" {
		uitest.Key(h.Canvas(), fyne.KeyBackspace)
	}
	h.keys("19.5\n6", time.Millisecond)
	h.tapText("check.act.end")
	for _, want := range []string{"Emergency today", "Rests on an assumed number: a body under 22"} {
		if !uitest.Shows(h.Content(), want) {
			t.Errorf("end page lacks %q: %q", want, uitest.Texts(h.Content()))
		}
	}
}

// Before touching, a meal that is too short ago is named, and its hours.
func TestMealTooShortAgoIsSaid(t *testing.T) {
	h := open(t, uitest.Looks()[0], "en")
	id := h.Animal("Kestrel").ID
	if _, err := h.Collection().Do(care.Feed{About: care.About{Animal: id, At: model.MomentOf(h.Clock.Now())}, Meal: care.Meal{Prey: care.Rat, Outcome: care.Took}}); err != nil {
		t.Fatal(err)
	}
	h.Clock.Pass(47 * time.Hour)
	h.check("Kestrel")
	if !uitest.Shows(h.Content(), "less than 48 hours ago") {
		t.Errorf("shown: %q", uitest.Texts(h.Content()))
	}
}

// What has become worse counts at once, and the end page says why.
func TestWorseCountsAtTheEnd(t *testing.T) {
	h := open(t, uitest.Looks()[0], "en")
	h.check("Juniper")
	h.tapText("stop.skin")
	h.keys("3", time.Second)
	h.tapText("check.act.end")
	if !uitest.Shows(h.Content(), "It has become worse") {
		t.Errorf("end page: %q", uitest.Texts(h.Content()))
	}
}

// What an everyday entry told yesterday stands on the end page of a check that
// found nothing, which then does not say that nothing is due.
func TestTheEndPageNamesTheDaysBefore(t *testing.T) {
	h := open(t, uitest.Looks()[0], "en")
	id := h.Animal("Kestrel").ID
	h.check("Kestrel")
	h.tapText("check.act.end")
	if h.Shows(h.Text().Say("check.before")) || !h.Shows(h.Text().Say("check.due.none")) {
		t.Fatalf("before anything was noted: %q", uitest.Texts(h.Content()))
	}
	h.tapText("check.act.put-away")
	uitest.Tap(t, uitest.Top(h.Canvas()), h.Text().Say("check.put-away.yes"))
	h.Clock.Pass(time.Hour)
	noted := model.MomentOf(h.Clock.Now())
	if _, err := h.Collection().Do(care.RecordWaste{About: care.About{Animal: id, At: noted}, Waste: care.Waste{Faeces: []care.Trait{care.Blood}}}); err != nil {
		t.Fatal(err)
	}
	h.Clock.Pass(20 * 24 * time.Hour)
	h.check("Kestrel")
	h.tapText("check.act.end")
	for _, want := range []string{h.Text().Say("check.before"), h.Text().Say("finding.waste-blood"), h.Text().Say("check.due.none-new"),
		h.Text().By(noted.Day()+model.Day(h.Tables().Value(knowledge.ValueVetWithin)), model.MomentOf(h.Clock.Now()).Day())} {
		if !h.Shows(want) {
			t.Errorf("%q is not shown: %q", want, uitest.Texts(h.Content()))
		}
	}
}

// A place that nobody pointed to is not named as if somebody had.
func TestTheEndPageNamesNoPlaceThatNobodyPointedTo(t *testing.T) {
	h := open(t, uitest.Looks()[0], "en")
	h.check("Kestrel")
	h.tapText("stop.airway")
	h.keys("1", time.Second)
	h.tapText("check.act.end")
	if want := "Airway and tongue, place not pointed to"; !h.Shows(want) || h.Shows("Inner nostrils") {
		t.Errorf("want %q and no other place: %q", want, uitest.Texts(h.Content()))
	}
}

// Throwing the check away has keys, and asks before it does.
func TestThrowingAwayHasKeysAndAsks(t *testing.T) {
	h := open(t, uitest.Looks()[0], "en")
	h.check("Kestrel")
	h.keys("\n", time.Second)
	for _, a := range h.page.Actions() {
		if a.Key == fyne.KeyX && a.Modifier == fyne.KeyModifierShortcutDefault|fyne.KeyModifierShift {
			a.Do()
		}
	}
	if top := uitest.Top(h.Canvas()); top == nil || !uitest.Shows(top, h.Text().Say("check.put-away.yes")) {
		t.Fatal("the keys ask nothing")
	}
	if raw, err := h.Shell.Drafts().Read(h.Animal("Kestrel").ID.ID); err != nil || len(raw) == 0 {
		t.Fatalf("thrown away before the answer: %v", err)
	}
	uitest.Tap(t, uitest.Top(h.Canvas()), h.Text().Say("check.put-away.yes"))
	if _, err := h.Shell.Drafts().Read(h.Animal("Kestrel").ID.ID); err == nil {
		t.Error("the draft is still there")
	}
}

// A photo whose camera says another day is given to a finding only where the person
// says that it shows what is seen now.
func TestPhotoOfAnotherDayIsAsked(t *testing.T) {
	for answer, want := range map[string]int{"Leave it out": 1, "Yes, keep it here": 2} {
		h := open(t, uitest.Looks()[0], "en")
		h.check("Kestrel")
		h.keys("\n3", 3*time.Second) // rest seen; a nose rub, whose details are in sight
		h.page.Dropped([]string{uitest.Photograph(t, h.Clock.Now().Add(-time.Minute))})
		h.page.Dropped([]string{uitest.Photograph(t, h.Clock.Now().AddDate(0, 0, -4))})
		top := uitest.Top(h.Canvas())
		if !uitest.Shows(top, "The camera says "+h.Text().Day(h.Now().Day()-4)) {
			t.Fatalf("not asked: %q", uitest.Texts(top))
		}
		uitest.Tap(t, top, answer)
		uitest.Tap(t, h.Content(), "To the end page")
		uitest.Tap(t, h.Content(), "Keep this check")
		if latest, _ := h.latest("Kestrel"); len(latest.Findings) != 1 || len(latest.Findings[0].Photos) != want {
			t.Errorf("%s: want %d photos in %+v", answer, want, latest.Findings)
		}
	}
}
