package storetest

import (
	"coilward/model/collection"
	"coilward/model/memory"
)

// Memory is an empty store in memory.
func Memory() collection.Store { return memory.Open() }
