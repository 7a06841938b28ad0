package store_test

import (
	"bytes"
	"encoding/binary"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"coilward/model/collection"
	"coilward/model/store"
	"coilward/model/storetest"
)

func TestSnapshotHoldsTheState(t *testing.T) {
	folder := filled(t, 10)
	s := open(t, folder)
	defer closeStore(t, s)
	made, err := s.Snapshot()
	if err != nil {
		t.Fatal(err)
	}
	if made.Sequence != 11 || !made.Taken.Equal(storetest.Start()) {
		t.Errorf("snapshot %+v", made)
	}
	copied, err := store.OpenReadOnly(made.Path)
	if err != nil {
		t.Fatal(err)
	}
	defer closeStore(t, copied)
	if storetest.Everything(t, copied) != storetest.Everything(t, s) {
		t.Error("the snapshot differs from the collection")
	}
	newest, ok, err := store.NewestSnapshot(folder)
	if err != nil || !ok || newest != made {
		t.Errorf("newest snapshot %+v, %t, %v", newest, ok, err)
	}
}

func TestSnapshotOnlyIfChanged(t *testing.T) {
	folder := t.TempDir()
	s := open(t, folder)
	defer closeStore(t, s)
	if _, taken, err := s.SnapshotIfChanged(); taken || err != nil {
		t.Errorf("an empty collection was copied: %v", err)
	}
	c := over(t, s)
	for i, want := range []bool{true, false} {
		if want {
			weigh(t, c, i)
		}
		if _, taken, err := s.SnapshotIfChanged(); taken != want || err != nil {
			t.Errorf("round %d: taken %t, %v, want %t", i, taken, err, want)
		}
	}
}

func TestBadSnapshotIsNotKept(t *testing.T) {
	folder := filled(t, 3)
	o := options(storetest.NewClock())
	o.Verifier = func(string) (store.Report, error) { return store.Report{Problems: []string{"page 3"}}, nil }
	s, err := store.Open(folder, o)
	if err != nil {
		t.Fatal(err)
	}
	defer closeStore(t, s)
	if _, err := s.Snapshot(); !errors.Is(err, store.ErrDamaged) || !strings.Contains(err.Error(), "page 3") {
		t.Errorf("snapshot: %v, want ErrDamaged", err)
	}
	files, err := os.ReadDir(filepath.Join(folder, store.BackupsFolder))
	if err != nil || len(files) != 0 {
		t.Errorf("files are left: %v, %v", files, err)
	}
}

func TestChangedSnapshotIsPassedOver(t *testing.T) {
	folder := filled(t, 3)
	clock := storetest.NewClock()
	s, err := store.Open(folder, options(clock))
	if err != nil {
		t.Fatal(err)
	}
	defer closeStore(t, s)
	first, err := s.Snapshot()
	if err != nil {
		t.Fatal(err)
	}
	clock.Pass(time.Minute)
	second, err := s.Snapshot()
	if err != nil {
		t.Fatal(err)
	}
	data := read(t, second.Path)
	data[len(data)/2] ^= 1
	write(t, second.Path, data)
	if newest, ok, err := store.NewestSnapshot(folder); err != nil || !ok || newest != first {
		t.Errorf("newest whole snapshot %+v, %t, %v, want %+v", newest, ok, err, first)
	}
}

func TestSnapshotsRotate(t *testing.T) {
	folder := filled(t, 2)
	clock := storetest.NewClock()
	s, err := store.Open(folder, store.Options{Now: clock.Now, Machine: "workshop", Verifier: store.VerifyHere})
	if err != nil {
		t.Fatal(err)
	}
	defer closeStore(t, s)
	for range 15 {
		if _, err := s.Snapshot(); err != nil {
			t.Fatal(err)
		}
		clock.Pass(time.Minute)
	}
	all, err := store.Snapshots(folder)
	if err != nil || len(all) != 10 || !all[0].Taken.Equal(storetest.Start().Add(14*time.Minute)) {
		t.Errorf("%d snapshots, newest %+v, %v, want the last 10", len(all), all[0], err)
	}
	files, err := os.ReadDir(filepath.Join(folder, store.BackupsFolder))
	if err != nil || len(files) != 20 {
		t.Errorf("%d files, want 10 snapshots and their sums: %v", len(files), err)
	}
}

// A clock that was set back does not make the newest snapshot an older one: it
// is the one that is restored, and it outlives those of the wrong time.
func TestSnapshotsOfAClockSetBack(t *testing.T) {
	folder := filled(t, 2)
	clock := storetest.NewClock()
	s, err := store.Open(folder, store.Options{Now: clock.Now, Machine: "workshop", Verifier: store.VerifyHere})
	if err != nil {
		t.Fatal(err)
	}
	defer closeStore(t, s)
	c := over(t, s)
	clock.Pass(400 * 24 * time.Hour)
	for range 12 {
		if _, err := s.Snapshot(); err != nil {
			t.Fatal(err)
		}
		clock.Pass(time.Minute)
	}
	clock.Set(storetest.Start())
	weigh(t, c, 7)
	made, taken, err := s.SnapshotIfChanged()
	if err != nil || !taken {
		t.Fatalf("snapshot: %t, %v", taken, err)
	}
	if newest, ok, err := store.NewestSnapshot(folder); err != nil || !ok || newest != made {
		t.Errorf("newest %+v, %t, %v, want the one made last, %+v", newest, ok, err, made)
	}
	if _, taken, err := s.SnapshotIfChanged(); taken || err != nil {
		t.Errorf("a second one without a change: %t, %v", taken, err)
	}
}

// What is noted after an older state was restored is newer than what was
// noted before, though it holds fewer changes.
func TestSnapshotsAfterRestoringAnOlderState(t *testing.T) {
	folder := filled(t, 5)
	clock := storetest.NewClock()
	s, err := store.Open(folder, options(clock))
	if err != nil {
		t.Fatal(err)
	}
	early, err := s.Snapshot()
	if err != nil {
		t.Fatal(err)
	}
	for i := range 4 {
		weigh(t, over(t, s), i)
	}
	if _, err := s.Snapshot(); err != nil {
		t.Fatal(err)
	}
	closeStore(t, s)
	if _, err := store.Restore(folder, early.Path, options(clock)); err != nil {
		t.Fatal(err)
	}
	s, err = store.Open(folder, options(clock))
	if err != nil {
		t.Fatal(err)
	}
	defer closeStore(t, s)
	weigh(t, over(t, s), 99)
	made, taken, err := s.SnapshotIfChanged()
	if err != nil || !taken {
		t.Fatalf("snapshot: %t, %v", taken, err)
	}
	if newest, ok, err := store.NewestSnapshot(folder); err != nil || !ok || newest != made {
		t.Errorf("newest %+v, %t, %v, want %+v", newest, ok, err, made)
	}
}

func day(year int, month time.Month, d int) time.Time {
	return time.Date(year, month, d, 12, 0, 0, 0, time.UTC)
}

func TestRetain(t *testing.T) {
	var daily []time.Time // 800 days back from a Wednesday
	for i := range 800 {
		daily = append(daily, day(2027, time.June, 9).AddDate(0, 0, -i))
	}
	kept := map[string]bool{}
	for i, keep := range store.Retain(daily) {
		if keep {
			kept[daily[i].Format(time.DateOnly)] = true
		}
	}
	want := []string{
		"2027-06-09", "2027-06-08", "2027-06-07", "2027-06-06", "2027-06-05", "2027-06-04", "2027-06-03", "2027-06-02", "2027-06-01", "2027-05-31",
		"2027-05-30", "2027-05-23", "2027-05-16", "2027-05-09", "2027-05-02", "2027-04-25", // Sundays: with 9 and 6 June eight weeks
		"2027-04-30", "2027-03-31", "2027-02-28", "2027-01-31", "2026-12-31", "2026-11-30", "2026-10-31", "2026-09-30", "2026-08-31", "2026-07-31", // with June and 31 May twelve months
	}
	for _, day := range want {
		if !kept[day] {
			t.Errorf("%s is not kept", day)
		}
		delete(kept, day)
	}
	if len(kept) != 0 {
		t.Errorf("kept as well: %v", kept)
	}
}

// Whatever the times: the newest is kept, never more than 30, and clearing twice
// is the same as once.
func TestRetainProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		days := rapid.SliceOfN(rapid.IntRange(0, 20_000), 1, 100).Draw(t, "hours")
		var taken, left []time.Time
		for _, d := range days {
			taken = append(taken, day(2025, time.January, 1).Add(time.Duration(d)*time.Hour))
		}
		newest := taken[0]
		for i, keep := range store.Retain(taken) {
			if keep {
				left = append(left, taken[i])
			}
		}
		found := false
		for i, keep := range store.Retain(left) {
			found = found || left[i].Equal(newest)
			if !keep {
				t.Fatalf("%v was kept at first and not at second", left[i])
			}
		}
		if !found || len(left) > 30 || len(left) < min(10, len(taken)) {
			t.Fatalf("%d of %d kept, the newest among them: %t", len(left), len(taken), found)
		}
	})
}

func TestRestore(t *testing.T) {
	folder := filled(t, 5)
	clock := storetest.NewClock()
	s, err := store.Open(folder, options(clock))
	if err != nil {
		t.Fatal(err)
	}
	made, err := s.Snapshot()
	if err != nil {
		t.Fatal(err)
	}
	want := storetest.Everything(t, s)
	weigh(t, over(t, s), 99)
	if _, err := store.Restore(folder, made.Path, options(clock)); !errors.As(err, new(*store.AlreadyOpen)) {
		t.Errorf("restore over an open collection: %v, want AlreadyOpen", err)
	}
	closeStore(t, s)
	replaced := read(t, file(folder))
	for range 2 { // twice in one second: both that were replaced are kept
		aside, err := store.Restore(folder, made.Path, options(clock))
		if err != nil || !bytes.Equal(read(t, aside), replaced) {
			t.Fatalf("restore: %v; what was there is not kept", err)
		}
		replaced = read(t, file(folder))
	}
	if unclean, err := store.Unclean(folder); unclean || err != nil {
		t.Errorf("unclean after restoring: %v", err)
	}
	s = open(t, folder)
	defer closeStore(t, s)
	if storetest.Everything(t, s) != want {
		t.Error("the restored collection differs from the snapshot")
	}
}

func TestRestoreOfABadFileChangesNothing(t *testing.T) {
	folder := filled(t, 5)
	before := read(t, file(folder))
	bad := filepath.Join(t.TempDir(), "bad.db")
	write(t, bad, without(bytes.Clone(before), collection.Journal, binary.BigEndian.AppendUint64(nil, 1)))
	if _, err := store.Restore(folder, bad, options(storetest.NewClock())); !errors.Is(err, store.ErrDamaged) {
		t.Errorf("restore: %v, want ErrDamaged", err)
	}
	if !bytes.Equal(read(t, file(folder)), before) {
		t.Error("the collection was changed")
	}
	if _, err := os.Stat(file(folder) + ".new"); err == nil {
		t.Error("the copy is left")
	}
}
