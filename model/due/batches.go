package due

import (
	"errors"
	"slices"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/feeders"
	"coilward/model/knowledge"
)

// batches makes a look at a batch of feeders due, once, where so many meals of it came up
// as the tables say, and where its freezer failed while something is left of it. Three
// from one batch: assumed.
func batches(t *knowledge.Tables, s feeders.Standing, today model.Day) (all []Obligation) {
	if s.ManyUp(t) {
		newest := slices.MaxFunc(s.Up, func(a, b feeders.Use) int { return int(a.At.UTC - b.At.UTC) })
		o := Obligation{Key: Key{Subject: s.ID.Subject(), Job: BatchLook, Cause: "up/" + newest.Entry.String()}, Level: knowledge.LookAgain, Since: newest.At.Day(), Act: ActFeeders,
			Caution: "due.caution.batch", Reasons: why("due.why.batch-up", map[string]model.Gap{"Count": model.CountGap(len(s.Up)), "Day": model.DayGap(newest.At.Day())})}
		o.From, o.By = o.Since, o.Since
		all = append(all, o)
	}
	if s.Doubtful != 0 && s.Left > 0 {
		o := Obligation{Key: Key{Subject: s.ID.Subject(), Job: BatchLook, Cause: "freezer/" + s.Doubtful.String()}, Since: s.Doubtful, From: s.Doubtful, By: s.Doubtful, Act: ActFeeders,
			Caution: feeders.RefreezeCaution, Reasons: why("due.why.batch-freezer", map[string]model.Gap{"Day": model.DayGap(s.Doubtful), "Freezer": model.TextGap(s.Freezer), "Count": model.CountGap(s.Left)})}
		all = append(all, o)
	}
	return all
}

func (b *Book) readBatches(v model.View) error {
	all, err := feeders.All(b.tables, v)
	if err != nil {
		return err
	}
	today := v.Now().Day()
	for _, s := range all {
		due := owedFor(b.tables, s, today)
		if err := answered(v, b.tables, due, today); err != nil {
			return err
		}
		if len(due) > 0 {
			b.kit.leaves = append(b.kit.leaves, kitLeaf{&Owner{Subject: s.ID.Subject(), Name: s.Name, folded: animals.Fold(s.Name)}, due})
		}
	}
	return nil
}

func owedFor(t *knowledge.Tables, s feeders.Standing, today model.Day) (all []Obligation) {
	for _, feeder := range Feeders() {
		if feeder.Batch != nil {
			all = append(all, feeder.Batch(t, s, today)...)
		}
	}
	return all
}

// findBatch is what is due for a batch, with its name.
func findBatch(v model.View, t *knowledge.Tables, id model.BatchID) ([]Obligation, string, error) {
	s, err := feeders.Of(t, v, id, model.EntryID{})
	if r := (*model.Refusal)(nil); errors.As(err, &r) {
		return nil, "", nil
	}
	return owedFor(t, s, v.Now().Day()), s.Name, err
}
