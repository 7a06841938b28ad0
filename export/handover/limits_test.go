package handover

import (
	"bytes"
	"errors"
	"fmt"
	"image"
	"image/jpeg"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"time"

	"coilward/model"
	"coilward/model/handover"
	"coilward/model/samples"
)

func papersOf(t testing.TB, photos ...[]byte) Contents {
	t.Helper()
	return Contents{Record: handover.Record{Form: handover.Form, Animal: handover.Animal{ID: model.AnimalID{ID: model.ID{1}}, Name: "Juno"}, Photos: make([]handover.Photo, len(photos))},
		Paper: []byte("%PDF-1.3"), Photos: photos}
}

// noise is a photo that no JPEG makes small.
func noise(t testing.TB, width, height int) []byte {
	t.Helper()
	picture := image.NewGray(image.Rect(0, 0, width, height))
	state := uint32(1)
	for i := range picture.Pix {
		state = state*1664525 + 1013904223
		picture.Pix[i] = uint8(state >> 24)
	}
	var file bytes.Buffer
	if err := jpeg.Encode(&file, picture, &jpeg.Options{Quality: 100}); err != nil {
		t.Fatal(err)
	}
	return file.Bytes()
}

// What could not be opened again is not written, and it is said what has to be left out.
func TestWriteHoldsItsOwnLimits(t *testing.T) {
	k, err := NewKey()
	if err != nil {
		t.Fatal(err)
	}
	one := small(t)
	many := func(n int) (all [][]byte) {
		for range n {
			all = append(all, one)
		}
		return all
	}
	with := func(c Contents, change func(*Contents)) Contents { change(&c); return c }
	for name, c := range map[string]struct {
		of     Contents
		reason string
	}{
		"as many photos as are read": {papersOf(t, many(MaxPhotos)...), ""},
		"one photo more":             {papersOf(t, many(MaxPhotos+1)...), "papers.excess-photos"},
		"60,000 by 60,000 pixels":    {papersOf(t, one, vast(t)), "papers.excess-pixels"},
		"a photo of too many bytes":  {papersOf(t, noise(t, 5200, 5200)), "papers.excess-photo"},
		"the largest paper":          {with(papersOf(t), func(c *Contents) { c.Paper = append([]byte("%PDF-"), make([]byte, MaxPaper-5)...) }), ""},
		"a paper of a byte more":     {with(papersOf(t), func(c *Contents) { c.Paper = make([]byte, MaxPaper+1) }), "papers.excess-record"},
		"a record of too many bytes": {with(papersOf(t), func(c *Contents) { c.Record.Animal.Morph = strings.Repeat("x", MaxRecord) }), "papers.excess-record"},
		"a list that is too long":    {with(papersOf(t), func(c *Contents) { c.Record.Problems = make([]handover.Problem, handover.MaxList+1) }), "papers.excess-list"},
	} {
		var file bytes.Buffer
		err := Write(&file, c.of, k)
		var refusal *model.Refusal
		switch {
		case c.reason == "" && err != nil:
			t.Errorf("%s: %v", name, err)
		case c.reason == "":
			if _, err := Open(bytes.NewReader(file.Bytes()), int64(file.Len())); err != nil {
				t.Errorf("%s: written, and not opened: %v", name, err)
			}
		case !errors.As(err, &refusal) || refusal.Reason != c.reason:
			t.Errorf("%s: %v", name, err)
		case refusal.Gaps["Have"].Number <= refusal.Gaps["Most"].Number:
			t.Errorf("%s: %v are told as more than %v", name, refusal.Gaps["Have"], refusal.Gaps["Most"])
		case file.Len() > 0:
			t.Errorf("%s: %d bytes were written", name, file.Len())
		}
	}
	// as large as a file may be, to the byte
	room := int64(MaxFile)
	var names []string
	var parts [][]byte
	zeros := make([]byte, 64<<20)
	for i := int64(0); room > 0; i++ {
		name := photoName(int(i))
		head := int64(len(member{name: name}.local()) + len(member{name: name}.central()))
		size := min(64<<20, room-head-endSize)
		if left := room - head - size; left < 1<<20 && left > endSize { // the last one
			size = room - head - endSize
		}
		names, parts = append(names, name), append(parts, zeros[:size])
		if room -= head + size; room == endSize {
			break
		}
	}
	var count counting
	if err := frame(&count, names, parts); err != nil || count != MaxFile {
		t.Errorf("the largest file: %d bytes, %v", count, err)
	}
	parts[0], count = make([]byte, len(parts[0])+1), 0
	var refusal *model.Refusal
	if err := frame(&count, names, parts); !errors.As(err, &refusal) || refusal.Reason != "papers.excess-file" || count != 0 {
		t.Errorf("a byte more: %d bytes, %v", count, err)
	} else if have := refusal.Gaps["Have"].Number; have != MaxFile>>20+1 {
		t.Errorf("a byte more is told as %v MB", have)
	}
	for i := range parts { // twice all of it, with one end, is told as that
		names = append(names, photoName(len(parts)+i))
	}
	parts = append(parts, parts...)
	if err := frame(&count, names, parts); !errors.As(err, &refusal) || refusal.Gaps["Have"].Number != 2*MaxFile>>20 || count != 0 {
		t.Errorf("twice as much: %d bytes, %v", count, refusal.Gaps)
	}
}

// FORMAT.md tells under which names keys that were set aside, and copies, are found.
func TestTheFormatTellsTheNamesOfKeys(t *testing.T) {
	raw, err := os.ReadFile("FORMAT.md")
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{"signing-key" + asideMark, "signing-key" + asideMark + "damaged", "-2", copyBegin + "-", copyBegin + CopyEnd} {
		if !strings.Contains(string(raw), "`"+name+"`") {
			t.Errorf("FORMAT.md does not name %q", name)
		}
	}
}

// FORMAT.md tells the limits.
func TestTheFormatTellsTheLimits(t *testing.T) {
	raw, err := os.ReadFile("FORMAT.md")
	if err != nil {
		t.Fatal(err)
	}
	want := fmt.Sprintf("The file %d MiB; `record.json` %d MiB; `papers.pdf` %d MiB; %d photos of %d MiB and %d million pixels; lists of %d,000, of people %d; 800,000 objects and elements of lists in `record.json`; names of %d characters. `signature.json` %d bytes, `manifest.json` %d KiB; what one entry says %d KiB; of one check %d stops and findings, of one sample %d results, of one quarantine %d lines.",
		MaxFile>>20, MaxRecord>>20, MaxPaper>>20, MaxPhotos, MaxPhoto>>20, MaxPixels/1_000_000, handover.MaxList/1000, handover.MaxHands, handover.MaxName, maxSigned, maxManifest>>10, handover.MaxBody>>10, handover.MaxName, samples.MaxResults, handover.MaxName)
	if told := strings.Join(strings.Fields(string(raw)), " "); !strings.Contains(told, want) {
		t.Errorf("FORMAT.md does not say %q", want)
	}
}

// counting counts what is written.
type counting int64

func (c *counting) Write(b []byte) (int, error) {
	*c += counting(len(b))
	return len(b), nil
}

// What is no file is refused at once, and never waited for.
func TestWhatIsNoFile(t *testing.T) {
	folder := t.TempDir()
	for name, path := range notFiles(t, folder) {
		done := make(chan error, 1)
		go func() { _, _, err := OpenFile(path); done <- err }()
		select {
		case err := <-done:
			var why *Fault
			if !errors.As(err, &why) || why.Why != NotPapers {
				t.Errorf("%s: %v", name, err)
			}
		case <-time.After(time.Minute):
			t.Fatalf("%s: still waiting", name)
		}
	}
	if _, _, err := OpenFile(filepath.Join(folder, "nothing")); !errors.Is(err, os.ErrNotExist) {
		t.Errorf("nothing: %v", err)
	}
	if runtime.GOOS == "windows" {
		return
	}
	k, err := NewKey()
	if err != nil {
		t.Fatal(err)
	}
	path, link := filepath.Join(folder, "a"+Extension), filepath.Join(folder, "link"+Extension)
	if err := errors.Join(os.WriteFile(path, sealed(t, k, Version, []string{recordName, paperName}, recordOf(t, 0), []byte("%PDF-1.3")), 0o600), os.Symlink(path, link)); err != nil {
		t.Fatal(err)
	}
	_, shut, err := OpenFile(link)
	if err != nil {
		t.Fatalf("a link to a file: %v", err)
	}
	if err := shut(); err != nil {
		t.Error(err)
	}
}
