package store_test

import (
	"bytes"
	"errors"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/asdine/storm/v3"
	bolt "go.etcd.io/bbolt"

	"coilward/model/collection"
	"coilward/model/store"
	"coilward/model/storetest"
)

func TestOpenMakesTheFolder(t *testing.T) {
	folder := filepath.Join(t.TempDir(), "a", "b")
	if store.Exists(folder) {
		t.Fatal("a folder that is not there holds a collection")
	}
	closeStore(t, open(t, folder))
	if !store.Exists(folder) {
		t.Fatal("no collection.db was made")
	}
	for _, name := range []string{store.PhotosFolder, store.BackupsFolder, store.DraftsFolder} {
		if info, err := os.Stat(filepath.Join(folder, name)); err != nil || !info.IsDir() {
			t.Errorf("folder %s: %v", name, err)
		}
	}
	files, err := filepath.Glob(filepath.Join(folder, "*.new"))
	if err != nil || len(files) > 0 {
		t.Errorf("unfinished files are left: %v, %v", files, err)
	}
}

func TestOpenNeedsAClock(t *testing.T) {
	if _, err := store.Open(t.TempDir(), store.Options{}); err == nil {
		t.Error("Open without a clock succeeded")
	}
}

func TestSecondStartIsToldWho(t *testing.T) {
	folder := t.TempDir()
	s := open(t, folder)
	_, err := store.Open(folder, options(storetest.NewClock()))
	var already *store.AlreadyOpen
	if !errors.As(err, &already) {
		t.Fatalf("second start: %v, want AlreadyOpen", err)
	}
	if already.Machine != "workshop" || !already.Since.Equal(storetest.Start()) || already.Elsewhere || already.Path != folder {
		t.Errorf("second start: %+v", already)
	}
	if r := already.Refusal(); r.Reason != "collection.open" || r.Gaps["Machine"].Text != "workshop" {
		t.Errorf("refusal %+v", r)
	}
	closeStore(t, s)
	closeStore(t, open(t, folder))
}

// A whole file that is open elsewhere is not called bad: nobody could read it.
func TestVerifyOfAnOpenFileSaysSo(t *testing.T) {
	folder := filled(t, 5)
	s := open(t, folder)
	for name, verify := range map[string]store.Verifier{"in a child": store.VerifyInChild, "here": store.VerifyHere} {
		if report, err := verify(file(folder)); !errors.As(err, new(*store.AlreadyOpen)) || len(report.Problems) > 0 {
			t.Errorf("%s, while it is open: %+v, %v", name, report, err)
		}
	}
	closeStore(t, s)
	if report, err := store.VerifyInChild(file(folder)); err != nil || !report.Good || report.Open {
		t.Errorf("closed again: %+v, %v", report, err)
	}
}

func TestSecondStartBringsTheFirstForward(t *testing.T) {
	folder := t.TempDir()
	if err := store.RequestForward(folder); err != nil {
		t.Fatal(err)
	}
	s := open(t, folder)
	defer closeStore(t, s)
	if s.ForwardRequested() {
		t.Error("a request from before the start is answered")
	}
	if err := store.RequestForward(folder); err != nil {
		t.Fatal(err)
	}
	if !s.ForwardRequested() || s.ForwardRequested() {
		t.Error("one request must be answered once")
	}
}

func TestFolderOpenOnAnotherMachine(t *testing.T) {
	folder := filled(t, 3)
	lock := filepath.Join(folder, "collection.lock")
	write(t, lock, []byte(`{"machine":"stable","since":"2027-06-01T10:00:00Z"}`))
	before := read(t, lock)
	_, err := store.Open(folder, options(storetest.NewClock()))
	var already *store.AlreadyOpen
	if !errors.As(err, &already) || already.Machine != "stable" || !already.Elsewhere {
		t.Fatalf("open: %v, want open elsewhere on stable", err)
	}
	if r := already.Refusal(); r.Reason != "collection.elsewhere" || r.Answer != "confirm" {
		t.Errorf("refusal %+v", r)
	}
	if !bytes.Equal(read(t, lock), before) {
		t.Error("the other machine's lock was changed")
	}
	o := options(storetest.NewClock())
	o.TakeOver = true
	s, err := store.Open(folder, o)
	if err != nil {
		t.Fatal(err)
	}
	closeStore(t, s)
}

// newerForm writes the control record of a later program by hand.
func newerForm(t *testing.T, folder string) {
	t.Helper()
	s := open(t, folder)
	err := s.Update(func(w collection.Writer) error {
		return w.Put(collection.Control, []byte("form"), []byte(`{"schema":2,"name":"x","later":true}`))
	})
	if err != nil {
		t.Fatal(err)
	}
	closeStore(t, s)
}

func TestNewerFormIsRefusedAndLeftAsItIs(t *testing.T) {
	for _, unclean := range []bool{false, true} {
		folder := filled(t, 3)
		newerForm(t, folder)
		if unclean {
			if err := os.Remove(filepath.Join(folder, "collection.lock")); err != nil {
				t.Fatal(err)
			}
		}
		before := read(t, file(folder))
		_, err := store.Open(folder, options(storetest.NewClock()))
		var fault *store.Fault
		if !errors.Is(err, store.ErrNewer) || !errors.As(err, &fault) || fault.Refusal().Reason != "collection.newer" {
			t.Errorf("open (unclean %t): %v, want ErrNewer", unclean, err)
		}
		if _, err := store.OpenReadOnly(file(folder)); !errors.Is(err, store.ErrNewer) {
			t.Errorf("open for reading: %v, want ErrNewer", err)
		}
		if !bytes.Equal(read(t, file(folder)), before) {
			t.Error("the file was touched")
		}
	}
}

// A file without bytes would become a new, empty collection.
func TestFilesThatAreNone(t *testing.T) {
	for name, c := range map[string]struct {
		data []byte
		want error
	}{
		"empty": {nil, store.ErrDamaged},
		"text":  {[]byte(strings.Repeat("a letter to the vet\n", 1000)), store.ErrForeign},
		"short": {[]byte("x"), store.ErrForeign},
		"zero":  {make([]byte, 40_000), store.ErrDamaged}, // what a power cut may leave of a collection
	} {
		folder := t.TempDir()
		write(t, file(folder), c.data)
		_, err := store.Open(folder, options(storetest.NewClock()))
		if !errors.Is(err, c.want) {
			t.Errorf("%s: %v, want %v", name, err, c.want)
		}
		if !bytes.Equal(read(t, file(folder)), c.data) {
			t.Errorf("%s: the file was touched", name)
		}
	}
}

func TestDatabaseOfAnotherProgram(t *testing.T) {
	folder := t.TempDir()
	db, err := bolt.Open(file(folder), 0o600, &bolt.Options{Timeout: time.Second})
	if err != nil {
		t.Fatal(err)
	}
	other, err := storm.Open("", storm.UseDB(db))
	if err != nil {
		t.Fatal(err)
	}
	if err := errors.Join(other.Set("control", "form", 1), other.Close()); err != nil {
		t.Fatal(err)
	}
	before := read(t, file(folder))
	if _, err := store.Open(folder, options(storetest.NewClock())); !errors.Is(err, store.ErrForeign) {
		t.Errorf("open: %v, want ErrForeign", err)
	}
	if !bytes.Equal(read(t, file(folder)), before) {
		t.Error("the file was touched")
	}
	// Storm would keep the lock of a file that it refuses.
	if again, err := bolt.Open(file(folder), 0o600, &bolt.Options{Timeout: time.Second}); err != nil {
		t.Errorf("the file is still locked: %v", err)
	} else if err := again.Close(); err != nil {
		t.Error(err)
	}
}

func TestMissingFileBesideBackupsIsNotMadeAnew(t *testing.T) {
	folder := filled(t, 3)
	s := open(t, folder)
	if _, err := s.Snapshot(); err != nil {
		t.Fatal(err)
	}
	closeStore(t, s)
	if err := os.Remove(file(folder)); err != nil {
		t.Fatal(err)
	}
	if _, err := store.Open(folder, options(storetest.NewClock())); !errors.Is(err, store.ErrMissing) {
		t.Errorf("open: %v, want ErrMissing", err)
	}
	if store.Exists(folder) {
		t.Error("an empty collection was made")
	}
}

// Another program may put its copy in the place of the open file; a commit into
// the old one would succeed and be gone after the end.
func TestReplacedFileIsNoticedBeforeTheCommit(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("an open file cannot be replaced there")
	}
	folder := filled(t, 3)
	s := open(t, folder)
	c := over(t, s)
	copied := filepath.Join(folder, "x")
	write(t, copied, read(t, file(folder)))
	if err := os.Rename(copied, file(folder)); err != nil {
		t.Fatal(err)
	}
	_, err := c.Do(storetest.Put{Documents: nil})
	if !errors.Is(err, store.ErrReplaced) {
		t.Errorf("change: %v, want ErrReplaced", err)
	}
	if _, err := s.Snapshot(); !errors.Is(err, store.ErrReplaced) {
		t.Errorf("snapshot: %v, want ErrReplaced", err)
	}
	s.Close()
	if unclean, err := store.Unclean(folder); !unclean || err != nil {
		t.Errorf("the replaced file counts as closed in order: %v", err)
	}
}

func TestHeldWhileItIsOpen(t *testing.T) {
	folder := filled(t, 2)
	if store.Held(folder) {
		t.Error("closed, and held")
	}
	s, err := store.Open(folder, options(storetest.NewClock()))
	if err != nil {
		t.Fatal(err)
	}
	if !store.Held(folder) {
		t.Error("open, and not held")
	}
	closeStore(t, s)
	if store.Held(folder) {
		t.Error("closed again, and held")
	}
	if err := os.Remove(filepath.Join(folder, "collection.lock")); err != nil || store.Held(folder) {
		t.Errorf("without a lock file it is held, %v", err)
	}
	s, err = store.Open(folder, options(storetest.NewClock()))
	if err != nil {
		t.Fatalf("asking keeps the lock: %v", err)
	}
	closeStore(t, s)
}

func TestUncleanEndIsVerified(t *testing.T) {
	folder := filled(t, 5)
	if unclean, err := store.Unclean(folder); unclean || err != nil {
		t.Fatalf("closed in order, but unclean: %v", err)
	}
	calls := 0
	o := options(storetest.NewClock())
	o.Verifier = func(path string) (store.Report, error) { calls++; return store.VerifyHere(path) }
	reopen := func() {
		t.Helper()
		s, err := store.Open(folder, o)
		if err != nil {
			t.Fatal(err)
		}
		if unclean, err := store.Unclean(folder); !unclean || err != nil {
			t.Errorf("open, but not unclean: %v", err)
		}
		closeStore(t, s)
	}
	reopen()
	if calls != 0 {
		t.Error("a file closed in order was verified")
	}
	for what, spoil := range map[string]func(){
		"changed":        func() { later := time.Now().Add(time.Hour); os.Chtimes(file(folder), later, later) },
		"lock lost":      func() { os.Remove(filepath.Join(folder, "collection.lock")) },
		"lock cut":       func() { write(t, filepath.Join(folder, "collection.lock"), []byte(`{"mach`)) },
		"still in use":   func() { write(t, filepath.Join(folder, "collection.lock"), []byte(`{"machine":"workshop"}`)) },
		"lock of zeroes": func() { write(t, filepath.Join(folder, "collection.lock"), make([]byte, 90)) },
	} {
		calls = 0
		spoil()
		if unclean, err := store.Unclean(folder); !unclean || err != nil {
			t.Errorf("%s: clean, %v", what, err)
		}
		reopen()
		if calls != 1 {
			t.Errorf("%s: verified %d times, want once", what, calls)
		}
	}
}

func TestWithoutVerifierNothingUncleanIsOpened(t *testing.T) {
	folder := filled(t, 2)
	if err := os.Remove(filepath.Join(folder, "collection.lock")); err != nil {
		t.Fatal(err)
	}
	o := options(storetest.NewClock())
	o.Verifier = nil
	if _, err := store.Open(folder, o); !errors.Is(err, store.ErrUnverified) {
		t.Errorf("open: %v, want ErrUnverified", err)
	}
}

func TestReadOnlyFile(t *testing.T) {
	folder := filled(t, 3)
	if err := os.Chmod(file(folder), 0o400); err != nil {
		t.Fatal(err)
	}
	s, err := store.OpenReadOnly(file(folder))
	if err != nil {
		t.Fatal(err)
	}
	defer closeStore(t, s)
	if !s.ReadOnly() {
		t.Error("not read-only")
	}
	if _, err := over(t, s).Undo(); !errors.Is(err, store.ErrReadOnly) {
		t.Errorf("change: %v, want ErrReadOnly", err)
	}
	if _, err := s.Snapshot(); !errors.Is(err, store.ErrReadOnly) {
		t.Errorf("snapshot: %v, want ErrReadOnly", err)
	}
}

func TestForbiddenFolder(t *testing.T) {
	if os.Geteuid() == 0 || runtime.GOOS == "windows" {
		t.Skip("nothing is forbidden to this user")
	}
	folder := t.TempDir()
	if err := os.Chmod(folder, 0o500); err != nil {
		t.Fatal(err)
	}
	_, err := store.Open(filepath.Join(folder, "x"), options(storetest.NewClock()))
	if !errors.Is(err, store.ErrForbidden) {
		t.Errorf("open: %v, want ErrForbidden", err)
	}
}

func TestCopies(t *testing.T) {
	folder := filled(t, 1)
	want := []string{
		"Collection-workshop.db", "collection (1).db", "collection (conflicted copy 2027-06-09).db",
		"collection 2.db", "collection.sync-conflict-1.db",
	}
	for _, name := range append(want, "other.db", "collection.txt", "notes") {
		write(t, filepath.Join(folder, name), []byte("x"))
	}
	paths, err := store.Copies(folder)
	var got []string
	for _, p := range paths {
		got = append(got, filepath.Base(p))
	}
	if err != nil || !slices.Equal(got, want) {
		t.Errorf("copies %q, %v, want %q", got, err, want)
	}
}

func TestFaultNamesPathAndCause(t *testing.T) {
	for kind, reason := range map[error]string{
		store.ErrNewer: "collection.newer", store.ErrReadOnly: "collection.readonly", store.ErrFull: "collection.full",
		store.ErrForbidden: "collection.forbidden", store.ErrReplaced: "collection.replaced", store.ErrDamaged: "collection.damaged",
		store.ErrMissing: "collection.missing", store.ErrUnverified: "collection.unverified", store.ErrUnknown: "collection.unknown",
	} {
		f := &store.Fault{Kind: kind, Path: "folder/x"}
		r := f.Refusal()
		if !errors.Is(f, kind) || r.Reason != reason || r.Value != "folder/x" || !strings.Contains(f.Error(), "folder/x") {
			t.Errorf("fault %v: refusal %+v, want reason %s", f, r, reason)
		}
	}
}
