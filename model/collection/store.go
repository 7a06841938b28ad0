package collection

import "coilward/model"

// Bucket names one set of keys of a store. Values are frozen: they stand in
// every stored record.
type Bucket string

// The buckets. Control, Journal and Revisions only grow, but for what Forget wipes
// out; the others are the present state and can be rebuilt from them (see Rebuild).
const (
	// Control holds what the collection is: its form and its name; and whether it is
	// to be compacted.
	Control Bucket = "control"
	// Journal holds what was done: sequence (8 bytes) → Entry.
	Journal Bucket = "journal"
	// Revisions holds every document ever written: id, revision (16 + 4 bytes).
	Revisions Bucket = "revision"
	// Heads tells the present revision of each present document: id → number.
	Heads Bucket = "head"
	// ByType finds present documents by type: type, 0, id → number.
	ByType Bucket = "type"
	// BySubject finds present documents by what they are about and when:
	// kind, 0, subject, time, id → number.
	BySubject Bucket = "subject"
)

// Buckets are all buckets, those that only grow first.
func Buckets() []Bucket {
	return []Bucket{Control, Journal, Revisions, Heads, ByType, BySubject}
}

// Present are the buckets of the present state.
func Present() []Bucket { return []Bucket{Heads, ByType, BySubject} }

// Store keeps the buckets of one collection. View shows one unchanging state;
// Update commits all that its function wrote, or nothing if it returns an error
// or panics. Any number of views may run at once, beside one update; an update
// waits for another. A view or update must not be opened inside an update.
type Store interface {
	View(func(Reader) error) error
	Update(func(Writer) error) error
}

// Reader reads one state of a store, only inside the call it was given to.
type Reader interface {
	// Get is the value of a key, or model.ErrNotFound. The value is the caller's.
	Get(b Bucket, key []byte) ([]byte, error)
	// Walk visits the keys with from <= key < to in the order of their bytes, or
	// backwards, until visit returns false; a nil to is past the last key. Key
	// and value are the caller's. Nothing may be written while it walks.
	Walk(b Bucket, from, to []byte, backwards bool, visit func(key, value []byte) bool) error
}

// Writer reads and writes inside one update. It sees what it wrote.
type Writer interface {
	Reader
	// Put sets the value of a key; neither may be empty.
	Put(b Bucket, key, value []byte) error
	// Delete removes a key; removing one that is not there is no error.
	Delete(b Bucket, key []byte) error
}

var _ model.View = (*view)(nil)
