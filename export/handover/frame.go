package handover

import (
	"encoding/binary"
	"fmt"
)

// The file is a zip in which nothing is compressed, so that what is read is never
// more than what lies there, with every field of its frame in the one way that it
// can have. These are the sizes of the parts, by PKWARE's APPNOTE 4.3.
const (
	localSize   = 30
	centralSize = 46
	endSize     = 22
)

// member is one file inside, as the frame tells of it.
type member struct {
	name   string
	size   uint32
	crc    uint32
	offset uint32 // of its local header
}

// dosDay is the day that stands at every member: 1980-01-01, the first that a zip
// can tell.
const dosDay = 1<<5 | 1

// common are the fields that stand alike in both headers: version needed, flags,
// method stored, time, day, checksum, sizes and the length of the name.
func (m member) common() []byte {
	var b []byte
	for _, v := range []uint16{20, 0, 0, 0, dosDay} {
		b = binary.LittleEndian.AppendUint16(b, v)
	}
	for _, v := range []uint32{m.crc, m.size, m.size} {
		b = binary.LittleEndian.AppendUint32(b, v)
	}
	b = binary.LittleEndian.AppendUint16(b, uint16(len(m.name)))
	return binary.LittleEndian.AppendUint16(b, 0) // no extra field
}

// local is the header before the bytes of a member.
func (m member) local() []byte {
	return append(append([]byte("PK\x03\x04"), m.common()...), m.name...)
}

// central is the entry of a member in the list at the end.
func (m member) central() []byte {
	b := append([]byte("PK\x01\x02\x14\x00"), m.common()...)
	b = append(b, make([]byte, 10)...) // no comment, first disk, a plain file
	b = binary.LittleEndian.AppendUint32(b, m.offset)
	return append(b, m.name...)
}

// tail is the list at the end, which begins at an offset.
func tail(members []member, at uint32) []byte {
	var list []byte
	for _, m := range members {
		list = append(list, m.central()...)
	}
	end := append([]byte("PK\x05\x06"), 0, 0, 0, 0)
	for range 2 {
		end = binary.LittleEndian.AppendUint16(end, uint16(len(members)))
	}
	end = binary.LittleEndian.AppendUint32(end, uint32(len(list)))
	end = binary.LittleEndian.AppendUint32(end, at)
	return append(append(list, end...), 0, 0)
}

// parseLocal reads the fixed part of a local header, and tells in one word what it
// is where it is no header of ours.
func parseLocal(b []byte) (m member, nameLength int, why Why) {
	if string(b[:4]) != "PK\x03\x04" {
		return m, 0, NotPapers
	}
	if flags, method := binary.LittleEndian.Uint16(b[6:]), binary.LittleEndian.Uint16(b[8:]); flags != 0 || method != 0 {
		why = Packed
	}
	m.crc, m.size = binary.LittleEndian.Uint32(b[14:]), binary.LittleEndian.Uint32(b[18:])
	return m, int(binary.LittleEndian.Uint16(b[26:])), why
}

// photoName is what the n-th photo is called, from 0 on.
func photoName(n int) string { return fmt.Sprintf("photos/%03d.jpg", n+1) }
