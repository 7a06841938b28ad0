package collection

import (
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"sync"
	"time"

	"coilward/model"
)

// ErrNothing says that there is nothing to undo or redo.
var ErrNothing = errors.New("nothing to undo or redo")

// Options are what a collection asks of its surroundings.
type Options struct {
	Now   func() time.Time // the clock, in the keeper's zone; required
	NewID func() model.ID  // nil: UUIDs of version 7 by Now
}

// Collection is the one way to change what a store holds. All methods may be
// called from any goroutine: changes are done one after the other, views run
// beside them on the state they began with.
type Collection struct {
	store Store
	now   func() time.Time
	newID func() model.ID
	feed  feed
	kept  kept

	writing sync.Mutex // one change at a time, so that the feed has their order
}

// New is a collection on a store.
func New(store Store, o Options) (*Collection, error) {
	if store == nil || o.Now == nil {
		return nil, errors.New("make a collection: it needs a store and a clock")
	}
	c := &Collection{store: store, now: o.Now, newID: o.NewID}
	if c.newID == nil {
		c.newID = (&maker{now: o.Now}).make
	}
	return c, c.View(func(model.View) error { return nil })
}

// View shows read the present state. The view is valid only inside the call;
// it should last less than a tenth of a second, because a store may not be able
// to grow meanwhile.
func (c *Collection) View(read func(model.View) error) error {
	return c.store.View(func(r Reader) error {
		v, err := c.view(r)
		if err != nil {
			return err
		}
		return read(v)
	})
}

func (c *Collection) view(r Reader) (*view, error) {
	sequence, err := Sequence(r)
	return &view{reader: r, sequence: sequence, now: model.MomentOf(c.now()), newID: c.newID, kept: &c.kept}, err
}

// Do plans a command and commits what it wants to write, all or nothing. It
// fails with the command's own *model.Refusal, with model.ErrConflict if a
// document changed since the revision that the command was based on, or with an
// error of the store. A command without writes changes nothing and gives an
// empty Change. What was undone before can no longer be redone.
func (c *Collection) Do(command model.Command) (Change, error) {
	return c.alter("do "+command.Name(), func(a *alteration, newest Entry) (Entry, error) {
		e, err := c.planned(a, newest, command)
		e.Undo, e.Below = newest.Sequence+1, newest.Undo
		return e, err
	})
}

// Settle does a command that no person asked for, such as drawing the photos of the
// sample collection. Undo and redo pass it by: what a person can take back is what
// it was before. Else it is as Do.
func (c *Collection) Settle(command model.Command) (Change, error) {
	return c.alter("settle "+command.Name(), func(a *alteration, newest Entry) (Entry, error) {
		e, err := c.planned(a, newest, command)
		e.Undo, e.Redo = newest.Undo, newest.Redo
		a.change.Settled = true
		return e, err
	})
}

// planned is the entry of a command that was planned and written.
func (c *Collection) planned(a *alteration, newest Entry, command model.Command) (Entry, error) {
	v := &view{reader: a.writer, sequence: newest.Sequence, now: model.MomentOf(c.now()), newID: c.newID, kept: &c.kept}
	writes, err := command.Plan(v)
	if err != nil {
		return Entry{}, err
	}
	steps, err := a.carryOut(writes, v.now)
	return Entry{At: v.now, Command: command.Name(), Label: writes.Label, Steps: steps}, err
}

// carryOut writes the new revisions and moves the heads to them.
func (a *alteration) carryOut(writes model.Writes, now model.Moment) ([]Step, error) {
	var steps []Step
	seen := map[model.ID]bool{}
	for _, d := range writes.Put {
		step, err := a.write(d, now)
		if err != nil {
			return nil, err
		}
		steps = append(steps, step)
	}
	for _, id := range writes.Remove {
		n, err := head(a.writer, id)
		if err != nil {
			return nil, err
		}
		if n == 0 {
			return nil, fmt.Errorf("remove document %s: %w", id, model.ErrNotFound)
		}
		steps = append(steps, Step{ID: id, Old: n})
	}
	for _, s := range steps {
		if seen[s.ID] {
			return nil, fmt.Errorf("document %s is written twice by one command", s.ID)
		}
		seen[s.ID] = true
	}
	return steps, a.move(steps)
}

// Undo takes back the newest change that is not undone yet, as a new change:
// every document has its earlier revision again. Older ones wait for their turn: each
// state that undo leads to has been one before, so that rules between documents hold,
// such as that no animal is in two places at once. It fails with ErrNothing, or
// with model.ErrConflict if a document is no longer as that change left it.
func (c *Collection) Undo() (Change, error) {
	return c.alter("undo", func(a *alteration, newest Entry) (Entry, error) {
		sequence := newest.Undo
		e, err := c.takeBack(a, sequence)
		if err != nil {
			return e, err
		}
		undone, err := entryAt(a.writer, sequence)
		e.Undoes = sequence
		e.Undo, e.Redo, e.Below = undone.Below, newest.Sequence+1, newest.Redo
		a.change.Undone = true
		return e, err
	})
}

// Redo takes the newest undo back, as a new change. It fails with ErrNothing if
// nothing was undone since the last command, or with model.ErrConflict.
func (c *Collection) Redo() (Change, error) {
	return c.alter("redo", func(a *alteration, newest Entry) (Entry, error) {
		e, err := c.takeBack(a, newest.Redo)
		if err != nil {
			return e, err
		}
		undo, err := entryAt(a.writer, newest.Redo)
		e.Redoes = newest.Redo
		e.Undo, e.Redo, e.Below = newest.Sequence+1, undo.Below, newest.Undo
		a.change.Redone = true
		return e, err
	})
}

// takeBack moves all heads back to where they were before an entry.
func (c *Collection) takeBack(a *alteration, sequence uint64) (Entry, error) {
	if sequence == 0 {
		return Entry{}, ErrNothing
	}
	e, err := entryAt(a.writer, sequence)
	if err != nil {
		return Entry{}, err
	}
	steps := reversed(e.Steps)
	return Entry{At: model.MomentOf(c.now()), Command: e.Command, Label: e.Label, Steps: steps}, a.move(steps)
}

// alter runs one change in one update of the store and tells of it.
func (c *Collection) alter(what string, plan func(*alteration, Entry) (Entry, error)) (Change, error) {
	change, err := c.commit(plan)
	if err != nil {
		return Change{}, fmt.Errorf("%s: %w", what, err)
	}
	c.feed.deliver()
	return change, nil
}

func (c *Collection) commit(plan func(*alteration, Entry) (Entry, error)) (Change, error) {
	c.writing.Lock()
	defer c.writing.Unlock()
	var change Change
	err := c.store.Update(func(w Writer) error {
		newest, err := newestEntry(w)
		if err != nil {
			return err
		}
		a := &alteration{writer: w, written: map[model.ID]model.Document{}}
		e, err := plan(a, newest)
		if err != nil {
			return err
		}
		change = a.change
		change.Label, change.Sequence = e.Label, newest.Sequence
		if len(e.Steps) == 0 && e.Command != Forgotten {
			return nil
		}
		change.Sequence++
		e.Sequence = change.Sequence
		return record(w, e)
	})
	if err == nil && !change.Empty() {
		c.feed.add(change)
	}
	return change, err
}

func record(w Writer, e Entry) error {
	value, err := json.Marshal(e)
	if err != nil {
		return fmt.Errorf("write journal entry %d: %w", e.Sequence, err)
	}
	return w.Put(Journal, sequenceKey(e.Sequence), value)
}

// CanUndo is the label of the change that Undo would take back.
func (c *Collection) CanUndo() (model.Label, bool) {
	return c.top(func(newest Entry) uint64 { return newest.Undo })
}

// CanRedo is the label of the change that Redo would do again.
func (c *Collection) CanRedo() (model.Label, bool) {
	return c.top(func(newest Entry) uint64 { return newest.Redo })
}

func (c *Collection) top(of func(Entry) uint64) (label model.Label, ok bool) {
	err := c.store.View(func(r Reader) error {
		newest, err := newestEntry(r)
		if err != nil || of(newest) == 0 {
			return err
		}
		e, err := entryAt(r, of(newest))
		label, ok = e.Label, err == nil
		return err
	})
	return label, ok && err == nil
}

// Journal visits the journal, newest entry first, from the one before a
// sequence (0: from the newest), until visit returns false.
func (c *Collection) Journal(before uint64, visit func(Entry) bool) error {
	if before == 0 {
		before = math.MaxUint64
	}
	return c.store.View(func(r Reader) error { return walkJournal(r, before, visit) })
}

// Past is one revision of a document's history.
type Past struct {
	Document model.Document
	Present  bool // it is the present one
}

// History is every revision of a document, oldest first. None is present if the
// document was removed.
func (c *Collection) History(id model.ID) (all []Past, err error) {
	err = c.store.View(func(r Reader) error {
		present, err := head(r, id)
		if err != nil {
			return err
		}
		documents, err := (&view{reader: r}).Revisions(id)
		for _, d := range documents {
			all = append(all, Past{Document: d, Present: d.Revision == present})
		}
		return err
	})
	return all, err
}
