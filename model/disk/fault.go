package disk

import (
	"errors"
	"fmt"
	"io/fs"
	"syscall"

	"coilward/model"
)

// Fault is a file that could not be written, and why.
type Fault struct {
	Path string
	Err  error // what the system said
}

func fault(path string, err error) error {
	if err == nil {
		return nil
	}
	return &Fault{Path: path, Err: err}
}

// Error names the path and the cause.
func (f *Fault) Error() string { return fmt.Sprintf("write %s: %v", f.Path, f.Err) }

// Unwrap is the cause.
func (f *Fault) Unwrap() error { return f.Err }

// Refusal is the fault in words by key: field "disk", reason "disk.full" and so on.
func (f *Fault) Refusal() *model.Refusal {
	return &model.Refusal{Field: "disk", Value: f.Path, Reason: "disk." + f.why(), Answer: model.Mend}
}

func (f *Fault) why() string {
	switch {
	case Full(f.Err):
		return "full"
	case errors.Is(f.Err, ErrNoFile):
		return "no-file"
	case errors.Is(f.Err, syscall.EROFS):
		return "readonly"
	case errors.Is(f.Err, fs.ErrPermission), held(f.Err):
		return "forbidden"
	case errors.Is(f.Err, fs.ErrNotExist):
		return "no-folder"
	}
	return "unwritable"
}
