// Package quarantine says what a newcomer still lacks before it is released: a
// protocol asks, the facts of its days answer, and one list tells of each line
// whether it is met, what it rests on, since when, and what is the earliest day. That
// a list is met is no word on whether an animal carries something.
package quarantine
