package chances_test

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/chances"
	"coilward/model/contact"
	"coilward/model/evidence"
	"coilward/model/husbandry"
	"coilward/model/knowledge"
	"coilward/model/samples"
	"coilward/model/storetest"
)

// closed closes the positive of what was detected in a sample.
func (w *world) closed(s model.SampleID, of knowledge.AgentID, ago int, why contact.Why) {
	w.Helper()
	p := contact.PositiveID{ID: w.do(contact.Open{Tables: w.tables, Sample: s, Agent: of})}
	w.do(contact.Close{ID: p, Base: 1, At: w.on(ago), Why: why, Note: "as said"})
}

// times are those of an animal, as days ago.
func (w *world) times(animal model.AnimalID, of knowledge.AgentID) (all []string) {
	w.Helper()
	today := w.on(0).Day()
	for _, e := range w.of(animal, of).Exposed {
		all = append(all, fmt.Sprintf("%s %d-%d still %v", e.By, today-e.From, today-e.Until, e.Still))
	}
	return all
}

// That a positive was closed does not say that what stays is gone: who shares the room goes on
// being exposed, unless the close says that it left, or that what can be got rid of is gone, or
// the result was called off.
func TestExposed_AfterAPositiveWasClosed(t *testing.T) {
	open, after := "positive 300-20 still false", "carrier 19-0 still true"
	for name, c := range map[string]struct {
		of   knowledge.AgentID
		why  contact.Why
		want []string
	}{
		"it stays, by the vet's word":        {virus, contact.VetsWord, []string{open, after}},
		"it stays, otherwise":                {virus, contact.Otherwise, []string{open, after}},
		"said to have left":                  {virus, contact.Gone, []string{open}},
		"not confirmed":                      {virus, contact.NotConfirmed, nil},
		"rid of, by the vet's word":          {worms, contact.VetsWord, []string{open}},
		"can be got rid of, yet nobody said": {worms, contact.Otherwise, []string{open, after}},
	} {
		w := begin(t)
		s := w.sample(map[knowledge.AgentID]knowledge.MaterialID{virus: "oral-swab", worms: "faeces"}[c.of], 60, c.of, samples.Detected, w.birch)
		w.closed(s, c.of, 20, c.why)
		if got := w.times(w.ash, c.of); !slices.Equal(got, c.want) {
			t.Errorf("%s: %v, want %v", name, got, c.want)
		}
		if got := w.times(w.birch, c.of); got != nil {
			t.Errorf("%s: by itself: %v", name, got)
		}
	}
}

// By hand: until it was closed 50 in 10,000 a day, after it as much of that as is likely by
// its own samples; 281 days and 20.
func TestExposed_AfterItWasClosedItCountsByItsOwnSamples(t *testing.T) {
	w := begin(t)
	s := w.sample("oral-swab", 60, virus, samples.Detected, w.birch)
	w.closed(s, virus, 20, contact.VetsWord)
	carries := .2 * .85 / (.2*.85 + .8*.005)
	near(t, "one that carried it", w.of(w.ash, virus).Now.Mid, 1-.8*math.Pow(1-.005, 281)*math.Pow(1-.005*carries, 20))
	c := w.of(w.ash, virus)
	if c.Act != evidence.Apart || keys([]chances.Line{c.Follows(w.names())})[0] != "act.apart-carrier" {
		t.Errorf("what follows: %s, %v", c.Act, c.Follows(w.names()))
	}
	if said := c.Exposed[1]; w.read().Room(said.Room) != "Loft" {
		t.Errorf("in %s", w.read().Room(said.Room))
	}
	for _, language := range []string{"en", "de"} {
		w.sound(language, c)
	}
	before := c.Exposed[1].Daily
	w.sample("oral-swab", 15, virus, samples.NotDetected, w.birch)
	if after := w.of(w.ash, virus).Exposed[1].Daily; !(after.Mid < before.Mid && after.Low < before.Low) {
		t.Errorf("after a sample in which it was not detected: %v, before %v", after, before)
	}
	w.do(husbandry.Move{Animal: w.birch, Place: w.boxes[4], At: w.on(5), Confirmed: yes})
	if got := w.times(w.ash, virus); !slices.Equal(got, []string{"positive 300-20 still false", "carrier 19-5 still false"}) {
		t.Errorf("parted: %v", got)
	}
	if got := w.times(w.fir, virus); !slices.Equal(got, []string{"carrier 5-0 still true"}) {
		t.Errorf("of the room into which it went: %v", got)
	}
}

// Of a pool that was closed as gone it is not known which of its animals left: those that are
// here count on. One that left alone and came again counts from then on.
func TestExposed_GoneAndBack(t *testing.T) {
	w := begin(t)
	s := w.sample("choanal-swab", 60, virus, samples.Detected, w.birch, w.elm)
	w.closed(s, virus, 20, contact.Gone)
	got := w.times(w.ash, virus)
	if n := slices.DeleteFunc(got, func(s string) bool { return s != "carrier 19-0 still true" }); len(n) != 2 {
		t.Errorf("a pool: %v", w.times(w.ash, virus))
	}
	w = begin(t)
	s = w.sample("oral-swab", 60, virus, samples.Detected, w.birch)
	w.closed(s, virus, 20, contact.Gone)
	w.do(husbandry.Move{Animal: w.birch, Place: w.boxes[4], At: w.on(18), Confirmed: yes})
	w.do(husbandry.Move{Animal: w.birch, Place: w.boxes[1], At: w.on(10), Confirmed: yes})
	if got := w.times(w.ash, virus); !slices.Equal(got, []string{"positive 300-20 still false", "carrier 10-0 still true"}) {
		t.Errorf("it came again: %v", got)
	}
}

// The lab put it right after the close: nothing is left to be caught after it.
func TestExposed_PutRightAfterTheClose(t *testing.T) {
	w := begin(t)
	s := w.sample("oral-swab", 60, virus, samples.Detected, w.birch)
	w.closed(s, virus, 20, contact.VetsWord)
	w.do(samples.Correct{Tables: w.tables, ID: s, Base: 2, Result: samples.Result{Of: virus, Outcome: samples.NotDetected, At: w.on(10), Why: "mixed up"}})
	if got := w.times(w.ash, virus); len(got) > 0 {
		t.Errorf("%v", got)
	}
}

// What the lab put right asks for no vet while its positive is open still, and endangers nobody.
func TestDetected_PutRightWhileOpen(t *testing.T) {
	w := begin(t)
	s := w.sample("oral-swab", 60, virus, samples.Detected, w.birch)
	w.do(contact.Open{Tables: w.tables, Sample: s, Agent: virus})
	if c := w.of(w.birch, virus); c.Act != evidence.Vet {
		t.Errorf("detected: %s", c.Act)
	}
	w.do(samples.Correct{Tables: w.tables, ID: s, Base: 2, Result: samples.Result{Of: virus, Outcome: samples.NotDetected, At: w.on(10), Why: "mixed up"}})
	if c := w.of(w.birch, virus); c.Act == evidence.Vet || len(w.times(w.ash, virus)) > 0 {
		t.Errorf("put right: %s, near it %v", c.Act, w.times(w.ash, virus))
	}
}

// Detected in a pool and then in its own sample, it is known in which animal.
func TestDetected_ItsOwnSampleGoesBeforeAPool(t *testing.T) {
	w := begin(t)
	w.sample("choanal-swab", 60, virus, samples.Detected, w.birch, w.elm)
	w.sample("oral-swab", 30, virus, samples.Detected, w.birch)
	if c, other := w.of(w.birch, virus), w.of(w.elm, virus); c.Pooled() || !other.Pooled() {
		t.Errorf("pooled %v, the other %v", c.Pooled(), other.Pooled())
	}
}

// Of one that is here no more nothing is asked; of a thing that may stay a closed positive asks
// for the vet's word before another sample.
func TestOf_LeftAndClosed(t *testing.T) {
	w := begin(t)
	s := w.sample("oral-swab", 60, virus, samples.Detected, w.birch)
	w.closed(s, virus, 20, contact.Otherwise)
	if c := w.of(w.birch, virus); c.Act != chances.Closed {
		t.Errorf("closed: %s", c.Act)
	}
	w.do(animals.Change{ID: w.ash, Base: 1, Animal: animals.Animal{Name: "Ash", Status: animals.Died, StatusDay: model.Date{Day: w.on(0).Day(), Precision: model.ToDay}, Since: model.Date{Day: w.on(400).Day(), Precision: model.ToDay}}})
	if c := w.of(w.ash, virus); c.Act != chances.Left {
		t.Errorf("died: %s", c.Act)
	}
	for _, language := range []string{"en", "de"} {
		w.sound(language, w.of(w.ash, virus))
		w.sound(language, w.of(w.birch, virus))
	}
}

// Two samples of one animal in which it was detected are one danger, not two.
func TestExposed_TwoSamplesCountOnce(t *testing.T) {
	w := begin(t)
	w.sample("oral-swab", 60, virus, samples.Detected, w.birch)
	want := w.of(w.ash, virus).Now
	w.sample("oral-swab", 50, virus, samples.Detected, w.birch)
	if got := w.of(w.ash, virus); got.Now != want || len(got.Exposed) != 1 {
		t.Errorf("%v by %v, want %v", got.Now, w.times(w.ash, virus), want)
	}
}

// Where one came and no quarantine was begun, it counts as a newcomer for the 90 days of the
// tables, by the figure of its origin.
func TestExposed_ANewcomerWithoutQuarantine(t *testing.T) {
	w := begin(t)
	w.animal("Gorse", 30, w.boxes[0])
	c := w.of(w.ash, virus)
	if got := w.times(w.ash, virus); !slices.Equal(got, []string{"unquarantined 30-0 still true"}) {
		t.Fatalf("%v", got)
	}
	near(t, "31 days of 50 in 10,000 times 20 in 100", c.Now.Mid, 1-.8*math.Pow(1-.005*.2, 31))
	if c.Act != evidence.Apart || keys([]chances.Line{c.Follows(w.names())})[0] != "act.apart-unquarantined" || !slices.Contains(keys(c.Assumes(w.names())), "still-unquarantined") {
		t.Errorf("it assumes %v, then %v", keys(c.Assumes(w.names())), c.Follows(w.names()))
	}
	for _, language := range []string{"en", "de"} {
		w.sound(language, c)
	}
	late := w.animal("Hazel", 90, w.boxes[2]) // its last day was yesterday: it was none when it was entered
	if got := w.times(w.ash, virus); !slices.Equal(got, []string{"unquarantined 30-0 still true"}) {
		t.Errorf("one that had been here for 90 days: %v", got)
	}
	if got := w.times(w.animal("Ivy", 89, w.boxes[1]), virus); !slices.Contains(got, "unquarantined 30-0 still true") || slices.Contains(got, "unquarantined 90-1 still false") {
		t.Errorf("of one that came then: %v", got)
	}
	if got := w.times(w.ash, virus); !slices.Equal(got, []string{"unquarantined 89-0 still true", "unquarantined 30-0 still true"}) {
		t.Errorf("one that has been here for 89: %v", got)
	}
	w.quarantined(late, 90)
	if got := w.times(w.ash, virus); !slices.Equal(got, []string{"newcomer 90-0 still true", "unquarantined 89-0 still true", "unquarantined 30-0 still true"}) {
		t.Errorf("with a quarantine that was begun: %v", got)
	}
	hatched := model.Date{Day: w.on(5).Day(), Precision: model.ToDay}
	id := model.AnimalID{ID: w.do(animals.Add{Animal: animals.Animal{Name: "Jasmine", Status: animals.Kept, Since: hatched, Hatched: hatched}})}
	w.do(husbandry.Move{Animal: id, Place: w.boxes[0], At: w.on(5), Confirmed: yes})
	if got := w.times(w.elm, virus); slices.ContainsFunc(got, func(s string) bool { return s == "unquarantined 5-0 still true" }) {
		t.Errorf("one that hatched here counts as a newcomer: %v", got)
	}
}

// A quarantine that cannot be read counts as one that was not released, and is told of.
func TestExposed_AQuarantineThatCannotBeRead(t *testing.T) {
	w := begin(t)
	if n := w.read().UnreadQuarantines(); n != 0 {
		t.Errorf("%d cannot be read where there is none", n)
	}
	w.do(storetest.Put{Documents: []model.Document{{Type: model.TypeQuarantine, ID: model.ID{8}, Version: 1, At: w.on(200), Subjects: []model.Subject{w.birch.Subject()}, Body: []byte("[]")}}})
	if got := w.times(w.ash, virus); !slices.Equal(got, []string{"newcomer 200-0 still true"}) {
		t.Errorf("%v", got)
	}
	if n := w.read().UnreadQuarantines(); n != 1 {
		t.Errorf("%d cannot be read, want 1", n)
	}
}

// No day with another animal counts twice, whatever was detected, closed, begun and released;
// and each day on which one shared a room with another of which it may be caught counts.
func TestExposed_EachDayCountsOnce(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		w := begin(t)
		all := []model.AnimalID{w.ash, w.birch, w.elm, w.fir}
		last, at := 299, 1
		for range rapid.IntRange(0, 4).Draw(rt, "moves") {
			if last = rapid.IntRange(1, last-1).Draw(rt, "day"); last == 1 {
				break
			}
			at = rapid.SampledFrom(map[int][]int{1: {3, 4}, 3: {1, 4}, 4: {1, 3}}[at]).Draw(rt, "to")
			w.do(husbandry.Move{Animal: w.birch, Place: w.boxes[at], At: w.on(last), Confirmed: yes})
		}
		for range rapid.IntRange(0, 3).Draw(rt, "positives") {
			ago := rapid.IntRange(30, 200).Draw(rt, "taken")
			s := w.sample("oral-swab", ago, virus, samples.Detected, w.birch)
			if why := rapid.SampledFrom([]contact.Why{"", contact.VetsWord, contact.Otherwise}).Draw(rt, "why"); why != "" {
				w.closed(s, virus, rapid.IntRange(0, 25).Draw(rt, "closed"), why)
			}
		}
		if rapid.Bool().Draw(rt, "quarantine") {
			w.quarantined(w.birch, rapid.IntRange(0, 350).Draw(rt, "arrived"))
		}
		for _, id := range all {
			counted := map[string]bool{}
			for _, e := range w.of(id, virus).Exposed {
				if e.To == id || e.From > e.Until || e.Still && e.Until != w.on(0).Day() {
					rt.Fatalf("a time of it: %+v", e)
				}
				for d := e.From; d <= e.Until; d++ {
					day := fmt.Sprint(e.To, d)
					if counted[day] {
						rt.Fatalf("day %d with %s counts twice", d, e.To)
					}
					counted[day] = true
				}
			}
		}
	})
}

// A sample soon after a contact began says little of that contact, and what it can of all before it;
// who goes on living together begins no new one.
func TestOf_TooSoonAfterAContact(t *testing.T) {
	for name, c := range map[string]struct {
		taken int
		found samples.Outcome
		also  int // days ago on which the quarantine of a second newcomer began
		want  chances.Soon
		since int
	}{
		"before it began":                {110, samples.NotDetected, 0, "", 0},
		"the day on which it began":      {105, samples.NotDetected, 0, chances.Near, 105},
		"within the days assumed":        {92, samples.NotDetected, 0, chances.Near, 105},
		"within the longest":             {91, samples.NotDetected, 0, chances.NearAtTheLongest, 105},
		"the last of the longest":        {64, samples.NotDetected, 0, chances.NearAtTheLongest, 105},
		"after the longest":              {63, samples.NotDetected, 0, "", 0},
		"detected":                       {100, samples.Detected, 0, "", 0},
		"the contact that began last":    {90, samples.NotDetected, 95, chances.Near, 95},
		"before the second of two began": {97, samples.NotDetected, 95, chances.Near, 105},
	} {
		w := begin(t)
		w.quarantined(w.elm, 105)
		if c.also != 0 {
			w.quarantined(w.birch, c.also)
		}
		id := w.sample("oral-swab", c.taken, virus, samples.Pending, w.ash)
		would := w.suppose(chances.Supposed{Sample: id, Of: virus, Outcome: c.found})[0]
		w.do(samples.Enter{Tables: w.tables, At: w.on(0), Rows: []samples.Row{{On: samples.On{ID: id, Base: 1}, Found: []samples.Found{{Of: virus, Outcome: c.found}}}}, Confirmed: yes})
		want := chances.TooSoon{Soon: c.want}
		if c.since != 0 {
			want.Since = w.on(c.since).Day()
		}
		step := w.of(w.ash, virus).Steps[0]
		if step.TooSoon != want || would.TooSoon != want || step.Early() {
			t.Errorf("%s: %+v, supposed %+v, want %+v", name, step.TooSoon, would.TooSoon, want)
		}
		if c.want != "" {
			said := step.Says()
			if got := keys(said); !slices.Equal(got, []string{"step", "soon." + string(c.want)}) || said[1].Gaps["Day"] != want.Since {
				t.Errorf("%s: it says %v", name, said)
			}
			for _, language := range []string{"en", "de"} {
				w.sound(language, w.of(w.ash, virus))
			}
		}
	}
}

// Who came lately is too early by that, whomever it met.
func TestOf_TooSoonAfterArrivalGoesBeforeAContact(t *testing.T) {
	w := begin(t)
	w.quarantined(w.elm, 105)
	late := w.animal("Gorse", 100, w.boxes[2])
	w.sample("oral-swab", 95, virus, samples.NotDetected, late)
	if got := w.of(late, virus).Steps[0].TooSoon; got != (chances.TooSoon{Soon: chances.Early}) {
		t.Errorf("%+v", got)
	}
}

// Living on with the same animal after its positive was closed is no new contact; one that came
// again is.
func TestOf_TooSoon_WhoLivesOnWithTheSameBeginsNoNewContact(t *testing.T) {
	for back, want := range map[bool]chances.Soon{false: "", true: chances.Near} {
		w := begin(t)
		s := w.sample("oral-swab", 60, virus, samples.Detected, w.birch)
		w.closed(s, virus, 20, contact.VetsWord)
		if back {
			w.do(husbandry.Move{Animal: w.birch, Place: w.boxes[4], At: w.on(18), Confirmed: yes})
			w.do(husbandry.Move{Animal: w.birch, Place: w.boxes[1], At: w.on(12), Confirmed: yes})
		}
		w.sample("oral-swab", 8, virus, samples.NotDetected, w.ash)
		if got := w.of(w.ash, virus).Steps[0].TooSoon; got.Soon != want || back && got.Since != w.on(12).Day() {
			t.Errorf("came again %v: %+v", back, got)
		}
	}
}

// Who was detected in a pool counts as if it carried the thing for certain, and that it is not known
// is said; its own sample goes before the pool.
func TestExposed_DetectedInAPool(t *testing.T) {
	w := begin(t)
	w.sample("choanal-swab", 60, virus, samples.Detected, w.birch, w.fir)
	c := w.of(w.ash, virus)
	if len(c.Exposed) != 1 || !c.Exposed[0].Pool || c.Exposed[0].By != chances.ByPositive || c.Exposed[0].Daily.Mid != .005 {
		t.Fatalf("exposed: %+v", c.Exposed)
	}
	if got := keys(c.Assumes(w.names())); !slices.Contains(got, "still-pool-positive") || slices.Contains(got, "still-positive") {
		t.Errorf("it assumes %v", got)
	}
	w.do(husbandry.Move{Animal: w.birch, Place: w.boxes[4], At: w.on(5), Confirmed: yes})
	c = w.of(w.ash, virus)
	if got := keys(c.Assumes(w.names())); !slices.Contains(got, "pool-positive") {
		t.Errorf("parted, it assumes %v", got)
	}
	for _, language := range []string{"en", "de"} {
		w.sound(language, c)
	}
	w.sample("oral-swab", 50, virus, samples.Detected, w.birch)
	c = w.of(w.ash, virus)
	if len(c.Exposed) != 1 || c.Exposed[0].Pool {
		t.Errorf("its own sample says it: %+v", c.Exposed)
	}
}
