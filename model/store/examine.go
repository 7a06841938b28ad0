package store

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"coilward/model"
)

// Wrong is what is wrong with a file. The values are frozen: each has its texts.
type Wrong string

// What can be wrong.
const (
	WrongPhoto  Wrong = "photo"  // its bytes are not those it is named after
	WrongGone   Wrong = "gone"   // a record names this photo, and it is not there
	WrongBackup Wrong = "backup" // its sum does not fit
	WrongNoSum  Wrong = "no-sum" // a backup without its sum: it was never read back whole
	WrongKind   Wrong = "kind"   // a link, a pipe or a folder where a file belongs; it is not followed
	WrongUnread Wrong = "unread" // the system could not read it
	WrongKey    Wrong = "key"    // the sum of an encrypted copy of a key does not fit
	// WrongFolder: a file, or a link that leads nowhere, where a folder of photos or
	// backups belongs.
	WrongFolder Wrong = "folder"
)

// Wrongs are all that can be wrong.
func Wrongs() []Wrong {
	return []Wrong{WrongPhoto, WrongGone, WrongBackup, WrongNoSum, WrongKind, WrongUnread, WrongKey, WrongFolder}
}

// Finding is a file beside the collection's own that is not as it should be.
type Finding struct {
	Path   string
	What   Wrong
	Second bool      // it lies at the second place
	Good   time.Time // when it was last found good; zero: not since it was put there
	Twin   string    // a good copy at the other place; empty: none was found
}

// Examined is what was found beside a collection's file, at both places.
type Examined struct {
	Photos, Backups int // that are as they were kept
	Second          string
	Away            bool // a second place was chosen, and is not there just now
	Found           []Finding
}

// Keys are the texts that say what is wrong, when the file was good and what to do, in
// this order. They have the gaps When, which is Good, and Twin.
func (f Finding) Keys() []string {
	keys := []string{"keeping.wrong." + string(f.What)}
	switch f.What {
	case WrongPhoto, WrongBackup:
		if f.Good.IsZero() {
			keys = append(keys, "keeping.good.put")
		} else {
			keys = append(keys, "keeping.good.at")
		}
	}
	switch {
	case f.What == WrongKind || f.What == WrongFolder:
	case f.Twin != "":
		keys = append(keys, "keeping.twin")
	case f.What == WrongPhoto || f.What == WrongGone:
		keys = append(keys, "keeping.twin.none")
	case f.What == WrongKey:
		keys = append(keys, "keeping.twin.key")
	case f.What == WrongBackup || f.What == WrongNoSum:
		keys = append(keys, "keeping.twin.others")
	}
	return keys
}

// Mendable tells whether Mend can bring the file anew.
func (f Finding) Mendable() bool { return f.Twin != "" && f.What != WrongKind && f.What != WrongFolder }

// heldFile is a file that is to be read, or is known to be wrong already.
type heldFile struct {
	Finding
	name string // within photos or backups
	sum  string // what its bytes are to sum up to
	size int64
}

// Examine reads every photo and every backup of a folder, and of its second place on
// this machine, and holds each against its sum. named are the photos that records
// name; nil: it is not known. It follows no link and waits for no pipe. It writes
// nothing. progress gets the share of the bytes that were read; it ends with the error
// of ctx before the next file once that is done.
func Examine(ctx context.Context, folder string, o Options, named map[model.PhotoID]bool, progress func(share float64)) (Examined, error) {
	var e Examined
	o, err := o.complete()
	if err != nil {
		return e, err
	}
	chosen, hasSecond, err := Second(folder, o.Machine)
	if err != nil {
		return e, err
	}
	files, err := heldIn(folder, named)
	if err != nil {
		return e, err
	}
	if hasSecond {
		e.Second = chosen.Folder
		there, err := heldThere(chosen, named)
		if e.Away = errors.Is(err, ErrAway); err != nil && !e.Away {
			return e, err
		}
		files = append(files, there...)
	}
	var all, read int64
	for _, f := range files {
		all += f.size
	}
	good := map[bool]map[string]string{false: {}, true: {}} // by place: name to path
	for i := range files {
		if err := ctx.Err(); err != nil {
			return Examined{}, err
		}
		f := &files[i]
		if f.What == "" {
			if f.What = f.check(); f.What == WrongUnread && f.rotated() {
				f.What = wentAway
			}
		}
		if read += f.size; all > 0 {
			progress(float64(read) / float64(all))
		}
		if f.What == "" {
			good[f.Second][f.name] = f.Path
		}
	}
	for _, f := range files {
		switch {
		case f.What == wentAway:
		case f.What == "" && strings.HasSuffix(f.name, snapshotEnd):
			e.Backups++
		case f.What == "" && isKeyCopy(f.name): // it is no backup of the collection, and no photo
		case f.What == "":
			e.Photos++
		case f.What == WrongGone && f.Second && twin(good[false], f.name) == "": // it is gone at both, and said of the first
		default:
			f.Twin = twin(good[!f.Second], f.name)
			e.Found = append(e.Found, f.Finding)
		}
	}
	return e, nil
}

// twin is the good file of that name, or of that sum where the name has no ending.
func twin(good map[string]string, name string) string {
	if path := good[name]; path != "" || filepath.Ext(name) != "" {
		return path
	}
	for other, path := range good {
		if strings.TrimSuffix(other, filepath.Ext(other)) == name {
			return path
		}
	}
	return ""
}

// heldThere is heldIn for a second place.
func heldThere(chosen SecondPlace, named map[model.PhotoID]bool) ([]heldFile, error) {
	if info, err := os.Stat(chosen.Inside); err != nil || !info.IsDir() {
		return nil, &Fault{Kind: ErrAway, Path: chosen.Inside, Err: err}
	}
	if chosen.Whole.IsZero() { // not everything was brought there yet
		named = nil
	}
	files, err := heldIn(chosen.Inside, named)
	for i := range files {
		f := &files[i]
		f.Second = true
		info, err := os.Lstat(f.Path)
		if f.Good.IsZero() && err == nil && info.ModTime().Before(chosen.Checked) {
			f.Good = chosen.Checked
		}
	}
	return files, err
}

// heldIn are the photos and backups of a folder.
func heldIn(folder string, named map[model.PhotoID]bool) ([]heldFile, error) {
	var files []heldFile
	there := map[model.PhotoID]bool{}
	photos := filepath.Join(folder, PhotosFolder)
	for _, name := range []string{PhotosFolder, BackupsFolder} {
		if path := filepath.Join(folder, name); noFolder(path) {
			files = append(files, heldFile{Finding: Finding{Path: path, What: WrongFolder}, name: name})
		}
	}
	err := eachIn(photos, func(entry fs.DirEntry) {
		f := heldFile{Finding: Finding{Path: filepath.Join(photos, entry.Name())}, name: entry.Name()}
		f.sum = strings.TrimSuffix(f.name, filepath.Ext(f.name))
		switch {
		case !entry.Type().IsRegular():
			if entry.IsDir() && entry.Name() == derivedFolder {
				return
			}
			f.What = WrongKind
		case !isSum(f.sum):
			return
		}
		there[model.PhotoID(f.sum)] = true
		files = append(files, f.measured(entry))
	})
	if err != nil {
		return nil, err
	}
	for id := range named {
		if !there[id] {
			files = append(files, heldFile{Finding: Finding{Path: filepath.Join(photos, string(id)), What: WrongGone}, name: string(id)})
		}
	}
	backups := filepath.Join(folder, BackupsFolder)
	err = eachIn(backups, func(entry fs.DirEntry) {
		f := heldFile{Finding: Finding{Path: filepath.Join(backups, entry.Name())}, name: entry.Name()}
		s, is := parseSnapshotName(f.name)
		switch {
		case !entry.Type().IsRegular():
			f.What = WrongKind
		case isKeyCopy(f.name) && summed(f.Path):
			f.What = f.readSum()
		case !is:
			return
		default:
			f.Good, f.What = s.Taken, f.readSum()
		}
		files = append(files, f.measured(entry))
	})
	slices.SortStableFunc(files, func(a, b heldFile) int { return strings.Compare(a.Path, b.Path) })
	return files, err
}

// derivedFolder holds pictures made of the photos: they are made again where they are
// not good.
const derivedFolder = "derived"

// eachIn visits what lies in a folder; of none, or of what is none, nothing.
func eachIn(folder string, visit func(fs.DirEntry)) error {
	if noFolder(folder) {
		return nil
	}
	entries, err := os.ReadDir(folder)
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	for _, entry := range entries {
		visit(entry)
	}
	return fault(folder, "list the files", err)
}

func (f heldFile) measured(entry fs.DirEntry) heldFile {
	if info, err := entry.Info(); err == nil && f.What == "" {
		f.size = info.Size()
	}
	return f
}

// readSum reads what a snapshot is to sum up to.
func (f *heldFile) readSum() Wrong {
	line, err := readPlain(f.Path + sumEnd)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		f.Good = time.Time{}
		return WrongNoSum
	case errors.Is(err, errNoFile): // the sum itself is named
		f.Good = time.Time{}
		return WrongNoSum
	case err != nil:
		return WrongUnread
	}
	f.sum, _, _ = strings.Cut(string(line), " ")
	return ""
}

// check reads the file.
func (f *heldFile) check() Wrong {
	sum, err := sumOf(f.Path)
	switch {
	case err != nil:
		return WrongUnread
	case sum == f.sum:
		return ""
	case strings.HasSuffix(f.name, snapshotEnd):
		return WrongBackup
	case isKeyCopy(f.name):
		return WrongKey
	}
	return WrongPhoto
}

// wentAway is no finding: an older backup made room for a newer one meanwhile.
const wentAway Wrong = "went away"

// rotated reports whether the file is a backup that is not there any more.
func (f *heldFile) rotated() bool {
	_, err := os.Lstat(f.Path)
	return strings.HasSuffix(f.name, snapshotEnd) && errors.Is(err, fs.ErrNotExist)
}

// errNoFile says that something else than a file lies there, which is neither followed
// nor waited for.
var errNoFile = errors.New("it is no file")

// openPlain opens a file, but no link, pipe or folder.
func openPlain(path string) (*os.File, error) {
	info, err := os.Lstat(path)
	if err != nil {
		return nil, err
	}
	if !info.Mode().IsRegular() {
		return nil, errNoFile
	}
	return os.Open(path)
}

func readPlain(path string) ([]byte, error) {
	f, err := openPlain(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	return io.ReadAll(f)
}

// sumOf is the SHA-256 of a file's bytes.
func sumOf(path string) (string, error) {
	f, err := openPlain(path)
	if err != nil {
		return "", err
	}
	defer f.Close()
	hash := sha256.New()
	if _, err := io.Copy(hash, f); err != nil {
		return "", err
	}
	return hex.EncodeToString(hash.Sum(nil)), nil
}

// Examine is Examine of the open collection. That everything at the second place is
// good is remembered, so that damage found later tells since when.
func (s *Store) Examine(ctx context.Context, named map[model.PhotoID]bool, progress func(share float64)) (Examined, error) {
	e, err := Examine(ctx, s.folder, s.options, named, progress)
	if err != nil || s.readOnly || e.Second == "" || e.Away || slices.ContainsFunc(e.Found, func(f Finding) bool { return f.Second }) {
		return e, err
	}
	chosen, ok, err := s.Second()
	if err != nil || !ok {
		return e, err
	}
	now := s.options.Now().UTC().Truncate(time.Second)
	return e, s.note(chosen, func(p *SecondPlace) { p.Checked = now })
}

// Mend brings each file that has a good copy at the other place anew from there, and
// tells how many. What lies in the way and is no file is left as it is.
func (s *Store) Mend(ctx context.Context, found []Finding) (mended int, err error) {
	if s.folder == "" || s.readOnly {
		return 0, &Fault{Kind: ErrReadOnly, Path: s.path}
	}
	s.backing.Lock()
	defer s.backing.Unlock()
	for _, f := range found {
		if !f.Mendable() {
			continue
		}
		if err := ctx.Err(); err != nil {
			return mended, err
		}
		if err := mend(f); err != nil {
			return mended, err
		}
		mended++
	}
	return mended, nil
}

// mend copies the good copy, if it is still the one that was found good: by its name,
// or by the sum beside it.
func mend(f Finding) error {
	twin := heldFile{Finding: Finding{Path: f.Twin}, name: filepath.Base(f.Twin)}
	twin.sum = strings.TrimSuffix(twin.name, filepath.Ext(twin.name))
	if hasSum(twin.name) && twin.readSum() != "" {
		return &Fault{Kind: ErrDamaged, Path: f.Twin, Err: errSum}
	}
	sum := twin.sum
	folder := filepath.Dir(f.Path)
	fresh, to := filepath.Join(folder, unfinished), filepath.Join(folder, filepath.Base(f.Twin))
	if err := copyChecked(f.Twin, fresh, sum); err != nil {
		return errors.Join(err, removeIfThere(fresh))
	}
	if hasSum(twin.name) {
		if err := writeSum(to, sum); err != nil {
			return errors.Join(err, removeIfThere(fresh))
		}
	}
	return place(fresh, to)
}
