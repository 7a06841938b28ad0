// Package knowledge reads and validates the tables that the rules work from:
// the stops of the check, the findings of each, what makes a finding urgent,
// the species profiles and the numbers behind the rules.
//
// The tables are plain text for a vet to read: one table to a file, a first row
// that names the columns, cells between upright bars, lines that begin with #
// for remarks. They hold ids, numbers and the source of each row; all wording
// is in the language catalogues under "stop.", "finding.", "urgency.",
// "reason." and "species.". A table with a fault is refused whole, with file,
// row and reason.
//
// The package imports the vocabulary and the body's regions, and reads through
// io/fs only. A loaded set of tables never changes and may be read from any
// goroutine.
package knowledge
