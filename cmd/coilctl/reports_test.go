package main

import (
	"archive/zip"
	"bytes"
	"compress/zlib"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"coilward/assets"
	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/collection"
	"coilward/model/knowledge"
	"coilward/model/photo"
	"coilward/model/samples"
	"coilward/model/store"
)

// What a lab's report says of people.
const (
	sentTo  = "Maren Alderlund"
	address = "4 Weir Lane, Thornby"
)

// labReport is a PDF with a name and an address in the open.
func labReport() []byte {
	body := "%PDF-1.4\n1 0 obj\n<< /Type /Catalog /Pages 2 0 R >>\nendobj\n2 0 obj\n<< /Type /Pages /Kids [] /Count 0 >>\nendobj\n" +
		"3 0 obj\n<< /Title (" + sentTo + ", " + address + ") >>\nendobj\n"
	return fmt.Appendf(nil, "%sxref\n0 1\n0000000000 65535 f \ntrailer\n<< /Root 1 0 R /Info 3 0 R >>\nstartxref\n%d\n%%%%EOF\n", body, len(body))
}

// unpacked are the bytes of a file, with all that is packed in it: the parts of a
// spreadsheet, the streams of a PDF.
func unpacked(t *testing.T, raw []byte) []byte {
	t.Helper()
	all := bytes.Clone(raw)
	if book, err := zip.NewReader(bytes.NewReader(raw), int64(len(raw))); err == nil {
		for _, part := range book.File {
			opened, err := part.Open()
			if err != nil {
				t.Fatal(err)
			}
			inside, err := io.ReadAll(opened)
			if err != nil {
				t.Fatal(err)
			}
			all = append(all, inside...)
		}
	}
	for rest := raw; ; {
		_, after, found := bytes.Cut(rest, []byte("stream\n"))
		if !found {
			return all
		}
		if stream, err := zlib.NewReader(bytes.NewReader(after)); err == nil {
			inside, err := io.ReadAll(stream)
			if err != nil {
				t.Fatal(err)
			}
			all = append(all, inside...)
		}
		rest = after
	}
}

// A lab's report, which holds names and addresses, stays in the collection: no paper,
// table or dump holds a byte of it, even where an entry of photos names it. Backups
// hold it as it came, and verifying finds it whole, or changed.
func TestReportsStayInTheCollection(t *testing.T) {
	raw := labReport()
	folder := kept(t, "Kestrel")
	tables, err := knowledge.Load(assets.Knowledge())
	if err != nil {
		t.Fatal(err)
	}
	photos, err := photo.Open(filepath.Join(folder, store.PhotosFolder))
	if err != nil {
		t.Fatal(err)
	}
	report, err := photos.KeepReport("report.pdf", bytes.NewReader(raw))
	if err != nil {
		t.Fatal(err)
	}
	within(t, folder, func(c *collection.Collection) {
		var all []animals.Stored
		if err := c.View(func(v model.View) (err error) { all, err = animals.All(v); return err }); err != nil {
			t.Fatal(err)
		}
		at, agent := model.MomentOf(now()), tables.Agents()[0].ID
		change, err := c.Do(samples.Prepare{Tables: tables, Each: []samples.New{{Animals: []model.AnimalID{all[0].ID},
			Sample: samples.Sample{Kit: samples.Kit{Number: "KIT-7"}, Material: tables.Materials()[0].ID, For: []knowledge.AgentID{agent}, Taken: at, Posted: at, Arrived: at}}}})
		if err != nil {
			t.Fatal(err)
		}
		for _, command := range []model.Command{
			samples.Enter{Tables: tables, At: at, Number: "R-12", Photos: []model.PhotoID{report.ID},
				Rows: []samples.Row{{On: samples.On{ID: model.SampleID{ID: change.Documents[0]}, Base: 1}, Found: []samples.Found{{Of: agent, Outcome: samples.NotDetected}}}}},
			care.AddPhotos{Tables: tables, Shots: []care.Shot{{Animal: all[0].ID, At: at, Photo: report.ID, Dated: care.ByCamera}}},
		} {
			if _, err := c.Do(command); err != nil {
				t.Fatalf("%s: %v", command.Name(), err)
			}
		}
	})
	out := t.TempDir()
	for _, paper := range []string{"health-record", "emergency-card"} {
		mustDo(t, "print", paper, "--collection", folder, "--animal", "Kestrel", "--out", filepath.Join(out, paper+".pdf"))
	}
	mustDo(t, "dump", "--out", filepath.Join(out, "dump.jsonl"), folder)
	for _, format := range []string{"jsonl", "xlsx", "csv"} {
		mustDo(t, "export", "--collection", folder, "--out", filepath.Join(out, "all-"+format), "--format", format)
	}
	files := 0
	if err := filepath.Walk(out, func(path string, info os.FileInfo, err error) error {
		if err != nil || info.IsDir() {
			return err
		}
		files++
		left, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		left = unpacked(t, left)
		for _, private := range []string{sentTo, address, "Alderlund", "Weir Lane"} {
			if bytes.Contains(left, []byte(private)) {
				t.Errorf("%s: %q is in it", filepath.Base(path), private)
			}
		}
		if !bytes.Contains(left, []byte("Kestrel")) && (filepath.Base(path) == "all-jsonl" || filepath.Base(path) == "all-xlsx") {
			t.Errorf("%s: the animal is not found in it, so that nothing else would be", filepath.Base(path))
		}
		return nil
	}); err != nil || files < 6 {
		t.Fatalf("%d files left, %v", files, err)
	}
	second := t.TempDir()
	mustDo(t, "backup", "--to", second, folder)
	var copied []byte
	if err := filepath.Walk(second, func(path string, info os.FileInfo, err error) error {
		if err == nil && filepath.Base(path) == string(report.ID)+".pdf" {
			copied, err = os.ReadFile(path)
		}
		return err
	}); err != nil || !bytes.Equal(copied, raw) {
		t.Errorf("the second place holds %d bytes of it, %v", len(copied), err)
	}
	mustDo(t, "verify", folder)
	original, _, err := photos.Original(report.ID)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(original, []byte("%PDF-1.4"), 0o600); err != nil {
		t.Fatal(err)
	}
	if code, said, _ := ctl("en", "verify", folder); code == exitDone || !strings.Contains(said, string(report.ID)) {
		t.Errorf("a changed report is whole: code %d, %s", code, said)
	}
	if err := os.Remove(original); err != nil {
		t.Fatal(err)
	}
	if said := mustDo(t, "restore", "--collection", folder, "--preview"); !strings.Contains(said, string(report.ID)) {
		t.Errorf("a report that is missing is not said before restoring: %s", said)
	}
}
