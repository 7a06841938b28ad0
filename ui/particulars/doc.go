// Package particulars is who an animal is, as screens show it and as it is
// entered: its words, its portrait and the one form for a new animal and for
// changing what is known of one.
package particulars
