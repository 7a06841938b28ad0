package collection

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"

	"coilward/model"
)

// view is a model.View on one state of a store.
type view struct {
	reader   Reader
	sequence uint64
	now      model.Moment
	newID    func() model.ID
	kept     *kept
}

func (v *view) Sequence() uint64  { return v.sequence }
func (v *view) Now() model.Moment { return v.now }
func (v *view) NewID() model.ID   { return v.newID() }

func (v *view) Document(id model.ID) (model.Document, error) {
	n, err := head(v.reader, id)
	if err != nil {
		return model.Document{}, err
	}
	if n == 0 {
		return model.Document{}, fmt.Errorf("read document %s: %w", id, model.ErrNotFound)
	}
	return revision(v.reader, id, n)
}

func (v *view) Revisions(id model.ID) (all []model.Document, err error) {
	walkError := v.reader.Walk(Revisions, id[:], after(id[:]), false, func(key, value []byte) bool {
		var d model.Document
		if d, err = decodeRevision(key, value); err == nil {
			all = append(all, d)
		}
		return err == nil
	})
	return all, errors.Join(walkError, err)
}

func (v *view) All(t model.DocumentType, visit func(model.Document) bool) error {
	prefix := typePrefix(t)
	read := pointedTo
	if keeps(t) {
		read = v.keeping
	}
	return v.index(ByType, prefix, after(prefix), false, read, visit)
}

func (v *view) Timeline(s model.Subject, from, to int64, visit func(model.Document) bool) error {
	if from >= to {
		return nil
	}
	return v.index(BySubject, subjectTime(s, from), subjectTime(s, to), true, pointedTo, visit)
}

// index visits the documents that rows of an index point to.
func (v *view) index(b Bucket, from, to []byte, backwards bool, read func(Reader, []byte, []byte) (model.Document, error), visit func(model.Document) bool) (err error) {
	walkError := v.reader.Walk(b, from, to, backwards, func(key, value []byte) bool {
		var d model.Document
		if d, err = read(v.reader, key, value); err != nil {
			return false
		}
		return visit(d)
	})
	return errors.Join(walkError, err)
}

// keeping is pointedTo, of a document that is held once it was read. What a view
// reads is committed.
func (v *view) keeping(r Reader, key, value []byte) (model.Document, error) {
	id, err := idAtEnd(key)
	if err != nil {
		return model.Document{}, err
	}
	n, err := decodeNumber(value)
	if err != nil {
		return model.Document{}, err
	}
	if d, held := v.kept.find(id, n); held {
		return d, nil
	}
	d, err := revision(r, id, n)
	if err == nil {
		v.kept.keep(d)
	}
	return d, err
}

func pointedTo(r Reader, key, value []byte) (model.Document, error) {
	id, err := idAtEnd(key)
	if err != nil {
		return model.Document{}, err
	}
	n, err := decodeNumber(value)
	if err != nil {
		return model.Document{}, err
	}
	return revision(r, id, n)
}

// head is the number of the present revision, 0 if the document is not present.
func head(r Reader, id model.ID) (uint32, error) {
	value, err := r.Get(Heads, id[:])
	if errors.Is(err, model.ErrNotFound) {
		return 0, nil
	}
	if err != nil {
		return 0, fmt.Errorf("read head of %s: %w", id, err)
	}
	return decodeNumber(value)
}

// highest is the number of the newest revision ever written, 0 if there is none.
func highest(r Reader, id model.ID) (n uint32, err error) {
	walkError := r.Walk(Revisions, id[:], after(id[:]), true, func(key, value []byte) bool {
		var d model.Document
		d, err = decodeRevision(key, value)
		n = d.Revision
		return false
	})
	return n, errors.Join(walkError, err)
}

func revision(r Reader, id model.ID, n uint32) (model.Document, error) {
	key := revisionKey(id, n)
	value, err := r.Get(Revisions, key)
	if err != nil {
		return model.Document{}, fmt.Errorf("read revision %d of %s: %w", n, id, err)
	}
	return decodeRevision(key, value)
}

func decodeRevision(key, value []byte) (model.Document, error) {
	var d model.Document
	if err := json.Unmarshal(value, &d); err != nil {
		return d, fmt.Errorf("read revision %x: %w", key, err)
	}
	if !bytes.Equal(revisionKey(d.ID, d.Revision), key) {
		return d, fmt.Errorf("read revision %x: it calls itself %s, revision %d", key, d.ID, d.Revision)
	}
	return d, nil
}
