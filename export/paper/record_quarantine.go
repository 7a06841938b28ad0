package paper

import (
	"coilward/model"
	"coilward/model/knowledge"
)

// mites is the finding of the table that a watch for mites is about.
const mites knowledge.FindingID = "mites"

// inQuarantine says that a quarantine is open, and how its watch for mites stands.
func (r record) inQuarantine() []string {
	if r.Quarantine == nil || !r.Quarantine.Quarantine.Open() {
		return nil
	}
	words := gaps{"Count": countOfDays(*r.Quarantine, r.text)}
	until, watched := r.mitesUntil()
	switch {
	case !watched:
		return []string{r.say("paper.quarantine.standing", words)}
	case until == 0:
		return []string{r.say("paper.quarantine.standing-unlooked", words)}
	}
	words["Until"] = until
	return []string{r.say("paper.quarantine.standing-mites", words)}
}

// mitesUntil is the earliest day on which the watch for mites of an open quarantine can
// end; 0: nobody has looked yet. watched is false where there is no watch, or where it
// is over.
func (r record) mitesUntil() (until model.Day, watched bool) {
	q := r.Quarantine
	if q == nil || !q.Quarantine.Open() || !q.Protocol.Mites || q.Facts.Mites.Over > 0 {
		return 0, false
	}
	if q.Facts.Mites.Ends == 0 {
		return 0, true
	}
	return max(q.Facts.Mites.Ends, r.Issued.Day()), true
}
