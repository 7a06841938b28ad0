package jot

import (
	"errors"
	"slices"
	"strings"

	"coilward/model"
	"coilward/model/care"
)

// Read reads a line. now is the present moment; a reading without a day is of now.
func (l *Lexicon) Read(line string, names Names, q Quantities, now model.Moment) Answer {
	tokens, refusal := split(line)
	if refusal != nil {
		return Answer{Problems: []Problem{{To: len(line), Refusal: refusal}}}
	}
	if len(tokens) == 0 {
		return Answer{}
	}
	r := &reader{lexicon: l, names: names, quantities: q, line: line, tokens: tokens, now: now, today: now.Day(),
		known: make([][]option, len(tokens)), named: make([][]option, len(tokens)), read: make([]bool, len(tokens))}
	r.from(0, state{noun: -1, counted: -1, massAt: -1})
	switch {
	case len(r.readings) > MostReadings || r.steps > mostSteps: // there may be readings that were not found
		return Answer{Problems: []Problem{{To: len(line), Refusal: refuse(line, "jot.open", map[string]model.Gap{"Most": model.CountGap(MostReadings)})}}}
	case len(r.readings) == 0:
		return Answer{Problems: r.problems()}
	}
	return Answer{Readings: r.readings}
}

// reader looks for every way to understand all words of a line.
type reader struct {
	lexicon    *Lexicon
	names      Names
	quantities Quantities
	line       string
	tokens     []token
	now        model.Moment
	today      model.Day

	known, named [][]option // of each word, once they are asked for
	read         []bool
	steps        int

	readings []Reading
	failed   failure   // the best reason why there is no reading
	refusals []Problem // of amounts, days and times that cannot be
}

// mostSteps bounds the search in a line that was not written by a person.
const mostSteps = 20_000

// who tells how far the words that say whom the line is about have got.
type who uint8

const (
	nobody   who = iota // none yet
	wanted              // another must follow: behind "and" and "but"
	possible            // another may follow
	over
)

// state is what the words so far say.
type state struct {
	who      who
	removing bool
	subjects []int
	boxes    []int // of places: those that were named
	group    int   // whom a single "all" or place named; everyone, or a place
	grouped  bool

	day        option
	minutes    option
	mass       option
	count      option
	massAt     int // the word where it stands
	counted    int
	noun       int // the word where the first noun of the prey stands
	nounNumber number
	preyNumber bool // nounNumber is that of the prey, not of its size

	said   [kindsOfSlot]meaning
	grade  option
	waste  []wasteWord
	where  []care.MiteWhere
	asking bool // it begins with "question"; what is behind the name is asked of a vet
	noteAt int  // the word "note", and whether there is one
	note   bool
	words  []Word
}

// slot is what can be said once in a line.
type slot uint8

const (
	ofOutcome slot = iota
	ofPrey
	ofSize
	ofState
	ofGut
	ofShed
	ofBlue
	ofSkin
	ofCaps
	ofTip
	ofWeight
	ofMites
	ofClean
	kindsOfSlot
)

// wasteWord is one word about faeces and urates.
type wasteWord struct {
	section meaning // faeces or urates, or empty: a trait
	trait   care.Trait
	comma   bool // one stands behind it
}

// from goes on at word i.
func (r *reader) from(i int, s state) {
	if r.steps++; r.steps > mostSteps || len(r.readings) > MostReadings {
		return
	}
	if i == len(r.tokens) {
		r.finish(s)
		return
	}
	if !r.read[i] {
		r.known[i], r.named[i], r.read[i] = r.options(i), r.whoms(i), true
	}
	if r.mayName(i, s) {
		for _, o := range r.named[i] {
			next, ok := r.name(i, o, s)
			switch {
			case ok && s.asking:
				r.ask(o.to, next)
			case ok:
				r.from(o.to, next)
			default:
				r.fail(failure{rank: rankTwice, at: i, to: o.to, reason: "jot.not-among"})
			}
		}
	}
	linked := r.linked(i, s)
	if s.who == wanted {
		r.fail(failure{rank: rankTwice, at: i, reason: "jot.no-name"})
		return
	}
	if len(r.known[i]) == 0 && !linked && !r.mayName(i, s) {
		reason := "jot.place"
		if len(r.named[i]) > 0 {
			reason = "jot.name-late"
		}
		r.fail(failure{rank: rankPlace, at: i, reason: reason})
	}
	for _, o := range r.known[i] {
		r.take(i, o, s)
	}
}

// mayName tells whether the word at i may say whom the line is about.
func (r *reader) mayName(i int, s state) bool {
	return s.who == nobody || s.who == wanted || s.who == possible && r.tokens[i-1].comma
}

// linked goes on behind an "and" or a "but" between names, if one stands there.
func (r *reader) linked(i int, s state) (is bool) {
	if s.who != possible {
		return false
	}
	for _, m := range []meaning{and, except} {
		to := r.phrase(i, m)
		if to == 0 || m == except && s.removing {
			continue
		}
		next := s
		next.who, next.removing, next.words = wanted, s.removing || m == except, r.word(s.words, i, to, AsFiller)
		r.from(to, next)
		is = true
	}
	return is
}

func (r *reader) word(words []Word, i, to int, as As) []Word {
	return append(slices.Clip(words), Word{From: r.tokens[i].from, To: r.tokens[to-1].to, As: as})
}

// name takes whom the words name; false where someone is to be left out who was not
// named.
func (r *reader) name(i int, o option, s state) (state, bool) {
	if _, is := r.names.box(max(o.who, 0)); is && o.who != everyone && !s.removing {
		if !slices.Contains(s.boxes, o.who) {
			s.boxes = append(slices.Clip(s.boxes), o.who)
		}
		s.who, s.words, s.grouped = possible, r.word(s.words, i, o.to, AsWhom), false
		s.words[len(s.words)-1].Who = r.called(o)
		return s, true
	}
	whom, place := make([]int, 0, 1), o.who == everyone
	if place {
		for a := range r.names.animals {
			whom = append(whom, a)
		}
	} else {
		whom, place = r.names.of(o.who)
	}
	first := s.who == nobody && len(s.boxes) == 0
	subjects := slices.Clone(s.subjects)
	for _, a := range whom {
		switch has := slices.Index(subjects, a); {
		case s.removing && has < 0:
			return s, false
		case s.removing:
			subjects = slices.Delete(subjects, has, has+1)
		case has < 0:
			subjects = append(subjects, a)
		}
	}
	s.subjects, s.who, s.words = subjects, possible, r.word(s.words, i, o.to, AsWhom)
	s.group, s.grouped = o.who, place && first
	s.words[len(s.words)-1].Who = r.called(o)
	return s, true
}

// called is how those are called whom an option names.
func (r *reader) called(o option) string {
	if o.who == everyone {
		return ""
	}
	return r.names.name(o.who)
}

// take goes on with what the words say of what or when.
func (r *reader) take(i int, o option, s state) {
	if s.who == nobody && o.as != AsDay && o.as != AsTime && o.as != AsFiller && o.as != AsQuestion {
		r.fail(failure{rank: rankNobody, at: i, reason: "jot.no-name"})
		return
	}
	if o.as == AsQuestion {
		if s.who != nobody { // "question" may stand behind the name too
			s.words = r.word(s.words, i, o.to, o.as)
			r.ask(o.to, s)
			return
		}
	}
	if s.who != nobody {
		s.who = over
	}
	if !s.put(i, o, r.tokens[o.to-1].comma) {
		r.fail(failure{rank: rankTwice, at: i, to: o.to, reason: "jot.twice"})
		return
	}
	if o.as == AsNote {
		text := strings.TrimRight(r.line, " \t,;")
		s.words = append(slices.Clip(s.words), Word{From: r.tokens[i].from, To: max(len(text), r.tokens[i].to), As: AsNote})
		s.noteAt = i
	} else {
		s.words = r.word(s.words, i, o.to, o.as)
	}
	r.from(o.to, s)
}

// put keeps what an option says; false: that was said already.
func (s *state) put(i int, o option, comma bool) bool {
	one := func(kept *option) bool {
		if kept.as != "" {
			return false
		}
		*kept = o
		return true
	}
	switch o.as {
	case AsDay:
		return one(&s.day)
	case AsTime:
		return one(&s.minutes)
	case AsMass:
		s.massAt = i
		return one(&s.mass)
	case AsCount:
		s.counted = i
		return one(&s.count)
	case AsGrade:
		return one(&s.grade)
	case AsNote:
		s.note = true
		return true
	case AsQuestion:
		again := s.asking
		s.asking = true
		return !again
	case AsFiller:
		return true
	case AsFaeces, AsUrates, AsTrait:
		w := wasteWord{section: o.word.meaning, comma: comma}
		if o.as == AsTrait {
			w = wasteWord{trait: care.Trait(last(o.word.meaning)), comma: comma}
		}
		s.waste = append(slices.Clip(s.waste), w)
		return true
	case AsWhere:
		where := care.MiteWhere(last(o.word.meaning))
		if slices.Contains(s.where, where) {
			return false
		}
		s.where = append(slices.Clip(s.where), where)
		slices.SortFunc(s.where, func(a, b care.MiteWhere) int {
			return slices.Index(care.MiteWheres(), a) - slices.Index(care.MiteWheres(), b)
		})
		return true
	}
	return s.fill(i, o)
}

// fill keeps a word that fills a slot.
func (s *state) fill(i int, o option) bool {
	at := map[As]slot{AsOutcome: ofOutcome, AsPrey: ofPrey, AsSize: ofSize, AsState: ofState, AsGut: ofGut, AsShed: ofShed, AsBlue: ofBlue,
		AsCaps: ofCaps, AsTip: ofTip, AsWeight: ofWeight, AsMites: ofMites, AsClean: ofClean}[o.as]
	if at == ofShed && o.word.meaning != shed {
		at = ofSkin
	}
	if s.said[at] != "" {
		return false
	}
	s.said[at] = o.word.meaning
	if o.as == AsPrey || o.as == AsSize {
		if s.noun < 0 {
			s.noun = i
		}
		if !s.preyNumber {
			s.nounNumber, s.preyNumber = o.word.number, o.as == AsPrey
		}
	}
	return true
}

// last is the last part of a meaning, which is a value of care's.
func last(m meaning) string {
	_, rest, _ := strings.Cut(string(m), ".")
	return rest
}

// failure is why a way to understand the line led nowhere.
type failure struct {
	rank   rank
	at, to int // the word, and the one behind what is meant; to 0: that word alone
	whole  bool
	reason string
	gaps   map[string]model.Gap
}

// rank orders failures: the higher says better what is missing.
type rank uint8

const (
	rankNone rank = iota
	rankNobody
	rankPlace
	rankTwice
	rankNothing
	rankMixed
	rankMissing // one thing
	rankFuture
)

func (r *reader) fail(f failure) {
	if f.rank > r.failed.rank || f.rank == r.failed.rank && f.at > r.failed.at {
		r.failed = f
	}
}

// refused keeps why an amount, a day or a time cannot be.
func (r *reader) refused(i, to int, err error) {
	var refusal *model.Refusal
	if errors.As(err, &refusal) {
		p := Problem{From: r.tokens[i].from, To: r.tokens[to-1].to, Refusal: refusal}
		refusal.Value = r.line[p.From:p.To]
		r.refusals = append(r.refusals, p)
	}
}

// mostNamed is how many of the animals that an open name may mean are named.
const mostNamed = 5

func (r *reader) tooOpen(i, to int, whom []int) {
	p := Problem{From: r.tokens[i].from, To: r.tokens[to-1].to}
	var first []string
	for _, w := range whom {
		animals, _ := r.names.of(w)
		for _, a := range animals {
			p.Candidates = append(p.Candidates, r.names.animals[a].ID)
		}
		if len(first) < mostNamed {
			first = append(first, r.names.name(w))
		}
	}
	word := r.line[p.From:p.To]
	p.Refusal = refuse(word, "jot.name-open", map[string]model.Gap{"Word": model.TextGap(word), "Count": model.CountGap(len(whom)), "Names": model.TextGap(strings.Join(first, ", "))})
	r.refusals = append([]Problem{p}, r.refusals...)
}

// problems say why there is no reading: the words that nobody understands, or
// what is missing.
func (r *reader) problems() []Problem {
	if unknown := r.unknown(); len(unknown) > 0 {
		return unknown
	}
	if r.failed.rank >= rankMissing && r.failed.reason != "" {
		return []Problem{r.failedProblem()}
	}
	if len(r.refusals) > 0 {
		return r.eachOnce()
	}
	if r.failed.reason == "" {
		return []Problem{{To: len(r.line), Refusal: refuse(r.line, "jot.unread", nil)}}
	}
	return []Problem{r.failedProblem()}
}

// eachOnce are the refusals, in the order of the line: of words that cannot be
// several things the first.
func (r *reader) eachOnce() []Problem {
	var each []Problem
	for _, p := range r.refusals {
		if !slices.ContainsFunc(each, func(o Problem) bool { return p.From < o.To && o.From < p.To }) {
			each = append(each, p)
		}
	}
	slices.SortStableFunc(each, func(a, b Problem) int { return a.From - b.From })
	return each
}

func (r *reader) failedProblem() Problem {
	f := r.failed
	p := Problem{To: len(r.line), Refusal: refuse(r.line, f.reason, f.gaps)}
	if !f.whole && f.at < len(r.tokens) {
		p.From, p.To = r.tokens[f.at].from, r.tokens[max(f.at, f.to-1)].to
		p.Refusal.Value = r.line[p.From:p.To]
	}
	if p.Refusal.Gaps == nil {
		p.Refusal.Gaps = map[string]model.Gap{"Word": model.TextGap(p.Refusal.Value)}
	}
	return p
}

// unknown are the words that can be taken for nothing at all, as part of no phrase
// either.
func (r *reader) unknown() []Problem {
	covered := make([]bool, len(r.tokens))
	asks := -1
	first := -1           // the first word that is neither day nor filler
	free := len(r.tokens) // behind the word that asks
	for i := range r.tokens {
		if !r.read[i] {
			r.known[i], r.named[i], r.read[i] = r.options(i), r.whoms(i), true
		}
		for _, o := range slices.Concat(r.known[i], r.named[i], r.links(i)) {
			for k := i; k < o.to; k++ {
				covered[k] = true
			}
		}
		early := func(o option) bool {
			return o.as == AsDay || o.as == AsTime || o.as == AsFiller || o.as == AsQuestion
		}
		for _, o := range r.known[i] {
			if o.as == AsQuestion && (free == len(r.tokens) || i == asks) {
				asks, free = i, o.to // of several phrases the longest
			}
		}
		if first < 0 && !slices.ContainsFunc(r.known[i], early) && (asks < 0 || i >= free) {
			first = i
		}
	}
	if first >= free { // the name stands behind the word that asks
		free = first + 1
	}
	for _, p := range r.refusals {
		for i, t := range r.tokens {
			covered[i] = covered[i] || t.from >= p.From && t.to <= p.To
		}
	}
	var problems []Problem
	for i, t := range r.tokens {
		if covered[i] || i >= free { // what is asked is free
			continue
		}
		reason := "jot.unknown"
		if i == first {
			reason = "jot.unknown-name"
		}
		word := r.line[t.from:t.to]
		problems = append(problems, Problem{From: t.from, To: t.to, Refusal: refuse(word, reason, map[string]model.Gap{"Word": model.TextGap(word)})})
	}
	return problems
}

// links are the words between names at i.
func (r *reader) links(i int) []option {
	var found []option
	for _, m := range []meaning{and, except} {
		if to := r.phrase(i, m); to > 0 {
			found = append(found, option{to: to, as: AsFiller})
		}
	}
	return found
}
