package animal_test

import (
	"testing"

	"fyne.io/fyne/v2"

	"coilward/model/collection"
	"coilward/ui/animal"
	"coilward/ui/look"
	"coilward/ui/place"
	"coilward/ui/uitest"
)

// hand is the window with one animal's page in it.
type hand struct {
	*uitest.Opened
	page *animal.Page
}

// open is a window on a collection that fill has filled; nil: the sample.
func open(t testing.TB, language string, size fyne.Size, shine look.Shine, fill func(*collection.Collection)) *hand {
	t.Helper()
	h := &hand{}
	h.Opened = uitest.Open(t, uitest.Setting{Look: uitest.Look{Shine: shine, Width: size.Width, Height: size.Height, Scale: 1}, Language: language, Fill: fill,
		Place: place.Animal, Make: func(w place.Window) place.Place { h.page = animal.New(w); return h.page }})
	return h
}

// show goes to the animal of that name.
func (h *hand) show(name, page string) {
	h.T.Helper()
	to := place.Route{To: place.Animal, Subject: h.Animal(name).ID.ID}
	h.Go(to) // an entry that is asked for there leads back there
	if to.Page = page; page != "" {
		h.Go(to)
	}
}
