package store

import (
	"context"
	"errors"
	"fmt"

	bolt "go.etcd.io/bbolt"

	"coilward/model/collection"
)

// compactBatch is how many bytes are copied in one transaction.
const compactBatch = 8 << 20

// Compact writes the file anew with what it holds and nothing beside: bbolt keeps
// what was deleted or written over in freed parts of its file. The new one is read
// whole before it takes the place of the old one, which is given back to the
// system. Backups, and what the disk itself keeps of a deleted file, stay as they
// are. That it is to be done is remembered in the file until it is done. It ends with
// the error of ctx before its next step once that is done.
func (s *Store) Compact(ctx context.Context) error {
	if s.folder == "" || s.readOnly {
		return &Fault{Kind: ErrReadOnly, Path: s.path}
	}
	s.backing.Lock()
	defer s.backing.Unlock()
	s.writing.Lock()
	defer s.writing.Unlock()
	fresh := s.path + ".new"
	if err := s.compactTo(ctx, fresh); err != nil {
		return errors.Join(err, removeIfThere(fresh))
	}
	return s.exchange(func() error { return place(fresh, s.path) })
}

// compactTo copies the open file. Reading goes on meanwhile; writing waits.
func (s *Store) compactTo(ctx context.Context, fresh string) error {
	if err := s.ours(); err != nil {
		return err
	}
	if err := removeIfThere(fresh); err != nil {
		return err
	}
	if err := ctx.Err(); err != nil {
		return err
	}
	err := guard(func() error {
		to, err := bolt.Open(fresh, 0o600, &bolt.Options{NoSync: true, Timeout: lockPatience})
		if err != nil {
			return err
		}
		err = bolt.Compact(to, s.bolt(), compactBatch)
		if err == nil {
			err = to.Sync()
		}
		return errors.Join(err, to.Close())
	})
	if err != nil {
		return fault(fresh, "write the file anew", err)
	}
	if err := fillFile(fresh, func(to *Store) error { return to.Update(collection.Compacted) }); err != nil {
		return err
	}
	if err := ctx.Err(); err != nil {
		return err
	}
	report, err := s.options.Verifier(fresh)
	if err != nil {
		return fmt.Errorf("verify the file that was written anew: %w", err)
	}
	if err := report.fault(fresh); err != nil {
		return err
	}
	return ctx.Err()
}

// ToCompact reports whether bytes of what was forgotten may still lie in freed parts
// of the file, because it could not be compacted.
func (s *Store) ToCompact() (due bool, err error) {
	err = s.View(func(r collection.Reader) (err error) {
		due, err = collection.ToCompact(r)
		return err
	})
	return due, err
}
