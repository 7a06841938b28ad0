package paper_test

import (
	"strings"
	"testing"

	"coilward/assets"
	"coilward/export/paper"
	"coilward/export/papertest"
	"coilward/model"
	"coilward/model/animals"
	"coilward/model/exam"
	"coilward/model/knowledge"
	"coilward/model/label"
	"coilward/model/people"
	"coilward/model/samples"
)

// laboured is a form with a pool, a single swab with all that can be known, and one that is
// still to be taken.
func laboured() paper.Lab {
	at := model.Moment{UTC: 1_900_000_000, Offset: 3600, Precision: model.ToMinute}
	day := at
	day.Precision = model.ToDay
	id := func(n byte) model.SampleID { return model.SampleID{ID: model.ID{1, 2, 3, 15: n}} }
	juno := paper.LabAnimal{ID: model.AnimalID{ID: model.ID{1}}, Animal: animals.Animal{Name: "Juno", Code: "M-09", Species: "python-regius", Sex: animals.Female,
		Hatched: model.Date{Day: model.NewDay(2026, 6, 1), Precision: model.ToMonth}, Chip: animals.Chip{Digits: "276012345678901"}, Morph: "pastel"},
		Found: []exam.StoredProblem{{Problem: exam.Problem{Stop: "mouth", What: "red-gums", Glimpses: []exam.Glimpse{{Standing: exam.New, At: at, Rough: true}}}}}}
	brook := paper.LabAnimal{ID: model.AnimalID{ID: model.ID{2}}, Animal: animals.Animal{Name: "Brook", Species: "python-regius"}}
	stored := func(n byte, s samples.Sample) samples.Stored { return samples.Stored{ID: id(n), Sample: s} }
	return paper.Lab{Issued: at, Samples: []paper.LabSample{
		{Stored: stored(1, samples.Sample{Kit: samples.Kit{Number: "K-0012", Lot: "L 7", Expires: model.Date{Day: model.NewDay(2031, 1, 1), Precision: model.ToMonth}}, Material: "choanal-swab", Site: "left and right",
			For: []knowledge.AgentID{"serpentovirus", "ferlavirus"}, Taken: at, Storage: "fridge, 4 °C", Courier: "by bicycle", Tracking: "12-34"}), TakenBy: "Mira Lock", Animals: []paper.LabAnimal{juno}},
		{Stored: stored(2, samples.Sample{Kit: samples.Kit{Number: "K-0013"}, Material: "faeces", For: []knowledge.AgentID{"worms-and-protozoa"}, Taken: day, Courier: "by bicycle"}), Animals: []paper.LabAnimal{juno, brook}},
		{Stored: stored(3, samples.Sample{Material: "choanal-swab", For: []knowledge.AgentID{"serpentovirus"}, Courier: "by bicycle"}), Animals: []paper.LabAnimal{brook}},
	}, Lab: people.Person{Name: "Otterby lab", Address: "1 Mill Lane\nOtterby", Phones: []string{"0123 456"}}, Keeper: people.Person{Name: "Mira Lock"}}
}

// The form says what a lab asks for, in both languages, on both sizes of paper. What it asks
// for: common practice, no source; the packing: seen: text of packing instruction 650.
func TestLabForm(t *testing.T) {
	for _, size := range []paper.Size{paper.A4, paper.Letter} {
		d := paper.LabForm(laboured(), papertest.Tables(t), papertest.Text(t, "en"), size)
		said := paper.Plain(d)
		for _, want := range []string{"3 samples", "not urgent", "Otterby lab", "1 Mill Lane", "0123 456", "Mira Lock", "K-0012", "lot L 7", "good until January 2031", "Juno", "M-09", "276\u00a0012\u00a0345\u00a0678\u00a0901",
			"Python regius", "female", "June 2026", "Choanal swab", "left and right", "kept: fridge, 4 °C", "by Mira Lock", "Serpentovirus", "Ferlavirus", "pooled, 2 animals:", "Brook", "time not noted", "by bicycle",
			"UN3373", "100 mm", "50 mm", "2 mm", "6 mm", "packing instruction 650", "the carrier, the lab and the law decide", "on the tube, not on the cap"} {
			if !strings.Contains(said, want) {
				t.Errorf("%q is not said", want)
			}
		}
		for _, private := range []string{"gums", "12-34", "What was seen", "Treatments"} { // not ticked, or not of all tubes
			if strings.Contains(said, private) {
				t.Errorf("%q is said", private)
			}
		}
		if pages := paper.Layout(d); len(pages) > 2 {
			t.Errorf("%d pages for three tubes", len(pages))
		}
	}
	f := laboured()
	f.Urgent, f.Signs, f.Treatments = true, true, true
	said := paper.Plain(paper.LabForm(f, papertest.Tables(t), papertest.Text(t, "de"), paper.A4))
	for _, want := range []string{"3 Proben", "dringend", "Was zu sehen war", "Behandlungen", "Brook: nichts Offenes", "UN3373", "gepoolt, 2 Tiere:", "Verpackungsanweisung 650"} {
		if !strings.Contains(said, want) {
			t.Errorf("%q wird nicht gesagt", want)
		}
	}
	if n := strings.Count(said, "Zahnfleisch"); n != 1 {
		t.Errorf("what is open of Juno is said %d times", n)
	}
}

// What the records hold is gathered; whoever is private is not named as the taker, and
// samples of several labs name none.
func TestGather_Lab(t *testing.T) {
	k := keep(t)
	lab := model.PersonID{ID: k.do(people.Add{Person: people.Person{Name: "Otterby lab", Roles: []people.Role{people.Lab}}})}
	other := model.PersonID{ID: k.do(people.Add{Person: people.Person{Name: "Fenwick lab", Roles: []people.Role{people.Lab}}})}
	hidden := model.PersonID{ID: k.do(people.Add{Person: people.Person{Name: "Hidden", Private: true}})}
	sample := func(at model.PersonID) model.SampleID {
		return model.SampleID{ID: k.do(samples.Prepare{Tables: k.tables, Each: []samples.New{{Animals: []model.AnimalID{k.animal}, Sample: samples.Sample{Material: "choanal-swab", For: []knowledge.AgentID{"serpentovirus"}, Taken: k.now(), TakenBy: hidden, Lab: at}}}})}
	}
	first, second := sample(lab), sample(other)
	gather := func(of ...model.SampleID) (f paper.Lab) {
		t.Helper()
		if err := k.c.View(func(v model.View) (err error) { f, err = paper.GatherLab(v, of); return err }); err != nil {
			t.Fatal(err)
		}
		return f
	}
	if f := gather(first); f.Lab.Name != "Otterby lab" || len(f.Samples) != 1 || f.Samples[0].TakenBy != "" || len(f.Samples[0].Animals) != 1 {
		t.Errorf("%+v", f)
	}
	if f := gather(second, first); f.Lab.Name != "" || len(f.Samples) != 2 || f.Samples[0].ID != second {
		t.Errorf("%+v", f)
	}
	k.do(people.Remove{ID: lab})
	if f := gather(first); f.Lab.Name != "" {
		t.Errorf("a lab that was taken out is named: %+v", f.Lab)
	}
	if err := k.c.View(func(v model.View) error { _, err := paper.GatherLab(v, []model.SampleID{{}}); return err }); err == nil {
		t.Error("a sample that is not there is gathered")
	}
	var tubes []paper.Tube
	if err := k.c.View(func(v model.View) (err error) {
		tubes, err = paper.GatherTubes(v, []model.SampleID{second})
		return err
	}); err != nil {
		t.Fatal(err)
	}
	if len(tubes) != 1 || tubes[0].ID != second || len(tubes[0].Names) != 1 || tubes[0].Number != "" {
		t.Errorf("%+v", tubes)
	}
}

// A label says two things by which a tube is told, and the day; sheets are filled from the
// first free label on.
func TestTubesPaper(t *testing.T) {
	id := model.SampleID{ID: model.ID{1, 15: 0xab}}
	taken := samples.Sample{Material: "choanal-swab", Taken: model.Moment{UTC: 1_900_000_000, Precision: model.ToMinute}}
	day := samples.Sample{Material: "choanal-swab", Taken: model.Moment{UTC: 1_900_000_000, Precision: model.ToDay}}
	tubes := []paper.Tube{{ID: id, Names: []string{"Juno"}, Code: "M-09", Number: "K-0012", Sample: taken}, {ID: id, Names: []string{"Juno"}, Sample: day}, {ID: id, Names: []string{"Juno", "Brook"}, Sample: samples.Sample{Material: "faeces"}, Short: "0000ab"}}
	for _, s := range allTubeSheets(t) {
		for language, want := range map[string][]string{"en": {"Juno", "M-09 · K-0012", "Choanal swab", "taken 2030-03-17 17:46", "taken 2030-03-17;", "Pool of 2: Juno, Brook", "…0000ab", "taken ____"}, "de": {"genommen 2030-03-17 17:46", "Pool aus 2", "Choanentupfer"}} {
			d, err := paper.TubesPaper(tubes, paper.Laying{Sheet: s, First: s.Count()}, papertest.Text(t, language), model.Moment{})
			if err != nil {
				t.Fatal(err)
			}
			said := paper.Plain(d)
			for _, w := range want {
				if !strings.Contains(said, w) {
					t.Errorf("%s, %s: %q is not said: %s", s.ID, language, w, said)
				}
			}
			if len(d.Sections) != 2 {
				t.Errorf("%s: %d sheets, want 2: only the last label was free", s.ID, len(d.Sections))
			}
		}
		if _, err := paper.TubesPaper(tubes, paper.Laying{Sheet: s, First: s.Count() + 1}, papertest.Text(t, "en"), model.Moment{}); err == nil {
			t.Errorf("%s: a label that is not there is printed on", s.ID)
		}
	}
}

func allTubeSheets(t *testing.T) []label.Sheet {
	t.Helper()
	all, err := label.Sheets(assets.Knowledge())
	if err != nil {
		t.Fatal(err)
	}
	papers := map[label.Paper]int{}
	tubes := label.Tubes(all)
	for _, s := range tubes {
		papers[s.Paper]++
	}
	if papers[label.A4] < 2 || papers[label.Letter] < 2 {
		t.Fatalf("sheets for tubes by paper: %v", papers)
	}
	return tubes
}

// A private lab leaves lines to write on, but where it was asked for.
func TestAPrivateLabIsNamedWhereItIsAskedFor(t *testing.T) {
	k := keep(t)
	lab := model.PersonID{ID: k.do(people.Add{Person: people.Person{Name: "Otterby lab", Address: "1 Mill Lane", Phones: []string{"0123 456"}, Private: true, Roles: []people.Role{people.Lab}}})}
	of := []model.SampleID{{ID: k.do(samples.Prepare{Tables: k.tables, Each: []samples.New{{Animals: []model.AnimalID{k.animal}, Sample: samples.Sample{Material: "choanal-swab", For: []knowledge.AgentID{"serpentovirus"}, Taken: k.now(), Lab: lab}}}})}}
	for name, asked := range map[string][]model.PersonID{"nobody": nil, "another": {{ID: model.ID{9}}}, "the lab": {lab}} {
		k.view(func(v model.View) error {
			form, err := paper.GatherLab(v, of, asked...)
			if err != nil {
				return err
			}
			plain := paper.Plain(paper.LabForm(form, k.tables, papertest.Text(t, "en"), paper.A4))
			for _, private := range []string{"Otterby", "Mill Lane", "0123 456"} {
				if said := strings.Contains(plain, private); said != (name == "the lab") {
					t.Errorf("asked for %s: %q is said: %v", name, private, said)
				}
			}
			return nil
		})
	}
}

// Two animals of one name are told each.
func TestSignsOfTwoAnimalsOfOneName(t *testing.T) {
	f := laboured()
	f.Samples[1].Animals[1].Name, f.Signs = "Juno", true
	said := paper.Plain(paper.LabForm(f, papertest.Tables(t), papertest.Text(t, "en"), paper.A4))
	if !strings.Contains(said, "Juno: nothing open") {
		t.Errorf("the second Juno is not told:\n%s", said)
	}
}

// What is very long does not drive the tubes from the first page; it stands in full behind.
func TestALongAddressIsCutInTheHead(t *testing.T) {
	f := laboured()
	f.Lab.Address, f.Keeper.Address = strings.Repeat("Mill Lane ", 1000), strings.Repeat("lane\n", 300)
	d := paper.LabForm(f, papertest.Tables(t), papertest.Text(t, "en"), paper.A4)
	said := paper.Plain(d)
	if tubes, long := strings.Index(said, "K-0012"), strings.Index(said, strings.TrimSpace(f.Lab.Address)); tubes < 0 || long < tubes || tubes > 3000 {
		t.Errorf("the tubes stand at %d, the whole address at %d", tubes, long)
	}
}

// The form is one page with its signatures, where it can be; where it runs over, they
// stand with the packing. The kit's lot is told once.
func TestSignaturesStandWithThePacking(t *testing.T) {
	for _, language := range []string{"en", "de"} {
		text := papertest.Text(t, language)
		f := laboured()
		f.Urgent, f.Signs, f.Treatments, f.Lab, f.Keeper = true, true, true, people.Person{}, people.Person{}
		f.Samples = f.Samples[:1]
		for _, size := range []paper.Size{paper.A4, paper.Letter} {
			if pages := paper.Layout(paper.LabForm(f, papertest.Tables(t), text, size)); len(pages) != 1 {
				t.Errorf("%s: %d pages for one tube", language, len(pages))
			}
		}
		for tubes := 4; tubes < 16; tubes++ {
			for len(f.Samples) < tubes {
				f.Samples = append(f.Samples, f.Samples[0])
			}
			d := paper.LabForm(f, papertest.Tables(t), text, paper.A4)
			pages := paper.Layout(d)
			last, said := &texts{}, ""
			paper.DrawPage(last, d, pages[len(pages)-1], len(pages), len(pages))
			for _, run := range last.all {
				said += run.text + " "
			}
			if !strings.Contains(said, "UN3373") || !strings.Contains(said, text.Say("paper.lab.sign")) {
				t.Errorf("%s, %d tubes: the signatures stand alone: %q", language, tubes, said)
			}
		}
	}
	f := laboured()
	f.Samples[0].Kit.Lot, f.Samples[1].Kit.Lot = "Lot 7 of the lab", "Lotte"
	said := paper.Plain(paper.LabForm(f, papertest.Tables(t), papertest.Text(t, "en"), paper.A4))
	for _, want := range []string{"Lot 7 of the lab", "lot Lotte", "Swab, medium"} {
		if !strings.Contains(said, want) {
			t.Errorf("%q is not said", want)
		}
	}
	if strings.Contains(said, "lot Lot 7") || strings.Count(said, "not urgent") != 1 {
		t.Errorf("something is told twice:\n%s", said)
	}
}
