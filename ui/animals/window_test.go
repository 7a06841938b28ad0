package animals_test

import (
	"context"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"coilward/assets"
	"coilward/model/collection"
	"coilward/model/demo"
	"coilward/model/draft"
	"coilward/model/knowledge"
	"coilward/model/photo"
	"coilward/model/storetest"
	"coilward/model/wording"
	"coilward/ui/animals"
	"coilward/ui/look"
	"coilward/ui/place"
	"coilward/ui/shell"
	"coilward/ui/widgets"
)

// hand is the window with all animals in it.
type hand struct {
	*shell.Shell
	t          testing.TB
	page       *animals.Roster
	collection *collection.Collection
	clock      *storetest.Clock
	went       []place.Route // to places that are not under test
}

// elsewhere is a place that only remembers that one went there.
type elsewhere struct{ h *hand }

func (e elsewhere) Content() fyne.CanvasObject  { return widgets.Space(0, 0) }
func (e elsewhere) Show(r place.Route)          { e.h.went = append(e.h.went, r) }
func (e elsewhere) Hide()                       {}
func (e elsewhere) Changed(c collection.Change) {}

type keeping struct{}

func (keeping) Folder() string                   { return "" }
func (keeping) Backups() ([]place.Backup, error) { return nil, nil }
func (keeping) Backup() error                    { return nil }

// open is a window on a collection that fill has filled; nil: the sample.
func open(t testing.TB, language string, size fyne.Size, shine look.Shine, fill func(*collection.Collection)) *hand {
	t.Helper()
	app := test.NewTempApp(t)
	languages, err := wording.Load(assets.Text())
	if err != nil {
		t.Fatal(err)
	}
	tables, err := knowledge.Load(assets.Knowledge())
	if err != nil {
		t.Fatal(err)
	}
	h := &hand{t: t}
	h.collection, h.clock = storetest.New(t)
	if fill == nil {
		fill = func(c *collection.Collection) {
			if err := demo.Fill(c, tables, languages.In("en", wording.Units{})); err != nil {
				t.Fatal(err)
			}
		}
	}
	fill(h.collection)
	photos, err := photo.Open(t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	away := func(place.Window) place.Place { return elsewhere{h} }
	h.Shell = shell.New(shell.Options{App: app, Languages: languages, Tables: tables, Now: h.clock.Now, System: "en", Forced: language,
		Places: []shell.Room{
			{Name: place.Animals, Icon: "animals", Key: "window.place.animals", Rail: true, Make: func(w place.Window) place.Place { h.page = animals.New(w); return h.page }},
			{Name: place.Animal, Make: away},
			{Name: place.Check, Make: away},
			{Name: place.Papers, Icon: "papers", Key: "window.place.papers", Rail: true, Make: away},
			{Name: place.Settings, Icon: "settings", Key: "window.settings", Foot: true, Make: away},
		},
		Sample: func(context.Context, *wording.Text) (shell.Session, error) {
			return shell.Session{Collection: h.collection, Photos: photos, Drafts: draft.Open(t.TempDir()), Keeping: keeping{}, Name: "Old mill"}, nil
		},
		Begin: func(work func()) { work() }, Post: func(say func()) { say() },
	})
	h.OpenSample()
	h.Change(func(p *place.Preferences) { p.Shine = shine })
	h.Window().Resize(size)
	t.Cleanup(h.Stopped)
	return h
}
