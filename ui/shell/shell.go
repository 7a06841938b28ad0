package shell

import (
	"context"
	"log/slog"
	"path/filepath"
	"strings"
	"sync/atomic"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/driver/desktop"

	"coilward/model"
	"coilward/model/chances"
	"coilward/model/collection"
	"coilward/model/draft"
	"coilward/model/due"
	"coilward/model/jot"
	"coilward/model/knowledge"
	"coilward/model/photo"
	"coilward/model/wording"
	"coilward/ui/look"
	"coilward/ui/place"
	"coilward/ui/widgets"
)

// Options are what the program gives to its window.
type Options struct {
	App       fyne.App
	Languages *wording.Languages
	Tables    *knowledge.Tables
	Lexicon   *jot.Lexicon
	Now       func() time.Time
	// System is the language of the system, such as "de". Forced is the language
	// of this start alone, whatever was chosen.
	System, Forced string
	// Places are the places of the window, those of the rail in its order. The
	// first is the home.
	Places []Room
	// First makes the page for a person who has no collection yet.
	First func(w place.Window, begin Beginning) fyne.CanvasObject
	// Papers makes the page of the papers of an animal where no collection is open: begin
	// goes to where one is begun, leave back. Nil: none are opened.
	Papers func(w place.Window, path string, begin, leave func()) fyne.CanvasObject
	// Suggested is the folder where a new collection would go.
	Suggested string
	// Open opens the collection in a folder, or makes one. Where that takes a
	// check of the whole file first, it calls early with what can be read
	// meanwhile. With takeOver it goes on although another machine holds the
	// collection in a shared folder. It runs off Fyne's goroutine. A *model.Refusal in its error says
	// what the person can do.
	Open func(ctx context.Context, folder string, takeOver bool, early func(Session)) (Session, error)
	// OpenToRead opens a collection that cannot be written to, to be looked at. It
	// writes nothing into the folder. Nil: it cannot be done.
	OpenToRead func(ctx context.Context, folder string) (Session, error)
	// Sample opens the sample collection, told in that language; nil: there is none.
	Sample func(ctx context.Context, t *wording.Text) (Session, error)
	// Holds tells whether a collection lies in a folder already. Nil: always.
	Holds func(folder string) bool
	// Restore puts a backup in the place of the collection in a folder, which
	// nobody has open, and tells where the file that was there was set aside.
	Restore func(folder, backup string) (setAside string, err error)
	// KeyAway tells whether this computer has no key to sign papers with, while a copy of
	// one lies among the backups of a folder. Nil: nobody knows.
	KeyAway func(folder string) bool
	// Newest is the newest backup of a folder that is still as it was when it was
	// made. It reads the whole backup. Nil: there is none.
	Newest func(folder string) (place.Backup, bool)
	// Salvage puts all that can still be read of the damaged collection in a
	// folder in its place. Nil: it cannot be done.
	Salvage func(folder string) (Salvaged, error)
	// Alert sounds, so that somebody looks; nil: it is silent.
	Alert func()
	// Forward asks the window that has the collection open to come forward.
	Forward func(folder string) error
	// Broken is why the program cannot work at all, such as a table that cannot
	// be read; the window says so and nothing else.
	Broken error
	// About is the version and what the program stands on, for Help.
	About string

	// Begin runs work beside Fyne's goroutine, and Post runs what it has to say
	// on it. Nil is the real thing; tests give functions that run at once.
	Begin func(work func())
	Post  func(say func())
	// Later does something on Fyne's goroutine once a time has passed. Nil is the
	// real thing.
	Later func(after time.Duration, do func())
}

// Room is how the window knows a place. Rail rooms stand in the rail, Foot ones
// at its foot.
type Room struct {
	Name       place.Name
	Icon       string
	Key        string // of its name in the catalogue
	Rail, Foot bool
	About      bool // it takes the animal in sight with it
	// In is the place of the rail that a place outside it belongs to; of one in the
	// rail, that to which it belongs where it is about one animal. Empty: none.
	In       place.Name
	Shortcut fyne.KeyName // with Ctrl or Cmd
	Make     func(w place.Window) place.Place
}

// Beginning is what the first page can begin.
type Beginning struct {
	Suggested string // folder of a new collection
	Empty     func(folder string)
	Bring     func(folder string) // begins one, to bring a spreadsheet into it
	Sample    func()              // nil: there is none
	Papers    func()              // asks for the papers of an animal; nil: none are opened
}

// Session is an opened collection.
type Session struct {
	Collection *collection.Collection
	Photos     *photo.Folder
	Drafts     draft.Folder
	Keeping    place.Keeping
	Name       string
	Sample     bool
	// Checking: this is the newest good backup, to be read while the collection
	// itself is checked.
	Checking bool
	// Reading: the collection lies where nothing can be written, and was opened to be
	// looked at.
	Reading bool
	// Copies are conflicted copies of the collection that lie in its folder.
	Copies []string
	// Apart is asked for other states of the collection in its folder. Nil: none is
	// looked for.
	Apart Apart
	// Forward tells, once each time, that a second start asked for this window.
	Forward func() bool
	// After is what is done once the collection is in sight, one after the other, such
	// as a backup if something has changed since the last one.
	After []Job
	// Compact writes the file anew without what was deleted. Nil: there is no file.
	Compact func(ctx context.Context) error
	// ToCompact: something was wiped out, and the file could not be written anew when it
	// was; it is done before what After says.
	ToCompact bool
	// Close gives the collection up.
	Close func() error
}

// Job is work beside the page, in the words of the window.
type Job struct {
	Doing  string // key of what it is called while it is done
	Failed string // key of what is said where it could not be done
	Remain string // key of what that leaves, said below the reason; empty: nothing
	Do     func(ctx context.Context, progress func(float64)) error
}

// Shell is the window.
type Shell struct {
	o       Options
	window  fyne.Window
	sheets  *widgets.Sheets
	tasks   tasks
	prefs   place.Preferences
	text    *wording.Text
	session *Session

	rail  *rail
	bar   *bar
	page  *fyne.Container // holds what is in sight
	sight *fyne.Container // scrolls the page where it needs more room than the window has
	rooms map[place.Name]place.Place
	here  place.Route
	back  []place.Route

	book     *due.Book // of the collection that is open
	chances  *chances.Book
	count    count
	pending  pending
	undone   *model.Label // what was taken back, where nothing was done since; nil: nothing was
	depth    int          // changes since the collection was opened that can be undone
	cancel   func()       // of the subscription
	opening  context.CancelFunc
	stopped  atomic.Bool
	papers   string             // path of papers that are to be shown, and then where a collection is open; empty: none
	bringing bool               // a spreadsheet is to be brought once a collection is open
	jotted   string             // what was left in the sheet of a jot
	choosing *dialog.FileDialog // that was opened last
	chooser  fyne.CanvasObject  // its pop-up
}

var _ place.Window = (*Shell)(nil)

// New makes the window; Start shows it.
func New(o Options) *Shell {
	if o.Begin == nil {
		o.Begin = func(work func()) { go work() }
	}
	if o.Post == nil {
		o.Post = fyne.Do
	}
	if o.Later == nil {
		o.Later = later
	}
	s := &Shell{o: o, window: o.App.NewWindow(o.App.Metadata().Name), page: widgets.Stack()}
	s.sight = widgets.ScrollBoth(s.page)
	s.tasks.s = s
	s.prefs = load(o.App.Preferences())
	s.sheets = widgets.NewSheets(s.window.Canvas())
	s.window.SetPadded(false)
	s.window.SetMaster()
	s.window.SetCloseIntercept(s.Close)
	s.window.SetOnDropped(func(_ fyne.Position, files []fyne.URI) { s.Dropped(files) })
	s.window.Canvas().SetOnTypedKey(s.typedKey)
	s.window.Canvas().SetOnTypedRune(s.typedRune)
	s.window.Resize(s.size())
	s.dress()
	return s
}

// size is the window's size when it was last closed, or that of the first time.
func (s *Shell) size() fyne.Size {
	return fyne.NewSize(orElse(s.prefs.Width, 1280), orElse(s.prefs.Height, 800))
}

func orElse(v, other float32) float32 {
	if v > 0 {
		return v
	}
	return other
}

// Window is the window itself.
func (s *Shell) Window() fyne.Window { return s.window }

// Page is what is in sight beside the rail, for tests.
func (s *Shell) Page() fyne.CanvasObject { return s.page }

// dress puts on colours, language and units, and builds rail, bar and menus anew.
func (s *Shell) dress() {
	s.o.App.Settings().SetTheme(look.NewTheme(s.prefs.Shine))
	s.text = s.o.Languages.In(s.language(), s.prefs.Units)
	speak(s.text)
	s.rooms = map[place.Name]place.Place{}
	s.rail, s.bar = newRail(s), newBar(s)
	s.rail.badge(place.Due, s.count.pressed)
	s.window.SetContent(s.frame())
	s.menus()
}

func (s *Shell) language() string {
	if s.o.Forced != "" {
		return s.o.Forced
	}
	if s.prefs.Language != "" {
		return s.prefs.Language
	}
	return s.o.System
}

// frame is the window's content: rail, page, bar. Its ground is the theme's, which
// the window is cleared with; a box over all of it would cost as much as the page.
func (s *Shell) frame() fyne.CanvasObject {
	column := widgets.Col(0, widgets.Grow(s.sight), s.bar.object)
	return widgets.RowFill(0, s.rail.object, widgets.Grow(column))
}

// Start opens the collection in folder, or the one of last time, or shows the
// first page.
func (s *Shell) Start(folder string, sample bool) {
	switch {
	case s.o.Broken != nil:
		s.broken()
	case sample:
		s.OpenSample()
	case folder != "":
		s.OpenCollection(folder)
	case s.prefs.Folder != "":
		s.OpenCollection(s.prefs.Folder)
	case s.papers != "":
		s.OpenPapers(s.papers)
	default:
		s.first()
	}
}

// first shows the page for a person who has no collection.
func (s *Shell) first() {
	s.here, s.back = place.Route{}, nil
	s.rail.object.Hide()
	begin := Beginning{Suggested: s.o.Suggested, Empty: s.OpenCollection, Bring: func(folder string) {
		s.bringing = true
		s.OpenCollection(folder)
	}}
	if s.o.Sample != nil {
		begin.Sample = s.OpenSample
	}
	if s.o.Papers != nil {
		begin.Papers = s.choosePapers
	}
	s.show(s.o.First(s, begin))
	s.bar.update()
	s.menus()
}

// show puts an object in sight.
func (s *Shell) show(o fyne.CanvasObject) {
	s.page.Objects = []fyne.CanvasObject{o}
	s.page.Refresh()
	widgets.ToStart(s.sight)
	s.window.Content().Refresh()
}

// Close keeps the window's size, gives the collection up and ends the program.
func (s *Shell) Close() {
	size := s.window.Canvas().Size()
	s.prefs.Width, s.prefs.Height = size.Width, size.Height
	save(s.o.App.Preferences(), s.prefs)
	s.Stopped()
	s.window.SetCloseIntercept(nil)
	s.window.Close()
}

// Stopped gives the collection up; the program calls it at its end too.
func (s *Shell) Stopped() {
	s.stopped.Store(true)
	s.tasks.stop()
	if s.opening != nil {
		s.opening()
	}
	s.leave()
}

// leave closes the collection that is open.
func (s *Shell) leave() {
	if room, ok := s.rooms[s.here.To]; ok {
		room.Hide()
	}
	if s.cancel != nil {
		s.cancel()
		s.cancel = nil
	}
	if s.session != nil && s.session.Close != nil {
		if err := s.session.Close(); err != nil {
			slog.Error("close the collection", "error", err)
		}
	}
	s.session, s.depth, s.jotted, s.undone = nil, 0, "", nil
	s.pending.Lock()
	s.pending.undone = nil
	s.pending.Unlock()
	s.count.leave()
	s.rooms, s.here, s.back = map[place.Name]place.Place{}, place.Route{}, nil
}

// enter shows an opened collection.
func (s *Shell) enter(session Session) {
	s.leave()
	s.session = &session
	s.book, s.chances = due.NewBook(s.o.Tables), chances.NewBook(s.o.Tables)
	book := s.book
	s.cancel = session.Collection.Subscribe(func(c collection.Change) {
		book.Touch(c.Sequence, c.Subjects, c.Types...)
		s.heard(c)
	})
	if session.Keeping.Folder() != "" {
		s.prefs.Folder = session.Keeping.Folder()
		save(s.o.App.Preferences(), s.prefs)
	}
	s.rail.object.Show()
	s.Go(place.Route{To: s.o.Places[0].Name})
	if s.bringing {
		s.bringing = false
		s.Go(place.Route{To: place.MoveIn})
	}
	if s.papers != "" && !session.Checking {
		papers := s.papers
		s.papers = ""
		s.Go(place.Route{To: place.HerPapers, Page: papers})
	}
	s.tellCopies()
	s.tellClock()
	s.lookApart(false, func() {})
	s.after(&session)
}

// Go implements place.Window.
func (s *Shell) Go(r place.Route) {
	if s.here.To != "" && s.here != r {
		s.back = append(s.back, s.here)
	}
	s.visit(r)
}

// through is the way to a place of the rail; one that is about an animal takes
// the animal in sight along.
func (s *Shell) through(r Room) place.Route {
	to := place.Route{To: r.Name}
	if r.About && (s.here.To == place.Animal || s.here.To == place.Check) {
		to.Subject = s.here.Subject
	}
	return to
}

// Back implements place.Window.
func (s *Shell) Back() {
	if len(s.back) == 0 {
		return
	}
	r := s.back[len(s.back)-1]
	s.back = s.back[:len(s.back)-1]
	if left, ok := s.rooms[r.To].(place.Returner); ok {
		left.Returns()
	}
	s.visit(r)
}

func (s *Shell) visit(r place.Route) {
	if s.session == nil {
		return
	}
	if room, ok := s.rooms[s.here.To]; ok {
		room.Hide()
	}
	room := s.room(r.To)
	if room == nil {
		return
	}
	s.here = r
	s.window.Canvas().Unfocus()
	s.show(room.Content())
	s.settle()
	room.Show(r)
	s.rail.choose(s.railOf(r))
	s.countDue() // the day may be another
	s.bar.update()
	s.menus()
}

// room is the place of that name, made when it is first gone to.
func (s *Shell) room(name place.Name) place.Place {
	if room, ok := s.rooms[name]; ok {
		return room
	}
	for _, r := range s.o.Places {
		if r.Name == name {
			s.rooms[name] = r.Make(s)
			return s.rooms[name]
		}
	}
	return nil
}

// railOf is the place of the rail that a way leads to or into; empty: none.
func (s *Shell) railOf(to place.Route) place.Name {
	for _, r := range s.o.Places {
		switch {
		case r.Name != to.To:
		case (r.Rail || r.Foot) && (r.In == "" || to.Subject.IsZero()):
			return r.Name
		default:
			return r.In
		}
	}
	return ""
}

// inSight is the place in sight, or nil.
func (s *Shell) inSight() place.Place { return s.rooms[s.here.To] }

// typedKey takes the keys that nothing had a use for.
func (s *Shell) typedKey(k *fyne.KeyEvent) {
	switch {
	case s.choosesFile(): // Fyne's own dialog has no use for them
		if k.Name == fyne.KeyEscape && s.window.Canvas().Overlays().Top() == s.chooser { // nothing of Fyne's lies above it
			s.choosing.Dismiss()
		}
	case s.sheets.Open():
		switch k.Name {
		case fyne.KeyEscape:
			s.sheets.Leave()
		case fyne.KeyReturn, fyne.KeyEnter:
			s.sheets.Enter()
		}
	default:
		if keys, ok := s.inSight().(place.Keys); ok {
			keys.TypedKey(k)
		}
	}
}

// typedRune takes the signs that nothing had a use for. On a numpad alone there is no
// key to leave a question by, so that minus does, as it goes back in a walk.
func (s *Shell) typedRune(r rune) {
	if s.choosesFile() {
		return
	}
	if s.sheets.Open() && (r == '-' || r == '−') {
		s.sheets.Leave()
		return
	}
	if keys, ok := s.inSight().(place.Keys); ok && !s.sheets.Open() {
		keys.TypedRune(r)
	}
}

// Dropped hands files dropped on the window to the place in sight.
func (s *Shell) Dropped(files []fyne.URI) {
	var paths []string
	for _, f := range files {
		if f.Scheme() == "file" {
			paths = append(paths, f.Path())
		}
	}
	tables, own := s.inSight().(place.TableDropper)
	switch d, ok := s.inSight().(place.Dropper); {
	case len(paths) == 0 || s.sheets.Open():
	case s.o.Papers != nil && arePapers(paths[0]):
		s.OpenPapers(paths[0])
	case s.session != nil && isTable(paths[0]) && !(own && tables.DropsTables()):
		s.Go(place.Route{To: place.MoveIn, Page: paths[0]})
	case ok:
		d.Dropped(paths)
	}
}

// isTable reports whether a file is a spreadsheet by its name.
func isTable(path string) bool {
	ending := strings.ToLower(filepath.Ext(path))
	return ending == ".csv" || ending == ".xlsx"
}

// moment is now, on the keeper's clock.
func (s *Shell) moment() model.Moment { return model.MomentOf(s.o.Now()) }

// shortcut is a key with Ctrl (Cmd on a Mac).
func shortcut(k fyne.KeyName) fyne.Shortcut {
	return &desktop.CustomShortcut{KeyName: k, Modifier: fyne.KeyModifierShortcutDefault}
}
