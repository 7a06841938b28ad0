package main

import (
	"os"
	"testing"

	"coilward/model/store"
)

// TestMain lets the test binary be the child that verifies.
func TestMain(m *testing.M) {
	if store.MainVerify(os.Args) {
		return
	}
	os.Exit(m.Run())
}
