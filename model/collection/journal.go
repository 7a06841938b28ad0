package collection

import (
	"encoding/binary"
	"encoding/json"
	"errors"
	"fmt"
	"math"

	"coilward/model"
)

// Entry is one line of the journal: one command done, undone or redone.
// Entries are written once and never changed.
type Entry struct {
	Sequence uint64       `json:"seq"`
	At       model.Moment `json:"at"`
	Command  string       `json:"command"` // the command's name, of an undo that of the undone one
	Label    model.Label  `json:"label"`
	Steps    []Step       `json:"steps"`
	Undoes   uint64       `json:"undoes,omitempty"` // the sequence that this entry took back
	Redoes   uint64       `json:"redoes,omitempty"` // the undo that this entry took back
	Forgot   []model.ID   `json:"forgot,omitempty"` // documents whose every revision was wiped out

	// The two stacks of undo and redo are lists through the journal, so that the
	// newest entry alone tells what can be undone, however long the journal is.
	Undo  uint64 `json:"undo,omitempty"`  // top of the undo stack after this entry
	Redo  uint64 `json:"redo,omitempty"`  // top of the redo stack after this entry
	Below uint64 `json:"below,omitempty"` // what lies below this entry on its stack
}

// Step is the change of one document's present revision; 0 means not present.
type Step struct {
	ID  model.ID `json:"id"`
	Old uint32   `json:"old"`
	New uint32   `json:"new"`
}

// reversed are the steps that take these steps back.
func reversed(steps []Step) []Step {
	back := make([]Step, len(steps))
	for i, s := range steps {
		back[len(steps)-1-i] = Step{ID: s.ID, Old: s.New, New: s.Old}
	}
	return back
}

func decodeEntry(key, value []byte) (Entry, error) {
	var e Entry
	sequence, err := decodeSequence(key)
	if err != nil {
		return e, err
	}
	if err := json.Unmarshal(value, &e); err != nil {
		return e, fmt.Errorf("read journal entry %d: %w", sequence, err)
	}
	if e.Sequence != sequence {
		return e, fmt.Errorf("read journal entry %d: it calls itself %d", sequence, e.Sequence)
	}
	return e, nil
}

func entryAt(r Reader, sequence uint64) (Entry, error) {
	key := sequenceKey(sequence)
	value, err := r.Get(Journal, key)
	if err != nil {
		return Entry{}, fmt.Errorf("read journal entry %d: %w", sequence, err)
	}
	return decodeEntry(key, value)
}

// newestEntry is the last entry, or the zero Entry of an empty journal.
func newestEntry(r Reader) (newest Entry, err error) {
	walkError := r.Walk(Journal, nil, nil, true, func(key, value []byte) bool {
		newest, err = decodeEntry(key, value)
		return false
	})
	return newest, errors.Join(walkError, err)
}

// Sequence counts the changes that the store holds. It reads the key alone: every
// view asks for it, and the entry of a large import is long.
func Sequence(r Reader) (sequence uint64, err error) {
	walkError := r.Walk(Journal, nil, nil, true, func(key, _ []byte) bool {
		sequence, err = decodeSequence(key)
		return false
	})
	return sequence, errors.Join(walkError, err)
}

func decodeSequence(key []byte) (uint64, error) {
	if len(key) != 8 {
		return 0, fmt.Errorf("read journal key %x: want 8 bytes", key)
	}
	return binary.BigEndian.Uint64(key), nil
}

// walkJournal visits the entries before a sequence, newest first.
func walkJournal(r Reader, before uint64, visit func(Entry) bool) (err error) {
	var to []byte
	if before < math.MaxUint64 {
		to = sequenceKey(before)
	}
	walkError := r.Walk(Journal, nil, to, true, func(key, value []byte) bool {
		var e Entry
		if e, err = decodeEntry(key, value); err != nil {
			return false
		}
		return visit(e)
	})
	return errors.Join(walkError, err)
}
