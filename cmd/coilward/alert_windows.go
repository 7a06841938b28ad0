package main

import "syscall"

// exclamation is the number of the system's sound for something to look at.
const exclamation = 0x30

// alert plays the system's sound for something to look at, as the person has set
// it there.
func alert() {
	beep := syscall.NewLazyDLL("user32.dll").NewProc("MessageBeep")
	if beep.Find() == nil {
		_, _, _ = beep.Call(exclamation) // where there is no sound there is none
	}
}
