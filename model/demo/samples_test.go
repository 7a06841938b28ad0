package demo

import (
	"testing"
	"time"

	"coilward/model"
	"coilward/model/samples"
)

// The story has a sample at each stage, a pool, one that was lost and taken anew,
// and answers that say nothing; in one something was detected.
func TestSamplesOfTheStory(t *testing.T) {
	c, _ := filled(t, time.Date(2027, 3, 3, 9, 0, 0, 0, time.UTC))
	stages, outcomes, pools := map[samples.Stage]int{}, map[samples.Outcome]int{}, 0
	err := c.View(func(v model.View) error {
		all, err := samples.All(v)
		for _, s := range all {
			stages[s.Stage()]++
			if len(s.Animals) > 1 {
				pools++
			}
			for _, r := range s.Results {
				outcomes[r.Outcome]++
			}
			if weekday := s.Posted.Time().Weekday(); !s.Posted.IsZero() && (weekday < 1 || weekday > 3) {
				t.Errorf("%s went off on a %v", s.Kit.Number, weekday)
			}
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	for _, stage := range samples.Stages() {
		if stages[stage] == 0 {
			t.Errorf("no sample is %s: %v", stage, stages)
		}
	}
	if pools != 2 || outcomes[samples.Detected] != 1 || outcomes[samples.Inconclusive] != 2 || outcomes[samples.Inhibited] != 1 || outcomes[samples.NotDetected] < 15 {
		t.Errorf("%d pools, outcomes %v", pools, outcomes)
	}
}
