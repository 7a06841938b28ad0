// Package written is the place in which sheets from the room are typed in: it reads the code
// of a sheet, leads to the check of the animal on it, and takes the weights of a day in the
// order of its sheet.
package written
