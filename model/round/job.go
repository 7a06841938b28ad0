package round

import "coilward/model/due"

// Job is what is done box by box on a round. Values are frozen; the text is
// "shelf.job." + value.
type Job string

// The jobs, in the order of their keys.
const (
	Feed  Job = "feed"
	Weigh Job = "weigh"
	Mites Job = "mites"
	Check Job = "check"
	Clean Job = "clean"
	Swab  Job = "swab"
)

// Through is the round itself: all boxes in the order of their classes. Nothing is due
// by it, so that it is none of Jobs.
const Through Job = "round"

// Jobs are all that do what is due.
func Jobs() []Job { return []Job{Feed, Weigh, Mites, Check, Clean, Swab} }

// Wants tells whether the job is due on an animal or box with these items, and
// whether it is late.
func (j Job) Wants(items []due.Item) (wanted, late bool) {
	for _, item := range items {
		if jobOf(item.Job) == j {
			wanted, late = true, late || item.State.Overdue()
		}
	}
	return wanted, late
}

// jobOf is the job that does what is due; empty where none does.
func jobOf(j due.Job) Job {
	switch j {
	case due.Offer:
		return Feed
	case due.Weigh:
		return Weigh
	case due.Check, due.LookAgain, due.ShedLook:
		return Check
	case due.Clean:
		return Clean
	case due.MiteLook:
		return Mites
	case due.TakeSample:
		return Swab
	}
	return ""
}
