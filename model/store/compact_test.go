package store_test

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"coilward/model"
	"coilward/model/collection"
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
	if !toCompact(t, s) {
		t.Error("forgotten, and nothing is to be compacted")
	}
	before := unmarked(storetest.Everything(t, s), "compact")
	if err := s.Compact(t.Context()); err != nil {
		t.Fatal(err)
	}
	if toCompact(t, s) {
		t.Error("compacted, and still to be")
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

func toCompact(t *testing.T, s *store.Store) bool {
	t.Helper()
	due, err := s.ToCompact()
	if err != nil {
		t.Fatal(err)
	}
	return due
}

// unmarked is what a store holds without one key of its control records.
func unmarked(everything, key string) string {
	var kept []string
	for line := range strings.Lines(everything) {
		if !strings.HasPrefix(line, fmt.Sprintf("%s %x ", collection.Control, key)) {
			kept = append(kept, line)
		}
	}
	return strings.Join(kept, "")
}

// What could not be compacted when it was forgotten is to be compacted after the
// next start too, and after a backup made meanwhile was restored.
func TestWhatIsToBeCompactedOutlivesARestart(t *testing.T) {
	folder := filled(t, 3)
	s := open(t, folder)
	c := over(t, s)
	said := []byte("Wren Alder, 12 Mill Lane")
	if toCompact(t, s) {
		t.Error("a collection in which nothing was forgotten is to be compacted")
	}
	person := model.Document{Type: model.TypePerson, ID: model.ID{7}, Body: []byte(`{"name":"` + string(said) + `"}`)}
	for _, command := range []model.Command{storetest.Put{Documents: []model.Document{person}}, storetest.Remove{IDs: []model.ID{person.ID}}} {
		if _, err := c.Do(command); err != nil {
			t.Fatal(err)
		}
	}
	if _, err := c.Forget(model.Label{Key: "test.erased"}, person.ID); err != nil {
		t.Fatal(err)
	}
	stopped, stop := context.WithCancel(t.Context())
	stop()
	if err := s.Compact(stopped); !errors.Is(err, context.Canceled) {
		t.Errorf("stopped: %v", err)
	}
	if _, err := os.Stat(filepath.Join(folder, "collection.db.new")); err == nil {
		t.Error("half a file is left")
	}
	backup := snapshot(t, s)
	closeStore(t, s)
	s = open(t, folder)
	if !toCompact(t, s) {
		t.Fatal("after a restart it is not to be compacted")
	}
	if err := s.Compact(t.Context()); err != nil {
		t.Fatal(err)
	}
	closeStore(t, s)
	if bytes.Contains(read(t, file(folder)), said) {
		t.Error("it is still in the file")
	}
	if s = open(t, folder); toCompact(t, s) {
		t.Error("compacted, and after a restart still to be")
	}
	closeStore(t, s)
	if _, err := store.Restore(folder, backup.Path, options(storetest.NewClock())); err != nil {
		t.Fatal(err)
	}
	s = open(t, folder)
	if !toCompact(t, s) {
		t.Error("a backup that may hold the bytes was restored, and is not to be compacted")
	}
	closeStore(t, s)
	good(t, file(folder))
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
	if err := s.Compact(t.Context()); !errors.Is(err, bad) {
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
