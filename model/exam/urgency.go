package exam

import (
	"cmp"
	"maps"
	"slices"

	"coilward/model"
	"coilward/model/knowledge"
)

// Urgency judges the facts by the tables. Every rule that matches is a reason,
// and the most urgent one counts. The order of the signs does not matter to the
// answer; with the same context one sign more, or a worse one, never lowers it.
func Urgency(t *knowledge.Tables, f Facts) Verdict {
	v := Verdict{Signs: ordered(f.Signs), Day: f.At.Day(), VetWithin: t.Value(knowledge.ValueVetWithin), Tables: t.Hash()}
	j := judging{t: t, facts: f, signs: v.Signs}
	for _, rule := range t.Rules() {
		if signs := j.matches(rule); len(signs) > 0 {
			v.Reasons = append(v.Reasons, j.reasons(rule, signs)...)
		}
	}
	for _, r := range v.Reasons {
		v.Level = max(v.Level, r.Level)
	}
	slices.SortStableFunc(v.Reasons, func(a, b Reason) int { return cmp.Compare(b.Level, a.Level) })
	return v
}

// reasons are what a rule says about the signs it speaks of: one reason for all,
// or one of its own for those that have become worse. Signs that count together
// have become worse together.
func (j judging) reasons(rule knowledge.Rule, signs []int) []Reason {
	reason := Reason{
		Rule: rule.ID, Level: rule.Level, Signs: signs, Again: rule.Again, Today: rule.Today,
		IfWorse: rule.IfWorse, Isolate: rule.Isolate, Source: rule.Source,
	}
	for _, v := range j.t.Assumed(rule) {
		reason.Assumed = append(reason.Assumed, v.ID)
	}
	worse := slices.DeleteFunc(slices.Clone(signs), func(i int) bool { return !j.signs[i].worsenedFor(rule) })
	if len(worse) == 0 || rule.IfWorse <= rule.Level {
		return []Reason{reason}
	}
	if rule.Count > 1 {
		worse = signs
	}
	risen := reason
	risen.Level, risen.IfWorse, risen.Signs, risen.Worsened = rule.IfWorse, knowledge.Nothing, worse, true
	if risen.Level != knowledge.LookAgain {
		risen.Again, risen.Today = 0, false
	}
	reason.Signs = slices.DeleteFunc(slices.Clone(signs), func(i int) bool { return slices.Contains(worse, i) })
	if len(reason.Signs) == 0 {
		return []Reason{risen}
	}
	return []Reason{risen, reason}
}

// worsenedFor reports whether a sign has become worse after the rule spoke: a
// rule that asks for "worse" speaks of one that is worse already.
func (s Sign) worsenedFor(r knowledge.Rule) bool {
	if r.Needs(knowledge.Worse) {
		return s.WorseAgain
	}
	return s.worse()
}

// ordered puts the signs that are present into one order, whatever the order
// they came in.
func ordered(signs []Sign) []Sign {
	present := slices.DeleteFunc(slices.Clone(signs), func(s Sign) bool { return !s.Standing.Present() })
	slices.SortFunc(present, func(a, b Sign) int {
		return cmp.Or(
			cmp.Compare(a.Stop, b.Stop), cmp.Compare(a.What, b.What), cmp.Compare(b.Grade, a.Grade),
			cmp.Compare(a.Place.Part, b.Place.Part), cmp.Compare(a.Place.View, b.Place.View), cmp.Compare(a.Place.Region, b.Place.Region),
			cmp.Compare(a.Place.Along, b.Place.Along), cmp.Compare(a.Place.Angle, b.Place.Angle),
			cmp.Compare(a.Place.X, b.Place.X), cmp.Compare(a.Place.Y, b.Place.Y),
			cmp.Compare(a.Standing, b.Standing), cmp.Compare(a.Sheds, b.Sheds), cmp.Compare(a.Seen, b.Seen),
			compareFlags(a.Baseline, b.Baseline), compareFlags(a.Differs, b.Differs), compareFlags(a.Worsened, b.Worsened),
			compareFlags(a.Old, b.Old), compareFlags(a.WorseAgain, b.WorseAgain), compareFlags(a.Rough, b.Rough), cmp.Compare(a.VetBy, b.VetBy),
			slices.Compare(a.Problem.ID[:], b.Problem.ID[:]),
		)
	})
	return present
}

func compareFlags(a, b bool) int {
	switch {
	case a == b:
		return 0
	case b:
		return -1
	}
	return 1
}

// judging is one set of facts before the rules.
type judging struct {
	t     *knowledge.Tables
	facts Facts
	signs []Sign
}

// matches are the indexes of the signs that a rule speaks about, or none.
func (j judging) matches(r knowledge.Rule) []int {
	if !j.accompanied(r) || !j.circumstances(r) {
		return nil
	}
	var matched []int
	for i, s := range j.signs {
		if r.At(s.Stop, s.What) && int(max(s.Grade, Slight)) >= r.Grade && j.standsFor(r, s) {
			matched = append(matched, i)
		}
	}
	return j.together(matched, r.Count)
}

// together are those of the signs that were seen on a day on which so many
// different ones were seen: the same finding at the same stop counts once.
func (j judging) together(signs []int, count int) []int {
	type kind struct {
		stop knowledge.StopID
		what knowledge.FindingID
	}
	days := map[model.Day]map[kind]bool{}
	for _, i := range signs {
		s := j.signs[i]
		if days[s.Seen] == nil {
			days[s.Seen] = map[kind]bool{}
		}
		days[s.Seen][kind{s.Stop, s.What}] = true
	}
	return slices.DeleteFunc(signs, func(i int) bool { return len(days[j.signs[i].Seen]) < count })
}

// accompanied reports whether one of the findings that the rule asks for beside
// is there.
func (j judging) accompanied(r knowledge.Rule) bool {
	return len(r.With) == 0 || slices.ContainsFunc(j.signs, func(s Sign) bool {
		return slices.Contains(r.With, s.What) && !j.quiet(s)
	})
}

// quiet reports whether a sign is this animal's own and no worse.
func (j judging) quiet(s Sign) bool { return j.own(s) && !s.worse() }

// worse reports whether a sign is worse now, or has been and is no better since.
func (s Sign) worse() bool { return s.Standing == Worse || s.Worsened }

// own reports whether a sign is this animal's own, which only some findings can
// be, and only where they are slight.
func (j judging) own(s Sign) bool {
	f, known := j.t.Finding(s.What)
	return s.Baseline && known && f.Baseline && s.Grade <= Slight
}

// standsFor asks the rule's clauses about the sign itself. A quiet sign answers
// only to rules that name the baseline.
func (j judging) standsFor(r knowledge.Rule, s Sign) bool {
	if j.quiet(s) && !r.Needs(knowledge.Baseline) {
		return false
	}
	return !slices.ContainsFunc(r.When, func(c knowledge.Clause) bool {
		holds, about := j.ofSign(c.Condition, s)
		return about && holds == c.Not
	})
}

// circumstances asks the rule's clauses about the context.
func (j judging) circumstances(r knowledge.Rule) bool {
	return !slices.ContainsFunc(r.When, func(c knowledge.Clause) bool {
		holds, about := j.ofContext(c.Condition)
		return about && holds == c.Not
	})
}

// ofSign reports whether a condition holds for the sign, and whether it is one
// about signs at all.
func (j judging) ofSign(c knowledge.Condition, s Sign) (holds, about bool) {
	switch c {
	case knowledge.Baseline:
		return j.own(s), true
	case knowledge.Worse:
		return s.worse(), true
	case knowledge.KeptTwoSheds:
		return s.Sheds >= 2, true
	case knowledge.DiffersFromPhoto:
		return s.Differs, true
	case knowledge.SeenBefore:
		return s.Standing != New, true
	case knowledge.KnownOld:
		return s.Old, true
	}
	return false, false
}

// ofContext reports whether a condition holds in the context, and whether it is
// one about the context at all.
func (j judging) ofContext(c knowledge.Condition) (holds, about bool) {
	x := j.facts.Context
	switch c {
	case knowledge.InShed:
		return x.Shed == ShedBefore, true
	case knowledge.AfterMeal:
		return j.justAte(), true
	case knowledge.Fed:
		return j.within(x.LastMeal, knowledge.ValueFed), true
	case knowledge.Gravid:
		return x.Gravid, true
	case knowledge.Cold:
		return x.Temperature != model.Temperature{} && x.Temperature.Hundredths < int64(j.t.Value(knowledge.ValueCold)), true
	case knowledge.Young:
		return x.Age == Hatchling || x.Age == Juvenile || x.Age == AgeUnknown && j.lighter(knowledge.ValueYoungMass), true
	case knowledge.Small:
		return j.lighter(knowledge.ValueSmall), true
	case knowledge.LosingWeight:
		return x.LosingWeight, true
	case knowledge.RegurgitatedLately:
		return slices.ContainsFunc(x.Regurgitations, func(m model.Moment) bool { return j.within(m, knowledge.ValueRegurgitation) }), true
	}
	return false, false
}

// lighter reports whether the animal is lighter than that value, or of unknown
// mass.
func (j judging) lighter(than knowledge.ValueID) bool {
	return j.facts.Context.Mass.Milligrams < model.Grams(int64(j.t.Value(than))).Milligrams
}

// justAte reports whether the last meal is so few minutes ago; a meal of which
// only the day is known is not.
func (j judging) justAte() bool {
	meal := j.facts.Context.LastMeal
	since := j.facts.At.UTC - meal.UTC
	return meal.Precision == model.ToMinute && since >= 0 && since <= 60*int64(j.t.Value(knowledge.ValueAfterMeal))
}

// within reports whether m is known, not in the future, and at most that many
// days ago.
func (j judging) within(m model.Moment, days knowledge.ValueID) bool {
	since := int(j.facts.At.Day()) - int(m.Day())
	return !m.IsZero() && !j.facts.At.Before(m) && since <= j.t.Value(days)
}

// Isolate reports whether a rule asks to keep the animal apart.
func (v Verdict) Isolate() bool {
	return slices.ContainsFunc(v.Reasons, func(r Reason) bool { return r.Isolate })
}

// Of is how urgent the sign at that index is by the rules about it.
func (v Verdict) Of(sign int) knowledge.Level {
	var level knowledge.Level
	for _, r := range v.Reasons {
		if slices.Contains(r.Signs, sign) {
			level = max(level, r.Level)
		}
	}
	return level
}

// VetBy is the last day on which a vet should see the animal, if one should.
func (v Verdict) VetBy() (by model.Day, wanted bool) {
	for i := range v.Signs {
		if last, vet := v.VetFor(i); vet && (!wanted || last < by) {
			by, wanted = last, true
		}
	}
	return by, wanted
}

// VetFor is the last day on which a vet should see the sign at that index, if one
// should: counted from the look that showed it, so that passing a finding over
// puts nothing off, and no later than was set on before, so that seeing the same
// again does not either.
func (v Verdict) VetFor(sign int) (by model.Day, wanted bool) {
	s, level := v.Signs[sign], v.Of(sign)
	if level < knowledge.VetWithinDays {
		return 0, false
	}
	by = s.Seen
	if level == knowledge.VetWithinDays {
		by += model.Day(v.VetWithin)
	}
	if s.VetBy != 0 {
		by = min(by, s.VetBy)
	}
	return by, true
}

// Due is what the verdict makes due, soonest first: the vet for all that wants
// one, and a new look at each sign that asks for it. Time alone closes neither.
func (v Verdict) Due() []Obligation {
	var due []Obligation
	if by, wanted := v.VetBy(); wanted {
		vet := Obligation{Kind: SeeVet, By: by}
		for i := range v.Signs {
			if v.Of(i) >= knowledge.VetWithinDays {
				vet.Signs = append(vet.Signs, i)
			}
		}
		due = append(due, vet)
	}
	looks := map[model.Day][]int{}
	for i := range v.Signs {
		if by, wanted := v.lookBy(i); wanted {
			looks[by] = append(looks[by], i)
		}
	}
	for _, by := range slices.Sorted(maps.Keys(looks)) {
		due = append(due, Obligation{Kind: LookThere, By: by, Signs: looks[by]})
	}
	slices.SortStableFunc(due, func(a, b Obligation) int { return cmp.Compare(a.By, b.By) })
	return due
}

// lookBy is the day on which the sign is looked at again, if it is: the soonest
// that a rule asks for. A sign that wants a vet waits for the vet instead.
func (v Verdict) lookBy(sign int) (by model.Day, wanted bool) {
	if v.Of(sign) != knowledge.LookAgain {
		return 0, false
	}
	for _, r := range v.Reasons {
		day := v.Signs[sign].Seen + model.Day(r.Again)
		if r.looks() && slices.Contains(r.Signs, sign) && (!wanted || day < by) {
			by, wanted = day, true
		}
	}
	return by, wanted
}

// looks reports whether the reason asks for a new look.
func (r Reason) looks() bool { return r.Level == knowledge.LookAgain && (r.Again > 0 || r.Today) }

// AgainBy is the day on which a reason of this verdict asks to look again, if it
// does: counted from the earliest look at what it speaks of, so that passing a
// finding over puts nothing off.
func (v Verdict) AgainBy(r Reason) (by model.Day, wanted bool) {
	for _, i := range r.Signs {
		if day := v.Signs[i].Seen + model.Day(r.Again); r.looks() && (!wanted || day < by) {
			by, wanted = day, true
		}
	}
	return by, wanted
}
