package store

import (
	"errors"
	"fmt"
	"runtime/debug"
)

// errPanic is a panic or a memory fault while reading the mapped file. bbolt
// panics on damaged pages, and the system faults where the file was cut.
var errPanic = errors.New("the file could not be read")

// guard turns panics and memory faults of work into an error. It acts on the
// calling goroutine alone; nothing of this package starts another.
func guard(work func() error) (err error) {
	defer debug.SetPanicOnFault(debug.SetPanicOnFault(true))
	defer func() {
		if p := recover(); p != nil {
			err = fmt.Errorf("%w: %v", errPanic, p)
		}
	}()
	return work()
}

// callback runs what a caller gave within guard: its panic is no fault of the
// file, so it is carried past the guard and goes on.
type callback struct {
	panicked any
}

var errCallback = errors.New("the caller panicked")

func (c *callback) run(work func() error) (err error) {
	done := false
	defer func() {
		if p := recover(); p != nil && !done {
			c.panicked, err = p, errCallback
		}
	}()
	err = work()
	done = true
	return err
}

// rethrow goes on with the caller's panic, if there was one.
func (c *callback) rethrow() {
	if c.panicked != nil {
		panic(c.panicked)
	}
}
