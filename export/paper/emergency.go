package paper

import (
	"strings"

	"coilward/model"
	"coilward/model/care"
	"coilward/model/knowledge"
	"coilward/model/people"
)

// A6 is a card as large as a postcard, ISO 216.
var A6 = Size{105, 148, 8, 8, 7, 14}

// mostKnown is how many findings a card names; the others are counted.
const mostKnown = 6

// EmergencyCard is what has to be at hand in an emergency: on its front whom to
// call, which animal it is and what it is known for, on its back the usual
// cautions and room for what was seen and said. It names no
// medicine and no dose, and says no more than the records do.
func EmergencyCard(f Facts, called []people.Stored, text Text) Document {
	now := f.Standing()
	r := record{Facts: f, text: text, now: now, all: f.standings(now), long: &[][2]string{}}
	name := r.brief("paper.long.name", f.Animal.Name, longestTitle)
	blocks := []Block{
		Paragraph{r.say("paper.card.kicker"), smallBold.In(Accent)},
		Paragraph{name, titleStyle},
		Paragraph{r.identity() + r.marked(), smallInk},
		Rule{Ink, .25},
		Columns{Shares: []float64{1, 1}, Gap: 6, Parts: halves(calls(text, called))},
		Rule{Ink, .25},
		Heading{Level: 3, Text: r.say("paper.card.known")},
		List{Dot, r.knownFor(), smallInk},
		Grid{Pairs: r.lately(), Style: smallInk},
	}
	back := []Block{
		Heading{Level: 3, Text: r.say("paper.card.cautions"), Aside: name},
		List{Triangle, r.cautions(), textStyle},
		Paragraph{r.say("paper.card.caution") + " " + text.Source("common practice, no source"), smallStyle},
		Signatures{r.say("paper.card.seen")}, Signatures{""}, Signatures{r.say("paper.card.said")}, Signatures{""}, Signatures{r.say("paper.card.who")},
	}
	return Document{
		Title:      text.Say("paper.card.title", gaps{"Name": name}),
		Subject:    text.Say("paper.record.issued", gaps{"Day": f.Issued.Day()}),
		Language:   text.Language(),
		Size:       A6,
		FootMiddle: text.Say("paper.card.foot", gaps{"Day": f.Issued.Day()}),
		PageOf:     r.pageOf,
		Sections: []Section{{Name: text.Say("paper.card.kicker"), Fit: true, Blocks: blocks},
			{Name: text.Say("paper.card.cautions"), Fit: true, Blocks: back}},
	}.tellingMissing(text)
}

func (r record) pageOf(page, total int) string {
	return r.say("paper.page-of", gaps{"Page": page, "Total": total})
}

// halves deals blocks out to two columns in turn.
func halves(blocks []Block) [][]Block {
	parts := make([][]Block, 2)
	for i, b := range blocks {
		parts[i%2] = append(parts[i%2], b)
	}
	return parts
}

// marked is what stands on the animal or its box: code and chip.
func (r record) marked() string {
	out := ""
	if r.Animal.Code != "" {
		out = "\n" + Strong(r.brief("paper.long.code", r.Animal.Code, longestCode))
	}
	if !r.Animal.Chip.IsZero() {
		out += "\n" + r.say("paper.chip", gaps{"Digits": grouped(r.brief("paper.long.chip", r.Animal.Chip.Digits, 2*longestCode))})
	}
	return out
}

// knownFor is what was detected in samples, the quarantine, and what is there and not closed, or gone without a vet's word: findings,
// the most urgent first, those that are the animal's own, and what everyday entries ask a look for.
func (r record) knownFor() []string {
	var known []string
	for _, said := range r.detections() {
		known = append(known, said+" "+r.say("paper.tests.apart"))
	}
	known = append(known, r.currentCourses()...)
	known = append(known, r.openPositives()...)
	known = append(known, r.inQuarantine()...)
	most, more := mostKnown+len(known), 0
	for _, s := range r.all {
		switch {
		case !s.Open() && s.level < knowledge.VetWithinDays:
		case len(known) == most:
			more++
		case !s.Open(): // gone, and no vet has said a word of it
			known = append(known, r.goneWords(s)+"; "+r.say("paper.gone.no-word"))
		case s.quiet():
			known = append(known, r.say("paper.card.own", gaps{"Finding": r.what(s.StoredProblem), "Day": s.First().At.Day()}))
		default:
			known = append(known, r.say("paper.card.open", gaps{"Finding": r.what(s.StoredProblem), "Day": s.First().At.Day(), "Level": r.say("urgency." + s.level.String())}))
		}
	}
	if more > 0 {
		known = append(known, r.text.Count("paper.card.more", more))
	}
	for level := knowledge.EmergencyToday; level >= knowledge.LookAgain; level-- {
		if entries := r.fromEntries(level); entries != "" {
			known = append(known, r.say("paper.card.entries", gaps{"Findings": entries, "Level": r.say("urgency." + level.String())}))
		}
	}
	known = append(known, r.entriesWithoutWord()...)
	if r.now.Loss.ForVet() {
		known = append(known, r.loss(r.now.Loss))
	}
	if u := r.now.Unfed; !u.IsZero() {
		known = append(known, r.say(unfedKey(u), gaps{"Day": u.Since}))
	}
	if b := r.now.Breathing; !b.IsZero() {
		known = append(known, r.say("paper.sentence.breathing", gaps{"Day": b.At.Day()}))
	}
	if len(known) == 0 {
		known = append(known, r.say("paper.card.nothing"))
	}
	if missing := r.unreadable(); missing != "" {
		known = append(known, r.say("paper.unread", gaps{"Kinds": missing}))
	}
	return known
}

// lately is what a vet asks on the phone: the last meal, shed, waste and check.
func (r record) lately() [][2]string {
	last := func(key string, at model.Moment, there bool) [2]string {
		if !there {
			return [2]string{r.say(key), r.say("paper.card.not-noted")}
		}
		return [2]string{r.say(key), r.text.Day(at.Day())}
	}
	var taken model.Moment
	eaten := false
	for _, m := range r.Meals {
		if m.Body.Outcome == care.Took {
			taken, eaten = m.At, true
		}
	}
	pairs := [][2]string{last("paper.card.meal", taken, eaten)}
	pairs = append(pairs, lastOf(r.Sheds, "paper.card.shed", last), lastOf(r.Waste, "paper.card.waste", last))
	var check model.Moment
	checks := r.counted()
	if n := len(checks); n > 0 {
		check = checks[n-1].At
	}
	return append(pairs, last("paper.card.check", check, len(checks) > 0))
}

func lastOf[B care.Body](list []Dated[B], key string, say func(string, model.Moment, bool) [2]string) [2]string {
	if len(list) == 0 {
		return say(key, model.Moment{}, false)
	}
	return say(key, list[len(list)-1].At, true)
}

// cautions are what is heeded until a vet has spoken. Common practice, no source.
func (r record) cautions() []string {
	return strings.Split(r.say("paper.card.cautions-text"), "\n")
}
