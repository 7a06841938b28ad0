package signing

import (
	"errors"
	"io/fs"
	"path/filepath"

	"coilward/export/handover"
	"coilward/model"
	"coilward/ui/place"
)

// Key is the keeper's key on this computer and its copies among the backups.
type Key struct {
	w    place.Window
	path string
	busy bool // a passphrase is being tried, or a copy made

	// OnChange is called once the key or its copies may be others; nil: nobody asks.
	OnChange func()
}

// New is the key in the file of that path.
func New(w place.Window, path string) *Key { return &Key{w: w, path: path} }

// state is what there is of the key.
type state struct {
	key      handover.Key // zero: none that can be used
	fault    error        // why not; nil: there is none
	earlier  []handover.Key
	copies   []place.KeyCopy
	unlisted []error // why copies or earlier keys could not be listed
	unseen   bool    // the second place could not be looked at
}

// damaged reports whether a file lies in the key's place that is none.
func (s state) damaged() bool {
	var fault *handover.KeyFault
	return errors.As(s.fault, &fault) && fault.Why == handover.KeyDamaged
}

// makable reports whether a key can be put there.
func (s state) makable() bool { return s.fault == nil || s.damaged() }

// fingerprint is that of the key; empty: there is none.
func (s state) fingerprint() string {
	if s.key.IsZero() {
		return ""
	}
	return s.key.Public().Fingerprint()
}

// own are the copies of the key, and others are those of other keys, or of which it is
// not known.
func (s state) own() (own, others []place.KeyCopy) {
	for _, c := range s.copies {
		if of := handover.CopyOf(c.Path); of != "" && of == s.fingerprint() {
			own = append(own, c)
		} else {
			others = append(others, c)
		}
	}
	return own, others
}

// held is a copy by its name, with the places where it lies.
type held struct {
	fingerprint string // empty: its name does not tell
	paths       []string
	newest      place.KeyCopy
}

// named are the copies by name.
func named(copies []place.KeyCopy) (all []held) {
	at := map[string]int{}
	for _, c := range copies {
		name := filepath.Base(c.Path)
		i, known := at[name]
		if !known {
			i, at[name] = len(all), len(all)
			all = append(all, held{fingerprint: handover.CopyOf(name), newest: c})
		}
		all[i].paths = append(all[i].paths, c.Path)
		if all[i].newest.Written.Before(c.Written) {
			all[i].newest = c
		}
	}
	return all
}

func (k *Key) state() (s state) {
	s.key, s.fault = handover.ReadKey(k.path)
	if errors.Is(s.fault, fs.ErrNotExist) {
		s.fault = nil
	}
	var earlier, copies error
	s.earlier, earlier = handover.EarlierKeys(k.path)
	s.copies, copies = k.w.Keeping().KeyCopies()
	if s.unseen = atSecond(copies); s.unseen {
		copies = nil
	}
	for _, err := range []error{earlier, copies} {
		if err != nil {
			s.unlisted = append(s.unlisted, err)
		}
	}
	return s
}

// atSecond reports whether it is the second place that an error is of.
func atSecond(err error) bool {
	var refusal *model.Refusal
	return errors.As(err, &refusal) && refusal.Field == "second"
}

func (k *Key) changed() {
	if k.OnChange != nil {
		k.OnChange()
	}
}

// unlock is the key of the first copy that opens. Of copies that do not, one for which
// the passphrase is wrong is told before one that is damaged.
func unlock(paths []string, passphrase string) (handover.Key, error) {
	var refused, wrong error
	for _, path := range paths {
		key, err := handover.ReadCopy(path, passphrase)
		switch {
		case err == nil:
			return key, nil
		case errors.Is(err, handover.ErrPassphrase):
			wrong = err
		case refused == nil:
			refused = err
		}
	}
	if wrong != nil {
		return handover.Key{}, wrong
	}
	return handover.Key{}, refused
}
