package store

import (
	"errors"
	"fmt"
	"io/fs"
	"syscall"
	"time"

	bolterrors "go.etcd.io/bbolt/errors"

	"coilward/model"
	"coilward/model/disk"
)

// What a Fault can be; test with errors.Is.
var (
	// ErrNewer says that a newer version of the program wrote the collection.
	// The file is left as it is.
	ErrNewer = model.ErrNewer
	// ErrReadOnly says that the folder or medium cannot be written to, or that
	// the file was opened for reading only.
	ErrReadOnly = errors.New("read-only")
	// ErrFull says that there is no space left. Nothing was written; after space
	// is made, the same store goes on.
	ErrFull = errors.New("disk full")
	// ErrForbidden says that the system does not permit it.
	ErrForbidden = errors.New("not permitted")
	// ErrReplaced says that another program put another file in the place of the
	// open one; what would be written now would be lost.
	ErrReplaced = errors.New("the file was replaced while open")
	// ErrDamaged says that the file cannot be trusted; restore or salvage it.
	ErrDamaged = errors.New("damaged")
	// ErrForeign says that the file is no collection of this program: it holds not
	// one record of one.
	ErrForeign = errors.New("no collection")
	// ErrMissing says that there are backups, photos or drafts, but no
	// collection.db.
	ErrMissing = errors.New("the collection's file is missing")
	// ErrNoFolder says that a file, or a link that leads nowhere, lies where a folder of
	// the collection belongs.
	ErrNoFolder = errors.New("no folder")
	// ErrUnverified says that the file must be verified and nothing is there to
	// do it: Options has no Verifier.
	ErrUnverified = errors.New("not verified")
	// ErrUnknown is any other failure of the disk.
	ErrUnknown = errors.New("the disk failed")
)

// Fault is a failure of the disk, the folder or the file, not of what was done.
type Fault struct {
	Kind error  // one of the errors above
	Path string // the file or folder
	Err  error  // what was tried and what the system said
}

// Error names path, kind and cause.
func (f *Fault) Error() string {
	if f.Err == nil {
		return fmt.Sprintf("%s: %v", f.Path, f.Kind)
	}
	return fmt.Sprintf("%s: %v: %v", f.Path, f.Kind, f.Err)
}

// Unwrap lets errors.Is find the kind and the cause.
func (f *Fault) Unwrap() []error { return []error{f.Kind, f.Err} }

// Refusal is the fault in words by key: field "collection", reason
// "collection.full" and so on.
func (f *Fault) Refusal() *model.Refusal {
	return refusal(f.Path, f.reason(), model.Mend, nil)
}

func (f *Fault) reason() string {
	switch f.Kind {
	case ErrNewer:
		return "collection.newer"
	case ErrReadOnly:
		return "collection.readonly"
	case ErrFull:
		return "collection.full"
	case ErrForbidden:
		return "collection.forbidden"
	case ErrConflicted:
		return "collection.conflicted"
	case ErrReplaced:
		return "collection.replaced"
	case ErrDamaged:
		return "collection.damaged"
	case ErrForeign:
		return "collection.foreign"
	case ErrMissing:
		return "collection.missing"
	case ErrNoFolder:
		return "collection.no-folder"
	case ErrUnverified:
		return "collection.unverified"
	}
	return "collection.unknown"
}

// AlreadyOpen says that the collection is open elsewhere.
type AlreadyOpen struct {
	Path      string
	Machine   string
	Since     time.Time // zero if not known
	Elsewhere bool      // on another machine, by the lock in a shared folder; Options.TakeOver goes on all the same
}

// Error names machine and time.
func (a *AlreadyOpen) Error() string {
	return fmt.Sprintf("%s is already open on %s since %s", a.Path, a.Machine, a.Since.Format(time.RFC3339))
}

// Refusal is the state in words by key; the gap Machine names the machine.
// Elsewhere, Confirm is the answer: open with TakeOver.
func (a *AlreadyOpen) Refusal() *model.Refusal {
	gaps := map[string]model.Gap{"Machine": model.TextGap(a.Machine)}
	if a.Elsewhere {
		return refusal(a.Path, "collection.elsewhere", model.Confirm, gaps)
	}
	return refusal(a.Path, "collection.open", model.Mend, gaps)
}

func refusal(path, reason string, answer model.Answer, gaps map[string]model.Gap) *model.Refusal {
	return &model.Refusal{Field: "collection", Value: path, Reason: reason, Gaps: gaps, Answer: answer}
}

// fault gives an error of the system its kind. Errors that have one keep it.
func fault(path, tried string, err error) error {
	var known *Fault
	if err == nil || errors.As(err, &known) {
		return err
	}
	return &Fault{Kind: kind(err), Path: path, Err: fmt.Errorf("%s: %w", tried, err)}
}

func kind(err error) error {
	switch {
	case disk.Full(err):
		return ErrFull
	case errors.Is(err, syscall.EROFS), errors.Is(err, bolterrors.ErrDatabaseReadOnly):
		return ErrReadOnly
	case errors.Is(err, fs.ErrPermission):
		return ErrForbidden
	case errors.Is(err, errRecord), errors.Is(err, errPanic), errors.Is(err, bolterrors.ErrInvalid),
		errors.Is(err, bolterrors.ErrChecksum), errors.Is(err, bolterrors.ErrVersionMismatch):
		return ErrDamaged
	}
	return ErrUnknown
}
