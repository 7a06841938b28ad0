package exam

import (
	"fmt"
	"slices"

	"coilward/model"
	"coilward/model/body"
	"coilward/model/knowledge"
)

// Sound fails where a draft that was read holds what no check could have put
// there, as one that was damaged or changed by other means may: such a draft is
// not to be resumed. Ids are compared with the tables only where they are those
// that the draft was begun with.
func (d Draft) Sound(t *knowledge.Tables) error {
	s := sounding{tables: t, same: d.Tables == t.Hash()}
	for _, a := range d.Stops {
		s.stop(a.Stop)
		s.is("answer", a.Look, NotYet, Seen, Felt, NotLooked, LeftToVet)
	}
	for _, f := range d.Findings {
		s.stop(f.Stop)
		s.finding(f.What)
		s.is("standing", f.Standing, New, CameBack)
		s.seen(f.Place, f.Size)
	}
	for _, e := range slices.Concat(d.Earlier, d.Past) {
		s.stop(e.Stop)
		s.finding(e.What)
		for _, g := range []Glimpse{e.Before, e.Now} {
			s.is("standing", g.Standing, Unasked, New, Same, Better, Worse, Gone, CameBack, Closed)
			s.seen(g.Place, g.Size)
		}
	}
	s.seen(d.Pointed, model.Length{})
	if s.err != nil {
		return fmt.Errorf("read the draft of a check: %w", s.err)
	}
	return nil
}

// sounding keeps the first fault that was found.
type sounding struct {
	tables *knowledge.Tables
	same   bool
	err    error
}

func (s *sounding) fault(format string, values ...any) {
	if s.err == nil {
		s.err = fmt.Errorf(format, values...)
	}
}

func (s *sounding) stop(id knowledge.StopID) {
	if _, known := s.tables.Stop(id); s.same && !known {
		s.fault("there is no stop %q", id)
	}
}

func (s *sounding) finding(id knowledge.FindingID) {
	if _, known := s.tables.Finding(id); s.same && !known {
		s.fault("there is no finding %q", id)
	}
}

func (s *sounding) is(what string, value any, known ...any) {
	if !slices.Contains(known, value) {
		s.fault("there is no %s %q", what, value)
	}
}

func (s *sounding) seen(p body.Place, size model.Length) {
	if !within(p) {
		s.fault("the place %+v is not on the animal", p)
	}
	if size.Tenths < 0 {
		s.fault("a size of %d tenths of a millimetre", size.Tenths)
	}
}

// within reports whether a place lies on the animal; the zero Place does, as the
// whole of it.
func within(p body.Place) bool {
	const whole = 10_000
	share := func(n int) bool { return 0 <= n && n <= whole }
	if p == (body.Place{}) {
		return true
	}
	if p.Region != "" && !slices.Contains(body.Regions(), p.Region) {
		return false
	}
	switch p.Part {
	case body.Trunk, body.Tail:
		return share(p.Along) && -180 <= p.Angle && p.Angle <= 180
	case body.Head, body.Mouth:
		return slices.Contains(body.Views(), p.View) && share(p.X) && share(p.Y)
	}
	return false
}
