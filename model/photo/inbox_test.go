package photo_test

import (
	"bytes"
	"context"
	"encoding/binary"
	"errors"
	"image"
	"image/color"
	"image/draw"
	"image/jpeg"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"github.com/skip2/go-qrcode"

	"coilward/model"
	"coilward/model/label"
	"coilward/model/photo"
)

func nothing(float64) {}

func now() model.Moment {
	return model.MomentOf(time.Date(2026, 4, 1, 9, 0, 0, 0, time.FixedZone("", 7200)))
}

func put(t testing.TB, folder, name string, raw []byte) {
	t.Helper()
	path := filepath.Join(folder, name)
	if err := os.MkdirAll(filepath.Dir(path), 0o700); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, raw, 0o600); err != nil {
		t.Fatal(err)
	}
	if err := os.Chtimes(path, time.Time{}, time.Date(2026, 3, 30, 12, 0, 0, 0, time.UTC)); err != nil {
		t.Fatal(err)
	}
}

// carded is a photo of a card that lies askew on a dark table, as a JPEG with EXIF.
func carded(t testing.TB, l label.Label, side int) []byte {
	t.Helper()
	code, err := qrcode.New(l.Text(), qrcode.Medium)
	if err != nil {
		t.Fatal(err)
	}
	table := image.NewRGBA(image.Rect(0, 0, 1600, 1200))
	draw.Draw(table, table.Bounds(), image.NewUniform(color.RGBA{70, 62, 50, 255}), image.Point{}, draw.Src)
	draw.Draw(table, image.Rect(500, 300, 500+side, 300+side), code.Image(side), image.Point{}, draw.Src)
	var b bytes.Buffer
	if err := jpeg.Encode(&b, table, nil); err != nil {
		t.Fatal(err)
	}
	note := append([]byte("Exif\x00\x00"), telling(binary.BigEndian, 8)...)
	head := binary.BigEndian.AppendUint16([]byte{0xff, 0xd8, 0xff, 0xe1}, uint16(len(note)+2))
	return append(append(head, note...), b.Bytes()[2:]...)
}

func inbox(t testing.TB, f *photo.Folder, path string) *photo.Inbox {
	t.Helper()
	b, err := f.OpenInbox(path)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

func look(t testing.TB, b *photo.Inbox, kept map[model.PhotoID]bool) photo.Listing {
	t.Helper()
	l, err := b.Look(context.Background(), model.Moment{}, now(), kept, nothing)
	if err != nil {
		t.Fatal(err)
	}
	return l
}

func names(all []photo.Shot) string {
	var found []string
	for _, s := range all {
		found = append(found, s.Name)
	}
	slices.Sort(found)
	return strings.Join(found, " ")
}

// A link to the phone's folder is as good as the folder; a file is none.
func TestWhereAnInboxLies(t *testing.T) {
	f, _ := open(t)
	phone := t.TempDir()
	put(t, phone, "trip/1.jpg", turned(t, 40, 30, 1))
	link := filepath.Join(t.TempDir(), "phone")
	if err := os.Symlink(phone, link); err != nil {
		t.Skip("no links here:", err)
	}
	b := inbox(t, f, link)
	l := look(t, b, nil)
	if names(l.Waiting) != "trip/1.jpg" {
		t.Fatalf("behind a link %q waits", names(l.Waiting))
	}
	picture := filepath.Join(phone, "trip", "1.jpg")
	_, err := inbox(t, f, picture).Look(context.Background(), model.Moment{}, now(), nil, nothing)
	var r *model.Refusal
	if !errors.As(err, &r) || r.Reason != "inbox.no-folder" || r.Value != picture {
		t.Errorf("a file: %v", err)
	}
	if _, err := inbox(t, f, filepath.Join(phone, "gone")).Look(context.Background(), model.Moment{}, now(), nil, nothing); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("one that is gone: %v", err)
	}
}

func TestWhatWaitsInTheInbox(t *testing.T) {
	f, _ := open(t)
	phone := t.TempDir()
	card := label.OfPlace(placed(4))
	put(t, phone, "1.jpg", carded(t, card, 260))
	put(t, phone, "trip/2.jpg", withNote(t, telling(binary.LittleEndian, 1), 40, 30))
	put(t, phone, "trip/again.jpg", withNote(t, telling(binary.LittleEndian, 1), 40, 30))
	put(t, phone, "3.png", pictured(t, 20, 10))
	put(t, phone, ".thumbs/4.jpg", turned(t, 9, 9, 1))
	put(t, phone, ".5.jpg", turned(t, 9, 9, 1))
	put(t, phone, "notes.txt", []byte("no picture"))
	put(t, phone, "empty.jpg", nil)
	put(t, phone, "cut.jpg", turned(t, 400, 300, 1)[:900])
	put(t, phone, "film.jpg", []byte("\x00\x00\x00\x18ftypmp42"))
	huge, err := os.Create(filepath.Join(phone, "huge.jpg"))
	if err == nil {
		err = errors.Join(huge.Truncate(1<<30), huge.Close())
	}
	if err != nil {
		t.Fatal(err)
	}
	before := folderOf(t, phone)

	b := inbox(t, f, phone)
	l := look(t, b, nil)
	if got := names(l.Waiting); got != "1.jpg 3.png trip/2.jpg" {
		t.Errorf("waiting: %s", got)
	}
	for _, s := range l.Waiting {
		switch s.Name {
		case "1.jpg":
			if s.Card != card || s.Dated != photo.ByCamera || s.At.Day().String() != "2026-03-28" || s.At.Time().Hour() != 18 {
				t.Errorf("the card: %+v", s)
			}
		case "3.png":
			if s.Dated != photo.ByFile || s.At.Day().String() != "2026-03-30" || s.Card != (label.Label{}) {
				t.Errorf("without EXIF: %+v", s)
			}
		}
		if _, ok := b.Picture(s.ID, photo.Thumbnail); !ok {
			t.Errorf("%s has no picture to show", s.Name)
		}
	}
	bad := map[string]string{}
	for _, r := range l.Bad {
		bad[r.Value] = r.Reason
	}
	for name, reason := range map[string]string{"empty.jpg": "photo.not-a-photo", "cut.jpg": "photo.damaged", "film.jpg": "photo.not-a-photo", "huge.jpg": "photo.bytes"} {
		if bad[name] != reason || len(bad) != 4 {
			t.Errorf("%s: %q, want %s; all %v", name, bad[name], reason, bad)
		}
	}
	if after := folderOf(t, phone); after != before {
		t.Error("the phone's folder was changed")
	}

	// left out stays so in a new session, until it is brought back
	var png photo.Shot
	for _, s := range l.Waiting {
		if s.Name == "3.png" {
			png = s
		}
	}
	if err := b.LeaveOut(png.ID); err != nil {
		t.Fatal(err)
	}
	b = inbox(t, f, phone)
	l = look(t, b, nil)
	if names(l.Waiting) != "1.jpg trip/2.jpg" || names(l.LeftOut) != "3.png" {
		t.Errorf("left out: %s and %s", names(l.Waiting), names(l.LeftOut))
	}
	if err := b.BringBack(png.ID); err != nil {
		t.Fatal(err)
	}
	if l = look(t, b, nil); names(l.Waiting) != "1.jpg 3.png trip/2.jpg" {
		t.Errorf("brought back: %s", names(l.Waiting))
	}

	// what the collection has does not wait, and waits again once it has it no more
	if err := b.Keep(png); err != nil {
		t.Fatal(err)
	}
	if l = look(t, b, map[model.PhotoID]bool{png.ID: true}); names(l.Waiting) != "1.jpg trip/2.jpg" {
		t.Errorf("kept: %s", names(l.Waiting))
	}
	if l = look(t, b, nil); names(l.Waiting) != "1.jpg 3.png trip/2.jpg" {
		t.Errorf("undone: %s", names(l.Waiting))
	}
}

// folderOf is all that lies in a folder, for comparing.
func folderOf(t *testing.T, path string) string {
	t.Helper()
	var all strings.Builder
	err := filepath.Walk(path, func(p string, info os.FileInfo, err error) error {
		if err == nil && !info.IsDir() {
			all.WriteString(p + info.ModTime().String() + info.Mode().String() + "\n")
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return all.String()
}

func TestPicturesThatGoAndChange(t *testing.T) {
	f, _ := open(t)
	phone := t.TempDir()
	put(t, phone, "a.jpg", turned(t, 20, 10, 1))
	put(t, phone, "b.jpg", turned(t, 20, 12, 1))
	b := inbox(t, f, phone)
	l := look(t, b, nil)
	if err := os.Remove(filepath.Join(phone, "a.jpg")); err != nil {
		t.Fatal(err)
	}
	put(t, phone, "b.jpg", turned(t, 30, 12, 1))
	for _, s := range l.Waiting {
		want := map[string]string{"a.jpg": "photo.gone", "b.jpg": "photo.other"}[s.Name]
		var r *model.Refusal
		if err := b.Keep(s); !errors.As(err, &r) || r.Reason != want || r.Value != s.Name {
			t.Errorf("%s: %v, want %s", s.Name, err, want)
		}
	}
	if l = look(t, b, nil); names(l.Waiting) != "b.jpg" {
		t.Errorf("afterwards: %s", names(l.Waiting))
	}
	if err := os.RemoveAll(phone); err != nil {
		t.Fatal(err)
	}
	if _, err := b.Look(context.Background(), model.Moment{}, now(), nil, nothing); !errors.Is(err, os.ErrNotExist) || !strings.Contains(err.Error(), phone) {
		t.Errorf("the folder is gone: %v", err)
	}
}

// What was read is not read again, after a stop in the middle too; and one whose
// time or size is another is.
func TestWhatWasReadIsRemembered(t *testing.T) {
	f, path := open(t)
	phone := t.TempDir()
	all := strings.Split("abcdefghijkl", "")
	for _, name := range all {
		put(t, phone, name+".jpg", turned(t, 20, 10+int(name[0]), 1))
	}
	ctx, stop := context.WithCancel(context.Background())
	b := inbox(t, f, phone)
	if _, err := b.Look(ctx, model.Moment{}, now(), nil, func(float64) { stop() }); !errors.Is(err, context.Canceled) {
		t.Fatalf("stopped: %v", err)
	}
	reads := func(b *photo.Inbox) (n int) {
		if _, err := b.Look(context.Background(), model.Moment{}, now(), nil, func(float64) { n++ }); err != nil {
			t.Fatal(err)
		}
		return n
	}
	// what was in hand at the stop is read to its end: two, and the next of each
	if n := reads(inbox(t, f, phone)); n >= len(all) || n < len(all)-4 {
		t.Errorf("after the stop %d of %d were read, want all but the first and those in hand", n, len(all))
	}
	if n := reads(inbox(t, f, phone)); n != 0 {
		t.Errorf("%d were read again", n)
	}
	put(t, phone, "a.jpg", turned(t, 21, 33, 1))
	if n := reads(inbox(t, f, phone)); n != 1 {
		t.Errorf("%d were read, want the changed one", n)
	}
	if err := os.WriteFile(filepath.Join(path, "inbox.json"), []byte("{\"folder\": 3"), 0o600); err != nil {
		t.Fatal(err)
	}
	if l := look(t, inbox(t, f, phone), nil); !l.Lost || names(l.Waiting) != strings.Join(all, ".jpg ")+".jpg" {
		t.Errorf("what was remembered is damaged: %+v", l)
	}
	if ids, err := f.IDs(); err != nil || len(ids) != 0 {
		t.Errorf("looking kept something: %v, %v", ids, err)
	}
}

// The window looks again while a look goes on, and somebody leaves a picture out
// meanwhile: nothing is read twice, and the choice holds.
func TestLooksAtTheSameTime(t *testing.T) {
	f, _ := open(t)
	phone := t.TempDir()
	for i := range 12 {
		put(t, phone, string(rune('a'+i))+".jpg", turned(t, 20, 10+i, 1))
	}
	b := inbox(t, f, phone)
	first := look(t, b, nil).Waiting[0]
	put(t, phone, "z.jpg", turned(t, 30, 30, 1))
	var all sync.WaitGroup
	var read atomic.Int32
	for range 4 {
		all.Go(func() {
			if _, err := b.Look(context.Background(), model.Moment{}, now(), nil, func(float64) { read.Add(1) }); err != nil {
				t.Error(err)
			}
		})
		all.Go(func() {
			if err := b.LeaveOut(first.ID); err != nil {
				t.Error(err)
			}
		})
	}
	all.Wait()
	if l := look(t, b, nil); read.Load() != 1 || len(l.Waiting) != 12 || names(l.LeftOut) != first.Name {
		t.Errorf("%d were read, %d wait, left out: %s", read.Load(), len(l.Waiting), names(l.LeftOut))
	}
}

// A file that is no photo is put away by its name, size and time: in a new session
// and after another folder too, until it is taken up or is another file.
func TestFilesThatArePutAway(t *testing.T) {
	f, _ := open(t)
	phone := t.TempDir()
	put(t, phone, "a.jpg", []byte("no picture"))
	put(t, phone, "trip/b.jpg", []byte("none either"))
	put(t, phone, "c.jpg", turned(t, 20, 10, 1))
	said := func(b *photo.Inbox) string {
		l := look(t, b, nil)
		var words []string
		for _, r := range l.Bad {
			words = append(words, r.Value)
		}
		words = append(words, "|")
		for _, r := range l.PutAway {
			words = append(words, r.Value)
		}
		return strings.Join(words, " ")
	}
	b := inbox(t, f, phone)
	want := func(when, words string) {
		t.Helper()
		if got := said(b); got != words {
			t.Errorf("%s: %s, want %s", when, got, words)
		}
	}
	want("at first", "a.jpg trip/b.jpg |")
	if err := b.PutAway("a.jpg", "trip/b.jpg", "c.jpg", "none.jpg"); err != nil {
		t.Fatal(err)
	}
	want("put away", "| a.jpg trip/b.jpg")
	if got := names(look(t, b, nil).Waiting); got != "c.jpg" {
		t.Errorf("a photo was put away: %s", got)
	}
	look(t, inbox(t, f, t.TempDir()), nil)
	b = inbox(t, f, phone)
	want("in a new session", "| a.jpg trip/b.jpg")
	put(t, phone, "a.jpg", []byte("another file"))
	want("another file of the name", "a.jpg | trip/b.jpg")
	if err := b.TakeUp("trip/b.jpg"); err != nil {
		t.Fatal(err)
	}
	want("taken up", "a.jpg trip/b.jpg |")
}

func TestOlderPicturesAreCounted(t *testing.T) {
	f, _ := open(t)
	phone := t.TempDir()
	put(t, phone, "a.jpg", turned(t, 20, 10, 1))
	l, err := inbox(t, f, phone).Look(context.Background(), now(), now(), nil, nothing)
	if err != nil || l.Older != 1 || len(l.Waiting) != 0 {
		t.Errorf("%+v, %v", l, err)
	}
}

// A camera whose clock is ahead says nothing about the day.
func TestAClockThatIsAhead(t *testing.T) {
	f, _ := open(t)
	phone := t.TempDir()
	put(t, phone, "a.jpg", withNote(t, telling(binary.LittleEndian, 1), 20, 10))
	early := now()
	early.UTC -= 30 * 86400
	l, err := inbox(t, f, phone).Look(context.Background(), model.Moment{}, early, nil, nothing)
	if err != nil || len(l.Waiting) != 1 || l.Waiting[0].Dated != photo.ByFile {
		t.Errorf("%+v, %v", l, err)
	}
}

func TestNamedPhotos(t *testing.T) {
	a, b := strings.Repeat("0a", 32), strings.Repeat("9f", 32)
	body := []byte(`{"photos":["` + a + `","` + b + `","` + a + `"],"note":"` + a[:60] + `","x":"` + strings.ToUpper(a) + `"}`)
	if got := photo.Named(body); len(got) != 2 || string(got[0]) != a || string(got[1]) != b {
		t.Errorf("%v", got)
	}
	judged := []byte(`{"verdict":{"tables":"` + a + `","level":"vet"},"again":{"tables": "` + a + `"},"photos":["` + b + `"]}`)
	if got := photo.Named(judged); len(got) != 1 || string(got[0]) != b {
		t.Errorf("the hash of tables is taken for a photo: %v", got)
	}
}

// Looking again into a folder of 5,000 pictures that were all read.
func BenchmarkLookAgain5000(b *testing.B) {
	f, err := photo.Open(b.TempDir())
	if err != nil {
		b.Fatal(err)
	}
	phone := b.TempDir()
	for i := range 5000 {
		put(b, phone, "p"+string(rune('a'+i%26))+time.Duration(i).String()+".jpg", binary.BigEndian.AppendUint32(turned(b, 8, 8, 1), uint32(i)))
	}
	box := inbox(b, f, phone)
	if l := look(b, box, nil); len(l.Waiting) != 5000 {
		b.Fatal(len(l.Waiting))
	}
	for b.Loop() {
		look(b, inbox(b, f, phone), nil)
	}
}
