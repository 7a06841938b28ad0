package photo

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"log/slog"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"sync"
	"time"

	"coilward/model"
	"coilward/model/disk"
	"coilward/model/label"
)

// Inbox is a folder that something else fills, such as a phone. Its pictures are
// read and never changed. What was read of each is remembered by its name, size
// and time, so that looking again costs no reading. It may be used from any
// goroutine; a second look waits for the first, and finds what that has read.
type Inbox struct {
	photos *Folder
	path   string
	mutex  sync.Mutex
	memory memory
	lost   bool       // what was remembered could not be read
	large  sync.Mutex // held while a picture is read that needs much memory
}

// memory is what is remembered of inboxes, beside the photos.
type memory struct {
	Folder string          `json:"folder"`
	Read   map[string]read `json:"read"` // by name within the folder
	// LeftOut are those that somebody said are not for the collection.
	LeftOut map[model.PhotoID]bool `json:"leftOut"`
	// PutAway are the files that are no photo and that somebody does not want to see
	// any more, by folder and name.
	PutAway map[string]stamp `json:"putAway,omitempty"`
}

// stamp tells a file from another one of its name.
type stamp struct {
	Size    int64 `json:"size"`
	Changed int64 `json:"changed"` // nanoseconds since 1970
}

// read is what was read of one file.
type read struct {
	Size    int64         `json:"size"`
	Changed int64         `json:"changed"` // nanoseconds since 1970
	ID      model.PhotoID `json:"id,omitempty"`
	Taken   Taken         `json:"taken,omitzero"`
	Card    string        `json:"card,omitempty"`
	Looked  bool          `json:"looked,omitempty"`  // the picture itself was looked at, not only its bytes
	Refused *refused      `json:"refused,omitempty"` // why it is no photo
}

type refused struct {
	Reason string               `json:"reason"`
	Gaps   map[string]model.Gap `json:"gaps,omitempty"`
}

// largeHEIC is how many pixels a HEIC may have that is read together with another: of
// one with 12 million pixels the reader takes some 250 MB.
const largeHEIC = 16_000_000

const (
	memoryFile = "inbox.json"
	// after so many pictures what was read is written down, for one who ends the
	// program meanwhile
	rememberedEvery = 20
	unreadable      = "photo.unreadable"
)

// OpenInbox opens the inbox that lies at path; its pictures are kept in f.
func (f *Folder) OpenInbox(path string) (*Inbox, error) {
	b := &Inbox{photos: f, path: path}
	raw, err := os.ReadFile(filepath.Join(f.path, memoryFile))
	switch {
	case errors.Is(err, fs.ErrNotExist):
	case err != nil:
		return nil, fmt.Errorf("read what is remembered of the inbox: %w", err)
	case json.Unmarshal(raw, &b.memory) != nil:
		b.memory, b.lost = memory{}, true
		slog.Warn("what is remembered of the inbox is damaged and begun anew", "file", memoryFile)
	}
	if b.memory.Folder != path {
		b.memory.Folder, b.memory.Read = path, nil
	}
	if b.memory.Read == nil {
		b.memory.Read = map[string]read{}
	}
	if b.memory.LeftOut == nil {
		b.memory.LeftOut = map[model.PhotoID]bool{}
	}
	if b.memory.PutAway == nil {
		b.memory.PutAway = map[string]stamp{}
	}
	return b, nil
}

// Listing is what waits in an inbox.
type Listing struct {
	Waiting []Shot
	LeftOut []Shot
	Kept    []Shot           // in the collection already
	Bad     []*model.Refusal // files that are no photo, each with its name
	PutAway []*model.Refusal // those of them that somebody has seen and put away
	Older   int              // pictures from before the day that was asked from
	Lost    bool             // what was left out before is not known any more
}

// file is one picture in the inbox.
type file struct {
	name    string
	size    int64
	changed time.Time
}

// Look reads what is new in the inbox from a moment on, by the files' own times
// (zero: everything). kept are the photos that the collection has already. What was
// read before it was stopped is remembered.
func (b *Inbox) Look(ctx context.Context, from model.Moment, now model.Moment, kept map[model.PhotoID]bool, progress func(share float64)) (Listing, error) {
	b.mutex.Lock()
	defer b.mutex.Unlock()
	files, older, err := b.files(from)
	if err != nil {
		return Listing{}, err
	}
	l := Listing{Older: older, Lost: b.lost}
	var unread []file
	for _, f := range files {
		if !b.known(f, kept) {
			unread = append(unread, f)
		}
	}
	if err := b.readAll(ctx, unread, kept, progress); err != nil {
		return Listing{}, err
	}
	seen := map[model.PhotoID]bool{}
	for _, f := range files {
		r := b.memory.Read[f.name]
		switch {
		case r.Refused != nil:
			bad := &model.Refusal{Field: "photo", Value: f.name, Reason: r.Refused.Reason, Gaps: r.Refused.Gaps, Answer: model.Mend}
			if b.memory.PutAway[b.pathOf(f.name)] == (stamp{r.Size, r.Changed}) {
				l.PutAway = append(l.PutAway, bad)
			} else {
				l.Bad = append(l.Bad, bad)
			}
		case r.ID == "" || seen[r.ID]: // gone meanwhile, or twice in the folder
		case kept[r.ID]:
			seen[r.ID] = true
			l.Kept = append(l.Kept, r.shot(f, now))
		case b.memory.LeftOut[r.ID]:
			seen[r.ID] = true
			l.LeftOut = append(l.LeftOut, r.shot(f, now))
		default:
			seen[r.ID] = true
			l.Waiting = append(l.Waiting, r.shot(f, now))
		}
	}
	return l, nil
}

func (r read) shot(f file, now model.Moment) Shot {
	s := Shot{ID: r.ID, Name: f.name, At: r.Taken.Moment(now), Dated: ByCamera}
	if s.At.IsZero() || now.Before(s.At) { // a clock that is ahead says nothing
		s.At, s.Dated = model.MomentOf(f.changed.In(now.Time().Location())), ByFile
		s.At.Zone = now.Zone
	}
	if card, ok := label.Parse(r.Card); ok {
		s.Card = card
	}
	return s
}

// known reports whether all that is needed of a file was read before.
func (b *Inbox) known(f file, kept map[model.PhotoID]bool) bool {
	r, there := b.memory.Read[f.name]
	if !there || r.Size != f.size || r.Changed != f.changed.UnixNano() {
		return false
	}
	if r.Refused != nil {
		return r.Refused.Reason != unreadable // that may pass
	}
	return kept[r.ID] || r.Looked
}

// root is the folder that the inbox's path leads to, which may be by a link.
func (b *Inbox) root() (string, error) {
	root, err := filepath.EvalSymlinks(b.path)
	if err != nil {
		return "", fmt.Errorf("look into the folder %s: %w", b.path, err)
	}
	info, err := os.Stat(root)
	switch {
	case err != nil:
		return "", fmt.Errorf("look into the folder %s: %w", b.path, err)
	case !info.IsDir():
		return "", &model.Refusal{Field: "inbox", Value: b.path, Reason: "inbox.no-folder", Answer: model.Mend}
	}
	return root, nil
}

// files are the pictures in the inbox and its folders, by name. Hidden ones are
// left alone: phones keep previews and what was deleted there.
func (b *Inbox) files(from model.Moment) (all []file, older int, err error) {
	root, err := b.root()
	if err != nil {
		return nil, 0, err
	}
	err = filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		switch {
		case err != nil && path == root:
			return err
		case err != nil:
			return nil // a folder in it that cannot be read, or that went meanwhile
		case path != root && strings.HasPrefix(d.Name(), ".") && d.IsDir():
			return fs.SkipDir
		case !d.Type().IsRegular() || strings.HasPrefix(d.Name(), ".") || !pictureName(d.Name()):
			return nil
		}
		info, err := d.Info()
		if err != nil {
			return nil // it went meanwhile
		}
		if !from.IsZero() && info.ModTime().Unix() < from.UTC {
			older++
			return nil
		}
		name, err := filepath.Rel(root, path)
		if err != nil {
			return err
		}
		all = append(all, file{name: filepath.ToSlash(name), size: info.Size(), changed: info.ModTime()})
		return nil
	})
	if err != nil {
		return nil, 0, fmt.Errorf("look into the folder %s: %w", b.path, err)
	}
	return all, older, nil
}

func pictureName(name string) bool {
	ending := filepath.Ext(name)
	return ending != "" && (named(name, JPEG) || named(name, PNG) || named(name, HEIC))
}

// atOnce is how many pictures are read at the same time, where there are as many
// processors.
const atOnce = 2

// readAll reads files and remembers what was read of them. What was read before it
// was stopped, or before it could no longer be remembered, is not read again.
func (b *Inbox) readAll(ctx context.Context, unread []file, kept map[model.PhotoID]bool, progress func(share float64)) error {
	if len(unread) == 0 {
		return nil
	}
	ctx, stop := context.WithCancelCause(ctx)
	defer stop(nil)
	next := make(chan file)
	go func() {
		defer close(next)
		for _, f := range unread {
			if ctx.Err() != nil {
				return
			}
			select {
			case next <- f:
			case <-ctx.Done():
				return
			}
		}
	}()
	type one struct {
		name string
		read read
	}
	found := make(chan one)
	var readers sync.WaitGroup
	for range min(atOnce, runtime.GOMAXPROCS(0)) {
		readers.Go(func() {
			for f := range next {
				found <- one{f.name, b.read(f, kept)}
			}
		})
	}
	go func() {
		readers.Wait()
		close(found)
	}()
	done := 0
	for one := range found {
		b.memory.Read[one.name] = one.read
		done++
		if done%rememberedEvery == 0 {
			if err := b.remember(); err != nil {
				stop(err)
			}
		}
		progress(float64(done) / float64(len(unread)))
	}
	if done < len(unread) {
		return errors.Join(context.Cause(ctx), b.remember())
	}
	return b.remember()
}

// read reads one file: its bytes' name, when it was taken, and the card in it; and
// makes the pictures of it that are shown.
func (b *Inbox) read(f file, kept map[model.PhotoID]bool) read {
	r := read{Size: f.size, Changed: f.changed.UnixNano()}
	raw, err := b.bytes(f)
	if err != nil {
		var why *model.Refusal
		switch {
		case errors.As(err, &why):
			r.Refused = &refused{why.Reason, why.Gaps}
		case !errors.Is(err, fs.ErrNotExist):
			r.Refused = &refused{Reason: unreadable}
		}
		return r
	}
	kind, size, why := inspect(f.name, raw)
	if why != nil {
		r.Refused = &refused{why.Reason, why.Gaps}
		return r
	}
	r.ID, r.Taken = idOf(raw), ReadNote(raw).Taken
	if kept[r.ID] {
		return r
	}
	if kind == HEIC && size.X*size.Y > largeHEIC {
		b.large.Lock()
		defer b.large.Unlock()
	}
	decoded, err := decode(kind, raw)
	if err != nil {
		r.ID, r.Refused = "", &refused{Reason: "photo.damaged"}
		return r
	}
	page, err := b.photos.make(r.ID, decoded, turnOf(kind, raw))
	if err != nil {
		r.ID, r.Refused = "", &refused{Reason: "photo.damaged"}
		return r
	}
	card := cardOf(page)
	if larger := 2 * Page; card == (label.Label{}) && max(decoded.Bounds().Dx(), decoded.Bounds().Dy()) >= larger {
		card = cardOf(fitted(decoded, 1, larger)) // a card that was far away
	}
	if card != (label.Label{}) {
		r.Card = card.Text()
	}
	r.Looked = true
	return r
}

// bytes are those of a file; what is too large is not read.
func (b *Inbox) bytes(f file) ([]byte, error) {
	if f.size > MaxBytes {
		return nil, tooLarge(f.name)
	}
	opened, err := os.Open(b.pathOf(f.name))
	if err != nil {
		return nil, err
	}
	defer opened.Close()
	return io.ReadAll(io.LimitReader(opened, MaxBytes+1))
}

// Keep takes a picture of the inbox into the collection's photos. One that has
// changed or gone since it was listed is refused, a *model.Refusal.
func (b *Inbox) Keep(s Shot) error {
	raw, err := b.bytes(file{name: s.Name})
	if errors.Is(err, fs.ErrNotExist) {
		return refuse(s.Name, "photo.gone", nil)
	}
	if err != nil {
		return fmt.Errorf("read the picture %s in %s: %w", s.Name, b.path, err)
	}
	if idOf(raw) != s.ID {
		return refuse(s.Name, "photo.other", nil)
	}
	_, err = b.photos.Keep(s.Name, bytes.NewReader(raw))
	return err
}

// Picture is the made picture of a shot, as Folder.JPEG has it; it stands without
// the photo being kept.
func (b *Inbox) Picture(id model.PhotoID, longest int) ([]byte, bool) {
	if !valid(id) {
		return nil, false
	}
	return sealed(id, b.photos.derived(id, longest))
}

// LeaveOut remembers that these are not for the collection; BringBack forgets it.
func (b *Inbox) LeaveOut(ids ...model.PhotoID) error {
	b.mutex.Lock()
	defer b.mutex.Unlock()
	for _, id := range ids {
		b.memory.LeftOut[id] = true
	}
	return b.remember()
}

// BringBack lets these wait again.
func (b *Inbox) BringBack(ids ...model.PhotoID) error {
	b.mutex.Lock()
	defer b.mutex.Unlock()
	for _, id := range ids {
		delete(b.memory.LeftOut, id)
	}
	return b.remember()
}

// PutAway remembers that these files, which are no photo, need not be named any
// more, as long as they stay as they are; TakeUp forgets it. names are those within
// the folder.
func (b *Inbox) PutAway(names ...string) error {
	b.mutex.Lock()
	defer b.mutex.Unlock()
	for _, name := range names {
		if r, there := b.memory.Read[name]; there && r.Refused != nil {
			b.memory.PutAway[b.pathOf(name)] = stamp{r.Size, r.Changed}
		}
	}
	return b.remember()
}

// TakeUp names these files again.
func (b *Inbox) TakeUp(names ...string) error {
	b.mutex.Lock()
	defer b.mutex.Unlock()
	for _, name := range names {
		delete(b.memory.PutAway, b.pathOf(name))
	}
	return b.remember()
}

// pathOf is where a file of the inbox lies.
func (b *Inbox) pathOf(name string) string {
	return filepath.Join(b.path, filepath.FromSlash(name))
}

func (b *Inbox) remember() error {
	raw, err := json.Marshal(b.memory)
	if err == nil {
		err = disk.Write(filepath.Join(b.photos.path, memoryFile), raw)
	}
	if err != nil {
		return fmt.Errorf("remember what was seen in the inbox: %w", err)
	}
	return nil
}

// tablesKey stands before the hash of tables that a document was judged by, which has the
// form of a photo's name and is none.
var tablesKey = []byte(`"tables":`)

// Named are all photos that a document's body names, wherever they stand in it, those of
// kinds that only a newer version knows too.
func Named(body []byte) []model.PhotoID {
	const digits = 64
	var ids []model.PhotoID
	for at := 0; ; {
		quote := bytes.IndexByte(body[at:], '"')
		if quote < 0 {
			return ids
		}
		before := body[:at+quote]
		at += quote + 1
		if rest := body[at:]; len(rest) > digits && rest[digits] == '"' && valid(model.PhotoID(rest[:digits])) {
			if id := model.PhotoID(rest[:digits]); !bytes.HasSuffix(bytes.TrimRight(before, " \t\r\n"), tablesKey) && !slices.Contains(ids, id) {
				ids = append(ids, id)
			}
			at += digits
		}
	}
}

// In are the photos that a collection names.
func In(v model.View) (map[model.PhotoID]bool, error) {
	all := map[model.PhotoID]bool{}
	for _, t := range model.DocumentTypes() {
		err := v.All(t, func(d model.Document) bool {
			for _, id := range Named(d.Body) {
				all[id] = true
			}
			return true
		})
		if err != nil {
			return nil, fmt.Errorf("look for the photos of the collection: %w", err)
		}
	}
	return all, nil
}
