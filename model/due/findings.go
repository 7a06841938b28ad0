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
	for _, owed := range f.Standing.Due() {
		o := Obligation{Key: KeyOf(f.Animal.ID, f.Standing, owed), From: min(owed.Said, owed.By), Since: owed.Said, By: owed.By, Act: ActOf(owed.Kind), Level: owed.Level, For: owed.For}
		o.because(f.Standing.Parts[owed.Part], owed.Signs)
		all = append(all, o)
	}
	return all
}

// KeyOf names the obligation of what an animal's standing makes due, by what was said and
// the looks that it was said of.
func KeyOf(animal model.AnimalID, s history.Standing, owed history.Owed) Key {
	p, job := s.Parts[owed.Part], LookAgain
	if owed.Kind == exam.SeeVet {
		job = SeeVet
	}
	var seen []string
	for _, i := range owed.Signs {
		sign := p.Verdict.Signs[i]
		name := sign.Problem.String()
		if sign.Problem.IsZero() {
			name = string(sign.Stop) + "/" + string(sign.What)
		}
		seen = append(seen, name+"@"+sign.Seen.String())
	}
	slices.Sort(seen)
	return Key{Subject: animal.Subject(), Job: job, Cause: fmt.Sprintf("%d/%s/%s/%s", p.From, p.Entry, owed.Level, strings.Join(seen, "+"))}
}

// AnswerTo is the one of some items whose answer stands for what an animal's standing makes
// due; false: none was given, or it asks again.
func AnswerTo(items []Item, animal model.AnimalID, s history.Standing, owed history.Owed) (Item, bool) {
	at := slices.IndexFunc(items, func(i Item) bool { return i.State == Answered && i.Key == KeyOf(animal, s, owed) })
	if at < 0 {
		return Item{}, false
	}
	return items[at], true
}

// ActOf is the act that answers what a verdict makes due.
func ActOf(kind exam.ObligationKind) Act {
	if kind == exam.SeeVet {
		return ActVet
	}
	return ActCheck
}

// because takes over why a part of the standing makes it due by some of its signs, and what
// is to be heeded.
func (o *Obligation) because(p history.Part, signs []int) {
	if p.From == history.FromGone {
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
}
