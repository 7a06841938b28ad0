package shell

import (
	"slices"
	"sync"

	"coilward/model"
	"coilward/model/collection"
	"coilward/ui/place"
)

// pending is what has changed since the place in sight was last told.
type pending struct {
	sync.Mutex
	change collection.Change
	asked  bool
	steps  int          // how many more changes there are to undo
	undone *model.Label // of the newest change, where that took something back
}

// heard takes a change from whatever goroutine made it; the place in sight is
// told once per frame of all there was.
func (s *Shell) heard(c collection.Change) {
	s.pending.Lock()
	s.pending.change = merged(s.pending.change, c)
	switch {
	case c.Empty(), c.Settled:
	case c.Undone:
		s.pending.steps--
		s.pending.undone = &c.Label
	default:
		s.pending.steps++
		s.pending.undone = nil
	}
	first := !s.pending.asked
	s.pending.asked = true
	s.pending.Unlock()
	if first {
		s.post(s.tell)
	}
}

func (s *Shell) tell() {
	s.pending.Lock()
	c := s.pending.change
	s.depth += s.pending.steps
	s.undone = s.pending.undone
	s.pending.change, s.pending.asked, s.pending.steps = collection.Change{}, false, 0
	s.pending.Unlock()
	if s.session == nil {
		return
	}
	for name, room := range s.rooms {
		if missing, ok := room.(place.Misser); ok && name != s.here.To {
			missing.Missed(c)
		}
	}
	s.bar.update()
	if room := s.inSight(); room != nil {
		room.Changed(c)
	}
	s.countDue()
	s.menus()
}

// undoable is what undo would take back. A sample collection's own making is
// nothing that the person did.
func (s *Shell) undoable() (model.Label, bool) {
	if s.session == nil || s.session.Sample && s.depth <= 0 {
		return model.Label{}, false
	}
	return s.session.Collection.CanUndo()
}

// merged is two changes as one; label and direction are the later one's.
func merged(a, b collection.Change) collection.Change {
	b.Documents = union(a.Documents, b.Documents)
	b.Subjects = union(a.Subjects, b.Subjects)
	b.Types = union(a.Types, b.Types)
	return b
}

func union[T comparable](a, b []T) []T {
	out := slices.Clone(a)
	for _, v := range b {
		if !slices.Contains(out, v) {
			out = append(out, v)
		}
	}
	return out
}
