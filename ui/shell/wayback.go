package shell

import (
	"context"
	"log/slog"
	"path/filepath"
	"strings"

	"coilward/model/wording"
	"coilward/ui/look"
	"coilward/ui/place"
	"coilward/ui/widgets"
)

// Salvaged tells what was brought back of a damaged collection.
type Salvaged struct {
	Records   int    // states of records that were found
	Lost      int    // changes known to be missing
	Uncertain int    // records that may show a state which had been undone or removed
	Erased    int    // records that had been erased for good and stood in the damaged file still; left out
	SetAside  string // where the damaged file lies now
}

// backup is a backup that could be restored, if there is one.
type backup struct {
	place.Backup
	found bool
}

// newest is the newest good backup of a folder whose collection did not open. It
// reads the whole backup.
func (s *Shell) newest(folder string) (b backup) {
	if s.o.Newest != nil && s.o.Restore != nil {
		b.Backup, b.found = s.o.Newest(folder)
	}
	return b
}

// waysBack are what can be done for a collection whose file is damaged or gone.
func (s *Shell) waysBack(folder, reason string, newest backup) []widgets.Act {
	damaged := reason == "collection.damaged"
	var acts []widgets.Act
	if newest.found && (damaged || reason == "collection.missing" || reason == "collection.foreign") {
		acts = append(acts, widgets.Act{Label: s.text.Say("window.closed.restore"), Icon: "undo", Do: func() {
			s.agree("window.restore.title", s.text.Say("window.closed.restore.what", wording.Gaps{"When": newest.At}), "window.restore.do", func() { s.restore(folder, newest.Path) })
		}})
	}
	if damaged && s.o.Salvage != nil {
		acts = append(acts, widgets.Act{Label: s.text.Say("window.closed.salvage"), Do: func() {
			s.agree("window.salvage.title", s.text.Say("window.salvage.what"), "window.closed.salvage", func() { s.salvage(folder) })
		}})
	}
	return acts
}

// agree asks before a file is replaced.
func (s *Shell) agree(title, what, do string, yes func()) {
	var leave func()
	leave = s.sheets.Show(widgets.Sheet{
		Title: s.text.Say(title), Width: 520,
		Content: widgets.Para(what, look.Body, look.Ink),
		Acts:    []widgets.Act{{Label: s.text.Say(do), Do: func() { leave(); yes() }}},
		Cancel:  s.text.Say("window.cancel"),
	})
}

// salvage puts all that can still be read of a damaged file in its place, opens
// that and says what it is.
func (s *Shell) salvage(folder string) {
	var found Salvaged
	s.begin(s.text.Say("window.salvage.doing"), func(context.Context, func(float64)) (err error) {
		found, err = s.o.Salvage(folder)
		return err
	}, func(err error) {
		if err != nil {
			s.Fault("window.fault.salvage", err)
			return
		}
		s.OpenCollection(folder)
		said := []string{s.text.Say("window.salvage.done", wording.Gaps{"Records": found.Records, "Lost": found.Lost, "Path": found.SetAside})}
		if found.Uncertain > 0 {
			said = append(said, s.text.Count("window.salvage.uncertain", found.Uncertain))
		}
		if found.Erased > 0 {
			said = append(said, s.text.Count("keeping.salvage.erased", found.Erased, wording.Gaps{"File": found.SetAside}))
		}
		s.Tell(s.text.Say("window.salvage.title"), strings.Join(said, "\n\n"))
	})
}

// clockAhead is how many seconds the newest change may lie ahead of the clock before
// that is said: clocks of two machines differ a little.
const clockAhead = 60 * 60

// tellClock says that the computer's clock stands before the newest change: all that is
// due, and each age, is counted by it.
func (s *Shell) tellClock() {
	if s.session.Sample || s.session.Checking {
		return
	}
	written, err := s.session.Collection.Written()
	if err != nil {
		slog.Error("read the newest change", "error", err)
		return
	}
	if now := s.moment(); written.UTC > now.UTC+clockAhead {
		s.Tell(s.text.Say("window.clock.title"), s.text.Say("window.clock.what", wording.Gaps{"Written": written, "Now": now}))
	}
}

// tellCopies says that a program which keeps folders alike left copies of the
// collection in its folder: they may hold entries that the collection lacks.
func (s *Shell) tellCopies() {
	if len(s.session.Copies) == 0 {
		return
	}
	var names []string
	for _, path := range s.session.Copies {
		names = append(names, filepath.Base(path))
	}
	s.Tell(s.text.Say("window.copies.title"), s.text.Count("window.copies.what", len(names), wording.Gaps{"Names": strings.Join(names, ", ")}))
}
