package history

import (
	"testing"

	"coilward/assets"
	"coilward/model"
	"coilward/model/care"
	"coilward/model/exam"
	"coilward/model/knowledge"
)

func tables(t *testing.T) *knowledge.Tables {
	t.Helper()
	tables, err := knowledge.Load(assets.Knowledge())
	if err != nil {
		t.Fatal(err)
	}
	return tables
}

// records are entries given oldest first, one every ten days up to day 300.
func records(grams int64, bodies ...care.Body) Records {
	var r Records
	r.Context.Mass = model.Grams(grams)
	r.Weights = []Weighed{{Mass: r.Context.Mass}} // on day 0
	for i := len(bodies) - 1; i >= 0; i-- {
		r.add(care.Entry{ID: model.EntryID{ID: model.ID{15: byte(i + 1)}}, At: day(300 - 10*(len(bodies)-1-i)), Body: bodies[i]})
	}
	return r
}

func waste(faeces, urates care.Trait) care.Waste {
	return care.Waste{Faeces: []care.Trait{faeces}, Urates: []care.Trait{urates}}
}

func meal(o care.Outcome) care.Meal { return care.Meal{Outcome: o} }

// What an everyday entry tells is judged by the same table as a check. The
// answers are those of the table of stops; source: common practice, no source.
func TestStandOfEverydayEntries(t *testing.T) {
	caps := care.Shed{Skin: care.Whole, StuckEyeCaps: care.Yes, StuckTailTip: care.No}
	whole := care.Shed{Skin: care.Whole, StuckEyeCaps: care.No, StuckTailTip: care.No}
	ring := care.Shed{Skin: care.InPieces, StuckEyeCaps: care.NotLooked, StuckTailTip: care.Yes}
	for _, c := range []struct {
		name string
		r    Records
		want knowledge.Level
	}{
		{"nothing", records(1000), knowledge.Nothing},
		{"formed and white", records(1000, waste(care.Formed, care.White)), knowledge.Nothing},
		{"blood in faeces", records(1000, waste(care.Blood, care.White)), knowledge.VetWithinDays},
		{"blood in urates", records(1000, waste(care.Formed, care.Blood)), knowledge.VetWithinDays},
		{"mucus", records(1000, waste(care.Mucus, care.White)), knowledge.VetWithinDays},
		{"worms", records(1000, waste(care.Worms, care.White)), knowledge.VetWithinDays},
		{"undigested prey", records(1000, waste(care.RawPrey, care.White)), knowledge.VetWithinDays},
		{"watery", records(1000, waste(care.Watery, care.White)), knowledge.VetWithinDays},
		{"green urates", records(1000, waste(care.Formed, care.Green)), knowledge.VetWithinDays},
		{"soft is nothing", records(1000, waste(care.Soft, care.Cream)), knowledge.Nothing},
		{"blood, then a clean one", records(1000, waste(care.Blood, care.White), waste(care.Formed, care.White)), knowledge.Nothing},
		{"hard urates once", records(1000, waste(care.Formed, care.HardLumps)), knowledge.LookAgain},
		{"no urates twice running", records(1000, waste(care.Formed, care.NoneSeen), waste(care.Formed, care.NoneSeen)), knowledge.VetWithinDays},
		{"hard, clean, hard", records(1000, waste(care.Formed, care.HardLumps), waste(care.Formed, care.White), waste(care.Formed, care.HardLumps)), knowledge.LookAgain},
		{"brought up at 200 g", records(200, meal(care.Regurgitated)), knowledge.LookAgain},
		{"brought up under 200 g", records(199, meal(care.Regurgitated)), knowledge.VetWithinDays},
		{"brought up twice in 30 days", records(1000, meal(care.Regurgitated), meal(care.Took), meal(care.Took), meal(care.Regurgitated)), knowledge.VetWithinDays},
		{"brought up twice in 40 days", records(1000, meal(care.Regurgitated), meal(care.Took), meal(care.Took), meal(care.Took), meal(care.Regurgitated)), knowledge.LookAgain},
		{"brought up, then took", records(1000, meal(care.Regurgitated), meal(care.Took)), knowledge.LookAgain},
		{"brought up 40 days ago", records(1000, meal(care.Regurgitated), meal(care.Took), meal(care.Took), meal(care.Took), meal(care.Took)), knowledge.Nothing},
		{"eye cap left once", records(1000, caps), knowledge.LookAgain},
		{"eye cap left twice running", records(1000, caps, caps), knowledge.VetWithinDays},
		{"eye cap left, then a whole shed", records(1000, caps, whole), knowledge.Nothing},
		{"eye cap left, whole, left", records(1000, caps, whole, caps), knowledge.LookAgain},
		{"tail ring left", records(1000, ring), knowledge.LookAgain},
	} {
		if got := c.r.Stand(tables(t), nil, day(300)).Level; got != c.want {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
	}
}

// Each entry is judged by what was known on its own day, and an entry that tells
// nothing is not judged.
func TestJudge(t *testing.T) {
	r := records(1000, meal(care.Regurgitated), meal(care.Took), meal(care.Regurgitated))
	said := r.Judge(tables(t))
	if len(said) != 2 || said[0].Entry != r.Entries[0].ID || said[1].Entry != r.Entries[2].ID {
		t.Fatalf("said %+v", said)
	}
	if said[0].Verdict.Level != knowledge.VetWithinDays || said[1].Verdict.Level != knowledge.LookAgain {
		t.Errorf("levels %q and %q", said[0].Verdict.Level, said[1].Verdict.Level)
	}
}

// The mass of the day counts, not today's.
func TestJudgeByTheMassOfTheDay(t *testing.T) {
	var r Records
	r.add(care.Entry{At: day(300), Body: care.Weight{Mass: model.Grams(900)}})
	r.add(care.Entry{At: day(100), Body: meal(care.Regurgitated)})
	r.add(care.Entry{At: day(90), Body: care.Weight{Mass: model.Grams(150)}})
	said := r.Judge(tables(t))
	if len(said) != 1 || said[0].Verdict.Level != knowledge.VetWithinDays {
		t.Errorf("said %+v", said)
	}
	r.Weights = r.Weights[:1]
	if said = r.Judge(tables(t)); len(said) != 1 || said[0].Verdict.Level != knowledge.VetWithinDays {
		t.Errorf("weighed only later: said %+v", said)
	}
}

// Open problems and everyday entries stand together, and the graver counts.
func TestStandJoinsProblems(t *testing.T) {
	froth := exam.StoredProblem{Problem: exam.Problem{Stop: "airway", What: "froth", Glimpses: []exam.Glimpse{{At: day(299), Standing: exam.New, Grade: exam.Slight}}}}
	v := records(1000, waste(care.Formed, care.HardLumps)).Stand(tables(t), []exam.StoredProblem{froth}, day(300))
	if v.Level != knowledge.EmergencyToday || len(v.Signs) != 2 {
		t.Errorf("level %q with %d signs", v.Level, len(v.Signs))
	}
}
