package powercut_test

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"testing"
	"time"

	"fyne.io/fyne/v2"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/collection"
	"coilward/model/husbandry"
	"coilward/model/powercut"
	"coilward/model/storetest"
	"coilward/ui/look"
	"coilward/ui/place"
	ui "coilward/ui/powercut"
	"coilward/ui/uitest"
	"coilward/ui/widgets"
)

func open(t testing.TB, l uitest.Look, language string, fill func(*collection.Collection)) *uitest.Opened {
	t.Helper()
	w := uitest.Open(t, uitest.Setting{Look: l, Language: language, Fill: fill, Place: place.PowerCut, Make: func(w place.Window) place.Place { return ui.New(w) }})
	w.Go(place.Route{To: place.PowerCut})
	return w
}

func plain() uitest.Look { return uitest.Look{Shine: look.ByDay, Width: 1280, Height: 800, Scale: 1} }

// two are an adult that was fed and weighed, and one that never was, in two rooms.
func two(t testing.TB) func(*collection.Collection) {
	return func(c *collection.Collection) {
		do := func(command model.Command) []model.ID {
			change, err := c.Do(command)
			if err != nil {
				t.Fatal(err)
			}
			return change.Documents
		}
		at := model.MomentOf(storetest.Start())
		at.UTC -= 5 * 86400
		for _, name := range []string{"Sorrel", "Tansy"} {
			places := do(husbandry.AddPlaces{Branches: []husbandry.Branch{{Place: husbandry.Place{Name: "Room of " + name, Kind: husbandry.Room}, Below: []husbandry.Branch{{Place: husbandry.Place{Name: "1", Kind: husbandry.Tub}}}}}})
			animal := model.AnimalID{ID: do(animals.Add{Animal: animals.Animal{Name: name, Species: "python-regius"}})[0]}
			for _, id := range places {
				move := husbandry.Move{Animal: animal, Place: model.PlaceID{ID: id}, At: at, Confirmed: model.Confirmed{"day.before-arrival"}}
				if _, err := c.Do(move); err == nil {
					break
				}
			}
			if name == "Sorrel" {
				do(care.Weigh{About: care.About{Animal: animal, At: at, Confirmed: model.Confirmed{"day.before-arrival"}}, Weight: care.Weight{Mass: model.Grams(1500)}})
			}
		}
	}
}

func cuts(w *uitest.Opened) (all []powercut.Stored) {
	if err := w.Collection().View(func(v model.View) (err error) { all, _, err = powercut.All(v); return err }); err != nil {
		w.T.Fatal(err)
	}
	return all
}

func typeInto(w *uitest.Opened, n int, text string) {
	entry := uitest.Entries(w.Content())[n]
	w.Focus(entry)
	for range 20 {
		entry.TypedKey(&fyne.KeyEvent{Name: fyne.KeyEnd})
		entry.TypedKey(&fyne.KeyEvent{Name: fyne.KeyBackspace})
	}
	uitest.Type(w.Canvas(), text)
}

// tick presses the last row with that name: the first one is in the order of rescue.
func tick(w *uitest.Opened, name string) {
	var last *widgets.Press
	uitest.Walk(w.Content(), func(s uitest.Seen) bool {
		if press, is := s.Object.(*widgets.Press); is && slices.Contains(uitest.Texts(press), name) {
			last = press
		}
		return true
	})
	last.Tapped(&fyne.PointEvent{})
}

// said is how the newest power cut is called.
func said(w *uitest.Opened) string {
	t, cut := w.Text(), cuts(w)[0]
	at := func(m model.Moment) string { return t.DayShort(m.Day()) + ", " + t.Time(m) }
	return t.Say("power-cut.at", map[string]any{"From": at(cut.From), "Until": at(cut.Until)})
}

// The fields of the form, in their order.
const (
	fromDay = iota
	fromHour
	untilDay
	untilHour
	coldest
)

// A night without power, from the list of who comes first to the end of the watch.
func TestThroughAPowerCut(t *testing.T) {
	w := open(t, plain(), "en", two(t))
	if !w.Shows("Tansy") || !w.Shows("mass not known") || !w.Shows("carbon monoxide") || !w.Shows("1500\u00a0g") {
		t.Errorf("shows %v", uitest.Texts(w.Content()))
	}
	uitest.Tap(t, w.Content(), "Note a power cut")
	uitest.Tap(t, w.Content(), "Only some")
	uitest.Tap(t, w.Content(), "Room of Sorrel")
	today := w.Now().Day()
	typeInto(w, fromDay, (today - 1).String())
	uitest.Tap(t, w.Content(), "Keep")
	if len(cuts(w)) != 0 || !w.Shows("Began on") {
		t.Fatalf("kept without an hour: %+v", cuts(w))
	}
	typeInto(w, fromHour, "23:40")
	typeInto(w, untilHour, "0:30")
	typeInto(w, untilDay, (today - 1).String())
	uitest.Tap(t, w.Content(), "Keep")
	if len(cuts(w)) != 0 || !w.Shows("It ended before it began.") {
		t.Fatalf("kept although it ended before it began: %+v, %v", cuts(w), uitest.Texts(w.Content()))
	}
	typeInto(w, untilDay, today.String())
	typeInto(w, untilHour, "23:59")
	uitest.Tap(t, w.Content(), "Keep")
	if want := "23:59 is still to come; it is " + w.Text().Time(w.Now()) + " now."; len(cuts(w)) != 0 || !w.Shows(want) {
		t.Fatalf("kept although it is still to come, or not said %q: %+v, %v", want, cuts(w), uitest.Texts(w.Content()))
	}
	typeInto(w, untilHour, "0:30")
	typeInto(w, coldest, "17.5")
	uitest.Tap(t, w.Content(), "Keep")
	all := cuts(w)
	if len(all) != 1 || len(all[0].Animals) != 1 || all[0].Coldest == nil || all[0].Coldest.Hundredths != 1750 || all[0].Until.UTC-all[0].From.UTC != 50*60 {
		t.Fatalf("noted %+v", all)
	}
	if !w.Shows("Nobody is to be looked at today.") || !w.Shows("0 of 1 watched to the end") {
		t.Errorf("shows %v", uitest.Texts(w.Content()))
	}
	for i, days := range []int{1, 2, 4, 7} {
		w.Clock.Pass(time.Duration(days) * 24 * time.Hour)
		w.Go(place.Route{To: place.Shelf})
		w.Go(place.Route{To: place.PowerCut})
		if !slices.Contains(uitest.Texts(w.Content()), "Nothing seen on those ticked") {
			t.Fatalf("look %d is not asked for: %v", i+1, uitest.Texts(w.Content()))
		}
		tick(w, "Sorrel")
		uitest.Tap(t, w.Content(), "Nothing seen on those ticked")
	}
	if !w.Shows("1 of 1 watched to the end") || !w.Shows("Nobody is to be looked at today.") {
		t.Errorf("after the last look: %v", uitest.Texts(w.Content()))
	}
	w.Undo()
	if !w.Shows("0 of 1 watched to the end") {
		t.Errorf("the last look taken back: %v", uitest.Texts(w.Content()))
	}
}

func TestAPowerCutIsPutRightAndTakenOut(t *testing.T) {
	w := open(t, plain(), "de", two(t))
	until := w.Now()
	until.UTC -= 3600
	from := until
	from.UTC -= 3 * 3600
	if _, err := w.Collection().Do(powercut.Note{From: from, Cut: powercut.Cut{Until: until, Whole: true}}); err != nil {
		t.Fatal(err)
	}
	w.Go(place.Route{To: place.PowerCut})
	uitest.Tap(t, w.Content(), said(w))
	typeInto(w, coldest, "16")
	uitest.Tap(t, w.Content(), w.Text().Say("particulars.keep"))
	if all := cuts(w); len(all) != 1 || all[0].Coldest == nil || all[0].Coldest.Hundredths != 1600 || all[0].From.UTC/60 != from.UTC/60 {
		t.Fatalf("put right: %+v", all)
	}
	uitest.Tap(t, w.Content(), said(w))
	uitest.Tap(t, w.Content(), "Entfernen")
	if all := cuts(w); len(all) != 0 {
		t.Errorf("%+v is still there", all)
	}
}

func TestNothingIsCutOff(t *testing.T) {
	for _, l := range uitest.Looks() {
		for _, language := range uitest.Languages() {
			t.Run(fmt.Sprintf("%+v, %s", l, language), func(t *testing.T) {
				w := open(t, l, language, nil)
				for _, said := range uitest.Clipped(w.Content(), fyne.NewSize(l.Width, l.Height)) {
					t.Error(said)
				}
				if folder := os.Getenv("COILWARD_PICTURES"); folder != "" {
					uitest.Keep(t, w.Window(), filepath.Join(folder, fmt.Sprintf("power-cut-%v-%v-%v.png", l.Shine, l.Width, language)))
				}
			})
		}
	}
}
