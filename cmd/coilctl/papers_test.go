package main

import (
	"archive/zip"
	"bytes"
	"crypto/ed25519"
	"crypto/rand"
	"crypto/sha256"
	"errors"
	"fmt"
	"hash/crc32"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"coilward/assets"
	"coilward/export/handover"
	"coilward/model"
	"coilward/model/collection"
	record "coilward/model/handover"
	"coilward/model/knowledge"
	"coilward/model/store"
)

// A buyer without a collection learns what was checked, by whom, and what was not; a
// changed file tells nothing.
func TestPapersOnAMachineWithoutACollection(t *testing.T) {
	folder, elsewhere := kept(t, "Kestrel"), t.TempDir()
	file, key := filepath.Join(elsewhere, "kestrel.herpapers"), filepath.Join(elsewhere, "my.key")
	code, made, told := ctl("en", "make-papers", "--collection", folder, "--animal", "Kestrel", "--key", key, "--out", file)
	if code != exitDone || !strings.Contains(told, "A new key was made in "+key) {
		t.Fatalf("code %d, %q", code, told)
	}
	if again := mustDo(t, "make-papers", "--collection", folder, "--animal", "K-1", "--key", key, "--out", file); again != made {
		t.Errorf("made again it says %q, before %q", again, made)
	}
	at := strings.Index(made, "key ")
	if at < 0 {
		t.Fatalf("said %q", made)
	}
	fingerprint := made[at+4 : at+4+24]
	for language, want := range map[string][]string{
		"en": {"Kestrel", "Unchanged since it was signed with the key " + fingerprint, "only if the seller told you", "Weighings: 1", "1432", "by: not said", "No check from snout to tail is noted", "Not tested for", "Look at the animal yourself"},
		"de": {"Kestrel", "mit dem Schlüssel " + fingerprint, "Wägungen: 1", "Es ist keine Kontrolle", "Nicht darauf getestet"},
	} {
		code, out, said := ctl(language, "open-papers", file)
		if code != exitDone {
			t.Fatalf("code %d: %s", code, said)
		}
		for _, words := range want {
			if !strings.Contains(out, words) {
				t.Errorf("%s does not say %q:\n%s", language, words, out)
			}
		}
	}
	if code, out, said := ctl("en", "open-papers", file, "--collection", folder); code != exitDone || !strings.Contains(out, "Unchanged since") || strings.Contains(out, "taken in") {
		t.Errorf("beside a collection that took none in: code %d, %s%s", code, out, said)
	}
	raw, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	changed := filepath.Join(elsewhere, "changed.herpapers")
	if err := os.WriteFile(changed, bytes.Replace(raw, []byte(`"name":"Kestrel"`), []byte(`"name":"Kestrol"`), 1), 0o600); err != nil {
		t.Fatal(err)
	}
	code, out, said := ctl("en", "open-papers", changed)
	if code != exitFailed || out != "" || !strings.Contains(said, "record.json was changed") {
		t.Errorf("code %d, told %q, said %q", code, out, said)
	}
}

func TestPapersCalledWrongly(t *testing.T) {
	folder, elsewhere := kept(t, "Kestrel"), t.TempDir()
	file, key := filepath.Join(elsewhere, "a.herpapers"), filepath.Join(elsewhere, "my.key")
	other := filepath.Join(elsewhere, "note.herpapers")
	if err := os.WriteFile(other, []byte("a note of mine"), 0o600); err != nil {
		t.Fatal(err)
	}
	all := func(more ...string) []string {
		return append([]string{"make-papers", "--collection", folder, "--animal", "Kestrel"}, more...)
	}
	for want, c := range map[string]struct {
		code      int
		arguments []string
	}{
		"ends in .herpapers":        {exitFailed, all("--key", key, "--out", filepath.Join(elsewhere, "a.zip"))},
		"Something else than her":   {exitFailed, all("--key", key, "--out", other)},
		"own folder":                {exitFailed, all("--key", filepath.Join(folder, "my.key"), "--out", file)},
		"The key cannot be read":    {exitFailed, all("--key", other, "--out", file)},
		"make-papers --collection":  {exitUsage, all("--out", file)},
		"There is no such file":     {exitFailed, []string{"open-papers", file}},
		"no file of her papers":     {exitFailed, []string{"open-papers", elsewhere}},
		"This is no file of her pa": {exitFailed, []string{"open-papers", other}},
		"open-papers FILE":          {exitUsage, []string{"open-papers"}},
		"en or de":                  {exitFailed, []string{"open-papers", file, "--lang", "xx"}},
	} {
		code, out, said := ctl("en", c.arguments...)
		if code != c.code || out != "" || !strings.Contains(said, want) {
			t.Errorf("%s: code %d, %q, %s", want, code, out, said)
		}
	}
}

// A signed record that no program of ours would have written is refused as papers, in the
// words of the window: what is wrong inside is nothing that a buyer could type anew.
func TestASignedRecordThatCannotStand(t *testing.T) {
	folder, elsewhere := kept(t, "Kestrel"), t.TempDir()
	file := filepath.Join(elsewhere, "kestrel.herpapers")
	mustDo(t, "make-papers", "--collection", folder, "--animal", "Kestrel", "--key", filepath.Join(elsewhere, "my.key"), "--out", file)
	raw, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	z, err := zip.NewReader(bytes.NewReader(raw), int64(len(raw)))
	if err != nil {
		t.Fatal(err)
	}
	part := func(name string) []byte {
		r, err := z.Open(name)
		if err != nil {
			t.Fatal(err)
		}
		defer r.Close()
		b, err := io.ReadAll(r)
		if err != nil {
			t.Fatal(err)
		}
		return b
	}
	good := part("record.json")
	for name, change := range map[string][2]string{
		"a name that steers":      {`"name":"Kestrel"`, `"name":"Kes\u0001trel"`},
		"a name too long":         {`"name":"Kestrel"`, `"name":"` + strings.Repeat("K", record.MaxName+1) + `"`},
		"a weight of less than 0": {`"mg":1432`, `"mg":-1432`},
		"a species too long":      {`"python-regius"`, `"` + strings.Repeat("p", record.MaxName+1) + `"`},
	} {
		spoiled := bytes.Replace(good, []byte(change[0]), []byte(change[1]), 1)
		if bytes.Equal(spoiled, good) {
			t.Fatalf("%s: %q is not in %s", name, change[0], good)
		}
		changed := filepath.Join(elsewhere, "changed.herpapers")
		if err := os.WriteFile(changed, signed(t, spoiled, part("papers.pdf")), 0o600); err != nil {
			t.Fatal(err)
		}
		for language, want := range map[string]string{"en": "It is signed, but the part record.json cannot be read. Ask the seller for it again.", "de": "Die Datei ist unterschrieben, aber der Teil record.json lässt sich nicht lesen."} {
			code, out, said := ctl(language, "open-papers", changed)
			if code != exitFailed || out != "" || !strings.Contains(said, want) || strings.Contains(said, "⟦") {
				t.Errorf("%s, %s: code %d, told %q, said %q", name, language, code, out, said)
			}
		}
	}
}

// signed is a file of these two parts, signed with a new key as its format has it.
func signed(t *testing.T, recordJSON, paper []byte) []byte {
	t.Helper()
	public, private, err := ed25519.GenerateKey(rand.Reader)
	if err != nil {
		t.Fatal(err)
	}
	member := func(name string, b []byte) string {
		return fmt.Sprintf(`{"name":%q,"size":%d,"sha256":"%x"}`, name, len(b), sha256.Sum256(b))
	}
	list := `{"format":"coilward.her-papers","version":1,"members":[` + member("record.json", recordJSON) + "," + member("papers.pdf", paper) + "]}\n"
	by := fmt.Sprintf(`{"key":"%x","signature":"%x"}`, []byte(public), ed25519.Sign(private, []byte("coilward her-papers\n"+list))) + "\n"
	var file bytes.Buffer
	z := zip.NewWriter(&file)
	for _, part := range []struct {
		name string
		body []byte
	}{{"signature.json", []byte(by)}, {"manifest.json", []byte(list)}, {"record.json", recordJSON}, {"papers.pdf", paper}} {
		h := &zip.FileHeader{Name: part.name, Method: zip.Store, CRC32: crc32.ChecksumIEEE(part.body),
			CompressedSize64: uint64(len(part.body)), UncompressedSize64: uint64(len(part.body)), CreatorVersion: 20, ReaderVersion: 20}
		//lint:ignore SA1019 a raw header is written as it stands, and the day of the format is in this field
		h.ModifiedDate = 1<<5 | 1
		w, err := z.CreateRaw(h)
		if err == nil {
			_, err = w.Write(part.body)
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	return file.Bytes()
}

// Beside a collection it is said that papers are older than those that were taken in there,
// and signed with another key.
func TestPapersBesideThoseTakenIn(t *testing.T) {
	folder, elsewhere := kept(t, "Kestrel"), t.TempDir()
	file := filepath.Join(elsewhere, "kestrel.herpapers")
	mustDo(t, "make-papers", "--collection", folder, "--animal", "Kestrel", "--key", filepath.Join(elsewhere, "my.key"), "--out", file)
	papers, shut, err := handover.OpenFile(file)
	if err != nil {
		t.Fatal(err)
	}
	later := papers.Record
	if err := shut(); err != nil {
		t.Fatal(err)
	}
	later.Issued.UTC++
	tables, err := knowledge.Load(assets.Knowledge())
	if err != nil {
		t.Fatal(err)
	}
	other := kept(t, "Ada")
	s, err := store.Open(other, store.Options{Now: now, Verifier: store.VerifyHere})
	if err != nil {
		t.Fatal(err)
	}
	c, err := collection.New(s, collection.Options{Now: now})
	if err == nil {
		_, err = c.Do(record.TakeIn{Tables: tables, Record: later, Key: "AAAA", Sum: "00", At: model.MomentOf(now()), Protocol: "python"})
	}
	if err := errors.Join(err, s.Close()); err != nil {
		t.Fatal(err)
	}
	for language, want := range map[string][]string{
		"en": {"Older than papers of this animal", "Signed with another key than the papers that were taken in before: AAAA"},
		"de": {"Älter als Papiere dieses Tiers", "Mit einem anderen Schlüssel unterschrieben"},
	} {
		code, out, said := ctl(language, "open-papers", file, "--collection", other)
		for _, words := range want {
			if code != exitDone || !strings.Contains(out, words) {
				t.Errorf("%s, code %d: %q is not in %s%s", language, code, words, out, said)
			}
		}
	}
	if code, out, said := ctl("en", "open-papers", file, "--collection", elsewhere); code != exitFailed || out != "" || said == "" {
		t.Errorf("beside no collection: code %d, %q, %q", code, out, said)
	}
}

// What takes the copy of a key for one is told by two who do not know each other: the place
// of the backups by name and size, and the key's reader. Whatever one takes the other takes.
func TestTheBackupsKnowCopiesOfKeys(t *testing.T) {
	k, err := handover.NewKey()
	if err != nil {
		t.Fatal(err)
	}
	folder := t.TempDir()
	backups := filepath.Join(folder, store.BackupsFolder)
	path := filepath.Join(backups, handover.CopyName(k.Public()))
	if err := handover.WriteKey(path, k); err != nil { // the limit is the same, encrypted or not
		t.Fatal(err)
	}
	file, err := os.OpenFile(path, os.O_APPEND|os.O_WRONLY, 0)
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	taken, size := 0, 0
	for ; size < 10_000; size++ {
		_, unread := handover.ReadKey(path)
		listed, err := store.KeyCopies(folder)
		if err != nil {
			t.Fatal(err)
		}
		if (unread == nil) != (len(listed) == 1) {
			t.Fatalf("with %d blanks behind it: listed are %v, read: %v", size, listed, unread)
		}
		if unread == nil {
			taken++
		}
		if _, err := file.WriteString(" "); err != nil {
			t.Fatal(err)
		}
	}
	if taken == 0 || taken == size {
		t.Errorf("taken are %d of %d", taken, size)
	}
}
