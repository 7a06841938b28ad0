package shell_test

import (
	"testing"

	"fyne.io/fyne/v2"

	"coilward/ui/shell"
	"coilward/ui/uitest"
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
