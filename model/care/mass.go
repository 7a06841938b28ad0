package care

import "coilward/model"

// The rule for a typed mass, in tenths of the mass before: over AskAt either way
// it asks, over TypeAgainAt it must be typed a second time. Source: assumed.
const (
	AskAt       = 13
	TypeAgainAt = 30
)

// HeaviestMass is the most that any entry takes, 1,000 kg, so that no sum of
// masses runs over.
const HeaviestMass int64 = 1_000_000_000

// HeaviestPrey is the most that one prey item may weigh, 30 kg. Source: assumed; more than
// is offered to the largest python that is kept.
const HeaviestPrey int64 = 30_000_000

// Judgement is what the rule for a typed mass says.
type Judgement uint8

// The judgements, mildest first.
const (
	Plausible Judgement = iota
	Asks
	WantsTypingAgain
	AboveHeaviest // of the species
	NotAMass      // zero, negative, or beyond any animal
)

// JudgeMass compares a typed mass with the last two stored (fewer if there are
// fewer) and the heaviest known of the species (zero: not known). The stricter of
// two judgements counts, and is returned with the mass that it is against: of two
// alike the older, none where nothing is to be asked.
func JudgeMass(typed model.Mass, before []model.Mass, heaviest model.Mass) (Judgement, model.Mass) {
	mg := typed.Milligrams
	switch {
	case mg <= 0 || mg > HeaviestMass:
		return NotAMass, model.Mass{}
	case !heaviest.IsZero() && mg > heaviest.Milligrams:
		return AboveHeaviest, heaviest
	}
	worst, against := Plausible, model.Mass{}
	for _, b := range before[max(0, len(before)-2):] {
		if j := compare(mg, b.Milligrams); j > worst {
			worst, against = j, b
		}
	}
	return worst, against
}

func compare(typed, before int64) Judgement {
	small, large := min(typed, before), max(typed, before)
	switch {
	case small <= 0:
		return Plausible
	case large*10 > small*TypeAgainAt:
		return WantsTypingAgain
	case large*10 > small*AskAt:
		return Asks
	}
	return Plausible
}

func massRefusal(j Judgement, typed, against model.Mass) *model.Refusal {
	r := &model.Refusal{Field: "mass", Value: typed.Typed, Answer: model.Mend, Gaps: map[string]model.Gap{
		"Mass": model.MassGap(typed), "Before": model.MassGap(against),
	}}
	switch j {
	case Asks:
		r.Reason, r.Answer = "mass.unlike", model.Confirm
	case WantsTypingAgain:
		r.Reason, r.Answer = "mass.far", model.TypeAgain
	case AboveHeaviest:
		r.Reason = "mass.heaviest"
	case NotAMass:
		r.Reason = "mass.none"
		if typed.Milligrams == 0 {
			r.Reason = "mass.zero"
		}
	}
	return r
}
