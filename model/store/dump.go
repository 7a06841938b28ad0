package store

import (
	"bufio"
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"hash"
	"io"
	"os"
	"path/filepath"

	"coilward/model/collection"
)

// A dump is a collection without its photos as lines of JSON: a header, one line
// for each record of the buckets that only grow, and a trailer with the number
// of lines and the SHA-256 of all bytes before it. The present state is not in
// it: it is rebuilt.
const (
	dumpFormat  = "coilward dump"
	dumpVersion = 1
	dumpLine    = 64 << 20 // the longest line that is read
	dumpBatch   = 8 << 20  // bytes in one transaction, about
)

// ErrBadDump says that what should be a dump is none, was cut or changed, or
// does not hold a whole collection.
var ErrBadDump = errors.New("no whole dump of a collection")

// badDump is the dump's own fault, unless the disk or its form is at fault.
func badDump(err error) error {
	var known *Fault
	if err == nil || errors.As(err, &known) || errors.Is(err, ErrNewer) {
		return err
	}
	return fmt.Errorf("%w: %w", ErrBadDump, err)
}

type dumpHeader struct {
	Format  string `json:"format"`
	Version int    `json:"version"`
	Schema  int    `json:"schema"`
}

type dumpRecord struct {
	Bucket collection.Bucket `json:"b"`
	Key    string            `json:"k"` // hexadecimal
	Value  json.RawMessage   `json:"v"`
}

type dumpTrailer struct {
	Lines  int    `json:"lines"`
	SHA256 string `json:"sha256"`
}

func dumped(b collection.Bucket) bool {
	return b == collection.Control || b == collection.Journal || b == collection.Revisions
}

// Dump writes a collection to w. Equal collections give equal bytes.
func Dump(s collection.Store, w io.Writer) error {
	d := &dumper{hash: sha256.New()}
	buffered := bufio.NewWriter(w)
	d.out = io.MultiWriter(buffered, d.hash)
	d.line(dumpHeader{Format: dumpFormat, Version: dumpVersion, Schema: Schema})
	err := s.View(d.records)
	d.line(dumpTrailer{Lines: d.lines - 1, SHA256: hex.EncodeToString(d.hash.Sum(nil))})
	if err = errors.Join(err, d.err, buffered.Flush()); err != nil {
		return fmt.Errorf("write the dump: %w", err)
	}
	return nil
}

type dumper struct {
	out   io.Writer
	hash  hash.Hash
	lines int
	err   error
}

func (d *dumper) line(v any) {
	if d.err != nil {
		return
	}
	encoder := json.NewEncoder(d.out)
	encoder.SetEscapeHTML(false)
	d.err = encoder.Encode(v)
	d.lines++
}

func (d *dumper) records(r collection.Reader) error {
	for _, b := range collection.Buckets() {
		if !dumped(b) {
			continue
		}
		err := r.Walk(b, nil, nil, false, func(key, value []byte) bool {
			d.line(dumpRecord{Bucket: b, Key: hex.EncodeToString(key), Value: value})
			return d.err == nil
		})
		if err != nil {
			return err
		}
	}
	return nil
}

// Load makes the collection of a folder from a dump; the folder must hold none.
// A dump that is cut, changed or no whole collection is ErrBadDump, one of a
// newer form ErrNewer; nothing is left of either.
func Load(r io.Reader, folder string) error {
	if Exists(folder) {
		return fmt.Errorf("load the dump into %s: there is a collection already", folder)
	}
	_, missing := os.Stat(folder)
	if err := os.MkdirAll(folder, 0o700); err != nil {
		return fault(folder, "make the folder", err)
	}
	err := build(filepath.Join(folder, fileName), func(s *Store) error { return s.fill(r) })
	if err == nil {
		return makeFolders(folder)
	}
	if missing != nil {
		err = errors.Join(err, removeIfThere(folder))
	}
	return fmt.Errorf("load the dump into %s: %w", folder, err)
}

// fill puts all of a dump into a new file and makes the present state of it.
func (s *Store) fill(dump io.Reader) error {
	b := &batch{store: s}
	if err := readDump(dump, b.add); err != nil {
		return badDump(err)
	}
	if err := b.flush(); err != nil {
		return badDump(err)
	}
	switch err := s.known(); {
	case errors.Is(err, ErrDamaged): // the new file is whole; the dump lacks the form
		return fmt.Errorf("%w: it does not say which form of a collection it holds", ErrBadDump)
	case err != nil:
		return err
	}
	if err := s.Update(collection.Rebuild); err != nil {
		return badDump(err)
	}
	return badDump(s.View(collection.Check))
}

// batch writes records many at a time.
type batch struct {
	store   *Store
	waiting []record
	bytes   int
}

// recordBytes is what a record takes besides its value, about.
const recordBytes = 128

func (b *batch) add(r record) error {
	b.waiting = append(b.waiting, r)
	b.bytes += len(r.value) + recordBytes
	if b.bytes < dumpBatch {
		return nil
	}
	return b.flush()
}

func (b *batch) flush() error {
	err := b.store.Update(func(w collection.Writer) error {
		for _, r := range b.waiting {
			if err := w.Put(r.bucket, r.key, r.value); err != nil {
				return err
			}
		}
		return nil
	})
	b.waiting, b.bytes = nil, 0
	return err
}

// readDump reads a dump from header to trailer.
func readDump(r io.Reader, each func(record) error) error {
	d := &dumpReader{in: bufio.NewReader(r), hash: sha256.New()}
	if err := d.header(); err != nil {
		return err
	}
	for {
		before := d.hash.Sum(nil)
		line, err := d.line()
		if err != nil {
			return err
		}
		if bytes.HasPrefix(line, []byte(`{"lines"`)) {
			return d.trailer(line, before)
		}
		record, err := d.record(line)
		if err != nil {
			return err
		}
		if err := each(record); err != nil {
			return fmt.Errorf("line %d: %w", d.lines, err)
		}
	}
}

type dumpReader struct {
	in    *bufio.Reader
	hash  hash.Hash
	lines int // read so far, the header included
}

// line is the next line without its end.
func (d *dumpReader) line() ([]byte, error) {
	var line []byte
	for {
		part, err := d.in.ReadSlice('\n')
		line = append(line, part...)
		switch {
		case len(line) > dumpLine:
			return nil, fmt.Errorf("line %d is longer than %d bytes", d.lines+1, dumpLine)
		case errors.Is(err, bufio.ErrBufferFull):
			continue
		case errors.Is(err, io.EOF):
			return nil, fmt.Errorf("it ends after line %d, without a trailer: %w", d.lines, io.ErrUnexpectedEOF)
		case err != nil:
			return nil, fmt.Errorf("line %d: %w", d.lines+1, err)
		}
		d.lines++
		d.hash.Write(line)
		return bytes.TrimSuffix(line, []byte("\n")), nil
	}
}

func (d *dumpReader) header() error {
	line, err := d.line()
	if err != nil {
		return err
	}
	var h dumpHeader
	if err := json.Unmarshal(line, &h); err != nil || h.Format != dumpFormat {
		return fmt.Errorf("it does not begin as a dump: %.40q", line)
	}
	if h.Version > dumpVersion || h.Schema > Schema {
		return fmt.Errorf("dump of form %d, schema %d: %w", h.Version, h.Schema, ErrNewer)
	}
	return nil
}

func (d *dumpReader) record(line []byte) (record, error) {
	var r dumpRecord
	if err := json.Unmarshal(line, &r); err != nil {
		return record{}, fmt.Errorf("line %d: %w", d.lines, err)
	}
	key, err := hex.DecodeString(r.Key)
	if err != nil {
		return record{}, fmt.Errorf("line %d: key %.40q: %w", d.lines, r.Key, err)
	}
	if !dumped(r.Bucket) || len(key) == 0 || len(r.Value) == 0 {
		return record{}, fmt.Errorf("line %d: no record of a collection", d.lines)
	}
	return record{bucket: r.Bucket, key: key, value: r.Value}, nil
}

func (d *dumpReader) trailer(line, sum []byte) error {
	var t dumpTrailer
	if err := json.Unmarshal(line, &t); err != nil {
		return fmt.Errorf("line %d: %w", d.lines, err)
	}
	if t.Lines != d.lines-2 || t.SHA256 != hex.EncodeToString(sum) {
		return fmt.Errorf("its sum does not fit: it has been changed")
	}
	if _, err := d.in.ReadByte(); !errors.Is(err, io.EOF) {
		return errors.New("something stands behind its trailer")
	}
	return nil
}

// ErrNoDump says that a file that would be written over is no dump.
var ErrNoDump = errors.New("the file is no dump and is not written over")

// DumpFile writes a collection's dump into a file, whole or not at all. It
// writes over an older dump, and over nothing else: ErrNoDump.
func DumpFile(s collection.Store, path string) error {
	if err := replaceable(path); err != nil {
		return fmt.Errorf("write the dump to %s: %w", path, err)
	}
	f, err := os.CreateTemp(filepath.Dir(path), "dump-*")
	if err != nil {
		return fault(path, "make the dump", err)
	}
	err = Dump(s, f)
	if err == nil {
		err = f.Sync()
	}
	if err = errors.Join(err, f.Close()); err == nil {
		err = place(f.Name(), path)
	}
	if err != nil {
		return errors.Join(fault(path, "write the dump", err), removeIfThere(f.Name()))
	}
	return nil
}

// replaceable allows a path where nothing is yet, or an older dump.
func replaceable(path string) error {
	info, err := os.Stat(path)
	switch {
	case errors.Is(err, os.ErrNotExist):
		return nil
	case err != nil:
		return fault(path, "look for an older dump", err)
	case !info.Mode().IsRegular():
		return ErrNoDump
	}
	if !IsDump(path) {
		return ErrNoDump
	}
	return nil
}

// IsDump reports whether a file begins like a dump, of whatever form.
func IsDump(path string) bool {
	f, err := os.Open(path)
	if err != nil {
		return false
	}
	defer f.Close()
	d := &dumpReader{in: bufio.NewReader(io.LimitReader(f, 4096)), hash: sha256.New()}
	err = d.header()
	return err == nil || errors.Is(err, ErrNewer)
}
