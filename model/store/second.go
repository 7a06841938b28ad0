package store

import (
	"cmp"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"coilward/model"
)

// placesName is the file that says for each machine where its second place is: in
// a folder that several machines share, each has its own.
const placesName = "places.json"

// ErrAway says that a second place for backups is not there, such as a stick that
// is not plugged in.
var ErrAway = errors.New("not there")

// SecondPlace is a folder, best on another disk, that gets every backup and every
// photo too. What lies in it is laid out like a collection's own folder, so that
// it can be opened as one when the first place is lost.
type SecondPlace struct {
	Folder string    `json:"folder"`           // as it was chosen
	Inside string    `json:"inside"`           // the folder in it that is this collection's alone
	Whole  time.Time `json:"whole,omitzero"`   // when everything was last there; zero: never yet
	Since  time.Time `json:"since,omitzero"`   // when it failed for the first time after that; zero: it did not
	Why    SecondWhy `json:"why,omitempty"`    // it failed; empty: it did not
	Photos int       `json:"photos,omitempty"` // photos that are not there, because they are damaged or gone here
	// Checked is when every file there was last read and found good; zero: never yet.
	Checked time.Time `json:"checked,omitzero"`
}

// SecondWhy is why a second place failed. The values are frozen: they stand beside
// the collection, and each has its texts.
type SecondWhy string

// The reasons.
const (
	SecondAway      SecondWhy = "away"
	SecondFull      SecondWhy = "full"
	SecondReadOnly  SecondWhy = "readonly"
	SecondForbidden SecondWhy = "forbidden"
	SecondDamaged   SecondWhy = "damaged" // what was copied there reads back otherwise
	SecondUnknown   SecondWhy = "unknown"
)

// SecondWhys are all reasons.
func SecondWhys() []SecondWhy {
	return []SecondWhy{SecondAway, SecondFull, SecondReadOnly, SecondForbidden, SecondDamaged, SecondUnknown}
}

// Brought is what came to a second place.
type Brought struct {
	Inside    string // the folder of this collection in it
	Snapshots int    // copied now
	Photos    int    // copied now
	Damaged   int    // photos left out: their bytes are not those that were kept
	Missing   int    // photos that records name and that are at neither place
}

// SecondFault says why a second place could not be brought up to date. The
// collection and its first place are not touched by it.
type SecondFault struct {
	Folder string
	Fault  *Fault
}

// Error names folder and cause.
func (f *SecondFault) Error() string { return fmt.Sprintf("second place %s: %v", f.Folder, f.Fault) }

// Unwrap lets errors.Is find the kind.
func (f *SecondFault) Unwrap() error { return f.Fault }

// Why is the kind as SecondPlace has it.
func (f *SecondFault) Why() SecondWhy {
	switch f.Fault.Kind {
	case ErrAway:
		return SecondAway
	case ErrFull:
		return SecondFull
	case ErrReadOnly:
		return SecondReadOnly
	case ErrForbidden:
		return SecondForbidden
	case ErrDamaged:
		return SecondDamaged
	}
	return SecondUnknown
}

// Refusal is the fault in words by key: field "second", reason "second.full" and
// so on.
func (f *SecondFault) Refusal() *model.Refusal {
	return &model.Refusal{Field: "second", Value: f.Folder, Reason: "second." + string(f.Why()), Answer: model.Mend}
}

func secondFault(folder string, err error) error {
	if err == nil || errors.Is(err, context.Canceled) {
		return err
	}
	var known *Fault
	if !errors.As(fault(folder, "bring backups", err), &known) {
		return err
	}
	if info, err := os.Stat(folder); err != nil || !info.IsDir() { // pulled out meanwhile
		known = &Fault{Kind: ErrAway, Path: folder, Err: known}
	}
	return &SecondFault{Folder: folder, Fault: known}
}

// Second is the second place of a collection's folder on a machine, if one was
// chosen.
func Second(folder, machine string) (SecondPlace, bool, error) {
	all, err := places(folder)
	place, ok := all[machine]
	return place, ok, err
}

// NewestBackup is the newest good snapshot of a collection's folder; where none is
// left there, that of its second place on this machine.
func NewestBackup(folder string, o Options) (Snapshot, bool, error) {
	s, found, err := NewestSnapshot(folder)
	if found || err != nil {
		return s, found, err
	}
	if o, err = o.complete(); err != nil {
		return s, false, err
	}
	second, ok, err := Second(folder, o.Machine)
	if err != nil || !ok {
		return s, false, err
	}
	return newestOf(second.Inside, func(path string) bool { return strings.HasSuffix(second.Inside, markOf(path)) })
}

// Second is this collection's second place on this machine, if one was chosen.
func (s *Store) Second() (SecondPlace, bool, error) { return Second(s.folder, s.options.Machine) }

func places(folder string) (all map[string]SecondPlace, err error) {
	path := filepath.Join(folder, placesName)
	data, err := os.ReadFile(path)
	if errors.Is(err, fs.ErrNotExist) {
		return map[string]SecondPlace{}, nil
	}
	if err == nil {
		all = map[string]SecondPlace{}
		err = json.Unmarshal(data, &all)
	}
	return all, fault(path, "read the second place", err)
}

// note changes what is remembered of a second place, if it is still the chosen one:
// bringing there and examining it may go on at the same time.
func (s *Store) note(place SecondPlace, change func(*SecondPlace)) error {
	s.noting.Lock()
	defer s.noting.Unlock()
	chosen, ok, err := s.Second()
	if err != nil || !ok || chosen.Inside != place.Inside {
		return err
	}
	change(&chosen)
	return s.remember(chosen)
}

// remember keeps a second place; one without a folder is given up.
func (s *Store) remember(chosen SecondPlace) error {
	all, err := places(s.folder)
	if err != nil {
		return err
	}
	all[s.options.Machine] = chosen
	if chosen.Folder == "" {
		delete(all, s.options.Machine)
	}
	data, err := json.Marshal(all)
	if err != nil {
		return err
	}
	path := filepath.Join(s.folder, placesName)
	if err := os.WriteFile(path+".new", append(data, '\n'), 0o600); err != nil {
		return fault(path, "note the second place", err)
	}
	return place(path+".new", path)
}

// ChooseSecond remembers a second place for this machine; an empty folder gives it
// up and leaves what lies there. A folder that is not there, or lies in the
// collection's own, is refused.
func (s *Store) ChooseSecond(folder string) error {
	if s.folder == "" || s.readOnly {
		return &Fault{Kind: ErrReadOnly, Path: s.path}
	}
	if folder == "" {
		return s.remember(SecondPlace{})
	}
	inside, err := s.inside(folder)
	if err != nil {
		return err
	}
	return s.remember(SecondPlace{Folder: folder, Inside: inside})
}

// inside is this collection's own folder in a second place, made if it is not
// there: a place may hold the backups of several collections.
func (s *Store) inside(folder string) (string, error) {
	refuse := func(reason string) error {
		return &model.Refusal{Field: "second", Value: folder, Reason: reason, Answer: model.Mend}
	}
	if info, err := os.Stat(folder); err != nil || !info.IsDir() {
		return "", refuse("second.away")
	}
	if within(folder, s.folder) {
		return "", refuse("second.inside")
	}
	f, err := s.form()
	if err != nil {
		return "", err
	}
	mark := markIn(f.Name)
	files, err := os.ReadDir(folder)
	if err != nil {
		return "", secondFault(folder, fault(folder, "look into the second place", err))
	}
	for _, file := range files { // the collection's folder may have had another name
		inside := filepath.Join(folder, file.Name())
		if file.IsDir() && strings.HasSuffix(file.Name(), mark) && holdsOnly(inside, f.Name) {
			if s.overlaps(inside) {
				return "", refuse("second.inside")
			}
			return inside, nil
		}
	}
	base := strings.Trim(filepath.Base(s.folder), `/\.`)
	inside := filepath.Join(folder, base+mark)
	for n := 2; ; n++ { // a folder of that name may be another's
		if info, err := os.Lstat(inside); err != nil || !info.IsDir() {
			break
		}
		inside = filepath.Join(folder, fmt.Sprintf("%s-%d%s", base, n, mark))
	}
	if s.overlaps(inside) {
		return "", refuse("second.inside")
	}
	if err := makeFolders(inside); err != nil {
		return "", secondFault(folder, err)
	}
	return inside, nil
}

// markIn is the end of the name of a collection's folder in a second place.
func markIn(name string) string { return "-" + strings.ToLower(name[:min(8, len(name))]) }

// markOf is markIn of the collection that a file holds; no folder's name ends with
// that of a file which cannot be read.
func markOf(path string) string {
	_, name := otherAt(path)
	if name == "" {
		return "/"
	}
	return markIn(name)
}

// holdsOnly reports whether the newest good backup of a folder, if there is any, is
// of the collection of that name.
func holdsOnly(inside, name string) bool {
	newest, found, err := NewestSnapshot(inside)
	if err != nil || !found {
		return err == nil
	}
	_, of := otherAt(newest.Path)
	return of == name
}

// overlaps reports whether a folder in a second place, or one of those in it, is the
// collection's own or lies in it, or the other way round, by way of links.
func (s *Store) overlaps(inside string) bool {
	for _, name := range []string{"", PhotosFolder, BackupsFolder} {
		folder := filepath.Join(inside, name)
		if within(folder, s.folder) || within(s.folder, folder) {
			return true
		}
		for _, own := range []string{PhotosFolder, BackupsFolder} { // which may be links themselves
			if own := filepath.Join(s.folder, own); within(folder, own) || within(own, folder) {
				return true
			}
		}
	}
	return false
}

var errOverlaps = errors.New("it is the collection's own folder")

// within reports whether a folder is another or lies in it.
func within(folder, other string) bool {
	folder, other = resolved(folder), resolved(other)
	inside, err := filepath.Rel(other, folder)
	return err == nil && inside != ".." && !strings.HasPrefix(inside, ".."+string(filepath.Separator))
}

func resolved(path string) string {
	if whole, err := filepath.Abs(path); err == nil {
		path = whole
	}
	if real, err := filepath.EvalSymlinks(path); err == nil {
		return real
	}
	return path
}

// BackUpTo brings every backup and photo to a folder once, without remembering it.
// named are the photos that records name, as BringSecond has them.
func (s *Store) BackUpTo(ctx context.Context, folder string, named map[model.PhotoID]bool) (Brought, error) {
	inside, err := s.inside(folder)
	if err != nil {
		return Brought{}, err
	}
	brought, err := s.bring(ctx, inside, named)
	return brought, secondFault(folder, err)
}

// BringSecond brings to the chosen second place what is not there yet: the
// verified backups that Retain keeps, newest first, each read back after copying,
// and each photo once. Backups that Retain no longer keeps are cleared away there;
// photos never. How it went is remembered. A place whose own folder is gone is
// away: an empty folder may be what is left where a stick was. named are the photos
// that records name: one that is not there afterwards is gone at both places.
func (s *Store) BringSecond(ctx context.Context, named map[model.PhotoID]bool) (Brought, error) {
	chosen, ok, err := s.Second()
	if err != nil || !ok {
		return Brought{}, err
	}
	brought, err := s.bring(ctx, chosen.Inside, named)
	if errors.Is(err, context.Canceled) {
		return brought, err
	}
	err = secondFault(chosen.Inside, err)
	now := s.options.Now().UTC().Truncate(time.Second)
	noted := s.note(chosen, func(p *SecondPlace) {
		var failed *SecondFault
		switch {
		case errors.As(err, &failed):
			failed.Folder = p.Folder
			p.Why = failed.Why()
			if p.Since.IsZero() {
				p.Since = now
			}
		case err == nil:
			p.Whole, p.Since, p.Why, p.Photos = now, time.Time{}, "", brought.Damaged+brought.Missing
		}
	})
	return brought, errors.Join(err, noted)
}

// bring copies what a second place lacks.
func (s *Store) bring(ctx context.Context, inside string, named map[model.PhotoID]bool) (brought Brought, err error) {
	s.backing.Lock()
	defer s.backing.Unlock()
	lacking := maps.Clone(named)
	brought.Inside = inside
	if err := s.reached(inside); err != nil {
		return brought, err
	}
	if err := bringKeyCopies(ctx, s.folder, inside); err != nil {
		return brought, err
	}
	if err := bringLackingKeyCopies(inside, s.folder); err != nil {
		return brought, err
	}
	here, err := Snapshots(s.folder)
	if err != nil {
		return brought, err
	}
	there, err := Snapshots(inside)
	if err != nil {
		return brought, err
	}
	missing, spent := secondPlan(here, there)
	for i, snapshot := range missing {
		if err := ctx.Err(); err != nil {
			return brought, err
		}
		copied, err := bringSnapshot(snapshot, inside)
		if err != nil {
			return brought, err
		}
		if copied {
			brought.Snapshots++
		}
		if i == 0 { // the newest, then the photos that it names, then older ones
			if err := s.bringPhotos(ctx, inside, &brought, lacking); err != nil {
				return brought, err
			}
		}
	}
	if len(missing) == 0 {
		err = s.bringPhotos(ctx, inside, &brought, lacking)
	}
	for _, old := range spent {
		if err == nil {
			err = errors.Join(removeIfThere(old.Path), removeIfThere(old.Path+sumEnd))
		}
	}
	if err == nil {
		brought.Missing, err = missingIn(inside, lacking)
	}
	return brought, err
}

// missingIn counts the photos that a place does not have.
func missingIn(inside string, photos map[model.PhotoID]bool) (count int, err error) {
	there := map[model.PhotoID]bool{}
	err = eachIn(filepath.Join(inside, PhotosFolder), func(entry fs.DirEntry) {
		there[model.PhotoID(strings.TrimSuffix(entry.Name(), filepath.Ext(entry.Name())))] = true
	})
	for id := range photos {
		if !there[id] {
			count++
		}
	}
	return count, err
}

// secondPlan tells which snapshots a second place lacks, newest first, and which of
// its own it need no longer keep. Both places together are sorted by the time at
// which they were made: a collection that was brought back to a new folder counts
// its snapshots from the beginning again. The newest of the first place is always
// kept, whatever the clock said.
func secondPlan(here, there []Snapshot) (missing, spent []Snapshot) {
	names := map[string]bool{}
	all := slices.Clone(there)
	for _, s := range there {
		names[s.name()] = true
	}
	for _, s := range here {
		if !names[s.name()] {
			all = append(all, s)
		}
	}
	slices.SortStableFunc(all, func(a, b Snapshot) int {
		return cmp.Or(b.Taken.Compare(a.Taken), cmp.Compare(b.Number, a.Number))
	})
	taken := make([]time.Time, len(all))
	for i, s := range all {
		taken[i] = s.Taken
	}
	for i, keep := range Retain(taken) {
		newest := len(here) > 0 && all[i].name() == here[0].name()
		switch was := names[all[i].name()]; {
		case !was && newest:
			missing = append([]Snapshot{all[i]}, missing...)
		case !was && keep:
			missing = append(missing, all[i])
		case was && !keep && !newest:
			spent = append(spent, all[i])
		}
	}
	return missing, spent
}

// bringSnapshot copies a snapshot whose sum fits; false: it does not, and there is
// nothing good to bring.
func bringSnapshot(s Snapshot, inside string) (bool, error) {
	if checkSum(s.Path) != nil {
		return false, nil
	}
	line, err := readPlain(s.Path + sumEnd)
	if err != nil {
		return false, fault(s.Path, "read the snapshot's sum", err)
	}
	want, _, _ := strings.Cut(string(line), " ")
	backups := filepath.Join(inside, BackupsFolder)
	fresh, to := filepath.Join(backups, unfinished), filepath.Join(backups, s.name())
	if err := copyChecked(s.Path, fresh, want); err != nil {
		return false, errors.Join(err, removeIfThere(fresh))
	}
	if err := writeSum(to, want); err != nil {
		return false, errors.Join(err, removeIfThere(fresh), removeIfThere(to+sumEnd))
	}
	return true, place(fresh, to)
}

// bringPhotos copies each photo once: it is named after its bytes, so one that is
// there need not be copied again. Damaged ones are left out, and taken from lacking.
func (s *Store) bringPhotos(ctx context.Context, inside string, brought *Brought, lacking map[model.PhotoID]bool) error {
	from, to := filepath.Join(s.folder, PhotosFolder), filepath.Join(inside, PhotosFolder)
	files, err := os.ReadDir(from)
	if err != nil {
		return fault(from, "list the photos", err)
	}
	for _, file := range files {
		sum := strings.TrimSuffix(file.Name(), filepath.Ext(file.Name()))
		if !file.Type().IsRegular() || !isSum(sum) {
			continue
		}
		if err := ctx.Err(); err != nil {
			return err
		}
		source, target := filepath.Join(from, file.Name()), filepath.Join(to, file.Name())
		if sameSize(source, target) {
			continue
		}
		fresh := filepath.Join(to, unfinished)
		switch err := copyChecked(source, fresh, sum); {
		case errors.Is(err, errSum):
			brought.Damaged++
			delete(lacking, model.PhotoID(sum))
			if err := removeIfThere(fresh); err != nil {
				return err
			}
			continue
		case err != nil:
			return errors.Join(err, removeIfThere(fresh))
		}
		if err := place(fresh, target); err != nil {
			return err
		}
		brought.Photos++
	}
	return nil
}

func isSum(name string) bool {
	return len(name) == 2*sha256.Size && strings.Trim(name, "0123456789abcdef") == ""
}

func sameSize(a, b string) bool {
	first, err := os.Stat(a)
	if err != nil {
		return false
	}
	second, err := os.Stat(b)
	return err == nil && first.Size() == second.Size()
}

var errSum = errors.New("its bytes are not those that were kept")

// copyChecked copies a file and reads the copy back; want is the SHA-256 of both.
func copyChecked(from, to, want string) error {
	source, err := os.Open(from)
	if err != nil {
		return fault(from, "read the file", err)
	}
	defer source.Close()
	target, err := makeFile(to)
	if err != nil {
		return err
	}
	hash := sha256.New()
	_, err = io.Copy(io.MultiWriter(target, hash), source)
	if err == nil {
		err = target.Sync()
	}
	if err == nil && hex.EncodeToString(hash.Sum(nil)) != want {
		err = &Fault{Kind: ErrDamaged, Path: from, Err: errSum}
	}
	if err == nil {
		err = readBack(target, want)
	}
	return fault(to, "write the copy", errors.Join(err, target.Close()))
}

func readBack(f *os.File, want string) error {
	if _, err := f.Seek(0, io.SeekStart); err != nil {
		return err
	}
	hash := sha256.New()
	if _, err := io.Copy(hash, f); err != nil {
		return err
	}
	if hex.EncodeToString(hash.Sum(nil)) != want {
		return &Fault{Kind: ErrDamaged, Path: f.Name(), Err: errors.New("the copy read back differs from what was written")}
	}
	return nil
}
