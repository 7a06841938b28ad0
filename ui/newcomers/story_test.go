package newcomers_test

import (
	"fmt"
	"slices"
	"testing"
	"time"

	"fyne.io/fyne/v2"

	"coilward/model"
	"coilward/model/care"
	"coilward/model/collection"
	"coilward/model/exam"
	"coilward/model/husbandry"
	"coilward/model/knowledge"
	"coilward/model/newcomers"
	"coilward/model/people"
	"coilward/model/quarantine"
	"coilward/model/samples"
	ui "coilward/ui/newcomers"
	"coilward/ui/place"
	"coilward/ui/tray"
	"coilward/ui/uitest"
)

// story is the window with the newcomers and the tray in it, and the days that go by.
type story struct {
	*uitest.Opened
	begun time.Time
}

// netStore is a warm room with two tubs, a vet, and a lab.
func netStore(t testing.TB) func(*collection.Collection) {
	return func(c *collection.Collection) {
		warm := husbandry.Zones{Warm: model.Temperature{Hundredths: 3100}, Cool: model.Temperature{Hundredths: 2600}}
		var tubs []husbandry.Branch
		for _, name := range []string{"Tub 1", "Tub 2"} {
			tubs = append(tubs, husbandry.Branch{Place: husbandry.Place{Name: name, Kind: husbandry.Tub, Zones: warm}})
		}
		do(t, c, husbandry.AddPlaces{Branches: []husbandry.Branch{{Place: husbandry.Place{Name: "Net store", Kind: husbandry.Room}, Below: tubs}}})
		do(t, c, people.Add{Person: people.Person{Name: "Dr Alder", Roles: []people.Role{people.Vet}}})
		do(t, c, people.Add{Person: people.Person{Name: "Bench lab", Roles: []people.Role{people.Lab}}})
	}
}

// on is the morning of that day after the first.
func (s *story) on(day int) { s.Clock.Set(s.begun.AddDate(0, 0, day)) }

func (s *story) at(to place.Name) { s.T.Helper(); s.Go(place.Route{To: to}) }

func (s *story) tap(names ...string) {
	s.T.Helper()
	for _, name := range names {
		uitest.Tap(s.T, uitest.Top(s.Canvas()), name)
	}
}

func (s *story) enter() { uitest.Key(s.Canvas(), fyne.KeyReturn) }

// newcomer is what the rules say of an animal today.
func (s *story) newcomer(name string) (n newcomers.Newcomer) {
	s.T.Helper()
	id := s.Animal(name).ID
	if err := s.Collection().View(func(v model.View) (err error) { n, _, err = newcomers.Of(v, s.Tables(), id); return err }); err != nil {
		s.T.Fatal(err)
	}
	return n
}

func (s *story) line(name string, item quarantine.ItemID) quarantine.Line {
	s.T.Helper()
	for _, l := range s.newcomer(name).Gate.Lines {
		if l.Item == item {
			return l
		}
	}
	s.T.Fatalf("%s is not asked of %s", item, name)
	return quarantine.Line{}
}

// arrives brings a newcomer in by the page.
func (s *story) arrives(name, tub string) {
	s.T.Helper()
	s.at(place.Newcomers)
	s.tap("New arrival")
	fields := uitest.Entries(s.Content())
	typeInto(s.Opened, fields[0], name)
	s.tap("Not chosen yet")
	uitest.Type(s.Canvas(), tub)
	s.enter()
	s.tap("Begin quarantine")
	if n := s.newcomer(name); !n.Quarantine.Open() || n.RoomTitle != "Net store" {
		s.T.Fatalf("%s: %+v, says %q", name, n.Quarantine, uitest.Texts(uitest.Top(s.Canvas())))
	}
}

// sample lays a tube into the tray, takes and posts it.
func (s *story) sample(name, material string, things ...string) {
	s.T.Helper()
	s.at(place.Tray)
	s.tap("New samples")
	uitest.Type(s.Canvas(), name)
	s.enter()
	s.tap(material)
	s.tap(things...)
	if material == "Mouth swab" {
		s.tap("Leave it to the vet")
	}
	s.tap("Lay into the tray")
	s.next(name)
	s.tap("Taken")
	s.next(name)
	s.tap("Sent")
	if got := s.tubes(name)[0]; got.Stage() != samples.Sent {
		s.T.Fatalf("%s is %s: %q", name, got.Stage(), uitest.Texts(uitest.Top(s.Canvas())))
	}
}

// tubes are the samples of an animal, the newest first.
func (s *story) tubes(name string) (all []samples.Stored) {
	s.T.Helper()
	id := s.Animal(name).ID
	if err := s.Collection().View(func(v model.View) error {
		every, err := samples.All(v)
		for _, one := range every {
			if one.Animals[0] == id {
				all = append([]samples.Stored{one}, all...)
			}
		}
		return err
	}); err != nil {
		s.T.Fatal(err)
	}
	return all
}

// day is the date of that day after the first.
func (s *story) day(n int) model.Day { return model.MomentOf(s.begun).Day() + model.Day(n) }

// week is what is done each week: weighing, a look for mites that sees none, and what
// else that day brought.
func (s *story) week(name string, day int, grams int64, more ...func(care.About) model.Command) {
	s.T.Helper()
	s.on(day)
	s.everyday(name, grams, more...)
	s.looks(name, "0")
}

// looked is the line of one thing that is looked for.
func (s *story) looked(name string, agent knowledge.AgentID) (found quarantine.Line) {
	s.T.Helper()
	for _, l := range s.newcomer(name).Gate.Lines {
		if l.Item == quarantine.LookedFor && l.Agents[0] == agent {
			found = l
		}
	}
	return found
}

// next opens the next act of the newest tube of an animal that is under way.
func (s *story) next(name string) (of model.SampleID) {
	s.T.Helper()
	for _, tube := range s.tubes(name) {
		if stage := tube.Stage(); stage != samples.Voided && stage != samples.Reported {
			s.Go(place.Route{To: place.Tray, Subject: tube.ID.ID, Page: "act"})
			return tube.ID
		}
	}
	s.T.Fatalf("%s has no tube under way", name)
	return of
}

// reaches is the sample that a lab has two days after it was sent.
func (s *story) reaches(day int, name, material string, things ...string) {
	s.T.Helper()
	s.on(day)
	s.sample(name, material, things...)
	s.on(day + 2)
	s.next(name)
	s.tap("Arrived")
}

// answered enters the report of the newest tube of an animal, in which nothing was
// detected, by its figures.
func (s *story) answered(name, report, figures string) {
	s.T.Helper()
	of := s.next(name)
	uitest.Type(s.Canvas(), report)
	s.enter()
	uitest.Type(s.Canvas(), figures+"0")
	s.enter()
	if got := s.tubes(name); !slices.ContainsFunc(got, func(one samples.Stored) bool { return one.ID == of && one.Stage() == samples.Reported }) {
		s.T.Fatalf("%s of %s: %q", report, name, uitest.Texts(uitest.Top(s.Canvas())))
	}
}

// looks notes a look for mites by its figure, at the animal that is chosen.
func (s *story) looks(name, figure string) {
	s.T.Helper()
	s.Go(place.Route{To: place.Newcomers, Subject: s.Animal(name).ID.ID})
	s.tap("Note a look for mites", "On the animal")
	s.Focus(nil)
	uitest.Type(s.Canvas(), figure)
	s.enter()
}

// everyday is what is done on other pages: a weight, and what else a day brought.
func (s *story) everyday(name string, grams int64, more ...func(care.About) model.Command) {
	s.T.Helper()
	about := care.About{Animal: s.Animal(name).ID, At: s.Now()}
	do(s.T, s.Collection(), care.Weigh{About: about, Weight: care.Weight{Mass: model.Grams(grams), Gut: care.GutEmpty}, Again: model.Grams(grams)})
	for _, one := range more {
		do(s.T, s.Collection(), one(about))
	}
}

func took(about care.About) model.Command {
	return care.Feed{About: about, Meal: care.Meal{Prey: care.Mouse, Outcome: care.Took}}
}

func shed(about care.About) model.Command {
	return care.RecordShed{About: about, Shed: care.Shed{Skin: care.Whole, StuckEyeCaps: care.No, StuckTailTip: care.No}}
}

// checked is a check from snout to tail tip with the mouth left to the vet.
func (s *story) checked(name string) {
	s.T.Helper()
	var id model.EntryID
	if err := s.Collection().View(func(v model.View) error { id.ID = v.NewID(); return nil }); err != nil {
		s.T.Fatal(err)
	}
	at := s.Now()
	at.UTC -= 900
	d := exam.Begin(s.Tables(), exam.Beginning{Check: id, Animal: s.Animal(name).ID, At: at})
	for i := range d.Stops {
		if d.Stops[i].Look, d.Stops[i].At = exam.Seen, at; d.Stops[i].Stop == "mouth" {
			d.Stops[i].Look = exam.LeftToVet
		}
	}
	do(s.T, s.Collection(), exam.Finish{Tables: s.Tables(), Draft: d, At: s.Now()})
}

// A newcomer from its arrival to its release: kits and swabs, one of them lost in the
// post, results that say nothing, a second newcomer with whom the days begin again,
// mites with whom the watch begins again, and the release once all is met.
func TestFromArrivalToRelease(t *testing.T) {
	w := uitest.Open(t, uitest.Setting{Look: plain(), Language: "en", Fill: netStore(t),
		Place: place.Newcomers, Make: func(w place.Window) place.Place { return ui.New(w) },
		Beside: map[place.Name]func(place.Window) place.Place{place.Tray: func(w place.Window) place.Place { return tray.New(w) }}})
	s := &story{Opened: w, begun: w.Clock.Now()}

	viruses, worms := []string{"Serpentovirus", "Ferlavirus"}, "Worms and protozoa in faeces"
	s.arrives("Dunnock", "Tub 1")
	s.everyday("Dunnock", 400)
	s.looks("Dunnock", "0")

	s.on(5) // a Monday
	s.sample("Dunnock", "Mouth swab", viruses...)
	s.sample("Dunnock", "Faeces", worms)
	lost := s.tubes("Dunnock")[0]
	s.on(7)
	s.Go(place.Route{To: place.Tray, Subject: s.tubes("Dunnock")[1].ID.ID, Page: "act"})
	s.tap("Arrived")
	s.on(9)
	s.Go(place.Route{To: place.Tray, Subject: lost.ID.ID})
	s.tap("It gives no result", "Lost", "Keep: no result")
	if got := s.tubes("Dunnock")[0]; got.Stage() != samples.Voided || got.Void.Why != samples.Lost {
		t.Fatalf("%+v, says %q", got.Void, uitest.Texts(uitest.Top(s.Canvas())))
	}
	if n := s.newcomer("Dunnock"); len(n.Gate.Lines) == 0 || s.line("Dunnock", quarantine.Faecal).Have != 0 {
		t.Error("a lost sample counts")
	}

	s.week("Dunnock", 9, 400)
	s.on(12) // the swab has come back, and another kit goes off for the lost one
	s.answered("Dunnock", "R 1", "24")
	if serpento, ferla := s.looked("Dunnock", "serpentovirus"), s.looked("Dunnock", "ferlavirus"); serpento.Have != 1 || ferla.Have != 0 {
		t.Errorf("not detected and inhibited count as %d and %d", serpento.Have, ferla.Have)
	}
	s.reaches(12, "Dunnock", "Faeces", worms)
	s.week("Dunnock", 14, 402, took)
	s.on(16)
	s.answered("Dunnock", "R 2", "2")
	s.week("Dunnock", 21, 405, shed)
	s.reaches(26, "Dunnock", "Faeces", worms)
	s.week("Dunnock", 28, 405, took)
	s.on(30)
	s.answered("Dunnock", "R 3", "2")
	s.reaches(33, "Dunnock", "Mouth swab", viruses...)
	s.week("Dunnock", 35, 408, took)
	s.on(38)
	s.answered("Dunnock", "R 4", "22")
	s.reaches(40, "Dunnock", "Faeces", worms)
	s.week("Dunnock", 42, 410)
	s.on(44)
	s.answered("Dunnock", "R 5", "2")
	if before := s.newcomer("Dunnock").Gate; before.Earliest != s.day(90) || s.line("Dunnock", quarantine.Faecal).State != quarantine.Met {
		t.Errorf("before anybody came in: the earliest release is %s", before.Earliest)
	}

	s.on(45)
	s.arrives("Plover", "Tub 2")
	if l := s.line("Dunnock", quarantine.InRoom); l.Again != s.day(45) || l.Earliest != s.day(135) {
		t.Errorf("a second newcomer: %+v", l)
	}
	s.Go(place.Route{To: place.Newcomers, Subject: s.Animal("Dunnock").ID.ID})
	if !s.Shows("begun again: Plover came in") {
		t.Errorf("it is not said why the days begin again: %q", uitest.Texts(s.Content()))
	}
	s.reaches(47, "Dunnock", "Mouth swab", viruses...)
	s.on(49)
	s.everyday("Dunnock", 411)
	s.looks("Dunnock", "2")
	if l := s.line("Dunnock", quarantine.MiteFree); l.Again != s.day(49) || l.Earliest != s.day(91) {
		t.Errorf("mites: %+v", l)
	}
	if s.line("Dunnock", quarantine.InRoom).Again != s.day(45) {
		t.Error("mites begin the days in the room again")
	}
	s.on(52)
	s.answered("Dunnock", "R 6", "22")
	for day := 56; day <= 133; day += 7 {
		s.week("Dunnock", day, 412)
		switch day {
		case 77, 112:
			s.reaches(day-2, "Dunnock", "Mouth swab", viruses...)
			s.on(day + 2)
			s.answered("Dunnock", fmt.Sprintf("R %d", day), "22")
		case 98:
			if n := s.newcomer("Dunnock").Gate; n.Met || n.Earliest != s.day(135) || s.line("Dunnock", quarantine.MiteFree).Since != s.day(91) {
				t.Errorf("on day 98: %+v", n)
			}
		}
	}
	s.on(134)
	s.checked("Dunnock")
	s.Go(place.Route{To: place.Newcomers, Subject: s.Animal("Dunnock").ID.ID})
	if n := s.newcomer("Dunnock").Gate; n.Met || len(n.Unmet()) != 1 {
		t.Errorf("a day too soon: %+v", n.Unmet())
	}
	s.on(135)
	s.Go(place.Route{To: place.Newcomers, Subject: s.Animal("Dunnock").ID.ID})
	if !s.Shows("All that is asked is met") {
		t.Fatalf("%+v, says %q", s.newcomer("Dunnock").Gate.Unmet(), uitest.Texts(s.Content()))
	}
	s.tap("Release")
	press(t, s.Opened)
	released := s.newcomer("Dunnock").Quarantine.Released
	if released == nil || len(released.Unmet()) != 0 || released.At.Day() != s.day(135) {
		t.Fatalf("released: %+v, says %q", released, uitest.Texts(uitest.Top(s.Canvas())))
	}
	if plover := s.newcomer("Plover"); !plover.Quarantine.Open() {
		t.Error("the other one went with it")
	}
}
