package collection

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"slices"

	"coilward/model"
)

// Forgotten is the command name of journal entries that say that data were wiped
// out.
const Forgotten = "collection.forget"

// forgottenBody stands in the place of what a revision said.
var forgottenBody = json.RawMessage(`{"forgotten":true}`)

// Forget wipes out what documents said that are no longer present, such as a
// removed person: the body of each of their revisions, and the labels of the
// journal that name them, which become label. It is the one act that changes what
// was written, and cannot be undone; nor can what was done before it, since that
// might bring back what is wiped out. What other documents say of them stays. The
// bytes may still lie in freed parts of a file: its store has to be compacted, which
// ToCompact tells until Compacted is noted. A document that is present is model.ErrConflict.
func (c *Collection) Forget(label model.Label, ids ...model.ID) (Change, error) {
	change, err := c.commit(func(a *alteration, newest Entry) (Entry, error) {
		for _, id := range ids {
			if err := a.forget(id); err != nil {
				return Entry{}, err
			}
		}
		if err := relabel(a.writer, label, ids); err != nil {
			return Entry{}, err
		}
		if err := a.writer.Put(Control, compactKey, compactDue); err != nil {
			return Entry{}, err
		}
		a.change.Documents = slices.Clone(ids)
		// both stacks begin anew: nothing lies below
		return Entry{At: model.MomentOf(c.now()), Command: Forgotten, Label: label, Steps: []Step{}, Forgot: slices.Clone(ids)}, nil
	})
	if err != nil {
		return Change{}, fmt.Errorf("forget documents: %w", err)
	}
	c.feed.deliver()
	return change, nil
}

// compactKey of Control stands there as long as bytes of what was forgotten may
// still lie in freed parts of the file: in backups made meanwhile too.
var (
	compactKey = []byte("compact")
	compactDue = []byte("true")
)

// ToCompact reports whether bytes of what was forgotten may still lie in freed parts
// of the file.
func ToCompact(r Reader) (bool, error) {
	_, err := r.Get(Control, compactKey)
	if errors.Is(err, model.ErrNotFound) {
		return false, nil
	}
	return err == nil, err
}

// Compacted notes that no byte of what was forgotten is left.
func Compacted(w Writer) error { return w.Delete(Control, compactKey) }

// forget wipes out the revisions of a document.
func (a *alteration) forget(id model.ID) error {
	n, err := head(a.writer, id)
	if err != nil {
		return err
	}
	if n != 0 {
		return fmt.Errorf("document %s is present: %w", id, model.ErrConflict)
	}
	all, err := (&view{reader: a.writer}).Revisions(id)
	if err != nil {
		return err
	}
	if len(all) == 0 {
		return fmt.Errorf("document %s: %w", id, model.ErrNotFound)
	}
	for _, d := range all {
		a.note(d)
		value, err := wiped(d)
		if err != nil {
			return err
		}
		if err := a.writer.Put(Revisions, revisionKey(id, d.Revision), value); err != nil {
			return err
		}
	}
	return nil
}

func wiped(d model.Document) ([]byte, error) {
	d.Body = forgottenBody
	return encodeRevision(d)
}

// Wipe is a stored revision without what it said; was tells whether it was that already.
func Wipe(revision []byte) (without []byte, was bool, err error) {
	var d model.Document
	if err := json.Unmarshal(revision, &d); err != nil {
		return nil, false, fmt.Errorf("wipe out a revision: %w", err)
	}
	was = bytes.Equal(d.Body, forgottenBody)
	without, err = wiped(d)
	return without, was, err
}

// relabel gives another label to the entries of the journal that changed one of the
// documents. It collects them first: nothing may be written while it walks.
func relabel(w Writer, label model.Label, ids []model.ID) error {
	var named []Entry
	err := walkJournal(w, math.MaxUint64, func(e Entry) bool {
		if slices.ContainsFunc(e.Steps, func(s Step) bool { return slices.Contains(ids, s.ID) }) {
			named = append(named, e)
		}
		return true
	})
	for _, e := range named {
		e.Label = label
		err = errors.Join(err, record(w, e))
	}
	return err
}
