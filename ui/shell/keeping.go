package shell

import (
	"cmp"
	"context"
	"errors"
	"log/slog"
	"strings"

	"fyne.io/fyne/v2"

	"coilward/model"
	"coilward/model/comparing"
	"coilward/model/wording"
	"coilward/ui/look"
	"coilward/ui/place"
	"coilward/ui/widgets"
)

// BackUp implements place.Window.
func (s *Shell) BackUp(done func()) {
	if done == nil {
		done = func() {}
	}
	if s.session == nil || s.session.Sample {
		s.Tell(s.text.Say("window.menu.backup"), s.text.Say("window.backup.none"))
		return
	}
	if s.ReadOnly() {
		s.Tell(s.text.Say(s.reading().title), s.text.Say(s.reading().why))
		return
	}
	keeping := s.session.Keeping
	s.begin(s.text.Say("window.backup.doing"), func(context.Context, func(float64)) error { return keeping.Backup() }, func(err error) {
		if err != nil {
			s.Fault("window.fault.backup", err)
			done()
			return
		}
		s.bringSecond(keeping, func(err error) {
			second, unread := keeping.Second()
			switch {
			case err != nil:
				s.secondFault(err)
			case unread == nil && second.Folder != "":
				s.Tell(s.text.Say("window.menu.backup"), s.text.Say("window.backup.done")+" "+s.text.Say("keeping.second.done", wording.Gaps{"Folder": second.Folder}))
			default:
				s.Tell(s.text.Say("window.menu.backup"), s.text.Say("window.backup.done"))
			}
			done()
		})
	})
}

// bringSecond brings backups and photos to the second place, if there is one.
func (s *Shell) bringSecond(keeping place.Keeping, done func(error)) {
	if second, err := keeping.Second(); err != nil || second.Folder == "" {
		done(err)
		return
	}
	s.begin(s.text.Say("keeping.second.doing"), func(ctx context.Context, _ func(float64)) error { return keeping.BringSecond(ctx) }, done)
}

// secondFault says that the second place was not brought up to date, and that the
// first was.
func (s *Shell) secondFault(err error) { s.Fault("keeping.second.fault", err) }

// after does what is to be done once a collection is in sight: the file is written
// anew if that is still to be done, then what the session says, such as a backup if
// something has changed; then both come to the second place. One that is away is no
// reason to stop a person who has just begun; the settings say it.
func (s *Shell) after(session *Session) {
	jobs := session.After
	if session.ToCompact && session.Compact != nil {
		jobs = append([]Job{compacting(session)}, jobs...)
	}
	if len(jobs) > 0 {
		s.work(session, jobs)
	}
}

// compacting writes the file anew without what was wiped out.
func compacting(session *Session) Job {
	return Job{Doing: "keeping.compact.doing", Failed: "keeping.compact.fault", Remain: "keeping.compact.remain",
		Do: func(ctx context.Context, _ func(float64)) error { return session.Compact(ctx) }}
}

// work does one job after the other. One that failed can be tried again, and does not
// keep the next from being done.
func (s *Shell) work(session *Session, jobs []Job) {
	if s.session != session {
		return
	}
	if len(jobs) == 0 {
		s.bringSecond(session.Keeping, func(err error) {
			if refusal, ok := refusalOf(err); ok && refusal.Reason == "second.away" {
				slog.Info("second place for backups", "error", err)
			} else if err != nil {
				s.secondFault(err)
			}
		})
		return
	}
	job, rest := jobs[0], jobs[1:]
	s.begin(s.text.Say(job.Doing), job.Do, func(err error) {
		if errors.Is(err, context.Canceled) {
			return
		}
		if err != nil {
			s.again(job, err, func() { s.work(session, []Job{job}) }, func() {})
			if len(rest) == 0 {
				return
			}
		}
		s.work(session, rest)
	})
}

// again says why a job could not be done and what that leaves, and offers to try it
// again.
func (s *Shell) again(job Job, err error, try, left func()) {
	slog.Error(job.Failed, "error", err)
	sentences := []string{s.reason(err)}
	if errors.Is(err, context.Canceled) {
		sentences = nil
	}
	if job.Remain != "" {
		sentences = append(sentences, s.text.Say(job.Remain))
	}
	var leave func()
	leave = s.sheets.Show(widgets.Sheet{
		Title: s.text.Say(job.Failed), Content: s.told(sentences...), Cancel: s.text.Say("keeping.apart.later"), OnLeave: left,
		Acts: []widgets.Act{{Label: s.text.Say("window.closed.again"), Do: func() { leave(); try() }}},
	})
}

// Restore implements place.Window.
func (s *Shell) Restore(b place.Backup) {
	if s.session == nil || s.o.Restore == nil || s.session.Keeping.Folder() == "" {
		return
	}
	keeping := s.session.Keeping
	var differs comparing.Summary
	s.begin(s.text.Say("keeping.compare.doing"), func(ctx context.Context, _ func(float64)) (err error) {
		differs, err = keeping.Compare(ctx, b)
		return err
	}, func(err error) {
		if errors.Is(err, context.Canceled) {
			return
		}
		if err != nil {
			s.Fault("keeping.compare.fault", err)
			return
		}
		title, do := "window.restore.title", "window.restore.do"
		if differs.Another {
			title, do = "keeping.another.title", "keeping.another.do"
		}
		var leave func()
		leave = s.sheets.Show(widgets.Sheet{
			Title: s.text.Say(title), Width: 720, Height: s.heightOf(differs),
			Content: s.differences(differs, s.thenIs(b, differs), s.text.Say("keeping.restore.what")),
			Acts:    []widgets.Act{{Label: s.text.Say(do), Do: func() { leave(); s.restore(keeping.Folder(), b.Path) }}},
			Cancel:  s.text.Say("window.cancel"),
		})
	})
}

// thenIs says what a backup is: when it was made and what it holds, and where it is of
// another collection, of which.
func (s *Shell) thenIs(b place.Backup, d comparing.Summary) string {
	if !d.Another {
		return s.text.Say("keeping.then", wording.Gaps{"When": b.At, "Animals": d.Then.Animals, "Entries": d.Then.Entries})
	}
	said := s.text.Say("keeping.another", wording.Gaps{"Name": b.Of, "Animals": d.Then.Animals})
	if d.Newest != (model.Moment{}) {
		said += " " + s.text.Say("keeping.another.newest", wording.Gaps{"Day": d.Newest.Day()})
	}
	return said
}

// Forget implements place.Window.
func (s *Shell) Forget(label model.Label, done func(error), ids ...model.ID) {
	if s.ReadOnly() {
		s.Tell(s.text.Say(s.reading().title), s.text.Say(s.reading().why))
		done(place.ErrLeft)
		return
	}
	session := s.session
	forgetting := Job{Doing: "keeping.forget.doing", Failed: "keeping.forget.fault", Remain: "keeping.forget.remain",
		Do: func(context.Context, func(float64)) error {
			_, err := session.Collection.Forget(label, ids...)
			return err
		}}
	s.must(session, forgetting, func(err error) {
		if err != nil || session.Compact == nil {
			done(err)
			return
		}
		s.must(session, compacting(session), done)
	})
}

// must does a job that a person has asked for until it is done or the person leaves
// it; then it calls done.
func (s *Shell) must(session *Session, job Job, done func(error)) {
	s.begin(s.text.Say(job.Doing), job.Do, func(err error) {
		if err == nil || s.session != session || s.parted(err, false) {
			done(err)
			return
		}
		s.again(job, err, func() { s.must(session, job, done) }, func() { done(err) })
	})
}

// heightOf is the height of a sheet with differences: as the content needs where
// there are none, else room for a list.
func (s *Shell) heightOf(d comparing.Summary) float32 {
	if d.Same() {
		return 0
	}
	rows := float32(len(d.Lines) + len(d.Counts))
	return min(320+rows*32, 640, s.window.Canvas().Size().Height-64)
}

// differences shows what differs between the collection now and another state of
// it: how much of each kind, each thing below, and what is to be known before it
// takes the collection's place.
func (s *Shell) differences(d comparing.Summary, then, what string) fyne.CanvasObject {
	text := s.text
	parts := []fyne.CanvasObject{
		widgets.Para(then, look.Body, look.Ink),
		widgets.Para(text.Say("keeping.now", wording.Gaps{"Animals": d.Now.Animals, "Entries": d.Now.Entries}), look.Body, look.Ink),
	}
	if d.Same() {
		parts = append(parts, widgets.Para(text.Say("keeping.same"), look.Body, look.Ink))
	} else {
		parts = append(parts, widgets.Para(text.Say("keeping.changes"), look.Body, look.Ink), widgets.Grow(s.list(d)))
	}
	if n := len(d.Missing); n > 0 {
		parts = append(parts, widgets.Caution(text.Count("keeping.photos-missing", n)))
	}
	return widgets.Col(look.S12, append(parts, widgets.Para(what, look.Body, look.Soft))...)
}

// told is what is said where there is nothing to list.
func (s *Shell) told(sentences ...string) fyne.CanvasObject {
	var parts []fyne.CanvasObject
	for _, sentence := range sentences {
		parts = append(parts, widgets.Para(sentence, look.Body, look.Ink))
	}
	return widgets.Col(look.S12, parts...)
}

// list is a row for each kind, with its counts, and below it one for each thing.
func (s *Shell) list(d comparing.Summary) fyne.CanvasObject {
	type row struct {
		said string
		kind look.Type
		tone look.Tone
	}
	var all []row
	next := 0
	for _, c := range d.Counts {
		kind := s.text.Say(comparing.Key(c.Type, c.Kind, s.text.Has))
		all = append(all, row{s.text.Say("keeping.count", wording.Gaps{"Kind": kind, "Counts": s.counted(c)}), look.BodyBold, look.Ink})
		for _, l := range d.Lines[next : next+c.Gone+c.Back+c.Changed] {
			name := cmp.Or(strings.Join(l.Names, ", "), kind)
			all = append(all, row{s.text.Say(wayKey(l.Way), wording.Gaps{"Name": name, "When": l.At}), look.Body, look.Soft})
		}
		next += c.Gone + c.Back + c.Changed
	}
	rows := widgets.NewRows(28, func() fyne.CanvasObject {
		return widgets.MiddleUpright(widgets.Line("", look.Body, look.Ink).Cuts())
	}, func(i int, o fyne.CanvasObject) {
		line := o.(*fyne.Container).Objects[0].(*widgets.Text)
		line.SetKind(all[i].kind)
		line.SetTone(all[i].tone)
		line.SetText(all[i].said)
	})
	rows.SetCount(len(all))
	return rows
}

// counted says how much of a kind differs, leaving out what does not.
func (s *Shell) counted(c comparing.Count) string {
	var said []string
	for _, one := range []struct {
		key string
		n   int
	}{{"keeping.gone", c.Gone}, {"keeping.back", c.Back}, {"keeping.changed", c.Changed}} {
		if one.n > 0 {
			said = append(said, s.text.Count(one.key, one.n))
		}
	}
	return strings.Join(said, " · ")
}

func wayKey(w comparing.Way) string {
	return [...]string{comparing.Gone: "keeping.line.gone", comparing.Back: "keeping.line.back", comparing.Changed: "keeping.line.changed"}[w]
}

// reading is why nothing can be noted just now, by the keys of its texts.
type reading struct{ title, why, bar string }

func (s *Shell) reading() reading {
	if s.session != nil && s.session.Reading {
		return reading{"keeping.reading.title", "keeping.reading.why", "keeping.reading.bar"}
	}
	return reading{"window.checking.title", "window.checking.wait", "window.checking.bar"}
}
