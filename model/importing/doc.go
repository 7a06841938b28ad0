// Package importing brings many animals, entries, stays and samples into a
// collection by one command, so that one undo takes all of them back. It has no
// rule of its own for what each of them may be: the capability that it belongs to
// says that.
package importing
