package paper_test

import (
	"strings"
	"testing"

	"coilward/export/paper"
	"coilward/export/papertest"
	"coilward/model"
	"coilward/model/animals"
	"coilward/model/chances"
	"coilward/model/evidence"
	"coilward/model/knowledge"
	"coilward/model/samples"
	"coilward/model/storetest"
)

// proof is what the record says under the head of what the tests prove.
func proof(f paper.Facts, text paper.Text) string {
	plain := paper.Plain(paper.HealthRecord(f, text, paper.A4))
	_, plain, _ = strings.Cut(plain, "\n## "+text.Say("paper.chances")+" ")
	plain, _, _ = strings.Cut(plain, "\n## ")
	return plain
}

// By hand, with the figures of the tables: before any swab 50 to 400 in 1,000; after one
// that could see it .05 × .05 of .05 × .05 + .95 × .995, up to .4 × .4 of
// .4 × .4 + .6 × .995. A swab of blood says nothing of it.
func TestTheRecordSaysWhatTheTestsProve(t *testing.T) {
	k := keep(t)
	if said := proof(k.facts(), papertest.Text(t, "en")); strings.Contains(said, " in 100") || !strings.Contains(said, "Not looked for: Serpentovirus, ") {
		t.Errorf("without a sample it says:\n%s", said)
	}
	a := k.facts().Animal
	a.Since = model.Date{Day: k.now().Day() - 100, Precision: model.ToDay}
	k.do(animals.Change{ID: k.animal, Base: 1, Animal: a})
	for _, material := range []knowledge.MaterialID{"oral-swab", "blood"} {
		id := model.SampleID{ID: k.do(samples.Prepare{Tables: k.tables, Each: []samples.New{{Animals: []model.AnimalID{k.animal},
			Sample: samples.Sample{Material: material, For: []knowledge.AgentID{"serpentovirus"}, Taken: k.now()}}}})}
		k.do(samples.Enter{Tables: k.tables, At: k.now(), Rows: []samples.Row{{On: samples.On{ID: id, Base: 1}, Found: []samples.Found{{Of: "serpentovirus", Outcome: samples.NotDetected}}}}})
	}
	f := k.facts()
	for language, want := range map[string][]string{
		"en": {"Serpentovirus: under 1 to 22 in 100, as of ", "5 to 40 in 100 → under 1 to 22 in 100", "says nothing: in such a sample", "5 to 40 in 100 of such animals carry it", "finds 60 to 95 in 100 of those that carry it", "For 7 to 42 days", "they are assumed", "What follows: The next sample is worth taking from", "No figure says that an animal does not carry something", "Not looked for: Reptarenavirus, "},
		"de": {"tragen Serpentovirus: unter 1 bis 22 von 100, Stand ", "5 bis 40 von 100 → unter 1 bis 22 von 100", "sagt nichts: In einer solchen Probe", "Was daraus folgt: Die nächste Probe lohnt sich ab dem", "Nicht gesucht: Reptarenavirus, "},
	} {
		said := proof(f, papertest.Text(t, language))
		for _, w := range want {
			if !strings.Contains(said, w) {
				t.Errorf("%s: it does not say %q:\n%s", language, w, said)
			}
		}
		vet := paper.Plain(paper.VetPage(f, papertest.Text(t, language), paper.A4))
		if !strings.Contains(vet, map[string]string{"en": "Serpentovirus: under 1 to 22 in 100 (1 sample counts)", "de": "Serpentovirus: unter 1 bis 22 von 100 (1 Probe zählt)"}[language]) {
			t.Errorf("%s: the page for the vet does not say it:\n%s", language, vet)
		}
	}
}

// What is told of a thing promises nothing, and no chance that rests on an assumed figure
// is one number.
func TestChancesOnPaperPromiseNothing(t *testing.T) {
	f := papertest.Bramble(t)
	for _, c := range f.Chances {
		if told := c.Now.Told(); c.Known() && c.Assumed() && told.Low == told.High {
			t.Errorf("%s is one number, %+v", c.Of, told)
		}
	}
	for _, language := range []string{"en", "de"} {
		text := papertest.Text(t, language)
		for _, said := range []string{proof(f, text), paper.Plain(paper.VetPage(f, text, paper.A4))} {
			for _, promise := range []string{"free of", "healthy", "frei von", "gesund"} {
				if strings.Contains(said, promise) {
					t.Errorf("%s: it says %q:\n%s", language, promise, said)
				}
			}
		}
	}
}

// What follows is said to whoever reads the paper: what was detected is for the vet, and
// nobody else is named.
func TestWhatFollowsOnPaper(t *testing.T) {
	f := papertest.Bramble(t)
	for act, want := range map[evidence.Act]string{evidence.Vet: "paper.chances.for-vet", evidence.Apart: "paper.chances.apart{Name=Bramble}", evidence.Await: "chance.act.await", evidence.Assumed: "paper.chances.assumed{Goal=chance.one{", evidence.Nothing: "chance.act.nothing{Goal=chance.one{"} {
		f.Chances[0].Act = act
		if said := proof(f, papertest.Keys{}); !strings.Contains(said, "paper.chances.follows "+want) {
			t.Errorf("%s: it does not say %q:\n%s", act, want, said)
		}
	}
	for range 8 {
		f.Chances[3].Exposed = append(f.Chances[3].Exposed, chances.Exposed{From: 7, Until: 9, Still: true, By: chances.ByNewcomer})
	}
	said := proof(f, papertest.Keys{})
	if n := strings.Count(said, "Name=paper.chances.another"); n != 6 || !strings.Contains(said, "paper.chances.more×3") {
		t.Errorf("%d of 9 times are told:\n%s", n, said)
	}
	if vet := paper.Plain(paper.VetPage(f, papertest.Keys{}, paper.A4)); !strings.Contains(vet, "paper.chances.no-sample; paper.chances.exposed-still") {
		t.Errorf("the vet does not read that it goes on:\n%s", vet)
	}
}

// A sample that cannot be read is left out, and that is said; where the house cannot be
// read nothing is worked out, and the record is printed all the same.
func TestChancesOfWhatCannotBeRead(t *testing.T) {
	k := keep(t)
	k.do(storetest.Put{Documents: []model.Document{{Type: model.TypeSample, ID: model.ID{8}, Version: 1, At: k.now(), Subjects: []model.Subject{k.animal.Subject()}, Body: []byte("[]")}}})
	if said := proof(k.facts(), papertest.Keys{}); !strings.Contains(said, "chance.cannot.unread×1") || strings.Contains(said, "paper.chances.failed") {
		t.Errorf("it does not say that one is left out:\n%s", said)
	} else if strings.Contains(said, "chance.cannot.unread-quarantine") {
		t.Errorf("it speaks of quarantines, of which there is none:\n%s", said)
	}
	k.do(storetest.Put{Documents: []model.Document{{Type: model.TypeQuarantine, ID: model.ID{9}, Version: 1, At: k.now(), Subjects: []model.Subject{{Kind: model.SubjectAnimal, ID: model.ID{7}}}, Body: []byte("[]")}}})
	if said := proof(k.facts(), papertest.Keys{}); !strings.Contains(said, "chance.cannot.unread-quarantine×1") {
		t.Errorf("it does not say that a quarantine counts as not released:\n%s", said)
	}
	// The page for the vet says it beside the chances, be it of one thing or of more.
	k.do(samples.Prepare{Tables: k.tables, Each: []samples.New{{Animals: []model.AnimalID{k.animal}, Sample: samples.Sample{Material: "oral-swab", For: []knowledge.AgentID{"serpentovirus"}, Taken: k.now()}}}})
	unread := k.facts()
	for n := 1; n <= 2; n++ {
		few := unread
		few.Chances = nil
		for _, c := range papertest.Bramble(t).Chances[:n] {
			c.Exposed = []chances.Exposed{{From: 7, Until: 9, By: chances.ByNewcomer}}
			few.Chances = append(few.Chances, c)
		}
		vet := paper.VetPage(few, papertest.Keys{}, paper.A4)
		if said := paper.Plain(vet); !strings.Contains(said, "chance.cannot.unread×1. chance.cannot.unread-quarantine×1") {
			t.Errorf("of %d things the vet does not read what cannot be read:\n%s", n, said)
		}
		if pages := len(paper.Layout(vet)); pages != 1 {
			t.Errorf("of %d things the page for the vet has %d pages", n, pages)
		}
	}
	f := papertest.Bramble(t)
	f.Chances, f.NoChances = nil, true
	if said := proof(f, papertest.Keys{}); !strings.Contains(said, "paper.chances.failed") || strings.Contains(said, "paper.chances.says") {
		t.Errorf("it does not say that nothing was worked out:\n%s", said)
	}
	if vet := paper.Plain(paper.VetPage(f, papertest.Keys{}, paper.A4)); !strings.Contains(vet, "paper.chances.failed") {
		t.Errorf("the vet does not read it:\n%s", vet)
	}
}

// The page for a vet stays one page with a line for each thing of the table.
func TestTheVetReadsOfEachThingOnOnePage(t *testing.T) {
	for name, typed := range papertest.Hostile() {
		f := papertest.Typed(t, typed)
		one := f.Chances[3]
		f.Chances = nil
		for _, a := range f.Tables.Agents() {
			one.Of = a.ID
			f.Chances = append(f.Chances, one)
		}
		for _, size := range []paper.Size{paper.A4, paper.Letter} {
			for _, language := range []string{"en", "de"} {
				d := paper.VetPage(f, papertest.Text(t, language), size)
				if n := len(paper.Layout(d)); n != 1 {
					t.Errorf("%s, %s: %d pages", name, language, n)
				}
				if n := strings.Count(paper.Plain(d), map[string]string{"en": ": 20 to 78 in 100 (", "de": ": 20 bis 78 von 100 ("}[language]); n != len(f.Chances) {
					t.Errorf("%s, %s: %d of %d are told", name, language, n, len(f.Chances))
				}
			}
		}
	}
}

// What was detected in a pool is told as such on both papers: in which animal is not known.
func TestAPoolOnPaperIsNotOneAnimal(t *testing.T) {
	k := keep(t)
	other := model.AnimalID{ID: k.do(animals.Add{Animal: animals.Animal{Name: "Elm", Status: animals.Kept}})}
	id := model.SampleID{ID: k.do(samples.Prepare{Tables: k.tables, Each: []samples.New{{Animals: []model.AnimalID{k.animal, other},
		Sample: samples.Sample{Material: "choanal-swab", For: []knowledge.AgentID{"serpentovirus"}, Taken: k.now()}}}})}
	k.do(samples.Enter{Tables: k.tables, At: k.now(), Rows: []samples.Row{{On: samples.On{ID: id, Base: 1}, Found: []samples.Found{{Of: "serpentovirus", Outcome: samples.Detected}}}}})
	f := k.facts()
	if said := proof(f, papertest.Keys{}); !strings.Contains(said, "paper.chances.follows paper.chances.for-vet-pool") {
		t.Errorf("the record does not say that it was a pool:\n%s", said)
	}
	if vet := paper.Plain(paper.VetPage(f, papertest.Keys{}, paper.A4)); !strings.Contains(vet, "paper.chances.samples×1; paper.chances.in-pool") {
		t.Errorf("the vet does not read that it was a pool:\n%s", vet)
	}
	own := model.SampleID{ID: k.do(samples.Prepare{Tables: k.tables, Each: []samples.New{{Animals: []model.AnimalID{k.animal},
		Sample: samples.Sample{Material: "choanal-swab", For: []knowledge.AgentID{"ferlavirus"}, Taken: k.now()}}}})}
	k.do(samples.Enter{Tables: k.tables, At: k.now(), Rows: []samples.Row{{On: samples.On{ID: own, Base: 1}, Found: []samples.Found{{Of: "ferlavirus", Outcome: samples.Detected}}}}})
	if said := proof(k.facts(), papertest.Keys{}); strings.Count(said, "-pool") != 1 || !strings.Contains(said, "paper.chances.for-vet\n") && !strings.HasSuffix(said, "paper.chances.for-vet") {
		t.Errorf("its own sample is told as a pool:\n%s", said)
	}
}

// Where something was detected in a pool, and another in it was missed alone, the record says how
// much higher the chance may be.
func TestTheRecordSaysWhatAPoolLeavesOut(t *testing.T) {
	k := keep(t)
	other := model.AnimalID{ID: k.do(animals.Add{Animal: animals.Animal{Name: "Alder", Status: animals.Kept, Since: model.Date{Day: k.now().Day() - 90, Precision: model.ToDay}}})}
	for _, taken := range []struct {
		of    []model.AnimalID
		found samples.Outcome
		said  bool
	}{
		{[]model.AnimalID{k.animal, other}, samples.Detected, false}, {[]model.AnimalID{other}, samples.NotDetected, true},
	} {
		id := model.SampleID{ID: k.do(samples.Prepare{Tables: k.tables, Each: []samples.New{{Animals: taken.of, Sample: samples.Sample{Material: "oral-swab", For: []knowledge.AgentID{"serpentovirus"}, Taken: k.now()}}}, Confirmed: model.Confirmed{"day.before-arrival"}})}
		k.do(samples.Enter{Tables: k.tables, At: k.now(), Rows: []samples.Row{{On: samples.On{ID: id, Base: 1}, Found: []samples.Found{{Of: "serpentovirus", Outcome: taken.found}}}}})
		if said := proof(k.facts(), papertest.Keys{}); strings.Contains(said, "chance.assumes.pool-detected") != taken.said {
			t.Errorf("with one of %d: said is not %v:\n%s", len(taken.of), taken.said, said)
		}
	}
}
