package paper_test

import (
	"strings"
	"testing"
	"time"

	"coilward/export/paper"
	"coilward/export/papertest"
	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/history"
)

// What was noted of every kind stands on the record; fluids, what was given against mites
// and a clutch stand on the page for the vet too.
func TestEveryKindOfEntryStandsOnTheRecord(t *testing.T) {
	k := keep(t)
	beside := care.Beside{Note: "kindly"}
	of := map[string]model.Command{
		care.KindWeight:        care.Weigh{About: k.about(), Weight: care.Weight{Mass: model.Grams(1450), Beside: beside}},
		care.KindMeal:          care.Feed{About: k.about(), Meal: care.Meal{Prey: care.Rat, Outcome: care.Took, Beside: beside}},
		care.KindBlue:          care.RecordBlue{About: k.about(), Blue: care.Blue{Beside: beside}},
		care.KindShed:          care.RecordShed{About: k.about(), Shed: care.Shed{Skin: care.Whole, Beside: beside}},
		care.KindWaste:         care.RecordWaste{About: k.about(), Waste: care.Waste{Faeces: []care.Trait{care.Formed}, Beside: beside}},
		care.KindClutch:        care.RecordClutch{About: k.about(), Clutch: care.Clutch{Eggs: 6, Beside: beside}},
		care.KindMiteLook:      care.LookForMites{About: k.about(), MiteLook: care.MiteLook{Where: []care.MiteWhere{care.WhitePaper}, Beside: beside}},
		care.KindMiteTreatment: care.TreatMites{About: k.about(), MiteTreatment: care.MiteTreatment{What: "as on the slip", Advised: "Dr Fern", Beside: beside}},
		care.KindBath:          care.Bathe{Tables: k.tables, About: k.about(), Bath: care.Bath{Warm: model.Temperature{Hundredths: 2800}, Minutes: 20, Beside: beside}},
		care.KindFluids:        care.GiveFluids{Tables: k.tables, About: k.about(), Fluids: care.Fluids{What: "ten of it under the skin", Advised: "Dr Fern", Beside: beside}},
		care.KindNote:          care.WriteNote{About: k.about(), Note: care.Note{Text: "a calm day"}},
	}
	for _, kind := range care.Kinds() {
		switch c, there := of[kind]; {
		case there:
			k.do(c)
		case kind != care.KindPhoto:
			t.Errorf("nothing of the kind %s is noted here", kind)
		}
	}
	f := k.facts()
	record, vet := paper.Plain(paper.HealthRecord(f, papertest.Text(t, "en"), paper.A4)), paper.Plain(paper.VetPage(f, papertest.Text(t, "en"), paper.A4))
	for _, said := range []string{"Clutch laid", "6 eggs", "In blue", "20 minutes", "ten of it under the skin; Dr Fern", "as on the slip; Dr Fern", "a calm day"} {
		if !strings.Contains(record, said) {
			t.Errorf("the record does not say %q", said)
		}
	}
	if n := strings.Count(record, "kindly"); n < 10 {
		t.Errorf("%d notes stand on the record, want those of ten entries:\n%s", n, record)
	}
	for _, said := range []string{"ten of it under the skin", "as on the slip", "6 eggs"} {
		if !strings.Contains(vet, said) {
			t.Errorf("the page for the vet does not say %q:\n%s", said, vet)
		}
	}
}

// A paper judges a loss as the screens do: what was weighed before a clutch is not held
// against what is weighed after it.
func TestAClutchBreaksALossOnPaperToo(t *testing.T) {
	for _, laid := range []bool{false, true} {
		k := keep(t)
		weigh := func(grams int64) {
			about := k.about()
			about.Confirmed = model.Confirmed{"mass.unlike"}
			k.do(care.Weigh{About: about, Weight: care.Weight{Mass: model.Grams(grams), Gut: care.GutEmpty}})
		}
		for range 5 {
			weigh(1800)
			k.clock.Pass(14 * 24 * time.Hour)
		}
		if laid {
			k.do(care.RecordClutch{About: k.about(), Clutch: care.Clutch{Eggs: 6}})
		}
		for range 3 {
			k.clock.Pass(10 * 24 * time.Hour)
			weigh(1250)
		}
		f := k.facts()
		if got := f.Standing().Loss.ForVet(); got == laid {
			t.Errorf("laid %v: the paper calls the loss a matter for the vet: %v", laid, got)
		}
		k.view(func(v model.View) error {
			a, err := animals.Find(v, k.animal)
			if err != nil {
				return err
			}
			r, err := history.Read(k.tables, v, a, v.Now())
			if err != nil {
				return err
			}
			if screen := r.Stand(k.tables, nil, v.Now()).Loss; screen.Reason != f.Standing().Loss.Reason || screen.Share != f.Standing().Loss.Share {
				t.Errorf("laid %v: the screen says %+v, the paper %+v", laid, screen, f.Standing().Loss)
			}
			return nil
		})
	}
}
