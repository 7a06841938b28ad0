package main

import (
	"fyne.io/fyne/v2"

	"coilward/assets"
	"coilward/ui/animal"
	"coilward/ui/animals"
	"coilward/ui/check"
	"coilward/ui/climate"
	"coilward/ui/due"
	"coilward/ui/feeders"
	"coilward/ui/first"
	"coilward/ui/handover"
	"coilward/ui/instruments"
	"coilward/ui/movein"
	"coilward/ui/newcomers"
	"coilward/ui/papers"
	"coilward/ui/people"
	"coilward/ui/photos"
	"coilward/ui/place"
	"coilward/ui/plan"
	"coilward/ui/positive"
	"coilward/ui/powercut"
	"coilward/ui/settings"
	"coilward/ui/shelf"
	"coilward/ui/shell"
	"coilward/ui/tray"
	"coilward/ui/written"
)

// rooms are the places of the window; the first is its home. Their keys go along the rail.
func rooms() []shell.Room {
	return []shell.Room{
		{Name: place.Shelf, Icon: "shelf", Key: "window.place.shelf", Rail: true, Shortcut: fyne.Key1,
			Make: func(w place.Window) place.Place { return shelf.New(w) }},
		{Name: place.Due, Icon: "calendar", Key: "window.place.due", Rail: true, Shortcut: fyne.Key2,
			Make: func(w place.Window) place.Place { return due.New(w) }},
		{Name: place.Animals, Icon: "animals", Key: "window.place.animals", Rail: true, Shortcut: fyne.Key3,
			Make: func(w place.Window) place.Place { return animals.New(w) }},
		{Name: place.Animal, In: place.Animals, Make: func(w place.Window) place.Place { return animal.New(w) }},
		{Name: place.Tray, Icon: "tube", Key: "window.place.tray", Rail: true, Shortcut: fyne.Key4,
			Make: func(w place.Window) place.Place { return tray.New(w) }},
		{Name: place.Written, In: place.Animals, Make: func(w place.Window) place.Place { return written.New(w) }},
		{Name: place.Check, In: place.Animals, Make: func(w place.Window) place.Place { return check.New(w) }},
		{Name: place.Newcomers, Icon: "newcomer", Key: "window.place.newcomers", Rail: true, Shortcut: fyne.Key5,
			Make: func(w place.Window) place.Place { return newcomers.New(w) }},
		{Name: place.Positive, In: place.Tray, Make: func(w place.Window) place.Place { return positive.New(w) }},
		{Name: place.Papers, Icon: "papers", Key: "window.place.papers", Rail: true, About: true, Shortcut: fyne.Key6,
			Make: func(w place.Window) place.Place { return papers.New(w, assets.Version).SignWith(keyPath()) }},
		{Name: place.People, Icon: "person", Key: "window.place.people", Rail: true, Shortcut: fyne.Key7,
			Make: func(w place.Window) place.Place { return people.New(w) }},
		{Name: place.Photos, Icon: "camera", Key: "window.place.photos", Rail: true, In: place.Animals, Shortcut: fyne.Key8,
			Make: func(w place.Window) place.Place { return photos.New(w) }},
		{Name: place.Instruments, Icon: "gauge", Key: "instruments.page.title", In: place.Shelf, Shortcut: fyne.Key9,
			Make: func(w place.Window) place.Place { return instruments.New(w) }},
		{Name: place.Feeders, Icon: "feed", Key: "feeders.title", In: place.Shelf,
			Make: func(w place.Window) place.Place { return feeders.New(w) }},
		{Name: place.Climate, Icon: "gauge", Key: "climate.title", In: place.Shelf,
			Make: func(w place.Window) place.Place { return climate.New(w) }},
		{Name: place.PowerCut, Icon: "caution", Key: "power-cut.title", In: place.Shelf,
			Make: func(w place.Window) place.Place { return powercut.New(w) }},
		{Name: place.Plan, Icon: "tube", Key: "plan.title", In: place.Tray,
			Make: func(w place.Window) place.Place { return plan.New(w) }},
		{Name: place.MoveIn, In: place.Animals, Make: func(w place.Window) place.Place { return movein.New(w) }},
		{Name: place.HerPapers, In: place.Newcomers, Make: func(w place.Window) place.Place { return handover.New(w) }},
		{Name: place.Settings, Icon: "settings", Key: "window.settings", Foot: true, Shortcut: fyne.KeyComma,
			Make: func(w place.Window) place.Place { return settings.New(w).SignWith(keyPath()) }},
	}
}

func firstPage(w place.Window, b shell.Beginning) fyne.CanvasObject {
	return first.Page(w, first.Choices{Suggested: b.Suggested, Empty: b.Empty, Bring: b.Bring, Sample: b.Sample, Papers: b.Papers})
}
