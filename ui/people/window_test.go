package people_test

import (
	"errors"
	"slices"
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/collection"
	"coilward/model/people"
	"coilward/model/welfare"
	"coilward/ui/look"
	ui "coilward/ui/people"
	"coilward/ui/place"
	"coilward/ui/uitest"
)

// open is a window with the people in it, on a collection that fill has filled.
func open(t testing.TB, l uitest.Look, language string, fill func(*collection.Collection)) *uitest.Opened {
	t.Helper()
	w := uitest.Open(t, uitest.Setting{Look: l, Language: language, Fill: fill, Place: place.People, Make: func(w place.Window) place.Place { return ui.New(w) }})
	w.Go(place.Route{To: place.People})
	return w
}

func plain() uitest.Look {
	return uitest.Look{Shine: look.ByDay, Width: 1280, Height: 800, Scale: 1}
}

func nobody(*collection.Collection) {}

// some brings these people in.
func some(t testing.TB, all ...people.Person) func(*collection.Collection) {
	return func(c *collection.Collection) {
		for _, p := range all {
			if _, err := c.Do(people.Add{Person: p}); err != nil {
				t.Fatal(err)
			}
		}
	}
}

func practice() people.Person {
	return people.Person{Name: "Dr. Wren Alder", Roles: []people.Role{people.Vet}, Phones: []string{"01 23 45 (Mon to Fri)", "01 23 46"}, Address: "Mill Lane 3\nOtterby"}
}

func stored(w *uitest.Opened) (all []people.Stored) {
	if err := w.Collection().View(func(v model.View) (err error) { all, err = ui.Load(v); return err }); err != nil {
		w.T.Fatal(err)
	}
	return all
}

// fields are what can be typed into in the form: name, phones, address, note.
func fields(w *uitest.Opened) []fyne.Focusable {
	all := uitest.Entries(w.Content())
	return all[len(all)-4:]
}

func typeInto(w *uitest.Opened, o fyne.Focusable, text string) {
	w.Focus(o)
	uitest.Type(w.Canvas(), text)
}

func TestAnEmptyPageSaysWhatToDo(t *testing.T) {
	w := open(t, plain(), "en", nobody)
	if !w.Shows("Whom to call") {
		t.Error("an empty page that does not say what to do")
	}
	uitest.Tap(t, w.Content(), "Add a person")
	if len(uitest.Entries(w.Content())) != 4 {
		t.Error("the act of the empty page opens no form")
	}
}

func TestAPersonIsAddedChangedAndRemoved(t *testing.T) {
	w := open(t, plain(), "en", nobody)
	uitest.Tap(t, w.Content(), "Add a person")
	typeInto(w, fields(w)[0], "Wren Alder")
	typeInto(w, fields(w)[1], "01 23 45")
	uitest.Tap(t, w.Content(), "Vet out of hours")
	uitest.Tap(t, w.Content(), "Private")
	uitest.Tap(t, w.Content(), "Keep")
	all := stored(w)
	if len(all) != 1 || all[0].Name != "Wren Alder" || !slices.Equal(all[0].Phones, []string{"01 23 45"}) || !all[0].Is(people.OutOfHours) || !all[0].Private {
		t.Fatalf("kept is %+v", all)
	}
	if !w.Shows("Wren Alder") || !w.Shows("1 person") || len(uitest.Entries(w.Content())) != 1 {
		t.Error("the list does not show who was kept, or the form stays")
	}
	w.Go(place.Route{To: place.People})
	uitest.Key(w.Canvas(), fyne.KeyReturn)
	if got := len(uitest.Entries(w.Content())); got != 5 {
		t.Fatalf("Enter on the list opens no form (%d fields)", got)
	}
	typeInto(w, fields(w)[2], "Mill Lane 3")
	uitest.Tap(t, w.Content(), "Keep")
	if all = stored(w); all[0].Address != "Mill Lane 3" || all[0].Name != "Wren Alder" {
		t.Fatalf("changed to %+v", all)
	}
	w.Change(func(p *place.Preferences) { p.By = all[0].ID })
	uitest.Key(w.Canvas(), fyne.KeyReturn)
	uitest.Tap(t, w.Content(), "Remove this person …")
	sheet := uitest.Top(w.Canvas())
	for _, want := range []string{"Remove Wren Alder?", "a removed person", "does not wipe the data out", "each backup"} {
		if !uitest.Shows(sheet, want) {
			t.Errorf("the sheet does not say %q", want)
		}
	}
	if len(stored(w)) != 1 {
		t.Error("removed before it was said to be meant")
	}
	uitest.Tap(t, sheet, "Remove")
	if len(stored(w)) != 0 || !w.By().IsZero() || !w.Shows("Whom to call") {
		t.Errorf("left are %v, and %v writes", stored(w), w.By())
	}
	w.Undo()
	if len(stored(w)) != 1 || !w.Shows("Wren Alder") {
		t.Error("a removal cannot be undone")
	}
}

func TestABadNumberIsSaidAtItsFieldAndStays(t *testing.T) {
	w := open(t, plain(), "en", nobody)
	uitest.Tap(t, w.Content(), "Add a person")
	typeInto(w, fields(w)[0], "Wren Alder")
	typeInto(w, fields(w)[1], "ask at the mill")
	uitest.Tap(t, w.Content(), "Keep")
	if len(stored(w)) != 0 || !w.Shows("“ask at the mill” is no phone number") {
		t.Errorf("kept %v, or the refusal does not name the value: %q", stored(w), uitest.Texts(w.Content()))
	}
	typeInto(w, fields(w)[1], ", 01 23 45")
	uitest.Tap(t, w.Content(), "Keep")
	if all := stored(w); len(all) != 1 || all[0].Phones[0] != "ask at the mill, 01 23 45" {
		t.Errorf("what was typed did not stay: %+v", all)
	}
}

// Another row does not take what was typed away.
func TestWhatWasTypedIsNotLostToAnotherRow(t *testing.T) {
	w := open(t, plain(), "en", some(t, practice(), people.Person{Name: "Brook"}))
	uitest.Key(w.Canvas(), fyne.KeyReturn)
	typeInto(w, fields(w)[3], "rings twice")
	uitest.Key(w.Canvas(), fyne.KeyN) // typed, as a letter of the note
	w.Go(place.Route{To: place.People})
	uitest.Tap(t, w.Content(), "Add a person")
	uitest.Tap(t, w.Content(), "Keep")
	if all := stored(w); !strings.Contains(all[0].Note, "rings twice") {
		t.Errorf("the note is %q", all[0].Note)
	}
}

func TestThoseWhoAreCalledStandFirst(t *testing.T) {
	w := open(t, plain(), "en", some(t, people.Person{Name: "Ash"}, people.Person{Name: "Birch", Roles: []people.Role{people.Buyer}}, practice(),
		people.Person{Name: "Night line", Roles: []people.Role{people.OutOfHours}}))
	var names []string
	for _, p := range stored(w) {
		names = append(names, p.Name)
	}
	if want := []string{"Dr. Wren Alder", "Night line", "Birch", "Ash"}; !slices.Equal(names, want) {
		t.Errorf("the order is %v, want %v", names, want)
	}
	if found := ui.Found(stored(w), " otterBY"); !slices.Equal(found, []int{0}) {
		t.Errorf("the search finds %v", found)
	}
	typeInto(w, uitest.Entries(w.Content())[0], "nobody of that name")
	if !w.Shows("Nobody found") {
		t.Error("a search that finds nobody does not say so")
	}
	uitest.Tap(t, w.Content(), "Show all")
	if !w.Shows("Birch") {
		t.Error("not all are shown again")
	}
}

func TestWhoWritesIsChosenHere(t *testing.T) {
	w := open(t, plain(), "en", some(t, practice()))
	uitest.Key(w.Canvas(), fyne.KeyReturn)
	typeInto(w, fields(w)[3], "rings twice")
	uitest.Tap(t, w.Content(), "Writes from now on")
	if w.By() != stored(w)[0].ID || !w.Shows("writes the entries now") {
		t.Error("new entries are not this person's, or it is not shown")
	}
	uitest.Tap(t, w.Content(), "Keep")
	if stored(w)[0].Note != "rings twice" {
		t.Error("what was typed went")
	}
	uitest.Key(w.Canvas(), fyne.KeyReturn)
	uitest.Tap(t, w.Content(), "No longer writes")
	if !w.By().IsZero() {
		t.Error("entries are still this person's")
	}
}

func TestNothingIsCut(t *testing.T) {
	long := people.Person{Name: "Anneliese-Wilhelmina von der Großen Schlangenhöhle zu Unterwiesenthal", Roles: people.Roles(),
		Phones: []string{"+49 1234 567890 (Mo bis Fr, 8 bis 18 Uhr, sonst Anrufbeantworter)", "112"}, Address: "Am alten Mühlenteich 117\n01234 Unterwiesenthal", Private: true}
	for _, language := range uitest.Languages() {
		for _, l := range uitest.LooksIn(language) {
			for name, fill := range map[string]func(*collection.Collection){"nobody": nobody, "some": some(t, practice(), long)} {
				w := open(t, l, language, fill)
				if cut := uitest.Clipped(w.Content(), w.Canvas().Size()); len(cut) > 0 {
					t.Errorf("%+v %s, %s: %s", l, language, name, strings.Join(cut, "; "))
				}
				if name == "nobody" {
					continue
				}
				uitest.Key(w.Canvas(), fyne.KeyReturn)
				if cut := uitest.Clipped(w.Content(), w.Canvas().Size()); len(cut) > 0 {
					t.Errorf("%+v %s, the form: %s", l, language, strings.Join(cut, "; "))
				}
			}
		}
	}
}

// Erasing takes a person out and wipes out what was known; it cannot be undone.
func TestAPersonIsErasedForGood(t *testing.T) {
	w := open(t, plain(), "en", nobody)
	uitest.Tap(t, w.Content(), "Add a person")
	typeInto(w, fields(w)[0], "Wren Alder")
	uitest.Tap(t, w.Content(), "Keep")
	id := stored(w)[0].ID
	done, err := w.Collection().Do(animals.Add{Animal: animals.Animal{Name: "Juniper", Status: animals.Kept}})
	if err != nil {
		t.Fatal(err)
	}
	var now model.Moment
	if err := w.Collection().View(func(v model.View) error { now = v.Now(); return nil }); err != nil {
		t.Fatal(err)
	}
	done, err = w.Collection().Do(welfare.NoteContact{Person: id, At: now, PersonContact: welfare.PersonContact{What: welfare.Pregnant, Animal: model.AnimalID{ID: done.Documents[0]}, Note: "in the fifth month"}})
	if err != nil {
		t.Fatal(err)
	}
	contact := done.Documents[0]
	w.Go(place.Route{To: place.People})
	uitest.Key(w.Canvas(), fyne.KeyReturn)
	uitest.Tap(t, w.Content(), "Remove this person …")
	uitest.Tap(t, uitest.Top(w.Canvas()), "Erase for good")
	if befell, err := w.Collection().History(contact); err != nil || len(befell) != 1 || strings.Contains(string(befell[0].Document.Body), "month") {
		t.Errorf("still known is what befell: %+v, %v", befell, err)
	}
	if len(stored(w)) != 0 || uitest.Top(w.Canvas()) != w.Content() {
		t.Errorf("left are %v, says %q", stored(w), uitest.Texts(uitest.Top(w.Canvas())))
	}
	history, err := w.Collection().History(id.ID)
	if err != nil || len(history) != 1 || strings.Contains(string(history[0].Document.Body), "Wren") {
		t.Errorf("still known is %+v, %v", history, err)
	}
	w.Undo()
	if len(stored(w)) != 0 {
		t.Error("an erased person came back")
	}
}

// What befell a person stands in the person's form, also of an animal that is no longer there, and
// can be taken out there; what was typed stays.
func TestWhatBefellAPersonIsSeenAndTakenOut(t *testing.T) {
	w := open(t, plain(), "en", nobody)
	uitest.Tap(t, w.Content(), "Add a person")
	typeInto(w, fields(w)[0], "Wren Alder")
	uitest.Tap(t, w.Content(), "Keep")
	id := stored(w)[0].ID
	do := func(c model.Command) model.ID {
		t.Helper()
		done, err := w.Collection().Do(c)
		if err != nil {
			t.Fatal(err)
		}
		return done.Documents[0]
	}
	animal := model.AnimalID{ID: do(animals.Add{Animal: animals.Animal{Name: "Juniper", Status: animals.Kept}})}
	var now model.Moment
	if err := w.Collection().View(func(v model.View) error { now = v.Now(); return nil }); err != nil {
		t.Fatal(err)
	}
	contact := do(welfare.NoteContact{Person: id, At: now, PersonContact: welfare.PersonContact{What: welfare.Bite, Animal: animal}})
	said := func(what string) bool {
		return strings.Contains(strings.Join(uitest.Texts(w.Content()), "\n"), what)
	}
	opened := func() { w.Go(place.Route{To: place.People}); uitest.Key(w.Canvas(), fyne.KeyReturn) }
	if opened(); !said("Bite · Juniper") {
		t.Errorf("says %q", uitest.Texts(w.Content()))
	}
	uitest.Key(w.Canvas(), fyne.KeyEscape)
	do(animals.Remove{ID: animal})
	if opened(); !said("Bite · an animal that was removed") {
		t.Errorf("without the animal: %q", uitest.Texts(w.Content()))
	}
	typeInto(w, fields(w)[0], " Ash")
	uitest.Tap(t, w.Content(), "Remove this note")
	if err := w.Collection().View(func(v model.View) error { _, err := v.Document(contact); return err }); !errors.Is(err, model.ErrNotFound) {
		t.Errorf("it is there: %v", err)
	}
	if said("Bite ·") {
		t.Errorf("then: %q", uitest.Texts(w.Content()))
	}
	if uitest.Tap(t, w.Content(), "Keep"); !strings.Contains(stored(w)[0].Name, "Ash") {
		t.Errorf("what was typed is lost: %q", stored(w)[0].Name)
	}
}
