package instruments_test

import (
	"slices"
	"strings"
	"testing"
	"time"

	"fyne.io/fyne/v2"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/collection"
	"coilward/model/husbandry"
	"coilward/model/knowledge"
	"coilward/model/storetest"
	ui "coilward/ui/instruments"
	"coilward/ui/look"
	"coilward/ui/place"
	"coilward/ui/uitest"
)

func open(t testing.TB, l uitest.Look, language string, fill func(*collection.Collection), to place.Route) *uitest.Opened {
	t.Helper()
	w := uitest.Open(t, uitest.Setting{Look: l, Language: language, Fill: fill, Place: place.Instruments, Make: func(w place.Window) place.Place { return ui.New(w) }})
	to.To = place.Instruments
	w.Go(to)
	return w
}

func plain() uitest.Look {
	return uitest.Look{Shine: look.ByDay, Width: 1280, Height: 800, Scale: 1}
}

func nothing(*collection.Collection) {}

// some fills in a scale, a thermometer that failed at first, an old lamp, and a
// hook that goes from a newcomer to others.
func some(t testing.TB) func(*collection.Collection) {
	return func(c *collection.Collection) {
		t.Helper()
		now := model.MomentOf(storetest.Start())
		ago := func(days int64) model.Moment { m := now; m.UTC -= days * 86400; return m }
		do := func(command model.Command) model.ID {
			t.Helper()
			change, err := c.Do(command)
			if err != nil {
				t.Fatal(err)
			}
			return change.Documents[0]
		}
		change, err := c.Do(husbandry.AddPlaces{Branches: []husbandry.Branch{{Place: husbandry.Place{Name: "Snake room", Kind: husbandry.Room}, Below: []husbandry.Branch{
			{Place: husbandry.Place{Name: "A1", Kind: husbandry.Tub}}, {Place: husbandry.Place{Name: "A2", Kind: husbandry.Tub}}}}}})
		if err != nil {
			t.Fatal(err)
		}
		places := change.Documents
		for i, a := range []animals.Animal{{Name: "Ash"}, {Name: "Oak", Since: model.Date{Day: now.Day() - 5, Precision: model.ToDay}}} {
			id := model.AnimalID{ID: do(animals.Add{Animal: a})}
			do(husbandry.Move{Animal: id, Place: model.PlaceID{ID: places[i+1]}, At: now})
		}
		scale := do(husbandry.AddInstrument{Instrument: husbandry.Instrument{Name: "Kitchen scale", Kind: husbandry.Scale, Place: model.PlaceID{ID: places[0]}}})
		for days, good := range map[int64]bool{40: true, 3: false} {
			do(husbandry.CheckInstrument{Instrument: model.InstrumentID{ID: scale}, At: ago(days), Check: husbandry.InstrumentCheck{Good: good, Reading: "193 g", Reference: "200 g"}})
		}
		do(husbandry.AddInstrument{Instrument: husbandry.Instrument{Name: "Warm end", Kind: husbandry.Thermometer}})
		do(husbandry.AddInstrument{Instrument: husbandry.Instrument{Name: "Tall vivarium", Kind: husbandry.UVLamp, InUse: model.Date{Day: now.Day() - 400, Precision: model.ToDay}}})
		do(husbandry.AddTool{Tool: husbandry.Tool{Name: "Long hook", Kind: husbandry.Hook, Place: model.PlaceID{ID: places[0]}}})
	}
}

func kit(w *uitest.Opened) (k ui.Kit) {
	if err := w.Collection().View(func(v model.View) (err error) { k, err = ui.Load(v, w.Tables()); return err }); err != nil {
		w.T.Fatal(err)
	}
	return k
}

// typeInto types into the nth field of the form.
func typeInto(w *uitest.Opened, n int, text string) {
	all := uitest.Entries(w.Content())
	w.Focus(all[n])
	uitest.Type(w.Canvas(), text)
}

func TestEmptyPagesSayWhatToDo(t *testing.T) {
	w := open(t, plain(), "en", nothing, place.Route{})
	if !w.Shows("No instrument yet") {
		t.Errorf("%q", uitest.Texts(w.Content()))
	}
	uitest.Tap(t, w.Content(), "Tools")
	if !w.Shows("No tool yet") {
		t.Errorf("%q", uitest.Texts(w.Content()))
	}
	uitest.Tap(t, w.Content(), "Add a tool")
	if len(uitest.Entries(w.Content())) != 3 {
		t.Errorf("the act of the empty page opens no form: %d fields", len(uitest.Entries(w.Content())))
	}
}

func TestAnInstrumentIsAddedCheckedChangedAndRemoved(t *testing.T) {
	w := open(t, plain(), "en", nothing, place.Route{})
	uitest.Tap(t, w.Content(), "Add an instrument")
	typeInto(w, 0, "Kitchen scale")
	uitest.Tap(t, w.Content(), "Keep")
	if len(kit(w).Instruments) != 0 || !w.Shows("What it is") {
		t.Fatal("kept without saying what it is")
	}
	uitest.Tap(t, w.Content(), "Scale")
	uitest.Tap(t, w.Content(), "Keep")
	if all := kit(w).Instruments; len(all) != 1 || all[0].Name != "Kitchen scale" || all[0].Kind != husbandry.Scale {
		t.Fatalf("%+v", all)
	}
	uitest.Key(w.Canvas(), fyne.KeyReturn)
	uitest.Tap(t, w.Content(), "Note a check")
	if !w.Shows("its maker says") || !w.Shows("known mass") {
		t.Error("the form of a check does not say how, or does not defer to the maker")
	}
	typeInto(w, 0, "200 g")
	typeInto(w, 1, "193 g")
	uitest.Tap(t, w.Content(), "Note the check")
	if len(kit(w).Instruments[0].Checks) != 0 || !w.Shows("Say whether it passed") {
		t.Fatal("a check without a result was noted")
	}
	uitest.Tap(t, w.Content(), "Failed")
	uitest.Tap(t, w.Content(), "Note the check")
	if c := kit(w).Instruments[0].Checks; len(c) != 1 || c[0].Good || c[0].Reading != "193 g" || c[0].Reference != "200 g" {
		t.Fatalf("%+v", c)
	}
	if !w.Shows("All of its readings are doubtful") || !w.Shows("Failed: 193 g against 200 g") {
		t.Errorf("what follows is not said: %q", uitest.Texts(w.Content()))
	}
	w.Undo()
	if len(kit(w).Instruments[0].Checks) != 0 || w.Shows("doubtful") {
		t.Error("the check cannot be undone, or the form does not follow")
	}
	w.Redo()
	typeInto(w, 2, "7")
	uitest.Tap(t, w.Content(), "Keep")
	if i := kit(w).Instruments[0]; i.CheckEvery != 7 || i.Name != "Kitchen scale" {
		t.Errorf("%+v", i.Instrument)
	}
	uitest.Key(w.Canvas(), fyne.KeyReturn)
	uitest.Tap(t, w.Content(), "Remove")
	if i := kit(w).Instruments; len(i) != 1 || i[0].Closed.IsZero() {
		t.Errorf("one with checks is kept as no longer used: %+v", i)
	}
}

// A lamp that is checked too says both, the check and the change; it is old from
// the day after it was to be changed, in words as in what is due.
func TestALampIsCheckedAndChanged(t *testing.T) {
	lasts := int64(open(t, plain(), "en", nothing, place.Route{}).Tables().Value(knowledge.ValueReplaceUVLamp))
	for name, c := range map[string]struct {
		age, every   int64
		says, unsaid []string
	}{
		"checked late, not old":       {100, 30, []string{"Check was due on", "Change it on"}, []string{"Old for a UV lamp"}},
		"checked in time, not old":    {20, 30, []string{"Check again on", "Change it on"}, nil},
		"to be changed today":         {lasts, 0, []string{"Change it on"}, []string{"Old for a UV lamp"}},
		"to be changed yesterday":     {lasts + 1, 0, []string{"Old for a UV lamp"}, []string{"Change it on"}},
		"both, and both of them late": {lasts + 1, 30, []string{"Check was due on", "Old for a UV lamp"}, nil},
	} {
		w := open(t, plain(), "en", func(to *collection.Collection) {
			today := model.MomentOf(storetest.Start()).Day()
			if _, err := to.Do(husbandry.AddInstrument{Instrument: husbandry.Instrument{Name: "Tall vivarium", Kind: husbandry.UVLamp, CheckEvery: int(c.every), InUse: model.Date{Day: today - model.Day(c.age), Precision: model.ToDay}}}); err != nil {
				t.Fatal(err)
			}
		}, place.Route{})
		check := func(where string) {
			for _, said := range c.says {
				if !w.Shows(said) {
					t.Errorf("%s, %s: %q is not said: %q", name, where, said, uitest.Texts(w.Content()))
				}
			}
			for _, said := range c.unsaid {
				if w.Shows(said) {
					t.Errorf("%s, %s: %q is said", name, where, said)
				}
			}
		}
		check("the list")
		uitest.Key(w.Canvas(), fyne.KeyReturn)
		check("the form")
	}
}

func TestARouteOpensWhatItLeadsTo(t *testing.T) {
	w := open(t, plain(), "en", some(t), place.Route{})
	k := kit(w)
	w.Go(place.Route{To: place.Instruments, Subject: k.Instruments[0].ID.ID})
	if !w.Shows("Its readings since") || !w.Shows("Check it again") {
		t.Errorf("%q", uitest.Texts(w.Content()))
	}
	w.Go(place.Route{To: place.Instruments, Subject: k.Tools[0].ID.ID})
	if !w.Shows("This goes to newcomers (Oak) and to others (Ash)") {
		t.Errorf("%q", uitest.Texts(w.Content()))
	}
}

// A tool is cleaned with what works, and what does not is said before it is noted.
// Source of the effect: studies of C. parvum oocysts, as in the tables.
func TestAToolIsCleaned(t *testing.T) {
	w := open(t, plain(), "en", some(t), place.Route{Page: "tools"})
	uitest.Key(w.Canvas(), fyne.KeyReturn)
	uitest.Tap(t, w.Content(), "Note a cleaning")
	choose := func(field, value string) {
		uitest.Tap(t, w.Content(), field)
		w.Focus(uitest.Entries(uitest.Top(w.Canvas()))[0])
		uitest.Type(w.Canvas(), value)
		uitest.Key(w.Canvas(), fyne.KeyReturn)
	}
	choose("With what", "bleach, about")
	choose("Against", "crypto")
	if !w.Shows("does not work on this: Cryptosporidium") {
		t.Errorf("it is not said that bleach does not work: %q", uitest.Texts(w.Content()))
	}
	choose("Against", "bacteria")
	if w.Shows("does not work") {
		t.Error("what was said of another target stays")
	}
	typeInto(w, 0, "10")
	if !w.Shows("works against bacteria") {
		t.Errorf("it is not said that ten minutes of it work: %q", uitest.Texts(w.Content()))
	}
	uitest.Tap(t, w.Content(), "Note the cleaning")
	if one := kit(w).Tools[0]; one.Cleaned.At.IsZero() {
		t.Error("no cleaning was noted")
	}
	if !w.Shows("Cleaned today") {
		t.Errorf("%q", uitest.Texts(w.Content()))
	}
}

// choose chooses in the sheet that lies over the page.
func choose(w *uitest.Opened, value string) {
	w.Focus(uitest.Entries(uitest.Top(w.Canvas()))[0])
	uitest.Type(w.Canvas(), value)
	uitest.Key(w.Canvas(), fyne.KeyReturn)
}

// A cleaning with several means against several things is noted again as it was;
// each may be left out, and another added. What gives off poisonous gas together is
// said at once and never noted.
func TestACleaningWithSeveralMeans(t *testing.T) {
	soapThenPeroxide := husbandry.Cleaning{Extent: husbandry.Full, Uses: []husbandry.Use{{Means: "detergent", Minutes: 5}, {Means: "hydrogen-peroxide-6", Minutes: 15}},
		Against: []knowledge.TargetID{"bacteria", "cryptosporidium"}}
	form := func() *uitest.Opened {
		w := open(t, plain(), "en", some(t), place.Route{Page: "tools"})
		w.Clock.Pass(-time.Hour)
		if _, err := w.Collection().Do(husbandry.Clean{Tables: w.Tables(), Tools: []model.ToolID{kit(w).Tools[0].ID}, At: model.MomentOf(w.Clock.Now()), Cleaning: soapThenPeroxide,
			Confirmed: model.Confirmed{"clean.does-not", "clean.partly", "clean.too-short", "clean.time"}}); err != nil {
			t.Fatal(err)
		}
		w.Clock.Pass(2 * time.Hour)
		w.Go(place.Route{To: place.Instruments, Subject: kit(w).Tools[0].ID.ID})
		uitest.Tap(t, w.Content(), "Note a cleaning")
		return w
	}
	noted := func(w *uitest.Opened) husbandry.Cleaned {
		t.Helper()
		uitest.Tap(t, w.Content(), "Note the cleaning")
		for uitest.Top(w.Canvas()) != w.Content() {
			uitest.Tap(t, uitest.Top(w.Canvas()), w.Text().Say("window.ask.yes")) // asked whether it is so
		}
		return kit(w).Tools[0].Cleaned
	}
	t.Run("as it was", func(t *testing.T) {
		w := form()
		if got := noted(w); !slices.Equal(got.Uses, soapThenPeroxide.Uses) || !slices.Equal(got.Against, soapThenPeroxide.Against) || got.At != model.MomentOf(w.Clock.Now()) {
			t.Errorf("%+v", got)
		}
	})
	t.Run("one left out, one more", func(t *testing.T) {
		w := form()
		uitest.Tap(t, w.Content(), "Leave out")
		uitest.Tap(t, w.Content(), "And another means")
		choose(w, "ethanol")
		typeInto(w, 1, "20")
		want := []husbandry.Use{{Means: "hydrogen-peroxide-6", Minutes: 15}, {Means: "ethanol-70", Minutes: 20}}
		if got := noted(w); !slices.Equal(got.Uses, want) {
			t.Errorf("%+v, want %+v", got.Uses, want)
		}
	})
	// Chlorine gives off poisonous gas with acids: labels of bleach.
	t.Run("poisonous", func(t *testing.T) {
		w := form()
		before := kit(w).Tools[0].Cleaned
		uitest.Tap(t, w.Content(), "And another means")
		choose(w, "bleach, about")
		uitest.Tap(t, w.Content(), "And another means")
		choose(w, "vinegar")
		if !w.Shows("poisonous gas together") {
			t.Errorf("it is not said: %q", uitest.Texts(w.Content()))
		}
		uitest.Tap(t, w.Content(), "Note the cleaning")
		if after := kit(w).Tools[0].Cleaned; after.Entry != before.Entry {
			t.Error("it was noted")
		}
	})
	t.Run("minutes of nothing", func(t *testing.T) {
		w := form()
		before := kit(w).Tools[0].Cleaned
		uitest.Tap(t, w.Content(), "And another means")
		uitest.Key(w.Canvas(), fyne.KeyEscape)
		typeInto(w, 2, "20")
		uitest.Tap(t, w.Content(), "Note the cleaning")
		if after := kit(w).Tools[0].Cleaned; after.Entry != before.Entry || !w.Shows("Say with what") {
			t.Errorf("what was typed went: %q", uitest.Texts(w.Content()))
		}
	})
}

func TestWhatWasTypedIsNotLost(t *testing.T) {
	w := open(t, plain(), "en", some(t), place.Route{})
	uitest.Key(w.Canvas(), fyne.KeyReturn)
	typeInto(w, 4, "lent by a friend")
	uitest.Tap(t, w.Content(), "Tools")
	uitest.Tap(t, w.Content(), "Add an instrument")
	uitest.Tap(t, w.Content(), "Keep")
	found := false
	for _, i := range kit(w).Instruments {
		found = found || strings.Contains(i.Note, "lent by a friend")
	}
	if !found {
		t.Error("what was typed went")
	}
}

func TestNothingIsCut(t *testing.T) {
	for _, language := range uitest.Languages() {
		for _, l := range uitest.LooksIn(language) {
			for name, fill := range map[string]func(*collection.Collection){"nothing": nothing, "some": some(t)} {
				for _, page := range []string{"", "tools"} {
					w := open(t, l, language, fill, place.Route{Page: page})
					if cut := uitest.Clipped(w.Content(), w.Canvas().Size()); len(cut) > 0 {
						t.Errorf("%+v %s, %s %s: %s", l, language, name, page, strings.Join(cut, "; "))
					}
					if name == "nothing" {
						continue
					}
					uitest.Key(w.Canvas(), fyne.KeyReturn)
					if cut := uitest.Clipped(w.Content(), w.Canvas().Size()); len(cut) > 0 {
						t.Errorf("%+v %s, the form of %s: %s", l, language, page, strings.Join(cut, "; "))
					}
					if page != "tools" {
						continue
					}
					uitest.Tap(t, w.Content(), w.Text().Say("instruments.clean"))
					for _, another := range []string{"particulars.means.another", "particulars.means.another-target"} {
						uitest.Tap(t, w.Content(), w.Text().Say(another))
						uitest.Key(w.Canvas(), fyne.KeyEscape)
					}
					if cut := uitest.Clipped(w.Content(), w.Canvas().Size()); len(cut) > 0 {
						t.Errorf("%+v %s, the form of a cleaning: %s", l, language, strings.Join(cut, "; "))
					}
				}
			}
		}
	}
}
