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

	buckets map[collection.Bucket]*bolt.Bucket
}

// View shows read one state of the collection. While it lasts, the file cannot
// be mapped anew, so an update may have to wait for it.
func (s *Store) View(read func(collection.Reader) error) error {
	s.exchanging.RLock()
	defer s.exchanging.RUnlock()
	return s.look("read", func(t *transaction) error { return read(t) })
}

// look is View for this package; the caller keeps the file from being exchanged.
func (s *Store) look(tried string, read func(*transaction) error) error {
	touched, err := s.untouched()
	if err != nil {
		return err
	}
	return s.run(s.bolt().View, tried, func(t *transaction) error {
		if touched != 0 {
			if err := s.own(t); err != nil {
				return err
			}
			s.watch.modified.Store(touched)
		}
		return read(t)
	})
}

// Update is the one way to write: one transaction, rolled back on any error.
// Before it begins it makes sure that nothing else has written to the collection,
// and before the commit that the open file is still the one in the folder, because
// a commit into a replaced file succeeds and is lost.
func (s *Store) Update(write func(collection.Writer) error) error {
	if s.readOnly {
		return &Fault{Kind: ErrReadOnly, Path: s.path}
	}
	s.writing.Lock()
	defer s.writing.Unlock()
	err := s.update(write)
	if errors.Is(err, ErrFull) {
		err = errors.Join(err, s.shrink())
	}
	return err
}

// update is Update for one who holds writing.
func (s *Store) update(write func(collection.Writer) error) error {
	s.exchanging.RLock()
	defer s.exchanging.RUnlock()
	if _, err := s.untouched(); err != nil {
		return err
	}
	s.watch.turns.Add(1)
	defer s.watch.turns.Add(1)
	id, planned := 0, false
	err := s.run(s.bolt().Update, "write", func(t *transaction) error {
		if err := s.undisturbed(t); err != nil {
			return err
		}
		if err := write(t); err != nil {
			return err
		}
		id, planned = t.bolt.ID(), true
		return s.sameFile()
	})
	switch {
	case err == nil && s.watch.file != nil && s.watch.follow(uint64(id)) == nil:
	case planned: // the commit failed, and how far it came is not known
		s.watch.last.Store(0)
	}
	return err
}

// shrink gives back to the disk what the file grew by for an update that found no
// room: nothing of it was committed. The caller holds writing.
func (s *Store) shrink() error {
	if s.folder == "" {
		return nil
	}
	var used int64
	if err := s.View(func(r collection.Reader) error { used = r.(*transaction).bolt.Size(); return nil }); err != nil {
		return err
	}
	if info, err := os.Stat(s.path); err != nil || info.Size() <= used || s.sameFile() != nil {
		return err
	}
	return s.exchange(func() error { return fault(s.path, "give room back", os.Truncate(s.path, used)) })
}

func (s *Store) bolt() *bolt.DB { return s.storm.Bolt }

func (s *Store) run(open func(func(*bolt.Tx) error) error, tried string, work func(*transaction) error) error {
	var c callback
	var ours error
	err := s.enter(func() error {
		return open(func(tx *bolt.Tx) error {
			ours = c.run(func() error { return work(s.transaction(tx)) })
			return ours
		})
	})
	c.rethrow()
	if ours == nil || errors.Is(ours, errRecord) || errors.Is(ours, errPanic) {
		return fault(s.path, tried, err)
	}
	return ours
}

func (s *Store) transaction(tx *bolt.Tx) *transaction {
	return &transaction{node: s.storm.WithTransaction(tx), bolt: tx, buckets: map[collection.Bucket]*bolt.Bucket{}}
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
		bucket := t.bucket(b)
		if bucket == nil {
			return notFound(b, key)
		}
		data := bucket.Get(key)
		if data == nil {
			return notFound(b, key)
		}
		r, err := t.decode(b, key, data)
		value = r.value
		return err
	})
	return value, err
}

func notFound(b collection.Bucket, key []byte) error {
	return fmt.Errorf("key %x of bucket %s: %w", key, b, model.ErrNotFound)
}

// decode reads a record with Storm's codec and checks its name.
func (t *transaction) decode(b collection.Bucket, key, data []byte) (r record, err error) {
	if err = t.node.Codec().Unmarshal(data, &r); err == nil {
		err = r.named(b, key)
	}
	if err != nil {
		err = fmt.Errorf("key %x of bucket %s: %w", key, b, err)
	}
	return r, err
}

// bucket is Storm's bucket of that name, nil if nothing was put into it yet.
// Storm's own Get looks it up anew each time, which costs a tenth of a timeline.
func (t *transaction) bucket(b collection.Bucket) *bolt.Bucket {
	if t.buckets[b] == nil {
		if found := t.node.GetBucket(t.bolt, string(b)); found != nil {
			t.buckets[b] = found
		}
	}
	return t.buckets[b]
}

// Walk uses bbolt's cursor, because no call of Storm can begin at a key. It
// skips keys without a value: Storm keeps a bucket of its own in each.
func (t *transaction) Walk(b collection.Bucket, from, to []byte, backwards bool, visit func(key, value []byte) bool) error {
	w := walker{transaction: t, name: b, from: from, to: to, backwards: backwards}
	for {
		r, err := w.step()
		if err != nil || r.key == nil || !visit(r.key, r.value) {
			return err
		}
	}
}

type walker struct {
	*transaction
	name      collection.Bucket
	from, to  []byte
	backwards bool
	cursor    *bolt.Cursor
	begun     bool
}

// step is the next record, one without a key at the end.
func (w *walker) step() (r record, err error) {
	err = guard(func() (err error) {
		key, value := w.next()
		for key != nil && value == nil {
			key, value = w.next()
		}
		if key == nil || bytes.Compare(key, w.from) < 0 || w.to != nil && bytes.Compare(key, w.to) >= 0 {
			return nil
		}
		r, err = w.decode(w.name, key, value)
		return err
	})
	return r, err
}

func (w *walker) next() (key, value []byte) {
	switch {
	case w.begun && w.backwards:
		return w.cursor.Prev()
	case w.begun:
		return w.cursor.Next()
	}
	w.begun = true
	bucket := w.bucket(w.name)
	if bucket == nil {
		return nil, nil
	}
	w.cursor = bucket.Cursor()
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
