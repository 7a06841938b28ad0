package paper_test

import (
	"strings"
	"testing"

	"coilward/export/paper"
	"coilward/export/papertest"
	"coilward/model"
	"coilward/model/care"
	"coilward/model/husbandry"
)

// A weight of a scale that failed its check is printed, and marked as doubtful.
func TestADoubtfulWeightIsMarked(t *testing.T) {
	f := papertest.Bramble(t)
	last := &f.Weights[len(f.Weights)-1]
	last.Body.With = model.InstrumentID{ID: model.ID{7}}
	for name, c := range map[string]struct {
		spans []husbandry.Span
		want  int
	}{"a scale that failed": {[]husbandry.Span{{}}, 1}, "a scale that is right": {nil, 0}} {
		f.Scales = husbandry.Scales{last.Body.With: {StoredInstrument: husbandry.StoredInstrument{Instrument: husbandry.Instrument{Name: "Kitchen scale"}}, Doubtful: c.spans}}
		if got := strings.Count(said(f, paper.A4), "instruments.doubtful-weight{Scale=Kitchen scale}"); got != c.want {
			t.Errorf("%s: marked %d times, want %d", name, got, c.want)
		}
	}
}

// Where a doubtful weight is told in a sentence, that it is doubtful stands beside it; a
// loss does not rest on one, and where one is told, what does not count stands beside it.
func TestADoubtfulWeightIsCalledSoWhereverItIsTold(t *testing.T) {
	f := papertest.Bramble(t)
	first, last := &f.Weights[0], &f.Weights[len(f.Weights)-1]
	last.Body.With, last.Body.Mass, last.Body.Gut = model.InstrumentID{ID: model.ID{7}}, model.Grams(900), care.GutEmpty
	last.At = f.Issued
	f.Scales = husbandry.Scales{last.Body.With: {StoredInstrument: husbandry.StoredInstrument{Instrument: husbandry.Instrument{Name: "Kitchen scale"}}, Doubtful: []husbandry.Span{{}}}}
	marked := []string{"paper.weighed{Day=2027-03-03 Mass=paper.mass.doubtful{Mass=900000mg}}", "paper.known.weight.text{Day=2027-03-03 First=1342000mg FirstDay=2026-10-14 Mass=paper.mass.doubtful{Mass=900000mg}}",
		"Last=paper.mass.doubtful{Mass=900000mg}"}
	plain := said(f, paper.A4)
	for _, want := range marked {
		if !strings.Contains(plain, want) {
			t.Errorf("the record does not say %q:\n%s", want, plain)
		}
	}
	if strings.Contains(plain, "paper.loss.") {
		t.Error("a loss is told of a weight that a failed scale gave")
	}
	first.Body.With = last.Body.With
	if plain := said(f, paper.A4); !strings.Contains(plain, "First=paper.mass.doubtful{Mass=1342000mg}") {
		t.Error("the first weight is not called doubtful")
	}
	last.Body.With = model.InstrumentID{}
	if plain := said(f, paper.A4); !strings.Contains(plain, "paper.loss.far{") || !strings.Contains(plain, "paper.sentence.loss-doubtful{Scale=Kitchen scale}") {
		t.Errorf("a sound loss is not told, or not that the first weight does not count:\n%s", plain)
	}
	f.Scales = nil
	if plain := said(f, paper.A4); strings.Contains(plain, "doubtful") || !strings.Contains(plain, "paper.loss.far{") {
		t.Errorf("a sound weight is called doubtful, or the loss is not told:\n%s", plain)
	}
}

// The loss is written as the program's pages write it, to a tenth of a percent.
func TestTheLossIsWrittenAsOnThePages(t *testing.T) {
	f := papertest.Bramble(t)
	f.Weights[len(f.Weights)-1] = paper.Dated[care.Weight]{At: f.Issued, Body: care.Weight{Mass: model.Grams(1001), Gut: care.GutEmpty}}
	loss := f.Standing().Loss
	if !f.Standing().Loss.ForVet() || loss.Share%100 == 0 {
		t.Fatalf("%+v is no loss with a part of a percent", loss)
	}
	for _, language := range []string{"en", "de"} {
		text := papertest.Text(t, language)
		want := text.Percent(loss.Share)
		if plain := paper.Plain(paper.HealthRecord(f, text, paper.A4)); !strings.Contains(plain, want) {
			t.Errorf("the record does not say %s", want)
		}
		if plain := paper.Plain(paper.EmergencyCard(f, nil, text)); !strings.Contains(plain, want) {
			t.Errorf("the card does not say %s", want)
		}
	}
}
