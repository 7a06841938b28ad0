package newcomers_test

import (
	"testing"

	"coilward/model"
	"coilward/model/care"
	"coilward/model/husbandry"
	"coilward/model/quarantine"
)

// A move into an empty room takes back nothing: neither who came in before, nor the
// mites of the old room.
func TestAMoveTakesNothingBack(t *testing.T) {
	w := begin(t)
	for d := 0; d <= 48; d += 8 {
		w.on(d)
		w.look(w.animal, care.NoMites)
	}
	w.on(50)
	w.look(w.came("Nettle", w.tubs[0][1]), care.SeveralMites)
	w.on(52)
	w.do(husbandry.Move{Animal: w.animal, Place: w.tubs[1][3], At: w.now()})
	w.on(53)
	w.look(w.animal, care.NoMites)
	if l := w.line(quarantine.InRoom); l.Again != w.arrived+50 || l.Earliest != w.arrived+140 {
		t.Errorf("again on day %d, earliest day %d", l.Again-w.arrived, l.Earliest-w.arrived)
	}
	if m := w.of(w.animal).Facts.Mites; m.From != w.arrived+50 || m.Why != quarantine.FromMites || m.Over != 0 {
		t.Errorf("%+v", m)
	}
}

// One on which mites were seen lately brings them in; one whose watch is over does not.
// Source: common practice, no source.
func TestMitesComeWithAMate(t *testing.T) {
	for after, brings := range map[int]bool{1: true, 45: false} {
		w := begin(t)
		ash := w.came("Ash", w.tubs[1][0])
		w.look(ash, care.SeveralMites)
		w.look(w.animal, care.NoMites)
		for d := 1; d <= after; d++ {
			w.on(d)
			w.look(ash, care.NoMites)
			w.look(w.animal, care.NoMites)
		}
		w.do(husbandry.Move{Animal: ash, Place: w.tubs[0][1], At: w.now()})
		m := w.of(w.animal).Facts.Mites
		if got := m.Why == quarantine.FromMites && m.From == w.arrived+model.Day(after); got != brings {
			t.Errorf("after %d days: from day %d, %s", after, m.From-w.arrived, m.Why)
		}
	}
}

// What a mate was treated with before it came acts on, and hides mites.
func TestATreatmentOfBeforeActsStill(t *testing.T) {
	for until, counts := range map[int]bool{40: true, 11: false} {
		w := begin(t)
		ash := w.came("Ash", w.tubs[1][0])
		w.do(care.TreatMites{About: w.about(ash), MiteTreatment: care.MiteTreatment{What: "as the vet said", Until: model.Date{Day: w.arrived + model.Day(until), Precision: model.ToDay}}})
		w.look(w.animal, care.NoMites)
		w.on(8)
		w.look(w.animal, care.NoMites)
		w.on(12)
		w.do(husbandry.Move{Animal: ash, Place: w.tubs[0][1], At: w.now()})
		if m := w.of(w.animal).Facts.Mites; (m.Why == quarantine.FromTreatment && m.From == w.arrived+40) != counts {
			t.Errorf("it acts until day %d: from day %d, %s", until, m.From-w.arrived, m.Why)
		}
	}
}
