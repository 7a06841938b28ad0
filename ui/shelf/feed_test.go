package shelf_test

import (
	"testing"
	"time"

	"fyne.io/fyne/v2"

	"coilward/model"
	"coilward/model/care"
	"coilward/model/collection"
	"coilward/model/powercut"
	"coilward/ui/particulars"
	"coilward/ui/place"
	"coilward/ui/uitest"
	"coilward/ui/widgets"
	"coilward/ui/widgets/shelfview"
)

// Before food is offered, the box in the lamp says what speaks against it.
func TestFeedSaysWhatSpeaksAgainstIt(t *testing.T) {
	h := open(t, uitest.Looks()[0], "en", func(c *collection.Collection) { room(t, c, "Loft", 1, 2, "Brook", "Juniper") })
	about := func(name string) care.About {
		return care.About{Animal: h.Animal(name).ID, At: model.MomentOf(h.Clock.Now())}
	}
	do(t, h.Collection(), care.Weigh{About: about("Brook"), Weight: care.Weight{Mass: model.Grams(400)}})
	h.Clock.Pass(time.Minute)
	do(t, h.Collection(), care.Feed{About: about("Brook"), Meal: care.Meal{Prey: care.Rat, Each: model.Grams(60), Count: 1, Outcome: care.Regurgitated}})
	do(t, h.Collection(), care.Feed{About: about("Juniper"), Meal: care.Meal{Prey: care.Rat, Each: model.Grams(60), Count: 1, Outcome: care.Took}})
	do(t, h.Collection(), care.RecordWaste{About: about("Brook"), Waste: care.Waste{Faeces: []care.Trait{care.Blood}}})
	h.Clock.Pass(72 * time.Hour)
	h.press("1\n\n")
	for _, want := range []string{"Something is for the vet", "Brought up 9 Jun", "no food before", "a large meal"} {
		if !h.Shows(want) {
			t.Errorf("%q is not said: %q", want, uitest.Texts(h.Content()))
		}
	}
	h.press("3") // passed over
	for _, want := range []string{"Something is for the vet", "Brought up 9 Jun", "a large meal"} {
		if h.Shows(want) {
			t.Errorf("%q is said of another", want)
		}
	}
}

// After a power cut the box in the lamp says that food waits, in the words of Due; and of one that
// was chilled that the vet is asked first (common practice, no source).
func TestFeedSaysThatFoodWaitsAfterAPowerCut(t *testing.T) {
	for _, language := range []string{"en", "de"} {
		for coldest, key := range map[int64]string{2300: "due.caution.power-cut-feed", 1200: "shelf.feed.for-vet"} {
			h := open(t, uitest.Looks()[0], language, func(c *collection.Collection) { room(t, c, "Loft", 1, 2, "Brook") })
			if h.press("1\n\n"); h.Shows(h.Text().Say(key)) {
				t.Errorf("%s: before: %q", language, uitest.Texts(h.Content()))
			}
			h.key(fyne.KeyEscape)
			until := model.MomentOf(h.Clock.Now())
			from := until
			from.UTC -= 8 * 3600
			do(t, h.Collection(), powercut.Note{From: from, Cut: powercut.Cut{Until: until, Whole: true, Coldest: &model.Temperature{Hundredths: coldest}}})
			h.Clock.Pass(24 * time.Hour)
			if h.press("1\n\n"); !h.Shows(h.Text().Say(key)) {
				t.Errorf("%s, %d: %q is not said: %q", language, coldest, h.Text().Say(key), uitest.Texts(h.Content()))
			}
		}
	}
}

// Whatever speaks against food, the last offers stand whole in the lamp, above the bedding.
func TestTheLastOffersStandWholeBelowWhatSpeaksAgainstFood(t *testing.T) {
	for last, coldest := range map[care.Outcome]int64{care.Regurgitated: 2300, care.Took: 1200} {
		for _, language := range []string{"en", "de"} {
			h := open(t, uitest.Looks()[0], language, func(c *collection.Collection) { room(t, c, "Loft", 3, 4, "Brook") })
			about := care.About{Animal: h.Animal("Brook").ID, At: model.MomentOf(h.Clock.Now())}
			do(t, h.Collection(), care.Weigh{About: about, Weight: care.Weight{Mass: model.Grams(1626)}})
			for _, outcome := range []care.Outcome{care.Took, care.Took, last} {
				h.Clock.Pass(9 * 24 * time.Hour)
				about.At = model.MomentOf(h.Clock.Now())
				do(t, h.Collection(), care.Feed{About: about, Meal: care.Meal{Prey: care.Rat, Each: model.Grams(60), Count: 1, Outcome: outcome}})
			}
			until := model.MomentOf(h.Clock.Now())
			from := until
			from.UTC -= 8 * 3600
			do(t, h.Collection(), powercut.Note{From: from, Cut: powercut.Cut{Until: until, Whole: true, Coldest: &model.Temperature{Hundredths: coldest}}})
			h.press("1\n\n")
			if want := h.Text().Say(map[int64]string{2300: "due.caution.power-cut-feed", 1200: "shelf.feed.for-vet"}[coldest]); !h.Shows(want) {
				t.Fatalf("%s: %q is not said: %q", language, want, uitest.Texts(h.Content()))
			}
			if clipped := uitest.Clipped(h.Content(), h.Canvas().Size()); len(clipped) > 0 {
				t.Errorf("%s: clipped: %q", language, clipped)
			}
			day, plate := h.Text().DayOfYear(until.Day()), uitest.Press(t, h.Content(), particulars.Capital(h.Text().Say("care.outcome.took")))
			var low, top float32
			uitest.Walk(h.Content(), func(s uitest.Seen) bool {
				if text, is := s.Object.(*widgets.Text); is && text.Short() {
					t.Errorf("%s: %q is cut", language, text.Text())
				}
				if text, is := s.Object.(*widgets.Text); is && text.Text() == day {
					low = s.At.Y + s.Object.Size().Height
				}
				if s.Object == plate.(fyne.CanvasObject) {
					top = s.At.Y
				}
				return true
			})
			if low == 0 || top == 0 || low > top-47 { // which are the bedding and the board
				t.Errorf("%s: the days of the offers end at %g, the answers begin at %g", language, low, top)
			}
		}
	}
}

// A means that does not work on what it is used against is said before anything
// is noted, and asked once in a walk.
func TestCleaningAsksOfAMeansThatDoesNotWork(t *testing.T) {
	h := open(t, uitest.Looks()[0], "en", func(c *collection.Collection) { room(t, c, "Loft", 1, 3, "Ash") })
	h.press("5")
	for field, chosen := range map[string]string{"means": "Ethanol, 70 %", "against": "Cryptosporidium"} {
		uitest.Tap(t, h.Content(), h.Text().Say("field."+field))
		uitest.Type(h.Canvas(), chosen)
		uitest.Key(h.Canvas(), fyne.KeyReturn)
	}
	uitest.Tap(t, h.Content(), "Begin")
	h.press("\n")
	if top := h.top(); top == nil || !uitest.Shows(top, "does not work on this: Cryptosporidium") {
		t.Fatalf("it is not asked: %q", uitest.Texts(h.Content()))
	}
	uitest.Tap(t, h.top(), h.Text().Say("window.ask.yes"))
	h.press("\n\n")
	if !h.Shows("3 noted") {
		t.Fatalf("shown: %q", uitest.Texts(h.Content()))
	}
}

// A mass that is typed and not noted is not lost by leaving.
func TestLeavingATypedMassAsks(t *testing.T) {
	h := open(t, uitest.Looks()[0], "en", func(c *collection.Collection) { room(t, c, "Loft", 1, 2, "Ash") })
	h.press("21432")
	h.key(fyne.KeyEscape)
	if top := h.top(); top == nil || !uitest.Shows(top, "1432 g is typed and not noted") {
		t.Fatalf("it is not asked: %q", uitest.Texts(h.Content()))
	}
	h.key(fyne.KeyEscape)
	h.press("\n")
	if e := h.entries("Ash"); len(e) != 1 || e[0].(care.Weight).Mass.Milligrams != 1_432_000 {
		t.Errorf("after going back: %+v", e)
	}
}

// A route to a box, or to an animal, ends at it, whatever room was shown.
func TestARouteLeadsToTheBox(t *testing.T) {
	h := open(t, uitest.Looks()[0], "en", func(c *collection.Collection) {
		room(t, c, "Loft", 1, 3, "Ash")
		room(t, c, "Cellar", 2, 2, "Brook", "Wren", "Fern")
	})
	uitest.Tap(t, h.Content(), "Loft")
	h.Go(place.Route{To: place.Shelf, Subject: h.Animal("Fern").ID.ID})
	first := h.view().Current()
	h.key(fyne.KeyReturn)
	if !h.Shows("Fern") || !h.Shows("Cellar") {
		t.Fatalf("at %v: %q", first, uitest.Texts(h.Content()))
	}
	h.key(fyne.KeyEscape)
	h.Go(place.Route{To: place.Shelf, Subject: h.Animal("Ash").ID.ID})
	if again := h.view().Current(); again == first || again != (shelfview.At{}) {
		t.Errorf("Ash is at %v, Fern at %v", again, first)
	}
}

// Where nobody is due for food nobody is chosen, and it is said; a second Enter
// goes through all.
func TestNobodyDueIsSaid(t *testing.T) {
	h := open(t, uitest.Looks()[0], "en", func(c *collection.Collection) { room(t, c, "Loft", 1, 3, "Ash", "Brook") })
	h.feeds("Ash", "Brook")
	h.press("1\n")
	if !h.Shows("Nobody is due for food") || h.Shows("Grain") || h.Shows("of 2") {
		t.Fatalf("%q", uitest.Texts(h.Content()))
	}
	h.press("\n1")
	if n := len(h.entries("Ash")); n != 2 {
		t.Errorf("%d meals after it was said to be meant", n)
	}
}

// What a means cannot do is said as soon as it is chosen.
func TestWhatDoesNotWorkIsSaidAtOnce(t *testing.T) {
	h := open(t, uitest.Looks()[0], "en", func(c *collection.Collection) { room(t, c, "Loft", 1, 3, "Ash") })
	h.press("5")
	for _, c := range [][2]string{{"means", "Ethanol, 70 %"}, {"against", "Cryptosporidium"}} {
		uitest.Tap(t, h.Content(), h.Text().Say("field."+c[0]))
		uitest.Type(h.Canvas(), c[1])
		h.key(fyne.KeyReturn)
	}
	if !h.Shows("does not work on this: Cryptosporidium") {
		t.Errorf("%q", uitest.Texts(h.Content()))
	}
}
