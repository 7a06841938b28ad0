// Package store keeps a collection on disk: a folder with the file
// collection.db, and beside it photos, backups and drafts. It is the only
// package that knows Storm and bbolt.
//
// Storm is used by its key and value calls on top-level buckets alone. Its
// nested nodes, its index tags, Range, Find, Update, Save, ReIndex and increment
// give wrong or slow results: nodes of one chain share memory, text and number
// indexes sort as text, Update leaves zero values out, Save of a new record
// walks the whole index, ReIndex is quadratic, and explicit ids are overwritten
// by counted ones. Keys, indexes and ids are therefore the collection's own.
//
// Every record carries a checksum and repeats its bucket and key, because bbolt
// accepts flipped bits. A file is never opened for writing after an unclean end
// before a process of its own has read it whole, because a damaged one may end
// the process that reads it, and writing to it may destroy what is still whole.
package store
