package medicine_test

import (
	"errors"
	"math/big"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/shopspring/decimal"
	"pgregory.net/rapid"

	"coilward/assets"
	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/collection"
	"coilward/model/husbandry"
	"coilward/model/knowledge"
	"coilward/model/medicine"
	"coilward/model/people"
	"coilward/model/storetest"
)

func tables(t testing.TB) *knowledge.Tables {
	t.Helper()
	all, err := knowledge.Load(assets.Knowledge())
	if err != nil {
		t.Fatal(err)
	}
	return all
}

func amount(typed string) medicine.Amount {
	return medicine.Amount{Millionths: decimal.RequireFromString(typed).Shift(6).IntPart(), Typed: typed}
}

func perKilogram(dose, concentration string) medicine.Prescription {
	return medicine.Prescription{Medicine: "Solution of the vet", Form: medicine.PerKilogram, Measure: medicine.Milligrams, Concentration: amount(concentration),
		Route: medicine.ByMouth, Steps: []medicine.Step{{Day: 1, Times: 10, Every: 24, Dose: amount(dose)}}}
}

// The worked examples of made-up figures: volume = dose per kilogram × kilograms ÷
// concentration, to the 0.01 mL of a syringe of 1 mL. Computed by hand.
func TestDraw(t *testing.T) {
	all := tables(t)
	for name, c := range map[string]struct {
		dose, concentration string
		mass                model.Mass
		exact               string
		drawn, implied, off int64
		small               bool
	}{
		"20 mg/kg, 1450 g, 50 mg/mL":              {"20", "50", model.Grams(1450), "0.58", 580, 20_000_000, 0, false},
		"5 mg/kg, 85 g, 10 mg/mL":                 {"5", "10", model.Grams(85), "0.0425", 40, 4_705_882, -59, true},
		"grams typed as kilograms":                {"5", "10", model.Grams(85_000), "42.5", 42_500, 5_000_000, 0, false},
		"a 2.5 % solution is 25 mg/mL":            {"10", "25", model.Grams(500), "0.2", 200, 10_000_000, 0, false},
		"half a mark is drawn up":                 {"5", "10", model.Grams(90), "0.045", 50, 5_555_556, 111, true},
		"exactly the smallest":                    {"5", "10", model.Grams(100), "0.05", 50, 5_000_000, 0, false},
		"exactly one small syringe":               {"10", "10", model.Grams(1000), "1", 1000, 10_000_000, 0, false},
		"more than one small syringe":             {"10", "10", model.Grams(1040), "1.04", 1000, 9_615_385, -38, false},
		"no end of decimals":                      {"10", "3", model.Grams(100), "0.333333", 330, 9_900_000, -10, false},
		"too little to stand on the syringe":      {"1", "100", model.Grams(100), "0.001", 0, 0, -1000, true},
		"hundredths of a milligram, fine figures": {"0.05", "0.1", model.Grams(1450), "0.725", 730, 50_345, 7, false},
	} {
		d := perKilogram(c.dose, c.concentration).Draw(all, 0, c.mass, 1)
		if !d.Exact.Equal(decimal.RequireFromString(c.exact)) || d.Drawn != c.drawn || d.Implied != c.implied || d.Off != c.off || d.Small != c.small {
			t.Errorf("%s: %s mL, drawn %d, which is %d, off %d, small %v", name, d.Exact, d.Drawn, d.Implied, d.Off, d.Small)
		}
	}
	fluid := medicine.Prescription{Form: medicine.PerKilogram, Measure: medicine.Millilitres, Steps: []medicine.Step{{Day: 1, Times: 1, Dose: amount("20")}}}
	if d := fluid.Draw(all, 0, model.Grams(1450), 1); d.Drawn != 29_000 {
		t.Errorf("20 mL/kg of 1450 g: %d", d.Drawn)
	}
	fixed := medicine.Prescription{Form: medicine.Volume, Steps: []medicine.Step{{Day: 1, Times: 1, Dose: amount("0.03")}}}
	if d := fixed.Draw(all, 0, model.Grams(5000), 1); d.Drawn != 30 || !d.Small {
		t.Errorf("a fixed volume: %+v", d)
	}
}

// What is drawn comes back to the dose within half a mark of the syringe.
func TestDraw_ComesBackToTheDose(t *testing.T) {
	all := tables(t)
	rapid.Check(t, func(t *rapid.T) {
		p := perKilogram("1", "1")
		p.Steps[0].Dose.Millionths = rapid.Int64Range(1, 200_000_000).Draw(t, "dose")
		p.Concentration.Millionths = rapid.Int64Range(1, 500_000_000).Draw(t, "concentration")
		mass := model.Mass{Milligrams: rapid.Int64Range(1, 90_000_000).Draw(t, "mass")}
		d := p.Draw(all, 0, mass, 1)
		exact := big.NewRat(p.Steps[0].Dose.Millionths, 1) // microlitres: ng/kg × mg ÷ ng/mL ÷ 1000
		exact.Mul(exact, big.NewRat(mass.Milligrams, 1000)).Quo(exact, big.NewRat(p.Concentration.Millionths, 1))
		mark := int64(10)
		if new(big.Rat).Sub(exact, big.NewRat(1000, 1)).Cmp(big.NewRat(1, 1000)) > 0 {
			mark = 100
		}
		off := new(big.Rat).Sub(exact, big.NewRat(d.Drawn, 1))
		if off.Abs(off).Cmp(big.NewRat(mark, 2)) > 0 && mark == 100 || off.Cmp(big.NewRat(100, 2)) > 0 {
			t.Fatalf("%v µL, drawn %d", exact, d.Drawn)
		}
		if d.Drawn%10 != 0 {
			t.Fatalf("drawn %d", d.Drawn)
		}
	})
}

func moment(day, hour int) model.Moment {
	return model.MomentOf(time.Date(2027, 3, day, hour, 0, 0, 0, time.UTC))
}

func onDay(day int) model.Date {
	return model.Date{Day: model.NewDay(2027, 3, day), Precision: model.ToDay}
}

// The days of a course: a first dose that differs, days 1 and 14, two a day, to a last
// day.
func TestPlan(t *testing.T) {
	days := func(p medicine.Prescription) (all [][2]int) {
		for _, one := range p.Plan() {
			all = append(all, [2]int{int(one.Day-model.NewDay(2027, 3, 1)) + 1, one.Minutes / 60})
		}
		return all
	}
	for name, c := range map[string]struct {
		p    medicine.Prescription
		want [][2]int
	}{
		"a first dose that differs": {medicine.Prescription{Steps: []medicine.Step{{Day: 1, Times: 1}, {Day: 2, Times: 3, Every: 48}}}, [][2]int{{1, 9}, {2, 9}, {4, 9}, {6, 9}}},
		"days 1 and 14":             {medicine.Prescription{Steps: []medicine.Step{{Day: 1, Times: 1}, {Day: 14, Times: 1}}}, [][2]int{{1, 9}, {14, 9}}},
		"twice a day":               {medicine.Prescription{Steps: []medicine.Step{{Day: 1, Times: 4, Every: 12}}}, [][2]int{{1, 9}, {1, 21}, {2, 9}, {2, 21}}},
		"every 36 hours":            {medicine.Prescription{Steps: []medicine.Step{{Day: 1, Times: 3, Every: 36}}}, [][2]int{{1, 9}, {2, 21}, {4, 9}}},
		"to the last day":           {medicine.Prescription{Steps: []medicine.Step{{Day: 1, Every: 72}}, Last: onDay(8)}, [][2]int{{1, 9}, {4, 9}, {7, 9}}},
		"to the next step":          {medicine.Prescription{Steps: []medicine.Step{{Day: 1, Every: 24}, {Day: 3, Times: 1}}}, [][2]int{{1, 9}, {2, 9}, {3, 9}}},
		"without an end":            {medicine.Prescription{Steps: []medicine.Step{{Day: 1, Every: 24}}}, nil},
		"interval 0":                {medicine.Prescription{Steps: []medicine.Step{{Day: 1, Times: 3}}}, [][2]int{{1, 9}}},
	} {
		c.p.Begins = moment(1, 9)
		if diff := cmp.Diff(c.want, days(c.p)); diff != "" {
			t.Errorf("%s: %s", name, diff)
		}
	}
}

// world is a collection with an animal, a vet and a keeper.
type world struct {
	*collection.Collection
	t           *testing.T
	tables      *knowledge.Tables
	clock       *storetest.Clock
	animal      model.AnimalID
	vet, keeper model.PersonID
}

func newWorld(t *testing.T) *world {
	c, clock := storetest.New(t)
	clock.Set(time.Date(2027, 3, 1, 10, 0, 0, 0, time.UTC))
	w := &world{Collection: c, t: t, tables: tables(t), clock: clock}
	w.animal = model.AnimalID{ID: w.must(animals.Add{Animal: animals.Animal{Name: "Juno", Status: animals.Kept}})}
	w.vet = model.PersonID{ID: w.must(people.Add{Person: people.Person{Name: "Dr Ada Fern", Roles: []people.Role{people.Vet}}})}
	w.keeper = model.PersonID{ID: w.must(people.Add{Person: people.Person{Name: "Ines Feld"}})}
	return w
}

// planner is a command, or the part of one that is of medicine alone.
type planner interface {
	Plan(model.View) (model.Writes, error)
}

// part is done without what else its command does.
type part struct{ planner }

// Name is of no command.
func (part) Name() string { return "test.part" }

// Do does a command or the part of one.
func (w *world) Do(c planner) (collection.Change, error) {
	if command, is := c.(model.Command); is {
		return w.Collection.Do(command)
	}
	return w.Collection.Do(part{c})
}

func (w *world) must(c planner) model.ID {
	w.t.Helper()
	done, err := w.Do(c)
	if err != nil {
		w.t.Fatalf("%T: %v", c, err)
	}
	return done.Documents[0]
}

func (w *world) refused(name string, c planner, reason string) {
	w.t.Helper()
	_, err := w.Do(c)
	var r *model.Refusal
	if !errors.As(err, &r) || r.Reason != reason {
		w.t.Errorf("%s: %v, want %s", name, err, reason)
		return
	}
	// one dose too many harms: no habit says yes to it
	if deliberate := reason == "medicine.weight-doubtful" || reason == "medicine.twice" || reason == "medicine.early" || reason == "medicine.late"; deliberate != (r.Answer == model.Deliberate) {
		w.t.Errorf("%s: answered by %q", name, r.Answer)
	}
}

func (w *world) weigh(day int, grams int64) {
	w.t.Helper()
	w.must(care.Weigh{About: care.About{Animal: w.animal, At: moment(day, 8), Confirmed: model.Confirmed{"mass.unlike"}}, Weight: care.Weight{Mass: model.Grams(grams)}})
}

func (w *world) course() medicine.Prescribe {
	p := perKilogram("20", "50")
	p.Vet, p.Begins = w.vet, moment(1, 9)
	return medicine.Prescribe{Tables: w.tables, Animal: w.animal, At: moment(1, 9), Prescription: p}
}

func (w *world) read(id model.ID) (s medicine.Stored) {
	w.t.Helper()
	if err := w.View(func(v model.View) (err error) { s, err = medicine.Find(v, medicine.PrescriptionID{ID: id}); return err }); err != nil {
		w.t.Fatal(err)
	}
	return s
}

func (w *world) tell(id model.ID, number, day int, did medicine.Did) medicine.Tell {
	s := w.read(id)
	return medicine.Tell{Tables: w.tables, ID: s.ID, Base: s.Revision, Number: number, Did: did, At: moment(day, 9)}
}

func TestPrescribe_Refuses(t *testing.T) {
	w := newWorld(t)
	w.weigh(1, 1450)
	for name, c := range map[string]struct {
		change func(*medicine.Prescribe)
		want   string
	}{
		"nobody prescribed it":        {func(p *medicine.Prescribe) { p.Vet = model.PersonID{} }, "medicine.no-vet"},
		"one who is no vet":           {func(p *medicine.Prescribe) { p.Vet = w.keeper }, "medicine.not-a-vet"},
		"a person who is not there":   {func(p *medicine.Prescribe) { p.Vet = model.PersonID{ID: model.ID{9}} }, "medicine.no-vet"},
		"no medicine":                 {func(p *medicine.Prescribe) { p.Medicine = "  " }, "text.empty"},
		"no route":                    {func(p *medicine.Prescribe) { p.Route = "" }, "medicine.no-route"},
		"another route without words": {func(p *medicine.Prescribe) { p.Route = medicine.OtherRoute }, "medicine.route-words"},
		"interval 0":                  {func(p *medicine.Prescribe) { p.Steps[0].Every = 0 }, "medicine.every"},
		"concentration 0":             {func(p *medicine.Prescribe) { p.Concentration = medicine.Amount{} }, "medicine.no-concentration"},
		"no dose":                     {func(p *medicine.Prescribe) { p.Steps[0].Dose = medicine.Amount{} }, "medicine.no-dose"},
		"neither times nor last day":  {func(p *medicine.Prescribe) { p.Steps[0].Times = 0 }, "medicine.no-end"},
		"stop before start":           {func(p *medicine.Prescribe) { p.Last = onDay(1); p.Last.Day -= 2 }, "medicine.stop-before"},
		"last day before last dose":   {func(p *medicine.Prescribe) { p.Last = onDay(5) }, "medicine.stop-early"},
		"recheck before it":           {func(p *medicine.Prescribe) { p.Recheck = onDay(1); p.Recheck.Day-- }, "medicine.recheck-before"},
		"begins before it":            {func(p *medicine.Prescribe) { p.Begins = moment(1, 9); p.Begins.UTC -= 86400 }, "medicine.begins-before"},
		"tomorrow":                    {func(p *medicine.Prescribe) { p.At = moment(2, 9) }, "day.future"},
		"no step":                     {func(p *medicine.Prescribe) { p.Steps = nil }, "medicine.steps"},
		"steps that overlap": {func(p *medicine.Prescribe) {
			p.Steps = append(p.Steps, medicine.Step{Day: 5, Times: 1, Dose: amount("1")})
		}, "medicine.step-order"},
		"more doses than can be": {func(p *medicine.Prescribe) {
			p.Steps[0].Times, p.Steps[0].Every = 400, 1
			p.Steps = append(p.Steps, medicine.Step{Day: 20, Times: 2, Every: 24, Dose: amount("1")})
		}, "medicine.times"},
		"over 10 mL/kg": {func(p *medicine.Prescribe) { p.Steps[0].Dose, p.Concentration = amount("20"), amount("1.9") }, "medicine.large"},
		"a fixed volume over 10 mL/kg": {func(p *medicine.Prescribe) {
			p.Form, p.Measure, p.Concentration, p.Steps[0].Dose = medicine.Volume, "", medicine.Amount{}, amount("14.51")
		}, "medicine.large"},
		"a fixed volume with a concentration": {func(p *medicine.Prescribe) { p.Form = medicine.Volume }, "medicine.no-use"},
		"words without words": {func(p *medicine.Prescribe) {
			p.Form, p.Measure, p.Concentration, p.Steps[0].Dose = medicine.InWords, "", medicine.Amount{}, medicine.Amount{}
		}, "text.empty"},
	} {
		command := w.course()
		command.Steps = slices.Clone(command.Steps)
		c.change(&command)
		w.refused(name, command, c.want)
	}
	fluid := w.course()
	fluid.Steps[0].Dose, fluid.Concentration, fluid.Fluid = amount("20"), amount("1.9"), true
	w.must(fluid)
	exactly := w.course()
	exactly.Steps[0].Dose, exactly.Concentration = amount("20"), amount("2")
	if s := w.read(w.must(exactly)); s.Mass != model.Grams(1450) || s.Weighed != onDay(1) {
		t.Errorf("it keeps %v of %v", s.Mass, s.Weighed)
	}
}

func TestTell(t *testing.T) {
	w := newWorld(t)
	id := w.must(w.course())
	w.refused("per kg without a weight", w.tell(id, 1, 1, medicine.Given), "medicine.no-weight")
	w.weigh(1, 1450)
	w.clock.Set(time.Date(2027, 3, 12, 20, 0, 0, 0, time.UTC))
	w.must(w.tell(id, 1, 1, medicine.Given))
	if d, _ := w.read(id).Dose(1); d.Drawn != 580 || d.Mass != model.Grams(1450) || d.Weighed != onDay(1) {
		t.Errorf("given %+v", d)
	}
	w.refused("a second word", w.tell(id, 1, 1, medicine.Missed), "medicine.said")
	w.refused("no such dose", w.tell(id, 11, 3, medicine.Given), "medicine.no-such-dose")
	w.refused("in the future", w.tell(id, 2, 13, medicine.Given), "day.future")
	w.refused("before its day", w.tell(id, 3, 2, medicine.Given), "medicine.early")
	w.refused("after its day", w.tell(id, 2, 3, medicine.Given), "medicine.late")
	w.refused("a second one on the same day", w.tell(id, 2, 1, medicine.Given), "medicine.twice")
	w.refused("left out for nothing", w.tell(id, 2, 2, medicine.LeftOut), "medicine.why")
	w.refused("with an old weight", w.tell(id, 9, 9, medicine.Given), "medicine.weight-old")
	w.must(w.tell(id, 8, 8, medicine.Given))
	kilograms := w.tell(id, 9, 9, medicine.Given)
	kilograms.Mass = model.Grams(85_000)
	w.refused("grams typed as kilograms", kilograms, "mass.far")
	weighed := w.tell(id, 9, 9, medicine.Given)
	weighed.Mass = model.Grams(1400)
	w.must(weighed)
	s := w.read(id)
	if d, _ := s.Dose(9); d.Drawn != 560 || d.Weighed != onDay(9) {
		t.Errorf("by a weight of the day: %+v", d)
	}
	if err := w.View(func(v model.View) error {
		last, there, err := medicine.LastWeight(v, w.animal, v.Now())
		if !there || last.Mass != model.Grams(1400) {
			t.Errorf("the weight was noted as %+v", last)
		}
		return err
	}); err != nil {
		t.Fatal(err)
	}
	small := w.course()
	small.Steps[0].Dose = amount("1")
	other := w.must(small)
	w.refused("too small to measure", w.tell(other, 9, 9, medicine.Given), "medicine.small")
	// What the vet does not want lifted is not asked for a new weight.
	lying := w.course()
	lying.NotLifted = true
	third := w.must(lying)
	w.clock.Set(time.Date(2027, 3, 30, 20, 0, 0, 0, time.UTC))
	asked := w.tell(third, 10, 20, medicine.Given)
	asked.Confirmed = model.Confirmed{"medicine.late"}
	w.must(asked)
	w.must(animals.SetStatus{ID: w.animal, Base: 1, Status: animals.Died, Day: onDay(20)})
	w.refused("a dose for a dead animal", w.tell(id, 10, 21, medicine.Given), "medicine.gone")
	w.refused("a prescription for a dead animal", func() model.Command { c := w.course(); c.At, c.Begins = moment(21, 9), moment(21, 9); return c }(), "medicine.gone")
}

// A missed dose is a question to the vet; nothing is made up for by itself.
func TestMissed(t *testing.T) {
	w := newWorld(t)
	w.weigh(1, 1450)
	id := w.must(w.course())
	w.clock.Set(time.Date(2027, 3, 4, 9, 30, 0, 0, time.UTC))
	w.must(w.tell(id, 1, 1, medicine.Given))
	states := func() (all []medicine.State) {
		now := model.MomentOf(w.clock.Now())
		for _, c := range w.read(id).Calendar(now)[:5] {
			all = append(all, c.State)
		}
		return all
	}
	want := []medicine.State{medicine.WasGiven, medicine.Unsaid, medicine.Unsaid, medicine.DueToday, medicine.ToCome}
	if diff := cmp.Diff(want, states()); diff != "" {
		t.Error(diff)
	}
	w.must(w.tell(id, 2, 4, medicine.Missed))
	left := w.tell(id, 3, 4, medicine.LeftOut)
	left.Why = "the vet said so on the telephone"
	w.must(left)
	want = []medicine.State{medicine.WasGiven, medicine.AskVet, medicine.WasLeftOut, medicine.DueToday, medicine.ToCome}
	if diff := cmp.Diff(want, states()); diff != "" {
		t.Error(diff)
	}
	answer := func(number int, said string) medicine.AnswerMissed {
		s := w.read(id)
		return medicine.AnswerMissed{ID: s.ID, Base: s.Revision, Number: number, At: moment(4, 8), Said: said}
	}
	w.refused("nothing said", answer(2, " "), "text.empty")
	w.refused("of one that was given", answer(1, "go on"), "medicine.not-missed")
	w.must(answer(2, "go on as planned, do not double it"))
	if s := states(); s[1] != medicine.WasMissed {
		t.Errorf("answered it stands at %v", s[1])
	}
	s := w.read(id)
	w.refused("finished with doses open", medicine.End{ID: s.ID, Base: s.Revision, At: moment(4, 8), Why: medicine.Finished}, "medicine.not-through")
	w.refused("by the vet's word without one", medicine.End{ID: s.ID, Base: s.Revision, At: moment(4, 8), Why: medicine.VetsWord}, "medicine.end-note")
	w.must(medicine.TakeBack{ID: s.ID, Base: s.Revision, Number: 3})
	s = w.read(id)
	w.must(medicine.End{ID: s.ID, Base: s.Revision, At: moment(4, 8), Why: medicine.VetsWord, Note: "a reaction at the site"})
	if n := len(w.read(id).Calendar(moment(20, 8))); n != 4 {
		t.Errorf("of a course that is over %d doses are shown", n)
	}
	if tally := w.read(id).Tally(moment(20, 8)); tally.Planned != 10 || tally.Given != 1 {
		t.Errorf("of a course that ended early: %+v", tally)
	}
	w.refused("after its end", w.tell(id, 3, 4, medicine.Given), "medicine.over")
}

// Days and doses: counts add up, and in which order words were said does not matter.
func TestTally(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := medicine.Prescription{Begins: moment(1, 9), Steps: []medicine.Step{{Day: 1, Times: rapid.IntRange(1, 40).Draw(t, "times"), Every: rapid.IntRange(1, 100).Draw(t, "every")}}}
		plan := p.Plan()
		for i, one := range plan {
			if one.Number != i+1 || i > 0 && (one.Day < plan[i-1].Day || one.Day == plan[i-1].Day && one.Minutes <= plan[i-1].Minutes) {
				t.Fatalf("dose %d: %+v after %+v", i, one, plan[max(i-1, 0)])
			}
			did := rapid.SampledFrom(append(medicine.Dids(), "")).Draw(t, "did")
			if did != "" {
				p.Doses = append(p.Doses, medicine.Dose{Number: one.Number, Did: did, At: moment(1, 9)})
			}
		}
		now := moment(rapid.IntRange(1, 200).Draw(t, "today"), 12)
		tally := p.Tally(now)
		shuffled := p
		shuffled.Doses = rapid.Permutation(p.Doses).Draw(t, "order")
		if other := shuffled.Tally(now); other != tally {
			t.Fatalf("%+v, in another order %+v", tally, other)
		}
		said := 0
		for _, d := range p.Doses {
			said += map[medicine.Did]int{medicine.Given: 1, medicine.LeftOut: 1, medicine.Missed: 1}[d.Did]
		}
		if tally.Planned != len(plan) || tally.Given+tally.LeftOut+tally.Missed != said || tally.Unsaid > tally.Planned-said {
			t.Fatalf("%+v of %d planned and %d said", tally, len(plan), said)
		}
	})
}

// A fixed volume stays as it is; that the weight has changed by more than a tenth is for
// the vet to hear. Assumed.
func TestApart(t *testing.T) {
	all := tables(t)
	p := medicine.Prescription{Form: medicine.Volume, Mass: model.Grams(1000)}
	for grams, want := range map[int64]bool{1000: false, 1100: false, 1101: true, 900: false, 899: true, 0: false} {
		if got := p.Apart(all, model.Grams(grams)); got != want {
			t.Errorf("%d g: %v", grams, got)
		}
	}
	if medicine.Old(all, 10, 17) || !medicine.Old(all, 10, 18) {
		t.Error("a weight of 7 days is new, one of 8 is old")
	}
}

// A weight of a scale that failed its check is not gone by unasked.
func TestTell_ByADoubtfulWeight(t *testing.T) {
	w := newWorld(t)
	w.clock.Set(time.Date(2027, 3, 4, 20, 0, 0, 0, time.UTC))
	scale := model.InstrumentID{ID: w.must(husbandry.AddInstrument{Instrument: husbandry.Instrument{Name: "Kitchen scale", Kind: husbandry.Scale}})}
	id := w.must(w.course())
	w.must(care.Weigh{About: care.About{Animal: w.animal, At: moment(1, 8)}, Weight: care.Weight{Mass: model.Grams(1450), With: scale}})
	w.must(w.tell(id, 1, 1, medicine.Given))
	w.must(husbandry.CheckInstrument{Instrument: scale, At: moment(1, 10), Check: husbandry.InstrumentCheck{}})
	asked := w.tell(id, 2, 2, medicine.Given)
	w.refused("by the doubtful one", asked, "medicine.weight-doubtful")
	asked.Mass = model.Grams(1440)
	w.must(asked)
	again := w.tell(id, 3, 3, medicine.Given)
	w.must(again)
}

// A refusal of a step names it, and keeps what it says beside.
func TestPrescribe_ALongStepIsNamed(t *testing.T) {
	w := newWorld(t)
	c := w.course()
	c.Steps[0].Words = strings.Repeat("a", medicine.MaxLine+1)
	_, err := w.Do(c)
	var r *model.Refusal
	if !errors.As(err, &r) || r.Reason != "text.long" || r.Gaps["Step"].Number != 1 || r.Gaps["Most"].Number != medicine.MaxLine {
		t.Errorf("%+v", r)
	}
}

// Of several things that cannot stand the upper one of the form is refused.
func TestPrescription_RefusedFromTopToBottom(t *testing.T) {
	w := newWorld(t)
	now := model.MomentOf(w.clock.Now())
	wrong := medicine.Stored{Prescribed: model.MomentOn(now, now.Day()+1, model.Noon, model.ToDay), Prescription: medicine.Prescription{Pack: medicine.Pack{Lot: strings.Repeat("l", medicine.MaxLot+1)},
		Last: model.Date{Day: now.Day() - 1, Precision: model.ToDay}, Steps: []medicine.Step{{Day: 1, Times: 2}}}}
	wrong.Animal = w.animal
	var fields []string
	for _, mend := range []func(){
		func() { wrong.Medicine = "Solution" },
		func() { wrong.Vet = w.vet },
		func() { wrong.Prescribed = now },
		func() { wrong.Form = medicine.Volume },
		func() { wrong.Route = medicine.OtherRoute },
		func() { wrong.Steps[0].Every = 24 },
		func() { wrong.Steps[0].Dose = medicine.Amount{Millionths: 300_000, Typed: "0.3"} },
		func() { wrong.Begins = now },
		func() { wrong.Last = model.Date{} },
		func() { wrong.Pack.Lot = "" },
		func() { wrong.Words = "as the vet showed" },
	} {
		if r := wrong.Check(now); r != nil {
			fields = append(fields, r.Field)
		}
		mend()
	}
	if want := []string{"medicine", "vet", "day", "form", "route", "every", "dose", "begins", "last-day", "lot", "words"}; !slices.Equal(fields, want) {
		t.Errorf("refused %v, want %v", fields, want)
	}
	if r := wrong.Check(now); r != nil {
		t.Errorf("at the end: %+v", r)
	}
}
