package store

import (
	"bytes"
	"errors"
	"fmt"
	"os"

	"github.com/asdine/storm/v3"
	bolt "go.etcd.io/bbolt"

	"coilward/model"
	"coilward/model/collection"
)

// transaction is one view or update. Every step into the file is guarded by
// itself, so that a fault becomes an error where it happens.
type transaction struct {
	node storm.Node // Storm within this transaction; never the open database, which would wait for itself
	bolt *bolt.Tx
}

// View shows read one state of the collection. While it lasts, the file cannot
// be mapped anew, so an update may have to wait for it.
func (s *Store) View(read func(collection.Reader) error) error {
	return s.run(s.storm.Bolt.View, "read", func(t *transaction) error { return read(t) })
}

// Update is the one way to write: one transaction, rolled back on any error.
// Before the commit it makes sure that the open file is still the one in the
// folder, because a commit into a replaced file succeeds and is lost.
func (s *Store) Update(write func(collection.Writer) error) error {
	if s.readOnly {
		return &Fault{Kind: ErrReadOnly, Path: s.path}
	}
	return s.run(s.storm.Bolt.Update, "write", func(t *transaction) error {
		if err := write(t); err != nil {
			return err
		}
		return s.sameFile()
	})
}

func (s *Store) run(open func(func(*bolt.Tx) error) error, tried string, work func(*transaction) error) error {
	var c callback
	var ours error
	err := guard(func() error {
		return open(func(tx *bolt.Tx) error {
			ours = c.run(func() error { return work(&transaction{node: s.storm.WithTransaction(tx), bolt: tx}) })
			return ours
		})
	})
	c.rethrow()
	if ours == nil || errors.Is(ours, errRecord) || errors.Is(ours, errPanic) {
		return fault(s.path, tried, err)
	}
	return ours
}

func (s *Store) sameFile() error {
	now, err := os.Stat(s.path)
	if err != nil || !os.SameFile(now, s.opened) {
		return &Fault{Kind: ErrReplaced, Path: s.path, Err: err}
	}
	return nil
}

func (t *transaction) Get(b collection.Bucket, key []byte) (value []byte, err error) {
	err = guard(func() error {
		var r record
		err := t.node.Get(string(b), key, &r)
		if errors.Is(err, storm.ErrNotFound) {
			return fmt.Errorf("key %x of bucket %s: %w", key, b, model.ErrNotFound)
		}
		if err != nil {
			return fmt.Errorf("key %x of bucket %s: %w", key, b, err)
		}
		value = r.value
		return r.named(b, key)
	})
	return value, err
}

// Walk uses bbolt's cursor, because no call of Storm can begin at a key. It
// skips keys without a value: Storm keeps a bucket of its own in each.
func (t *transaction) Walk(b collection.Bucket, from, to []byte, backwards bool, visit func(key, value []byte) bool) error {
	bucket, err := t.bucket(b)
	if bucket == nil || err != nil {
		return err
	}
	w := walker{bucket: b, from: from, to: to, backwards: backwards, cursor: bucket.Cursor()}
	for {
		r, err := w.step()
		if r == nil || err != nil {
			return err
		}
		if !visit(r.key, r.value) {
			return nil
		}
	}
}

func (t *transaction) bucket(b collection.Bucket) (bucket *bolt.Bucket, err error) {
	err = guard(func() error {
		bucket = t.node.GetBucket(t.bolt, string(b))
		return nil
	})
	return bucket, err
}

type walker struct {
	bucket    collection.Bucket
	from, to  []byte
	backwards bool
	cursor    *bolt.Cursor
	begun     bool
}

// step is the next record, nil at the end.
func (w *walker) step() (found *record, err error) {
	err = guard(func() error {
		key, value := w.next()
		for key != nil && value == nil {
			key, value = w.next()
		}
		if key == nil || bytes.Compare(key, w.from) < 0 || w.to != nil && bytes.Compare(key, w.to) >= 0 {
			return nil
		}
		found = &record{}
		if err := (codec{}).Unmarshal(value, found); err != nil {
			return fmt.Errorf("key %x of bucket %s: %w", key, w.bucket, err)
		}
		return found.named(w.bucket, key)
	})
	if err != nil {
		return nil, err
	}
	return found, nil
}

func (w *walker) next() (key, value []byte) {
	switch {
	case w.begun && w.backwards:
		return w.cursor.Prev()
	case w.begun:
		return w.cursor.Next()
	}
	w.begun = true
	switch {
	case !w.backwards:
		return w.cursor.Seek(w.from)
	case w.to == nil:
		return w.cursor.Last()
	}
	if key, _ := w.cursor.Seek(w.to); key == nil {
		return w.cursor.Last()
	}
	return w.cursor.Prev()
}

func (t *transaction) Put(b collection.Bucket, key, value []byte) error {
	if len(key) == 0 || len(value) == 0 {
		return fmt.Errorf("put into bucket %s: key and value may not be empty", b)
	}
	return guard(func() error {
		return t.node.Set(string(b), bytes.Clone(key), &record{bucket: b, key: key, value: value})
	})
}

func (t *transaction) Delete(b collection.Bucket, key []byte) error {
	return guard(func() error {
		err := t.node.Delete(string(b), key)
		if errors.Is(err, storm.ErrNotFound) { // the bucket is not there yet
			return nil
		}
		return err
	})
}
