// Package jotting is the line that a jot is typed in, on the page of a place and
// on a sheet of its own. Below the line stands what it is read as, which of several
// things it may be, or why it cannot be noted; nothing is noted that was not said.
package jotting
