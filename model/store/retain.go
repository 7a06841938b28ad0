package store

import "time"

// How many snapshots are kept: the newest, and of older times the newest of each
// week and month.
const (
	keptLast    = 10
	keptWeekly  = 8
	keptMonthly = 12
)

// Retain tells which snapshots are kept: the last 10, the newest of each of the
// last 8 weeks and of each of the last 12 months that have any. Weeks are those
// of ISO 8601, weeks and months by UTC. newestFirst is when they were taken, in
// the opposite of the order in which they were made: a clock set back does not
// turn them round.
func Retain(newestFirst []time.Time) []bool {
	keep := make([]bool, len(newestFirst))
	for i := range min(keptLast, len(newestFirst)) {
		keep[i] = true
	}
	keepNewestOf(keep, newestFirst, keptWeekly, week)
	keepNewestOf(keep, newestFirst, keptMonthly, month)
	return keep
}

func keepNewestOf(keep []bool, newestFirst []time.Time, periods int, period func(time.Time) [2]int) {
	seen := map[[2]int]bool{}
	for i, taken := range newestFirst {
		if p := period(taken); !seen[p] && len(seen) < periods {
			seen[p], keep[i] = true, true
		}
	}
}

func week(t time.Time) [2]int {
	year, week := t.UTC().ISOWeek()
	return [2]int{year, week}
}

func month(t time.Time) [2]int {
	return [2]int{t.UTC().Year(), int(t.UTC().Month())}
}
