package uitest

import (
	"context"
	"testing"

	"fyne.io/fyne/v2"

	"coilward/assets"
	"coilward/model"
	"coilward/model/animals"
	"coilward/model/collection"
	"coilward/model/comparing"
	"coilward/model/demo"
	"coilward/model/draft"
	"coilward/model/jot"
	"coilward/model/knowledge"
	"coilward/model/photo"
	"coilward/model/storetest"
	"coilward/model/wording"
	"coilward/ui/place"
	"coilward/ui/shell"
	"coilward/ui/widgets"
)

// Opened is the real window over a collection in memory, with one of its places
// in it; the others only remember that one went there. Everything runs at once.
type Opened struct {
	*shell.Shell
	T      testing.TB
	Clock  *storetest.Clock
	Drafts string        // their folder
	Went   []place.Route // to places that are not under test
	Alerts int           // how often it sounded
}

// Setting is what a window is opened with.
type Setting struct {
	Look     Look
	Language string
	// Fill fills the collection; nil: it is the sample.
	Fill func(*collection.Collection)
	// Place is the one under test, made by Make.
	Place place.Name
	Make  func(place.Window) place.Place
	// Beside are further places that are real, for what leads from one to the next.
	Beside map[place.Name]func(place.Window) place.Place
	// Keeping is how the collection is kept; nil: it is not.
	Keeping place.Keeping
}

// elsewhere is a place that only remembers that one went there.
type elsewhere struct{ w *Opened }

func (e elsewhere) Content() fyne.CanvasObject { return widgets.Space(0, 0) }
func (e elsewhere) Show(r place.Route)         { e.w.Went = append(e.w.Went, r) }
func (e elsewhere) Hide()                      {}
func (e elsewhere) Changed(collection.Change)  {}

// Unkept is how a sample is kept: not at all.
type Unkept struct{}

// Folder implements place.Keeping.
func (Unkept) Folder() string { return "" }

// Backups implements place.Keeping.
func (Unkept) Backups() ([]place.Backup, error) { return nil, nil }

// Backup implements place.Keeping.
func (Unkept) Backup() error { return nil }

// Second implements place.Keeping.
func (Unkept) Second() (place.Second, error) { return place.Second{}, nil }

// ChooseSecond implements place.Keeping.
func (Unkept) ChooseSecond(string) error { return nil }

// BringSecond implements place.Keeping.
func (Unkept) BringSecond(context.Context) error { return nil }

// Holds implements place.Keeping.
func (Unkept) Holds(place.Backup) (comparing.Side, error) { return comparing.Side{}, nil }

// Compare implements place.Keeping.
func (Unkept) Compare(context.Context, place.Backup) (comparing.Summary, error) {
	return comparing.Summary{}, nil
}

// Examine implements place.Keeping.
func (Unkept) Examine(context.Context, func(float64)) (place.Examined, error) {
	return place.Examined{}, nil
}

// KeyCopies implements place.Keeping.
func (Unkept) KeyCopies() ([]place.KeyCopy, error) { return nil, nil }

// KeepKeyCopy implements place.Keeping.
func (Unkept) KeepKeyCopy(string, []byte) error { return nil }

// Open opens a window.
func Open(t testing.TB, s Setting) *Opened {
	t.Helper()
	app := App(t, s.Look)
	w := &Opened{T: t, Drafts: t.TempDir()}
	languages, err := wording.Load(assets.Text())
	if err != nil {
		t.Fatal(err)
	}
	tables, err := knowledge.Load(assets.Knowledge())
	if err != nil {
		t.Fatal(err)
	}
	lexicon, err := jot.Load(assets.Jot())
	if err != nil {
		t.Fatal(err)
	}
	c, clock := storetest.New(t)
	w.Clock = clock
	if s.Fill != nil {
		s.Fill(c)
	} else if err := demo.Fill(c, tables, languages.In("en", wording.Units{})); err != nil {
		t.Fatal(err)
	}
	photos, err := photo.Open(t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	rooms := []shell.Room{
		{Name: place.Animals, Icon: "animals", Key: "window.place.animals", Rail: true},
		{Name: place.Shelf, Icon: "shelf", Key: "window.place.shelf", Rail: true},
		{Name: place.Due, Icon: "calendar", Key: "window.place.due", Rail: true},
		{Name: place.Animal},
		{Name: place.Tray},
		{Name: place.Newcomers},
		{Name: place.Positive},
		{Name: place.Check},
		{Name: place.Written},
		{Name: place.MoveIn},
		{Name: place.Photos},
		{Name: place.People},
		{Name: place.Instruments},
		{Name: place.Feeders},
		{Name: place.PowerCut},
		{Name: place.Climate},
		{Name: place.Plan},
		{Name: place.HerPapers},
		{Name: place.Papers, Icon: "papers", Key: "window.place.papers", Rail: true},
		{Name: place.Settings, Icon: "settings", Key: "window.settings", Foot: true},
	}
	for i := range rooms {
		rooms[i].Make = func(place.Window) place.Place { return elsewhere{w} }
		if beside, real := s.Beside[rooms[i].Name]; real {
			rooms[i].Make = beside
		}
		if rooms[i].Name == s.Place {
			rooms[i].Make = s.Make
		}
	}
	if s.Keeping == nil {
		s.Keeping = Unkept{}
	}
	app.Preferences().SetString("shine", string(s.Look.Shine))
	w.Shell = shell.New(shell.Options{App: app, Languages: languages, Tables: tables, Lexicon: lexicon, Now: w.Clock.Now, System: "en", Forced: s.Language, Places: rooms,
		Sample: func(context.Context, *wording.Text) (shell.Session, error) {
			return shell.Session{Collection: c, Photos: photos, Drafts: draft.Open(w.Drafts), Keeping: s.Keeping, Name: "Old mill"}, nil
		},
		Alert: func() { w.Alerts++ },
		Begin: func(work func()) { work() }, Post: func(say func()) { say() },
	})
	w.OpenSample()
	Dress(w.Window(), s.Look)
	t.Cleanup(w.Stopped)
	return w
}

// Canvas is the window's canvas.
func (w *Opened) Canvas() fyne.Canvas { return w.Window().Canvas() }

// Content is all that lies in the window, below its sheets.
func (w *Opened) Content() fyne.CanvasObject { return w.Canvas().Content() }

// Shows tells whether a text with that in it is shown, sheets aside.
func (w *Opened) Shows(part string) bool { return Shows(w.Content(), part) }

// Animal is the animal of that name.
func (w *Opened) Animal(name string) animals.Stored {
	w.T.Helper()
	var found animals.Stored
	err := w.Collection().View(func(v model.View) error {
		all, err := animals.All(v)
		for _, a := range all {
			if a.Name == name {
				found = a
			}
		}
		return err
	})
	if err != nil || found.ID.IsZero() {
		w.T.Fatalf("no animal %s: %v", name, err)
	}
	return found
}
