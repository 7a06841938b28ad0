package store

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"time"

	bolt "go.etcd.io/bbolt"
	bolterrors "go.etcd.io/bbolt/errors"

	"coilward/model/collection"
)

// Report is what a verification found.
type Report struct {
	Good     bool     `json:"good"`
	Newer    bool     `json:"newer"`    // of a newer form, which this program cannot judge
	Foreign  bool     `json:"foreign"`  // no collection of this program
	Open     bool     `json:"open"`     // a program holds it for writing, so that nobody could read it
	Sequence uint64   `json:"sequence"` // changes in the journal
	Problems []string `json:"problems,omitempty"`
}

// fault is nil for a good file.
func (r Report) fault(path string) error {
	switch {
	case r.Newer:
		return &Fault{Kind: ErrNewer, Path: path, Err: r.problems()}
	case r.Foreign:
		return &Fault{Kind: ErrForeign, Path: path, Err: r.problems()}
	case r.Good:
		return nil
	}
	return &Fault{Kind: ErrDamaged, Path: path, Err: r.problems()}
}

func (r Report) problems() error {
	problems := make([]error, len(r.Problems))
	for i, p := range r.Problems {
		problems[i] = errors.New(p)
	}
	return errors.Join(problems...)
}

// Verifier reads a whole file and reports whether it can be trusted. The error
// is about the attempt; a damaged file is a report.
type Verifier func(path string) (Report, error)

var (
	_ Verifier = VerifyInChild
	_ Verifier = VerifyHere
)

// childArgument is the hidden argument of a program that verifies a file.
const childArgument = "verify-file"

// MainVerify is the first thing a program calls, with os.Args: if it was started
// to verify a file, MainVerify does it, prints the report and returns true, and
// the program must end.
func MainVerify(arguments []string) (handled bool) {
	if len(arguments) != 3 || arguments[1] != childArgument {
		return false
	}
	report, err := VerifyFile(arguments[2])
	if err != nil {
		report.Problems = append(report.Problems, err.Error())
	}
	var open *AlreadyOpen
	report.Open = errors.As(err, &open)
	// Without a reader there is nobody to tell; the parent counts silence as bad.
	_ = json.NewEncoder(os.Stdout).Encode(report)
	return true
}

// VerifyInChild verifies a file in a second process of this program, which must
// call MainVerify first: a damaged file can end the process that reads it, or
// keep it for ever. A child that ends without a report, or takes longer than
// half a minute and a second for each megabyte, means that the file is bad.
func VerifyInChild(path string) (Report, error) {
	program, err := os.Executable()
	if err != nil {
		return Report{}, fmt.Errorf("find the program that verifies %s: %w", path, err)
	}
	return verifyBy(path, func(ctx context.Context) *exec.Cmd {
		return exec.CommandContext(ctx, program, childArgument, path)
	})
}

func verifyBy(path string, child func(context.Context) *exec.Cmd) (Report, error) {
	info, err := os.Stat(path)
	if err != nil {
		return Report{}, fault(path, "look for the file to verify", err)
	}
	limit := 30*time.Second + time.Duration(info.Size()>>20)*time.Second
	ctx, cancel := context.WithTimeout(context.Background(), limit)
	defer cancel()
	command := child(ctx)
	quiet(command)
	output, err := command.Output()
	var ended *exec.ExitError
	if err != nil && !errors.As(err, &ended) {
		return Report{}, fmt.Errorf("start the program that verifies %s: %w", path, err)
	}
	var report Report
	if jsonError := json.Unmarshal(output, &report); jsonError != nil {
		return Report{Problems: []string{fmt.Sprintf("reading it ended the process: %v", errors.Join(err, jsonError))}}, nil
	}
	if report.Open {
		return Report{}, openHere(path)
	}
	return report, nil
}

// openHere says that a program on this machine has the file open.
func openHere(path string) error {
	name, err := os.Hostname()
	return errors.Join(&AlreadyOpen{Path: path, Machine: name}, err)
}

// VerifyHere verifies a file in this process. A badly damaged file may end it:
// for tests, and for programs that do nothing else.
func VerifyHere(path string) (Report, error) { return VerifyFile(path) }

// VerifyFile reads a whole file: its heads, bbolt's own check of its pages, the checksum
// and name of every record, and collection.Check. The error is about access, such
// as *AlreadyOpen of a file that a program holds for writing;
// what is wrong with the file stands in the report.
func VerifyFile(path string) (Report, error) {
	var report Report
	s, err := OpenReadOnly(path)
	switch {
	case errors.Is(err, bolterrors.ErrTimeout):
		return report, openHere(path)
	case errors.Is(err, ErrNewer):
		report.Newer, report.Problems = true, []string{causeOf(err)}
		return report, nil
	case errors.Is(err, ErrForeign):
		report.Foreign, report.Problems = true, []string{causeOf(err)}
		return report, nil
	case errors.Is(err, ErrDamaged), errors.Is(err, ErrUnknown) && !errors.Is(err, os.ErrNotExist):
		report.Problems = []string{causeOf(err)}
		return report, nil
	case err != nil:
		return report, err
	}
	for _, err := range []error{checkHeads(path), s.verify(&report)} {
		if err != nil {
			report.Problems = append(report.Problems, causeOf(err))
		}
	}
	report.Good = len(report.Problems) == 0
	return report, s.Close()
}

// causeOf is what was found, without the path: who reads the report knows it.
func causeOf(err error) string {
	var known *Fault
	if errors.As(err, &known) && known.Err != nil {
		return known.Err.Error()
	}
	return err.Error()
}

func (s *Store) verify(report *Report) error {
	if err := s.enter(func() error { return s.bolt().View(checkPages) }); err != nil {
		return err
	}
	return s.View(func(r collection.Reader) (err error) {
		if err := collection.Check(r); err != nil {
			return err
		}
		report.Sequence, err = collection.Sequence(r)
		return errors.Join(err, r.Walk(collection.Control, nil, nil, false, func(_, _ []byte) bool { return true }))
	})
}

// checkPages takes the first finding. The others are not waited for, since a
// cycle of pages would give them without end; the process ends soon.
func checkPages(tx *bolt.Tx) error {
	for err := range tx.Check() {
		return err
	}
	return nil
}
