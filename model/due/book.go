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
	"coilward/model/care"
	"coilward/model/exam"
	"coilward/model/knowledge"
	"coilward/model/newcomers"
)

// Source is the collection that a book reads.
type Source interface {
	View(read func(model.View) error) error
}

// Book keeps what is due in memory, and derives again only what was touched since.
// It may be used from any goroutine; Touch never waits for what is being read.
type Book struct {
	tables *knowledge.Tables

	marks       sync.Mutex
	stale       map[model.AnimalID]bool
	moved       map[model.PlaceID]bool      // places whose cleanings are to be read again
	house       bool                        // who lives where is to be read again
	places      bool                        // and the places themselves
	lives       map[model.AnimalID]bool     // of whom it is to be read again, where the places are as they were
	instruments bool                        // instruments and their checks are to be read again
	scales      map[model.InstrumentID]bool // whose weights may have become doubtful, or sound
	samples     bool                        // all samples are to be read again
	medicine    bool                        // and all prescriptions and visits
	detected    map[model.AnimalID]bool     // those in whom something was detected, of which a visit may tell more
	measured    map[model.AnimalID]bool     // those of whom a fixed volume is given, which a weighing may put in question
	mates       bool                        // what animals owe because of each other is to be derived again
	renew       bool                        // protocols and positives, on which that rests, are to be read again
	filled      bool                        // every animal was read or is marked as stale
	day         model.Day                   // for which it was filled
	told        uint64                      // the last change that the book was told of

	reading   sync.Mutex // guards what follows
	leaves    map[model.AnimalID]leaf
	found     problems
	rooms     rooms
	kit       kit
	tubes     tubes
	courses   prescribed
	newcomers *newcomers.Reader
	again     map[model.AnimalID]bool // read since the newcomers were
	together  together
	last      *List // what was told last; nil: something was read since
	many      int   // how many items the last list had
}

// problems are the documents of problems of all animals, as they were after that
// change.
type problems struct {
	sequence uint64
	of       map[model.AnimalID][]model.Document
}

// leaf is what the book keeps of one animal.
type leaf struct {
	owner *Owner
	facts Facts
	due   []Obligation
	err   error // why the animal, or some of its problems, cannot be read
}

// NewBook is an empty book, which derives by those tables.
func NewBook(t *knowledge.Tables) *Book {
	return &Book{tables: t, stale: map[model.AnimalID]bool{}, moved: map[model.PlaceID]bool{}, lives: map[model.AnimalID]bool{}, scales: map[model.InstrumentID]bool{}, leaves: map[model.AnimalID]leaf{}, newcomers: newcomers.NewReader(t), again: map[model.AnimalID]bool{}}
}

// Touch tells the book of a change: its number in the journal, and the subjects
// that it was about, and the types of its documents, where they are known. A change
// that the book was not told of makes it read all anew.
func (b *Book) Touch(sequence uint64, subjects []model.Subject, types ...model.DocumentType) {
	b.marks.Lock()
	defer b.marks.Unlock()
	b.filled = b.filled && sequence <= b.told+1
	b.told = max(b.told, sequence)
	has := func(any ...model.DocumentType) bool {
		return len(types) == 0 || slices.ContainsFunc(any, func(t model.DocumentType) bool { return slices.Contains(types, t) })
	}
	if has(model.TypeProtocol) {
		b.mates, b.renew = true, true
	}
	for _, s := range subjects {
		switch s.Kind {
		case model.SubjectAnimal:
			b.stale[model.AnimalID{ID: s.ID}] = true
			if has(model.TypeAnimal, model.TypeStay, model.TypeQuarantine) {
				b.house, b.lives[model.AnimalID{ID: s.ID}] = true, true
			}
			b.samples = b.samples || has(model.TypeSample, model.TypePositive, model.TypeProblem, model.TypeAnswer) || b.detected[model.AnimalID{ID: s.ID}] && has(model.TypeEntry)
			b.medicine = b.medicine || has(model.TypePrescription, model.TypeVisit, model.TypeQuestion, model.TypeAnimal, model.TypeAnswer) || b.measured[model.AnimalID{ID: s.ID}] && has(model.TypeEntry)
		case model.SubjectPlace:
			b.moved[model.PlaceID{ID: s.ID}] = true
			b.house, b.places = b.house || has(model.TypePlace, model.TypeStay), b.places || has(model.TypePlace)
			b.mates = b.mates || has(model.TypeAnswer)
		case model.SubjectInstrument:
			b.scales[model.InstrumentID{ID: s.ID}] = true
			b.instruments, b.mates = true, true // a scale that failed makes weights doubtful
			b.medicine = b.medicine || len(b.measured) > 0
		case model.SubjectLot:
			b.instruments = true // batches of feeders are read with them
		}
	}
}

// few is how many animals are read under one view of the collection, which should
// not last long.
const few = 20

// Near reports whether Bring has so little to do on that day that nobody has to
// wait for it.
func (b *Book) Near(today model.Day) bool {
	b.marks.Lock()
	defer b.marks.Unlock()
	return b.filled && b.day == today && len(b.stale) <= few && len(b.moved) <= few
}

// Bring reads what is out of date and tells what is due. The first time, and on
// each new day, that is everything: progress (nil: nobody asks) is told the share
// done, and the work stops with ctx.
func (b *Book) Bring(ctx context.Context, c Source, progress func(float64)) (List, error) {
	b.reading.Lock()
	defer b.reading.Unlock()
	var now model.Moment
	most := 0
	b.rehoused()
	b.reweighed()
	for again := true; again; {
		ids := b.take()
		begun := false
		if len(ids) > 0 {
			b.last = nil
		}
		err := c.View(func(v model.View) (err error) {
			now = v.Now()
			if begun, err = b.begin(v); err != nil || begun {
				return err
			}
			return b.read(v, ids)
		})
		if err = errors.Join(err, ctx.Err()); err != nil {
			b.mark(ids)
			return List{}, fmt.Errorf("find out what is due: %w", err)
		}
		if begun {
			b.mark(ids)
		}
		if begun {
			b.last = nil
		}
		left := b.expired(now)
		most, again = max(most, left), left > 0
		if progress != nil && again {
			progress(1 - float64(left)/float64(most))
		}
	}
	if cleaned, checked, sampled := b.clean(c), b.checkKit(c), b.checkTubes(c); cleaned || checked || sampled {
		b.last = nil
	}
	if b.checkPrescribed(c) {
		b.last = nil
	}
	if b.checkTogether(c) { // by the house and the animals as they were just read
		b.last = nil
	}
	if b.last == nil || b.last.Day != now.Day() {
		l := b.list(now)
		b.last = &l
	}
	return b.last.copied(), nil
}

// take takes the marks off some animals, before the view is opened that reads
// them: what is changed later marks them anew.
func (b *Book) take() []model.AnimalID {
	b.marks.Lock()
	defer b.marks.Unlock()
	var ids []model.AnimalID
	for id := range b.stale {
		if len(ids) == few {
			break
		}
		ids = append(ids, id)
		delete(b.stale, id)
	}
	return ids
}

func (b *Book) mark(ids []model.AnimalID) {
	b.marks.Lock()
	defer b.marks.Unlock()
	for _, id := range ids {
		b.stale[id] = true
	}
}

// rehoused marks those that are watched for mites, where places have changed: how
// long goes by how warm the place is.
func (b *Book) rehoused() {
	b.marks.Lock()
	defer b.marks.Unlock()
	for id, l := range b.leaves {
		if b.house && l.facts.Watching {
			b.stale[id] = true
		}
	}
}

// reweighed marks those that were weighed with a scale of which something was noted.
func (b *Book) reweighed() {
	b.marks.Lock()
	defer b.marks.Unlock()
	for id, l := range b.leaves {
		if len(b.scales) > 0 && slices.ContainsFunc(l.facts.Records.Weights, func(w care.Weighed) bool { return b.scales[w.With] }) {
			b.stale[id] = true
		}
	}
	clear(b.scales)
}

// expired marks those whose facts have changed by the hour, and tells how many
// there are to read.
func (b *Book) expired(now model.Moment) int {
	b.marks.Lock()
	defer b.marks.Unlock()
	for id, l := range b.leaves {
		if l.facts.Until != 0 && l.facts.Until <= now.UTC {
			b.stale[id] = true
		}
	}
	return len(b.stale)
}

// begin marks all animals and places, where the book is empty or of another day,
// and reports whether it did.
func (b *Book) begin(v model.View) (begun bool, err error) {
	b.marks.Lock()
	current := b.filled && b.day == v.Now().Day()
	b.marks.Unlock()
	if current {
		return false, nil
	}
	var ids []model.AnimalID
	if err := v.All(model.TypeAnimal, func(d model.Document) bool {
		ids = append(ids, model.AnimalID{ID: d.ID})
		return true
	}); err != nil {
		return false, err
	}
	if b.found, err = problemsOfAll(v); err != nil {
		return false, err
	}
	b.leaves, b.rooms, b.kit, b.tubes, b.courses = map[model.AnimalID]leaf{}, rooms{}, kit{}, tubes{}, prescribed{}
	b.newcomers, b.together = newcomers.NewReader(b.tables), together{}
	b.mark(ids)
	b.marks.Lock()
	defer b.marks.Unlock()
	b.filled, b.house, b.instruments, b.mates, b.samples, b.medicine, b.day, b.told = true, true, true, true, true, true, v.Now().Day(), max(b.told, v.Sequence())
	return true, nil
}

// read reads those animals. Where one comes or goes, others live in its place.
func (b *Book) read(v model.View, ids []model.AnimalID) error {
	var moved []model.AnimalID
	for _, id := range ids {
		b.again[id] = true
		before, known := b.leaves[id]
		l, err := read(b.tables, v, id, b.found)
		switch {
		case errors.Is(err, model.ErrNotFound):
			delete(b.leaves, id)
			moved = append(moved, id)
			continue
		case err != nil:
			return err
		}
		b.leaves[id] = l
		b.infested(before, l)
		if !known || before.owner.Animal.Status != l.owner.Animal.Status || before.owner.Animal.StatusDay != l.owner.Animal.StatusDay {
			moved = append(moved, id)
		}
	}
	b.marks.Lock()
	defer b.marks.Unlock()
	for _, id := range moved {
		b.house, b.lives[id] = true, true
	}
	return nil
}

// infested marks what animals owe because of each other, where one tells the others in
// its room something else of mites.
func (b *Book) infested(before, now leaf) {
	if mitedOf(before).same(mitedOf(now)) {
		return
	}
	b.marks.Lock()
	defer b.marks.Unlock()
	b.mates = true
}

// problemsOfAll are the problems of every animal: they are few beside the
// entries, so that one look at all of them is cheaper than one per animal.
func problemsOfAll(v model.View) (problems, error) {
	all := problems{sequence: v.Sequence(), of: map[model.AnimalID][]model.Document{}}
	err := v.All(model.TypeProblem, func(d model.Document) bool {
		if id, is := d.Animal(); is {
			all.of[id] = append(all.of[id], d)
		}
		return true
	})
	return all, err
}

// now are the problems of one animal, as they are now.
func (p problems) now(v model.View, id model.AnimalID) (all []model.Document, err error) {
	if p.of != nil && p.sequence == v.Sequence() {
		return p.of[id], nil
	}
	err = v.Timeline(id.Subject(), model.Beginning, model.EndOfTime, func(d model.Document) bool {
		if d.Type == model.TypeProblem {
			all = append(all, d)
		}
		return true
	})
	return all, err
}

// read reads one animal, or fails with model.ErrNotFound. What is found of problems
// already is used where nothing was changed since.
func read(t *knowledge.Tables, v model.View, id model.AnimalID, found problems) (leaf, error) {
	d, err := v.Document(id.ID)
	if err != nil {
		return leaf{}, err
	}
	if d.Type != model.TypeAnimal {
		return leaf{}, model.ErrNotFound
	}
	documents, err := found.now(v, id)
	if err != nil {
		return leaf{}, err
	}
	return leafOf(t, v, d, documents), nil
}

// leafOf makes the leaf of an animal from its document and those of its
// problems.
func leafOf(t *knowledge.Tables, v model.View, d model.Document, documents []model.Document) leaf {
	problems, illegible := problemsIn(documents)
	f, err := gather(t, v, d, problems)
	if err != nil {
		return unread(d, err)
	}
	due := derive(t, f)
	if err := answered(v, t, due, f.Now.Day()); err != nil {
		return unread(d, err)
	}
	f.Records.Entries, f.Records.Checks, f.Checks = nil, nil, nil // what was derived from them is kept
	return leaf{owner: ownerOf(f.Animal), facts: f, due: due, err: illegible}
}

// problemsIn reads problems, in the order of exam.Problems. Those that can be read
// are given, whatever the error of the others.
func problemsIn(documents []model.Document) (all []exam.StoredProblem, illegible error) {
	slices.SortFunc(documents, func(a, b model.Document) int {
		return cmp.Or(cmp.Compare(a.At.UTC, b.At.UTC), slices.Compare(a.ID[:], b.ID[:]))
	})
	for _, d := range documents {
		p, err := exam.ReadProblem(d)
		if err != nil {
			illegible = errors.Join(illegible, err)
			continue
		}
		all = append(all, p)
	}
	return all, illegible
}

// unread is the leaf of an animal that cannot be read: with its name, where that
// can be.
func unread(d model.Document, err error) leaf {
	a, nameless := animals.Decode(d)
	return leaf{owner: ownerOf(a), err: errors.Join(err, nameless)}
}

func ownerOf(a animals.Stored) *Owner {
	return &Owner{Subject: a.ID.Subject(), Name: a.Name, Animal: a, folded: animals.Fold(a.Name)}
}
