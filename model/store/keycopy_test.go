package store_test

import (
	"bytes"
	"errors"
	"os"
	"path/filepath"
	"testing"
	"time"

	"coilward/model/store"
)

const keyName = "papers-key-00112233445566778899.age"

// keyAt is the path of the copy of a key among the backups of a folder.
func keyAt(folder string) string { return filepath.Join(folder, store.BackupsFolder, keyName) }

func keepKey(t *testing.T, s *store.Store, raw string) {
	t.Helper()
	if err := s.KeepKeyCopy(keyName, []byte(raw)); err != nil {
		t.Fatal(err)
	}
}

// copies are the copies of keys of a folder, none of which is spoilt.
func copies(t *testing.T, folder string) []store.KeyCopy {
	t.Helper()
	all, err := store.KeyCopies(folder)
	if err != nil {
		t.Fatal(err)
	}
	return all
}

// The copy of a key lies at both places, whichever was there first, and a newer takes the
// place of the older at both.
func TestACopyOfAKeyLiesAtBothPlaces(t *testing.T) {
	s, folder, _ := here(t)
	keepKey(t, s, "first")
	chosen := choose(t, s, t.TempDir())
	if got := copies(t, chosen.Inside); len(got) != 0 {
		t.Fatalf("there lie %+v", got)
	}
	snapshot(t, s)
	bring(t, s)
	for _, raw := range []string{"first", "second passphrase", "third"} {
		keepKey(t, s, raw)
		for _, at := range []string{folder, chosen.Inside} {
			if got := copies(t, at); len(got) != 1 || !got[0].Good || got[0].Path != keyAt(at) || got[0].Written.IsZero() || !bytes.Equal(read(t, keyAt(at)), []byte(raw)) {
				t.Errorf("%s: %+v", raw, got)
			}
			if info, err := os.Stat(keyAt(at)); err != nil || info.Mode().Perm()&0o077 != 0 {
				t.Errorf("others may read it: %v, %v", info, err)
			}
		}
	}
	if e := examine(t, s); len(e.Found) != 0 {
		t.Errorf("found %v", said(e))
	}
	if all, err := store.Snapshots(folder); err != nil || len(all) != 1 {
		t.Errorf("backups: %+v, %v", all, err)
	}
}

// A copy that the first place has lost comes back from the second with the next backup.
func TestACopyOfAKeyComesBackFromTheSecondPlace(t *testing.T) {
	s, folder, _ := here(t)
	chosen := choose(t, s, t.TempDir())
	keepKey(t, s, "encrypted")
	snapshot(t, s)
	bring(t, s)
	for _, path := range []string{keyAt(folder), keyAt(folder) + ".sha256"} {
		if err := os.Remove(path); err != nil {
			t.Fatal(err)
		}
	}
	bring(t, s)
	if got := copies(t, folder); len(got) != 1 || !got[0].Good || !bytes.Equal(read(t, keyAt(folder)), []byte("encrypted")) {
		t.Errorf("here lie %+v", got)
	}
	if got := copies(t, chosen.Inside); len(got) != 1 || !got[0].Good {
		t.Errorf("there lie %+v", got)
	}
}

// Where the second place is away the first has the copy, and the next backup brings it.
func TestACopyOfAKeyWhileTheSecondPlaceIsAway(t *testing.T) {
	s, folder, _ := here(t)
	chosen := choose(t, s, t.TempDir())
	snapshot(t, s)
	bring(t, s)
	away := chosen.Inside + " away"
	if err := os.Rename(chosen.Inside, away); err != nil {
		t.Fatal(err)
	}
	var failed *store.SecondFault
	if err := s.KeepKeyCopy(keyName, []byte("made meanwhile")); !errors.As(err, &failed) || failed.Why() != store.SecondAway {
		t.Errorf("kept: %v", err)
	}
	if got := copies(t, folder); len(got) != 1 || !got[0].Good {
		t.Errorf("here lie %+v", got)
	}
	if err := os.Rename(away, chosen.Inside); err != nil {
		t.Fatal(err)
	}
	bring(t, s)
	if got := copies(t, chosen.Inside); len(got) != 1 || !got[0].Good || !bytes.Equal(read(t, keyAt(chosen.Inside)), []byte("made meanwhile")) {
		t.Errorf("there lie %+v", got)
	}
}

// A spoilt copy is named, does not come to the other place, and is mended from there.
func TestASpoiltCopyOfAKey(t *testing.T) {
	s, folder, _ := here(t)
	chosen := choose(t, s, t.TempDir())
	keepKey(t, s, "as it was encrypted")
	spoil(t, keyAt(folder))
	bring(t, s)
	if got := copies(t, folder); len(got) != 1 || got[0].Good {
		t.Errorf("here lie %+v", got)
	}
	if got := copies(t, chosen.Inside); len(got) != 1 || !got[0].Good {
		t.Fatalf("there lie %+v", got)
	}
	e := examine(t, s)
	if got := said(e); len(got) != 1 || got[0] != "here key papers-k twin" {
		t.Fatalf("found %q", got)
	}
	if mended, err := s.Mend(t.Context(), e.Found); err != nil || mended != 1 {
		t.Fatal(mended, err)
	}
	if got := copies(t, folder); len(got) != 1 || !got[0].Good || !bytes.Equal(read(t, keyAt(folder)), []byte("as it was encrypted")) {
		t.Errorf("here lie %+v", got)
	}
	if e := examine(t, s); len(e.Found) != 0 {
		t.Errorf("found %v", said(e))
	}
}

// What lies there without a sum, put there by hand, takes no place of one with its sum.
// What is no file, or too long, is none.
func TestCopiesOfKeysByHand(t *testing.T) {
	s, folder, _ := here(t)
	chosen := choose(t, s, t.TempDir())
	write(t, keyAt(folder), []byte("by hand"))
	bring(t, s)
	if got := copies(t, chosen.Inside); len(got) != 1 || !got[0].Good {
		t.Fatalf("there lie %+v", got)
	}
	write(t, keyAt(folder), []byte("another by hand"))
	bring(t, s)
	if !bytes.Equal(read(t, keyAt(chosen.Inside)), []byte("by hand")) {
		t.Error("one by hand took its place")
	}
	backups := filepath.Join(folder, store.BackupsFolder)
	write(t, filepath.Join(backups, "papers-key-long.age"), make([]byte, 5000))
	write(t, filepath.Join(backups, "letters.age"), []byte("not ours"))
	if err := os.Mkdir(filepath.Join(backups, "papers-key-folder.age"), 0o700); err != nil {
		t.Fatal(err)
	}
	if got := copies(t, folder); len(got) != 1 {
		t.Errorf("here lie %+v", got)
	}
}

// A backup that is restored in another folder brings the copy of the key that lies beside
// it, but not over one that is there.
func TestRestoringBringsTheCopyOfAKey(t *testing.T) {
	s, _, clock := here(t)
	chosen := choose(t, s, t.TempDir())
	keepKey(t, s, "encrypted")
	snapshot(t, s)
	bring(t, s)
	there, err := store.Snapshots(chosen.Inside)
	if err != nil || len(there) != 1 {
		t.Fatal(there, err)
	}
	fresh := filepath.Join(t.TempDir(), "fresh")
	o := store.Options{Now: clock.Now, Machine: "another", Verifier: store.VerifyHere}
	if _, err := store.Restore(fresh, there[0].Path, o); err != nil {
		t.Fatal(err)
	}
	if got := copies(t, fresh); len(got) != 1 || !got[0].Good || !bytes.Equal(read(t, keyAt(fresh)), []byte("encrypted")) {
		t.Errorf("brought %+v", got)
	}
	clock.Pass(time.Hour)
	keepKey(t, s, "newer")
	if _, err := store.Restore(fresh, there[0].Path, o); err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(read(t, keyAt(fresh)), []byte("encrypted")) {
		t.Error("the one that was there was replaced")
	}
}
