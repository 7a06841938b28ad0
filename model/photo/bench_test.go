package photo_test

import (
	"bytes"
	"image"
	"image/jpeg"
	"math/rand/v2"
	"os"
	"path/filepath"
	"testing"

	"coilward/model/photo"
)

// large is a JPEG of 40 million pixels, as a phone's largest mode takes it.
func large(b *testing.B) []byte {
	b.Helper()
	p := image.NewYCbCr(image.Rect(0, 0, 7296, 5472), image.YCbCrSubsampleRatio420)
	noise := rand.New(rand.NewPCG(1, 2))
	for i := range p.Y {
		p.Y[i] = uint8(i>>13) + uint8(noise.IntN(12))
	}
	for i := range p.Cb {
		p.Cb[i], p.Cr[i] = uint8(i>>10), uint8(i>>12)
	}
	var raw bytes.Buffer
	if err := jpeg.Encode(&raw, p, &jpeg.Options{Quality: 90}); err != nil {
		b.Fatal(err)
	}
	b.ReportMetric(float64(raw.Len())/1e6, "MB")
	return raw.Bytes()
}

// The pictures of both sizes of a photo of 40 million pixels, from its bytes.
func BenchmarkKeep40MP(b *testing.B) {
	raw := large(b)
	for b.Loop() {
		b.StopTimer()
		folder, err := photo.Open(b.TempDir())
		if err != nil {
			b.Fatal(err)
		}
		b.StartTimer()
		if _, err := folder.Keep("a.jpg", bytes.NewReader(raw)); err != nil {
			b.Fatal(err)
		}
	}
}

// The peer: the standard library alone, which only decodes it.
func BenchmarkDecode40MPPeer(b *testing.B) {
	raw := large(b)
	for b.Loop() {
		if _, err := jpeg.Decode(bytes.NewReader(raw)); err != nil {
			b.Fatal(err)
		}
	}
}

// A small HEIC: what a reader of HEIC costs at the least.
func BenchmarkKeepHEIC(b *testing.B) {
	raw, err := os.ReadFile(filepath.Join("testdata", "phone.heic"))
	if path := os.Getenv("COILWARD_HEIC"); err == nil && path != "" {
		raw, err = os.ReadFile(path) // another one, to be measured
	}
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		b.StopTimer()
		folder, err := photo.Open(b.TempDir())
		if err != nil {
			b.Fatal(err)
		}
		b.StartTimer()
		if _, err := folder.Keep("a.heic", bytes.NewReader(raw)); err != nil {
			b.Fatal(err)
		}
	}
}
