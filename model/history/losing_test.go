package history

import (
	"testing"

	"coilward/model"
	"coilward/model/care"
	"coilward/model/knowledge"
)

// Against 800, 1000 and 1200 g, 900 g is a tenth less; the share is of the middle
// one.
func TestLossShare(t *testing.T) {
	tb := tables(t)
	from := tb.Value(knowledge.ValueLosingFrom)
	weighed := func(ago int, grams int64) care.Weighed {
		return care.Weighed{At: day(1000 - ago), Weight: care.Weight{Mass: model.Grams(grams)}}
	}
	before := []care.Weighed{weighed(from, 1200), weighed(from+1, 800), weighed(from+2, 1000)}
	for len(before) < tb.Value(knowledge.ValueLosingWeights) {
		before = append(before, weighed(from+3+len(before), 1000))
	}
	for _, c := range []struct {
		grams int64
		share int
	}{{900, 1000}, {1000, 0}, {1100, -1000}, {333, 6670}} {
		loss, known := LossOf(tb, append([]care.Weighed{weighed(0, c.grams)}, before...), 1000)
		if !known || loss.Share != c.share || loss.Median != model.Grams(1000) && loss.Median.Milligrams != 1_000_000 {
			t.Errorf("%d g: %+v, %v; want a share of %d", c.grams, loss, known, c.share)
		}
	}
}
