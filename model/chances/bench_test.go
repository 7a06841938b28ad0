package chances_test

import (
	"fmt"
	"testing"

	"coilward/model"
	"coilward/model/chances"
	"coilward/model/samples"
)

// BenchmarkBook tells of all things in all of 40 animals that were sampled four times: at rest;
// after a change of something else; and, its peer, worked out anew.
func BenchmarkBook(b *testing.B) {
	w := begin(b)
	all := []model.AnimalID{w.ash, w.birch, w.elm, w.fir}
	for n := range 36 {
		all = append(all, w.animal(fmt.Sprint("Animal ", n), 400, w.boxes[n%len(w.boxes)]))
	}
	for _, a := range all {
		for n := range 4 {
			w.sample("oral-swab", 300-60*n, virus, samples.NotDetected, a)
		}
	}
	told := func(r *chances.Reader) error {
		for _, a := range all {
			r.All(a)
		}
		return nil
	}
	view := func(b *testing.B, read func(v model.View) error) {
		if err := w.View(read); err != nil {
			b.Fatal(err)
		}
	}
	book := chances.NewBook(w.tables)
	view(b, func(v model.View) error { return book.Ask(v, told) })
	b.Run("at rest", func(b *testing.B) {
		for b.Loop() {
			view(b, func(v model.View) error { return book.Ask(v, told) })
		}
	})
	b.Run("one was sampled", func(b *testing.B) {
		for b.Loop() {
			w.sample("oral-swab", 20, virus, samples.Pending, w.ash)
			view(b, func(v model.View) error { return book.Ask(v, told) })
		}
	})
	b.Run("anew", func(b *testing.B) {
		for b.Loop() {
			view(b, func(v model.View) error {
				r, err := chances.NewReader(v, w.tables)
				if err != nil {
					return err
				}
				return told(r)
			})
		}
	})
}
