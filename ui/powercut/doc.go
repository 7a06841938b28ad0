// Package powercut is the place of power cuts: who is brought to the warm first, what is
// done and never done, the looks that are due after one, and those that were.
package powercut
