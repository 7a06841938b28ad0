package jot

import (
	"errors"
	"fmt"
	"io/fs"
	"path"
	"slices"
	"strings"

	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/husbandry"
	"coilward/model/knowledge"
)

// meaning is what a word of the lexicon can stand for, such as "prey.rat".
type meaning string

// The meanings that stand for no value of a table of their own.
const (
	all       meaning = "all"
	except    meaning = "except"
	and       meaning = "and"
	agoBehind meaning = "ago.behind"
	agoBefore meaning = "ago.before"
	agoDays   meaning = "ago.days"
	timeAM    meaning = "time.am"
	timePM    meaning = "time.pm"
	timeClock meaning = "time.clock"
	times     meaning = "times"
	weighs    meaning = "weight"
	shed      meaning = "shed"
	inBlue    meaning = "blue"
	capsLeft  meaning = "caps.left"
	capsOff   meaning = "caps.off"
	tipLeft   meaning = "tip.left"
	tipOff    meaning = "tip.off"
	faeces    meaning = "faeces"
	urates    meaning = "urates"
	mites     meaning = "mites"
	noted     meaning = "note"
	asked     meaning = "question"
	filler    meaning = "filler"
)

// The groups of meanings whose last part is a value.
const (
	inDay     = "day."
	inWeekday = "weekday."
	inMonth   = "month."
	inUnit    = "unit."
	inGut     = "gut."
	inOutcome = "outcome."
	inPrey    = "prey."
	inSize    = "size."
	inState   = "state."
	inSkin    = "skin."
	inTrait   = "trait."
	inWhere   = "where."
	inGrade   = "grade."
	inClean   = "clean."
)

// meanings are all that every language has a row for.
func meanings() []meaning {
	known := []meaning{all, except, and, agoBehind, agoBefore, agoDays, timeAM, timePM, timeClock, times, weighs, shed, inBlue,
		capsLeft, capsOff, tipLeft, tipOff, faeces, urates, mites, noted, asked, filler}
	for _, day := range []string{"today", "yesterday", "before-yesterday", "tomorrow"} {
		known = append(known, meaning(inDay+day))
	}
	for n := range 7 {
		known = append(known, meaning(fmt.Sprint(inWeekday, n)))
	}
	for n := range 12 {
		known = append(known, meaning(fmt.Sprint(inMonth, n+1)))
	}
	for _, grade := range care.MiteGrades() {
		known = append(known, meaning(fmt.Sprint(inGrade, int(grade))))
	}
	for _, unit := range []string{"g", "kg", "oz", "lb"} {
		known = append(known, meaning(inUnit+unit))
	}
	known = append(known, group(inGut, care.Guts())...)
	known = append(known, group(inOutcome, care.Outcomes())...)
	known = append(known, group(inPrey, care.Preys())...)
	known = append(known, group(inSize, care.PreySizes())...)
	known = append(known, group(inState, care.PreyStates())...)
	known = append(known, group(inClean, husbandry.CleanExtents())...)
	known = append(known, group(inWhere, care.MiteWheres())...)
	known = append(known, group(inSkin, []care.Skin{care.Whole, care.InPieces})...)
	for _, trait := range group(inTrait, slices.Concat(care.FaecesTraits(), care.UratesTraits())) {
		if !slices.Contains(known, trait) {
			known = append(known, trait)
		}
	}
	return known
}

func group[T ~string](prefix string, values []T) []meaning {
	var found []meaning
	for _, v := range values {
		found = append(found, meaning(prefix+string(v)))
	}
	return found
}

// number tells for how many a noun stands.
type number uint8

const (
	unsaid number = iota // no noun
	single
	several
	either
)

// sense is one meaning of a word or phrase.
type sense struct {
	meaning meaning
	number  number
}

// Lexicon holds the words of jots in every language. It does not change and may
// be used from any goroutine.
type Lexicon struct {
	senses  map[string][]sense
	longest map[string]int                // how many words the longest phrase has that begins with this one
	usual   map[string]map[meaning]string // by language
	plural  map[string]map[meaning]string // the first word for several
}

// Languages are the languages that there are words of, sorted.
func (l *Lexicon) Languages() []string {
	var codes []string
	for code := range l.usual {
		codes = append(codes, code)
	}
	slices.Sort(codes)
	return codes
}

// Load reads the words: every file "xx.txt" is the language xx. The error joins
// all that is wrong: a meaning that is unknown, missing or there twice, and a word
// with two meanings, in one language or in two, that is not marked as such.
func Load(files fs.FS) (*Lexicon, error) {
	names, err := fs.Glob(files, "*.txt")
	if err != nil || len(names) == 0 {
		return nil, fmt.Errorf("read the words of jots: no language is there: %w", errors.Join(err, fs.ErrNotExist))
	}
	b := building{
		lexicon: &Lexicon{senses: map[string][]sense{}, longest: map[string]int{}, usual: map[string]map[meaning]string{}, plural: map[string]map[meaning]string{}},
		first:   map[string]place{}, marked: map[string]bool{},
	}
	for _, name := range names {
		if err := b.read(files, name); err != nil {
			return nil, fmt.Errorf("read the words of jots: %w", err)
		}
	}
	b.checkMarks()
	if len(b.faults) > 0 {
		return nil, fmt.Errorf("read the words of jots: %w", errors.Join(b.faults...))
	}
	return b.lexicon, nil
}

// place is where a word stands.
type place struct {
	file    string
	line    int
	meaning meaning
}

// building is a lexicon as far as it has been read.
type building struct {
	lexicon *Lexicon
	first   map[string]place // of each word
	marked  map[string]bool  // words that say that they have several meanings
	faults  []error
}

func (b *building) fault(at place, word, reason string) {
	b.faults = append(b.faults, &knowledge.Fault{File: at.file, Line: at.line, Row: string(at.meaning), Column: "words", Value: word, Reason: reason})
}

func (b *building) read(files fs.FS, file string) error {
	rows, err := knowledge.Rows(files, file, "meaning", "words")
	if err != nil {
		return err
	}
	code, known, seen := strings.TrimSuffix(path.Base(file), ".txt"), meanings(), map[meaning]bool{}
	b.lexicon.usual[code], b.lexicon.plural[code] = map[meaning]string{}, map[meaning]string{}
	for _, row := range rows {
		at := place{file, row.Line, meaning(row.Cells[0])}
		switch {
		case !slices.Contains(known, at.meaning):
			b.fault(at, row.Cells[0], "there is no such meaning")
		case seen[at.meaning]:
			b.fault(at, row.Cells[0], "this meaning stands in an earlier row already")
		case row.Cells[1] != "-":
			b.row(code, at, row.Cells[1])
		}
		seen[at.meaning] = true
	}
	for _, m := range known {
		if !seen[m] {
			b.fault(place{file, 0, m}, "", "this meaning has no row; write - where the language has no word")
		}
	}
	return nil
}

func (b *building) row(code string, at place, words string) {
	for i, word := range strings.Split(words, ";") {
		word, s := strings.TrimSpace(word), sense{at.meaning, single}
		plain, marked := strings.CutPrefix(word, "~")
		if w, is := strings.CutSuffix(plain, "+"); is {
			plain, s.number = w, several
		} else if w, is := strings.CutSuffix(plain, "="); is {
			plain, s.number = w, either
		}
		tokens, refusal := split(plain)
		if refusal != nil || plain == "" || strings.ContainsAny(plain, `,:"0123456789`) {
			b.fault(at, word, "want words of letters, parted by ;")
			continue
		}
		if i == 0 {
			b.lexicon.usual[code][at.meaning] = plain
		}
		if _, there := b.lexicon.plural[code][at.meaning]; !there && s.number != single {
			b.lexicon.plural[code][at.meaning] = plain
		}
		b.add(at, fold(plain), len(tokens), marked, s)
		if spelled := spelledOut(fold(plain)); spelled != fold(plain) {
			b.add(at, spelled, len(tokens), marked, s)
		}
	}
}

func (b *building) add(at place, word string, words int, marked bool, s sense) {
	before, there := b.first[word]
	switch {
	case !there:
		b.first[word], b.marked[word] = at, marked
	case before.meaning != at.meaning && !(marked && b.marked[word]):
		b.fault(at, word, fmt.Sprintf("it means %s in %s, line %d; mark both with ~ where that is meant", before.meaning, before.file, before.line))
	case marked != b.marked[word]:
		b.fault(at, word, fmt.Sprintf("it is marked here or in %s, line %d, not in both", before.file, before.line))
	}
	if !slices.Contains(b.lexicon.senses[word], s) {
		b.lexicon.senses[word] = append(b.lexicon.senses[word], s)
	}
	start, _, _ := strings.Cut(word, " ")
	b.lexicon.longest[start] = max(b.lexicon.longest[start], words)
}

// checkMarks finds words that are marked as having several meanings and have one.
func (b *building) checkMarks() {
	for word, marked := range b.marked {
		same := func(s sense) bool { return s.meaning == b.lexicon.senses[word][0].meaning }
		if marked && !slices.ContainsFunc(b.lexicon.senses[word], func(s sense) bool { return !same(s) }) {
			b.fault(b.first[word], word, "it is marked with ~ and has one meaning alone")
		}
	}
}

// fold is a word as words are compared.
func fold(word string) string {
	for i := range len(word) {
		if c := word[i]; c >= 0x80 || c >= 'A' && c <= 'Z' || c == ' ' {
			return animals.Fold(word)
		}
	}
	return word
}

var umlauts = strings.NewReplacer("ä", "ae", "ö", "oe", "ü", "ue", "ß", "ss")

// spelledOut is a folded word as it is typed where a keyboard has no umlauts.
func spelledOut(word string) string { return umlauts.Replace(word) }
