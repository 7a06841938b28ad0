// Package body is the geometry of the animal: six views of it, their regions,
// the way from a place on the animal to a point on a view and back, and the
// drawing itself, for any pen.
package body
