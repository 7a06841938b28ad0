package particulars

import (
	"errors"

	"coilward/model"
	"coilward/model/contact"
	"coilward/model/knowledge"
	"coilward/model/positives"
	"coilward/ui/place"
)

// OpenPositive opens a positive for what was detected in a sample and shows it; where
// one was opened before, that is shown.
func OpenPositive(w place.Window, sample model.SampleID, agent knowledge.AgentID) {
	find := func() (s contact.Stored, there bool) {
		err := w.Collection().View(func(v model.View) (err error) {
			s, there, err = positives.OfResult(v, sample, agent)
			return err
		})
		if err != nil {
			w.Fault("positive.fault", err)
		}
		return s, there && err == nil
	}
	show := func() {
		if s, there := find(); there {
			w.Go(place.Route{To: place.Positive, Subject: s.ID.ID})
		}
	}
	if _, there := find(); there {
		show()
		return
	}
	w.Do(func(place.Answer) model.Command {
		return contact.Open{Tables: w.Tables(), Sample: sample, Agent: agent, By: w.By()}
	}, func(err error) {
		if err == nil {
			show()
			return
		}
		var r *model.Refusal
		if errors.As(err, &r) {
			w.Tell(w.Text().Say("positive.page.title"), w.Text().Refusal(r))
		}
	})
}
