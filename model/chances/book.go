package chances

import (
	"fmt"
	"reflect"
	"slices"
	"sync"

	"coilward/model"
	"coilward/model/evidence"
	"coilward/model/knowledge"
)

// Rested are the types of document that chances rest on; no change of another moves one.
func Rested() []model.DocumentType {
	return []model.DocumentType{model.TypeAnimal, model.TypePlace, model.TypeStay, model.TypeSample, model.TypeQuarantine, model.TypePositive, model.TypeFigures}
}

// Book keeps what was worked out of the chances of a collection in memory, by its last change,
// the day and the tables, so that nothing is worked out again at rest. After a change only
// that is which rests on what was changed. It may be used from any goroutine.
type Book struct {
	tables *knowledge.Tables

	reading  sync.Mutex // guards what follows, and the reader while it is asked
	reader   *Reader
	sequence uint64
}

// NewBook is an empty book, of those tables.
func NewBook(t *knowledge.Tables) *Book { return &Book{tables: t} }

// Ask hands out the reader of a view of the collection, which always is the same one. The
// reader is not to be kept; what it told of may be.
func (b *Book) Ask(v model.View, ask func(*Reader) error) error {
	b.reading.Lock()
	defer b.reading.Unlock()
	if b.reader == nil || b.sequence != v.Sequence() || b.reader.today != v.Now().Day() {
		next, err := NewReader(v, b.tables)
		if err != nil {
			b.reader = nil
			return fmt.Errorf("bring the chances up to date: %w", err)
		}
		if b.reader != nil && b.reader.today == next.today {
			next.earlier = b.reader.all()
		}
		b.reader, b.sequence = next, v.Sequence()
	}
	return ask(b.reader)
}

// all are the cases that were worked out, and those of before that nobody asked for since.
func (r *Reader) all() map[caseKey]*joined {
	all := map[caseKey]*joined{}
	for k, j := range r.earlier {
		if _, here := r.animals[k.animal]; here {
			all[k] = j
		}
	}
	for k, j := range r.cases {
		all[k] = j
	}
	return all
}

// answered takes over what was worked out of the same before.
func (r *Reader) answered(k caseKey, j *joined) *joined {
	j.answers = &answers{today: r.today}
	if before := r.earlier[k]; before != nil && reflect.DeepEqual(before.c, j.c) {
		j.answers = before.answers
	}
	return j
}

// answers are what was worked out of a case as of a day, its first animal being that which is
// asked about.
type answers struct {
	today model.Day

	working sync.Mutex
	now     *chance
	steps   []evidence.Step
	stepped bool
	days    []model.Day // those of course
	course  []evidence.Range
	joint   map[string]chance // by the animals that were asked about
}

type chance struct {
	evidence.Range
	evidence.Linkage
}

func (j *joined) now() (evidence.Range, evidence.Linkage) {
	a := j.answers
	a.working.Lock()
	defer a.working.Unlock()
	if a.now == nil {
		r, l := j.c.Linked(0, a.today)
		a.now = &chance{r, l}
	}
	return a.now.Range, max(a.now.Linkage, j.linkage)
}

func (j *joined) steps() []evidence.Step {
	a := j.answers
	a.working.Lock()
	defer a.working.Unlock()
	if !a.stepped {
		a.steps, a.stepped = j.c.Steps(0), true
	}
	return a.steps
}

func (j *joined) course(days []model.Day) []evidence.Range {
	a := j.answers
	a.working.Lock()
	defer a.working.Unlock()
	if a.course == nil || !slices.Equal(a.days, days) {
		a.days, a.course = slices.Clone(days), j.c.Course(0, days)
	}
	return a.course
}

func (j *joined) atLeastOne(of []int) (evidence.Range, evidence.Linkage) {
	a := j.answers
	a.working.Lock()
	defer a.working.Unlock()
	asked := fmt.Sprint(of)
	known, there := a.joint[asked]
	if !there {
		r, l := j.c.AtLeastOne(of, a.today)
		known = chance{r, l}
		if a.joint == nil {
			a.joint = map[string]chance{}
		}
		a.joint[asked] = known
	}
	return known.Range, max(known.Linkage, j.linkage)
}
