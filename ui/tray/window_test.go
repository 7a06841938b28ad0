package tray_test

import (
	"fmt"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/storage"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/collection"
	"coilward/model/contact"
	"coilward/model/husbandry"
	"coilward/model/knowledge"
	"coilward/model/people"
	"coilward/model/samples"
	"coilward/model/storetest"
	"coilward/ui/look"
	"coilward/ui/particulars"
	"coilward/ui/place"
	ui "coilward/ui/tray"
	"coilward/ui/uitest"
	"coilward/ui/widgets"
	"coilward/ui/widgets/tubes"
)

func open(t testing.TB, l uitest.Look, language string, fill func(*collection.Collection)) *uitest.Opened {
	t.Helper()
	w := uitest.Open(t, uitest.Setting{Look: l, Language: language, Fill: fill, Place: place.Tray, Make: func(w place.Window) place.Place { return ui.New(w) }})
	w.Go(place.Route{To: place.Tray})
	return w
}

func plain() uitest.Look {
	return uitest.Look{Shine: look.ByDay, Width: 1280, Height: 800, Scale: 1}
}

// names are eight animals in the order in which they stand, which is not that of
// their names.
func names() []string {
	return []string{"Yarrow", "Siskin", "Heron", "Rowan", "Ash", "Oak", "Linnet", "Brook"}
}

// room fills in a room of eight, a vet and a lab.
func room(t testing.TB) func(*collection.Collection) {
	return func(c *collection.Collection) {
		t.Helper()
		do := func(command model.Command) []model.ID {
			t.Helper()
			change, err := c.Do(command)
			if err != nil {
				t.Fatal(err)
			}
			return change.Documents
		}
		var boxes []husbandry.Branch
		for i := range names() {
			boxes = append(boxes, husbandry.Branch{Place: husbandry.Place{Name: fmt.Sprint("A", i+1), Kind: husbandry.Tub}})
		}
		places := do(husbandry.AddPlaces{Branches: []husbandry.Branch{{Place: husbandry.Place{Name: "Snake room", Kind: husbandry.Room}, Below: boxes}}})
		for i, name := range names() {
			id := model.AnimalID{ID: do(animals.Add{Animal: animals.Animal{Name: name}})[0]}
			do(husbandry.Move{Animal: id, Place: model.PlaceID{ID: places[i+1]}, At: model.MomentOf(storetest.Start())})
		}
		do(people.Add{Person: people.Person{Name: "Dr Alder", Roles: []people.Role{people.Vet}}})
		do(people.Add{Person: people.Person{Name: "Bench lab", Roles: []people.Role{people.Lab}, Phones: []string{"555 0199"}}})
	}
}

// all are the samples of the window's collection, in shelf order.
func all(w *uitest.Opened) (t ui.Tray) {
	w.T.Helper()
	if err := w.Collection().View(func(v model.View) (err error) { t, err = ui.Load(v, w.Tables()); return err }); err != nil {
		w.T.Fatal(err)
	}
	return t
}

// acts counts what a person does: each press, and each key.
type acts struct {
	*uitest.Opened
	n int
}

func (a *acts) tap(name string) {
	a.T.Helper()
	a.n++
	uitest.Tap(a.T, uitest.Top(a.Canvas()), name)
}

func (a *acts) key(k fyne.KeyName) { a.n++; uitest.Key(a.Canvas(), k) }

func (a *acts) typed(text string) { a.n += len(text); uitest.Type(a.Canvas(), text) }

// menu does an act of the menus by its label.
func (a *acts) menu(label string) {
	a.T.Helper()
	a.n++
	for _, menu := range a.Window().MainMenu().Items {
		for _, item := range menu.Items {
			if item.Label == label && !item.Disabled {
				item.Action()
				return
			}
		}
	}
	a.T.Fatalf("no act %q in the menus", label)
}

// later puts the clock on.
func (a *acts) later(days int) { a.Clock.Set(a.Clock.Now().AddDate(0, 0, days)) }

func tubesOf(w *uitest.Opened) (found *tubes.Tray) {
	w.T.Helper()
	uitest.Walk(w.Content(), func(s uitest.Seen) bool {
		if t, is := s.Object.(*tubes.Tray); is {
			found = t
		}
		return found == nil
	})
	if found == nil {
		w.T.Fatalf("no tray: %q", uitest.Texts(w.Content()))
	}
	return found
}

// prepared are eight tubes in the tray, one of each animal.
func prepared(t *testing.T, things ...string) *acts {
	t.Helper()
	a := &acts{Opened: open(t, plain(), "en", room(t))}
	a.tap("New samples")
	a.tap("All in this list")
	a.tap("Mouth swab")
	for _, thing := range things {
		a.tap(thing)
	}
	a.tap("Lay into the tray")
	if got := all(a.Opened).Samples; len(got) != 8 {
		t.Fatalf("%d samples: %q", len(got), uitest.Texts(a.Content()))
	}
	return a
}

// posted are eight tubes on their way to the lab.
func posted(t *testing.T, things ...string) *acts {
	t.Helper()
	a := prepared(t, things...)
	a.key(fyne.KeyReturn) // the keys are at the tubes that were prepared
	a.tap("Taken")
	a.key(fyne.KeyReturn)
	a.tap("Sent")
	return a
}

func stages(w *uitest.Opened) map[samples.Stage]int {
	n := map[samples.Stage]int{}
	for _, s := range all(w).Samples {
		n[s.Stage()]++
	}
	return n
}

// keep writes a picture of the window where COILWARD_PICTURES says, for a person to
// look at.
func keep(w *uitest.Opened, name string) {
	if folder := os.Getenv("COILWARD_PICTURES"); folder != "" {
		uitest.Keep(w.T, w.Window(), filepath.Join(folder, "tray-"+name+".png"))
	}
}

func TestTheEmptyTraySaysWhatToDo(t *testing.T) {
	w := open(t, plain(), "en", func(*collection.Collection) {})
	if !w.Shows("Nobody to take a sample of") {
		t.Errorf("%q", uitest.Texts(w.Content()))
	}
	uitest.Tap(t, w.Content(), "Add an animal")
	if len(w.Went) == 0 || w.Went[len(w.Went)-1] != (place.Route{To: place.Animals, Page: "new"}) {
		t.Errorf("went to %v", w.Went)
	}
	w = open(t, plain(), "en", room(t))
	if !w.Shows("Begin with the kits") {
		t.Errorf("%q", uitest.Texts(w.Content()))
	}
}

// Eight swabs from prepared to posted in at most twenty acts, with preparing them.
func TestEightSamplesAreSoonPosted(t *testing.T) {
	a := posted(t, "Serpentovirus")
	if n := stages(a.Opened); n[samples.Sent] != 8 {
		t.Fatalf("%v: %q", n, uitest.Texts(a.Content()))
	}
	if a.n > 20 {
		t.Errorf("%d acts, at most 20 are wanted", a.n)
	}
	t.Logf("%d acts from an empty tray to eight posted samples", a.n)
	for i, s := range all(a.Opened).Samples {
		if who := a.Animal(names()[i]); s.Animals[0] != who.ID {
			t.Errorf("tube %d is not %s's", i, who.Name)
		}
	}
	if _, err := a.Collection().Undo(); err != nil {
		t.Fatal(err)
	}
	if n := stages(a.Opened); n[samples.Taken] != 8 {
		t.Errorf("one undo leaves %v", n)
	}
}

// A sheet of eight samples by three things in at most thirty-five keys.
func TestASheetOfEightByThree(t *testing.T) {
	a := posted(t, "Serpentovirus", "Ferlavirus", "Cryptosporidium serpentis")
	a.later(2)
	a.key(fyne.KeyReturn)
	a.tap("Arrived")
	if n := stages(a.Opened); n[samples.AtLab] != 8 {
		t.Fatalf("%v: %q", n, uitest.Texts(a.Content()))
	}
	a.later(5)
	a.n = 0
	a.key(fyne.KeyReturn) // the report
	a.typed("4711")
	a.key(fyne.KeyReturn)
	a.typed("2")
	a.typed("1")
	a.typed(strings.Repeat("2", 20))
	a.typed("3")
	a.typed("4")
	if !a.Shows("1 detected, 21 not detected, 1 inconclusive, 1 inhibited") {
		t.Errorf("not read back: %q", uitest.Texts(a.Content()))
	}
	keep(a.Opened, "report")
	a.typed("1")
	a.key(fyne.KeyReturn)
	if a.n > 35 {
		t.Errorf("%d keys, at most 35 are wanted", a.n)
	}
	t.Logf("%d keys for a sheet of 8 by 3", a.n)
	got := all(a.Opened).Samples
	if n := stages(a.Opened); n[samples.Reported] != 8 {
		t.Fatalf("%v: %q", n, uitest.Texts(a.Content()))
	}
	first, last := got[0], got[7]
	if first.Outcome(first.For[1]) != samples.Detected || last.Outcome(last.For[1]) != samples.Inconclusive || last.Outcome(last.For[2]) != samples.Inhibited {
		t.Errorf("first %+v, last %+v", first.Results, last.Results)
	}
	for _, s := range got {
		if s.Results[0].Report != "4711" {
			t.Errorf("report %q", s.Results[0].Report)
		}
	}
	if _, err := a.Collection().Undo(); err != nil {
		t.Fatal(err)
	}
	if n := stages(a.Opened); n[samples.AtLab] != 8 {
		t.Errorf("one undo leaves %v", n)
	}
}

// A report's file is kept with each of its results; what is no file of a report is
// refused, and what was entered stays.
func TestAReportIsAttached(t *testing.T) {
	a := posted(t, "Serpentovirus")
	a.later(2)
	a.key(fyne.KeyReturn)
	a.tap("Arrived")
	a.key(fyne.KeyReturn)
	a.key(fyne.KeyReturn)
	a.typed("22222222")
	folder := t.TempDir()
	write := func(name, content string) string {
		path := filepath.Join(folder, name)
		if err := os.WriteFile(path, []byte(content), 0o600); err != nil {
			t.Fatal(err)
		}
		return path
	}
	drop := func(path string) { a.Dropped([]fyne.URI{storage.NewFileURI(path)}) }
	drop(write("report.pdf", "no report at all"))
	if !a.Shows("report.pdf") || !a.Shows("8 not detected") {
		t.Errorf("%q", uitest.Texts(a.Content()))
	}
	body := "%PDF-1.4\n1 0 obj<</Type/Catalog/Pages 2 0 R>>endobj\n2 0 obj<</Type/Pages/Kids[3 0 R]/Count 1>>endobj\n3 0 obj<</Type/Page/Parent 2 0 R/MediaBox[0 0 9 9]>>endobj\n"
	drop(write("report.pdf", fmt.Sprintf("%sxref\n0 1\n0000000000 65535 f \ntrailer<</Size 1/Root 1 0 R>>\nstartxref\n%d\n%%%%EOF\n", body, len(body))))
	a.typed("0")
	a.key(fyne.KeyReturn)
	for _, s := range all(a.Opened).Samples {
		if len(s.Results) != 1 || len(s.Results[0].Photos) != 1 {
			t.Fatalf("%+v: %q", s.Results, uitest.Texts(a.Content()))
		}
	}
}

// What does not count up keeps nothing, says so at its field, and loses nothing.
func TestASumThatIsWrongIsSaid(t *testing.T) {
	a := posted(t, "Serpentovirus")
	a.later(2)
	a.key(fyne.KeyReturn)
	a.tap("Arrived")
	a.key(fyne.KeyReturn)
	a.typed("R1")
	a.key(fyne.KeyReturn)
	a.key(fyne.KeyReturn) // past the empty sheet
	a.key(fyne.KeyReturn)
	if !a.Shows("Nothing is entered yet") {
		t.Errorf("an empty sheet is not refused: %q", uitest.Texts(a.Content()))
	}
	uitest.Tap(t, a.Content(), "Yarrow: Serpentovirus")
	a.typed("12222222")
	a.typed("2")
	a.key(fyne.KeyReturn)
	if !a.Shows("The report counts 2 “detected”, entered are 1") || stages(a.Opened)[samples.Reported] != 0 {
		t.Errorf("a wrong sum is not refused: %q", uitest.Texts(a.Content()))
	}
	if !a.Shows("1 detected, 7 not detected") || !a.Shows("Yarrow: detected, Serpentovirus") {
		t.Errorf("what was entered is lost: %q", uitest.Texts(a.Content()))
	}
	a.key(fyne.KeyBackspace)
	a.typed("1")
	a.key(fyne.KeyReturn)
	if stages(a.Opened)[samples.Reported] != 8 {
		t.Errorf("the right sum is refused: %q", uitest.Texts(a.Content()))
	}
}

// A report that comes before anybody noted the arrival is entered all the same, by
// the menu, for all that its lab owes.
func TestAReportMayComeBeforeTheArrivalIsNoted(t *testing.T) {
	a := posted(t, "Serpentovirus")
	a.later(3)
	a.menu("Enter a lab’s report")
	a.typed("R-9")
	a.key(fyne.KeyReturn)
	a.typed("22222222")
	a.typed("0")
	a.key(fyne.KeyReturn)
	if n := stages(a.Opened); n[samples.Reported] != 8 {
		t.Errorf("%v: %q", n, uitest.Texts(a.Content()))
	}
}

// What was detected is in sight once it is entered, and one press opens a positive.
func TestADetectedResultLeadsOn(t *testing.T) {
	a := posted(t, "Serpentovirus")
	a.later(2)
	a.key(fyne.KeyReturn)
	a.tap("Arrived")
	a.key(fyne.KeyReturn)
	a.key(fyne.KeyReturn)
	a.typed("21222222")
	a.typed("1")
	a.key(fyne.KeyReturn)
	if !a.Shows("Siskin") {
		t.Fatalf("%q", uitest.Texts(a.Content()))
	}
	a.tap("What to do now")
	var opened []contact.Stored
	if err := a.Collection().View(func(v model.View) (err error) { opened, err = contact.All(v); return err }); err != nil {
		t.Fatal(err)
	}
	if len(opened) != 1 || opened[0].Animals[0] != a.Animal("Siskin").ID || opened[0].Agent != "serpentovirus" {
		t.Fatalf("%+v", opened)
	}
	if n := len(a.Went); n == 0 || a.Went[n-1] != (place.Route{To: place.Positive, Subject: opened[0].ID.ID}) {
		t.Errorf("went to %v", a.Went)
	}
}

// A detected result is told by word and mark, and what says nothing is never
// called negative.
func TestWhatSaysNothingIsToldSo(t *testing.T) {
	a := posted(t, "Serpentovirus")
	a.later(2)
	a.key(fyne.KeyReturn)
	a.tap("Arrived")
	a.key(fyne.KeyReturn)
	a.key(fyne.KeyReturn)
	a.typed("12345222")
	a.typed("1")
	a.key(fyne.KeyReturn)
	for _, said := range []string{"detected", "not detected", "inconclusive", "inhibited", "not done"} {
		if !a.Shows(said) {
			t.Errorf("%s is not shown: %q", said, uitest.Texts(a.Content()))
		}
	}
	for _, said := range uitest.Texts(a.Content()) {
		if strings.Contains(strings.ToLower(said), "negative") {
			t.Errorf("said: %q", said)
		}
	}
	third := all(a.Opened).Samples[2]
	tubesOf(a.Opened).Open(third.ID.String())
	if !a.Shows("Says nothing of the animal") {
		t.Errorf("%q", uitest.Texts(a.Content()))
	}
}

// "Not detected" of a thing that hides from the material says nothing, and the tube
// does not say more than its sample can.
func TestATubeSaysNoMoreThanItsSample(t *testing.T) {
	for want, things := range map[string][]knowledge.AgentID{
		"says nothing":                {"reptarenavirus"},
		"not detected: Serpentovirus": {"serpentovirus", "reptarenavirus"},
		"inhibited: Ferlavirus":       {"serpentovirus", "ferlavirus"},
	} {
		w := open(t, plain(), "en", room(t))
		do := func(c model.Command) model.ID {
			t.Helper()
			done, err := w.Collection().Do(c)
			if err != nil {
				t.Fatal(err)
			}
			return done.Documents[0]
		}
		at := model.MomentOf(w.Clock.Now())
		id := do(samples.Prepare{Tables: w.Tables(), Each: []samples.New{{Animals: []model.AnimalID{w.Animal("Ash").ID}, Sample: samples.Sample{Material: "oral-swab", For: things, Taken: at}}}})
		var found []samples.Found
		for _, of := range things {
			f := samples.Found{Of: of, Outcome: samples.NotDetected}
			if of == "ferlavirus" {
				f.Outcome = samples.Inhibited
			}
			found = append(found, f)
		}
		do(samples.Enter{Tables: w.Tables(), At: at, Rows: []samples.Row{{On: samples.On{ID: model.SampleID{ID: id}, Base: 1}, Found: found}}})
		w.Go(place.Route{To: place.Tray})
		if !w.Shows(want) {
			t.Errorf("%v: %q is not said: %q", things, want, uitest.Texts(w.Content()))
		}
	}
}

// The material and what is looked for in it go together, or the form says so at once
// and names the materials that would speak. Source: Hoon-Hanks et al. 2018 Virology
// 517:77.
func TestWhatDoesNotGoTogetherIsToldBeforeItIsTaken(t *testing.T) {
	const warning = "Serpentovirus: from this material, “not detected” says nothing of a python. Better choose: Choanal swab, Mouth swab, Oesophageal swab."
	a := &acts{Opened: open(t, plain(), "en", room(t))}
	a.tap("New samples")
	a.tap("Serpentovirus")
	if a.Shows(warning) {
		t.Error("told before a material was chosen")
	}
	for material, want := range map[string]bool{"Shed skin": true, "Blood": true, "Choanal swab": false} {
		a.tap(material)
		if a.Shows(warning) != want {
			t.Errorf("%s, want it told %t: %q", material, want, uitest.Texts(a.Content()))
		}
	}
}

// Where swabs miss a thing often that is said before they are taken, and behind "not
// detected". Source: Flach et al. 2018 J Zoo Wildl Med 49(4), abstract: 2 of 5.
func TestWhatIsMissedOftenIsTold(t *testing.T) {
	const often = "often missed in such samples: all together, they found it in 2 of 5 snakes that had it (Flach et al. 2018)"
	a := &acts{Opened: open(t, plain(), "en", room(t))}
	a.tap("New samples")
	a.tap("Ferlavirus")
	for _, c := range []struct {
		material string
		want     bool
	}{{"Mouth swab", true}, {"Cloacal swab", true}, {"Tracheal wash", false}, {"Blood", false}} {
		a.tap(c.material)
		if a.Shows("Ferlavirus: "+often) != c.want {
			t.Errorf("%s, want it told %t: %q", c.material, c.want, uitest.Texts(a.Content()))
		}
	}
	w := open(t, plain(), "en", room(t))
	for material, want := range map[knowledge.MaterialID]bool{"cloacal-swab": true, "tracheal-wash": false} {
		at := model.MomentOf(w.Clock.Now())
		made, err := w.Collection().Do(samples.Prepare{Tables: w.Tables(), Each: []samples.New{{Animals: []model.AnimalID{w.Animal("Yarrow").ID}, Sample: samples.Sample{Material: material, For: []knowledge.AgentID{"ferlavirus"}, Taken: at}}}})
		if err != nil {
			t.Fatal(err)
		}
		if _, err := w.Collection().Do(samples.Enter{Tables: w.Tables(), At: at, Rows: []samples.Row{{On: samples.On{ID: model.SampleID{ID: made.Documents[0]}, Base: 1}, Found: []samples.Found{{Of: "ferlavirus", Outcome: samples.NotDetected}}}}}); err != nil {
			t.Fatal(err)
		}
		w.Go(place.Route{To: place.Tray, Subject: made.Documents[0]})
		if w.Shows("Often"+often[len("often"):]) != want || !w.Shows("Does not exclude an infection") {
			t.Errorf("%s, want it told %t: %q", material, want, uitest.Texts(w.Content()))
		}
	}
}

func TestAResultIsPutRightAndTheEarlierStays(t *testing.T) {
	a := posted(t, "Serpentovirus")
	a.later(2)
	a.key(fyne.KeyReturn)
	a.tap("Arrived")
	a.key(fyne.KeyReturn)
	a.key(fyne.KeyReturn)
	a.typed("22222222")
	a.typed("0")
	a.key(fyne.KeyReturn)
	one := all(a.Opened).Samples[0]
	tubesOf(a.Opened).Open(one.ID.String())
	if len(tubesOf(a.Opened).Together()) > 1 {
		a.tap("Yarrow")
	}
	a.tap("Put the result right")
	a.tap("Keep")
	if !a.Shows("Say what the lab found.") {
		t.Errorf("%q", uitest.Texts(a.Content()))
	}
	a.tap("detected")
	a.tap("Keep")
	if !a.Shows("Say why it is put right.") {
		t.Errorf("kept without why: %q", uitest.Texts(a.Content()))
	}
	a.typed("the lab mixed up two tubes")
	a.key(fyne.KeyReturn)
	one = all(a.Opened).Samples[0]
	if one.Outcome("serpentovirus") != samples.Detected || len(one.Results) != 2 {
		t.Fatalf("%+v: %q", one.Results, uitest.Texts(a.Content()))
	}
	tubesOf(a.Opened).Open(one.ID.String())
	if !a.Shows("Before: not detected") || !a.Shows("the lab mixed up two tubes") {
		t.Errorf("the earlier one is not shown: %q", uitest.Texts(a.Content()))
	}
}

// A route about an animal goes on with its samples, or begins one where it has none.
func TestARouteAboutAnAnimal(t *testing.T) {
	a := posted(t, "Serpentovirus")
	a.Go(place.Route{To: place.Tray, Subject: a.Animal("Ash").ID.ID})
	if !a.Shows("They are at the lab") || !a.Shows("Ash") {
		t.Errorf("%q", uitest.Texts(a.Content()))
	}
	a = &acts{Opened: open(t, plain(), "en", room(t))}
	a.Go(place.Route{To: place.Tray, Subject: a.Animal("Ash").ID.ID})
	if !a.Shows("1 chosen: Ash") {
		t.Errorf("%q", uitest.Texts(a.Content()))
	}
}

// Chosen samples go one way together.
func TestChosenSamplesAreTakenTogether(t *testing.T) {
	a := &acts{Opened: open(t, plain(), "en", room(t))}
	a.tap("New samples")
	for _, name := range []string{"ash", "oak", "heron"} {
		a.typed(name)
		a.key(fyne.KeyReturn)
	}
	a.tap("Faeces")
	a.tap("Worms and protozoa in faeces")
	a.tap("Lay into the tray")
	a.key(fyne.KeyHome)
	a.key(fyne.KeySpace)
	a.key(fyne.KeyEnd)
	a.key(fyne.KeySpace)
	if !a.Shows("2 samples chosen") {
		t.Errorf("%q", uitest.Texts(a.Content()))
	}
	a.key(fyne.KeyReturn)
	a.tap("Taken")
	if n := stages(a.Opened); n[samples.Taken] != 2 || n[samples.ToTake] != 1 {
		t.Errorf("%v: %q", n, uitest.Texts(a.Content()))
	}
	if a.Shows("samples chosen") {
		t.Error("they are chosen still")
	}
}

// What was just laid into the tray is taken alone, whatever lies there already.
func TestWhatWasJustLaidInIsTakenAlone(t *testing.T) {
	for _, before := range [][]string{{"ash"}, {"ash", "oak"}} {
		a := &acts{Opened: open(t, plain(), "en", room(t))}
		lay := func(names ...string) {
			a.tap("New samples")
			for _, name := range names {
				a.typed(name)
				a.key(fyne.KeyReturn)
			}
			a.tap("Faeces")
			a.tap("Worms and protozoa in faeces")
			a.tap("Lay into the tray")
		}
		lay(before...)
		old := map[model.SampleID]bool{}
		for _, s := range all(a.Opened).Samples {
			old[s.ID] = true
		}
		lay("heron", "brook")
		a.key(fyne.KeyReturn)
		a.tap("Taken")
		for _, s := range all(a.Opened).Samples {
			if taken := s.Stage() == samples.Taken; taken == old[s.ID] {
				t.Errorf("%d lay there: of an old one (%t) it is noted that it was taken: %t", len(before), old[s.ID], taken)
			}
		}
	}
}

// Of several samples, the one that is refused is named.
func TestOneOfSeveralThatIsRefusedIsNamed(t *testing.T) {
	a := prepared(t, "Serpentovirus")
	ash := all(a.Opened).Samples[4]
	if _, err := a.Collection().Do(samples.Take{Tables: a.Tables(), Of: []samples.On{{ID: ash.ID, Base: ash.Revision}}, At: model.MomentOf(a.Clock.Now())}); err != nil {
		t.Fatal(err)
	}
	a.Go(place.Route{To: place.Tray})
	a.key(fyne.KeyReturn)
	oak := all(a.Opened).Samples[5]
	if _, err := a.Collection().Do(samples.Take{Tables: a.Tables(), Of: []samples.On{{ID: oak.ID, Base: oak.Revision}}, At: model.MomentOf(a.Clock.Now())}); err != nil {
		t.Fatal(err)
	}
	a.tap("Taken")
	if !a.Shows("Oak: ") {
		t.Errorf("%q", uitest.Texts(a.Content()))
	}
}

func TestASampleIsGivenUpWithItsReason(t *testing.T) {
	a := posted(t, "Serpentovirus")
	one := all(a.Opened).Samples[0]
	a.Go(place.Route{To: place.Tray, Subject: one.ID.ID})
	a.tap("It gives no result")
	a.tap("Keep: no result")
	if !a.Shows("Say why it gives no result.") {
		t.Errorf("%q", uitest.Texts(a.Content()))
	}
	a.tap("Lost")
	a.tap("Keep: no result")
	if n := stages(a.Opened); n[samples.Voided] != 1 || !a.Shows("1 without a result this year: Yarrow, lost") {
		t.Errorf("%v: %q", n, uitest.Texts(a.Content()))
	}
}

// One tube for several animals is a pool; numbers go on from the first, and one
// that was used is refused at its field, with what was typed left in all.
func TestPoolsAndNumbers(t *testing.T) {
	a := &acts{Opened: open(t, plain(), "en", room(t))}
	a.tap("New samples")
	for _, name := range []string{"brook", "siskin", "yarrow"} {
		uitest.Type(a.Canvas(), name)
		a.key(fyne.KeyReturn)
	}
	if !a.Shows("3 chosen: Yarrow, Siskin, Brook") {
		t.Errorf("not in shelf order: %q", uitest.Texts(a.Content()))
	}
	a.tap("Faeces")
	a.tap("Worms and protozoa in faeces")
	fields := uitest.Entries(a.Content())
	a.Focus(fields[1])
	a.typed("K-098")
	a.Focus(fields[2])
	a.tap("Lay into the tray")
	got := all(a.Opened).Samples
	if len(got) != 3 || got[0].Kit.Number != "K-098" || got[1].Kit.Number != "K-099" || got[2].Kit.Number != "K-100" {
		t.Fatalf("%d samples: %q", len(got), uitest.Texts(a.Content()))
	}
	a.tap("New samples")
	a.tap("All in this list")
	if a.Shows("never one for two") {
		t.Error("of pools is said where there is none")
	}
	a.tap("one pool of all")
	if !a.Shows("never one for two") {
		t.Error("that each is sampled on its own is not said")
	}
	a.tap("Faeces")
	a.tap("Worms and protozoa in faeces")
	number := uitest.Entries(a.Content())[1].(interface {
		fyne.Focusable
		SetText(string)
	})
	number.SetText("K-099")
	a.tap("Lay into the tray")
	if len(all(a.Opened).Samples) != 3 || !a.Shows("This kit was used for Siskin") {
		t.Errorf("a number used twice is not refused: %q", uitest.Texts(a.Content()))
	}
	number.SetText("K-101")
	a.tap("Lay into the tray")
	got = all(a.Opened).Samples
	pool := got[slices.IndexFunc(got, func(s ui.Sample) bool { return s.Kit.Number == "K-101" })]
	if len(pool.Animals) != 8 {
		t.Errorf("a pool of %d", len(pool.Animals))
	}
}

func TestAMouthSwabSaysItsCautionAndMayBeLeftToTheVet(t *testing.T) {
	a := &acts{Opened: open(t, plain(), "en", room(t))}
	a.tap("New samples")
	a.typed("ash")
	a.key(fyne.KeyReturn)
	a.tap("Mouth swab")
	if !a.Shows("Leaving it to the vet is a full answer") {
		t.Errorf("%q", uitest.Texts(a.Content()))
	}
	a.tap("Leave it to the vet")
	a.tap("Serpentovirus")
	a.tap("Lay into the tray")
	one := all(a.Opened).Samples[0]
	if one.TakenBy.IsZero() || !a.Shows("the vet takes it") {
		t.Errorf("taken by %v: %q", one.TakenBy, uitest.Texts(a.Content()))
	}
}

// What is refused is said with what to do, and nothing that was typed is lost.
func TestBadInputIsSaidAndStays(t *testing.T) {
	a := &acts{Opened: open(t, plain(), "en", room(t))}
	a.tap("New samples")
	a.tap("Lay into the tray")
	if !a.Shows("The sample is of no animal. Name one at least.") {
		t.Errorf("%q", uitest.Texts(a.Content()))
	}
	a.typed("ash")
	a.key(fyne.KeyReturn)
	a.tap("Shed skin")
	a.tap("Lay into the tray")
	if !a.Shows("Nothing is looked for. Choose at least one thing.") {
		t.Errorf("%q", uitest.Texts(a.Content()))
	}
	a.tap("Serpentovirus")
	a.tap("Lay into the tray")
	a.key(fyne.KeyReturn)
	day := uitest.Entries(a.Content())[0]
	day.(interface{ SetText(string) }).SetText("31 June")
	a.tap("Taken")
	if n := stages(a.Opened); n[samples.ToTake] != 1 || !a.Shows("31 June") && len(uitest.Entries(a.Content())) == 0 {
		t.Errorf("%v: %q", n, uitest.Texts(a.Content()))
	}
	day.(interface{ SetText(string) }).SetText("12 June 2027")
	a.tap("Taken")
	if n := stages(a.Opened); n[samples.ToTake] != 1 {
		t.Errorf("taken on a day to come: %v", n)
	}
}

// set types into the entry of that index.
func (a *acts) set(entry int, text string) {
	a.T.Helper()
	uitest.Entries(a.Content())[entry].(interface{ SetText(string) }).SetText(text)
}

// stands reports whether an entry holds that text still.
func (a *acts) stands(text string) bool {
	return slices.ContainsFunc(uitest.Entries(a.Content()), func(e fyne.Focusable) bool { return typedIn(e) == text })
}

// typedIn is what stands in an entry.
func typedIn(e fyne.Focusable) string { return reflect.ValueOf(e).Elem().FieldByName("Text").String() }

// Days that run backwards, a result of before its sample, and a sample of an animal that
// was sold before: each is named at its field, nothing is kept, and what was typed stays.
func TestWhatCannotBeSoIsNamedAndStays(t *testing.T) {
	a := prepared(t, "Serpentovirus")
	a.key(fyne.KeyReturn)
	a.tap("Taken")
	taken := a.Clock.Now()
	before := taken.AddDate(0, 0, -3).Format("2 January 2006")
	a.key(fyne.KeyReturn)
	a.set(0, before)
	a.tap("Sent")
	if n := stages(a.Opened); n[samples.Taken] != 8 || !a.Shows("This lies before “Taken” on") || !a.stands(before) {
		t.Errorf("posted before it was taken: %v: %q", n, uitest.Texts(a.Content()))
	}
	a.set(0, taken.Format("2 January 2006"))
	a.tap("Sent")
	a.later(2)
	a.key(fyne.KeyReturn)
	a.set(0, before)
	a.tap("Arrived")
	if n := stages(a.Opened); n[samples.Sent] != 8 || !a.stands(before) {
		t.Errorf("there before it was posted: %v: %q", n, uitest.Texts(a.Content()))
	}
	a.set(0, a.Clock.Now().Format("2 January 2006"))
	a.tap("Arrived")
	a.key(fyne.KeyReturn)
	a.set(0, "R 17")
	a.set(1, before)
	a.Focus(uitest.Entries(a.Content())[0])
	a.key(fyne.KeyReturn)
	a.typed("22222222")
	a.typed("0")
	a.key(fyne.KeyReturn)
	if n := stages(a.Opened); n[samples.AtLab] != 8 || !a.stands(before) || !a.stands("R 17") || !a.Shows("8 not detected") {
		t.Errorf("a result of before the sample: %v: %q", n, uitest.Texts(a.Content()))
	}
	keep(a.Opened, "backwards")
	if a.key(fyne.KeyEscape); !a.Shows("is not kept yet") || !a.stands("R 17") {
		t.Errorf("one key throws away what was typed: %q", uitest.Texts(a.Content()))
	}
	a.key(fyne.KeyEscape)
	sold := a.Animal("Brook")
	if _, err := a.Collection().Do(animals.SetStatus{ID: sold.ID, Base: sold.Revision, Status: animals.Sold, Day: model.Date{Day: a.Now().Day() - 1, Precision: model.ToDay}}); err != nil {
		t.Fatal(err)
	}
	one := all(a.Opened).Samples[slices.IndexFunc(all(a.Opened).Samples, func(s ui.Sample) bool { return s.Animals[0] == sold.ID })]
	tubesOf(a.Opened).Open(one.ID.String())
	if len(tubesOf(a.Opened).Together()) > 1 {
		a.tap("Brook")
	}
	a.tap("Put the sample right")
	today := a.Clock.Now().Format("2 January 2006")
	for i, e := range uitest.Entries(a.Content()) {
		if strings.Contains(typedIn(e), taken.Format("2006")) {
			a.set(i, today)
		}
	}
	a.tap("Keep")
	if got, _ := all(a.Opened).Samples.Of(one.ID); got.Taken != one.Taken || !a.Shows("Brook") || !a.stands(today) {
		t.Errorf("taken after it was sold: %+v: %q", got.Taken, uitest.Texts(a.Content()))
	}
}

// Labels and the lab's form are made of the samples that have not left, as files that
// the system's program opens.
func TestPapersOfTheSamples(t *testing.T) {
	folder := t.TempDir()
	t.Setenv("TMPDIR", folder)
	t.Setenv("HOME", folder)
	made := func() int {
		files, err := filepath.Glob(filepath.Join(folder, "coilward-paper-*", "*.pdf"))
		if err != nil {
			t.Fatal(err)
		}
		return len(files)
	}
	a := prepared(t, "Serpentovirus")
	a.tap("Print")
	if !a.Shows("First free label") {
		t.Fatalf("%q", uitest.Texts(a.Content()))
	}
	first := uitest.Entries(a.Content())[0].(interface{ SetText(string) })
	first.SetText("900")
	a.tap("Open to print")
	if made() != 0 {
		t.Errorf("a label is printed on that the sheet has not: %q", uitest.Texts(a.Content()))
	}
	first.SetText("2")
	a.tap("Open to print")
	a.tap("Form for the lab")
	a.tap("It is urgent")
	a.tap("Open to print")
	if made() != 2 {
		t.Errorf("%d papers are made: %q", made(), uitest.Texts(a.Content()))
	}
	a.tap("Save as a file …")
	a.tap("Save")
	if files, err := filepath.Glob(filepath.Join(folder, "*.pdf")); err != nil || len(files) != 1 {
		t.Errorf("saved %v, %v: %q", files, err, uitest.Texts(a.Content()))
	}
}

func TestWordsFitInTheTray(t *testing.T) {
	for _, language := range uitest.Languages() {
		for i, l := range uitest.LooksIn(language) {
			w := open(t, l, language, nil)
			check := func(where string) {
				t.Helper()
				for _, said := range uitest.Clipped(w.Content(), fyne.NewSize(l.Width, l.Height)) {
					t.Errorf("%s %v %s: %s", language, l, where, said)
				}
				keep(w, fmt.Sprintf("%s-%s-%s-%.0f-%.0f", where, language, l.Shine, l.Width, l.Scale))
			}
			check("rest")
			seen := map[samples.Stage]bool{}
			for _, s := range all(w).Samples {
				if seen[s.Way.Stage] || i > 1 {
					continue
				}
				seen[s.Way.Stage] = true
				w.Go(place.Route{To: place.Tray, Subject: s.ID.ID})
				check("open-" + string(s.Way.Stage))
				w.Go(place.Route{To: place.Tray, Subject: s.ID.ID, Page: "act"})
				check("act-" + string(s.Way.Stage))
				uitest.Key(w.Canvas(), fyne.KeyEscape)
			}
			if i > 1 {
				continue
			}
			word := func(key string) string { return w.Text().Say(key) }
			uitest.Tap(t, w.Content(), word("tray.print.short"))
			check("labels")
			uitest.Tap(t, w.Content(), word("tray.print.form"))
			check("form")
			uitest.Key(w.Canvas(), fyne.KeyEscape)
			w.Go(place.Route{To: place.Tray, Page: "new"})
			uitest.Tap(t, w.Content(), word("tray.all-shown"))
			uitest.Tap(t, w.Content(), word("material.oral-swab"))
			uitest.Tap(t, w.Content(), word("agent.reptarenavirus"))
			check("new")
		}
	}
}

// A choice that is missing is named at its chips, and what was chosen stays.
func TestAMissingMaterialIsSaidAtItsChoice(t *testing.T) {
	a := &acts{Opened: open(t, plain(), "en", room(t))}
	a.tap("New samples")
	a.typed("ash")
	a.key(fyne.KeyReturn)
	a.tap("Serpentovirus")
	a.tap("Lay into the tray")
	if !a.Shows("Choose what is taken.") || len(all(a.Opened).Samples) != 0 {
		t.Errorf("%q", uitest.Texts(a.Content()))
	}
	a.tap("Mouth swab")
	if a.Shows("Choose what is taken.") {
		t.Error("it is said still")
	}
	a.tap("Lay into the tray")
	if got := all(a.Opened).Samples; len(got) != 1 || !slices.Equal(got[0].For, []knowledge.AgentID{"serpentovirus"}) {
		t.Errorf("%+v", got)
	}
}

// Who goes by keys from chip to chip stays at the one that was pressed.
func TestAChipKeepsTheKeys(t *testing.T) {
	a := &acts{Opened: open(t, plain(), "en", room(t))}
	a.tap("New samples")
	for _, name := range []string{"Faeces", "Worms and protozoa in faeces"} {
		a.Focus(uitest.Press(t, a.Content(), name).(fyne.Focusable))
		a.key(fyne.KeySpace)
		press, is := a.Canvas().Focused().(*widgets.Press)
		if !is || press.Name() != name || !press.State().On {
			t.Errorf("after %s the keys are at %T", name, a.Canvas().Focused())
		}
		seen := false
		uitest.Walk(a.Content(), func(s uitest.Seen) bool { seen = seen || s.Object == fyne.CanvasObject(press); return true })
		if !seen {
			t.Errorf("%s has the keys and is not in sight", name)
		}
	}
}

// Who chooses by the keys how many tubes there are stays at what was pressed.
func TestHowManyTubesKeepsTheKeys(t *testing.T) {
	a := &acts{Opened: open(t, plain(), "en", room(t))}
	a.tap("New samples")
	a.tap("All in this list")
	for _, name := range []string{"one pool of all", "one for each"} {
		press := uitest.Press(t, a.Content(), name).(*widgets.Press)
		a.Focus(press)
		a.key(fyne.KeySpace)
		if now := uitest.Press(t, a.Content(), name); now != fyne.Tappable(press) || a.Canvas().Focused() != fyne.Focusable(press) || !press.State().On {
			t.Errorf("after %s the keys are at what is no more in sight", name)
		}
	}
}

// What is taken by hand says its caution, in the form of the kits and when it is taken.
func TestFaecesAndShedSkinSayToWearGloves(t *testing.T) {
	for _, material := range []string{"Faeces", "Shed skin"} {
		a := &acts{Opened: open(t, plain(), "en", room(t))}
		a.tap("New samples")
		a.typed("ash")
		a.key(fyne.KeyReturn)
		a.tap(material)
		if !a.Shows("Use gloves") {
			t.Errorf("%s: %q", material, uitest.Texts(a.Content()))
		}
		a.tap("Worms and protozoa in faeces")
		a.tap("Lay into the tray")
		a.key(fyne.KeyReturn)
		if !a.Shows("Use gloves") || a.Shows("Leave it to the vet") {
			t.Errorf("%s, taken: %q", material, uitest.Texts(a.Content()))
		}
	}
}

// Who comes from a plan finds what it asks for chosen, and goes on with the kit once it
// is laid out.
func TestASampleThatAPlanAsksFor(t *testing.T) {
	a := &acts{Opened: open(t, plain(), "en", room(t))}
	ask := particulars.Sampling{Material: "faeces", For: []knowledge.AgentID{"worms-and-protozoa", "cryptosporidium"}}
	a.Go(ask.Route(a.Animal("Ash").ID))
	if !a.Shows("1 chosen: Ash") {
		t.Fatalf("%q", uitest.Texts(a.Content()))
	}
	a.tap("Lay into the tray")
	got := all(a.Opened).Samples
	if len(got) != 1 || got[0].Material != "faeces" || len(got[0].For) != 2 || got[0].Animals[0] != a.Animal("Ash").ID {
		t.Fatalf("%+v: %q", got, uitest.Texts(a.Content()))
	}
	a.Go(ask.Route(a.Animal("Ash").ID))
	if !a.Shows("Take the samples") {
		t.Errorf("the kit that is laid out is not taken: %q", uitest.Texts(a.Content()))
	}
	a.key(fyne.KeyEscape)
	a.Go(particulars.Sampling{For: []knowledge.AgentID{"serpentovirus"}}.Route(a.Animal("Ash").ID))
	if !a.Shows("1 chosen: Ash") || a.Shows("Take the samples") {
		t.Errorf("the kit for something else is taken: %q", uitest.Texts(a.Content()))
	}
}

// What was just laid in is taken alone also where the tubes are folded into piles.
func TestWhatWasJustLaidInIsTakenAloneFromAPile(t *testing.T) {
	for _, n := range [][2]int{{8, 2}, {5, 5}, {2, 8}} {
		a := &acts{Opened: open(t, plain(), "en", room(t))}
		lay := func(names []string) {
			a.tap("New samples")
			for _, name := range names {
				a.typed(name)
				a.key(fyne.KeyReturn)
			}
			a.tap("Faeces")
			a.tap("Worms and protozoa in faeces")
			a.tap("Lay into the tray")
		}
		lay(names()[:n[0]])
		old := map[model.SampleID]bool{}
		for _, s := range all(a.Opened).Samples {
			old[s.ID] = true
		}
		lay(names()[8-n[1]:])
		a.key(fyne.KeyReturn)
		a.tap("Taken")
		for _, s := range all(a.Opened).Samples {
			if taken := s.Stage() == samples.Taken; taken == old[s.ID] {
				t.Errorf("%v: lay there: %t, taken: %t", n, old[s.ID], taken)
			}
		}
	}
}

// Leaving it to the vet is an answer for all tubes that are chosen.
func TestSeveralAreLeftToTheVetAtOnce(t *testing.T) {
	a := prepared(t, "Serpentovirus")
	a.key(fyne.KeyReturn)
	a.tap("Leave it to the vet")
	vet := all(a.Opened).People[slices.IndexFunc(all(a.Opened).People, func(p people.Stored) bool { return p.Name == "Dr Alder" })].ID
	for _, s := range all(a.Opened).Samples {
		if s.TakenBy != vet || s.Stage() != samples.ToTake {
			t.Errorf("taken by %v, %s", s.TakenBy, s.Stage())
		}
	}
	if _, err := a.Collection().Undo(); err != nil {
		t.Fatal(err)
	}
	for _, s := range all(a.Opened).Samples {
		if !s.TakenBy.IsZero() {
			t.Error("one undo does not take it back of all")
		}
	}
}

// What is left out has no caution, and the keys stay at what was ticked.
func TestCautionsAreOfWhatIsTicked(t *testing.T) {
	a := &acts{Opened: open(t, plain(), "en", room(t))}
	for _, kit := range [][3]string{{"ash", "Faeces", "Worms and protozoa in faeces"}, {"oak", "Mouth swab", "Serpentovirus"}} {
		a.tap("New samples")
		a.typed(kit[0])
		a.key(fyne.KeyReturn)
		a.tap(kit[1])
		a.tap(kit[2])
		a.tap("Lay into the tray")
	}
	a.Go(place.Route{To: place.Tray, Subject: a.Animal("Oak").ID.ID})
	hurts, gloves := "Forcing a jaw breaks teeth", "Use gloves, keep it away from food"
	said := func() [2]bool { return [2]bool{a.Shows(hurts), a.Shows(gloves)} }
	for i, c := range []struct {
		ticks string
		want  [2]bool
	}{{"", [2]bool{true, false}}, {"Ash", [2]bool{true, true}}, {"Oak", [2]bool{false, true}}, {"Ash", [2]bool{}}} {
		if c.ticks != "" {
			a.tap(c.ticks)
			if press, is := a.Canvas().Focused().(*widgets.Press); !is || press.Name() != c.ticks {
				t.Errorf("%d: the keys are at %T", i, a.Canvas().Focused())
			}
		}
		if got := said(); got != c.want {
			t.Errorf("%d: mouth and gloves are said: %v, want %v: %q", i, got, c.want, uitest.Texts(a.Content()))
		}
	}
}

// A room that is typed chooses all who live there, a name the one who has it.
func TestARoomChoosesAllWhoLiveThere(t *testing.T) {
	a := &acts{Opened: open(t, plain(), "en", room(t))}
	a.tap("New samples")
	a.typed("snake room")
	a.key(fyne.KeyReturn)
	if !a.Shows("8 chosen: Yarrow, Siskin, Heron, Rowan, Ash, Oak, Linnet, Brook") {
		t.Errorf("%q", uitest.Texts(a.Content()))
	}
	a.typed("ash")
	a.key(fyne.KeyReturn)
	if !a.Shows("7 chosen") {
		t.Errorf("%q", uitest.Texts(a.Content()))
	}
}

// reported are eight samples with what is entered of each, a digit each.
func reported(t *testing.T, digits, detected string) *acts {
	t.Helper()
	a := posted(t, "Serpentovirus")
	a.later(2)
	a.key(fyne.KeyReturn)
	a.tap("Arrived")
	a.key(fyne.KeyReturn)
	a.key(fyne.KeyReturn)
	a.typed(digits)
	a.typed(detected)
	a.key(fyne.KeyReturn)
	return a
}

// Where one report says "detected" of several, each has what to do now beside it.
func TestEachDetectedOfAReportLeadsOn(t *testing.T) {
	a := reported(t, "12212222", "2")
	count := 0
	uitest.Walk(a.Content(), func(s uitest.Seen) bool {
		if press, is := s.Object.(*widgets.Press); is && press.Name() == "What to do now" {
			count++
		}
		return true
	})
	if count != 2 {
		t.Fatalf("%d lead on, want 2: %q", count, uitest.Texts(a.Content()))
	}
	a.tap("What to do now")
	if n := len(a.Went); n == 0 || a.Went[n-1].To != place.Positive {
		t.Errorf("went to %v", a.Went)
	}
}

// What was not detected excludes no infection, and that is said wherever it stands.
func TestNotDetectedExcludesNoInfection(t *testing.T) {
	a := reported(t, "22222222", "0")
	const said = "does not exclude an infection"
	if !a.Shows("“Not detected” " + said) {
		t.Errorf("not in the tray: %q", uitest.Texts(a.Content()))
	}
	a.Go(place.Route{To: place.Tray, Subject: all(a.Opened).Samples[0].ID.ID})
	if !a.Shows("Does not exclude an infection") {
		t.Errorf("not at the sample: %q", uitest.Texts(a.Content()))
	}
}

// The form for samples that were taken back is closed, unless something was typed in it.
func TestAFormOfSamplesThatAreGoneIsClosed(t *testing.T) {
	for _, typed := range []bool{false, true} {
		a := prepared(t, "Serpentovirus")
		a.key(fyne.KeyReturn)
		if typed {
			uitest.Entries(a.Content())[1].(interface{ SetText(string) }).SetText("left of the mouth")
		}
		if _, err := a.Collection().Undo(); err != nil {
			t.Fatal(err)
		}
		a.Go(place.Route{To: place.Tray})
		if open := a.Shows("Take the samples"); open != typed || a.Shows("changed meanwhile") != typed {
			t.Errorf("typed %t: open %t: %q", typed, open, uitest.Texts(a.Content()))
		}
	}
}

// An animal of which two kits are taken together is told to stand there twice.
func TestAnAnimalThatStandsTwiceIsTold(t *testing.T) {
	a := prepared(t, "Serpentovirus")
	a.key(fyne.KeyReturn)
	if a.Shows("Stands here twice") {
		t.Fatal("nobody stands there twice")
	}
	a.key(fyne.KeyEscape)
	a.tap("New samples")
	a.typed("oak")
	a.key(fyne.KeyReturn)
	a.tap("Mouth swab")
	a.tap("Serpentovirus")
	a.tap("Lay into the tray")
	a.key(fyne.KeyReturn)
	told := 0
	for _, said := range uitest.Texts(a.Content()) {
		if strings.HasPrefix(said, "Stands here twice") {
			told++
		}
	}
	if told < 2 {
		t.Errorf("told %d times: %q", told, uitest.Texts(a.Content()))
	}
}

// The keys of the outcomes are in sight only while a figure enters one.
func TestTheKeysOfTheSheetShowWhereTheyWork(t *testing.T) {
	a := posted(t, "Serpentovirus")
	a.later(2)
	a.key(fyne.KeyReturn)
	a.tap("Arrived")
	a.key(fyne.KeyReturn)
	shown := func() bool { return slices.Contains(uitest.Texts(a.Content()), "5") }
	if shown() {
		t.Error("a figure is shown as a key while it is typed as the report's number")
	}
	a.key(fyne.KeyReturn)
	if !shown() {
		t.Errorf("the keys are not shown: %q", uitest.Texts(a.Content()))
	}
	a.tap("not detected")
	if !a.Shows("1 not detected") {
		t.Errorf("an outcome cannot be pressed: %q", uitest.Texts(a.Content()))
	}
}

// A private lab is named on its form only where the person ticks it.
func TestAPrivateLabIsTicked(t *testing.T) {
	folder := t.TempDir()
	t.Setenv("TMPDIR", folder)
	a := &acts{Opened: open(t, plain(), "en", func(c *collection.Collection) {
		room(t)(c)
		if _, err := c.Do(people.Add{Person: people.Person{Name: "Quiet lab", Roles: []people.Role{people.Lab}, Private: true}}); err != nil {
			t.Fatal(err)
		}
	})}
	person := all(a.Opened).People
	lab := person[slices.IndexFunc(person, func(p people.Stored) bool { return p.Name == "Quiet lab" })].ID
	if _, err := a.Collection().Do(samples.Prepare{Tables: a.Tables(), Each: []samples.New{{Animals: []model.AnimalID{a.Animal("Ash").ID}, Sample: samples.Sample{Material: "oral-swab", For: []knowledge.AgentID{"serpentovirus"}, Lab: lab}}}}); err != nil {
		t.Fatal(err)
	}
	a.Go(place.Route{To: place.Tray})
	a.tap("Print")
	a.tap("Form for the lab")
	lengths := func() (all []int64) {
		files, err := filepath.Glob(filepath.Join(folder, "coilward-paper-*", "*.pdf"))
		if err != nil {
			t.Fatal(err)
		}
		for _, f := range files {
			info, err := os.Stat(f)
			if err != nil {
				t.Fatal(err)
			}
			all = append(all, info.Size())
		}
		return all
	}
	a.tap("Open to print")
	without := lengths()
	a.tap("Name the lab: Quiet lab")
	a.tap("Open to print")
	if both := lengths(); len(without) != 1 || len(both) != 2 || both[0] == both[1] {
		t.Errorf("of %v bytes without the lab, %v with it as well", without, both)
	}
}

// What cannot be read is named by animal and day, with what to do; the others lie there.
func TestASampleThatCannotBeReadIsNamed(t *testing.T) {
	a := prepared(t, "Serpentovirus")
	at := model.MomentOf(storetest.Start())
	for i, version := range []int{samples.Version, samples.Version + 1} {
		if _, err := a.Collection().Do(storetest.Put{Documents: []model.Document{{Type: model.TypeSample, ID: model.ID{9, byte(i)}, At: at, Version: version, Body: []byte("[]"), Subjects: []model.Subject{a.Animal(names()[i]).ID.Subject()}}}}); err != nil {
			t.Fatal(err)
		}
	}
	a.Go(place.Route{To: place.Tray})
	for _, want := range []string{"1 sample cannot be read and is left out here (Yarrow, ", "1 sample was written by a newer Coilward and is left out here (Siskin, "} {
		if !a.Shows(want) {
			t.Errorf("%q is not said: %q", want, uitest.Texts(a.Content()))
		}
	}
	a.key(fyne.KeyReturn)
	a.tap("Taken")
	if n := stages(a.Opened); n[samples.Taken] != 8 {
		t.Errorf("the others are stopped: %v", n)
	}
}

// By which method the lab looked is asked where it makes a difference, out of sight until it is wanted;
// it is kept, told, and offered again where the result is put right.
func TestAResultIsOfAMethod(t *testing.T) {
	a := posted(t, "Serpentovirus")
	a.later(2)
	a.key(fyne.KeyReturn)
	a.tap("Arrived")
	a.key(fyne.KeyReturn)
	a.key(fyne.KeyReturn)
	if a.Shows("Looked for by: Serpentovirus") {
		t.Error("it is asked before it is wanted")
	}
	a.typed("22222222")
	a.typed("0")
	a.tap("The lab looked by another method")
	a.tap("Antibodies")
	a.tap("Keep the results")
	for _, s := range all(a.Opened).Samples {
		if s.Method("serpentovirus") != knowledge.Antibodies {
			t.Fatalf("%+v: %q", s.Results, uitest.Texts(a.Content()))
		}
	}
	one := all(a.Opened).Samples[0]
	tubesOf(a.Opened).Open(one.ID.String())
	if len(tubesOf(a.Opened).Together()) > 1 {
		a.tap("Yarrow")
	}
	if !a.Shows("looked for by: antibodies") || !a.Shows("No antibodies: says nothing") || a.Shows("Does not exclude an infection") {
		t.Errorf("%q", uitest.Texts(a.Content()))
	}
	a.tap("Put the result right")
	if !a.Shows("Looked for by: Serpentovirus") {
		t.Fatalf("the method is not offered: %q", uitest.Texts(a.Content()))
	}
	a.tap("As usual")
	a.tap("not detected")
	a.set(len(uitest.Entries(a.Content()))-2, "read wrong")
	a.tap("Keep")
	if one = all(a.Opened).Samples[0]; one.Method("serpentovirus") != "" || len(one.Results) != 2 {
		t.Errorf("%+v: %q", one.Results, uitest.Texts(a.Content()))
	}
}
