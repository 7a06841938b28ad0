// Package due tells what is due: it derives obligations from what is known of
// each animal, keeps the answers that a person gives to them, and tells which
// jobs were not done in a month.
//
// Obligations are never stored: feeders, listed in one registry, derive them
// from facts by pure functions. Answers are documents. A Book keeps what was
// derived in memory and derives again only what a change touched.
package due
