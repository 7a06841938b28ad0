package shell_test

import (
	"context"
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
