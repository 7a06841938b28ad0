// Package storetest holds what every store of a collection must do, as one
// suite of tests; a store in memory that passes it, for the tests of other
// packages; and the property that whatever was done can be undone.
package storetest
