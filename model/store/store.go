package store

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"sync"
	"time"

	"github.com/asdine/storm/v3"
	bolt "go.etcd.io/bbolt"
	bolterrors "go.etcd.io/bbolt/errors"

	"coilward/model"
	"coilward/model/collection"
	"coilward/model/disk"
)

// Schema is the newest form of the file that this program knows. A file of a
// newer one is refused, because writing it would drop what only the newer
// program knows.
const Schema = 1

// The folders beside the file.
const (
	PhotosFolder  = "photos"
	BackupsFolder = "backups"
	DraftsFolder  = "drafts"
)

// Options are what a store asks of its surroundings.
type Options struct {
	Now      func() time.Time // the clock; required
	Machine  string           // this machine's name for others to read; empty: the host's name
	Verifier Verifier         // VerifyInChild in programs; required after an unclean end and for snapshots
	TakeOver bool             // open although the lock names another machine
}

// Store is an open collection on disk. It may be used from any goroutine.
type Store struct {
	folder   string // empty if opened by OpenReadOnly
	path     string
	options  Options
	readOnly bool
	storm    *storm.DB
	opened   os.FileInfo
	lock     *lock
	holder   holder
	backing  sync.Mutex // one backup at a time
	noting   sync.Mutex // of what is remembered of the second place

	name       string       // of the collection, by its form
	writing    sync.Mutex   // one update at a time; holds what follows
	watch      watch        // of the open file
	looked     time.Time    // when the folder was changed last, as far as was looked
	conflicted bool         // another state lay beside the file then
	exchanging sync.RWMutex // the file is exchanged for another while nobody reads
}

var _ collection.Store = (*Store)(nil)

// form is the control record "form": what the file is.
type form struct {
	Schema int    `json:"schema"`
	Name   string `json:"name"` // a random name, so that copies of one collection are known as such
}

var formKey = []byte("form")

// Exists reports whether a folder holds a collection.
func Exists(folder string) bool {
	_, err := os.Stat(filepath.Join(folder, fileName))
	return err == nil
}

// Open opens the collection of a folder for reading and writing, and makes it if
// there is none. It fails with *AlreadyOpen or *Fault. After an unclean end the
// whole file is verified first; a bad one is ErrDamaged and stays as it is.
func Open(folder string, o Options) (*Store, error) {
	o, err := o.complete()
	if err != nil {
		return nil, err
	}
	if err := makeFolders(folder); err != nil {
		return nil, err
	}
	l, err := takeLock(folder, o)
	if err != nil {
		return nil, err
	}
	s := &Store{folder: folder, path: filepath.Join(folder, fileName), options: o, lock: l}
	if err = s.sweep(); err == nil {
		err = s.open()
	}
	if err != nil {
		l.abandon()
		return nil, err
	}
	return s, nil
}

func (o Options) complete() (Options, error) {
	if o.Now == nil {
		return o, errors.New("open a collection: Options needs a clock")
	}
	if o.Machine == "" {
		name, err := os.Hostname()
		if err != nil {
			return o, fmt.Errorf("open a collection: %w", err)
		}
		o.Machine = name
	}
	if o.Verifier == nil {
		o.Verifier = func(path string) (Report, error) {
			return Report{}, &Fault{Kind: ErrUnverified, Path: path}
		}
	}
	return o, nil
}

func makeFolders(folder string) error {
	for _, name := range []string{"", PhotosFolder, BackupsFolder, DraftsFolder} {
		path := filepath.Join(folder, name)
		if noFolder(path) {
			return &Fault{Kind: ErrNoFolder, Path: path}
		}
		if err := os.MkdirAll(path, 0o700); err != nil {
			return fault(path, "make the folder", err)
		}
	}
	return nil
}

// noFolder reports whether something else than a folder, or than a link to one, lies at
// a path.
func noFolder(path string) bool {
	if _, err := os.Lstat(path); err != nil {
		return false
	}
	info, err := os.Stat(path)
	return errors.Is(err, fs.ErrNotExist) || err == nil && !info.IsDir()
}

// unfinished is a backup that is not whole yet.
const unfinished = "unfinished.new"

// sweep clears away what an end in between left half done: it may hold what was
// forgotten since.
func (s *Store) sweep() error {
	left := []string{s.path + ".new", filepath.Join(s.folder, BackupsFolder, unfinished)}
	var errs []error
	for _, name := range []string{"", PhotosFolder, filepath.Join(PhotosFolder, derivedFolder), BackupsFolder, DraftsFolder} {
		folder := filepath.Join(s.folder, name)
		errs = append(errs, eachIn(folder, func(entry fs.DirEntry) {
			if entry.Type().IsRegular() && disk.Unfinished(entry.Name()) {
				left = append(left, filepath.Join(folder, entry.Name()))
			}
		}))
	}
	for _, path := range left {
		errs = append(errs, removeIfThere(path))
	}
	return errors.Join(errs...)
}

func (s *Store) open() error {
	err := s.prepare()
	if err == nil {
		err = s.connect()
	}
	if err != nil {
		return err
	}
	f, err := s.form()
	if err != nil {
		return errors.Join(err, s.shut())
	}
	s.name = f.Name
	s.ForwardRequested() // one that nobody answered is out of date
	s.holder = holder{Machine: s.options.Machine, Since: s.options.Now()}
	if err := s.lock.write(s.holder); err != nil {
		return errors.Join(fault(s.folder, "write the lock file", err), s.shut())
	}
	return nil
}

// prepare makes the file or makes sure that it can be trusted.
func (s *Store) prepare() error {
	info, err := os.Stat(s.path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return s.create()
	case err != nil:
		return fault(s.path, "look for the collection", err)
	case info.Size() == 0: // bbolt would make a new, empty collection of it
		return &Fault{Kind: ErrDamaged, Path: s.path, Err: errors.New("the file is empty")}
	case !s.lock.last.clean(s.path):
		report, err := s.options.Verifier(s.path)
		if err != nil {
			return err
		}
		return report.fault(s.path)
	}
	return refuseNewer(s.path)
}

// create makes an empty collection, unless what lies in the folder shows that
// there was one.
func (s *Store) create() error {
	snapshots, err := Snapshots(s.folder)
	if err != nil {
		return err
	}
	left := len(snapshots)
	for _, name := range []string{PhotosFolder, DraftsFolder} {
		files, err := os.ReadDir(filepath.Join(s.folder, name))
		if err != nil {
			return fault(s.folder, "look for photos and drafts", err)
		}
		left += len(files)
	}
	if left > 0 {
		return &Fault{Kind: ErrMissing, Path: s.path}
	}
	return build(s.path, func(s *Store) error { return s.Update(writeForm) })
}

func writeForm(w collection.Writer) error {
	value, err := json.Marshal(form{Schema: Schema, Name: randomName()})
	if err != nil {
		return err
	}
	return w.Put(collection.Control, formKey, value)
}

// connect opens the file for writing.
func (s *Store) connect() error {
	var err error
	var o bolt.Options
	file := holding(&o)
	if s.storm, err = openStorm(s.path, o); err != nil {
		return s.busy(err)
	}
	s.watch.file = *file
	if s.opened, err = os.Stat(s.path); err != nil {
		return errors.Join(fault(s.path, "look at the open file", err), s.shut())
	}
	s.looked, s.conflicted = time.Time{}, false
	last := 0
	err = s.enter(func() error { return s.bolt().View(func(tx *bolt.Tx) error { last = tx.ID(); return nil }) })
	if err == nil {
		err = s.watch.follow(uint64(last))
	}
	if err != nil {
		return errors.Join(fault(s.path, "look at the open file", err), s.shut())
	}
	return nil
}

func (s *Store) busy(err error) error {
	if errors.Is(err, bolterrors.ErrTimeout) {
		return &AlreadyOpen{Path: s.folder, Machine: s.options.Machine}
	}
	return err
}

// lockPatience is how long a file that another holds is waited for.
const lockPatience = time.Second

// openStorm opens bbolt itself and gives it to Storm, because Storm keeps the
// file locked when it refuses a file. Without a time limit a second start would
// wait for ever.
func openStorm(path string, o bolt.Options) (*storm.DB, error) {
	o.Timeout, o.FreelistType = lockPatience, bolt.FreelistMapType
	var db *storm.DB
	err := guard(func() error {
		b, err := bolt.Open(path, 0o600, &o)
		if err != nil {
			return err
		}
		if db, err = storm.Open("", storm.UseDB(b), storm.Codec(codec{})); err != nil {
			return errors.Join(err, b.Close())
		}
		return nil
	})
	if err != nil {
		return nil, fault(path, "open the file", err)
	}
	return db, nil
}

// OpenToRead opens the collection of a folder for reading only and writes nothing
// into the folder, which may lie on a medium that cannot be written to. One that
// is open on this machine is *AlreadyOpen; one that another machine has open in a
// shared folder is read as it lies there. As with Open, the whole file is
// verified first after an unclean end.
func OpenToRead(folder string, o Options) (*Store, error) {
	o, err := o.complete()
	if err != nil {
		return nil, err
	}
	l, err := readLock(folder, o)
	if err != nil {
		return nil, err
	}
	s, err := readVerified(filepath.Join(folder, fileName), l, o)
	if err != nil {
		l.abandon()
		return nil, err
	}
	s.lock = l
	return s, nil
}

func readVerified(path string, l *lock, o Options) (*Store, error) {
	if !l.last.clean(path) {
		report, err := o.Verifier(path)
		if err == nil {
			err = report.fault(path)
		}
		if err != nil {
			return nil, err
		}
	}
	return OpenReadOnly(path)
}

// OpenVerified opens one file, such as a backup, for reading after it was verified
// as a whole.
func OpenVerified(path string, o Options) (*Store, error) {
	o, err := o.complete()
	if err != nil {
		return nil, err
	}
	return readVerified(path, &lock{}, o)
}

// OpenReadOnly opens one file, such as a snapshot, for reading. Updates fail
// with ErrReadOnly. A newer form is refused with ErrNewer.
func OpenReadOnly(path string) (*Store, error) {
	if info, err := os.Stat(path); err != nil {
		return nil, fault(path, "look for the file", err)
	} else if info.Size() == 0 {
		return nil, &Fault{Kind: ErrDamaged, Path: path, Err: errors.New("the file is empty")}
	}
	o := bolt.Options{ReadOnly: true}
	file := holding(&o)
	db, err := openStorm(path, o)
	if err != nil {
		return nil, foreign(path, err)
	}
	s := &Store{path: path, readOnly: true, storm: db}
	s.watch.file = *file
	if err := s.watch.follow(0); err != nil {
		return nil, errors.Join(fault(path, "look at the open file", err), s.shut())
	}
	if err := s.known(); err != nil {
		return nil, foreign(path, errors.Join(err, s.Close()))
	}
	return s, nil
}

// foreign tells a file that was never a collection from a damaged one, which can
// be salvaged: the mark of our records is nowhere in it. One of nothing but zeros
// may be what a power cut left of a collection.
func foreign(path string, err error) error {
	var known *Fault
	if !errors.As(err, &known) || known.Kind != ErrDamaged && known.Kind != ErrUnknown || errors.Is(err, bolterrors.ErrTimeout) {
		return err
	}
	data, readError := os.ReadFile(path)
	if readError != nil || bytes.Contains(data, []byte(mark)) || len(bytes.Trim(data, "\x00")) == 0 {
		return err
	}
	return &Fault{Kind: ErrForeign, Path: path, Err: known.Err}
}

// refuseNewer looks at a file's form without opening it for writing.
func refuseNewer(path string) error {
	s, err := OpenReadOnly(path)
	if err != nil {
		return err
	}
	return s.Close()
}

// known fails if the form is newer than this program, or no form at all.
func (s *Store) known() error {
	f, err := s.form()
	if err != nil {
		return err
	}
	if f.Schema > Schema {
		return &Fault{Kind: ErrNewer, Path: s.path, Err: fmt.Errorf("form %d, known up to %d", f.Schema, Schema)}
	}
	return nil
}

func (s *Store) form() (f form, err error) {
	err = s.View(func(r collection.Reader) (err error) {
		f, err = formOf(r)
		return err
	})
	if errors.Is(err, model.ErrNotFound) || err == nil && f.Schema < 1 {
		err = errors.New("it has no form of a collection")
	}
	if err == nil {
		return f, nil
	}
	var known *Fault
	if errors.As(err, &known) {
		return f, err
	}
	return f, &Fault{Kind: ErrDamaged, Path: s.path, Err: err}
}

func formOf(r collection.Reader) (f form, err error) {
	value, err := r.Get(collection.Control, formKey)
	if err == nil {
		err = json.Unmarshal(value, &f)
	}
	return f, err
}

// Another reports whether a file holds another collection than this one, and not an
// earlier or later state of it.
func (s *Store) Another(other *Store) (bool, error) {
	own, err := s.form()
	if err != nil {
		return false, err
	}
	its, err := other.form()
	return err == nil && own.Name != its.Name, err
}

// NameOf is what the collection is called that a backup is of: as its folder.
func NameOf(backup string) string {
	folder := filepath.Dir(backup)
	if filepath.Base(folder) == BackupsFolder {
		return filepath.Base(filepath.Dir(folder))
	}
	return filepath.Base(backup)
}

// Folder is the collection's folder; empty if opened for reading only.
func (s *Store) Folder() string { return s.folder }

// ReadOnly reports whether the store was opened for reading only.
func (s *Store) ReadOnly() bool { return s.readOnly }

// Close ends the use of the store and notes that it ended in order. It waits for
// views and updates that still run.
func (s *Store) Close() error {
	disturbed := s.View(func(r collection.Reader) error { return s.own(r) })
	if err := s.shut(); err != nil {
		if s.lock != nil {
			s.lock.abandon()
		}
		return fault(s.path, "close the file", err)
	}
	if s.lock == nil {
		return nil
	}
	if s.readOnly {
		s.lock.abandon()
		return nil
	}
	state, err := stateOf(s.path)
	if err != nil || disturbed != nil || s.sameFile() != nil {
		s.lock.abandon()
		return fault(s.path, "look at the closed file", err)
	}
	s.holder.Closed = state
	return fault(s.folder, "write the lock file", s.lock.release(s.holder))
}
