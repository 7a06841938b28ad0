package particulars

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"

	"coilward/model"
	"coilward/model/photo"
	"coilward/ui/place"
)

// PhotoEndings are how the names of files end that may be photos.
func PhotoEndings() []string { return []string{".jpg", ".jpeg", ".png", ".heic", ".heif"} }

// KeepPhotos takes files into the collection's photos, off the window's thread,
// and hands on those that were taken with the first error. A refusal is the
// form's to say; what else went wrong is said here.
func KeepPhotos(w place.Window, paths []string, done func([]photo.Kept, error)) {
	keepFiles(w, taking{"particulars.taking-photos", "particulars.photos-failed", "photo", w.Photos().Keep}, paths, done)
}

// taking is how files of one sort are taken in: what the bar says meanwhile, and
// what is said where it fails.
type taking struct {
	name, failed string
	field        string // of a refusal
	keep         func(name string, r io.Reader) (photo.Kept, error)
}

func keepFiles(w place.Window, t taking, paths []string, done func([]photo.Kept, error)) {
	var all []photo.Kept
	var failed error
	w.Task(w.Text().Say(t.name), func(ctx context.Context, progress func(float64)) error {
		for i, path := range paths {
			if ctx.Err() != nil {
				return ctx.Err()
			}
			kept, err := t.file(path)
			if err == nil {
				all = append(all, kept)
			} else if failed == nil {
				failed = err
			}
			progress(float64(i+1) / float64(len(paths)))
		}
		var r *model.Refusal
		if errors.As(failed, &r) {
			return nil // said at the form
		}
		return failed
	}, func(err error) {
		if err != nil && !errors.Is(err, context.Canceled) {
			w.Fault(t.failed, err)
		}
		done(all, failed)
	})
}

// file takes one file in. What is no file, as a folder or a pipe, is refused before it
// is opened: opening a pipe waits for whoever writes into it.
func (t taking) file(path string) (photo.Kept, error) {
	info, err := os.Stat(path)
	if err != nil {
		return photo.Kept{}, fmt.Errorf("look at the file %s: %w", filepath.Base(path), err)
	}
	if !info.Mode().IsRegular() {
		return photo.Kept{}, &model.Refusal{Field: t.field, Value: filepath.Base(path), Reason: "file.no-file", Answer: model.Mend}
	}
	file, err := os.Open(path)
	if err != nil {
		return photo.Kept{}, fmt.Errorf("open the file %s: %w", filepath.Base(path), err)
	}
	defer file.Close()
	return t.keep(filepath.Base(path), file)
}
