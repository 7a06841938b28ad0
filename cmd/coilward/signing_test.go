package main

import (
	"errors"
	"os"
	"path/filepath"
	"testing"

	"coilward/export/handover"
	"coilward/model"
)

// The copy of a key that is kept from the window is found at both places under the key's
// mark, and on a computer without that key it is told that one lies there.
func TestTheCopyOfTheKeyIsFound(t *testing.T) {
	folder, stick := t.TempDir(), t.TempDir()
	_, s := session(t, folder)
	add(t, s)
	if err := s.Keeping.ChooseSecond(stick); err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "settings", keyFile)
	if keyIsAway(path, folder) {
		t.Error("there is no copy yet")
	}
	k, _, err := handover.KeyIn(path, model.NewDay(2027, 3, 3))
	if err != nil {
		t.Fatal(err)
	}
	raw, err := handover.Lock(k, "seven warm stones by night")
	if err != nil {
		t.Fatal(err)
	}
	if err := s.Keeping.KeepKeyCopy(handover.CopyName(k.Public()), raw); err != nil {
		t.Fatal(err)
	}
	all, err := s.Keeping.KeyCopies()
	if err != nil || len(all) != 2 || all[0].Second || !all[1].Second {
		t.Fatalf("%+v, %v", all, err)
	}
	for _, c := range all {
		if !c.Good || c.Written == (model.Moment{}) || handover.CopyOf(c.Path) != k.Public().Fingerprint() {
			t.Errorf("%+v", c)
		}
	}
	if keyIsAway(path, folder) {
		t.Error("the key is here")
	}
	gone := stick + "-gone"
	if err := os.Rename(stick, gone); err != nil {
		t.Fatal(err)
	}
	all, err = s.Keeping.KeyCopies()
	var refusal *model.Refusal
	if len(all) != 1 || all[0].Second || !errors.As(err, &refusal) || refusal.Field != "second" || refusal.Reason != "second.away" {
		t.Errorf("the second place is away: %+v, %v", all, err)
	}
	if err := os.Rename(gone, stick); err != nil {
		t.Fatal(err)
	}
	if err := os.Remove(path); err != nil {
		t.Fatal(err)
	}
	if !keyIsAway(path, folder) {
		t.Error("the key is gone, and its copy is not told")
	}
	if err := os.WriteFile(path, []byte("spoilt"), 0o600); err != nil {
		t.Fatal(err)
	}
	if keyIsAway(path, folder) {
		t.Error("a damaged key is no missing one; the settings tell of it")
	}
	closed(t, s)
}
