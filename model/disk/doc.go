// Package disk writes files whole or not at all, and says in plain words why one could
// not be written.
package disk
