// Package importing brings many animals and entries into a collection by one
// command, so that one undo takes all of them back. It has no rule of its own for
// what an animal or an entry may be: animals and care say that of each.
package importing
