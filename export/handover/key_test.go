package handover

import (
	"bytes"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"sync"
	"testing"

	"coilward/model"
)

// someDay is the day on which keys of these tests are made.
var someDay = model.NewDay(2027, 3, 3)

func fresh(t testing.TB) Key {
	t.Helper()
	k, err := NewKey()
	if err != nil {
		t.Fatal(err)
	}
	return k.On(someDay)
}

// lies are the names of what lies in a folder.
func lies(t testing.TB, folder string) (names []string) {
	t.Helper()
	entries, err := os.ReadDir(folder)
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		names = append(names, e.Name())
	}
	return names
}

func TestAKeyInItsFile(t *testing.T) {
	path := filepath.Join(t.TempDir(), "settings", "papers.key")
	k, made, err := KeyIn(path, someDay)
	if err != nil || !made {
		t.Fatalf("made %v, %v", made, err)
	}
	again, made, err := KeyIn(path, someDay+1)
	if err != nil || made || !again.Same(k) || again.Made() != someDay {
		t.Errorf("read %s of %v, made %v, %v", again.Public().Fingerprint(), again.Made(), made, err)
	}
	info, err := os.Stat(path)
	if err != nil {
		t.Fatal(err)
	}
	if runtime.GOOS != "windows" && info.Mode().Perm() != 0o600 {
		t.Errorf("others may read it: %v", info.Mode())
	}
	if err := WriteKey(path, fresh(t)); !errors.Is(err, fs.ErrExist) {
		t.Errorf("written over: %v", err)
	}
	if left := lies(t, filepath.Dir(path)); len(left) != 1 {
		t.Errorf("beside it lie %v", left)
	}
}

// A key without its day, as the first were written, is read; one with a day that there is
// not signs all the same.
func TestAKeyWithoutItsDay(t *testing.T) {
	k := fresh(t)
	for _, day := range []string{"", `,"made":"2027-02-30"`, `,"made":"once"`} {
		path := filepath.Join(t.TempDir(), "key")
		if err := os.WriteFile(path, []byte(`{"coilwardKey":1,"seed":"`+hex.EncodeToString(k.private.Seed())+`"`+day+`}`), 0o600); err != nil {
			t.Fatal(err)
		}
		if read, err := ReadKey(path); err != nil || !read.Same(k) || read.Made() != 0 {
			t.Errorf("%q: %v of %v", day, err, read.Made())
		}
	}
}

// What is wrong with a file is said by its path and a reason; what it holds is not.
func TestSpoiltKeys(t *testing.T) {
	seed := strings.Repeat("5e", 32)
	for _, c := range []struct {
		raw string
		why KeyWhy
	}{
		{"", KeyDamaged},
		{`{"coilwardKey":1,"seed":"` + seed, KeyDamaged},
		{`{"coilwardKey":1,"seed":"` + seed[:62] + `"}`, KeyDamaged},
		{`{"coilwardKey":1,"seed":"` + seed + `00"}`, KeyDamaged},
		{`{"coilwardKey":0,"seed":"` + seed + `"}`, KeyDamaged},
		{`{"coilwardKey":1,"seed":"zz` + seed[2:] + `"}`, KeyDamaged},
		{strings.Repeat("\x00", 120), KeyDamaged},
		{`{"coilwardKey":1,"seed":"` + seed + `"}` + strings.Repeat(" ", longestKey), KeyDamaged},
		{`{"coilwardKey":2,"seed":"` + seed + `"}`, KeyNewer},
	} {
		path := filepath.Join(t.TempDir(), "signing-key")
		if err := os.WriteFile(path, []byte(c.raw), 0o600); err != nil {
			t.Fatal(err)
		}
		_, made, err := KeyIn(path, someDay)
		var fault *KeyFault
		if !errors.As(err, &fault) || fault.Why != c.why || fault.Path != path || made {
			t.Errorf("%.40q: %v", c.raw, err)
			continue
		}
		if strings.Contains(err.Error(), seed[:20]) {
			t.Errorf("it is told: %v", err)
		}
		if r := fault.Refusal(); r.Reason != "key."+string(c.why) || r.Value != path {
			t.Errorf("%+v", r)
		}
		if raw, err := os.ReadFile(path); err != nil || string(raw) != c.raw {
			t.Errorf("%.40q was changed", c.raw)
		}
	}
	folder := t.TempDir()
	if _, err := ReadKey(folder); !isWhy(err, KeyKind) {
		t.Errorf("a folder: %v", err)
	}
	if err := os.Symlink(filepath.Join(folder, "nowhere"), filepath.Join(folder, "link")); err == nil {
		if _, _, err := KeyIn(filepath.Join(folder, "link"), someDay); !isWhy(err, KeyKind) {
			t.Errorf("a link that leads nowhere: %v", err)
		}
	}
}

func isWhy(err error, why KeyWhy) bool {
	var fault *KeyFault
	return errors.As(err, &fault) && fault.Why == why
}

// A key that others may read is closed to them.
func TestAKeyThatOthersMayRead(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("rights are kept otherwise there")
	}
	path := filepath.Join(t.TempDir(), "key")
	if err := WriteKey(path, fresh(t)); err != nil {
		t.Fatal(err)
	}
	if err := os.Chmod(path, 0o644); err != nil {
		t.Fatal(err)
	}
	if _, err := ReadKey(path); err != nil {
		t.Fatal(err)
	}
	if info, err := os.Stat(path); err != nil || info.Mode().Perm() != 0o600 {
		t.Errorf("others may read it still: %v, %v", info.Mode(), err)
	}
}

// Many starts at once make one key, and all have that.
func TestManyStartsMakeOneKey(t *testing.T) {
	path := filepath.Join(t.TempDir(), "settings", "key")
	var all sync.WaitGroup
	keys, makes, errs := make([]Key, 16), make([]bool, 16), make([]error, 16)
	for i := range keys {
		all.Add(1)
		go func() {
			defer all.Done()
			keys[i], makes[i], errs[i] = KeyIn(path, someDay)
		}()
	}
	all.Wait()
	made := 0
	for i := range keys {
		if errs[i] != nil || !keys[i].Same(keys[0]) {
			t.Errorf("start %d: %v", i, errs[i])
		}
		if makes[i] {
			made++
		}
	}
	if made != 1 {
		t.Errorf("%d were made", made)
	}
	if left := lies(t, filepath.Dir(path)); len(left) != 1 {
		t.Errorf("beside it lie %v", left)
	}
}

// A key that came to its place is written, even where its folder does not settle.
func TestAKeyInAFolderThatDoesNotSettle(t *testing.T) {
	was := syncFolder
	t.Cleanup(func() { syncFolder = was })
	asked := 0
	syncFolder = func(string) error { asked++; return errors.New("it does not settle") }
	path := filepath.Join(t.TempDir(), "key")
	first, second := fresh(t), fresh(t)
	if _, err := ReplaceKey(path, first, Key{}); err != nil {
		t.Errorf("where there was none: %v", err)
	}
	if _, err := ReplaceKey(path, second, first); err != nil {
		t.Errorf("in another's place: %v", err)
	}
	if now, err := ReadKey(path); err != nil || !now.Same(second) || asked != 2 {
		t.Errorf("%v, %v, asked %d times", now, err, asked)
	}
}

// An earlier key that cannot be read is told beside those that can; a damaged one is none.
func TestAnEarlierKeyThatCannotBeRead(t *testing.T) {
	path := filepath.Join(t.TempDir(), "key")
	first := fresh(t)
	for _, put := range []struct{ now, was Key }{{first, Key{}}, {fresh(t), first}} {
		if _, err := ReplaceKey(path, put.now, put.was); err != nil {
			t.Fatal(err)
		}
	}
	if err := os.WriteFile(path+asideMark+"damaged", []byte("spoilt"), 0o600); err != nil {
		t.Fatal(err)
	}
	if all, err := EarlierKeys(path); err != nil || len(all) != 1 {
		t.Fatalf("%v, %v", all, err)
	}
	if err := os.Mkdir(path+asideMark+"0000", 0o700); err != nil {
		t.Fatal(err)
	}
	all, err := EarlierKeys(path)
	var fault *KeyFault
	if len(all) != 1 || !all[0].Same(first) || !errors.As(err, &fault) || fault.Why != KeyKind || fault.Path != path+asideMark+"0000" {
		t.Errorf("%v, %v", all, err)
	}
}

// Where a disk knows no links a key takes no other's place either.
func TestPutWithoutLinks(t *testing.T) {
	folder := t.TempDir()
	from, to := filepath.Join(folder, "from"), filepath.Join(folder, "to")
	if err := os.WriteFile(from, []byte("one"), 0o600); err != nil {
		t.Fatal(err)
	}
	if err := copyTo(from, to); err != nil {
		t.Fatal(err)
	}
	if raw, err := os.ReadFile(to); err != nil || string(raw) != "one" {
		t.Errorf("%q, %v", raw, err)
	}
	if err := os.WriteFile(from, []byte("two"), 0o600); err != nil {
		t.Fatal(err)
	}
	if err := copyTo(from, to); !errors.Is(err, fs.ErrExist) {
		t.Errorf("over another: %v", err)
	}
	if raw, err := os.ReadFile(to); err != nil || string(raw) != "one" {
		t.Errorf("%q, %v", raw, err)
	}
}

// Another key takes a key's place, which stays beside it and can be put back. Nobody's is
// replaced who was not meant.
func TestAnotherKeyTakesItsPlace(t *testing.T) {
	folder := t.TempDir()
	path := filepath.Join(folder, "key")
	first, second, third := fresh(t), fresh(t), fresh(t)
	if aside, err := ReplaceKey(path, first, Key{}); err != nil || aside != "" {
		t.Fatalf("where there was none: %q, %v", aside, err)
	}
	if _, err := ReplaceKey(path, second, Key{}); !errors.Is(err, ErrAnother) {
		t.Errorf("a key was taken for none: %v", err)
	}
	if _, err := ReplaceKey(path, second, third); !errors.Is(err, ErrAnother) {
		t.Errorf("another was replaced: %v", err)
	}
	aside, err := ReplaceKey(path, second, first)
	if err != nil || CopyOf(aside) != "" {
		t.Fatal(aside, err)
	}
	if kept, err := ReadKey(aside); err != nil || !kept.Same(first) || kept.Made() != someDay {
		t.Errorf("set aside: %v", err)
	}
	if now, err := ReadKey(path); err != nil || !now.Same(second) {
		t.Errorf("in its place: %v", err)
	}
	if earlier, err := EarlierKeys(path); err != nil || len(earlier) != 1 || !earlier[0].Same(first) {
		t.Errorf("earlier: %d, %v", len(earlier), err)
	}
	if _, err := ReplaceKey(path, first, second); err != nil { // back again
		t.Fatal(err)
	}
	if earlier, err := EarlierKeys(path); err != nil || len(earlier) != 1 || !earlier[0].Same(second) {
		t.Errorf("earlier: %d, %v", len(earlier), err)
	}
	if _, err := ReplaceKey(path, second, first); err != nil { // the first lies aside already
		t.Fatal(err)
	}
	if err := os.WriteFile(path, []byte("spoilt"), 0o600); err != nil {
		t.Fatal(err)
	}
	if _, err := ReplaceKey(path, third, second); !errors.Is(err, ErrAnother) {
		t.Errorf("a damaged one was taken for another: %v", err)
	}
	aside, err = ReplaceKey(path, third, Key{})
	if err != nil {
		t.Fatal(err)
	}
	if raw, err := os.ReadFile(aside); err != nil || string(raw) != "spoilt" {
		t.Errorf("the damaged one: %q, %v", raw, err)
	}
	if info, err := os.Stat(path); err != nil || runtime.GOOS != "windows" && info.Mode().Perm() != 0o600 {
		t.Errorf("others may read it: %v, %v", info, err)
	}
	if earlier, err := EarlierKeys(path); err != nil || len(earlier) != 2 {
		t.Errorf("earlier: %d, %v", len(earlier), err)
	}
	if left := lies(t, folder); len(left) != 4 {
		t.Errorf("there lie %v", left)
	}
}

func TestAnEncryptedCopyOfTheKey(t *testing.T) {
	k := fresh(t)
	raw, err := lock(k, "correct horse battery", 10)
	if err != nil {
		t.Fatal(err)
	}
	if seed := k.private.Seed(); bytes.Contains(raw, seed) || bytes.Contains(raw, []byte(hex.EncodeToString(seed))) || !bytes.HasPrefix(raw, []byte("age-encryption.org/v1")) {
		t.Error("the copy is not encrypted")
	}
	back, err := Unlock(raw, "correct horse battery")
	if err != nil || !bytes.Equal(back.private, k.private) || back.Made() != someDay {
		t.Errorf("opened %v", err)
	}
	for _, wrong := range []string{"correct horse batterz", "", " ", "Correct horse battery"} {
		if _, err := Unlock(raw, wrong); !errors.Is(err, ErrPassphrase) {
			t.Errorf("another passphrase: %v", err)
		}
	}
	path := filepath.Join(t.TempDir(), CopyName(k.Public()))
	keep := func(raw []byte) {
		t.Helper()
		if err := os.WriteFile(path, raw, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	keep(raw)
	if back, err := ReadCopy(path, "correct horse battery"); err != nil || !back.Same(k) {
		t.Errorf("read %v", err)
	}
	if _, err := ReadCopy(path, "correct horse batterz"); !errors.Is(err, ErrPassphrase) {
		t.Errorf("another passphrase: %v", err)
	}
	changed := bytes.Clone(raw)
	changed[len(raw)-1] ^= 1
	keep(changed)
	if _, err := ReadCopy(path, "correct horse battery"); !isWhy(err, KeyDamaged) {
		t.Errorf("a changed copy: %v", err)
	}
	for _, n := range []int{0, 10, len(raw) / 2, len(raw) - 1} {
		keep(raw[:n])
		if _, err := ReadCopy(path, "correct horse battery"); !isWhy(err, KeyDamaged) {
			t.Errorf("a copy of %d bytes: %v", n, err)
		}
	}
	other, err := lock(fresh(t), "correct horse battery", 10)
	if err != nil {
		t.Fatal(err)
	}
	keep(other)
	if _, err := ReadCopy(path, "correct horse battery"); !isWhy(err, KeyOther) {
		t.Errorf("another key under its name: %v", err)
	}
	if _, err := ReadCopy(filepath.Join(t.TempDir(), "none.age"), "correct horse battery"); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("none: %v", err)
	}
}

// A copy that asks for more work than ours is not begun: it could take all the memory.
func TestACopyThatAsksForTooMuchWork(t *testing.T) {
	raw, err := lock(fresh(t), "correct horse battery", 10)
	if err != nil {
		t.Fatal(err)
	}
	head := bytes.Index(raw, []byte(" 10\n"))
	if head < 0 {
		t.Fatalf("%q", raw[:120])
	}
	costly := append(append(bytes.Clone(raw[:head]), " 40\n"...), raw[head+4:]...)
	if _, err := Unlock(costly, "correct horse battery"); err == nil || errors.Is(err, ErrPassphrase) {
		t.Errorf("it was tried: %v", err)
	}
}

// The same passphrase opens a copy where the signs of letters are put together otherwise,
// and with blanks around it.
func TestAPassphraseOnAnotherComputer(t *testing.T) {
	k := fresh(t)
	raw, err := lock(k, "f\u00fcnf kleine schlangen", 10)
	if err != nil {
		t.Fatal(err)
	}
	for _, same := range []string{"fu\u0308nf kleine schlangen", " f\u00fcnf kleine schlangen\n"} {
		if back, err := Unlock(raw, same); err != nil || !back.Same(k) {
			t.Errorf("%q: %v", same, err)
		}
	}
	if _, err := Unlock(raw, "funf kleine schlangen"); !errors.Is(err, ErrPassphrase) {
		t.Errorf("another letter: %v", err)
	}
}

func TestPassphraseFault(t *testing.T) {
	for _, c := range []struct{ typed, fault string }{
		{"", "short"}, {"fourteen signs", "short"}, {"             13", "short"}, {"fifteen signs..", ""},
		{"aaaaaaaaaaaaaaaa", "same"}, {"abababababababab", "same"}, {"abcdeabcdeabcde", ""},
		{"ääääöööößßßßüüüé", ""}, {"u\u0308u\u0308u\u0308u\u0308u\u0308u\u0308u\u0308u\u0308", "short"},
	} {
		if got := PassphraseFault(c.typed); got != c.fault {
			t.Errorf("%q: %q, want %q", c.typed, got, c.fault)
		}
	}
}

func TestCopyName(t *testing.T) {
	k := fresh(t).Public()
	if got := CopyOf(filepath.Join("backups", CopyName(k))); got != k.Fingerprint() {
		t.Errorf("%s is the copy of %q", CopyName(k), got)
	}
	for _, other := range []string{"", "papers-key.age", "papers-key-.age", "papers-key-00112233445566778899.age.sha256", "papers-key-0011223344556677889.age",
		"papers-key-0011223344556677889g.age", "papers-key-001122334455667788990.age", "00112233445566778899.age"} {
		if got := CopyOf(other); got != "" {
			t.Errorf("%s is the copy of %q", other, got)
		}
	}
}

// A folder that may only be read is said to be so, with its path, and nothing is left in
// it.
func TestAKeyWhereNothingCanBeWritten(t *testing.T) {
	if runtime.GOOS == "windows" || os.Geteuid() == 0 {
		t.Skip("everything can be written here")
	}
	folder := t.TempDir()
	path := filepath.Join(folder, "key")
	if err := WriteKey(path, fresh(t)); err != nil {
		t.Fatal(err)
	}
	if err := os.Chmod(folder, 0o500); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if err := os.Chmod(folder, 0o700); err != nil {
			t.Error(err)
		}
	})
	k, err := ReadKey(path)
	if err != nil {
		t.Fatalf("it cannot be read: %v", err)
	}
	if _, err := ReplaceKey(path, fresh(t), k); !isWhy(err, KeyUnwritten) || !errors.Is(err, fs.ErrPermission) {
		t.Errorf("replaced: %v", err)
	}
	if _, _, err := KeyIn(filepath.Join(folder, "other"), someDay); !isWhy(err, KeyUnwritten) || !errors.Is(err, fs.ErrPermission) {
		t.Errorf("made: %v", err)
	}
	if again, err := ReadKey(path); err != nil || !again.Same(k) {
		t.Errorf("the key: %v", err)
	}
	if left := lies(t, folder); len(left) != 1 {
		t.Errorf("there lie %v", left)
	}
}

// Where a file lies in the folder's place nothing is made, whoever asks.
func TestAKeyWhereNoFolderCanBe(t *testing.T) {
	blocked := filepath.Join(t.TempDir(), "file")
	if err := os.WriteFile(blocked, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	if err := WriteKey(filepath.Join(blocked, "key"), fresh(t)); !isWhy(err, KeyUnwritten) {
		t.Errorf("written: %v", err)
	}
}

// A key stands in no error and no text of itself.
func TestAKeyTellsNothingOfItself(t *testing.T) {
	k := fresh(t)
	raw, err := k.bytes()
	if err != nil {
		t.Fatal(err)
	}
	var w written
	if err := json.Unmarshal(raw, &w); err != nil || w.Made != "2027-03-03" {
		t.Errorf("%+v, %v", w.Made, err)
	}
	said, err := json.Marshal(map[string]any{"key": k})
	if err != nil || string(said) != `{"key":{}}` {
		t.Errorf("as JSON it is %s, %v", said, err)
	}
	for _, form := range []string{"%v", "%+v", "%#v", "%s"} {
		if said := fmt.Sprintf(form, k); said != "key "+k.Public().Fingerprint() {
			t.Errorf("printed by %s it is %q", form, said)
		}
	}
}
