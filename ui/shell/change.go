package shell

import (
	"slices"
	"sync"

	"coilward/model/collection"
)

// pending is what has changed since the place in sight was last told.
type pending struct {
	sync.Mutex
	change collection.Change
	asked  bool
}

// heard takes a change from whatever goroutine made it; the place in sight is
// told once per frame of all there was.
func (s *Shell) heard(c collection.Change) {
	s.pending.Lock()
	s.pending.change = merged(s.pending.change, c)
	first := !s.pending.asked
	s.pending.asked = true
	s.pending.Unlock()
	if first {
		s.o.Post(s.tell)
	}
}

func (s *Shell) tell() {
	s.pending.Lock()
	c := s.pending.change
	s.pending.change, s.pending.asked = collection.Change{}, false
	s.pending.Unlock()
	if s.session == nil {
		return
	}
	s.bar.update()
	if room := s.inSight(); room != nil {
		room.Changed(c)
	}
	s.menus()
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
