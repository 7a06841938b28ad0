package history

import (
	"slices"
	"testing"

	"coilward/assets"
	"coilward/model"
	"coilward/model/care"
	"coilward/model/exam"
	"coilward/model/knowledge"
)

func tables(t testing.TB) *knowledge.Tables {
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
	r.Weights = []care.Weighed{{Weight: care.Weight{Mass: r.Context.Mass}}} // on day 0
	for i := len(bodies) - 1; i >= 0; i-- {
		r.add(care.Entry{ID: model.EntryID{ID: model.ID{15: byte(i + 1)}}, At: day(300 - 10*(len(bodies)-1-i)), Body: bodies[i]})
	}
	return r
}

// within are looks for mites of one minute, given oldest first.
func within(grades ...care.MiteGrade) Records {
	var looks []care.Body
	for _, g := range grades {
		looks = append(looks, mitesAt(g))
	}
	r := records(1000, looks...)
	for i := range r.Entries {
		r.Entries[i].At = day(300)
	}
	return r
}

func waste(faeces, urates care.Trait) care.Waste {
	return care.Waste{Faeces: []care.Trait{faeces}, Urates: []care.Trait{urates}}
}

func mitesAt(g care.MiteGrade) care.MiteLook {
	return care.MiteLook{Grade: g, Where: []care.MiteWhere{care.OnAnimal}}
}

func meal(o care.Outcome) care.Meal { return care.Meal{Outcome: o} }

// clean are so many entries of faeces and urates as they should be.
func clean(n int) (all []care.Body) {
	for range n {
		all = append(all, waste(care.Formed, care.White))
	}
	return all
}

// A check that looked at both eyes and found nothing tells more than the shed
// before it: the cap is gone. One that left an eye out, or was a brief look, tells
// nothing of it; one that found it has told of it itself.
func TestStandOfAShed_AfterACheck(t *testing.T) {
	tb := tables(t)
	caps := care.Shed{Skin: care.Whole, StuckEyeCaps: care.Yes, StuckTailTip: care.No}
	looked := func(seconds int64, left, right exam.Look, found bool) exam.StoredCheck {
		c := exam.StoredCheck{ID: model.EntryID{ID: model.ID{9}}}
		c.Begun, c.Finished = day(301), day(301)
		c.Finished.UTC += seconds
		for _, s := range tb.Stops() {
			c.Stops = append(c.Stops, exam.Answered{Stop: s.ID, Look: map[knowledge.StopID]exam.Look{"eye-left": left, "eye-right": right}[s.ID]})
		}
		if found {
			c.Findings = []exam.Finding{{Stop: "eye-right", What: "stuck-eye-cap", Grade: exam.Slight, Standing: exam.New, At: c.Begun}}
		}
		return c
	}
	for name, c := range map[string]struct {
		check       exam.StoredCheck
		once, twice knowledge.Level // of an eye cap left at one shed, and at two
	}{
		"both eyes clear":    {looked(300, exam.Seen, exam.Seen, false), knowledge.Nothing, knowledge.VetWithinDays},
		"one eye not looked": {looked(300, exam.Seen, exam.NotLooked, false), knowledge.LookAgain, knowledge.VetWithinDays},
		"a brief look":       {looked(1, exam.Seen, exam.Seen, false), knowledge.LookAgain, knowledge.VetWithinDays},
		"the cap is found":   {looked(300, exam.Seen, exam.Seen, true), knowledge.Nothing, knowledge.Nothing}, // its problem stands for it
	} {
		once, twice := records(1000, caps), records(1000, caps, caps)
		once.Checks, twice.Checks = []exam.StoredCheck{c.check}, []exam.StoredCheck{c.check}
		if got := once.Stand(tb, nil, day(302)).Level(); got != c.once {
			t.Errorf("%s, after one shed: %q, want %q", name, got, c.once)
		}
		s := twice.Stand(tb, nil, day(302))
		if got := s.Level(); got != c.twice {
			t.Errorf("%s, after two sheds: %q, want %q", name, got, c.twice)
		}
		if name == "both eyes clear" && (len(s.Parts) != 1 || s.Parts[0].From != FromGone || !s.Parts[0].Noted() || s.Parts[0].Gone != 301) {
			t.Errorf("%s: %+v", name, s.Parts)
		}
	}
}

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
		{"no mites", records(1000, mitesAt(care.NoMites)), knowledge.Nothing},
		{"a speck", records(1000, mitesAt(care.MiteSpeck)), knowledge.Nothing},
		{"one mite", records(1000, mitesAt(care.OneMite)), knowledge.VetWithinDays},
		{"mites all around", records(1000, mitesAt(care.MitesAllAround)), knowledge.VetWithinDays},
		{"one look without them is not enough", records(1000, mitesAt(care.SeveralMites), mitesAt(care.NoMites)), knowledge.VetWithinDays},
		{"nor with a speck", records(1000, mitesAt(care.SeveralMites), mitesAt(care.MiteSpeck), mitesAt(care.NoMites)), knowledge.VetWithinDays},
		{"two are", records(1000, mitesAt(care.SeveralMites), mitesAt(care.NoMites), mitesAt(care.NoMites)), knowledge.Nothing},
		{"but not of one day", within(care.SeveralMites, care.NoMites, care.NoMites), knowledge.VetWithinDays},
		{"until they are seen again", records(1000, mitesAt(care.NoMites), mitesAt(care.NoMites), mitesAt(care.OneMite)), knowledge.VetWithinDays},
		{"soft is nothing", records(1000, waste(care.Soft, care.Cream)), knowledge.Nothing},
		{"blood, then a clean one", records(1000, waste(care.Blood, care.White), waste(care.Formed, care.White)), knowledge.VetWithinDays},
		{"blood, then two clean ones: it waits for a vet's word", records(1000, append([]care.Body{waste(care.Blood, care.White)}, clean(2)...)...), knowledge.VetWithinDays},
		{"to the last day of that", records(1000, append([]care.Body{waste(care.Blood, care.White)}, clean(3)...)...), knowledge.VetWithinDays},
		{"and no longer", records(1000, append([]care.Body{waste(care.Blood, care.White)}, clean(4)...)...), knowledge.Nothing},
		{"blood, then two without faeces", records(1000, waste(care.Blood, care.White), waste(care.NoneSeen, care.White), waste(care.NoneSeen, care.White)), knowledge.VetWithinDays},
		{"worms, then a clean one", records(1000, waste(care.Worms, care.White), waste(care.Formed, care.White)), knowledge.VetWithinDays},
		{"mucus, then a clean one", records(1000, waste(care.Mucus, care.White), waste(care.Formed, care.White)), knowledge.VetWithinDays},
		{"mucus, then clean for longer", records(1000, append([]care.Body{waste(care.Mucus, care.White)}, clean(4)...)...), knowledge.Nothing},
		{"hard once, then a clean one: it was none for the vet", records(1000, append([]care.Body{waste(care.Formed, care.HardLumps)}, clean(1)...)...), knowledge.Nothing},
		{"mucus, then none seen", records(1000, waste(care.Mucus, care.White), waste(care.NoneSeen, care.White)), knowledge.VetWithinDays},
		{"hard urates once", records(1000, waste(care.Formed, care.HardLumps)), knowledge.LookAgain},
		{"gritty urates once", records(1000, waste(care.Formed, care.Gritty)), knowledge.LookAgain},
		{"gritty urates twice running", records(1000, waste(care.Formed, care.Gritty), waste(care.Formed, care.Gritty)), knowledge.VetWithinDays},
		{"yellow urates", records(1000, waste(care.Formed, care.Yellow)), knowledge.LookAgain},
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
		{"eye cap left twice, then a whole shed", records(1000, caps, caps, whole), knowledge.VetWithinDays},
		{"eye cap left, then a whole shed", records(1000, caps, whole), knowledge.Nothing},
		{"eye cap left, then a shed not looked at", records(1000, caps, care.Shed{}), knowledge.LookAgain},
		{"eye cap left, not looked at, left", records(1000, caps, care.Shed{}, caps), knowledge.VetWithinDays},
		{"eye cap left, whole, left", records(1000, caps, whole, caps), knowledge.LookAgain},
		{"tail ring left", records(1000, ring), knowledge.LookAgain},
	} {
		if got := c.r.Stand(tables(t), nil, day(300)).Level(); got != c.want {
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

// froth is a problem that a check saw, with that check.
func froth(last exam.Standing) (exam.StoredProblem, exam.StoredCheck) {
	check := model.EntryID{ID: model.ID{7}}
	p := exam.StoredProblem{ID: model.ProblemID{ID: model.ID{9}}, Problem: exam.Problem{Stop: "airway", What: "froth",
		Glimpses: []exam.Glimpse{{Check: check, At: day(290), Standing: exam.New, Grade: exam.Slight}}}}
	said := exam.Verdict{Level: knowledge.EmergencyToday, Day: day(290).Day(), VetWithin: 3,
		Signs:   []exam.Sign{{Stop: p.Stop, What: p.What, Problem: p.ID, Standing: exam.New, Seen: day(290).Day()}},
		Reasons: []exam.Reason{{Rule: "as-said-then", Level: knowledge.EmergencyToday, Signs: []int{0}, Isolate: true}}}
	if last != exam.New {
		p.Glimpses = append(p.Glimpses, exam.Glimpse{At: day(295), Standing: last, Grade: exam.Slight})
	}
	return p, exam.StoredCheck{ID: check, Check: exam.Check{Verdict: said}}
}

// Open problems stand as their check said, everyday entries beside them, and the
// graver counts.
func TestStandJoinsProblems(t *testing.T) {
	p, check := froth(exam.New)
	r := records(1000, waste(care.Formed, care.HardLumps))
	r.Checks = []exam.StoredCheck{check}
	s := r.Stand(tables(t), []exam.StoredProblem{p}, day(300))
	if s.Level() != knowledge.EmergencyToday || len(s.Parts) != 2 || !s.Apart() {
		t.Fatalf("level %q, apart %t: %+v", s.Level(), s.Apart(), s.Parts)
	}
	if first := s.Parts[0]; first.Day != day(290).Day() || first.Verdict.Reasons[0].Rule != "as-said-then" || s.Of(p.ID) != knowledge.EmergencyToday {
		t.Errorf("the check's own word does not stand: %+v", first)
	}
	due := s.Due()
	if len(due) != 2 || due[0].Level != knowledge.EmergencyToday || due[0].By != day(290).Day() || due[1].Level != knowledge.LookAgain {
		t.Errorf("due %+v", due)
	}
	if by, wanted := s.VetBy(); !wanted || by != day(290).Day() {
		t.Errorf("vet by %s, %t", by, wanted)
	}
}

// A problem that no check has judged is judged as it was last seen.
func TestStandWithoutACheck(t *testing.T) {
	p, _ := froth(exam.New)
	if s := records(1000).Stand(tables(t), []exam.StoredProblem{p}, day(300)); s.Level() != knowledge.EmergencyToday || s.Parts[0].From != FromLook {
		t.Errorf("%+v", s.Parts)
	}
}

// What was for the vet and is gone asks for the vet on, and no longer when a vet
// has closed it, or when so many days have passed.
func TestGoneWithoutAVetsWord(t *testing.T) {
	for _, c := range []struct {
		last  exam.Standing
		after int
		want  knowledge.Level
	}{{exam.Gone, 0, knowledge.VetWithinDays}, {exam.Gone, 30, knowledge.VetWithinDays}, {exam.Gone, 31, knowledge.Nothing}, {exam.Gone, -1, knowledge.Nothing}, {exam.Closed, 0, knowledge.Nothing}} {
		p, check := froth(c.last)
		r := records(1000)
		r.Checks = []exam.StoredCheck{check}
		s := r.Stand(tables(t), []exam.StoredProblem{p}, day(295+c.after))
		if s.Level() != c.want || s.Of(p.ID) != c.want || (len(s.Due()) > 0) != (c.want > knowledge.Nothing) {
			t.Errorf("%s, after %d days: %q, due %+v", c.last, c.after, s.Level(), s.Due())
		}
	}
}

// Emergencies come before what is long overdue.
func TestDueIsGravestFirst(t *testing.T) {
	r := records(1000, waste(care.Formed, care.HardLumps), meal(care.Took), meal(care.Took))
	p, check := froth(exam.New)
	r.Checks = []exam.StoredCheck{check}
	if due := r.Stand(tables(t), []exam.StoredProblem{p}, day(300)).Due(); len(due) != 2 || due[0].Level != knowledge.EmergencyToday || due[1].By > due[0].By {
		t.Errorf("due %+v", due)
	}
}

// A loss of 10 % is named; source: common practice, no source.
func TestStandNamesALoss(t *testing.T) {
	for last, want := range map[int64]bool{900: true, 901: false} {
		var r Records
		for i, g := range []int64{last, 1000, 1000, 1000} {
			r.Weights = append(r.Weights, weighed(day(300-40*i), model.Grams(g)))
		}
		if s := r.Stand(tables(t), nil, day(300)); s.Loss.ForVet() != want || s.Level() != knowledge.Nothing {
			t.Errorf("%d g: loss %+v, level %q", last, s.Loss, s.Level())
		}
	}
}

// Beside a check stands what everyday entries tell and what went without a vet's
// word, this check's own word not, and what it says as urgently itself not twice.
func TestBesidesACheck(t *testing.T) {
	r := records(1000, waste(care.Formed, care.HardLumps))
	p, older := froth(exam.New)
	r.Checks = []exam.StoredCheck{older}
	now := exam.StoredCheck{ID: model.EntryID{ID: model.ID{8}}, Check: exam.Check{Walk: exam.Walk{
		Earlier: []exam.Earlier{{Problem: p.ID, Stop: p.Stop, What: p.What, Before: p.Last(), Now: exam.Glimpse{At: day(300), Standing: exam.Gone, Grade: exam.Slight}}}},
		Finished: day(300), Verdict: exam.Verdict{Day: 300}}}
	from := func(c exam.StoredCheck) (origins []Origin) {
		for _, part := range r.Besides(tables(t), c, []exam.StoredProblem{p}, day(300)).Parts {
			origins = append(origins, part.From)
		}
		return origins
	}
	if got := from(now); !slices.Equal(got, []Origin{FromGone, FromEntry}) {
		t.Errorf("called gone: %v", got)
	}
	now.Earlier[0].Now.Standing = exam.Same
	if got := from(now); !slices.Equal(got, []Origin{FromEntry}) {
		t.Errorf("still there: %v", got)
	}
	now.Verdict.Signs = []exam.Sign{{Stop: knowledge.Waste, What: "hard-urates", Standing: exam.New, Seen: 300}}
	now.Verdict.Reasons = []exam.Reason{{Level: knowledge.LookAgain, Signs: []int{0}}}
	if got := from(now); len(got) > 0 {
		t.Errorf("said by the check itself: %v", got)
	}
}

// The days set on for the vet are named by problem, also for one that is gone
// without a vet's word.
func TestVetForNamesProblems(t *testing.T) {
	for _, last := range []exam.Standing{exam.New, exam.Gone, exam.Closed} {
		p, check := froth(last)
		r := records(1000)
		r.Checks = []exam.StoredCheck{check}
		by, set := r.Stand(tables(t), []exam.StoredProblem{p}, day(300)).VetFor()[p.ID]
		if set != (last != exam.Closed) || set && by != day(290).Day() {
			t.Errorf("%s: %v, %t", last, by, set)
		}
	}
}

// A cap that a check has found and a shed tells of again is said once, where the
// check says it as urgently; a second shed in a row says more.
func TestStand_WhatIsSeenTwiceIsSaidOnce(t *testing.T) {
	tb := tables(t)
	caps := care.Shed{Skin: care.Whole, StuckEyeCaps: care.Yes, StuckTailTip: care.No}
	cap := exam.StoredProblem{ID: model.ProblemID{ID: model.ID{7}}, Problem: exam.Problem{Stop: "eye-left", What: "stuck-eye-cap", Glimpses: []exam.Glimpse{
		{Check: model.EntryID{ID: model.ID{9}}, At: day(295), Standing: exam.New, Grade: exam.Slight}}}}
	check := exam.StoredCheck{ID: model.EntryID{ID: model.ID{9}}}
	check.Begun, check.Finished = day(295), day(295)
	check.Verdict = exam.Stand(tb, []exam.StoredProblem{cap}, exam.Context{Age: exam.Adult}, day(295))
	for name, c := range map[string]struct {
		r     Records
		parts int
	}{"one shed": {records(1000, caps), 1}, "two sheds": {records(1000, caps, caps), 2}} {
		c.r.Checks = []exam.StoredCheck{check}
		if s := c.r.Stand(tb, []exam.StoredProblem{cap}, day(300)); len(s.Parts) != c.parts {
			t.Errorf("%s: %+v", name, s.Parts)
		}
	}
	// another finding of the check, however grave, says nothing of the cap
	prolapse := exam.StoredProblem{ID: model.ProblemID{ID: model.ID{8}}, Problem: exam.Problem{Stop: "vent", What: "prolapse", Glimpses: []exam.Glimpse{
		{Check: check.ID, At: day(295), Standing: exam.New, Grade: exam.Severe}}}}
	both := []exam.StoredProblem{cap, prolapse}
	check.Verdict = exam.Stand(tb, both, exam.Context{Age: exam.Adult}, day(295))
	r := records(1000, caps, caps)
	r.Checks = []exam.StoredCheck{check}
	if s := r.Stand(tb, both, day(300)); s.Level() != knowledge.EmergencyToday || len(s.Parts) != 2 {
		t.Errorf("a graver finding beside it hides the second shed: %+v", s.Parts)
	}
}
