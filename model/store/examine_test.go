package store_test

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"coilward/model"
	"coilward/model/store"
	"coilward/model/storetest"
)

// said is what was found, each with its place.
func said(e store.Examined) (all []string) {
	for _, f := range e.Found {
		at, twin := "here", ""
		if f.Second {
			at = "there"
		}
		if f.Twin != "" {
			twin = " twin"
		}
		name := filepath.Base(f.Path)
		all = append(all, fmt.Sprintf("%s %s %s%s", at, f.What, name[:min(8, len(name))], twin))
	}
	slices.Sort(all)
	return all
}

func examine(t *testing.T, s *store.Store, named ...string) store.Examined {
	t.Helper()
	ids := map[model.PhotoID]bool{}
	for _, name := range named {
		ids[model.PhotoID(strings.TrimSuffix(name, ".jpg"))] = true
	}
	last := 0.
	e, err := s.Examine(t.Context(), ids, func(share float64) {
		if share < last || share > 1 {
			t.Errorf("progress went from %v to %v", last, share)
		}
		last = share
	})
	if err != nil {
		t.Fatal(err)
	}
	return e
}

// spoil turns one bit of a file over, which changes neither its length nor its time.
func spoil(t *testing.T, path string) {
	t.Helper()
	info, err := os.Stat(path)
	if err != nil {
		t.Fatal(err)
	}
	raw := read(t, path)
	raw[len(raw)/2] ^= 4
	write(t, path, raw)
	if err := os.Chtimes(path, info.ModTime(), info.ModTime()); err != nil {
		t.Fatal(err)
	}
}

// Damage that comes to the second place later is found again, with since when, and is
// mended from the first; and the other way round.
func TestDamageAtEitherPlaceIsFoundAndMended(t *testing.T) {
	s, folder, clock := here(t)
	one, two := photo(t, folder, "one, which is long"), photo(t, folder, "two, which is long")
	made := snapshot(t, s)
	chosen := choose(t, s, t.TempDir())
	bring(t, s)
	if e := examine(t, s, one, two); len(e.Found) != 0 || e.Photos != 4 || e.Backups != 2 || e.Second != chosen.Folder {
		t.Fatalf("where all is good: %+v", e)
	}
	checked := second(t, s).Checked
	if !checked.Equal(clock.Now()) {
		t.Errorf("checked at %v", checked)
	}
	there := filepath.Join(chosen.Inside, store.PhotosFolder, one)
	old := clock.Now().Add(-time.Hour)
	if err := os.Chtimes(there, old, old); err != nil {
		t.Fatal(err)
	}
	clock.Pass(24 * time.Hour)
	spoil(t, there)
	spoil(t, filepath.Join(chosen.Inside, store.BackupsFolder, filepath.Base(made.Path)))
	if err := os.Remove(filepath.Join(folder, store.PhotosFolder, two)); err != nil {
		t.Fatal(err)
	}
	if got := bring(t, s); got.Photos != 0 || got.Snapshots != 0 {
		t.Errorf("brought %+v", got)
	}
	e := examine(t, s, one, two)
	want := []string{"here gone " + two[:8] + " twin", "there backup " + filepath.Base(made.Path)[:8] + " twin", "there photo " + one[:8] + " twin"}
	if got := said(e); !slices.Equal(got, want) {
		t.Fatalf("found %q, want %q", got, want)
	}
	for _, f := range e.Found {
		switch f.What {
		case store.WrongPhoto:
			if !f.Good.Equal(checked) {
				t.Errorf("a photo was good %v, want %v", f.Good, checked)
			}
		case store.WrongBackup:
			if !f.Good.Equal(made.Taken) {
				t.Errorf("a backup was good %v, want %v", f.Good, made.Taken)
			}
		}
	}
	if !second(t, s).Checked.Equal(checked) {
		t.Error("damage was remembered as good")
	}
	if n, err := s.Mend(t.Context(), e.Found); n != 3 || err != nil {
		t.Errorf("mended %d, %v", n, err)
	}
	if e := examine(t, s, one, two); len(e.Found) != 0 || e.Photos != 4 {
		t.Errorf("after mending: %q", said(e))
	}
}

// A photo that no record names is counted; one that is named and gone is found; what
// is no file is named, and neither followed nor waited for.
// A copy that was spoilt after it was found good is brought over nothing: it is held
// against its name, and a backup against the sum beside it.
func TestACopySpoiltMeanwhileIsNotBrought(t *testing.T) {
	s, err := store.Open(t.TempDir(), store.Options{Now: storetest.NewClock().Now, Machine: "m", Verifier: store.VerifyHere})
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	other := t.TempDir()
	write := func(path, bytes string) {
		t.Helper()
		if err := errors.Join(os.MkdirAll(filepath.Dir(path), 0o700), os.WriteFile(path, []byte(bytes), 0o600)); err != nil {
			t.Fatal(err)
		}
	}
	sum := func(bytes string) string { h := sha256.Sum256([]byte(bytes)); return hex.EncodeToString(h[:]) }
	photo, backup := sum("good bytes")+".jpeg", "00000001-20270609T090000Z.db"
	for _, c := range []struct {
		what         store.Wrong
		folder, name string
		summed       bool
	}{{store.WrongPhoto, store.PhotosFolder, photo, false}, {store.WrongBackup, store.BackupsFolder, backup, true}, {store.WrongBackup, store.BackupsFolder, backup, false}} {
		own, twin := filepath.Join(s.Folder(), c.folder, c.name), filepath.Join(other, c.name)
		write(own, "bad")
		write(twin, "spoilt since")
		if c.summed {
			write(twin+".sha256", sum("good bytes")+"  "+c.name+"\n")
		}
		n, err := s.Mend(t.Context(), []store.Finding{{Path: own, What: c.what, Twin: twin}})
		if now, _ := os.ReadFile(own); n != 0 || !errors.Is(err, store.ErrDamaged) || string(now) != "bad" {
			t.Errorf("%+v: mended %d, %v; there is %q", c, n, err, now)
		}
	}
}

func TestWhatIsNoFileIsNamedAndNotFollowed(t *testing.T) {
	s, folder, _ := here(t)
	one := photo(t, folder, "one")
	made := snapshot(t, s)
	photos, backups := filepath.Join(folder, store.PhotosFolder), filepath.Join(folder, store.BackupsFolder)
	secret := filepath.Join(t.TempDir(), "secret")
	write(t, secret, []byte("two"))
	sum := strings.Repeat("ab", 32) + ".jpg"
	for _, err := range []error{
		os.Symlink(secret, filepath.Join(photos, sum)), os.Mkdir(filepath.Join(photos, "holidays"), 0o700), os.Mkdir(filepath.Join(photos, "derived"), 0o700),
		os.Symlink(secret, filepath.Join(backups, "link.db")), os.Mkdir(filepath.Join(backups, "older"), 0o700),
	} {
		if err != nil {
			t.Fatal(err)
		}
	}
	pipe(t, filepath.Join(photos, strings.Repeat("cd", 32)+".jpg"))
	pipe(t, filepath.Join(backups, strings.Replace(filepath.Base(made.Path), "-000001.", "-000002.", 1)))
	gone := strings.Repeat("ef", 32)
	e := examine(t, s, one, gone)
	want := []string{"here gone efefefef", "here kind 20270609", "here kind abababab", "here kind cdcdcdcd", "here kind holidays", "here kind link.db", "here kind older"}
	want[1] = "here kind " + filepath.Base(made.Path)[:8]
	if got := said(e); !slices.Equal(got, want) || e.Photos != 1 || e.Backups != 1 {
		t.Errorf("found %q, want %q; %+v", got, want, e)
	}
	if newest, ok, err := store.NewestSnapshot(folder); err != nil || !ok || newest != made {
		t.Errorf("the newest backup: %+v, %t, %v", newest, ok, err)
	}
	pipe(t, made.Path+".new")
	if err := os.Rename(made.Path+".new", made.Path+".sha256"); err != nil {
		t.Fatal(err)
	}
	if got := said(examine(t, s, one)); !slices.Contains(got, "here no-sum "+filepath.Base(made.Path)[:8]) {
		t.Errorf("a pipe in the place of a sum: %q", got)
	}
}

func TestExaminingWritesNothingAndStops(t *testing.T) {
	folder := filled(t, 3)
	photo(t, folder, "one")
	o := store.Options{Now: storetest.NewClock().Now, Machine: "workshop"}
	before, err := os.Stat(folder)
	if err != nil {
		t.Fatal(err)
	}
	if e, err := store.Examine(t.Context(), folder, o, nil, func(float64) {}); err != nil || e.Photos != 1 {
		t.Fatalf("%+v, %v", e, err)
	}
	if after, err := os.Stat(folder); err != nil || !after.ModTime().Equal(before.ModTime()) {
		t.Error("it wrote into the folder")
	}
	stopped, stop := context.WithCancel(t.Context())
	stop()
	if _, err := store.Examine(stopped, folder, o, nil, func(float64) {}); !errors.Is(err, context.Canceled) {
		t.Errorf("stopped: %v", err)
	}
}

func TestASecondPlaceThatIsAwayIsSaidAndTheFirstIsRead(t *testing.T) {
	s, folder, _ := here(t)
	one := photo(t, folder, "one")
	stick := filepath.Join(t.TempDir(), "stick")
	if err := os.Mkdir(stick, 0o700); err != nil {
		t.Fatal(err)
	}
	choose(t, s, stick)
	if err := os.RemoveAll(stick); err != nil {
		t.Fatal(err)
	}
	if e := examine(t, s, one); !e.Away || e.Photos != 1 || len(e.Found) != 0 {
		t.Errorf("%+v", e)
	}
}

// A file, or a link that leads nowhere, in the place of a folder is named as that; a
// link to a folder is one.
func TestALinkInThePlaceOfAFolder(t *testing.T) {
	for name, c := range map[string]struct {
		put  func(path string) error
		good bool
	}{
		"a link to a folder":        {func(path string) error { return os.Symlink(t.TempDir(), path) }, true},
		"a link that leads nowhere": {func(path string) error { return os.Symlink(filepath.Join(t.TempDir(), "gone"), path) }, false},
		"a file":                    {func(path string) error { return os.WriteFile(path, []byte("a letter"), 0o600) }, false},
	} {
		s, folder, _ := here(t)
		photos := filepath.Join(folder, store.PhotosFolder)
		if err := errors.Join(os.RemoveAll(photos), c.put(photos)); err != nil {
			t.Skipf("no link can be made here: %v", err)
		}
		e := examine(t, s)
		if got := slices.ContainsFunc(e.Found, func(f store.Finding) bool { return f.What == store.WrongFolder && f.Path == photos }); got == c.good {
			t.Errorf("%s: found %+v", name, e.Found)
		}
		var fault *store.Fault
		switch _, err := s.Snapshot(); {
		case c.good && err != nil:
			t.Errorf("%s: %v", name, err)
		case !c.good && (!errors.As(err, &fault) || fault.Refusal().Reason != "collection.no-folder" || fault.Path != photos):
			t.Errorf("%s: %v, want that it is no folder", name, err)
		}
	}
}
