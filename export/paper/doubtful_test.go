package paper_test

import (
	"strings"
	"testing"

	"coilward/export/paper"
	"coilward/export/papertest"
	"coilward/model"
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
