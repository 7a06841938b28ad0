package place

import (
	"context"
	"errors"

	"fyne.io/fyne/v2"

	"coilward/model"
	"coilward/model/chances"
	"coilward/model/collection"
	"coilward/model/comparing"
	"coilward/model/draft"
	"coilward/model/due"
	"coilward/model/jot"
	"coilward/model/knowledge"
	"coilward/model/photo"
	"coilward/model/wording"
	"coilward/ui/widgets"
)

// ErrLeft says that the person was asked whether it is so, and left it.
var ErrLeft = errors.New("left without an answer")

// Window is what a place may ask of the window.
type Window interface {
	Collection() *collection.Collection
	Photos() *photo.Folder
	Drafts() draft.Folder
	Tables() *knowledge.Tables
	// Lexicon are the words that jots are read with.
	Lexicon() *jot.Lexicon
	// Due is the book of what is due, which is told of every change.
	Due() *due.Book
	// Chances is the book of what samples prove.
	Chances() *chances.Book
	Text() *wording.Text
	Now() model.Moment

	// ReadOnly tells that nothing can be noted just now, because the collection
	// is still being checked.
	ReadOnly() bool

	// Settings are the person's; Change changes and keeps them.
	Settings() Preferences
	Change(change func(*Preferences))
	// By is who writes, and zero where nobody was chosen.
	By() model.PersonID

	Go(r Route)
	Back()

	// Do carries out the command that make makes. Where the command asks whether
	// it is so (model.Confirm, model.TypeAgain), the person is asked, and it is
	// made again with the answer. done may be nil; it is called with nil once it
	// is noted, with a *model.Refusal that the form has to show at its field, or
	// with ErrLeft. Every other error was shown already.
	Do(make func(a Answer) model.Command, done func(error))
	Undo()
	Redo()

	// Task does work off Fyne's goroutine, shows its name, its progress (0 to 1)
	// and a way to stop it in the bar, and calls done on Fyne's goroutine with
	// the work's error. The work must stop when its context is done.
	Task(name string, work func(ctx context.Context, progress func(share float64)) error, done func(error))

	// ShowSheet lays a sheet over the page; close takes it away.
	ShowSheet(s widgets.Sheet) (close func())
	// Tell says something that went wrong, or has to be known.
	Tell(title, sentence string)
	// Alert sounds, so that somebody who looks at an animal looks here; unless it was
	// switched off.
	Alert()
	// Fault says that an error happened while what was tried.
	Fault(tried string, err error)

	// ChooseFile asks for a file whose name ends in one of the endings (".jpg");
	// ChooseFolder for a folder; SaveAs for a path to write to. done is not
	// called when the person leaves it.
	ChooseFile(endings []string, done func(path string))
	ChooseFolder(done func(path string))
	SaveAs(suggested string, done func(path string))
	// Open opens a file with the system's own program.
	Open(path string)

	// Focus gives the keys to o; nil to the place.
	Focus(o fyne.Focusable)
	// ActionsChanged asks the place in sight for its actions again.
	ActionsChanged()

	// Keeping is how the collection is kept: its folder and its backups.
	Keeping() Keeping
	// OpenCollection closes this collection and opens the one in that folder,
	// or makes one there; OpenSample opens the sample collection.
	OpenCollection(folder string)
	OpenSample()
	// ChooseCollection asks for a folder and opens the collection there; where
	// none lies in it, it asks before one is begun.
	ChooseCollection()
	// BackUp makes a backup now, here and at the second place, and says how it went;
	// then it calls done, if there is one.
	BackUp(done func())
	// Forget wipes out what removed documents said, from the collection and from every
	// byte of its file; it cannot be undone, nor what was done before it. label is what
	// the journal says in the place of what named them. Backups keep what they hold.
	// What fails can be tried again; done is called once it is done, or left. A file that
	// could not be written anew is when the collection is next opened.
	Forget(label model.Label, done func(error), ids ...model.ID)
	// Restore shows what differs and asks, closes the collection, puts the backup in its place and opens
	// it again; it tells where the file that was there was set aside.
	Restore(b Backup)
}

// Answer is what a person has said to the questions of a command so far.
type Answer struct {
	Confirmed model.Confirmed // the reasons to which the person said that it is so
	Again     string          // what was typed the second time, empty: nothing
}

// Keeping is how a collection is kept. All but Folder and Second may take seconds:
// use Task.
type Keeping interface {
	// Folder is where the collection lies, empty for the sample collection.
	Folder() string
	// Backups are the backups of both places, newest first.
	Backups() ([]Backup, error)
	// Backup makes one now and reads it back.
	Backup() error
	// Second is the second place for backups; without a folder none was chosen.
	Second() (Second, error)
	// ChooseSecond remembers a second place on this computer; an empty folder gives
	// it up. A *model.Refusal says why one cannot be it.
	ChooseSecond(folder string) error
	// BringSecond brings to the second place what it lacks. A place that is away or
	// full is a *model.Refusal of the field "second".
	BringSecond(ctx context.Context) error
	// Holds tells how much a backup holds.
	Holds(b Backup) (comparing.Side, error)
	// Compare tells what differs between the collection as it is now and a backup.
	Compare(ctx context.Context, b Backup) (comparing.Summary, error)
	// Examine reads every photo and backup of both places and holds each against its
	// sum.
	Examine(ctx context.Context, progress func(share float64)) (Examined, error)
	// KeyCopies are the encrypted copies of keys among the backups, those of the
	// collection's folder first. They are few and small. A second place that cannot be
	// looked at is a *model.Refusal of the field "second", beside those of the first.
	KeyCopies() ([]KeyCopy, error)
	// KeepKeyCopy puts an encrypted copy of a key among the backups of both places, in
	// the place of what has that name. A second place that cannot have it now is a
	// *model.Refusal of the field "second"; the copy lies at the first then.
	KeepKeyCopy(name string, raw []byte) error
}

// KeyCopy is an encrypted copy of a key.
type KeyCopy struct {
	Path    string
	Written model.Moment
	Second  bool // it lies at the second place
	Good    bool // it is as it was written
}

// Examined is what was found of the files beside the collection's.
type Examined struct {
	At              model.Moment // when
	Photos, Backups int          // that are as they were kept
	Second          string       // the second place; empty: none was chosen
	Away            bool         // it is not there just now
	Found           []Finding
	// Mend brings each file that has a good copy at the other place anew from there,
	// and tells how many. Nil: none has one, or nothing can be written.
	Mend func(ctx context.Context) (int, error)
}

// Finding is a file that is not as it should be.
type Finding struct {
	Path string
	Keys []string // of the sentences that say what is wrong and what to do
	Good model.Moment
	Twin string // a good copy at the other place
}

// Backup is one backup of the collection.
type Backup struct {
	Path     string
	At       model.Moment
	Bytes    int64
	Verified bool   // read back whole after it was written
	Second   bool   // it lies at the second place, there alone if Here is false
	Here     bool   // it lies in the collection's folder
	Aside    bool   // the collection as it was before a backup took its place
	Of       string // what the folder is called that it is a backup of
}

// Second is the second place for backups.
type Second struct {
	Folder string
	Whole  model.Moment // when everything was last there; zero: never yet
	Since  model.Moment // when it failed first after that; zero: it did not
	Why    string       // it failed, in one word: "away", "full" …
	Photos int          // photos left out, because they are damaged here
}
