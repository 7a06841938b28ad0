package store_test

import (
	"bytes"
	"errors"
	"path/filepath"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"coilward/model"
	"coilward/model/store"
	"coilward/model/storetest"
)

func dump(t testing.TB, folder string) []byte {
	t.Helper()
	s := open(t, folder)
	defer closeStore(t, s)
	var out bytes.Buffer
	if err := store.Dump(s, &out); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

func TestDumpAndLoad(t *testing.T) {
	folder := filled(t, 30)
	data := dump(t, folder)
	loaded := t.TempDir()
	if err := store.Load(bytes.NewReader(data), loaded); err != nil {
		t.Fatal(err)
	}
	good(t, file(loaded))
	if !bytes.Equal(dump(t, loaded), data) {
		t.Error("dumped again, it differs")
	}
	a, b := open(t, folder), open(t, loaded)
	defer closeStore(t, a)
	defer closeStore(t, b)
	if storetest.Everything(t, a) != storetest.Everything(t, b) {
		t.Error("the loaded collection differs")
	}
}

func TestDumpKeepsBodiesVerbatim(t *testing.T) {
	folder := t.TempDir()
	s := open(t, folder)
	c := over(t, s)
	d := storetest.Entry(numbered(1), animal, 5, 0)
	d.Kind, d.Version = "of a later version", 9
	d.Body = []byte(`{"z":1.50,"a":"<&> ü","n":12345678901234567890,"a":2}`)
	if _, err := c.Do(storetest.Put{Documents: []model.Document{d}}); err != nil {
		t.Fatal(err)
	}
	closeStore(t, s)
	if data := dump(t, folder); !bytes.Contains(data, d.Body) {
		t.Errorf("the body was changed:\n%s", data)
	}
}

// Every dump that is cut or has a bit turned is refused and leaves nothing.
func TestDamagedDumpIsRefused(t *testing.T) {
	data := dump(t, filled(t, 5))
	rapid.Check(t, func(rt *rapid.T) {
		bad := bytes.Clone(data)
		at := rapid.IntRange(0, len(bad)-1).Draw(rt, "at")
		if rapid.Bool().Draw(rt, "cut") {
			bad = bad[:at]
		} else {
			bad[at] ^= 1 << rapid.IntRange(0, 7).Draw(rt, "bit")
		}
		folder := t.TempDir()
		if err := store.Load(bytes.NewReader(bad), folder); err == nil {
			rt.Fatalf("a dump damaged at byte %d was loaded", at)
		}
		left, err := filepath.Glob(filepath.Join(folder, "*.*"))
		if err != nil || len(left) != 0 {
			rt.Fatalf("files are left: %v, %v", left, err)
		}
	})
}

func TestDumpsThatAreNone(t *testing.T) {
	whole := string(dump(t, filled(t, 2)))
	for name, text := range map[string]string{
		"empty":    "",
		"a letter": "Dear vet,\n",
		"more":     whole + "x",
		"twice":    whole + whole,
	} {
		if err := store.Load(strings.NewReader(text), t.TempDir()); err == nil {
			t.Errorf("%s: loaded", name)
		}
	}
	newer := strings.Replace(whole, `"schema":1`, `"schema":2`, 1)
	if err := store.Load(strings.NewReader(newer), t.TempDir()); !errors.Is(err, store.ErrNewer) {
		t.Errorf("a newer dump: %v, want ErrNewer", err)
	}
	if err := store.Load(strings.NewReader(whole), filled(t, 1)); err == nil {
		t.Error("loaded over a collection")
	}
}

func TestDumpFile(t *testing.T) {
	folder := filled(t, 3)
	path := filepath.Join(t.TempDir(), "dump.jsonl")
	s := open(t, folder)
	if err := store.DumpFile(s, path); err != nil {
		t.Fatal(err)
	}
	closeStore(t, s)
	if !bytes.Equal(read(t, path), dump(t, folder)) {
		t.Error("the file differs from the dump")
	}
}
