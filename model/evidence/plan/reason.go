package plan

import (
	"coilward/model"
	"coilward/model/evidence"
)

// Why is one of the reasons for which there is no plan.
type Why uint8

// The reasons.
const (
	// Ongoing: while the contact of Animals goes on, there is no day from which a sample
	// says enough.
	Ongoing Why = iota
	// Already: of all animals the chance is no more than the target.
	Already
	// Rounds: of Animals, each sampled singly, the target takes Needed rounds; no more than
	// Facts.Rounds are allowed. Needed is by what is assumed, of cautious facts at the worst end of
	// what is known; it is 0 where not even ManyRounds are enough. Then Left is the chance that these
	// leave. (A limit above zero there is not: as long as no animal is like
	// itself in all, each is found at last.)
	Rounds
	// Dear: the cheapest that is enough, and in time if there is one, costs Cost.
	Dear
	// Late: the soonest that is enough, and within the budget if there is one, is known on Day.
	Late
)

// ManyRounds is as many as are tried to say how many would be enough.
const ManyRounds = 100

// Reason is one reason with its numbers.
type Reason struct {
	Why     Why
	Animals []int          // as places in Facts.Animals
	Needed  int            // rounds
	Left    evidence.Range // chance
	Cost    evidence.Range // expected with retests, in cents; what is wanted is held against what is assumed
	Day     model.Day
}

// ongoing are the animals whose contact goes on.
func (f Facts) ongoing() (all []int) {
	for i, a := range f.Animals {
		if a.Ongoing {
			all = append(all, i)
		}
	}
	return all
}

// tooMany is the reason for which a group does not reach the target in the rounds that
// are allowed. No pool says more of an animal than its own sample, so singly is asked.
func (p *planner) tooMany(g group) Reason {
	r := Reason{Why: Rounds, Animals: g.animals}
	for n := p.Rounds + 1; n <= ManyRounds; n++ {
		if reached(p.most(g, 1, n, ManyRounds), p.Target) {
			r.Needed = n
			return r
		}
	}
	for n, e := range p.ends {
		r.Left.Widen(p.outlooks(g, 1, 0, ManyRounds, e)[ManyRounds].after, n == 0)
	}
	return r
}

// limits are the reasons for which none of some plans is within budget and time.
func (p *planner) limits(all []sketch) (why []Reason) {
	var inTime, inBudget, both []sketch
	for _, s := range all {
		late, dear := p.late(s), p.dear(s)
		if !late {
			inTime = append(inTime, s)
		}
		if !dear {
			inBudget = append(inBudget, s)
		}
		if !late && !dear {
			both = append(both, s)
		}
	}
	if len(both) > 0 {
		return nil
	}
	// along the frontier the last is the cheapest and the first the soonest
	if len(inBudget) == 0 || len(inTime) > 0 {
		of := inTime
		if len(of) == 0 {
			of = all
		}
		cheapest := of[len(of)-1]
		why = append(why, Reason{Why: Dear, Cost: p.plan(cheapest.days, cheapest.acts).Expected})
	}
	if len(inTime) == 0 || len(inBudget) > 0 {
		of := inBudget
		if len(of) == 0 {
			of = all
		}
		why = append(why, Reason{Why: Late, Day: p.knownOn(of[0])})
	}
	return why
}
