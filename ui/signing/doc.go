// Package signing is the key that the papers of animals are signed with, as a keeper
// meets it: the card that tells of it, and the sheets in which it is made, copied,
// brought back or followed by another. The settings show the card; the papers need the
// key.
package signing
