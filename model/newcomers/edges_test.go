package newcomers_test

import (
	"testing"
	"time"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/exam"
	"coilward/model/husbandry"
	"coilward/model/knowledge"
	"coilward/model/newcomers"
	"coilward/model/quarantine"
	"coilward/model/samples"
)

// step is one of the list of the arrival.
func (w *world) step(kind newcomers.ArrivalKind) newcomers.ArrivalStep {
	w.t.Helper()
	for _, s := range w.of(w.animal).Arrival {
		if s.Kind == kind {
			return s
		}
	}
	w.t.Fatalf("no step %s", kind)
	return newcomers.ArrivalStep{}
}

// takes is a sample of today for what is looked for.
func (w *world) takes(material knowledge.MaterialID, of ...knowledge.AgentID) model.ID {
	w.t.Helper()
	return w.do(samples.Prepare{Tables: w.tables, Each: []samples.New{{Animals: []model.AnimalID{w.animal}, Sample: samples.Sample{Material: material, For: of, Taken: w.now()}}}})[0]
}

// The swab of the arrival is taken on day 3 to 7, after two days of rest; the rest is done
// by day 3. Source: common practice, no source.
func TestTheSwabWaitsForRest(t *testing.T) {
	w := begin(t)
	for kind, c := range map[newcomers.ArrivalKind]struct{ from, by model.Day }{
		newcomers.ArriveWeigh: {0, 3}, newcomers.ArrivePhotos: {0, 3}, newcomers.ArriveCheck: {0, 3}, newcomers.ArriveMites: {0, 3}, newcomers.ArriveSwab: {3, 7},
	} {
		if s := w.step(kind); s.From != w.arrived+c.from || s.By != w.arrived+c.by {
			t.Errorf("%s: day %d to %d, want %d to %d", kind, s.From-w.arrived, s.By-w.arrived, c.from, c.by)
		}
	}
}

// The swab of the arrival is the first sample that is looked through for what the protocol
// asks: not one of something else, not one of a material in which it is not found, and not
// one that was lost.
func TestTheFirstSwabThatCounts(t *testing.T) {
	w := begin(t)
	w.takes("choanal-swab", "reptarenavirus")
	if s := w.step(newcomers.ArriveSwab); s.Done {
		t.Fatalf("a swab for what is not asked: %+v", s)
	}
	lost := w.takes("choanal-swab", "serpentovirus")
	w.clock.Pass(time.Hour)
	w.takes("choanal-swab", "ferlavirus") // in which it is not found
	w.clock.Pass(time.Hour)
	first := w.takes("choanal-swab", "serpentovirus")
	w.clock.Pass(time.Hour)
	w.takes("choanal-swab", "serpentovirus")
	if s := w.step(newcomers.ArriveSwab); !s.Done || s.On[0] != lost {
		t.Errorf("the first of all: %+v, want %s", s, lost)
	}
	w.do(samples.GiveUp{Tables: w.tables, ID: model.SampleID{ID: lost}, Base: 1, Void: samples.Void{At: w.now(), Why: samples.Lost}})
	if s := w.step(newcomers.ArriveSwab); !s.Done || s.On[0] != first {
		t.Errorf("the first was lost: %+v, want %s", s, first)
	}
}

// The check of the arrival is the first full one since; a later one takes its place on the
// list no more. Weighing and looking go by the first too.
func TestTheFirstOfTheArrivalCounts(t *testing.T) {
	w := begin(t)
	if s := w.step(newcomers.ArriveCheck); s.Done {
		t.Fatalf("nothing was checked: %+v", s)
	}
	w.check(exam.Seen)
	looked := w.look(w.animal, care.NoMites)
	one := w.step(newcomers.ArriveCheck)
	w.on(6)
	w.check(exam.Seen)
	w.look(w.animal, care.NoMites)
	if s := w.step(newcomers.ArriveCheck); !one.Done || len(s.On) != 1 || s.On[0] != one.On[0] {
		t.Errorf("checked twice: %+v, the first %+v", s, one)
	}
	if s := w.step(newcomers.ArriveMites); len(s.On) != 1 || s.On[0] != looked {
		t.Errorf("looked twice: %+v", s)
	}
}

// sore is a finding that is a matter for the vet.
func sore() exam.Finding {
	return exam.Finding{Standing: exam.New, Stop: "skin", What: "sore", Grade: exam.Slight, Rough: true}
}

// That nothing stands open holds from the day after the last on which something was a
// matter for the vet, which a sore is for thirty days after it was gone; before any check
// nobody knows.
func TestNothingOpenSinceTheDayAfter(t *testing.T) {
	w := begin(t)
	if o := w.of(w.animal).Facts.Open; o.Known || o.Grave {
		t.Errorf("nobody has looked: %+v", o)
	}
	w.on(2)
	w.check(exam.Seen)
	if o := w.of(w.animal).Facts.Open; !o.Known || o.Grave || o.Since != w.arrived+2 || len(o.On) != 0 {
		t.Errorf("nothing was found: %+v", o)
	}
	w.on(10)
	w.check(exam.Seen, sore())
	if o := w.of(w.animal).Facts.Open; !o.Grave || len(o.On) == 0 {
		t.Errorf("a sore: %+v", o)
	}
	w.on(15)
	if o := w.of(w.animal).Facts.Open; !o.Grave {
		t.Errorf("five days later: %+v", o)
	}
	w.on(20)
	w.check(exam.Seen)
	w.on(50)
	if o := w.of(w.animal).Facts.Open; !o.Grave {
		t.Errorf("thirty days after it was gone: %+v", o)
	}
	w.on(51)
	w.check(exam.Seen)
	for _, d := range []int{51, 52, 60} {
		w.on(d)
		if o := w.of(w.animal).Facts.Open; o.Grave || o.Since != w.arrived+51 {
			t.Errorf("on day %d: %+v, since day %d", d, o, o.Since-w.arrived)
		}
	}
	w.check(exam.Seen)
	if o := w.of(w.animal).Facts.Open; o.Since != w.arrived+51 {
		t.Errorf("another check changes nothing: since day %d", o.Since-w.arrived)
	}
}

// That eye caps stay on at two sheds in a row was for the vet, also once a later shed left
// none: for thirty days after the second of them, by the days of the table.
func TestNothingOpenAfterEyeCapsOfTwoSheds(t *testing.T) {
	w := begin(t)
	w.check(exam.Seen)
	shed := func(day int, caps care.Told) {
		w.on(day)
		w.do(care.RecordShed{About: w.about(w.animal), Shed: care.Shed{Skin: care.Whole, StuckEyeCaps: caps, StuckTailTip: care.No}})
	}
	shed(5, care.Yes)
	if o := w.of(w.animal).Facts.Open; o.Grave || o.Since != w.arrived {
		t.Errorf("after the first: %+v", o)
	}
	shed(10, care.Yes)
	if o := w.of(w.animal).Facts.Open; !o.Grave {
		t.Errorf("after the second: %+v", o)
	}
	shed(15, care.No)
	shed(20, care.No)
	w.on(60)
	if o := w.of(w.animal).Facts.Open; o.Grave || o.Since != w.arrived+41 {
		t.Errorf("later on: %+v, since day %d", o, o.Since-w.arrived)
	}
}

// What hatches in the room came from nowhere and begins no day again; one that hatched
// elsewhere and comes in does, though it is as young.
func TestWhatHatchesInTheRoom(t *testing.T) {
	for name, c := range map[string]struct {
		hatched   int // days before it comes into the room
		precision model.Precision
		again     bool
	}{"there": {0, model.ToDay, false}, "two days before": {2, model.ToDay, true}, "in this month": {0, model.ToMonth, true}} {
		w := begin(t)
		w.on(20)
		date := model.Date{Day: w.now().Day() - model.Day(c.hatched), Precision: c.precision}
		id := model.AnimalID{ID: w.do(animals.Add{Animal: animals.Animal{Name: "Fern", Hatched: date}})[0]}
		w.do(husbandry.Move{Animal: id, Place: w.tubs[0][1], At: w.now()})
		if l := w.line(quarantine.InRoom); (l.Again == w.arrived+20) != c.again {
			t.Errorf("%s: begins again on day %d", name, l.Again-w.arrived)
		}
	}
}

// Mites count of the day on which the two first shared the room and of the last on which
// they did, and not of days before and after.
func TestMitesOfTheDaysInOneRoom(t *testing.T) {
	for seen, counts := range map[int]bool{12: true, 15: true, 16: false} {
		w := begin(t)
		ash := w.came("Ash", w.tubs[1][0])
		w.look(w.animal, care.NoMites)
		for d := 4; d <= 20; d++ {
			w.on(d)
			if d == 12 {
				w.do(husbandry.Move{Animal: ash, Place: w.tubs[0][1], At: w.now()})
			}
			if d == 15 {
				w.do(husbandry.Move{Animal: ash, Place: w.tubs[1][1], At: w.now()})
			}
			w.look(w.animal, care.NoMites)
			if d == seen {
				w.look(ash, care.SeveralMites)
			}
		}
		n := w.of(w.animal)
		mates := 0
		for _, l := range n.Looks {
			if l.Mate {
				mates++
			}
		}
		if m := n.Facts.Mites; (m.Why == quarantine.FromMites && m.From == w.arrived+model.Day(seen)) != counts || (mates == 1) != counts {
			t.Errorf("mites on day %d: from day %d, %s; %d looks of a mate", seen, m.From-w.arrived, m.Why, mates)
		}
	}
}

// A treatment that acted until the day of the arrival hides mites of that day; a treatment
// of a mate after it left the room does not count.
func TestATreatmentOfADayInOneRoom(t *testing.T) {
	for treated, counts := range map[int]bool{14: true, 15: true, 16: false} {
		w := begin(t)
		ash := w.came("Ash", w.tubs[0][1])
		w.look(w.animal, care.NoMites)
		for d := 1; d <= 20; d++ {
			w.on(d)
			if d == 15 {
				w.do(husbandry.Move{Animal: ash, Place: w.tubs[1][1], At: w.now()})
			}
			w.look(w.animal, care.NoMites)
			if d == treated {
				w.do(care.TreatMites{About: w.about(ash), MiteTreatment: care.MiteTreatment{What: "as the vet said", Until: model.Date{Day: w.now().Day() + 9, Precision: model.ToDay}}})
			}
		}
		if m := w.of(w.animal).Facts.Mites; (m.Why == quarantine.FromTreatment && m.From == w.arrived+model.Day(treated)+9) != counts {
			t.Errorf("treated on day %d: from day %d, %s", treated, m.From-w.arrived, m.Why)
		}
	}
}

// One that was sold is no newcomer any more, though nobody released it.
func TestOneThatLeftIsNoNewcomer(t *testing.T) {
	w := begin(t)
	count := func() (n int) {
		if err := w.c.View(func(v model.View) error {
			all, err := newcomers.All(v, w.tables)
			n = len(all)
			return err
		}); err != nil {
			t.Fatal(err)
		}
		return n
	}
	if n := count(); n != 1 {
		t.Fatalf("%d newcomers, want 1", n)
	}
	w.do(animals.SetStatus{ID: w.animal, Base: 1, Status: animals.Sold, Day: model.Date{Day: w.now().Day(), Precision: model.ToDay}})
	if n := count(); n != 0 {
		t.Errorf("sold, and %d newcomers", n)
	}
}

// Faeces and swabs are told apart.
func TestFaecesAreToldApart(t *testing.T) {
	w := begin(t)
	w.on(4)
	faeces, swab := w.takes(knowledge.Faeces, knowledge.FaecalAgent), w.takes("choanal-swab", "serpentovirus")
	got := map[model.ID]bool{}
	for _, r := range w.of(w.animal).Facts.Results {
		got[r.Sample.ID] = r.Faeces
	}
	if !got[faeces] || got[swab] || len(got) != 2 {
		t.Errorf("%v: faeces %s, swab %s", got, faeces, swab)
	}
}

// A mate that came without mites and is treated later counts from the last day on which
// that acts, and not for mites that it brought.
func TestAMateThatIsTreatedLater(t *testing.T) {
	w := begin(t)
	ash := w.came("Ash", w.tubs[1][0])
	w.look(w.animal, care.NoMites)
	w.on(5)
	w.look(w.animal, care.NoMites)
	w.do(husbandry.Move{Animal: ash, Place: w.tubs[0][1], At: w.now()})
	w.on(8)
	w.do(care.TreatMites{About: w.about(ash), MiteTreatment: care.MiteTreatment{What: "as the vet said", Until: model.Date{Day: w.now().Day(), Precision: model.ToDay}}})
	if m := w.of(w.animal).Facts.Mites; m.From != w.arrived+8 || m.Why != quarantine.FromTreatment {
		t.Errorf("from day %d, %s", m.From-w.arrived, m.Why)
	}
}
