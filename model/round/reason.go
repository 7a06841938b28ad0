package round

import (
	"cmp"
	"slices"

	"coilward/model"
	"coilward/model/exam"
	"coilward/model/history"
	"coilward/model/husbandry"
	"coilward/model/knowledge"
	"coilward/model/positives"
)

// Why is of what kind a reason is for counting an animal as more than resident. Values are
// frozen; the text is "round.why." + value.
type Why string

// What it can be.
const (
	WhyLookAgain Why = "look-again" // something that stands is at look again
	WhyLighter   Why = "lighter"    // a loss of weight is at look again
	WhyChilled   Why = "chilled"    // in a power cut, and no answer speaks for it
	WhyNear      Why = "near"       // in an open trace
	WhyMiteWatch Why = "mites"      // mites were seen, and the watch for them is not over
	WhyNearMites Why = "near-mites" // lives in a room that one lives in or left that is watched for mites
	WhyNewcomer  Why = "newcomer"   // came from elsewhere, or is in quarantine
	WhyUnfed     Why = "unfed"      // young, and no meal was kept for too long
	WhyBreathing Why = "breathing"  // on a visit, of which a vet should hear
	WhyLoss      Why = "loss"       // of weight, of which a vet should hear
	WhyVet       Why = "vet"        // something that stands is for the vet within days
	WhyEmergency Why = "emergency"  // something that stands is an emergency
	WhyDetected  Why = "detected"   // an open result
)

// Whys are all of them, in the order of their classes.
func Whys() []Why {
	return []Why{WhyLookAgain, WhyLighter, WhyChilled, WhyNear, WhyNearMites, WhyMiteWatch, WhyNewcomer, WhyUnfed, WhyLoss, WhyBreathing, WhyVet, WhyEmergency, WhyDetected}
}

// Class is the class that an animal has for such a reason.
func (w Why) Class() Class {
	switch w {
	case WhyLookAgain, WhyLighter, WhyChilled:
		return LookAgain
	case WhyNear, WhyNearMites, WhyMiteWatch:
		return NearPositive
	case WhyNewcomer:
		return Newcomer
	}
	return Ill
}

// Reason is one fact that makes an animal count as more than resident.
type Reason struct {
	Why     Why
	Finding knowledge.FindingID // of what stands
	Agent   knowledge.AgentID   // of a result
	// Noted is that it was noted among everyday care, last on the day of Since; else that is
	// the day on which it was first seen.
	Noted bool
	// Since is the day of the look at it, of the sample, of the mites seen last, of
	// the weight that is held against, of the last meal kept, of the visit, on which the power cut ended, or of its coming; zero: not known.
	Since model.Date
}

// ReasonsOf are the facts that an animal's classes follow from, the class that rules first.
// They are of the same records as FactsOf.
func ReasonsOf(f Facts, id model.AnimalID, own Own, house *husbandry.House, marks positives.Marks) []Reason {
	all := slices.Clone(own.said)
	if f.Newcomer {
		all = append(all, Reason{Why: WhyNewcomer, Since: house.Came(id)})
	}
	if f.Chilled != 0 {
		all = append(all, Reason{Why: WhyChilled, Since: dated(f.Chilled)})
	}
	if f.MiteWatch {
		all = append(all, Reason{Why: WhyMiteWatch, Since: dated(own.mites)})
	}
	if f.NearMites != 0 {
		all = append(all, Reason{Why: WhyNearMites, Since: dated(f.NearMites)})
	}
	for _, m := range marks.Of[id] {
		why := WhyDetected
		if m.Near {
			why = WhyNear
		}
		all = append(all, Reason{Why: why, Agent: m.Agent, Since: dated(m.Sampled)})
	}
	slices.SortStableFunc(all, latest)
	return slices.Compact(all)
}

// latest puts the reasons of the latest class first.
func latest(a, b Reason) int {
	return cmp.Compare(slices.Index(Whys(), b.Why), slices.Index(Whys(), a.Why))
}

// saidOf are the reasons that stand in an animal's own records: of what is as urgent as the
// most urgent, each finding once, since it was first seen; and what weights and meals tell.
func saidOf(s history.Standing, problems []exam.StoredProblem) (all []Reason) {
	why, level := WhyLookAgain, s.Level()
	switch {
	case level >= knowledge.EmergencyToday:
		why = WhyEmergency
	case level >= knowledge.VetWithinDays:
		why = WhyVet
	}
	for _, part := range s.Parts {
		if level < knowledge.LookAgain || part.Level() < level {
			continue
		}
		for i, sign := range part.Verdict.Signs {
			said := slices.ContainsFunc(all, func(r Reason) bool { return r.Finding == sign.What })
			if !said && part.Verdict.Of(i) >= level {
				day, seen := firstSeen(sign, problems)
				if !seen {
					day = part.Day
				}
				all = append(all, Reason{Why: why, Finding: sign.What, Noted: !seen, Since: dated(day)})
			}
		}
	}
	switch {
	case s.Loss.ForVet():
		all = append(all, Reason{Why: WhyLoss, Since: dated(s.Loss.HeldDay())})
	case s.Loss.Level == knowledge.LookAgain:
		all = append(all, Reason{Why: WhyLighter, Since: dated(s.Loss.HeldDay())})
	}
	if !s.Unfed.IsZero() {
		all = append(all, Reason{Why: WhyUnfed, Since: dated(s.Unfed.Since)})
	}
	if b := s.Breathing; !b.IsZero() {
		all = append(all, Reason{Why: WhyBreathing, Since: dated(b.At.Day())})
	}
	return all
}

// firstSeen is the day of the first look at the problem of a sign; seen is false where it is
// of none.
func firstSeen(sign exam.Sign, problems []exam.StoredProblem) (day model.Day, seen bool) {
	i := slices.IndexFunc(problems, func(p exam.StoredProblem) bool { return p.ID == sign.Problem && !p.ID.IsZero() })
	if i < 0 {
		return 0, false
	}
	return problems[i].First().At.Day(), true
}

// dated is a day as a date; 0 is not known.
func dated(d model.Day) model.Date {
	if d == 0 {
		return model.Date{}
	}
	return model.Date{Day: d, Precision: model.ToDay}
}
