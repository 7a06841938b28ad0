package collection

import (
	"errors"
	"fmt"

	"coilward/model"
)

// Lost is the command name of journal entries that stand for ones that could not
// be read again when a damaged store was salvaged. What a store holds behind
// them cannot be checked against the journal any more.
const Lost = "collection.lost"

// tally is what journal and revisions together say about one document.
type tally struct {
	present uint32 // its present revision by the journal
	named   uint32 // the highest revision that the journal names
	stored  uint32 // how many revisions are stored
}

// audit reads a whole store.
type audit struct {
	reader   Reader
	tallies  map[model.ID]*tally
	lost     bool // some entries of the journal are lost
	rows     map[Bucket]int
	problems []error
}

// tooMany is how many problems are enough to call a store damaged.
const tooMany = 10

func (a *audit) problem(format string, values ...any) bool {
	if len(a.problems) < tooMany {
		a.problems = append(a.problems, fmt.Errorf(format, values...))
	}
	return len(a.problems) < tooMany
}

func (a *audit) of(id model.ID) *tally {
	t := a.tallies[id]
	if t == nil {
		t = &tally{}
		a.tallies[id] = t
	}
	return t
}

// Check reads a whole store and compares its parts: the journal has no gap, each
// step begins where the one before ended, every revision is there and calls
// itself by its key, and the present state is what Rebuild would make. The error
// joins the first problems.
func Check(r Reader) error {
	a := &audit{reader: r, tallies: map[model.ID]*tally{}, rows: map[Bucket]int{}}
	err := errors.Join(a.replay(), a.revisions())
	if err == nil {
		err = a.present()
	}
	return errors.Join(append(a.problems, err)...)
}

// replay follows the journal.
func (a *audit) replay() (err error) {
	next := uint64(1)
	walkError := a.reader.Walk(Journal, nil, nil, false, func(key, value []byte) bool {
		var e Entry
		if e, err = decodeEntry(key, value); err != nil {
			return false
		}
		if e.Sequence != next && !a.problem("the journal goes from entry %d to %d", next-1, e.Sequence) {
			return false
		}
		next = e.Sequence + 1
		return a.entry(e)
	})
	return errors.Join(walkError, err)
}

func (a *audit) entry(e Entry) bool {
	a.lost = a.lost || e.Command == Lost
	if max(e.Undo, e.Redo) > e.Sequence || e.Below >= e.Sequence || max(e.Undoes, e.Redoes) >= e.Sequence {
		return a.problem("journal entry %d points behind itself", e.Sequence)
	}
	for _, s := range e.Steps {
		t := a.of(s.ID)
		if t.present != s.Old && !a.lost && !a.problem("journal entry %d changes %s from revision %d, but it was at %d", e.Sequence, s.ID, s.Old, t.present) {
			return false
		}
		t.present, t.named = s.New, max(t.named, s.New)
	}
	return true
}

// revisions counts the stored revisions and looks for the rows of the present ones.
func (a *audit) revisions() (err error) {
	walkError := a.reader.Walk(Revisions, nil, nil, false, func(key, value []byte) bool {
		var d model.Document
		if d, err = decodeRevision(key, value); err != nil {
			return false
		}
		t := a.of(d.ID)
		t.stored++
		if t.present != d.Revision {
			return true
		}
		return a.shown(d)
	})
	if err = errors.Join(walkError, err); err != nil {
		return err
	}
	for id, t := range a.tallies {
		if t.stored != t.named && !a.lost && !a.problem("document %s has %d revisions, the journal knows %d", id, t.stored, t.named) {
			return nil
		}
	}
	return nil
}

// shown looks for the head and index rows of a present document.
func (a *audit) shown(d model.Document) bool {
	for _, row := range distinct(append(rows(d), row{Heads, d.ID[:]})) {
		a.rows[row.bucket]++
		value, err := a.reader.Get(row.bucket, row.key)
		if (err != nil || string(value) != string(encodeNumber(d.Revision))) &&
			!a.problem("row %x of %s should point to revision %d of %s: %q, %v", row.key, row.bucket, d.Revision, d.ID, value, err) {
			return false
		}
	}
	return true
}

// distinct leaves out rows that a document names twice.
func distinct(all []row) []row {
	seen := map[string]bool{}
	var once []row
	for _, r := range all {
		name := string(r.bucket) + string(r.key)
		if !seen[name] {
			seen[name] = true
			once = append(once, r)
		}
	}
	return once
}

// present compares the number of rows, which finds those that point to nothing.
func (a *audit) present() error {
	heads := 0
	for _, t := range a.tallies {
		if t.present != 0 {
			heads++
		}
	}
	if heads != a.rows[Heads] {
		a.problem("%d documents are present by the journal, %d of them have their revision", heads, a.rows[Heads])
	}
	for _, b := range Present() {
		stored := 0
		if err := a.reader.Walk(b, nil, nil, false, func(_, _ []byte) bool { stored++; return true }); err != nil {
			return err
		}
		if stored != a.rows[b] {
			a.problem("%s has %d rows, %d are needed", b, stored, a.rows[b])
		}
	}
	return nil
}

// Rebuild makes the present state anew from journal and revisions.
func Rebuild(w Writer) error {
	a := &audit{reader: w, tallies: map[model.ID]*tally{}, rows: map[Bucket]int{}}
	if err := a.replay(); err != nil {
		return fmt.Errorf("rebuild the present state: %w", err)
	}
	for _, b := range Present() {
		if err := wipe(w, b); err != nil {
			return fmt.Errorf("rebuild the present state: %w", err)
		}
	}
	for id, t := range a.tallies {
		if t.present == 0 {
			continue
		}
		d, err := revision(w, id, t.present)
		if err == nil {
			err = show(w, d)
		}
		if err != nil {
			return fmt.Errorf("rebuild the present state: %w", err)
		}
	}
	return nil
}

// wipe collects the keys before it deletes: deleting under a cursor skips rows.
func wipe(w Writer, b Bucket) error {
	var keys [][]byte
	err := w.Walk(b, nil, nil, false, func(key, _ []byte) bool {
		keys = append(keys, key)
		return true
	})
	for _, key := range keys {
		err = errors.Join(err, w.Delete(b, key))
	}
	return err
}
