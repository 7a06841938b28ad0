// Package place is what a place of the window (the animals, one animal, a
// check, the papers) and the window itself agree upon. Places do not know each
// other: they ask the window, and go to one another by a Route.
//
// Everything here is called on Fyne's goroutine, but for the work of a task.
package place
