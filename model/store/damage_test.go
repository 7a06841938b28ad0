package store_test

import (
	"bytes"
	"encoding/binary"
	"errors"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"coilward/model"
	"coilward/model/collection"
	"coilward/model/store"
	"coilward/model/storetest"
)

const pageSize = 4096

// damages are ways in which disks and programs spoil files.
var damages = map[string]func([]byte, *rand.Rand) []byte{
	"a bit": func(data []byte, r *rand.Rand) []byte {
		data[r.IntN(len(data))] ^= 1 << r.IntN(8)
		return data
	},
	"a few bytes": func(data []byte, r *rand.Rand) []byte {
		at := r.IntN(len(data) - 16)
		for i := range 16 {
			data[at+i] = byte(r.Uint32())
		}
		return data
	},
	"the head of a page": func(data []byte, r *rand.Rand) []byte {
		data[r.IntN(len(data)/pageSize)*pageSize+r.IntN(16)] ^= byte(1 + r.IntN(255))
		return data
	},
	"a page of zeroes": func(data []byte, r *rand.Rand) []byte {
		at := r.IntN(len(data)/pageSize) * pageSize
		copy(data[at:at+pageSize], make([]byte, pageSize))
		return data
	},
	"cut": func(data []byte, r *rand.Rand) []byte { return data[:r.IntN(len(data))] },
}

// TestDamagedFiles verifies damaged files in a child. Where it says good, every
// byte of the collection must be as it was; where it says bad, the file stays
// as it is and nothing of this process is harmed.
func TestDamagedFiles(t *testing.T) {
	trials := 40
	if testing.Short() {
		trials = 5
	}
	whole := read(t, file(filled(t, 150)))
	want := contents(t, whole)
	random := rand.New(rand.NewPCG(3, 4))
	for what, damage := range damages {
		t.Run(what, func(t *testing.T) {
			bad := 0
			for range trials {
				path := filepath.Join(t.TempDir(), "x.db")
				write(t, path, damage(bytes.Clone(whole), random))
				report, err := store.VerifyInChild(path)
				if err != nil {
					t.Fatal(err)
				}
				if !report.Good {
					bad++
					continue
				}
				if got := contents(t, read(t, path)); got != want {
					t.Error("a file with other content was called good")
				}
			}
			t.Logf("%d of %d called bad, the others are whole", bad, trials)
		})
	}
}

// A file has two heads, and the older one tells of the state before the last
// change: a spoilt head is called bad, else that change would be gone unsaid.
func TestADamagedHeadIsCalledBad(t *testing.T) {
	whole := read(t, file(filled(t, 20)))
	want := contents(t, whole)
	older := false
	for _, page := range []int{0, 1} {
		for at := range 64 {
			data := bytes.Clone(whole)
			data[page*pageSize+16+at] ^= 0x55
			path := filepath.Join(t.TempDir(), "x.db")
			write(t, path, data)
			report, err := store.VerifyFile(path)
			if err != nil {
				t.Fatal(err)
			}
			if report.Good {
				t.Errorf("byte %d of head %d is spoilt, and the file is called good", at, page+1)
			}
			older = older || at == 40 && contents(t, data) != want
		}
	}
	if !older {
		t.Error("neither head alone tells of the last change: the test damages the wrong bytes")
	}
}

func contents(t *testing.T, data []byte) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "read.db")
	write(t, path, data)
	s, err := store.OpenReadOnly(path)
	if err != nil {
		t.Fatal(err)
	}
	defer closeStore(t, s)
	return storetest.Everything(t, s)
}

func TestDamagedFileIsNotOpened(t *testing.T) {
	folder := filled(t, 60)
	data := without(read(t, file(folder)), collection.Journal, binary.BigEndian.AppendUint64(nil, 1))
	write(t, file(folder), data)
	_, err := store.Open(folder, options(storetest.NewClock()))
	if !errors.Is(err, store.ErrDamaged) {
		t.Fatalf("open: %v, want ErrDamaged", err)
	}
	if !bytes.Equal(read(t, file(folder)), data) {
		t.Error("the damaged file was touched")
	}
}

func salvaged(t *testing.T, data []byte) (string, store.SalvageReport) {
	t.Helper()
	folder := t.TempDir()
	path := filepath.Join(folder, "damaged")
	write(t, path, data)
	report, err := store.Salvage(path, file(folder))
	if err != nil {
		t.Fatal(err)
	}
	good(t, file(folder))
	if !bytes.Equal(read(t, path), data) {
		t.Error("the damaged file was touched")
	}
	return file(folder), report
}

// Without the pages that lead to everything, bbolt reads nothing; salvage finds
// all of it.
func TestSalvageWithoutTheFirstPages(t *testing.T) {
	whole := read(t, file(filled(t, 150)))
	data := bytes.Clone(whole)
	copy(data[:2*pageSize], make([]byte, 2*pageSize))
	path, report := salvaged(t, data)
	if got := contents(t, read(t, path)); got != contents(t, whole) {
		t.Error("the salvaged collection differs")
	}
	if report.Lost != 0 || len(report.Uncertain) != 0 || report.Revisions != 150 || report.Entries != 151 {
		t.Errorf("report %+v", report)
	}
}

// halved loses every second page.
func halved(data []byte) []byte {
	for at := pageSize; at < len(data); at += 2 * pageSize {
		copy(data[at:min(at+pageSize, len(data))], make([]byte, pageSize))
	}
	return data
}

func TestSalvageOfAHalf(t *testing.T) {
	path, report := salvaged(t, halved(read(t, file(filled(t, 300)))))
	if report.Revisions == 0 || report.Lost == 0 {
		t.Errorf("report %+v, want some found and some lost", report)
	}
	s, err := store.OpenReadOnly(path)
	if err != nil {
		t.Fatal(err)
	}
	defer closeStore(t, s)
	n := 0
	if err := over(t, s).View(func(v model.View) error {
		return v.Timeline(model.AnimalID{ID: animal}.Subject(), model.Beginning, model.EndOfTime, func(model.Document) bool { n++; return true })
	}); err != nil {
		t.Fatal(err)
	}
	if n < report.Revisions-1 {
		t.Errorf("%d entries on the timeline, %d revisions were found", n, report.Revisions)
	}
}

// A lost revision leaves the one before it; a lost journal entry leaves the
// newest revision; a person is told of both.
func TestSalvageOfOneLostRecord(t *testing.T) {
	folder := t.TempDir()
	s := open(t, folder)
	c := over(t, s)
	id := weigh(t, c, 1)
	change := storetest.Entry(id, animal, 1, "changed")
	change.Revision = 1
	if _, err := c.Do(storetest.Put{Documents: []model.Document{change}}); err != nil {
		t.Fatal(err)
	}
	closeStore(t, s)
	for name, key := range map[collection.Bucket][]byte{
		collection.Revisions: binary.BigEndian.AppendUint32(id[:], 2),
		collection.Journal:   binary.BigEndian.AppendUint64(nil, 2),
	} {
		path, report := salvaged(t, without(read(t, file(folder)), name, key))
		if !slices.Equal(report.Uncertain, []model.ID{id}) {
			t.Errorf("%s lost: report %+v, want %s uncertain", name, report, id)
		}
		want := map[collection.Bucket]uint32{collection.Revisions: 1, collection.Journal: 2}[name]
		s, err := store.OpenReadOnly(path)
		if err != nil {
			t.Fatal(err)
		}
		if err := over(t, s).View(func(v model.View) error {
			d, err := v.Document(id)
			if d.Revision != want {
				t.Errorf("%s lost: revision %d is present, want %d", name, d.Revision, want)
			}
			return err
		}); err != nil {
			t.Error(err)
		}
		closeStore(t, s)
	}
}

// What was erased for good does not come back from the freed pages of a file that was
// not written anew yet: neither what it said nor what the journal called it, also where
// what stands in its place is damaged.
func TestSalvageBringsNothingErasedBack(t *testing.T) {
	folder := filled(t, 40)
	s := open(t, folder)
	c := over(t, s)
	said := []byte("Wren Alder, 12 Mill Lane")
	person := model.Document{Type: model.TypePerson, ID: model.ID{7}, Body: []byte(`{"name":"` + string(said) + `"}`)}
	for _, command := range []model.Command{called{storetest.Put{Documents: []model.Document{person}}, string(said)}, called{storetest.Remove{IDs: []model.ID{person.ID}}, string(said)}} {
		if _, err := c.Do(command); err != nil {
			t.Fatal(err)
		}
	}
	if _, err := c.Forget(model.Label{Key: "test.erased"}, person.ID); err != nil {
		t.Fatal(err)
	}
	closeStore(t, s)
	whole := read(t, file(folder))
	if !bytes.Contains(whole, said) {
		t.Fatal("the file was written anew: nothing of it is left to come back")
	}
	headless := bytes.Clone(whole)
	copy(headless[:2*pageSize], make([]byte, 2*pageSize))
	removal := binary.BigEndian.AppendUint64(nil, 43)
	for name, data := range map[string][]byte{
		"without the first pages":             headless,
		"what stands in its place is damaged": bytes.ReplaceAll(headless, []byte(`{"forgotten":true}`), []byte(`{"forgotten":trux}`)),
		"its removal is lost":                 without(bytes.Clone(headless), collection.Journal, removal),
		"the erasing is lost":                 without(bytes.Clone(headless), collection.Journal, binary.BigEndian.AppendUint64(nil, 44)),
	} {
		path, report := salvaged(t, data)
		if bytes.Contains(read(t, path), []byte("Wren")) {
			t.Errorf("%s: what was erased is in the salvaged file", name)
		}
		if report.Erased > 1 || name == "what stands in its place is damaged" && report.Erased != 1 || slices.Contains(report.Uncertain, person.ID) {
			t.Errorf("%s: report %+v", name, report)
		}
		back, err := store.OpenReadOnly(path)
		if err != nil {
			t.Fatal(err)
		}
		if err := over(t, back).View(func(v model.View) error { _, err := v.Document(person.ID); return err }); !errors.Is(err, model.ErrNotFound) {
			t.Errorf("%s: it is present: %v", name, err)
		}
		closeStore(t, back)
	}
}

// called is a command that the journal calls by a name.
type called struct {
	model.Command
	name string
}

func (c called) Plan(v model.View) (model.Writes, error) {
	w, err := c.Command.Plan(v)
	w.Label.Gaps = map[string]model.Gap{"Name": model.TextGap(c.name)}
	return w, err
}

// without spoils every copy of one record, also those in freed pages.
func without(data []byte, b collection.Bucket, key []byte) []byte {
	name := append(append([]byte{byte(len(b))}, b...), byte(len(key)))
	name = append(name, key...)
	for at := 0; ; {
		next := bytes.Index(data[at:], name)
		if next < 0 {
			return data
		}
		at += next + len(name)
		data[at] ^= 1
	}
}

func TestSalvageRefusals(t *testing.T) {
	folder := filled(t, 3)
	if _, err := store.Salvage(file(folder), file(folder)); err == nil {
		t.Error("salvage over an existing file was accepted")
	}
	path := filepath.Join(t.TempDir(), "x")
	write(t, path, []byte(strings.Repeat("nothing ", 100)))
	if _, err := store.Salvage(path, path+".db"); !errors.Is(err, store.ErrDamaged) {
		t.Errorf("salvage of nothing: %v, want ErrDamaged", err)
	}
	if _, err := os.Stat(path + ".db"); err == nil {
		t.Error("a file was made of nothing")
	}
}

// A salvaged collection goes on as any other.
func TestSalvagedCollectionGoesOn(t *testing.T) {
	path, report := salvaged(t, halved(read(t, file(filled(t, 300)))))
	if report.Lost == 0 {
		t.Fatalf("report %+v, want some lost", report)
	}
	folder := filepath.Dir(path)
	s := open(t, folder)
	c := over(t, s)
	if _, ok := c.CanUndo(); ok {
		t.Error("changes behind lost ones can be undone")
	}
	weigh(t, c, 1000)
	if _, err := c.Undo(); err != nil {
		t.Error(err)
	}
	closeStore(t, s)
	good(t, path)
}
