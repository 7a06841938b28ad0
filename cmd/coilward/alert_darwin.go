package main

// alert plays a sound of the system.
func alert() { play("/usr/bin/afplay", "/System/Library/Sounds/Basso.aiff") }
