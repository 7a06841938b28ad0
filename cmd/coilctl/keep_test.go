package main

import (
	"bytes"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"coilward/assets"
	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/collection"
	"coilward/model/knowledge"
	"coilward/model/photo"
	"coilward/model/store"
)

func TestBackUpToASecondPlace(t *testing.T) {
	folder, stick := kept(t, "Kestrel"), t.TempDir()
	for round, want := range []string{"backups copied 1, photos copied 0", "backups copied 1, photos copied 0"} {
		if out := mustDo(t, "backup", folder, "--to", stick); !strings.Contains(out, want) {
			t.Errorf("round %d: backup says:\n%s", round, out)
		}
	}
	inside, err := os.ReadDir(stick)
	if err != nil || len(inside) != 1 {
		t.Fatalf("there lie %v, %v", inside, err)
	}
	if all, err := store.Snapshots(filepath.Join(stick, inside[0].Name())); err != nil || len(all) != 2 {
		t.Errorf("there lie the backups %v, %v", all, err)
	}
	if out := mustDo(t, "backup", folder); strings.Contains(out, "second place") {
		t.Errorf("--to was remembered: %s", out)
	}
	code, out, errors := ctl("en", "backup", folder, "--to", filepath.Join(stick, "nowhere"))
	if code != exitFailed || !strings.Contains(out, "A verified backup is in") || !strings.Contains(errors, "Second place") || !strings.Contains(errors, "nowhere") {
		t.Errorf("a place that is not there: code %d, %q, %q", code, out, errors)
	}
}

// Nobody is told that everything is at the second place while a photo that a record
// names is nowhere.
func TestBackUpNamesPhotosThatAreNowhere(t *testing.T) {
	folder := kept(t, "Kestrel")
	name(t, folder, model.PhotoID(strings.Repeat("ab", 32)))
	for language, want := range map[string]string{"en": "1 photo that a record names is neither here nor there", "de": "1 Foto, das ein Eintrag nennt, ist weder hier noch dort"} {
		_, out, _ := ctl(language, "backup", folder, "--to", t.TempDir())
		if !strings.Contains(out, want) || strings.Contains(out, "has everything") || strings.Contains(out, "liegt alles") {
			t.Errorf("says\n%s", out)
		}
	}
}

func TestRestoreShowsFirstWhatDiffers(t *testing.T) {
	folder := kept(t, "Kestrel")
	mustDo(t, "backup", folder)
	file := filepath.Join(t.TempDir(), "room.csv")
	if err := os.WriteFile(file, []byte("Name\nBrook\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	mustDo(t, "import", "--collection", folder, file, "--yes")
	before, err := os.ReadFile(filepath.Join(folder, collectionFile))
	if err != nil {
		t.Fatal(err)
	}
	out := mustDo(t, "restore", "--collection", folder, "--preview")
	for _, want := range []string{"Now: animals 2", "animals 1", "Animal: no longer there 1, come in 0, read otherwise 0.", "no longer there: Animal, Brook", "Nothing was changed"} {
		if !strings.Contains(out, want) {
			t.Errorf("preview says\n%s, want %q in it", out, want)
		}
	}
	if after, err := os.ReadFile(filepath.Join(folder, collectionFile)); err != nil || string(after) != string(before) {
		t.Errorf("the preview changed the collection (%v)", err)
	}
	mustDo(t, "restore", "--collection", folder)
	if out := mustDo(t, "restore", "--collection", folder, "--preview"); !strings.Contains(out, "Nothing differs") {
		t.Errorf("restored, but the preview says\n%s", out)
	}
}

// A backup that is restored elsewhere brings the copy of the key along and names it.
func TestRestoreNamesTheCopyOfAKey(t *testing.T) {
	folder := kept(t, "Kestrel")
	mustDo(t, "backup", folder)
	if out := mustDo(t, "restore", "--collection", folder); strings.Contains(out, "copy of a key") {
		t.Errorf("there is none: %s", out)
	}
	const name = "papers-key-00112233445566778899.age"
	if err := os.WriteFile(filepath.Join(folder, store.BackupsFolder, name), []byte("encrypted"), 0o600); err != nil {
		t.Fatal(err)
	}
	all, err := store.Snapshots(folder)
	if err != nil || len(all) == 0 {
		t.Fatal(all, err)
	}
	other := filepath.Join(t.TempDir(), "other")
	if out := mustDo(t, "restore", "--collection", other, "--from", all[0].Path); !strings.Contains(out, "An encrypted copy of a key for papers is in "+filepath.Join(other, store.BackupsFolder, name)) {
		t.Errorf("says %s", out)
	}
}

func TestRestoreOfADumpNamesLoad(t *testing.T) {
	folder := kept(t, "Kestrel")
	file := filepath.Join(t.TempDir(), "all.jsonl")
	mustDo(t, "dump", folder, "--out", file)
	for _, more := range [][]string{nil, {"--preview"}} {
		code, _, errors := ctl("en", append([]string{"restore", "--collection", folder, "--from", file}, more...)...)
		if code != exitFailed || !strings.Contains(errors, "coilctl load") || !strings.Contains(errors, "all.jsonl") {
			t.Errorf("code %d, %q", code, errors)
		}
	}
}

func TestVerifySaysPlainlyWhatAFileIs(t *testing.T) {
	for name, c := range map[string]struct {
		make  func(t *testing.T, folder string)
		out   string
		error string
	}{
		"a text": {func(t *testing.T, folder string) { spoil(t, folder, func([]byte) []byte { return []byte("a letter") }) },
			"no collection of this program", "coilctl salvage"},
		"noise": {func(t *testing.T, folder string) {
			spoil(t, folder, func([]byte) []byte { return []byte(strings.Repeat("noise ", 4000)) })
		}, "no collection of this program", "coilctl salvage"},
		"cut": {func(t *testing.T, folder string) {
			spoil(t, folder, func(raw []byte) []byte { return raw[:len(raw)/2] })
		},
			"it is damaged and cannot be trusted", "coilctl salvage"},
		"damaged, with a backup": {func(t *testing.T, folder string) {
			mustDo(t, "backup", folder)
			spoil(t, folder, func(raw []byte) []byte { return []byte(strings.ReplaceAll(string(raw), "Kestrel", "Kestrfl")) })
		}, "it is damaged and cannot be trusted", "coilctl restore"},
	} {
		t.Run(name, func(t *testing.T) {
			folder := kept(t, "Kestrel")
			c.make(t, folder)
			code, out, errors := ctl("en", "verify", folder)
			if code != exitFailed || !strings.Contains(out, c.out) || !strings.Contains(errors, c.error) {
				t.Errorf("code %d, %q, %q", code, out, errors)
			}
			path := filepath.Join(folder, collectionFile)
			for line := range strings.Lines(out) {
				if strings.Count(line, path) > 1 || strings.Contains(line, "disk failed") {
					t.Errorf("says %q", line)
				}
			}
			if strings.Contains(out, "photo") {
				t.Errorf("speaks of photos where there are none: %q", out)
			}
		})
	}
}

// What verify says is in plain words: no cause as a library words it.
func TestVerifyNamesNoCauseOfALibrary(t *testing.T) {
	folder := kept(t, "Kestrel")
	mustDo(t, "backup", folder)
	spoil(t, folder, func(raw []byte) []byte { return []byte(strings.ReplaceAll(string(raw), "Kestrel", "Kestrfl")) })
	for _, language := range []string{"en", "de"} {
		_, out, _ := ctl(language, "verify", folder)
		if !strings.HasPrefix(out, filepath.Join(folder, collectionFile)) || strings.Contains(out, "0 ") || strings.Contains(out, "checksum") || strings.Contains(out, "bucket") {
			t.Errorf("%s: says %q", language, out)
		}
	}
}

// Photos that are gone, changed, or no files are named with what to do, at both places;
// nothing is waited for.
func TestVerifyNamesPhotosAndWhatLiesAtTheSecondPlace(t *testing.T) {
	folder, stick := kept(t, "Kestrel"), t.TempDir()
	photos, err := photo.Open(filepath.Join(folder, store.PhotosFolder))
	if err != nil {
		t.Fatal(err)
	}
	one, err := photos.Keep("a.jpg", bytes.NewReader(privatePhoto(t)))
	if err != nil {
		t.Fatal(err)
	}
	name(t, folder, one.ID)
	s, err := store.Open(folder, store.Options{Now: now, Verifier: store.VerifyHere})
	if err != nil {
		t.Fatal(err)
	}
	if err := errors.Join(s.ChooseSecond(stick), s.Close()); err != nil {
		t.Fatal(err)
	}
	mustDo(t, "backup", folder)
	if out := mustDo(t, "verify", folder); !strings.Contains(out, "2 photo files are as they were kept") || !strings.Contains(out, stick) {
		t.Errorf("where all is good it says:\n%s", out)
	}
	inside, err := filepath.Glob(filepath.Join(stick, "*"))
	if err != nil || len(inside) != 1 {
		t.Fatalf("%q, %v", inside, err)
	}
	backups, err := filepath.Glob(filepath.Join(inside[0], "backups", "*.db"))
	if err != nil || len(backups) != 1 {
		t.Fatalf("%q, %v", backups, err)
	}
	raw, err := os.ReadFile(backups[0])
	if err != nil {
		t.Fatal(err)
	}
	raw[len(raw)/2] ^= 1
	path, _, err := photos.Original(one.ID)
	if err := errors.Join(err, os.WriteFile(backups[0], raw, 0o600), os.Remove(path)); err != nil {
		t.Fatal(err)
	}
	pipe := filepath.Join(folder, store.PhotosFolder, "a pipe")
	makePipe(t, pipe)
	code, out, said := ctl("en", "verify", folder)
	if code != exitFailed || !strings.Contains(said, "The records are whole") {
		t.Errorf("code %d, %q", code, said)
	}
	for _, want := range []string{
		filepath.Join(folder, store.PhotosFolder, string(one.ID)) + ": A record names this photo, but it is not there. A good copy is in " + inside[0],
		backups[0] + ": This backup is no longer as it was when it was verified. Do not restore it. It was good on 9 June 2027",
		pipe + ": This is a link, a pipe or a folder",
	} {
		if !strings.Contains(out, want) {
			t.Errorf("says\n%s, want %q in it", out, want)
		}
	}
	if german, out, said := ctl("de", "verify", folder); german != code || strings.Contains(out+said, "⟦") || !strings.Contains(out, "am 9. Juni 2027") {
		t.Errorf("in German:\n%s%s", out, said)
	}
	if err := os.RemoveAll(inside[0]); err != nil {
		t.Fatal(err)
	}
	if _, out, _ := ctl("en", "verify", folder); !strings.Contains(out, stick+" is not there just now") {
		t.Errorf("with the second place away:\n%s", out)
	}
}

// A backup of another collection is named as that, and restored only where it is meant.
func TestABackupOfAnotherCollection(t *testing.T) {
	folder, other := kept(t, "Kestrel"), kept(t, "Brook", "Juno")
	mustDo(t, "backup", other)
	newest, _, err := store.NewestSnapshot(other)
	if err != nil {
		t.Fatal(err)
	}
	before := contents(t, folder)
	said := mustDo(t, "restore", "--collection", folder, "--from", newest.Path, "--preview")
	for _, want := range []string{"a backup of another collection, “room”: animals 2", "newest entry is of 9 June 2027"} {
		if !strings.Contains(said, want) {
			t.Errorf("says %q, want %q in it", said, want)
		}
	}
	if code, out, errors := ctl("en", "restore", "--collection", folder, "--from", newest.Path); code != exitFailed || !strings.Contains(errors, "--another") {
		t.Errorf("code %d, %q, %q", code, out, errors)
	}
	unchanged(t, folder, before)
	mustDo(t, "restore", "--collection", folder, "--from", newest.Path, "--another")
	mustDo(t, "print", "health-record", "--collection", folder, "--animal", "Brook", "--out", filepath.Join(t.TempDir(), "a.pdf"))
	mustDo(t, "backup", folder)
	if said := mustDo(t, "restore", "--collection", folder, "--preview"); strings.Contains(said, "another collection") {
		t.Errorf("its own backup: %q", said)
	}
}

// name lets a record name a photo.
func name(t *testing.T, folder string, id model.PhotoID) {
	t.Helper()
	tables, err := knowledge.Load(assets.Knowledge())
	if err != nil {
		t.Fatal(err)
	}
	within(t, folder, func(c *collection.Collection) {
		var all []animals.Stored
		if err := c.View(func(v model.View) (err error) { all, err = animals.All(v); return err }); err != nil {
			t.Fatal(err)
		}
		if _, err := c.Do(care.AddPhotos{Tables: tables, Shots: []care.Shot{{Animal: all[0].ID, At: model.MomentOf(now()), Photo: id, Dated: care.ByCamera}}}); err != nil {
			t.Fatal(err)
		}
	})
}

func spoil(t *testing.T, folder string, change func([]byte) []byte) {
	t.Helper()
	path := filepath.Join(folder, collectionFile)
	raw, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, change(raw), 0o600); err != nil {
		t.Fatal(err)
	}
}

func TestAnEmptySecondPlaceIsAMistake(t *testing.T) {
	folder := kept(t, "Kestrel")
	for _, arguments := range [][]string{{"--to", ""}, {"--to="}} {
		code, out, errors := ctl("en", append([]string{"backup", folder}, arguments...)...)
		if code != exitUsage || out != "" || !strings.Contains(errors, "coilctl backup") {
			t.Errorf("%q: code %d, %q, %q", arguments, code, out, errors)
		}
	}
}

func TestLoadDoesNotWaitForAPipe(t *testing.T) {
	pipe := filepath.Join(t.TempDir(), "pipe")
	makePipe(t, pipe)
	folder := filepath.Join(t.TempDir(), "new")
	code, _, errors := ctl("en", "load", pipe, "--collection", folder)
	if code != exitFailed || !strings.Contains(errors, pipe) || store.Exists(folder) {
		t.Errorf("code %d, %q", code, errors)
	}
}

// A backup that is no longer as it was kept is called that alone, whatever can be read
// of it, and counts as none; while the collection is whole nothing is to be salvaged.
func TestVerifySaysOneThingOfABadBackup(t *testing.T) {
	for name, spoilt := range map[string]func([]byte) []byte{
		"longer":  func(raw []byte) []byte { return append(raw, make([]byte, 4096)...) },
		"changed": func(raw []byte) []byte { return []byte(strings.ReplaceAll(string(raw), "Kestrel", "Kestrfl")) },
	} {
		folder := kept(t, "Kestrel")
		mustDo(t, "backup", folder)
		backups, err := filepath.Glob(filepath.Join(folder, "backups", "*.db"))
		if err != nil || len(backups) != 1 {
			t.Fatalf("%q, %v", backups, err)
		}
		raw, err := os.ReadFile(backups[0])
		if err == nil {
			err = os.WriteFile(backups[0], spoilt(raw), 0o600)
		}
		if err != nil {
			t.Fatal(err)
		}
		code, out, said := ctl("en", "verify", folder)
		if code != exitFailed || strings.Contains(said, "salvage") || strings.Contains(said, "restore") || !strings.Contains(said, "coilctl backup") {
			t.Errorf("%s: code %d, %q", name, code, said)
		}
		if strings.Count(out, backups[0]) != 1 || strings.Contains(out, backups[0]+": every record is whole") || !strings.Contains(out, backups[0]+": This backup is no longer as it was") {
			t.Errorf("%s:\n%s", name, out)
		}
		spoil(t, folder, func([]byte) []byte { return []byte("a letter") })
		if _, _, said := ctl("en", "verify", folder); !strings.Contains(said, "salvage") {
			t.Errorf("%s: without anything whole: %q", name, said)
		}
	}
}
