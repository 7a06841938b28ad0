package handover

import (
	"archive/zip"
	"bytes"
	"crypto/ed25519"
	"encoding/binary"
	"encoding/hex"
	"errors"
	"hash/crc32"
	"image"
	"image/jpeg"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"

	"coilward/model"
	"coilward/model/handover"
)

// small is a photo, and vast the same with a header that promises 60,000 by 60,000 pixels.
func small(t testing.TB) []byte {
	t.Helper()
	var file bytes.Buffer
	if err := jpeg.Encode(&file, image.NewYCbCr(image.Rect(0, 0, 8, 8), image.YCbCrSubsampleRatio420), nil); err != nil {
		t.Fatal(err)
	}
	return file.Bytes()
}

func vast(t testing.TB) []byte {
	photo := small(t)
	at := bytes.Index(photo, []byte{0xff, 0xc0})
	copy(photo[at+5:], []byte{60000 >> 8, 60000 & 0xff, 60000 >> 8, 60000 & 0xff})
	return photo
}

func recordOf(t testing.TB, photos int) []byte {
	t.Helper()
	r := handover.Record{Form: handover.Form, Animal: handover.Animal{ID: model.AnimalID{ID: model.ID{1}}, Name: "Juno"}, Photos: make([]handover.Photo, photos)}
	raw, err := r.Bytes()
	if err != nil {
		t.Fatal(err)
	}
	return raw
}

// sealed is a file of these parts, signed as it should be.
func sealed(t testing.TB, k Key, version int, names []string, parts ...[]byte) []byte {
	t.Helper()
	var file bytes.Buffer
	if err := seal(&file, version, names, parts, k); err != nil {
		t.Fatal(err)
	}
	return file.Bytes()
}

// zipped is a zip of these parts as the usual library writes it.
func zipped(t testing.TB, method uint16, mode fs.FileMode, names []string, parts ...[]byte) []byte {
	t.Helper()
	var file bytes.Buffer
	z := zip.NewWriter(&file)
	for i, name := range names {
		h := &zip.FileHeader{Name: name, Method: method}
		if mode != 0 {
			h.SetMode(mode)
		}
		w, err := z.CreateHeader(h)
		if err == nil {
			_, err = w.Write(parts[i])
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	return file.Bytes()
}

// linked is a file that says in the list at its end, and nowhere else, that a part is a
// symbolic link: made on Unix, with the mode of one (APPNOTE 4.4.2 and 4.4.15).
func linked(t testing.TB, file []byte, name string) []byte {
	t.Helper()
	out := bytes.Clone(file)
	at := bytes.LastIndex(out, []byte(name)) - 46 // the fixed part of an entry, APPNOTE 4.3.12
	if at < 0 || string(out[at:at+4]) != "PK\x01\x02" {
		t.Fatalf("%s is not in the list at the end", name)
	}
	out[at+5] = 3
	binary.LittleEndian.PutUint32(out[at+38:], (0o120000|0o777)<<16)
	z, err := zip.NewReader(bytes.NewReader(out), int64(len(out)))
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range z.File {
		if link := f.Mode()&fs.ModeSymlink != 0; link != (f.Name == name) {
			t.Fatalf("another library reads %s as %s", f.Name, f.Mode())
		}
	}
	return out
}

func TestHostileFiles(t *testing.T) {
	k, err := NewKey()
	if err != nil {
		t.Fatal(err)
	}
	other, err := NewKey()
	if err != nil {
		t.Fatal(err)
	}
	record, paper, photo := recordOf(t, 1), []byte("%PDF-1.3"), small(t)
	usual := []string{recordName, paperName, photoName(0)}
	good := sealed(t, k, Version, usual, record, paper, photo)
	named := func(names ...string) []byte {
		parts := [][]byte{record, paper}
		for range names[2:] {
			parts = append(parts, photo)
		}
		return sealed(t, k, Version, names, parts...)
	}
	// framed are these parts with a signature that is what it should be for a list of others
	framed := func(names []string, parts ...[]byte) []byte {
		at := func(name string) []byte { return partOf(t, good, name) }
		var file bytes.Buffer
		if err := frame(&file, append([]string{signatureName, manifestName}, names...), append([][]byte{at(signatureName), at(manifestName)}, parts...)); err != nil {
			t.Fatal(err)
		}
		return file.Bytes()
	}
	list := partOf(t, good, manifestName)
	swapped, err := canonical(signature{hex.EncodeToString(other.Public()), hex.EncodeToString(ed25519.Sign(k.private, append([]byte(domain), list...)))})
	if err != nil {
		t.Fatal(err)
	}
	undomained, err := canonical(signature{hex.EncodeToString(k.Public()), hex.EncodeToString(ed25519.Sign(k.private, list))})
	if err != nil {
		t.Fatal(err)
	}
	resigned := func(signed []byte) []byte {
		var file bytes.Buffer
		if err := frame(&file, append([]string{signatureName, manifestName}, usual...), [][]byte{signed, list, record, paper, photo}); err != nil {
			t.Fatal(err)
		}
		return file.Bytes()
	}
	zeros := make([]byte, 64<<20)
	later := bytes.Replace(recordOf(t, 1), []byte(`{"form":1`), []byte(`{"form":2`), 1)
	spaced := append([]byte(" "), record...)
	local := func(name string, size uint32) []byte { return member{name: name, size: size}.local() }
	for name, c := range map[string]struct {
		file []byte
		why  Why
		part string
	}{
		"nothing":                     {nil, NotPapers, ""},
		"a text":                      {[]byte(strings.Repeat("no papers at all. ", 10)), NotPapers, ""},
		"a PDF":                       {append([]byte("%PDF-1.3 "), zeros[:400]...), NotPapers, ""},
		"an empty zip":                {zipped(t, zip.Store, 0, nil), NotPapers, ""},
		"any zip":                     {zipped(t, zip.Store, 0, []string{"notes.txt"}, []byte("hello")), Unsigned, "notes.txt"},
		"a zip bomb":                  {zipped(t, zip.Deflate, 0, []string{signatureName}, zeros), Packed, signatureName},
		"a symbolic link":             {linked(t, good, recordName), Frame, ""},
		"a link of a usual zip":       {zipped(t, zip.Store, fs.ModeSymlink|0o777, []string{signatureName}, []byte("/etc/passwd")), Packed, signatureName},
		"an absolute path":            {named(recordName, paperName, "/etc/passwd"), Misnamed, "/etc/passwd"},
		"a path upwards":              {named(recordName, paperName, "../../photos/001.jpg"), Misnamed, "../../photos/001.jpg"},
		"a path of Windows":           {named(recordName, paperName, `C:\photos\001.jpg`), Misnamed, `C:\photos\001.jpg`},
		"a name that steers":          {named(recordName, paperName, "\x1b[2J001.jpg"), Misnamed, "�[2J001.jpg"},
		"a name twice":                {named(recordName, paperName, photoName(0), photoName(0)), Misnamed, photoName(0)},
		"a name twice but for case":   {named(recordName, paperName, photoName(0), "PHOTOS/001.JPG"), Misnamed, "PHOTOS/001.JPG"},
		"a part of its own":           {named(recordName, paperName, "run.exe"), Misnamed, "run.exe"},
		"another order":               {sealed(t, k, Version, []string{paperName, recordName}, paper, record), Misnamed, paperName},
		"a record alone":              {sealed(t, k, Version, []string{recordName}, record), Unreadable, manifestName},
		"a part that is not listed":   {framed(append(usual, photoName(1)), record, paper, photo, photo), Extra, ""},
		"a listed part is missing":    {framed(usual[:2], record, paper), Missing, photoName(0)},
		"a part in place of another":  {framed(usual, record, photo, paper), Changed, paperName},
		"another record":              {framed(usual, recordOf(t, 0), paper, photo), Changed, recordName},
		"no signature":                {zipped(t, zip.Store, 0, []string{manifestName, recordName}, list, record), Unsigned, manifestName},
		"the key swapped":             {resigned(swapped), Forged, signatureName},
		"signed as something else":    {resigned(undomained), Forged, signatureName},
		"a signature of nothing":      {resigned([]byte("{}\n")), Forged, signatureName},
		"a signature too long":        {resigned(zeros[:5000]), TooLarge, signatureName},
		"a newer file":                {sealed(t, k, Version+1, usual, record, paper, photo), Newer, manifestName},
		"a newer record":              {sealed(t, k, Version, usual, later, paper, photo), Newer, recordName},
		"a version of nothing":        {sealed(t, k, 0, usual, record, paper, photo), Unreadable, manifestName},
		"a record that is none":       {sealed(t, k, Version, usual, []byte("[]"), paper, photo), Unreadable, recordName},
		"a record written otherwise":  {sealed(t, k, Version, usual, spaced, paper, photo), Unreadable, recordName},
		"a program for a PDF":         {sealed(t, k, Version, usual, record, []byte("MZ\x90\x00"), photo), Unreadable, paperName},
		"a PDF of nothing":            {sealed(t, k, Version, usual, record, nil, photo), Unreadable, paperName},
		"a PDF that ends early":       {sealed(t, k, Version, usual, record, []byte("%PDF"), photo), Unreadable, paperName},
		"a PDF behind a blank":        {sealed(t, k, Version, usual, record, []byte(" %PDF-1.3"), photo), Unreadable, paperName},
		"fewer photos than told":      {sealed(t, k, Version, usual[:2], record, paper), Unreadable, recordName},
		"60,000 by 60,000 pixels":     {sealed(t, k, Version, usual, record, paper, vast(t)), Vast, photoName(0)},
		"a photo that is none":        {sealed(t, k, Version, usual, record, paper, []byte("GIF89a")), Picture, photoName(0)},
		"a photo of too many bytes":   {sealed(t, k, Version, usual, record, paper, zeros[:MaxPhoto+1]), TooLarge, photoName(0)},
		"more photos than are read":   {sealed(t, k, Version, append([]string{recordName, paperName}, manyNames(MaxPhotos+1)...), append([][]byte{record, paper}, make([][]byte, MaxPhotos+1)...)...), Unreadable, manifestName},
		"a list that promises 4 GB":   {append(local(signatureName, 1<<32-1), zeros[:100]...), TooLarge, signatureName},
		"a part that promises more":   {append(local(signatureName, 400), '{'), Missing, signatureName},
		"a name longer than the file": {append([]byte("PK\x03\x04\x14\x00"), bytes.Repeat([]byte{0}, 24)...), Unsigned, ""},
		"a second zip behind it":      {append(bytes.Clone(good), good...), Extra, ""},
	} {
		_, err := Open(bytes.NewReader(c.file), int64(len(c.file)))
		var why *Fault
		if !errors.As(err, &why) || why.Why != c.why || why.Part != c.part {
			t.Errorf("%s: %v, want %q %s", name, err, c.part, c.why)
		}
	}
	if _, err := Open(bytes.NewReader(nil), MaxFile+1); err == nil {
		t.Error("a file of more than is read was read")
	}
}

func manyNames(n int) (names []string) {
	for i := range n {
		names = append(names, photoName(i))
	}
	return names
}

// partOf is one part as another library reads it.
func partOf(t testing.TB, file []byte, name string) []byte {
	t.Helper()
	z, err := zip.NewReader(bytes.NewReader(file), int64(len(file)))
	if err != nil {
		t.Fatal(err)
	}
	r, err := z.Open(name)
	if err != nil {
		t.Fatal(err)
	}
	defer r.Close()
	b, err := io.ReadAll(r)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// TestAVastPhotoCostsNothing: what it promises is not made room for.
func TestAVastPhotoCostsNothing(t *testing.T) {
	k, err := NewKey()
	if err != nil {
		t.Fatal(err)
	}
	file := sealed(t, k, Version, []string{recordName, paperName, photoName(0)}, recordOf(t, 1), []byte("%PDF-1.3"), vast(t))
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	_, err = Open(bytes.NewReader(file), int64(len(file)))
	runtime.ReadMemStats(&after)
	if used := after.TotalAlloc - before.TotalAlloc; err == nil || used > 16<<20 {
		t.Errorf("%d bytes, %v", used, err)
	}
}

func FuzzOpen(f *testing.F) {
	k, err := NewKey()
	if err != nil {
		f.Fatal(err)
	}
	names := []string{recordName, paperName, photoName(0)}
	f.Add(sealed(f, k, Version, names, recordOf(f, 1), []byte("%PDF-1.3"), small(f)))
	f.Add(sealed(f, k, Version+1, names, recordOf(f, 1), nil, vast(f)))
	f.Add(zipped(f, zip.Deflate, 0, []string{signatureName}, make([]byte, 1000)))
	f.Fuzz(func(t *testing.T, file []byte) {
		p, err := Open(bytes.NewReader(file), int64(len(file)))
		var why *Fault
		if (p == nil) != (err != nil) || err != nil && !errors.As(err, &why) {
			t.Fatalf("read %v, %v", p, err)
		}
		if err == nil {
			for n := range p.Photos() {
				if _, err := p.Photo(n); err != nil {
					t.Fatal(err)
				}
			}
		}
	})
}

func FuzzRecord(f *testing.F) {
	f.Add(recordOf(f, 0))
	f.Add([]byte(`{"form":1,"animal":{"id":"01000000-0000-0000-0000-000000000000","name":"x"}}`))
	f.Fuzz(func(t *testing.T, raw []byte) {
		r, err := handover.Read(raw)
		if err != nil {
			return
		}
		if again, err := r.Bytes(); err != nil || !bytes.Equal(again, raw) {
			t.Fatalf("%q was read, and is %q, %v", raw, again, err)
		}
	})
}

func TestFingerprint(t *testing.T) {
	// SHA-256 of "coilward key\n" and 32 zero bytes, by sha256sum
	if got := Public(make([]byte, 32)).Fingerprint(); got != zeroPrint {
		t.Errorf("it is %s", got)
	}
	if got := Public(make([]byte, 32)).Code(); got != "COILWARD-KEY:"+strings.ReplaceAll(zeroPrint, " ", "") {
		t.Errorf("the code is %s", got)
	}
}

// big is a file of about 200 MB on the disk.
func big(b *testing.B) string {
	b.Helper()
	k, err := NewKey()
	if err != nil {
		b.Fatal(err)
	}
	names, parts := []string{recordName, paperName}, [][]byte{recordOf(b, 20), append([]byte("%PDF-1.3"), make([]byte, 1<<20)...)}
	for i := range 20 {
		names, parts = append(names, photoName(i)), append(parts, append(small(b), make([]byte, 10<<20)...))
	}
	path := filepath.Join(b.TempDir(), "big"+Extension)
	if err := os.WriteFile(path, sealed(b, k, Version, names, parts...), 0o600); err != nil {
		b.Fatal(err)
	}
	return path
}

// BenchmarkOpen opens and verifies 200 MB; its peer reads the same file and takes one
// checksum of it.
func BenchmarkOpen(b *testing.B) {
	path := big(b)
	b.Run("papers", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			file, err := os.Open(path)
			if err != nil {
				b.Fatal(err)
			}
			info, err := file.Stat()
			if err != nil {
				b.Fatal(err)
			}
			if _, err := Open(file, info.Size()); err != nil {
				b.Fatal(err)
			}
			b.SetBytes(info.Size())
			if err := file.Close(); err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("peer", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			file, err := os.Open(path)
			if err != nil {
				b.Fatal(err)
			}
			sum := crc32.NewIEEE()
			n, err := io.Copy(sum, file)
			if err != nil {
				b.Fatal(err)
			}
			b.SetBytes(n)
			if err := file.Close(); err != nil {
				b.Fatal(err)
			}
		}
	})
}

// zeroPrint is the fingerprint of a key of zeros.
const zeroPrint = "31FF D5B5 A67A EC22 A668"
