package shell_test

import (
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"coilward/ui/animal"
	"coilward/ui/animals"
	"coilward/ui/check"
	"coilward/ui/due"
	"coilward/ui/feeders"
	"coilward/ui/instruments"
	"coilward/ui/look"
	"coilward/ui/movein"
	"coilward/ui/newcomers"
	"coilward/ui/papers"
	"coilward/ui/people"
	"coilward/ui/photos"
	"coilward/ui/place"
	"coilward/ui/positive"
	"coilward/ui/settings"
	"coilward/ui/shelf"
	"coilward/ui/tray"
	"coilward/ui/uitest"
)

// places are all that the window can show, over the sample.
func places(t *testing.T, language string, width, height float32) *uitest.Opened {
	t.Helper()
	return uitest.Open(t, uitest.Setting{Look: uitest.Look{Shine: look.ByDay, Width: width, Height: height, Scale: 1}, Language: language,
		Beside: map[place.Name]func(place.Window) place.Place{
			place.Shelf:       func(w place.Window) place.Place { return shelf.New(w) },
			place.Due:         func(w place.Window) place.Place { return due.New(w) },
			place.Animals:     func(w place.Window) place.Place { return animals.New(w) },
			place.Animal:      func(w place.Window) place.Place { return animal.New(w) },
			place.Tray:        func(w place.Window) place.Place { return tray.New(w) },
			place.Check:       func(w place.Window) place.Place { return check.New(w) },
			place.Newcomers:   func(w place.Window) place.Place { return newcomers.New(w) },
			place.Positive:    func(w place.Window) place.Place { return positive.New(w) },
			place.Papers:      func(w place.Window) place.Place { return papers.New(w, "1.0.0") },
			place.People:      func(w place.Window) place.Place { return people.New(w) },
			place.Photos:      func(w place.Window) place.Place { return photos.New(w) },
			place.Instruments: func(w place.Window) place.Place { return instruments.New(w) },
			place.Feeders:     func(w place.Window) place.Place { return feeders.New(w) },
			place.MoveIn:      func(w place.Window) place.Place { return movein.New(w) },
			place.Settings:    func(w place.Window) place.Place { return settings.New(w) },
		}})
}

// ways are the routes to every place, and to those about an animal with one.
func ways(w *uitest.Opened) (ways []place.Route) {
	for _, name := range []place.Name{place.Shelf, place.Due, place.Animals, place.Tray, place.Newcomers, place.Positive, place.Papers, place.People, place.Photos, place.Instruments, place.Feeders, place.MoveIn, place.Settings} {
		ways = append(ways, place.Route{To: name})
	}
	for _, name := range []place.Name{place.Animal, place.Check, place.Papers, place.Photos, place.Tray} {
		ways = append(ways, place.Route{To: name, Subject: w.Animal("Juniper").ID.ID})
	}
	for _, page := range []string{"weights", "body", "days"} {
		ways = append(ways, place.Route{To: place.Animal, Subject: w.Animal("Juniper").ID.ID, Page: page})
	}
	return ways
}

// scroller is what the page of the window scrolls in.
func scroller(t *testing.T, w *uitest.Opened) (found *container.Scroll) {
	t.Helper()
	uitest.Walk(w.Content(), func(s uitest.Seen) bool {
		if c, is := s.Object.(*container.Scroll); is && c.Direction == container.ScrollBoth {
			found = c
		}
		return found == nil
	})
	if found == nil {
		t.Fatal("the page scrolls in nothing")
	}
	found.Refresh() // the real window lays it out anew at the next frame
	return found
}

// No place asks for more than the smallest window; on a usual one nothing scrolls.
func TestSmallWindow(t *testing.T) {
	for _, language := range []string{"en", "de"} {
		small, usual := places(t, language, 640, 400), places(t, language, 1280, 800)
		for i, way := range ways(small) {
			small.Go(way)
			if m := small.Content().MinSize(); m.Width > 640 || m.Height > 400 {
				t.Errorf("%s, %s %s: the window needs %v × %v", language, way.To, way.Page, m.Width, m.Height)
			}
			usual.Go(ways(usual)[i])
			if s := scroller(t, usual); s.Content.Size() != s.Size() {
				t.Errorf("%s, %s %s: a page of %v scrolls in %v", language, way.To, way.Page, s.Content.Size(), s.Size())
			}
		}
	}
}

// What the keys come to is scrolled into sight, and another place begins at its corner.
func TestKeysScroll(t *testing.T) {
	w := places(t, "en", 640, 400)
	w.Go(place.Route{To: place.Due})
	s, seen := scroller(t, w), false
	for range 60 {
		w.Canvas().(interface{ FocusNext() }).FocusNext()
		o, is := w.Canvas().Focused().(fyne.CanvasObject)
		if !is {
			continue
		}
		drivers := fyne.CurrentApp().Driver()
		at, room := drivers.AbsolutePositionForObject(o), drivers.AbsolutePositionForObject(s)
		if at.X < room.X {
			continue // in the rail
		}
		if middle := at.X + o.Size().Width/2; middle > 640 {
			t.Errorf("the keys are at %v, out of sight: %q", at, uitest.Texts(o))
		}
		seen = seen || s.Offset.X > 0
	}
	if !seen {
		t.Error("nothing was scrolled")
	}
	w.Go(place.Route{To: place.Settings})
	if s.Offset != (fyne.Position{}) {
		t.Errorf("another place begins at %v", s.Offset)
	}
}
