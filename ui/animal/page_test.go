package animal_test

import (
	"encoding/json"
	"image/png"
	"os"
	"path/filepath"
	"testing"

	"fyne.io/fyne/v2"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/collection"
	"coilward/ui/animal"
	"coilward/ui/look"
	"coilward/ui/place"
	"coilward/ui/uitest"
	"coilward/ui/widgets/coil"
)

var small = fyne.NewSize(1280, 800)

func (h *hand) key(k fyne.KeyName) { uitest.Key(h.Window().Canvas(), k) }
func (h *hand) typed(text string)  { uitest.Type(h.Window().Canvas(), text) }

// one fills a collection with one animal of 140 g.
func one(t *testing.T) func(*collection.Collection) {
	return func(c *collection.Collection) {
		if _, err := c.Do(animals.Add{Animal: animals.Animal{Name: "Wren"}}); err != nil {
			t.Fatal(err)
		}
		weigh(t, c, model.Grams(140), 7)
	}
}

// weigh notes a mass so many days ago.
func weigh(t *testing.T, c *collection.Collection, m model.Mass, daysAgo int64) {
	t.Helper()
	var id model.AnimalID
	var now model.Moment
	err := c.View(func(v model.View) error {
		all, err := animals.All(v)
		id, now = all[0].ID, v.Now()
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	now.UTC -= daysAgo * 86400
	if _, err := c.Do(care.Weigh{About: care.About{Animal: id, At: now}, Weight: care.Weight{Mass: m}}); err != nil {
		t.Fatal(err)
	}
}

// weights are the masses kept, newest first, in grams.
func (h *hand) weights() (grams []int64) {
	h.T.Helper()
	err := h.Collection().View(func(v model.View) error {
		all, err := animals.All(v)
		if err != nil {
			return err
		}
		series, err := care.Series(v, all[0].ID)
		for i := len(series) - 1; i >= 0; i-- {
			grams = append(grams, series[i].Mass.Milligrams/1000)
		}
		return err
	})
	if err != nil {
		h.T.Fatal(err)
	}
	return grams
}

func TestWeight_IsNotedByTyping(t *testing.T) {
	h := open(t, "en", small, look.ByDay, one(t))
	h.show("Wren", care.KindWeight)
	h.typed("152")
	if !h.Shows("g more, +8.6") {
		t.Errorf("the mass is not read back: %q", uitest.Texts(h.Content()))
	}
	h.key(fyne.KeyReturn)
	if got := h.weights(); len(got) != 2 || got[0] != 152 {
		t.Fatalf("weights %v", got)
	}
	if h.Shows("Keep") {
		t.Error("the form is still open after it was kept")
	}
}

func TestWeight_ZeroIsRefusedAndStays(t *testing.T) {
	h := open(t, "en", small, look.ByDay, one(t))
	h.show("Wren", care.KindWeight)
	h.typed("0")
	h.key(fyne.KeyReturn)
	if got := h.weights(); len(got) != 1 {
		t.Fatalf("weights %v", got)
	}
	if !h.Shows("weighs more than nothing") {
		t.Errorf("no refusal in %q", uitest.Texts(h.Content()))
	}
	h.key(fyne.KeyHome)
	h.typed("15")
	h.key(fyne.KeyReturn)
	if got := h.weights(); len(got) != 2 || got[0] != 150 {
		t.Errorf("what was typed did not stay: weights %v", got)
	}
}

// 14 kg for an animal of 140 g is above the heaviest known and cannot be
// confirmed; 500 g must be typed a second time.
func TestWeight_OutliersAreTypedAgain(t *testing.T) {
	h := open(t, "en", small, look.ByDay, one(t))
	h.show("Wren", care.KindWeight)
	h.typed("500")
	h.key(fyne.KeyReturn)
	if got := h.weights(); len(got) != 1 {
		t.Fatalf("an outlier was kept unasked: %v", got)
	}
	h.typed("5000")
	h.key(fyne.KeyReturn)
	if got := h.weights(); len(got) != 1 {
		t.Fatalf("another mass the second time was kept: %v", got)
	}
	h.typed("500")
	h.key(fyne.KeyReturn)
	if got := h.weights(); len(got) != 2 || got[0] != 500 {
		t.Errorf("typed twice alike: weights %v", got)
	}
}

func TestWeight_DayInTheFutureIsRefused(t *testing.T) {
	h := open(t, "en", small, look.ByDay, one(t))
	h.show("Wren", care.KindWeight)
	h.typed("150")
	fields := uitest.Entries(h.Content())
	h.Window().Canvas().Focus(fields[1])
	for range 12 {
		h.key(fyne.KeyBackspace)
		h.key(fyne.KeyDelete)
	}
	h.typed("1 January 2031")
	h.key(fyne.KeyReturn)
	if got := h.weights(); len(got) != 1 {
		t.Fatalf("weights %v", got)
	}
	if !h.Shows("lies ahead") {
		t.Errorf("no refusal in %q", uitest.Texts(h.Content()))
	}
}

// Escape closes the form; opened again, what was typed stands there.
func TestForm_KeepsWhatWasTyped(t *testing.T) {
	h := open(t, "en", small, look.ByDay, one(t))
	h.show("Wren", care.KindWeight)
	h.typed("151")
	h.key(fyne.KeyEscape)
	if h.Shows("New entry") && h.Shows("Keep") {
		t.Fatal("Escape left the form open")
	}
	h.show("Wren", care.KindWeight)
	h.key(fyne.KeyReturn)
	if got := h.weights(); len(got) != 2 || got[0] != 151 {
		t.Errorf("weights %v, want 151 first", got)
	}
}

func TestEntry_IsChangedUndoneAndSaysSo(t *testing.T) {
	h := open(t, "en", small, look.ByDay, one(t))
	h.show("Wren", "days")
	h.key(fyne.KeyDown)
	h.key(fyne.KeyReturn)
	if !h.Shows("Remove this entry") {
		t.Fatalf("Enter did not open the entry: %q", uitest.Texts(h.Content()))
	}
	h.key(fyne.KeyHome)
	for range 8 {
		h.key(fyne.KeyDelete)
	}
	h.typed("141")
	h.key(fyne.KeyReturn)
	if got := h.weights(); len(got) != 1 || got[0] != 141 {
		t.Fatalf("weights %v", got)
	}
	if !h.Shows("corrected on") {
		t.Errorf("the days do not say that it was corrected: %q", uitest.Texts(h.Content()))
	}
	h.Undo()
	if got := h.weights(); got[0] != 140 || h.Shows("corrected on") {
		t.Errorf("after undo: weights %v, texts %q", got, uitest.Texts(h.Content()))
	}
}

func TestEntry_IsRemovedAndComesBack(t *testing.T) {
	h := open(t, "en", small, look.ByDay, one(t))
	h.show("Wren", "days")
	h.key(fyne.KeyDown)
	h.key(fyne.KeyReturn)
	uitest.Tap(t, h.Content(), "Remove this entry")
	if got := h.weights(); len(got) != 0 {
		t.Fatalf("weights %v", got)
	}
	if !h.Shows("No day noted yet") {
		t.Errorf("without an entry the page shows %q", uitest.Texts(h.Content()))
	}
	h.Undo()
	if got := h.weights(); len(got) != 1 || !h.Shows("Weighed") {
		t.Errorf("after undo: weights %v", got)
	}
}

func TestForms_NoteEveryKind(t *testing.T) {
	h := open(t, "en", small, look.ByDay, one(t))
	keep := func(kind, choose, want string, each ...string) {
		t.Helper()
		h.show("Wren", "days")
		h.show("Wren", kind)
		if choose != "" {
			uitest.Tap(t, h.Content(), choose)
		}
		for _, name := range each {
			h.tapEach(name)
		}
		if kind == care.KindNote {
			h.typed("Basking at noon")
		}
		uitest.Tap(t, h.Content(), "Keep")
		if !h.Shows(want) {
			t.Errorf("%s: no %q among %q", kind, want, uitest.Texts(h.Content()))
		}
	}
	keep(care.KindMeal, "2 Refused", "Refused a meal")
	keep(care.KindShed, "In pieces", "in pieces", "No")
	keep(care.KindWaste, "Formed", "formed")
	keep(care.KindNote, "", "Basking at noon")
}

// strange writes an entry of a kind that this version does not know.
type strange struct{ id model.AnimalID }

func (strange) Name() string { return "test.strange" }

func (s strange) Plan(v model.View) (model.Writes, error) {
	d := model.Document{Type: model.TypeEntry, Kind: "lamp", ID: v.NewID(), Version: 3, At: v.Now(), Subjects: []model.Subject{s.id.Subject()}, Body: json.RawMessage(`{"x":1}`)}
	return model.Writes{Put: []model.Document{d}, Label: model.Label{Key: "care.done.note"}}, nil
}

func TestDays_NameUnknownKindsAsSuch(t *testing.T) {
	h := open(t, "en", small, look.ByDay, func(c *collection.Collection) {
		one(t)(c)
		var id model.AnimalID
		if err := c.View(func(v model.View) error {
			all, err := animals.All(v)
			id = all[0].ID
			return err
		}); err != nil {
			t.Fatal(err)
		}
		if _, err := c.Do(strange{id}); err != nil {
			t.Fatal(err)
		}
	})
	h.show("Wren", "days")
	if !h.Shows("Unknown: lamp") || !h.Shows("kept as it is") {
		t.Errorf("the unknown kind is shown as %q", uitest.Texts(h.Content()))
	}
}

func TestDays_KeepToAKind(t *testing.T) {
	h := open(t, "en", small, look.ByDay, nil)
	h.show("Juniper", "days")
	uitest.Tap(t, h.Content(), "Check")
	if h.Shows("Took a meal") || !h.Shows("new finding") {
		t.Errorf("checks only: %q", uitest.Texts(h.Content()))
	}
	uitest.Tap(t, h.Content(), "Everything")
	if !h.Shows("Took a meal") {
		t.Error("everything does not show meals")
	}
}

func TestCheck_IsReadRemovedAndComesBack(t *testing.T) {
	h := open(t, "en", small, look.ByDay, nil)
	h.show("Juniper", "days")
	uitest.Tap(t, h.Content(), "Check, 1 new finding")
	if !h.Shows("What the tables said then") || !h.Shows("Blister, sore or scab") || !h.Shows("Source:") {
		t.Fatalf("the check reads %q", uitest.Texts(h.Content()))
	}
	uitest.Tap(t, h.Content(), "Remove this check")
	if h.Shows("What the tables said then") {
		t.Error("the removed check is still open")
	}
	before := h.Shows("2 open")
	h.Undo()
	if before || !h.Shows("2 open") {
		t.Errorf("2 open after removing: %t; after undo: %t", before, h.Shows("2 open"))
	}
}

func TestBody_SlidesThroughTime(t *testing.T) {
	h := open(t, "en", small, look.ByDay, nil)
	h.show("Juniper", "body")
	if !h.Shows("Firm lump") || !h.Shows("1 gone") || h.Shows("Back to today") {
		t.Fatalf("today: %q", uitest.Texts(h.Content()))
	}
	h.page.SlideTo(h.Now().Day() - 80)
	if !h.Shows("Stuck shed") || !h.Shows("0 gone") || !h.Shows("Back to today") {
		t.Errorf("80 days ago: %q", uitest.Texts(h.Content()))
	}
	uitest.Tap(t, h.Content(), "Back to today")
	if !h.Shows("1 gone") {
		t.Error("the way back to today does not lead there")
	}
}

func TestPage_GoesToTheCheck(t *testing.T) {
	h := open(t, "en", small, look.ByDay, one(t))
	h.show("Wren", "days")
	uitest.Tap(t, h.Content(), "Start check")
	if n := len(h.Went); n == 0 || h.Went[n-1].To != place.Check {
		t.Errorf("went to %v", h.Went)
	}
}

func TestPage_SaysWhenTheAnimalIsGone(t *testing.T) {
	h := open(t, "en", small, look.ByDay, func(c *collection.Collection) {
		if _, err := c.Do(animals.Add{Animal: animals.Animal{Name: "Wren"}}); err != nil {
			t.Fatal(err)
		}
	})
	h.show("Wren", "days")
	h.Undo()
	if !h.Shows("not in the collection") {
		t.Errorf("after the adding was undone: %q", uitest.Texts(h.Content()))
	}
}

// Nothing is cut on any page, in any form for an entry, in the particulars and
// beside a kept check.
func TestPage_NothingIsClipped(t *testing.T) {
	for _, language := range uitest.Languages() {
		looks := uitest.LooksIn(language)
		for _, l := range looks[:min(4, len(looks))] { // a whole life is slow to lay out; these have both of everything
			size := fyne.NewSize(l.Width, l.Height)
			h := open(t, language, size, l.Shine, nil)
			uitest.Dress(h.Window(), l)
			check := func(what string) {
				for _, fault := range uitest.Clipped(h.Content(), size) {
					t.Errorf("%s, %v, %s: %s", language, l, what, fault)
				}
			}
			pages := []string{animal.PageDays, animal.PageBody, animal.PageWeight}
			if size == small && l.Scale == 1 { // the column of a form is as wide in every window
				pages = append(pages, care.Kinds()...)
			}
			for _, page := range pages {
				h.show("Juniper", page)
				check(page)
			}
			uitest.Tap(t, h.Content(), h.Text().Say("animal.act.change"))
			check("particulars")
			h.show("Juniper", animal.PageDays)
			uitest.Tap(t, h.Content(), h.Text().Count("animal.day.check-findings", 1))
			if !h.Shows(h.Text().Say("animal.check.remove")) {
				t.Fatalf("%s: no check is read: %q", language, uitest.Texts(h.Content()))
			}
			check("kept check")
		}
	}
}

// picture writes a small PNG and gives its path.
func picture(t *testing.T) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "coil.png")
	file, err := os.Create(path)
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	if err := png.Encode(file, coil.Picture(coil.Coat{Ground: 1}, "Wren", 64, false)); err != nil {
		t.Fatal(err)
	}
	return path
}

func TestPhotos_AreTakenByDropping(t *testing.T) {
	h := open(t, "en", small, look.ByDay, one(t))
	h.show("Wren", "days")
	h.page.Dropped([]string{picture(t)})
	uitest.Tap(t, h.Content(), "Keep")
	if !h.Shows("1 photo") {
		t.Errorf("no entry with the photo: %q", uitest.Texts(h.Content()))
	}
	fake := filepath.Join(t.TempDir(), "fake.jpg")
	if err := os.WriteFile(fake, []byte("no picture at all"), 0o600); err != nil {
		t.Fatal(err)
	}
	h.page.Dropped([]string{fake})
	if !h.Shows("This is no photo") {
		t.Errorf("a fake photo is not refused: %q", uitest.Texts(h.Content()))
	}
}

func TestParticulars_AreChangedWithAPortrait(t *testing.T) {
	h := open(t, "en", small, look.ByDay, one(t))
	h.show("Wren", "days")
	uitest.Tap(t, h.Content(), "Change particulars")
	h.page.Dropped([]string{picture(t)})
	h.key(fyne.KeyEnd)
	h.typed(" of the mill")
	uitest.Tap(t, h.Content(), "♂ Male")
	h.key(fyne.KeyReturn)
	err := h.Collection().View(func(v model.View) error {
		all, err := animals.All(v)
		if a := all[0]; a.Name != "Wren of the mill" || a.Sex != animals.Male || a.Portrait == "" || len(a.Photos) != 1 {
			t.Errorf("kept as %+v", a.Animal)
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	if !h.Shows("Wren of the mill") {
		t.Errorf("the head does not show the change: %q", uitest.Texts(h.Content()))
	}
}

func TestParticulars_RefuseAChipOf14Digits(t *testing.T) {
	h := open(t, "en", small, look.ByDay, one(t))
	h.show("Wren", "days")
	uitest.Tap(t, h.Content(), "Change particulars")
	chip := uitest.Entries(h.Content())[4] // after name, code, hatched and morph
	h.Window().Canvas().Focus(chip)
	h.typed("27609810634123")
	uitest.Tap(t, h.Content(), "Keep")
	if !h.Shows("has 15 digits, this has 14") {
		t.Errorf("no refusal in %q", uitest.Texts(h.Content()))
	}
}

// The length from snout to vent turns percents into centimetres; without a day
// it was measured today. A chip of another standard is kept, and warned of.
func TestParticulars_TakeLengthAndAnotherChip(t *testing.T) {
	h := open(t, "en", small, look.ByDay, one(t))
	h.show("Wren", "days")
	uitest.Tap(t, h.Content(), "Change particulars")
	entries := uitest.Entries(h.Content())
	fill := func(index int, text string) {
		h.Window().Canvas().Focus(entries[index])
		h.typed(text)
	}
	fill(6, "118 cm") // after name, code, hatched, morph, chip and when it was read
	uitest.Tap(t, h.Content(), "Keep")
	err := h.Collection().View(func(v model.View) error {
		all, err := animals.All(v)
		if a := all[0]; a.Length.SnoutVent.Tenths != 11800 || a.Length.On.Day != v.Now().Day() {
			t.Errorf("length %+v", a.Length)
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
}

// Blood in the faeces is said to deserve a vet, in the line of the day and in
// what is due, until a later entry without it.
func TestWaste_SaysWhatItDeserves(t *testing.T) {
	h := open(t, "en", small, look.ByDay, one(t))
	h.show("Wren", care.KindWaste)
	uitest.Tap(t, h.Content(), "With blood")
	uitest.Tap(t, h.Content(), "Keep")
	for _, want := range []string{"Vet within days", "See the vet", "Blood"} {
		if !h.Shows(want) {
			t.Errorf("%q is not said: %q", want, uitest.Texts(h.Content()))
		}
	}
}

// A note that was begun is there again after another animal was looked at.
func TestForm_OutlivesAnotherAnimal(t *testing.T) {
	h := open(t, "en", small, look.ByDay, nil)
	h.show("Juniper", care.KindNote)
	h.typed("she wheezed twice")
	h.show("Linnet", "days")
	h.show("Juniper", care.KindNote)
	uitest.Tap(t, h.Content(), "Keep")
	if !h.Shows("she wheezed twice") {
		t.Errorf("the note is gone: %q", uitest.Texts(h.Content()))
	}
}
