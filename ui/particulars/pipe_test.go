//go:build unix

package particulars_test

import (
	"errors"
	"path/filepath"
	"syscall"
	"testing"
	"time"

	"coilward/assets"
	"coilward/model"
	"coilward/model/photo"
	"coilward/model/wording"
	"coilward/ui/particulars"
)

// A pipe is refused before it is opened, and a folder too: opening a pipe would wait for
// ever for whoever writes into it.
func TestWhatIsNoFileIsRefused(t *testing.T) {
	languages, err := wording.Load(assets.Text())
	if err != nil {
		t.Fatal(err)
	}
	pipe := filepath.Join(t.TempDir(), "report.pdf")
	if err := syscall.Mkfifo(pipe, 0o600); err != nil {
		t.Fatal(err)
	}
	for _, path := range []string{pipe, t.TempDir()} {
		w := &window{text: languages.In("en", wording.Units{}), photos: photo.At(t.TempDir())}
		handed := make(chan error, 2)
		go func() {
			particulars.KeepPhotos(w, []string{path}, func(_ []photo.Kept, err error) { handed <- err })
			particulars.KeepReports(w, []string{path}, func(_ []model.PhotoID, err error) { handed <- err })
		}()
		for _, field := range []string{"photo", "report-file"} {
			select {
			case err := <-handed:
				var r *model.Refusal
				if !errors.As(err, &r) || r.Field != field || r.Value != filepath.Base(path) {
					t.Errorf("%s: handed on %v", field, err)
				}
			case <-time.After(5 * time.Second):
				t.Fatalf("%s waits for %s", field, path)
			}
		}
	}
}
