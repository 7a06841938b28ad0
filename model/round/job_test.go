package round

import (
	"slices"
	"testing"

	"coilward/model/due"
)

// Each job does what is due by that name and nothing else; it is late where one of
// several things that it does is.
func TestJob_Wants(t *testing.T) {
	does := map[due.Job]Job{due.Offer: Feed, due.Weigh: Weigh, due.MiteLook: Mites, due.Check: Check, due.LookAgain: Check, due.ShedLook: Check, due.Clean: Clean, due.TakeSample: Swab}
	item := func(j due.Job, s due.State) due.Item {
		return due.Item{Obligation: due.Obligation{Key: due.Key{Job: j}}, State: s}
	}
	for _, what := range due.Jobs() {
		for _, job := range Jobs() {
			wanted, late := job.Wants([]due.Item{item(what, due.Today)})
			if wanted != (does[what] == job) || late {
				t.Errorf("what is due today: %s, of %s: wanted %v, late %v", what, job, wanted, late)
			}
		}
	}
	if wanted, late := Check.Wants([]due.Item{item(due.Check, due.Today), item(due.ShedLook, due.Late), item(due.Weigh, due.Late)}); !wanted || !late {
		t.Error("a check is not late where the look after a shed is")
	}
	if wanted, late := Feed.Wants([]due.Item{item(due.Offer, due.Today), item(due.Weigh, due.Late)}); !wanted || late {
		t.Error("food is late where a weighing is")
	}
	for _, job := range Jobs() {
		if wanted, _ := job.Wants(nil); wanted || !slices.ContainsFunc(due.Jobs(), func(j due.Job) bool { return does[j] == job }) {
			t.Errorf("%s is wanted of nothing, or never", job)
		}
	}
}
