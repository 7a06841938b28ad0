package place

import (
	"fyne.io/fyne/v2"

	"coilward/model"
	"coilward/model/collection"
)

// Name names a place.
type Name string

// The places.
const (
	Shelf   Name = "shelf"
	Due     Name = "due"
	Animals Name = "animals"
	Animal  Name = "animal"
	Check   Name = "check"
	Tray    Name = "tray" // a subject is a sample, with the page "act" what is next with it, or an animal
	// Newcomers are the animals in quarantine; a subject is one of them, or with the page
	// "new" who has come.
	Newcomers Name = "newcomers"
	// Positive is what was detected; a subject is a positive or an animal, with the page
	// "open" one is opened for what was detected in it.
	Positive Name = "positive"
	// Plan is where tests are planned; a subject is an animal that takes part.
	Plan   Name = "plan"
	Papers Name = "papers"
	People Name = "people" // the page "new" opens the form of a new person
	// Instruments also has the tools; a route's subject is one of either.
	Instruments Name = "instruments"
	MoveIn      Name = "move-in" // a route's page is the path of a spreadsheet, or TablesOut
	PowerCut    Name = "power-cut"
	Climate     Name = "climate" // a route's subject is a place
	Feeders     Name = "feeders" // a route's subject is a batch
	Photos      Name = "photos"  // a route about an animal shows that animal's photos
	// Written is where sheets from the room are typed in; a page is the code of one.
	Written  Name = "written"
	Settings Name = "settings"
	// HerPapers shows the papers that came with an animal; a route's page is the path of
	// their file.
	HerPapers Name = "her-papers"
)

// FromPaper is the page of Check on which a sheet without a code is typed in; one with a code
// has the code as its page.
const FromPaper = "paper"

// CheckSheet is the page of Papers that asks for a sheet on which a check is written.
const CheckSheet = "check-sheet"

// PowerCutPaper is the page of Papers that asks for the paper for a power cut.
const PowerCutPaper = "power-cut"

// NewRoom is the page of Shelf that asks for a new room, and leads back once it stands.
const NewRoom = "room"

// TablesOut is the page of MoveIn from which a collection goes out as a
// spreadsheet.
const TablesOut = "out"

// Route says where to go: to a place, about a subject (an animal, an entry),
// and to a page of it. What a place has no use for stays empty.
type Route struct {
	To      Name
	Subject model.ID
	Page    string
}

// Place is one place of the window. Show is called each time it comes into
// sight, Hide when it goes, Changed while it is in sight and the collection has
// changed, at most once per frame. A place reads the collection in Show and
// Changed, never in Content.
type Place interface {
	Content() fyne.CanvasObject
	Show(r Route)
	Hide()
	Changed(c collection.Change)
}

// Actor is a place that offers acts in the menus while it is in sight.
type Actor interface{ Actions() []Action }

// Menu is the menu that an act stands in.
type Menu uint8

// The menus that a place may add to.
const (
	MenuEntry Menu = iota
	MenuView
)

// Action is an act in a menu, with the keys that do the same.
type Action struct {
	Label    string
	Menu     Menu
	Key      fyne.KeyName     // "": none
	Modifier fyne.KeyModifier // 0: Ctrl, or Cmd on a Mac
	Off      bool
	Do       func()
}

// Keys is a place that takes the keys which nothing else has a use for.
type Keys interface {
	TypedKey(k *fyne.KeyEvent)
	TypedRune(r rune)
}

// Jotter is a place with a line of its own to jot in.
type Jotter interface {
	// Jot gives the line the keys; false where it is not in sight just now.
	Jot() bool
	// Noted tells whether f is the line, and what was typed in it last was noted: the
	// keys of undo mean the entry then, not the letters.
	Noted(f fyne.Focusable) bool
}

// Undoer is a place that may take the keys of undo for itself.
type Undoer interface {
	// Undoes tells that the keys of undo were used up: something typed was cleared, or
	// it was said why nothing is taken back. Else the newest change is.
	Undoes() bool
}

// Returner is a place that wants to know that one goes back to it, where it is to be
// as it was left; Returns is called before Show then.
type Returner interface{ Returns() }

// Misser is a place that wants to know what changed while it was out of sight,
// so that it need not read everything anew when it is shown again.
type Misser interface{ Missed(c collection.Change) }

// Dropper is a place that takes files dropped on the window.
type Dropper interface{ Dropped(paths []string) }

// TableDropper is a place that takes spreadsheets for itself just now, which else are
// brought in as lists of animals wherever they are dropped.
type TableDropper interface {
	Dropper
	DropsTables() bool
}
