// Package handover knows what is told of an animal to its next keeper: the record
// that goes with it, what may stand in it and what not, and what taking it in
// writes. The file that carries the record is not known here.
package handover
