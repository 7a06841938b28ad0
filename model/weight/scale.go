package weight

import (
	"cmp"
	"math"
	"slices"

	"coilward/model"
	"coilward/model/knowledge"
)

// Change is how the weight of one animal changed to a day, from its weighing before.
type Change struct {
	Days int // from the one to the other, above zero
	From model.Mass
	To   model.Mass
}

// AllAlike tells whether most animals that were weighed on one day with one scale changed
// alike, which the scale does and not the animals: eight in ten lie within 2 % of the middle
// of the changes, and that is 4 % or more away from none; of five animals at least, each
// weighed within 45 days before. share is the middle, in hundredths of a percent, below zero
// where they became lighter. Source: assumed.
func AllAlike(t *knowledge.Tables, changes []Change) (share int, alike bool) {
	var shares []int
	for _, c := range changes {
		if c.Days > 0 && c.Days <= t.Value(knowledge.ValueAlikeDays) && c.From.Milligrams > 0 {
			shares = append(shares, int(math.Round(10_000*(float64(c.To.Milligrams)/float64(c.From.Milligrams)-1))))
		}
	}
	if len(shares) < t.Value(knowledge.ValueAlikeAnimals) {
		return 0, false
	}
	slices.SortFunc(shares, cmp.Compare[int])
	share = shares[len(shares)/2]
	near := 0
	for _, s := range shares {
		if distance(s, share) <= shareOf(t, knowledge.ValueAlikeNear) {
			near++
		}
	}
	return share, distance(share, 0) >= shareOf(t, knowledge.ValueAlikeFrom) && near*100 >= t.Value(knowledge.ValueAlikeMost)*len(shares)
}

func distance(a, b int) int { return max(a-b, b-a) }
