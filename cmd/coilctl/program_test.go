package main

import (
	"bytes"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/collection"
	"coilward/model/store"
)

// now is the time of all tests.
func now() time.Time {
	return time.Date(2027, 6, 9, 9, 0, 0, 0, time.FixedZone("Europe/Berlin", 7200))
}

// ctl runs coilctl with the arguments and returns its exit code and what it said.
func ctl(language string, arguments ...string) (code int, out, errors string) {
	var o, e bytes.Buffer
	p := program{out: &o, errors: &e, now: now, verify: store.VerifyHere, language: language}
	code = p.run(arguments)
	return code, o.String(), e.String()
}

// kept makes a collection with animals of these names, each weighed once.
func kept(t *testing.T, names ...string) (folder string) {
	t.Helper()
	folder = filepath.Join(t.TempDir(), "room")
	s, err := store.Open(folder, store.Options{Now: now, Verifier: store.VerifyHere})
	if err != nil {
		t.Fatal(err)
	}
	defer func() {
		if err := s.Close(); err != nil {
			t.Error(err)
		}
	}()
	c, err := collection.New(s, collection.Options{Now: now})
	if err != nil {
		t.Fatal(err)
	}
	for i, name := range names {
		change, err := c.Do(animals.Add{Animal: animals.Animal{Name: name, Code: "K-" + string(rune('1'+i)), Species: "python-regius", Status: animals.Kept}})
		if err != nil {
			t.Fatal(err)
		}
		about := care.About{Animal: model.AnimalID{ID: change.Documents[0]}, At: model.MomentOf(now())}
		if _, err := c.Do(care.Weigh{About: about, Weight: care.Weight{Mass: model.Grams(1432), Gut: care.GutEmpty}}); err != nil {
			t.Fatal(err)
		}
	}
	return folder
}

func mustDo(t *testing.T, arguments ...string) string {
	t.Helper()
	code, out, errors := ctl("en", arguments...)
	if code != exitDone {
		t.Fatalf("coilctl %s: code %d\n%s%s", strings.Join(arguments, " "), code, out, errors)
	}
	return out
}

func TestPrint(t *testing.T) {
	folder := kept(t, "Kestrel", "Brook")
	for _, size := range []string{"A4", "letter"} {
		for _, language := range []string{"en", "de"} {
			file := filepath.Join(t.TempDir(), "record.pdf")
			mustDo(t, "print", "health-record", "--collection", folder, "--animal", "kestrel", "--out", file, "--paper", size, "--lang", language)
			written, err := os.ReadFile(file)
			if err != nil || !bytes.HasPrefix(written, []byte("%PDF-")) {
				t.Errorf("%s %s: %v, begins with %.8q", size, language, err, written)
			}
		}
	}
}

func TestPrintTheCard(t *testing.T) {
	folder := kept(t, "Kestrel")
	for _, language := range []string{"en", "de"} {
		file := filepath.Join(t.TempDir(), "card.pdf")
		if out := mustDo(t, "print", "emergency-card", "--collection", folder, "--animal", "kestrel", "--out", file, "--lang", language); !strings.Contains(out, "emergency card of Kestrel") {
			t.Errorf("print says %q", out)
		}
		if written, err := os.ReadFile(file); err != nil || !bytes.HasPrefix(written, []byte("%PDF-")) {
			t.Errorf("%s: %v, begins with %.8q", language, err, written)
		}
	}
}

func TestPrintThePaperForTheSitter(t *testing.T) {
	folder := kept(t, "Kestrel", "Brook")
	file := filepath.Join(t.TempDir(), "sitter.pdf")
	if out := mustDo(t, "print", "sitter", "--collection", folder, "--out", file, "--days", "7"); !strings.Contains(out, "paper for the sitter") {
		t.Errorf("print says %q", out)
	}
	if written, err := os.ReadFile(file); err != nil || !bytes.HasPrefix(written, []byte("%PDF-")) {
		t.Errorf("%v, begins with %.8q", err, written)
	}
	if code, _, errors := ctl("en", "print", "sitter", "--collection", folder, "--out", file, "--days", "61"); code != exitFailed || !strings.Contains(errors, "61") || !strings.Contains(errors, "Days") {
		t.Errorf("61 days: code %d, %q", code, errors)
	}
	if code, _, _ := ctl("en", "print", "sitter", "--collection", folder, "--out", file, "--animal", "Kestrel"); code != exitUsage {
		t.Errorf("a paper about all animals takes one: code %d", code)
	}
}

func TestKeepAndBringBack(t *testing.T) {
	folder := kept(t, "Kestrel")
	mustDo(t, "backup", folder)
	if out := mustDo(t, "verify", folder); strings.Count(out, "every record is whole") != 2 {
		t.Errorf("verify says:\n%s", out)
	}
	file := filepath.Join(t.TempDir(), "all.jsonl")
	mustDo(t, "dump", "--out", file, folder)
	other := filepath.Join(t.TempDir(), "other")
	mustDo(t, "load", file, "--collection", other)
	again := filepath.Join(t.TempDir(), "again.jsonl")
	mustDo(t, "dump", other, "--out", again)
	first, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if second, err := os.ReadFile(again); err != nil || !bytes.Equal(first, second) {
		t.Errorf("the dump of what was loaded differs (%v)", err)
	}
	if out := mustDo(t, "restore", "--collection", folder); !strings.Contains(out, "was restored") || !strings.Contains(out, "is kept in") {
		t.Errorf("restore says:\n%s", out)
	}
	mustDo(t, "print", "health-record", "--collection", folder, "--animal", "K-1", "--out", filepath.Join(t.TempDir(), "a.pdf"))
}

func TestVerifyFindsDamage(t *testing.T) {
	folder := kept(t, "Kestrel")
	path := filepath.Join(folder, collectionFile)
	raw, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	raw = bytes.ReplaceAll(raw, []byte("Kestrel"), []byte("Kestrfl"))
	if err := os.WriteFile(path, raw, 0o600); err != nil {
		t.Fatal(err)
	}
	code, out, errors := ctl("en", "verify", folder)
	if code != exitFailed || !strings.Contains(errors, "Not every file is whole") || !strings.Contains(out, path) {
		t.Errorf("code %d, out %q, errors %q", code, out, errors)
	}
}

func TestWhatCannotBeDoneIsSaid(t *testing.T) {
	folder := kept(t, "Kestrel", "Brook")
	file := filepath.Join(t.TempDir(), "a.pdf")
	empty := t.TempDir()
	print := func(more ...string) []string { // what is given takes the place of the usual
		all := append([]string{"print", "health-record"}, more...)
		for _, usual := range [][]string{{"--collection", folder}, {"--animal", "Kestrel"}, {"--out", file}} {
			if !slices.Contains(more, usual[0]) {
				all = append(all, usual...)
			}
		}
		return all
	}
	for name, c := range map[string]struct {
		arguments []string
		code      int
		want      []string
	}{
		"nothing":          {nil, exitUsage, []string{"coilctl print health-record"}},
		"unknown command":  {[]string{"prnt"}, exitFailed, []string{"Command", "prnt"}},
		"unknown flag":     {print("--papr", "A4"), exitUsage, []string{"coilctl print"}},
		"unknown paper":    {[]string{"print", "menu", "--collection", folder, "--animal", "Kestrel", "--out", file}, exitFailed, []string{"Paper", "menu", "health-record", "power-cut", "check-sheet", "tube-labels"}},
		"unknown size":     {print("--paper", "A5"), exitFailed, []string{"--paper", "A5", "Letter"}},
		"language":         {print("--lang", "tlh"), exitFailed, []string{"--lang", "tlh", "en or de"}},
		"unknown animal":   {print("--animal", "Sorrel"), exitFailed, []string{"--animal", "Sorrel"}},
		"no folder":        {print("--out", filepath.Join(empty, "not", "there.pdf")), exitFailed, []string{"File", "there.pdf", "Make it first"}},
		"a folder":         {print("--out", empty), exitFailed, []string{"This is a folder"}},
		"no collection":    {print("--collection", empty), exitFailed, []string{"collection.db"}},
		"load over":        {[]string{"load", file, "--collection", folder}, exitFailed, []string{"empty folder"}},
		"load nothing":     {[]string{"load", file, "--collection", filepath.Join(empty, "new")}, exitFailed, []string{"File", "a.pdf", "Check the path"}},
		"no backup":        {[]string{"restore", "--collection", empty}, exitFailed, []string{"--from", "coilctl salvage"}},
		"backup not there": {[]string{"restore", "--collection", folder, "--from", file + ".old"}, exitFailed, []string{"File", "a.pdf.old", "Check the path"}},
		"one too many":     {[]string{"verify", folder, empty}, exitUsage, []string{"verify", empty, "coilctl verify FOLDER"}},
	} {
		t.Run(name, func(t *testing.T) {
			code, out, errors := ctl("en", c.arguments...)
			if code != c.code {
				t.Errorf("code %d, want %d", code, c.code)
			}
			for _, want := range c.want {
				if !strings.Contains(errors, want) {
					t.Errorf("says %q, want %q in it", errors, want)
				}
			}
			if strings.Contains(out+errors, "⟦") {
				t.Errorf("a text is missing: %q %q", out, errors)
			}
			if german, _, said := ctl("de", c.arguments...); german != c.code || said == errors {
				t.Errorf("in German: code %d, %q", german, said)
			}
		})
	}
	if _, err := os.Stat(file); err == nil {
		t.Error("a refused paper left a file")
	}
}

func TestNamesThatWindowsKeepsAreRefusedThere(t *testing.T) {
	for _, name := range []string{"CON.pdf", "a:b.pdf", "dots...", "nul"} {
		if err := usable(filepath.Join(t.TempDir(), name), "windows"); err == nil {
			t.Errorf("%s is taken on Windows", name)
		}
		if err := usable(filepath.Join(t.TempDir(), name), "linux"); err != nil {
			t.Errorf("%s on Linux: %v", name, err)
		}
	}
}

func TestLanguageOf(t *testing.T) {
	for _, c := range []struct{ all, lang, want string }{{"", "de_DE.UTF-8", "de"}, {"en_GB", "de_DE", "en"}, {"", "", "en"}, {"C", "de", "en"}} {
		got := languageOf(func(name string) string {
			return map[string]string{"LC_ALL": c.all, "LANG": c.lang}[name]
		})
		if got != c.want {
			t.Errorf("LC_ALL=%q LANG=%q: %q, want %q", c.all, c.lang, got, c.want)
		}
	}
}

// Where two animals go by one code, what is said names each with its id, and the id
// leads on.
func TestSeveralAnimalsOfACode(t *testing.T) {
	folder := kept(t, "Caro")
	id := ""
	within(t, folder, func(c *collection.Collection) {
		done, err := c.Do(animals.Add{Animal: animals.Animal{Name: "Nimbus", Code: "K-1", Status: animals.Kept}})
		if err != nil {
			t.Fatal(err)
		}
		id = done.Documents[0].String()
	})
	file := filepath.Join(t.TempDir(), "card.pdf")
	print := func(animal string) (int, string) {
		code, _, errors := ctl("en", "print", "emergency-card", "--collection", folder, "--animal", animal, "--out", file)
		return code, errors
	}
	if code, said := print("K-1"); code != exitFailed || !strings.Contains(said, id+" (Nimbus K-1)") || !strings.Contains(said, "(Caro K-1)") || !strings.Contains(said, "--animal the id") {
		t.Errorf("code %d: %s", code, said)
	}
	if code, said := print(id); code != exitDone {
		t.Errorf("its id: code %d: %s", code, said)
	}
}
