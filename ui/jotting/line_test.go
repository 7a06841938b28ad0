package jotting_test

import (
	"slices"
	"strings"
	"testing"
	"time"

	"fyne.io/fyne/v2"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/collection"
	"coilward/model/husbandry"
	"coilward/model/jot"
	"coilward/model/medicine"
	"coilward/ui/jotting"
	"coilward/ui/place"
	"coilward/ui/uitest"
	"coilward/ui/widgets"
)

// page is a place with a line and nothing beside.
type page struct{ line *jotting.Line }

func (p page) Content() fyne.CanvasObject {
	return widgets.Col(4, p.line.Field, p.line.Below, widgets.Fill())
}
func (p page) Show(place.Route)            {}
func (p page) Hide()                       {}
func (p page) Changed(collection.Change)   { p.line.Changed() }
func (p page) Jot() bool                   { return false }
func (p page) Noted(f fyne.Focusable) bool { return p.line.Noted(f) }

// hand is a window with a line in it that has the keys.
type hand struct {
	*uitest.Opened
	line *jotting.Line
}

// residents are those who live on Shelf 1 of the loft, and one who was sold.
func residents(t testing.TB, c *collection.Collection) {
	t.Helper()
	do := func(command model.Command) collection.Change {
		change, err := c.Do(command)
		if err != nil {
			t.Fatal(err)
		}
		return change
	}
	rack, refusal := husbandry.RackOf(husbandry.RackPlan{Rack: husbandry.Place{Name: "Loft", Kind: husbandry.Room},
		Shelf: husbandry.Place{Name: "Shelf {shelf}", Kind: husbandry.Shelf}, Box: husbandry.Place{Name: "{letter}{box}", Kind: husbandry.Tub}, Shelves: 1, Boxes: 2})
	if refusal != nil {
		t.Fatal(refusal)
	}
	boxes := do(husbandry.AddPlaces{Branches: []husbandry.Branch{rack}}).Documents
	var now model.Moment
	if err := c.View(func(v model.View) error { now = v.Now(); return nil }); err != nil {
		t.Fatal(err)
	}
	for i, name := range []string{"Kestrel", "Juniper", "Jupiter", "Brook"} {
		added := do(animals.Add{Animal: animals.Animal{Name: name, Status: animals.Kept, Species: "python-regius"}}).Documents[0]
		if i < 2 {
			do(husbandry.Move{Animal: model.AnimalID{ID: added}, Place: model.PlaceID{ID: boxes[2+i]}, At: now})
		}
	}
	do(animals.Add{Animal: animals.Animal{Name: "Gone", Status: animals.Sold, StatusDay: model.Date{Day: now.Day() - 3, Precision: model.ToDay}}})
}

func open(t testing.TB, language string) *hand {
	t.Helper()
	h := &hand{}
	h.Opened = uitest.Open(t, uitest.Setting{Look: uitest.Looks()[0], Language: language, Fill: func(c *collection.Collection) { residents(t, c) },
		Place: place.Due, Make: func(w place.Window) place.Place {
			h.line = jotting.New(w)
			return page{h.line}
		}})
	h.Go(place.Route{To: place.Due})
	h.Focus(h.line.Focusable())
	return h
}

func (h *hand) typed(text string) { uitest.Type(h.Canvas(), text) }
func (h *hand) key(k fyne.KeyName) {
	uitest.Key(h.Canvas(), k)
}

// entries are the everyday entries of all animals, as "name kind".
func (h *hand) entries() (found []string) {
	h.T.Helper()
	err := h.Collection().View(func(v model.View) error {
		all, err := animals.All(v)
		if err != nil {
			return err
		}
		for _, a := range all {
			if err := v.Timeline(a.ID.Subject(), model.Beginning, model.EndOfTime, func(d model.Document) bool {
				if slices.Contains(care.Kinds(), d.Kind) {
					found = append(found, a.Name+" "+d.Kind)
				}
				return true
			}); err != nil {
				return err
			}
		}
		return nil
	})
	if err != nil {
		h.T.Fatal(err)
	}
	slices.Sort(found)
	return found
}

// What is typed is said in words, noted by Enter, and taken back by one undo.
func TestLinesAreSaidNotedAndTakenBack(t *testing.T) {
	everyone := func(kind string) []string {
		return []string{"Brook " + kind, "Juniper " + kind, "Jupiter " + kind, "Kestrel " + kind}
	}
	for _, c := range []struct {
		language, line, said string
		want                 []string
	}{
		{"en", "juni 1432", "Juniper – 1432\u00a0g (now)", []string{"Juniper weight"}},
		{"en", "kestrel ate rat 60 frozen", "Kestrel – took · rat, 60\u00a0g each · frozen, thawed (now)", []string{"Kestrel meal"}},
		{"en", "kestrel ate 2 small rats", "Kestrel – took · 2 × rat, small adult (now)", []string{"Kestrel meal"}},
		{"en", "brook refused", "Brook – refused (now)", []string{"Brook meal"}},
		{"en", "all paper 0", "All 4 animals – Mites: none seen · white paper (now)", everyone("mite-look")},
		{"en", "all refused", "All 4 animals – refused (now)", everyone("meal")},
		{"en", "shelf 1 refused", "Shelf 1 (Kestrel, Juniper) – refused (now)", []string{"Juniper meal", "Kestrel meal"}},
		{"en", "juniper shed whole caps left yesterday", "Juniper – Shed · whole · Stuck eye caps: yes (", []string{"Juniper shed"}},
		{"en", "juniper in blue", "Juniper – In blue (now)", []string{"Juniper blue"}},
		{"en", "brook faeces soft, urates white", "Brook – Faeces: soft · Urates: white (now)", []string{"Brook waste"}},
		{"en", "brook note: in the water bowl", "Brook – note “in the water bowl” (now)", []string{"Brook note"}},
		{"de", "juni 1432", "Juniper – 1432\u00a0g (jetzt)", []string{"Juniper weight"}},
		{"de", "kestrel Ratte 60 gefressen Frost", "Kestrel – angenommen · Ratte, je 60\u00a0g · aufgetaut (jetzt)", []string{"Kestrel meal"}},
		{"de", "brook verweigert", "Brook – verweigert (jetzt)", []string{"Brook meal"}},
		{"de", "alle Papier 0", "Alle 4 Tiere – Milben: keine gesehen · weißes Papier (jetzt)", everyone("mite-look")},
		{"de", "juniper gehäutet ganz gestern 19:30", "Juniper – Häutung · im Ganzen (", []string{"Juniper shed"}},
		{"de", "juniper trüb gestern", "Juniper – Trübung (", []string{"Juniper blue"}},
		{"de", "brook Notiz: unruhig", "Brook – Notiz „unruhig“ (jetzt)", []string{"Brook note"}},
	} {
		h := open(t, c.language)
		h.typed(c.line)
		if !h.Shows(c.said) || len(h.entries()) != 0 {
			t.Errorf("%s %q: %d entries, said is %q", c.language, c.line, len(h.entries()), uitest.Texts(h.line.Below))
		}
		h.key(fyne.KeyReturn)
		if got := h.entries(); !slices.Equal(got, c.want) || h.line.Text() != "" || h.line.Below.Visible() {
			t.Errorf("%s %q: %q noted, %q left, said is %q", c.language, c.line, got, h.line.Text(), uitest.Texts(h.line.Below))
		}
		uitest.Tap(t, h.Content(), h.Text().Say("window.undo"))
		if got := h.entries(); len(got) != 0 {
			t.Errorf("%s %q: after undo %q", c.language, c.line, got)
		}
	}
}

// Of several readings nothing is noted before one was chosen.
func TestSeveralReadingsAsk(t *testing.T) {
	for _, language := range []string{"en", "de"} {
		h := open(t, language)
		h.typed("ju 1432")
		if !h.Shows("Juniper – 1432") || !h.Shows("Jupiter – 1432") {
			t.Fatalf("said is %q", uitest.Texts(h.line.Below))
		}
		h.key(fyne.KeyReturn)
		h.key(fyne.KeyReturn) // chooses nothing
		if got := h.entries(); len(got) != 0 {
			t.Fatalf("%s: noted unasked: %q", language, got)
		}
		h.typed("7") // no number of any: it belongs to the line
		if h.line.Text() != "ju 14327" {
			t.Errorf("%q stands in the line", h.line.Text())
		}
		h.key(fyne.KeyBackspace)
		h.key(fyne.KeyReturn)
		h.key(fyne.KeyBackspace) // goes on typing
		h.typed("2")
		if h.line.Text() != "ju 1432" || len(h.entries()) != 0 {
			t.Errorf("%q stands in the line, %q noted", h.line.Text(), h.entries())
		}
		h.key(fyne.KeyReturn)
		h.typed("2")
		if got := h.entries(); !slices.Equal(got, []string{"Jupiter weight"}) || h.line.Text() != "" {
			t.Errorf("%s: %q noted, %q left", language, got, h.line.Text())
		}
		h.typed("ju 1300")
		h.key(fyne.KeyReturn)
		h.key(fyne.KeyDown)
		h.key(fyne.KeyReturn)
		if got := h.entries(); !slices.Equal(got, []string{"Juniper weight", "Jupiter weight"}) {
			t.Errorf("%s: %q noted by the arrows", language, got)
		}
		h.Clock.Pass(2 * time.Minute)
		h.typed("ju 1200")
		uitest.Tap(t, h.Content(), "Juniper – 1200\u00a0g ("+h.Text().Say("jot.when.now")+")")
		if got := h.entries(); !slices.Equal(got, []string{"Juniper weight", "Juniper weight", "Jupiter weight"}) {
			t.Errorf("%s: %q noted by the pointer", language, got)
		}
	}
}

// A line that cannot be noted says which word is at fault and what may stand there;
// what was typed stays.
func TestWrongLinesSayWhyAndStay(t *testing.T) {
	for _, c := range []struct{ language, line, word, may string }{
		{"en", "frodo 1432", "“frodo”", "a code"},
		{"en", "gone 1432", "“gone”", "a code"}, // sold: not here
		{"en", "brook jumped 60", "“jumped”", "“note”"},
		{"en", "brook 2000 kg", "“2000 kg”", "At most"},
		{"en", "brook 1432 tomorrow", "lies ahead", "Write when it was"},
		{"en", "brook, kestrel 60", "One weight", "a line for each"},
		{"en", "brook 9000", "9000", "heaviest"},
		{"de", "frodo 1432", "„frodo“", "ein Kürzel"},
		{"de", "brook hüpft 60", "„hüpft“", "„Notiz“"},
		{"de", "brook 9000", "9000", "Höchstgewicht"},
	} {
		h := open(t, c.language)
		h.typed(c.line)
		h.key(fyne.KeyReturn)
		if got := h.entries(); len(got) != 0 || h.line.Text() != c.line || !h.Shows(c.word) || !h.Shows(c.may) {
			t.Errorf("%s %q: %q noted, %q left, shown is %q", c.language, c.line, got, h.line.Text(), uitest.Texts(h.Content()))
		}
	}
}

// A weight far from the one before asks, as everywhere; no leaves the line as it is.
func TestAnUnlikelyWeightAsks(t *testing.T) {
	h := open(t, "en")
	h.typed("brook 1432")
	h.key(fyne.KeyReturn)
	h.Clock.Pass(time.Minute)
	h.typed("brook 900")
	h.key(fyne.KeyReturn)
	if h.Canvas().Overlays().Top() == nil {
		t.Fatal("it is not asked")
	}
	h.key(fyne.KeyEscape)
	if got := h.entries(); len(got) != 1 || h.line.Text() != "brook 900" {
		t.Fatalf("%q noted, %q left", got, h.line.Text())
	}
	h.key(fyne.KeyReturn)
	uitest.Tap(t, uitest.Top(h.Canvas()), h.Text().Say("window.ask.yes"))
	if got := h.entries(); len(got) != 2 || h.line.Text() != "" {
		t.Errorf("%q noted, %q left", got, h.line.Text())
	}
}

// Live prey shows its caution before it is noted.
func TestLivePreyShowsItsCaution(t *testing.T) {
	for language, line := range map[string]string{"en": "brook ate mouse live", "de": "brook Maus lebend gefressen"} {
		h := open(t, language)
		h.typed(line)
		if !h.Shows(h.Text().Say("care.meal.live.caution")) {
			t.Errorf("%s: said is %q", language, uitest.Texts(h.line.Below))
		}
	}
}

// An animal that comes while a line stands is known to it.
func TestWhoComesIsKnown(t *testing.T) {
	h := open(t, "en")
	h.typed("wren 140")
	if h.Shows("Wren –") {
		t.Fatal("nobody is called so")
	}
	if _, err := h.Collection().Do(animals.Add{Animal: animals.Animal{Name: "Wren"}}); err != nil {
		t.Fatal(err)
	}
	if !h.Shows("Wren – 140\u00a0g (now)") {
		t.Errorf("said is %q", uitest.Texts(h.line.Below))
	}
}

// Right after a line was noted the keys of undo take the entry back, though the line
// has the keys; once something is typed they are the line's own.
func TestKeysOfUndoAfterNoting(t *testing.T) {
	h := open(t, "en")
	undo := func() { h.Window().MainMenu().Items[1].Items[0].Action() }
	h.typed("brook refused")
	h.key(fyne.KeyReturn)
	if len(h.entries()) != 1 {
		t.Fatal("not noted")
	}
	h.typed("ju")
	undo()
	if len(h.entries()) != 1 || h.line.Text() != "" {
		t.Fatalf("%q noted, %q left", h.entries(), h.line.Text())
	}
	h.typed("brook 140")
	h.key(fyne.KeyReturn)
	undo()
	if got := h.entries(); !slices.Equal(got, []string{"Brook meal"}) {
		t.Errorf("after undo %q", got)
	}
	redo := h.Window().MainMenu().Items[1].Items[1]
	redo.Action()
	if got := h.entries(); !slices.Equal(got, []string{"Brook meal", "Brook weight"}) {
		t.Errorf("after redo %q", got)
	}
}

// menu is the act of the menus with that text.
func (h *hand) menu(label string) *fyne.MenuItem {
	h.T.Helper()
	for _, m := range h.Window().MainMenu().Items {
		for _, item := range m.Items {
			if item.Label == label {
				return item
			}
		}
	}
	h.T.Fatalf("no act is called %q", label)
	return nil
}

// Where no line stands one is laid over the page: what is left in it stays, what is
// noted closes it.
func TestSheet(t *testing.T) {
	for language, line := range map[string]string{"en": "brook refused", "de": "brook verweigert"} {
		h := open(t, language)
		act := h.menu(h.Text().Say("jot.menu"))
		act.Action()
		h.typed(line)
		h.key(fyne.KeyEscape)
		if h.Canvas().Overlays().Top() != nil || len(h.entries()) != 0 {
			t.Fatalf("%s: left, %q noted", language, h.entries())
		}
		act.Action()
		top := uitest.Top(h.Canvas())
		if !uitest.Shows(top, "Brook – ") {
			t.Errorf("%s: what was left is gone: %q", language, uitest.Texts(top))
		}
		if found := uitest.Clipped(top, h.Canvas().Size()); len(found) > 0 {
			t.Errorf("%s: %s", language, strings.Join(found, "\n"))
		}
		h.key(fyne.KeyReturn)
		if got := h.entries(); !slices.Equal(got, []string{"Brook meal"}) || h.Canvas().Overlays().Top() != nil {
			t.Errorf("%s: %q noted, open %v", language, got, h.Canvas().Overlays().Top() != nil)
		}
		act.Action()
		if top := uitest.Top(h.Canvas()); uitest.Shows(top, "Brook – ") {
			t.Errorf("%s: what was noted stands there still", language)
		}
	}
}

// Every example of the guide has one reading, about those who are here.
func TestGuide(t *testing.T) {
	for _, language := range []string{"en", "de"} {
		h := open(t, language)
		uitest.Tap(t, h.Content(), h.Text().Say("jot.guide"))
		top := uitest.Top(h.Canvas())
		if found := uitest.Clipped(top, h.Canvas().Size()); len(found) > 0 {
			t.Errorf("%s: %s", language, strings.Join(found, "\n"))
		}
		known := jot.Known([]jot.Animal{{ID: model.AnimalID{ID: model.ID{1}}, Name: "Kestrel"}, {ID: model.AnimalID{ID: model.ID{2}}, Name: "Brook"}}, nil)
		for _, line := range jotting.Examples(h.Text(), "Kestrel", "Brook") {
			a := h.Lexicon().Read(line, known, h.Text(), h.Now())
			if len(a.Readings) != 1 || len(a.Problems) != 0 {
				t.Errorf("%s %q: %+v", language, line, a)
			}
		}
		for _, part := range []string{"1432", "Kestrel", " – ", h.Text().Say("jot.guide.open")} {
			if !uitest.Shows(top, part) {
				t.Errorf("%s: the guide does not say %q: %q", language, part, uitest.Texts(top))
			}
		}
		h.key(fyne.KeyEscape)
		if h.Canvas().Overlays().Top() != nil {
			t.Errorf("%s: the guide stays", language)
		}
	}
}

// A question to the vet is noted at once, in both languages; one undo takes it back.
func TestLine_AQuestionToTheVet(t *testing.T) {
	for language, line := range map[string]string{"en": "question kestrel is it the light?", "de": "Frage Kestrel: is it the light?"} {
		h := open(t, language)
		h.typed(line)
		h.key(fyne.KeyReturn)
		questions := func() (all []medicine.StoredQuestion) {
			if err := h.Collection().View(func(v model.View) (err error) {
				all, err = medicine.QuestionsOf(v, h.Animal("Kestrel").ID)
				return err
			}); err != nil {
				t.Fatal(err)
			}
			return all
		}
		if all := questions(); len(all) != 1 || all[0].Words != "is it the light?" || !all[0].Open() || h.line.Text() != "" {
			t.Errorf("%s: %+v, %q stands there: %q", language, all, h.line.Text(), uitest.Texts(h.Content()))
		}
		h.Undo()
		if all := questions(); len(all) != 0 {
			t.Errorf("%s: after the undo %+v", language, all)
		}
	}
}
