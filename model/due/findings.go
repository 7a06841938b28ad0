package due

import (
	"fmt"
	"slices"
	"strings"

	"coilward/model"
	"coilward/model/exam"
	"coilward/model/history"
	"coilward/model/knowledge"
)

// findings makes due what the standing of an animal asks for: the vet, and looks
// at what was found.
func findings(_ *knowledge.Tables, f Facts) []Obligation {
	var all []Obligation
	for _, p := range f.Standing.Parts {
		for _, owed := range p.Verdict.Due() {
			if p.From == history.FromGone && owed.Kind != exam.SeeVet {
				continue
			}
			o := Obligation{From: p.Day, Since: p.Day, By: owed.By, Act: ActOf(owed.Kind), Key: Key{Job: LookAgain}}
			if owed.Kind == exam.SeeVet {
				o.Job = SeeVet
			}
			o.about(p, owed.Signs)
			o.From = min(o.From, o.By)
			all = append(all, o)
		}
	}
	return all
}

// ActOf is the act that answers what a verdict makes due.
func ActOf(kind exam.ObligationKind) Act {
	if kind == exam.SeeVet {
		return ActVet
	}
	return ActCheck
}

// about takes from a part of the standing what it says of some of its signs.
func (o *Obligation) about(p history.Part, signs []int) {
	var seen []string
	for _, i := range signs {
		sign := p.Verdict.Signs[i]
		o.Level = max(o.Level, p.Verdict.Of(i))
		if !slices.Contains(o.For, sign.What) {
			o.For = append(o.For, sign.What)
		}
		name := sign.Problem.String()
		if sign.Problem.IsZero() {
			name = string(sign.Stop) + "/" + string(sign.What)
		}
		seen = append(seen, name+"@"+sign.Seen.String())
	}
	if p.From == history.FromGone {
		o.Level = min(o.Level, knowledge.VetWithinDays)
		o.Reasons = why("due.why.gone", map[string]model.Gap{"Day": model.DayGap(p.Gone)})
	}
	for _, r := range p.Verdict.Reasons {
		label := model.Label{Key: "reason." + string(r.Rule)}
		told := slices.ContainsFunc(o.Reasons, func(l model.Label) bool { return l.Key == label.Key })
		if !told && slices.ContainsFunc(r.Signs, func(i int) bool { return slices.Contains(signs, i) }) {
			o.Reasons = append(o.Reasons, label)
		}
		if r.Isolate {
			o.Caution = "due.caution.apart"
		}
	}
	slices.Sort(seen)
	o.Cause = fmt.Sprintf("%d/%s/%s/%s", p.From, p.Entry, o.Level, strings.Join(seen, "+"))
}
