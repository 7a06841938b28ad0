// Package handover writes and reads her papers: the signed file that goes with an
// animal to its next keeper. FORMAT.md tells how it is laid out.
package handover
