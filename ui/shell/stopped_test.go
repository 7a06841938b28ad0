package shell_test

import (
	"context"
	"errors"
	"testing"

	"coilward/ui/look"
	"coilward/ui/shell"
	"coilward/ui/uitest"
)

// What work has to say when the window is closed by then is not said any more: not what
// waits already, and not what comes later.
func TestNothingIsSaidOnceTheWindowIsClosed(t *testing.T) {
	var waiting []func()
	var works []func()
	b := open(t, uitest.Look{Shine: look.ByDay, Width: 1280, Height: 800, Scale: 1}, "en", func(o *shell.Options) {
		o.Begin = func(work func()) { works = append(works, work) }
		o.Post = func(say func()) { waiting = append(waiting, say) }
	})
	said := 0
	for range 2 {
		b.Task("Drawing", func(context.Context, func(float64)) error { return nil }, func(error) { said++ })
	}
	works[0]()
	b.Stopped()
	before := len(waiting)
	works[1]()
	if before == 0 || len(waiting) != before {
		t.Errorf("%d wait, %d after it was closed", before, len(waiting))
	}
	for _, say := range waiting {
		say()
	}
	if said != 0 {
		t.Errorf("said %d times after the window was closed", said)
	}
}

// Work about a collection that was closed or exchanged meanwhile, and failed for that, is
// told to nobody; what failed about the one that is open is.
func TestAFailureOfACollectionThatIsClosedIsNotTold(t *testing.T) {
	var works []func()
	b := open(t, uitest.Look{Shine: look.ByDay, Width: 1280, Height: 800, Scale: 1}, "en", func(o *shell.Options) {
		o.Begin = func(work func()) { works = append(works, work) }
	})
	rest := func() {
		for len(works) > 0 {
			work := works[0]
			works = works[1:]
			work()
		}
	}
	b.Start(room, false)
	rest()
	told := 0
	failing := func() {
		b.Task("Reading", func(context.Context, func(float64)) error { return errors.New("closed") }, func(error) { told++ })
	}
	failing()
	b.OpenCollection(room)
	rest()
	if told != 0 {
		t.Error("the failure of a collection that is closed is told")
	}
	failing()
	rest()
	if told != 1 {
		t.Errorf("a failure is told %d times", told)
	}
}
