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
	"os"
	"path/filepath"
	"strings"

	"filippo.io/age"

	"coilward/model"
	"coilward/model/disk"
)

// keyForm is the form of a key's file.
const keyForm = 1

// Key is what a keeper signs papers with. Whoever has it can sign in the keeper's
// place.
type Key struct{ private ed25519.PrivateKey }

// NewKey makes a key.
func NewKey() (Key, error) {
	_, private, err := ed25519.GenerateKey(rand.Reader)
	if err != nil {
		return Key{}, fmt.Errorf("make a key: %w", err)
	}
	return Key{private}, nil
}

// Public is the part that anybody may know.
func (k Key) Public() Public { return Public(k.private.Public().(ed25519.PublicKey)) }

// IsZero reports whether it is no key.
func (k Key) IsZero() bool { return len(k.private) == 0 }

// Public is the part of a key by which a signature is checked.
type Public []byte

// Fingerprint is a key in twenty hex digits that people can compare: the beginning
// of a SHA-256 of it, in fives of four.
func (p Public) Fingerprint() string {
	sum := sha256.Sum256(append([]byte("coilward key\n"), p...))
	digits := strings.ToUpper(hex.EncodeToString(sum[:10]))
	return digits[:4] + " " + digits[4:8] + " " + digits[8:12] + " " + digits[12:16] + " " + digits[16:]
}

// Code is what a QR code of the key says: the fingerprint with what it is of.
func (p Public) Code() string {
	return "COILWARD-KEY:" + strings.ReplaceAll(p.Fingerprint(), " ", "")
}

// written is a key in its file.
type written struct {
	Form int    `json:"coilwardKey"`
	Seed string `json:"seed"`
}

func (k Key) bytes() ([]byte, error) {
	return json.Marshal(written{keyForm, hex.EncodeToString(k.private.Seed())})
}

func parseKey(raw []byte) (Key, error) {
	var w written
	if err := json.Unmarshal(raw, &w); err != nil {
		return Key{}, errors.New("it is no file of a key") // what it says is not repeated
	}
	if w.Form > keyForm {
		return Key{}, fmt.Errorf("form %d: %w", w.Form, model.ErrNewer)
	}
	seed, err := hex.DecodeString(w.Seed)
	if err != nil || w.Form < 1 || len(seed) != ed25519.SeedSize {
		return Key{}, errors.New("it is no file of a key")
	}
	return Key{ed25519.NewKeyFromSeed(seed)}, nil
}

// longestKey is more than any file of a key, encrypted or not, has in bytes.
const longestKey = 4096

// ReadKey reads the key of a file. Where there is none it is fs.ErrNotExist.
func ReadKey(path string) (Key, error) {
	file, err := os.Open(path)
	if err != nil {
		return Key{}, fmt.Errorf("read the key: %w", err)
	}
	defer file.Close()
	raw, err := io.ReadAll(io.LimitReader(file, longestKey))
	if err != nil {
		return Key{}, fmt.Errorf("read the key: %w", err)
	}
	k, err := parseKey(raw)
	if err != nil {
		return Key{}, fmt.Errorf("read the key in %s: %w", path, err)
	}
	return k, nil
}

// WriteKey writes a key into a file that only its user can read, whole or not at all. A
// file that is there already stays, and is an error that is fs.ErrExist.
func WriteKey(path string, k Key) error {
	raw, err := k.bytes()
	if err != nil {
		return fmt.Errorf("write the key: %w", err)
	}
	if err := os.MkdirAll(filepath.Dir(path), 0o700); err != nil {
		return fmt.Errorf("write the key: %w", err)
	}
	file, err := os.CreateTemp(filepath.Dir(path), ".signing-key-*") // which nobody else can read
	if err != nil {
		return fmt.Errorf("write the key: %w", err)
	}
	defer os.Remove(file.Name())
	_, err = file.Write(raw)
	if err = errors.Join(err, file.Sync(), file.Close()); err != nil {
		return fmt.Errorf("write the key: %w", err)
	}
	if err := put(file.Name(), path); err != nil {
		return fmt.Errorf("write the key: %w", err)
	}
	return nil
}

// put gives a file its name, unless another has it.
func put(from, path string) error {
	err := os.Link(from, path)
	if err == nil || errors.Is(err, fs.ErrExist) {
		return err
	}
	if _, err := os.Lstat(path); !errors.Is(err, fs.ErrNotExist) { // the disk knows no links
		return errors.Join(fs.ErrExist, err)
	}
	return os.Rename(from, path)
}

// KeyIn is the key of a file, which is made where there is none.
func KeyIn(path string) (k Key, made bool, err error) {
	if k, err = ReadKey(path); !errors.Is(err, fs.ErrNotExist) {
		return k, false, err
	}
	if k, err = NewKey(); err != nil {
		return Key{}, false, err
	}
	switch err = WriteKey(path, k); {
	case errors.Is(err, fs.ErrExist): // a second start was faster
		k, err = ReadKey(path)
		return k, false, err
	case err != nil:
		return Key{}, false, err
	}
	return k, true, nil
}

// ErrPassphrase says that a copy of a key does not open with that passphrase.
var ErrPassphrase = errors.New("it does not open with this passphrase")

// LeastPassphrase is how many signs a passphrase has at least. Source: NIST SP
// 800-63B, 3.1.1 asks for 8 at least and 15 where nothing else is asked (from memory).
const LeastPassphrase = 15

// work is how much a guess costs, as a power of two: about a second.
const work = 18

// Lock is a key encrypted with a passphrase, in the format of age.
func Lock(k Key, passphrase string) ([]byte, error) { return lock(k, passphrase, work) }

func lock(k Key, passphrase string, work int) ([]byte, error) {
	to, err := age.NewScryptRecipient(passphrase)
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

// Unlock is the key of an encrypted copy, or ErrPassphrase.
func Unlock(raw []byte, passphrase string) (Key, error) {
	as, err := age.NewScryptIdentity(passphrase)
	if err != nil {
		return Key{}, fmt.Errorf("open the copy of the key: %w", err)
	}
	as.SetMaxWorkFactor(work + 2)
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

// CopyName is what the encrypted copy of a key is called among the backups.
const CopyName = "papers-key.age"

// WriteCopy puts an encrypted copy of the key into a folder of backups.
func WriteCopy(folder string, k Key, passphrase string) error {
	raw, err := Lock(k, passphrase)
	if err != nil {
		return err
	}
	if err := os.MkdirAll(folder, 0o700); err != nil {
		return fmt.Errorf("keep a copy of the key: %w", err)
	}
	return disk.Write(filepath.Join(folder, CopyName), raw)
}

// ReadCopy is the key of the encrypted copy in a folder of backups.
func ReadCopy(folder, passphrase string) (Key, error) {
	file, err := os.Open(filepath.Join(folder, CopyName))
	if err != nil {
		return Key{}, fmt.Errorf("read the copy of the key: %w", err)
	}
	defer file.Close()
	raw, err := io.ReadAll(io.LimitReader(file, longestKey))
	if err != nil {
		return Key{}, fmt.Errorf("read the copy of the key: %w", err)
	}
	return Unlock(raw, passphrase)
}
