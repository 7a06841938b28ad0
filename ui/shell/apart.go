package shell

import (
	"context"
	"errors"
	"log/slog"
	"path/filepath"

	"fyne.io/fyne/v2"

	"coilward/model"
	"coilward/model/comparing"
	"coilward/model/wording"
	"coilward/ui/look"
	"coilward/ui/place"
	"coilward/ui/widgets"
)

// Other is another state of the collection that lies in its folder.
type Other struct {
	Path        string
	At          model.Moment // when its file was changed last
	Changes     int          // that it holds; 0: it cannot be read
	Replaced    bool         // it took the place of the open file
	Overwritten bool         // it was written into the open file: this state is in the backups alone
}

// Apart is what can be done where other states of the collection lie in its folder.
// Nothing of it is lost: what is not taken is kept among the backups.
type Apart interface {
	// Others are the other states; none is the usual.
	Others() ([]Other, error)
	// KeepThis goes on with the open state.
	KeepThis() error
	// SetThisAside keeps the open state among the backups, before Take.
	SetThisAside() error
	// Take puts another state in the place of the collection, which is closed by then.
	Take(o Other) error
}

// parted tells whether an error says that another state of the collection lies in
// its folder, and if so asks which of them is to be gone on with. unread says that
// the page in sight could not be read.
func (s *Shell) parted(err error, unread bool) bool {
	refusal, ok := refusalOf(err)
	if !ok || s.session == nil || s.session.Apart == nil || refusal.Reason != "collection.replaced" && refusal.Reason != "collection.conflicted" {
		return false
	}
	slog.Error("another state of the collection", "error", err)
	s.lookApart(unread, func() { s.Tell(s.text.Say("keeping.apart.title"), s.text.Refusal(refusal)) })
	return true
}

// lookApart asks what to do if another state lies in the folder; none is called
// if there is none, or none that can be looked at.
func (s *Shell) lookApart(unread bool, none func()) {
	if s.session == nil || s.session.Apart == nil {
		none()
		return
	}
	session := s.session
	var others []Other
	var differs comparing.Summary
	readable := false
	var newest backup
	s.begin(s.text.Say("keeping.compare.doing"), func(ctx context.Context, _ func(float64)) (err error) {
		if others, err = session.Apart.Others(); err != nil || len(others) == 0 {
			return err
		}
		if others[0].Overwritten {
			newest = s.newest(session.Keeping.Folder())
			return nil
		}
		differs, err = session.Keeping.Compare(ctx, place.Backup{Path: others[0].Path})
		if errors.Is(err, context.Canceled) {
			return err
		}
		if readable = err == nil; err != nil {
			slog.Warn("compare with the other state", "error", err)
		}
		return nil
	}, func(err error) {
		switch {
		case s.session != session:
		case errors.Is(err, context.Canceled): // it is asked again at the next entry
			none()
		case err != nil:
			s.Fault("window.fault.read", err)
		case len(others) == 0:
			none()
		default:
			s.askApart(others[0], differs, readable, unread, newest)
		}
	})
}

// askApart shows what was found and what differs, and asks which state is to be gone
// on with. Left alone, nothing is written, and it is asked again at the next entry.
func (s *Shell) askApart(o Other, differs comparing.Summary, readable, unread bool, newest backup) {
	text := s.text
	var leave func()
	found := "keeping.apart.beside"
	switch {
	case o.Overwritten:
		found = "keeping.apart.overwritten"
	case o.Replaced:
		found = "keeping.apart.replaced"
	}
	then := text.Say(found, wording.Gaps{"Name": filepath.Base(o.Path), "When": o.At})
	keep := widgets.Act{Label: text.Say("keeping.apart.keep"), Do: func() { leave(); s.keepThis() }}
	take := widgets.Act{Label: text.Say("keeping.apart.take"), Do: func() { leave(); s.takeOther(o) }}
	sheet := widgets.Sheet{Title: text.Say("keeping.apart.title"), Width: 720, Cancel: text.Say("keeping.apart.later")}
	switch {
	case o.Overwritten:
		sheet.Content, sheet.Acts = s.told(then, text.Say("keeping.apart.look")), []widgets.Act{take}
		if unread { // the page below is empty: it says the same, with the same ways on
			sheet.OnLeave = func() { s.show(s.apartPage(then, func() { s.askApart(o, differs, readable, unread, newest) })) }
		}
		if newest.found {
			folder := s.session.Keeping.Folder()
			sheet.Acts = append(sheet.Acts, widgets.Act{Label: text.Say("window.closed.restore"), Icon: "undo", Do: func() {
				leave()
				s.agree("window.restore.title", text.Say("window.closed.restore.what", wording.Gaps{"When": newest.At}), "window.restore.do", func() { s.restore(folder, newest.Path) })
			}})
		}
	case !readable:
		sheet.Content, sheet.Acts = s.told(then, text.Say("keeping.apart.unread")), []widgets.Act{keep}
	default:
		then += " " + text.Say("keeping.apart.holds", wording.Gaps{"Animals": differs.Then.Animals, "Entries": differs.Then.Entries})
		sheet.Height = s.heightOf(differs)
		sheet.Content, sheet.Acts = s.differences(differs, then, text.Say("keeping.apart.what")), []widgets.Act{keep, take}
	}
	leave = s.sheets.Show(sheet)
}

// apartPage stands in the place of a page that cannot be read.
func (s *Shell) apartPage(then string, ask func()) fyne.CanvasObject {
	sign := widgets.Disc("caution", 72, look.Days, look.DaysBg)
	return widgets.EmptyPage(sign, s.text.Say("keeping.apart.title"), then+" "+s.text.Say("keeping.apart.unshown"),
		widgets.Act{Label: s.text.Say("keeping.apart.choose"), Do: ask})
}

// keepThis goes on with what is open; the page in sight stays, with what was typed.
func (s *Shell) keepThis() {
	session := s.session
	s.begin(s.text.Say("keeping.apart.doing"), func(context.Context, func(float64)) error { return session.Apart.KeepThis() }, func(err error) {
		if err != nil {
			s.Fault("keeping.apart.fault", err)
			return
		}
		s.Tell(s.text.Say("keeping.apart.title"), s.text.Say("keeping.apart.kept"))
	})
}

// takeOther keeps what is open among the backups, closes it, and opens the other.
func (s *Shell) takeOther(o Other) {
	session := s.session
	s.begin(s.text.Say("keeping.apart.doing"), func(context.Context, func(float64)) error { return session.Apart.SetThisAside() }, func(err error) {
		if err != nil {
			s.Fault("keeping.apart.fault", err)
			return
		}
		if s.session != session {
			return
		}
		folder := session.Keeping.Folder()
		s.leave()
		s.rail.object.Hide()
		s.show(widgets.EmptyPage(nil, s.text.Say("keeping.apart.doing"), "", widgets.Act{}))
		s.menus()
		s.begin(s.text.Say("keeping.apart.doing"), func(context.Context, func(float64)) error { return session.Apart.Take(o) }, func(err error) {
			s.OpenCollection(folder)
			if err != nil {
				s.Fault("keeping.apart.fault", err)
				return
			}
			s.Tell(s.text.Say("keeping.apart.title"), s.text.Say("keeping.apart.taken"))
		})
	})
}
