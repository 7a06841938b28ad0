package handover

import (
	"bytes"
	"crypto/ed25519"
	"crypto/rand"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"log/slog"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"

	"filippo.io/age"
	"golang.org/x/text/unicode/norm"

	"coilward/model"
	"coilward/model/disk"
)

// keyForm is the form of a key's file.
const keyForm = 1

// Key is what a keeper signs papers with. Whoever has it can sign in the keeper's
// place.
type Key struct {
	private ed25519.PrivateKey
	made    model.Day // 0: not noted
}

// NewKey makes a key whose day is not noted.
func NewKey() (Key, error) {
	_, private, err := ed25519.GenerateKey(rand.Reader)
	if err != nil {
		return Key{}, fmt.Errorf("make a key: %w", err)
	}
	return Key{private: private}, nil
}

// On is the key with the day on which it was made.
func (k Key) On(made model.Day) Key {
	k.made = made
	return k
}

// Made is the day on which it was made; 0: not noted.
func (k Key) Made() model.Day { return k.made }

// Public is the part that anybody may know.
func (k Key) Public() Public { return Public(k.private.Public().(ed25519.PublicKey)) }

// IsZero reports whether it is no key.
func (k Key) IsZero() bool { return len(k.private) == 0 }

// String is its fingerprint: a key is never told by being printed.
func (k Key) String() string {
	if k.IsZero() {
		return "no key"
	}
	return "key " + k.Public().Fingerprint()
}

// GoString is String.
func (k Key) GoString() string { return k.String() }

// Same reports whether both are the same key.
func (k Key) Same(other Key) bool { return k.private.Equal(other.private) }

// Public is the part of a key by which a signature is checked.
type Public []byte

// fingerDigits is how many digits a fingerprint has.
const fingerDigits = 20

// Fingerprint is a key in twenty hex digits that people can compare: the beginning
// of a SHA-256 of it, in fives of four.
func (p Public) Fingerprint() string {
	sum := sha256.Sum256(append([]byte("coilward key\n"), p...))
	return spaced(strings.ToUpper(hex.EncodeToString(sum[:fingerDigits/2])))
}

// spaced is a fingerprint in fives of four, and compact without its blanks.
func spaced(digits string) string {
	return digits[:4] + " " + digits[4:8] + " " + digits[8:12] + " " + digits[12:16] + " " + digits[16:]
}

func compact(fingerprint string) string { return strings.ReplaceAll(fingerprint, " ", "") }

// Code is what a QR code of the key says: the fingerprint with what it is of.
func (p Public) Code() string { return "COILWARD-KEY:" + compact(p.Fingerprint()) }

// written is a key in its file.
type written struct {
	Form int    `json:"coilwardKey"`
	Seed string `json:"seed"`
	Made string `json:"made,omitempty"` // day
}

func (k Key) bytes() ([]byte, error) {
	w := written{Form: keyForm, Seed: hex.EncodeToString(k.private.Seed())}
	if k.made != 0 {
		w.Made = k.made.String()
	}
	return json.Marshal(w)
}

// errNoKey does not repeat what a file says.
var errNoKey = errors.New("it is no file of a key")

func parseKey(raw []byte) (Key, error) {
	var w written
	if err := json.Unmarshal(raw, &w); err != nil {
		return Key{}, errNoKey
	}
	if w.Form > keyForm {
		return Key{}, fmt.Errorf("form %d: %w", w.Form, model.ErrNewer)
	}
	seed, err := hex.DecodeString(w.Seed)
	if err != nil || w.Form < 1 || len(seed) != ed25519.SeedSize {
		return Key{}, errNoKey
	}
	k := Key{private: ed25519.NewKeyFromSeed(seed)}
	var day model.Day
	if day.UnmarshalText([]byte(w.Made)) == nil { // a key signs without its day too
		k.made = day
	}
	return k, nil
}

// longestKey is more than any file of a key, encrypted or not, has in bytes.
const longestKey = 4096

// KeyWhy says in one word what is wrong with the file of a key. Values are frozen; the
// text is "refusal.key." + value.
type KeyWhy string

// What can be wrong with the file of a key, or of a copy.
const (
	KeyDamaged KeyWhy = "damaged" // it is no key, or not all of it
	KeyNewer   KeyWhy = "newer"   // a newer version of the program wrote it
	KeyKind    KeyWhy = "kind"    // a folder, a pipe: no file
	KeyUnread  KeyWhy = "unread"  // the system does not let it be read
	KeyOther   KeyWhy = "other"   // a copy opens, and holds another key than its name says
	// KeyUnwritten: the key could not be written; what lay there before lies there still.
	KeyUnwritten KeyWhy = "unwritten"
)

// KeyFault is a file of a key that cannot be used, and why.
type KeyFault struct {
	Path string
	Why  KeyWhy
	Err  error
}

// Error names the file and the cause.
func (f *KeyFault) Error() string {
	tried := "read"
	if f.Why == KeyUnwritten {
		tried = "write"
	}
	return fmt.Sprintf("%s the key in %s: %v", tried, f.Path, f.Err)
}

// Unwrap is the cause.
func (f *KeyFault) Unwrap() error { return f.Err }

// Refusal says it to people.
func (f *KeyFault) Refusal() *model.Refusal {
	return &model.Refusal{Field: "key", Value: f.Path, Reason: "key." + string(f.Why), Answer: model.Mend,
		Gaps: map[string]model.Gap{"Path": model.TextGap(f.Path)}}
}

// readFile reads a file of a key, or of a copy. It waits for no pipe. Where there is
// none the error is fs.ErrNotExist.
func readFile(path string) ([]byte, error) {
	info, err := os.Stat(path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		switch there, err := os.Lstat(path); {
		case err == nil && there.Mode()&fs.ModeSymlink != 0:
			return nil, &KeyFault{path, KeyKind, errors.New("it is a link that leads nowhere")}
		case err == nil: // another start has made it meanwhile
			return readFile(path)
		}
		return nil, fmt.Errorf("read the key: %w", err)
	case err != nil:
		return nil, &KeyFault{path, KeyUnread, err}
	case !info.Mode().IsRegular():
		return nil, &KeyFault{path, KeyKind, errors.New("it is no file")}
	case info.Size() > longestKey:
		return nil, &KeyFault{path, KeyDamaged, errNoKey}
	}
	file, err := os.Open(path)
	if err != nil {
		return nil, &KeyFault{path, KeyUnread, err}
	}
	defer file.Close()
	raw, err := io.ReadAll(io.LimitReader(file, longestKey))
	if err != nil {
		return nil, &KeyFault{path, KeyUnread, err}
	}
	return raw, nil
}

// ReadKey reads the key of a file. Where there is none it is fs.ErrNotExist; what else is
// wrong is a *KeyFault. A file that others may read is closed to them, where its user can.
func ReadKey(path string) (Key, error) {
	raw, err := readFile(path)
	if err != nil {
		return Key{}, err
	}
	k, err := parseKey(raw)
	switch {
	case errors.Is(err, model.ErrNewer):
		return Key{}, &KeyFault{path, KeyNewer, err}
	case err != nil:
		return Key{}, &KeyFault{path, KeyDamaged, err}
	}
	if info, err := os.Stat(path); err == nil && runtime.GOOS != "windows" && info.Mode().Perm()&0o077 != 0 {
		if err := os.Chmod(path, 0o600); err != nil { // it may lie where there are no such rights
			slog.Warn("close the key to others", "error", err)
		}
	}
	return k, nil
}

// WriteKey writes a key into a file that only its user can read, whole or not at all. A
// file that is there already stays, and is an error that is fs.ErrExist. The error is a
// *KeyFault.
func WriteKey(path string, k Key) error {
	return unwritten(path, draft(path, k, func(from string) error { return put(from, path) }))
}

// unwritten is why a key could not be written.
func unwritten(path string, err error) error {
	if err == nil {
		return nil
	}
	return &KeyFault{path, KeyUnwritten, err}
}

// draft writes a key beside its place and hands it on; nothing of it is left.
func draft(path string, k Key, place func(from string) error) error {
	raw, err := k.bytes()
	if err != nil {
		return err
	}
	if err := os.MkdirAll(filepath.Dir(path), 0o700); err != nil {
		return err
	}
	file, err := os.CreateTemp(filepath.Dir(path), ".signing-key-*") // which nobody else can read
	if err != nil {
		return err
	}
	defer os.Remove(file.Name())
	_, err = file.Write(raw)
	if err = errors.Join(err, file.Sync(), file.Close()); err != nil {
		return err
	}
	if err := place(file.Name()); err != nil {
		return err
	}
	if err := syncFolder(filepath.Dir(path)); err != nil { // the key is in its place; only a power cut now could undo that
		slog.Warn("settle the folder of the key", "error", err)
	}
	return nil
}

// syncFolder is disk.SyncFolder, but for tests of a folder that does not settle.
var syncFolder = disk.SyncFolder

// put gives a file a second name, unless another has it.
func put(from, path string) error {
	err := os.Link(from, path)
	if err == nil || errors.Is(err, fs.ErrExist) {
		return err
	}
	return copyTo(from, path) // the disk knows no links
}

// copyTo copies a file under a name that no other has.
func copyTo(from, path string) error {
	raw, err := os.ReadFile(from)
	if err != nil {
		return err
	}
	file, err := os.OpenFile(path, os.O_CREATE|os.O_EXCL|os.O_WRONLY, 0o600)
	if err != nil {
		return err
	}
	_, err = file.Write(raw)
	if err = errors.Join(err, file.Sync(), file.Close()); err != nil {
		return errors.Join(err, os.Remove(path))
	}
	return nil
}

// KeyIn is the key of a file, which is made where there is none; day is that day.
func KeyIn(path string, day model.Day) (k Key, made bool, err error) {
	if k, err = ReadKey(path); !errors.Is(err, fs.ErrNotExist) {
		return k, false, err
	}
	if k, err = NewKey(); err != nil {
		return Key{}, false, err
	}
	k = k.On(day)
	switch err = WriteKey(path, k); {
	case errors.Is(err, fs.ErrExist): // a second start was faster
		k, err = ReadKey(path)
		return k, false, err
	case err != nil:
		return Key{}, false, err
	}
	return k, true, nil
}

// ErrAnother says that another key lies there than the one that was to be replaced.
var ErrAnother = errors.New("another key lies there")

// ReplaceKey puts a key in the place of what lies in a file: of the key was, or, where was
// is zero, of what is no key, or of nothing. What lay there is kept beside it, as aside
// tells; empty: there was nothing. ErrAnother: somebody else has replaced it meanwhile.
// What could not be written is a *KeyFault, and leaves all as it was.
func ReplaceKey(path string, k, was Key) (aside string, err error) {
	now, err := ReadKey(path)
	var fault *KeyFault
	switch {
	case errors.Is(err, fs.ErrNotExist):
		if !was.IsZero() {
			return "", ErrAnother
		}
		return "", WriteKey(path, k)
	case errors.As(err, &fault) && fault.Why == KeyDamaged:
		if !was.IsZero() {
			return "", ErrAnother
		}
	case err != nil:
		return "", err
	case was.IsZero() || !now.Same(was):
		return "", ErrAnother
	}
	if aside, err = setAside(path, now); err != nil {
		return "", unwritten(path, err)
	}
	return aside, unwritten(path, draft(path, k, func(from string) error { return os.Rename(from, path) }))
}

// asideMark stands in the names of keys that were set aside, before the fingerprint.
const asideMark = "-before-"

// setAside gives the file of a key, or of what is none, a second name.
func setAside(path string, k Key) (string, error) {
	name := path + asideMark + "damaged"
	if !k.IsZero() {
		name = path + asideMark + compact(k.Public().Fingerprint())
	}
	for n := 1; ; n++ {
		aside := name
		if n > 1 {
			aside = fmt.Sprintf("%s-%d", name, n)
		}
		err := put(path, aside)
		if errors.Is(err, fs.ErrExist) {
			if there, err := ReadKey(aside); err == nil && !k.IsZero() && there.Same(k) {
				return aside, nil
			}
			continue
		}
		return aside, err
	}
}

// EarlierKeys are the keys that were set aside when others took their place, but for the
// one that lies in its place again. What was set aside damaged is none. One that cannot be
// read is an error beside the others.
func EarlierKeys(path string) (all []Key, unread error) {
	entries, err := os.ReadDir(filepath.Dir(path))
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return nil, &KeyFault{filepath.Dir(path), KeyUnread, err}
	}
	now, _ := ReadKey(path)
	for _, entry := range entries {
		if !strings.HasPrefix(entry.Name(), filepath.Base(path)+asideMark) {
			continue
		}
		k, err := ReadKey(filepath.Join(filepath.Dir(path), entry.Name()))
		var fault *KeyFault
		switch {
		case errors.As(err, &fault) && fault.Why == KeyDamaged, errors.Is(err, fs.ErrNotExist):
		case err != nil:
			unread = errors.Join(unread, err)
		case !k.Same(now) && !slices.ContainsFunc(all, k.Same):
			all = append(all, k)
		}
	}
	return all, unread
}

// ErrPassphrase says that a copy of a key does not open with that passphrase.
var ErrPassphrase = errors.New("it does not open with this passphrase")

// LeastPassphrase is how many characters a passphrase has at least. Source: NIST SP
// 800-63B, 3.1.1 asks for 8 at least and 15 where nothing else is asked (from memory).
const LeastPassphrase = 15

// leastUnlike is how many different characters a passphrase has at least; assumed.
const leastUnlike = 5

// PassphraseFault says what is wrong with a new passphrase: "" nothing, "short", or "same"
// where too few of its characters differ. The text is "signing.passphrase." + value.
func PassphraseFault(passphrase string) string {
	characters, unlike := 0, map[rune]bool{}
	for _, r := range plain(passphrase) {
		characters++
		unlike[r] = true
	}
	switch {
	case characters < LeastPassphrase:
		return "short"
	case len(unlike) < leastUnlike:
		return "same"
	}
	return ""
}

// plain is a passphrase as it is used: typed on another computer its characters may be put
// together otherwise, and what is pasted has blanks around it.
func plain(passphrase string) string { return norm.NFC.String(strings.TrimSpace(passphrase)) }

// work is how much a guess costs, as a power of two: about a second, and 256 MiB.
const work = 18

// Lock is a key encrypted with a passphrase, in the format of age.
func Lock(k Key, passphrase string) ([]byte, error) { return lock(k, passphrase, work) }

func lock(k Key, passphrase string, work int) ([]byte, error) {
	to, err := age.NewScryptRecipient(plain(passphrase))
	if err != nil {
		return nil, fmt.Errorf("encrypt the key: %w", err)
	}
	to.SetWorkFactor(work)
	raw, err := k.bytes()
	if err != nil {
		return nil, fmt.Errorf("encrypt the key: %w", err)
	}
	var out bytes.Buffer
	w, err := age.Encrypt(&out, to)
	if err == nil {
		_, err = w.Write(raw)
	}
	if err == nil {
		err = w.Close()
	}
	if err != nil {
		return nil, fmt.Errorf("encrypt the key: %w", err)
	}
	return out.Bytes(), nil
}

// Unlock is the key of an encrypted copy, or ErrPassphrase. A copy that asks for more work
// than Lock's is refused: it could take all the memory there is.
func Unlock(raw []byte, passphrase string) (Key, error) {
	passphrase = plain(passphrase)
	if passphrase == "" {
		return Key{}, fmt.Errorf("open the copy of the key: %w", ErrPassphrase)
	}
	as, err := age.NewScryptIdentity(passphrase)
	if err != nil {
		return Key{}, fmt.Errorf("open the copy of the key: %w", err)
	}
	as.SetMaxWorkFactor(work)
	r, err := age.Decrypt(bytes.NewReader(raw), as)
	if err != nil {
		if wrong := (*age.NoIdentityMatchError)(nil); errors.As(err, &wrong) {
			return Key{}, fmt.Errorf("open the copy of the key: %w", ErrPassphrase)
		}
		return Key{}, fmt.Errorf("open the copy of the key: %w", err)
	}
	said, err := io.ReadAll(io.LimitReader(r, longestKey))
	if err != nil {
		return Key{}, fmt.Errorf("open the copy of the key: %w", err)
	}
	return parseKey(said)
}

// A copy is named after the key in it, so that those of several keys can lie in one
// place.
const copyBegin, CopyEnd = "papers-key", ".age"

// CopyName is what the encrypted copy of a key is called among the backups.
func CopyName(p Public) string { return copyBegin + "-" + compact(p.Fingerprint()) + CopyEnd }

// CopyOf is the fingerprint of the key that a file of that name is the copy of; "" if its
// name does not tell.
func CopyOf(name string) string {
	digits, begins := strings.CutPrefix(filepath.Base(name), copyBegin+"-")
	digits, ends := strings.CutSuffix(digits, CopyEnd)
	if !begins || !ends || len(digits) != fingerDigits || strings.Trim(digits, "0123456789ABCDEF") != "" {
		return ""
	}
	return spaced(digits)
}

// ReadCopy is the key of an encrypted copy, or ErrPassphrase; what else is wrong with the
// file is a *KeyFault.
func ReadCopy(path, passphrase string) (Key, error) {
	raw, err := readFile(path)
	if err != nil {
		return Key{}, err
	}
	k, err := Unlock(raw, passphrase)
	switch said := CopyOf(path); {
	case errors.Is(err, ErrPassphrase):
		return Key{}, err
	case errors.Is(err, model.ErrNewer):
		return Key{}, &KeyFault{path, KeyNewer, err}
	case err != nil:
		return Key{}, &KeyFault{path, KeyDamaged, err}
	case said != "" && said != k.Public().Fingerprint():
		return Key{}, &KeyFault{path, KeyOther, errors.New("it holds the key " + k.Public().Fingerprint())}
	}
	return k, nil
}
