package paper

import (
	"strings"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/atease"
	"coilward/model/knowledge"
	"coilward/model/welfare"
)

// Behaviour is how the animal is, as far as it was noted: by what was done meanwhile, never
// added up. What befell people is no part of it.
type Behaviour struct {
	Sides   []welfare.Side      // those with a visit
	Lately  int                 // days that are this month
	Ledger  welfare.Ledger      // of these days
	Changes []TriedChange       // newest first
	Breaths []welfare.Breathing // that are told, newest first
	entries []welfare.Entry     // newest first
	Today   model.Day           // on which it is printed
	First   model.Day           // of the visits; meaningless without any
	Visits  int                 // on which signs were looked for
}

// TriedChange is a change that was tried, with what the weeks say of it.
type TriedChange struct {
	Entry welfare.Entry
	Help  welfare.Help
}

// addBehaviour takes how the animal is. Where something that it rests on cannot be read it
// is left out, and counted as what cannot be read: the rest is printed all the same.
func (g *Gathered) addBehaviour(v model.View, with Gathering, animal animals.Stored) {
	b, noted, err := gatherBehaviour(v, with.Tables, animal, g.facts.Issued)
	switch {
	case err != nil:
		g.facts.Unknown[welfare.KindObservation]++
	case noted:
		g.facts.Behaviour = &b
	}
}

func gatherBehaviour(v model.View, t *knowledge.Tables, animal animals.Stored, now model.Moment) (b Behaviour, noted bool, err error) {
	k, err := atease.Read(v, t, animal, now)
	if err != nil || len(k.Entries) == 0 {
		return b, false, err
	}
	today := now.Day()
	b.Today, b.Lately, b.entries = today, t.Value(knowledge.ValueEaseLately), k.Entries
	for _, seen := range k.Visits { // newest first
		if !seen.BreathsOnly {
			b.Visits, b.First = b.Visits+1, seen.At.Day()
		}
	}
	for _, s := range welfare.Sides(t, k.Visits, today) {
		if s.Lately.Visits+s.Before.Visits > 0 {
			b.Sides = append(b.Sides, s)
		}
	}
	b.Ledger = welfare.Handled(t, k.Entries, today-model.Day(b.Lately)+1, today)
	b.Breaths = welfare.Told(t, welfare.Breathings(t, k.Visits), today)
	for _, e := range k.Entries {
		if c, is := e.Body.(welfare.Change); is {
			h, err := atease.Helped(t, k, e, c, today)
			if err != nil {
				return b, false, err
			}
			b.Changes = append(b.Changes, TriedChange{e, h})
		}
	}
	return b, true, nil
}

// behaviour is the section of how the animal is.
func (r record) behaviour() []Block {
	b := r.Behaviour
	if b == nil {
		return nil
	}
	head := Heading{Level: 2, Text: r.say("paper.behaviour")}
	if b.Visits > 0 {
		head.Aside = r.text.Count("paper.behaviour.since", b.Visits, gaps{"Day": b.First})
	}
	blocks := []Block{head}
	if len(b.Sides) > 0 {
		t := Table{Columns: []Column{{Title: r.say("field.setting"), Share: 1.2, Style: smallStyle}}, Note: r.say("paper.behaviour.note", gaps{"Days": b.Lately})}
		for _, key := range []string{"ease.unease-lately", "ease.unease-before", "ease.ease-lately", "ease.ease-before"} {
			t.Columns = append(t.Columns, Column{Title: r.say(key), Share: 1, Style: smallInk})
		}
		for _, s := range b.Sides {
			t.Rows = append(t.Rows, []Cell{{Text: r.say("setting." + string(s.Setting))}, {Text: r.ofVisits(s.Lately.Unease, s.Lately.Visits)}, {Text: r.ofVisits(s.Before.Unease, s.Before.Visits)},
				{Text: r.ofVisits(s.Lately.Ease, s.Lately.Visits)}, {Text: r.ofVisits(s.Before.Ease, s.Before.Visits)}})
		}
		blocks = append(blocks, t)
	}
	var said []string
	for _, breath := range b.Breaths {
		said = append(said, breathsSaid(r.text, r.Tables, breath))
	}
	if b.Ledger.Times > 0 {
		said = append(said, r.say("paper.behaviour.handled", gaps{"Days": b.Lately, "Said": LedgerSaid(r.text, b.Ledger)}))
	}
	for _, c := range b.Changes {
		change := c.Entry.Body.(welfare.Change)
		said = append(said, Strong(r.brief("field.change-what", change.What, longestFact))+". "+HelpSaid(r.text, c.Entry, change, c.Help))
	}
	if len(said) > 0 {
		blocks = append(blocks, List{Dot, said, smallInk})
	}
	return blocks
}

// vetBehaviour is a line for the vet: unease and ease of the visits of this month by what
// was done meanwhile, and the breathings that are told.
func (r record) vetBehaviour() []Block {
	b := r.Behaviour
	if b == nil {
		return nil
	}
	var said []string
	for _, s := range b.Sides {
		if s.Lately.Visits > 0 {
			said = append(said, r.say("paper.behaviour.brief", gaps{"Setting": r.say("setting." + string(s.Setting)), "Unease": r.ofVisits(s.Lately.Unease, s.Lately.Visits), "Ease": r.ofVisits(s.Lately.Ease, s.Lately.Visits)}))
		}
	}
	if len(said) > 0 {
		dates := r.say("paper.behaviour.lately", gaps{"From": r.text.DayShort(b.Today - model.Day(b.Lately) + 1), "Until": r.text.DayShort(b.Today)})
		said = []string{Strong(dates) + " " + strings.Join(said, " · ") + "."}
	}
	var breaths []string
	for _, breath := range b.Breaths {
		breaths = append(breaths, breathsSaid(r.text, r.Tables, breath))
	}
	if said = append(said, r.fewOf(breaths, vetBreaths, vetLong)...); len(said) == 0 {
		return nil
	}
	return []Block{Paragraph{strings.Join(said, " "), smallInk}}
}

func (r record) ofVisits(n, of int) string {
	if of == 0 {
		return r.say("ease.no-visit")
	}
	return r.text.Count("ease.of-visits", of, gaps{"Seen": n})
}

// breathingAsks is the gravest breathing of this month that a vet should hear of, as a
// question; empty where there is none.
func (r record) breathingAsks() string {
	if r.Behaviour == nil {
		return ""
	}
	b, found := welfare.Gravest(r.Behaviour.Breaths)
	if !found {
		return ""
	}
	return r.say("paper.vet.ask-breathing", gaps{"Said": breathsSaid(r.text, r.Tables, b)})
}

// BreathsSaid is a count of breaths, or signs of heavy breathing, to the keeper, with when a
// vet should hear of it.
func BreathsSaid(t Text, tables *knowledge.Tables, b welfare.Breathing) string {
	said := breathsSaid(t, tables, b)
	switch {
	case b.OpenMouth():
		said += " " + t.Say("ease.breaths-open")
	case len(b.Signs) > 0:
		said += " " + t.Say("ease.breaths-signs")
	case b.Far:
		said += " " + t.Say("ease.breaths-vet")
	}
	if short(tables, b) {
		said += " " + t.Say("ease.breaths-whole", map[string]any{"Seconds": tables.Value(knowledge.ValueBreathsCount)})
	}
	return said
}

// short reports whether breaths were counted for less time than is wanted.
func short(tables *knowledge.Tables, b welfare.Breathing) bool {
	return b.Seconds > 0 && b.Seconds < tables.Value(knowledge.ValueBreathsCount)
}

// breathsSaid is what was seen and counted; a vet who reads it is not told to call one.
func breathsSaid(t Text, tables *knowledge.Tables, b welfare.Breathing) string {
	var said []string
	for _, id := range b.Signs {
		said = append(said, t.Say("sign."+string(id))+".")
	}
	if short(tables, b) {
		said = append(said, t.Say("ease.breaths-short", map[string]any{"For": b.Seconds}))
	}
	if b.Tenths > 0 || len(b.Signs) == 0 {
		key := "ease.breaths-own"
		switch {
		case b.Far:
			key = "ease.breaths-far"
		case b.Own == 0:
			key = "ease.breaths-few"
		}
		said = append(said, t.Say(key, map[string]any{"Rate": t.Decimal(int64(b.Tenths), 1), "Own": t.Decimal(int64(b.Own), 1), "Counts": b.Counts,
			"Want": tables.Value(knowledge.ValueBreathsOwn), "Seconds": tables.Value(knowledge.ValueBreathsCount)}))
	}
	return t.DayShort(b.At.Day()) + ": " + strings.Join(said, " ")
}

// HelpSaid is since when a change was tried and what the weeks say of it, with n and p.
func HelpSaid(t Text, e welfare.Entry, c welfare.Change, h welfare.Help) string {
	words := map[string]any{"Day": t.DayShort(e.At.Day()), "Setting": t.Say("setting." + string(c.Setting)), "Hoped": t.Say("welfare.hoped." + string(c.Hoped)),
		"Before": len(h.Before), "After": len(h.After), "WantBefore": h.WantBefore, "WantAfter": h.WantAfter, "Weeks": len(h.Before) + h.WantBefore,
		"Difference": inSigns(t, h.Difference), "P": PSaid(t, h.P), "Least": t.Decimal(int64(h.Least*10+0.5), 1)}
	said := []string{t.Say("ease.change-since", words), t.Say("welfare.verdict."+string(h.Verdict), words)}
	if h.Verdict == welfare.NotShown && h.Least >= .05 { // less is told as no sign
		said = append(said, t.Say("ease.power", words))
	}
	if c.AfterBad && h.Verdict != welfare.NotYet && h.Verdict != welfare.TooFewBefore {
		said = append(said, t.Say("ease.after-bad"))
	}
	if h.Others > 0 && h.Verdict != welfare.BetterSince {
		said = append(said, t.Count("ease.others", h.Others))
	}
	return strings.Join(said, " ")
}

// inSigns is a number with its sign, to one decimal.
func inSigns(t Text, n float64) string {
	if n < 0 {
		return "−" + t.Decimal(int64(-n*10+0.5), 1)
	}
	return "+" + t.Decimal(int64(n*10+0.5), 1)
}

// LedgerSaid is what handling came to; what was nothing is left out.
func LedgerSaid(t Text, l welfare.Ledger) string {
	said := []string{t.Count("ease.times", l.Times)}
	for _, c := range []struct {
		key string
		n   int
	}{{"ease.lifts", l.Lifts}, {"ease.hand", l.Hand}, {"ease.container", l.Container}, {"ease.care", l.Care}, {"ease.held", l.Held}, {"ease.came", l.Came}, {"ease.drew-back", l.DrewBack}, {"ease.stopped", l.Stopped}} {
		if c.n > 0 {
			said = append(said, t.Count(c.key, c.n))
		}
	}
	return strings.Join(said, " · ")
}

// PSaid is a p with three digits; one that would be said as nothing is said to be below a
// thousandth.
func PSaid(t Text, p float64) string {
	if p < .0005 {
		return "< " + t.Decimal(1, 3)
	}
	return t.Decimal(int64(p*1000+.5), 3)
}
