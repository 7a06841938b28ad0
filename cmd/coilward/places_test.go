package main

import (
	"strconv"
	"testing"
)

// The keys of the places go along the rail, from its top on.
func TestTheKeysGoAlongTheRail(t *testing.T) {
	at := 0
	for _, r := range rooms() {
		if !r.Rail {
			continue
		}
		at++
		if string(r.Shortcut) != strconv.Itoa(at) {
			t.Errorf("%s is number %d of the rail and has the key %s", r.Name, at, r.Shortcut)
		}
	}
}
