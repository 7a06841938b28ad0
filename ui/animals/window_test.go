package animals_test

import (
	"testing"

	"fyne.io/fyne/v2"

	"coilward/model/collection"
	"coilward/ui/animals"
	"coilward/ui/look"
	"coilward/ui/place"
	"coilward/ui/uitest"
)

// open is a window with all animals in it, on a collection that fill has filled;
// nil: the sample.
func open(t testing.TB, language string, size fyne.Size, shine look.Shine, fill func(*collection.Collection)) *hand {
	t.Helper()
	return &hand{uitest.Open(t, uitest.Setting{Look: uitest.Look{Shine: shine, Width: size.Width, Height: size.Height, Scale: 1}, Language: language, Fill: fill,
		Place: place.Animals, Make: func(w place.Window) place.Place { return animals.New(w) }})}
}

// hand is that window.
type hand struct{ *uitest.Opened }
