//go:build !windows

package store

import "os/exec"

// quiet has nothing to do: no window opens for a child here.
func quiet(*exec.Cmd) {}
