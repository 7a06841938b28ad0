package shell

import (
	"errors"
	"fmt"
	"io/fs"
	"log/slog"
	"net/url"
	"os"
	"path/filepath"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/storage"

	"coilward/model"
	"coilward/model/collection"
	"coilward/model/draft"
	"coilward/model/jot"
	"coilward/model/knowledge"
	"coilward/model/photo"
	"coilward/model/wording"
	"coilward/ui/look"
	"coilward/ui/place"
	"coilward/ui/widgets"
)

// Collection implements place.Window; nil while none is open.
func (s *Shell) Collection() *collection.Collection {
	if s.session == nil {
		return nil
	}
	return s.session.Collection
}

// Photos implements place.Window.
func (s *Shell) Photos() *photo.Folder { return s.session.Photos }

// Drafts implements place.Window.
func (s *Shell) Drafts() draft.Folder { return s.session.Drafts }

// Keeping implements place.Window.
func (s *Shell) Keeping() place.Keeping { return s.session.Keeping }

// Tables implements place.Window.
func (s *Shell) Tables() *knowledge.Tables { return s.o.Tables }

// Lexicon implements place.Window.
func (s *Shell) Lexicon() *jot.Lexicon { return s.o.Lexicon }

// Text implements place.Window.
func (s *Shell) Text() *wording.Text { return s.text }

// Now implements place.Window.
func (s *Shell) Now() model.Moment { return s.moment() }

// ReadOnly implements place.Window.
func (s *Shell) ReadOnly() bool { return s.session == nil || s.session.Checking || s.session.Reading }

// Settings implements place.Window.
func (s *Shell) Settings() place.Preferences { return s.prefs }

// By implements place.Window.
func (s *Shell) By() model.PersonID { return s.prefs.By }

// Change implements place.Window. A change of language, units or colours
// builds the page in sight anew.
func (s *Shell) Change(change func(*place.Preferences)) {
	before := s.prefs
	change(&s.prefs)
	save(s.o.App.Preferences(), s.prefs)
	if before.Language == s.prefs.Language && before.Units == s.prefs.Units && before.Shine == s.prefs.Shine {
		return
	}
	here := s.here
	if room := s.inSight(); room != nil {
		room.Hide()
	}
	s.dress()
	if s.session == nil {
		s.first()
		return
	}
	s.here = place.Route{}
	s.visit(here)
}

// ShowSheet implements place.Window.
func (s *Shell) ShowSheet(sheet widgets.Sheet) (close func()) { return s.sheets.Show(sheet) }

// Alert implements place.Window.
func (s *Shell) Alert() {
	if s.o.Alert != nil && !s.prefs.Silent {
		s.o.Alert()
	}
}

// Tell implements place.Window.
func (s *Shell) Tell(title, sentence string) {
	var leave func()
	leave = s.sheets.Show(widgets.Sheet{
		Title:   title,
		Content: widgets.Para(sentence, look.Body, look.Ink),
		Acts:    []widgets.Act{{Label: s.text.Say("window.close"), Key: "Enter", Do: func() { leave() }}},
	})
}

// Fault implements place.Window. Where another state of the collection is why, it
// asks which is to be gone on with.
func (s *Shell) Fault(tried string, err error) {
	if tried != "keeping.apart.fault" && s.parted(err, true) {
		return
	}
	slog.Error(tried, "error", err)
	s.Tell(s.text.Say(tried), s.reason(err))
}

// reason is an error in words.
func (s *Shell) reason(err error) string {
	refusal, ok := refusalOf(err)
	switch {
	case ok:
		return s.text.Refusal(refusal)
	case errors.Is(err, model.ErrConflict):
		return s.text.Say("window.fault.conflict")
	case errors.Is(err, fs.ErrPermission):
		return s.text.Say("window.fault.forbidden", wording.Gaps{"Reason": err.Error()})
	}
	return s.text.Say("window.fault.reason", wording.Gaps{"Reason": err.Error()})
}

// ChooseFile implements place.Window.
func (s *Shell) ChooseFile(endings []string, done func(string)) {
	d := dialog.NewFileOpen(func(file fyne.URIReadCloser, err error) {
		if err != nil {
			s.Fault("window.fault.choose", err)
			return
		}
		if file == nil {
			return
		}
		path := file.URI().Path()
		if err := file.Close(); err != nil {
			slog.Error("close a chosen file", "error", err)
		}
		s.chosen(filepath.Dir(path))
		done(path)
	}, s.window)
	d.SetFilter(storage.NewExtensionFileFilter(endings))
	s.chooseIn(d, "dialog.file.choose")
}

// ChooseFolder implements place.Window.
func (s *Shell) ChooseFolder(done func(string)) {
	d := dialog.NewFolderOpen(func(folder fyne.ListableURI, err error) {
		switch {
		case err != nil:
			s.Fault("window.fault.choose", err)
		case folder != nil:
			path := filepath.Clean(folder.Path())
			s.chosen(path)
			done(path)
		}
	}, s.window)
	s.chooseIn(d, "dialog.folder.choose")
}

// SaveAs implements place.Window: a folder and a name of our own, because
// Fyne's dialog has emptied the file before it says which.
func (s *Shell) SaveAs(suggested string, done func(string)) {
	text := s.text
	folder, err := os.UserHomeDir()
	if err != nil {
		folder = "."
	}
	for _, documents := range []string{"Documents", "Dokumente"} {
		if info, err := os.Stat(filepath.Join(folder, documents)); err == nil && info.IsDir() {
			folder = filepath.Join(folder, documents)
		}
	}
	name := widgets.NewField(suggested, widgets.FieldOptions{Label: text.Say("window.save.name")})
	where := widgets.NewField(folder, widgets.FieldOptions{Label: text.Say("window.save.folder")})
	var leave func()
	keep := func() {
		path := filepath.Join(where.Text(), fileName(name.Text(), filepath.Ext(suggested)))
		if info, err := os.Stat(where.Text()); err != nil || !info.IsDir() {
			where.Refuse(text.Say("window.save.nofolder", wording.Gaps{"Folder": where.Text()}))
			return
		}
		leave()
		s.overwrite(path, func() { done(path) })
	}
	name.OnEnter = keep
	leave = s.sheets.Show(widgets.Sheet{
		Title: text.Say("window.save.title"), Width: 560,
		Content: widgets.Col(look.S12, name.Container, widgets.RowBottom(look.S8, widgets.Grow(where.Container),
			widgets.Button(widgets.Plain, widgets.Act{Label: text.Say("window.save.choose"), Icon: "folder", Do: func() { s.ChooseFolder(where.SetText) }}))),
		Acts: []widgets.Act{{Label: text.Say("window.save.keep"), Key: "Enter", Do: keep}}, Cancel: text.Say("window.cancel"), First: name.Focusable(),
	})
}

// overwrite asks before a file is written over.
func (s *Shell) overwrite(path string, yes func()) {
	if _, err := os.Stat(path); errors.Is(err, fs.ErrNotExist) {
		yes()
		return
	}
	var leave func()
	leave = s.sheets.Show(widgets.Sheet{
		Title:   s.text.Say("window.save.there"),
		Content: widgets.Para(s.text.Say("window.save.over", wording.Gaps{"Path": path}), look.Body, look.Ink),
		Acts:    []widgets.Act{{Label: s.text.Say("window.save.replace"), Do: func() { leave(); yes() }}},
		Cancel:  s.text.Say("window.cancel"),
	})
}

// fileName is a name that every system takes, with its ending: without the
// signs that Windows forbids, and none of its device names.
func fileName(typed, ending string) string {
	name := strings.Map(func(r rune) rune {
		if r < ' ' || strings.ContainsRune(`<>:"/\|?*`, r) {
			return '-'
		}
		return r
	}, strings.TrimSpace(typed))
	name = strings.TrimRight(strings.TrimSuffix(name, ending), ". ")
	device := strings.ToUpper(name)
	if name == "" || len(device) == 3 && strings.Contains("CON PRN AUX NUL", device) ||
		len(device) == 4 && (strings.HasPrefix(device, "COM") || strings.HasPrefix(device, "LPT")) {
		name += "-1"
	}
	return name + ending
}

// Open implements place.Window. The system's program may take its time: it is
// started beside Fyne's goroutine.
func (s *Shell) Open(path string) {
	path = filepath.ToSlash(path)
	if !strings.HasPrefix(path, "/") {
		path = "/" + path
	}
	s.o.Begin(func() {
		if err := s.o.App.OpenURL(&url.URL{Scheme: "file", Path: path}); err != nil {
			s.post(func() { s.Fault("window.fault.open", fmt.Errorf("%s: %w", path, err)) })
		}
	})
}

// Focus implements place.Window.
func (s *Shell) Focus(o fyne.Focusable) {
	if o == nil {
		s.window.Canvas().Unfocus()
		return
	}
	s.window.Canvas().Focus(o)
}

// ActionsChanged implements place.Window.
func (s *Shell) ActionsChanged() { s.menus() }

// about says what this is and what it stands on.
func (s *Shell) about() {
	s.Tell(s.o.App.Metadata().Name, s.text.Say("window.about", wording.Gaps{"Version": s.o.App.Metadata().Version, "More": s.o.About}))
}
