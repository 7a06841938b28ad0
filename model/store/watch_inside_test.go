package store

import "math"

// Blind lets a store enter bbolt whatever became of the file, as it does where the
// file is cut just after it was looked at.
func Blind(s *Store) {
	s.watch.size.Store(math.MinInt64)
	s.watch.last.Store(0)
}
