package store_test

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"coilward/model"
	"coilward/model/store"
	"coilward/model/storetest"
)

// here opens a collection with entries by a clock that the test has in hand.
func here(t *testing.T) (*store.Store, string, *storetest.Clock) {
	t.Helper()
	folder := filled(t, 3)
	clock := storetest.NewClock()
	s, err := store.Open(folder, store.Options{Now: clock.Now, Machine: "workshop", Verifier: store.VerifyHere})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { closeStore(t, s) })
	return s, folder, clock
}

func snapshot(t *testing.T, s *store.Store) store.Snapshot {
	t.Helper()
	made, err := s.Snapshot()
	if err != nil {
		t.Fatal(err)
	}
	return made
}

// photo lays a file named after its bytes among the photos.
func photo(t *testing.T, folder, bytes string) string {
	t.Helper()
	sum := sha256.Sum256([]byte(bytes))
	name := hex.EncodeToString(sum[:]) + ".jpg"
	write(t, filepath.Join(folder, store.PhotosFolder, name), []byte(bytes))
	return name
}

func choose(t *testing.T, s *store.Store, place string) store.SecondPlace {
	t.Helper()
	if err := s.ChooseSecond(place); err != nil {
		t.Fatal(err)
	}
	return second(t, s)
}

func second(t *testing.T, s *store.Store) store.SecondPlace {
	t.Helper()
	chosen, ok, err := s.Second()
	if err != nil || !ok {
		t.Fatalf("the second place: %t, %v", ok, err)
	}
	return chosen
}

func bring(t *testing.T, s *store.Store) store.Brought {
	t.Helper()
	brought, err := s.BringSecond(t.Context(), nil)
	if err != nil {
		t.Fatal(err)
	}
	return brought
}

func TestASecondPlaceGetsEveryBackupAndEachPhotoOnce(t *testing.T) {
	s, folder, clock := here(t)
	one := photo(t, folder, "one")
	made := snapshot(t, s)
	chosen := choose(t, s, t.TempDir())
	if got := bring(t, s); got.Snapshots != 1 || got.Photos != 1 {
		t.Fatalf("brought %+v", got)
	}
	there, err := store.Snapshots(chosen.Inside)
	if err != nil || len(there) != 1 || !bytes.Equal(read(t, there[0].Path), read(t, made.Path)) {
		t.Fatalf("there lie %+v, %v", there, err)
	}
	newest, ok, err := store.NewestSnapshot(chosen.Inside) // its sum fits
	if err != nil || !ok || newest.Sequence != made.Sequence {
		t.Errorf("newest there %+v, %t, %v", newest, ok, err)
	}
	before, err := os.Stat(filepath.Join(chosen.Inside, store.PhotosFolder, one))
	if err != nil {
		t.Fatal(err)
	}
	clock.Pass(time.Hour)
	photo(t, folder, "two")
	snapshot(t, s)
	if got := bring(t, s); got.Snapshots != 1 || got.Photos != 1 {
		t.Errorf("brought %+v, want what is new alone", got)
	}
	after, err := os.Stat(filepath.Join(chosen.Inside, store.PhotosFolder, one))
	if err != nil || !os.SameFile(before, after) {
		t.Errorf("a photo that was there was copied again: %v", err)
	}
	if at := second(t, s); !at.Whole.Equal(storetest.Start().Add(time.Hour)) || !at.Since.IsZero() {
		t.Errorf("remembered %+v", at)
	}
	if got := bring(t, s); got.Snapshots != 0 || got.Photos != 0 {
		t.Errorf("brought %+v where nothing is new", got)
	}
}

// Backups rotate there as here; photos never go.
func TestASecondPlaceRotatesAndKeepsPhotos(t *testing.T) {
	s, folder, clock := here(t)
	name := photo(t, folder, "one")
	chosen := choose(t, s, t.TempDir())
	for range 15 {
		snapshot(t, s)
		bring(t, s)
		clock.Pass(time.Minute)
	}
	if err := os.Remove(filepath.Join(folder, store.PhotosFolder, name)); err != nil {
		t.Fatal(err)
	}
	bring(t, s)
	here, err := store.Snapshots(folder)
	if err != nil {
		t.Fatal(err)
	}
	there, err := store.Snapshots(chosen.Inside)
	if err != nil || len(there) != len(here) || there[0].Taken != here[0].Taken || there[9].Taken != here[9].Taken {
		t.Errorf("there lie %d backups, here %d, %v", len(there), len(here), err)
	}
	if _, err := os.Stat(filepath.Join(chosen.Inside, store.PhotosFolder, name)); err != nil {
		t.Errorf("the photo is gone there too: %v", err)
	}
}

// A stick that is not in is remembered with since when; an empty folder where it
// was is not written to; when it is in again, all that was missed comes to it.
func TestASecondPlaceThatWasAwayIsMadeGood(t *testing.T) {
	s, _, clock := here(t)
	stick := t.TempDir()
	chosen := choose(t, s, stick)
	aside := chosen.Inside + " pulled out"
	if err := os.Rename(chosen.Inside, aside); err != nil {
		t.Fatal(err)
	}
	for round := range 2 {
		snapshot(t, s)
		_, err := s.BringSecond(t.Context(), nil)
		var away *store.SecondFault
		if !errors.As(err, &away) || !errors.Is(err, store.ErrAway) || away.Folder != stick || away.Refusal().Reason != "second.away" {
			t.Fatalf("round %d: %v, want away", round, err)
		}
		if at := second(t, s); at.Why != store.SecondAway || !at.Since.Equal(storetest.Start()) {
			t.Errorf("round %d: remembered %+v, want since the first time", round, at)
		}
		clock.Pass(time.Hour)
	}
	if left, err := os.ReadDir(stick); err != nil || len(left) != 1 {
		t.Errorf("written to the empty folder: %v, %v", left, err)
	}
	if err := os.Rename(aside, chosen.Inside); err != nil {
		t.Fatal(err)
	}
	if got := bring(t, s); got.Snapshots != 2 {
		t.Errorf("brought %+v, want both", got)
	}
	if at := second(t, s); at.Why != "" || !at.Since.IsZero() || at.Whole.IsZero() {
		t.Errorf("remembered %+v", at)
	}
}

// What is damaged here is not spread, and what does not fit does not hinder the
// rest.
func TestNothingDamagedComesToASecondPlace(t *testing.T) {
	s, folder, clock := here(t)
	bad := snapshot(t, s)
	clock.Pass(time.Minute)
	snapshot(t, s)
	data := read(t, bad.Path)
	data[len(data)/2] ^= 1
	write(t, bad.Path, data)
	name := photo(t, folder, "one")
	write(t, filepath.Join(folder, store.PhotosFolder, name), []byte("another"))
	photo(t, folder, "two")
	write(t, filepath.Join(folder, store.PhotosFolder, "notes.txt"), []byte("mine"))
	chosen := choose(t, s, t.TempDir())
	if got := bring(t, s); got.Snapshots != 1 || got.Photos != 1 || got.Damaged != 1 {
		t.Errorf("brought %+v", got)
	}
	for _, in := range []string{store.BackupsFolder, store.PhotosFolder} {
		files, err := os.ReadDir(filepath.Join(chosen.Inside, in))
		want := map[string]int{store.BackupsFolder: 2, store.PhotosFolder: 1}[in]
		if err != nil || len(files) != want {
			t.Errorf("%s: %v, %v", in, files, err)
		}
	}
}

func TestAPlaceThatCannotBeASecondOneIsRefused(t *testing.T) {
	s, folder, _ := here(t)
	for place, want := range map[string]string{
		filepath.Join(folder, store.BackupsFolder): "second.inside",
		folder:                           "second.inside",
		filepath.Join(folder, "nowhere"): "second.away",
	} {
		var refusal *model.Refusal
		if err := s.ChooseSecond(place); !errors.As(err, &refusal) || refusal.Reason != want || refusal.Value != place {
			t.Errorf("%s: %v, want %s", place, err, want)
		}
	}
	if _, ok, err := s.Second(); ok || err != nil {
		t.Errorf("a refused place is remembered: %v", err)
	}
	choose(t, s, t.TempDir())
	if err := s.ChooseSecond(""); err != nil {
		t.Fatal(err)
	}
	if _, ok, err := s.Second(); ok || err != nil {
		t.Errorf("given up, but still there: %v", err)
	}
	if got := bring(t, s); got != (store.Brought{}) {
		t.Errorf("without a second place %+v was brought", got)
	}
}

// Where a folder of the place cannot be written into, that is said, and the first
// place and the collection go on.
func TestASecondPlaceThatFailsLeavesTheFirstAlone(t *testing.T) {
	s, folder, _ := here(t)
	chosen := choose(t, s, t.TempDir())
	made := snapshot(t, s)
	backups := filepath.Join(chosen.Inside, store.BackupsFolder)
	if err := os.Remove(backups); err != nil {
		t.Fatal(err)
	}
	write(t, backups, []byte("a file in the way"))
	_, err := s.BringSecond(t.Context(), nil)
	var failed *store.SecondFault
	if !errors.As(err, &failed) || failed.Why() != store.SecondUnknown {
		t.Fatalf("%v, want a fault of the second place", err)
	}
	if newest, ok, err := store.NewestSnapshot(folder); err != nil || !ok || newest != made {
		t.Errorf("the first place: %+v, %t, %v", newest, ok, err)
	}
	weigh(t, over(t, s), 9)
}

func TestBringingCanBeStopped(t *testing.T) {
	s, _, _ := here(t)
	snapshot(t, s)
	choose(t, s, t.TempDir())
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	if _, err := s.BringSecond(ctx, nil); !errors.Is(err, context.Canceled) {
		t.Errorf("%v, want it stopped", err)
	}
	if at := second(t, s); at.Why != "" {
		t.Errorf("stopped by hand, but remembered as %+v", at)
	}
}

// What lies in a second place can be opened like a collection of its own.
func TestACollectionComesBackFromItsSecondPlace(t *testing.T) {
	s, folder, _ := here(t)
	snapshot(t, s)
	chosen := choose(t, s, t.TempDir())
	bring(t, s)
	newest, ok, err := store.NewestSnapshot(chosen.Inside)
	if err != nil || !ok {
		t.Fatal(ok, err)
	}
	if _, err := store.Restore(chosen.Inside, newest.Path, options(storetest.NewClock())); err != nil {
		t.Fatal(err)
	}
	back := open(t, chosen.Inside)
	defer closeStore(t, back)
	if storetest.Everything(t, back) != storetest.Everything(t, s) {
		t.Errorf("what came back differs from %s", folder)
	}
}

// Where no good backup is left in the first place, that of the second is the newest.
func TestTheNewestBackupOfBothPlaces(t *testing.T) {
	s, folder, clock := here(t)
	o := store.Options{Now: clock.Now, Machine: "workshop"}
	if _, ok, err := store.NewestBackup(folder, o); ok || err != nil {
		t.Errorf("found one where there is none: %v", err)
	}
	made := snapshot(t, s)
	chosen := choose(t, s, t.TempDir())
	bring(t, s)
	if newest, ok, err := store.NewestBackup(folder, o); !ok || err != nil || newest != made {
		t.Errorf("newest %+v, %t, %v, want that of the first place", newest, ok, err)
	}
	if err := os.RemoveAll(filepath.Join(folder, store.BackupsFolder)); err != nil {
		t.Fatal(err)
	}
	newest, ok, err := store.NewestBackup(folder, o)
	if !ok || err != nil || newest.Sequence != made.Sequence || filepath.Dir(filepath.Dir(newest.Path)) != chosen.Inside {
		t.Errorf("newest %+v, %t, %v, want that of the second place", newest, ok, err)
	}
}

// A photo that records name and that is at neither place is counted and remembered; one
// that only this place has lost is not.
func TestBringingCountsTheNamedPhotosThatAreGone(t *testing.T) {
	s, folder, _ := here(t)
	one := photo(t, folder, "one")
	two := photo(t, folder, "two")
	gone := model.PhotoID(strings.Repeat("0", 64))
	named := map[model.PhotoID]bool{model.PhotoID(strings.TrimSuffix(one, filepath.Ext(one))): true, model.PhotoID(strings.TrimSuffix(two, filepath.Ext(two))): true, gone: true}
	choose(t, s, t.TempDir())
	for range 2 {
		got, err := s.BringSecond(t.Context(), named)
		if err != nil || got.Missing != 1 || got.Damaged != 0 {
			t.Errorf("%+v, %v, want one missing", got, err)
		}
		if second, _, err := s.Second(); err != nil || second.Photos != 1 {
			t.Errorf("remembered is %+v, %v", second, err)
		}
		if err := os.RemoveAll(filepath.Join(folder, store.PhotosFolder, one)); err != nil {
			t.Fatal(err)
		}
	}
	write(t, filepath.Join(folder, store.PhotosFolder, two), []byte("other"))
	if got, err := s.BackUpTo(t.Context(), t.TempDir(), named); err != nil || got.Damaged != 1 || got.Missing != 2 {
		t.Errorf("%+v, %v, want one damaged and two missing", got, err)
	}
	delete(named, gone)
	if got, err := s.BringSecond(t.Context(), named); err != nil || got.Missing != 0 {
		t.Errorf("%+v, %v, want none missing", got, err)
	}
}
