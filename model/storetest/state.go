package storetest

import (
	"encoding/hex"
	"iter"
	"slices"
	"strings"
	"testing"

	"coilward/model/collection"
)

// PresentState is every byte of the present state: heads and indexes.
func PresentState(t T, s collection.Store) string {
	return content(t, s, collection.Present())
}

// Grown is every byte of the buckets that only grow, a line for each record.
func Grown(t T, s collection.Store) string {
	var growing []collection.Bucket
	for _, b := range collection.Buckets() {
		if !slices.Contains(collection.Present(), b) {
			growing = append(growing, b)
		}
	}
	return content(t, s, growing)
}

// Everything is every byte of a store.
func Everything(t T, s collection.Store) string {
	return content(t, s, collection.Buckets())
}

// OnlyGrew reports whether every line of before is in after, in the same order, as
// Grown has them both.
func OnlyGrew(before, after string) bool {
	next, stop := iter.Pull(strings.Lines(after))
	defer stop()
	for line := range strings.Lines(before) {
		for {
			kept, ok := next()
			if !ok {
				return false
			}
			if kept == line {
				break
			}
		}
	}
	return true
}

// T is a test, of package testing or of the property library.
type T interface {
	Helper()
	Fatal(...any)
	Fatalf(string, ...any)
}

var _ T = testing.TB(nil)

func content(t T, s collection.Store, buckets []collection.Bucket) string {
	t.Helper()
	var all []byte
	err := s.View(func(r collection.Reader) error {
		for _, b := range buckets {
			if err := r.Walk(b, nil, nil, false, func(key, value []byte) bool {
				all = append(append(all, b...), ' ')
				all = append(hex.AppendEncode(all, key), ' ')
				all = append(hex.AppendEncode(all, value), '\n')
				return true
			}); err != nil {
				return err
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return string(all)
}
