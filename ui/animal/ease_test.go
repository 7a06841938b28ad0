package animal_test

import (
	"errors"
	"slices"
	"strings"
	"testing"
	"time"

	"fyne.io/fyne/v2"

	"coilward/assets"
	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/collection"
	"coilward/model/knowledge"
	"coilward/model/people"
	"coilward/model/welfare"
	"coilward/ui/look"
	"coilward/ui/place"
	"coilward/ui/uitest"
)

// press types letters to the page, which has the keys.
func (h *hand) press(letters string) {
	for _, r := range letters {
		h.page.TypedRune(r)
	}
}

// fill types into a field of the form beside the page.
func (h *hand) fill(i int, text string) {
	uitest.Entries(h.Content())[i].(interface{ SetText(string) }).SetText(text)
}

// row is the text in sight that ends so.
func (h *hand) row(ending string) string {
	h.T.Helper()
	all := uitest.Texts(h.Content())
	i := slices.IndexFunc(all, func(text string) bool { return strings.HasSuffix(text, ending) })
	if i < 0 {
		h.T.Fatalf("no row ends in %q: %q", ending, all)
	}
	return all[i]
}

func (h *hand) enter() { h.page.TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn}) }

// A visit is noted by keys alone, and stands on the page and among the days.
func TestEase_ATallyByKeys(t *testing.T) {
	h := open(t, "en", small, look.ByDay, one(t))
	h.show("Wren", "ease")
	for _, said := range []string{"no visit", "By what was done meanwhile", "No change was tried yet.", "Climate read: not in these days"} {
		if !h.Shows(said) {
			t.Errorf("%q is not said: %q", said, uitest.Texts(h.Content()))
		}
	}
	uitest.Tap(t, h.Content(), "Note a visit")
	h.enter()
	if !h.Shows("Choose what was seen, or say that none of these was.") {
		t.Errorf("nothing chosen was taken: %q", uitest.Texts(h.Content()))
	}
	h.press("7aho") // in the hand: freezing, calm tongue, exploring
	if !h.Shows("Freezing, no tongue · Calm tongue flicks · Slow exploring") || !h.Shows("It is not calm.") {
		t.Errorf("chosen: %q", uitest.Texts(h.Content()))
	}
	h.press("h") // once more takes it out
	h.enter()
	h.show("Wren", "ease")
	if !h.Shows("1 of 1 visit") || !h.Shows("In the hand · Freezing, no tongue · Slow exploring") {
		t.Errorf("kept: %q", uitest.Texts(h.Content()))
	}
	h.show("Wren", "days")
	if !h.Shows("Seen on a visit") {
		t.Errorf("days: %q", uitest.Texts(h.Content()))
	}
}

// None of these is an answer too, and an untouched visit counts.
func TestEase_AnUntouchedVisitWithNothingSeen(t *testing.T) {
	h := open(t, "de", small, look.ByNight, one(t))
	h.show("Wren", "ease")
	uitest.Tap(t, h.Content(), "Besuch eintragen")
	h.press("w0")
	h.enter()
	h.show("Wren", "ease")
	if !h.Shows("0 von 1 Besuch") || !h.Shows("Besuch ohne Anfassen · Nichts davon") {
		t.Errorf("kept: %q", uitest.Texts(h.Content()))
	}
}

// What was typed stays where it is refused; held without a reason is refused at its field.
func TestEase_HandlingIsRefusedAtItsField(t *testing.T) {
	h := open(t, "en", small, look.ByDay, one(t))
	h.show("Wren", "ease")
	uitest.Tap(t, h.Content(), "Handling")
	h.fill(3, "3")
	h.fill(0, "two")
	uitest.Tap(t, h.Content(), "Keep")
	if !h.Shows("Minutes held against its will") || h.Shows("1 handling") {
		t.Errorf("words were taken as a number: %q", uitest.Texts(h.Content()))
	}
	h.fill(0, "2")
	uitest.Tap(t, h.Content(), "Keep")
	if !h.Shows("Say what it was held for.") {
		t.Errorf("held for no reason: %q", uitest.Texts(h.Content()))
	}
	h.fill(3, "")
	uitest.Tap(t, h.Content(), "Keep")
	h.show("Wren", "ease")
	if !h.Shows("1 handling · 2 lifts") {
		t.Errorf("kept: %q", uitest.Texts(h.Content()))
	}
}

// A count that has not begun is none; a scan sheet takes one look a minute.
func TestEase_CountsAndScans(t *testing.T) {
	h := open(t, "en", small, look.ByDay, one(t))
	h.show("Wren", "ease")
	uitest.Tap(t, h.Content(), "Count breaths")
	h.enter()
	if !h.Shows("Count first: the first tap starts the clock.") {
		t.Errorf("no count: %q", uitest.Texts(h.Content()))
	}
	h.page.TypedKey(&fyne.KeyEvent{Name: fyne.KeyEscape})
	uitest.Tap(t, h.Content(), "Scan sheet")
	h.press("oo") // the second has to wait for its minute
	if !h.Shows("look 2 of 10 comes at 1:00") || !h.Shows("0:00  Slow exploring") {
		t.Errorf("sheet: %q", uitest.Texts(h.Content()))
	}
	h.enter()
	h.show("Wren", "ease")
	if !h.Shows("Untouched visit · Slow exploring") {
		t.Errorf("kept: %q", uitest.Texts(h.Content()))
	}
}

// Lifted daily, uneasy; lifted no more, eased: the page says that it helped, with n and p.
func TestEase_SaysWhetherItHelped(t *testing.T) {
	tables, err := knowledge.Load(assets.Knowledge())
	if err != nil {
		t.Fatal(err)
	}
	h := open(t, "en", small, look.ByDay, func(c *collection.Collection) {
		one(t)(c)
		var a animals.Stored
		var now model.Moment
		if err := c.View(func(v model.View) error {
			all, err := animals.All(v)
			a, now = all[0], v.Now()
			return err
		}); err != nil {
			t.Fatal(err)
		}
		about := func(ago int) care.About {
			return care.About{Animal: a.ID, At: model.MomentOn(now, now.Day()-model.Day(ago), model.Noon, model.ToDay), Confirmed: model.Confirmed{"day.before-arrival", "day.before-hatched"}}
		}
		for week := range 12 {
			o := welfare.Observation{Setting: knowledge.Untouched, Signs: []knowledge.SignID{"hissing", "restless"}}
			if week < 6 {
				o.Signs = []knowledge.SignID{"exploring"}
			}
			do(t, c, welfare.Observe{Tables: tables, About: about(7*week + 1), Observation: o})
		}
		do(t, c, welfare.Try{About: about(42), Change: welfare.Change{What: "Not lifted any more", Setting: knowledge.Untouched, Hoped: welfare.LessUnease, AfterBad: true}})
	})
	h.show("Wren", "ease")
	if !h.Shows("Helped: −2 signs a visit, 6 weeks against 6, p 0.002.") || !h.Shows("It was tried after a bad spell") {
		t.Errorf("%q", uitest.Texts(h.Content()))
	}
}

// Asked for by another place, the tally is open at once, and what is kept leads back there.
func TestEase_AskedForByAnotherPlace(t *testing.T) {
	h := open(t, "en", small, look.ByDay, one(t))
	h.show("Wren", welfare.KindObservation)
	if !h.Shows("Ten seconds: press the keys") || !h.Shows("How it is") {
		t.Fatalf("%q", uitest.Texts(h.Content()))
	}
	h.press("o")
	h.enter()
	h.show("Wren", "ease")
	if !h.Shows("Untouched visit · Slow exploring") || h.Shows("Ten seconds") {
		t.Errorf("kept: %q", uitest.Texts(h.Content()))
	}
}

// The page of how the animal is is named by its sex, on its tab and in the menu.
func TestEase_NamedBySex(t *testing.T) {
	for sex, want := range map[animals.Sex]map[string]string{
		animals.Female:     {"en": "How she is", "de": "Wie es ihr geht"},
		animals.Male:       {"en": "How he is", "de": "Wie es ihm geht"},
		animals.SexUnknown: {"en": "How it is", "de": "Wie es dem Tier geht"},
	} {
		for language, name := range want {
			h := open(t, language, small, look.ByDay, func(c *collection.Collection) { do(t, c, animals.Add{Animal: animals.Animal{Name: "Wren", Sex: sex}}) })
			h.show("Wren", "ease")
			in := slices.ContainsFunc(h.page.Actions(), func(a place.Action) bool { return a.Label == name })
			if !h.Shows(name) || !in {
				t.Errorf("%s, %q: %q is on the tab: %v, in the menu: %v", language, sex, name, h.Shows(name), in)
			}
		}
	}
}

// What was chosen stays when something else was done meanwhile; what is not offered there is named,
// is not kept, and is back with a setting that offers it.
func TestEase_TheSettingTakesNoSignAway(t *testing.T) {
	h := open(t, "en", small, look.ByDay, one(t))
	h.show("Wren", "ease")
	uitest.Tap(t, h.Content(), "Note a visit")
	h.press("7so5") // in the hand: flinching, exploring; then untouched
	if !h.Shows("Not offered with “Untouched visit”, and so not kept: Flinching at touch.") {
		t.Errorf("not named: %q", uitest.Texts(h.Content()))
	}
	h.press("7")
	if !h.Shows("Flinching at touch · Slow exploring") || h.Shows("and so not kept") {
		t.Errorf("gone: %q", uitest.Texts(h.Content()))
	}
	h.press("5")
	h.enter()
	h.show("Wren", "ease")
	if !h.Shows("Untouched visit · Slow exploring") || h.Shows("Flinching") {
		t.Errorf("kept: %q", uitest.Texts(h.Content()))
	}
}

// A sheet that was taken in the hand cannot be one without touching, while a look of it says what
// is seen in the hand alone; nothing of it is lost.
func TestEase_ASheetKeepsItsLooks(t *testing.T) {
	h := open(t, "en", small, look.ByDay, one(t))
	h.show("Wren", "ease")
	uitest.Tap(t, h.Content(), "Scan sheet")
	uitest.Tap(t, h.Content(), "In the hand")
	h.press("s")
	uitest.Tap(t, h.Content(), "Untouched visit")
	h.enter()
	if !h.Shows("“Untouched visit” does not offer Flinching at touch.") || !h.Shows("0:00  Flinching at touch") {
		t.Errorf("%q", uitest.Texts(h.Content()))
	}
	uitest.Tap(t, h.Content(), "Feeding")
	h.enter()
	h.show("Wren", "ease")
	if !h.Shows("Feeding · Flinching at touch") {
		t.Errorf("kept: %q", uitest.Texts(h.Content()))
	}
	uitest.Tap(t, h.Content(), h.row("Feeding · Flinching at touch"))
	if !h.Shows("0:00  Flinching at touch") || h.Shows("None of these") {
		t.Errorf("put right: %q", uitest.Texts(h.Content()))
	}
}

// A bite is an entry about a person, which is put right, and removed, like any other.
func TestEase_AContactIsPutRight(t *testing.T) {
	h := open(t, "en", small, look.ByDay, func(c *collection.Collection) {
		one(t)(c)
		do(t, c, people.Add{Person: people.Person{Name: "Ada"}})
		bitten := welfare.NoteContact{PersonContact: welfare.PersonContact{What: welfare.Bite}}
		if err := c.View(func(v model.View) error {
			all, err := animals.All(v)
			bitten.At, bitten.Animal = v.Now(), all[0].ID
			return errors.Join(err, v.All(model.TypePerson, func(d model.Document) bool { bitten.Person.ID = d.ID; return true }))
		}); err != nil {
			t.Fatal(err)
		}
		do(t, c, bitten)
	})
	h.show("Wren", "ease")
	uitest.Tap(t, h.Content(), h.row(" · Ada · Bite"))
	uitest.Tap(t, h.Content(), "A child had contact")
	uitest.Tap(t, h.Content(), "Keep")
	h.show("Wren", "ease")
	if h.Shows(" · Ada · Bite") {
		t.Fatalf("%q", uitest.Texts(h.Content()))
	}
	uitest.Tap(t, h.Content(), h.row(" · Ada · A child had contact"))
	uitest.Tap(t, h.Content(), "Remove this entry")
	h.show("Wren", "ease")
	if h.Shows("Ada ·") {
		t.Errorf("removed: %q", uitest.Texts(h.Content()))
	}
}

// Taps after the end of a count are the hand that goes on: they take nothing away. A new count is
// asked for by name.
func TestEase_TapsAfterACountDoNothing(t *testing.T) {
	h := open(t, "en", small, look.ByDay, one(t))
	h.show("Wren", "ease")
	uitest.Tap(t, h.Content(), "Count breaths")
	h.press("  ")
	h.Clock.Pass(20 * time.Second)
	h.press(" 0")
	if !h.Shows("2 breaths in 20 seconds") {
		t.Fatalf("%q", uitest.Texts(h.Content()))
	}
	h.press("  ")
	if !h.Shows("2 breaths in 20 seconds") {
		t.Errorf("taps took the count away: %q", uitest.Texts(h.Content()))
	}
	uitest.Tap(t, h.Content(), "Count anew")
	if !h.Shows("Not begun") {
		t.Errorf("%q", uitest.Texts(h.Content()))
	}
}

// Open mouth stays on the page as a caution, though a calm count follows.
func TestEase_OpenMouthIsNotLostBehindACalmCount(t *testing.T) {
	h := open(t, "en", small, look.ByDay, one(t))
	h.show("Wren", "ease")
	uitest.Tap(t, h.Content(), h.Text().Say("ease.act.tally"))
	h.press("b")
	h.enter()
	h.show("Wren", "ease")
	const open = "Breathing with open mouth. Open mouth at rest belongs to the vet today"
	if !h.Shows(open) {
		t.Errorf("open mouth: %q", uitest.Texts(h.Content()))
	}
	h.Clock.Pass(24 * time.Hour)
	h.show("Wren", "ease")
	uitest.Tap(t, h.Content(), "Count breaths")
	h.press("  ")
	h.Clock.Pass(20 * time.Second)
	h.press(" 0")
	h.enter()
	h.show("Wren", "ease")
	if !h.Shows(open) || !h.Shows("breaths a minute. 3 quiet counts of 120 seconds") {
		t.Errorf("after a calm count: %q", uitest.Texts(h.Content()))
	}
}
