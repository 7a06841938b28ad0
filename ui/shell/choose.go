package shell

import (
	"context"
	"os"
	"path/filepath"
	"strings"

	"coilward/model/wording"
	"coilward/ui/look"
	"coilward/ui/place"
	"coilward/ui/widgets"
)

// ChooseCollection implements place.Window.
func (s *Shell) ChooseCollection() { s.ChooseFolder(s.openOrBegin) }

// openOrBegin opens the collection in a folder; where there is none it asks
// whether one is to be begun, and where.
func (s *Shell) openOrBegin(folder string) {
	if s.o.Holds == nil || s.o.Holds(folder) {
		s.OpenCollection(folder)
		return
	}
	text := s.text
	where := widgets.NewField(s.own(folder), widgets.FieldOptions{Label: text.Say("window.first.folder")})
	var leave func()
	begin := func() {
		typed := strings.TrimSpace(where.Text())
		if typed == "" {
			where.Refuse(text.Say("window.first.nofolder"))
			return
		}
		leave()
		s.OpenCollection(typed)
	}
	where.OnEnter = begin
	leave = s.sheets.Show(widgets.Sheet{
		Title: text.Say("window.begin.title"), Width: 560,
		Content: widgets.Col(look.S16, widgets.Para(text.Say("window.begin.what", wording.Gaps{"Folder": folder}), look.Body, look.Ink), where.Container),
		Acts:    []widgets.Act{{Label: text.Say("window.begin.do"), Key: "Enter", Do: begin}}, Cancel: text.Say("window.cancel"), First: where.Focusable(),
	})
}

// own is a folder for a new collection alone: the chosen one if nothing lies in
// it, else one inside it.
func (s *Shell) own(folder string) string {
	if inside, err := os.ReadDir(folder); err == nil && len(inside) == 0 {
		return folder
	}
	if strings.HasPrefix(s.o.Suggested, strings.TrimSuffix(folder, string(filepath.Separator))+string(filepath.Separator)) {
		return s.o.Suggested
	}
	return filepath.Join(folder, filepath.Base(s.o.Suggested))
}

// restore closes the collection before its file is replaced; whatever comes of
// that, the collection of the folder is opened again.
func (s *Shell) restore(folder, backup string) {
	doing := s.text.Say("window.restore.doing")
	s.leave()
	s.rail.object.Hide()
	s.show(widgets.EmptyPage(nil, doing, "", widgets.Act{}))
	s.menus()
	aside := ""
	s.begin(doing, func(context.Context, func(float64)) (err error) {
		aside, err = s.o.Restore(folder, backup)
		return err
	}, func(err error) {
		s.OpenCollection(folder)
		if err != nil {
			s.Fault("window.fault.restore", err)
			return
		}
		s.tellRestored(folder, aside)
	})
}

// tellRestored says that a backup took the collection's place, and offers the way to the
// copy of the key that lies there, where this computer has no key.
func (s *Shell) tellRestored(folder, aside string) {
	if s.o.KeyAway == nil || !s.o.KeyAway(folder) {
		s.Tell(s.text.Say("window.restore.title"), s.restored(aside))
		return
	}
	var leave func()
	leave = s.sheets.Show(widgets.Sheet{
		Title: s.text.Say("window.restore.title"), Content: s.told(s.restored(aside), s.text.Say("signing.restored")), Cancel: s.text.Say("window.close"),
		Acts: []widgets.Act{{Label: s.text.Say("window.settings"), Icon: "settings", Do: func() {
			leave()
			if s.session != nil {
				s.Go(place.Route{To: place.Settings})
			}
		}}},
	})
}

// restored says where the file that was replaced lies now.
func (s *Shell) restored(aside string) string {
	if aside == "" {
		return s.text.Say("window.restore.done-new")
	}
	return s.text.Say("window.restore.done", wording.Gaps{"Path": aside})
}
