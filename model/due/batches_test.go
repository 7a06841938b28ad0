package due_test

import (
	"testing"

	"coilward/model"
	"coilward/model/care"
	"coilward/model/due"
	"coilward/model/feeders"
	"coilward/model/knowledge"
	"coilward/model/meals"
)

// Three meals of one batch that came up are one alert for the batch (assumed), and so is
// a freezer that failed while something is left.
func TestBatchesOfFeeders(t *testing.T) {
	w := newWorld(t, ball())
	id := model.BatchID{ID: w.do(feeders.Add{Batch: feeders.Batch{Name: "Rats, May", Prey: care.Rat, Count: 9, Freezer: "Chest"}}).Documents[0]}
	for ago := 12; ago >= 4; ago -= 4 {
		if all := w.of(due.BatchLook); len(all) != 0 {
			t.Fatalf("before the third: %+v", all)
		}
		about := w.about(ago)
		about.Confirmed = append(about.Confirmed, meals.AskWaits)
		w.do(meals.Offer{Tables: w.tables, About: about, Meal: care.Meal{Prey: care.Rat, Batch: id, Outcome: care.Regurgitated}})
	}
	o := w.one(due.BatchLook)
	if o.Of.Name != "Rats, May" || o.Reasons[0].Key != "due.why.batch-up" || o.Level != knowledge.LookAgain || o.Act != due.ActFeeders || o.State != due.Late {
		t.Errorf("three: %+v", o)
	}
	w.do(due.Respond{Tables: w.tables, Key: o.Key, What: due.DoneElsewhere, Why: "thrown away"})
	if o := w.one(due.BatchLook); o.State != due.Later {
		t.Errorf("answered: %+v", o)
	}
	w.do(feeders.Fail{Tables: w.tables, Failure: feeders.Failure{Freezer: "Chest"}, At: w.now()})
	if all := w.because("due.why.batch-freezer"); len(all) != 1 || all[0].State != due.Today || all[0].Caution != feeders.RefreezeCaution {
		t.Errorf("the freezer failed: %+v", all)
	}
}
