package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"coilward/model"
	"coilward/model/collection"
	"coilward/model/photo"
	"coilward/model/store"
	"coilward/model/storetest"
)

// contents is every file of a folder with its bytes.
func contents(t *testing.T, folder string) map[string]string {
	t.Helper()
	all := map[string]string{}
	err := filepath.WalkDir(folder, func(path string, d fs.DirEntry, err error) error {
		if err != nil || !d.Type().IsRegular() {
			return err
		}
		raw, err := os.ReadFile(path)
		all[path] = string(raw)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return all
}

func unchanged(t *testing.T, folder string, before map[string]string) {
	t.Helper()
	after := contents(t, folder)
	for path, raw := range after {
		if before[path] != raw {
			t.Errorf("%s was changed", path)
		}
	}
	if len(after) != len(before) {
		t.Errorf("%d files, were %d", len(after), len(before))
	}
}

// No paper and no dump takes the place of the collection, a backup, or a file
// that is none of its kind.
func TestNothingElseIsWrittenOver(t *testing.T) {
	folder := kept(t, "Kestrel")
	mustDo(t, "backup", folder)
	room := t.TempDir()
	letter := filepath.Join(room, "letter.pdf")
	link := filepath.Join(room, "kept")
	if err := errors.Join(os.WriteFile(letter, []byte("Dear vet"), 0o600), os.Symlink(folder, link)); err != nil {
		t.Fatal(err)
	}
	snapshots, err := store.Snapshots(folder)
	if err != nil {
		t.Fatal(err)
	}
	before, beside := contents(t, folder), contents(t, room)
	for _, target := range []string{
		filepath.Join(folder, collectionFile), snapshots[0].Path, filepath.Join(folder, "new.pdf"), filepath.Join(folder, "photos", "new.pdf"),
		filepath.Join(link, collectionFile), filepath.Join(link, "new.pdf"), letter,
	} {
		for _, arguments := range [][]string{
			{"print", "health-record", "--collection", folder, "--animal", "Kestrel", "--out", target}, {"dump", folder, "--out", target},
		} {
			if code, out, errors := ctl("en", arguments...); code != exitFailed || !strings.Contains(errors, "File") || !strings.Contains(errors, "Choose another") {
				t.Errorf("%s to %s: code %d, %q, %q", arguments[0], target, code, out, errors)
			}
		}
	}
	unchanged(t, folder, before)
	unchanged(t, room, beside)
}

// An older paper and an older dump are written over.
func TestOlderPapersAndDumpsAreWrittenOver(t *testing.T) {
	folder, room := kept(t, "Kestrel"), t.TempDir()
	for range 2 {
		mustDo(t, "print", "health-record", "--collection", folder, "--animal", "Kestrel", "--out", filepath.Join(room, "a.pdf"))
		mustDo(t, "dump", folder, "--out", filepath.Join(room, "all.jsonl"))
	}
}

// What only reads leaves the folder as it is, so that it works from a medium
// that cannot be written to.
func TestReadingWritesNothing(t *testing.T) {
	folder, room := kept(t, "Kestrel"), t.TempDir()
	for _, gone := range []string{"photos", "drafts", "backups", "collection.lock"} {
		if err := os.RemoveAll(filepath.Join(folder, gone)); err != nil {
			t.Fatal(err)
		}
	}
	before := contents(t, folder)
	mustDo(t, "print", "health-record", "--collection", folder, "--animal", "Kestrel", "--out", filepath.Join(room, "a.pdf"))
	mustDo(t, "dump", folder, "--out", filepath.Join(room, "all.jsonl"))
	mustDo(t, "verify", folder)
	unchanged(t, folder, before)
	if _, err := os.Stat(filepath.Join(folder, "photos")); err == nil {
		t.Error("a folder was made")
	}
}

func TestSalvage(t *testing.T) {
	folder := kept(t, "Kestrel", "Brook")
	if err := os.WriteFile(filepath.Join(folder, "photos", "beside"), []byte("x"), 0o600); err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(folder, collectionFile)
	raw, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	copy(raw, make([]byte, 2*os.Getpagesize()))
	if err := os.WriteFile(path, raw, 0o600); err != nil {
		t.Fatal(err)
	}
	before := contents(t, folder)
	if code, _, _ := ctl("en", "verify", folder); code != exitFailed {
		t.Fatal("the damaged file verifies")
	}
	out := filepath.Join(t.TempDir(), "new")
	if said := mustDo(t, "salvage", folder, "--out", out); !strings.Contains(said, out) {
		t.Errorf("salvage says %q", said)
	}
	unchanged(t, folder, before)
	if beside, err := os.ReadFile(filepath.Join(out, "photos", "beside")); err != nil || string(beside) != "x" {
		t.Errorf("what lay beside: %q, %v", beside, err)
	}
	mustDo(t, "verify", out)
	mustDo(t, "print", "health-record", "--collection", out, "--animal", "Brook", "--out", filepath.Join(t.TempDir(), "a.pdf"))
	for _, bad := range []string{out, filepath.Join(folder, "photos", "new")} {
		if code, _, errors := ctl("en", "salvage", folder, "--out", bad); code != exitFailed || !strings.Contains(errors, "folder") {
			t.Errorf("salvage into %s: code %d, %q", bad, code, errors)
		}
	}
}

func TestVerifyTellsDamagedPhotosAndValues(t *testing.T) {
	folder := kept(t, "Kestrel")
	id := strings.Repeat("0", 64)
	if err := os.WriteFile(filepath.Join(folder, store.PhotosFolder, id+".jpg"), []byte("another"), 0o600); err != nil {
		t.Fatal(err)
	}
	code, out, _ := ctl("en", "verify", folder)
	if code != exitFailed || !strings.Contains(out, id) || !strings.Contains(out, "This photo is no longer as it was kept") {
		t.Errorf("code %d, %q", code, out)
	}
	if sound, err := photo.At(filepath.Join(folder, store.PhotosFolder)).Sound(model.PhotoID(id)); sound || err != nil {
		t.Errorf("sound: %t, %v", sound, err)
	}

	folder = kept(t, "Brook")
	put(t, folder, `{"mass":{"mg":-9223372036854775808}}`)
	code, out, _ = ctl("en", "verify", folder)
	if code != exitFailed || !strings.Contains(out, "Weight") {
		t.Errorf("a negative mass: code %d, %q", code, out)
	}
	file := filepath.Join(t.TempDir(), "all.jsonl")
	mustDo(t, "dump", folder, "--out", file)
	if said := mustDo(t, "load", file, "--collection", filepath.Join(t.TempDir(), "new")); !strings.Contains(said, "Weight") {
		t.Errorf("load says %q", said)
	}
}

// put writes a weight with any body into a collection, as the only animal's.
func put(t *testing.T, folder, body string) {
	t.Helper()
	s, err := store.Open(folder, store.Options{Now: now, Verifier: store.VerifyHere})
	if err != nil {
		t.Fatal(err)
	}
	c, err := collection.New(s, collection.Options{Now: now})
	if err != nil {
		t.Fatal(err)
	}
	d := model.Document{Type: model.TypeEntry, Kind: "weight", Version: 1, At: model.MomentOf(now()), Body: []byte(body)}
	err = c.View(func(v model.View) error {
		d.ID = v.NewID()
		return v.All(model.TypeAnimal, func(animal model.Document) bool {
			d.Subjects = []model.Subject{model.AnimalID{ID: animal.ID}.Subject()}
			return false
		})
	})
	if err != nil {
		t.Fatal(err)
	}
	if _, err := c.Do(storetest.Put{Documents: []model.Document{d}}); err != nil {
		t.Fatal(err)
	}
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
}

func TestRefusedDumpIsTheDumpsFault(t *testing.T) {
	room := t.TempDir()
	bad, folder := filepath.Join(room, "bad.jsonl"), filepath.Join(room, "new")
	if err := os.WriteFile(bad, []byte("{\"format\":\"coilward dump\",\"version\":1,\"schema\":1}\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	code, _, errors := ctl("en", "load", bad, "--collection", folder)
	if code != exitFailed || !strings.Contains(errors, "no whole dump") || strings.Contains(errors, "backup") {
		t.Errorf("code %d, %q", code, errors)
	}
	if _, err := os.Stat(folder); err == nil {
		t.Error("a folder is left")
	}
}

func TestTakeOver(t *testing.T) {
	folder := kept(t, "Kestrel")
	held := fmt.Sprintf(`{"machine":"barn","since":%q}`, now().Format("2006-01-02T15:04:05Z07:00"))
	lock := filepath.Join(folder, "collection.lock")
	for _, arguments := range [][]string{{"backup", folder}, {"restore", "--collection", folder}} {
		if err := os.WriteFile(lock, []byte(held), 0o600); err != nil {
			t.Fatal(err)
		}
		if code, _, errors := ctl("en", arguments...); code != exitFailed || !strings.Contains(errors, "barn") {
			t.Errorf("%s: code %d, %q", arguments[0], code, errors)
		}
		mustDo(t, append(arguments, "--take-over")...)
	}
}

func TestHelp(t *testing.T) {
	for _, word := range []string{"help", "--help", "-h"} {
		out := mustDo(t, word)
		for _, c := range commands() {
			if !strings.HasPrefix(c.name, "-") && !strings.Contains(out, "coilctl "+c.name) {
				t.Errorf("%s does not tell of %s", word, c.name)
			}
		}
	}
	if code, _, errors := ctl("en", "print", "--help"); code != exitUsage || !strings.Contains(errors, "coilctl print") {
		t.Errorf("print --help: code %d, %q", code, errors)
	}
}

func TestPipesStayPipes(t *testing.T) {
	pipe := filepath.Join(t.TempDir(), "pipe")
	makePipe(t, pipe)
	folder := kept(t, "Kestrel")
	for _, arguments := range [][]string{
		{"print", "health-record", "--collection", folder, "--animal", "Kestrel", "--out", pipe}, {"dump", folder, "--out", pipe},
	} {
		if code, _, errors := ctl("en", arguments...); code != exitFailed || !strings.Contains(errors, "not written over") {
			t.Errorf("%s: code %d, %q", arguments[0], code, errors)
		}
	}
	if info, err := os.Lstat(pipe); err != nil || info.Mode()&fs.ModeNamedPipe == 0 {
		t.Errorf("the pipe was replaced: %v", err)
	}
}
