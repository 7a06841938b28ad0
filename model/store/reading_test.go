package store_test

import (
	"bytes"
	"crypto/sha256"
	"encoding/binary"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"coilward/model/collection"
	"coilward/model/store"
	"coilward/model/storetest"
)

// listed names every file of a folder with its size and time.
func listed(t *testing.T, folder string) string {
	t.Helper()
	var out strings.Builder
	err := filepath.WalkDir(folder, func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		info, err := d.Info()
		fmt.Fprintln(&out, path, info.Size(), info.ModTime().UnixNano())
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return out.String()
}

func TestOpenToReadWritesNothing(t *testing.T) {
	folder := filled(t, 4)
	for _, name := range []string{"", "collection.lock"} { // as it was closed, and copied without its lock file
		if name != "" {
			if err := os.Remove(filepath.Join(folder, name)); err != nil {
				t.Fatal(err)
			}
		}
		before := listed(t, folder)
		s, err := store.OpenToRead(folder, options(storetest.NewClock()))
		if err != nil {
			t.Fatal(err)
		}
		if storetest.Everything(t, s) == "" || !s.ReadOnly() {
			t.Error("nothing is read")
		}
		if err := s.Update(func(collection.Writer) error { return nil }); !errors.Is(err, store.ErrReadOnly) {
			t.Errorf("an update: %v, want ErrReadOnly", err)
		}
		closeStore(t, s)
		if after := listed(t, folder); after != before {
			t.Errorf("the folder was changed:\n%s\n%s", before, after)
		}
	}
}

func TestOpenToReadOfAnOpenCollection(t *testing.T) {
	folder := filled(t, 2)
	s := open(t, folder)
	if _, err := store.OpenToRead(folder, options(storetest.NewClock())); !errors.As(err, new(*store.AlreadyOpen)) {
		t.Errorf("to read: %v, want AlreadyOpen", err)
	}
	closeStore(t, s)
}

func TestOpenToReadVerifiesAfterAnUncleanEnd(t *testing.T) {
	folder := filled(t, 4)
	write(t, file(folder), without(read(t, file(folder)), collection.Journal, binary.BigEndian.AppendUint64(nil, 1)))
	if _, err := store.OpenToRead(folder, options(storetest.NewClock())); !errors.Is(err, store.ErrDamaged) {
		t.Errorf("to read: %v, want ErrDamaged", err)
	}
	if _, err := store.OpenToRead(t.TempDir(), options(storetest.NewClock())); err == nil {
		t.Error("an empty folder is read")
	}
}

func TestMissingFileBesideADraftIsNotMadeAnew(t *testing.T) {
	folder := t.TempDir()
	if err := os.Mkdir(filepath.Join(folder, store.DraftsFolder), 0o700); err != nil {
		t.Fatal(err)
	}
	write(t, filepath.Join(folder, store.DraftsFolder, "a.draft.json"), []byte("{}"))
	if _, err := store.Open(folder, options(storetest.NewClock())); !errors.Is(err, store.ErrMissing) {
		t.Errorf("open: %v, want ErrMissing", err)
	}
	if store.Exists(folder) {
		t.Error("an empty collection was made")
	}
}

func TestSalvageFolder(t *testing.T) {
	folder := filled(t, 40)
	whole := contents(t, read(t, file(folder)))
	damaged := read(t, file(folder))
	copy(damaged[:2*pageSize], make([]byte, 2*pageSize))
	write(t, file(folder), damaged)
	clock := storetest.NewClock()
	if _, err := store.Open(folder, options(clock)); !errors.Is(err, store.ErrDamaged) {
		t.Fatalf("open: %v, want ErrDamaged", err)
	}
	report, aside, err := store.SalvageFolder(folder, options(clock))
	if err != nil || report.Lost != 0 || report.Revisions == 0 {
		t.Fatalf("salvage: %+v, %v", report, err)
	}
	if !bytes.Equal(read(t, aside), damaged) {
		t.Error("the damaged file is not kept")
	}
	if got := contents(t, read(t, file(folder))); got != whole {
		t.Error("what was salvaged differs")
	}
	closeStore(t, open(t, folder))
	left, err := filepath.Glob(filepath.Join(folder, store.BackupsFolder, "salvaged-*"))
	if err != nil || len(left) != 0 {
		t.Errorf("left: %v, %v", left, err)
	}
}

func TestSalvageFolderOfAnOpenCollection(t *testing.T) {
	folder := filled(t, 4)
	s := open(t, folder)
	defer closeStore(t, s)
	if _, _, err := store.SalvageFolder(folder, options(storetest.NewClock())); !errors.As(err, new(*store.AlreadyOpen)) {
		t.Errorf("salvage: %v, want AlreadyOpen", err)
	}
}

// A refused dump leaves nothing, and the fault is the dump's, not that of a
// collection that could be restored.
func TestRefusedDumpLeavesNothing(t *testing.T) {
	whole := dump(t, filled(t, 2))
	lines := strings.SplitAfter(string(whole), "\n")
	lacking := lines[0] + strings.Join(lines[2:len(lines)-2], "")
	for name, bad := range map[string]string{"no dump": "Dear vet,\n", "without a form": trailed(lacking), "without its first change": trailed(lines[0] + lines[1] + strings.Join(lines[3:len(lines)-2], ""))} {
		folder := filepath.Join(t.TempDir(), "new")
		err := store.Load(strings.NewReader(bad), folder)
		if !errors.Is(err, store.ErrBadDump) || errors.As(err, new(*store.Fault)) {
			t.Errorf("%s: %v, want ErrBadDump", name, err)
		}
		if _, err := os.Stat(folder); !errors.Is(err, fs.ErrNotExist) {
			t.Errorf("%s: the folder is left", name)
		}
		there := t.TempDir()
		if err := store.Load(strings.NewReader(bad), there); err == nil {
			t.Errorf("%s: loaded", name)
		}
		if files, err := os.ReadDir(there); err != nil || len(files) != 0 {
			t.Errorf("%s: left in a folder that was there: %v, %v", name, files, err)
		}
	}
}

func trailed(lines string) string {
	return fmt.Sprintf("%s{\"lines\":%d,\"sha256\":\"%x\"}\n", lines, strings.Count(lines, "\n")-1, sha256.Sum256([]byte(lines)))
}
