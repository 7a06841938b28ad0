package shell

import (
	"context"
	"fmt"
	"log/slog"
	"runtime/debug"
	"slices"
	"sync/atomic"

	"fyne.io/fyne/v2"

	"coilward/ui/look"
	"coilward/ui/widgets"
)

// tasks are what is being done beside Fyne's goroutine.
type tasks struct {
	s       *Shell
	running []*task
}

type task struct {
	name   string
	cancel context.CancelFunc
	share  float64
	said   atomic.Bool // a progress is on its way to the bar
}

// Task implements place.Window. Work that fails because the collection it was about was
// closed or exchanged meanwhile is told to nobody: its place is gone too.
func (s *Shell) Task(name string, work func(ctx context.Context, progress func(float64)) error, done func(error)) {
	about := s.session
	s.begin(name, work, func(err error) {
		switch {
		case err != nil && s.session != about:
			slog.Info("a task of a collection that is closed", "task", name, "error", err)
		case done != nil:
			done(err)
		}
	})
}

// begin is the one place where ui begins work of its own.
func (s *Shell) begin(name string, work func(ctx context.Context, progress func(float64)) error, done func(error)) {
	ctx, cancel := context.WithCancel(context.Background())
	t := &task{name: name, cancel: cancel}
	s.tasks.running = append(s.tasks.running, t)
	s.bar.update()
	s.o.Begin(func() {
		err := guarded(ctx, work, func(share float64) { s.progress(t, share) })
		s.post(func() {
			cancel()
			s.tasks.end(t)
			if done != nil {
				done(err)
			}
		})
	})
}

// post has something said on Fyne's goroutine. Once the window is closed nothing is:
// Fyne would run it beside its goroutine, on a window that is gone.
func (s *Shell) post(say func()) {
	if s.stopped.Load() {
		return
	}
	s.o.Post(func() {
		if !s.stopped.Load() {
			say()
		}
	})
}

// guarded turns a panic of the work into its error: the window lives on.
func guarded(ctx context.Context, work func(context.Context, func(float64)) error, progress func(float64)) (err error) {
	defer func() {
		if what := recover(); what != nil {
			slog.Error("task broke off", "reason", what, "stack", string(debug.Stack()))
			err = fmt.Errorf("broken off: %v", what)
		}
	}()
	return work(ctx, progress)
}

// progress shows how far the work is; at most one word of it is on its way.
func (s *Shell) progress(t *task, share float64) {
	if t.said.Swap(true) {
		return
	}
	s.post(func() {
		t.said.Store(false)
		t.share = share
		s.bar.update()
	})
}

func (ts *tasks) end(t *task) {
	ts.running = slices.DeleteFunc(ts.running, func(o *task) bool { return o == t })
	ts.s.bar.update()
}

func (ts *tasks) stop() {
	for _, t := range ts.running {
		t.cancel()
	}
}

// shown is the newest of the tasks that run, as it stands in the bar: what it is called,
// and how far it is.
func (ts *tasks) shown() (name *widgets.Text, parts []fyne.CanvasObject) {
	t := ts.running[len(ts.running)-1]
	track := widgets.Fix(120, 6, widgets.Filled(look.Well, 3), widgets.Row(0, widgets.Fix(float32(int(120*t.share)), 6, widgets.Filled(look.Accent, 3))))
	stop := widgets.Button(widgets.Quiet, widgets.Act{Label: ts.s.text.Say("window.task.stop"), Do: t.cancel})
	return widgets.Line(t.name, look.Note, look.Ink), []fyne.CanvasObject{track, stop}
}
