package storetest

import (
	"testing"

	"coilward/model/collection"
)

func TestMemory(t *testing.T) {
	Suite(t, func(testing.TB) collection.Store { return Memory() })
}

func TestMemoryUndo(t *testing.T) {
	reopen := func(_ T, s collection.Store) collection.Store { return s }
	UndoRestores(t, func(testing.TB) collection.Store { return Memory() }, reopen, NewClock(), Commands())
}
