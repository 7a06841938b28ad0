package paper_test

import (
	"strings"
	"testing"

	"coilward/export/paper"
	"coilward/export/papertest"
	"coilward/model"
	"coilward/model/care"
	"coilward/model/knowledge"
	"coilward/model/medicine"
	"coilward/model/powercut"
	"coilward/model/samples"
)

// The page for a vet is one page, whatever stands in the records, and says what is open,
// what is asked and what cannot be told.
func TestThePageForAVetIsOnePage(t *testing.T) {
	all := map[string]paper.Facts{"ordinary": papertest.Bramble(t)}
	for name, typed := range papertest.Hostile() {
		all[name] = papertest.Typed(t, typed)
	}
	for name, f := range all {
		for _, size := range []paper.Size{paper.A4, paper.Letter} {
			d := paper.VetPage(f, papertest.Keys{}, size)
			if n := len(paper.Layout(d)); n != 1 {
				t.Errorf("%s: %d pages", name, n)
			}
		}
	}
	plain := paper.Plain(paper.VetPage(papertest.Bramble(t), papertest.Keys{}, paper.A4))
	for _, want := range []string{"Bramble", "paper.vet.questions", "paper.vet.ask-finding{", "paper.vet.checked", "paper.unknown", "paper.vet.caution", "paper.vet.meals", "paper.weights"} {
		if !strings.Contains(plain, want) {
			t.Errorf("it does not say %q:\n%s", want, plain)
		}
	}
}

// What a test found stands whole: none is cut within its words, what is too many is
// counted, and that "not detected" excludes nothing is never what falls away.
func TestTheVetReadsWholeResults(t *testing.T) {
	f := papertest.Bramble(t)
	agents := []knowledge.AgentID{"serpentovirus", "reptarenavirus", "ferlavirus", "cryptosporidium-serpentis", "worms-and-protozoa"}
	for n := 1; n <= len(agents); n++ {
		f.Samples = nil
		for _, of := range agents[:n] {
			f.Samples = append(f.Samples, paper.Sampled{At: f.Issued, Sample: samples.Sample{Material: "oral-swab", Taken: f.Issued, For: []knowledge.AgentID{of},
				Results: []samples.Result{{Of: of, Outcome: samples.NotDetected, At: f.Issued}}}})
		}
		for _, language := range []string{"en", "de"} {
			text := papertest.Text(t, language)
			d := paper.VetPage(f, text, paper.A4)
			plain := paper.Plain(d)
			_, tests, _ := strings.Cut(plain, text.Say("paper.vet.tests"))
			tests, _, _ = strings.Cut(tests, text.Say("paper.vet.questions"))
			if strings.Contains(tests, "…") || !strings.Contains(strings.Join(strings.Fields(tests), " "), text.Say("paper.tests.not-excluded")) {
				t.Errorf("%s, %d results: they are cut, or that nothing is excluded is not said:\n%s", language, n, tests)
			}
			told := 0
			for _, of := range agents[:n] {
				if strings.Contains(tests, text.Say("agent."+string(of))) {
					told++
				}
			}
			if told < n && !strings.Contains(tests, text.Count("paper.vet.more", n-told)) {
				t.Errorf("%s: %d of %d results are told, and the rest is not counted:\n%s", language, told, n, tests)
			}
			if pages := len(paper.Layout(d)); pages != 1 || told == 0 {
				t.Errorf("%s, %d results: %d pages, %d told", language, n, pages, told)
			}
		}
	}
}

// However many courses there are, what was given beside them stands in words, on the one
// page.
func TestTheVetReadsWhatWasGivenBesideCourses(t *testing.T) {
	for name, typed := range papertest.Hostile() {
		f := papertest.Typed(t, typed)
		f.Courses, f.Beside = nil, nil
		for range 5 {
			f.Courses = append(f.Courses, paper.Prescribed{Stored: medicine.Stored{Prescribed: f.Issued, Prescription: medicine.Prescription{Medicine: strings.Repeat("Brown solution of the practice ", 12), Form: medicine.InWords, Route: medicine.OnSkin,
				Begins: f.Issued, Steps: []medicine.Step{{Day: 1, Times: 3, Every: 24, Words: strings.Repeat("a thin layer ", 20)}}}}})
		}
		for _, b := range []care.Body{care.Fluids{What: "ten of it under the skin", Advised: "Dr Fern"}, care.MiteTreatment{What: "as on the slip", Advised: "Dr Fern"}, care.Clutch{Eggs: 6}} {
			f.Beside = append(f.Beside, paper.Dated[care.Body]{At: f.Issued, Body: b})
		}
		for _, size := range []paper.Size{paper.A4, paper.Letter} {
			d := paper.VetPage(f, papertest.Text(t, "de"), size)
			if n := len(paper.Layout(d)); n != 1 {
				t.Errorf("%s: %d pages", name, n)
			}
			for _, said := range []string{"ten of it under the skin", "as on the slip", "6 Eier"} {
				if !strings.Contains(paper.Plain(d), said) {
					t.Errorf("%s: it does not say %q:\n%s", name, said, paper.Plain(d))
				}
			}
		}
	}
}

// What stands at the head of the page for a vet is whole sentences, and how many there are
// more.
func TestTheHeadForAVetIsWhole(t *testing.T) {
	for _, language := range []string{"en", "de"} {
		text := papertest.Text(t, language)
		f := papertest.Bramble(t)
		for range 6 { // each says a sentence
			f.Chilled = append(f.Chilled, powercut.Stored{Cut: powercut.Cut{Until: f.Issued, Coldest: &model.Temperature{Hundredths: 1500}}})
		}
		plain := paper.Plain(paper.VetPage(f, text, paper.A4))
		head, _, _ := strings.Cut(plain, "\n[figure")
		spaced := func(s string) string { return strings.Join(strings.Fields(s), " ") }
		head = spaced(head)
		said := strings.Count(head, spaced(text.Say("paper.chilled", map[string]any{"Day": f.Issued.Day(), "Temperature": text.Temperature(model.Temperature{Hundredths: 1500})})))
		if strings.Contains(head, "\u2026") || said == 0 || said == 6 {
			t.Errorf("%s: the head is cut, or says all: %d of 6\n%s", language, said, head)
		}
		counted := false
		for more := 1; more < 20; more++ {
			counted = counted || strings.Contains(head, text.Count("paper.vet.more-sentences", more))
		}
		if !counted {
			t.Errorf("%s: that there is more is not said:\n%s", language, head)
		}
	}
}
