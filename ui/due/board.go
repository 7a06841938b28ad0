package due

import (
	"slices"

	"coilward/model/due"
)

// Group is what is due together: of one animal, or of one job.
type Group struct {
	Of    *due.Owner // nil: by job
	Job   due.Job
	Items []due.Item
}

// Groups puts items together by animal or by job. Animals come in the order of
// their most pressing item, jobs in the order of the jobs; items keep theirs.
func Groups(items []due.Item, byJob bool) []Group {
	var all []Group
	for _, item := range items {
		i := slices.IndexFunc(all, func(g Group) bool {
			return byJob && g.Job == item.Job || !byJob && g.Of.Subject == item.Of.Subject
		})
		if i < 0 {
			g := Group{Of: item.Of}
			if byJob {
				g = Group{Job: item.Job}
			}
			i, all = len(all), append(all, g)
		}
		all[i].Items = append(all[i].Items, item)
	}
	if byJob {
		order := due.Jobs()
		slices.SortStableFunc(all, func(a, b Group) int { return slices.Index(order, a.Job) - slices.Index(order, b.Job) })
	}
	return all
}

// Icon is the sign of a job.
func Icon(j due.Job) string {
	switch j {
	case due.SeeVet:
		return "vet"
	case due.LookAgain:
		return "eye"
	case due.ColdLook:
		return "warmth"
	case due.ShedLook:
		return "shed"
	case due.Weigh:
		return "weight"
	case due.Offer:
		return "meal"
	case due.Clean:
		return "clean"
	case due.MiteLook:
		return "mite"
	case due.CheckInstrument:
		return "gauge"
	case due.ChangeLamp:
		return "lamp"
	case due.GiveDose:
		return "dose"
	case due.CourseWord:
		return "note"
	case due.VetVisit:
		return "calendar"
	case due.TakeSample:
		return "tube"
	case due.PostSample:
		return "parcel"
	case due.Release:
		return "newcomer"
	case due.BatchLook:
		return "feed"
	case due.RoomLook:
		return "animals"
	case due.TakePhotos:
		return "camera"
	case due.Clothes:
		return "person"
	case due.AskLab:
		return "phone"
	case due.Positive:
		return "caution"
	}
	return "check"
}
