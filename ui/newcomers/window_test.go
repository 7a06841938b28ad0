package newcomers_test

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"coilward/assets"
	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/chart"
	"coilward/model/collection"
	"coilward/model/demo"
	"coilward/model/husbandry"
	"coilward/model/knowledge"
	"coilward/model/newcomers"
	"coilward/model/quarantine"
	"coilward/model/samples"
	"coilward/model/wording"
	"coilward/ui/look"
	ui "coilward/ui/newcomers"
	"coilward/ui/particulars"
	"coilward/ui/place"
	"coilward/ui/uitest"
	"coilward/ui/widgets"
	"coilward/ui/widgets/quarantinebars"
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

func open(t testing.TB, l uitest.Look, language string, fill func(*collection.Collection)) *uitest.Opened {
	t.Helper()
	w := uitest.Open(t, uitest.Setting{Look: l, Language: language, Fill: fill, Place: place.Newcomers, Make: func(w place.Window) place.Place { return ui.New(w) }})
	w.Go(place.Route{To: place.Newcomers})
	return w
}

// sample is the sample collection, with a quarantine of each newcomer that has none.
func sample(t testing.TB) func(*collection.Collection) {
	return func(c *collection.Collection) {
		languages, err := wording.Load(assets.Text())
		if err != nil {
			t.Fatal(err)
		}
		tb := tables(t)
		if err := demo.Fill(c, tb, languages.In("en", wording.Units{})); err != nil {
			t.Fatal(err)
		}
		var begin []quarantine.Begin
		err = c.View(func(v model.View) error {
			all, err := animals.All(v)
			for _, a := range all {
				b, ok, e := newcomers.Propose(v, tb, a.ID)
				if e != nil {
					return e
				}
				if ok {
					begin = append(begin, b)
				}
			}
			return err
		})
		if err != nil {
			t.Fatal(err)
		}
		for _, b := range begin {
			if _, err := c.Do(b); err != nil {
				t.Fatal(err)
			}
		}
	}
}

// one is a collection with one animal that came so many days ago, in quarantine.
func one(t testing.TB, days model.Day) func(*collection.Collection) {
	return func(c *collection.Collection) {
		var now model.Moment
		look := func() (id model.AnimalID) {
			if err := c.View(func(v model.View) error {
				now = v.Now()
				all, err := animals.All(v)
				if len(all) > 0 {
					id = all[0].ID
				}
				return err
			}); err != nil {
				t.Fatal(err)
			}
			return id
		}
		look()
		day := now.Day() - days
		do(t, c, animals.Add{Animal: animals.Animal{Name: "Dunnock", Status: animals.Kept, Since: model.Date{Day: day, Precision: model.ToDay}}})
		do(t, c, quarantine.Begin{Tables: tables(t), Animal: look(), Arrived: model.MomentOn(now, day, model.Noon, model.ToDay), Protocol: "python"})
	}
}

func do(t testing.TB, c *collection.Collection, command model.Command) {
	t.Helper()
	if _, err := c.Do(command); err != nil {
		t.Fatal(err)
	}
}

func quarantines(w *uitest.Opened) (all []quarantine.Stored) {
	w.T.Helper()
	if err := w.Collection().View(func(v model.View) (err error) { all, err = quarantine.All(v); return err }); err != nil {
		w.T.Fatal(err)
	}
	return all
}

func looks(w *uitest.Opened, name string) (all []care.MiteLook) {
	w.T.Helper()
	animal := w.Animal(name)
	err := w.Collection().View(func(v model.View) error {
		return v.Timeline(animal.ID.Subject(), model.Beginning, model.EndOfTime, func(d model.Document) bool {
			if m, err := care.DecodeMiteLook(d); err == nil && d.Kind == care.KindMiteLook {
				all = append(all, m)
			}
			return true
		})
	})
	if err != nil {
		w.T.Fatal(err)
	}
	return all
}

func nobody(*collection.Collection) {}

func TestAnEmptyPageSaysWhatToDo(t *testing.T) {
	w := open(t, plain(), "en", nobody)
	if !w.Shows("Nobody is in quarantine") {
		t.Error("an empty page that does not say what to do")
	}
	uitest.Tap(t, w.Content(), "New arrival")
	if !w.Shows("From whom") {
		t.Error("the act of the empty page opens no form")
	}
}

func typeInto(w *uitest.Opened, o fyne.Focusable, text string) {
	w.Focus(o)
	uitest.Type(w.Canvas(), text)
}

func TestANewArrivalIsAddedAndItsQuarantineBegun(t *testing.T) {
	w := open(t, plain(), "en", nobody)
	uitest.Tap(t, w.Content(), "New arrival")
	uitest.Tap(t, w.Content(), "Begin quarantine")
	if len(quarantines(w)) != 0 || !w.Shows("New arrival") {
		t.Error("an arrival without a name")
	}
	fields := uitest.Entries(w.Content())
	typeInto(w, fields[0], "Dunnock")
	typeInto(w, fields[1], "A. Breeder")
	uitest.Tap(t, w.Content(), "Begin quarantine")
	all := quarantines(w)
	if len(all) != 1 || !all[0].Open() || all[0].Protocol != newcomers.Usual {
		t.Fatalf("%+v, says %q", all, uitest.Texts(uitest.Top(w.Canvas())))
	}
	if a := w.Animal("Dunnock"); a.From != "A. Breeder" || a.Since.Day != w.Now().Day() || all[0].Animal != a.ID {
		t.Errorf("%+v", a)
	}
	for _, said := range []string{"day 0 of 90", "Arrival", "Photos of the standard poses", "What is asked", "0 of 90 days in the room"} {
		if !w.Shows(said) {
			t.Errorf("%q is not said", said)
		}
	}
}

// An arrival whose room is not there yet makes it, and is taken back as one.
func TestAnArrivalIsOneAct(t *testing.T) {
	w := open(t, plain(), "en", nobody)
	uitest.Tap(t, w.Content(), "New arrival")
	fields := uitest.Entries(w.Content())
	typeInto(w, fields[0], "Dunnock")
	uitest.Tap(t, w.Content(), "Not chosen yet")
	uitest.Type(w.Canvas(), "A new room")
	uitest.Key(w.Canvas(), fyne.KeyReturn)
	uitest.Tap(t, w.Content(), "Begin quarantine")
	if len(quarantines(w)) != 0 || !w.Shows("Name of the room") {
		t.Fatalf("a room without a name: %q", uitest.Texts(uitest.Top(w.Canvas())))
	}
	fields = uitest.Entries(w.Content())
	typeInto(w, fields[3], "Box room")
	typeInto(w, fields[4], "Left")
	uitest.Tap(t, w.Content(), "Begin quarantine")
	if len(quarantines(w)) != 1 || !w.Shows("Box room") {
		t.Fatalf("says %q", uitest.Texts(uitest.Top(w.Canvas())))
	}
	if _, err := w.Collection().Undo(); err != nil {
		t.Fatal(err)
	}
	if err := w.Collection().View(func(v model.View) error {
		all, err := animals.All(v)
		if len(all) != 0 || len(quarantines(w)) != 0 {
			t.Error("taken back, some of the arrival is left")
		}
		return err
	}); err != nil {
		t.Fatal(err)
	}
}

// Only enclosures are offered, those that are free first.
func TestWhereAnArrivalCanLive(t *testing.T) {
	w := open(t, plain(), "en", sample(t))
	var board ui.Board
	if err := w.Collection().View(func(v model.View) (err error) { board, err = ui.Load(v, w.Tables()); return err }); err != nil {
		t.Fatal(err)
	}
	var house *husbandry.House
	if err := w.Collection().View(func(v model.View) (err error) { house, err = husbandry.ReadHouse(v); return err }); err != nil {
		t.Fatal(err)
	}
	taken := false
	for _, r := range board.Places {
		if p, _ := house.Place(r.ID); !p.Kind.Houses() {
			t.Errorf("%s is a %s", r.Title, p.Kind)
		}
		if taken && !r.Taken {
			t.Errorf("%s is free and stands behind one that is taken", r.Title)
		}
		taken = r.Taken
	}
	if len(board.Places) == 0 {
		t.Error("nowhere to live")
	}
}

// What was typed and not kept stays, whatever else is pressed.
func TestWhatWasTypedStays(t *testing.T) {
	w := open(t, plain(), "en", one(t, 20))
	uitest.Tap(t, w.Content(), "New arrival")
	typeInto(w, uitest.Entries(w.Content())[0], "Plover")
	for _, act := range []string{"Note a look for mites", "Release", "Change", "New arrival", "The protocols", "Dunnock"} {
		uitest.Tap(t, w.Content(), act)
		if fields := uitest.Entries(w.Content()); len(fields) == 0 || !w.Shows("Plover") {
			t.Fatalf("%q throws away what was typed", act)
		}
	}
	w.Go(place.Route{To: place.Newcomers, Page: "new"})
	if !w.Shows("Plover") {
		t.Error("another way here throws away what was typed")
	}
}

// Whoever is known already comes with the day on which it came.
func TestAKnownArrivalComesWithItsDay(t *testing.T) {
	w := open(t, plain(), "en", func(c *collection.Collection) {
		var today model.Day
		if err := c.View(func(v model.View) error { today = v.Now().Day(); return nil }); err != nil {
			t.Fatal(err)
		}
		do(t, c, animals.Add{Animal: animals.Animal{Name: "Dunnock", Status: animals.Kept, Since: model.Date{Day: today - 4, Precision: model.ToDay}}})
	})
	w.Go(place.Route{To: place.Newcomers, Subject: w.Animal("Dunnock").ID.ID, Page: "new"})
	uitest.Tap(t, w.Content(), "Begin quarantine")
	if all := quarantines(w); len(all) != 1 || all[0].Arrived.Day() != w.Now().Day()-4 {
		t.Errorf("%+v, says %q", all, uitest.Texts(uitest.Top(w.Canvas())))
	}
}

func TestALookForMitesIsNotedByItsFigure(t *testing.T) {
	w := open(t, plain(), "en", one(t, 20))
	uitest.Tap(t, w.Content(), "Note a look for mites")
	uitest.Tap(t, w.Content(), "Keep")
	if len(looks(w, "Dunnock")) != 0 {
		t.Fatal("a look that saw nothing, because nothing was said")
	}
	w.Focus(nil)
	uitest.Type(w.Canvas(), "0")
	uitest.Key(w.Canvas(), fyne.KeyReturn)
	if len(looks(w, "Dunnock")) != 0 {
		t.Fatal("a look that is nowhere, because it was not said where was looked")
	}
	uitest.Tap(t, w.Content(), "In the bath")
	if !w.Shows("does not advance a watch for mites") || !w.Shows("never left alone in it") {
		t.Error("it is not said that a look in the bath alone does not count, or what a bath asks")
	}
	uitest.Tap(t, w.Content(), "In the bath")
	uitest.Tap(t, w.Content(), "On the animal")
	uitest.Key(w.Canvas(), fyne.KeyReturn)
	all := looks(w, "Dunnock")
	if len(all) != 1 || all[0].Grade != care.NoMites || len(all[0].Where) != 1 || all[0].Where[0] != care.OnAnimal {
		t.Fatalf("%+v", all)
	}
	if !w.Shows("first look") || w.Shows("Nobody has looked for mites") {
		t.Error("the watch does not say that it has begun")
	}
}

func TestAReleaseNamesWhatIsNotMetAndKeepsWhy(t *testing.T) {
	w := open(t, plain(), "en", one(t, 20))
	uitest.Tap(t, w.Content(), "Release")
	if !w.Shows("are not met. A release now rests on your word") {
		t.Fatal("what is not met is not named")
	}
	press(t, w)
	if !quarantines(w)[0].Open() || !w.Shows("Say why it is released all the same") || w.Canvas().Overlays().Top() != nil {
		t.Fatalf("the reason is not what is asked for first: %q", uitest.Texts(uitest.Top(w.Canvas())))
	}
	uitest.Type(w.Canvas(), "the vet released it") // the keys are in the reason, and one Enter keeps it
	uitest.Key(w.Canvas(), fyne.KeyReturn)
	all := quarantines(w)
	if len(all) != 1 || all[0].Open() || all[0].Released.Why != "the vet released it" || len(all[0].Released.Unmet()) == 0 {
		t.Fatalf("%+v", all)
	}
	if !w.Shows("1 released") || !w.Shows("the vet released it") {
		t.Error("who was released is not shown")
	}
}

// press presses the act of the form, which stands last in the window.
func press(t testing.TB, w *uitest.Opened) {
	t.Helper()
	var last fyne.Tappable
	uitest.Walk(w.Content(), func(s uitest.Seen) bool {
		if p, is := s.Object.(interface {
			fyne.Tappable
			Name() string
		}); is && p.Name() == "Release" {
			last = p
		}
		return true
	})
	last.Tapped(&fyne.PointEvent{})
}

func TestMarksAndLinesOpenWhatTheyRestOn(t *testing.T) {
	w := open(t, plain(), "en", sample(t))
	pressed := ""
	w.Went = nil
	uitest.Walk(w.Content(), func(s uitest.Seen) bool {
		if p, is := s.Object.(*widgets.Press); is && strings.HasPrefix(p.Name(), "Sample, ") && pressed == "" {
			pressed = p.Name()
			p.Tapped(nil)
		}
		return true
	})
	if len(w.Went) != 1 || w.Went[0].To != place.Tray || w.Went[0].Subject.IsZero() {
		t.Fatalf("%q leads to %+v", pressed, w.Went)
	}
	w.Go(place.Route{To: place.Newcomers})
	var bar *quarantinebars.Bar
	uitest.Walk(w.Content(), func(s uitest.Seen) bool {
		if b, is := s.Object.(*quarantinebars.Bar); is {
			bar = b
		}
		return true
	})
	w.Focus(bar)
	said, _, _ := strings.Cut(bar.Describe(0), " · ") // the meals, which rest on two of them
	count := func() (n int) {
		for _, s := range uitest.Texts(w.Content()) {
			if s == said {
				n++
			}
		}
		return n
	}
	before := count()
	uitest.Key(w.Canvas(), fyne.KeyReturn)
	if count() <= before || len(w.Went) != 1 {
		t.Errorf("%q leads to %+v", said, w.Went)
	}
}

func TestEveryLookAndLanguageFits(t *testing.T) {
	for _, language := range []string{"en", "de"} {
		for i, l := range uitest.LooksIn(language)[:min(4, len(uitest.LooksIn(language)))] { // each size, shine and scale
			w := open(t, l, language, sample(t))
			fits := func(what string) {
				if cut := uitest.Clipped(w.Content(), w.Canvas().Size()); len(cut) > 0 {
					t.Errorf("%+v %s, %s: %s", l, language, what, strings.Join(cut, "; "))
				}
				if folder := os.Getenv("COILWARD_PICTURES"); folder != "" {
					uitest.Keep(t, w.Window(), filepath.Join(folder, fmt.Sprintf("newcomers-%s-%d-%s.png", language, i, what)))
				}
			}
			fits("page")
			if i > 0 && i != 3 {
				continue // the forms are as wide in every look
			}
			for what, act := range map[string]string{"look": "newcomers.note-look", "release": "newcomers.release", "arrival": "newcomers.arrive", "protocols": "newcomers.protocols"} {
				uitest.Tap(t, w.Content(), w.Text().Say(act))
				fits(what)
				uitest.Key(w.Canvas(), fyne.KeyEscape)
			}
		}
	}
}

// What was detected in a newcomer stands on the board, at its head and in its release
// until it is settled, also where the sample is of before its arrival; it may not be the
// first to leave.
func TestWhatWasDetectedIsInSight(t *testing.T) {
	w := open(t, plain(), "en", func(c *collection.Collection) {
		one(t, 20)(c)
		var id model.AnimalID
		var now model.Moment
		if err := c.View(func(v model.View) error {
			all, err := animals.All(v)
			id, now = all[0].ID, v.Now()
			return err
		}); err != nil {
			t.Fatal(err)
		}
		asked := model.Confirmed{"day.before-arrival", "sample.kept-long", "sample.over-weekend"}
		done, err := c.Do(samples.Prepare{Tables: tables(t), Each: []samples.New{{Animals: []model.AnimalID{id}, Sample: samples.Sample{Material: "choanal-swab", For: []knowledge.AgentID{"serpentovirus"}, Taken: model.MomentOn(now, now.Day()-30, model.Noon, model.ToDay)}}}, Confirmed: asked})
		if err != nil {
			t.Fatal(err)
		}
		do(t, c, samples.Enter{Tables: tables(t), At: now, Rows: []samples.Row{{On: samples.On{ID: model.SampleID{ID: done.Documents[0]}, Base: 1}, Found: []samples.Found{{Of: "serpentovirus", Outcome: samples.Detected}}}}, Confirmed: asked})
	})
	count := func() (n int) {
		uitest.Walk(w.Content(), func(s uitest.Seen) bool {
			if p, is := s.Object.(*widgets.Press); is && strings.HasPrefix(p.Name(), "Detected: Serpentovirus, reported on") {
				n++
			}
			return true
		})
		return n
	}
	if count() != 2 || !w.Shows("something was detected in 1") || w.Shows("may be the first to leave") {
		t.Errorf("%d times in sight", count())
	}
	uitest.Walk(w.Content(), func(s uitest.Seen) bool { // on the bar it stands on the day of its sample, of 30 days ago
		if b, is := s.Object.(*quarantinebars.Bar); is {
			i := slices.IndexFunc(b.Data.Milestones, func(m chart.Milestone) bool { return m.Said == "detected" })
			if i < 0 || b.Data.Milestones[i].Day != b.Data.Today-30 || !b.Data.Milestones[i].Happened || b.Data.Milestones[i].Standing != chart.Holds || b.Data.Milestones[i].Undated {
				t.Errorf("on the bar: %+v", b.Data.Milestones)
			}
		}
		return true
	})
	uitest.Tap(t, w.Content(), "Release")
	if count() != 3 {
		t.Error("it is not said in the release")
	}
	uitest.Key(w.Canvas(), fyne.KeyEscape)
	for _, said := range uitest.Texts(w.Content()) {
		if strings.HasPrefix(said, "Detected: Serpentovirus") {
			uitest.Tap(t, w.Content(), said)
			break
		}
	}
	if to := w.Went[len(w.Went)-1]; to.To != place.Tray || to.Subject.IsZero() {
		t.Errorf("leads to %+v", to)
	}
}

// A newcomer that nobody has looked at yet has no mark that says it is for the vet, and
// one whose sample is asked for is sampled for all that can be looked for on that day.
func TestStepsAndMarksOfAFreshArrival(t *testing.T) {
	w := open(t, plain(), "en", one(t, 0))
	var bar *quarantinebars.Bar
	uitest.Walk(w.Content(), func(s uitest.Seen) bool {
		if b, is := s.Object.(*quarantinebars.Bar); is {
			bar = b
		}
		return true
	})
	for _, m := range bar.Data.Milestones {
		if m.Said == "for the vet" || m.Said == "not looked yet" && m.Standing != chart.NotKnown || m.Day < bar.Data.Begun {
			t.Errorf("%+v", m)
		}
	}
	w.Went = nil
	uitest.Tap(t, w.Content(), "Take")
	if asked, asks := particulars.SamplingOf(w.Went[0].Page); !asks || len(asked.For) != 2 || w.Went[0].Subject != w.Animal("Dunnock").ID.ID {
		t.Errorf("the tray is asked for %+v", w.Went)
	}
}

// A newcomer without a place is given one here, since its arrival.
func TestANewcomerIsGivenAPlace(t *testing.T) {
	w := open(t, plain(), "en", func(c *collection.Collection) {
		one(t, 5)(c)
		do(t, c, husbandry.AddPlaces{Branches: []husbandry.Branch{{Place: husbandry.Place{Name: "Net store", Kind: husbandry.Room}, Below: []husbandry.Branch{{Place: husbandry.Place{Name: "Tub 1", Kind: husbandry.Tub}}}}}})
	})
	uitest.Tap(t, w.Content(), "Give it a place")
	uitest.Tap(t, w.Content(), "Keep")
	if !w.Shows("No place is chosen. Choose the enclosure") {
		t.Fatalf("no place is kept: %q", uitest.Texts(uitest.Top(w.Canvas())))
	}
	uitest.Key(w.Canvas(), fyne.KeySpace) // the keys are at the choice
	uitest.Type(w.Canvas(), "Tub 1")
	uitest.Key(w.Canvas(), fyne.KeyReturn)
	uitest.Tap(t, w.Content(), "Keep")
	var house *husbandry.House
	if err := w.Collection().View(func(v model.View) (err error) { house, err = husbandry.ReadHouse(v); return err }); err != nil {
		t.Fatal(err)
	}
	stays := house.Stays(w.Animal("Dunnock").ID)
	if len(stays) != 1 || stays[0].From.Day() != quarantines(w)[0].Arrived.Day() || w.Shows("It has no place yet") {
		t.Errorf("%+v, says %q", stays, uitest.Texts(uitest.Top(w.Canvas())))
	}
}
