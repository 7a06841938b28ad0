// Package shell is the window: the rail, the places and the ways between them,
// the menus and their keys, the bar at the foot, the one subscription to the
// collection and the one function that does work beside Fyne's goroutine.
//
// It is told of its places, and of how a collection is opened, by the program.
// Everything in it runs on Fyne's goroutine, but for the work of tasks.
package shell
