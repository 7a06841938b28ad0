package main

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"time"

	"coilward/model"
	"coilward/model/collection"
	"coilward/model/comparing"
	"coilward/model/photo"
	"coilward/model/store"
	"coilward/ui/place"
)

// keeping tells how a collection on disk is kept; without a store it can only
// be read.
type keeping struct {
	program    program
	folder     string
	store      *store.Store
	collection *collection.Collection
	photos     *photo.Folder
}

var errReading = errors.New("the collection can only be read just now")

// Folder implements place.Keeping.
func (k keeping) Folder() string { return k.folder }

// Backups implements place.Keeping. One that lies at both places is listed once.
func (k keeping) Backups() ([]place.Backup, error) {
	all, err := backupsIn(k.folder)
	if err != nil {
		return nil, fmt.Errorf("list the backups: %w", err)
	}
	for i := range all {
		all[i].Here = true
	}
	second, err := k.second()
	if err != nil || second.Folder == "" {
		return all, err
	}
	there, err := backupsIn(second.Inside)
	if err != nil { // it may have been pulled out; the first place is listed all the same
		return all, nil
	}
	for _, b := range there {
		same := func(o place.Backup) bool { return filepath.Base(o.Path) == filepath.Base(b.Path) }
		if at := slices.IndexFunc(all, same); at >= 0 {
			all[at].Second = true
			continue
		}
		b.Second = true
		all = append(all, b)
	}
	slices.SortStableFunc(all, func(a, b place.Backup) int { return cmp.Compare(b.At.UTC, a.At.UTC) })
	return all, nil
}

// backupsIn are the snapshots of a folder, and what was set aside in it.
func backupsIn(folder string) ([]place.Backup, error) {
	snapshots, err := store.Snapshots(folder)
	if err != nil {
		return nil, err
	}
	aside, err := store.SetAside(folder)
	if err != nil {
		return nil, err
	}
	var all []place.Backup
	for i, s := range append(snapshots, aside...) {
		b := place.Backup{Path: s.Path, At: model.MomentOf(s.Taken.Local()), Aside: i >= len(snapshots), Verified: s.Verified(), Of: store.NameOf(s.Path)}
		if info, err := os.Stat(s.Path); err == nil {
			b.Bytes = info.Size()
		}
		all = append(all, b)
	}
	slices.SortStableFunc(all, func(a, b place.Backup) int { return cmp.Compare(b.At.UTC, a.At.UTC) })
	return all, nil
}

// Backup implements place.Keeping.
func (k keeping) Backup() error {
	if k.store == nil {
		return fmt.Errorf("make a backup: %w", errReading)
	}
	if _, err := k.store.Snapshot(); err != nil {
		return fmt.Errorf("make a backup: %w", err)
	}
	return nil
}

// second is what is remembered of the second place.
func (k keeping) second() (store.SecondPlace, error) {
	if k.store == nil {
		return store.SecondPlace{}, nil
	}
	second, _, err := k.store.Second()
	if err != nil {
		return second, fmt.Errorf("read the second place for backups: %w", err)
	}
	return second, nil
}

// Second implements place.Keeping.
func (k keeping) Second() (place.Second, error) {
	s, err := k.second()
	return place.Second{Folder: s.Folder, Whole: momentOf(s.Whole), Since: momentOf(s.Since), Why: string(s.Why), Photos: s.Photos}, err
}

func momentOf(t time.Time) model.Moment {
	if t.IsZero() {
		return model.Moment{}
	}
	return model.MomentOf(t.Local())
}

// ChooseSecond implements place.Keeping.
func (k keeping) ChooseSecond(folder string) error {
	if k.store == nil {
		return fmt.Errorf("choose a second place for backups: %w", errReading)
	}
	if err := k.store.ChooseSecond(folder); err != nil {
		return fmt.Errorf("choose a second place for backups: %w", err)
	}
	return nil
}

// BringSecond implements place.Keeping.
func (k keeping) BringSecond(ctx context.Context) error {
	if k.store == nil {
		return nil
	}
	named, err := k.named()
	if err != nil {
		return fmt.Errorf("bring backups to the second place: %w", err)
	}
	_, err = k.store.BringSecond(ctx, named)
	var failed *store.SecondFault
	if errors.As(err, &failed) {
		return fmt.Errorf("bring backups to the second place: %w", errors.Join(failed.Refusal(), err))
	}
	if err != nil {
		return fmt.Errorf("bring backups to the second place: %w", err)
	}
	return nil
}

// Holds implements place.Keeping. What was verified once need not be again to be
// counted.
func (k keeping) Holds(b place.Backup) (side comparing.Side, err error) {
	kept, err := store.OpenReadOnly(b.Path)
	if err != nil {
		return side, fmt.Errorf("open the backup %s: %w", filepath.Base(b.Path), err)
	}
	defer func() { err = errors.Join(err, kept.Close()) }()
	c, err := collection.New(kept, collection.Options{Now: k.program.now})
	if err != nil {
		return side, fmt.Errorf("read the backup %s: %w", filepath.Base(b.Path), err)
	}
	return comparing.Holds(c)
}

// Compare implements place.Keeping. The backup is verified before it is read.
func (k keeping) Compare(ctx context.Context, b place.Backup) (s comparing.Summary, err error) {
	other, err := store.OpenVerified(b.Path, k.program.options(false))
	if err != nil {
		return s, fmt.Errorf("open the backup %s: %w", filepath.Base(b.Path), err)
	}
	defer func() { err = errors.Join(err, other.Close()) }()
	then, err := collection.New(other, collection.Options{Now: k.program.now})
	if err != nil {
		return s, fmt.Errorf("read the backup %s: %w", filepath.Base(b.Path), err)
	}
	if s, err = comparing.Compare(ctx, k.collection, then, k.photos.Has); err != nil {
		return s, err
	}
	if k.store != nil {
		s.Another, err = k.store.Another(other)
	}
	return s, err
}

// named are the photos that the collection names.
func (k keeping) named() (all map[model.PhotoID]bool, err error) {
	err = k.collection.View(func(v model.View) (err error) {
		all, err = photo.In(v)
		return err
	})
	return all, err
}

// Examine implements place.Keeping.
func (k keeping) Examine(ctx context.Context, progress func(float64)) (place.Examined, error) {
	named, err := k.named()
	if err != nil {
		return place.Examined{}, fmt.Errorf("examine photos and backups: %w", err)
	}
	var e store.Examined
	if k.store != nil {
		e, err = k.store.Examine(ctx, named, progress)
	} else {
		e, err = store.Examine(ctx, k.folder, k.program.options(false), named, progress)
	}
	if err != nil {
		return place.Examined{}, fmt.Errorf("examine photos and backups: %w", err)
	}
	said := place.Examined{At: model.MomentOf(k.program.now()), Photos: e.Photos, Backups: e.Backups, Second: e.Second, Away: e.Away}
	for _, f := range e.Found {
		said.Found = append(said.Found, place.Finding{Path: f.Path, Keys: f.Keys(), Good: momentOf(f.Good), Twin: f.Twin})
		if f.Mendable() && k.store != nil {
			said.Mend = func(ctx context.Context) (int, error) { return k.store.Mend(ctx, e.Found) }
		}
	}
	return said, nil
}

// KeyCopies implements place.Keeping.
func (k keeping) KeyCopies() ([]place.KeyCopy, error) {
	here, err := store.KeyCopies(k.folder)
	if err != nil {
		return nil, fmt.Errorf("list the copies of keys: %w", err)
	}
	var there []store.KeyCopy
	var unseen error
	if k.store != nil {
		there, unseen = k.store.SecondKeyCopies()
		var failed *store.SecondFault
		if errors.As(unseen, &failed) {
			unseen = errors.Join(failed.Refusal(), unseen)
		}
	}
	var all []place.KeyCopy
	for i, c := range append(here, there...) {
		all = append(all, place.KeyCopy{Path: c.Path, Written: model.MomentOf(c.Written.Local()), Second: i >= len(here), Good: c.Good})
	}
	if unseen != nil {
		return all, fmt.Errorf("list the copies of keys at the second place: %w", unseen)
	}
	return all, nil
}

// KeepKeyCopy implements place.Keeping.
func (k keeping) KeepKeyCopy(name string, raw []byte) error {
	if k.store == nil {
		return fmt.Errorf("keep a copy of the key: %w", errReading)
	}
	err := k.store.KeepKeyCopy(name, raw)
	var failed *store.SecondFault
	if errors.As(err, &failed) {
		return fmt.Errorf("keep a copy of the key: %w", errors.Join(failed.Refusal(), err))
	}
	if err != nil {
		return fmt.Errorf("keep a copy of the key: %w", err)
	}
	return nil
}
