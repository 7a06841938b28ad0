// Package draft keeps what is not finished yet: one small file for each subject
// in the drafts folder of a collection, replaced whole, so that a crash leaves
// either the older draft or the newer one and never half of one. It knows
// nothing of what a draft says. Calls for different subjects may come from any
// goroutine; those for one subject come one after the other.
package draft

import (
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"coilward/model"
	"coilward/model/disk"
)

const suffix = ".draft.json"

// Folder is a folder of drafts.
type Folder struct{ path string }

// Open is the folder of drafts at path; it is made when the first one is saved,
// in the collection's folder, which must be there.
func Open(path string) Folder { return Folder{path} }

func (f Folder) file(subject model.ID) string {
	return filepath.Join(f.path, subject.String()+suffix)
}

// Save puts the draft about a subject in the place of the one before.
func (f Folder) Save(subject model.ID, draft any) error {
	raw, err := json.MarshalIndent(draft, "", " ")
	if err != nil {
		return fmt.Errorf("save a draft: %w", err)
	}
	// Not the folders above: those of a collection that was moved away while it
	// was open would come back as an empty one.
	if err := os.Mkdir(f.path, 0o700); err != nil && !errors.Is(err, fs.ErrExist) {
		return fmt.Errorf("save a draft: %w", err)
	}
	if err := disk.Write(f.file(subject), raw); err != nil {
		return fmt.Errorf("save a draft: %w", err)
	}
	return nil
}

// Read is the draft about a subject as it was saved; the error is
// model.ErrNotFound where there is none.
func (f Folder) Read(subject model.ID) ([]byte, error) {
	raw, err := os.ReadFile(f.file(subject))
	if errors.Is(err, fs.ErrNotExist) {
		return nil, fmt.Errorf("read a draft: %w", model.ErrNotFound)
	}
	if err != nil {
		return nil, fmt.Errorf("read a draft: %w", err)
	}
	return raw, nil
}

// List names the subjects that have a draft, by id. Other files are passed over.
func (f Folder) List() ([]model.ID, error) {
	entries, err := os.ReadDir(f.path)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return nil, fmt.Errorf("list drafts: %w", err)
	}
	var subjects []model.ID
	for _, e := range entries {
		name, is := strings.CutSuffix(e.Name(), suffix)
		if id, err := model.ParseID(name); is && err == nil && !id.IsZero() {
			subjects = append(subjects, id)
		}
	}
	slices.SortFunc(subjects, func(a, b model.ID) int { return slices.Compare(a[:], b[:]) })
	return subjects, nil
}

// Discard takes the draft about a subject away; there need not be one.
func (f Folder) Discard(subject model.ID) error {
	if err := os.Remove(f.file(subject)); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return fmt.Errorf("discard a draft: %w", err)
	}
	return nil
}

// SetAside gives the draft about a subject another name, so that one which
// cannot be read is not lost when a new one is begun. It returns that name.
func (f Folder) SetAside(subject model.ID) (string, error) {
	from := f.file(subject)
	for n := 1; ; n++ {
		to := fmt.Sprintf("%s.unreadable-%d", strings.TrimSuffix(from, ".json"), n)
		if _, err := os.Lstat(to); err == nil {
			continue
		}
		if err := os.Rename(from, to); err != nil {
			return "", fmt.Errorf("set a draft aside: %w", err)
		}
		return to, nil
	}
}
