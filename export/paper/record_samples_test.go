package paper_test

import (
	"slices"
	"strings"
	"testing"

	"coilward/export/paper"
	"coilward/export/papertest"
	"coilward/model"
	"coilward/model/animals"
	"coilward/model/indoors"
	"coilward/model/knowledge"
	"coilward/model/people"
	"coilward/model/samples"
	"coilward/model/storetest"
)

// found is Bramble with one more sample, in which a virus was detected.
func found(t *testing.T, others int) paper.Facts {
	f := papertest.Bramble(t)
	at := f.Issued
	at.UTC -= 3 * 86400
	f.Samples = append(f.Samples, paper.Sampled{At: at, Others: others, Sample: samples.Sample{Material: "oral-swab", Taken: at, For: []knowledge.AgentID{"reptarenavirus"},
		Results: []samples.Result{{Of: "reptarenavirus", Outcome: samples.Detected, At: f.Issued}}}})
	return f
}

// page is the first page of the record in the text form.
func page(f paper.Facts) string {
	d := paper.HealthRecord(f, papertest.Keys{}, paper.A4)
	d.Sections = d.Sections[:1]
	return paper.Plain(d)
}

func TestWhatWasDetectedIsNamedFirst(t *testing.T) {
	for others, want := range map[int]string{
		0: "paper.tests.sentence{Agent=agent.reptarenavirus Day=2027-02-28 Material=material.oral-swab} paper.tests.apart",
		2: "paper.tests.sentence-pooled{Agent=agent.reptarenavirus Day=2027-02-28 Material=material.oral-swab}×2 paper.tests.apart",
	} {
		f := found(t, others)
		first := page(f)
		at := strings.Index(first, want)
		if vet := strings.Index(first, "paper.sentence.vet"); at < 0 || vet < at {
			t.Errorf("%d others: it stands at %d, what else is for the vet at %d:\n%s", others, at, vet, first)
		}
		if strings.Contains(first, "paper.sentence.none") {
			t.Errorf("%d others: it is said that nothing is open", others)
		}
		if card := paper.Plain(paper.EmergencyCard(f, nil, papertest.Keys{})); !strings.Contains(card, want) {
			t.Errorf("%d others: the card does not say %q:\n%s", others, want, card)
		}
		later := slices.Clone(f.Samples)
		later = append(later, later[len(later)-1])
		again := &later[len(later)-1]
		again.At, again.Taken = f.Issued, f.Issued
		again.Results = []samples.Result{{Of: "reptarenavirus", Outcome: samples.NotDetected, At: f.Issued}}
		if f.Samples = later; !strings.Contains(page(f), want) {
			t.Errorf("%d others: a later sample takes back what was detected", others)
		}
	}
	if first := page(papertest.Bramble(t)); strings.Contains(first, "paper.tests.apart") {
		t.Errorf("nothing was detected, and it is to be kept apart for it:\n%s", first)
	}
}

// What has no answer is never said to be not detected.
func TestWhatSaysNothingIsNotCalledNotDetected(t *testing.T) {
	f := papertest.Bramble(t)
	f.Chances = nil // of the samples that are replaced
	for name, c := range map[string]struct {
		outcome samples.Outcome
		void    *samples.Void
		want    string
	}{
		"pending":      {samples.Pending, nil, "samples.outcome.pending, samples.stage.taken"},
		"inconclusive": {samples.Inconclusive, nil, "paper.tests.says-nothing{Outcome=samples.outcome.inconclusive}"},
		"inhibited":    {samples.Inhibited, nil, "paper.tests.says-nothing{Outcome=samples.outcome.inhibited}"},
		"not done":     {samples.NotDone, nil, "paper.tests.says-nothing{Outcome=samples.outcome.not-done}"},
		"lost":         {samples.Pending, &samples.Void{At: f.Issued, Why: samples.Lost}, "samples.stage.void, samples.why.lost"},
	} {
		s := samples.Sample{Material: "oral-swab", Taken: f.Issued, For: []knowledge.AgentID{"serpentovirus"}, Void: c.void}
		if c.outcome != samples.Pending {
			s.Results = []samples.Result{{Of: "serpentovirus", Outcome: c.outcome, At: f.Issued}}
		}
		f.Samples = []paper.Sampled{{At: f.Issued, Sample: s}}
		plain := said(f, paper.A4)
		if !strings.Contains(plain, c.want) || !strings.Contains(plain, "paper.unknown.tests paper.tests.one{Agent=agent.serpentovirus") {
			t.Errorf("%s: the record does not say %q, or not that there is no answer:\n%s", name, c.want, plain)
		}
		if strings.Contains(plain, "not-detected") || strings.Contains(plain, "paper.known.tests") {
			t.Errorf("%s: it is told as an answer", name)
		}
	}
}

// "Not detected" of what may be in the brain alone (seen: Stenglein et al. 2017
// J Virol) never stands bare of a swab, nor with the mark of an answer.
func TestWhatCannotSpeakIsSaidToSayNothing(t *testing.T) {
	f := papertest.Bramble(t)
	f.Chances = nil // of the samples that are replaced
	for material, silent := range map[knowledge.MaterialID]bool{"blood": true, "oesophageal-swab": true, "tissue": false} {
		s := samples.Sample{Material: material, Taken: f.Issued, For: []knowledge.AgentID{"reptarenavirus"}, Results: []samples.Result{{Of: "reptarenavirus", Outcome: samples.NotDetected, At: f.Issued}}}
		f.Samples = []paper.Sampled{{At: f.Issued, Sample: s}}
		if plain := said(f, paper.A4); strings.Contains(plain, "samples.silent") != silent || silent && strings.Count(plain, "samples.outcome.not-detected") != strings.Count(plain, "samples.outcome.not-detected, samples.silent") {
			t.Errorf("%s: want silent %v:\n%s", material, silent, plain)
		}
	}
}

// Where samples miss a thing often that stands behind "not detected", of ferlavirus in
// swabs as Flach et al. 2018 J Zoo Wildl Med 49(4) found, 2 of 5 (abstract).
func TestWhatIsMissedOftenIsSaid(t *testing.T) {
	f := papertest.Bramble(t)
	f.Chances = nil // of the samples that are replaced
	for material, weak := range map[knowledge.MaterialID]bool{"oral-swab": true, "cloacal-swab": true, "tracheal-wash": false} {
		for outcome, of := range map[samples.Outcome]bool{samples.NotDetected: weak, samples.Detected: false} {
			s := samples.Sample{Material: material, Taken: f.Issued, For: []knowledge.AgentID{"ferlavirus"}, Results: []samples.Result{{Of: "ferlavirus", Outcome: outcome, At: f.Issued}}}
			f.Samples = []paper.Sampled{{At: f.Issued, Sample: s}}
			bare, full := "samples.outcome.not-detected", "samples.outcome.not-detected, samples.weak{Found=2 Of=5}"
			if plain := paper.Plain(paper.HealthRecord(f, papertest.Keys{}, paper.A4)); strings.Contains(plain, "samples.weak") != of || of && strings.Count(plain, bare) != strings.Count(plain, full) {
				t.Errorf("%s, %s: want it said %v:\n%s", material, outcome, of, plain)
			}
		}
	}
}

// Tests stand among what is not in the records only where no sample was taken.
func TestTestsAreMissingOnlyWhereThereAreNone(t *testing.T) {
	f := papertest.Bramble(t)
	if first := page(f); strings.Contains(first, "paper.unknown.not-kept.tests") || !strings.Contains(first, "paper.unknown.not-kept.quarantine") || !strings.Contains(first, "paper.known.tests paper.tests.one{Agent=agent.serpentovirus") {
		t.Errorf("the samples are not told:\n%s", first)
	}
	f.Samples = []paper.Sampled{{At: f.Issued, Sample: samples.Sample{Material: "oral-swab", For: []knowledge.AgentID{"serpentovirus"}}}}
	if first := page(f); !strings.Contains(first, "paper.unknown.not-kept.tests") {
		t.Error("a kit that waits to be used counts as a test")
	}
	if plain := said(f, paper.A4); !strings.Contains(plain, "samples.stage.to-take") {
		t.Errorf("the kit is not told:\n%s", plain)
	}
}

// A result that was put right keeps what it was before.
func TestTheResultBeforeIsKept(t *testing.T) {
	plain := said(papertest.Bramble(t), paper.A4)
	for _, want := range []string{"paper.tests.put-right{Day=2026-12-01 Outcome=samples.outcome.inconclusive Why=run again by the lab}", "Otterby lab", "paper.tests.number{Number=A-771b}", "animal.day.sample.pool×2", "paper.tests.caution"} {
		if !strings.Contains(plain, want) {
			t.Errorf("the record does not say %q:\n%s", want, plain)
		}
	}
}

// The number of a report is told once with its word, also where the lab's own begins
// with it.
func TestTheWordOfAReportIsToldOnce(t *testing.T) {
	f := papertest.Bramble(t)
	for number, want := range map[string]string{"Report/3380": "Report/3380", "Reporter 7": "report Reporter 7", "3380": "report 3380"} {
		f.Samples = []paper.Sampled{{At: f.Issued, Sample: samples.Sample{Material: "oral-swab", For: []knowledge.AgentID{"serpentovirus"}, Taken: f.Issued,
			Results: []samples.Result{{Of: "serpentovirus", Outcome: samples.NotDetected, At: f.Issued, Report: number}}}}}
		plain := paper.Plain(paper.HealthRecord(f, papertest.Text(t, "en"), paper.A4))
		if !strings.Contains(plain, want) || strings.Contains(strings.ToLower(plain), "report report/") {
			t.Errorf("%q is not told as %q", number, want)
		}
	}
}

// A table of entries has a column for notes where there is a note.
func TestNoColumnForNotesThatAreNotThere(t *testing.T) {
	f := papertest.Bramble(t)
	f.Sheds = f.Sheds[:1]
	for _, note := range []string{"", "in one piece"} {
		f.Sheds[0].Body.Note = note
		plain := said(f, paper.A4)
		_, sheds, _ := strings.Cut(plain, "paper.table.sheds")
		sheds, _, _ = strings.Cut(sheds, "paper.table.waste")
		if there := strings.Contains(sheds, "paper.table.note"); there != (note != "") {
			t.Errorf("note %q: a column is there: %v\n%s", note, there, sheds)
		}
	}
}

// Samples are gathered of every animal in them, with their lab where it is not
// private; one that cannot be read is counted.
func TestGather_Samples(t *testing.T) {
	k := keep(t)
	other := k.do(animals.Add{Animal: animals.Animal{Name: "Merle", Status: animals.Kept}})
	lab := model.PersonID{ID: k.do(people.Add{Person: people.Person{Name: "Otterby lab", Roles: []people.Role{people.Lab}}})}
	id := model.SampleID{ID: k.do(samples.Prepare{Tables: k.tables, Each: []samples.New{{Animals: []model.AnimalID{k.animal, {ID: other}},
		Sample: samples.Sample{Material: "choanal-swab", For: []knowledge.AgentID{"serpentovirus"}, Taken: k.now(), Lab: lab}}}})}
	if s := k.sitting(3); s.Homes[0].Detected != nil {
		t.Errorf("without a result, %v was detected", s.Homes[0].Detected)
	}
	k.do(samples.Enter{Tables: k.tables, At: k.now(), Rows: []samples.Row{{On: samples.On{ID: id, Base: 1}, Found: []samples.Found{{Of: "serpentovirus", Outcome: samples.Detected}}}}})
	f := k.facts()
	if len(f.Samples) != 1 || f.Samples[0].Others != 1 || f.Samples[0].Lab != "Otterby lab" || f.Samples[0].Outcome("serpentovirus") != samples.Detected || f.Entries != 1 {
		t.Errorf("gathered %+v of %d entries", f.Samples, f.Entries)
	}
	if first := page(f); !strings.Contains(first, "paper.tests.sentence-pooled") {
		t.Errorf("what was detected is not named:\n%s", first)
	}
	s := k.sitting(3)
	plain := paper.Plain(paper.SitterPaper(s, nil, k.tables, papertest.Keys{}, paper.A4))
	if strings.Contains(plain, "due.job.positive") {
		t.Error("the sitter is asked to do what is to be done about it")
	}
	if n := strings.Count(plain, "paper.tests.detected-in{Agent=agent.serpentovirus} / paper.sentence.apart"); n != 2 {
		t.Errorf("the sitter is told %d times, of two animals:\n%s", n, plain)
	}
	k.do(people.Change{ID: lab, Base: 1, Person: people.Person{Name: "Otterby lab", Roles: []people.Role{people.Lab}, Private: true}})
	if f := k.facts(); f.Samples[0].Lab != "" {
		t.Errorf("the record names %q, which is private", f.Samples[0].Lab)
	}
	bad := model.Document{Type: model.TypeSample, ID: model.ID{8}, Version: 1, At: k.now(), Subjects: []model.Subject{k.animal.Subject()}, Body: []byte("[]")}
	k.do(storetest.Put{Documents: []model.Document{bad}})
	if f := k.facts(); f.Unknown["sample"] != 1 || len(f.Samples) != 1 {
		t.Errorf("of one that cannot be read: %v, %d samples", f.Unknown, len(f.Samples))
	}
}

// A sample or a positive that cannot be read is told on each paper that would state
// it, by its name in the paper's language.
func TestWhatCannotBeReadIsTold(t *testing.T) {
	k := keep(t)
	papers := func(language string) map[string]string {
		text := papertest.Text(t, language)
		return map[string]string{"record": paper.Plain(paper.HealthRecord(k.facts(), text, paper.A4)), "card": paper.Plain(paper.EmergencyCard(k.facts(), nil, text)),
			"sitter": paper.Plain(paper.SitterPaper(k.sitting(3), nil, k.tables, text, paper.A4))}
	}
	for name, plain := range papers("en") {
		if strings.Contains(plain, "of kind") {
			t.Errorf("%s: something is missing that is not:\n%s", name, plain)
		}
	}
	for i, of := range []model.DocumentType{model.TypeSample, model.TypePositive} {
		k.do(storetest.Put{Documents: []model.Document{{Type: of, ID: model.ID{8, byte(i)}, Version: 1, At: k.now(), Subjects: []model.Subject{k.animal.Subject()}, Body: []byte("[]")}}})
	}
	for language, wants := range map[string][]string{"en": {"one of kind “Sample”", "one of kind “Positive”"}, "de": {"einer der Art „Probe“", "einer der Art „Nachweis“"}} {
		for name, plain := range papers(language) {
			for i, want := range wants {
				if name == "sitter" && i > 0 { // positives are the keeper's
					continue
				}
				if !strings.Contains(plain, want) {
					t.Errorf("%s: %q is not said:\n%s", name, want, plain)
				}
			}
		}
	}
}

// The first page and the card hold what was detected, in both languages and on
// both sheets.
func TestWhatWasDetectedFitsThePage(t *testing.T) {
	f := found(t, 3)
	for _, language := range []string{"en", "de"} {
		text := papertest.Text(t, language)
		for size, s := range sizes() {
			d := paper.HealthRecord(f, text, s)
			if pages := paper.Layout(d); pages[0].Section == pages[1].Section {
				t.Errorf("%s, %s: the summary takes more than one page", size, language)
			}
			plain := paper.Plain(d)
			if strings.ContainsAny(plain, "⟦□") {
				t.Errorf("a text is missing: %s", lineWith(plain, "⟦□"))
			}
			for _, w := range []string{"free of", "frei von"} {
				if strings.Contains(plain, w) {
					t.Errorf("%s: the record says %q", language, w)
				}
			}
		}
		if pages := paper.Layout(paper.EmergencyCard(f, practices()[:2], text)); len(pages) != 2 {
			t.Errorf("%s: the card has %d pages", language, len(pages))
		}
	}
}

// What was noted of samples and results stands on the record only where it is asked for.
func TestNotesOfSamplesStandWhereTheyAreAskedFor(t *testing.T) {
	f := papertest.Bramble(t)
	f.Samples[0].Note = "paid by the neighbour"
	for i := range f.Samples[0].Results {
		f.Samples[0].Results[i].Note = "asked by phone"
	}
	for _, asked := range []bool{false, true} {
		f.SampleNotes = asked
		plain := said(f, paper.A4)
		for _, note := range []string{"paid by the neighbour", "asked by phone"} {
			if strings.Contains(plain, note) != asked {
				t.Errorf("asked for %v: %q", asked, note)
			}
		}
	}
}

// By which method the lab looked stands beside its report, and antibodies are never told as an answer to
// whether the thing is there.
func TestAResultTellsItsMethod(t *testing.T) {
	f := papertest.Bramble(t)
	for method, open := range map[knowledge.Method]bool{"": false, knowledge.PCR: false, knowledge.Antibodies: true} {
		s := samples.Sample{Material: "oral-swab", Taken: f.Issued, For: []knowledge.AgentID{"serpentovirus"}, Results: []samples.Result{{Of: "serpentovirus", Outcome: samples.NotDetected, Method: method, At: f.Issued}}}
		f.Samples = []paper.Sampled{{At: f.Issued, Sample: s}}
		plain := said(f, paper.A4)
		if strings.Contains(plain, "samples.not-met") != open || strings.Contains(plain, "samples.by{Method=method."+string(method)+"}") != (method != "") || strings.Count(plain, "samples.by") > 1 {
			t.Errorf("by %q:\n%s", method, plain)
		}
	}
}

// Where the first page has room the chances stand there as bars, otherwise in words; they
// stand on it either way, and so does what they are not.
func TestTheChancesStandOnTheFirstPage(t *testing.T) {
	full, bare := papertest.Bramble(t), papertest.Bramble(t)
	bare.Problems, bare.Checks, bare.Portrait = nil, nil, paper.Photo{}
	bare.Animal.From, bare.Animal.Origin, bare.Animal.Permits, bare.Sheds, bare.Waste, bare.MiteLooks = "", "", "", nil, nil, nil
	for name, c := range map[string]struct {
		paper.Facts
		bars bool
	}{"full": {full, false}, "bare": {bare, true}} {
		first := page(c.Facts)
		if strings.Contains(first, "paper.open-chances") != c.bars {
			t.Errorf("%s: as bars is %v:\n%s", name, !c.bars, first)
		}
		for _, want := range []string{"agent.serpentovirus", "paper.chances.carries", "paper.chances.brief"} {
			if !strings.Contains(first, want) {
				t.Errorf("%s: the first page does not say %q", name, want)
			}
		}
	}
}

// Climate is missing only where nothing was read.
func TestClimateIsMissingOnlyWhereNothingWasRead(t *testing.T) {
	f := papertest.Bramble(t)
	if first := page(f); !strings.Contains(first, "paper.unknown.not-kept.climate") {
		t.Errorf("that no climate was read is not said:\n%s", first)
	}
	f.Air.Lately = []indoors.Lately{{}}
	if first := page(f); strings.Contains(first, "paper.unknown.not-kept.climate") {
		t.Error("a climate that was read is called missing")
	}
}
