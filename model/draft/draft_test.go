package draft_test

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"coilward/model"
	"coilward/model/draft"
)

var (
	juniper = model.ID{1, 2, 3}
	kestrel = model.ID{4, 5, 6}
)

func TestFolder_KeepsTheLastDraftOfEachSubject(t *testing.T) {
	path := filepath.Join(t.TempDir(), "drafts")
	f := draft.Open(path)
	for _, s := range []struct {
		id   model.ID
		text string
	}{{juniper, "first"}, {kestrel, "other"}, {juniper, "second"}} {
		if err := f.Save(s.id, s.text); err != nil {
			t.Fatal(err)
		}
	}
	for id, want := range map[model.ID]string{juniper: `"second"`, kestrel: `"other"`} {
		if got, err := draft.Open(path).Read(id); err != nil || string(got) != want {
			t.Errorf("draft of %s: %q, %v, want %q", id, got, err, want)
		}
	}
	files, err := os.ReadDir(path)
	if err != nil || len(files) != 2 {
		t.Errorf("%d files in the folder (%v), want one for each subject and nothing left over", len(files), err)
	}
}

func TestFolder_AFailedSaveLeavesTheOlderDraft(t *testing.T) {
	f := draft.Open(t.TempDir())
	if err := f.Save(juniper, "older"); err != nil {
		t.Fatal(err)
	}
	if err := f.Save(juniper, func() {}); err == nil {
		t.Fatal("a draft that cannot be written was saved")
	}
	if got, err := f.Read(juniper); err != nil || string(got) != `"older"` {
		t.Errorf("got %q, %v, want the older draft", got, err)
	}
}

func TestFolder_SaySoWhereItCannotWrite(t *testing.T) {
	blocked := filepath.Join(t.TempDir(), "file")
	if err := os.WriteFile(blocked, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	f := draft.Open(blocked)
	if err := f.Save(juniper, "x"); err == nil || !strings.Contains(err.Error(), "save a draft") {
		t.Errorf("saving into a file: %v", err)
	}
	if _, err := f.List(); err == nil {
		t.Error("listing a file: no error")
	}
	if _, err := f.Read(juniper); err == nil || errors.Is(err, model.ErrNotFound) {
		t.Errorf("reading below a file: %v, want an error that is not 'not found'", err)
	}
	if err := f.Discard(juniper); err == nil {
		t.Error("discarding below a file: no error")
	}
}

func TestFolder_ListsSubjectsAndPassesOtherFilesOver(t *testing.T) {
	path := t.TempDir()
	f := draft.Open(path)
	if ids, err := draft.Open(filepath.Join(path, "none")).List(); err != nil || len(ids) != 0 {
		t.Errorf("a folder that is not there: %v, %v", ids, err)
	}
	for _, id := range []model.ID{kestrel, juniper} {
		if err := f.Save(id, 1); err != nil {
			t.Fatal(err)
		}
	}
	for _, name := range []string{"readme.txt", "x.draft.json", ".draft.json", juniper.String()} {
		if err := os.WriteFile(filepath.Join(path, name), nil, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	ids, err := f.List()
	if err != nil || len(ids) != 2 || ids[0] != juniper || ids[1] != kestrel {
		t.Errorf("got %v, %v, want the two by id", ids, err)
	}
}

func TestFolder_DiscardAndSetAside(t *testing.T) {
	f := draft.Open(t.TempDir())
	if err := f.Discard(juniper); err != nil {
		t.Errorf("discarding none: %v", err)
	}
	if _, err := f.Read(juniper); !errors.Is(err, model.ErrNotFound) {
		t.Errorf("reading none: %v", err)
	}
	if _, err := f.SetAside(juniper); err == nil {
		t.Error("setting none aside: no error")
	}
	names := map[string]bool{}
	for range 2 {
		if err := f.Save(juniper, "kept"); err != nil {
			t.Fatal(err)
		}
		name, err := f.SetAside(juniper)
		if err != nil {
			t.Fatal(err)
		}
		if raw, err := os.ReadFile(name); err != nil || string(raw) != `"kept"` {
			t.Errorf("set aside: %q, %v", raw, err)
		}
		names[name] = true
	}
	if len(names) != 2 {
		t.Error("the second one set aside took the place of the first")
	}
	if ids, _ := f.List(); len(ids) != 0 {
		t.Errorf("still listed: %v", ids)
	}
	if err := f.Save(juniper, 1); err != nil {
		t.Fatal(err)
	}
	if err := f.Discard(juniper); err != nil {
		t.Fatal(err)
	}
	if _, err := f.Read(juniper); !errors.Is(err, model.ErrNotFound) {
		t.Errorf("after discarding: %v", err)
	}
}

func TestFolder_DoesNotMakeACollectionThatWasMovedAway(t *testing.T) {
	room := filepath.Join(t.TempDir(), "room")
	if err := os.Mkdir(room, 0o700); err != nil {
		t.Fatal(err)
	}
	f := draft.Open(filepath.Join(room, "drafts"))
	if err := f.Save(juniper, "x"); err != nil {
		t.Fatal(err)
	}
	if err := os.Rename(room, room+"-moved"); err != nil {
		t.Fatal(err)
	}
	if err := f.Save(juniper, "y"); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("saved after the folder was moved: %v", err)
	}
	if _, err := os.Stat(room); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("the folder was made again: %v", err)
	}
}
