package store

import (
	"encoding/binary"
	"errors"
	"fmt"
	"hash/fnv"
	"io"
	"os"
)

// The layout of the head of a bbolt file, from its source (version 1.5.0, file
// internal/common/meta.go): a page's header of 16 bytes, then magic, version, page
// size and flags of 4 bytes, the roots and counts, and at 56 the checksum (FNV-1a
// of the bytes before it) of 8.
const (
	headAt       = 16
	headLength   = 64
	headMagic    = 0xED0CDAED
	headPageSize = 8
	headChecksum = 56
)

var errHead = errors.New("one of the two heads of the file is damaged: what was noted last may be missing")

// checkHeads reads both heads of a file. Where one is spoilt, bbolt goes by the
// other without a word: the file is whole as it was before the last change. A head
// is written within one sector of a disk, so that a loss of power does not spoil it.
func checkHeads(path string) error {
	file, err := os.Open(path)
	if err != nil {
		return fault(path, "open to read its heads", err)
	}
	defer file.Close()
	for page, size := int64(0), int64(0); page < 2; page++ {
		head := make([]byte, headLength)
		if _, err := file.ReadAt(head, page*size+headAt); err != nil && !errors.Is(err, io.EOF) {
			return fault(path, "read its heads", err)
		}
		sum := fnv.New64a()
		sum.Write(head[:headChecksum])
		if binary.NativeEndian.Uint32(head) != headMagic || binary.NativeEndian.Uint64(head[headChecksum:]) != sum.Sum64() {
			return fmt.Errorf("head %d: %w", page+1, errHead)
		}
		size = int64(binary.NativeEndian.Uint32(head[headPageSize:]))
	}
	return nil
}
