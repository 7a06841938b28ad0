package main

import (
	"context"
	"errors"
	"fmt"
	"log/slog"
	"path/filepath"
	"time"

	"github.com/adrg/xdg"

	"coilward/model"
	"coilward/model/collection"
	"coilward/model/draft"
	"coilward/model/photo"
	"coilward/model/store"
	"coilward/ui/place"
	"coilward/ui/shell"
)

// program opens collections.
type program struct{ now func() time.Time }

// suggested is where a new collection goes unless a person says otherwise.
func suggested() string { return filepath.Join(xdg.UserDirs.Documents, name) }

func (p program) options(takeOver bool) store.Options {
	return store.Options{Now: p.now, Verifier: store.VerifyInChild, TakeOver: takeOver}
}

// open opens the collection of a folder. After an unclean end the whole file is
// checked first; early gets the newest good backup to be read meanwhile. One that is open
// already is not checked but refused.
func (p program) open(_ context.Context, folder string, takeOver bool, early func(shell.Session)) (shell.Session, error) {
	if unclean, err := store.Unclean(folder); err == nil && unclean && !store.Held(folder) {
		if s, ok := p.newest(folder); ok {
			early(s)
		}
	}
	kept, err := store.Open(folder, p.options(takeOver))
	if err != nil {
		return shell.Session{}, fmt.Errorf("open the collection in %s: %w", folder, err)
	}
	s, err := p.session(kept, folder)
	if err != nil {
		return shell.Session{}, errors.Join(err, kept.Close())
	}
	s.Keeping = keeping{program: p, folder: folder, store: kept, collection: s.Collection, photos: s.Photos}
	s.Apart = apart{program: p, folder: folder, store: kept}
	if s.Copies, err = strangers(kept, folder); err != nil {
		slog.Warn("look for copies", "error", err)
	}
	s.Forward = kept.ForwardRequested
	s.After = []shell.Job{{Doing: "window.backup.doing", Failed: "window.fault.backup", Do: func(context.Context, func(float64)) error {
		_, _, err := kept.SnapshotIfChanged()
		return err
	}}}
	s.Compact = kept.Compact
	if s.ToCompact, err = kept.ToCompact(); err != nil {
		return shell.Session{}, errors.Join(fmt.Errorf("open the collection in %s: %w", folder, err), kept.Close())
	}
	s.Close = kept.Close
	return s, nil
}

// openToRead opens a collection that cannot be written to.
func (p program) openToRead(_ context.Context, folder string) (shell.Session, error) {
	kept, err := store.OpenToRead(folder, p.options(false))
	if err != nil {
		return shell.Session{}, fmt.Errorf("open the collection in %s to read: %w", folder, err)
	}
	s, err := p.session(kept, folder)
	if err != nil {
		return shell.Session{}, errors.Join(err, kept.Close())
	}
	s.Reading, s.Close = true, kept.Close
	s.Keeping = keeping{program: p, folder: folder, collection: s.Collection, photos: s.Photos}
	return s, nil
}

// restore puts a backup in the place of the collection in the folder.
func (p program) restore(folder, backup string) (string, error) {
	aside, err := store.Restore(folder, backup, p.options(false))
	if err != nil {
		return aside, fmt.Errorf("restore the backup %s: %w", filepath.Base(backup), err)
	}
	return aside, nil
}

// newestBackup is the newest backup that is as it was when it was verified.
func (p program) newestBackup(folder string) (place.Backup, bool) {
	s, found, err := store.NewestBackup(folder, p.options(false))
	if err != nil || !found {
		return place.Backup{}, false
	}
	return place.Backup{Path: s.Path, At: model.MomentOf(s.Taken.Local()), Verified: true}, true
}

// salvage puts all that can still be read of a damaged collection in its place.
func (p program) salvage(folder string) (shell.Salvaged, error) {
	report, aside, err := store.SalvageFolder(folder, p.options(false))
	if err != nil {
		return shell.Salvaged{}, fmt.Errorf("salvage the collection in %s: %w", folder, err)
	}
	return shell.Salvaged{Records: report.Revisions, Lost: report.Lost, Uncertain: len(report.Uncertain), Erased: report.Erased, SetAside: aside}, nil
}

// newest is the newest good backup, for reading.
func (p program) newest(folder string) (shell.Session, bool) {
	snapshot, found, err := store.NewestBackup(folder, p.options(false))
	if err != nil || !found {
		return shell.Session{}, false
	}
	kept, err := store.OpenReadOnly(snapshot.Path)
	if err != nil {
		slog.Warn("open the newest backup", "error", err)
		return shell.Session{}, false
	}
	s, err := p.session(kept, folder)
	if err != nil {
		slog.Warn("read the newest backup", "error", errors.Join(err, kept.Close()))
		return shell.Session{}, false
	}
	s.Checking, s.Close = true, kept.Close
	s.Keeping = keeping{program: p, folder: folder, collection: s.Collection, photos: s.Photos}
	return s, true
}

// session is what the window needs of a store and the folders beside it.
func (p program) session(kept collection.Store, folder string) (shell.Session, error) {
	c, err := collection.New(kept, collection.Options{Now: p.now})
	if err != nil {
		return shell.Session{}, fmt.Errorf("read the collection in %s: %w", folder, err)
	}
	photos := photo.At(filepath.Join(folder, store.PhotosFolder))
	if reads, ok := kept.(interface{ ReadOnly() bool }); !ok || !reads.ReadOnly() {
		if photos, err = photo.Open(filepath.Join(folder, store.PhotosFolder)); err != nil {
			return shell.Session{}, fmt.Errorf("open the photos in %s: %w", folder, err)
		}
	}
	return shell.Session{
		Collection: c, Photos: photos, Drafts: draft.Open(filepath.Join(folder, store.DraftsFolder)), Name: filepath.Base(folder),
	}, nil
}
