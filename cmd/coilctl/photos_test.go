package main

import (
	"bytes"
	"encoding/binary"
	"image"
	"image/color"
	"image/jpeg"
	"os"
	"path/filepath"
	"testing"

	"github.com/pdfcpu/pdfcpu/pkg/api"
	"github.com/rwcarlsen/goexif/exif"

	"coilward/assets"
	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/collection"
	"coilward/model/knowledge"
	"coilward/model/photo"
	"coilward/model/store"
)

// The private things in the photo: who made the camera, and when it was taken.
const (
	cameraMaker = "Aldermarsh Optical"
	takenAt     = "2026:03:28 18:05:09"
)

// privatePhoto is a JPEG with EXIF: a maker, a time, and 52 degrees north.
func privatePhoto(t *testing.T) []byte {
	t.Helper()
	m := image.NewGray(image.Rect(0, 0, 300, 200))
	for i := range m.Pix {
		m.Pix[i] = color.Gray{Y: uint8(i / 300)}.Y
	}
	var b bytes.Buffer
	if err := jpeg.Encode(&b, m, nil); err != nil {
		t.Fatal(err)
	}
	le := binary.LittleEndian
	tag := func(tag, kind uint16, count, value uint32) []byte {
		return le.AppendUint32(le.AppendUint32(le.AppendUint16(le.AppendUint16(nil, tag), kind), count), value)
	}
	tiff := []byte("II*\x00\x08\x00\x00\x00\x03\x00")
	tiff = append(tiff, tag(0x010f, 2, uint32(len(cameraMaker)+1), 200)...)
	tiff = append(tiff, tag(0x8769, 4, 1, 60)...)
	tiff = append(tiff, tag(0x8825, 4, 1, 100)...)
	tiff = append(tiff, make([]byte, 60-len(tiff))...)
	tiff = append(append(append(tiff, 1, 0), tag(0x9003, 2, uint32(len(takenAt)+1), 240)...), 0, 0, 0, 0)
	tiff = append(tiff, make([]byte, 100-len(tiff))...)
	tiff = append(append(tiff, 2, 0), tag(0x0001, 2, 2, 'N')...)
	tiff = append(append(tiff, tag(0x0002, 5, 3, 300)...), 0, 0, 0, 0)
	tiff = append(tiff, make([]byte, 200-len(tiff))...)
	tiff = append(append(tiff, cameraMaker...), make([]byte, 40-len(cameraMaker))...)
	tiff = append(append(tiff, takenAt...), make([]byte, 60-len(takenAt))...)
	for _, n := range []uint32{52, 1, 31, 1, 12, 1} {
		tiff = le.AppendUint32(tiff, n)
	}
	note := append([]byte("Exif\x00\x00"), tiff...)
	head := binary.BigEndian.AppendUint16([]byte{0xff, 0xd8, 0xff, 0xe1}, uint16(len(note)+2))
	return append(append(head, note...), b.Bytes()[2:]...)
}

// What leaves the collection as a paper, as tables or as lines tells of a photo
// neither where nor with what it was taken. A backup holds the original.
func TestPhotosLeaveWithoutTheirPlace(t *testing.T) {
	raw := privatePhoto(t)
	if x, err := exif.Decode(bytes.NewReader(raw)); err != nil {
		t.Fatal(err)
	} else if _, err := x.Get(exif.GPSLatitude); err != nil {
		t.Fatalf("the photo tells no place to begin with: %v", err)
	}
	folder := kept(t, "Kestrel")
	tables, err := knowledge.Load(assets.Knowledge())
	if err != nil {
		t.Fatal(err)
	}
	photos, err := photo.Open(filepath.Join(folder, store.PhotosFolder))
	if err != nil {
		t.Fatal(err)
	}
	one, err := photos.Keep("a.jpg", bytes.NewReader(raw))
	if err != nil {
		t.Fatal(err)
	}
	within(t, folder, func(c *collection.Collection) {
		var all []animals.Stored
		if err := c.View(func(v model.View) (err error) { all, err = animals.All(v); return err }); err != nil {
			t.Fatal(err)
		}
		if _, err := c.Do(care.AddPhotos{Tables: tables, Shots: []care.Shot{{Animal: all[0].ID, At: model.MomentOf(now()), Photo: one.ID, Dated: care.ByCamera}}}); err != nil {
			t.Fatal(err)
		}
	})
	out := t.TempDir()
	pdf := filepath.Join(out, "record.pdf")
	mustDo(t, "print", "health-record", "--collection", folder, "--animal", "Kestrel", "--out", pdf)
	mustDo(t, "export", "--collection", folder, "--out", filepath.Join(out, "all.jsonl"), "--format", "jsonl")
	mustDo(t, "export", "--collection", folder, "--out", filepath.Join(out, "all.xlsx"), "--format", "xlsx")
	mustDo(t, "export", "--collection", folder, "--out", filepath.Join(out, "tables"), "--format", "csv")
	files := 0
	err = filepath.Walk(out, func(path string, info os.FileInfo, err error) error {
		if err != nil || info.IsDir() {
			return err
		}
		files++
		left, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		for _, private := range []string{cameraMaker, takenAt, "Exif\x00"} {
			if bytes.Contains(left, []byte(private)) {
				t.Errorf("%s: %q is in it", filepath.Base(path), private)
			}
		}
		return nil
	})
	if err != nil || files < 4 {
		t.Fatalf("%d files left, %v", files, err)
	}
	paper, err := os.ReadFile(pdf)
	if err != nil {
		t.Fatal(err)
	}
	pages, err := api.ExtractImagesRaw(bytes.NewReader(paper), nil, nil)
	if err != nil {
		t.Fatal(err)
	}
	pictures := 0
	for _, page := range pages {
		for _, p := range page {
			var b bytes.Buffer
			if _, err := b.ReadFrom(p); err != nil {
				t.Fatal(err)
			}
			if x, err := exif.Decode(&b); err == nil {
				t.Errorf("a picture of the paper has EXIF: %v", x)
			}
			pictures++
		}
	}
	if pictures == 0 {
		t.Error("the photo is not on the paper")
	}
	original, _, err := photos.Original(one.ID)
	if err != nil {
		t.Fatal(err)
	}
	if same, err := os.ReadFile(original); err != nil || !bytes.Equal(same, raw) {
		t.Error("the original was changed")
	}
}
