package written

import (
	"errors"
	"strconv"
	"strings"

	"coilward/model"
	"coilward/model/body"
	"coilward/model/exam"
	"coilward/model/knowledge"
)

// Words are what of the catalogue in force a sheet is read with.
type Words interface {
	Say(key string, gaps ...map[string]any) string
	ParseLength(text string) (model.Length, error)
	ParseMass(text string) (model.Mass, error)
}

// Line is one exception of a sheet for a check.
type Line struct {
	Stop int // index into the draft's stops
	// Look is how the stop was looked at, or that it was not, where the line says no more;
	// NotYet where it names a finding or answers an earlier one.
	Look exam.Look
	// What is what was found there; empty: nothing new.
	What  knowledge.FindingID
	Grade exam.Grade   // Ungraded: not said
	Place body.Place   // the zero Place: not said
	Size  model.Length // zero: not said
	Note  string
	// Earlier is the index of an earlier finding that Standing answers.
	Earlier  int
	Standing exam.Standing // Unasked: the line answers none
}

// Read reads a line about a draft, in the grammar
//
//	line     = stop ( look | finding | standing ) .
//	stop     = number .                               (1 is the first)
//	look     = "=" | "0" | "-" | "." | word .         (fine, not looked at twice, left to the vet)
//	finding  = ( number | name ) { grade | size | place } [ ":" note ] .
//	standing = word [ ":" note ] .                    (same, better, worse, gone)
//	grade    = "+" | "++" | word .                    (marked, severe, any)
//	size     = number ( "mm" | "cm" | "in" ) .
//
// where of a name one of its words will do, and any may be cut short, as long as it means
// one thing; a place is as body.ParsePlace reads it. Findings have the numbers that they have
// in a check. The error is a *model.Refusal of the field "line".
func Read(t *knowledge.Tables, d exam.Draft, w Words, typed string) (Line, error) {
	head, note, noted := strings.Cut(typed, ":")
	fields := strings.Fields(head)
	r := reading{tables: t, draft: d, words: w, typed: strings.TrimSpace(typed), line: Line{Earlier: -1, Note: strings.TrimSpace(note)}}
	if len(fields) == 0 {
		return Line{}, r.refuse("written.no-stop", nil)
	}
	if err := r.stop(fields[0]); err != nil {
		return Line{}, err
	}
	if len(fields) == 1 {
		return Line{}, r.refuse("written.no-what", r.there())
	}
	if err := r.what(fields[1:]); err != nil {
		return Line{}, err
	}
	if noted && r.line.Look != exam.NotYet {
		return Line{}, r.refuse("written.note-of-nothing", r.there())
	}
	return r.line, nil
}

// reading is a line as far as it was read.
type reading struct {
	tables *knowledge.Tables
	draft  exam.Draft
	words  Words
	typed  string
	line   Line
	at     knowledge.Stop
}

func (r *reading) refuse(reason string, gaps map[string]model.Gap) error {
	return &model.Refusal{Field: "line", Value: r.typed, Reason: reason, Gaps: gaps, Answer: model.Mend}
}

// there names the stop.
func (r *reading) there() map[string]model.Gap {
	return map[string]model.Gap{"Stop": model.KeyGap("stop." + string(r.at.ID))}
}

func (r *reading) stop(typed string) error {
	n, err := strconv.Atoi(typed)
	if err != nil || n < 1 || n > len(r.draft.Stops) {
		return r.refuse("written.stop", map[string]model.Gap{"Typed": model.TextGap(typed), "Last": model.CountGap(len(r.draft.Stops))})
	}
	r.line.Stop = n - 1
	at, known := r.tables.Stop(r.draft.Stops[n-1].Stop)
	if !known {
		return r.refuse("written.stop", map[string]model.Gap{"Typed": model.TextGap(typed), "Last": model.CountGap(len(r.draft.Stops))})
	}
	r.at = at
	return nil
}

// meaning is one thing that a word may mean at a stop.
type meaning struct {
	name string
	take func(*Line)
}

// meanings are all words that a stop takes.
func (r *reading) meanings() []meaning {
	all := []meaning{
		{r.words.Say("written.word.fine"), func(l *Line) { l.Look = fine(r.at) }},
		{r.words.Say("written.word.not-looked"), func(l *Line) { l.Look = exam.NotLooked }},
		{r.words.Say("written.word.vet"), func(l *Line) { l.Look = exam.LeftToVet }},
	}
	for _, what := range r.at.Choices {
		all = append(all, meaning{r.words.Say("finding." + string(what)), func(l *Line) { l.What = what }})
	}
	if i, asking := r.draft.Go(r.line.Stop).Asking(); asking {
		for _, s := range []exam.Standing{exam.Same, exam.Better, exam.Worse, exam.Gone} {
			all = append(all, meaning{r.words.Say(s.Key()), func(l *Line) { l.Earlier, l.Standing = i, s }})
		}
	}
	return all
}

// fine is how a stop was looked at that is said to be fine: a mouth was opened then.
func fine(s knowledge.Stop) exam.Look {
	if s.Way == knowledge.Felt {
		return exam.Felt
	}
	return exam.Seen
}

// what reads what is at the stop, and what else is said of it.
func (r *reading) what(fields []string) error {
	used := 1
	switch n, err := strconv.Atoi(fields[0]); {
	case fields[0] == "=":
		r.line.Look = fine(r.at)
	case fields[0] == "0" || fields[0] == "-":
		r.line.Look = exam.NotLooked
	case fields[0] == ".":
		r.line.Look = exam.LeftToVet
	case err == nil && (n < 1 || n > len(r.at.Choices)):
		return r.refuse("written.finding-number", map[string]model.Gap{"Stop": model.KeyGap("stop." + string(r.at.ID)), "Last": model.CountGap(len(r.at.Choices))})
	case err == nil:
		r.line.What = r.at.Choices[n-1]
	default:
		if used, err = r.named(fields); err != nil {
			return err
		}
	}
	if r.line.What == "" && len(fields) > used {
		return r.refuse("written.more", map[string]model.Gap{"Word": model.TextGap(strings.Join(fields[used:], " "))})
	}
	return r.details(fields[used:])
}

// named takes the meaning of as many words as name one, and tells how many they are.
func (r *reading) named(fields []string) (used int, err error) {
	all := r.meanings()
	for n := len(fields); n > 0; n-- {
		typed := fold(strings.Join(fields[:n], " "))
		var found []meaning
		for _, m := range all {
			name := fold(m.name)
			if name == typed {
				found = []meaning{m}
				break
			}
			if begins(name, typed) {
				found = append(found, m)
			}
		}
		switch len(found) {
		case 0:
			continue
		case 1:
			found[0].take(&r.line)
			return n, nil
		}
		var names []string
		for _, m := range found {
			names = append(names, m.name)
		}
		return 0, r.refuse("written.several", map[string]model.Gap{"Word": model.TextGap(strings.Join(fields[:n], " ")), "Names": model.TextGap(strings.Join(names, ", "))})
	}
	return 0, r.refuse("written.word", map[string]model.Gap{"Word": model.TextGap(fields[0]), "Stop": model.KeyGap("stop." + string(r.at.ID))})
}

// fold is a text as it is compared: in small letters and without commas.
func fold(s string) string { return strings.ToLower(strings.ReplaceAll(s, ",", "")) }

// begins reports whether a name, from one of its words on, begins with what was typed.
func begins(name, typed string) bool {
	return typed != "" && strings.Contains(" "+name, " "+typed)
}

// details are grade, size and place of a finding, in any order.
func (r *reading) details(fields []string) error {
	var place []string
	for i := 0; i < len(fields); i++ {
		word := fields[i]
		if grade := r.grade(word); grade != exam.Ungraded {
			r.line.Grade = grade
			continue
		}
		measured := word
		if i+1 < len(fields) && unit(fields[i+1]) {
			measured = word + " " + fields[i+1]
			i++
		}
		if !unit(strings.TrimLeft(measured, "0123456789.,½¼ ")) {
			place = append(place, word)
			continue
		}
		size, err := r.words.ParseLength(measured)
		if err != nil {
			return r.told(err)
		}
		r.line.Size = size
	}
	if len(place) == 0 {
		return nil
	}
	at, err := body.ParsePlace(strings.Join(place, " "))
	if err != nil {
		return r.told(err)
	}
	at, ok := exam.Typed(r.at, at)
	if !ok {
		return r.refuse("place.head", nil)
	}
	r.line.Place = at
	return nil
}

// told is a refusal of a part of the line as one of the whole line.
func (r *reading) told(err error) error {
	var part *model.Refusal
	if !errors.As(err, &part) {
		return err
	}
	return r.refuse(part.Reason, part.Gaps)
}

func unit(word string) bool { return word == "mm" || word == "cm" || word == "in" }

// grade is what a sign or word says of how bad a finding is; Ungraded where it says
// nothing of that.
func (r *reading) grade(word string) exam.Grade {
	switch word {
	case "+":
		return exam.Marked
	case "++":
		return exam.Severe
	}
	for _, g := range []exam.Grade{exam.Slight, exam.Marked, exam.Severe} {
		if len(word) >= leastOfGrade && strings.HasPrefix(fold(r.words.Say(g.Key())), fold(word)) {
			return g
		}
	}
	return exam.Ungraded
}

// leastOfGrade is how many letters of a grade's word are needed: one or two may be those of
// a side.
const leastOfGrade = 3

// Put is the draft after the line, with what the line says of the stop at that moment. The
// place of a finding is that of the line; without one it is the stop's own.
func (l Line) Put(t *knowledge.Tables, d exam.Draft, at model.Moment) (exam.Draft, error) {
	d = d.Go(l.Stop)
	switch {
	case l.Standing != exam.Unasked:
		d = d.AnswerEarlier(l.Earlier, l.Standing, at)
		now := d.Earlier[l.Earlier].Now
		now.Note = l.Note
		return d.ChangeEarlier(l.Earlier, now), nil
	case l.What != "":
		return l.mark(t, d, at), nil
	}
	return d.Answer(l.Look, at)
}

// mark notes the finding.
func (l Line) mark(t *knowledge.Tables, d exam.Draft, at model.Moment) exam.Draft {
	had := len(d.Findings)
	if l.Place != (body.Place{}) {
		d = d.Point(l.Place)
	}
	d = d.Mark(t, l.What, at)
	i := len(d.Findings) - 1
	if len(d.Findings) == had { // the same again, without a place: what was said of it counts now
		for j, f := range d.Findings {
			if f.Stop == d.Stops[l.Stop].Stop && f.What == l.What {
				i = j
			}
		}
	}
	f := d.Findings[i]
	if l.Grade != exam.Ungraded {
		f.Grade = l.Grade
	}
	if !l.Size.IsZero() {
		f.Size = l.Size
	}
	if l.Note != "" {
		f.Note = l.Note
	}
	return d.ChangeFinding(i, f)
}
