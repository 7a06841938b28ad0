package paper_test

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"coilward/export/paper"
	"coilward/export/papertest"
	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/exam"
	"coilward/model/knowledge"
)

var update = flag.Bool("update", false, "write the golden files anew")

func golden(t *testing.T, name, got string) {
	t.Helper()
	path := filepath.Join("testdata", name)
	if *update {
		if err := os.WriteFile(path, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(strings.Split(string(want), "\n"), strings.Split(got, "\n")); diff != "" {
		t.Errorf("%s (-want +got):\n%s", path, diff)
	}
}

// said is a record in the text form, with a word for the hash of the tables,
// which changes with each of their values.
func said(f paper.Facts, size paper.Size) string {
	hash := f.Tables.Hash()
	short := strings.Join([]string{hash[:4], hash[4:8], hash[8:12]}, "\u00a0")
	return strings.ReplaceAll(paper.Plain(paper.HealthRecord(f, papertest.Keys{}, size)), short, "HASH")
}

func TestRecordSaysWhatIsStored(t *testing.T) {
	golden(t, "record.golden.txt", said(papertest.Bramble(t), paper.A4))
}

func TestRecordOfAnAnimalWithNothing(t *testing.T) {
	f := paper.Facts{Animal: animals.Animal{Name: "Sorrel"}, Tables: papertest.Tables(t), Issued: papertest.Bramble(t).Issued, Version: "1.0.0"}
	golden(t, "nothing.golden.txt", said(f, paper.Letter))
}

// The organs stand on the drawings only when they are asked for, each with its
// letter, and the summary still holds one page.
func TestOrgansAreAskedFor(t *testing.T) {
	f := papertest.Bramble(t)
	if strings.Contains(said(f, paper.A4), "organ.liver") {
		t.Error("organs that nobody asked for")
	}
	f.Organs = true
	if got := said(f, paper.A4); !strings.Contains(got, "c\u00a0paper.organs.one{From=38 Organ=organ.liver To=56}") {
		t.Error("the liver is not named by its letter")
	}
	for size, s := range sizes() {
		for _, language := range []string{"en", "de"} {
			if pages := paper.Layout(paper.HealthRecord(f, papertest.Text(t, language), s)); pages[0].Section == pages[1].Section {
				t.Errorf("%s, %s: the summary takes more than one page", size, language)
			}
		}
	}
}

func sizes() map[string]paper.Size {
	return map[string]paper.Size{"A4": paper.A4, "Letter": paper.Letter}
}

func TestTheFirstPageHoldsTheSummary(t *testing.T) {
	for size, s := range sizes() {
		for _, language := range []string{"en", "de", "qps"} {
			t.Run(size+" "+language, func(t *testing.T) {
				d := paper.HealthRecord(papertest.Bramble(t), papertest.Text(t, language), s)
				pages := paper.Layout(d)
				if pages[0].Section == pages[1].Section {
					t.Errorf("the summary takes more than one page")
				}
				for i, p := range pages {
					if p.Left < -.02 {
						t.Errorf("page %d runs over by %.1f mm", i+1, -p.Left)
					}
				}
				for _, twice := range []string{"belly, belly, belly", "Bauch, Bauch, Bauch"} {
					if plain := paper.Plain(d); strings.Contains(plain, twice) {
						t.Errorf("a place is said twice: %q", twice)
					}
				}
				if plain := paper.Plain(d); strings.ContainsAny(plain, "⟦□") {
					t.Errorf("a text is missing or cannot be printed:\n%s", lineWith(plain, "⟦□"))
				}
			})
		}
	}
}

func lineWith(text, signs string) string {
	for line := range strings.SplitSeq(text, "\n") {
		if strings.ContainsAny(line, signs) {
			return line
		}
	}
	return ""
}

// No paper may give a verdict on health, or promise anything.
func TestRecordPromisesNothing(t *testing.T) {
	for language, words := range map[string][]string{
		"en": {"healthy", "fit for", "free of", "disease", "guarantee", "likely", "recommend"},
		"de": {"gesund,", "ist gesund", "frei von", "verkaufsfähig", "garantiert", "wahrscheinlich", "empfehlen"},
	} {
		plain := strings.ToLower(paper.Plain(paper.HealthRecord(papertest.Bramble(t), papertest.Text(t, language), paper.A4)))
		for _, w := range words {
			if strings.Contains(plain, w) {
				t.Errorf("%s: the record says %q", language, w)
			}
		}
	}
}

func TestAnOpenEmergencyIsTheFirstThingSaid(t *testing.T) {
	f := papertest.Bramble(t)
	for i := range f.Problems {
		if p := &f.Problems[i]; p.What == "bleeding" {
			p.Glimpses = p.Glimpses[:1]
		}
	}
	plain := paper.Plain(paper.HealthRecord(f, papertest.Keys{}, paper.A4))
	emergency := strings.Index(plain, "paper.sentence.emergency{Day=2026-12-20 ")
	if other := strings.Index(plain, "paper.sentence.vet"); emergency < 0 || other >= 0 && other < emergency {
		t.Errorf("the emergency stands at %d, the others at %d", emergency, other)
	}
	if strings.Contains(plain, "paper.sentence.none") {
		t.Error("the record says that nothing is open")
	}
}

func TestAnEmergencyThatOnlyTheKeeperSawGoIsNamed(t *testing.T) {
	f := papertest.Bramble(t)
	said := func() bool {
		return strings.Contains(paper.Plain(paper.HealthRecord(f, papertest.Keys{}, paper.A4)), "paper.gone.emergency{Day=2026-12-20}")
	}
	if !said() {
		t.Error("an emergency gone by the keeper's word is not named")
	}
	for i := range f.Problems {
		if p := &f.Problems[i]; p.What == "bleeding" {
			p.Glimpses[len(p.Glimpses)-1].Standing = exam.Closed
		}
	}
	if said() {
		t.Error("an emergency that a vet has closed is called not closed")
	}
}

// Known and not known stand beside each other, as wide and as large.
func TestWhatIsNotKnownHasEqualRank(t *testing.T) {
	for _, b := range paper.HealthRecord(papertest.Bramble(t), papertest.Keys{}, paper.A4).Sections[0].Blocks {
		columns, ok := b.(paper.Columns)
		if !ok || len(columns.Parts) != 2 {
			continue
		}
		known, _ := columns.Parts[0][0].(paper.Heading)
		unknown, _ := columns.Parts[1][0].(paper.Heading)
		if known.Text != "paper.known" {
			continue
		}
		left, right := columns.Parts[0][1].(paper.List), columns.Parts[1][1].(paper.List)
		if unknown.Text != "paper.unknown" || unknown.Level != known.Level || left.Style != right.Style || columns.Shares[0] != columns.Shares[1] || len(right.Items) == 0 {
			t.Errorf("known: %v %v, not known: %v %v, shares %v", known, left.Style, unknown, right.Style, columns.Shares)
		}
		return
	}
	t.Error("the first page has no columns for what is known and what is not")
}

func TestNeverLookedAndLookedAreTold(t *testing.T) {
	f := papertest.Bramble(t)
	f.Checks = f.Checks[:1]
	for i := range f.Checks[0].Stops {
		f.Checks[0].Stops[i].Look = exam.NotLooked
	}
	plain := paper.Plain(paper.HealthRecord(f, papertest.Keys{}, paper.A4))
	for _, s := range f.Tables.Stops() {
		if s.Way != knowledge.Noted && !strings.Contains(lineOf(plain, "paper.unknown.never"), "stop."+string(s.ID)) {
			t.Errorf("%s was never looked at, and that is not said", s.ID)
		}
	}
}

// Where the last offers were refused, the meal that was kept has its own day.
func TestTheLastMealKeptIsNoOffer(t *testing.T) {
	f := papertest.Bramble(t)
	day := func(n int) model.Moment { return model.Moment{UTC: f.Issued.UTC - int64(n)*86400} }
	offer := func(n int, o care.Outcome) paper.Dated[care.Meal] {
		return paper.Dated[care.Meal]{At: day(n), Body: care.Meal{Outcome: o, Prey: care.Rat}}
	}
	for _, c := range []struct {
		meals []paper.Dated[care.Meal]
		kept  int // days ago; 0: not said
	}{
		{[]paper.Dated[care.Meal]{offer(30, care.Took), offer(20, care.Regurgitated), offer(10, care.Refused)}, 30},
		{[]paper.Dated[care.Meal]{offer(30, care.Refused), offer(10, care.Took)}, 0},
		{[]paper.Dated[care.Meal]{offer(30, care.Refused)}, 0},
	} {
		f.Meals = c.meals
		line := lineOf(paper.Plain(paper.HealthRecord(f, papertest.Text(t, "en"), paper.A4)), "offer")
		want := papertest.Text(t, "en").Say("paper.known.meals.kept", map[string]any{"Day": papertest.Text(t, "en").Day(day(c.kept).Day())})
		if strings.Contains(line, want) != (c.kept > 0) {
			t.Errorf("%d offers, kept %d days ago: %q", len(c.meals), c.kept, line)
		}
	}
}

func lineOf(text, part string) string {
	for line := range strings.SplitSeq(text, "\n") {
		if strings.Contains(line, part) {
			return line
		}
	}
	return ""
}

func TestTheRecordHoldsWhateverWasTyped(t *testing.T) {
	for name, typed := range papertest.Hostile() {
		t.Run(name, func(t *testing.T) {
			f := papertest.Typed(t, typed)
			for _, s := range sizes() {
				d := paper.HealthRecord(f, papertest.Text(t, "en"), s)
				for i, p := range paper.Layout(d) {
					if p.Left < -.02 {
						t.Errorf("page %d runs over by %.1f mm", i+1, -p.Left)
					}
				}
				if plain := paper.Plain(d); strings.Contains(plain, "□") && !strings.Contains(plain, "□ stands for a sign") {
					t.Error("signs were left out without a word")
				}
			}
		})
	}
}

func TestManyFindings(t *testing.T) {
	f := papertest.Bramble(t)
	for n := range 60 {
		p := f.Problems[n%4]
		p.ID = model.ProblemID{ID: model.ID{9, byte(n)}}
		f.Problems = append(f.Problems, p)
	}
	d := paper.HealthRecord(f, papertest.Text(t, "de"), paper.Letter)
	for i, p := range paper.Layout(d) {
		if p.Left < -.02 {
			t.Errorf("page %d runs over by %.1f mm", i+1, -p.Left)
		}
	}
	plain := paper.Plain(d)
	numbers := exam.Numbers(f.Problems)
	for _, p := range f.Problems {
		n := numbers[p.ID]
		if p.Open() && !strings.Contains(plain, fmt.Sprintf("(%d)", n)) && !strings.Contains(plain, fmt.Sprintf("[%d]", n)) {
			t.Errorf("finding %d is nowhere", n)
		}
	}
}

func TestOneWeighingAndOneMealMakeAChart(t *testing.T) {
	f := papertest.Bramble(t)
	f.Weights, f.Meals, f.Sheds = f.Weights[:1], f.Meals[:1], nil
	f.Weights[0].Body.Mass = model.Mass{Milligrams: 1}
	f.Weights = append(f.Weights, paper.Dated[care.Weight]{At: f.Issued, Body: care.Weight{Mass: model.Grams(99_000)}})
	paper.Layout(paper.HealthRecord(f, papertest.Text(t, "en"), paper.A4))
}

// A brief look is no check, however many stops it went past.
func TestABriefLookIsNoLooking(t *testing.T) {
	f := papertest.Bramble(t)
	full := f.Checks[len(f.Checks)-1]
	brief := full
	brief.ID, brief.At.UTC, brief.Stops = model.EntryID{ID: model.ID{8}}, full.At.UTC+60, nil
	brief.Begun, brief.Finished = brief.At, brief.At
	for _, s := range f.Tables.Stops() {
		brief.Stops = append(brief.Stops, exam.Answered{Stop: s.ID, Look: exam.Seen, At: brief.At})
	}
	brief.Verdict.Signs, brief.Verdict.Reasons, brief.Verdict.Level = nil, nil, knowledge.Nothing
	f.Problems, f.Weights, f.Sheds, f.Waste, f.MiteLooks, f.Samples = nil, nil, nil, nil, nil, nil
	f.Checks = []paper.Checked{brief}
	first := page(f)
	for _, want := range []string{"paper.sentence.never", "paper.unknown.checks.none", "paper.unknown.brief.text{Day=2027-03-03}", "paper.known.checks.brief×1"} {
		if !strings.Contains(first, want) {
			t.Errorf("the record does not say %q:\n%s", want, first)
		}
	}
	if strings.Contains(first, "paper.sentence.none") || strings.Contains(first, "paper.unknown.never") {
		t.Errorf("a brief look counts as looking:\n%s", first)
	}
	if card := paper.Plain(paper.EmergencyCard(f, nil, papertest.Keys{})); !strings.Contains(card, "paper.card.check: paper.card.not-noted") {
		t.Errorf("a brief look is the last check:\n%s", card)
	}
	f.Checks = []paper.Checked{full, brief}
	first = page(f)
	if !strings.Contains(lineOf(first, "paper.unknown.never"), "paper.stop.mouth") || strings.Contains(first, "paper.sentence.never") || !strings.Contains(first, "paper.unknown.brief.text") {
		t.Errorf("the check before the brief look is not told:\n%s", first)
	}
}

// Of what one entry tells, each sign is named by its own level.
func TestSignsOfAnEntryStandByTheirOwnLevel(t *testing.T) {
	f := papertest.Bramble(t)
	f.Problems, f.Checks, f.MiteLooks = nil, nil, nil
	f.Sheds = []paper.Dated[care.Shed]{{At: f.Issued, Body: care.Shed{Skin: care.InPieces, StuckEyeCaps: care.Yes, StuckTailTip: care.Yes}}}
	told := map[knowledge.FindingID]knowledge.Level{}
	for _, p := range f.Standing().Parts {
		for i, sign := range p.Verdict.Signs {
			told[sign.What] = p.Verdict.Of(i)
		}
	}
	if told["stuck-eye-cap"] == told["ring"] {
		t.Fatalf("both are of one level: %v", told)
	}
	plain := page(f)
	for key, level := range map[string]knowledge.Level{"paper.sentence.entries{": knowledge.VetWithinDays, "paper.sentence.entries-look{": knowledge.LookAgain} {
		sentence := ""
		if _, after, there := strings.Cut(plain, key); there {
			sentence, _, _ = strings.Cut(after, " paper.sentence")
		}
		for what, at := range told {
			if strings.Contains(sentence, "finding."+string(what)) != (at == level) {
				t.Errorf("%s is of level %s, and %q says %q", what, at, key, sentence)
			}
		}
	}
}

// A single weighing is told in the table and not drawn: one makes no line.
func TestASingleWeighingIsNotDrawn(t *testing.T) {
	f := papertest.Bramble(t)
	if plain := said(f, paper.A4); !strings.Contains(plain, "paper.chart.weights.words") {
		t.Fatal("several weights are not drawn")
	}
	f.Weights = f.Weights[:1]
	if plain := said(f, paper.A4); strings.Contains(plain, "paper.chart.weights.words") || !strings.Contains(plain, "paper.table.weights") {
		t.Errorf("a single one is drawn, or missing:\n%s", plain)
	}
}
