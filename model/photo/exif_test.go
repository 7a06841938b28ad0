package photo_test

import (
	"bytes"
	"encoding/binary"
	"errors"
	"image/color"
	"image/jpeg"
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/rwcarlsen/goexif/exif"

	"coilward/model"
	"coilward/model/photo"
)

// The private things in the test photos: nothing that leaves holds them.
const (
	maker  = "Aldermarsh Optical"
	camera = "Fieldbox Seven"
	serial = "SN-4471-0093"
	takenS = "2026:03:28 18:05:09"
	zoneS  = "+02:00"
)

// value is one EXIF value: its tag, kind and bytes.
type value struct {
	tag, kind uint16
	count     uint32
	data      []byte
}

func text(tag uint16, s string) value {
	return value{tag, 2, uint32(len(s) + 1), append([]byte(s), 0)}
}

func rational(order binary.AppendByteOrder, tag uint16, parts ...uint32) value {
	var data []byte
	for _, p := range parts {
		data = order.AppendUint32(data, p)
	}
	return value{tag, 5, uint32(len(parts) / 2), data}
}

func long(order binary.AppendByteOrder, tag uint16, n uint32) value {
	return value{tag, 4, 1, order.AppendUint32(nil, n)}
}

// list lays values out as one list of tags that begins at that offset.
func list(order binary.AppendByteOrder, at uint32, values ...value) []byte {
	head := order.AppendUint16(nil, uint16(len(values)))
	var rest []byte
	free := at + 2 + 12*uint32(len(values)) + 4
	for _, v := range values {
		head = order.AppendUint32(order.AppendUint16(order.AppendUint16(head, v.tag), v.kind), v.count)
		if len(v.data) <= 4 {
			head = append(head, append(v.data, make([]byte, 4-len(v.data))...)...)
			continue
		}
		head = order.AppendUint32(head, free+uint32(len(rest)))
		rest = append(rest, v.data...)
	}
	return append(append(head, 0, 0, 0, 0), rest...)
}

// telling is EXIF as a phone writes it: who made it, when, with which camera
// (its serial number too) and where.
func telling(order binary.AppendByteOrder, orientation uint16) []byte {
	head := "II*\x00\x08\x00\x00\x00"
	if order == binary.AppendByteOrder(binary.BigEndian) {
		head = "MM\x00*\x00\x00\x00\x08"
	}
	const details, place = 400, 800
	first := list(order, 8, text(0x010f, maker), text(0x0110, camera), value{0x0112, 3, 1, order.AppendUint16(nil, orientation)},
		long(order, 0x8769, details), long(order, 0x8825, place))
	second := list(order, details, text(0x9003, takenS), text(0x9011, zoneS), text(0xa431, serial))
	third := list(order, place, text(0x0001, "N"), rational(order, 0x0002, 52, 1, 31, 1, 1203, 100), text(0x0003, "E"), rational(order, 0x0004, 13, 1, 24, 1, 3711, 100))
	tiff := append([]byte(head), first...)
	tiff = append(tiff, make([]byte, details-len(tiff))...)
	tiff = append(tiff, second...)
	tiff = append(tiff, make([]byte, place-len(tiff))...)
	return append(tiff, third...)
}

// withNote is a JPEG with EXIF put before its picture.
func withNote(t testing.TB, tiff []byte, width, height int) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := jpeg.Encode(&b, halves(width, height), nil); err != nil {
		t.Fatal(err)
	}
	note := append([]byte("Exif\x00\x00"), tiff...)
	head := binary.BigEndian.AppendUint16([]byte{0xff, 0xd8, 0xff, 0xe1}, uint16(len(note)+2))
	return append(append(head, note...), b.Bytes()[2:]...)
}

// fromPhone is a small HEIC with the same EXIF; testdata/README.md says how it
// was made.
func fromPhone(t testing.TB) []byte {
	t.Helper()
	raw, err := os.ReadFile(filepath.Join("testdata", "phone.heic"))
	if err != nil {
		t.Fatal(err)
	}
	return raw
}

func TestWhenAPhotoWasTaken(t *testing.T) {
	want := photo.Taken{Day: model.NewDay(2026, time.March, 28), Second: 18*3600 + 5*60 + 9, Said: true, Offset: 7200, Zoned: true}
	plain := want
	plain.Offset, plain.Zoned = 0, false
	order := binary.LittleEndian
	details := func(values ...value) []byte {
		return append(append([]byte("II*\x00\x08\x00\x00\x00"), list(order, 8, long(order, 0x8769, 26))...), list(order, 26, values...)...)
	}
	for name, c := range map[string]struct {
		raw  []byte
		want photo.Note
	}{
		"JPEG, small end first": {withNote(t, telling(binary.LittleEndian, 6), 8, 8), photo.Note{Turned: 6, Taken: want}},
		"JPEG, large end first": {withNote(t, telling(binary.BigEndian, 3), 8, 8), photo.Note{Turned: 3, Taken: want}},
		"HEIC":                  {fromPhone(t), photo.Note{Turned: 6, Taken: want}},
		"no zone":               {withNote(t, details(text(0x9003, takenS)), 8, 8), photo.Note{Taken: plain}},
		"a zone of words":       {withNote(t, details(text(0x9003, takenS), text(0x9011, "summer")), 8, 8), photo.Note{Taken: plain}},
		"a zone too far":        {withNote(t, details(text(0x9003, takenS), text(0x9011, "+27:00")), 8, 8), photo.Note{Taken: plain}},
		"a clock never set":     {withNote(t, details(text(0x9003, "0000:00:00 00:00:00")), 8, 8), photo.Note{}},
		"a month that is none":  {withNote(t, details(text(0x9003, "2026:13:01 00:00:00")), 8, 8), photo.Note{}},
		"changed, not taken":    {withNote(t, details(text(0x0132, takenS)), 8, 8), photo.Note{}},
		"no EXIF":               {pictured(t, 8, 8), photo.Note{}},
		"nothing":               {nil, photo.Note{}},
	} {
		if got := photo.ReadNote(c.raw); got != c.want {
			t.Errorf("%s: %+v, want %+v", name, got, c.want)
		}
	}
}

func TestMomentOfTheCamera(t *testing.T) {
	now := model.Moment{UTC: 1_795_000_000, Offset: 3600, Zone: "Europe/Berlin", Precision: model.ToMinute}
	taken := photo.Taken{Day: model.NewDay(2026, time.July, 1), Second: 12*3600 + 34, Said: true}
	if got, want := taken.Moment(now), time.Date(2026, 7, 1, 10, 0, 34, 0, time.UTC).Unix(); got.UTC != want || got.Day() != taken.Day {
		t.Errorf("by the keeper's own summer time: %+v, want %d", got, want)
	}
	taken.Zoned, taken.Offset = true, -5*3600
	if got, want := taken.Moment(now), time.Date(2026, 7, 1, 17, 0, 34, 0, time.UTC).Unix(); got.UTC != want || got.Day() != taken.Day {
		t.Errorf("by the camera's own zone: %+v, want %d", got, want)
	}
	if got := (photo.Taken{}).Moment(now); !got.IsZero() {
		t.Errorf("not said: %+v", got)
	}
}

// Damaged, endless and misleading EXIF is read as far as it goes, and no further.
func TestHostileNotes(t *testing.T) {
	order := binary.LittleEndian
	head := []byte("II*\x00\x08\x00\x00\x00")
	for name, tiff := range map[string][]byte{
		"a list that leads to itself": append(bytes.Clone(head), list(order, 8, long(order, 0x8769, 8))...),
		"a list far outside":          append(bytes.Clone(head), list(order, 8, long(order, 0x8769, 1<<32-1))...),
		"65535 tags, none there":      append(bytes.Clone(head), 0xff, 0xff),
		"a value of 4 GB":             append(bytes.Clone(head), list(order, 8, value{0x0112, 3, 1<<32 - 1, order.AppendUint32(nil, 8)})...),
		"a value outside":             append(bytes.Clone(head), list(order, 8, value{0x0112, 3, 9, order.AppendUint32(nil, 1<<31)})...),
		"first list outside":          []byte("II*\x00\xff\xff\xff\xff"),
		"cut":                         []byte("II*\x00"),
	} {
		raw := withNote(t, tiff, 8, 8)
		if got := photo.ReadNote(raw); got != (photo.Note{}) {
			t.Errorf("%s: %+v", name, got)
		}
		f, _ := open(t)
		if _, err := f.Keep("a.jpg", bytes.NewReader(raw)); err != nil {
			t.Errorf("%s: a photo is one without its note too: %v", name, err)
		}
	}
}

// Nothing that leaves the collection tells where, when or with what a photo was
// taken; the original keeps it all.
func TestNothingPrivateLeaves(t *testing.T) {
	for name, raw := range map[string][]byte{"a.jpg": withNote(t, telling(binary.BigEndian, 6), 64, 32), "a.heic": fromPhone(t)} {
		for _, private := range []string{maker, camera, serial, takenS} {
			if !bytes.Contains(raw, []byte(private)) {
				t.Fatalf("%s does not hold %q to begin with", name, private)
			}
		}
		f, _ := open(t)
		kept, err := f.Keep(name, bytes.NewReader(raw))
		if err != nil {
			t.Fatal(err)
		}
		original, _, err := f.Original(kept.ID)
		if err != nil {
			t.Fatal(err)
		}
		if same, err := os.ReadFile(original); err != nil || !bytes.Equal(same, raw) {
			t.Errorf("%s: the original was changed", name)
		}
		for _, longest := range []int{photo.Thumbnail, photo.Page, 33} {
			made, err := f.JPEG(kept.ID, longest)
			if err != nil {
				t.Fatal(err)
			}
			bare(t, name, made)
		}
		copied := filepath.Join(t.TempDir(), "copy.jpg")
		if err := f.CopyBare(kept.ID, copied); err != nil {
			t.Fatal(err)
		}
		made, err := os.ReadFile(copied)
		if err != nil {
			t.Fatal(err)
		}
		bare(t, name, made)
	}
}

func bare(t *testing.T, name string, made []byte) {
	t.Helper()
	if x, err := exif.Decode(bytes.NewReader(made)); err == nil {
		t.Errorf("%s: another reader finds EXIF in it: %v", name, x)
	}
	for _, private := range []string{maker, camera, serial, takenS, "2026:03:28", zoneS, "Exif", "http://ns.adobe.com/xap", "GPS"} {
		if bytes.Contains(made, []byte(private)) {
			t.Errorf("%s: %q is in it", name, private)
		}
	}
	for rest := made[2:]; len(rest) >= 4 && rest[1] != 0xda; rest = rest[2+int(binary.BigEndian.Uint16(rest[2:])):] {
		if marker := rest[1]; marker >= 0xe1 && marker <= 0xef || marker == 0xfe {
			t.Errorf("%s: there is a segment %x in it, which is no part of the picture", name, marker)
		}
	}
}

// A HEIC is shown as it was held: its turn stands in the file twice, and is
// followed once.
func TestHEICStandsUpright(t *testing.T) {
	f, _ := open(t)
	kept, err := f.Keep("a.heic", bytes.NewReader(fromPhone(t)))
	if err != nil {
		t.Fatal(err)
	}
	picture, err := f.Picture(kept.ID, photo.Thumbnail)
	if err != nil {
		t.Fatal(err)
	}
	b := picture.Bounds()
	if kept.Width != 128 || kept.Height != 192 || b.Dx() != 128 || b.Dy() != 192 {
		t.Errorf("%d by %d, shown %v: want 128 by 192", kept.Width, kept.Height, b)
	}
	r, _, blue, _ := picture.At(64, 40).RGBA()
	r2, _, blue2, _ := picture.At(64, 150).RGBA()
	if r < blue || r2 > blue2 {
		t.Error("red does not lie above blue")
	}
}

// Nothing dark stands in the corner of a HEIC, which is of one colour there.
func TestHEICIsWholeInItsCorner(t *testing.T) {
	f, _ := open(t)
	kept, err := f.Keep("a.heic", bytes.NewReader(fromPhone(t)))
	if err != nil {
		t.Fatal(err)
	}
	p, err := f.Picture(kept.ID, photo.Page)
	if err != nil {
		t.Fatal(err)
	}
	light := func(x, y int) int { return int(color.GrayModel.Convert(p.At(x, y)).(color.Gray).Y) }
	want := light(40, 40)
	for y := range 8 {
		for x := range 40 {
			if got := light(x, y); got < want-8 || got > want+8 {
				t.Fatalf("the light at %d, %d is %d, and %d within the picture", x, y, got, want)
			}
		}
	}
}

// A HEIC that says it is larger than can be read is refused by its header alone.
func TestHEICOfTooManyPixels(t *testing.T) {
	raw := fromPhone(t)
	claimed := []byte("ispe\x00\x00\x00\x00\x00\x00\x00\xc0\x00\x00\x00\x80")
	if bytes.Count(raw, claimed) != 1 {
		t.Fatal("the picture's size does not stand where it should")
	}
	for side, want := range map[uint16]string{7200: "photo.pixels", 7000: "photo.damaged"} {
		large := binary.BigEndian.AppendUint16([]byte("ispe\x00\x00\x00\x00\x00\x00"), side)
		large = binary.BigEndian.AppendUint16(append(large, 0, 0), side)
		f, _ := open(t)
		_, err := f.Keep("a.heic", bytes.NewReader(bytes.Replace(raw, claimed, large, 1)))
		var r *model.Refusal
		if !errors.As(err, &r) || r.Reason != want {
			t.Errorf("%d by %d: %v, want %s", side, side, err, want)
		}
	}
}

// All eight turns of EXIF, each looked at in its corners.
func TestEveryTurn(t *testing.T) {
	for turned := uint16(1); turned <= 8; turned++ {
		f, _ := open(t)
		kept, err := f.Keep("a.jpg", bytes.NewReader(turnedQuarters(t, turned)))
		if err != nil {
			t.Fatal(err)
		}
		picture, err := f.Picture(kept.ID, photo.Thumbnail)
		if err != nil {
			t.Fatal(err)
		}
		// EXIF names for each turn where the first row and the first column of the
		// file lie in the upright picture; the file is white where both begin.
		want := map[uint16][2]int{1: {0, 0}, 2: {1, 0}, 3: {1, 1}, 4: {0, 1}, 5: {0, 0}, 6: {1, 0}, 7: {1, 1}, 8: {0, 1}}[turned]
		b := picture.Bounds()
		for _, corner := range [][2]int{{0, 0}, {1, 0}, {0, 1}, {1, 1}} {
			light, _, _, _ := picture.At(b.Dx()/4+corner[0]*b.Dx()/2, b.Dy()/4+corner[1]*b.Dy()/2).RGBA()
			if white := light > 0x8000; white != (corner == want) {
				t.Errorf("turn %d: corner %v is white: %v", turned, corner, white)
			}
		}
	}
}

func FuzzNote(f *testing.F) {
	f.Add(withNote(f, telling(binary.LittleEndian, 6), 8, 8))
	f.Add(withNote(f, telling(binary.BigEndian, 6), 8, 8))
	f.Add(fromPhone(f))
	f.Add(pictured(f, 8, 8))
	f.Fuzz(func(t *testing.T, raw []byte) {
		n := photo.ReadNote(raw)
		if n.Turned < 0 || n.Turned > 8 || n.Taken.Second < 0 || n.Taken.Second >= 86400 || n.Taken.Offset < -15*3600 || n.Taken.Offset > 15*3600 {
			t.Fatalf("%+v", n)
		}
	})
}

// The camera's day is proposed where no camera says the day that was typed; a clock
// that is ahead, and one that was never set, say nothing.
func TestTheCamerasOtherDay(t *testing.T) {
	now := model.Moment{UTC: 20_000*86400 + 12*3600, Precision: model.ToMinute}
	today := now.Day()
	taken := func(day model.Day, hour int) photo.Taken {
		return photo.Taken{Day: day, Second: hour * 3600, Said: true}
	}
	for name, want := range map[string]struct {
		photos []photo.Taken
		on     model.Day
		day    model.Day // 0: nothing is proposed
	}{
		"none":                    {nil, today, 0},
		"says nothing":            {[]photo.Taken{{}}, today, 0},
		"that day":                {[]photo.Taken{taken(today, 9)}, today, 0},
		"another":                 {[]photo.Taken{taken(today-5, 9)}, today, today - 5},
		"the first of two":        {[]photo.Taken{{}, taken(today-5, 9), taken(today-7, 9)}, today, today - 5},
		"one of them is that day": {[]photo.Taken{taken(today-5, 9), taken(today, 9)}, today, 0},
		"later today":             {[]photo.Taken{taken(today, 13)}, today - 1, 0},
		"a clock ahead":           {[]photo.Taken{taken(today+400, 9)}, today, 0},
		"today, of a past entry":  {[]photo.Taken{taken(today, 11)}, today - 3, today},
	} {
		at, ok := photo.OtherDay(want.photos, want.on, now)
		if ok != (want.day != 0) || ok && at.Day() != want.day {
			t.Errorf("%s: %v, %v", name, at, ok)
		}
	}
}
