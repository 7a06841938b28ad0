package store_test

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"coilward/model"
	"coilward/model/store"
	"coilward/model/storetest"
)

// smallDisk is a file system of one megabyte in memory, where this user may
// mount one.
func smallDisk(t *testing.T) string {
	t.Helper()
	folder := t.TempDir()
	if err := syscall.Mount("tmpfs", folder, "tmpfs", 0, "size=1m"); err != nil {
		t.Skipf("no file system can be mounted here: %v", err)
	}
	t.Cleanup(func() {
		if err := syscall.Unmount(folder, 0); err != nil {
			t.Error(err)
		}
	})
	return folder
}

// On a full disk a change fails as a whole and says so, nothing is lost, and
// when there is room again the same store goes on.
func TestFullDisk(t *testing.T) {
	disk := smallDisk(t)
	folder := filepath.Join(disk, "collection")
	s := open(t, folder)
	c := over(t, s)
	ballast := filepath.Join(disk, "ballast")
	write(t, ballast, make([]byte, 600_000))
	n := 0
	var err error
	for err == nil && n < 1000 {
		n++
		entry := storetest.Entry(numbered(n), animal, int64(n), strings.Repeat("x", 5000))
		_, err = c.Do(storetest.Put{Documents: []model.Document{entry}})
	}
	var fault *store.Fault
	if !errors.Is(err, store.ErrFull) || !errors.As(err, &fault) || fault.Path != file(folder) || fault.Refusal().Reason != "collection.full" {
		t.Fatalf("entry %d on a full disk: %v, want ErrFull", n, err)
	}
	if _, err := s.Snapshot(); !errors.Is(err, store.ErrFull) {
		t.Errorf("snapshot: %v, want ErrFull", err)
	}
	if err := os.Remove(ballast); err != nil {
		t.Fatal(err)
	}
	for range 3 {
		entry := storetest.Entry(numbered(n), animal, int64(n), "after")
		if _, err := c.Do(storetest.Put{Documents: []model.Document{entry}}); err != nil {
			t.Fatalf("with room again: %v", err)
		}
		n++
	}
	found := 0
	if err := c.View(func(v model.View) error {
		return v.All(model.TypeEntry, func(model.Document) bool { found++; return true })
	}); err != nil || found != n-1 {
		t.Errorf("%d entries, %v, want %d", found, err, n-1)
	}
	closeStore(t, s)
	good(t, file(folder))
}

// What did not find room gives back what the file had grown by for it.
func TestAFullDiskGetsItsRoomBack(t *testing.T) {
	disk := smallDisk(t)
	folder := filepath.Join(disk, "collection")
	s := open(t, folder)
	c := over(t, s)
	weigh(t, c, 1)
	before := sizeOf(t, file(folder))
	var many []model.Document
	for n := range 200 {
		many = append(many, storetest.Entry(numbered(n+10), animal, int64(n), strings.Repeat("x", 8000)))
	}
	for range 2 {
		if _, err := c.Do(storetest.Put{Documents: many}); !errors.Is(err, store.ErrFull) {
			t.Fatalf("%v, want a full disk", err)
		}
		if after := sizeOf(t, file(folder)); after > before {
			t.Errorf("the file has %d bytes, before %d", after, before)
		}
	}
	if _, err := c.Do(storetest.Put{Documents: many[:10]}); err != nil {
		t.Errorf("what has room after it: %v", err)
	}
	closeStore(t, s)
	good(t, file(folder))
}

func sizeOf(t *testing.T, path string) int64 {
	t.Helper()
	info, err := os.Stat(path)
	if err != nil {
		t.Fatal(err)
	}
	return info.Size()
}

// Where the disk is too full to write the file anew, what was forgotten is still to
// be compacted, also after a restart; with room again it is done.
func TestCompactingOnAFullDisk(t *testing.T) {
	disk := smallDisk(t)
	folder := filepath.Join(disk, "collection")
	s := open(t, folder)
	c := over(t, s)
	id, said := weigh(t, c, 1), "Wren Alder, 12 Mill Lane"
	entry := storetest.Entry(numbered(2), animal, 2, said)
	for _, command := range []model.Command{storetest.Put{Documents: []model.Document{entry}}, storetest.Remove{IDs: []model.ID{entry.ID, id}}} {
		if _, err := c.Do(command); err != nil {
			t.Fatal(err)
		}
	}
	if _, err := c.Forget(model.Label{Key: "test.erased"}, entry.ID); err != nil {
		t.Fatal(err)
	}
	ballast := filepath.Join(disk, "ballast")
	if err := os.WriteFile(ballast, make([]byte, 1<<20), 0o600); !errors.Is(err, syscall.ENOSPC) {
		t.Fatalf("the disk is not full: %v", err)
	}
	if err := s.Compact(t.Context()); !errors.Is(err, store.ErrFull) {
		t.Fatalf("%v, want a full disk", err)
	}
	if err := os.Remove(ballast); err != nil {
		t.Fatal(err)
	}
	closeStore(t, s)
	s = open(t, folder)
	if !toCompact(t, s) || !strings.Contains(string(read(t, file(folder))), said) {
		t.Error("after a restart it is not to be compacted, or was already")
	}
	if err := s.Compact(t.Context()); err != nil || toCompact(t, s) {
		t.Errorf("with room again: %v", err)
	}
	closeStore(t, s)
	if strings.Contains(string(read(t, file(folder))), said) {
		t.Error("it is still in the file")
	}
	good(t, file(folder))
}

func TestReadOnlyDisk(t *testing.T) {
	disk := smallDisk(t)
	folder := filepath.Join(disk, "collection")
	s := open(t, folder)
	weigh(t, over(t, s), 1)
	closeStore(t, s)
	if err := syscall.Mount("tmpfs", disk, "tmpfs", syscall.MS_REMOUNT|syscall.MS_RDONLY, "size=1m"); err != nil {
		t.Skipf("it cannot be made read-only: %v", err)
	}
	if _, err := store.Open(folder, options(storetest.NewClock())); !errors.Is(err, store.ErrReadOnly) {
		t.Errorf("open: %v, want ErrReadOnly", err)
	}
	if _, err := store.Open(filepath.Join(disk, "other"), options(storetest.NewClock())); !errors.Is(err, store.ErrReadOnly) {
		t.Errorf("open a new one: %v, want ErrReadOnly", err)
	}
	read, err := store.OpenReadOnly(file(folder))
	if err != nil {
		t.Fatal(err)
	}
	closeStore(t, read)
}

// A full second place says so and says it is that one; the first place gets its
// backups as before, and with room again what was missed comes to it.
func TestFullSecondPlace(t *testing.T) {
	stick := smallDisk(t)
	s, folder, clock := here(t)
	choose(t, s, stick)
	ballast := filepath.Join(stick, "ballast")
	write(t, ballast, make([]byte, 1_000_000))
	made := snapshot(t, s)
	_, err := s.BringSecond(t.Context(), nil)
	var failed *store.SecondFault
	if !errors.As(err, &failed) || !errors.Is(err, store.ErrFull) || failed.Refusal().Reason != "second.full" || failed.Folder != stick {
		t.Fatalf("%v, want a full second place", err)
	}
	if at := second(t, s); at.Why != store.SecondFull || at.Since.IsZero() {
		t.Errorf("remembered %+v", at)
	}
	files, err := os.ReadDir(filepath.Join(second(t, s).Inside, store.BackupsFolder))
	if err != nil || len(files) != 0 {
		t.Errorf("half a backup is left: %v, %v", files, err)
	}
	if newest, ok, err := store.NewestSnapshot(folder); err != nil || !ok || newest != made {
		t.Errorf("the first place: %+v, %t, %v", newest, ok, err)
	}
	if err := os.Remove(ballast); err != nil {
		t.Fatal(err)
	}
	clock.Pass(1)
	if got := bring(t, s); got.Snapshots != 1 {
		t.Errorf("with room again %+v was brought", got)
	}
}

func TestReadOnlySecondPlace(t *testing.T) {
	stick := smallDisk(t)
	s, _, _ := here(t)
	choose(t, s, stick)
	snapshot(t, s)
	if err := syscall.Mount("tmpfs", stick, "tmpfs", syscall.MS_REMOUNT|syscall.MS_RDONLY, "size=1m"); err != nil {
		t.Skipf("it cannot be made read-only: %v", err)
	}
	if _, err := s.BringSecond(t.Context(), nil); !errors.Is(err, store.ErrReadOnly) || second(t, s).Why != store.SecondReadOnly {
		t.Errorf("%v, remembered %+v, want read-only", err, second(t, s))
	}
}
