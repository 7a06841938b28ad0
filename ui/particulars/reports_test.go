package particulars_test

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"coilward/assets"
	"coilward/model"
	"coilward/model/photo"
	"coilward/model/wording"
	"coilward/ui/particulars"
	"coilward/ui/uitest"
)

// onePage is the smallest PDF whose table says one page in the open.
func onePage() string {
	body := "%PDF-1.4\n1 0 obj\n<< /Type /Catalog /Pages 2 0 R >>\nendobj\n"
	second := len(body)
	body += "2 0 obj\n<< /Type /Pages /Kids [3 0 R] /Count 1 >>\nendobj\n"
	third := len(body)
	body += "3 0 obj\n<< /Type /Page /Parent 2 0 R /MediaBox [0 0 595 842] >>\nendobj\n"
	return body + fmt.Sprintf("xref\n0 4\n0000000000 65535 f \n%010d 00000 n \n%010d 00000 n \n%010d 00000 n \ntrailer\n<< /Size 4 /Root 1 0 R >>\nstartxref\n%d\n%%%%EOF\n",
		len("%PDF-1.4\n"), second, third, len(body))
}

func written(t *testing.T, name, content string) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), name)
	if err := os.WriteFile(path, []byte(content), 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}

func reporting(t *testing.T, language string) *window {
	t.Helper()
	languages, err := wording.Load(assets.Text())
	if err != nil {
		t.Fatal(err)
	}
	photos, err := photo.Open(t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	return &window{text: languages.In(language, wording.Units{}), photos: photos}
}

// A report is shown with its pages and with where it stays; a press opens a copy of it.
func TestReportIsShownAndOpened(t *testing.T) {
	for language, said := range map[string][]string{
		"en": {"PDF, 1 page", "names you and your address", "Take off"},
		"de": {"PDF, 1 Seite", "nennt den Halter und seine Anschrift", "Entfernen"},
	} {
		w := reporting(t, language)
		var ids []model.PhotoID
		particulars.KeepReports(w, []string{written(t, "a.pdf", onePage())}, func(kept []model.PhotoID, err error) {
			if err != nil {
				t.Fatal(err)
			}
			ids = kept
		})
		if len(ids) != 1 {
			t.Fatalf("kept %v", ids)
		}
		var off []model.PhotoID
		strip := particulars.ReportStrip(w, particulars.Thumbs{}, ids, func(id model.PhotoID) { off = append(off, id) })
		for _, part := range said {
			if !uitest.Shows(strip, part) {
				t.Errorf("%s: not shown: %q in %q", language, part, uitest.Texts(strip))
			}
		}
		uitest.Tap(t, strip, said[0])
		if len(w.opened) != 1 {
			t.Fatalf("opened %v", w.opened)
		}
		if there, err := os.ReadFile(w.opened[0]); err != nil || string(there) != onePage() {
			t.Errorf("opened %d bytes, %v", len(there), err)
		}
		if original, _, err := w.photos.Original(ids[0]); err != nil || w.opened[0] == original {
			t.Errorf("the original was handed out, %v", err)
		}
		uitest.Tap(t, strip, said[2])
		if len(off) != 1 || off[0] != ids[0] {
			t.Errorf("taken off %v", off)
		}
		if shown := particulars.ReportStrip(w, particulars.Thumbs{}, ids, nil); uitest.Shows(shown, said[2]) {
			t.Error("what is only shown can be taken off")
		}
	}
}

// A damaged report says so, is not opened, and does not hide the others.
func TestDamagedReportIsSaid(t *testing.T) {
	w := reporting(t, "en")
	var ids []model.PhotoID
	particulars.KeepReports(w, []string{written(t, "a.pdf", onePage())}, func(kept []model.PhotoID, _ error) { ids = kept })
	original, _, err := w.photos.Original(ids[0])
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(original, []byte("%PDF-1.4 another"), 0o600); err != nil {
		t.Fatal(err)
	}
	strip := particulars.ReportStrip(w, particulars.Thumbs{}, ids, nil)
	if !uitest.Shows(strip, "Cannot be read") {
		t.Errorf("shown %q", uitest.Texts(strip))
	}
	uitest.Tap(t, strip, "Cannot be read")
	if len(w.opened) != 0 || len(w.told) != 1 || !errors.Is(w.told[0], photo.ErrChanged) {
		t.Errorf("opened %v, told %v", w.opened, w.told)
	}
}

// What is no report is refused with the file's name, and the others are taken in.
func TestOneOfSeveralIsNoReport(t *testing.T) {
	w := reporting(t, "de")
	particulars.KeepReports(w, []string{written(t, "brief.txt", "Guten Tag"), written(t, "a.pdf", onePage())}, func(ids []model.PhotoID, err error) {
		var why *model.Refusal
		if len(ids) != 1 || !errors.As(err, &why) || why.Field != "report-file" || why.Value != "brief.txt" {
			t.Errorf("%v, %v", ids, err)
		} else if said := w.text.Refusal(why); !strings.Contains(said, "brief.txt") || !strings.Contains(said, "Bericht") {
			t.Errorf("said %q", said)
		}
	})
	if len(w.told) != 0 {
		t.Errorf("told %v", w.told)
	}
}
