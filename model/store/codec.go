package store

import (
	"bytes"
	"encoding/binary"
	"encoding/json"
	"errors"
	"fmt"
	"hash/crc32"
	"math"

	"coilward/model/collection"
)

// record is one stored value with its own name.
type record struct {
	bucket collection.Bucket
	key    []byte
	value  []byte // JSON
}

// The form of a stored record, frozen: the mark, the CRC-32C of all behind it,
// the number of bytes behind that (both big-endian), the bucket and the key each
// with a byte of length before it, the value. The mark and the length let
// salvage find records wherever they lie, without any of bbolt's pages.
const (
	mark      = "cwr1"
	headBytes = len(mark) + 4 + 4
)

var errRecord = errors.New("damaged record")

// castagnoli makes the table of CRC-32C; the package hash/crc32 keeps it.
func checksum(data []byte) uint32 {
	return crc32.Checksum(data, crc32.MakeTable(crc32.Castagnoli))
}

func (r *record) encode() ([]byte, error) {
	if len(r.bucket) > math.MaxUint8 || len(r.key) > math.MaxUint8 {
		return nil, fmt.Errorf("write record %x of %s: its name is too long", r.key, r.bucket)
	}
	size := 2 + len(r.bucket) + len(r.key) + len(r.value)
	data := make([]byte, headBytes, headBytes+size)
	copy(data, mark)
	binary.BigEndian.PutUint32(data[8:], uint32(size))
	data = append(append(data, byte(len(r.bucket))), r.bucket...)
	data = append(append(data, byte(len(r.key))), r.key...)
	data = append(data, r.value...)
	binary.BigEndian.PutUint32(data[4:], checksum(data[8:]))
	return data, nil
}

// decode reads the record at the beginning of data and tells its length. Key and
// value are copies, because data may lie in the mapped file, which changes.
func (r *record) decode(data []byte) (length int, err error) {
	if len(data) < headBytes || string(data[:len(mark)]) != mark {
		return 0, fmt.Errorf("%w: no mark", errRecord)
	}
	size := int(binary.BigEndian.Uint32(data[8:]))
	if size < 2 || size > len(data)-headBytes {
		return 0, fmt.Errorf("%w: %d bytes of %d", errRecord, len(data)-headBytes, size)
	}
	length = headBytes + size
	if checksum(data[8:length]) != binary.BigEndian.Uint32(data[4:]) {
		return 0, fmt.Errorf("%w: the checksum does not fit", errRecord)
	}
	return length, r.parts(data[headBytes:length])
}

func (r *record) parts(data []byte) error {
	bucket, rest, ok := shortPart(data)
	if !ok {
		return fmt.Errorf("%w: its bucket is cut", errRecord)
	}
	key, _, ok := shortPart(rest)
	if !ok {
		return fmt.Errorf("%w: its key is cut", errRecord)
	}
	kept := bytes.Clone(data[1+len(bucket):])
	end := 1 + len(key)
	r.bucket, r.key, r.value = bucketOf(bucket), kept[1:end:end], kept[end:]
	return nil
}

// bucketOf makes no new string for a bucket that is known: there are millions of
// records and six names.
func bucketOf(name []byte) collection.Bucket {
	for _, b := range [...]collection.Bucket{collection.Revisions, collection.BySubject, collection.Heads, collection.ByType, collection.Journal} {
		if string(name) == string(b) {
			return b
		}
	}
	return collection.Bucket(name)
}

// shortPart cuts off what the first byte gives the length of.
func shortPart(data []byte) (part, rest []byte, ok bool) {
	if len(data) == 0 || len(data) < 1+int(data[0]) {
		return nil, nil, false
	}
	end := 1 + int(data[0])
	return data[1:end], data[end:], true
}

// codec is what Storm writes with. Storm's own values (its version) are records
// without a name.
type codec struct{}

// Name is frozen: Storm keeps it in every bucket and refuses another.
func (codec) Name() string { return "coilward-json-crc32c-1" }

func (codec) Marshal(v any) ([]byte, error) {
	if r, ok := v.(*record); ok {
		return r.encode()
	}
	value, err := json.Marshal(v)
	if err != nil {
		return nil, err
	}
	return (&record{value: value}).encode()
}

func (codec) Unmarshal(data []byte, to any) error {
	r, ok := to.(*record)
	if !ok {
		r = &record{}
	}
	length, err := r.decode(data)
	switch {
	case err != nil:
		return err
	case length != len(data):
		return fmt.Errorf("%w: %d bytes behind its end", errRecord, len(data)-length)
	case ok:
		return nil
	}
	return json.Unmarshal(r.value, to)
}

// named checks that a record found at a place is the one that belongs there.
func (r *record) named(b collection.Bucket, key []byte) error {
	if r.bucket != b || !bytes.Equal(r.key, key) {
		return fmt.Errorf("%w: %x of %s calls itself %x of %s", errRecord, key, b, r.key, r.bucket)
	}
	return nil
}
