package store_test

import (
	"bytes"
	"errors"
	"os"
	"path/filepath"
	"testing"

	"coilward/model"
	"coilward/model/store"
	"coilward/model/storetest"
)

// What was forgotten is in no byte of the file, nor of a backup made afterwards; an
// older backup still holds it.
func TestWhatIsForgottenIsInNoByteOfTheFile(t *testing.T) {
	folder := filled(t, 40)
	s := open(t, folder)
	c := over(t, s)
	said := []byte("Wren Alder, 12 Mill Lane")
	person := model.Document{Type: model.TypePerson, ID: model.ID{7}, Body: []byte(`{"name":"` + string(said) + `"}`)}
	do := func(command model.Command) {
		t.Helper()
		if _, err := c.Do(command); err != nil {
			t.Fatal(err)
		}
	}
	do(storetest.Put{Documents: []model.Document{person}})
	older := snapshot(t, s)
	do(storetest.Remove{IDs: []model.ID{person.ID}})
	if _, err := c.Forget(model.Label{Key: "test.erased"}, person.ID); err != nil {
		t.Fatal(err)
	}
	before := storetest.Everything(t, s)
	if err := s.Compact(); err != nil {
		t.Fatal(err)
	}
	if bytes.Contains(read(t, file(folder)), said) {
		t.Error("it is still in the file")
	}
	if storetest.Everything(t, s) != before {
		t.Error("compacting changed what is there")
	}
	if newer := snapshot(t, s); bytes.Contains(read(t, newer.Path), said) {
		t.Error("it is in a new backup")
	}
	if !bytes.Contains(read(t, older.Path), said) {
		t.Error("an older backup was changed")
	}
	weigh(t, c, 9)
	closeStore(t, s)
	good(t, file(folder))
	if unclean, err := store.Unclean(folder); unclean || err != nil {
		t.Errorf("not closed in order: %v", err)
	}
}

// Where the file cannot be written anew, the old one goes on.
func TestCompactingThatFailsLeavesTheFile(t *testing.T) {
	folder := filled(t, 3)
	bad := errors.New("no")
	o := options(storetest.NewClock())
	o.Verifier = func(string) (store.Report, error) { return store.Report{}, bad }
	s, err := store.Open(folder, o)
	if err != nil {
		t.Fatal(err)
	}
	before := storetest.Everything(t, s)
	if err := s.Compact(); !errors.Is(err, bad) {
		t.Errorf("compact: %v", err)
	}
	if _, err := os.Stat(filepath.Join(folder, "collection.db.new")); err == nil {
		t.Error("half a file is left")
	}
	if storetest.Everything(t, s) != before {
		t.Error("the file changed")
	}
	weigh(t, over(t, s), 9)
	closeStore(t, s)
	good(t, file(folder))
}
