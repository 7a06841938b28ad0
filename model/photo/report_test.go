package photo_test

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"coilward/model"
	"coilward/model/photo"
)

// paged is a PDF of so many empty pages, laid out as in ISO 32000-2, 7.5, with an
// open table.
func paged(pages int) []byte {
	kids := make([]string, pages)
	objects := []string{"<< /Type /Catalog /Pages 2 0 R >>", ""}
	for i := range kids {
		kids[i] = fmt.Sprintf("%d 0 R", 3+i)
		objects = append(objects, "<< /Type /Page /Parent 2 0 R /MediaBox [0 0 595 842] >>")
	}
	objects[1] = fmt.Sprintf("<< /Type /Pages /Kids [%s] /Count %d >>", strings.Join(kids, " "), pages)
	var b bytes.Buffer
	b.WriteString("%PDF-1.4\n%\xe2\xe3\xcf\xd3\n")
	table := fmt.Sprintf("xref\n0 %d\n0000000000 65535 f \n", len(objects)+1)
	for i, o := range objects {
		table += fmt.Sprintf("%010d 00000 n \n", b.Len())
		fmt.Fprintf(&b, "%d 0 obj\n%s\nendobj\n", i+1, o)
	}
	at := b.Len()
	fmt.Fprintf(&b, "%strailer\n<< /Size %d /Root 1 0 R >>\nstartxref\n%d\n%%%%EOF\n", table, len(objects)+1, at)
	return b.Bytes()
}

// changed is a PDF to whose end a new tree of pages was written (7.5.6).
func changed(raw []byte, pages int) []byte {
	at := bytes.LastIndex(raw, []byte("xref\n0 "))
	b := bytes.NewBuffer(bytes.Clone(raw))
	place := b.Len()
	fmt.Fprintf(b, "2 0 obj\n<< /Type /Pages /Kids [3 0 R] /Count %d >>\nendobj\n", pages)
	table := b.Len()
	fmt.Fprintf(b, "xref\n2 1\n%010d 00000 n \ntrailer\n<< /Size 9 /Root 1 0 R /Prev %d >>\nstartxref\n%d\n%%%%EOF\n", place, at, table)
	return b.Bytes()
}

// packed is a PDF whose table lies in a stream (7.5.8): its pages stand nowhere in the open.
func packed() []byte {
	return []byte("%PDF-1.7\n1 0 obj\n<< /Type /XRef /Root 2 0 R /Length 4 >>\nstream\nabcd\nendstream\nendobj\nstartxref\n9\n%%EOF\n")
}

func TestPDFIsKeptAsItCame(t *testing.T) {
	f, path := open(t)
	raw := paged(3)
	kept, err := f.KeepReport("Report.PDF", bytes.NewReader(raw))
	if err != nil {
		t.Fatal(err)
	}
	if again, err := f.KeepReport("other name.pdf", bytes.NewReader(raw)); err != nil || again != kept {
		t.Errorf("kept twice: %v, %v", again, err)
	}
	original, kind, err := f.Original(kept.ID)
	if err != nil || kind != photo.PDF || original != filepath.Join(path, string(kept.ID)+".pdf") {
		t.Fatalf("%s, %s, %v", original, kind, err)
	}
	if there, err := os.ReadFile(original); err != nil || !bytes.Equal(there, raw) {
		t.Errorf("%d bytes of %d, %v", len(there), len(raw), err)
	}
	if r, err := f.Report(kept.ID); err != nil || r != (photo.Report{Kind: photo.PDF, Pages: 3}) {
		t.Errorf("%v, %v", r, err)
	}
	if ids, err := f.IDs(); err != nil || len(ids) != 1 || ids[0] != kept.ID {
		t.Errorf("verifying finds %v, %v", ids, err)
	}
	if sound, err := f.Sound(kept.ID); err != nil || !sound || !f.Has(kept.ID) {
		t.Errorf("sound %v, %v", sound, err)
	}
}

// No picture is made of a PDF, so that no paper can print one and no copy to give
// away can be made of it.
func TestNoPictureIsMadeOfAPDF(t *testing.T) {
	f, path := open(t)
	kept, err := f.KeepReport("a.pdf", bytes.NewReader(paged(1)))
	if err != nil {
		t.Fatal(err)
	}
	for _, longest := range []int{photo.Thumbnail, photo.Page} {
		if picture, err := f.JPEG(kept.ID, longest); err == nil {
			t.Errorf("a picture of %d bytes", len(picture))
		}
	}
	if err := f.CopyBare(kept.ID, filepath.Join(t.TempDir(), "a.jpg")); err == nil {
		t.Error("a copy to give away was made")
	}
	if made, err := os.ReadDir(filepath.Join(path, "derived")); err != nil || len(made) != 0 {
		t.Errorf("%v, %v", made, err)
	}
}

func TestWhatIsNoReport(t *testing.T) {
	whole := paged(2)
	large := append(bytes.Clone(whole[:len(whole)-200]), make([]byte, photo.MaxPDFBytes)...)
	for name, want := range map[string]struct {
		file, reason string
		raw          []byte
	}{
		"cut":                    {"a.pdf", "report.cut", whole[:len(whole)-20]},
		"its end alone":          {"a.pdf", "report.neither", whole[20:]},
		"no place of its table":  {"a.pdf", "report.cut", []byte("%PDF-1.4\nstartxref\n0\n%%EOF\n")},
		"its table outside":      {"a.pdf", "report.cut", []byte("%PDF-1.4\nstartxref\n999\n%%EOF\n")},
		"empty":                  {"a.pdf", "report.neither", nil},
		"a text":                 {"a.txt", "report.neither", []byte("Serpentovirus: not detected")},
		"another head":           {"a.pdf", "report.neither", append([]byte("MZ"), whole...)},
		"a photo under its name": {"a.pdf", "report.neither", turned(t, 8, 8, 1)},
		"under a photo's name":   {"a.jpg", "photo.ending", whole},
		"too large":              {"a.pdf", "photo.bytes", large},
		"a cut photo":            {"a.jpg", "photo.damaged", turned(t, 64, 64, 1)[:300]},
	} {
		f, path := open(t)
		_, err := f.KeepReport(want.file, bytes.NewReader(want.raw))
		var why *model.Refusal
		if !errors.As(err, &why) || why.Reason != want.reason || why.Field != "report-file" || why.Value != want.file {
			t.Errorf("%s: %v", name, err)
		}
		if files, err := filepath.Glob(filepath.Join(path, "*.*")); err != nil || len(files) > 0 {
			t.Errorf("%s: left behind: %v, %v", name, files, err)
		}
	}
	f, _ := open(t)
	var why *model.Refusal
	if _, err := f.Keep("a.pdf", bytes.NewReader(whole)); !errors.As(err, &why) || why.Reason != "photo.report" || why.Field != "photo" {
		t.Errorf("a PDF as a photo: %v", err)
	}
}

func TestPhotoOfAReport(t *testing.T) {
	f, _ := open(t)
	kept, err := f.KeepReport("a.jpg", bytes.NewReader(turned(t, 640, 320, 6)))
	if err != nil || kept.Width != 320 || kept.Height != 640 {
		t.Fatalf("%v, %v", kept, err)
	}
	if r, err := f.Report(kept.ID); err != nil || r != (photo.Report{Kind: photo.JPEG}) {
		t.Errorf("%v, %v", r, err)
	}
	if _, err := f.Report(model.PhotoID(strings.Repeat("0", 64))); !errors.Is(err, model.ErrNotFound) {
		t.Errorf("of none: %v", err)
	}
}

// What is done with a lent copy does not reach the original, and the next one is
// whole again.
func TestLentCopy(t *testing.T) {
	f, _ := open(t)
	for name, raw := range map[string][]byte{"a.pdf": paged(1), "a.jpg": turned(t, 640, 320, 1)} {
		kept, err := f.KeepReport(name, bytes.NewReader(raw))
		if err != nil {
			t.Fatal(err)
		}
		lent, err := f.Lend(kept.ID)
		if err != nil || filepath.Ext(lent) != filepath.Ext(name) {
			t.Fatalf("%s, %v", lent, err)
		}
		first, err := os.ReadFile(lent)
		if err != nil || filepath.Ext(name) == ".pdf" && !bytes.Equal(first, raw) {
			t.Errorf("%s: %d bytes, %v", name, len(first), err)
		}
		if err := os.WriteFile(lent, []byte("written over"), 0o600); err != nil {
			t.Fatal(err)
		}
		if sound, err := f.Sound(kept.ID); err != nil || !sound {
			t.Errorf("%s: the original is reached, %v", name, err)
		}
		again, err := f.Lend(kept.ID)
		if err != nil {
			t.Fatal(err)
		}
		if second, err := os.ReadFile(again); err != nil || !bytes.Equal(second, first) {
			t.Errorf("%s: lent again: %d bytes, %v", name, len(second), err)
		}
	}
}

// A copy that was lent does not stay for good: the next session clears it away, and
// leaves the original and what was made of photos alone.
func TestLentCopiesAreClearedAway(t *testing.T) {
	f, path := open(t)
	report, err := f.KeepReport("a.pdf", bytes.NewReader(paged(1)))
	if err != nil {
		t.Fatal(err)
	}
	if _, err := f.Keep("a.jpg", bytes.NewReader(turned(t, 640, 320, 1))); err != nil {
		t.Fatal(err)
	}
	lent, err := f.Lend(report.ID)
	if err != nil {
		t.Fatal(err)
	}
	again, err := photo.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := os.Stat(lent); !errors.Is(err, os.ErrNotExist) {
		t.Errorf("the copy is still there, %v", err)
	}
	if made, err := os.ReadDir(filepath.Join(path, "derived")); err != nil || len(made) != 2 || !again.Has(report.ID) {
		t.Errorf("%d made pictures, %v", len(made), err)
	}
}

func TestDamagedReportIsNotLent(t *testing.T) {
	f, _ := open(t)
	kept, err := f.KeepReport("a.pdf", bytes.NewReader(paged(1)))
	if err != nil {
		t.Fatal(err)
	}
	original, _, err := f.Original(kept.ID)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(original, paged(2), 0o600); err != nil {
		t.Fatal(err)
	}
	if _, err := f.Lend(kept.ID); !errors.Is(err, photo.ErrChanged) {
		t.Errorf("lent: %v", err)
	}
	if _, err := f.Report(kept.ID); !errors.Is(err, photo.ErrChanged) {
		t.Errorf("read: %v", err)
	}
	if sound, err := f.Sound(kept.ID); err != nil || sound {
		t.Errorf("sound %v, %v", sound, err)
	}
}

// The count of pages is said where the file says it in the open, and else not at all.
func TestPagesOfAPDF(t *testing.T) {
	one := paged(1)
	for name, want := range map[string]struct {
		raw   []byte
		pages int
	}{
		"one":                   {one, 1},
		"twelve":                {paged(12), 12},
		"a few bytes after":     {append(paged(4), "\r\n\x00\x00"...), 4},
		"changed later":         {changed(paged(3), 5), 5},
		"packed":                {packed(), 0},
		"a tree that is none":   {bytes.Replace(one, []byte("/Type /Pages"), []byte("/Type /Paged"), 1), 0},
		"two counts":            {bytes.Replace(one, []byte("/Kids [3 0 R]"), []byte("/Count 7     "), 1), 0},
		"no root":               {bytes.Replace(one, []byte("/Root"), []byte("/Toot"), 1), 0},
		"another object there":  {bytes.Replace(one, []byte("\n2 0 obj"), []byte("\n8 0 obj"), 1), 0},
		"a table before itself": {bytes.Replace(changed(one, 2), []byte("xref\n2 1"), []byte("xref\n9 1"), 1), 1},
	} {
		f, _ := open(t)
		kept, err := f.KeepReport("a.pdf", bytes.NewReader(want.raw))
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		if r, err := f.Report(kept.ID); err != nil || r.Pages != want.pages {
			t.Errorf("%s: %d pages, not %d, %v", name, r.Pages, want.pages, err)
		}
	}
}

func FuzzReport(f *testing.F) {
	for _, raw := range [][]byte{paged(2), changed(paged(1), 2), packed(), []byte("%PDF-1.4\nxref\n0 1\nstartxref\n9\n%%EOF")} {
		f.Add(raw)
	}
	folder, err := photo.OpenPassing(f.TempDir())
	if err != nil {
		f.Fatal(err)
	}
	f.Fuzz(func(t *testing.T, raw []byte) {
		kept, err := folder.KeepReport("a.pdf", bytes.NewReader(raw))
		if err != nil {
			var why *model.Refusal
			if !errors.As(err, &why) {
				t.Fatal(err)
			}
			return
		}
		if _, err := folder.Report(kept.ID); err != nil {
			t.Error(err)
		}
	})
}
