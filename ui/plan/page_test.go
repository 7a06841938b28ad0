package plan_test

import (
	"slices"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"coilward/assets"
	"coilward/model"
	"coilward/model/animals"
	"coilward/model/collection"
	"coilward/model/husbandry"
	"coilward/model/knowledge"
	"coilward/model/people"
	"coilward/model/quarantine"
	"coilward/model/samples"
	"coilward/model/storetest"
	"coilward/ui/look"
	"coilward/ui/place"
	"coilward/ui/plan"
	"coilward/ui/uitest"
	"coilward/ui/widgets"
)

// four came 100 days ago; three of them live in rooms of their own.
func four(t *testing.T) func(*collection.Collection) {
	return func(c *collection.Collection) {
		do := func(command model.Command) []model.ID {
			change, err := c.Do(command)
			if err != nil {
				t.Fatal(err)
			}
			return change.Documents
		}
		at := model.MomentOf(storetest.Start())
		at.UTC -= 100 * 86400
		for _, name := range []string{"Bracken", "Gorse", "Heather", "Tansy"} {
			id := model.AnimalID{ID: do(animals.Add{Animal: animals.Animal{Name: name, Species: "python-regius", Since: model.Date{Day: at.Day(), Precision: model.ToDay}}})[0]}
			room := model.PlaceID{ID: do(husbandry.AddPlaces{Branches: []husbandry.Branch{{Place: husbandry.Place{Name: "Room of " + name, Kind: husbandry.Room}}}})[0]}
			tub := model.PlaceID{ID: do(husbandry.AddPlaces{Parent: room, Branches: []husbandry.Branch{{Place: husbandry.Place{Name: "1", Kind: husbandry.Tub}}}})[0]}
			do(husbandry.Move{Animal: id, Place: tub, At: at, Confirmed: model.Confirmed{"day.before-arrival"}})
		}
	}
}

func open(t *testing.T, language string) *uitest.Opened {
	t.Helper()
	w := uitest.Open(t, uitest.Setting{Look: uitest.Look{Shine: look.ByDay, Width: 1280, Height: 800, Scale: 1}, Language: language, Fill: four(t), Place: place.Plan, Make: func(w place.Window) place.Place { return plan.New(w) }})
	w.Go(place.Route{To: place.Plan})
	return w
}

func typeInto(w *uitest.Opened, n int, text string) {
	uitest.Entries(w.Content())[n].(interface{ SetText(string) }).SetText(text)
}

// The fields, in their order.
const (
	target = iota
	latest
	rounds
	apart
	largest
	test
	swab
	budget
	labRounds
	labPool
	labApart
)

func all(w *uitest.Opened) (of []samples.Stored) {
	if err := w.Collection().View(func(v model.View) (err error) { of, err = samples.All(v); return err }); err != nil {
		w.T.Fatal(err)
	}
	return of
}

// From nothing to the samples of all rounds, which one undo takes back.
func TestAPlanAndItsRounds(t *testing.T) {
	w := open(t, "en")
	if !w.Shows("Choose at least one animal") {
		t.Errorf("shows %q", uitest.Texts(w.Content()))
	}
	for _, name := range []string{"Bracken", "Gorse", "Heather", "Tansy"} {
		uitest.Tap(t, w.Content(), name)
	}
	if !w.Shows("Nothing is noted until you lay samples out") {
		t.Errorf("shows %q", uitest.Texts(w.Content()))
	}
	typeInto(w, test, "32.50")
	typeInto(w, swab, "3")
	typeInto(w, labRounds, "2")
	typeInto(w, labPool, "2")
	uitest.Tap(t, w.Content(), "Work it out")
	for _, said := range []string{"Two samples of each, 42 days apart", "Pool first, then singles where it is detected", "What your lab asks for", "The best of those that were tried", "finds 60 to 95 in 100", "Round 1: ", "Leaving it to the vet is a full answer"} {
		if !w.Shows(said) {
			t.Errorf("%q is not said: %q", said, uitest.Texts(w.Content()))
		}
	}
	if len(all(w)) != 0 {
		t.Error("something was noted before it was laid out")
	}
	uitest.Tap(t, w.Content(), "Two samples of each, 42 days apart")
	today := model.MomentOf(storetest.Start()).Day()
	for _, said := range []string{"Round 1: " + w.Text().Day(today) + ", 4 samples: Bracken, Gorse, Heather, Tansy", "Round 2: " + w.Text().Day(today+42) + ", 4 samples"} {
		if !w.Shows(said) {
			t.Errorf("%q is not said: %q", said, uitest.Texts(w.Content()))
		}
	}
	if w.Shows("What an earlier plan has left") {
		t.Error("an earlier plan is told of, and there is none")
	}
	uitest.Tap(t, w.Content(), "Lay the plan out")
	laid := all(w)
	sampled := map[model.Day]int{}
	for _, s := range laid {
		if s.Planned == nil || len(s.Animals) != 1 || s.Material != "choanal-swab" || s.For[0] != "serpentovirus" || s.Planned.Of != 2 {
			t.Fatalf("laid out: %+v", s)
		}
		sampled[s.Planned.Day] += s.Planned.Round
	}
	if len(laid) != 8 || sampled[today] != 4 || sampled[today+42] != 8 {
		t.Errorf("laid out: %+v", laid)
	}
	// another plan stands in place of what is left of the first
	w.Go(place.Route{To: place.Plan})
	uitest.Tap(t, w.Content(), "Work it out")
	if !w.Shows("What an earlier plan has left to take of Bracken, Gorse, Heather, Tansy") {
		t.Errorf("that it stands in place of an earlier plan is not said: %q", uitest.Texts(w.Content()))
	}
	uitest.Tap(t, w.Content(), "Pool first, then singles where it is detected")
	uitest.Tap(t, w.Content(), "Lay the plan out")
	if laid := all(w); len(laid) != 1 || len(laid[0].Animals) != 4 || laid[0].Planned.Of != 1 {
		t.Errorf("after another plan: %+v", laid)
	}
	w.Undo()
	if n := len(all(w)); n != 8 {
		t.Errorf("after undo of the second plan %d are left", n)
	}
	w.Undo()
	if n := len(all(w)); n != 0 {
		t.Errorf("after undo %d are left", n)
	}
}

// Who is in no round of a plan, since nothing is needed, is told of.
func TestWhoIsLeftOut(t *testing.T) {
	w := open(t, "en")
	one := func(ago int) samples.Sample {
		now := model.MomentOf(storetest.Start())
		return samples.Sample{Material: "choanal-swab", For: []knowledge.AgentID{"serpentovirus"}, Taken: model.MomentOn(now, now.Day()-model.Day(ago), model.Noon, model.ToDay)}
	}
	do := func(c model.Command) model.ID {
		done, err := w.Collection().Do(c)
		if err != nil {
			t.Fatal(err)
		}
		return done.Documents[0]
	}
	for _, ago := range []int{60, 40, 20} {
		id := do(samples.Prepare{Tables: w.Tables(), Each: []samples.New{{Animals: []model.AnimalID{w.Animal("Gorse").ID}, Sample: one(ago)}}})
		do(samples.Enter{Tables: w.Tables(), At: model.MomentOf(storetest.Start()), Rows: []samples.Row{{On: samples.On{ID: model.SampleID{ID: id}, Base: 1}, Found: []samples.Found{{Of: "serpentovirus", Outcome: samples.NotDetected}}}}})
	}
	uitest.Tap(t, w.Content(), "Gorse")
	uitest.Tap(t, w.Content(), "Heather")
	typeInto(w, target, "2")
	uitest.Tap(t, w.Content(), "Work it out")
	if !w.Shows("Gorse needs no sample for this") {
		t.Errorf("shows %q", uitest.Texts(w.Content()))
	}
}

// What was worked out fits the window in both languages.
func TestWhatWasWorkedOutFitsTheWindow(t *testing.T) {
	for _, language := range []string{"en", "de"} {
		w := open(t, language)
		uitest.Tap(t, w.Content(), "Gorse")
		uitest.Tap(t, w.Content(), "Heather")
		uitest.Tap(t, w.Content(), w.Text().Say("plan.work-out"))
		if !w.Shows(w.Text().Say("plan.found")) {
			t.Fatalf("%s: %q", language, uitest.Texts(w.Content()))
		}
		if needs := w.Content().MinSize().Width; needs > 1280 {
			t.Errorf("%s: the page needs %.0f of 1280", language, needs)
		}
		if cut := uitest.Clipped(w.Content(), w.Canvas().Size()); len(cut) > 0 {
			t.Errorf("%s: %s", language, strings.Join(cut, "; "))
		}
	}
}

// Wrong values are refused at their fields, and what was typed stays.
func TestWhatCannotBeReadIsRefusedAtItsField(t *testing.T) {
	w := open(t, "de")
	uitest.Tap(t, w.Content(), "Gorse")
	for _, c := range []struct {
		field       int
		typed, said string
		good        string
	}{
		{target, "0", "mehr als 0 und weniger als 100", "1"}, {target, "100", "mehr als 0 und weniger als 100", "1"}, {target, "", "Es ist nichts eingetragen", "0,5"}, {latest, "bald", "lässt sich nicht als Tag lesen", ""}, {latest, "3.3.2020", "Dieser Tag ist vorbei", ""},
		{budget, "500", "Ohne Preis lässt sich nichts damit vergleichen", ""}, {budget, "kaum", "Das ist kein Preis", ""}, {apart, "0", "Eine ganze Zahl von 1 bis 1098", "42"}, {labApart, "x", "Eine ganze Zahl von 1 bis 1098", ""},
		{test, "viel", "Das ist kein Preis", ""}, {swab, "3,505", "Das ist kein Preis", "3,50"},
		{test, "9999999", "mehr, als für einen Preis", "30"}, {largest, "21", "Eine ganze Zahl von 1 bis 20", "5"}, {rounds, "x", "Eine ganze Zahl von 1 bis 26", "4"}, {labRounds, "99", "Eine ganze Zahl von 1 bis 26", ""},
	} {
		typeInto(w, c.field, c.typed)
		uitest.Tap(t, w.Content(), "Berechnen")
		if said := strings.Join(uitest.Texts(w.Content()), " "); !strings.Contains(said, c.said) {
			t.Errorf("%q in field %d: %q", c.typed, c.field, said)
		}
		if w.Canvas().Focused() != uitest.Entries(w.Content())[c.field] {
			t.Errorf("%q in field %d: the keys are at %v", c.typed, c.field, w.Canvas().Focused())
		}
		if !strings.Contains(strings.Join(uitest.Texts(w.Content()), "|"), "|"+c.typed+"|") {
			t.Errorf("%q stays no more in field %d", c.typed, c.field)
		}
		typeInto(w, c.field, c.good)
	}
	uitest.Tap(t, w.Content(), "Berechnen")
	if !w.Shows("Von jedem zwei Proben im Abstand von 42 Tagen") {
		t.Errorf("shows %q", uitest.Texts(w.Content()))
	}
	uitest.Tap(t, w.Content(), "Heather")
	if !w.Shows("Seither wurde etwas geändert") {
		t.Errorf("after another was ticked: %q", uitest.Texts(w.Content()))
	}
}

// What the lab asks for is kept as it is asked, or it is said what is not.
func TestWhatTheLabAsksFor(t *testing.T) {
	w := open(t, "en")
	for _, name := range []string{"Bracken", "Gorse", "Heather", "Tansy"} {
		uitest.Tap(t, w.Content(), name)
	}
	for _, c := range []struct {
		rounds, pool, said string
		at                 int
	}{
		{"", "3", "Your lab takes pools of 3: in how many rounds?", labRounds},
		{"2", "6", "you allow 5 animals in a pool at most", labPool},
	} {
		typeInto(w, labRounds, c.rounds)
		typeInto(w, labPool, c.pool)
		uitest.Tap(t, w.Content(), "Work it out")
		if !w.Shows(c.said) || w.Shows("Common plans, to compare") || w.Canvas().Focused() != uitest.Entries(w.Content())[c.at] {
			t.Errorf("%s rounds in pools of %s: %q", c.rounds, c.pool, uitest.Texts(w.Content()))
		}
	}
	typeInto(w, labPool, "3")
	uitest.Tap(t, w.Content(), "Work it out")
	if w.Shows("Your lab asks for pools of") {
		t.Error("it is said of a plan that is not the lab's")
	}
	uitest.Tap(t, w.Content(), "What your lab asks for")
	if !w.Shows("Your lab asks for pools of 3. Only animals of which the same is known share one, divided as evenly as can be: here the largest has 2.") {
		t.Errorf("pools of two where three are asked for: %q", uitest.Texts(w.Content()))
	}
	if !w.Shows("Tests on average, with retests: ") || !w.Shows(" if all is as assumed") {
		t.Errorf("the range of what it costs is not said: %q", uitest.Texts(w.Content()))
	}
	uitest.Tap(t, w.Content(), w.Text().Say("agent.worms-and-protozoa"))
	uitest.Tap(t, w.Content(), "Work it out")
	if !w.Shows("each animal is sampled alone, whatever pools are entered") || !w.Shows("What your lab asks for") {
		t.Errorf("without PCR: %q", uitest.Texts(w.Content()))
	}
}

// A plan that cannot be had says why.
func TestWhyThereIsNone(t *testing.T) {
	w := open(t, "en")
	uitest.Tap(t, w.Content(), "Tansy")
	typeInto(w, rounds, "1")
	uitest.Tap(t, w.Content(), "Work it out")
	if !w.Shows("Tansy: to be as sure as you want takes ") {
		t.Errorf("one round: %q", uitest.Texts(w.Content()))
	}
	typeInto(w, rounds, "4")
	uitest.Tap(t, w.Content(), "Work it out")
	if !w.Shows("Tests, on average") || w.Shows("Cost, on average") {
		t.Errorf("without prices tests are counted: %q", uitest.Texts(w.Content()))
	}
	typeInto(w, target, "90")
	uitest.Tap(t, w.Content(), "Work it out")
	if !w.Shows("already as low as you want it") || !w.Shows("The high end of the range may be above that") {
		t.Errorf("90 in 100: %q", uitest.Texts(w.Content()))
	}
}

// A budget and a last day that no plan keeps say so, with what would do; taken back, there
// are plans again.
func TestTooDearAndTooLate(t *testing.T) {
	w := open(t, "en")
	for _, name := range []string{"Bracken", "Gorse", "Heather", "Tansy"} {
		uitest.Tap(t, w.Content(), name)
	}
	work := func() { uitest.Tap(t, w.Content(), "Work it out") }
	typeInto(w, test, "30")
	typeInto(w, budget, "20")
	work()
	for _, said := range []string{"For no more than 20 no plan is enough. The cheapest costs ", "costs more than wanted"} {
		if !w.Shows(said) {
			t.Errorf("%q is not said of a budget of 20: %q", said, uitest.Texts(w.Content()))
		}
	}
	if w.Shows("The best of those that were tried") || w.Shows("no plan can be enough") {
		t.Errorf("too dear, yet: %q", uitest.Texts(w.Content()))
	}
	typeInto(w, budget, "")
	typeInto(w, latest, "in 3 days")
	work()
	if !w.Shows("cannot be read as a day") {
		t.Errorf("a day that cannot be read: %q", uitest.Texts(w.Content()))
	}
	day := model.MomentOf(storetest.Start()).Day() + 18
	typeInto(w, latest, w.Text().Day(day))
	work()
	for _, said := range []string{"By " + w.Text().Day(day) + " no plan can be enough. With the soonest, all is known on ", "later than wanted"} {
		if !w.Shows(said) {
			t.Errorf("%q is not said of 18 days: %q", said, uitest.Texts(w.Content()))
		}
	}
	typeInto(w, latest, "")
	work()
	if !w.Shows("The best of those that were tried") {
		t.Errorf("without both: %q", uitest.Texts(w.Content()))
	}
}

// Who is in quarantine is sampled singly, and that is said; of a pool, that each has a swab of its
// own.
func TestInQuarantineNobodySharesAPool(t *testing.T) {
	w := uitest.Open(t, uitest.Setting{Look: uitest.Look{Shine: look.ByDay, Width: 1280, Height: 800, Scale: 1}, Language: "en", Place: place.Plan, Make: func(w place.Window) place.Place { return plan.New(w) },
		Fill: func(c *collection.Collection) {
			four(t)(c)
			tables, err := knowledge.Load(assets.Knowledge())
			if err != nil {
				t.Fatal(err)
			}
			var here []animals.Stored
			if err := c.View(func(v model.View) (err error) { here, err = animals.All(v); return err }); err != nil {
				t.Fatal(err)
			}
			tansy := here[slices.IndexFunc(here, func(a animals.Stored) bool { return a.Name == "Tansy" })]
			arrived := model.MomentOf(storetest.Start())
			arrived.UTC -= 30 * 86400
			if _, err := c.Do(quarantine.Begin{Tables: tables, Animal: tansy.ID, Protocol: "python", Arrived: arrived, Confirmed: model.Confirmed{"day.before-arrival"}}); err != nil {
				t.Fatal(err)
			}
		}})
	w.Go(place.Route{To: place.Plan})
	typeInto(w, test, "30")
	for _, act := range []string{"Bracken", "Gorse", "Heather", "Work it out", "Pool first, then singles where it is detected"} {
		uitest.Tap(t, w.Content(), act)
	}
	if !w.Shows("never one for two") || w.Shows("pooled samples do not count") {
		t.Errorf("of three that share a pool: %q", uitest.Texts(w.Content()))
	}
	for _, act := range []string{"Tansy", "Work it out", "Pool first, then singles where it is detected"} {
		uitest.Tap(t, w.Content(), act)
	}
	if !w.Shows("Tansy is in quarantine, for which pooled samples do not count: it is sampled alone.") {
		t.Errorf("of one in quarantine: %q", uitest.Texts(w.Content()))
	}
	uitest.Tap(t, w.Content(), "Two samples of each, 42 days apart")
	if w.Shows("never one for two") {
		t.Errorf("of singles: %q", uitest.Texts(w.Content()))
	}
}

// The chance that at least one carries it is that of all together.
func TestTheChanceOfAtLeastOne(t *testing.T) {
	w := open(t, "en")
	uitest.Tap(t, w.Content(), "Gorse")
	uitest.Tap(t, w.Content(), "Work it out")
	if !w.Shows("Chance that Gorse carries Serpentovirus today: 5 to 40 in 100") {
		t.Errorf("of one: %q", uitest.Texts(w.Content()))
	}
	uitest.Tap(t, w.Content(), "All or none")
	uitest.Tap(t, w.Content(), "Work it out")
	// 1 − 0.95⁴ = 0.185 and 1 − 0.6⁴ = 0.870, rounded outward
	if !w.Shows("at least one of these 4 carries Serpentovirus today, all of them taken together: 18 to 88 in 100") {
		t.Errorf("of four: %q", uitest.Texts(w.Content()))
	}
	for _, language := range []string{"en", "de"} {
		w := open(t, language)
		for _, act := range []string{"plan.all", "plan.work-out"} {
			uitest.Tap(t, w.Content(), w.Text().Say(act))
		}
		if beside := uitest.OfASurvey(w.Content()); len(beside) > 0 || !w.Shows(map[string]string{"en": ": 18 to 88 in 100", "de": ": 18 bis 88 von 100"}[language]) {
			t.Errorf("%s: beside the chance of at least one there is a figure of a survey: %q; of all %q", language, beside, uitest.Texts(w.Content()))
		}
	}
}

// A tick changes its row alone: the rows stay, with the keys and the scroller where they are.
func TestATickKeepsTheColumn(t *testing.T) {
	w := open(t, "en")
	rows := func() (all []*widgets.Press) {
		uitest.Walk(w.Content(), func(s uitest.Seen) bool {
			if row, is := s.Object.(*widgets.Press); is && slices.Contains([]string{"Bracken", "Gorse", "Heather", "Tansy"}, row.Name()) {
				all = append(all, row)
			}
			return true
		})
		return all
	}
	var scrolled *container.Scroll
	uitest.Walk(w.Content(), func(s uitest.Seen) bool {
		if scroll, is := s.Object.(*container.Scroll); is && scrolled == nil && scroll.Content.MinSize().Height > scroll.Size().Height {
			scrolled = scroll
		}
		return scrolled == nil
	})
	if scrolled == nil {
		t.Fatal("the column does not scroll")
	}
	before := rows()
	w.Canvas().Focus(before[2])
	scrolled.ScrollToOffset(fyne.NewPos(0, 40))
	w.Canvas().Focused().(*widgets.Press).Tapped(nil)
	w.Canvas().Focused().TypedKey(&fyne.KeyEvent{Name: fyne.KeySpace})
	w.Canvas().Focused().TypedKey(&fyne.KeyEvent{Name: fyne.KeySpace})
	uitest.Tap(t, w.Content(), "Work it out")
	before[0].Tapped(nil)
	after := rows()
	if len(after) != 4 || !slices.Equal(before, after) {
		t.Errorf("of %d rows %d are shown, or others", len(before), len(after))
	}
	if w.Canvas().Focused() != fyne.Focusable(before[2]) {
		t.Errorf("the keys are at %v", w.Canvas().Focused())
	}
	if scrolled.Offset.Y != 40 {
		t.Errorf("it scrolled to %v", scrolled.Offset.Y)
	}
	if !w.Shows("2 animals ticked") || !w.Shows("Something was changed since") {
		t.Errorf("shows %q", uitest.Texts(w.Content()))
	}
}

// What was worked out stays good when something is noted that it does not rest on, and does
// not when something is that it does.
func TestWhatMakesAPlanOld(t *testing.T) {
	w := open(t, "en")
	uitest.Tap(t, w.Content(), "Gorse")
	uitest.Tap(t, w.Content(), "Work it out")
	do := func(c model.Command) {
		if _, err := w.Collection().Do(c); err != nil {
			t.Fatal(err)
		}
	}
	do(people.Add{Person: people.Person{Name: "Somebody"}})
	if w.Shows("Something was changed since") {
		t.Error("a person makes it old")
	}
	do(samples.Prepare{Tables: w.Tables(), Each: []samples.New{{Animals: []model.AnimalID{w.Animal("Gorse").ID}, Sample: samples.Sample{Material: "choanal-swab", For: []knowledge.AgentID{"serpentovirus"}}}}})
	if !w.Shows("Something was changed since") {
		t.Error("a sample does not make it old")
	}
	// a sample that lies there for no plan stays beside the plan, which is said
	uitest.Tap(t, w.Content(), "Heather")
	uitest.Tap(t, w.Content(), "Work it out")
	if !w.Shows("For Gorse a sample lies in the tray already that is of no plan") {
		t.Errorf("what stays beside the plan is not said: %q", uitest.Texts(w.Content()))
	}
	uitest.Tap(t, w.Content(), "Lay the plan out")
	if !slices.ContainsFunc(all(w), func(s samples.Stored) bool { return s.Planned == nil }) {
		t.Error("what was of no plan is taken out with it")
	}
	w.Go(place.Route{To: place.Plan})
	uitest.Tap(t, w.Content(), "Gorse")
	uitest.Tap(t, w.Content(), "Work it out")
	if w.Shows("that is of no plan") {
		t.Error("a sample of another animal is said to stay")
	}
}

// Where nobody is ticked it is said at the animals, however far down the column was scrolled.
func TestNobodyIsTicked(t *testing.T) {
	w := open(t, "en")
	var column *container.Scroll
	uitest.Walk(w.Content(), func(s uitest.Seen) bool {
		if scroll, is := s.Object.(*container.Scroll); is && column == nil && scroll.Content.MinSize().Height > scroll.Size().Height {
			column = scroll
		}
		return column == nil
	})
	if column == nil {
		t.Fatal("the column does not scroll")
	}
	column.ScrollToBottom()
	down := column.Offset.Y
	uitest.Tap(t, w.Content(), "Work it out")
	top, said := float32(0), float32(-1)
	uitest.Walk(w.Content(), func(s uitest.Seen) bool {
		if s.Object == fyne.CanvasObject(column) {
			top = s.At.Y
		}
		if text, is := s.Object.(*widgets.Text); is && text.Text() == "Please tick at least one" {
			said = s.At.Y
		}
		return said < 0
	})
	if said < top || said > top+100 || column.Offset.Y >= down {
		t.Errorf("the column begins at %v and stands at %v of %v, it is said at %v", top, column.Offset.Y, down, said)
	}
	uitest.Tap(t, w.Content(), "Gorse")
	if w.Shows("Please tick at least one") || !w.Shows("1 animal ticked") {
		t.Errorf("one is ticked: %q", uitest.Texts(w.Content()))
	}
}
