package due

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"slices"
	"sync"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/exam"
	"coilward/model/knowledge"
)

// Book keeps what is due in memory, and derives again only what was touched since.
// It may be used from any goroutine.
type Book struct {
	tables *knowledge.Tables

	mutex  sync.Mutex
	leaves map[model.AnimalID]leaf
	stale  map[model.AnimalID]bool
	filled bool
	day    model.Day
	told   uint64 // the last change that the book was told of
}

// leaf is what the book keeps of one animal.
type leaf struct {
	facts Facts
	due   []Obligation
	err   error // why the animal cannot be read
}

// NewBook is an empty book, which derives by those tables.
func NewBook(t *knowledge.Tables) *Book { return &Book{tables: t} }

// Touch tells the book of a change: its number in the journal, and the subjects
// that it was about. A change that the book was not told of makes it read all
// anew.
func (b *Book) Touch(sequence uint64, subjects []model.Subject) {
	b.mutex.Lock()
	defer b.mutex.Unlock()
	if !b.filled {
		return
	}
	if sequence > b.told+1 {
		b.filled = false
		return
	}
	b.told = max(b.told, sequence)
	for _, s := range subjects {
		if s.Kind == model.SubjectAnimal {
			b.stale[model.AnimalID{ID: s.ID}] = true
		}
	}
}

// Filled reports whether the book was filled for that day, so that Bring has
// little to do.
func (b *Book) Filled(today model.Day) bool {
	b.mutex.Lock()
	defer b.mutex.Unlock()
	return b.filled && b.day == today
}

// Bring reads what is out of date and tells what is due. The first time, and on
// each new day, that is everything: progress (nil: nobody asks) is told the share
// done, and the work stops with ctx.
func (b *Book) Bring(ctx context.Context, v model.View, progress func(float64)) (List, error) {
	b.mutex.Lock()
	defer b.mutex.Unlock()
	var err error
	if !b.filled || b.day != v.Now().Day() {
		err = b.fill(ctx, v, progress)
	} else {
		err = b.mend(v)
	}
	if err != nil {
		return List{}, fmt.Errorf("find out what is due: %w", err)
	}
	return b.list(v.Now()), nil
}

func (b *Book) fill(ctx context.Context, v model.View, progress func(float64)) error {
	b.filled = false
	problems, err := problemsOfAll(v)
	if err != nil {
		return err
	}
	var all []model.Document
	if err := v.All(model.TypeAnimal, func(d model.Document) bool { all = append(all, d); return true }); err != nil {
		return err
	}
	b.leaves, b.stale = make(map[model.AnimalID]leaf, len(all)), map[model.AnimalID]bool{}
	for i, d := range all {
		if err := ctx.Err(); err != nil {
			return err
		}
		id := model.AnimalID{ID: d.ID}
		b.leaves[id] = readWith(b.tables, v, d, problems[id])
		if progress != nil && i%50 == 0 {
			progress(float64(i) / float64(len(all)))
		}
	}
	b.filled, b.day, b.told = true, v.Now().Day(), v.Sequence()
	return nil
}

// mend reads the animals that a change touched, and those whose facts have
// changed by the hour.
func (b *Book) mend(v model.View) error {
	for id, l := range b.leaves {
		if l.facts.Until != 0 && l.facts.Until <= v.Now().UTC {
			b.stale[id] = true
		}
	}
	for id := range b.stale {
		l, err := read(b.tables, v, id)
		switch {
		case errors.Is(err, model.ErrNotFound):
			delete(b.leaves, id)
		case err != nil:
			return err
		default:
			b.leaves[id] = l
		}
		delete(b.stale, id)
	}
	return nil
}

// problemsOfAll are the problems of every animal: they are few beside the
// entries, so that one look at all of them is cheaper than one per animal. One
// that cannot be read is told by its animal's leaf.
func problemsOfAll(v model.View) (map[model.AnimalID][]model.Document, error) {
	all := map[model.AnimalID][]model.Document{}
	err := v.All(model.TypeProblem, func(d model.Document) bool {
		if id, is := d.Animal(); is {
			all[id] = append(all[id], d)
		}
		return true
	})
	return all, err
}

// read reads one animal, or fails with model.ErrNotFound.
func read(t *knowledge.Tables, v model.View, id model.AnimalID) (leaf, error) {
	d, err := v.Document(id.ID)
	if err != nil {
		return leaf{}, err
	}
	if d.Type != model.TypeAnimal {
		return leaf{}, model.ErrNotFound
	}
	var problems []model.Document
	err = v.Timeline(id.Subject(), model.Beginning, model.EndOfTime, func(d model.Document) bool {
		if d.Type == model.TypeProblem {
			problems = append(problems, d)
		}
		return true
	})
	return readWith(t, v, d, problems), err
}

// readWith makes the leaf of an animal from its document and those of its
// problems.
func readWith(t *knowledge.Tables, v model.View, d model.Document, documents []model.Document) leaf {
	problems, err := problemsIn(documents)
	if err != nil {
		return unread(d, err)
	}
	f, err := gather(t, v, d, problems)
	if err != nil {
		return unread(d, err)
	}
	due := derive(t, f)
	for i := range due {
		if _, due[i].Answer, err = answerTo(v, due[i].Key); err != nil {
			return unread(d, err)
		}
	}
	f.Records.Entries, f.Records.Checks, f.Checks = nil, nil, nil // what was derived from them is kept
	return leaf{facts: f, due: due}
}

// problemsIn reads problems, in the order of exam.Problems.
func problemsIn(documents []model.Document) ([]exam.StoredProblem, error) {
	slices.SortFunc(documents, func(a, b model.Document) int {
		return cmp.Or(cmp.Compare(a.At.UTC, b.At.UTC), slices.Compare(a.ID[:], b.ID[:]))
	})
	var all []exam.StoredProblem
	for _, d := range documents {
		p, err := exam.ReadProblem(d)
		if err != nil {
			return nil, err
		}
		all = append(all, p)
	}
	return all, nil
}

// unread is the leaf of an animal that cannot be read: with its name, where that
// can be.
func unread(d model.Document, err error) leaf {
	a, nameless := animals.Decode(d)
	return leaf{facts: Facts{Animal: a}, err: errors.Join(err, nameless)}
}
