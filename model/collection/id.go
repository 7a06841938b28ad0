package collection

import (
	"crypto/rand"
	"encoding/binary"
	"sync"
	"time"

	"coilward/model"
)

// maker makes ids of UUID version 7 (RFC 9562 §5.7, method 1 of §6.2): each is
// greater than the one before, also within one millisecond or when the clock is
// set back.
type maker struct {
	now func() time.Time

	mutex sync.Mutex
	last  uint64 // milliseconds since 1970, then twelve bits of counter
}

func (m *maker) make() model.ID {
	m.mutex.Lock()
	defer m.mutex.Unlock()
	next := uint64(m.now().UnixMilli()) << 12
	if next <= m.last {
		next = m.last + 1
	}
	m.last = next
	var id model.ID
	rand.Read(id[8:]) // never fails: crypto/rand ends the program instead
	binary.BigEndian.PutUint64(id[:8], next&^0xfff<<4|7<<12|next&0xfff)
	id[8] = id[8]&0x3f | 0x80
	return id
}
