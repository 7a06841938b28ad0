package particulars_test

import (
	"context"
	"errors"
	"io/fs"
	"path/filepath"
	"testing"

	"coilward/assets"
	"coilward/model/photo"
	"coilward/model/wording"
	"coilward/ui/particulars"
	"coilward/ui/place"
)

// window does tasks at once and keeps the faults that it is told.
type window struct {
	place.Window
	text   *wording.Text
	photos *photo.Folder
	told   []error
	opened []string
}

func (w *window) Text() *wording.Text     { return w.text }
func (w *window) Photos() *photo.Folder   { return w.photos }
func (w *window) Open(path string)        { w.opened = append(w.opened, path) }
func (w *window) Fault(_ string, e error) { w.told = append(w.told, e) }
func (w *window) Task(_ string, work func(context.Context, func(float64)) error, done func(error)) {
	done(work(context.Background(), func(float64) {}))
}

// What keeps a photo from being taken in and is no refusal is said by the
// window: the form would pass it over.
func TestAPhotoThatCannotBeReadIsSaid(t *testing.T) {
	languages, err := wording.Load(assets.Text())
	if err != nil {
		t.Fatal(err)
	}
	w := &window{text: languages.In("en", wording.Units{}), photos: photo.At(t.TempDir())}
	var handed error
	particulars.KeepPhotos(w, []string{filepath.Join(t.TempDir(), "gone.jpg")}, func(_ []photo.Kept, err error) { handed = err })
	if len(w.told) != 1 || !errors.Is(w.told[0], fs.ErrNotExist) || handed == nil {
		t.Errorf("told %v, handed on %v", w.told, handed)
	}
}
