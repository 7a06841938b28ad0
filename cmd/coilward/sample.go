package main

import (
	"context"
	"errors"
	"fmt"
	"image"
	"io/fs"
	"log/slog"
	"os"
	"path/filepath"
	"sync"
	"time"

	"coilward/model"
	"coilward/model/collection"
	"coilward/model/comparing"
	"coilward/model/demo"
	"coilward/model/draft"
	"coilward/model/knowledge"
	"coilward/model/memory"
	"coilward/model/photo"
	"coilward/model/wording"
	"coilward/ui/place"
	"coilward/ui/shell"
)

// samplePattern is how the folder for photos and drafts of a sample is named.
const samplePattern = "coilward-sample-*"

// sample makes the sample collection: in memory, with a folder for photos and
// drafts among the system's temporary files that goes with it.
func (p program) sample(tables *knowledge.Tables) func(context.Context, *wording.Text) (shell.Session, error) {
	return func(_ context.Context, t *wording.Text) (shell.Session, error) {
		c, err := collection.New(memory.Open(), collection.Options{Now: p.now})
		if err != nil {
			return shell.Session{}, fmt.Errorf("make the sample collection: %w", err)
		}
		if err := demo.Fill(c, tables, t); err != nil {
			return shell.Session{}, fmt.Errorf("make the sample collection: %w", err)
		}
		sweep(p.now())
		folder, err := os.MkdirTemp("", samplePattern)
		if err != nil {
			return shell.Session{}, fmt.Errorf("make a folder for the sample's photos: %w", err)
		}
		photos, err := photo.OpenPassing(filepath.Join(folder, "photos"))
		if err != nil {
			return shell.Session{}, errors.Join(fmt.Errorf("make a folder for the sample's photos: %w", err), removed(folder))
		}
		studio := &studio{collection: c, photos: photos, words: t, folder: folder}
		return shell.Session{
			Collection: c, Photos: photos, Drafts: draft.Open(filepath.Join(folder, "drafts")),
			Keeping: unkept{}, Sample: true, Close: studio.close,
			After: []shell.Job{{Doing: "demo.photos.doing", Failed: "demo.photos.failed", Do: studio.photograph}},
		}, nil
	}
}

// studio draws the photos of the sample, once it is in sight: that takes seconds,
// which nobody waits for. Closing stops it, so that no file is left behind.
type studio struct {
	collection *collection.Collection
	photos     *photo.Folder
	words      *wording.Text
	folder     string

	keeping sync.Mutex // held while a photo is written
	closed  bool
}

// errClosed ends what is drawn for a sample that nobody looks at any more.
var errClosed = errors.New("the sample collection was closed")

func (s *studio) photograph(ctx context.Context, progress func(float64)) error {
	err := demo.Photograph(ctx, s.collection, s.words, s.keep, progress)
	if errors.Is(err, errClosed) {
		return nil
	}
	return err
}

func (s *studio) keep(picture *image.YCbCr) (model.PhotoID, error) {
	s.keeping.Lock()
	defer s.keeping.Unlock()
	if s.closed {
		return "", errClosed
	}
	kept, err := s.photos.KeepDrawn(picture)
	return kept.ID, err
}

func (s *studio) close() error {
	s.keeping.Lock()
	defer s.keeping.Unlock()
	s.closed = true
	return removed(s.folder)
}

// sweep removes the folders of samples that a killed program left behind a day
// or longer ago; a younger one may belong to a window that is open.
func sweep(now time.Time) {
	left, err := filepath.Glob(filepath.Join(os.TempDir(), samplePattern))
	if err != nil {
		return
	}
	for _, folder := range left {
		if info, err := os.Lstat(folder); err == nil && info.IsDir() && now.Sub(info.ModTime()) > 24*time.Hour {
			if err := removed(folder); err != nil {
				slog.Warn("sweep an old sample", "error", err)
			}
		}
	}
}

func removed(folder string) error {
	if err := os.RemoveAll(folder); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return fmt.Errorf("remove the sample's photos: %w", err)
	}
	return nil
}

// unkept is how a sample is kept: not at all.
type unkept struct{}

// Folder implements place.Keeping.
func (unkept) Folder() string { return "" }

// Backups implements place.Keeping.
func (unkept) Backups() ([]place.Backup, error) { return nil, nil }

// errSample is what comes of keeping a sample.
var errSample = errors.New("a sample collection is not kept")

// Backup implements place.Keeping.
func (unkept) Backup() error { return fmt.Errorf("make a backup: %w", errSample) }

// Second implements place.Keeping.
func (unkept) Second() (place.Second, error) { return place.Second{}, nil }

// ChooseSecond implements place.Keeping.
func (unkept) ChooseSecond(string) error { return fmt.Errorf("choose a second place: %w", errSample) }

// BringSecond implements place.Keeping.
func (unkept) BringSecond(context.Context) error { return nil }

// Holds implements place.Keeping.
func (unkept) Holds(place.Backup) (comparing.Side, error) {
	return comparing.Side{}, fmt.Errorf("look into a backup: %w", errSample)
}

// Compare implements place.Keeping.
func (unkept) Compare(context.Context, place.Backup) (comparing.Summary, error) {
	return comparing.Summary{}, fmt.Errorf("compare with a backup: %w", errSample)
}

// Examine implements place.Keeping.
func (unkept) Examine(context.Context, func(float64)) (place.Examined, error) {
	return place.Examined{}, fmt.Errorf("examine photos and backups: %w", errSample)
}

// KeyCopies implements place.Keeping.
func (unkept) KeyCopies() ([]place.KeyCopy, error) { return nil, nil }

// KeepKeyCopy implements place.Keeping.
func (unkept) KeepKeyCopy(string, []byte) error {
	return fmt.Errorf("keep a copy of the key: %w", errSample)
}
