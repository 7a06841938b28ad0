package round

import (
	"testing"

	"coilward/model"
	"coilward/model/knowledge"
)

// The question between two rounds names what is done, into what tools go for the longest of
// the contact times, and where none is known that no tool is carried on.
func TestBarrier_Asks(t *testing.T) {
	measures := []knowledge.MeasureID{"hands", "clothes"}
	for name, c := range map[string]struct {
		Barrier
		reason  string
		minutes int64
		means   string
		targets string
	}{
		"nothing suspected": {Barrier{Measures: measures}, AsksAgain, 0, "", ""},
		"tools":             {Barrier{Measures: measures, Uses: []Use{{Means: "a", Minutes: 4}, {Means: "b", Minutes: 10}, {Means: "c", Minutes: 1}}}, asksAgainTools, 10, "means.a means.b means.c", ""},
		"no contact time":   {Barrier{Measures: measures, Uses: []Use{{Means: "a", Minutes: 4}}, Untimed: []knowledge.TargetID{"mites", "bacteria"}}, asksAgainOwn, 0, "", "target.mites target.bacteria"},
	} {
		r := c.asks(NearPositive, 7)
		if r.Reason != c.reason || r.Answer != model.Confirm || r.Gaps["Minutes"].Number != c.minutes || r.Gaps["Means"].Text != c.means || r.Gaps["Targets"].Text != c.targets ||
			r.Gaps["Measures"].Text != "round.measure.hands round.measure.clothes" || r.Gaps["Class"].Text != "round.class.near-positive" || r.Value != model.Day(7).String() {
			t.Errorf("%s: %+v", name, r)
		}
	}
}
