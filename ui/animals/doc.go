// Package animals is the place where all animals of a collection stand: as a
// table or as pictures, found by typing, sorted and filtered, and where a new
// one is added.
package animals
