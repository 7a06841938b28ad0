// Package exam is the check of an animal from snout to tail tip: the stops with
// their answers, the findings, the problems that findings become over the
// checks, how urgent they are and what they make due.
//
// The rules are pure: they work on the values that they are given and on the
// knowledge tables, read no clock and no file, and give the same answer
// whatever the order of the findings. A verdict says what was seen and whom to
// ask; it is never a diagnosis. Of the program the package imports the
// vocabulary, the body and the knowledge tables only.
package exam
