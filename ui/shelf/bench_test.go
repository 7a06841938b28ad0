package shelf_test

import (
	"testing"
	"time"

	"fyne.io/fyne/v2"

	"coilward/model/collection"
	"coilward/ui/uitest"
)

// One key of a walk through 500 animals, from the key to the next box in the
// lamp: the entry is written, what it touched is read again, the picture is set
// anew. The collection lies in memory.
func BenchmarkFeedKey500(b *testing.B) {
	h := open(b, uitest.Looks()[0], "en", func(c *collection.Collection) {
		room(b, c, "Loft", 25, 20, many(500)...)
	})
	h.press("1\n\n")
	b.ResetTimer()
	n := 0
	for b.Loop() {
		if n++; n%490 == 0 {
			b.StopTimer()
			h.Clock.Pass(time.Minute)
			h.press("----")
			b.StartTimer()
		}
		uitest.Type(h.Canvas(), "1")
	}
}

// One key of a round through 500 boxes, with its way along the boards.
func BenchmarkRoundKey500(b *testing.B) {
	h := open(b, uitest.Looks()[0], "en", func(c *collection.Collection) {
		room(b, c, "Loft", 25, 20, many(500)...)
	})
	h.press("7\n")
	b.ResetTimer()
	for b.Loop() {
		uitest.Key(h.Canvas(), fyne.KeyReturn)
	}
}

// The same of 2,000 boxes.
func BenchmarkFeedKey2000(b *testing.B) {
	h := open(b, uitest.Looks()[0], "en", func(c *collection.Collection) {
		room(b, c, "Loft", 40, 50, many(2000)...)
	})
	h.press("1\n\n")
	b.ResetTimer()
	for b.Loop() {
		uitest.Type(h.Canvas(), "1")
	}
}
