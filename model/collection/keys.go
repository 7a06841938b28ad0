package collection

import (
	"encoding/binary"
	"fmt"
	"strconv"

	"coilward/model"
)

func sequenceKey(sequence uint64) []byte {
	return binary.BigEndian.AppendUint64(nil, sequence)
}

func revisionKey(id model.ID, n uint32) []byte {
	return binary.BigEndian.AppendUint32(id[:len(id):len(id)], n)
}

// subjectPrefix ends the kind with a zero byte, because kinds of any length may
// come from a newer version and none may be the beginning of another.
func subjectPrefix(s model.Subject) []byte {
	key := append([]byte(s.Kind), 0)
	return append(key, s.ID[:]...)
}

func subjectKey(s model.Subject, utc int64, id model.ID) []byte {
	return append(subjectTime(s, utc), id[:]...)
}

// subjectTime turns the sign bit, so that times before 1970 sort before those
// after it.
func subjectTime(s model.Subject, utc int64) []byte {
	return binary.BigEndian.AppendUint64(subjectPrefix(s), uint64(utc)^1<<63)
}

func typePrefix(t model.DocumentType) []byte { return append([]byte(t), 0) }

func typeKey(t model.DocumentType, id model.ID) []byte {
	return append(typePrefix(t), id[:]...)
}

// after is the first key behind all keys that begin with prefix.
func after(prefix []byte) []byte {
	next := append([]byte(nil), prefix...)
	for i := len(next) - 1; i >= 0; i-- {
		next[i]++
		if next[i] != 0 {
			return next[:i+1]
		}
	}
	return nil
}

func encodeNumber(n uint32) []byte { return strconv.AppendUint(nil, uint64(n), 10) }

func decodeNumber(value []byte) (uint32, error) {
	n, err := strconv.ParseUint(string(value), 10, 32)
	if err != nil || n == 0 {
		return 0, fmt.Errorf("read revision number %q: not a number above 0", value)
	}
	return uint32(n), nil
}

// idAtEnd is the document's id, with which every key of an index ends.
func idAtEnd(key []byte) (id model.ID, err error) {
	if len(key) < len(id) {
		return id, fmt.Errorf("read key %x: too short for an id", key)
	}
	copy(id[:], key[len(key)-len(id):])
	return id, nil
}
