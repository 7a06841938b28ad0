package photo_test

import (
	"bytes"
	"encoding/binary"
	"errors"
	"hash/crc32"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/rwcarlsen/goexif/exif"

	"coilward/model"
	"coilward/model/photo"
)

func open(t testing.TB) (*photo.Folder, string) {
	t.Helper()
	path := t.TempDir()
	f, err := photo.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	return f, path
}

// halves is a picture that is red on its left and blue on its right.
func halves(width, height int) image.Image {
	p := image.NewNRGBA(image.Rect(0, 0, width, height))
	for y := range height {
		for x := range width {
			c := color.NRGBA{R: 220, A: 255}
			if x >= width/2 {
				c = color.NRGBA{B: 220, A: 255}
			}
			p.SetNRGBA(x, y, c)
		}
	}
	return p
}

// turned is a JPEG with the EXIF note that it is to be turned.
func turned(t testing.TB, width, height int, orientation uint16) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := jpeg.Encode(&b, halves(width, height), nil); err != nil {
		t.Fatal(err)
	}
	note := []byte("Exif\x00\x00II*\x00\x08\x00\x00\x00\x01\x00\x12\x01\x03\x00\x01\x00\x00\x00")
	note = binary.LittleEndian.AppendUint16(note, orientation)
	note = append(note, 0, 0, 0, 0, 0, 0)
	head := binary.BigEndian.AppendUint16([]byte{0xff, 0xd8, 0xff, 0xe1}, uint16(len(note)+2))
	return append(append(head, note...), b.Bytes()[2:]...)
}

// turnedQuarters is a JPEG that is white where its first row and column begin,
// with the EXIF note that it is to be turned.
func turnedQuarters(t testing.TB, orientation uint16) []byte {
	t.Helper()
	p := image.NewGray(image.Rect(0, 0, 64, 32))
	for y := range 16 {
		for x := range 32 {
			p.SetGray(x, y, color.Gray{Y: 255})
		}
	}
	var b bytes.Buffer
	if err := jpeg.Encode(&b, p, nil); err != nil {
		t.Fatal(err)
	}
	note := append([]byte("Exif\x00\x00"), telling(binary.LittleEndian, orientation)...)
	head := binary.BigEndian.AppendUint16([]byte{0xff, 0xd8, 0xff, 0xe1}, uint16(len(note)+2))
	return append(append(head, note...), b.Bytes()[2:]...)
}

func pictured(t testing.TB, width, height int) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := png.Encode(&b, halves(width, height)); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// claiming is a PNG whose header claims a size that its data never fill.
func claiming(width, height uint32) []byte {
	header := append([]byte("IHDR"), binary.BigEndian.AppendUint32(binary.BigEndian.AppendUint32(nil, width), height)...)
	header = append(header, 8, 2, 0, 0, 0)
	b := append([]byte("\x89PNG\r\n\x1a\n"), 0, 0, 0, 13)
	b = append(b, header...)
	return binary.BigEndian.AppendUint32(b, crc32.ChecksumIEEE(header))
}

func TestKeptOnceUnderItsContent(t *testing.T) {
	f, path := open(t)
	raw := turned(t, 64, 32, 6)
	for range 2 {
		kept, err := f.Keep("a.jpg", bytes.NewReader(raw))
		if err != nil {
			t.Fatal(err)
		}
		if kept.Width != 32 || kept.Height != 64 {
			t.Errorf("upright it is %d by %d, want 32 by 64", kept.Width, kept.Height)
		}
		original, _, err := f.Original(kept.ID)
		if err != nil {
			t.Fatal(err)
		}
		if same, err := os.ReadFile(original); err != nil || !bytes.Equal(same, raw) {
			t.Error("the original was changed")
		}
		if sound, err := f.Sound(kept.ID); err != nil || !sound {
			t.Errorf("sound: %v, %v", sound, err)
		}
	}
	ids, err := f.IDs()
	if err != nil || len(ids) != 1 {
		t.Fatalf("%v, %v", ids, err)
	}
	files, err := os.ReadDir(path)
	if err != nil || len(files) != 2 {
		t.Errorf("%d names in the folder, want the photo and the folder of made pictures: %v", len(files), err)
	}
	original, _, _ := f.Original(ids[0])
	raw[len(raw)-9] ^= 1
	if err := os.WriteFile(original, raw, 0o600); err != nil {
		t.Fatal(err)
	}
	if sound, err := f.Sound(ids[0]); err != nil || sound {
		t.Errorf("a changed byte does not show: %v, %v", sound, err)
	}
}

func TestMadePicturesAreUprightSmallAndBare(t *testing.T) {
	f, _ := open(t)
	kept, err := f.Keep("a.jpg", bytes.NewReader(turned(t, 640, 320, 6)))
	if err != nil {
		t.Fatal(err)
	}
	for range 2 { // made, then kept
		raw, err := f.JPEG(kept.ID, photo.Thumbnail)
		if err != nil {
			t.Fatal(err)
		}
		if x, err := exif.Decode(bytes.NewReader(raw)); err == nil {
			t.Errorf("there is EXIF in it: %v", x)
		}
		if bytes.Contains(raw, []byte("Exif")) {
			t.Error("there is EXIF in it")
		}
		picture, err := f.Picture(kept.ID, photo.Thumbnail)
		if err != nil {
			t.Fatal(err)
		}
		if b := picture.Bounds(); b.Dx() != 120 || b.Dy() != 240 {
			t.Errorf("%v, want 120 by 240", b)
		}
		// turned clockwise, the red left half lies above
		if r, _, b, _ := picture.At(60, 40).RGBA(); r < b {
			t.Error("it is not upright")
		}
	}
}

// A picture that was drawn is kept as a photo and shown as it is, with its small one.
func TestDrawnPictures(t *testing.T) {
	path := t.TempDir()
	f, err := photo.OpenPassing(path)
	if err != nil {
		t.Fatal(err)
	}
	drawn := image.NewYCbCr(image.Rect(0, 0, 960, 720), image.YCbCrSubsampleRatio420)
	for y := range 720 {
		for x := range 960 {
			tone := color.RGBA{R: 220, A: 255}
			if x >= 480 {
				tone = color.RGBA{B: 220, A: 255}
			}
			drawn.Y[drawn.YOffset(x, y)], drawn.Cb[drawn.COffset(x, y)], drawn.Cr[drawn.COffset(x, y)] = color.RGBToYCbCr(tone.R, tone.G, tone.B)
		}
	}
	kept, err := f.KeepDrawn(drawn)
	if err != nil || kept.Width != 960 || kept.Height != 720 {
		t.Fatalf("%+v, %v", kept, err)
	}
	if sound, err := f.Sound(kept.ID); err != nil || !sound {
		t.Errorf("sound %t, %v", sound, err)
	}
	original, err := os.ReadFile(filepath.Join(path, string(kept.ID)+".jpg"))
	if err != nil {
		t.Fatal(err)
	}
	if page, err := f.JPEG(kept.ID, photo.Page); err != nil || !bytes.Equal(page, original) {
		t.Errorf("the page's picture has %d bytes of %d, %v", len(page), len(original), err)
	}
	for longest, size := range map[int]image.Point{photo.Page: {X: 960, Y: 720}, photo.Thumbnail: {X: 240, Y: 180}} {
		p, err := f.Picture(kept.ID, longest)
		if err != nil || p.Bounds().Size() != size {
			t.Fatalf("longest %d: %v, %v", longest, p.Bounds(), err)
		}
		for share, want := range map[int]color.RGBA{1: {R: 220}, 3: {B: 220}} {
			r, _, b, _ := p.At(size.X*share/4, size.Y/2).RGBA()
			if max(r>>8, uint32(want.R))-min(r>>8, uint32(want.R)) > 6 || max(b>>8, uint32(want.B))-min(b>>8, uint32(want.B)) > 6 {
				t.Errorf("longest %d: %d quarters across are red %d and blue %d", longest, share, r>>8, b>>8)
			}
		}
	}
	if _, err := f.KeepDrawn(image.NewYCbCr(image.Rect(0, 0, photo.Page+1, 10), image.YCbCrSubsampleRatio420)); err == nil {
		t.Error("a picture larger than a page's was kept as one")
	}
}

func TestWhatIsNoPhotoIsRefused(t *testing.T) {
	f, path := open(t)
	for _, c := range []struct {
		name, reason string
		raw          []byte
	}{
		{"a.jpg", "photo.not-a-photo", []byte("MZ\x90 this program")},
		{"a.jpg", "photo.not-a-photo", nil},
		{"a.jpg", "photo.ending", pictured(t, 8, 8)},
		{"a.exe", "photo.ending", pictured(t, 8, 8)},
		{"a.png", "photo.damaged", pictured(t, 80, 80)[:60]},
		{"a.jpg", "photo.damaged", []byte("\xff\xd8\xff\xe0")},
		{"a.heic", "photo.damaged", []byte("\x00\x00\x00\x18ftypheic\x00\x00\x00\x00mif1heic")},
		{"a.png", "photo.pixels", claiming(60_000, 60_000)},
		{"a.png", "photo.pixels", claiming(1<<31-1, 2)},
		{"a.png", "photo.side", claiming(100_000_000, 1)},
		{"a.png", "photo.side", claiming(1, photo.MaxSide+1)},
		{"a.png", "photo.damaged", claiming(photo.MaxSide, 1)}, // that may be, but nothing follows its header
		{"a.png", "photo.bytes", append(pictured(t, 8, 8), make([]byte, photo.MaxBytes)...)},
	} {
		_, err := f.Keep(c.name, bytes.NewReader(c.raw))
		var r *model.Refusal
		if !errors.As(err, &r) || r.Reason != c.reason || r.Value != c.name || r.Field != "photo" {
			t.Errorf("%s of %d bytes: %v, want %s", c.name, len(c.raw), err, c.reason)
		}
	}
	if ids, err := f.IDs(); err != nil || len(ids) != 0 {
		t.Errorf("something refused was kept: %v, %v", ids, err)
	}
	if files, err := os.ReadDir(path); err != nil || len(files) != 1 {
		t.Errorf("something refused left a file: %v, %v", files, err)
	}
}

func TestPhotosThatAreNotThere(t *testing.T) {
	f, _ := open(t)
	for _, id := range []model.PhotoID{"", "../../secret", model.PhotoID(strings.Repeat("0", 64)), "ABC"} {
		if _, err := f.JPEG(id, photo.Page); !errors.Is(err, model.ErrNotFound) {
			t.Errorf("%q: %v", id, err)
		}
	}
}

// What is shown and printed is the photo that was kept, or nothing: not another
// that was put in its place, and no broken picture.
func TestSwappedAndBrokenPicturesAreNotShown(t *testing.T) {
	f, path := open(t)
	kept, err := f.Keep("a.png", bytes.NewReader(pictured(t, 640, 320)))
	if err != nil {
		t.Fatal(err)
	}
	want, err := f.JPEG(kept.ID, photo.Page)
	if err != nil {
		t.Fatal(err)
	}
	made := filepath.Join(path, "derived", string(kept.ID)+"-1400.jpg")
	whole, err := os.ReadFile(made)
	if err != nil {
		t.Fatal(err)
	}
	flipped := bytes.Clone(whole)
	flipped[len(flipped)/2] ^= 4
	other := turned(t, 30, 30, 1)
	for name, bad := range map[string][]byte{"another": other, "cut": whole[:len(whole)/2], "a bit turned": flipped, "empty": nil} {
		if err := os.WriteFile(made, bad, 0o600); err != nil {
			t.Fatal(err)
		}
		if got, err := f.JPEG(kept.ID, photo.Page); err != nil || !bytes.Equal(got, want) {
			t.Errorf("%s: %d bytes, %v, want the picture made anew", name, len(got), err)
		}
	}
	original, _, err := f.Original(kept.ID)
	if err != nil {
		t.Fatal(err)
	}
	for name, bad := range map[string][]byte{"another": pictured(t, 30, 30), "too large": make([]byte, photo.MaxBytes+1)} {
		if err := os.WriteFile(original, bad, 0o600); err != nil {
			t.Fatal(err)
		}
		if _, err := f.JPEG(kept.ID, photo.Thumbnail/2); !errors.Is(err, photo.ErrChanged) { // a size that was not made yet
			t.Errorf("%s in the place of the photo: %v, want ErrChanged", name, err)
		}
	}
}

func TestAtMakesNothing(t *testing.T) {
	path := filepath.Join(t.TempDir(), "photos")
	f := photo.At(path)
	if ids, err := f.IDs(); err != nil || len(ids) != 0 {
		t.Errorf("photos %v, %v", ids, err)
	}
	if _, err := f.JPEG(model.PhotoID(strings.Repeat("0", 64)), photo.Page); !errors.Is(err, model.ErrNotFound) {
		t.Errorf("a photo of none: %v", err)
	}
	if _, err := os.Stat(path); err == nil {
		t.Error("a folder was made")
	}
}

func FuzzKeep(f *testing.F) {
	f.Add("a.jpg", turned(f, 8, 8, 3))
	f.Add("a.png", pictured(f, 8, 8))
	f.Add("a.png", claiming(9, 9))
	folder, _ := open(f)
	f.Fuzz(func(t *testing.T, name string, raw []byte) {
		kept, err := folder.Keep(name, bytes.NewReader(raw))
		if err != nil {
			var r *model.Refusal
			if !errors.As(err, &r) {
				t.Fatalf("%v is no refusal", err)
			}
			return
		}
		if _, err := folder.Picture(kept.ID, 16); err != nil {
			t.Fatal(err)
		}
	})
}

// A picture many times as large as what is made of it: what is made has the light of the
// place that it shows, to its edges.
func TestMuchSmallerPicturesKeepTheirPlaces(t *testing.T) {
	const wide, high = 1003, 757
	p := image.NewRGBA(image.Rect(0, 0, wide, high))
	for y := range high {
		for x := range wide {
			p.SetRGBA(x, y, color.RGBA{R: uint8(x * 255 / wide), G: uint8(y * 255 / high), B: 128, A: 255})
		}
	}
	var raw bytes.Buffer
	if err := jpeg.Encode(&raw, p, &jpeg.Options{Quality: 98}); err != nil {
		t.Fatal(err)
	}
	f, _ := open(t)
	kept, err := f.Keep("a.jpg", &raw)
	if err != nil {
		t.Fatal(err)
	}
	for _, longest := range []int{250, 101, 100, 37, 1} {
		small, err := f.Picture(kept.ID, longest)
		if err != nil {
			t.Fatal(err)
		}
		size := small.Bounds().Size()
		if want := max(1, (longest*high+wide/2)/wide); size != image.Pt(longest, want) {
			t.Errorf("%d: %v, want a height of %d", longest, size, want)
		}
		for _, at := range []image.Point{{}, {X: size.X - 1}, {Y: size.Y - 1}, {X: size.X - 1, Y: size.Y - 1}, {X: size.X / 3, Y: size.Y / 2}} {
			r, g, _, _ := small.At(at.X, at.Y).RGBA()
			right, down := (float64(at.X)+.5)/float64(size.X)*255, (float64(at.Y)+.5)/float64(size.Y)*255
			if math.Abs(float64(r>>8)-right) > 8 || math.Abs(float64(g>>8)-down) > 8 {
				t.Errorf("%d: at %v of %v it is %d, %d, not %.0f, %.0f", longest, at, size, r>>8, g>>8, right, down)
			}
		}
	}
}
