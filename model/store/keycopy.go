package store

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"time"
)

// Encrypted copies of keys lie among the backups, each with its sum, under names that
// begin and end so. They are not of the collection, and nothing clears them away. The
// names are frozen.
const keyBegin, keyEnd = "papers-key", ".age"

// longestKeyCopy is more bytes than any has.
const longestKeyCopy = 4096

// isKeyCopy reports whether a name is that of an encrypted copy of a key.
func isKeyCopy(name string) bool {
	return strings.HasPrefix(name, keyBegin) && strings.HasSuffix(name, keyEnd)
}

// hasSum reports whether a sum lies beside files of that name.
func hasSum(name string) bool { return strings.HasSuffix(name, snapshotEnd) || isKeyCopy(name) }

// KeyCopy is an encrypted copy of a key among the backups of a folder.
type KeyCopy struct {
	Path    string
	Written time.Time
	Good    bool // its bytes are those that were written, or it has no sum that would tell
}

// KeyCopies are the encrypted copies of keys among the backups of a folder, by name.
func KeyCopies(folder string) (all []KeyCopy, err error) {
	backups := filepath.Join(folder, BackupsFolder)
	err = eachIn(backups, func(entry fs.DirEntry) {
		info, err := entry.Info()
		if err != nil || !entry.Type().IsRegular() || !isKeyCopy(entry.Name()) || info.Size() > longestKeyCopy {
			return
		}
		path := filepath.Join(backups, entry.Name())
		all = append(all, KeyCopy{Path: path, Written: info.ModTime(), Good: !summed(path) || checkSum(path) == nil})
	})
	return all, err
}

// SecondKeyCopies are the encrypted copies of keys at the second place; none where none was
// chosen. A place that cannot be looked at is a *SecondFault.
func (s *Store) SecondKeyCopies() ([]KeyCopy, error) {
	chosen, ok, err := s.Second()
	if err != nil || !ok {
		return nil, err
	}
	if err := there(chosen.Inside); err != nil {
		return nil, secondFault(chosen.Folder, err)
	}
	all, err := KeyCopies(chosen.Inside)
	return all, secondFault(chosen.Folder, err)
}

// KeepKeyCopy puts an encrypted copy of a key among the backups of both places, in the
// place of what has that name, and reads it back. A second place that cannot have it is a
// *SecondFault: the first has it then, and the next backup brings it.
func (s *Store) KeepKeyCopy(name string, raw []byte) error {
	if s.folder == "" || s.readOnly {
		return &Fault{Kind: ErrReadOnly, Path: s.path}
	}
	s.backing.Lock()
	defer s.backing.Unlock()
	if err := makeFolders(s.folder); err != nil {
		return err
	}
	path := filepath.Join(s.folder, BackupsFolder, name)
	sum := sha256.Sum256(raw)
	fresh := filepath.Join(s.folder, BackupsFolder, unfinished)
	if err := writeKeyCopy(fresh, raw, hex.EncodeToString(sum[:])); err != nil {
		return errors.Join(err, removeIfThere(fresh))
	}
	if err := putKeyCopy(fresh, path, hex.EncodeToString(sum[:])); err != nil {
		return err
	}
	chosen, ok, err := s.Second()
	if err != nil || !ok {
		return err
	}
	err = s.reached(chosen.Inside)
	if err == nil {
		err = bringKeyCopies(context.Background(), s.folder, chosen.Inside)
	}
	return secondFault(chosen.Folder, err)
}

// there reports why a second place cannot be looked at.
func there(inside string) error {
	if info, err := os.Stat(inside); err != nil || !info.IsDir() {
		return &Fault{Kind: ErrAway, Path: inside, Err: err}
	}
	return nil
}

// reached reports why a second place cannot be written to.
func (s *Store) reached(inside string) error {
	if err := there(inside); err != nil {
		return err
	}
	if s.overlaps(inside) {
		return &Fault{Kind: ErrUnknown, Path: inside, Err: errOverlaps}
	}
	return makeFolders(inside)
}

func writeKeyCopy(path string, raw []byte, sum string) error {
	file, err := makeFile(path)
	if err != nil {
		return err
	}
	_, err = file.Write(raw)
	if err == nil {
		err = file.Sync()
	}
	if err == nil {
		err = readBack(file, sum)
	}
	return fault(path, "write the copy of the key", errors.Join(err, file.Close()))
}

// putKeyCopy gives a written copy its name. Without a sum in between it is good too.
func putKeyCopy(fresh, path, sum string) error {
	if err := errors.Join(removeIfThere(path+sumEnd), place(fresh, path)); err != nil {
		return errors.Join(err, removeIfThere(fresh))
	}
	return writeSum(path, sum)
}

// bringKeyCopies brings the good copies of keys among one folder's backups among
// another's. Where both have one of that name the first folder's is the newer: it is
// where they are written.
func bringKeyCopies(ctx context.Context, folder, to string) error {
	here, err := KeyCopies(folder)
	if err != nil {
		return err
	}
	for _, c := range here {
		if err := ctx.Err(); err != nil {
			return err
		}
		backups := filepath.Join(to, BackupsFolder)
		_, err := os.Lstat(filepath.Join(backups, filepath.Base(c.Path)))
		if !c.Good || err == nil && !summed(c.Path) { // one without its sum was not written here
			continue
		}
		if err := bringKeyCopy(c.Path, backups); err != nil {
			return err
		}
	}
	return nil
}

func bringKeyCopy(from, backups string) error {
	sum, err := sumOf(from)
	if err != nil {
		return fault(from, "read the copy of the key", err)
	}
	target := filepath.Join(backups, filepath.Base(from))
	if there, err := sumOf(target); err == nil && there == sum && (!summed(target) || checkSum(target) == nil) {
		return nil
	}
	fresh := filepath.Join(backups, unfinished)
	if err := copyChecked(from, fresh, sum); err != nil {
		return errors.Join(err, removeIfThere(fresh))
	}
	return putKeyCopy(fresh, target, sum)
}

// bringLackingKeyCopies brings among one folder's backups the good copies of keys that it
// lacks and another folder has.
func bringLackingKeyCopies(from, folder string) error {
	there, err := KeyCopies(from)
	if err != nil {
		return err
	}
	backups := filepath.Join(folder, BackupsFolder)
	for _, c := range there {
		if _, err := os.Lstat(filepath.Join(backups, filepath.Base(c.Path))); err == nil || !c.Good {
			continue
		}
		if err := bringKeyCopy(c.Path, backups); err != nil {
			return err
		}
	}
	return nil
}

// bringKeysBeside brings the copies of keys that lie beside a backup into the folder that
// the backup is restored to.
func bringKeysBeside(backup, folder string) error {
	backup = resolved(backup)
	from := filepath.Dir(filepath.Dir(backup))
	if within(from, folder) || filepath.Base(filepath.Dir(backup)) != BackupsFolder {
		return nil
	}
	return bringLackingKeyCopies(from, folder)
}
