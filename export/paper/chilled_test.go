package paper_test

import (
	"slices"
	"strings"
	"testing"
	"time"

	"coilward/export/paper"
	"coilward/export/papertest"
	"coilward/model"
	"coilward/model/care"
	"coilward/model/due"
	"coilward/model/powercut"
)

// One that was chilled in a power cut stands before the sitter and before the vet with why the vet is
// to be called, until that is answered. The warmth of a room: assumed.
func TestOneThatWasChilledIsNamedToSitterAndVet(t *testing.T) {
	k := keep(t)
	until := k.now()
	from := until
	from.UTC -= 10 * 3600
	k.do(powercut.Note{From: from, Cut: powercut.Cut{Until: until, Whole: true, Coldest: &model.Temperature{Hundredths: 1250}}})
	vet := func() (pages []string) {
		var f paper.Facts
		k.view(func(v model.View) error {
			g, err := paper.Gather(v, paper.Gathering{Animal: k.animal, Tables: k.tables})
			f = g.Facts()
			return err
		})
		for _, d := range []paper.Document{paper.VetPage(f, papertest.Keys{}, paper.A4), paper.HealthRecord(f, papertest.Keys{}, paper.A4)} {
			pages = append(pages, paper.Plain(d))
		}
		return pages
	}
	sitter := func() string {
		return paper.Plain(paper.SitterPaper(k.sitting(7), nil, k.tables, papertest.Keys{}, paper.A4))
	}
	for _, page := range vet() {
		if strings.Contains(page, "paper.vet.nothing-asked") || strings.Contains(page, "paper.vet.questions") && !strings.Contains(page, "paper.vet.ask-chilled{Day=2027-06-09}") {
			t.Errorf("nothing is asked of the vet about it:\n%s", page)
		}
		if n := strings.Count(page, "paper.chilled{Day=2027-06-09 Temperature=1250/100°C}"); n != 1 {
			t.Errorf("it is named %d times:\n%s", n, page)
		}
	}
	plain := sitter()
	brief := "due.brief.chilled{Day=2027-06-09 Temperature=1250/100°C}"
	for _, want := range []string{"Kestrel: paper.sitter.emergency (" + brief + ")", "due.job.see-vet: " + brief} {
		if !strings.Contains(plain, want) {
			t.Errorf("%q is not said:\n%s", want, plain)
		}
	}
	for _, language := range []string{"en", "de"} {
		text := papertest.Text(t, language)
		plainly := func(s string) string { return strings.Join(strings.Fields(s), " ") }
		said := paper.Plain(paper.SitterPaper(k.sitting(7), nil, k.tables, text, paper.A4))
		if n := strings.Count(plainly(said), plainly(text.Say("due.brief.chilled", map[string]any{"Day": until.Day(), "Temperature": model.Temperature{Hundredths: 1250}}))); n != 2 {
			t.Errorf("%s: why it is for the vet is said %d times:\n%s", language, n, said)
		}
	}
	list, err := due.NewBook(k.tables).Bring(t.Context(), k.c, nil)
	if err != nil {
		t.Fatal(err)
	}
	i := slices.IndexFunc(list.Items, func(i due.Item) bool { return i.Job == due.SeeVet })
	k.do(due.Respond{Tables: k.tables, Key: list.Items[i].Key, What: due.DoneElsewhere, Why: "the vet was called"})
	for _, page := range vet() {
		if strings.Contains(page, "paper.chilled") {
			t.Errorf("it is named when it was answered:\n%s", page)
		}
	}
}

// What is for the vet and is no finding is named too, each in a few words.
func TestTheSitterIsToldWhyTheVetWhereItIsNoFinding(t *testing.T) {
	k := keep(t)
	for _, grams := range []int64{1000, 1000, 1000, 600, 600} {
		about := k.about()
		about.Confirmed = model.Confirmed{"mass.unlike"}
		k.do(care.Weigh{About: about, Weight: care.Weight{Mass: model.Grams(grams), Gut: care.GutEmpty}})
		k.clock.Pass(14 * 24 * time.Hour)
	}
	plain := paper.Plain(paper.SitterPaper(k.sitting(7), nil, k.tables, papertest.Keys{}, paper.A4))
	if !strings.Contains(plain, "due.job.see-vet: due.brief.loss{Day=") || !strings.Contains(plain, "Kestrel: urgency.vet-within-days (due.brief.loss{Day=") {
		t.Errorf("the loss is not said:\n%s", plain)
	}
}
