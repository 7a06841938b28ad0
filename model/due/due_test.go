package due_test

import (
	"slices"
	"testing"
	"time"

	"coilward/assets"
	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/due"
	"coilward/model/knowledge"
	"coilward/model/wording"
)

const day = 24 * time.Hour

// Every job has a feeder, and what a person reads of it in every language.
func TestEveryJobHasAFeederAndTexts(t *testing.T) {
	languages, err := wording.Load(assets.Text())
	if err != nil {
		t.Fatal(err)
	}
	fed := map[due.Job]bool{}
	for _, f := range due.Feeders() {
		for _, j := range f.Jobs {
			fed[j] = true
			if !slices.Contains(due.Jobs(), j) {
				t.Errorf("the feeder of %s makes %s due, which is no job", f.Name, j)
			}
		}
	}
	var keys []string
	for _, j := range due.Jobs() {
		if !fed[j] {
			t.Errorf("no feeder makes %s due", j)
		}
		keys = append(keys, "due.job."+string(j))
	}
	for _, a := range due.Acts() {
		keys = append(keys, "due.act."+string(a))
	}
	for _, a := range due.Whats() {
		keys = append(keys, "due.answer."+string(a), "due.noted."+string(a))
	}
	for _, d := range due.Doings() {
		keys = append(keys, "due.undone."+string(d))
	}
	for _, code := range languages.Codes() {
		for _, key := range keys {
			if !languages.In(code, wording.Units{}).Has(key) {
				t.Errorf("%s: %s has no text", code, key)
			}
		}
	}
}

// The next offer goes by the class of the animal. The days are those of the table
// of rhythms; source: keeper pages of low quality and common practice, no source.
func TestNextOfferByClass(t *testing.T) {
	hatched := func(days int) model.Date {
		return model.Date{Day: newWorld(t, ball()).today() - model.Day(days), Precision: model.ToDay}
	}
	for _, c := range []struct {
		name       string
		animal     animals.Animal
		grams      int64
		from, by   int
		knowsClass bool
	}{
		{"hatchling by mass", ball(), 199, 5, 7, true},
		{"juvenile by mass", ball(), 200, 7, 10, true},
		{"subadult by mass", ball(), 500, 10, 14, true},
		{"adult by mass", ball(), 1000, 14, 28, true},
		{"mass before age", animals.Animal{Name: "A", Species: "python-regius", Hatched: hatched(1200)}, 300, 7, 10, true},
		{"another species by age", animals.Animal{Name: "A", Species: "morelia-spilota", Hatched: hatched(50)}, 1500, 5, 7, true},
		{"another species without an age by mass", animals.Animal{Name: "A", Species: "morelia-spilota"}, 1500, 14, 28, true},
		{"age alone", animals.Animal{Name: "A", Hatched: hatched(1200)}, 0, 14, 28, true},
		{"neither mass nor age", ball(), 0, 5, 7, false},
	} {
		w := newWorld(t, c.animal)
		if c.grams > 0 {
			w.weigh(20, c.grams)
		}
		w.feed(3, care.Took)
		o := w.one(due.Offer)
		if from, by := int(o.From-o.Since), int(o.By-o.Since); from != c.from || by != c.by || o.Since != w.today()-3 {
			t.Errorf("%s: from day %d to day %d after %s, want %d to %d", c.name, from, by, o.Since, c.from, c.by)
		}
		if (o.Caution == "due.caution.class") == c.knowsClass {
			t.Errorf("%s: caution %q", c.name, o.Caution)
		}
	}
}

// After a refusal the whole time is waited again, after prey was brought up the
// days of the tables. Source: common practice, no source.
func TestOfferAfterARefusalAndAfterPreyWasBroughtUp(t *testing.T) {
	w := newWorld(t, ball())
	w.weigh(20, 700)
	w.feed(14, care.Took)
	w.feed(1, care.Refused)
	if o := w.one(due.Offer); o.By != w.today()+13 || o.State != due.Later || o.Reasons[0].Key != "due.why.refused" {
		t.Errorf("after a refusal: %+v", o)
	}
	w.feed(0, care.Refused)
	if o := w.one(due.Offer); o.Reasons[0].Key != "due.why.refused-again" || o.Reasons[0].Gaps["Count"].Number != 2 {
		t.Errorf("after two: %+v", o.Reasons)
	}
	w = newWorld(t, ball())
	w.weigh(20, 700)
	w.feed(4, care.Regurgitated)
	if o := w.one(due.Offer); o.By != w.today()+10 || o.From != o.By || o.Reasons[0].Key != "due.why.brought-up" {
		t.Errorf("brought up: %+v", o)
	}
}

// An adult that fasts is asked once, on a day, and is late on none after it; a
// young one is.
func TestAFastingAdultIsAskedOnce(t *testing.T) {
	for _, c := range []struct {
		name        string
		grams       int64
		kept, tried int // days ago
		once        bool
		state       due.State
	}{
		{"adult, its day to come", 1400, 70, 20, true, due.Later},
		{"adult, on its day", 1400, 70, 28, true, due.Today},
		{"adult, long after it", 1400, 120, 60, true, due.Today},
		{"adult that eats", 1400, 40, 30, false, due.Late},
		{"subadult", 700, 70, 20, false, due.Late},
	} {
		w := newWorld(t, ball())
		w.weigh(20, c.grams)
		w.feed(c.kept, care.Took)
		w.feed(c.tried, care.Refused)
		if o := w.one(due.Offer); o.Once != c.once || o.State != c.state || c.once && o.Reasons[0].Key != "due.why.fasts" {
			t.Errorf("%s: once %t, state %d, %v", c.name, o.Once, o.State, o.Reasons)
		}
	}
}

// Her usual time between meals counts where it is known: twice it, and 28 days at
// least.
func TestWhatIsAFast(t *testing.T) {
	for _, c := range []struct {
		every, last int
		fasts       bool
	}{{10, 27, false}, {10, 28, true}, {20, 40, false}, {20, 41, true}} {
		w := newWorld(t, ball())
		for i := range 4 {
			w.feed(c.last+i*c.every, care.Took)
		}
		w.weigh(c.last, 1400)
		if o := w.one(due.Offer); o.Once != c.fasts {
			t.Errorf("every %d days, last %d days ago: fasts %t", c.every, c.last, o.Once)
		}
	}
}

func TestWeighAndCheckAgain(t *testing.T) {
	w := newWorld(t, ball())
	if o := w.one(due.Weigh); o.State != due.Late || o.Reasons[0].Key != "due.why.never-weighed" {
		t.Errorf("never weighed: %+v", o)
	}
	if o := w.one(due.Check); o.State != due.Late || o.Reasons[0].Key != "due.why.never-checked" {
		t.Errorf("never checked: %+v", o)
	}
	w.weigh(14, 300)
	w.check(40, false, nil)
	w.check(2, true, nil) // brief
	if o := w.one(due.Weigh); o.State != due.Today || o.By != w.today() {
		t.Errorf("a juvenile 14 days after it was weighed: %+v", o)
	}
	if o := w.one(due.Check); o.State != due.Late || o.Since != w.today()-40 {
		t.Errorf("a brief look counted as a check: %+v", o)
	}
	w.check(0, false, nil)
	if o := w.one(due.Check); o.State != due.Later || o.By != w.today()+30 {
		t.Errorf("checked today: %+v", o)
	}
}

// Nobody is asked to lift an animal in the rest after its meal: 48 hours, as the
// tables have it, and to the hour.
func TestNotLiftedAfterAMeal(t *testing.T) {
	w := newWorld(t, ball())
	w.weigh(30, 1400)
	w.feed(0, care.Took)
	if o := w.one(due.Weigh); o.By != w.today()+2 || o.State != due.Later || o.Caution != "due.caution.rest" {
		t.Errorf("just fed: %+v", o)
	}
	w.pass(2*day - time.Hour)
	if o := w.one(due.Weigh); o.By != w.today() || o.Caution != "due.caution.rest" {
		t.Errorf("an hour before its rest is over: %+v", o)
	}
	w.pass(2 * time.Hour)
	if o := w.one(due.Weigh); o.By != w.today()-2 || o.Caution != "" {
		t.Errorf("an hour after: %+v", o)
	}
}

func TestLookAfterAShed(t *testing.T) {
	w := newWorld(t, ball())
	w.weigh(10, 1400)
	w.do(care.RecordShed{About: w.about(3), Shed: care.Shed{Skin: care.Whole, StuckEyeCaps: care.No}})
	if o := w.one(due.ShedLook); o.State != due.Late || o.By != w.today()-1 {
		t.Errorf("the tail tip was not looked at: %+v", o)
	}
	w.check(1, false, nil)
	if all := w.of(due.ShedLook); len(all) > 0 {
		t.Errorf("looked at in a check: %+v", all)
	}
	w.pass(30 * day) // sheds that lie close ask for a look of their own
	w.do(care.RecordShed{About: w.about(0), Shed: care.Shed{Skin: care.Whole, StuckEyeCaps: care.No, StuckTailTip: care.No}})
	if all := w.of(due.ShedLook); len(all) > 0 {
		t.Errorf("both were looked at: %+v", all)
	}
}

// What a check found asks for the vet or a new look, and a new look asks anew.
func TestFindingsAskForTheVetAndForALook(t *testing.T) {
	w := newWorld(t, ball())
	w.check(2, false, map[knowledge.StopID]knowledge.FindingID{"rest": "gaping", "snout": "nostril-blocked"})
	vet, look := w.one(due.SeeVet), w.one(due.LookAgain)
	if vet.State != due.Alert || vet.Level != knowledge.EmergencyToday || vet.By != w.today()-2 || vet.Act != due.ActVet || !slices.Equal(vet.For, []knowledge.FindingID{"gaping"}) || len(vet.Reasons) == 0 {
		t.Errorf("vet: %+v", vet)
	}
	if look.State != due.Later || look.By != w.today()+5 || look.Level != knowledge.LookAgain || look.Act != due.ActCheck {
		t.Errorf("look: %+v", look)
	}
	if n := w.list().Pressing(); n != 3 { // the vet, and a weight and an offer that were never noted
		t.Errorf("%d press, want 3", n)
	}
}

// A loss of 10 % is a matter for the vet; source: common practice, no source.
func TestALossAsksForTheVet(t *testing.T) {
	w := newWorld(t, ball())
	for i, g := range []int64{889, 1001, 1001, 1001} {
		w.weigh(35*i, g)
	}
	if o := w.one(due.SeeVet); o.State != due.Alert || o.Reasons[0].Gaps["Share"] != model.ShareGap(1118) || o.By != w.today()+3 {
		t.Errorf("%+v", o)
	}
	if o := w.one(due.Offer); o.Caution != "due.caution.ask-vet" {
		t.Errorf("food is asked for without the caution: %+v", o)
	}
}

// A hatchling or juvenile without a meal for 28 days is a matter for the vet;
// source: common practice, no source.
func TestAYoungAnimalWithoutAMeal(t *testing.T) {
	young := animals.Animal{Name: "Wren", Species: "python-regius"}
	for _, c := range []struct {
		grams, kept int
		asks        bool
	}{{80, 27, false}, {80, 28, true}, {299, 40, true}, {300, 40, false}} {
		w := newWorld(t, young)
		w.weigh(1, int64(c.grams))
		w.feed(c.kept, care.Took)
		w.feed(5, care.Refused)
		if asks := len(w.of(due.SeeVet)) > 0; asks != c.asks {
			t.Errorf("%d g, last kept %d days ago: asks %t", c.grams, c.kept, asks)
		}
	}
}

// Who is gone owes nothing; who is on loan owes only what was found.
func TestWhoIsNotHereOwesNothing(t *testing.T) {
	w := newWorld(t, ball())
	w.check(2, false, map[knowledge.StopID]knowledge.FindingID{"rest": "gaping"})
	to := func(s animals.Status) due.List {
		w.do(animals.SetStatus{ID: w.animal, Base: w.revision(), Status: s, Day: model.Date{Day: w.today(), Precision: model.ToDay}})
		return w.list()
	}
	if l := to(animals.OnLoan); len(l.Items) != 1 || l.Items[0].Job != due.SeeVet || l.Undone[0][0].Of != 0 {
		t.Errorf("on loan: %+v", l.Items)
	}
	if l := to(animals.Sold); len(l.Items) != 0 || len(l.Owners) != 0 {
		t.Errorf("sold: %+v", l.Items)
	}
}

func (w *world) revision() (n uint32) {
	if err := w.c.View(func(v model.View) error {
		a, err := animals.Find(v, w.animal)
		n = a.Revision
		return err
	}); err != nil {
		w.t.Fatal(err)
	}
	return n
}

// What was not done in this month and the last: the calendar's months.
func TestNotDoneThisMonth(t *testing.T) {
	w := newWorld(t, ball()) // 9 June
	other := w.add(animals.Animal{Name: "Ash"})
	w.feed(8, care.Refused) // 1 June
	w.weigh(9, 1000)        // 31 May
	w.check(3, true, nil)   // brief, 6 June
	want := [2]map[due.Doing][]string{
		{due.Looked: {"Ash"}, due.Checked: {"Ash", "Juniper"}, due.Weighed: {"Ash", "Juniper"}, due.Offered: {"Ash"}},
		{due.Looked: nil, due.Checked: {"Juniper"}, due.Weighed: nil, due.Offered: {"Juniper"}}, // Ash came in June
	}
	l := w.list()
	for i := range want {
		for _, u := range l.Undone[i] {
			if u.Doing == due.Cleaned {
				continue // of places
			}
			var names []string
			for _, o := range u.With {
				names = append(names, o.Name)
			}
			if !slices.Equal(names, want[i][u.Doing]) || u.Of != 2-i {
				t.Errorf("month %d, %s: %v of %d, want %v", i, u.Doing, names, u.Of, want[i][u.Doing])
			}
		}
	}
	if l.BySubject()[other.Subject()] == nil {
		t.Error("nothing is due for an animal of which nothing is known")
	}
}

// An animal whose records cannot be read is named and hides nobody else.
func TestAnUnreadAnimalIsNamed(t *testing.T) {
	w := newWorld(t, ball())
	bad := w.add(animals.Animal{Name: "Ash"})
	d := model.Document{Type: model.TypeEntry, Kind: care.KindWeight, ID: model.ID{9}, At: w.now(), Subjects: []model.Subject{bad.Subject()}, Version: 1, Body: []byte(`[]`)}
	w.do(put{d})
	l := w.list()
	if len(l.Unread) != 1 || l.Unread[0].Of.Name != "Ash" || l.Unread[0].Err == nil || len(w.of(due.Weigh)) != 1 {
		t.Errorf("unread %+v, items %+v", l.Unread, l.Items)
	}
}

// A problem that cannot be read hides nothing else of its animal.
func TestAnUnreadProblemHidesNothingElse(t *testing.T) {
	w := newWorld(t, ball())
	before := len(w.list().Items)
	w.do(put{model.Document{Type: model.TypeProblem, ID: model.ID{9}, At: w.now(), Subjects: []model.Subject{w.list().Owners[0].Subject}, Version: 1, Body: []byte(`[]`)}})
	if l := w.list(); len(l.Unread) != 1 || l.Unread[0].Err == nil || len(l.Owners) != 1 || len(l.Items) != before || before == 0 {
		t.Errorf("unread %+v, %d items of %d", l.Unread, len(l.Items), before)
	}
}

type put struct{ d model.Document }

func (put) Name() string { return "test.put" }

func (p put) Plan(model.View) (model.Writes, error) {
	return model.Writes{Put: []model.Document{p.d}}, nil
}
