package store_test

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"slices"
	"testing"
	"time"

	"coilward/model/collection"
	"coilward/model/store"
	"coilward/model/storetest"
)

// soon fails if work takes longer than any reading does: it waits for a lock that
// nobody gives back.
func soon(t *testing.T, what string, work func() error) error {
	t.Helper()
	done := make(chan error, 1)
	go func() { done <- work() }()
	select {
	case err := <-done:
		return err
	case <-time.After(20 * time.Second):
		t.Fatalf("%s waits for ever", what)
		return nil
	}
}

// over writes bytes over the open file, which keeps its place.
func overwrite(t *testing.T, path string, data []byte) {
	t.Helper()
	f, err := os.OpenFile(path, os.O_WRONLY|os.O_TRUNC, 0)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := f.Write(data); err != nil {
		t.Fatal(err)
	}
	if err := f.Close(); err != nil {
		t.Fatal(err)
	}
}

// A file that was cut or written over while it is open is refused to whoever reads,
// writes, backs up or compacts it, at once and each time; nothing of it is taken for
// one's own.
func TestAnOpenFileThatWasCutOrWrittenOverIsRefused(t *testing.T) {
	whole := func(t *testing.T, folder string) []byte { return read(t, file(folder)) }
	for name, data := range map[string]func(t *testing.T, folder string) []byte{
		"cut to nothing":             func(t *testing.T, folder string) []byte { return nil },
		"cut to one page":            func(t *testing.T, folder string) []byte { return whole(t, folder)[:4096] },
		"cut to a part":              func(t *testing.T, folder string) []byte { return whole(t, folder)[:20_000] },
		"zeros":                      func(t *testing.T, folder string) []byte { return make([]byte, len(whole(t, folder))) },
		"another keeper's":           func(t *testing.T, _ string) []byte { return whole(t, filled(t, 5)) },
		"another keeper's, as old":   func(t *testing.T, _ string) []byte { return whole(t, filled(t, 3)) },
		"another state, as a backup": func(t *testing.T, folder string) []byte { path, _ := another(t, folder, 2); return read(t, path) },
	} {
		t.Run(name, func(t *testing.T) {
			folder := filled(t, 3)
			there := data(t, folder)
			s := open(t, folder)
			c := over(t, s)
			if _, err := s.Snapshot(); err != nil {
				t.Fatal(err)
			}
			overwrite(t, file(folder), there)
			for range 2 {
				for what, work := range map[string]func() error{
					"reading":    func() error { return s.View(func(r collection.Reader) error { return nil }) },
					"writing":    func() error { return noting(t, c, 1) },
					"a backup":   func() error { _, err := s.Snapshot(); return err },
					"keeping":    s.KeepThis,
					"compacting": func() error { return s.Compact(context.Background()) },
				} {
					if err := soon(t, what, work); !errors.Is(err, store.ErrReplaced) {
						t.Errorf("%s: %v, want ErrReplaced", what, err)
					}
				}
			}
			if others := apart(t, s); len(others) != 1 || !others[0].Overwritten {
				t.Errorf("found %+v", others)
			}
			if snapshots, err := store.Snapshots(folder); err != nil || len(snapshots) != 1 {
				t.Errorf("backups afterwards: %+v, %v", snapshots, err)
			}
			if err := soon(t, "closing", s.Close); err != nil {
				t.Error(err)
			}
			if unclean, err := store.Unclean(folder); !unclean || err != nil {
				t.Errorf("what was written there counts as closed in order: %v", err)
			}
			newest, found, err := store.NewestSnapshot(folder)
			if err != nil || !found {
				t.Fatal(err)
			}
			if _, err := store.Restore(folder, newest.Path, options(storetest.NewClock())); err != nil {
				t.Error(err)
			}
		})
	}
}

// The file may be cut between the look at it and bbolt's reading: bbolt fails with
// its locks held, and is not entered again; the folder can be opened anew.
func TestAFileThatWasCutWhileItIsReadIsNotEnteredAgain(t *testing.T) {
	folder := filled(t, 3)
	before := read(t, file(folder))
	s := open(t, folder)
	if err := s.View(func(collection.Reader) error { return os.Truncate(file(folder), 0) }); err != nil {
		t.Fatal(err)
	}
	store.Blind(s)
	for range 2 {
		if err := soon(t, "reading", func() error { return s.View(func(collection.Reader) error { return nil }) }); !errors.Is(err, store.ErrReplaced) {
			t.Errorf("reading: %v, want ErrReplaced", err)
		}
	}
	if err := soon(t, "closing", s.Close); err != nil {
		t.Error(err)
	}
	write(t, file(folder), before)
	s = open(t, folder)
	closeStore(t, s)
}

// What only touches the file stops nothing.
func TestATouchedFileGoesOn(t *testing.T) {
	folder := filled(t, 3)
	s := open(t, folder)
	defer closeStore(t, s)
	at := time.Now().Add(time.Hour)
	if err := os.Chtimes(file(folder), at, at); err != nil {
		t.Fatal(err)
	}
	if err := noting(t, over(t, s), 1); err != nil {
		t.Error(err)
	}
}

// The folder of the backups is made anew where it was cleared away.
func TestABackupMakesItsFolder(t *testing.T) {
	folder := filled(t, 3)
	s := open(t, folder)
	defer closeStore(t, s)
	if err := os.RemoveAll(filepath.Join(folder, store.BackupsFolder)); err != nil {
		t.Fatal(err)
	}
	made, err := s.Snapshot()
	if err != nil {
		t.Fatal(err)
	}
	good(t, made.Path)
}

// What an end in between left may hold what was forgotten.
func TestOpeningClearsAwayWhatWasUnfinished(t *testing.T) {
	folder := filled(t, 3)
	photos := filepath.Join(folder, store.PhotosFolder)
	left := []string{
		file(folder) + ".new", filepath.Join(folder, store.BackupsFolder, "unfinished.new"), filepath.Join(folder, "unfinished-12.new"),
		filepath.Join(photos, "unfinished-3377.new"), filepath.Join(photos, "derived", "unfinished-1.new"), filepath.Join(folder, store.DraftsFolder, "unfinished-90.new"),
	}
	others := []string{filepath.Join(folder, "unfinished-.new"), filepath.Join(photos, "unfinished-letter.new"), filepath.Join(folder, store.DraftsFolder, "7.new")}
	if err := os.MkdirAll(filepath.Join(photos, "derived"), 0o700); err != nil {
		t.Fatal(err)
	}
	for _, path := range slices.Concat(left, others) {
		write(t, path, []byte("erased"))
	}
	closeStore(t, open(t, folder))
	for _, path := range others {
		if _, err := os.Lstat(path); err != nil {
			t.Errorf("somebody's own file is gone: %v", err)
		}
	}
	for _, path := range left {
		if _, err := os.Lstat(path); !errors.Is(err, os.ErrNotExist) {
			t.Errorf("%s is still there: %v", filepath.Base(path), err)
		}
	}
}

func BenchmarkEmptyView(b *testing.B) {
	s := open(b, filled(b, 3))
	defer closeStore(b, s)
	for b.Loop() {
		if err := s.View(func(collection.Reader) error { return nil }); err != nil {
			b.Fatal(err)
		}
	}
}
