//go:build !windows && !darwin

package main

// alert plays the desktop's sound for a warning, where it has a player; else it
// is silent.
func alert() { play("canberra-gtk-play", "--id=dialog-warning") }
