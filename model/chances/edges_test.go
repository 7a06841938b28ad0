package chances_test

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"coilward/model"
	"coilward/model/chances"
	"coilward/model/contact"
	"coilward/model/evidence"
	"coilward/model/evidence/plan"
	"coilward/model/husbandry"
	"coilward/model/knowledge"
	"coilward/model/samples"
)

// What says something and what says nothing stand among each other by their days, and each way
// of looking is told of once; where there is no sample, that of the first one that would be taken.
func TestOf_StepsAndSights(t *testing.T) {
	w := begin(t)
	if c := w.of(w.ash, virus); len(c.Sights) != 1 || c.Sights[0].ID != "serpentovirus-swab" {
		t.Errorf("before any sample it is seen by %+v", c.Sights)
	}
	w.sample("blood", 100, virus, samples.NotDetected, w.ash)
	w.sample("oral-swab", 90, virus, samples.NotDetected, w.ash)
	w.sample("blood", 80, virus, samples.NotDetected, w.ash)
	w.sample("choanal-swab", 70, virus, samples.NotDetected, w.ash)
	c := w.of(w.ash, virus)
	var days []model.Day
	for _, s := range c.Steps {
		days = append(days, s.Sample.Taken.Day())
	}
	if want := []model.Day{w.on(100).Day(), w.on(90).Day(), w.on(80).Day(), w.on(70).Day()}; !slices.Equal(days, want) {
		t.Errorf("the steps are of %v, want %v", days, want)
	}
	if len(c.Sights) != 1 || c.Sights[0].ID != "serpentovirus-swab" {
		t.Errorf("two swabs are seen by %+v", c.Sights)
	}
}

// The next sample is taken once it can see all that the animal may have caught, by the table
// 14 days after for the virus and 30 for worms, and 42 days after the last that said something.
func TestOf_FromWhenTheNextIsTaken(t *testing.T) {
	w := begin(t)
	w.sample("oral-swab", 10, virus, samples.NotDetected, w.fir)
	w.sample("blood", 6, virus, samples.NotDetected, w.fir)
	if c := w.of(w.fir, virus); c.Act != evidence.Take || c.From != w.on(10-42).Day() {
		t.Errorf("10 days after a swab: %s from %v, today is %v", c.Act, c.From, w.on(0).Day())
	}
	late := w.animal("Gorse", 3, w.boxes[4])
	if c := w.of(late, virus); c.Act != evidence.Take || c.From != w.on(3-14).Day() {
		t.Errorf("of one that came 3 days ago: %s from %v, today is %v", c.Act, c.From, w.on(0).Day())
	}
	// a contact that is over counts also for what does not go through a room
	w.quarantined(w.birch, 40)
	w.do(husbandry.Move{Animal: w.birch, Place: w.boxes[4], At: w.on(5), Confirmed: yes})
	if c := w.of(w.ash, worms); c.Act != evidence.Take || c.From != w.on(5-30).Day() {
		t.Errorf("5 days after a newcomer left the room: %s from %v, today is %v", c.Act, c.From, w.on(0).Day())
	}
}

// On no day has a drawing two points but on that of a sample, before and after it, also where
// several times end on one day, and where a sample is of today.
func TestCourse_EachDayOnce(t *testing.T) {
	w := begin(t)
	for _, newcomer := range []model.AnimalID{w.birch, w.elm} {
		w.quarantined(newcomer, 60)
		w.do(husbandry.Move{Animal: newcomer, Place: w.boxes[4], At: w.on(20), Confirmed: yes})
	}
	w.sample("oral-swab", 0, virus, samples.NotDetected, w.ash)
	c := w.of(w.ash, virus)
	if len(c.Exposed) != 2 {
		t.Fatalf("exposed: %+v", c.Exposed)
	}
	var days []model.Day
	for _, p := range c.Course() {
		days = append(days, p.Day)
	}
	if want := []model.Day{w.on(400).Day(), w.on(61).Day(), w.on(20).Day(), w.on(0).Day(), w.on(0).Day()}; !slices.Equal(days, want) {
		t.Errorf("the days are %v, want %v", days, want)
	}
}

// That pools are wanted and none planned is told wherever more than one animal in a pool was
// wanted, and nowhere else.
func TestPlanned_Singly(t *testing.T) {
	w := begin(t)
	r := w.read()
	for _, c := range []struct {
		of           knowledge.AgentID
		largest, lab int
		want         bool
	}{{worms, 1, 0, false}, {worms, 1, 1, false}, {worms, 2, 0, true}, {worms, 2, 1, true}, {worms, 1, 2, true}, {virus, 2, 2, false}} {
		p, _ := r.Plan([]model.AnimalID{w.fir}, c.of)
		if p.Want(plan.Facts{Largest: c.largest, Lab: plan.Lab{Rounds: 1, Pool: c.lab, Apart: 1}}); p.Singly != c.want {
			t.Errorf("%s in pools of %d, of the laboratory %d: singly is %v", c.of, c.largest, c.lab, p.Singly)
		}
	}
}

// Of what a vet took care of, only what came after it counts as an earlier sample; what was
// detected never does.
func TestPlan_EarlierSamplesSinceItWasRidOfIt(t *testing.T) {
	w := begin(t)
	w.sample("faeces", 100, worms, samples.NotDetected, w.fir)
	found := w.sample("faeces", 60, worms, samples.Detected, w.fir)
	earlier := func() int {
		p, _ := w.read().Plan([]model.AnimalID{w.fir}, worms)
		return p.Animals[0].Earlier
	}
	if got := earlier(); got != 1 {
		t.Errorf("of one not detected and one detected %d count", got)
	}
	p := contact.PositiveID{ID: w.do(contact.Open{Tables: w.tables, Sample: found, Agent: worms})}
	w.do(contact.Close{ID: p, Base: 1, At: w.on(50), Why: contact.VetsWord, Note: "as said"})
	if got := earlier(); got != 0 {
		t.Errorf("of those before it was rid of it %d count", got)
	}
	w.sample("faeces", 10, worms, samples.NotDetected, w.fir)
	if c := w.of(w.fir, worms); earlier() != 1 || c.Begun.Why != chances.ByCleared {
		t.Errorf("of those since then %d count; it begins with %+v", earlier(), c.Begun)
	}
}

// Where no material is one that a keeper takes, a plan is by the first.
func TestPlan_OfWhatAVetTakes(t *testing.T) {
	w := begin(t)
	w.tables = tablesWith(t, map[string]string{
		"sight.txt":    "arena-tissue | reptarenavirus | any | tissue | pcr | 500 | 700 | 900 | 990 | 100 | 300 | 600 | 30 | 950 | assumed\n",
		"carriers.txt": "reptarenavirus | 7 | 14 | 42 | 10 | 50 | 200 | no | assumed\n",
		"priors.txt":   "arena-any | reptarenavirus | any | 50 | 200 | 400 | assumed\n",
	})
	if p, ok := w.read().Plan([]model.AnimalID{w.ash}, "reptarenavirus"); !ok || p.By.ID != "arena-tissue" || p.Material != "tissue" {
		t.Errorf("by %q of %q", p.By.ID, p.Material)
	}
}

// What one may be a carrier of since a positive was closed ends on the day before another begins.
func TestExposed_ACarrierInWhichItIsDetectedAgain(t *testing.T) {
	w := begin(t)
	w.closed(w.sample("oral-swab", 200, virus, samples.Detected, w.birch), virus, 150, contact.Otherwise)
	w.sample("oral-swab", 100, virus, samples.NotDetected, w.birch)
	w.sample("oral-swab", 50, virus, samples.Detected, w.birch)
	got := w.times(w.ash, virus)
	if want := []string{"carrier 149-101 still false", "positive 100-0 still true"}; len(got) != 3 || !slices.Equal(got[1:], want) {
		t.Errorf("%v, want at last %v", got, want)
	}
}

// A newcomer that came on the day after another had left is not that other.
func TestExposed_OneNewcomerAfterAnother(t *testing.T) {
	w := begin(t)
	w.quarantined(w.birch, 60)
	w.do(husbandry.Move{Animal: w.birch, Place: w.boxes[4], At: w.on(31), Confirmed: yes})
	w.quarantined(w.elm, 30)
	if got := w.times(w.ash, virus); !slices.Equal(got, []string{"newcomer 60-31 still false", "newcomer 30-0 still true"}) {
		t.Errorf("%v", got)
	}
}

// The days beside a newcomer before its positive go back count on, with what was known of it
// then; that something was detected in it takes no chance away from those beside it.
func TestExposed_ANewcomerInWhichItIsDetected(t *testing.T) {
	w := begin(t)
	w.quarantined(w.birch, 60)
	w.sample("oral-swab", 30, virus, samples.NotDetected, w.birch)
	before := w.of(w.ash, virus).Now
	s := w.sample("oral-swab", 10, virus, samples.Detected, w.birch)
	want := []string{"newcomer 60-31 still false", "positive 30-0 still true"}
	if got := w.times(w.ash, virus); !slices.Equal(got, want) {
		t.Errorf("%v, want %v", got, want)
	}
	c := w.of(w.ash, virus)
	// 30 days of 50 in 10,000 times the 20 in 100 with which it began, then 31 days of 50 in 10,000.
	near(t, "beside one in which it was detected", c.Now.Mid, 1-(1-.2)*math.Pow(1-.005*.2, 30)*math.Pow(1-.005, 31))
	if c.Now.Low < before.Low || c.Now.Mid < before.Mid || c.Now.High < before.High {
		t.Errorf("%v before it was detected in the other, %v after", before, c.Now)
	}
	w.closed(s, virus, 5, contact.Otherwise)
	want = []string{"newcomer 60-31 still false", "positive 30-5 still false", "carrier 4-0 still true"}
	if got := w.times(w.ash, virus); !slices.Equal(got, want) {
		t.Errorf("closed: %v, want %v", got, want)
	}
}

// However it was sampled and moved, a newcomer in which it is detected is no less of a hazard
// than before.
func TestExposed_DetectedInANewcomerLowersNothing(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		w := begin(t)
		arrived := rapid.IntRange(20, 300).Draw(rt, "arrived")
		w.quarantined(w.birch, arrived)
		for range rapid.IntRange(0, 3).Draw(rt, "samples") {
			w.sample("oral-swab", rapid.IntRange(10, arrived).Draw(rt, "taken"), virus, samples.NotDetected, w.birch)
		}
		if rapid.Bool().Draw(rt, "moved") {
			w.do(husbandry.Move{Animal: w.birch, Place: w.boxes[4], At: w.on(rapid.IntRange(5, arrived).Draw(rt, "out")), Confirmed: yes})
		}
		before := w.of(w.ash, virus).Now
		w.sample("oral-swab", rapid.IntRange(5, arrived).Draw(rt, "found"), virus, samples.Detected, w.birch)
		if after := w.of(w.ash, virus).Now; after.Low < before.Low-1e-12 || after.Mid < before.Mid-1e-12 || after.High < before.High-1e-12 {
			rt.Fatalf("%v before it was detected in the other, %v after", before, after)
		}
	})
}

// What was detected of another thing, before or after, hides no positive of this one.
func TestExposed_BesidePositivesOfOtherThings(t *testing.T) {
	for _, ago := range [][2]int{{40, 10}, {10, 40}} {
		w := begin(t)
		w.sample("faeces", ago[0], worms, samples.Detected, w.elm)
		w.sample("oral-swab", ago[1], virus, samples.Detected, w.birch)
		if c := w.of(w.ash, virus); len(c.Exposed) != 1 || c.Exposed[0].To != w.birch || c.Exposed[0].By != chances.ByPositive {
			t.Errorf("worms %d days ago, the virus %d: exposed %+v", ago[0], ago[1], c.Exposed)
		}
		if c := w.of(w.ash, worms); len(c.Exposed) != 1 || c.Exposed[0].To != w.elm || c.Exposed[0].By != chances.ByPositive {
			t.Errorf("worms %d days ago, the virus %d: exposed to worms %+v", ago[0], ago[1], c.Exposed)
		}
	}
}
