package shell

import (
	"runtime"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"

	"coilward/model/wording"
	"coilward/ui/jotting"
	"coilward/ui/look"
	"coilward/ui/place"
)

// keyName is how a key with Ctrl (Cmd on a Mac) is written.
func keyName(key string) string {
	if runtime.GOOS == "darwin" {
		return "Cmd+" + key
	}
	return "Ctrl+" + key
}

// menus builds the menus for what is in sight.
func (s *Shell) menus() {
	s.window.SetMainMenu(fyne.NewMainMenu(s.fileMenu(), s.editMenu(), s.entryMenu(), s.viewMenu(), s.helpMenu()))
}

// onPage is an act on the page in sight: nothing is done while a sheet lies over it,
// for the keys of the menus are heard all the same.
func (s *Shell) onPage(do func()) func() {
	return func() {
		if !s.sheets.Open() {
			do()
		}
	}
}

func (s *Shell) item(key string, k fyne.KeyName, do func()) *fyne.MenuItem {
	item := fyne.NewMenuItem(s.text.Say(key), s.onPage(do))
	if k != "" {
		item.Shortcut = shortcut(k)
	}
	return item
}

// shifted is an item whose key goes with Shift besides: no field that is typed in
// has a use for it.
func (s *Shell) shifted(key string, k fyne.KeyName, do func()) *fyne.MenuItem {
	item := s.item(key, "", do)
	item.Shortcut = &desktop.CustomShortcut{KeyName: k, Modifier: fyne.KeyModifierShortcutDefault | fyne.KeyModifierShift}
	return item
}

func (s *Shell) fileMenu() *fyne.Menu {
	quit := s.item("window.menu.quit", fyne.KeyQ, s.Close)
	quit.IsQuit, quit.Action = true, s.Close // whatever lies over the page
	items := []*fyne.MenuItem{s.item("window.menu.open", fyne.KeyO, s.ChooseCollection)}
	if s.o.Sample != nil {
		items = append(items, s.shifted("window.menu.sample", fyne.KeyO, s.OpenSample))
	}
	bring := s.item("movein.menu", fyne.KeyI, func() { s.Go(place.Route{To: place.MoveIn}) })
	bring.Disabled = s.session == nil
	out := s.shifted("tables.out.menu", fyne.KeyE, func() { s.Go(place.Route{To: place.MoveIn, Page: place.TablesOut}) })
	out.Disabled = s.session == nil
	if s.o.Papers != nil {
		papers := s.item("handover.open", "", s.choosePapers)
		items = append(items, papers)
	}
	items = append(items, bring, out, s.shifted("window.menu.backup", fyne.KeyB, func() { s.BackUp(nil) }), fyne.NewMenuItemSeparator(), quit)
	return fyne.NewMenu(s.text.Say("window.menu.file"), items...)
}

func (s *Shell) editMenu() *fyne.Menu {
	undo, redo := s.item("window.undo", "", s.Undo), s.item("window.redo", "", s.Redo)
	undo.Action, redo.Action = s.typed(&fyne.ShortcutUndo{}, undo.Action), s.typed(&fyne.ShortcutRedo{}, redo.Action) // a sheet has fields
	// Fyne turns these keys into shortcuts of its own before it looks into the menus
	undo.Shortcut, redo.Shortcut = &fyne.ShortcutUndo{}, &fyne.ShortcutRedo{}
	undo.Disabled, redo.Disabled = true, true
	if !s.ReadOnly() {
		if label, ok := s.undoable(); ok {
			undo.Disabled, undo.Label = false, s.text.Say("window.undo.what", wording.Gaps{"What": s.text.Label(label)})
		}
		if label, ok := s.session.Collection.CanRedo(); ok {
			redo.Disabled, redo.Label = false, s.text.Say("window.redo.what", wording.Gaps{"What": s.text.Label(label)})
		}
	}
	return fyne.NewMenu(s.text.Say("window.menu.edit"), undo, redo)
}

// typed gives a key to the field that is being typed in, which has an undo of its
// own, and does the act where none is, or where what was typed in a line was just
// noted: a menu's key comes before the field.
func (s *Shell) typed(key fyne.Shortcut, act func()) func() {
	return func() {
		focused := s.window.Canvas().Focused()
		jotter, ok := s.inSight().(place.Jotter)
		noted := ok && jotter.Noted(focused)
		if field, is := focused.(fyne.Shortcutable); is && !noted {
			field.TypedShortcut(key)
			return
		}
		act()
	}
}

// entryMenu notes something: in a line wherever one is, and by the acts of the place
// in sight.
func (s *Shell) entryMenu() *fyne.Menu {
	jot := s.item("jot.menu", fyne.KeyJ, s.jot)
	jot.Disabled = s.ReadOnly()
	return fyne.NewMenu(s.text.Say("window.menu.entry"), append([]*fyne.MenuItem{jot}, s.contributed(place.MenuEntry)...)...)
}

// jot gives the keys to the line of the place in sight, or lays one over it.
func (s *Shell) jot() {
	if s.ReadOnly() {
		return
	}
	if own, ok := s.inSight().(place.Jotter); ok && own.Jot() {
		return
	}
	jotting.Open(s, s.jotted, func(text string) { s.jotted = text })
}

func (s *Shell) viewMenu() *fyne.Menu {
	var items []*fyne.MenuItem
	for _, r := range s.o.Places {
		if r.Rail || r.Foot || r.Shortcut != "" {
			item := s.item(r.Key, r.Shortcut, func() { s.Go(s.through(r)) })
			item.Disabled = s.session == nil
			items = append(items, item)
		}
	}
	back := fyne.NewMenuItem(s.text.Say("window.back"), s.onPage(s.Back))
	back.Shortcut = &desktop.CustomShortcut{KeyName: fyne.KeyLeft, Modifier: fyne.KeyModifierAlt}
	back.Disabled = len(s.back) == 0
	items = append(items, fyne.NewMenuItemSeparator(), back)
	if own := s.contributed(place.MenuView); len(own) > 0 {
		items = append(append(items, fyne.NewMenuItemSeparator()), own...)
	}
	items = append(items, fyne.NewMenuItemSeparator(), s.shineMenu())
	return fyne.NewMenu(s.text.Say("window.menu.view"), items...)
}

// shineMenu chooses between light and dark.
func (s *Shell) shineMenu() *fyne.MenuItem {
	choice := func(key string, k fyne.KeyName, shine look.Shine) *fyne.MenuItem {
		item := s.shifted(key, k, func() { s.Change(func(p *place.Preferences) { p.Shine = shine }) })
		item.Checked = s.prefs.Shine == shine
		return item
	}
	item := fyne.NewMenuItem(s.text.Say("window.shine"), nil)
	item.ChildMenu = fyne.NewMenu("", choice("window.shine.system", fyne.KeyY, look.System),
		choice("window.shine.light", fyne.KeyL, look.ByDay), choice("window.shine.dark", fyne.KeyD, look.ByNight))
	return item
}

func (s *Shell) helpMenu() *fyne.Menu {
	return fyne.NewMenu(s.text.Say("window.menu.help"), s.shifted("window.menu.about", fyne.KeyI, s.about))
}

// contributed are the acts of the place in sight.
func (s *Shell) contributed(m place.Menu) []*fyne.MenuItem {
	actor, ok := s.inSight().(place.Actor)
	if !ok {
		return nil
	}
	var items []*fyne.MenuItem
	for _, a := range actor.Actions() {
		if a.Menu != m {
			continue
		}
		item := fyne.NewMenuItem(a.Label, s.onPage(a.Do))
		item.Disabled = a.Off
		if a.Key != "" {
			item.Shortcut = actionShortcut(a)
		}
		items = append(items, item)
	}
	return items
}

func actionShortcut(a place.Action) fyne.Shortcut {
	if a.Modifier == 0 {
		return shortcut(a.Key)
	}
	return &desktop.CustomShortcut{KeyName: a.Key, Modifier: a.Modifier}
}
