package store_test

import "testing"

// pipe skips: Windows has no pipes in folders.
func pipe(t *testing.T, _ string) {
	t.Helper()
	t.Skip("no pipe can be made in a folder here")
}
