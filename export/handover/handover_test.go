package handover_test

import (
	"archive/zip"
	"bytes"
	"errors"
	"image"
	"image/color"
	"image/jpeg"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"testing"
	"time"

	"pgregory.net/rapid"

	"coilward/export/handover"
	"coilward/model"
	"coilward/model/animals"
	record "coilward/model/handover"
)

// photograph is a JPEG with a camera, a place and a maker's note before its pixels.
func photograph(t testing.TB, width, height int) []byte {
	t.Helper()
	picture := image.NewRGBA(image.Rect(0, 0, width, height))
	for i := range picture.Pix {
		picture.Pix[i] = uint8(i * 7)
	}
	picture.Set(0, 0, color.White)
	var file bytes.Buffer
	if err := jpeg.Encode(&file, picture, nil); err != nil {
		t.Fatal(err)
	}
	private := []byte("Exif\x00\x00private camera at 52.5N 13.4E")
	segment := append([]byte{0xff, 0xe1, 0, byte(len(private) + 2)}, private...)
	return append(append([]byte{0xff, 0xd8}, segment...), file.Bytes()[2:]...)
}

func key(t testing.TB) handover.Key {
	t.Helper()
	k, err := handover.NewKey()
	if err != nil {
		t.Fatal(err)
	}
	return k
}

func contents(t testing.TB, photos int) handover.Contents {
	t.Helper()
	c := handover.Contents{Paper: []byte("%PDF-1.3 as it was printed"), Record: record.Record{Form: record.Form,
		Animal: record.Animal{ID: model.AnimalID{ID: model.ID{1}}, Name: "Juno", Species: "python-regius", Sex: animals.Female},
		Issued: record.Issued{UTC: 1_800_000_000, Day: model.NewDay(2027, 1, 15), Program: "0.8.0", Tables: "abc"}}}
	for range photos {
		c.Photos = append(c.Photos, photograph(t, 24, 16))
		c.Record.Photos = append(c.Record.Photos, record.Photo{})
	}
	return c
}

func written(t testing.TB, c handover.Contents, k handover.Key) []byte {
	t.Helper()
	var file bytes.Buffer
	if err := handover.Write(&file, c, k); err != nil {
		t.Fatal(err)
	}
	return file.Bytes()
}

func open(file []byte) (*handover.Papers, error) {
	return handover.Open(bytes.NewReader(file), int64(len(file)))
}

func TestWhatIsWrittenIsRead(t *testing.T) {
	k, c := key(t), contents(t, 2)
	file := written(t, c, k)
	p, err := open(file)
	if err != nil {
		t.Fatal(err)
	}
	if p.Key.Fingerprint() != k.Public().Fingerprint() || p.Record.Animal != c.Record.Animal || p.Photos() != 2 {
		t.Errorf("read %+v", p)
	}
	paper, err := p.Paper()
	if err != nil || !bytes.Equal(paper, c.Paper) {
		t.Errorf("the paper %q, %v", paper, err)
	}
	photo, err := p.Photo(1)
	if err != nil {
		t.Fatal(err)
	}
	if shown, err := jpeg.DecodeConfig(bytes.NewReader(photo)); err != nil || shown.Width != 24 || shown.Height != 16 {
		t.Errorf("the photo is %+v, %v", shown, err)
	}
	if !bytes.Equal(file, written(t, c, k)) {
		t.Error("written twice it is not the same")
	}
	if bytes.Contains(file, []byte("Exif")) || bytes.Contains(file, []byte("private")) {
		t.Error("what stood beside the picture went out")
	}
}

// The file is a zip that others can open.
func TestOthersReadTheZip(t *testing.T) {
	c := contents(t, 1)
	file := written(t, c, key(t))
	z, err := zip.NewReader(bytes.NewReader(file), int64(len(file)))
	if err != nil {
		t.Fatal(err)
	}
	var names []string
	for _, f := range z.File {
		names = append(names, f.Name)
		if day := f.Modified.UTC(); day != time.Date(1980, time.January, 1, 0, 0, 0, 0, time.UTC) { // FORMAT.md
			t.Errorf("%s is of %s", f.Name, day)
		}
		r, err := f.Open()
		if err != nil {
			t.Fatal(err)
		}
		if _, err := io.Copy(io.Discard, r); err != nil {
			t.Errorf("%s: %v", f.Name, err)
		}
		if f.Name == "papers.pdf" && f.UncompressedSize64 != uint64(len(c.Paper)) {
			t.Errorf("%s has %d bytes", f.Name, f.UncompressedSize64)
		}
	}
	if want := "[signature.json manifest.json record.json papers.pdf photos/001.jpg]"; want != "["+join(names)+"]" {
		t.Errorf("named %v", names)
	}
}

func join(names []string) (all string) {
	for i, n := range names {
		if i > 0 {
			all += " "
		}
		all += n
	}
	return all
}

// No byte of a file can be another.
func TestEveryByteIsHeld(t *testing.T) {
	file := written(t, contents(t, 1), key(t))
	for at := range file {
		for _, turn := range []byte{1, 0x80} {
			file[at] ^= turn
			p, err := open(file)
			var why *handover.Fault
			if p != nil || !errors.As(err, &why) || why.Why == "" {
				t.Fatalf("byte %d turned by %x: read %v, %v", at, turn, p, err)
			}
			file[at] ^= turn
		}
	}
	if _, err := open(file); err != nil {
		t.Fatal(err)
	}
}

// A changed byte inside a part is told with the part's name.
func TestAChangedPartIsNamed(t *testing.T) {
	c := contents(t, 1)
	file := written(t, c, key(t))
	for name, sign := range map[string]string{"signature.json": `"signature":"`, "manifest.json": `"members"`, "record.json": `"name":"Juno"`, "papers.pdf": "as it was printed", "photos/001.jpg": "photos/001.jpg\xff\xd8"} {
		at := bytes.Index(file, []byte(sign)) + len(sign) - 1
		if at < len(sign) {
			t.Fatalf("%s: %q is not in the file", name, sign)
		}
		other := bytes.Clone(file)
		other[at] ^= 1
		_, err := open(other)
		var why *handover.Fault
		if !errors.As(err, &why) || why.Part != name {
			t.Errorf("%s changed: %v", name, err)
		}
	}
}

func TestCutAndLengthened(t *testing.T) {
	file := written(t, contents(t, 1), key(t))
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(0, len(file)-1).Draw(t, "bytes")
		if p, err := open(file[:n]); p != nil || err == nil {
			t.Fatalf("the first %d bytes were read", n)
		}
		more := rapid.SliceOfN(rapid.Byte(), 1, 40).Draw(t, "more")
		if p, err := open(append(bytes.Clone(file), more...)); p != nil || err == nil {
			t.Fatalf("with %d bytes more it was read", len(more))
		}
	})
}

// A key that could not be kept is none: what it signs could never be signed again.
func TestKeyIn_NothingKeptIsNoKey(t *testing.T) {
	blocked := filepath.Join(t.TempDir(), "file")
	if err := os.WriteFile(blocked, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	if k, made, err := handover.KeyIn(filepath.Join(blocked, "key"), model.NewDay(2027, 3, 3)); err == nil || made || !k.IsZero() {
		t.Errorf("a key %v was made where it cannot be kept: %v", made, err)
	}
	folder := t.TempDir()
	path := filepath.Join(folder, "key")
	k, made, err := handover.KeyIn(path, model.NewDay(2027, 3, 3))
	if err != nil || !made {
		t.Fatal(made, err)
	}
	other, err := handover.NewKey()
	if err != nil {
		t.Fatal(err)
	}
	if err := handover.WriteKey(path, other); !errors.Is(err, fs.ErrExist) {
		t.Errorf("a key was written over another: %v", err)
	}
	again, made, err := handover.KeyIn(path, model.NewDay(2027, 3, 3))
	if err != nil || made || again.Public().Fingerprint() != k.Public().Fingerprint() {
		t.Errorf("read again: %v, made %v, %v", again.Public().Fingerprint(), made, err)
	}
	if left, err := os.ReadDir(folder); err != nil || len(left) != 1 {
		t.Errorf("beside the key lie %v, %v", left, err)
	}
}
