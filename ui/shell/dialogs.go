package shell

import (
	"encoding/json"
	"log/slog"
	"os"
	"path/filepath"
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/storage"
	"fyne.io/fyne/v2/widget"

	"coilward/model/wording"
)

// spoken are the words that Fyne says by itself, in its file dialogs and the menus of
// its fields, with the texts in whose place they stand.
var spoken = map[string]string{
	"Cancel": "window.cancel", "Open": "dialog.open", "Save": "window.save.keep", "File": "dialog.file", "Folder": "dialog.folder",
	"New Folder": "dialog.folder.new", "Create Folder": "dialog.folder.make", "Show Hidden Files": "dialog.hidden",
	"file.name": "dialog.name", "file.parent": "dialog.parent", "Enter filename": "dialog.name",
	"Error": "dialog.error", "OK": "window.close", "Quit": "window.menu.quit",
	"Cut": "dialog.cut", "Copy": "dialog.copy", "Paste": "dialog.paste", "Select all": "dialog.all", "Undo": "window.undo", "Redo": "window.redo",
}

// favourites are the folders at the side of Fyne's file dialogs, which it names in
// English whatever it is told.
var favourites = map[string]string{
	"Home": "dialog.home", "Computer": "dialog.computer", "App Files": "dialog.program", "Desktop": "dialog.desktop",
	"Documents": "dialog.documents", "Downloads": "dialog.downloads", "Music": "dialog.music", "Pictures": "dialog.pictures",
	"Videos": "dialog.videos", "Movies": "dialog.videos",
}

// speak gives Fyne the words of the window's language. Fyne chooses its own by the
// system's: they are given to it as that one, and as English, which it takes where it
// has none.
func speak(t *wording.Text) {
	words := map[string]string{}
	for theirs, ours := range spoken {
		words[theirs] = t.Say(ours)
	}
	data, err := json.Marshal(words)
	for _, locale := range []fyne.Locale{lang.SystemLocale(), "en"} {
		if err == nil {
			err = lang.AddTranslationsForLocale(data, locale)
		}
	}
	if err != nil { // it speaks its own
		slog.Warn("give the file dialogs their words", "error", err)
	}
}

// keyChosen is the folder that was chosen last, or that a file was chosen from; frozen.
const keyChosen = "chosen"

// chooseIn opens a dialog where something was chosen the last time, else where the
// collection lies.
func (s *Shell) chooseIn(d *dialog.FileDialog, title string) {
	for _, folder := range []string{s.o.App.Preferences().String(keyChosen), filepath.Dir(s.prefs.Folder), filepath.Dir(s.o.Suggested)} {
		if info, err := os.Stat(folder); folder == "" || folder == "." || err != nil || !info.IsDir() {
			continue
		}
		if list, err := storage.ListerForURI(storage.NewFileURI(folder)); err == nil {
			d.SetLocation(list)
			break
		}
	}
	size := s.window.Canvas().Size() // Fyne's own opens small
	d.SetTitleText(s.text.Say(title))
	d.Resize(fyne.NewSize(size.Width*.8, size.Height*.8))
	d.Show()
	if popUp, ok := s.window.Canvas().Overlays().Top().(*widget.PopUp); ok {
		s.nameFavourites(popUp.Content)
		s.choosing, s.chooser = d, popUp
	}
}

// choosesFile reports whether a dialog for files is in sight.
func (s *Shell) choosesFile() bool {
	return s.choosing != nil && slices.Contains(s.window.Canvas().Overlays().List(), s.chooser)
}

// chosen remembers the folder for the next dialog.
func (s *Shell) chosen(folder string) { s.o.App.Preferences().SetString(keyChosen, folder) }

// nameFavourites names the folders at the side of a file dialog in the window's language.
func (s *Shell) nameFavourites(o fyne.CanvasObject) {
	switch o := o.(type) {
	case *fyne.Container:
		for _, part := range o.Objects {
			s.nameFavourites(part)
		}
	case *container.Split:
		s.nameFavourites(o.Leading)
	case *widget.List:
		theirs := o.UpdateItem
		o.UpdateItem = func(id widget.ListItemID, row fyne.CanvasObject) {
			theirs(id, row)
			parts, ok := row.(*fyne.Container)
			if !ok {
				return
			}
			for _, part := range parts.Objects {
				if label, ok := part.(*widget.Label); ok && favourites[label.Text] != "" {
					label.SetText(s.text.Say(favourites[label.Text]))
				}
			}
		}
		o.Refresh()
	}
}
