package jot

import (
	"slices"
	"strings"

	"coilward/model"
	"coilward/model/care"
	"coilward/model/husbandry"
)

// act is what a line notes.
type act uint8

const (
	aWeight act = iota
	aMeal
	aShed
	aBlue
	aWaste
	aMites
	aClean
)

// acts are those that the words speak of. A mass and nothing else is a weight.
func (s state) acts() []act {
	said := func(slots ...slot) bool {
		return slices.ContainsFunc(slots, func(at slot) bool { return s.said[at] != "" })
	}
	var found []act
	if said(ofOutcome, ofPrey, ofSize, ofState) || s.count.as != "" {
		found = append(found, aMeal)
	}
	if said(ofShed, ofSkin, ofCaps, ofTip) {
		found = append(found, aShed)
	}
	if said(ofBlue) {
		found = append(found, aBlue)
	}
	if len(s.waste) > 0 {
		found = append(found, aWaste)
	}
	if said(ofMites) || len(s.where) > 0 || s.grade.as != "" {
		found = append(found, aMites)
	}
	if said(ofClean) {
		found = append(found, aClean)
	}
	alone := len(found) == 0 || found[0] != aMeal
	if said(ofWeight, ofGut) || s.mass.as != "" && alone {
		found = append(found, aWeight)
	}
	return found
}

// stray tells whether a number was taken for a count or a grade though nothing
// speaks of prey or mites.
func (s state) stray() bool {
	meal := s.said[ofOutcome] != "" || s.said[ofPrey] != "" || s.said[ofSize] != "" || s.said[ofState] != ""
	return s.count.bare && !meal || s.grade.bare && s.said[ofMites] == "" && len(s.where) == 0
}

// finish makes readings of a line all of whose words are understood.
func (r *reader) finish(s state) {
	missing := func(reason string) { r.fail(failure{rank: rankMissing, whole: true, reason: reason}) }
	acts := s.acts()
	switch {
	case s.who == nobody:
		r.fail(failure{rank: rankNobody, whole: true, reason: "jot.no-name"})
		return
	case s.who == wanted:
		missing("jot.no-name")
		return
	case len(s.subjects) == 0 && len(s.boxes) == 0:
		missing("jot.nobody")
		return
	case s.stray():
		r.fail(failure{rank: rankNothing, whole: true, reason: "jot.number"})
		return
	case len(acts) > 1:
		r.fail(failure{rank: rankMixed, whole: true, reason: "jot.mixed"})
		return
	case len(acts) == 0 && !s.note:
		r.fail(failure{rank: rankNothing, whole: true, reason: "jot.nothing"})
		return
	}
	text := r.noteText(s)
	if s.note && text == "" {
		missing("note.empty")
		return
	}
	at, ok := r.moment(s)
	if !ok {
		return
	}
	if len(acts) > 0 && acts[0] == aClean {
		if len(s.subjects) > 0 { // which of its boxes would have to be guessed
			missing("jot.clean-box")
			return
		}
		r.found(s, at, nil, text)
		return
	}
	for _, housed := range r.housed(s) {
		r.finishOf(housed, at, acts, text)
	}
}

// ask makes readings of a question to a vet about those whom the words before i name; what
// stands from there on is asked, word for word.
func (r *reader) ask(i int, s state) {
	missing := func(reason string) { r.fail(failure{rank: rankMissing, whole: true, reason: reason}) }
	text := strings.TrimSpace(strings.TrimLeftFunc(r.line[r.tokens[i-1].to:], func(c rune) bool { return c == ':' || parts(c) }))
	switch {
	case len(s.acts()) > 0:
		r.fail(failure{rank: rankMixed, whole: true, reason: "jot.mixed"})
		return
	case text == "":
		missing("jot.question-empty")
		return
	}
	at, ok := r.moment(s)
	if !ok {
		return
	}
	from := strings.Index(r.line[r.tokens[i-1].to:], text) + r.tokens[i-1].to
	s.words = append(slices.Clip(s.words), Word{From: from, To: from + len(text), As: AsAsked})
	for _, housed := range r.housed(s) {
		if len(housed.subjects) != 1 {
			missing("jot.one-question")
			continue
		}
		r.keep(housed, Reading{Question: text, At: at})
	}
}

// housed are the ways to take the boxes that were named for those who live in
// them: of two in one box it may be either. An empty box says nothing.
func (r *reader) housed(s state) []state {
	ways := []state{s}
	for _, at := range s.boxes {
		box, _ := r.names.box(at)
		var next []state
		for _, way := range ways {
			for _, id := range box.Animals {
				if a := r.names.index(id); a >= 0 {
					one := way
					if one.subjects = slices.Clone(way.subjects); !slices.Contains(one.subjects, a) {
						one.subjects = append(one.subjects, a)
					}
					next = append(next, one)
				}
			}
		}
		if len(next) == 0 {
			r.fail(failure{rank: rankMissing, whole: true, reason: "jot.box-empty", gaps: map[string]model.Gap{"Box": model.TextGap(box.Name)}})
		}
		if ways = next; len(ways) > MostReadings {
			ways = ways[:MostReadings+1] // more than a person is asked to choose from
		}
	}
	return ways
}

// finishOf makes readings of what is noted of animals.
func (r *reader) finishOf(s state, at model.Moment, acts []act, text string) {
	missing := func(reason string) { r.fail(failure{rank: rankMissing, whole: true, reason: reason}) }
	if len(acts) == 0 {
		r.found(s, at, care.Note{Text: text}, "")
		return
	}
	bodies, reason := s.bodies(acts[0], care.Beside{Note: text})
	switch {
	case reason == "jot.number": // another way to take the number may say better what is missing
		r.fail(failure{rank: rankMixed, whole: true, reason: reason})
	case reason != "":
		missing(reason)
	case acts[0] == aWeight && len(s.subjects) > 1:
		missing("jot.one-weight")
	default:
		for _, b := range bodies {
			r.found(s, at, b, "")
		}
	}
}

func (r *reader) noteText(s state) string {
	if !s.note {
		return ""
	}
	return strings.TrimSpace(strings.TrimLeft(r.line[r.tokens[s.noteAt].to:], ": \t,;"))
}

func (r *reader) moment(s state) (model.Moment, bool) {
	day := r.today
	if s.day.as != "" {
		day = s.day.day
	}
	at := r.now
	switch {
	case s.minutes.as != "":
		at = model.MomentOn(r.now, day, s.minutes.n, model.ToMinute)
	case s.day.as != "":
		at = model.MomentOn(r.now, day, model.Noon, model.ToDay)
	}
	if day > r.today || at.Precision == model.ToMinute && at.UTC > r.now.UTC+60 {
		r.fail(failure{rank: rankFuture, whole: true, reason: "jot.future", gaps: map[string]model.Gap{
			"Day": model.DayGap(day), "Today": model.DayGap(r.today)}})
		return at, false
	}
	return at, true
}

// found keeps a reading of an entry. Without a body it is a cleaning of the boxes, with a
// note.
func (r *reader) found(s state, at model.Moment, b Body, note string) {
	reading := Reading{Body: b, At: at}
	if b == nil {
		reading.Cleaning = &husbandry.Cleaning{Extent: husbandry.CleanExtent(last(s.said[ofClean])), Note: note}
		for _, i := range s.boxes {
			box, _ := r.names.box(i)
			reading.Places = append(reading.Places, box.Box)
		}
	}
	r.keep(s, reading)
}

// keep keeps a reading of those who were named, unless another way through the words led to
// the same.
func (r *reader) keep(s state, reading Reading) {
	reading.Words = s.words
	subjects := slices.Clone(s.subjects)
	slices.Sort(subjects)
	for _, a := range subjects {
		reading.Animals = append(reading.Animals, r.names.animals[a].ID)
	}
	if s.grouped && !s.removing {
		reading.All = s.group == everyone
		if !reading.All {
			reading.Group = r.names.name(s.group)
		}
	}
	if !slices.ContainsFunc(r.readings, reading.alike) {
		r.readings = append(r.readings, reading)
	}
}

// bodies are what the words say of an act; a reason where something is missing,
// neither where the words contradict each other.
func (s state) bodies(a act, beside care.Beside) ([]Body, string) {
	switch a {
	case aMeal:
		return s.meal(beside)
	case aShed:
		return s.shed(beside)
	case aBlue:
		return []Body{care.Blue{Beside: beside}}, ""
	case aWaste:
		return s.wastes(beside)
	case aMites:
		return s.mites(beside)
	}
	if s.mass.as == "" {
		return nil, "jot.no-weight"
	}
	return []Body{care.Weight{Mass: s.mass.mass, Gut: care.Gut(last(s.said[ofGut])), Beside: beside}}, ""
}

func (s state) meal(beside care.Beside) ([]Body, string) {
	switch {
	case !s.countFits() || !s.massFits():
		return nil, "jot.number"
	case s.said[ofOutcome] == "":
		return nil, "jot.outcome"
	case s.count.as != "" && s.count.n == 0:
		return nil, "jot.number"
	}
	return []Body{care.Meal{Prey: care.Prey(last(s.said[ofPrey])), Size: care.PreySize(last(s.said[ofSize])), Each: s.mass.mass, Count: s.count.n,
		State: care.PreyState(last(s.said[ofState])), Outcome: care.Outcome(last(s.said[ofOutcome])), Beside: beside}}, ""
}

// mostBare is the highest number that may be a count wherever it stands. Source:
// assumed; more prey items at once are not usual.
const mostBare = 9

// countFits tells whether a number without "x" can be the count where it stands.
func (s state) countFits() bool {
	if s.count.as == "" || !s.count.bare || s.count.n <= mostBare {
		return true
	}
	before := s.noun >= 0 && s.counted < s.noun
	return before || s.nounNumber == several
}

// massFits tells whether a number without a unit can be the mass where it stands:
// before a word for several it is their count.
func (s state) massFits() bool {
	if s.mass.as == "" || !s.mass.bare || s.noun < 0 || s.massAt > s.noun || s.count.as != "" && !s.count.bare {
		return true
	}
	switch s.nounNumber {
	case several:
		return false
	case either:
		return s.mass.mass.Milligrams > mostBare*1000
	}
	return s.mass.mass.Milligrams != 1000 // "1 rat"
}

func (s state) shed(beside care.Beside) ([]Body, string) {
	if s.said[ofShed] == "" && s.said[ofSkin] == "" {
		return nil, "jot.shed"
	}
	told := func(at slot, left meaning) care.Told {
		switch s.said[at] {
		case "":
			return care.NotLooked
		case left:
			return care.Yes
		}
		return care.No
	}
	return []Body{care.Shed{Skin: care.Skin(last(s.said[ofSkin])), StuckEyeCaps: told(ofCaps, capsLeft), StuckTailTip: told(ofTip, tipLeft), Beside: beside}}, ""
}

func (s state) mites(beside care.Beside) ([]Body, string) {
	switch {
	case s.grade.as == "":
		return nil, "jot.grade"
	case len(s.where) == 0:
		return nil, "jot.where"
	}
	return []Body{care.MiteLook{Grade: care.MiteGrade(s.grade.n), Where: s.where, Beside: beside}}, ""
}

// wastes are the ways to give the traits to faeces and urates: those behind the
// last word to it, those before the first to that, those between to either, parted
// in the order of the words, and at a comma where there is one.
func (s state) wastes(beside care.Beside) ([]Body, string) {
	var sections []int
	for i, w := range s.waste {
		if w.section != "" {
			sections = append(sections, i)
		}
	}
	switch {
	case len(sections) == 0:
		return nil, "jot.waste-which"
	case len(sections) == 1:
		sections = append(sections, len(s.waste))
	case len(sections) > 2 || s.waste[sections[0]].section == s.waste[sections[1]].section:
		return nil, "jot.twice"
	}
	one, two := sections[0], sections[1]
	var found []Body
	for cut := one + 1; cut <= two; cut++ {
		if two < len(s.waste) && !s.mayPart(one, cut, two) || two == len(s.waste) && cut < two {
			continue
		}
		w := care.Waste{Beside: beside}
		if s.give(&w, one, slices.Concat(s.waste[:one], s.waste[one+1:cut])) &&
			(two == len(s.waste) || s.give(&w, two, slices.Concat(s.waste[cut:two], s.waste[two+1:]))) {
			found = append(found, w)
		}
	}
	if len(found) == 0 {
		return nil, "jot.traits"
	}
	return found, ""
}

// mayPart tells whether the traits between two sections may be parted before cut.
func (s state) mayPart(one, cut, two int) bool {
	commas := slices.ContainsFunc(s.waste[one:two], func(w wasteWord) bool { return w.comma })
	return !commas || s.waste[cut-1].comma
}

// give gives traits to a section; false where it cannot have them.
func (s state) give(w *care.Waste, section int, words []wasteWord) bool {
	to, known := &w.Faeces, care.FaecesTraits()
	if s.waste[section].section == urates {
		to, known = &w.Urates, care.UratesTraits()
	}
	for _, word := range words {
		if !slices.Contains(known, word.trait) || slices.Contains(*to, word.trait) {
			return false
		}
		*to = append(*to, word.trait)
	}
	slices.SortFunc(*to, func(a, b care.Trait) int { return slices.Index(known, a) - slices.Index(known, b) })
	return len(*to) == 1 || len(*to) > 1 && !slices.Contains(*to, care.NoneSeen)
}
