//go:build !windows

package main

import (
	"log/slog"
	"os/exec"
)

// play runs a player of the system and does not wait for it. Where there is none
// nothing sounds.
func play(player string, arguments ...string) {
	path, err := exec.LookPath(player)
	if err != nil {
		return
	}
	sound := exec.Command(path, arguments...)
	if err := sound.Start(); err != nil {
		slog.Debug("play a sound", "error", err)
		return
	}
	go func() {
		if err := sound.Wait(); err != nil {
			slog.Debug("play a sound", "error", err)
		}
	}()
}
