// Package weight judges what an animal weighs: whether it loses, and what a fast of
// that length is known to cost. How often it is wrong, and how soon it is right, is
// measured in the package trial, on noise that this one does not know.
package weight
