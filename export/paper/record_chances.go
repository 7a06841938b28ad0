package paper

import (
	"slices"
	"strings"

	"coilward/model"
	"coilward/model/chances"
	"coilward/model/evidence"
	"coilward/model/samples"
)

// addChances takes what the samples prove. Where something that this rests on cannot be
// read it is said not to be worked out: that does not keep the rest from being printed.
func (g *Gathered) addChances(v model.View, with Gathering) {
	reader, err := chances.NewReader(v, with.Tables)
	if err != nil {
		g.facts.NoChances = true
		return
	}
	g.facts.Chances, g.facts.UnreadQuarantines = reader.All(with.Animal), reader.UnreadQuarantines()
}

// proved are the chances that something is to be told of: of what was looked for and
// answered, or of what it was exposed to.
func (f Facts) proved() (all []chances.Chance) {
	for _, c := range f.Chances {
		if len(c.Steps) > 0 || len(c.Exposed) > 0 {
			all = append(all, c)
		}
	}
	return all
}

// lookedFor are the things that no sample of the animal was looked through for, and
// those of which no sample has an answer that says anything.
func (r record) lookedFor() (never, unanswered []string) {
	for _, a := range r.Tables.Agents() {
		taken, answered := false, false
		for _, s := range r.Samples {
			taken = taken || !s.Taken.IsZero() && slices.Contains(s.For, a.ID)
			answered = answered || s.LookedThrough(a.ID)
		}
		switch {
		case !taken:
			never = append(never, r.agent(a.ID))
		case !answered:
			unanswered = append(unanswered, r.agent(a.ID))
		}
	}
	return never, unanswered
}

// proves is what the tests prove, thing by thing: the chance as a range, each sample with
// what it made of it, what it assumes and what follows; then what was not looked for, and
// what no figure can say.
func (r record) proves() []Block {
	blocks := []Block{Heading{Level: 2, Text: r.say("paper.chances"), Aside: r.say("paper.chances.as-of", gaps{"Day": r.Issued.Day()})}}
	if r.NoChances {
		blocks = append(blocks, Paragraph{Text: r.say("paper.chances.failed")})
	}
	all := r.proved()
	shared := r.shared(all)
	for _, c := range all {
		blocks = append(blocks, r.proof(c, shared)...)
	}
	if len(shared) > 0 {
		blocks = append(blocks, Paragraph{Strong(r.say("paper.chances.shared")), smallStyle}, List{Dot, shared, smallStyle})
	}
	never, unanswered := r.lookedFor()
	var none []string
	if len(unanswered) > 0 {
		none = append(none, r.pair("paper.chances.unanswered", strings.Join(unanswered, ", ")))
	}
	if len(never) > 0 {
		none = append(none, r.pair("paper.chances.never", strings.Join(never, ", ")))
	}
	if len(none) > 0 {
		blocks = append(blocks, List{HollowDia, none, smallInk})
	}
	cannot := append([]string{r.say("paper.chances.cannot")}, r.chancesUnread()...)
	return append(blocks, Keep{Heading{Level: 3, Text: r.say("chance.cannot")}, List{HollowDia, cannot, smallInk}})
}

// chancesUnread is what cannot be read of all that the chances rest on, nothing where all was.
func (r record) chancesUnread() (all []string) {
	if n := r.Unknown[string(model.TypeSample)]; n > 0 {
		all = append(all, r.text.Count("chance.cannot.unread", n))
	}
	if r.UnreadQuarantines > 0 {
		all = append(all, r.text.Count("chance.cannot.unread-quarantine", r.UnreadQuarantines))
	}
	return all
}

// named are the animal's name, and another animal: who the others are, and what the
// rooms are called, is nothing for those who read this one's papers.
func (r record) named() chances.Named {
	return chances.Named{Name: r.brief("paper.long.name", r.Animal.Name, longestTitle), Others: func(model.AnimalID) string { return r.say("paper.chances.another") },
		Rooms: func(model.PlaceID) string { return r.say("paper.chances.same-room") }}
}

func (r record) line(l chances.Line) string { return r.text.Say(l.Key, l.Gaps) }

// shared are the assumptions that every chance of several rests on, which are said once.
func (r record) shared(all []chances.Chance) (shared []string) {
	known := 0
	for _, c := range all {
		if !c.Known() {
			continue
		}
		assumes := r.assumes(c)
		if known++; known == 1 {
			shared = assumes
		}
		shared = slices.DeleteFunc(shared, func(said string) bool { return !slices.Contains(assumes, said) })
	}
	if known < 2 {
		return nil
	}
	return shared
}

// assumes is what a chance rests on, in words.
func (r record) assumes(c chances.Chance) (all []string) {
	shown := c
	shown.Exposed = newest(c.Exposed, mostListed)
	for _, l := range shown.Assumes(r.named()) {
		all = append(all, r.line(l))
	}
	if over := len(c.Exposed) - len(shown.Exposed); over > 0 {
		all = append(all, r.text.Count("paper.chances.more", over))
	}
	return all
}

// proof is what is told of one thing, but for what it shares with all others.
func (r record) proof(c chances.Chance, shared []string) []Block {
	says := c.Says(r.named())
	said := Strong(r.line(says)) + ". " + r.line(c.WhyNone())
	if c.Known() {
		said = Strong(r.say("paper.chances.says", says.Gaps)) + ", " + r.say("chance.as-of", gaps{"Day": r.Issued.Day()}) + "."
	}
	keep := Keep{Heading{Level: 3, Text: r.agent(c.Of)}, Paragraph{Text: said}}
	if len(c.Steps) > 0 { // what it rests on stands on the same page
		keep = append(keep, r.steps(c))
	}
	blocks := []Block{keep}
	if !c.Known() {
		if c.Act == evidence.Vet {
			blocks = append(blocks, Paragraph{r.pair("paper.chances.follows", r.follows(c)), smallInk})
		}
		return blocks
	}
	own := slices.DeleteFunc(r.assumes(c), func(said string) bool { return slices.Contains(shared, said) })
	ends := Keep{Paragraph{r.pair("paper.chances.follows", r.follows(c)), smallInk}}
	if len(own) > 0 { // what follows stands with what it assumes
		ends = append(Keep{Paragraph{Strong(r.say("chance.assumes")), smallStyle}, List{Dot, own, smallStyle}}, ends...)
	}
	return append(blocks, ends)
}

// follows is what follows, to whoever reads the paper.
func (r record) follows(c chances.Chance) string {
	switch c.Act {
	case evidence.Vet:
		if c.Pooled() {
			return r.say("paper.chances.for-vet-pool")
		}
		return r.say("paper.chances.for-vet")
	case evidence.Take: // what lies ready for it is nothing for a reader
		if c.From <= r.Issued.Day() {
			return r.say("chance.act.take-now")
		}
		return r.say("paper.chances.take", gaps{"Day": c.From})
	case evidence.Assumed:
		return r.say("paper.chances.assumed", gaps{"Goal": labelled(r.text, evidence.Exactly(c.Goal).Told().Label())})
	case evidence.Apart:
		return r.say("paper.chances.apart", gaps{"Name": r.named().Name})
	}
	return r.line(c.Follows(r.named()))
}

// steps are the samples that were looked through for a thing, each with what it made of
// the chance or why it says nothing, by the day.
func (r record) steps(c chances.Chance) Table {
	t := Table{Columns: []Column{r.column("paper.tests.taken", dayWidth), {Title: r.say("field.material"), Share: 1, Style: smallStyle},
		{Title: r.say("paper.tests.result"), Share: .7, Style: smallInk}, {Title: r.say("paper.chances.made"), Share: 1.4, Style: smallInk}}}
	for _, s := range c.Steps {
		var said []string
		for _, l := range s.Says() {
			said = append(said, r.line(l))
		}
		of := []string{r.say("material." + string(s.Sample.Material))}
		if n := len(s.Sample.Animals) - 1; n > 0 {
			of = append(of, r.text.Count("animal.day.sample.pool", n))
		}
		outcome := r.outcomeOf(Sampled{Sample: s.Sample.Sample}, c.Of)
		if s.Mute != "" { // why it says nothing stands beside it
			outcome = r.say("samples.outcome." + string(s.Outcome))
		}
		t.Rows = append(t.Rows, []Cell{{Text: r.text.Day(s.Sample.Taken.Day())}, {Text: strings.Join(of, "\n")}, {Text: outcome}, {Text: strings.Join(said, "; ")}})
	}
	return t
}

// vetProves is a line for each thing that was sampled or that the animal was exposed to,
// in two columns beside what they are.
func (r record) vetProves() []Block {
	lead := Strong(r.say("paper.chances.carries")) + " " + r.say("paper.chances.brief")
	if all := r.proved(); len(all) == 1 && !r.NoChances {
		said := append([]string{lead + ": " + r.vetChance(all[0])}, r.chancesUnread()...)
		return []Block{Paragraph{strings.Join(said, ". "), smallInk}}
	}
	return r.chancesBeside(strings.Join(append([]string{lead}, r.chancesUnread()...), ". "))
}

// provesBriefly are the chances as the first page of the record has them, in as little room
// as they take where it is short.
func (r record) provesBriefly() []Block {
	lead := Strong(r.say("paper.chances.carries")) + " " + r.say("paper.chances.brief") + ". " + r.say("paper.chances.behind")
	switch r.room {
	case roomy:
		return r.leavesOpen()
	case tight:
		return r.chancesBeside(lead)
	}
	if len(r.proved()) == 0 && !r.NoChances {
		return nil
	}
	said := []string{Strong(r.say("paper.chances.carries")) + " " + r.say("paper.chances.brief")}
	for _, c := range r.proved() {
		if c.Known() {
			said = append(said, Strong(r.agent(c.Of))+":\u00a0"+strings.ReplaceAll(labelled(r.text, c.Now.Told().Label()), " ", "\u00a0"))
		} else {
			said = append(said, r.line(c.Says(r.named())))
		}
	}
	if r.NoChances {
		said = append(said, r.say("paper.chances.failed"))
	}
	return []Block{Paragraph{strings.Join(said[:1], "") + " " + strings.Join(said[1:], "; "), smallInk}}
}

// chancesBeside are the chances in two columns beside what they are.
func (r record) chancesBeside(lead string) []Block {
	var all []string
	for _, c := range r.proved() {
		all = append(all, r.vetChance(c))
	}
	if r.NoChances {
		all = append(all, r.say("paper.chances.failed"))
	}
	if len(all) == 0 {
		return nil
	}
	half := (len(all) + 1) / 2
	return []Block{Columns{Shares: []float64{.62, 1, 1}, Gap: 6, Parts: [][]Block{
		{Paragraph{lead, smallStyle}}, {List{Dot, all[:half], smallInk}}, {List{Dot, all[half:], smallInk}}}}}
}

// vetChance is the chance of one thing in a line, with how many samples speak, and until
// when it was exposed.
func (r record) vetChance(c chances.Chance) string {
	if !c.Known() {
		return r.line(c.Says(r.named()))
	}
	speak, detected := 0, 0
	for _, s := range c.Steps {
		if s.Mute == "" {
			speak++
			if s.Outcome == samples.Detected && len(s.Sample.Animals) == 1 {
				detected++
			}
		}
	}
	rests := []string{r.say("paper.chances.no-sample")}
	if speak > 0 {
		rests[0] = r.text.Count("paper.chances.samples", speak)
	}
	if detected > 0 {
		rests = append(rests, r.text.Count("paper.chances.detected", detected))
	}
	if c.Pooled() {
		rests = append(rests, r.say("paper.chances.in-pool"))
	}
	if n := len(c.Exposed); n > 0 {
		until := c.Exposed[0].Until
		for _, e := range c.Exposed {
			until = max(until, e.Until)
		}
		key := "paper.chances.exposed"
		if slices.ContainsFunc(c.Exposed, func(e chances.Exposed) bool { return e.Still }) {
			key = "paper.chances.exposed-still"
		}
		rests = append(rests, r.say(key, gaps{"Day": r.text.DayShort(until)}))
	}
	return Strong(r.agent(c.Of)) + ": " + labelled(r.text, c.Now.Told().Label()) + " (" + strings.Join(rests, "; ") + ")"
}
