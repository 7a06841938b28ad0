package store_test

import (
	"errors"
	"os"
	"path/filepath"
	"testing"

	"coilward/model"
	"coilward/model/store"
	"coilward/model/storetest"
)

func link(t *testing.T, to, at string) {
	t.Helper()
	if err := os.MkdirAll(filepath.Dir(at), 0o700); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink(to, at); err != nil {
		t.Skip("the system makes no links here:", err)
	}
}

// The second place is none if links lead from it to the collection itself, whether
// they were there when it was chosen or came later.
func TestASecondPlaceThatIsTheCollectionByALinkIsRefused(t *testing.T) {
	for name, lay := range map[string]func(t *testing.T, folder, inside string){
		"the whole": func(t *testing.T, folder, inside string) { link(t, folder, inside) },
		"its photos": func(t *testing.T, folder, inside string) {
			link(t, filepath.Join(folder, store.PhotosFolder), filepath.Join(inside, store.PhotosFolder))
		},
		"its backups": func(t *testing.T, folder, inside string) {
			link(t, filepath.Join(folder, store.BackupsFolder), filepath.Join(inside, store.BackupsFolder))
		},
		"what it lies in": func(t *testing.T, folder, inside string) {
			link(t, filepath.Dir(folder), filepath.Join(inside, store.PhotosFolder))
		},
	} {
		t.Run(name, func(t *testing.T) {
			s, folder, _ := here(t)
			photo(t, folder, "one")
			snapshot(t, s)
			chosen := choose(t, s, t.TempDir())
			if err := os.RemoveAll(chosen.Inside); err != nil {
				t.Fatal(err)
			}
			lay(t, folder, chosen.Inside)
			var refusal *model.Refusal
			if err := s.ChooseSecond(chosen.Folder); !errors.As(err, &refusal) || refusal.Reason != "second.inside" {
				t.Errorf("chosen: %v, want a refusal", err)
			}
			if _, err := s.BringSecond(t.Context(), nil); err == nil || second(t, s).Why == "" {
				t.Error("backups were brought to the collection itself")
			}
		})
	}
}

// A folder whose name ends like ours may hold another's backups: nothing is brought
// there, and nothing of it is restored.
func TestAFolderOfAnotherCollectionIsNotTakenForOurs(t *testing.T) {
	s, folder, _ := here(t)
	mine := snapshot(t, s)
	chosen := choose(t, s, t.TempDir())
	other, _, _ := here(t)
	theirs := snapshot(t, other)
	at := filepath.Join(chosen.Inside, store.BackupsFolder, filepath.Base(theirs.Path))
	lay := func() {
		write(t, at, read(t, theirs.Path))
		write(t, at+".sha256", read(t, theirs.Path+".sha256"))
	}
	lay()
	if again := choose(t, s, chosen.Folder); again.Inside == chosen.Inside {
		t.Error("the folder of another collection was taken")
	}
	ours := second(t, s).Inside
	if got := bring(t, s); got.Snapshots != 1 {
		t.Fatalf("brought %+v", got)
	}
	for _, path := range []string{mine.Path, mine.Path + ".sha256"} {
		if err := os.Remove(path); err != nil {
			t.Fatal(err)
		}
	}
	at = filepath.Join(ours, store.BackupsFolder, "20990101T000000Z-000000000009-000009.db")
	lay()
	newest, found, err := store.NewestBackup(folder, store.Options{Now: storetest.NewClock().Now, Machine: "workshop"})
	if err != nil || !found || filepath.Base(newest.Path) != filepath.Base(mine.Path) {
		t.Errorf("newest backup %+v, %t, %v", newest, found, err)
	}
}

// A link in the second place is not followed: it may lead to a file of any kind.
func TestALinkInTheSecondPlaceIsNotWrittenThrough(t *testing.T) {
	s, folder, _ := here(t)
	photo(t, folder, "one")
	made := snapshot(t, s)
	chosen := choose(t, s, t.TempDir())
	letter := filepath.Join(t.TempDir(), "letter")
	write(t, letter, []byte("Dear vet"))
	for _, name := range []string{"backups/unfinished.new", "photos/unfinished.new", "backups/" + filepath.Base(made.Path) + ".sha256"} {
		link(t, letter, filepath.Join(chosen.Inside, filepath.FromSlash(name)))
	}
	if got := bring(t, s); got.Snapshots != 1 || got.Photos != 1 {
		t.Errorf("brought %+v", got)
	}
	if got := string(read(t, letter)); got != "Dear vet" {
		t.Errorf("the letter now reads %q", got)
	}
}
