package store

import (
	"slices"
	"time"
)

// How many snapshots are kept: the newest, and of older times the newest of each
// week and month.
const (
	keptLast    = 10
	keptWeekly  = 8
	keptMonthly = 12
)

// Retain tells which snapshots are kept: the last 10, the newest of each of the
// last 8 weeks and of each of the last 12 months that have any. Weeks are those
// of ISO 8601, weeks and months by UTC.
func Retain(taken []time.Time) []bool {
	newestFirst := make([]int, len(taken))
	for i := range taken {
		newestFirst[i] = i
	}
	slices.SortStableFunc(newestFirst, func(a, b int) int { return taken[b].Compare(taken[a]) })
	keep := make([]bool, len(taken))
	for _, i := range newestFirst[:min(keptLast, len(newestFirst))] {
		keep[i] = true
	}
	keepNewestOf(keep, newestFirst, keptWeekly, func(i int) [2]int { return week(taken[i]) })
	keepNewestOf(keep, newestFirst, keptMonthly, func(i int) [2]int { return month(taken[i]) })
	return keep
}

func keepNewestOf(keep []bool, newestFirst []int, periods int, period func(int) [2]int) {
	seen := map[[2]int]bool{}
	for _, i := range newestFirst {
		if p := period(i); !seen[p] && len(seen) < periods {
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
