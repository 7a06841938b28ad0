package written_test

import (
	"slices"
	"strconv"
	"testing"

	"fyne.io/fyne/v2"

	"coilward/export/paper"
	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/exam"
	"coilward/model/husbandry"
	"coilward/model/knowledge"
	"coilward/model/label"
	rules "coilward/model/written"
	"coilward/ui/check"
	"coilward/ui/particulars"
	"coilward/ui/place"
	"coilward/ui/uitest"
	"coilward/ui/written"
)

// open is the window with the place in it, and with the place of checks beside it.
func open(t *testing.T, language string) *uitest.Opened {
	t.Helper()
	return uitest.Open(t, uitest.Setting{Look: uitest.Looks()[0], Language: language, Place: place.Written,
		Make:   func(w place.Window) place.Place { return written.New(w) },
		Beside: map[place.Name]func(place.Window) place.Place{place.Check: func(w place.Window) place.Place { return check.New(w) }}})
}

// sheet gives a sheet an id of its own.
func sheet(h *uitest.Opened, w label.Written) label.Written {
	h.T.Helper()
	err := h.Collection().View(func(v model.View) error {
		w.ID = v.NewID()
		return nil
	})
	if err != nil {
		h.T.Fatal(err)
	}
	return w
}

// typed types text and Enter, as a scanner does.
func typed(h *uitest.Opened, text string) {
	uitest.Type(h.Canvas(), text)
	uitest.Key(h.Canvas(), fyne.KeyReturn)
}

func rows(h *uitest.Opened, at model.Moment) (all []rules.Row) {
	h.T.Helper()
	err := h.Collection().View(func(v model.View) (err error) {
		all, err = rules.Rows(v, model.PlaceID{}, at)
		return err
	})
	if err != nil {
		h.T.Fatal(err)
	}
	return all
}

// The code of a sheet leads to the check of its animal; typed in a second time it asks.
func TestASheetIsNotTypedInTwiceUnasked(t *testing.T) {
	h := open(t, "en")
	w := sheet(h, label.Written{Kind: label.CheckSheet, Of: h.Animal("Kestrel").ID.ID, Day: h.Now().Day() - 1})
	h.Go(place.Route{To: place.Written})
	typed(h, w.Text())
	if !h.Shows("From paper: Kestrel") {
		t.Fatalf("shown: %q", uitest.Texts(h.Content()))
	}
	typed(h, "*")
	typed(h, "") // from the end page
	kept := func() (at model.Moment, there bool) {
		err := h.Collection().View(func(v model.View) (err error) {
			at, there, err = rules.Kept(v, w.ID)
			return err
		})
		if err != nil {
			t.Fatal(err)
		}
		return at, there
	}
	if at, there := kept(); !there || at.Day() != w.Day {
		t.Fatalf("kept %v at %v; shown: %q", there, at, uitest.Texts(h.Content()))
	}
	h.Go(place.Route{To: place.Written})
	typed(h, w.Text())
	if !uitest.Shows(uitest.Top(h.Canvas()), "Typed in already") {
		t.Fatalf("not asked; shown: %q", uitest.Texts(h.Content()))
	}
	uitest.Tap(t, uitest.Top(h.Canvas()), "It is another check")
	if !h.Shows("From paper: Kestrel") {
		t.Errorf("shown: %q", uitest.Texts(h.Content()))
	}
}

// A second check of one day asks, whether its sheet has a code or not.
func TestTwoChecksOfOneDayAsk(t *testing.T) {
	h := open(t, "en")
	for n := range 2 {
		w := sheet(h, label.Written{Kind: label.CheckSheet, Of: h.Animal("Kestrel").ID.ID, Day: h.Now().Day() - 1})
		h.Go(place.Route{To: place.Written, Page: w.Text()})
		typed(h, "*")
		typed(h, "")
		asked := uitest.Shows(uitest.Top(h.Canvas()), "Was there another one on that day?")
		if asked != (n == 1) {
			t.Errorf("sheet %d: asked %v; shown: %q", n+1, asked, uitest.Texts(uitest.Top(h.Canvas())))
		}
	}
}

func TestCodesThatLeadNowhere(t *testing.T) {
	h := open(t, "en")
	h.Go(place.Route{To: place.Written})
	for code, said := range map[string]string{
		"nobody": "This is no code of a sheet",
		"":       "This is no code of a sheet",
		sheet(h, label.Written{Kind: label.CheckSheet, Of: model.ID{1, 2}}).Text(): "not in this collection any more",
		sheet(h, label.Written{Kind: label.CheckSheet}).Text():                     "has no animal printed on it",
		sheet(h, label.Written{Kind: label.WeighSheet, Day: h.Now().Day() + 3}).Text(): h.Text().Say("refusal.day.future",
			map[string]any{"Today": h.Now().Day()}),
	} {
		h.Go(place.Route{To: place.Written, Page: code + " "})
		if !h.Shows(said) {
			t.Errorf("%q: shown %q", code, uitest.Texts(h.Content()))
		}
	}
}

// An animal's name leads to its check without a code, and so does its card.
func TestANameLeadsToTheCheck(t *testing.T) {
	h := open(t, "de")
	for _, said := range []string{"kestrel", label.OfAnimal(h.Animal("Kestrel").ID).Text()} {
		h.Go(place.Route{To: place.Written})
		h.Go(place.Route{To: place.Written, Page: said})
		if !h.Shows("Vom Papier: Kestrel") {
			t.Errorf("%q: shown %q", said, uitest.Texts(h.Content()))
		}
	}
}

// The weights of a sheet are noted of its day, line by line in its order; what was noted is
// shown and cannot be typed in again, and one unlike the others asks.
func TestWeightsOfASheet(t *testing.T) {
	h := open(t, "en")
	day := h.Now().Day() - 2
	at := rules.On(h.Now(), day)
	before := rows(h, at)
	var open []rules.Row
	for _, r := range before {
		if r.Noted.Mass.IsZero() && r.Last.Mass.Milligrams > 20_000 {
			open = append(open, r)
		}
	}
	if len(open) < 3 {
		t.Fatalf("%d lines to type", len(open))
	}
	w := sheet(h, label.Written{Kind: label.WeighSheet, Day: day, Order: rules.OrderOf(before)})
	h.Go(place.Route{To: place.Written, Page: w.Text()})
	if h.Shows("The shelf has changed") {
		t.Error("the order is told as another one")
	}
	grams := func(r rules.Row) string { return h.Text().Decimal(r.Last.Mass.Milligrams/1000, 0) }
	for _, r := range before {
		switch {
		case !r.Noted.Mass.IsZero():
		case r.Animal.ID == open[0].Animal.ID:
			typed(h, grams(r)+" f")
		case r.Animal.ID == open[2].Animal.ID:
			typed(h, grams(r))
		default:
			typed(h, "") // passed by
		}
		if r.Animal.ID == open[2].Animal.ID {
			break
		}
	}
	after := rows(h, at)
	for i, r := range after {
		want := r.Animal.ID == open[0].Animal.ID || r.Animal.ID == open[2].Animal.ID
		if was := before[i].Noted.Mass; was.IsZero() && r.Noted.Mass.IsZero() == want {
			t.Errorf("%s: noted %v, want %v", r.Animal.Name, r.Noted.Mass, want)
		}
		if fed := r.Animal.ID == open[0].Animal.ID; want && (r.Noted.Gut == care.GutFed) != fed {
			t.Errorf("%s: gut %q", r.Animal.Name, r.Noted.Gut)
		}
	}
	if got := after[0].Noted.At; !after[0].Noted.Mass.IsZero() && got.Day() != day {
		t.Errorf("noted of %v", got)
	}
	h.Go(place.Route{To: place.Written, Page: sheet(h, label.Written{Kind: label.WeighSheet, Day: day}).Text()})
	if !h.Shows("The shelf has changed") {
		t.Error("another order is not told")
	}
	if !h.Shows(h.Text().Mass(open[0].Last.Mass) + " noted · fed") {
		t.Errorf("what is noted is not shown: %q", uitest.Texts(h.Content()))
	}
	// twice as heavy as the last one
	for _, r := range after {
		if r.Noted.Mass.IsZero() && r.Last.Mass.Milligrams > 20_000 {
			typed(h, h.Text().Decimal(r.Last.Mass.Milligrams*2/1000, 0))
			break
		}
		if r.Noted.Mass.IsZero() {
			typed(h, "")
		}
	}
	if h.Canvas().Overlays().Top() == nil {
		t.Errorf("twice the mass does not ask; shown: %q", uitest.Texts(h.Content()))
	}
}

// What is printed is typed in: a sheet for a check with its code becomes the check with the
// sheet's id, and a weighing list has the order in which it was printed.
func TestWhatIsPrintedIsTypedIn(t *testing.T) {
	h := open(t, "en")
	var checks []paper.CheckSheet
	var weights paper.WeighSheet
	err := h.Collection().View(func(v model.View) (err error) {
		of, err := paper.SheetAnimals(v, model.PlaceID{})
		if err != nil {
			return err
		}
		if checks, err = paper.GatherCheckSheets(v, of, v.Now().Day()); err != nil {
			return err
		}
		weights, err = paper.GatherWeighSheet(v, model.PlaceID{}, v.Now().Day())
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	if len(checks) < 3 || len(weights.Rows) != len(checks) {
		t.Fatalf("%d sheets for checks, %d lines of weights", len(checks), len(weights.Rows))
	}
	s := checks[2]
	h.Go(place.Route{To: place.Written})
	typed(h, s.Code.Text())
	for _, p := range s.Open { // each asks how it stands
		stop := slices.IndexFunc(h.Tables().Stops(), func(stop knowledge.Stop) bool { return stop.ID == p.Stop })
		typed(h, strconv.Itoa(stop+1)+" same")
	}
	typed(h, "*")
	typed(h, "")
	err = h.Collection().View(func(v model.View) error {
		d, err := v.Document(s.Code.ID)
		if err != nil {
			return err
		}
		c, err := exam.ReadCheck(d)
		if d.Subjects[0].ID != s.Code.Of || d.At.Day() != s.Code.Day || len(c.Earlier) != len(s.Open) {
			t.Errorf("kept %+v with %d earlier, want %d", d, len(c.Earlier), len(s.Open))
		}
		return err
	})
	if err != nil {
		t.Fatalf("%v; shown: %q", err, uitest.Texts(uitest.Top(h.Canvas())))
	}
	h.Go(place.Route{To: place.Written})
	typed(h, weights.Code.Text())
	if !h.Shows("Weights from a sheet") || h.Shows("The shelf has changed") {
		t.Errorf("shown: %q", uitest.Texts(h.Content()))
	}
}

// A sheet of an animal that was sold before its day asks whether it is so.
func TestASheetOfOneThatWasSoldAsks(t *testing.T) {
	h := open(t, "en")
	kestrel := h.Animal("Kestrel")
	if _, err := h.Collection().Do(animals.SetStatus{ID: kestrel.ID, Base: kestrel.Revision, Status: animals.Sold, Day: model.Date{Day: h.Now().Day() - 30, Precision: model.ToDay}}); err != nil {
		t.Fatal(err)
	}
	h.Go(place.Route{To: place.Written, Page: sheet(h, label.Written{Kind: label.CheckSheet, Of: kestrel.ID.ID, Day: h.Now().Day() - 1}).Text()})
	typed(h, "*")
	typed(h, "")
	if h.Canvas().Overlays().Top() == nil || !uitest.Shows(uitest.Top(h.Canvas()), "Kestrel") {
		t.Errorf("not asked; shown: %q", uitest.Texts(uitest.Top(h.Canvas())))
	}
}

// What a scale showed of a known mass stands on the sheet and is kept as its check, of the
// sheet's day; without a scale, or without a word on whether that is good, it is asked for.
func TestTheScaleOfASheet(t *testing.T) {
	h := open(t, "en")
	day := h.Now().Day() - 2
	checks := func() (all []husbandry.Checked) {
		err := h.Collection().View(func(v model.View) error {
			scales, err := husbandry.ReadScales(v)
			for _, s := range scales.InUse() {
				of, err := husbandry.Checks(v, s.ID)
				if err != nil {
					return err
				}
				for _, c := range of {
					if c.At.Day() == day && c.At.Precision == model.ToDay {
						all = append(all, c)
					}
				}
			}
			return err
		})
		if err != nil {
			t.Fatal(err)
		}
		return all
	}
	h.Go(place.Route{To: place.Written, Page: sheet(h, label.Written{Kind: label.WeighSheet, Day: day}).Text()})
	ask := func() { uitest.Tap(t, h.Content(), "What the scale showed") }
	ask()
	if !h.Shows(h.Text().Say("written.scale.which")) || h.Canvas().Overlays().Top() != nil {
		t.Fatalf("no scale is picked; shown: %q", uitest.Texts(h.Content()))
	}
	uitest.Tap(t, h.Content(), h.Text().Say("field.weighed-with"))
	typed(h, "small")
	ask()
	form := func() fyne.CanvasObject { return uitest.Top(h.Canvas()) }
	note := func(reading string) {
		t.Helper()
		for i, shown := range []string{"200", reading} {
			uitest.Entries(form())[i].(interface{ SetText(string) }).SetText(shown)
		}
		uitest.Tap(t, form(), h.Text().Say("instruments.note-check"))
	}
	note("193,x")
	if len(checks()) != 0 {
		t.Fatalf("%q was noted", "193,x")
	}
	note("193")
	if !uitest.Shows(form(), "Say whether it passed.") || len(checks()) != 0 {
		t.Fatalf("noted without a result: %v; shown: %q", checks(), uitest.Texts(form()))
	}
	uitest.Tap(t, form(), particulars.Capital(h.Text().Say("husbandry.check.failed")))
	note("193")
	if all := checks(); len(all) != 1 || all[0].Good || all[0].Reference != "200\u00a0g" || all[0].Reading != "193\u00a0g" || h.Canvas().Overlays().Top() != nil {
		t.Errorf("%+v; shown: %q", all, uitest.Texts(form()))
	}
	h.Undo()
	if len(checks()) != 0 {
		t.Error("it is not undone")
	}
}

// Animals stand in the order of numbers, as wherever they are chosen.
func TestAnimalsInTheOrderOfNumbers(t *testing.T) {
	h := open(t, "en")
	for _, name := range []string{"Aa 10", "Aa 9"} {
		if _, err := h.Collection().Do(animals.Add{Animal: animals.Animal{Name: name, Species: "python-regius", Status: animals.Kept}}); err != nil {
			t.Fatal(err)
		}
	}
	h.Go(place.Route{To: place.Written})
	texts := uitest.Texts(h.Content())
	if nine, ten := slices.Index(texts, "Aa 9"), slices.Index(texts, "Aa 10"); nine < 0 || ten < nine {
		t.Errorf("%d and %d of %q", nine, ten, texts)
	}
}
