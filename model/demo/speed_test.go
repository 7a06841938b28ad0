package demo

import (
	"image"
	"testing"
	"time"

	"coilward/assets"
	"coilward/model"
	"coilward/model/collection"
	"coilward/model/knowledge"
	"coilward/model/memory"
	"coilward/model/photo"
	"coilward/model/wording"
)

// All photos of the sample collection drawn, kept with their pictures and noted, as
// the window has it done.
func BenchmarkPhotograph(b *testing.B) {
	tables, err := knowledge.Load(assets.Knowledge())
	if err != nil {
		b.Fatal(err)
	}
	languages, err := wording.Load(assets.Text())
	if err != nil {
		b.Fatal(err)
	}
	told := languages.In("en", wording.Units{})
	now := time.Date(2027, 3, 3, 9, 0, 0, 0, time.UTC)
	photos := 0
	for b.Loop() {
		b.StopTimer()
		c, err := collection.New(memory.Open(), collection.Options{Now: func() time.Time { return now }})
		if err != nil {
			b.Fatal(err)
		}
		if err := Fill(c, tables, told); err != nil {
			b.Fatal(err)
		}
		folder, err := photo.OpenPassing(b.TempDir())
		if err != nil {
			b.Fatal(err)
		}
		photos = 0
		b.StartTimer()
		err = Photograph(b.Context(), c, told, func(picture *image.YCbCr) (model.PhotoID, error) {
			photos++
			kept, err := folder.KeepDrawn(picture)
			return kept.ID, err
		}, func(float64) {})
		if err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(float64(photos), "photos")
}
