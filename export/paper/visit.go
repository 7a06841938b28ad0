package paper

import (
	"slices"
	"unicode/utf8"

	"coilward/model"
	"coilward/model/body"
	"coilward/model/medicine"
)

// Visited is a visit to a vet that was held, with the name of the vet; empty: not to be
// named, or no longer there.
type Visited struct {
	Vet string
	medicine.StoredVisit
}

// addVisit takes one visit; they come newest first. A planned one is no record yet.
func (g *Gathered) addVisit(d model.Document, names map[model.PersonID]string) {
	s, err := medicine.ReadVisit(d)
	switch {
	case err != nil:
		g.facts.Unknown[string(d.Type)]++
	case s.Held != nil:
		g.facts.Visits = append([]Visited{{names[s.Vet], s}}, g.facts.Visits...)
	}
}

// addQuestion takes one question; they come newest first.
func (g *Gathered) addQuestion(d model.Document) {
	s, err := medicine.ReadQuestion(d)
	if err != nil {
		g.facts.Unknown[string(d.Type)]++
		return
	}
	g.facts.Questions = append([]medicine.StoredQuestion{s}, g.facts.Questions...)
}

// whose is at whom a visit was.
func (r record) whose(s Visited) string {
	if said := joinedBy(Clean(s.Vet), Clean(s.Practice)); said != "" {
		return said
	}
	return r.say("paper.visit.a-vet")
}

// answers are the questions that were answered at a visit, each with its answer.
func (r record) answers(s Visited) (all []string) {
	for _, q := range r.Questions {
		if q.Answer != nil && q.Answer.Visit == s.ID {
			all = append(all, r.answered(q))
		}
	}
	return all
}

func (r record) answered(q medicine.StoredQuestion) string {
	return r.say("paper.visit.answered", gaps{"Question": Clean(q.Words), "Said": Clean(q.Answer.Said)})
}

// visitTable are the visits as they were declared, with what the vet said and answered as
// the keeper noted it.
func (r record) visitTable() Table {
	t := Table{Columns: []Column{r.column("paper.table.day", dayWidth), r.whatColumn(), r.noteColumn()}}
	backwards(newest(r.Visits, printedEntries), func(s Visited) {
		what := Strong(r.whose(s))
		if s.Held.Said != "" {
			what += "\n" + r.say("paper.visit.said", gaps{"Said": Clean(s.Held.Said)})
		}
		for _, answer := range r.answers(s) {
			what += "\n" + answer
		}
		t.Rows = append(t.Rows, []Cell{{Text: r.text.Day(s.At.Day())}, {Text: what}, {Text: Clean(s.Reason)}})
	})
	return t
}

// How many open questions stand on the page for a vet, and of how many signs all together:
// each in its exact words, with a line to write on beside it.
const (
	vetOpen      = 5
	vetOpenSigns = 700
	vetVisits    = 2
	vetAnswers   = 2 // of each of them
	vetHeadViews = 2
)

// vetOpenQuestions are the keeper's open questions as they were noted, the oldest first,
// each beside a line for its answer.
func (r record) vetOpenQuestions() (blocks []Block) {
	signs, shown := 0, 0
	open := slices.DeleteFunc(slices.Clone(r.Questions), func(q medicine.StoredQuestion) bool { return !q.Open() })
	for _, q := range open {
		if signs += utf8.RuneCountInString(q.Words); shown == vetOpen || shown > 0 && signs > vetOpenSigns {
			break
		}
		shown++
		blocks = append(blocks, Columns{Shares: []float64{1, 1}, Gap: 6, Parts: [][]Block{{Paragraph{Clean(q.Words), smallInk}}, {Signatures{""}}}})
	}
	if over := len(open) - shown; over > 0 {
		blocks = append(blocks, Paragraph{r.text.Count("paper.vet.more", over), smallStyle})
	}
	if len(blocks) > 0 {
		blocks = append([]Block{Heading{Level: 3, Text: r.say("paper.vet.keeper-asks")}}, blocks...)
	}
	return blocks
}

// vetVisited are the last visits, and answers that were given since.
func (r record) vetVisited() []Block {
	var all []string
	backwards(newest(r.Visits, vetVisits), func(s Visited) {
		line := r.text.DayShort(s.At.Day()) + ": " + joinedBy(r.whose(s), Clean(s.Reason))
		if s.Held.Said != "" {
			line += ". " + r.say("paper.visit.said", gaps{"Said": Clean(s.Held.Said)})
		}
		all = append(all, cut(line, 2*vetWords))
		answers := r.answers(s)
		for _, answer := range answers[:min(len(answers), vetAnswers)] {
			all = append(all, cut(answer, 2*vetWords))
		}
	})
	if len(all) == 0 {
		return nil
	}
	return []Block{Heading{Level: 3, Text: r.say("paper.vet.visits"), Aside: r.ofAll(min(len(r.Visits), vetVisits), len(r.Visits))}, List{Dot, all, smallInk}}
}

// vetHeads are the views of the head on which a finding was placed, as many as stand
// beside the whole animal; where the others are is said in words.
func (r record) vetHeads() (all []body.ViewID) {
	for _, v := range []body.ViewID{body.HeadAbove, body.HeadLeft, body.HeadRight, body.OpenMouth} {
		if len(all) < vetHeadViews && len(r.pins(v, true)) > 0 {
			all = append(all, v)
		}
	}
	return all
}
