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
	for _, said := range []string{"No visit is noted yet. Press Note a visit.", "No change was tried yet. Press Try a change before you change something.", "No handling was noted."} {
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
	h := open(t, "en", small, look.ByDay, noted(t, func(tables *knowledge.Tables, do func(model.Command), about func(int) care.About) {
		for week := range 12 {
			o := welfare.Observation{Setting: knowledge.Untouched, Signs: []knowledge.SignID{"hissing", "restless"}}
			if week < 6 {
				o.Signs = []knowledge.SignID{"exploring"}
			}
			do(welfare.Observe{Tables: tables, About: about(7*week + 1), Observation: o})
		}
		do(welfare.Try{About: about(42), Change: welfare.Change{What: "Not lifted any more", Setting: knowledge.Untouched, Hoped: welfare.LessUnease, AfterBad: true}})
	}))
	h.show("Wren", "ease")
	if !h.Shows("Helped: −2 signs a visit, 6 weeks against 6, p 0.002.") || !h.Shows("It was tried after a bad spell") {
		t.Errorf("%q", uitest.Texts(h.Content()))
	}
}

// noted is a house with one animal, and what is noted of it by days ago.
func noted(t *testing.T, note func(tables *knowledge.Tables, do func(model.Command), about func(ago int) care.About)) func(*collection.Collection) {
	t.Helper()
	tables, err := knowledge.Load(assets.Knowledge())
	if err != nil {
		t.Fatal(err)
	}
	return func(c *collection.Collection) {
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
		note(tables, func(command model.Command) { do(t, c, command) }, func(ago int) care.About {
			return care.About{Animal: a.ID, At: model.MomentOn(now, now.Day()-model.Day(ago), model.Noon, model.ToDay), Confirmed: model.Confirmed{"day.before-arrival", "day.before-hatched"}}
		})
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
	uitest.Tap(t, h.Content(), h.row("Feeding · Flinching at touch · broken off after 1 of 10 looks"))
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
	if !h.Shows(open) || !h.Shows("breaths a minute. 3 quiet counts of 120 seconds") || !h.Shows("Counted for 20 seconds alone.") || !h.Shows("Please count 120 seconds.") {
		t.Errorf("after a calm count: %q", uitest.Texts(h.Content()))
	}
}

// A p is never left alone: what it says stands behind it.
func TestEase_SaysWhatAPMeans(t *testing.T) {
	for _, c := range []struct {
		language string
		uneasy   int // of six visits after a handling; of the six others none
		want     string
	}{
		{"en", 6, "p 0.002. Such a difference would seldom come by chance."},
		{"en", 4, "p 0.061. Such a difference may well be chance."},
		{"de", 6, "p 0,002. So ein Unterschied käme selten durch Zufall."},
		{"de", 4, "p 0,061. So ein Unterschied kann gut Zufall sein."},
	} {
		h := open(t, c.language, small, look.ByDay, noted(t, func(tables *knowledge.Tables, do func(model.Command), about func(int) care.About) {
			for i := range 6 {
				o := welfare.Observation{Setting: knowledge.Untouched, Signs: []knowledge.SignID{"exploring"}}
				do(welfare.Observe{Tables: tables, About: about(14*i + 7), Observation: o})
				if i < c.uneasy {
					o.Signs = []knowledge.SignID{"hissing"}
				}
				do(welfare.Observe{Tables: tables, About: about(14 * i), Observation: o})
				do(welfare.Handle{Tables: tables, About: about(14 * i), Handling: welfare.Handling{Lifts: 1}})
			}
		}))
		h.show("Wren", "ease")
		if !h.Shows(c.want) {
			t.Errorf("%s, %d: %q", c.language, c.uneasy, uitest.Texts(h.Content()))
		}
	}
}

// Without a visit there is no table of none, no strip, no halves and no lists: one sentence says what
// to do. A count of breaths alone is no visit; what was handled stands.
func TestEase_WithoutAVisit(t *testing.T) {
	for language, want := range map[string]string{"en": "No visit is noted yet. Press Note a visit.", "de": "Es ist noch kein Besuch eingetragen. Bitte „Besuch eintragen“ anklicken."} {
		h := open(t, language, small, look.ByDay, noted(t, func(tables *knowledge.Tables, do func(model.Command), about func(int) care.About) {
			do(welfare.Observe{Tables: tables, About: about(3), Observation: welfare.Observation{Setting: knowledge.Untouched, Breaths: &welfare.Breaths{Count: 8, Seconds: 120}}})
			do(welfare.Handle{Tables: tables, About: about(2), Handling: welfare.Handling{Lifts: 2}})
		}))
		h.show("Wren", "ease")
		text := h.Text()
		for _, said := range []string{want, text.Say("ease.breathing"), text.Say("ease.last"), text.Count("ease.times", 1)} {
			if !h.Shows(said) {
				t.Errorf("%s: %q is not said: %q", language, said, uitest.Texts(h.Content()))
			}
		}
		parts := []string{text.Say("ease.sides"), text.Say("ease.strip", map[string]any{"Days": 90}), text.Say("ease.goes-title"), text.Say("ease.domains")}
		for _, part := range parts {
			if h.Shows(part) {
				t.Errorf("%s: %q stands over nothing", language, part)
			}
		}
		uitest.Tap(t, h.Content(), text.Say("ease.act.tally"))
		h.press("o")
		h.enter()
		h.show("Wren", "ease")
		for _, part := range parts {
			if !h.Shows(part) {
				t.Errorf("%s: with a visit %q is not there", language, part)
			}
		}
		if h.Shows(want) {
			t.Errorf("%s: a visit is not seen", language)
		}
	}
}

// Whether it is better not lifted today stands on the page, and on the form of a handling that is
// noted; the animal itself has the last word.
func TestEase_BetterNotToday(t *testing.T) {
	for language, want := range map[string]struct{ nothing, word, not, drew string }{
		"en": {"Nothing against lifting it in the records", "The animal has the last word: one that draws back twice is put back.", "Better not today", "it drew back twice, today or yesterday"},
		"de": {"In den Aufzeichnungen spricht nichts gegen das Hochnehmen", "Das Tier hat das letzte Wort: Zieht es sich zweimal zurück, kommt es wieder in die Box.", "Heute besser nicht", "es sich heute oder gestern zweimal zurückzog"},
	} {
		h := open(t, language, small, look.ByDay, one(t))
		h.show("Wren", "ease")
		if !h.Shows(want.nothing) || !h.Shows(want.word) || h.Shows(want.not) {
			t.Errorf("%s, of nothing: %q", language, uitest.Texts(h.Content()))
		}
		for _, times := range []string{"1", "2"} {
			uitest.Tap(t, h.Content(), h.Text().Say("ease.act.handling"))
			if h.Shows(want.not) {
				t.Errorf("%s: %q stands on the form of nothing", language, want.not)
			}
			h.fill(4, times)
			h.enter()
			h.show("Wren", "ease")
			if twice := times == "2"; h.Shows(want.not) != twice || h.Shows(want.drew) != twice || h.Shows(want.nothing) == twice {
				t.Errorf("%s: it drew back %s times: %q", language, times, uitest.Texts(h.Content()))
			}
		}
		uitest.Tap(t, h.Content(), h.Text().Say("ease.act.handling"))
		if all := uitest.Texts(h.Content()); !slices.ContainsFunc(all, func(said string) bool {
			return strings.HasPrefix(said, want.not) && strings.Contains(said, want.drew)
		}) {
			t.Errorf("%s: not on the form: %q", language, all)
		}
	}
}

// Hands are washed after a handling; a bite, and people who fall ill more easily, are for a doctor.
func TestEase_CautionsForPeople(t *testing.T) {
	for language, want := range map[string]struct{ hygiene, person string }{
		"en": {"Wash your hands after it", "a deep one, or one in the face, at a hand or a joint, is for a doctor"},
		"de": {"Bitte danach die Hände waschen", "ein tiefer Biss oder einer im Gesicht, an Hand oder Gelenk gehört zum Arzt"},
	} {
		h := open(t, language, small, look.ByNight, one(t))
		h.show("Wren", "ease")
		for act, said := range map[string]string{"ease.act.handling": want.hygiene, "ease.act.person": want.person} {
			uitest.Tap(t, h.Content(), h.Text().Say(act))
			if !h.Shows(said) {
				t.Errorf("%s, %s: %q", language, act, uitest.Texts(h.Content()))
			}
			h.page.TypedKey(&fyne.KeyEvent{Name: fyne.KeyEscape})
			if h.Shows(said) {
				t.Errorf("%s, %s: it is not left", language, act)
			}
		}
	}
}

// A sheet that was broken off says how many of its looks were done; a whole one need not.
func TestEase_ASheetBrokenOff(t *testing.T) {
	for language, want := range map[string]string{"en": "broken off after 3 of 10 looks", "de": "abgebrochen nach 3 von 10 Blicken"} {
		for _, looks := range []int{3, 10} {
			h := open(t, language, small, look.ByDay, one(t))
			h.show("Wren", "ease")
			uitest.Tap(t, h.Content(), h.Text().Say("ease.act.scans"))
			for range looks {
				h.press("o")
				h.Clock.Pass(time.Minute)
			}
			h.enter()
			h.show("Wren", "ease")
			if h.Shows(want) != (looks == 3) || !h.Shows(h.Text().Say("sign.exploring")) {
				t.Errorf("%s, %d looks: %q", language, looks, uitest.Texts(h.Content()))
			}
		}
	}
}
