package particulars

import (
	"coilward/model"
	"coilward/model/feeders"
	"coilward/model/wording"
	"coilward/ui/place"
	"coilward/ui/widgets"
)

// BatchPick is the choice of the batch of feeders that a meal is of.
type BatchPick struct {
	*Pick
	all []feeders.Standing
}

// NewBatchPick offers the batches that have something left, and the one that is chosen
// already; nil where there is none.
func NewBatchPick(w place.Window, chosen model.BatchID) *BatchPick {
	b := &BatchPick{}
	err := w.Collection().View(func(v model.View) error {
		all, err := feeders.All(w.Tables(), v)
		for _, s := range all {
			if s.Left+s.Thawed > 0 || s.ID == chosen {
				b.all = append(b.all, s)
			}
		}
		return err
	})
	if err != nil {
		w.Fault("feeders.fault", err)
	}
	if len(b.all) == 0 {
		return nil
	}
	var ids []string
	var choices []widgets.Choice
	for _, s := range b.all {
		ids = append(ids, s.ID.String())
		choices = append(choices, widgets.Choice{Label: s.Name + " · " + w.Text().Say("feeders.left", wording.Gaps{"Left": s.Left, "Count": s.Count})})
	}
	value := ""
	if !chosen.IsZero() {
		value = chosen.String()
	}
	b.Pick = NewPick(w, w.Text().Say("field.batch"), Capital(w.Text().Say("particulars.unsaid")), ids, choices, value)
	return b
}

// ID is the batch that is picked; zero: none.
func (b *BatchPick) ID() model.BatchID {
	s, _ := b.picked()
	return s.ID
}

// Batch is the batch that is picked, and whether one is.
func (b *BatchPick) Batch() (feeders.Batch, bool) {
	s, picked := b.picked()
	return s.Batch, picked
}

func (b *BatchPick) picked() (feeders.Standing, bool) {
	for _, s := range b.all {
		if s.ID.String() == b.Value() {
			return s, true
		}
	}
	return feeders.Standing{}, false
}
