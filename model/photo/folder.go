// Package photo keeps photos as files beside the collection, and reports of labs as
// PDF. Each is named after the SHA-256 of its bytes, so that the same photo is kept
// once and a changed byte shows. What is kept is the original, untouched; what is
// shown and printed is made from it, upright, smaller, and without anything but the
// picture. Of a PDF nothing is made.
package photo

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"image"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strconv"
	"strings"

	"coilward/model"
	"coilward/model/disk"
)

// What a photo may be at the most.
const (
	MaxBytes  = 50 << 20    // of the file
	MaxPixels = 100_000_000 // wide times high
	// MaxHEICPixels is that of a HEIC, whose reader needs some twenty times the memory.
	MaxHEICPixels = 50_000_000
	// MaxSide is the most of the longer side: a strip of few pixels costs what its side
	// asks for while it is made smaller.
	MaxSide = 30_000
)

// The longest sides, in pixels, of the pictures that are made from a photo.
const (
	Thumbnail = 240
	Page      = 1400
)

// Folder is where a collection's photos lie. It may be used from any goroutine.
type Folder struct {
	path    string
	passing bool // nothing in it has to outlast the program
}

// Open is the folder of photos at path, which is made if it is not there. Copies of
// PDFs that were lent in an earlier session are cleared away.
func Open(path string) (*Folder, error) {
	if err := os.MkdirAll(filepath.Join(path, derivedFolder), 0o700); err != nil {
		return nil, fmt.Errorf("make the folder of photos: %w", err)
	}
	f := At(path)
	f.clearLent()
	return f, nil
}

// OpenPassing is Open for photos that go with the program, such as those of the
// sample collection: nothing waits for the disk.
func OpenPassing(path string) (*Folder, error) {
	f, err := Open(path)
	if err == nil {
		f.passing = true
	}
	return f, err
}

// At is the folder of photos at path, to be read: nothing is made, and where
// there is none, it holds no photo.
func At(path string) *Folder { return &Folder{path: path} }

// ErrChanged says that a photo's bytes are no longer those it is named after:
// it was damaged, or another was put in its place.
var ErrChanged = errors.New("its bytes are not those that were kept")

const derivedFolder = "derived"

// Kept is a photo that was taken into the folder.
type Kept struct {
	ID            model.PhotoID
	Width, Height int // upright
	Taken         Taken
}

// Keep takes a photo in and returns when its bytes are on the disk, so that a
// record may point to it. name is the name of the file it comes from. What is no
// photo, is named otherwise, or is too large is refused, a *model.Refusal.
func (f *Folder) Keep(name string, r io.Reader) (Kept, error) {
	raw, err := io.ReadAll(io.LimitReader(r, MaxBytes+1))
	if err != nil {
		return Kept{}, fmt.Errorf("read photo %s: %w", name, err)
	}
	kind, size, refusal := inspect(name, raw)
	if refusal != nil {
		return Kept{}, refusal
	}
	id, turned := idOf(raw), turnOf(kind, raw)
	// a photo that a picture was made of was read to its end then
	if _, seen := sealed(id, f.derived(id, Page)); !seen {
		decoded, err := decode(kind, raw)
		if err != nil {
			return Kept{}, refuse(name, "photo.damaged", nil)
		}
		if _, err := f.make(id, decoded, turned); err != nil {
			return Kept{}, err
		}
	}
	if err := f.store(id, kind, raw); err != nil {
		return Kept{}, fmt.Errorf("keep photo %s (%d by %d): %w", name, size.X, size.Y, err)
	}
	if turned >= 5 {
		size.X, size.Y = size.Y, size.X
	}
	return Kept{ID: id, Width: size.X, Height: size.Y, Taken: ReadNote(raw).Taken}, nil
}

// KeepDrawn takes in a picture that the program itself drew, no side longer than
// Page. Its file holds nothing but the picture, and is that of a page as it is.
func (f *Folder) KeepDrawn(picture *image.YCbCr) (Kept, error) {
	size := picture.Rect.Size()
	if max(size.X, size.Y) > Page {
		return Kept{}, fmt.Errorf("keep a drawn picture of %d by %d: no side may be longer than %d", size.X, size.Y, Page)
	}
	raw, err := coded("", picture)
	if err != nil {
		return Kept{}, err
	}
	id := idOf(raw)
	small, err := coded(id, onWhite(fitted(picture, 1, Thumbnail)))
	if err != nil {
		return Kept{}, err
	}
	f.keepMade(id, Page, raw)
	f.keepMade(id, Thumbnail, small)
	if err := f.store(id, JPEG, raw); err != nil {
		return Kept{}, fmt.Errorf("keep a drawn picture: %w", err)
	}
	return Kept{ID: id, Width: size.X, Height: size.Y}, nil
}

func idOf(raw []byte) model.PhotoID {
	sum := sha256.Sum256(raw)
	return model.PhotoID(hex.EncodeToString(sum[:]))
}

// KeepFile takes in the photo at path.
func (f *Folder) KeepFile(path string) (Kept, error) {
	file, err := os.Open(path)
	if err != nil {
		return Kept{}, fmt.Errorf("read photo: %w", err)
	}
	defer file.Close()
	return f.Keep(filepath.Base(path), file)
}

func (f *Folder) store(id model.PhotoID, kind Kind, raw []byte) error {
	path := filepath.Join(f.path, string(id)+"."+string(kind))
	if old, err := os.ReadFile(path); err == nil && bytes.Equal(old, raw) {
		return nil
	}
	if f.passing {
		return disk.WritePassing(path, raw)
	}
	if err := disk.Write(path, raw); err != nil {
		return err
	}
	return disk.SyncFolder(f.path)
}

// Original is the path of the photo as it came, or model.ErrNotFound.
func (f *Folder) Original(id model.PhotoID) (string, Kind, error) {
	if !valid(id) {
		return "", "", fmt.Errorf("photo %q: %w", id, model.ErrNotFound)
	}
	for _, kind := range []Kind{JPEG, PNG, HEIC, PDF} {
		path := filepath.Join(f.path, string(id)+"."+string(kind))
		if _, err := os.Stat(path); err == nil {
			return path, kind, nil
		}
	}
	return "", "", fmt.Errorf("photo %s: %w", id, model.ErrNotFound)
}

// Has reports whether the photo is there as it came.
func (f *Folder) Has(id model.PhotoID) bool {
	_, _, err := f.Original(id)
	return err == nil
}

func valid(id model.PhotoID) bool {
	return len(id) == 2*sha256.Size && strings.Trim(string(id), "0123456789abcdef") == ""
}

// CopyBare writes the photo to path as a JPEG of the size of a page, with nothing
// but the picture in it: not where, when or with what it was taken.
func (f *Folder) CopyBare(id model.PhotoID, path string) error {
	picture, err := f.JPEG(id, Page)
	if err != nil {
		return err
	}
	if err := disk.Write(path, picture); err != nil {
		return fmt.Errorf("write a copy of photo %s: %w", id, err)
	}
	return nil
}

// IDs are all photos of the folder.
func (f *Folder) IDs() ([]model.PhotoID, error) {
	files, err := os.ReadDir(f.path)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return nil, fmt.Errorf("list the photos: %w", err)
	}
	var ids []model.PhotoID
	for _, file := range files {
		id := model.PhotoID(strings.TrimSuffix(file.Name(), filepath.Ext(file.Name())))
		if valid(id) {
			ids = append(ids, id)
		}
	}
	return ids, nil
}

// Sound reports whether the photo's bytes are still those it is named after.
func (f *Folder) Sound(id model.PhotoID) (bool, error) {
	_, _, err := f.read(id)
	if errors.Is(err, ErrChanged) {
		return false, nil
	}
	return err == nil, err
}

// read is the photo as it was kept, or ErrChanged.
func (f *Folder) read(id model.PhotoID) ([]byte, Kind, error) {
	path, kind, err := f.Original(id)
	if err != nil {
		return nil, "", err
	}
	info, err := os.Stat(path)
	if err != nil {
		return nil, "", fmt.Errorf("read photo: %w", err)
	}
	if !info.Mode().IsRegular() || info.Size() > MaxBytes {
		return nil, "", fmt.Errorf("read photo %s: %w", id, ErrChanged)
	}
	raw, err := os.ReadFile(path)
	if err != nil {
		return nil, "", fmt.Errorf("read photo: %w", err)
	}
	if idOf(raw) != id {
		return nil, "", fmt.Errorf("read photo %s: %w", id, ErrChanged)
	}
	return raw, kind, nil
}

func (f *Folder) derived(id model.PhotoID, longest int) string {
	return filepath.Join(f.path, derivedFolder, string(id)+"-"+strconv.Itoa(longest)+".jpg")
}
