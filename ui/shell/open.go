package shell

import (
	"context"
	"errors"
	"log/slog"
	"path/filepath"

	"fyne.io/fyne/v2"

	"coilward/model"
	"coilward/model/wording"
	"coilward/ui/look"
	"coilward/ui/widgets"
)

// OpenCollection implements place.Window.
func (s *Shell) OpenCollection(folder string) { s.openFolder(folder, false) }

// openFolder opens a collection; takeOver goes on although the lock of a shared
// folder names another machine.
func (s *Shell) openFolder(folder string, takeOver bool) {
	name := s.text.Say("window.opening", wording.Gaps{"Name": filepath.Base(folder)})
	var newest backup
	s.open(name, func(ctx context.Context) (Session, error) {
		session, err := s.o.Open(ctx, folder, takeOver, func(early Session) { s.post(func() { s.enter(early) }) })
		if err != nil {
			newest = s.newest(folder)
		}
		return session, err
	}, func(err error) { s.closed(folder, err, newest) })
}

// openToRead opens a collection that cannot be written to.
func (s *Shell) openToRead(folder string) {
	name := s.text.Say("window.opening", wording.Gaps{"Name": filepath.Base(folder)})
	s.open(name, func(ctx context.Context) (Session, error) { return s.o.OpenToRead(ctx, folder) }, func(err error) { s.closed(folder, err, backup{}) })
}

// OpenSample implements place.Window.
func (s *Shell) OpenSample() {
	if s.o.Sample == nil {
		return
	}
	t := s.text
	s.open(t.Say("window.opening.sample"), func(ctx context.Context) (Session, error) { return s.o.Sample(ctx, t) }, func(err error) {
		s.Fault("window.fault.sample", err)
		s.first()
	})
}

// open gives up what is open and opens something else.
func (s *Shell) open(name string, open func(context.Context) (Session, error), failed func(error)) {
	s.leave()
	s.rail.object.Hide()
	s.show(widgets.EmptyPage(nil, name, "", widgets.Act{}))
	s.menus()
	var session Session
	s.begin(name, func(ctx context.Context, _ func(float64)) (err error) {
		session, err = open(ctx)
		return err
	}, func(err error) {
		if err != nil {
			s.leave()
			failed(err)
			return
		}
		s.enter(session)
	})
}

// closed is the page for a collection that cannot be opened: what is wrong and
// what to do.
func (s *Shell) closed(folder string, err error, newest backup) {
	slog.Error("open the collection", "error", err)
	s.rail.object.Hide()
	s.bar.update()
	refusal, ok := refusalOf(err)
	if !ok {
		refusal = &model.Refusal{Field: "collection", Value: folder, Reason: "collection.unopened", Gaps: map[string]model.Gap{"Reason": model.TextGap(err.Error())}}
	}
	acts := []widgets.Act{
		{Label: s.text.Say("window.closed.again"), Icon: "undo", Do: func() { s.OpenCollection(folder) }},
		{Label: s.text.Say("window.closed.other"), Icon: "folder", Do: s.ChooseCollection},
	}
	if s.o.Sample != nil {
		acts = append(acts, widgets.Act{Label: s.text.Say("window.closed.sample"), Do: s.OpenSample})
	}
	switch refusal.Reason {
	case "collection.open":
		acts[0] = widgets.Act{Label: s.text.Say("window.closed.forward"), Icon: "up", Do: func() { s.forward(folder) }}
	case "collection.readonly", "collection.forbidden":
		if s.o.OpenToRead != nil {
			acts = append([]widgets.Act{{Label: s.text.Say("keeping.reading.open"), Icon: "eye", Do: func() { s.openToRead(folder) }}}, acts...)
		}
	case "collection.elsewhere":
		acts[0] = widgets.Act{Label: s.text.Say("window.closed.here"), Icon: "open", Do: func() { s.openFolder(folder, true) }}
	}
	s.show(s.closedPage(refusal, append(s.waysBack(folder, refusal.Reason, newest), acts...)))
	s.menus()
}

// broken is the page for a program that cannot work.
func (s *Shell) broken() {
	slog.Error("start", "error", s.o.Broken)
	s.rail.object.Hide()
	s.bar.update()
	sign := widgets.Disc("caution", 72, look.Today, look.TodayBg)
	s.show(widgets.EmptyPage(sign, s.text.Say("window.tables.title"), s.text.Say("window.tables.what", wording.Gaps{"Reason": s.o.Broken.Error()}),
		widgets.Act{Label: s.text.Say("window.menu.quit"), Do: s.Close}))
}

// refusalOf is what a person can do about an error, where it says so.
func refusalOf(err error) (*model.Refusal, bool) {
	var refusal *model.Refusal
	if errors.As(err, &refusal) {
		return refusal, true
	}
	var worded interface {
		error
		Refusal() *model.Refusal
	}
	if errors.As(err, &worded) {
		return worded.Refusal(), true
	}
	return nil, false
}

func (s *Shell) closedPage(r *model.Refusal, acts []widgets.Act) fyne.CanvasObject {
	sign := widgets.Disc("lock", 72, look.Days, look.DaysBg)
	return widgets.EmptyPage(sign, s.text.Say("window.closed.title"), s.text.Refusal(r), acts[0], acts[1:]...)
}

// forward asks the window that has the collection to come forward, and ends.
func (s *Shell) forward(folder string) {
	if err := s.o.Forward(folder); err != nil {
		s.Fault("window.fault.forward", err)
		return
	}
	s.Close()
}

// Look brings the window forward if a second start asked for it; the program
// calls it a few times a second.
func (s *Shell) Look() {
	if s.session != nil && s.session.Forward != nil && s.session.Forward() {
		s.window.RequestFocus()
	}
}
