package animal_test

import (
	"errors"
	"testing"

	"coilward/model/collection"
	"coilward/model/storetest"
	"coilward/ui/animal"
	"coilward/ui/look"
	"coilward/ui/place"
	"coilward/ui/uitest"
)

// unreadable is a store of which nothing can be read while it has an error.
type unreadable struct {
	collection.Store
	err error
}

func (u *unreadable) View(read func(collection.Reader) error) error {
	if u.err != nil {
		return u.err
	}
	return u.Store.View(read)
}

// failing is a window whose collection can be lost.
type failing struct {
	place.Window
	lost *collection.Collection // nil: it is there
}

func (f *failing) Collection() *collection.Collection {
	if f.lost != nil {
		return f.lost
	}
	return f.Window.Collection()
}

// A weight that cannot be read is no weight that is not noted: that is said, and no volume is
// worked out, until the one of now is typed.
func TestVet_AWeightThatCannotBeReadIsSaid(t *testing.T) {
	window := &failing{}
	h := &hand{}
	h.Opened = uitest.Open(t, uitest.Setting{Look: uitest.Look{Shine: look.ByDay, Width: small.Width, Height: small.Height, Scale: 1}, Language: "en", Fill: withVet(t),
		Place: place.Animal, Make: func(w place.Window) place.Place { window.Window = w; h.page = animal.New(window); return h.page }})
	h.show("Wren", "vet")
	h.prescribe("2", "24 h")
	uitest.Tap(t, h.Content(), "Given")
	if h.Shows("could not be read") {
		t.Fatalf("said of a weight that is there: %q", uitest.Texts(h.Content()))
	}
	store := &unreadable{Store: storetest.Memory()}
	lost, err := collection.New(store, collection.Options{Now: h.Clock.Now})
	if err != nil {
		t.Fatal(err)
	}
	store.err, window.lost = errors.New("the disk is gone"), lost
	h.entry(1, "00:01")
	if !h.Shows("last weight could not be read") || h.Shows("No weight is noted") {
		t.Errorf("not said: %q", uitest.Texts(h.Content()))
	}
	h.entry(2, "150 g")
	if h.Shows("last weight could not be read") || !h.Shows("0.6") {
		t.Errorf("the weight of now is not gone by: %q", uitest.Texts(h.Content()))
	}
}
