package shell_test

import (
	"testing"

	"fyne.io/fyne/v2"

	"coilward/model"
	"coilward/ui/place"
	"coilward/ui/settings"
	"coilward/ui/shell"
	"coilward/ui/uitest"
	"coilward/ui/widgets"
)

// Every act of the menus has keys of its own.
func TestMenus_EveryActHasItsOwnKeys(t *testing.T) {
	b := open(t, uitest.Looks()[0], "en", func(o *shell.Options) { o.Places[0].Shortcut = fyne.KeyComma })
	b.OpenCollection("/collections/Old Mill")
	by := map[string]string{}
	var look func(m *fyne.Menu)
	look = func(m *fyne.Menu) {
		for _, item := range m.Items {
			switch {
			case item.IsSeparator:
			case item.ChildMenu != nil:
				look(item.ChildMenu)
			case item.Shortcut == nil:
				t.Errorf("%q has no keys", item.Label)
			case by[item.Shortcut.ShortcutName()] != "":
				t.Errorf("%q and %q have the same keys", item.Label, by[item.Shortcut.ShortcutName()])
			default:
				by[item.Shortcut.ShortcutName()] = item.Label
			}
		}
	}
	for _, m := range b.Window().MainMenu().Items {
		look(m)
	}
}

// The rail shows the place of its own that a page belongs to, whatever was in sight
// before; where a page belongs to none, it shows none.
func TestTheRailShowsWhereAPageBelongs(t *testing.T) {
	made := func(w place.Window) place.Place { return settings.New(w) }
	b := open(t, uitest.Looks()[0], "en", func(o *shell.Options) {
		o.Places = []shell.Room{
			{Name: place.Shelf, Icon: "shelf", Key: "window.place.shelf", Rail: true, Make: made},
			{Name: place.Animals, Icon: "animals", Key: "window.place.animals", Rail: true, Make: made},
			{Name: place.Photos, Icon: "camera", Key: "window.place.photos", Rail: true, In: place.Animals, Make: made},
			{Name: place.MoveIn, In: place.Animals, Make: made},
			{Name: place.Check, Make: made},
		}
	})
	b.OpenCollection("/collections/Old Mill")
	for _, c := range []struct {
		to   place.Route
		want string
	}{
		{place.Route{To: place.Shelf}, "Shelf"},
		{place.Route{To: place.MoveIn}, "Animals"},
		{place.Route{To: place.Photos}, "Photos"},
		{place.Route{To: place.Photos, Subject: model.ID{1}}, "Animals"},
		{place.Route{To: place.Check}, ""},
		{place.Route{To: place.Shelf}, "Shelf"},
	} {
		b.Go(c.to)
		on := ""
		uitest.Walk(b.Window().Canvas().Content(), func(s uitest.Seen) bool {
			if p, ok := s.Object.(*widgets.Press); ok && p.State().On && (p.Name() == "Shelf" || p.Name() == "Animals" || p.Name() == "Photos") {
				on += p.Name()
			}
			return true
		})
		if on != c.want {
			t.Errorf("at %+v the rail shows %q, want %q", c.to, on, c.want)
		}
	}
}

// While a question stands over the page, the keys of the menus do nothing under it.
func TestMenus_DoNothingUnderASheet(t *testing.T) {
	made := func(w place.Window) place.Place { return settings.New(w) }
	b := open(t, uitest.Looks()[0], "en", func(o *shell.Options) {
		o.Places = []shell.Room{{Name: place.Shelf, Icon: "shelf", Key: "window.place.shelf", Rail: true, Shortcut: fyne.Key1, Make: made},
			{Name: place.Animals, Icon: "animals", Key: "window.place.animals", Rail: true, Shortcut: fyne.Key3, Make: made}}
	})
	b.OpenCollection("/collections/Old Mill")
	b.Go(place.Route{To: place.Shelf})
	at := func() (on string) {
		uitest.Walk(b.Window().Canvas().Content(), func(s uitest.Seen) bool {
			if p, ok := s.Object.(*widgets.Press); ok && p.State().On && (p.Name() == "Shelf" || p.Name() == "Animals") {
				on = p.Name()
			}
			return true
		})
		return on
	}
	act := func(label string) {
		t.Helper()
		for _, m := range b.Window().MainMenu().Items {
			for _, item := range m.Items {
				if item.Label == label {
					item.Action()
					return
				}
			}
		}
		t.Fatalf("no act %q in the menus", label)
	}
	leave := b.ShowSheet(widgets.Sheet{Title: "Is it so?", Content: widgets.Space(0, 0), Cancel: "No"})
	for _, label := range []string{"Animals", "Back"} {
		if act(label); at() != "Shelf" {
			t.Errorf("under a question %s leads to %s", label, at())
		}
	}
	leave()
	if act("Animals"); at() != "Animals" {
		t.Errorf("without a question Animals leads to %q", at())
	}
	if act("Back"); at() != "Shelf" {
		t.Errorf("without a question Back leads to %q", at())
	}
}
